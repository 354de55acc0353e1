#!/usr/bin/env python3
"""The window as a person has it: opened on a display that nobody sees, worked by keys alone, looked at in the display's
memory; and what came of it, looked at through the command line and in the shop file. WITNESSMARK in the environment is
the program."""

import json
import os
import pathlib
import re
import sqlite3
import struct
import subprocess
import tempfile
import time
import unittest
import zlib

from display import Display, read_png, running, until

WITNESSMARK = os.environ["WITNESSMARK"]
HERE = pathlib.Path(__file__).resolve().parent

# The libraries of the display keep a few bytes until the end; what is ours is looked after without a display.
os.environ["ASAN_OPTIONS"] = "detect_leaks=0"

PERSON = {"person": "maud", "passphrase": "nine blue herons"}
SHOP = [
    {"do": "enrol", "name": "Maud Fenwick", "roles": ["owner", "builder"]} | PERSON,
    {"do": "sign-in"} | PERSON,
    {"do": "set-shop", "name": "Heronsgate Engine Works"},
    {"do": "add-gauge", "gauge": "bore-1", "kind": "bore gauge", "unit": "mm", "resolution": 0.001, "u": 0.002},
    {"do": "open-build", "build": "marigold", "procedure": str(HERE / "one-bore.json"), "customer": "Narrowboat Marigold",
     "engine": {"model": "HX4-150", "serial": "HX4-150-0731", "hours": 1043}},
]
NOTE = [{"do": "sign-in"} | PERSON,
        {"do": "note", "build": "marigold", "step": "bush", "text": "Bush pressed in by the machine shop."}]


def drive(shop, actions):
    lines = "".join(json.dumps(action) + "\n" for action in actions)
    done = subprocess.run([WITNESSMARK, "drive", "--shop", shop], input=lines, capture_output=True, text=True, check=True)
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    for action, answer in zip(actions, answers, strict=True):
        if not answer["ok"]:
            raise AssertionError(f"{action['do']}: {answer}")
    return answers


def bodies(shop, kind):
    """Of the events of that kind, oldest first, read as app/record/FORMAT.md says."""
    with sqlite3.connect(f"file:{shop}?mode=ro", uri=True) as file:
        rows = file.execute("SELECT event FROM events WHERE kind = ? ORDER BY id", (kind,)).fetchall()
    file.close()
    return [json.loads(event)["body"] for (event,) in rows]


def processor_seconds(process):
    fields = pathlib.Path(f"/proc/{process.pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


class OnADisplay(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="witnessmark-test-")
        self.addCleanup(folder.cleanup)
        self.folder = folder.name
        self.shop = self.folder + "/heronsgate.wm"
        self.display = Display(self.folder)
        self.addCleanup(self.display.close)

    def open(self, *words, **environment):
        """The program and its window, which has the keys."""
        block = running([WITNESSMARK, *words], self.display.environment(**environment))
        process = block.__enter__()
        self.addCleanup(block.__exit__, None, None, None)
        window = self.display.window_of(process)
        self.display.xdotool("mousemove", "1399", "899", "windowfocus", "--sync", window)
        return process, window

    def strike(self, *keys):
        """As fast as a gauge that types: GLFW takes a key struck twice in one millisecond for one stroke."""
        self.display.xdotool("key", "--delay", "4", *keys)

    def type(self, text, delay=4):
        """As fast as that, milliseconds a stroke. A line's end is the key Return: xdotool would type another."""
        pace = ["--delay", str(delay)]
        words = []
        for part in re.split("(\n)", text):
            words += ["key", *pace, "Return"] if part == "\n" else ["type", *pace, "--args", "1", part] if part else []
        self.display.xdotool(*words)

    def type_by_hand(self, text):
        """As fingers do: what comes in faster is a gauge's, and so is what waits together for a frame that takes long."""
        self.type(text, 150)

    def sign_in(self):
        self.type("maud\nnine blue herons\n")

    def wait_for(self, kind, count=1, seconds=20):
        return until(lambda: bodies(self.shop, kind)[count - 1 :], seconds=seconds, what=f"event {kind} {count}")[0]

    def settled(self, window):
        """What the window shows once that has not changed for a while."""
        seen, since = self.display.shown(window), time.monotonic()
        while time.monotonic() - since < 0.7:
            time.sleep(0.05)
            now = self.display.shown(window)
            if now != seen:
                seen, since = now, time.monotonic()
        return seen

    def shows(self, window, condition, what):
        until(lambda: condition(self.display.shown(window)), what=what)

    def picture(self, screen, *words):
        file = self.folder + "/picture.png"
        subprocess.run([WITNESSMARK, "bench", "--shop", self.shop, "--screen", screen, "--picture", file, *words],
                       env=self.display.environment(), check=True)
        return read_png(file)


class Working(OnADisplay):
    def setUp(self):
        super().setUp()
        drive(self.shop, SHOP)

    def test_a_reading_is_typed_seen_outside_corrected_and_signed(self):
        _, window = self.open("bench", "--shop", self.shop)
        self.sign_in()
        self.type("M-7\n")
        self.assertEqual(self.wait_for("identify")["text"], "M-7")
        before = self.settled(window)
        self.type("22.012\n22.03\n")
        outside = self.wait_for("record", 2)
        self.assertEqual(outside["verdict"], "outside")
        self.shows(window, lambda seen: seen != before, "the reading")
        self.strike("F7")
        self.settled(window)
        self.assertEqual(bodies(self.shop, "sign"), [])
        self.type_by_hand("22.013\n1")  # there is a reading already: I misread it
        self.assertEqual(self.wait_for("correct")["verdict"], "within")
        self.strike("F7")
        self.wait_for("sign")
        states = {step["step"]: step["state"] for step in
                  drive(self.shop, [{"do": "status", "build": "marigold"}])[0]["steps"]}
        self.assertEqual(states["bush"], "signed")
        self.strike("F11")
        self.strike("F3")
        kept = self.picture("log")
        self.shows(window, lambda seen: seen == kept, "the log as it is kept")
        verified = subprocess.run([WITNESSMARK, "verify", self.shop], capture_output=True, text=True, check=False)
        self.assertEqual(verified.returncode, 0, verified.stdout)

    def test_keys_struck_ahead_of_the_window_all_arrive_where_they_belong(self):
        self.open("bench", "--shop", self.shop)
        self.sign_in()
        self.type("M-7xxxxxxxxxxxxxxxxxxxx")
        self.strike(*["BackSpace"] * 20)
        self.type("\n22.010\n22.011\n")
        self.assertEqual(self.wait_for("identify")["text"], "M-7")
        self.wait_for("record", 2)
        asked = [body["asked"]["values"] for body in bodies(self.shop, "record")]
        self.assertEqual([[value for value in values if value] for values in asked], [["22.010"], ["22.011"]])

    def test_a_gauge_that_types_fills_a_bore_set_with_nothing_else_touched(self):
        lines = [line | ({"procedure": str(HERE / "bore-set.json")} if line["do"] == "open-build" else {}) for line in SHOP]
        shop = self.shop = self.folder + "/bores.wm"
        drive(shop, lines)
        self.open("bench", "--shop", shop)
        self.sign_in()
        for delay, values in ((0, range(0, 8)), (1, range(8, 16)), (8, range(16, 24))):
            self.type("".join(f" +78,0{value:02} mm\n" for value in values), delay)
        self.wait_for("record", 24, seconds=120)
        # the button of the gauge once too often: nothing of it is a choice or a mark
        self.type("78.012\n1\n78.013\n", 0)
        self.strike("Tab")
        self.type_by_hand("2")
        self.assertEqual(self.wait_for("pick")["value"], "worn off")
        mark = "HX4-150/B#1177-LOT_A"
        self.assertEqual(len(mark), 20)
        self.type(mark + "\n", 0)  # a scanner
        self.assertEqual(self.wait_for("identify")["text"], mark)
        records = bodies(shop, "record")
        self.assertEqual(len(records), 24)
        self.assertEqual([cell["value"] for body in records for cell in body["cells"]],
                         [f"78.0{value:02}".rstrip("0").rstrip(".") for value in range(24)])
        self.assertEqual(len(bodies(shop, "pick")), 1)

    def test_an_outside_value_stops_the_gauge(self):
        drive(self.shop, [])
        self.open("bench", "--shop", self.shop)
        self.sign_in()
        self.type("M-7\n22.030\n22.011\n22.012\n", 1)
        self.assertEqual(self.wait_for("record")["verdict"], "outside")
        self.type_by_hand("22.013\n1")
        self.assertEqual(self.wait_for("correct")["verdict"], "within")
        self.assertEqual(len(bodies(self.shop, "record")), 1)

    def test_an_event_from_elsewhere_is_seen_within_a_second(self):
        _, window = self.open("bench", "--shop", self.shop, "--screen", "log")
        taken = []
        for _ in range(3):  # the machine may be busy with something else once
            before = self.settled(window)
            drive(self.shop, NOTE)
            written = time.monotonic()
            self.shows(window, lambda seen, old=before: seen != old, "the note on the log")
            taken.append(time.monotonic() - written)
            kept = self.picture("log")
            self.shows(window, lambda seen, new=kept: seen == new, "the log as it is kept")
        self.assertLess(min(taken), 1, taken)

    def test_an_idle_window_takes_less_than_a_hundredth_of_a_processor(self):
        process, window = self.open("bench", "--shop", self.shop)
        self.sign_in()
        self.settled(window)

        def idle():  # once signing in is over
            seconds, before = 4, processor_seconds(process)
            time.sleep(seconds)
            used = processor_seconds(process) - before
            return used <= 0.01 * seconds
        until(idle, seconds=30, what="four seconds without work")

    def test_the_window_closes_when_asked(self):
        process, window = self.open("bench", "--shop", self.shop)
        self.display.ask_to_close(window)
        self.assertEqual(process.wait(timeout=20), 0)
        self.assertEqual(process.stderr.read(), "")

    def test_window_and_picture_are_as_large_as_asked_and_alike(self):
        for words, size in (([], (1280, 800)), (["--size", "1024x600"], (1024, 600)),
                            (["--size", "1390x890", "--scale", "1.5"], (1390, 890)),
                            (["--scale", "1.25"], (1400, 900))):  # 1600x1000 has no room
            with self.subTest(words=words):
                kept = self.picture("sheet", *words)
                self.assertEqual((kept.width, kept.height), size)
                process, window = self.open("bench", "--shop", self.shop, *words)
                self.shows(window, lambda seen, new=kept: seen == new, "what the picture shows")
                self.display.ask_to_close(window)
                process.wait(timeout=20)

    def test_a_picture_of_each_screen_shows_something(self):
        seen = []
        for screen in ("builds", "sheet", "findings", "limits", "log", "shop", "people", "gauges", "work", "keys"):
            image = self.picture(screen)
            self.assertEqual((image.width, image.height), (1280, 800))
            self.assertGreater(len(image.colours()), 20, screen)  # letters have many greys
            self.assertNotIn(image, seen)
            seen.append(image)


    def test_something_is_worked_out_in_the_middle_of_a_reading(self):
        _, window = self.open("bench", "--shop", self.shop)
        self.sign_in()
        self.type("M-7\n22.0")
        self.wait_for("identify")
        self.settled(window)
        self.strike("F9")
        self.type("ring gap\n0.30 mm\n83.000 mm\n83.062 mm")
        self.settled(window)
        self.strike("Escape", "Escape")
        self.type("13\n")
        values = self.wait_for("record")["asked"]["values"]
        self.assertEqual([value for value in values if value], ["22.013"])


class Section(OnADisplay):
    """The first section of the short block, from signing in to its last signature, by the keyboard alone."""

    MAKERS = [
        {"do": "enrol", "name": "Ivo Tarrant", "roles": ["builder", "inspector"], "person": "ivo",
         "passphrase": "copper and brass"},
        {"do": "add-gauge", "gauge": "mic-50", "kind": "micrometer", "unit": "mm", "resolution": 0.001, "u": 0.003,
         "range": [25, 50]},
        {"do": "add-gauge", "gauge": "mic-25", "kind": "micrometer", "unit": "mm", "resolution": 0.001, "u": 0.003,
         "range": [0, 25]},
        {"do": "add-gauge", "gauge": "dial-1", "kind": "dial indicator", "unit": "mm", "resolution": 0.01, "u": 0.008},
        {"do": "add-gauge", "gauge": "tw-100", "kind": "torque wrench", "unit": "N.m", "resolution": 1,
         "tool": "setting", "class_error": 0.04, "range": [20, 100]},
        {"do": "add-gauge", "gauge": "tw-20", "kind": "torque wrench", "unit": "N.m", "resolution": 0.5,
         "tool": "indicating", "class_error": 0.04, "range": [1, 20]},
    ]

    def test_one_is_done_by_the_keyboard_alone(self):
        short_block = HERE.parent.parent / "procedures" / "short-block.json"
        drive(self.shop, SHOP[:4] + self.MAKERS + [SHOP[-1] | {"procedure": str(short_block)}])
        self.open("bench", "--shop", self.shop)
        self.sign_in()
        signed = 0

        def sign():
            nonlocal signed
            self.strike("F7")
            signed += 1
            self.wait_for("sign", signed)

        self.strike("F5", "F5")  # the notices, the galleries
        self.wait_for("confirm")
        self.strike("2")  # the faces
        self.wait_for("pick")
        self.type_by_hand("C-2206\n")
        self.wait_for("identify")
        sign()
        self.type("48.012\n" * 20)  # bores and journals, each with its gauge
        self.strike("Tab")
        self.type("47.972\n" * 20)
        self.wait_for("record", 40, seconds=120)
        sign()
        self.strike("F5", "F5")
        self.type("1.55\n" * 10)  # the strip
        self.wait_for("record", 50, seconds=120)
        self.strike("F5")
        self.wait_for("confirm", 3)
        sign()
        self.strike("F5", "F5")
        self.wait_for("confirm", 4)
        self.strike("a")  # the cap bolts, both stages
        self.wait_for("tighten")
        self.strike("a")
        self.wait_for("tighten", 2)
        sign()
        self.strike("F5")
        self.type_by_hand("3.5\n")
        self.type("2.312\n2.312\n")
        self.strike("Tab")
        self.type("0.00\n0.19\n" * 3)
        self.wait_for("record", 59, seconds=120)
        sign()
        self.strike("F7")
        self.type("ivo\ncopper and brass\n")
        self.wait_for("sign", signed + 1)
        steps = drive(self.shop, [{"do": "status", "build": "marigold"}])[0]["steps"]
        states = {step["step"]: step["state"] for step in steps}
        for step in ("wash-inspect", "mains", "strip-check", "main-caps", "crank-free"):
            self.assertEqual(states[step], "signed", step)


class Photographs(OnADisplay):
    def setUp(self):
        super().setUp()
        drive(self.shop, SHOP)

    def test_one_is_laid_beside_an_entry_by_its_path_another_dropped_and_both_are_looked_at_in_their_colours(self):
        red, blue = self.coloured("red.png", 200, 0, 0), self.coloured("blue one.png", 0, 0, 200)
        _, window = self.open("bench", "--shop", self.shop)
        self.sign_in()
        self.settled(window)
        self.strike("shift+F5")
        self.type(str(red) + "\n")
        self.assertEqual(self.wait_for("attach")["photograph"]["width"], 300)
        self.settled(window)
        self.display.drop(window, [blue.as_uri()])
        self.assertEqual(self.wait_for("attach", 2)["photograph"]["media"], "image/png")
        self.settled(window)
        self.strike("shift+F10")
        self.shows(window, lambda seen: bytes((200, 0, 0)) in seen.colours(), "the red one")
        self.strike("Right")
        self.shows(window, lambda seen: bytes((0, 0, 200)) in seen.colours(), "the blue one")
        self.assertNotIn(bytes((200, 0, 0)), self.settled(window).colours())
        self.strike("Escape")
        self.shows(window, lambda seen: bytes((0, 0, 200)) not in seen.colours(), "the sheet")

    def coloured(self, name, *colour):
        """A picture of one colour, 300 x 200: by the PNG specification, as it is read in display.py."""
        chunk = lambda kind, body: struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        head = struct.pack(">IIBBBBB", 300, 200, 8, 2, 0, 0, 0)
        rows = zlib.compress((b"\0" + bytes(colour) * 300) * 200)
        file = pathlib.Path(self.folder) / name
        file.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b""))
        return file


class WorkingItOut(OnADisplay):
    def test_without_an_engine_and_without_a_name(self):
        _, window = self.open("bench", "--shop", self.shop)
        self.strike("F9")
        self.type("oil cl\n")
        self.strike("F5")
        example = self.picture("work", "--calc", "oil-clearance")
        self.shows(window, lambda seen: seen == example, "the worked example")
        self.strike("F5")
        self.type("50.036 50.031 mm u 0.004\n50.034 50.030\n\n49.982 49.976 mm u 0.003\n49.978 49.974")
        answer = self.settled(window)
        self.assertNotEqual(answer, example)
        self.type(",")
        self.shows(window, lambda seen: seen != answer, "the slip")
        self.strike("BackSpace")
        self.shows(window, lambda seen: seen == answer, "the answer as before")
        self.strike("Escape", "Escape")
        self.shows(window, lambda seen: seen == self.picture("builds"), "where it was called from")
        self.assertFalse(pathlib.Path(self.shop).exists())


class Tightening(OnADisplay):
    def test_a_stage_at_once_then_through_an_adapter_one_by_one(self):
        wrench = {"do": "add-gauge", "gauge": "click-1", "kind": "torque wrench", "unit": "N.m", "resolution": 1,
                  "tool": "setting", "class_error": 0.04, "range": [5, 100]}
        drive(self.shop, SHOP[:3] + [wrench, SHOP[-1] | {"procedure": str(HERE / "four-bolts.json")}])
        _, window = self.open("bench", "--shop", self.shop)
        self.sign_in()
        self.settled(window)
        self.type("a")
        self.assertEqual([one["name"] for one in self.wait_for("tighten")["fasteners"]], ["1", "2", "3", "4"])
        self.settled(window)
        self.strike("Tab")
        self.type("3")
        self.settled(window)
        self.type("400\n100\n0\n")  # an adapter
        self.assertEqual(self.wait_for("extension")["ratio"], "0.8")
        self.settled(window)
        self.strike("Return")
        body = self.wait_for("tighten", 2)
        self.assertEqual(body["asked"]["value"], "32")
        self.assertEqual([(one["name"], one["value"]) for one in body["fasteners"]], [("1", "40")])


class Look(OnADisplay):
    """The colours are those of app/bench/theme.cpp."""

    DARK_PAPER = bytes((38, 41, 43))
    PAPER = bytes((247, 243, 233))

    def setUp(self):
        super().setUp()
        drive(self.shop, SHOP)
        self.look = pathlib.Path(self.folder) / "settings" / "witnessmark" / "look.json"

    def kept(self):
        return json.loads(self.look.read_text(encoding="ascii")) if self.look.exists() else {}

    def test_what_is_chosen_is_there_at_once_is_kept_and_comes_back(self):
        words = ("bench", "--shop", self.shop, "--size", "1400x900")
        process, window = self.open(*words)
        self.settled(window)
        self.strike("shift+F12", "2")
        until(lambda: self.kept().get("theme") == "dark", what="the theme that is kept")
        self.strike("7")
        until(lambda: self.kept() == {"text": 200, "theme": "dark", "units": "mm"}, what="the look that is kept")
        self.strike("F4")
        large = self.picture("shop", *words[3:], "--theme", "dark", "--text", "200")
        self.assertIn(self.DARK_PAPER, large.colours())
        self.shows(window, lambda seen: seen == large, "the shop, dark and large")
        self.display.ask_to_close(window)
        process.wait(timeout=20)
        _, window = self.open(*words)
        self.strike("F4")
        self.shows(window, lambda seen: seen == large, "the same when opened again")
        self.strike("shift+F12", "1")
        until(lambda: self.kept().get("theme") == "light", what="the theme that is kept")
        self.strike("4")
        until(lambda: self.kept().get("text") == 100, what="the size that is kept")
        self.strike("F4")
        usual = self.picture("shop", *words[3:])
        self.assertIn(self.PAPER, usual.colours())
        self.shows(window, lambda seen: seen == usual, "the shop as at first")

    def test_an_option_holds_for_the_session_alone(self):
        process, window = self.open("bench", "--shop", self.shop, "--theme", "dark")
        self.shows(window, lambda seen: self.DARK_PAPER in seen.colours(), "dark paper")
        self.display.ask_to_close(window)
        process.wait(timeout=20)
        self.assertEqual(self.kept(), {})

    def test_a_damaged_file_is_told_and_replaced_by_the_next_choice(self):
        self.look.parent.mkdir(parents=True)
        self.look.write_text('{"theme": "da', encoding="ascii")
        process, window = self.open("bench", "--shop", self.shop)
        self.shows(window, lambda seen: self.PAPER in seen.colours(), "the usual paper")
        self.strike("shift+F12", "2")
        until(lambda: self.look.read_text(encoding="ascii").startswith('{"text"'), what="a whole file")
        self.assertEqual(self.kept()["theme"], "dark")
        self.display.ask_to_close(window)
        self.assertEqual(process.wait(timeout=20), 0)
        self.assertRegex(process.stderr.read(), r"\Anote: [^\n]*look.json\" cannot be read [^\n]+\n\Z")

    def test_without_a_home_it_works_and_is_not_kept(self):
        block = running([WITNESSMARK, "bench", "--shop", self.shop],
                        {"PATH": os.environ["PATH"], "DISPLAY": self.display.name, "ASAN_OPTIONS": "detect_leaks=0"})
        process = block.__enter__()
        self.addCleanup(block.__exit__, None, None, None)
        window = self.display.window_of(process)
        self.display.xdotool("mousemove", "1399", "899", "windowfocus", "--sync", window)
        self.strike("shift+F12", "2")
        self.shows(window, lambda seen: self.DARK_PAPER in seen.colours(), "dark paper")
        self.display.ask_to_close(window)
        self.assertEqual(process.wait(timeout=20), 0)
        self.assertEqual(process.stderr.read(), "")


class FirstRun(OnADisplay):
    def test_from_an_empty_data_folder_to_a_first_recorded_value_by_keys_alone(self):
        data = pathlib.Path(self.folder) / "data"
        self.shop = str(data / "witnessmark" / "shop.wm")
        _, window = self.open(XDG_DATA_HOME=str(data))
        self.settled(window)
        began = time.monotonic()
        self.strike("1")  # set up this shop
        self.settled(window)
        self.type("ada\nAda Lorne\ngreen withies\ngreen withies\nLorne Engines\n")
        self.strike("F5")
        until(lambda: os.path.exists(self.shop) and bodies(self.shop, "set-shop"), what="the shop")
        self.settled(window)
        self.strike("Insert")  # the first engine
        self.settled(window)
        self.strike("Return")
        self.type(f"{HERE / 'one-bore.json'}\n")
        self.strike("Return")  # the model is the procedure's
        self.type("HX4-150-0731\n\nNarrowboat Marigold\n1043\n")
        opened = self.wait_for("open-build")
        self.assertEqual((opened["build"], opened["engine"]["model"], opened["engine"]["hours"]),
                         ("hx4-150-0731", "HX4-150", "1043"))
        self.settled(window)
        self.type("M-7\n")
        self.assertEqual(self.wait_for("identify")["text"], "M-7")
        self.settled(window)
        self.strike("F10")  # a gauge, at the reading that needs it
        self.type("bore-1\n0.001\n0.002\n")
        self.wait_for("add-gauge")
        self.settled(window)
        self.type("22.012\n")
        self.assertEqual(self.wait_for("record")["verdict"], "within")
        print(f"  from nothing to a first value: {time.monotonic() - began:.1f} s")
        self.assertNotIn(b"green withies", pathlib.Path(self.shop).read_bytes())
        verified = subprocess.run([WITNESSMARK, "verify", self.shop], capture_output=True, text=True, check=False)
        self.assertEqual(verified.returncode, 0, verified.stdout)

    def test_the_demo_is_filled_beside_the_empty_shop_and_left_again(self):
        practice = pathlib.Path(self.folder) / "practice.wm"
        _, window = self.open("bench", "--shop", self.shop)
        first = self.settled(window)
        self.strike("2")
        until(practice.exists, seconds=120, what="the practice shop")
        self.shows(window, lambda seen: seen != first, "the demo build")
        self.settled(window)
        self.strike("F1")
        self.settled(window)
        self.strike("Home")
        self.shows(window, lambda seen: seen == first, "the first screen")
        self.assertFalse(pathlib.Path(self.shop).exists())


class Opening(OnADisplay):
    def test_witnessmark_alone_keeps_the_shop_in_the_data_folder(self):
        data = pathlib.Path(self.folder) / "data"
        self.open(XDG_DATA_HOME=str(data))
        self.assertTrue((data / "witnessmark").is_dir())
        self.assertEqual(list((data / "witnessmark").iterdir()), [])  # the first to enrol makes the file

    def test_nothing_is_left_where_it_was_started(self):
        drive(self.shop, SHOP)
        before = set(os.listdir())
        process, window = self.open("bench", "--shop", self.shop)
        self.settled(window)
        self.display.ask_to_close(window)
        process.wait(timeout=20)
        self.assertEqual(set(os.listdir()), before)


class Refused(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="witnessmark-test-")
        self.addCleanup(folder.cleanup)
        self.folder = folder.name

    def check(self, words, part, environment=None):
        done = subprocess.run([WITNESSMARK, *words], capture_output=True, text=True, timeout=20, check=False,
                              env=environment or os.environ | {"DISPLAY": "", "HOME": self.folder})
        self.assertEqual(done.returncode, 2, done.stderr)
        self.assertEqual(done.stdout, "")
        self.assertRegex(done.stderr, r"\Aerror: [^\n]+\n\Z")
        self.assertIn(part, done.stderr)

    def test_without_a_display_the_command_line_is_named(self):
        for words in ([], ["bench"], ["bench", "--shop", self.folder + "/shop.wm"],
                      ["bench", "--picture", self.folder + "/x.png"]):
            self.check(words, "there is no display")
            self.check(words, "the command line works without one, see witnessmark --help")

    def test_help_needs_no_display(self):
        done = subprocess.run([WITNESSMARK, "bench", "--help"], capture_output=True, text=True, check=False,
                              env={"PATH": os.environ["PATH"]})
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        self.assertTrue(done.stdout.startswith("witnessmark bench "))

    def test_a_display_without_opengl(self):
        display = Display(self.folder, "-extension", "GLX")
        self.addCleanup(display.close)
        self.check(["bench", "--shop", self.folder + "/shop.wm"], "this display has no OpenGL 3.3",
                   display.environment())

    def test_what_cannot_be_shown(self):
        display = Display(self.folder)
        self.addCleanup(display.close)
        shop = self.folder + "/heronsgate.wm"
        drive(shop, SHOP)
        alien = pathlib.Path(self.folder) / "alien.wm"
        alien.write_text("not a shop\n", encoding="ascii")
        for words, part in ((["--shop", str(alien)], "alien.wm"),
                            (["--shop", shop, "--build", "nobody"], 'there is no build "nobody"'),
                            (["--shop", shop, "--picture", self.folder + "/no/x.png"], "no/x.png could not be written"),
                            (["--shop", shop, "--zoom"], '"--zoom" is not known')):
            with self.subTest(words=words):
                self.check(["bench", *words], part, display.environment())


if __name__ == "__main__":
    unittest.main()
