#!/usr/bin/env python3
"""Makes faulty drawings with ezdxf and svgwrite, which have nothing to do with Jigless, one fault each.

    python make_faulty.py FOLDER

prints one JSON object for each file: its name, and the code of the fault that an inspection must find; null for the sound
ones.
"""

import json
import os
import sys

import ezdxf
import svgwrite

SQUARE = [(0, 0), (100, 0), (100, 60), (0, 60)]
BIG = [(300, 0), (400, 0), (400, 60), (300, 60)]


def dxf(version="R2000", units=4):
    document = ezdxf.new(version)
    document.header["$INSUNITS"] = units
    document.layers.add("CUT_OUTSIDE")
    return document, document.modelspace()


def on(layer="CUT_OUTSIDE"):
    return {"layer": layer}


def sound(space):
    space.add_lwpolyline(SQUARE, close=True, dxfattribs=on())
    space.add_circle((50, 30), 5, dxfattribs=on())


def open_contour(space):
    space.add_lwpolyline(SQUARE, close=False, dxfattribs=on())


def end_on_start(space):
    space.add_lwpolyline(SQUARE + [SQUARE[0]], close=False, dxfattribs=on())


def loose_lines(space):
    for a, b in zip(SQUARE, SQUARE[1:] + SQUARE[:1]):
        space.add_line(a, b, dxfattribs=on())


def repeated_end(space):
    space.add_lwpolyline(SQUARE + [SQUARE[0]], close=True, dxfattribs=on())


def twice(space):
    space.add_lwpolyline(SQUARE, close=True, dxfattribs=on())
    space.add_lwpolyline(SQUARE[1:] + SQUARE[:1], close=True, dxfattribs=on())


def shared_edge(space):
    space.add_lwpolyline(SQUARE, close=True, dxfattribs=on())
    space.add_lwpolyline([(100, 20), (150, 20), (150, 90), (100, 90)], close=True, dxfattribs=on())


def circle_twice(space):
    space.add_lwpolyline(SQUARE, close=True, dxfattribs=on())
    space.add_circle((50, 30), 5, dxfattribs=on())
    space.add_circle((50.004, 30), 5, dxfattribs=on())


def short_segment(space):
    space.add_lwpolyline(SQUARE[:2] + [(100.02, 0.02)] + SQUARE[2:], close=True, dxfattribs=on())


def bow_tie(space):
    space.add_lwpolyline([(0, 0), (100, 60), (100, 0), (0, 60)], close=True, dxfattribs=on())


def spline(space):
    space.add_lwpolyline(BIG, close=True, dxfattribs=on())
    space.add_spline([(0, 0), (50, 40), (100, 0), (0, 0)], dxfattribs=on())


def upside_down(space):
    space.add_lwpolyline(SQUARE, close=True, dxfattribs={**on(), "extrusion": (0, 0, -1)})


def sloping(space):
    space.add_lwpolyline(BIG, close=True, dxfattribs=on())
    space.add_line((0, 0, 0), (10, 0, -5), dxfattribs=on("MARK"))


def undeclared(space):
    space.add_lwpolyline(SQUARE, close=True, dxfattribs=on("NOWHERE"))


def empty(space):
    pass


DXF = [
    ("sound", sound, None),
    ("open-contour", open_contour, "open-contour"),
    ("end-on-start", end_on_start, "open-contour"),
    ("loose-lines", loose_lines, "open-contour"),
    ("repeated-end", repeated_end, "repeated-end"),
    ("twice", twice, "drawn-twice"),
    ("shared-edge", shared_edge, "drawn-twice"),
    ("circle-twice", circle_twice, "drawn-twice"),
    ("short-segment", short_segment, "too-short"),
    ("bow-tie", bow_tie, "crosses-itself"),
    ("spline", spline, "not-a-line"),
    ("upside-down", upside_down, "mirrored-extrusion"),
    ("sloping", sloping, "not-flat"),
    ("undeclared", undeclared, "undeclared-layer"),
    ("empty", empty, "nothing-drawn"),
]


def svg_square(drawing, **more):
    return drawing.path("M0 0L100 0L100 60L0 60Z", fill="none", stroke="black", **more)


def svg_sound(drawing):
    drawing.add(svg_square(drawing))
    drawing.add(drawing.circle((50, 30), 5, fill="none", stroke="black"))


def svg_open(drawing):
    drawing.add(drawing.path("M0 0L100 0L100 60L0 60", fill="none", stroke="black"))


def svg_twice(drawing):
    drawing.add(svg_square(drawing))
    drawing.add(drawing.rect((0, 0), (100, 60), fill="none", stroke="black"))


def svg_short(drawing):
    drawing.add(drawing.path("M0 0L100 0L100.01 0.01L100 60L0 60Z", fill="none", stroke="black"))


def svg_curve(drawing):
    drawing.add(drawing.path("M0 0C20 40 80 40 100 0Z", fill="none", stroke="black"))


def svg_text(drawing):
    drawing.add(svg_square(drawing))
    drawing.add(drawing.text("front", (10, 10), stroke="black", fill="none"))


def svg_transform(drawing):
    drawing.add(svg_square(drawing, transform="translate(5 5)"))


def svg_filled(drawing):
    drawing.add(drawing.path("M0 0L100 0L100 60L0 60Z", fill="red", stroke="black"))


def svg_nested(drawing):
    outer = drawing.add(drawing.g(fill="none"))
    inner = outer.add(drawing.g())
    inner.add(svg_square(drawing))


SVG = [
    ("sound", svg_sound, "mm", None),
    ("open", svg_open, "mm", "open-contour"),
    ("twice", svg_twice, "mm", "drawn-twice"),
    ("short", svg_short, "mm", "too-short"),
    ("curve", svg_curve, "mm", "curve"),
    ("text", svg_text, "mm", "text-in-cut-file"),
    ("transform", svg_transform, "mm", "not-plain"),
    ("filled", svg_filled, "mm", "filled"),
    ("nested", svg_nested, "mm", "nested-group"),
    ("pixels", svg_sound, "px", "no-units"),
]


def main(folder):
    for name, draw, code in DXF:
        document, space = dxf()
        draw(space)
        tell(folder, f"{name}.dxf", code, document.saveas)
    document, space = dxf(units=0)
    sound(space)
    tell(folder, "no-unit.dxf", "no-units", document.saveas)
    document, space = dxf(version="R12")
    space.add_polyline2d(SQUARE, close=True, dxfattribs=on())
    tell(folder, "sound-r12.dxf", None, document.saveas)
    for name, draw, unit, code in SVG:
        drawing = svgwrite.Drawing(size=(f"100{unit}", f"60{unit}"), viewBox="0 0 100 60", debug=False)
        draw(drawing)
        tell(folder, f"{name}.svg", code, drawing.saveas)
    return 0


def tell(folder, name, code, save):
    save(os.path.join(folder, name))
    print(json.dumps({"file": name, "code": code}))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
