#!/usr/bin/env python3
"""Draws every screen of the window into a folder, to be looked at: each in every theme, in a small, a usual and a large
window, on shops played from the demos up to places that tell something; and a few moments at work, in the window itself,
somebody signed in. Beside the pictures it leaves index.html, which shows them all. The list of screens and of themes is
that of the program's own help.

    WITNESSMARK=build/release/witnessmark tests/gallery.py FOLDER [PART-OF-A-NAME...]

With parts of names only those pictures whose names hold one of them, or all of them with a plus between."""

import concurrent.futures
import html
import json
import os
import pathlib
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import time
import zlib

PROJECT = pathlib.Path(__file__).resolve().parent.parent
sys.path.insert(0, str(PROJECT / "tests" / "desktop"))
from display import Display, running  # noqa: E402

WITNESSMARK = os.path.abspath(os.environ["WITNESSMARK"])
WINDOWS = [(1024, 600, 1), (1280, 800, 1), (2560, 1440, 2)]  # width, height, scale

# Name, demo, how much of it is played, and the screens that are drawn there; none named: all.
SHOPS = [
    ("marigold", "marigold", 1, None),
    ("marigold-half", "marigold", 0.5, ["sheet"]),
    ("short-block-third", "short-block", 0.34, ["sheet", "sizes"]),
    ("short-block-late", "short-block", 0.8, ["sheet"]),
    ("teardown", "teardown", 1, ["findings", "parts", "sizes", "strip-down"]),
    ("teardown-found", "teardown", 0.3, ["sheet", "strip-down", "findings"]),
    ("teardown-away", "teardown", 0.55, ["sheet", "parts", "sizes"]),
]
CALCULATIONS = ["oil-clearance", "flatness"]
LOOKS = {"large": ["--text", "200"], "inch": ["--units", "inch"]}  # drawn once more so: the sheet and the look

# A procedure of the shop's own, begun from the short block.
BEGIN_ONE = ["shift+F11", "=short block", "Insert", "=mine", "Return", "Return", "=HX2-75", "F5"]

# At work: shop ("nothing": there is none), name, and what is struck after signing in; "=TEXT" is typed.
MOMENTS = [
    ("marigold-half", "at-work", []),
    ("marigold-half", "typing", ["=47.9"]),
    ("marigold-half", "found", ["shift+F8"]),
    ("marigold-half", "look", ["shift+F12"]),
    ("short-block-third", "at-work", ["F5"]),
    ("short-block-third", "sizes", ["shift+F4"]),
    ("short-block-third", "numbers", BEGIN_ONE),
    ("short-block-third", "numbers-slip", [*BEGIN_ONE, *"=oil clearance|Return|Return|=0.020|Return|=0.620".split("|")]),
    ("teardown-found", "strip-down", ["shift+F1"]),
    ("teardown-away", "parts", ["shift+F3"]),
    ("teardown-away", "parts-order", ["shift+F3", "F6"]),
    ("marigold-half", "people", ["F4", "F5"]),
    ("marigold-half", "enrol", ["F4", "F5", "Insert"]),
    ("marigold-half", "gauges", ["F4", "F6"]),
    ("marigold-half", "new-gauge", ["F4", "F6", "F10"]),
    ("marigold-half", "settings", ["F4", "F8"]),
    ("marigold-half", "new-engine", ["F1", "Insert"]),
    ("nothing", "first-run", []),
    ("nothing", "set-up", ["1"]),
]


def words_after(text, option):
    """The words of an option's help, up to the next option."""
    found = re.search(rf"^  {option} (.*?)(?=^  --|^$)", text, re.MULTILINE | re.DOTALL).group(1)
    return re.findall(r"[a-z][a-z-]*", found.partition(":")[2] or found)


def played(name, demo, share, folder):
    """A shop with so much of a demo in it; its file and its build."""
    lines = (PROJECT / "demo" / f"{demo}.jsonl").read_text(encoding="utf-8").splitlines(keepends=True)
    shop = folder / f"{name}.shop"
    shop.unlink(missing_ok=True)
    subprocess.run([WITNESSMARK, "drive", "--shop", shop, "--practice"], input="".join(lines[: round(len(lines) * share)]),
                   stdout=subprocess.DEVNULL, text=True, check=True, cwd=PROJECT)
    actions = [json.loads(line) for line in lines if line.startswith("{")]
    build = next(action["build"] for action in actions if action["do"] == "open-build")
    person = next(action for action in actions if action["do"] == "enrol" and "builder" in action["roles"])
    return shop, build, person


def write_png(path, image):
    """Eight bits, red, green and blue: ISO/IEC 15948:2004."""
    def chunk(kind, body):
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
    head = struct.pack(">IIBBBBB", image.width, image.height, 8, 2, 0, 0, 0)
    rows = b"".join(b"\0" + row for row in image.rows)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows, 3)) + chunk(b"IEND", b""))


def settled(display, window):
    """What the window shows once that has not changed for a while."""
    seen, since = display.shown(window), time.monotonic()
    while time.monotonic() - since < 0.7:
        time.sleep(0.05)
        now = display.shown(window)
        if now != seen:
            seen, since = now, time.monotonic()
    return seen


class Gallery:
    def __init__(self, folder, parts):
        self.folder, self.parts, self.shown = folder, parts, []
        text = subprocess.run([WITNESSMARK, "bench", "--help"], capture_output=True, text=True, check=True).stdout
        self.screens = words_after(text, "--screen NAME")
        self.themes = [word for word in words_after(text, "--theme NAME") if word != "or"]
        (folder / "shops").mkdir(parents=True, exist_ok=True)
        self.shops = {}

    def shop(self, name):
        if name not in self.shops:
            demo, share = next((demo, share) for each, demo, share, _ in SHOPS if each == name)
            self.shops[name] = played(name, demo, share, self.folder / "shops")
        return self.shops[name]

    def wanted(self, name):
        return not self.parts or any(all(one in name for one in part.split("+")) for part in self.parts)

    def pictures(self):
        """Title, shop and further options of each, without window and theme."""
        for name, _, _, screens in SHOPS:
            for screen in screens or self.screens:
                options = ["--screen", screen]
                if screen != "work":
                    yield f"{name}-{screen}", name, options
                else:
                    for calculation in CALCULATIONS:
                        yield f"{name}-{screen}-{calculation}", name, options + ["--calc", calculation]
                if screen in ("sheet", "look"):
                    for look, more in LOOKS.items():
                        yield f"{name}-{screen}-{look}", name, options + more

    def draw(self, display):
        jobs = []
        for title, name, options in self.pictures():
            for theme in self.themes:
                for width, height, scale in WINDOWS:
                    file = f"{title}-{theme}-{width}.png"
                    if not self.wanted(file):
                        continue
                    self.shown.append((title, file))
                    shop, build, _ = self.shop(name)
                    jobs.append([WITNESSMARK, "bench", "--shop", shop, "--build", build, *options, "--theme", theme, "--size", f"{width}x{height}",
                                 "--scale", str(scale), "--picture", str(self.folder / file)])
        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
            for done in [pool.submit(subprocess.run, job, env=display.environment(), check=True) for job in jobs]:
                done.result()

    def at_work(self, display):
        """In the window itself, as somebody works."""
        for shop_name, moment, keys in MOMENTS:
            for theme in self.themes:
                for width, height, scale in WINDOWS:
                    title = f"{shop_name}-moment-{moment}"
                    file = f"{title}-{theme}-{width}.png"
                    if not self.wanted(file):
                        continue
                    self.shown.append((title, file))
                    command = [WITNESSMARK, "bench", "--theme", theme, "--size", f"{width}x{height}", "--scale", str(scale)]
                    sign_in = []
                    if shop_name == "nothing":
                        command += ["--shop", self.folder / "shops" / "nothing.shop"]
                    else:
                        shop, build, person = self.shop(shop_name)
                        shutil.rmtree(pathlib.Path(shop).parent / "procedures", ignore_errors=True)  # of another picture
                        command += ["--shop", shop, "--build", build, "--screen", "sheet"]
                        sign_in = [f"={person['person']}", "Return", f"={person['passphrase']}", "Return"]
                    with running(command, display.environment()) as process:
                        window = display.window_of(process)
                        display.xdotool("mousemove", "2599", "1499", "windowfocus", "--sync", window)
                        image = settled(display, window)
                        for each in [*sign_in, *keys]:
                            if each.startswith("="):
                                display.xdotool("type", "--delay", "4", each[1:])
                            else:
                                display.xdotool("key", "--delay", "4", each)
                            image = settled(display, window)
                        write_png(self.folder / file, image)

    def write_index(self):
        rows, last = [], ""
        for title, file in self.shown:
            if title != last:
                rows.append(f"<h2>{html.escape(title)}</h2>")
            last = title
            rows.append(f'<a href="{html.escape(file)}"><img src="{html.escape(file)}" alt="{html.escape(file)}" '
                        f'title="{html.escape(file)}" loading="lazy"></a>')
        page = ("<!DOCTYPE html><html lang=\"en\"><meta charset=\"utf-8\"><title>The window, every screen</title>"
                "<style>body{font-family:sans-serif;background:#ccc}img{height:300px;margin:4px}</style>"
                "<h1>The window, every screen</h1>" + "\n".join(rows) + "</html>\n")
        (self.folder / "index.html").write_text(page, encoding="utf-8")


def main():
    if len(sys.argv) < 2 or sys.argv[1].startswith("-"):
        sys.exit(__doc__)
    folder = pathlib.Path(sys.argv[1]).resolve()
    gallery = Gallery(folder, sys.argv[2:])
    with tempfile.TemporaryDirectory(prefix="witnessmark-gallery-") as memory:
        display = Display(memory, size=(2600, 1500))
        try:
            gallery.draw(display)
            gallery.at_work(display)
        finally:
            display.close()
    gallery.write_index()
    print(f"{len(gallery.shown)} pictures of {len(gallery.screens)} screens in {len(gallery.themes)} themes: "
          f"{folder / 'index.html'}")


if __name__ == "__main__":
    main()
