"""Holds shipped files and reports against the published schemas with validators that are not ours."""

import json
import pathlib
import subprocess
import sys

import jsonschema
import junitparser
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

# SARIF against the schema OASIS publishes, as a crate ships it.
sarif = jsonschema.Draft7Validator(json.loads(pathlib.Path(sys.argv[1]).read_text(encoding="utf-8")))
# JUnit read back by a library that is not ours.
runs = [["check", str(file)] for file in files if file.read_text(encoding="utf-8").startswith("lampwright: aircraft")]
runs += [["lint", "tests/lint"], ["lint", "examples"]]
for run in runs:
    errors = [e.message for e in sarif.iter_errors(json.loads(lampwright(*run, "--format", "sarif")))]
    if errors:
        sys.exit(f"SARIF of {run}: {errors}")
    json_report = json.loads(lampwright(*run, "--format", "json"))
    suites = junitparser.JUnitXml.fromstring(lampwright(*run, "--format", "junit").encode())
    cases = [case for suite in suites for case in suite]
    failed = sum(any(isinstance(r, junitparser.Failure) for r in case.result) for case in cases)
    if run[0] == "check":
        wanted = (len(json_report["goals"]), sum(g["binding"] and g["verdict"] == "missed" for g in json_report["goals"]))
    else:
        found = json_report["findings"]
        clean = json_report["files"] - len({f["file"] for f in found})
        wanted = (len(found) + clean, json_report["tally"]["error"])
    if (len(cases), failed) != wanted:
        sys.exit(f"JUnit of {run}: {len(cases)} cases, {failed} failures, and not {wanted}")
    checked += 2

lint_report = schema("lint-report")
errors = [e.message for e in lint_report.iter_errors(json.loads(lampwright("lint", "tests/lint", "--format", "json")))]
if errors:
    sys.exit(f"lint report: {errors}")
if not list(sarif.iter_errors({"version": "2.1.0", "runs": [{"results": []}]})):
    sys.exit("a log without a tool passes the schema")

broken = {"lampwright": "aircraft 1", "model": {"title": "x", "scale": 8}}
if not list(schema("aircraft").iter_errors(broken)):
    sys.exit("a broken file passes the schema")
print(f"{checked} files are valid")
if checked < 30:
    sys.exit("too few files were checked")
