#!/usr/bin/env python3
"""The growth plot is drawn from the table, in either of its forms."""

import pathlib
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree

PLOT = pathlib.Path(__file__).with_name("plot.py")
PLAIN = """what grows               1 x            4 x            16 x           exponent   wanted  verdict
open a build      312 events  7.41 ms  1248  31.8 ms   4992   169 ms      1.13  <= 1.15  within
"""
MARKDOWN = "| verify a shop | 1 builds | 59.3 ms | 4 | 220 ms | 16 | 1.20 s | 0.99 | <= 1.15 | within |\n"


def drawn(text, folder):
    file = pathlib.Path(folder) / "growth.svg"
    done = subprocess.run([sys.executable, "-B", PLOT, file], input=text, capture_output=True, text=True, check=False)
    return done.returncode, file.read_text(encoding="utf-8") if file.exists() else ""


class Plot(unittest.TestCase):
    def test_each_row_of_the_table_becomes_a_line_with_its_name(self):
        for text, name in ((PLAIN, "open a build"), (MARKDOWN, "verify a shop")):
            with self.subTest(name), tempfile.TemporaryDirectory() as folder:
                status, picture = drawn(text, folder)
                self.assertEqual(status, 0)
                xml.etree.ElementTree.fromstring(picture)
                self.assertIn(name, picture)
                self.assertEqual(picture.count("<polyline"), 2)

    def test_without_a_table_nothing_is_drawn(self):
        with tempfile.TemporaryDirectory() as folder:
            self.assertEqual(drawn("nothing\n", folder), (1, ""))


if __name__ == "__main__":
    unittest.main()
