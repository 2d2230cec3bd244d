"""Files a second of a Python JSON Schema validator in one warm process: PyYAML's C loader, a validator made once.

python benches/lint_peer.py FOLDER COUNT SCHEMA
"""

import json
import pathlib
import sys
import time

import jsonschema
import yaml

folder, count, schema = sys.argv[1:]
validator = jsonschema.Draft202012Validator(json.loads(pathlib.Path(schema).read_text(encoding="utf-8")))
files = sorted(pathlib.Path(folder).rglob("*.yaml"))[: int(count)]


def run():
    for file in files:
        if next(validator.iter_errors(yaml.load(file.read_bytes(), Loader=yaml.CSafeLoader)), None):
            sys.exit(f"{file} is blamed")


run()
begin = time.perf_counter()
run()
print(len(files) / (time.perf_counter() - begin))
