#!/usr/bin/env python3
"""What somebody would script instead: DXF, SVG and tiled PDF of the same parts, with ezdxf, svgwrite and reportlab.

    peer.py GEOMETRY OUT        writes the files of every plan in GEOMETRY below OUT
    peer.py GEOMETRY OUT --check OURS
                                looks whether they hold the geometry of GEOMETRY, and whether the
                                files of Jigless below OURS hold it too

GEOMETRY is what the example `make_library` writes with `--geometry`: a plan a line, with the lines, arcs and circles of
each face worked out already. So the script has less to do than Jigless: it reads no plans, checks nothing, keeps no
labels off each other or off lines, draws no dimensions and writes no manifest.
"""

import json
import math
import sys
from pathlib import Path

import ezdxf
import svgwrite
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

MARGIN, OVERLAP, PAGE = 10, 10, (210, 297)


def dxf(part, face, path, layers):
    doc = ezdxf.new("R2000")
    doc.header["$INSUNITS"] = 4
    for name, colour in layers.items():
        doc.layers.add(name, color=colour)
    space = doc.modelspace()
    names = list(layers)
    for layer, shapes in ((names[0], face["outer"] + face["inner"]), (names[2], face["areas"] + face["marks"])):
        for shape in shapes:
            space.add_lwpolyline(shape["vertices"], format="xyb", close=shape["closed"], dxfattribs={"layer": layer})
    for hole in face["holes"]:
        x, y = hole["at"]
        space.add_circle((x, y), hole["diameter"] / 2, dxfattribs={"layer": names[1]})
        space.add_text(hole["id"], height=3, dxfattribs={"layer": "NOTES"}).set_placement((x + 3, y + 3))
    for number, words in enumerate(notes(part, face, layers)):
        space.add_text(words, height=4, dxfattribs={"layer": "NOTES"}).set_placement((0, -10 - 6 * number))
    doc.saveas(path)


def notes(part, face, layers):
    """The words beside a part, as many as Jigless writes."""
    yield f"{part['title']}, {face['face']}"
    yield f"{part['width']:g} x {part['height']:g} mm"
    for layer in layers:
        yield f"layer {layer}: see the list of holes"
    for number, hole in enumerate(face["holes"]):
        if number < 12:
            yield f"{hole['id']} at {hole['at'][0]:.1f}, {hole['at'][1]:.1f}: {hole['diameter']:g} mm, {depth(hole)}"


def depth(hole):
    return "through" if hole["depth"] is None else f"{hole['depth']:g} mm deep"


def arc(a, b):
    """Radius, and whether it is the larger arc, of a vertex with a bulge."""
    chord = math.dist(a[:2], b[:2])
    return chord * (1 + a[2] ** 2) / (4 * abs(a[2])), abs(a[2]) > 1


def ends(shape):
    vertices = shape["vertices"]
    return zip(vertices, vertices[1:] + (vertices[:1] if shape["closed"] else []))


def svg(part, face, path):
    width, height = part["width"] + 2 * MARGIN, part["height"] + 2 * MARGIN
    drawing = svgwrite.Drawing(path, size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}")

    def at(x, y):
        return MARGIN + x, height - MARGIN - y

    for shapes, pen in ((face["outer"] + face["inner"], 0.4), (face["areas"] + face["marks"], 0.2)):
        for shape in shapes:
            x, y = at(*shape["vertices"][0][:2])
            line = drawing.path(f"M{x:.4f} {y:.4f}", fill="none", stroke="black", stroke_width=pen)
            for a, b in ends(shape):
                x, y = at(*b[:2])
                if a[2] == 0:
                    line.push(f"L{x:.4f} {y:.4f}")
                else:
                    radius, large = arc(a, b)
                    line.push(f"A{radius:.4f} {radius:.4f} 0 {int(large)} {int(a[2] < 0)} {x:.4f} {y:.4f}")
            drawing.add(line)
    for hole in face["holes"]:
        x, y = at(*hole["at"])
        drawing.add(drawing.circle((round(x, 4), round(y, 4)), hole["diameter"] / 2, fill="none", stroke="black", stroke_width=0.2))
        drawing.add(drawing.line((x - 4, y), (x + 4, y), stroke="black", stroke_width=0.13))
        drawing.add(drawing.line((x, y - 4), (x, y + 4), stroke="black", stroke_width=0.13))
        drawing.add(drawing.text(f"{hole['id']} {hole['diameter']:g}", insert=(x + 4, y - 4), font_size=3))
    drawing.save()


def trace(canvas, shape):
    path = canvas.beginPath()
    first = shape["vertices"][0]
    path.moveTo(first[0] * mm, first[1] * mm)
    for a, b in ends(shape):
        if a[2] == 0:
            path.lineTo(b[0] * mm, b[1] * mm)
            continue
        off = (1 - a[2] ** 2) / (4 * a[2])
        cx, cy = (a[0] + b[0]) / 2 - (b[1] - a[1]) * off, (a[1] + b[1]) / 2 + (b[0] - a[0]) * off
        radius, _ = arc(a, b)
        start = math.degrees(math.atan2(a[1] - cy, a[0] - cx))
        box = ((cx - radius) * mm, (cy - radius) * mm, (cx + radius) * mm, (cy + radius) * mm)
        path.arcTo(*box, start, math.degrees(4 * math.atan(a[2])))
    if shape["closed"]:
        path.close()
    canvas.drawPath(path)


def tiles(part):
    """Left, bottom, width and height of what each page shows."""
    w, h = PAGE[0] - 2 * MARGIN, PAGE[1] - 3 * MARGIN
    columns = max(1, math.ceil((part["width"] - OVERLAP) / (w - OVERLAP)))
    rows = max(1, math.ceil((part["height"] - OVERLAP) / (h - OVERLAP)))
    return [(c * (w - OVERLAP), r * (h - OVERLAP), w, h) for r in range(rows) for c in range(columns)]


def check_sheet(canvas, part):
    """A page with bars to measure, a map of the pages, and the holes of the part."""
    canvas.setFont("Helvetica-Bold", 14)
    canvas.drawString(MARGIN * mm, 280 * mm, part["title"])
    canvas.setFont("Helvetica", 9)
    canvas.drawString(MARGIN * mm, 273 * mm, "Print at 100 %. Measure both bars: each is 100 mm long.")
    for x0, y0, x1, y1 in ((20, 265, 120, 265), (15, 160, 15, 260)):
        canvas.line(x0 * mm, y0 * mm, x1 * mm, y1 * mm)
        for step in range(11):
            x, y = x0 + (x1 - x0) * step / 10, y0 + (y1 - y0) * step / 10
            across = (0, 2) if y0 == y1 else (2, 0)
            canvas.line(x * mm, y * mm, (x + across[0]) * mm, (y + across[1]) * mm)
    for left, bottom, w, h in tiles(part):
        canvas.rect((130 + left / 20) * mm, (200 + bottom / 20) * mm, w / 20 * mm, h / 20 * mm)
    holes = [(face["face"], hole) for face in part["faces"] for hole in face["holes"]]
    for number, (face, hole) in enumerate(holes):
        y = 150 - 5 * number % 140
        for x, words in zip((10, 30, 60, 90, 120, 150), (hole["id"], face, f"{hole['at'][0]:.1f}", f"{hole['at'][1]:.1f}", f"{hole['diameter']:g}", depth(hole))):
            canvas.drawString(x * mm, y * mm, words)
    canvas.showPage()


def pdf(part, path):
    canvas = Canvas(str(path), pagesize=(PAGE[0] * mm, PAGE[1] * mm))
    canvas.setTitle(part["title"])
    canvas.setViewerPreference("PrintScaling", "None")
    check_sheet(canvas, part)
    for face in part["faces"]:
        for number, (left, bottom, w, h) in enumerate(tiles(part)):
            canvas.setFont("Helvetica", 9)
            canvas.drawString(MARGIN * mm, 285 * mm, f"{part['title']}, {face['face']}, page {number + 1}")
            canvas.line(100 * mm, 284 * mm, 200 * mm, 284 * mm)
            canvas.saveState()
            clip = canvas.beginPath()
            clip.rect(MARGIN * mm, MARGIN * mm, w * mm, h * mm)
            canvas.clipPath(clip, stroke=0)
            canvas.translate((MARGIN - left) * mm, (MARGIN - bottom) * mm)
            canvas.setLineWidth(0.4 * mm)
            for shape in face["outer"] + face["inner"]:
                trace(canvas, shape)
            canvas.setLineWidth(0.2 * mm)
            for shape in face["areas"] + face["marks"]:
                trace(canvas, shape)
            canvas.setFont("Helvetica", 7)
            for hole in face["holes"]:
                x, y = hole["at"]
                if not (left - 20 < x < left + w + 20 and bottom - 20 < y < bottom + h + 20):
                    continue
                canvas.circle(x * mm, y * mm, hole["diameter"] / 2 * mm)
                canvas.line((x - 4) * mm, y * mm, (x + 4) * mm, y * mm)
                canvas.line(x * mm, (y - 4) * mm, x * mm, (y + 4) * mm)
                canvas.drawString((x + 4) * mm, (y + 4) * mm, f"{hole['id']} {hole['diameter']:g}")
            canvas.restoreState()
            canvas.showPage()
    canvas.save()


CNC = {"CUT_OUTSIDE": 7, "DRILL": 1, "AREA": 5, "NOTES": 8}
LASER = {"CUT_OUTSIDE": 1, "CUT_INSIDE": 5, "ENGRAVE": 3, "NOTES": 8}


def faces(plan):
    for part in plan["parts"]:
        for face in part["faces"]:
            yield part, face, part["id"] + (".back" if face["face"] == "back" else "")


def make(plan, out):
    folder = out / plan["name"]
    for name in ("dxf-cnc", "dxf-laser", "svg-drilling", "pdf-template"):
        (folder / name).mkdir(parents=True, exist_ok=True)
    for part, face, name in faces(plan):
        dxf(part, face, folder / "dxf-cnc" / f"{name}.dxf", CNC)
        dxf(part, face, folder / "dxf-laser" / f"{name}.dxf", LASER)
        svg(part, face, folder / "svg-drilling" / f"{name}.svg")
    for part in plan["parts"]:
        pdf(part, folder / "pdf-template" / f"{part['id']}.pdf")


def near(a, b, tolerance=0.001):
    return len(a) == len(b) and all(abs(x - y) <= tolerance for x, y in zip(a, b))


def has(wanted, there, what):
    for item in wanted:
        assert any(near(item, other) for other in there), f"{what}: {item} is not there"


def vertices_of(shapes):
    return [vertex[:2] for shape in shapes for vertex in shape["vertices"]]


def read_svg(path):
    """Circles and the corners of paths, in millimetres from the lower left corner of the outline."""
    import svgelements

    # The view box is in millimetres, so the numbers of the file are taken as they stand.
    tree = svgelements.SVG.parse(path, width=1, height=1, reify=False, transform=None)
    circles, corners, outline = [], [], None
    for element in tree.elements():
        if isinstance(element, svgelements.Circle):
            circles.append((element.cx, element.cy, element.rx))
        elif isinstance(element, svgelements.Path):
            corners += [(s.end.x, s.end.y) for s in element if s.end is not None]
            box = svgelements.Path(element.d(transformed=False)).bbox()
            # The outline reaches farthest.
            if outline is None or (box[2] - box[0]) * (box[3] - box[1]) > (outline[2] - outline[0]) * (outline[3] - outline[1]):
                outline = box
    left, _, _, bottom = outline
    return ([(x - left, bottom - y, r) for x, y, r in circles], [(x - left, bottom - y) for x, y in corners])


def check_files(plan, root, ours):
    import pdfplumber

    folder = root / plan["name"]
    for part, face, name in faces(plan):
        holes = [(*hole["at"], hole["diameter"] / 2) for hole in face["holes"]]
        contour = vertices_of(face["outer"] + face["inner"])
        for kind in ("dxf-cnc", "dxf-laser"):
            doc = ezdxf.readfile(folder / kind / f"{name}.dxf")
            space = doc.modelspace()
            circles = [(c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in space.query("CIRCLE")]
            corners = [p[:2] for line in space.query("LWPOLYLINE") for p in line.get_points("xy")]
            # A circular opening is one circle in Jigless' files; the generator makes none.
            has(holes, circles, f"{root} {kind} {name} hole")
            has(contour, corners, f"{root} {kind} {name} corner")
            if kind == "dxf-cnc":
                has(vertices_of(face["areas"]), corners, f"{root} {kind} {name} area")
        circles, corners = read_svg(folder / "svg-drilling" / f"{name}.svg")
        has(holes, circles, f"{root} svg {name} hole")
        has(contour, corners, f"{root} svg {name} corner")
    for part in plan["parts"]:
        file = "templates" if ours else part["id"]
        with pdfplumber.open(folder / "pdf-template" / f"{file}.pdf") as document:
            sizes = [(c["x1"] - c["x0"]) * 25.4 / 72 for page in document.pages for c in page.curves]
            if not ours:
                pages = 1 + len(tiles(part)) * len(part["faces"])
                assert len(document.pages) == pages, f"{part['id']}: {len(document.pages)} of {pages} pages"
                number = 1
                for face in part["faces"]:
                    found = []
                    for left, bottom, _, _ in tiles(part):
                        page = document.pages[number]
                        number += 1
                        for c in page.curves:
                            x, y = (c["x0"] + c["x1"]) / 2, page.height - (c["top"] + c["bottom"]) / 2
                            found.append((x / mm - MARGIN + left, y / mm - MARGIN + bottom, (c["x1"] - c["x0"]) / mm / 2))
                    for hole in face["holes"]:
                        want = (*hole["at"], hole["diameter"] / 2)
                        assert any(near(want, other, 0.01) for other in found), f"pdf {part['id']}: {want}"
            for face in part["faces"]:
                for hole in face["holes"]:
                    assert any(abs(size - hole["diameter"]) < 0.02 for size in sizes), f"{root} pdf {part['id']}: {hole}"


def main():
    plans = [json.loads(line) for line in open(sys.argv[1], encoding="utf-8")]
    out = Path(sys.argv[2])
    if "--check" in sys.argv:
        ours = Path(sys.argv[sys.argv.index("--check") + 1])
        for plan in plans:
            check_files(plan, out, False)
            check_files(plan, ours, True)
        print(f"the same geometry in {len(plans)} plans")
        return
    for plan in plans:
        make(plan, out)


main()
