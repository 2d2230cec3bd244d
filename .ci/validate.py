"""Holds shipped files and a report against the published JSON Schemas with a validator that is not ours."""

import json
import pathlib
import subprocess
import sys

import jsonschema
import yaml


def lampwright(*words):
    run = subprocess.run(["cargo", "run", "--locked", "--quiet", "--", *words], capture_output=True, text=True)
    if run.returncode not in (0, 1):
        sys.exit(run.stderr)
    return run.stdout


def schema(kind):
    loaded = json.loads(lampwright("schema", kind))
    jsonschema.Draft202012Validator.check_schema(loaded)
    return jsonschema.Draft202012Validator(loaded)


checked = 0
files = sorted(pathlib.Path(".").glob("examples/*.yaml")) + sorted(pathlib.Path(".").glob("rules/*.yaml"))
for file in files:
    text = yaml.safe_load(file.read_text(encoding="utf-8"))
    kind = text["lampwright"].split()[0]
    errors = [e.message for e in schema(kind).iter_errors(text)]
    if errors:
        sys.exit(f"{file}: {errors}")
    checked += 1

report = schema("report")
for file in sorted(pathlib.Path(".").glob("examples/*.yaml")):
    if yaml.safe_load(file.read_text(encoding="utf-8"))["lampwright"] != "aircraft 1":
        continue
    errors = [e.message for e in report.iter_errors(json.loads(lampwright("check", str(file), "--format", "json")))]
    if errors:
        sys.exit(f"report of {file}: {errors}")
    checked += 1

broken = {"lampwright": "aircraft 1", "model": {"title": "x", "scale": 8}}
if not list(schema("aircraft").iter_errors(broken)):
    sys.exit("a broken file passes the schema")
print(f"{checked} files are valid")
if checked < 11:
    sys.exit("too few files were checked")
