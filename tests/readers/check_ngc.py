"""Reads programs with pygcode, and sweeps their tools with shapely.

check_ngc.py measure FILE...      a line of JSON for each program: extents of all cuts and their length, in millimetres
check_ngc.py pieces FILE W H T    what is left of a sheet of that size below the depth T: a box and an area for each piece;
                                  the depths at which areas are cleared; reads nothing but the program
"""

import json
import math
import re
import sys

from pygcode import Line, Machine

INCH = 25.4


def moves(path):
    """(tool, motion, from, to, centre) of every motion, in millimetres, motion as 0 to 3."""
    machine = Machine()
    scale, motion, known, tool = 1.0, None, set(), None
    for text in open(path, encoding="ascii"):
        line = Line(text.strip())
        words = [str(code) for code in line.block.gcodes]
        before = machine.pos.values
        machine.process_block(line.block)
        after = machine.pos.values
        offsets = {}
        for code in line.block.gcodes:
            number = str(code).split()[0]
            if number == "G20":
                scale = INCH
            if number == "G21":
                scale = 1.0
            if re.fullmatch(r"T\d+", number):
                tool = int(number[1:])
            if number in ("G00", "G01", "G02", "G03"):
                motion = int(number[1:])
                offsets.update({k: w.value for k, w in code.params.items() if k in "IJ"})
                known.update(k for k in code.params if k in "XYZ")
        for word in line.block.modal_params:
            if word.letter in "IJ":
                offsets[word.letter] = word.value
            if word.letter in "XYZ":
                known.add(word.letter)
        changed = [axis for axis in "XYZ" if abs(after[axis] - before[axis]) > 1e-12]
        if motion is None or not (changed or offsets):
            continue
        a = [before[axis] * scale for axis in "XYZ"]
        b = [after[axis] * scale for axis in "XYZ"]
        centre = None
        if motion >= 2:
            centre = (a[0] + offsets.get("I", 0.0) * scale, a[1] + offsets.get("J", 0.0) * scale)
        yield tool, motion, a, b, centre


def turn(a, b, centre, clockwise):
    start = math.atan2(a[1] - centre[1], a[0] - centre[0])
    end = math.atan2(b[1] - centre[1], b[0] - centre[0])
    sweep = (start - end if clockwise else end - start) % math.tau
    if sweep < 1e-12:
        sweep = math.tau
    return start, -sweep if clockwise else sweep


def points(motion, a, b, centre, step=0.02):
    """Points along a motion; those of an arc within about a thousandth of a millimetre of it."""
    if motion < 2:
        return [(a[0], a[1]), (b[0], b[1])]
    start, sweep = turn(a, b, centre, motion == 2)
    radius = math.hypot(a[0] - centre[0], a[1] - centre[1])
    count = max(2, math.ceil(abs(sweep) / step))
    at = lambda s: (centre[0] + radius * math.cos(s), centre[1] + radius * math.sin(s))
    return [at(start + sweep * n / count) for n in range(count + 1)]


def measure(path):
    low, high, length = [math.inf] * 3, [-math.inf] * 3, 0.0
    for _, motion, a, b, centre in moves(path):
        if motion == 0:
            continue
        flat = math.hypot(b[0] - a[0], b[1] - a[1])
        ends = [a, b]
        if motion >= 2:
            start, sweep = turn(a, b, centre, motion == 2)
            radius = math.hypot(a[0] - centre[0], a[1] - centre[1])
            flat = radius * abs(sweep)
            for quarter in range(4):
                angle = quarter * math.pi / 2
                way = (angle - start) % math.tau if sweep > 0 else (start - angle) % math.tau
                if way <= abs(sweep):
                    ends.append([centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle), a[2]])
        length += math.hypot(flat, b[2] - a[2])
        for end in ends:
            low = [min(x, y) for x, y in zip(low, end)]
            high = [max(x, y) for x, y in zip(high, end)]
    return {"file": path, "low": low, "high": high, "length": length}


def tools(path):
    """Diameters by number, from the comments of the program itself."""
    found = {}
    for text in open(path, encoding="ascii"):
        match = re.match(r"\(T(\d+): (\w+) of ([\d.]+) (mm|in)", text)
        if match:
            size = float(match[3]) * (INCH if match[4] == "in" else 1.0)
            found[int(match[1])] = (match[2], size)
    return found


def pieces(path, width, height, depth):
    from shapely import LineString, Point, box, unary_union

    known, swept, floors = tools(path), [], set()
    for tool, motion, a, b, centre in moves(path):
        if motion == 0 or min(a[2], b[2]) >= 0:
            continue
        kind, diameter = known[tool]
        if abs(a[2] - b[2]) < 1e-9 and math.hypot(a[0] - b[0], a[1] - b[1]) > 0.5:
            floors.add(round(-b[2], 3))
        if kind == "countersink":
            continue
        # Of a motion that goes down, what lies below the depth.
        if max(a[2], b[2]) > -depth:
            if min(a[2], b[2]) > -depth or motion >= 2:
                continue
            share = (-depth - a[2]) / (b[2] - a[2])
            cross = [a[k] + (b[k] - a[k]) * share for k in range(3)]
            a, b = (cross, b) if b[2] < a[2] else (a, cross)
        line = points(motion, a, b, centre)
        if math.dist(line[0], line[-1]) < 1e-9 and motion < 2:
            swept.append(Point(line[0]).buffer(diameter / 2, quad_segs=64))
        else:
            swept.append(LineString(line).buffer(diameter / 2, quad_segs=64))
    rest = box(0, 0, width, height).difference(unary_union(swept))
    parts = rest.geoms if hasattr(rest, "geoms") else [rest]
    return {
        "file": path,
        "floors": sorted(floors),
        "pieces": [
            {"box": [b - a for a, b in zip(p.bounds[:2], p.bounds[2:])], "area": p.area, "holes": len(p.interiors)}
            for p in parts
        ],
    }


def main(command, *rest):
    if command == "measure":
        for name in rest:
            print(json.dumps(measure(name)), flush=True)
    else:
        print(json.dumps(pieces(rest[0], *map(float, rest[1:4]))), flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
