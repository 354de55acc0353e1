#!/usr/bin/env python3
"""Shows what came of a played demo: python3 show.py ACTIONS ANSWERS, two files of JSON lines, one answer an action.

Exit status 1 when an action was left without an answer, or no build was released."""

import json
import sys


def read_lines(path):
    with open(path, encoding="utf-8") as file:
        return [json.loads(line) for line in file if line.strip()]


def name_of(action):
    places = [action[key] for key in ("step", "entry", "fastener", "position", "gauge", "person") if key in action]
    return " ".join([action["do"], *places[:3]])


def show_refusals(actions, answers):
    refused = [(a, b) for a, b in zip(actions, answers) if not b["ok"]]
    print(f"{len(answers)} of {len(actions)} actions answered. {len(refused)} refused, each played to show it:")
    for action, answer in refused:
        print(f"  {name_of(action)}")
        print(f"      {answer['error']}: {answer['message']}")
        for blocker in answer.get("blockers", []):
            print(f"      - {blocker['code']}: {blocker['message']}")


def show_builds(actions, answers):
    """The last answer to `status` and to `release` of each build."""
    last = {}
    for action, answer in zip(actions, answers):
        if answer["ok"] and action["do"] in ("status", "release"):
            last.setdefault(action["build"], {})[action["do"]] = answer
    for build, found in last.items():
        print(f"\nBuild {build}: {found.get('release', {}).get('outcome', 'not released')}")
        for step in found.get("status", {}).get("steps", []):
            print(f"  {step['step']:<20}{step['state']}")
    return any("release" in found for found in last.values())


def main():
    actions, answers = (read_lines(path) for path in sys.argv[1:3])
    show_refusals(actions, answers)
    released = show_builds(actions, answers)
    return 0 if released and len(answers) == len(actions) else 1


if __name__ == "__main__":
    sys.exit(main())
