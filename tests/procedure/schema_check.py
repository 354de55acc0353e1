"""Is procedures/procedure.schema.json in step with the program's reader?

Run as: schema_check.py PROGRAM PROJECT, where PROGRAM prints what the reader knows (facts.cpp).
The validator is Debian's python3-jsonschema, JSON Schema 2020-12.
"""

import json
import pathlib
import subprocess
import sys

from jsonschema import Draft202012Validator


def reject_twice(pairs):
    keys = [key for key, _ in pairs]
    if len(set(keys)) != len(keys):
        raise ValueError("a key stands twice")
    return dict(pairs)


def load(path):
    return json.loads(path.read_text(encoding="utf-8"), object_pairs_hook=reject_twice)


def members_of_schema(definitions):
    return {name: set(rule["properties"]) for name, rule in definitions.items() if "properties" in rule}


def open_objects(rule, path):
    """Objects with named members that would let others in."""
    if isinstance(rule, dict):
        is_object = rule.get("type") == "object" and "properties" in rule
        if is_object and rule.get("additionalProperties") is not False:
            yield path
        for key, inner in rule.items():
            yield from open_objects(inner, f"{path}/{key}")
    elif isinstance(rule, list):
        for index, inner in enumerate(rule):
            yield from open_objects(inner, f"{path}/{index}")


def words_of_schema(definitions):
    def enum(name, member):
        rule = definitions[name]["properties"][member]
        return rule.get("enum") or definitions[rule["$ref"].rsplit("/", 1)[1]]["enum"]

    return {
        "units": definitions["unit"]["enum"],
        "basis": enum("limit", "basis"),
        "word": enum("caution", "word"),
        "taken-apart": enum("confirm", "taken-apart"),
        "judged-by": enum("reading", "judged-by"),
        "rule": enum("procedure", "rule"),
        "bound": enum("from-limit", "bound"),
        "severity": enum("finding", "severity"),
        "kind": [reference["$ref"].rsplit("/", 1)[1] for reference in definitions["entry"]["oneOf"]],
    }


def main(program, project):
    schema_path = project / "procedures" / "procedure.schema.json"
    good = sorted(path for path in (project / "procedures").glob("*.json") if path != schema_path)
    bad_folder = project / "tests" / "procedure" / "bad"
    bad = sorted(bad_folder.glob("*.json"))
    must_refuse = set((bad_folder / "refused-by-schema.txt").read_text(encoding="utf-8").split())

    schema = load(schema_path)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    output = subprocess.run([program, *map(str, good + bad)], check=True, capture_output=True, text=True).stdout
    facts = json.loads(output)
    faults = []

    def expect(truth, fault):
        if not truth:
            faults.append(fault)

    ours, theirs = {k: set(v) for k, v in facts["members"].items()}, members_of_schema(schema["$defs"])
    for name in sorted(ours.keys() | theirs.keys()):
        expect(ours.get(name) == theirs.get(name),
               f"{name}: the reader knows {sorted(ours.get(name, ()))}, the schema {sorted(theirs.get(name, ()))}")
    for path in open_objects(schema, ""):
        faults.append(f"schema {path}: additionalProperties is not false")
    for name, words in words_of_schema(schema["$defs"]).items():
        expect(sorted(words) == sorted(facts[name]), f"{name}: the reader takes {facts[name]}, the schema {words}")

    expect(len(good) > 0, "no procedure was found")
    for path in good:
        told = [error.message for error in validator.iter_errors(load(path))]
        expect(not told, f"{path.name}: the schema refuses it: {told[:1]}")
        file = facts["files"][str(path)]
        expect(file["accepted"], f"{path.name}: the reader refuses it")
        expect(file["accepted"] and validator.is_valid(file["resolved"]), f"{path.name}: its resolved form is not valid")

    expect(len(bad) >= 50, f"only {len(bad)} bad files")
    expect(must_refuse <= {path.name for path in bad}, "refused-by-schema.txt names files that are not there")
    for path in bad:
        expect(not facts["files"][str(path)]["accepted"], f"{path.name}: the reader accepts it")
        try:
            document = load(path)
        except ValueError:
            expect(path.name not in must_refuse, f"{path.name}: no JSON for a schema to look at")
            continue
        expect(validator.is_valid(document) != (path.name in must_refuse),
               f"{path.name}: the schema {'accepts' if path.name in must_refuse else 'refuses'} it")

    for fault in faults:
        print(fault)
    print(f"{len(good)} procedures, {len(bad)} bad files, {len(must_refuse)} of them refused by the schema too")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], pathlib.Path(sys.argv[2])))
