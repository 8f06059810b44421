"""Holds files against a JSON Schema with the package `jsonschema`, which knows nothing of Jigless.

Usage: validate_json.py SCHEMA FILE...

Files are JSON, or YAML by their extension. Prints, for each file, {"file": name, "faults": [path and message, ...]}.
YAML is read with plain scalars as strings unless they are numbers, true, false or null, as YAML 1.2 has it.
"""

import json
import re
import sys
from pathlib import Path

import jsonschema
import yaml


class Loader(yaml.SafeLoader):
    """YAML 1.2's core schema: `yes`, dates and octal numbers are texts."""


Loader.yaml_implicit_resolvers = {}
for tag, pattern, first in [
    ("tag:yaml.org,2002:bool", r"^(?:true|True|TRUE|false|False|FALSE)$", "tTfF"),
    ("tag:yaml.org,2002:null", r"^(?:~|null|Null|NULL|)$", ["~", "n", "N", ""]),
    ("tag:yaml.org,2002:int", r"^[-+]?[0-9]+$", "-+0123456789"),
    ("tag:yaml.org,2002:float", r"^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$", "-+0123456789."),
]:
    Loader.add_implicit_resolver(tag, re.compile(pattern), list(first))


def read(path):
    if path.suffix in (".yaml", ".yml"):
        return yaml.load(path.read_text(encoding="utf-8"), Loader)
    return json.loads(path.read_text(encoding="utf-8"))


def main():
    schema = read(Path(sys.argv[1]))
    kind = jsonschema.validators.validator_for(schema)
    kind.check_schema(schema)
    validator = kind(schema)
    for name in sys.argv[2:]:
        path = Path(name)
        try:
            value = read(path)
        except (yaml.YAMLError, UnicodeDecodeError, ValueError) as error:
            print(json.dumps({"file": path.name, "unreadable": str(error)[:200]}))
            continue
        faults = sorted(
            f"{'/'.join(str(part) for part in fault.absolute_path)}: {fault.message[:200]}"
            for fault in validator.iter_errors(value)
        )
        print(json.dumps({"file": path.name, "faults": faults}))


main()
