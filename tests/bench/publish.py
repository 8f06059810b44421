#!/usr/bin/env python3
"""Measures the publishing of a library and prints the table that DEVELOPERS.md holds.

    cargo build --release -p jigless && cargo build -p jigless-tests --example make_library
    tests/bench/publish.py PROGRAM [--maker PATH] [--plans 1000] [--folder FOLDER]

One library of known seed is published with nothing there, then with nothing changed, then with one plan changed. Seconds
of CPU are user plus system time of the process, memory is the greatest it had. Needs nothing but Python.
"""

import argparse
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def run(command):
    """Wall clock and CPU in seconds, and greatest memory in MB, of one process."""
    start = time.perf_counter()
    process = subprocess.Popen([str(word) for word in command], stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    if status != 0:
        sys.exit(f"{command} ended with {status}")
    return time.perf_counter() - start, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def size(folder):
    """How many files a folder holds, and how many MB."""
    files = [path for path in Path(folder).rglob("*") if path.is_file()]
    return len(files), sum(path.stat().st_size for path in files) / 1e6


def row(what, measured):
    wall, cpu, memory = measured
    print(f"| {what} | {wall:.1f} s | {cpu:.1f} s | {memory:.0f} MB |", flush=True)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program", type=Path)
    parser.add_argument("--maker", type=Path, default=ROOT / "target/debug/examples/make_library")
    parser.add_argument("--plans", type=int, default=1000)
    parser.add_argument("--folder", type=Path, default=Path("/dev/shm/jigless-publish"))
    args = parser.parse_args()
    shutil.rmtree(args.folder, ignore_errors=True)
    args.folder.mkdir(parents=True)
    library, site = args.folder / "library", args.folder / "site"
    run([args.maker, args.plans, library])
    publish = [args.program, "publish", library, "--out", site]
    print(f"load at the start {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    print(f"| {args.plans} plans | clock | CPU | memory |\n|---|---|---|---|")
    row("with nothing there", run(publish))
    files, megabytes = size(site)
    row("with nothing changed", run(publish))
    changed = next(library.rglob("plan.yaml"))
    changed.write_text(changed.read_text().replace('revision: "1"', 'revision: "2"'))
    row("with one plan changed", run(publish))
    index = (site / "index.html").stat().st_size / 1e6
    print(f"\n{files} files, {megabytes:.0f} MB, {megabytes / args.plans:.2f} MB a plan; the index has {index:.2f} MB")
    shutil.rmtree(args.folder)


if __name__ == "__main__":
    main()
