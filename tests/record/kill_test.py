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
ENGINE = {"model": "HX4-150", "serial": "HX4-150-0731", "hours": "unknown"}
PROCEDURE = "procedures/short-block.json"
SIGN_IN = {"do": "sign-in", "person": "ivo", "passphrase": "copper and brass"}
BEGINNING = [
    {"do": "enrol", "person": "ivo", "name": "Ivo Tarrant", "roles": ["owner", "builder"], "passphrase": "copper and brass"},
    SIGN_IN,
    {"do": "open-build", "build": "m", "procedure": PROCEDURE, "engine": ENGINE, "customer": "Narrowboat Marigold"},
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


def chains_in(path):
    """The hashes of each chain, in order; every link and head is looked at on the way."""
    shop = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    try:
        chains = {}
        for chain, seq, digest, event in shop.execute("SELECT chain, seq, hash, event FROM events ORDER BY id"):
            hashes = chains.setdefault(chain, [])
            assert seq == len(hashes) + 1, (chain, seq)
            assert json.loads(event)["prev"] == (hashes[-1] if hashes else "0" * 64), (chain, seq)
            hashes.append(digest)
        heads = {chain: (seq, digest) for chain, seq, digest in shop.execute("SELECT chain, seq, hash FROM heads")}
        assert heads == {chain: (len(hashes), hashes[-1]) for chain, hashes in chains.items()}, heads
        return chains
    finally:
        shop.close()


def hashes_in(path):
    return {digest for hashes in chains_in(path).values() for digest in hashes}


def work(name):
    """Lines that write to both chains and, now and then, a procedure; no identifier of another `name` comes again."""
    yield SIGN_IN
    for number in range(100_000):
        yield {"do": "note", "build": "m", "step": "wash-inspect", "text": f"line {number}"}
        yield {"do": "add-gauge", "gauge": f"{name}-{number}", "kind": "feeler gauge", "unit": "mm", "resolution": 0.01}
        if number % 4 == 3:
            yield {"do": "open-build", "build": f"{name}-{number}", "procedure": PROCEDURE, "engine": ENGINE,
                   "customer": "Narrowboat Marigold"}


class Stream:
    """Lines going into a child as fast as it takes them, and what it has acknowledged."""

    def __init__(self, shop, name):
        self.child = drive(shop)
        self.acknowledged = []  # hashes of events
        self.refused = []
        self.answered = threading.Condition()
        self.ended = False
        self.writer = threading.Thread(target=self.write, args=(work(name),))
        self.reader = threading.Thread(target=self.read)
        self.writer.start()
        self.reader.start()

    def write(self, lines):
        try:
            for line in lines:
                self.child.stdin.write(json.dumps(line) + "\n")
                self.child.stdin.flush()
        except BrokenPipeError:
            pass

    def read(self):
        for line in self.child.stdout:
            if not line.endswith("\n"):
                break  # killed in the middle of it: nobody was told
            answer = json.loads(line)
            with self.answered:
                if not answer["ok"]:
                    self.refused.append(answer)
                elif "event" in answer:
                    self.acknowledged.append(answer["event"]["hash"])
                self.answered.notify_all()
        with self.answered:
            self.ended = True
            self.answered.notify_all()

    def wait_for(self, events):
        """Until that many events more have been acknowledged."""
        with self.answered:
            goal = len(self.acknowledged) + events
            self.answered.wait_for(lambda: len(self.acknowledged) >= goal or self.refused or self.ended, timeout=120)
            assert len(self.acknowledged) >= goal, self.refused or "the program ended, or hangs"
            return set(self.acknowledged)

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
        assert not self.refused, self.refused
        return self.acknowledged


class Killed(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def path(self, name):
        return os.path.join(self.folder.name, name)

    def test_what_was_acknowledged_is_there_after_every_kill(self):
        chance = random.Random(7)
        acknowledged, total, early = set(), 0, 0
        for kill in range(KILLS):
            shop = self.path(f"heronsgate-{kill // 25}.shop")
            if kill % 25 == 0:  # the record grows with every kill; begin anew before that takes long
                acknowledged = set()
                began = time.monotonic()
                new_shop(shop)
                signing_in = time.monotonic() - began
            stream = Stream(shop, f"k{kill}")
            if kill % 5 == 2:  # while it starts, opens the file or signs in
                time.sleep(chance.uniform(0, signing_in))
            else:
                stream.wait_for(chance.randrange(1, 9))
                time.sleep(chance.uniform(0, 0.02))
            told = stream.kill()
            early += not told
            acknowledged.update(told)
            total += len(told)
            present = hashes_in(shop)
            self.assertLessEqual(acknowledged, present, f"kill {kill + 1}")
            if kill % 5 == 4 or kill == KILLS - 1:
                said = verified(shop)
                self.assertEqual(said.returncode, 0, f"kill {kill + 1}: {said.stdout}")
        print(f"kills: {KILLS}, {early} of them before anything was written; events acknowledged before them and all "
              f"found: {total}")
        self.assertGreater(total, KILLS)

    def test_a_copy_made_while_the_program_writes_is_whole(self):
        shop = self.path("busy.shop")
        new_shop(shop)
        stream = Stream(shop, "busy")
        copies, during = 0, 0
        try:
            for number in range(5):
                before = stream.wait_for(3)
                copy = self.path(f"copy-{number}.shop")
                said = subprocess.run([PROGRAM, "backup", "--shop", shop, "--out", copy], capture_output=True, text=True,
                                      check=False)
                during += len(stream.acknowledged) - len(before)
                self.assertEqual(said.returncode, 0, said.stdout + said.stderr)
                self.assertLessEqual(before, hashes_in(copy))
                checked = verified(copy)
                self.assertEqual(checked.returncode, 0, checked.stdout)
                copies += 1
        finally:
            acknowledged = stream.kill()
        self.assertLessEqual(set(acknowledged), hashes_in(shop))
        self.assertGreater(during, 0)  # it did write meanwhile
        print(f"copies made: {copies}; events written while copying: {during}, all in all {len(acknowledged)}")


if __name__ == "__main__":
    unittest.main()
