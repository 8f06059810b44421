"""What other readers of YAML take a text for: PyYAML reads YAML 1.1, ruamel.yaml YAML 1.2.

Prints a line of JSON for each file below the folders given: its path, and the tree as each of them has it. A map is
{"map": [[key, value], ...]}, a list {"list": [...]}, anything else {"kind": ..., "text": ...}.
"""

import json
import sys
from pathlib import Path

import yaml
from ruamel.yaml import YAML


def plain(value):
    if isinstance(value, dict):
        return {"map": [[plain(key), plain(inside)] for key, inside in value.items()]}
    if isinstance(value, (list, tuple)):
        return {"list": [plain(inside) for inside in value]}
    return {"kind": type(value).__name__, "text": value if isinstance(value, str) else repr(value)}


newer = YAML(typ="safe", pure=True)
newer.version = (1, 2)
for folder in sys.argv[1:]:
    for path in sorted(Path(folder).rglob("*")):
        if path.is_file():
            text = path.read_text(encoding="utf-8")
            trees = {"1.1": plain(yaml.safe_load(text)), "1.2": plain(newer.load(text))}
            print(json.dumps({"path": str(path), "trees": trees}))
