#!/usr/bin/env python3
"""Measures a batch export and prints the table that DEVELOPERS.md holds.

    python3 -m venv venv && venv/bin/pip install ezdxf svgwrite reportlab pdfplumber svgelements
    cargo build --profile dist -p jigless && cargo build --profile dist -p jigless-tests --example make_library
    venv/bin/python tests/bench/measure.py [--plans 1000] [--most 10000] [--peer 20] [--folder /dev/shm/jigless]

Everything is done in one run on one library of known seed: Jigless with one thread, the script `peer.py` on the first
plans of it, a plain copy of what Jigless wrote, a second run with nothing changed, two threads, and libraries of other
sizes. CPU is user plus system time of the process; the wall clock is printed, but where other work runs on the machine
only CPU says much. The default folder is in memory, so that no disk is measured.
"""

import argparse
import hashlib
import os
import resource
import shutil
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HERE = Path(__file__).resolve().parent


# Named, since those for a laser do not suit the plans of the library.
ALL = [
    "--to",
    "dxf-cnc,dxf-laser,svg-laser,svg-drilling,pdf-template,"
    "cutting-list-csv,cutting-list-json,hardware-csv,buying-list-csv",
]
# What the script writes too: its templates are whole faces over pages to tape together.
SAME = ["--to", "dxf-cnc,dxf-laser,svg-drilling,pdf-template", "--set", "pdf-template.scope=face"]


def run(command, **more):
    """Wall clock, CPU in seconds, and greatest memory in MB of one process."""
    start = time.perf_counter()
    process = subprocess.Popen([str(word) for word in command], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **more)
    _, status, usage = os.wait4(process.pid, 0)
    if status != 0:
        sys.exit(f"{command} ended with {status}")
    return time.perf_counter() - start, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def copy_and_hash(source, target):
    """What any program must do to write these bytes and know them again: read, SHA-256, write; no fsync."""
    for folder, _, names in os.walk(source):
        to = os.path.join(target, os.path.relpath(folder, source))
        os.makedirs(to, exist_ok=True)
        for name in names:
            with open(os.path.join(folder, name), "rb") as file:
                content = file.read()
            hashlib.sha256(content).hexdigest()
            with open(os.path.join(to, name), "wb") as file:
                file.write(content)


def size(folder):
    files = [path for path in Path(folder).rglob("*") if path.is_file()]
    return len(files), sum(path.stat().st_size for path in files) / 1e6


def best(times, command, ready=lambda: None):
    """The least CPU of some runs: what disturbs a run only ever adds to it."""
    runs = []
    for _ in range(times):
        ready()
        runs.append(run(command))
    return min(runs, key=lambda r: r[1])


def least_time(command, runs=300):
    """The least wall clock of many runs, in milliseconds."""
    least = float("inf")
    for _ in range(runs):
        start = time.perf_counter()
        subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
        least = min(least, time.perf_counter() - start)
    return least * 1000


def row(what, value):
    print(f"| {what} | {value} |", flush=True)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--plans", type=int, default=1000)
    parser.add_argument("--most", type=int, default=10000)
    parser.add_argument("--peer", type=int, default=20)
    parser.add_argument("--folder", type=Path, default=Path("/dev/shm/jigless"))
    parser.add_argument("--jigless", type=Path, default=ROOT / "target/dist/jigless")
    parser.add_argument("--maker", type=Path, default=ROOT / "target/dist/examples/make_library")
    args = parser.parse_args()
    place = args.folder
    shutil.rmtree(place, ignore_errors=True)
    place.mkdir(parents=True)
    lib, out, geometry = place / "lib", place / "out", place / "geometry.jsonl"

    def export(library, target, jobs=1, formats=ALL):
        return [args.jigless, "export", library, *formats, "--out", target, "--jobs", jobs, "--quiet"]

    def clear(folder=out):
        shutil.rmtree(folder, ignore_errors=True)

    load = os.getloadavg()[0]
    print(f"load at the start {load:.1f} on {os.cpu_count()} cores; {args.jigless}")
    print("| what | measured |\n|---|---|")
    run([args.maker, args.plans, lib, "--geometry", geometry])
    wall, cpu, memory = run(export(lib, out))
    files, megabytes = size(out)
    row(f"{args.plans} plans of 12 parts, all formats, 1 thread", f"{cpu:.1f} s CPU, {wall:.1f} s, {memory:.0f} MB of memory")
    row("files and bytes", f"{files}, {megabytes:.0f} MB")
    ours = cpu / args.plans * 1000
    row("a plan", f"{ours:.1f} ms CPU")

    again = best(3, export(lib, out))
    row("a second run with nothing changed", f"{again[1]:.2f} s CPU, {100 * again[1] / cpu:.1f} % of the first")

    copy_start = resource.getrusage(resource.RUSAGE_SELF)
    copy_and_hash(out, place / "copy")
    copy_end = resource.getrusage(resource.RUSAGE_SELF)
    copied = copy_end.ru_utime + copy_end.ru_stime - copy_start.ru_utime - copy_start.ru_stime
    row("a plain copy of the same files with SHA-256", f"{copied:.2f} s CPU; the export takes {cpu / copied:.1f} times that")
    clear(place / "copy")

    some = place / "some.jsonl"
    with open(geometry, encoding="utf-8") as file, open(some, "w", encoding="utf-8") as head:
        for _, line in zip(range(args.peer), file):
            head.write(line)
    one = place / "one.jsonl"
    one.write_text(some.read_text().splitlines(keepends=True)[0])
    start_up = run([sys.executable, HERE / "peer.py", one, place / "peer"])[1]
    peer = run([sys.executable, HERE / "peer.py", some, place / "peer"])[1]
    theirs = (peer - start_up) / (args.peer - 1) * 1000
    clear()
    cpu = run(export(lib, out, formats=SAME))[1]
    same = cpu / args.plans * 1000
    subprocess.run([sys.executable, HERE / "peer.py", one, place / "peer", "--check", out], check=True, stdout=subprocess.DEVNULL)
    row("the four formats that the script writes, a plan", f"{same:.1f} ms CPU")
    row(f"the script, a plan (without its start-up, over {args.peer} plans)", f"{theirs:.0f} ms CPU; {theirs / same:.1f} times that of Jigless")
    clear(place / "peer")

    clear()
    wall1 = run(export(lib, out))[0]
    clear()
    wall2, cpu2, _ = run(export(lib, out, 2))
    row("2 threads", f"{wall2:.1f} s for {wall1:.1f} s with 1: {wall1 / wall2:.2f} times; {cpu2:.1f} s CPU; load {os.getloadavg()[0]:.1f}")
    clear()

    sizes = [n for n in (100, 300, 1000, 3000, 10000) if n <= args.most]
    for number in sizes:
        library = place / f"lib{number}"
        run([args.maker, number, library])
        _, cpu, memory = run(export(library, out, 2))
        row(f"{number} plans, 2 threads", f"{cpu:.1f} s CPU, {1000 * cpu / number:.1f} ms a plan, {memory:.0f} MB of memory")
        clear()
        clear(library)

    hello = place / "hello"
    (place / "hello.rs").write_text('fn main() { println!("hello"); }\n')
    subprocess.run(["rustc", "-O", "-o", hello, place / "hello.rs"], check=True)
    least, ours = least_time([hello]), least_time([args.jigless, "--version"])
    row("`jigless --version`, the least of 300 runs", f"{ours:.2f} ms; a program that says hello takes {least:.2f}: {ours / least:.2f} times")
    row("the program", f"{args.jigless.stat().st_size / 1e6:.1f} MB")
    shutil.rmtree(place)


main()
