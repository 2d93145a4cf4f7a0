"""Validates JSON files against a JSON Schema with Debian's python3-jsonschema (draft 2020-12).

Usage: validate.py SCHEMA FILE...   Ends with 0 if all are valid, 1 with the errors if not.
"""

import json
import sys

from jsonschema import Draft202012Validator


def refuse(constant):
    raise ValueError(f"{constant} is no JSON")


def load(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file, parse_constant=refuse)


def main():
    schema = load(sys.argv[1])
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    bad = 0
    for path in sys.argv[2:]:
        for error in validator.iter_errors(load(path)):
            print(f"{path}: {error.json_path}: {error.message[:200]}")
            bad += 1
    return 1 if bad else 0


sys.exit(main())
