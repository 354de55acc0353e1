#!/usr/bin/env python3
"""The table that the tests of this folder have just written is the one kept in README.md, and every published source
of a computation has three checks at least. Argument: the table just written."""

import pathlib
import sys

fresh = pathlib.Path(sys.argv[1])
kept = pathlib.Path(__file__).with_name("README.md")
faults = []

for line in fresh.read_text().splitlines():
    cells = [cell.strip() for cell in line.split("|")]
    if len(cells) == 7 and cells[3] in ("read", "from memory") and int(cells[4]) < 3:
        faults.append(f"fewer than 3 checks: {line}")
if not kept.exists() or fresh.read_text() != kept.read_text():
    faults.append(f"{kept.name} of tests/outside is not what the tests found; read the difference, then copy {fresh}")

for fault in faults:
    print(fault)
sys.exit(1 if faults else 0)
