#!/usr/bin/env python3
"""Gives the program plans whose numbers ask for far too much, and measures how long it takes and how much memory.

    tests/bench/hostile_numbers.py PROGRAM [--only PART_OF_A_NAME] [--skip-numbers] [--large]

For every key of a plan that takes a number (as `PROGRAM schema` has it), a plan of the fixtures that has such an entry
gets a hostile one there, and is exported in all formats. Then come plans that grow in other ways: many entries that each
ask for as much as one may, up to 1 MB of text, and with `--large` up to 8 MB, the largest file that is read. Needs
PyYAML (`tests/run` brings it). Prints what took most; ends with 1 when a plan up to 1 MB takes more than 5 s or 500 MB, or a
larger one more than 20 s or 1 GB, or anything ends in another way than with 0 or 1. Seconds are those of the processor,
so that what else this machine does is not counted. Meant for a release build.
"""

import argparse
import json
import os
import resource
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

import yaml

ROOT = Path(__file__).resolve().parents[2]
HOSTILE = ["1e9", "1000000", "10000", "9999", "-1", "nan", "0", "1e-7", "999999999999999999999", "9.999 m"]
SMALL = (5.0, 500)
LARGE = (20.0, 1000)
MOST_SHOWN = 12
# What a child may take before it is stopped, so that this machine lives on: seconds and bytes.
STOPPED_AFTER = 60
MEMORY = 6 << 30


def numeric(schema, defs):
    """Whether a value of this kind may be a number."""
    schema = resolved(schema, defs)
    kinds = schema.get("type", [])
    kinds = [kinds] if isinstance(kinds, str) else kinds
    if "number" in kinds or "integer" in kinds:
        return True
    return any(numeric(choice, defs) for choice in schema.get("anyOf", []) + schema.get("oneOf", []))


def resolved(schema, defs):
    while "$ref" in schema:
        schema = defs[schema["$ref"].rsplit("/", 1)[1]]
    return schema


def choices(schema, defs):
    schema = resolved(schema, defs)
    yield schema
    for choice in schema.get("anyOf", []) + schema.get("oneOf", []):
        yield from choices(choice, defs)


def places(value, schema, defs, path, kind):
    """Where a number may stand in this value: the kind of place, the way to it, and whether one stands there now."""
    for schema in choices(schema, defs):
        if isinstance(value, dict) and "properties" in schema:
            for key, of_key in schema["properties"].items():
                if numeric(of_key, defs):
                    yield f"{kind}.{key}", path + [key], key in value
                if key in value:
                    yield from places(value[key], of_key, defs, path + [key], f"{kind}.{key}")
        other = schema.get("additionalProperties")
        if isinstance(value, dict) and isinstance(other, dict):
            for key in value:
                if numeric(other, defs):
                    yield f"{kind}.*", path + [key], True
                yield from places(value[key], other, defs, path + [key], f"{kind}.*")
        if isinstance(value, list) and isinstance(schema.get("items"), dict):
            for number, item in enumerate(value):
                if numeric(schema["items"], defs):
                    yield f"{kind}[]", path + [number], True
                yield from places(item, schema["items"], defs, path + [number], f"{kind}[]")


def numeric_keys(schema, defs, kind, seen):
    """Every kind of place in the schema where a number may stand."""
    for choice in choices(schema, defs):
        if id(choice) in seen:
            continue
        seen = seen | {id(choice)}
        for key, of_key in choice.get("properties", {}).items():
            if numeric(of_key, defs):
                yield f"{kind}.{key}"
            yield from numeric_keys(of_key, defs, f"{kind}.{key}", seen)
        for inside, mark in ((choice.get("additionalProperties"), ".*"), (choice.get("items"), "[]")):
            if isinstance(inside, dict):
                if numeric(inside, defs):
                    yield kind + mark
                yield from numeric_keys(inside, defs, kind + mark, seen)


def with_number(plan, path, number):
    plan = json.loads(json.dumps(plan))
    inside = plan
    for step in path[:-1]:
        inside = inside[step]
    inside[path[-1]] = number
    return yaml.safe_dump(plan, sort_keys=False, allow_unicode=True)


def plans_of_fixtures():
    for path in sorted((ROOT / "fixtures").rglob("plan.yaml")):
        if {"faulty", "migrate"} & set(path.parts):
            continue
        plan = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
        if "include" not in plan:
            yield plan


def numbers(program):
    """A plan for every kind of place and hostile number, by name."""
    schema = json.loads(subprocess.run([program, "schema"], capture_output=True, check=True).stdout)
    defs = schema["$defs"]
    found = {}
    for plan in plans_of_fixtures():
        for kind, path, there in places(plan, defs["plan"], defs, [], "plan"):
            if kind not in found or there and not found[kind][2]:
                found[kind] = (plan, path, there)
    lacking = sorted(set(numeric_keys(defs["plan"], defs, "plan", frozenset())) - set(found))
    for kind in lacking:
        print(f"no fixture has an entry for {kind}", file=sys.stderr)
    for kind, (plan, path, _) in sorted(found.items()):
        for number in HOSTILE:
            yield f"{kind} = {number}", with_number(plan, path, number)


HEAD = "jigless: 1\ntitle: Hostile\nunits: mm\nstock:\n  board: {thickness: 18, sheets: [{width: 1220, height: 2440, count: 10000}]}\n"
BIG = "  p:\n    stock: board\n    width: 2400\n    height: 1200\n"


def filled(size, head, entry, foot=""):
    """Text of about a size: entries by their number between a head and a foot."""
    made, total, number = [head], len(head) + len(foot), 0
    while True:
        text = entry(number)
        total += len(text)
        if total > size:
            return "".join(made) + foot
        made.append(text)
        number += 1


def grown(size):
    """Plans of about a size, by name."""
    part = HEAD + "parts:\n" + BIG + "    features:\n"
    yield "rows of 10,000 holes", filled(size, part, lambda i: f"      - hole_row: {{first: [1, {i % 1190 + 1}], step: [0.2, 0], count: 10000, diameter: 0.1, depth: 1}}\n")
    yield "grids of 100 by 100 holes", filled(size, part, lambda i: "      - hole_row: {first: [9, 9], step: [20, 0], count: 100, diameter: 3, depth: 1, rows: {count: 100, step: [0, 11]}}\n")
    yield "notches side by side", filled(size, part, lambda i: f"      - notch: {{edge: bottom, start: {(i * 0.7) % 2380 + 0.3:.2f}, width: 0.5, depth: 3}}\n")
    yield "notches on one another", filled(size, part, lambda i: f"      - notch: {{edge: bottom, start: {(i * 0.37) % 2300 + 9:.2f}, width: 9, depth: {1 + i % 90}}}\n")
    yield "cutouts in one another", filled(size, part, lambda i: f"      - cutout: {{centre: [1200, 600], diameter: {1 + i * 0.05:.2f}}}\n")
    yield "cutouts side by side", filled(size, part, lambda i: f"      - cutout: {{at: [{(i % 1000) * 2.3 + 9:.2f}, {i // 1000 * 2.3 + 9:.2f}], width: 2, height: 2}}\n")
    yield "holes in one place", filled(size, part, lambda i: "      - hole: {at: [50, 50], diameter: 5, depth: 3}\n")
    yield "holes on a grid", filled(size, part, lambda i: f"      - hole: {{at: [{(i % 235) * 10 + 20}, {(i // 235 * 10) % 1160 + 20}], diameter: 5, depth: 3}}\n")
    yield "grooves across one another", filled(size, part, lambda i: f"      - groove: {{along: width, from: {{bottom: {i % 1100 + 9}}}, width: 6, depth: 5}}\n      - groove: {{along: height, from: {{left: {i % 2300 + 9}}}, width: 6, depth: 5}}\n")
    yield "bevels", filled(size, part, lambda i: "      - bevel: {edge: top, angle: 30}\n")
    yield "outline of points", filled(size, part + "      - outline:\n          points:\n            - [0, 0]\n            - [2400, 0]\n            - [2400, 1200]\n            - [0, 1200]\n", lambda i: f"            - [{i % 2 + 1}, {1199 - i * 0.01:.2f}]\n")
    yield "marks", filled(size, part, lambda i: "      - mark: {text: here, at: [300, 300]}\n")
    few = lambda i: f"  p{i}: {{stock: board, width: 300, height: 200"
    yield "parts", filled(size, HEAD + "parts:\n", lambda i: few(i) + "}\n")
    yield "parts of 10,000 pieces", filled(size, HEAD + "parts:\n", lambda i: few(i) + ", count: 10000}\n")
    yield "parts in one place", filled(size, HEAD + "parts:\n", lambda i: few(i) + ", place: {at: [0, 0, 0], width: right, height: up}}\n")
    yield "handed pairs with wide outlines", filled(size, HEAD + "parts:\n", lambda i: few(i) + f", mirror_as: q{i}, features: [pin_rows: {{rows: {{left: 37}}, first: 9, step: 0.01, count: 10000, diameter: 5, depth: 3}}]}}\n")
    two = "parts:\n  a: {stock: board, width: 300, height: 200, place: {at: [0, 0, 0], width: right, height: up}}\n  b: {stock: board, width: 300, height: 200, place: {at: [0, 0, 18], width: right, height: up}}\njoints:\n"
    yield "joints of the same two parts", filled(size, HEAD + two, lambda i: "  - butt: {part: a, to: b, with: screws}\n")
    yield "joints with other screws", filled(size, HEAD + two, lambda i: f"  - butt: {{part: a, to: b, with: screws, at: [{i % 199 + 0.5}], pilot: {2 + i % 977 / 1000}}}\n")
    many = ", ".join(f"{{at: [{i * 40}, 0, 0], width: back, height: up}}" for i in range(2000))
    yield "joints of many pieces", filled(max(size, 200_000), HEAD + f"parts:\n  a: {{stock: board, width: 300, height: 200, count: 2000, place: [{many}]}}\n  b: {{stock: board, width: 300, height: 200, count: 2000, place: [{many}]}}\njoints:\n", lambda i: "  - butt: {part: a, to: b, with: screws}\n")
    builds = HEAD + "builds:\n"
    yield "trays of 100 by 100", filled(size, builds, lambda i: f"  t{i}: {{divider_tray: {{stock: board, width: 9000, depth: 9000, height: 80, columns: 100, rows: 100}}}}\n")
    yield "trays of 3 by 3", filled(size, builds, lambda i: f"  t{i}: {{divider_tray: {{stock: board, width: 400, depth: 300, height: 80, columns: 3, rows: 3}}}}\n")
    yield "brackets", filled(size, builds, lambda i: f"  b{i}: {{bracket: {{stock: board, width: 40, upright: 300, arm: 200, step: 0.1, count: 10000}}}}\n")
    yield "racks", filled(size, builds, lambda i: f"  r{i}: {{rack: {{stock: board, length: 9999, width: 80, end: 1, diameter: 0.1, count: 4000}}}}\n")
    carcass = "stock: board, width: 800, height: 900, depth: 400"
    yield "carcasses", filled(size, builds, lambda i: f"  c{i}: {{carcass: {{{carcass}}}}}\n")
    yield "carcass of dividers", filled(size, builds + f"  c:\n    carcass:\n      stock: board\n      width: 800\n      height: 900\n      depth: 400\n      dividers:\n", lambda i: f"        - {{name: d{i}, count: 10000}}\n")
    yield "carcass of shelves", filled(size, builds + f"  c:\n    carcass:\n      stock: board\n      width: 800\n      height: 900\n      depth: 400\n      shelves:\n", lambda i: f"        - {{name: s{i}, up: {100 + i % 700}}}\n")
    yield "carcass of loose shelves", filled(size, builds + f"  c:\n    carcass:\n      stock: board\n      width: 800\n      height: 900\n      depth: 400\n      loose_shelves:\n", lambda i: f"        - {{name: s{i}, count: 10000, pins: 10000, step: 0.01}}\n")
    yield "doors of 10,000 hinges", filled(size, builds + f"  c: {{carcass: {{{carcass}}}}}\n", lambda i: f"  d{i}: {{door: {{stock: board, in: c, edge_gap: 5, hinges: 10000}}}}\n")
    yield "drawers", filled(size, builds + f"  c: {{carcass: {{{carcass}}}}}\n", lambda i: f"  d{i}: {{drawer: {{stock: board, in: c, count: 10000}}}}\n")
    yield "values in a chain", filled(size, HEAD.replace("stock:", "values:\n  v0: 1\nstock:").split("stock:")[0], lambda i: f"  v{i + 1}: v{i} + 1\n", "stock:\n  board: {thickness: 18}\nparts:\n  p: {stock: board, width: 9, height: 9}\n")
    yield "stock", filled(size, HEAD, lambda i: f"  s{i}: {{thickness: 18, sheets: [{{width: 1220, height: 2440, count: 10000}}]}}\n", "parts:\n  p: {stock: board, width: 9, height: 9}\n")
    yield "sheets of a stock", filled(size, HEAD.split("sheets:")[0] + "sheets: [", lambda i: "{width: 9, height: 9, count: 10000},\n", "{width: 9, height: 9}]}\nparts:\n  p: {stock: board, width: 300, height: 300, count: 10000}\n")
    yield "unknown keys", filled(size, HEAD + "parts:\n" + BIG, lambda i: f"    key{i}: 1\n")
    yield "unknown parts in joints", filled(size, HEAD + "parts:\n" + BIG + "joints:\n", lambda i: f"  - butt: {{part: x{i}, to: y{i}}}\n")
    yield "unknown stock", filled(size, HEAD + "parts:\n", lambda i: f"  p{i}: {{stock: bord{i}, width: 300, height: 200}}\n")
    yield "usage", filled(size, HEAD + "parts:\n" + BIG + "usage:\n", lambda i: "  - shelf: {part: p, span: 900, load: 20}\n")
    yield "order", filled(size, HEAD + "parts:\n" + BIG + "order:\n", lambda i: "  - p\n")
    yield "aliases", filled(size, HEAD + "parts:\n" + BIG + "    features:\n      - &a\n        hole_row: {first: [1, 1], step: [0.2, 0], count: 10000, diameter: 0.1, depth: 1}\n", lambda i: "      - *a\n")
    yield "fittings", filled(size, HEAD + "parts:\n" + BIG + "    fittings:\n", lambda i: "      - {kind: screw, count: 10000, length: 20, size: \"4\"}\n")


def measured(words, folder):
    """How a child ended, and what it said."""
    def limited():
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        os.setsid()

    with open(folder / "said", "wb") as said:
        child = subprocess.Popen(words, cwd=folder, stdout=said, stderr=said, preexec_fn=limited)
        try:
            child.wait(timeout=STOPPED_AFTER)
        except subprocess.TimeoutExpired:
            os.killpg(child.pid, signal.SIGKILL)
            child.wait()
    said = (folder / "said").read_bytes()
    return child.returncode, said.decode("utf-8", "replace")


def run(program, text, command):
    """How a run ended, its seconds, its greatest memory in MB and what it said; in a process of its own, whose children it alone is."""
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        (folder / "plan.yaml").write_text(text, encoding="utf-8")
        words = [program, command, "plan.yaml"] + (["--out", "out", "--quiet"] if command == "export" else [])
        reader, writer = os.pipe()
        child = os.fork()
        if child == 0:
            code, said = measured(words, folder)
            used = resource.getrusage(resource.RUSAGE_CHILDREN)
            memory, took = used.ru_maxrss / 1024, used.ru_utime + used.ru_stime
            os.write(writer, json.dumps([code, took, memory, said[:300]]).encode())
            os._exit(0)
        os.close(writer)
        with os.fdopen(reader, "rb") as answer:
            result = json.loads(answer.read())
        os.waitpid(child, 0)
        return result


def cases(program, skip_numbers, large):
    """Name, text and command of each run, small plans first and one at a time: a child counts as its own what this script has in memory when it begins."""
    if not skip_numbers:
        for name, text in numbers(program):
            yield name, text, "export"
    for size in (2_000, 1_000_000) + ((8_000_000,) if large else ()):
        for name, text in grown(size):
            for command in ["check", "export"] if size <= 1_000_000 else ["check"]:
                yield f"{name}, {len(text):,} bytes", text, command


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("program")
    arguments.add_argument("--only", default="")
    arguments.add_argument("--large", action="store_true")
    arguments.add_argument("--skip-numbers", action="store_true")
    arguments = arguments.parse_args()
    program = str(Path(arguments.program).resolve())
    rows, missed = [], 0
    for name, text, command in cases(program, arguments.skip_numbers, arguments.large):
        if arguments.only not in name:
            continue
        code, took, memory, said = run(program, text, command)
        seconds, megabytes = SMALL if len(text) <= 1_000_000 else LARGE
        wrong = code not in (0, 1) or took > seconds or memory > megabytes or "panicked" in said
        missed += wrong
        rows.append((took, memory, code, command, name))
        if wrong:
            print(f"MISSED {command} {name}: ends with {code}, {took:.2f} s, {memory:.0f} MB: {said[:120]!r}", flush=True)
    for what, column in (("seconds", 0), ("memory", 1)):
        print(f"\n{len(rows)} runs; those that took most by {what}:")
        for took, memory, code, command, name in sorted(rows, key=lambda row: -row[column])[:MOST_SHOWN]:
            print(f"{took:7.2f} s {memory:6.0f} MB  ends with {code}  {command} {name}")
    print(f"\n{missed} missed their limits")
    return 1 if missed else 0


sys.exit(main())
