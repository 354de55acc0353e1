#!/usr/bin/env python3
"""Words that are not ours stand nowhere in the program, its procedures, demo and documents; and no file names a folder
of the machine it was written on, or a host that packages come from."""

import pathlib
import re
import unittest

PROJECT = pathlib.Path(__file__).resolve().parent.parent

WORDS = re.compile(
    r"(?<![a-z])(?:pass(?:ed)?\s?/\s?fail(?:ed)?|stations?|operators?|work[ -]orders?|travell?ers?|job[ -]cards?"
    r"|work[ -]instructions?|cycles?|run-?downs?|kits?)(?![a-z])",
    re.IGNORECASE,
)
# Whole words and in this case only: "ok" is a member of each answer to a script, SQLITE_OK a library's name.
CAPITALS = re.compile(r"\b(?:OK|Ok|Okay|okay|NOK|PASS|PASSED|FAIL|FAILED)\b")

# ISO 6789 counts the pulls of a torque wrench in this word; it stands as the name of two inputs and nowhere else.
OF_A_STANDARD = re.compile(r'\\?"cycles\\?"|\bcycle_limit\b|\bcycles (?=< cycle_limit)')

# C++ has a keyword that is one of the words; it counts only in what a person reads.
READ_BY_PEOPLE = re.compile(r'"(?:\\.|[^"\\\n])*"|//[^\n]*')
KEYWORD = re.compile(r"\boperator\b")

MACHINE = re.compile(
    r"(?:^|[\s\"'(=:`])/(?:home|root|work|tmp|opt|mnt|srv|Users)/|\b[A-Z]:\\\\?[A-Za-z]|\bdeb\.debian\.org\b"
    r"|\bsecurity\.debian\.org\b|\bregistry\.npmjs\.org\b|\bpypi\.org\b",
    re.MULTILINE,
)

BINARY = {".png", ".jpg", ".shop", ".pdf", ".ttf", ".pyc"}


def words_in(text, is_cpp=False):
    text = OF_A_STANDARD.sub("", text)
    found = [match.group() for pattern in (WORDS, CAPITALS) for match in pattern.finditer(text)]
    if is_cpp:
        in_code = KEYWORD.findall(READ_BY_PEOPLE.sub("", text))
        for keyword in in_code:
            found.remove(keyword)
    return found


def texts_under(*places):
    """Name and text of every file there."""
    for place in places:
        path = PROJECT / place
        for file in [path] if path.is_file() else sorted(path.rglob("*")):
            if file.is_file() and file.suffix not in BINARY:
                yield file.relative_to(PROJECT).as_posix(), file.read_text(encoding="utf-8")


class Wording(unittest.TestCase):
    def test_words_that_are_not_ours_stand_nowhere(self):
        faults = []
        for name, text in texts_under("app", "procedures", "demo", "README.md", "DEVELOPERS.md"):
            is_cpp = name.endswith((".h", ".cpp"))
            for number, line in enumerate(text.splitlines(), 1):
                faults += [f"{name}:{number}: {word}" for word in words_in(line, is_cpp)]
            faults += [f"{name}: its name" for _ in words_in(name)]
        self.assertEqual(faults, [])

    def test_no_file_names_a_place_on_a_machine(self):
        faults = []
        places = ["app", "assets", "demo", "procedures", "tests", ".ci", "README.md", "DEVELOPERS.md", "CMakeLists.txt"]
        for name, text in texts_under(*places):
            if name != "tests/wording_test.py":
                faults += [f"{name}: {match.group().strip()}" for match in MACHINE.finditer(text)]
        self.assertEqual(faults, [])

    def test_the_words_are_noticed(self):
        for text in ("Bore 2: NOK", "Reading OK", "pass/fail", "the operator signs", "next work order", "job card 4",
                     "find_cycle", "Seal kit", "Run-down", "two cycles", "at this station", "PASS"):
            self.assertNotEqual(words_in(text), [], text)
        self.assertEqual(words_in('bool operator==(const T&); // for the operator', True), ["operator"])

    def test_our_own_words_are_let_be(self):
        for text in ("passphrase", "the second pass", '{"ok": true}', "SQLITE_OK", "stationary", "failed to open",
                     "skitter", "recycled"):
            self.assertEqual(words_in(text), [], text)
        self.assertEqual(words_in("bool operator==(const Unit& other) const;", True), [])

    def test_places_on_a_machine_are_noticed(self):
        for text in ("/home/ada/engine.json", 'path = "/tmp/shop"', "(/work/main)", "C:\\\\Shop",
                     "from deb.debian.org"):
            self.assertIsNotNone(MACHINE.search(text), text)
        for text in ("#!/usr/bin/env bash", "build/tmp/x", "app/record/FORMAT.md", "/dev/full", "mm/work/"):
            self.assertIsNone(MACHINE.search(text), text)


if __name__ == "__main__":
    unittest.main()
