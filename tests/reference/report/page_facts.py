"""Checks a review page: well formed, no script, nothing fetched, every drawing told in words.

Usage: page_facts.py PAGE.html   Ends with 0 if all holds, 1 with what does not.
"""

import re
import sys
from html.parser import HTMLParser
from xml.etree import ElementTree

VOID = {"meta", "br", "img", "link", "input", "hr"}
FETCHING = {"src", "href", "srcset", "data", "action", "poster", "background"}


class Page(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open = []
        self.tags = []
        self.faults = []
        self.ids = []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        for name, value in attrs:
            if name in FETCHING or name.startswith("on"):
                self.faults.append(f"<{tag} {name}={value}>")
            if name == "id":
                self.ids.append(value)
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> closes nothing")


def drawings(text):
    for match in re.finditer(r"<svg .*?</svg>", text, re.S):
        yield ElementTree.fromstring(match.group(0))


def check(text):
    page = Page()
    page.feed(text)
    faults = page.faults
    faults += [f"<{tag}> is left open" for tag in page.open]
    names = [tag for tag, _ in page.tags]
    faults += [f"<{tag}>" for tag in ("script", "link", "iframe", "img", "object") if tag in names]
    faults += [f"no <{tag}>" for tag in ("header", "main", "footer", "h1", "title") if tag not in names]
    if ("html", {"lang": "en"}) not in page.tags:
        faults.append("no lang")
    faults += [f"id {i} twice" for i in set(page.ids) if page.ids.count(i) > 1]
    faults += [f"{url} is fetched" for url in re.findall(r"url\((?!#)[^)]*\)|@import[^;]*", text)]
    for _, attributes in page.tags:
        for target in attributes.get("aria-labelledby", "").split():
            if target not in page.ids:
                faults.append(f"label {target} is missing")
    for svg in drawings(text):
        if svg.get("aria-hidden") == "true":
            continue
        told = [svg.findtext("title"), svg.findtext("desc")]
        if svg.get("role") != "img" or not all(told):
            faults.append("a drawing without words")
    levels = [int(tag[1]) for tag in names if re.fullmatch("h[1-6]", tag)]
    faults += [f"h{b} after h{a}" for a, b in zip(levels, levels[1:]) if b > a + 1]
    return faults


with open(sys.argv[1], encoding="utf-8") as file:
    found = check(file.read())
for fault in found:
    print(fault[:200])
sys.exit(1 if found else 0)
