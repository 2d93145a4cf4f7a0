"""Each rule of the house must find a breach that was planted, and leave a good tree alone."""

import tempfile
import unittest
from pathlib import Path

import house

GOOD = {
    "src/CMakeLists.txt": "foreach(folder base music)\nendforeach()\n",
    "src/base/CMakeLists.txt": "loftbeat_library(base\n  HEADERS time.h\n  SOURCES time.cpp)\n",
    "src/base/time.h": "#pragma once\n",
    "src/base/time.cpp": '#include "base/time.h"\n',
    "src/music/CMakeLists.txt": "loftbeat_library(music\n  HEADERS\n  SOURCES score.cpp)\n",
    "src/music/score.cpp": '#include <vector>\n#include "base/time.h"\n',
    "tests/reference/music/tune_test.cpp": "// Source: a hymn book of 1850.\n",
}


def breaches(rule, **planted):
    """What `rule` says of the good tree with some files replaced; double underscore = slash."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        for name, text in {**GOOD, **planted}.items():
            path = root / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        # The folder of temporary files is itself a path of this machine: report names inside it.
        return [line.replace(folder + "/", "") for line in rule(root)]


class Rules(unittest.TestCase):
    def test_a_good_tree_is_left_alone(self):
        for rule in house.RULES:
            self.assertEqual(breaches(rule), [], rule.__name__)

    def test_a_long_file_is_found(self):
        found = breaches(house.short_files, **{"src/base/time.cpp": "\n" * 501})
        self.assertIn("src/base/time.cpp:1: has 501 lines; at most 500 are allowed.", found)

    def test_too_many_long_files_are_found(self):
        found = breaches(house.short_files, **{"src/base/time.cpp": "\n" * 300})
        self.assertEqual(len(found), 1)

    def test_forbidden_words_are_found(self):
        for word in ("/" + "work/main", "/" + "tmp/x", "issue" + " #2", "TO" + "DO", "FIX" + "ME",
                     "../" + "shared/figures.csv", "py" + "pi.org"):
            found = breaches(house.plain_words, **{"src/base/time.h": f"// a\n// {word}\n"})
            self.assertEqual(len(found), 1, word)
            self.assertTrue(found[0].startswith("src/base/time.h:2: "), found)

    def test_words_that_only_look_alike_pass(self):
        for word in ("framework/x", "homework", "issued 12 chords", "shared/x"):
            self.assertEqual(breaches(house.plain_words, **{"src/base/time.h": word}), [], word)

    def test_a_reference_test_without_source_is_found(self):
        found = breaches(house.named_sources, **{"tests/reference/music/tune_test.cpp": "int x;\n"})
        self.assertEqual(len(found), 1)

    def test_an_include_upward_is_found(self):
        found = breaches(house.downward_includes,
                         **{"src/base/time.cpp": '\n#include "music/score.h"\n'})
        self.assertEqual(
            found, ["src/base/time.cpp:2: base may not include music, which comes after it."])

    def test_an_include_without_folder_is_found(self):
        found = breaches(house.downward_includes, **{"src/base/time.cpp": '#include "time.h"\n'})
        self.assertEqual(len(found), 1)

    def test_a_folder_outside_the_order_is_found(self):
        found = breaches(house.downward_includes, **{"src/odd/odd.cpp": "\n"})
        self.assertEqual(len(found), 1)

    def test_a_public_header_that_no_list_names_is_found(self):
        found = breaches(house.listed_headers,
                         **{"src/base/file.h": "", "src/music/score.cpp": '#include "base/file.h"\n'})
        self.assertEqual(len(found), 1)

    def test_a_private_header_needs_no_list(self):
        found = breaches(house.listed_headers,
                         **{"src/base/file.h": "", "src/base/time.cpp": '#include "base/file.h"\n'})
        self.assertEqual(found, [])


if __name__ == "__main__":
    unittest.main()
