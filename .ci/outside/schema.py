#!/usr/bin/env python3
"""The JSON that halfpour writes, held against the schemas that it prints, by
jsonschema, which shares no code with it.

    schema.py HALFPOUR BUILD...      each BUILD a folder that a build has written
"""
import json
import pathlib
import subprocess
import sys

from jsonschema import Draft202012Validator


def main():
    halfpour, builds = sys.argv[1], sys.argv[2:]
    faults = documents = 0

    def printed(*args, code=0):
        ran = subprocess.run([halfpour, *args], capture_output=True, text=True)
        if ran.returncode != code:
            raise SystemExit(f"{args}: exit {ran.returncode}: {ran.stderr}")
        return json.loads(ran.stdout or ran.stderr)

    validators = {}
    for document in printed("schema", "--json")["documents"]:
        schema = printed("schema", document["name"])
        Draft202012Validator.check_schema(schema)
        validators[document["name"]] = Draft202012Validator(schema)

    def check(name, data, where):
        nonlocal faults, documents
        documents += 1
        for e in validators[name].iter_errors(data):
            faults += 1
            print(f"{where}: {e.json_path}: {e.message}")

    for folder in map(pathlib.Path, builds):
        check("plan", json.loads((folder / "plan.json").read_text()), folder)
        shopping = folder.parent / "buying-list.json"
        if shopping.exists():
            check("buying-list", json.loads(shopping.read_text()), shopping)
    check("schemas", printed("schema", "--json"), "schema")
    check("help", printed("help", "--json"), "help")
    check("explain", printed("explain", "--json"), "explain")
    check("mix", printed("mix", "100:3", "58.9g", "-b", "1.9g", "--json"), "mix")
    for job in sorted(pathlib.Path("examples").glob("*/job.toml")):
        if job.parent.name != "starter":  # it comes without its head
            got = printed("check", str(job), "--json")
            check("sizes" if "sizes" in got else "check", got, job)
    check("error", printed("check", "nowhere.toml", "--json", code=4), "error")
    print(f"{documents} documents of {len(validators)} schemas, {faults} faults")
    if faults or documents < 10:
        sys.exit(1)


main()
