#!/usr/bin/env python3
"""The layers of app/: every #include names the standard library, something below in the table, or a third party's
header in the files where it is allowed. The build sees to most of this; here it is said why, and third parties are
kept in their places."""

import pathlib
import re
import unittest

PROJECT = pathlib.Path(__file__).resolve().parent.parent

# A folder sees itself, those named here and all that these see. A new folder gets a line here.
BELOW = {
    "quantity": [],
    "json": ["quantity"],
    "calc": ["json"],
    "procedure": ["calc"],
    "build": ["procedure"],
    "record": ["build"],
    "drawing": ["build"],
    "handover": ["record", "drawing"],
    "bench": ["handover"],
    "desktop": ["bench"],
    "speed": ["bench"],
    "command": ["record", "handover", "speed"],
}
MAIN_SEES = {"command", "desktop"}

# Third parties and the system, by the start of the header's name: the files of app/ that may name it.
ELSEWHERE = {
    "fmt/": r".*",
    "gmpxx.h": r"quantity/\w+\.cpp",
    "gmp.h": r"quantity/\w+\.cpp",
    "nlohmann/json.hpp": r"json/\w+\.cpp|speed/floor\.cpp",
    "sqlite3.h": r"record/\w+\.cpp|speed/floor\.cpp",
    "openssl/": r"(record|handover)/\w+\.cpp|speed/floor\.cpp",
    "fcntl.h": r"(json|record)/\w+\.cpp|speed/child\.cpp",
    "sys/stat.h": r"(json|record)/\w+\.cpp",
    "unistd.h": r"(json|record)/\w+\.cpp|command/passphrase\.cpp|speed/child\.cpp",
    "poll.h": r"speed/child\.cpp",
    "signal.h": r"speed/child\.cpp",
    "spawn.h": r"speed/child\.cpp",
    "sys/wait.h": r"speed/child\.cpp",
    "termios.h": r"command/passphrase\.cpp",
    "stdlib.h": r"record/\w+\.cpp",
    "string.h": r"command/\w+\.cpp",
    "sys/resource.h": r"(command|desktop)/\w+\.cpp",
    "imgui": r"(bench|desktop)/\w+\.(h|cpp)|speed/screens\.cpp",
    "misc/cpp/imgui_stdlib.h": r"bench/\w+\.cpp",
    "backends/imgui_": r"desktop/\w+\.cpp",
    "GLFW/": r"desktop/\w+\.cpp",
    "GL/": r"desktop/\w+\.cpp",
    "cairo": r"handover/\w+\.cpp|desktop/picture\.cpp|speed/floor_pages\.cpp",
    "pango/": r"handover/\w+\.cpp",
    "gdk-pixbuf/": r"handover/\w+\.cpp",
    "qpdf/": r"handover/\w+\.cpp",
    "qrcodegen": r"handover/\w+\.cpp",
}

INCLUDE = re.compile(r'\s*#\s*include\s*(["<])([^">]+)[">]')


def seen_by(folder):
    seen = {folder}
    for below in BELOW[folder]:
        seen |= seen_by(below)
    return seen


def fault_of(file, line):
    """What is wrong with a line of app/FILE, or None."""
    found = INCLUDE.match(line)
    if not found:
        return None
    bracket, header = found.groups()
    if bracket == "<":
        if re.fullmatch(r"[a-z_]+", header):  # the standard library's
            return None
        allowed = next((where for start, where in ELSEWHERE.items() if header.startswith(start)), None)
        return None if allowed and re.fullmatch(allowed, file) else f"<{header}> may not stand in {file}"
    if not re.fullmatch(r"\w+/\w+\.h", header):
        return f'"{header}" in {file} is not written as "folder/name.h"'
    own, other = file.split("/")[0], header.split("/")[0]
    if file == "main.cpp":
        return None if other in MAIN_SEES else f'"{header}": main.cpp only chooses between {MAIN_SEES}'
    return None if other in seen_by(own) else f'"{header}" in {file}: {own} does not see {other}'


def sources():
    files = [file for file in sorted((PROJECT / "app").rglob("*")) if file.suffix in (".h", ".cpp")]
    return [(file.relative_to(PROJECT / "app").as_posix(), file) for file in files]


class Layers(unittest.TestCase):
    def test_every_folder_of_app_has_its_place_in_the_table(self):
        folders = {file.name for file in (PROJECT / "app").iterdir() if file.is_dir()}
        self.assertEqual(folders - set(BELOW), set())

    def test_every_include_is_allowed_where_it_stands(self):
        faults = []
        for name, file in sources():
            for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
                if fault := fault_of(name, line):
                    faults.append(f"app/{name}:{number}: {fault}")
        self.assertEqual(faults, [])

    def test_one_file_reads_with_the_json_library(self):
        readers = [name for name, file in sources()
                   if "<nlohmann/" in file.read_text(encoding="utf-8") and name != "speed/floor.cpp"]
        self.assertEqual(len(readers), 1, readers)

    def test_the_clock_is_read_in_one_layer_but_for_what_only_measures(self):
        reading = re.compile(r"_clock::now|\bstd::time\(|\bclock_gettime\b|\bgettimeofday\b")
        readers = [name for name, file in sources() if reading.search(file.read_text(encoding="utf-8"))]
        self.assertEqual([name for name in readers if not name.startswith("record/")], ["speed/screens.cpp"])

    def test_wrong_includes_are_noticed(self):
        for file, line in (
            ("calc/form.cpp", '#include "procedure/procedure.h"'),
            ("json/read.h", '#include "../quantity/exact.h"'),
            ("json/read.h", '#include "value.h"'),
            ("json/read.h", "#include <nlohmann/json.hpp>"),
            ("build/apply.cpp", "#include <sqlite3.h>"),
            ("record/store.h", "#  include <openssl/evp.h>"),
            ("build/apply.cpp", "#include <unistd.h>"),
            ("command/command.cpp", "#include <GLFW/glfw3.h>"),
            ("bench/sheet.cpp", "#include <GL/gl.h>"),
            ("drawing/engine.cpp", '#include "record/store.h"'),
            ("record/session.cpp", '#include "drawing/engine.h"'),
            ("main.cpp", '#include "record/store.h"'),
        ):
            self.assertIsNotNone(fault_of(file, line), line)

    def test_right_includes_are_let_be(self):
        for file, line in (
            ("calc/form.cpp", '#include "quantity/exact.h"'),
            ("calc/form.cpp", '#include "calc/combine.h"'),
            ("record/store.cpp", "#include <sqlite3.h>"),
            ("build/apply.h", "#include <string_view>"),
            ("build/apply.cpp", "#include <fmt/format.h>"),
            ("main.cpp", '#include "command/command.h"'),
        ):
            self.assertIsNone(fault_of(file, line), line)


if __name__ == "__main__":
    unittest.main()
