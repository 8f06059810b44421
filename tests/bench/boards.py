#!/usr/bin/env python3
"""How many boards layouts take, next to the best known numbers, and whether each can be cut.

    tests/bench/boards.py [FOLDER] [-v]

FOLDER holds the open instances as ../shared/layout does (its README says where they are from); without it nothing is
measured, and this says so. It builds and runs the example `cut_boards` of jigless-layout, and lays the pieces down again
by itself. Seconds are those of the layout alone, in one thread.
"""
import argparse
import collections
import json
import os
import subprocess
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", nargs="?", default=os.path.join(ROOT, "../shared/layout"))
    parser.add_argument("--least", type=float, default=0.98, help="share of the instances that must be at their best known number")
    parser.add_argument("-v", "--verbose", action="store_true")
    args = parser.parse_args()
    path = os.path.join(args.folder, "data", "boards-1d.json")
    if not os.path.exists(path):
        print("no instances: %s is not there, so nothing is measured" % path)
        return 0
    subprocess.run(["cargo", "build", "-q", "--release", "-p", "jigless-layout", "--example", "cut_boards"], cwd=ROOT, check=True)
    program = os.path.join(ROOT, "target/release/examples/cut_boards")
    instances = json.load(open(path))
    run = subprocess.run([program, path], capture_output=True, text=True, check=True)
    at_best = proved = wrong = boards = best = 0
    seconds = []
    for line in run.stdout.splitlines():
        answer = json.loads(line)
        instance = instances[answer["name"]]
        pieces = collections.Counter(kind for board in answer["boards"] for kind in board["pieces"])
        lengths = [round(sum(instance["items"][kind] for kind in board["pieces"]), 6) for board in answer["boards"]]
        fault = len(pieces) != len(instance["items"]) or max(pieces.values()) > 1 or max(lengths) > instance["length"]
        count = len(answer["boards"])
        wrong += fault
        boards += count
        known = instance["best"] or answer["bound"]
        best += known
        at_best += count <= known
        proved += answer["proved"]
        seconds.append(answer["seconds"])
        if args.verbose or fault:
            print("%s: %d boards, bound %d, best known %d, %.2f s%s" % (answer["name"], count, answer["bound"], known, answer["seconds"], ", FAULT" if fault else ""))
    total = len(seconds)
    print("%d instances: %d boards, best known %d; %d at the best known number, %d proved, %d with faults; %.1f s, slowest %.2f s"
          % (total, boards, best, at_best, proved, wrong, sum(seconds), max(seconds)))
    return 1 if wrong or at_best < args.least * total else 0


if __name__ == "__main__":
    sys.exit(main())
