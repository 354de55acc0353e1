#!/usr/bin/env python3
"""How much of the computations the tests run: lines of app/calc and app/quantity, as gcov counts them after the tests
of the build folder named have run. Prints the share and each line never run; 1 when the share is below the least."""

import json
import pathlib
import subprocess
import sys

LEAST = 98.0
PROJECT = pathlib.Path(__file__).resolve().parent.parent
FOLDERS = [PROJECT / "app" / name for name in ("calc", "quantity")]

build = pathlib.Path(sys.argv[1]).resolve()
runs = {}  # file: {line: times run}
for folder in FOLDERS:
    for counts in sorted((build / "app" / folder.name).rglob("*.gcda")):
        report = subprocess.run(["gcov", "--json-format", "--stdout", counts], capture_output=True, check=True,
                                cwd=build)
        for source in json.loads(report.stdout)["files"]:
            path = (build / source["file"]).resolve()
            if path.parent not in FOLDERS:
                continue
            lines = runs.setdefault(path.relative_to(PROJECT), {})
            for line in source["lines"]:
                lines[line["line_number"]] = lines.get(line["line_number"], 0) + line["count"]

total = sum(len(lines) for lines in runs.values())
missed = [(path, line) for path, lines in sorted(runs.items()) for line, count in sorted(lines.items()) if count == 0]
if total == 0:
    sys.exit("coverage.py: no counts found; build with -DWITNESSMARK_SANITIZE=ON and run the tests first")
for path, line in missed:
    print(f"{path}:{line}: never run: {(PROJECT / path).read_text().splitlines()[line - 1].strip()}")
share = 100 * (total - len(missed)) / total
print(f"app/calc and app/quantity: {share:.2f} % of {total} lines run (least: {LEAST:.0f} %)")
sys.exit(0 if share >= LEAST else 1)
