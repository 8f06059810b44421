#!/usr/bin/env python3
"""How densely outlines are laid out, next to published results, and whether each layout is sound.

    tests/bench/outlines.py [FOLDER] [--set strips|sheets|rectangles-O|rectangles-R] [--sample N] [--effort quick,good,best] [--only NAMES] [--spacing MM]
                            [--limit N] [--pictures FOLDER] [--program NEST_OUTLINES] [-v]

FOLDER holds the open sets as ../shared/layout does (its README says where they are from); without it nothing is
measured, and this says so. It builds and runs the example `nest_outlines` of jigless-layout. A strip is a sheet three
times as long as the record, 1000 mm across, and its length is where the last piece ends. Rectangles are those of
sheets.py, which may not be turned (O) or may (R), with cuts as a router makes them. Soundness is looked at with
shapely, which must be installed: every piece there, in the sheet, turned as it may be, and no two of them overlapping.
One thread; seconds of the clock are those of the layout alone.
"""
import argparse
import csv
import json
import os
import resource
import subprocess
import sys
import tempfile

from shapely.affinity import rotate, translate
from shapely.geometry import Polygon
from shapely.strtree import STRtree

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
# What two pieces may overlap by, as a share of a millimetre times the length of their border, and reach over an edge.
NOISE = 0.002


def strips(data):
    best = {row["instance"]: row for row in csv.DictReader(open(os.path.join(data, "nesting-strips-best.csv")))}
    for name, strip in json.load(open(os.path.join(data, "nesting-strips.json"))).items():
        scale = 1000 / strip["height"]
        items = []
        for item in strip["items"]:
            # The strip runs upward: a quarter to the left.
            ring = [[-y * scale, x * scale] for x, y in item["points"]]
            # One set may not be turned; half a turn is what a plan with a grain allows.
            items.append({"rings": [ring], "turns": [0, 1, 2, 3] if len(item["turns"]) == 4 else [0, 2], "count": item["count"]})
        yield name, {"W": 1000, "H": float(best[name]["best_length"]) * 3 * scale, "items": items}, float(best[name]["best_density_percent"])


def sheets(data):
    for name, problem in json.load(open(os.path.join(data, "nesting-sheets.json"))).items():
        items = [{"rings": [ring], "turns": [0, 1, 2, 3], "count": 1} for ring in problem["pieces"]]
        yield name, {"W": problem["W"], "H": problem["H"], "items": items}, problem["best"]


def rectangles(turning):
    def problems(data):
        best = {row["instance"]: row for row in csv.DictReader(open(os.path.join(data, "classes-2d-best.csv")))}
        for name, problem in json.load(open(os.path.join(data, "classes-2d.json"))).items():
            turns = [0, 1, 2, 3] if turning == "R" else [0, 2]
            items = [{"rings": [[[0, 0], [w, 0], [w, h], [0, h]]], "turns": turns, "count": count} for w, h, count in problem["items"]]
            yield name, {"W": problem["W"], "H": problem["H"], "items": items}, int(best[name]["best_%s_free" % turning])
    return problems


SETS = {"strips": strips, "sheets": sheets, "rectangles-O": rectangles("O"), "rectangles-R": rectangles("R")}


def placed(problem, answer):
    """Each sheet as polygons, and what is wrong."""
    faults, counts, laid = [], [0] * len(problem["items"]), []
    for sheet in answer["sheets"]:
        polygons = []
        for kind, quarters, x, y in sheet:
            item = problem["items"][kind]
            counts[kind] += 1
            if quarters not in item["turns"]:
                faults.append("piece %d is turned by %d" % (kind, quarters))
            shape = Polygon(item["rings"][0], item["rings"][1:]).buffer(0)
            shape = translate(rotate(shape, 90 * quarters, origin=(0, 0)), x, y)
            left, low, right, high = shape.bounds
            if min(left, low) < -NOISE or right > problem["W"] + NOISE or high > problem["H"] + NOISE:
                faults.append("piece %d over the edge" % kind)
            polygons.append(shape)
        tree = STRtree(polygons)
        for i, shape in enumerate(polygons):
            for j in tree.query(shape.buffer(problem["spacing"])):
                other = polygons[j]
                if j <= i:
                    continue
                if shape.intersection(other).area > NOISE * min(shape.length, other.length):
                    faults.append("pieces %d and %d overlap by %.4f mm2" % (i, j, shape.intersection(other).area))
                elif problem["spacing"] and shape.distance(other) < problem["spacing"] - NOISE:
                    faults.append("pieces %d and %d are %.4f apart" % (i, j, shape.distance(other)))
        laid.append(polygons)
    for kind, item in enumerate(problem["items"]):
        if counts[kind] != item["count"]:
            faults.append("piece %d: %d of %d" % (kind, counts[kind], item["count"]))
    return laid, faults


def picture(path, problem, laid):
    """The sheets beside one another as SVG."""
    width, height = problem["W"], problem["H"]
    with open(path, "w") as out:
        out.write('<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="600" viewBox="0 0 %g %g">' % (
            600 * len(laid) * width / height + 1, len(laid) * width * 1.05, height))
        for number, polygons in enumerate(laid):
            out.write('<g transform="translate(%g %g) scale(1 -1)"><rect width="%g" height="%g" fill="#eee"/>' % (number * width * 1.05, height, width, height))
            for shape in polygons:
                rings = [shape.exterior, *shape.interiors] if shape.geom_type == "Polygon" else [s.exterior for s in shape.geoms]
                d = " ".join("M" + " L".join("%.3f %.3f" % p for p in ring.coords) + "Z" for ring in rings)
                out.write('<path d="%s" fill="#9bc" fill-rule="evenodd" stroke="#000" stroke-width="%g"/>' % (d, width / 500))
            out.write("</g>")
        out.write("</svg>")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", nargs="?", default=os.path.join(ROOT, "../shared/layout"))
    parser.add_argument("--set", choices=SETS, default="strips")
    parser.add_argument("--sample", type=int, default=1, help="every so-manieth problem")
    parser.add_argument("--effort", default="good")
    parser.add_argument("--only")
    parser.add_argument("--spacing", type=float, default=0)
    parser.add_argument("--limit", type=float, help="least mean density in per cent, or most sheets")
    parser.add_argument("--pictures")
    parser.add_argument("--program", help="the example `nest_outlines` where it is built already")
    parser.add_argument("-v", "--verbose", action="store_true")
    args = parser.parse_args()
    data = os.path.join(args.folder, "data")
    if not os.path.isdir(data):
        print("no sets: %s is not there, so nothing is measured" % data)
        return 0
    program = args.program
    if program is None:
        build = ["cargo", "build", "-q", "--release", "-p", "jigless-layout", "--example", "nest_outlines"]
        subprocess.run(build, cwd=ROOT, check=True)
        program = os.path.join(ROOT, "target/release/examples/nest_outlines")
    problems, known = {}, {}
    for number, (name, problem, best) in enumerate(SETS[args.set](data)):
        if (name in args.only.split(",") if args.only else number % args.sample == 0):
            problems[name], known[name] = problem | {"spacing": args.spacing}, best
    missed = False
    for effort in args.effort.split(","):
        results, seconds, wrong = [], [], 0
        with tempfile.NamedTemporaryFile("w", suffix=".json") as chosen:
            json.dump(problems, chosen)
            chosen.flush()
            spent = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
            run = subprocess.Popen([program, chosen.name, effort], stdout=subprocess.PIPE, text=True)
            for line in run.stdout:
                answer = json.loads(line)
                name = answer["name"]
                problem = problems[name]
                laid, faults = placed(problem, answer)
                if faults:
                    wrong += 1
                    print("FAULT", name, faults[:3])
                if args.pictures:
                    picture(os.path.join(args.pictures, name + ".svg"), problem, laid)
                seconds.append(answer["seconds"])
                if args.set == "strips":
                    area = sum(shape.area for polygons in laid for shape in polygons)
                    length = max(shape.bounds[3] for shape in laid[0]) if len(laid) == 1 else float("inf")
                    results.append(100 * area / problem["W"] / length)
                else:
                    results.append(len(laid))
                if args.verbose:
                    print("%-10s %8.2f best known %8.2f %8.2f s" % (name, results[-1], known[name], seconds[-1]), flush=True)
            if run.wait():
                return 1
            usage = resource.getrusage(resource.RUSAGE_CHILDREN)
            cpu = usage.ru_utime - spent
        best = list(known.values())
        if args.set == "strips":
            total = sum(results) / len(results)
            print("%s: mean density %.2f %%, best known %.2f %%; %.1f s of CPU, %.1f s by the clock, slowest %.1f s, %d with faults" % (effort, total, sum(best) / len(best), cpu, sum(seconds), max(seconds), wrong))
            missed |= args.limit is not None and total < args.limit
        else:
            total = sum(results)
            print("%s: %d sheets, best known %d; %.1f s of CPU, %.1f s by the clock, slowest %.1f s, %d with faults" % (effort, total, sum(best), cpu, sum(seconds), max(seconds), wrong))
            missed |= args.limit is not None and total > args.limit
        missed |= wrong > 0
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
