#!/usr/bin/env python3
"""The handover of the demo engine read by other programs than ours: pdfsig, pdfdetach and pdftotext of poppler, qpdf,
openssl, Python's csv and json, jsonschema; and changed in the ways a file gets changed, each told by verify.
WITNESSMARK in the environment is the program."""

import csv
import hashlib
import io
import json
import os
import pathlib
import re
import struct
import subprocess
import tempfile
import unittest
import zlib

import jsonschema

PROJECT = pathlib.Path(__file__).resolve().parent.parent.parent
WITNESSMARK = os.environ["WITNESSMARK"]


def run(*command, **more):
    return subprocess.run([str(part) for part in command], capture_output=True, check=False, **more)


def grey_picture(width, height):
    """A PNG by hand (ISO/IEC 15948): one grey, eight bits a pixel."""
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0))
            + chunk(b"IDAT", zlib.compress((b"\0" + b"\x90" * width) * height)) + chunk(b"IEND", b""))


def size_of_jpeg(data):
    """Width and height from the frame header (ISO/IEC 10918-1, B.2.2)."""
    at = data.index(b"\xff\xc0")
    height, width = struct.unpack(">HH", data[at + 5:at + 9])
    return width, height


class Handover(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.held = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.held.name)
        cls.shop = cls.folder / "heronsgate.shop"
        cls.pdf = cls.folder / "marigold.pdf"
        cls.photograph = grey_picture(2000, 1000)
        (cls.folder / "bores.png").write_bytes(cls.photograph)
        lines = (PROJECT / "demo/marigold.jsonl").read_text(encoding="utf-8").splitlines()
        first = next(n for n, line in enumerate(lines) if '"identify"' in line)
        beside = json.loads(lines[first])
        lines.insert(first + 1, json.dumps({"do": "attach", "build": "marigold", "step": beside["step"],
                                            "entry": beside["entry"], "path": str(cls.folder / "bores.png"),
                                            "at": beside["at"]}))
        run(WITNESSMARK, "drive", "--shop", cls.shop, "--practice", input="\n".join(lines).encode(), cwd=PROJECT)
        made = run(WITNESSMARK, "handover", "--shop", cls.shop, "--build", "marigold", "--person", "maud", "--out", cls.pdf,
                   input=b"nine blue herons\n")
        assert made.returncode == 0, made.stderr
        cls.bytes = cls.pdf.read_bytes()
        run("pdfdetach", "-saveall", "-o", cls.folder, cls.pdf)
        cls.record = json.loads((cls.folder / "record.json").read_bytes())

    @classmethod
    def tearDownClass(cls):
        cls.held.cleanup()

    def pdfsig(self, pdf):
        """What pdfsig says; it exits 0 on broken signatures, so only its text counts."""
        said = run("pdfsig", "-no-ocsp", pdf, env={**os.environ, "HOME": str(self.folder)})
        return said.stdout.decode(errors="replace")

    def written(self, name, content):
        path = self.folder / name
        path.write_bytes(content)
        return path

    def verify(self, pdf, *more):
        said = run(WITNESSMARK, "verify", pdf, *more)
        self.assertIn(said.returncode, (0, 1, 2), said)
        return said.returncode, (said.stdout + said.stderr).decode()

    def range(self):
        numbers = re.search(rb"/ByteRange \[ 0 (\d+) (\d+) (\d+) *\]", self.bytes).groups()
        start, end, rest = (int(number) for number in numbers)
        self.assertEqual(end + rest, len(self.bytes))
        return start, end

    def der(self):
        """As app/record/FORMAT.md takes it out: with the zeros behind it."""
        start, end = self.range()
        return bytes.fromhex(self.bytes[start + 1:end - 1].decode())

    def signed_bytes(self):
        start, end = self.range()
        return self.bytes[:start] + self.bytes[end:]

    # --- as it is -----------------------------------------------------------------------------------------------------

    def test_a_reader_of_signatures_finds_the_whole_file_signed(self):
        said = self.pdfsig(self.pdf)
        for line in ("Signature Type: ETSI.CAdES.detached", "Total document signed",
                     "Signature Validation: Signature is Valid.", "Signing Hash Algorithm: SHA-256",
                     "Signer Certificate Common Name: Maud Fenwick"):
            self.assertIn(line, said)

    def test_its_syntax_is_clean(self):
        said = run("qpdf", "--check", self.pdf)
        self.assertEqual(said.returncode, 0, said.stderr)

    def test_openssl_alone_verifies_the_signature_under_the_shops_key(self):
        shop = self.written("shop.pem", self.record["events"][0]["body"]["shop_certificate"].encode())
        der = self.written("signature.der", self.der())
        content = self.written("signed", self.signed_bytes())
        command = ["openssl", "cms", "-verify", "-cades", "-binary", "-inform", "DER", "-in", der, "-content", content,
                   "-CAfile", shop, "-purpose", "any", "-no_check_time", "-out", os.devnull]
        self.assertEqual(run(*command).returncode, 0)
        changed = bytearray(self.signed_bytes())
        changed[len(changed) // 2] ^= 1
        content.write_bytes(changed)
        self.assertNotEqual(run(*command).returncode, 0)

    def test_the_signature_carries_no_time_and_nothing_unsigned(self):
        der = self.written("signature.der", self.der())
        said = run("openssl", "cms", "-cmsout", "-print", "-noout", "-inform", "DER", "-in", der).stdout.decode()
        self.assertEqual(re.findall(r"object: ([^ ]+)", said.split("signedAttrs:")[1].split("signatureAlgorithm")[0]),
                         ["contentType", "messageDigest", "id-smime-aa-signingCertificateV2"])
        self.assertNotIn("signingTime", said)
        self.assertRegex(said, r"unsignedAttrs:\s+<ABSENT>")

    def test_the_record_inside_is_as_its_schema_says(self):
        schema = json.loads((PROJECT / "app/handover/record.schema.json").read_bytes())
        jsonschema.Draft202012Validator.check_schema(schema)
        jsonschema.Draft202012Validator(schema).validate(self.record)
        broken = json.loads(json.dumps(self.record))
        broken["events"][5]["sig"] = "x"
        broken["events"][5].pop("meaning", None)
        self.assertFalse(jsonschema.Draft202012Validator(schema).is_valid(broken))

    def test_the_record_inside_is_canonical_and_its_hashes_hold(self):
        text = json.dumps(self.record, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
        self.assertEqual(text, (self.folder / "record.json").read_bytes())
        heads = {}
        for event in self.record["events"]:
            if "withheld" in event:
                heads["shop"] = event["withheld"]
                continue
            self.assertEqual(event["prev"], heads.get(event["chain"], "0" * 64))
            line = json.dumps(event, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
            heads[event["chain"]] = hashlib.sha256(line).hexdigest()
        opened = next(event for event in self.record["events"] if event["kind"] == "open-build")
        procedure = self.record["procedure"].encode()
        self.assertEqual(opened["body"]["procedure"]["sha256"], hashlib.sha256(procedure).hexdigest())
        self.assertEqual(procedure, (PROJECT / "procedures/hx4-150.json").read_bytes())

    def test_the_attachments_belong_to_the_document(self):
        objects = json.loads(run("qpdf", "--json", self.pdf).stdout)["qpdf"][1]
        root = next(o["value"] for o in objects.values() if isinstance(o.get("value"), dict)
                    and o["value"].get("/Type") == "/Catalog")
        relations = {}
        for reference in root["/AF"]:
            spec = objects[f"obj:{reference}"]["value"]
            relations[spec["/UF"].removeprefix("u:")] = spec["/AFRelationship"]
        self.assertEqual(relations, {"record.json": "/Data", "record.csv": "/Supplement"})

    def test_the_table_is_read_by_a_csv_reader_row_for_row(self):
        text = (self.folder / "record.csv").read_bytes().decode()
        self.assertNotIn("\n", text.replace("\r\n", ""))
        rows = list(csv.DictReader(io.StringIO(text, newline="")))
        self.assertGreater(len(rows), 300)
        self.assertTrue(all(None not in row and None not in row.values() for row in rows))
        torque = [row for row in rows if row["kind"] == "tightening" and row["unit"] == "N.m"]
        self.assertGreater(len(torque), 20)
        for row in torque:
            self.assertLessEqual(float(row["low limit"] or 0), float(row["value"]))
            self.assertLessEqual(float(row["value"]), float(row["high limit"] or "inf"))
            self.assertTrue(row["target"] or row["low limit"] or row["high limit"], row)
        self.assertTrue(any(row["verdict"] == "within" and row["U"] for row in rows))

    def test_the_pages_say_what_the_record_says(self):
        said = re.sub(r"\s+", " ", run("pdftotext", "-layout", self.pdf, "-").stdout.decode())
        release = next(event for event in self.record["events"] if event["kind"] == "release")
        self.assertIn(release["name"], said)
        head = None
        for event in self.record["events"]:
            if event.get("chain") == "build:marigold":
                line = json.dumps(event, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
                head = hashlib.sha256(line).hexdigest()
        self.assertIn(head, said.replace(" ", ""))
        self.assertIn(self.record["events"][0]["body"]["shop_fingerprint"], said.replace(" ", ""))
        for event in self.record["events"]:
            if event["kind"] == "sign":
                self.assertIn(event["name"], said)
        with open(self.folder / "record.csv", newline="", encoding="utf-8") as table:
            rows = [row for row in csv.DictReader(table) if row["kind"] in ("reading", "readings", "tightening")]
        missing = [row["value"] for row in rows if row["value"] not in said]
        self.assertEqual(missing, [])
        for row in rows:
            self.assertIn(row["step"], said)

    def test_the_receiver_verifies_it_with_nothing_else(self):
        code, said = self.verify(self.pdf, "--shop-key", self.record["events"][0]["body"]["shop_fingerprint"])
        self.assertEqual(code, 0, said)
        self.assertIn("intact (events: ", said)
        self.assertIn("PRACTICE, NOT A RECORD", said)
        self.assertIn("signed by Maud Fenwick", said)

    def test_photographs_are_listed_by_hash_and_go_along_scaled_when_asked_for(self):
        said = run("pdftotext", "-layout", self.pdf, "-").stdout.decode()
        self.assertIn(hashlib.sha256(self.photograph).hexdigest(), re.sub(r"\s", "", said))
        self.assertIn("2000 x 1000 pixels", said)
        with_photos = self.folder / "photos.pdf"
        run(WITNESSMARK, "handover", "--shop", self.shop, "--build", "marigold", "--person", "maud", "--photos", "--out",
            with_photos, input=b"nine blue herons\n")
        code, said = self.verify(with_photos)
        self.assertEqual(code, 0, said)
        run("pdfdetach", "-savefile", "photograph-001.jpg", "-o", self.folder / "photograph.jpg", with_photos)
        self.assertEqual(size_of_jpeg((self.folder / "photograph.jpg").read_bytes()), (1600, 800))

    # --- changed ------------------------------------------------------------------------------------------------------

    def told(self, name, content, code=1):
        result, said = self.verify(self.written(name, content))
        self.assertEqual(result, code, f"{name}: {said}")
        return said

    def test_a_changed_byte(self):
        for place in (200, len(self.bytes) // 3, len(self.bytes) // 2, len(self.bytes) - 3000):
            changed = bytearray(self.bytes)
            changed[place] ^= 1
            self.told("changed.pdf", changed)
        streams = [at.end() for at in re.finditer(rb"\nstream\n", self.bytes)]
        changed = bytearray(self.bytes)
        changed[streams[3] + 40] ^= 1
        self.assertIn("it was changed after it was signed", self.told("changed.pdf", changed))
        self.assertIn("Digest Mismatch", self.pdfsig(self.folder / "changed.pdf"))

    def test_cut_off(self):
        self.assertIn("its end is missing", self.told("cut.pdf", self.bytes[:len(self.bytes) * 2 // 3]))
        self.told("cut.pdf", self.bytes[:4000], code=1)
        self.told("cut.pdf", self.bytes[:1000], code=2)
        self.told("cut.pdf", b"", code=2)

    def test_saved_again_by_another_program(self):
        run("qpdf", self.pdf, self.folder / "again.pdf")
        self.assertIn("saved again by another program", self.told("copy.pdf", (self.folder / "again.pdf").read_bytes()))
        run("qpdf", "--encrypt", "", "secret", "256", "--", self.pdf, self.folder / "locked.pdf")
        self.told("copy.pdf", (self.folder / "locked.pdf").read_bytes())

    def test_updated_after_it_was_signed(self):
        before = self.bytes.rindex(b"startxref\n") + len(b"startxref\n")
        place = self.bytes[before:self.bytes.index(b"\n", before)]
        start = self.bytes.rindex(b"trailer <<")
        trailer = self.bytes[start + len(b"trailer <<"):self.bytes.index(b">>", start)].strip()
        added = b"9999 0 obj\n<< /Added true >>\nendobj\n"
        size = re.sub(rb"/Size \d+", b"/Size 10000", trailer)
        update = (self.bytes + added + b"xref\n9999 1\n%010d 00000 n \n" % len(self.bytes) + b"trailer << " + size
                  + b" /Prev " + place + b" >>\nstartxref\n%d\n%%%%EOF\n" % (len(self.bytes) + len(added)))
        self.assertIn("something was added after it was signed", self.told("updated.pdf", update))
        self.assertIn("Not total document signed", self.pdfsig(self.folder / "updated.pdf"))
        self.told("behind.pdf", self.bytes + b"\n" * 50)

    def test_another_record_put_in(self):
        other = self.written("record-other.json", b'{"v":1}')
        run("qpdf", self.pdf, "--remove-attachment=record.json", "--add-attachment", other, "--key=record.json",
            "--filename=record.json", "--", self.folder / "exchanged.pdf")
        self.told("copy.pdf", (self.folder / "exchanged.pdf").read_bytes())

    def test_the_signature_taken_out(self):
        plain = self.folder / "plain.pdf"
        run("qpdf", "--empty", "--pages", self.pdf, "1-z", "--", plain)
        code, said = self.verify(plain)
        self.assertNotEqual(code, 0, said)

    def test_no_pdf_at_all(self):
        self.told("text.pdf", b"%PDF-1.7\n", code=2)
        self.told("picture.pdf", b"\x89PNG\r\n\x1a\n" + bytes(100), code=2)
        code, _ = self.verify(self.folder / "none.pdf")
        self.assertEqual(code, 2)
        code, _ = self.verify(self.folder)
        self.assertEqual(code, 2)

    def test_far_too_large(self):
        path = self.folder / "huge.pdf"
        path.write_bytes(self.bytes)
        os.truncate(path, 600 << 20)
        code, said = self.verify(path)
        self.assertEqual(code, 2)
        self.assertIn("it is larger than 512 MB", said)

    def test_a_file_that_is_there_is_not_overwritten(self):
        again = run(WITNESSMARK, "handover", "--shop", self.shop, "--build", "marigold", "--person", "maud", "--out",
                    self.pdf, input=b"nine blue herons\n")
        self.assertEqual(again.returncode, 2)
        self.assertEqual(self.pdf.read_bytes(), self.bytes)

    def test_a_wrong_passphrase_writes_nothing(self):
        out = self.folder / "wrong.pdf"
        said = run(WITNESSMARK, "handover", "--shop", self.shop, "--build", "marigold", "--person", "maud", "--out", out,
                   input=b"nine red herons\n")
        self.assertEqual(said.returncode, 2)
        self.assertIn(b"not the passphrase of Maud Fenwick", said.stderr)
        self.assertFalse(out.exists())


if __name__ == "__main__":
    unittest.main()
