#!/usr/bin/env python3
"""What an outside reader finds in PDF templates.

    check_pdf.py FILE...

Prints one line of JSON for each file, in the order given:

    file            its path, as given
    version         from the header, and the catalog where it has one
    print_scaling   /ViewerPreferences /PrintScaling, or null
    duplex          /ViewerPreferences /Duplex, or null
    language        the catalog's /Lang, or null
    labels          the names of the pages from /PageLabels, or null
    bookmarks       titles of /Outlines, each with the number of its page from 1
    id              the trailer's /ID, two strings in hexadecimal, or null
    info            title, dates and so on from the Info dictionary
    fonts           base names of the fonts of all pages
    qpdf            {"clean": bool, "says": [...]} from `qpdf --check`
    pages           one entry for each page:
        media_box   in points, as written
        boxes       the other boxes that are written, in points
        size_mm     width and height
        ink_mm      least distance of any ink (pens counted at full width) from the left, bottom, right, top edge
        templates   one entry for each /VP with its rectilinear /Measure: "viewport" {"name", "window_mm", "origin_mm"},
                    and the "texts", "strokes" and "marks" that lie in its window, with the page's "size_mm";
                    the origin is where the part's 0,0 lies on the page; "per_mm" is what is drawn across and upward
                    for each millimetre meant, by the measure's own factors
        texts       {"text", "box_mm", "size_mm"}; boxes are [x0, y0, x1, y1] from the page's lower left
        strokes     {"box_mm", "width_mm", "points"}; "points" are [x, y] in mm, curves included as straight pieces
        fills       {"box_mm"}
        marks       hole marks: {"centre_mm", "part_mm", "arms_mm", "circles_mm"}: four hairlines that leave an open
                    middle of 1 mm; "part_mm" is the centre measured from the part's 0,0 in marks of templates;
                    "circles_mm" are the diameters of the circles around the same centre
        overlaps    texts that touch another text, or a stroke, on the page: {"text", "with"}

Needs pdfplumber and pikepdf, and qpdf on the path.
"""

import json
import math
import subprocess
import sys

import pdfplumber
import pikepdf

MM = 25.4 / 72


def boxes_overlap(a, b, slack=0.0):
    return a[0] + slack < b[2] and b[0] + slack < a[2] and a[1] + slack < b[3] and b[1] + slack < a[3]


def segment_hits(p, q, box):
    """Whether a straight piece has a point inside a box (Liang and Barsky)."""
    enter, leave = 0.0, 1.0
    for d, room in (
        (p[0] - q[0], p[0] - box[0]),
        (q[0] - p[0], box[2] - p[0]),
        (p[1] - q[1], p[1] - box[1]),
        (q[1] - p[1], box[3] - p[1]),
    ):
        if abs(d) < 1e-12:
            if room < 0:
                return False
        elif d < 0:
            enter = max(enter, room / d)
        else:
            leave = min(leave, room / d)
    return enter < leave


def flat(path, height):
    """A path as pdfplumber gives it, as points in mm from the lower left; curves in straight pieces."""
    points = []
    for op, *ps in path:
        ps = [(x * MM, (height - y) * MM) for x, y in ps]
        if op in ("m", "l"):
            points.append(ps[-1])
        elif op == "c":
            a, (b, c, d) = points[-1], ps
            for i in range(1, 17):
                t = i / 16
                s = 1 - t
                points.append(
                    tuple(
                        s**3 * a[k] + 3 * s * s * t * b[k] + 3 * s * t * t * c[k] + t**3 * d[k]
                        for k in (0, 1)
                    )
                )
        elif op == "h" and points:
            points.append(points[0])
    return points


def box_of(points):
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return [min(xs), min(ys), max(xs), max(ys)]


def texts_of(page):
    """Runs of letters: consecutive letters of one size and direction that touch."""
    runs = []
    last = None
    for c in page.chars:
        up = not c["upright"]
        box = [c["x0"] * MM, c["y0"] * MM, c["x1"] * MM, c["y1"] * MM]
        if (
            last
            and last["up"] == up
            and abs(last["size"] - c["size"]) < 1e-6
            and last["font"] == c["fontname"]
            and (
                abs(last["end"] - (box[1] if up else box[0])) < 0.05
                and abs(last["base"] - (box[0] if up else box[1])) < 0.05
            )
        ):
            last["text"] += c["text"]
            last["box"] = [
                min(last["box"][0], box[0]),
                min(last["box"][1], box[1]),
                max(last["box"][2], box[2]),
                max(last["box"][3], box[3]),
            ]
            last["end"] = box[3] if up else box[2]
        else:
            last = {
                "text": c["text"],
                "box": box,
                "up": up,
                "size": c["size"],
                "font": c["fontname"],
                "end": box[3] if up else box[2],
                "base": box[0] if up else box[1],
            }
            runs.append(last)
    return [
        {"text": r["text"], "box_mm": r["box"], "size_mm": r["size"] * MM, "up": r["up"]} for r in runs
    ]


def marks_of(strokes):
    """Hole marks: a left and a right arm on one level, an upper and a lower arm in one upright line, each 0.5 mm off
    the same centre."""
    ends = {"left": [], "right": [], "up": [], "down": []}
    for s in strokes:
        if len(s["points"]) != 2:
            continue
        (x0, y0), (x1, y1) = s["points"]
        if abs(y0 - y1) < 1e-3:
            ends["right" if x1 > x0 else "left"].append((x0, y0, abs(x1 - x0)))
        elif abs(x0 - x1) < 1e-3:
            ends["up" if y1 > y0 else "down"].append((x0, y0, abs(y1 - y0)))

    def key(x, y):
        return (round(x * 20), round(y * 20))

    def near(table, x, y):
        kx, ky = key(x, y)
        for i in (-1, 0, 1):
            for j in (-1, 0, 1):
                for e in table.get((kx + i, ky + j), ()):
                    if abs(e[0] - x) < 0.02 and abs(e[1] - y) < 0.02:
                        return e
        return None

    tables = {}
    for name, list_ in ends.items():
        table = {}
        for e in list_:
            table.setdefault(key(e[0], e[1]), []).append(e)
        tables[name] = table

    circles = []
    for s in strokes:
        x0, y0, x1, y1 = s["box_mm"]
        if s["curved"] and s["closed"] and abs((x1 - x0) - (y1 - y0)) < 1e-3:
            circles.append(((x0 + x1) / 2, (y0 + y1) / 2, x1 - x0))

    marks = []
    for x, y, reach in ends["right"]:
        centre = (x - 0.5, y)
        left = near(tables["left"], centre[0] - 0.5, centre[1])
        up = near(tables["up"], centre[0], centre[1] + 0.5)
        down = near(tables["down"], centre[0], centre[1] - 0.5)
        if not (left and up and down):
            continue
        middle = ((x + left[0]) / 2, (up[1] + down[1]) / 2)
        mark = {
            "centre_mm": list(middle),
            "arms_mm": [a + 0.5 for a in (reach, up[2], left[2], down[2])],
            "circles_mm": [d for cx, cy, d in circles if math.dist((cx, cy), middle) < 0.02],
        }
        marks.append(mark)
    return marks


def viewport_of(vp):
    measure = vp["/Measure"]
    factor = float(measure["/X"][0]["/C"])
    # Where there is no /Y, the factor of /X holds upward too (ISO 32000-1, Table 262).
    upward = float(measure["/Y"][0]["/C"]) if "/Y" in measure else factor
    return {
        "name": str(vp["/Name"]),
        "window_mm": [float(v) * MM for v in vp["/BBox"]],
        "origin_mm": [float(v) * MM for v in measure["/O"]],
        "ratio": str(measure["/R"]),
        "mm_per_point": factor,
        "per_mm": [MM / factor, MM / upward],
    }


def template_of(vp, page):
    """What lies in the window of one viewport."""
    viewport = viewport_of(vp)
    window = viewport["window_mm"]

    def inside(box):
        return all(window[i] - 0.7 <= box[i] and box[i + 2] <= window[i + 2] + 0.7 for i in (0, 1))

    marks = []
    for mark in page["marks"]:
        centre = mark["centre_mm"]
        if inside(centre * 2):
            part = [(m - o) / s for m, o, s in zip(centre, viewport["origin_mm"], viewport["per_mm"])]
            marks.append({**mark, "part_mm": part})
    return {
        "viewport": viewport,
        "size_mm": page["size_mm"],
        "marks": marks,
        "texts": [t for t in page["texts"] if inside(t["box_mm"])],
        "strokes": [s for s in page["strokes"] if inside(s["box_mm"])],
    }


def overlaps_of(texts, strokes):
    found = []
    for i, t in enumerate(texts):
        for other in texts[i + 1 :]:
            if boxes_overlap(t["box_mm"], other["box_mm"], 0.02):
                found.append({"text": t["text"], "with": other["text"]})
        for s in strokes:
            half = s["width_mm"] / 2
            box = [
                t["box_mm"][0] - half,
                t["box_mm"][1] - half,
                t["box_mm"][2] + half,
                t["box_mm"][3] + half,
            ]
            if not boxes_overlap(box, [s["box_mm"][0] - 1e-9, s["box_mm"][1] - 1e-9, s["box_mm"][2] + 1e-9, s["box_mm"][3] + 1e-9]):
                continue
            if any(segment_hits(p, q, box) for p, q in zip(s["points"], s["points"][1:])):
                found.append({"text": t["text"], "with": f"stroke {[round(v, 2) for v in s['box_mm']]}"})
    return found


def page_of(plumber, raw):
    width, height = float(plumber.width), float(plumber.height)
    size = (width * MM, height * MM)
    strokes, fills = [], []
    for kind in ("lines", "curves", "rects"):
        for o in getattr(plumber, kind):
            points = flat(o["path"], height)
            if not points:
                continue
            if o["stroke"]:
                strokes.append(
                    {
                        "box_mm": box_of(points),
                        "width_mm": float(o["linewidth"]) * MM,
                        "points": points,
                        "curved": any(op == "c" for op, *_ in o["path"]),
                        "closed": math.dist(points[0], points[-1]) < 1e-3,
                    }
                )
            if o["fill"]:
                fills.append({"box_mm": box_of(points)})
    texts = texts_of(plumber)
    ink = [f["box_mm"] for f in fills] + [t["box_mm"] for t in texts]
    for s in strokes:
        half = s["width_mm"] / 2
        b = s["box_mm"]
        ink.append([b[0] - half, b[1] - half, b[2] + half, b[3] + half])
    margins = None
    if ink:
        margins = [
            min(b[0] for b in ink),
            min(b[1] for b in ink),
            size[0] - max(b[2] for b in ink),
            size[1] - max(b[3] for b in ink),
        ]
    page = {
        "media_box": [float(v) for v in raw.MediaBox],
        "boxes": {
            name: [float(v) for v in raw[name]]
            for name in ("/CropBox", "/TrimBox", "/BleedBox", "/ArtBox")
            if name in raw
        },
        "size_mm": size,
        "ink_mm": margins,
        "texts": texts,
        "strokes": strokes,
        "fills": fills,
        "marks": marks_of(strokes),
        "overlaps": overlaps_of(texts, strokes),
    }
    page["templates"] = [template_of(vp, page) for vp in raw.get("/VP", [])]
    return page


def labels_of(pdf):
    """The names of the pages, where each has one of its own (ISO 32000-1, 12.4.2)."""
    numbers = pdf.Root.get("/PageLabels", {}).get("/Nums")
    if numbers is None:
        return None
    return [str(label.get("/P", "")) for label in list(numbers)[1::2]]


def bookmarks_of(pdf):
    pages = {page.objgen: number for number, page in enumerate(pdf.pages, 1)}
    with pdf.open_outline() as outline:
        return [[item.title, pages.get(item.destination[0].objgen)] for item in outline.root]


def check(path):
    qpdf = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True)
    says = [line for line in (qpdf.stdout + qpdf.stderr).splitlines() if line.strip()]
    with pikepdf.open(path) as pdf, pdfplumber.open(path) as plumber:
        preferences = pdf.Root.get("/ViewerPreferences")
        scaling = preferences.get("/PrintScaling") if preferences is not None else None
        ids = pdf.trailer.get("/ID")
        fonts = set()
        for page in pdf.pages:
            for font in page.Resources.get("/Font", {}).values():
                fonts.add(str(font["/BaseFont"]))
        return {
            "file": path,
            "version": pdf.pdf_version,
            "print_scaling": str(scaling) if scaling is not None else None,
            "duplex": str(preferences["/Duplex"]) if preferences is not None and "/Duplex" in preferences else None,
            "language": str(pdf.Root["/Lang"]) if "/Lang" in pdf.Root else None,
            "labels": labels_of(pdf),
            "bookmarks": bookmarks_of(pdf),
            "id": [bytes(i).hex() for i in ids] if ids is not None else None,
            "info": {str(k): str(v) for k, v in pdf.docinfo.items()},
            "fonts": sorted(fonts),
            "qpdf": {"clean": qpdf.returncode == 0 and "WARNING" not in qpdf.stderr, "says": says},
            "pages": [page_of(p, r) for p, r in zip(plumber.pages, pdf.pages)],
        }


def main():
    if len(sys.argv) < 2 or sys.argv[1] in ("-h", "--help"):
        print(__doc__)
        return 2
    for path in sys.argv[1:]:
        print(json.dumps(check(path), ensure_ascii=False))
    return 0


if __name__ == "__main__":
    sys.exit(main())
