#!/usr/bin/env python3
"""How many sheets layouts by straight cuts take, next to published results, and whether each can be cut.

    tests/bench/sheets.py [FOLDER] [--set classes|orlib|made-up] [--turn O,R,own] [--effort quick,good,best] [--stages N]
                          [--sample N] [--limit-o N] [--limit-r N] [--program LAY_OUT] [-v]

FOLDER holds the open instances as ../shared/layout does (its README says where they are from); without it nothing is
measured, and this says so. It builds and runs the example `lay_out` of jigless-layout (or one that is built already), and follows each cut tree with
a saw of its own: it shares no code with the search. One thread; seconds are those of the clock for the layout alone, and of the CPU for
the whole run.
"""
import argparse
import collections
import csv
import json
import os
import resource
import subprocess
import sys
import tempfile

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
FILES = {"classes": "classes-2d.json", "orlib": "orlib-2d.json", "made-up": "made-up-lists-2d.json", "real": "real-lists-2d.json"}


def cut(node, width, height, kerf, pieces, faults):
    """Cuts a rectangle of a size as its node says, and collects the pieces that fall off."""
    w, h, what = node
    if (w, h) != (width, height):
        faults.append("a rectangle of %d by %d should be %d by %d" % (width, height, w, h))
    if isinstance(what, list):
        pieces.append((what[0], what[1], width, height))
    elif isinstance(what, dict):
        along = what["cut"] == "along"
        left = width if along else height
        for index, part in enumerate(what["parts"]):
            extent = part[0] if along else part[1]
            if index > 0:
                left -= kerf
            if extent > left or extent <= 0:
                faults.append("a part of %d out of %d" % (extent, left))
                return
            left -= extent
            cut(part, extent if along else width, height if along else extent, kerf, pieces, faults)
        if left > kerf:
            faults.append("%d is neither a part nor a kerf" % left)


def turns(node, last=None):
    """How often the direction of cutting changes at most, the first direction counted."""
    what = node[2]
    if not isinstance(what, dict):
        return 0
    return max((turns(part, what["cut"]) for part in what["parts"]), default=0) + (what["cut"] != last)


def faults_of(instance, turning, stages, answer):
    scale, faults, count = 1000, [], collections.Counter()
    kerf = round(instance.get("kerf", 0) * scale)
    for sheet in answer["sheets"]:
        pieces = []
        cut(sheet, instance["W"] * scale, instance["H"] * scale, kerf, pieces, faults)
        if stages and turns(sheet) > stages:
            faults.append("%d stages" % turns(sheet))
        for kind, turned, width, height in pieces:
            count[kind] += 1
            item = instance["items"][kind]
            may = turning == "R" or (turning == "own" and item[3])
            size = (round(item[0] * scale), round(item[1] * scale))
            if turned and not may:
                faults.append("piece %d is turned" % kind)
            if (width, height) != (size[::-1] if turned else size):
                faults.append("piece %d is %d by %d" % (kind, width, height))
    for kind, item in enumerate(instance["items"]):
        if count[kind] != item[2]:
            faults.append("piece %d: %d of %d" % (kind, count[kind], item[2]))
    return faults


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", nargs="?", default=os.path.join(ROOT, "../shared/layout"))
    parser.add_argument("--set", choices=FILES, default="classes")
    parser.add_argument("--turn", default="O,R")
    parser.add_argument("--effort", default="good")
    parser.add_argument("--stages", type=int, default=0)
    parser.add_argument("--sample", type=int, default=1, help="every so-manieth instance")
    parser.add_argument("--limit-o", type=int)
    parser.add_argument("--limit-r", type=int)
    parser.add_argument("--program", help="the example `lay_out` where it is built already")
    parser.add_argument("-v", "--verbose", action="store_true")
    args = parser.parse_args()
    data = os.path.join(args.folder, "data")
    path = os.path.join(data, FILES[args.set])
    if not os.path.exists(path):
        print("no instances: %s is not there, so nothing is measured" % path)
        return 0
    program = args.program
    if program is None:
        build = ["cargo", "build", "-q", "--release", "-p", "jigless-layout", "--example", "lay_out"]
        subprocess.run(build, cwd=ROOT, check=True)
        program = os.path.join(ROOT, "target/release/examples/lay_out")
    instances = json.load(open(path))
    instances = {name: instances[name] for name in list(instances)[:: args.sample]}
    known = {}
    if args.set == "classes":
        known = {row["instance"]: row for row in csv.DictReader(open(os.path.join(data, "classes-2d-best.csv")))}
    missed = False
    with tempfile.NamedTemporaryFile("w", suffix=".json") as chosen:
        json.dump(instances, chosen)
        chosen.flush()
        print("turn effort instances sheets bound best-known(3 stages) proved seconds slowest CPU faults")
        for turning in args.turn.split(","):
            for effort in args.effort.split(","):
                spent = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
                run = subprocess.Popen([program, chosen.name, turning, effort, str(args.stages)], stdout=subprocess.PIPE, text=True)
                sheets = bound = best = proved = wrong = 0
                seconds = []
                for line in run.stdout:
                    answer = json.loads(line)
                    name = answer["name"]
                    faults = faults_of(instances[name], turning, args.stages, answer)
                    if faults:
                        wrong += 1
                        print("FAULT", name, turning, faults[:3])
                    count = len(answer["sheets"])
                    sheets += count
                    bound += answer["bound"]
                    proved += answer["proved"]
                    least = known.get(name, {}).get("best_%s_guillotine3" % turning)
                    best += int(least or 0)
                    seconds.append(answer["seconds"])
                    if args.verbose:
                        print("%s %s %d sheets, bound %d, best known %s, %.3f s" % (name, turning, count, answer["bound"], least, answer["seconds"]), flush=True)
                if run.wait():
                    return 1
                cpu = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - spent
                print("%-4s %-6s %9d %6d %5d %8s %6d %8.1f %7.2f %6.1f %d" % (turning, effort, len(seconds), sheets, bound, best or "-", proved, sum(seconds), max(seconds), cpu, wrong), flush=True)
                limit = {"O": args.limit_o, "R": args.limit_r}.get(turning)
                missed |= wrong > 0 or (limit is not None and sheets > limit)
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
