"""Sweeps sheets with shapely, from programs and drawings alone, and says what is left of them.

check_sweeps.py FILE...     a line of JSON for each file: its sheet in millimetres, and for each piece that comes free of it
                            the lengths of its box and its area

Of a program (.ngc) tools and sheet are those of its own comments. Of a drawing (.dxf) for a laser a cut is as wide as the
kerf in its notes; in one for a router the largest tool in its notes goes round each outline, and takes from the sheet and
from other parts what it passes over.
"""

import json
import re
import sys

from check_machine import flattened, polygon, polygons, read
from check_ngc import INCH, moves, points, tools
from shapely import LineString, Point, box, unary_union

# Pieces that are smaller than this, in square millimetres, are slivers between ways.
SLIVER = 1.0


def length(words):
    """A length in millimetres: `1220 mm`, `48 in`."""
    number, unit = words.split()
    return float(number) * (INCH if unit == "in" else 1.0)


def lengths(text):
    return [length(found) for found in re.findall(r"[\d.]+ (?:mm|in)\b", text)]


def of_program(path):
    """What the tools take away below the thickest reading less a hair, and the sheet."""
    text = open(path, encoding="ascii").read()
    width, height, thickness = lengths(re.search(r"\(Sheet: (.*)\)", text)[1])[-3:]
    depth, known, swept = thickness - 0.05, tools(path), []
    for tool, motion, a, b, centre in moves(path):
        if motion == 0 or min(a[2], b[2]) > -depth:
            continue
        kind, diameter = known[tool]
        if kind == "countersink":
            continue
        if max(a[2], b[2]) > -depth and motion < 2:
            share = (-depth - a[2]) / (b[2] - a[2])
            cross = [a[k] + (b[k] - a[k]) * share for k in range(3)]
            a, b = (cross, b) if b[2] < a[2] else (a, cross)
        line = points(motion, a, b, centre)
        still = motion < 2 and abs(line[0][0] - line[-1][0]) + abs(line[0][1] - line[-1][1]) < 1e-9
        shape = Point(line[0]) if still else LineString(line)
        swept.append(shape.buffer(diameter / 2, quad_segs=64))
    return (width, height), unary_union(swept)


def texts(path):
    import ezdxf

    return [e.dxf.text for e in ezdxf.readfile(path).modelspace() if e.dxftype() == "TEXT"]


def of_drawing(path):
    """What the cuts of a drawing take away, and the sheet, whose border is on NOTES."""
    said = "\n".join(texts(path))
    lines = read(path)
    size = max(polygons(lines, "NOTES"), key=lambda area: area.area).bounds[2:]
    kerf = re.search(r"^Kerf: ([\d.]+ \w+)", said, re.MULTILINE)
    tool = max((length(found) for found in re.findall(r"contours.*?([\d.]+ (?:mm|in)) tool", said)), default=None)
    taken = []
    for layer, items in lines.items():
        if not layer.startswith(("CUT_", "DRILL_THROUGH")):
            continue
        for vertices, closed in items:
            if kerf:
                taken.append(LineString(flattened(vertices, closed)).buffer(length(kerf[1]) / 2, quad_segs=64))
            elif layer == "CUT_OUTSIDE":
                area = polygon(vertices)
                taken.append(area.buffer(tool, quad_segs=64).difference(area))
            elif closed:
                taken.append(polygon(vertices))
    return size, unary_union(taken)


def left(path):
    size, taken = of_program(path) if path.endswith(".ngc") else of_drawing(path)
    rest = box(0, 0, *size).difference(taken)
    border = box(0, 0, *size).exterior
    pieces = []
    for piece in getattr(rest, "geoms", [rest]):
        if piece.area < SLIVER or piece.distance(border) < 1e-6:
            continue
        x0, y0, x1, y1 = piece.bounds
        pieces.append({"size": sorted([x1 - x0, y1 - y0]), "area": piece.area})
    return {"file": path, "sheet": size, "pieces": pieces}


for name in sys.argv[1:]:
    print(json.dumps(left(name)), flush=True)
