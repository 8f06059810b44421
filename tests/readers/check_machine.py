#!/usr/bin/env python3
"""Measures what a machine would make of a file, with ezdxf and shapely, which know nothing of Jigless.

    python check_machine.py offsets NOMINAL.dxf KERF.dxf KERF_MM
    python check_machine.py cut FILE.dxf KERF_MM
    python check_machine.py sweep FILE.dxf DIAMETER_MM LAYER
    python check_machine.py relief NOMINAL.dxf RELIEVED.dxf DIAMETER_MM
    python check_machine.py sheet FILE.dxf WIDTH HEIGHT SPACING
    python check_machine.py svg FILE.svg FILE.dxf

prints one JSON object. Coordinates are taken as the file's unit and given in millimetres.

offsets  for each closed cut: exact area and length by its bulges, and area and length of shapely's buffer of the nominal
cut      what is left when each cut takes half the kerf from both sides: the box around the part, and for each notch in its
         upper and lower edge the width, the middle and the depth
sweep    area of a nominal border on NOTES that a round tool inside the border on LAYER does not reach, and the same when
         the tool stays inside the nominal border itself
relief   for each corner of the nominal outline that a round tool inside the relieved one reaches no less: distance to
         the swept area, and area that the relief takes beyond the nominal outline
sheet    number of outlines, least distance between two of them, whether all are in bounds, and the share of waste
svg      worst difference between the lengths and boxes of both files, layer by layer
"""

import json
import math
import sys
import xml.etree.ElementTree as xml

import ezdxf
from shapely import STRtree
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

CHORD_ERROR = 1e-4
SCALE = {1: 25.4, 4: 1.0}


def read(path):
    """The closed and open lines of a file: layer -> list of (vertices with bulge, closed)."""
    document = ezdxf.readfile(path)
    scale = SCALE[document.header["$INSUNITS"]]
    lines = {}
    for entity in document.modelspace():
        kind = entity.dxftype()
        if kind == "CIRCLE":
            x, y, r = entity.dxf.center.x, entity.dxf.center.y, entity.dxf.radius
            vertices, closed = [(x - r, y, 1.0), (x + r, y, 1.0)], True
        elif kind == "LWPOLYLINE":
            vertices, closed = [tuple(v) for v in entity.get_points("xyb")], bool(entity.closed)
        elif kind == "POLYLINE":
            vertices = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in entity.vertices]
            closed = bool(entity.is_closed)
        else:
            continue
        vertices = [(x * scale, y * scale, b) for x, y, b in vertices]
        lines.setdefault(entity.dxf.layer, []).append((vertices, closed))
    return lines


def segments(vertices, closed):
    """Pairs of neighbours with the bulge between them."""
    last = len(vertices) if closed else len(vertices) - 1
    for i in range(last):
        a, b = vertices[i], vertices[(i + 1) % len(vertices)]
        yield a[:2], b[:2], a[2]


def exact(vertices, closed=True):
    """Area and length by the shoelace formula and circle segments: r^2/2 (theta - sin theta)."""
    area = length = 0.0
    for (x1, y1), (x2, y2), bulge in segments(vertices, closed):
        area += (x1 * y2 - x2 * y1) / 2
        chord = math.hypot(x2 - x1, y2 - y1)
        if bulge == 0:
            length += chord
            continue
        theta = 4 * math.atan(bulge)
        radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
        area += radius * radius / 2 * (theta - math.sin(theta))
        length += radius * abs(theta)
    return abs(area), length


def flattened(vertices, closed=True):
    """Points that stay within the chord error of the line."""
    points = [vertices[0][:2]]
    for (x1, y1), (x2, y2), bulge in segments(vertices, closed):
        if bulge:
            theta = 4 * math.atan(bulge)
            chord = math.hypot(x2 - x1, y2 - y1)
            radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
            step = 2 * math.acos(max(1 - CHORD_ERROR / radius, -1))
            count = max(2, math.ceil(abs(theta) / step))
            aside = (1 - bulge * bulge) / (4 * bulge)
            cx = (x1 + x2) / 2 - (y2 - y1) * aside
            cy = (y1 + y2) / 2 + (x2 - x1) * aside
            start = math.atan2(y1 - cy, x1 - cx)
            for i in range(1, count):
                angle = start + theta * i / count
                points.append((cx + radius * math.cos(angle), cy + radius * math.sin(angle)))
        points.append((x2, y2))
    return points


def polygon(vertices):
    """A closed line as an area."""
    return Polygon(flattened(vertices))


def polygons(lines, layer):
    """The areas of all closed lines on a layer."""
    return [polygon(v) for v, closed in lines.get(layer, []) if closed]


def offsets(nominal, drawn, kerf):
    nominal, drawn = read(nominal), read(drawn)
    found = []
    for layer, sign in (("CUT_OUTSIDE", 1), ("CUT_INSIDE", -1)):
        ours = sorted((v for v, _ in drawn.get(layer, [])), key=lambda v: exact(v)[0])
        theirs = sorted((v for v, _ in nominal.get(layer, [])), key=lambda v: exact(v)[0])
        assert len(ours) == len(theirs), layer
        for mine, other in zip(ours, theirs):
            area, length = exact(mine)
            grown = polygon(other).buffer(sign * kerf / 2, quad_segs=256)
            found.append(
                {
                    "layer": layer,
                    "area": area,
                    "length": length,
                    "buffer_area": grown.area,
                    "buffer_length": grown.exterior.length,
                    "nominal_length": exact(other)[1],
                }
            )
    return {"cuts": found}


def cut(path, kerf):
    lines = read(path)
    (outline,) = polygons(lines, "CUT_OUTSIDE")
    left = outline.buffer(-kerf / 2, quad_segs=256)
    for opening in polygons(lines, "CUT_INSIDE"):
        left = left.difference(opening.buffer(kerf / 2, quad_segs=256))
    x0, y0, x1, y1 = left.bounds
    return {
        "box": [x1 - x0, y1 - y0],
        "top": notches(left, x0, x1, y1, -1),
        "bottom": notches(left, x0, x1, y0, 1),
    }


def notches(part, x0, x1, edge, inward):
    """Width, middle from the left end and depth of what is missing along an edge, seen 4 mm inward."""
    y = edge + 4 * inward
    line = LineString([(x0, y), (x1, y)])
    gaps = line.difference(part)
    found = []
    for gap in getattr(gaps, "geoms", [gaps]):
        if gap.length < 0.01:
            continue
        a, b = gap.bounds[0], gap.bounds[2]
        middle = (a + b) / 2
        up = LineString([(middle, edge), (middle, edge + 1000 * inward)]).intersection(part)
        depth = min(abs(point[1] - edge) for piece in getattr(up, "geoms", [up]) for point in piece.coords)
        found.append({"width": b - a, "middle": middle - x0, "depth": depth, "start": a - x0, "end": b - x0})
    return found


def swept(area, diameter):
    """What a round tool reaches that stays inside an area; a hair less, so that a slot of its width takes it."""
    radius = diameter / 2 * 0.99999
    return area.buffer(-radius, quad_segs=256).buffer(radius, quad_segs=256)


def sweep(path, diameter, layer):
    lines = read(path)
    part = unary_union(polygons(lines, "CUT_OUTSIDE"))
    nominal = [area for area in polygons(lines, "NOTES")]
    worked = [swept(area, diameter) for area in polygons(lines, layer)]
    reached = unary_union(worked)
    missed = [area.intersection(part).difference(reached).area for area in nominal]
    stopped = [area.difference(swept(area, diameter)).area for area in nominal]
    beyond = [max(0.0, reached.intersection(part).difference(unary_union(nominal)).area)]
    return {"missed": missed, "missed_without_run_out": stopped, "too_much": beyond[0]}


def relief(nominal, relieved, diameter):
    before = read(nominal)
    after = read(relieved)
    (outline,) = polygons(before, "CUT_OUTSIDE")
    (eased,) = polygons(after, "CUT_OUTSIDE")
    room = box(*outline.bounds).buffer(50)
    free, nominal_free = room.difference(eased), room.difference(outline)
    reached = swept(free, diameter)
    taken = nominal_free.union(outline.difference(eased)).difference(nominal_free)
    pieces = [piece for piece in getattr(taken, "geoms", [taken]) if piece.area > 1e-6]
    corners = []
    points = list(outline.exterior.coords)[:-1]
    for index, here in enumerate(points):
        a, b = points[index - 1], points[(index + 1) % len(points)]
        turn = (here[0] - a[0]) * (b[1] - here[1]) - (here[1] - a[1]) * (b[0] - here[0])
        inside = turn < 0 if outline.exterior.is_ccw else turn > 0
        if inside:
            corners.append(
                {
                    "distance": Point(here).distance(reached),
                    "distance_unrelieved": Point(here).distance(swept(nominal_free, diameter)),
                }
            )
    return {"corners": corners, "taken": [piece.area for piece in pieces]}


def sheet(path, width, height, spacing):
    lines = read(path)
    outlines = polygons(lines, "CUT_OUTSIDE")
    bed = box(0, 0, width, height)
    tree = STRtree(outlines)
    least = math.inf
    overlaps = 0
    for index, outline in enumerate(outlines):
        for other in tree.query(outline.buffer(2 * spacing + 1)):
            if other > index:
                least = min(least, outline.distance(outlines[other]))
                overlaps += outline.intersection(outlines[other]).area > 1e-6
    return {
        "count": len(outlines),
        "least_distance": None if math.isinf(least) else least,
        "overlaps": int(overlaps),
        "in_bounds": all(bed.contains(outline) for outline in outlines),
        "waste": 1 - sum(outline.area for outline in outlines) / bed.area,
    }


def svg(path, other):
    """Reads the file as plain XML: M, L, A and Z with absolute numbers, and circles."""
    root = xml.parse(path).getroot()
    name = "{http://www.w3.org/2000/svg}"
    width, height = root.get("width"), root.get("height")
    view = [float(number) for number in root.get("viewBox").split()]
    assert width.endswith("mm") and float(width[:-2]) == view[2]
    assert height.endswith("mm") and float(height[:-2]) == view[3]
    lengths = {}
    for group in root.findall(name + "g"):
        layer = group.get("id").split("-")[0]
        for element in group:
            if element.tag == name + "circle":
                length = 2 * math.pi * float(element.get("r"))
            else:
                length = path_length(element.get("d"))
            lengths.setdefault(layer, []).append(length)
    ours = {
        layer: [exact(v, closed)[1] for v, closed in items]
        for layer, items in read(other).items()
        if layer not in ("NOTES", "REFERENCE", "HAND_WORK")
    }
    assert set(lengths) == set(ours), (set(lengths), set(ours))
    worst = 0.0
    for layer, items in ours.items():
        assert len(items) == len(lengths[layer]), layer
        worst = max([worst] + [abs(a - b) for a, b in zip(sorted(items), sorted(lengths[layer]))])
    forbidden = [e.tag for e in root.iter() if e.tag.replace(name, "") in ("text", "use", "style", "clipPath", "svg") and e is not root]
    attributes = [k for e in root.iter() for k in e.attrib if k in ("transform", "style", "class", "clip-path")]
    return {"worst": worst, "forbidden": forbidden + attributes}


def path_length(data):
    """Length of a path of M, L, A and Z."""
    import re

    total, at, start = 0.0, None, None
    for command, numbers in re.findall(r"([MLAZ])([^MLAZ]*)", data):
        values = [float(n) for n in numbers.split()]
        if command == "M":
            at = start = (values[0], values[1])
            continue
        if command == "Z":
            to = start
            total += math.hypot(to[0] - at[0], to[1] - at[1])
        elif command == "L":
            to = (values[0], values[1])
            total += math.hypot(to[0] - at[0], to[1] - at[1])
        else:
            to = (values[5], values[6])
            chord = math.hypot(to[0] - at[0], to[1] - at[1])
            sweep = 2 * math.asin(min(1.0, chord / 2 / values[0]))
            total += values[0] * (2 * math.pi - sweep if values[3] else sweep)
        at = to
    return total


COMMANDS = {"offsets": offsets, "cut": cut, "sweep": sweep, "relief": relief, "sheet": sheet, "svg": svg}


def main(arguments):
    def value(text):
        try:
            return float(text)
        except ValueError:
            return text

    command, *rest = arguments
    print(json.dumps(COMMANDS[command](*[value(text) for text in rest])))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
