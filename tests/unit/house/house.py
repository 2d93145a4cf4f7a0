"""Rules of the house that a compiler does not see, checked on the source tree.

    house.py RULE TREE      prints every breach as file:line: sentence; ends with 1 if there is one

Each rule is a function from the root of a tree to breaches; house_test.py tries every rule on a
small tree with a planted breach.
"""

import os
import re
import sys
from pathlib import Path

MOST_LINES = 500  # of a file in src
USUAL_LINES = 300  # kept by at least nine files in ten

SOURCE_SUFFIXES = {".h", ".cpp"}
TEXT_SUFFIXES = SOURCE_SUFFIXES | {
    ".cmake", ".css", ".js", ".json", ".list", ".md", ".py", ".toml", ".txt", ".musicxml", ".abc", ""}
SKIPPED_FOLDERS = {"build", ".git", "__pycache__"}

# Spelled in pieces, so that this file keeps the rule itself.
FORBIDDEN = [
    (r"/" + r"(work|tmp|root|home)\b(?=/)", "a path of one machine"),
    (r"(?<![\w./])\.\./" + r"shared\b", "a path outside the project"),
    (r"\b[Ii]ssue" + r"s? ?#?\d", "a number that only a tracker knows"),
    (r"\b(TO" + r"DO|FIX" + r"ME|X" + r"XX)\b", "work left for later"),
    (r"\b(deb\.debian|registry\.npmjs|files\.pythonhosted|py" + r"pi|proxy\.golang)\.org",
     "the host of a registry"),
]

REFERENCE_MARKS = ("Source:", "common practice, no source", "from memory")


def text_files(root):
    for folder, folders, names in os.walk(root):
        folders[:] = sorted(set(folders) - SKIPPED_FOLDERS)
        yield from (Path(folder, name) for name in sorted(names)
                    if Path(name).suffix in TEXT_SUFFIXES)


def sources(root, folder):
    return [p for p in text_files(root) if p.suffix in SOURCE_SUFFIXES
            and p.relative_to(root).parts[0] == folder]


def read(path):
    return path.read_text(encoding="utf-8", errors="replace")


def short_files(root):
    """No file of src is longer than 500 lines, and nine in ten are under 300."""
    lengths = {p: read(p).count("\n") for p in sources(root, "src")}
    breaches = [f"{p}:1: has {n} lines; at most {MOST_LINES} are allowed."
                for p, n in lengths.items() if n > MOST_LINES]
    long = [p for p, n in lengths.items() if n >= USUAL_LINES]
    if len(long) > len(lengths) / 10:
        breaches += [f"{p}:1: has {lengths[p]} lines, and more than a tenth of src's files have "
                     f"{USUAL_LINES} or more." for p in long]
    return breaches


def plain_words(root):
    """Nothing speaks of one machine, of a tracker, or of work left for later."""
    breaches = []
    for path in text_files(root):
        for number, line in enumerate(read(path).splitlines(), 1):
            breaches += [f"{path}:{number}: holds {what}: {match.group(0)}"
                         for pattern, what in FORBIDDEN if (match := re.search(pattern, line))]
    return breaches


def named_sources(root):
    """Every reference test says where its expected figures come from."""
    tests = [p for p in sources(root, "tests")
             if p.relative_to(root).parts[1] == "reference" and p.name.endswith("_test.cpp")]
    return [f"{p}:1: names no source; write one of: {', '.join(REFERENCE_MARKS)}"
            for p in tests if not any(mark in read(p) for mark in REFERENCE_MARKS)]


def folder_order(root):
    listed = re.search(r"foreach\(folder([^)]*)\)", read(root / "src" / "CMakeLists.txt"))
    return {name: place for place, name in enumerate(listed.group(1).split())}


def downward_includes(root):
    """A folder of src includes only itself and folders named above it in src/CMakeLists.txt."""
    order = folder_order(root)
    breaches = []
    for path in sources(root, "src"):
        here = path.relative_to(root).parts[1]
        if here not in order:
            breaches.append(f"{path}:1: lies in a folder that src/CMakeLists.txt does not name.")
            continue
        for number, line in enumerate(read(path).splitlines(), 1):
            named = re.match(r'\s*#\s*include\s+"([^"]+)"', line)
            if not named:
                continue
            there = named.group(1).split("/")[0]
            if there not in order:
                breaches.append(f'{path}:{number}: "{named.group(1)}" does not begin with a folder '
                                "of src.")
            elif order[there] > order[here]:
                breaches.append(f"{path}:{number}: {here} may not include {there}, which comes "
                                "after it.")
    return breaches


def listed_headers(root):
    """A header that another folder includes stands in its own folder's list: those are public, and
    the build compiles each of them alone."""
    used = {named.group(1) for path in sources(root, "src") + sources(root, "tests")
            for line in read(path).splitlines()
            if (named := re.match(r'\s*#\s*include\s+"([^"]+)"', line))
            and named.group(1).split("/")[0] != folder_in_src(root, path)}
    breaches = []
    for name in sorted(used):
        folder, _, inside = name.partition("/")
        lists = root / "src" / folder / "CMakeLists.txt"
        if (root / "src" / name).exists() and lists.exists() and inside not in listed_words(lists):
            breaches.append(f"{root}/src/{name}:1: is used outside {folder}, but {lists} does not "
                            "list it.")
    return breaches


def folder_in_src(root, path):
    inside = path.relative_to(root).parts
    return inside[1] if inside[0] == "src" else ""


def listed_words(lists):
    return {word.strip('()"') for word in read(lists).split()}


RULES = [short_files, plain_words, named_sources, downward_includes, listed_headers]


def main(arguments):
    rules = {rule.__name__: rule for rule in RULES}
    if len(arguments) != 2 or arguments[0] not in rules:
        print(f"use: house.py {'|'.join(rules)} TREE", file=sys.stderr)
        return 2
    breaches = rules[arguments[0]](Path(arguments[1]))
    print("\n".join(breaches) or "kept")
    return 1 if breaches else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
