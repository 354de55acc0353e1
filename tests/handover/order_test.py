#!/usr/bin/env python3
"""The sheet for the machine shop read by another program than ours, poppler's pdftotext and pdfinfo: it says what was
ordered, what was measured and found there, and what the machinist must know. WITNESSMARK in the environment is the
program."""

import json
import os
import pathlib
import re
import subprocess
import tempfile
import unittest

WITNESSMARK = os.environ["WITNESSMARK"]
PLANES = [["78.091", "78.064"], ["78.079", "78.058"], ["78.052", "78.049"]]
PROCEDURE = {
    "format": 1, "id": "bores", "title": "Bores", "revision": "1", "engine": {"model": "HX4-150"},
    "notice": "Invented values: do not put an engine together by them.",
    "options": [{"id": "over", "title": "Cylinders bored over size, mm", "choices": ["standard", "0.50"],
                 "given": "standard"}],
    "parts": [{"id": "cylinder", "title": "Cylinder", "positions": ["1", "2", "3", "4"]},
              {"id": "crank", "title": "Crankshaft"},
              {"id": "stud", "title": "Stud", "positions": [str(n) for n in range(1, 25)]}],
    "limits": {
        "bore": {"title": "Cylinder bore", "unit": "mm", "standard": {"low": 78.0, "high": 78.02},
                 "basis": "invented example",
                 "when": [{"option": "over", "is": "0.50", "standard": {"low": 78.5, "high": 78.52}}]},
        "form": {"title": "Out of round", "unit": "mm", "standard": {"high": 0.01}, "basis": "invented example"}},
    "findings": [{"id": "scored", "parts": ["cylinder"], "text": "Bore scored lengthwise"}],
    "machine-work": [{"id": "bore", "parts": ["cylinder"], "text": "Bored and honed over size",
                      "limits": ["bore", "form"], "finish": "Cross-hatched at 45 degrees, Ra 0.8 to 1.2 um"}],
    "sections": [{"id": "all", "title": "All", "steps": [
        {"id": "bores", "title": "Bores", "part": "cylinder", "entries": [
            {"id": "bore", "kind": "readings", "title": "Cylinder bore", "unit": "mm", "limit": "bore",
             "parts": ["cylinder"], "as-found": True, "loose": True,
             "rows": ["top", "middle", "bottom"], "columns": ["in line", "across"]},
            {"id": "round", "kind": "readings", "title": "Out of round", "unit": "mm", "limit": "form",
             "parts": ["cylinder"], "rows": ["worst"]}]},
        {"id": "fit", "title": "Fit", "fits": ["cylinder", "crank", "stud"], "entries": [
            {"id": "in", "kind": "confirm", "title": "In"}]}]}]}


def run(*command, **more):
    return subprocess.run([str(part) for part in command], capture_output=True, check=False, **more)


class Order(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.held = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.held.name)
        cls.shop = cls.folder / "s.shop"
        (cls.folder / "p.json").write_text(json.dumps(PROCEDURE), encoding="utf-8")
        secret = {"person": "maud", "passphrase": "kettle on the stove"}
        lines = [
            {"do": "enrol", "name": "Maud Fenwick", "roles": ["owner", "builder"], **secret},
            {"do": "sign-in", **secret},
            {"do": "set-shop", "name": "Heronsgate Engine Works", "address": "Heronsgate Wharf"},
            {"do": "add-gauge", "gauge": "bg", "kind": "bore gauge", "unit": "mm", "resolution": 0.001, "u": 0.003},
            {"do": "open-build", "build": "b", "procedure": str(cls.folder / "p.json"), "customer": "Narrowboat Marigold",
             "engine": {"model": "HX4-150", "serial": "2207", "hours": "unknown"}},
            {"do": "record", "build": "b", "step": "bores", "entry": "bore", "gauge": "bg", "as_found": True,
             "values": [PLANES] * 4},
            {"do": "finding", "build": "b", "part": "cylinder", "position": "2", "offered": "scored",
             "place": "thrust side"},
            {"do": "pick", "build": "b", "option": "over", "value": "0.50"},
            {"do": "send", "build": "b", "to": "Brook Lane Machining", "text": "Wanted by Friday.",
             "lines": [{"part": "cylinder", "work": "bore"}, {"part": "crank", "text": "Polished, no size taken off"}]},
            {"do": "back", "build": "b", "order": "m1", "part": "cylinder"},
            {"do": "record", "build": "b", "step": "bores", "entry": "bore", "gauge": "bg",
             "values": [[["78.511", "78.509"]] * 3] * 4},
            {"do": "send", "build": "b", "to": "Brook Lane Machining",
             "lines": [{"part": "cylinder", "work": "bore", "text": f"Once more, pass {n}", "positions": [str(n)]}
                       for n in (1, 2, 3, 4)]},
            {"do": "send", "build": "b", "to": "Brook Lane Machining",
             "lines": [{"part": "stud", "text": "Threads chased"}]},
        ]
        drive = run(WITNESSMARK, "drive", "--shop", cls.shop, "--practice",
                    input="\n".join(json.dumps(line) for line in lines).encode())
        for line in drive.stdout.decode().splitlines():
            assert json.loads(line)["ok"], line
        cls.pdf, cls.text = cls.made("m1")

    @classmethod
    def tearDownClass(cls):
        cls.held.cleanup()

    @classmethod
    def made(cls, order):
        pdf = cls.folder / f"{order}.pdf"
        made = run(WITNESSMARK, "order", "--shop", cls.shop, "--build", "b", "--order", order, "--out", pdf)
        assert made.returncode == 0, made.stderr
        return pdf, run("pdftotext", "-layout", pdf, "-").stdout.decode()

    def words(self):
        return " ".join(self.text.split())

    def test_it_says_who_to_whom_when_and_of_which_engine(self):
        for said in ("Order m1 to the machine shop", "Brook Lane Machining", "Heronsgate Engine Works, Heronsgate Wharf",
                     "by Maud Fenwick", "HX4-150, number 2207", "Wanted by Friday.", "PRACTICE, NOT A RECORD",
                     "Invented values: do not put an engine together by them."):
            self.assertIn(said, self.words())
        self.assertRegex(self.text, r"Sent +\d{4}-\d\d-\d\d by")
        self.assertNotIn("Marigold", self.text)
        self.assertIn("page 1 of 1", self.text)

    def test_the_size_to_work_to_is_the_one_of_the_option_picked_once_for_all_four(self):
        self.assertEqual(self.words().count("Cylinder bore: 78.50 to 78.52 mm"), 1)
        self.assertNotIn("78.00 to 78.02", self.words())
        self.assertIn("Out of round: at most 0.01 mm", self.words())
        self.assertIn("Finish: Cross-hatched at 45 degrees, Ra 0.8 to 1.2 um", self.words())
        self.assertIn("Crankshaft: Polished, no size taken off", self.words())

    def test_what_was_measured_there_is_worked_out_again_from_what_was_typed(self):
        flat = [float(value) for plane in PLANES for value in plane]
        said = f"Cylinder bore, as found: {min(flat):.3f} to {max(flat):.3f} mm, mean {sum(flat) / len(flat):.3f}"
        # Words wrap, and the boxes stand beside them.
        bare = re.sub(r"size made|initials|Cylinder bore, made|Out of round, made|\s+", " ", self.text)
        bare = re.sub(r" +", " ", bare)
        self.assertEqual(bare.count("Cylinder bore, as found:"), 4)
        self.assertEqual(bare.count(said), 4)
        self.assertIn("top: in line 78.091, across 78.064; middle: in line 78.079", bare)

    def test_what_was_found_stands_at_its_place_alone(self):
        self.assertEqual(self.words().count("Bore scored lengthwise, thrust side (f1)"), 1)

    def test_boxes_to_write_in_for_every_size_of_every_place(self):
        self.assertEqual(self.text.count("Cylinder bore, made"), 4)
        self.assertEqual(self.text.count("Out of round, made"), 4)
        self.assertEqual(self.text.count("initials"), 5)
        self.assertEqual(self.text.count("size made"), 1)

    def test_what_comes_first_and_what_happens_on_return(self):
        self.assertIn("The engine maker's manual and the machine shop's own judgement come first", self.words())
        self.assertIn("measured again on its return, before it is fitted", self.words())

    def test_an_older_order_printed_again_still_says_what_was_known_when_it_was_sent(self):
        self.assertNotIn("78.511", self.text)
        _, later = self.made("m2")
        self.assertIn("78.511", later)
        self.assertIn("as found", later)

    def test_a_work_that_goes_over_the_page_has_its_head_on_both(self):
        _, long = self.made("m3")
        first, second = long.split("\f")[:2]
        self.assertIn("Stud: Threads chased\n", first)
        self.assertIn("page 1 of 2", first)
        self.assertIn("Stud: Threads chased, continued", second)
        self.assertIn("page 2 of 2", second)
        self.assertEqual(long.count("size made"), 24)

    def test_it_is_one_upright_a4_sheet_without_signature(self):
        info = run("pdfinfo", self.pdf).stdout.decode()
        self.assertIn("(A4)", info)
        self.assertRegex(info, r"Pages: +1\b")
        self.assertIn("does not contain any signatures", run("pdfsig", self.pdf).stdout.decode() +
                      run("pdfsig", self.pdf).stderr.decode())

    def test_what_is_not_there_and_what_is_there_already_are_refused_in_a_sentence(self):
        for arguments, why in ((("--build", "b", "--order", "m9"), "there are: m1, m2, m3"),
                               (("--build", "c", "--order", "m1"), "\"c\""),
                               (("--build", "b", "--order", "m1"), "is there already")):
            out = self.pdf if "already" in why else self.folder / "none.pdf"
            refused = run(WITNESSMARK, "order", "--shop", self.shop, *arguments, "--out", out)
            self.assertEqual(refused.returncode, 2)
            self.assertRegex(refused.stderr.decode(), r"^error: .*" + re.escape(why) + r".*\n$")
        self.assertFalse((self.folder / "none.pdf").exists())


if __name__ == "__main__":
    unittest.main()
