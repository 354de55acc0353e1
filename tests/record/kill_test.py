#!/usr/bin/env python3
"""The program killed at random moments while action lines stream in, and copied while it writes: whatever it has
acknowledged is in the file, and the file is intact. WITNESSMARK in the environment is the program; KILLS how often it is
killed (50 when not given)."""

import json
import os
import pathlib
import random
import sqlite3
import subprocess
import tempfile
import threading
import time
import unittest

PROJECT = pathlib.Path(__file__).resolve().parent.parent.parent
PROGRAM = os.environ["WITNESSMARK"]
KILLS = int(os.environ.get("KILLS", "50"))
SIGN_IN = '{"do":"sign-in","person":"ivo","passphrase":"copper and brass"}\n'
BEGINNING = [
    {"do": "enrol", "person": "ivo", "name": "Ivo Tarrant", "roles": ["owner", "builder"], "passphrase": "copper and brass"},
    {"do": "sign-in", "person": "ivo", "passphrase": "copper and brass"},
    {"do": "open-build", "build": "m", "procedure": "procedures/short-block.json",
     "engine": {"model": "HX4-150", "serial": "HX4-150-0731", "hours": "unknown"}, "customer": "Narrowboat Marigold"},
]


def drive(shop):
    return subprocess.Popen([PROGRAM, "drive", "--shop", shop], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
                            cwd=PROJECT)


def new_shop(path):
    child = drive(path)
    said, _ = child.communicate("".join(json.dumps(line) + "\n" for line in BEGINNING))
    assert all(json.loads(line)["ok"] for line in said.splitlines()), said


def verified(path):
    return subprocess.run([PROGRAM, "verify", path], capture_output=True, text=True, check=False)


def hashes_in(path):
    shop = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    try:
        return {row[0] for row in shop.execute("SELECT hash FROM events")}
    finally:
        shop.close()


class Stream:
    """Notes going into a child as fast as it takes them, and the events it has acknowledged."""

    def __init__(self, shop):
        self.child = drive(shop)
        self.child.stdin.write(SIGN_IN)
        self.child.stdin.flush()
        assert json.loads(self.child.stdout.readline())["ok"]
        self.acknowledged = []
        self.writer = threading.Thread(target=self.write)
        self.reader = threading.Thread(target=self.read)
        self.writer.start()
        self.reader.start()

    def write(self):
        try:
            for number in range(100_000):
                self.child.stdin.write(f'{{"do":"note","build":"m","step":"wash-inspect","text":"line {number}"}}\n')
                self.child.stdin.flush()
        except BrokenPipeError:
            pass

    def read(self):
        for line in self.child.stdout:
            if line.endswith("\n"):
                answer = json.loads(line)
                assert answer["ok"], answer
                self.acknowledged.append(answer["event"]["hash"])

    def kill(self):
        self.child.kill()
        self.child.wait()
        self.writer.join()
        self.reader.join()
        try:
            self.child.stdin.close()
        except BrokenPipeError:
            pass
        self.child.stdout.close()
        return self.acknowledged


class Killed(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def path(self, name):
        return os.path.join(self.folder.name, name)

    def test_what_was_acknowledged_is_there_after_every_kill(self):
        chance = random.Random(7)
        acknowledged = set()
        for kill in range(KILLS):
            shop = self.path("heronsgate.shop")
            if kill % 25 == 0:  # the record grows with every kill; begin anew before that takes long
                shop_files = [self.path(name) for name in os.listdir(self.folder.name)]
                for name in shop_files:
                    os.unlink(name)
                new_shop(shop)
                acknowledged = set()
            stream = Stream(shop)
            time.sleep(chance.uniform(0, 0.06))
            acknowledged.update(stream.kill())
            self.assertLessEqual(acknowledged, hashes_in(shop), f"kill {kill + 1}")
            if kill % 5 == 4:
                said = verified(shop)
                self.assertEqual(said.returncode, 0, f"kill {kill + 1}: {said.stdout}")
            self.total = getattr(self, "total", 0) + len(stream.acknowledged)
        print(f"kills: {KILLS}; events acknowledged before them and all found: {self.total}")
        self.assertGreater(self.total, KILLS)

    def test_a_copy_made_while_the_program_writes_is_whole(self):
        shop = self.path("busy.shop")
        new_shop(shop)
        stream = Stream(shop)
        copies = 0
        try:
            for number in range(5):
                before = set(stream.acknowledged)
                copy = self.path(f"copy-{number}.shop")
                said = subprocess.run([PROGRAM, "backup", "--shop", shop, "--out", copy], capture_output=True, text=True,
                                      check=False)
                self.assertEqual(said.returncode, 0, said.stdout + said.stderr)
                self.assertLessEqual(before, hashes_in(copy))
                self.assertEqual(verified(copy).returncode, 0)
                copies += 1
        finally:
            acknowledged = stream.kill()
        self.assertLessEqual(set(acknowledged), hashes_in(shop))
        print(f"copies made while {len(acknowledged)} events were written: {copies}")


if __name__ == "__main__":
    unittest.main()
