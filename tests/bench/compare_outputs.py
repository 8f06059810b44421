#!/usr/bin/env python3
"""Compares what two versions of the program make of the same plans, byte for byte, and lists what differs.

    tests/bench/compare_outputs.py OLD_PROGRAM NEW_PROGRAM [FIXTURES_OLD FIXTURES_NEW]

For a change that must not change any output. Compared are the files of every format, the plans written out, and what
`check` prints, of every folder below the fixtures that holds a `plan.yaml`, and what `formats`, `schema` and `why`
(`explain` in older programs) print. Of manifests the hash of the program is left out. Ends with 1 when anything differs.
"""

import json
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# Every format once as it is, and once with the parts on sheets.
ON_SHEETS = ["--to", "dxf-cnc,dxf-laser,svg-laser"] + [
    word for id in ("dxf-cnc", "dxf-laser", "svg-laser") for word in ("--set", f"{id}.arrange=stock")
]


def said(program, *words, folder):
    """What a command prints and how it ends, as one text."""
    done = subprocess.run([program, *words], cwd=folder, capture_output=True, text=True, errors="replace")
    return f"{done.stdout}\n--- errors\n{done.stderr}\n--- ends with {done.returncode}\n"


def of_file(path):
    if path.name != "manifest.json":
        return path.read_bytes()
    manifest = json.loads(path.read_text())
    for exporter in manifest.get("exporters", []):
        exporter.get("made_from", {}).pop("build", None)
    return json.dumps(manifest, indent=1).encode()


def outputs(program, fixtures):
    """Everything that a program makes: a name, and its bytes."""
    made = {}
    plans = sorted(path.parent.relative_to(fixtures) for path in fixtures.rglob("plan.yaml"))
    formats = re.findall(r"^([a-z][a-z-]*) \(", said(program, "formats", folder=fixtures), re.M)
    for word in ("formats", "schema"):
        made[word] = said(program, word, folder=fixtures).encode()
    # Programs before the rename know `why` as `explain`.
    why = "why" if re.search(r"^  why ", said(program, "--help", folder=fixtures), re.M) else "explain"
    codes = said(program, why, folder=fixtures)
    made["why"] = codes.encode()
    for code in re.findall(r"^  ([a-z]+(?:-[a-z]+)*) ", codes, re.M):
        made[f"why {code}"] = said(program, why, code, folder=fixtures).encode()
    for plan in plans:
        for words in ("check", "expand"):
            made[f"{words} {plan}"] = said(program, words, str(plan), folder=fixtures).encode()
        for name, options in (("all", ["--to", ",".join(formats)]), ("sheets", ON_SHEETS)):
            with tempfile.TemporaryDirectory() as folder:
                text = said(program, "export", str(plan), *options, "--out", folder, folder=fixtures)
                made[f"export {plan} ({name})"] = text.replace(folder, "OUT").encode()
                for path in sorted(p for p in Path(folder).rglob("*") if p.is_file()):
                    made[f"export {plan} ({name}): {path.relative_to(folder)}"] = of_file(path)
    return made


def main():
    if len(sys.argv) not in (3, 5):
        sys.exit(__doc__)
    fixtures = [Path(word).resolve() for word in sys.argv[3:5]] or [ROOT / "fixtures"] * 2
    made = []
    with tempfile.TemporaryDirectory() as folder:
        for number, (program, plans) in enumerate(zip(sys.argv[1:3], fixtures)):
            # Help names the program as it was called.
            link = Path(folder) / str(number) / "jigless"
            link.parent.mkdir()
            os.symlink(Path(program).resolve(), link)
            made.append(outputs(str(link), plans))
    old, new = made
    differing = [name for name in sorted(old.keys() | new.keys()) if old.get(name) != new.get(name)]
    for name in differing:
        state = "is gone" if name not in new else "is new" if name not in old else "differs"
        print(f"{name}: {state}")
    print(f"{len(old)} outputs compared, {len(differing)} differ")
    sys.exit(1 if differing else 0)


if __name__ == "__main__":
    main()
