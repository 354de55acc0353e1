#!/usr/bin/env python3
"""One signature of a record checked with sqlite3 of Python and the openssl command alone, as app/record/FORMAT.md says;
and found wrong when a byte of what was signed is changed. WITNESSMARK in the environment is the program that writes the
record."""

import base64
import json
import os
import pathlib
import sqlite3
import subprocess
import tempfile
import unittest

PROJECT = pathlib.Path(__file__).resolve().parent.parent.parent


def run(*command, **more):
    return subprocess.run(command, capture_output=True, text=True, check=False, **more)


class OneSignature(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.shop = os.path.join(cls.folder.name, "heronsgate.shop")
        with open(PROJECT / "demo/short-block.jsonl", encoding="utf-8") as lines:
            run(os.environ["WITNESSMARK"], "drive", "--shop", cls.shop, "--practice", stdin=lines, cwd=PROJECT)
        cls.rows = [json.loads(row[0]) for row in sqlite3.connect(cls.shop).execute("SELECT event FROM events ORDER BY id")]

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def path(self, name):
        return os.path.join(self.folder.name, name)

    def write(self, name, content):
        pathlib.Path(self.path(name)).write_bytes(content)

    def check(self, event, signed):
        """What openssl says of one event whose signed bytes are given."""
        enrolled = next(row for row in self.rows if row["body"].get("fingerprint") == event["cert"])
        self.write("person.pem", enrolled["body"]["certificate"].encode())
        self.write("shop.pem", self.rows[0]["body"]["shop_certificate"].encode())
        self.write("signed", signed)
        self.write("sig.der", base64.b64decode(event["sig"]))
        certified = run("openssl", "verify", "-no_check_time", "-CAfile", self.path("shop.pem"), self.path("person.pem"))
        self.assertEqual(certified.returncode, 0, certified.stderr)
        public = run("openssl", "x509", "-in", self.path("person.pem"), "-pubkey", "-noout")
        self.write("person.pub", public.stdout.encode())
        return run(
            "openssl", "dgst", "-sha256", "-verify", self.path("person.pub"), "-signature", self.path("sig.der"),
            self.path("signed"))

    @staticmethod
    def signed_bytes(event):
        rest = {key: value for key, value in event.items() if key != "sig"}
        return b"witnessmark event v1\n" + json.dumps(
            rest, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()

    def test_each_signature_holds(self):
        signed = [row for row in self.rows if "sig" in row]
        self.assertGreater(len(signed), 20)
        for event in signed:
            said = self.check(event, self.signed_bytes(event))
            self.assertEqual(said.stdout.strip(), "Verified OK", f"{event['chain']}, event {event['seq']}")

    def test_a_changed_byte_does_not_hold(self):
        release = next(row for row in self.rows if row["kind"] == "release")
        changed = bytearray(self.signed_bytes(release))
        changed[-20] ^= 1
        self.assertNotEqual(self.check(release, bytes(changed)).returncode, 0)


if __name__ == "__main__":
    unittest.main()
