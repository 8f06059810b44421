#!/usr/bin/env python3
"""Measures what programs for a router cost: program, simulation and job sheet of one plan, by the number of its parts.

    tests/bench/programs.py PROGRAM [COUNT...]    (20, 60, 120, 250 and 500 parts when no counts are given)

The parts are 200 by 150 mm with four holes, a recess, an opening and a notch each, on sheets of 1220 by 2440 mm; 60 of
them are one sheet. Prints seconds by the clock and of the processor and the greatest memory, the best of three runs, and
milliseconds for a part; and how long `simulate` takes for the programs, which proves and draws them. Ends with 1 when 60
parts take 2 s or more by the clock. Meant for a release build.
"""

import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

PROFILE = Path(__file__).resolve().parents[2] / "fixtures/profiles/shop-router.yaml"
RUNS = 3
MOST_SECONDS = 2.0

PLAN = """jigless: 1
title: Measured
units: mm
stock: {{board: {{thickness: 18, kind: plywood, cut_by: router, sheets: [{{width: 1220, height: 2440}}]}}}}
parts:
  panel:
    stock: board
    width: 200
    height: 150
    count: {count}
    features:
      - hole: {{at: [20, 20], diameter: 5, depth: 12}}
      - hole: {{at: [180, 20], diameter: 5, depth: 12}}
      - hole: {{at: [20, 130], diameter: 8, depth: through}}
      - hole: {{at: [180, 130], diameter: 8, depth: through}}
      - recess: {{at: [30, 50], width: 60, height: 50, corner_radius: 8, depth: 6}}
      - cutout: {{centre: [140, 75], diameter: 50}}
      - notch: {{edge: top, start: 80, width: 40, depth: 20}}
"""


def run(words, made=None):
    """Seconds by the clock and of the processor, and MB, of the best of some runs, each without what the last one made."""
    best = None
    for _ in range(RUNS):
        if made:
            shutil.rmtree(made, ignore_errors=True)
        start = time.perf_counter()
        child = subprocess.Popen(words, stdout=subprocess.DEVNULL)
        _, status, used = os.wait4(child.pid, 0)
        took = time.perf_counter() - start
        if status:
            sys.exit(f"{' '.join(map(str, words))} ends with {status}")
        found = (took, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)
        best = min(best or found, found)
    return best


def main():
    program = str(Path(sys.argv[1]).resolve())
    counts = [int(count) for count in sys.argv[2:]] or [20, 60, 120, 250, 500]
    slow = False
    print("parts  programs  lines    clock  processor  memory  a part    simulate")
    for count in counts:
        with tempfile.TemporaryDirectory() as folder:
            plan, out = Path(folder, "measured.yaml"), Path(folder, "out")
            plan.write_text(PLAN.format(count=count), encoding="utf-8")
            options = ["--profile", PROFILE, "--set", "ngc-router.arrange=bed"]
            words = [program, "export", plan, "--quiet", "--force", "--jobs", "2", "--to", "ngc-router", "--out", out, *options]
            took, cpu, memory = run(words, out)
            programs = sorted(out.rglob("*.ngc"))
            lines = sum(file.read_text().count("\n") for file in programs)
            sheets, _, _ = run([program, "simulate", *programs, "--plan", plan, *options])
        slow |= count == 60 and took >= MOST_SECONDS
        print(
            f"{count:5}  {len(programs):8}  {lines:6}  {took:5.2f} s  {cpu:7.2f} s  {memory:3.0f} MB  "
            f"{1000 * took / count:4.1f} ms  {sheets:6.2f} s",
            flush=True,
        )
    return 1 if slow else 0


sys.exit(main())
