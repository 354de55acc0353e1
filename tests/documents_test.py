#!/usr/bin/env python3
"""README.md and DEVELOPERS.md tell the truth: the commands shown there print what is shown, the files they name are
there, and each package is accounted for. WITNESSMARK in the environment is the program to run."""

import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

PROJECT = pathlib.Path(__file__).resolve().parent.parent
DOCUMENTS = ["README.md", "DEVELOPERS.md"]

SHOWN = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
NAMED = re.compile(r"`((?:app|assets|demo|procedures|tests|\.ci)/[\w./-]*)`|\]\(([\w./-]+)\)")


def read(document):
    return (PROJECT / document).read_text(encoding="utf-8")


def examples(text):
    """Each command line after a "$ ", with the lines it is said to print."""
    found = []
    for block in SHOWN.findall(text):
        for line in block.splitlines():
            if line.startswith("$ "):
                found.append((line[2:], []))
            else:
                found[-1][1].append(line)
    return found


def run(command, folder=PROJECT, **more):
    command = command.replace("build/release/witnessmark", os.environ["WITNESSMARK"])
    done = subprocess.run(command, shell=True, cwd=folder, capture_output=True, text=True, check=False, **more)
    return (done.stdout + done.stderr).splitlines()


def as_pattern(shown):
    """A line of the guide: "..." stands for what is not worth showing, and its day for any."""
    return ".*".join(re.escape(part) for part in shown.split("...")).replace("2026\\-11\\-26", r"\d{4}-\d\d-\d\d")


class Documents(unittest.TestCase):
    def test_the_commands_shown_print_what_is_shown(self):
        shown = [example for document in DOCUMENTS for example in examples(read(document))]
        self.assertGreater(len(shown), 0)
        for command, printed in shown:
            with self.subTest(command=command):
                self.assertEqual(run(command), printed)

    def test_the_evening_of_the_guide_goes_as_it_is_told(self):
        page = read("procedures/README.md")
        evening = page.split("## One evening", 1)[1].split("\n## ", 1)[0]
        with tempfile.TemporaryDirectory() as folder:
            place = pathlib.Path(folder)
            (place / "bin").mkdir()
            shutil.copy(os.environ["WITNESSMARK"], place / "bin/witnessmark")
            path = {"env": os.environ | {"PATH": f"{place / 'bin'}:{os.environ['PATH']}"}}
            for name, kind in (("one-bearing.json", "json"), ("first.jsonl", "jsonl")):
                self.assertIn(f"`{name}`", evening)
                (place / name).write_text(re.search(rf"```{kind}\n(.*?)```", evening, re.DOTALL)[1], encoding="utf-8")
            shown = examples(evening)
            self.assertGreater(len(shown), 12)
            self.assertEqual(len(shown), len(examples(page)), "every command of the guide stands in the evening")
            for command, printed in shown:
                with self.subTest(command=command):
                    said = run(command, place, **path)
                    self.assertEqual(len(said), len(printed), said)
                    for line, expected in zip(said, printed):
                        self.assertRegex(line, f"^{as_pattern(expected)}$")

    def test_the_guide_lists_the_kinds_of_gauge_there_are(self):
        listed = re.search(r"The kinds there are: (.*?)\.", read("procedures/README.md"))[1]
        source = (PROJECT / "app/build/gauge.cpp").read_text(encoding="utf-8")
        kinds = source.split("gauge_kinds() {", 1)[1].split("};", 1)[0]
        self.assertEqual(re.findall(r"`([^`]+)`", listed), re.findall(r'"([^"]+)"', kinds))

    def test_the_files_they_name_are_there(self):
        for document in DOCUMENTS:
            for in_code, linked in NAMED.findall(read(document)):
                name = in_code or linked
                with self.subTest(document=document, name=name):
                    self.assertTrue((PROJECT / name).exists())

    def test_what_an_attacker_cannot_do_is_tested(self):
        section = read("DEVELOPERS.md").split("## What a record withstands", 1)[1].split("\n## ", 1)[0]
        named = set(re.findall(r'"([a-z][^"]{15,})"', section))
        self.assertGreater(len(named), 15)
        tests = "".join(file.read_text(encoding="utf-8") for file in (PROJECT / "tests").glob("*/*_test.cpp"))
        for name in sorted(named):
            with self.subTest(test=name):
                self.assertIn(f'TEST_CASE("{name}")', re.sub(r'"\s*\n\s*"', "", tests))

    def test_every_package_has_its_reason_and_licence(self):
        installed = (PROJECT / "demo/packages.txt").read_text(encoding="utf-8").split()
        rows = [line for line in read("DEVELOPERS.md").splitlines() if line.startswith("| `")]
        explained = {name for row in rows for name in re.findall(r"`([^`]+)`", row.split("|")[1])}
        self.assertEqual([package for package in installed if package not in explained], [])


if __name__ == "__main__":
    unittest.main()
