#!/usr/bin/env python3
"""What stands on paper, read from the PDF itself: its pages, their size, the fonts it carries, the letters in the order
they are drawn, and how many shapes. By ISO 32000-1:2008 (from memory of its sections 7.3, 7.7, 8.5, 9.4 and 9.10)."""

import json
import os
import pathlib
import re
import subprocess
import tempfile
import unittest
import zlib

A4 = (210, 297)  # mm, ISO 216
TONES_APART = 0.15  # two greys that a worn printer still tells apart: common practice, no source


class Pdf:
    def __init__(self, path):
        data = pathlib.Path(path).read_bytes()
        self.objects = {}
        for match in re.finditer(rb"(\d+) 0 obj\s*(.*?)\s*endobj", data, re.DOTALL):
            self.objects[int(match[1])] = match[2]
        for body in list(self.objects.values()):  # objects may be packed into streams
            if b"/ObjStm" in body:
                self.unpack(body)

    def unpack(self, body):
        raw = self.stream(body)
        count, first = (int(re.search(rb"/%s (\d+)" % key, body)[1]) for key in (b"N", b"First"))
        numbers = [int(word) for word in raw[:first].split()][: 2 * count]
        starts = numbers[1::2] + [len(raw) - first]
        for number, start, end in zip(numbers[0::2], starts, starts[1:]):
            self.objects[number] = raw[first + start : first + end]

    def stream(self, body):
        dictionary, _, rest = body.partition(b"stream")
        raw = rest.lstrip(b"\r").removeprefix(b"\n").rpartition(b"endstream")[0]
        return zlib.decompressobj().decompress(raw) if b"/FlateDecode" in dictionary else raw

    def at(self, body, key):
        """The object that a member of this dictionary points at."""
        return self.objects[int(re.search(rb"/%s\s+(\d+) 0 R" % key, body)[1])]

    def pages(self):
        root = next(body for body in self.objects.values() if re.search(rb"/Type\s*/Pages\b", body))
        kids = re.search(rb"/Kids\s*\[(.*?)\]", root, re.DOTALL)[1]
        return [self.objects[int(number)] for number in re.findall(rb"(\d+) 0 R", kids)]

    def size(self, page):
        box = re.search(rb"/MediaBox\s*\[\s*([^\]]+)\]", page)[1]
        left, bottom, right, top = (float(word) for word in box.split())
        return tuple(round(side * 25.4 / 72, 1) for side in (right - left, top - bottom))

    def content(self, page):
        return self.stream(self.at(page, b"Contents"))

    def fonts(self, page):
        """Name of each font of the page and how its codes read as letters."""
        resources = self.at(page, b"Resources") if re.search(rb"/Resources\s+\d+ 0 R", page) else page
        listed = re.search(rb"/Font\s*<<(.*?)>>", resources, re.DOTALL)
        out = {}
        for name, number in re.findall(rb"/(\S+)\s+(\d+) 0 R", listed[1] if listed else b""):
            font = self.objects[int(number)]
            out[name.decode()] = (font, self.letters(self.stream(self.at(font, b"ToUnicode"))))
        return out

    @staticmethod
    def letters(table):
        out = {}
        for block in re.findall(rb"beginbfchar(.*?)endbfchar", table, re.DOTALL):
            for code, letter in re.findall(rb"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>", block):
                out[code.lower()] = bytes.fromhex(letter.decode()).decode("utf-16-be")
        for block in re.findall(rb"beginbfrange(.*?)endbfrange", table, re.DOTALL):
            for low, high, letter in re.findall(rb"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>", block):
                for code in range(int(low, 16), int(high, 16) + 1):
                    text = chr(int(letter, 16) + code - int(low, 16))
                    out[b"%0*x" % (len(low), code)] = text
        return out

    def text(self, page):
        """All letters of the page, in the order they are drawn, blanks left out."""
        fonts, out, wide = self.fonts(page), "", {}
        for font, (_, table) in fonts.items():
            wide[font] = max((len(code) for code in table), default=2)
        current = None
        for word in re.finditer(rb"/(\S+) [\d.]+ Tf|<([0-9a-fA-F]*)>|\(((?:\\.|[^\\)])*)\)", self.content(page)):
            if word[1]:
                current = word[1].decode()
                continue
            code = word[2].lower() if word[2] is not None else plain(word[3]).hex().encode()
            step = wide[current]
            out += "".join(fonts[current][1].get(code[i : i + step], "") for i in range(0, len(code), step))
        return "".join(out.split())

    def count(self, page, sign):
        return len(re.findall(rb"(?<![\w*])%s(?![\w*])" % re.escape(sign), self.without_text(page)))

    def without_text(self, page):
        return re.sub(rb"BT.*?ET", b"", self.content(page), flags=re.DOTALL)

    def greys(self, page):
        out = set()
        for grey in re.findall(rb"([\d.]+) g\b", self.content(page)):
            out.add(float(grey))
        for red, green, blue in re.findall(rb"([\d.]+) ([\d.]+) ([\d.]+) rg\b", self.content(page)):
            if not red == green == blue:
                raise AssertionError(f"a colour: {red} {green} {blue}")
            out.add(float(red))
        return out


def plain(text):
    text = re.sub(rb"\\([0-7]{1,3})", lambda m: bytes([int(m[1], 8)]), text)
    return re.sub(rb"\\(.)", rb"\1", text)


class OnPaper(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory(prefix="witnessmark-test-")
        cls.addClassCleanup(cls.folder.cleanup)
        path = cls.folder.name + "/figures.pdf"
        done = subprocess.run([os.environ["FIGURES_ON_PAPER"], path], capture_output=True, text=True, check=True)
        cls.wanted = [json.loads(line) for line in done.stdout.splitlines()]
        cls.pdf = Pdf(path)

    def each(self):
        return list(zip(self.pdf.pages(), self.wanted, strict=True))

    def test_every_page_is_upright_a4(self):
        for page, _ in self.each():
            self.assertEqual(self.pdf.size(page), A4)

    def test_every_word_can_be_read_back(self):
        for page, wanted in self.each():
            self.assertEqual(self.pdf.text(page), "".join("".join(wanted["texts"]).split()), wanted["title"])

    def test_every_shape_of_the_figure_is_there(self):
        for page, wanted in self.each():
            filled = self.pdf.count(page, b"f") + self.pdf.count(page, b"f*")
            self.assertEqual(filled, wanted["polygons"], wanted["title"])
            self.assertEqual(self.pdf.count(page, b"S"), wanted["lines"], wanted["title"])

    def test_the_letters_come_along(self):
        seen = set()
        for page, _ in self.each():
            for font, _ in self.pdf.fonts(page).values():
                described = font if b"/FontDescriptor" in font else self.pdf.at(font, b"DescendantFonts")
                descriptor = self.pdf.at(described.strip(b"[] "), b"FontDescriptor")
                self.assertRegex(descriptor, rb"/FontFile[23]?\s")
                seen.add(re.search(rb"/FontName\s*/\w+\+(\S+)", descriptor)[1])
        self.assertEqual(seen, {b"DejaVuSans", b"DejaVuSans-Bold"})

    def test_tones_are_greys_far_enough_apart(self):
        tones = set()
        for page, _ in self.each():
            tones |= self.pdf.greys(page)
        tones = sorted(tones)
        self.assertGreaterEqual(len(tones), 3)
        for darker, lighter in zip(tones, tones[1:]):
            self.assertGreaterEqual(round(lighter - darker, 3), TONES_APART)


if __name__ == "__main__":
    unittest.main()
