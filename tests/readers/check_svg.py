#!/usr/bin/env python3
"""What a browser makes of SVG drawings at 96 pixels to the inch.

    check_svg.py FILE...

Prints one line of JSON for each file, in the order given. All lengths are millimetres as laid out by headless Chromium
(its CSS pixels times 25.4/96); x to the right and y downward from the upper left corner of the image, unless said:

    file        its path, as given
    size_mm     width and height of the image
    groups      ids of the groups, in order
    circles     {"group", "centre_mm", "diameter_mm"}
    paths       {"group", "box_mm"}: [x0, y0, x1, y1] of the middle line, without the pen
    texts       {"group", "text", "box_mm"}
    outline_mm  box of the largest path or circle of the group `contour`
    holes       circles of the group `holes`, {"part_mm", "diameter_mm"}, with the centre measured upward and to the
                right from the lower left corner of outline_mm
    check_mm    length of the check line, or null
    transforms  how many elements carry a transform
    overlaps    texts that touch another text or reach out of the image

Needs Chromium on the path, as `chromium` or as CHROMIUM says.
"""

import html
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

SCRIPT = r"""
const MM = 25.4 / 96;
const report = [];
for (const holder of document.querySelectorAll('.sheet')) {
  const svg = holder.querySelector('svg');
  const root = svg.getBoundingClientRect();
  const place = (node) => {
    const m = node.getScreenCTM(), b = node.getBBox();
    const xs = [], ys = [];
    for (const [x, y] of [[b.x, b.y], [b.x + b.width, b.y], [b.x, b.y + b.height], [b.x + b.width, b.y + b.height]]) {
      const p = new DOMPoint(x, y).matrixTransform(m);
      xs.push((p.x - root.left) * MM); ys.push((p.y - root.top) * MM);
    }
    return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  };
  const group = (node) => node.parentNode.id || '';
  const of = (name) => [...svg.querySelectorAll(name)];
  report.push({
    size_mm: [root.width * MM, root.height * MM],
    groups: of('g').map((g) => g.id),
    circles: of('circle').map((c) => {
      const b = place(c);
      return {group: group(c), centre_mm: [(b[0] + b[2]) / 2, (b[1] + b[3]) / 2], diameter_mm: b[2] - b[0]};
    }),
    paths: of('path').map((p) => ({group: group(p), box_mm: place(p)})),
    texts: of('text').map((t) => ({group: group(t), text: t.textContent.trim(), box_mm: place(t)})),
    transforms: of('[transform]').length,
  });
}
document.title = 'done';
const out = document.createElement('pre');
out.id = 'report';
out.textContent = JSON.stringify(report);
document.body.replaceChildren(out);
"""


def measure(paths):
    sheets = "".join(
        f'<div class="sheet">{pathlib.Path(p).read_text(encoding="utf-8")}</div>' for p in paths
    )
    page = f"<!doctype html><meta charset=utf-8><style>body{{margin:0}}</style><body>{sheets}<script>{SCRIPT}</script>"
    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder, "page.html")
        file.write_text(page, encoding="utf-8")
        dom = subprocess.run(
            [
                os.environ.get("CHROMIUM", "chromium"),
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--no-first-run",
                "--force-device-scale-factor=1",
                f"--user-data-dir={folder}/profile",
                "--dump-dom",
                file.as_uri(),
            ],
            capture_output=True,
            text=True,
            timeout=180,
            check=True,
        ).stdout
    found = re.search(r'<pre id="report">(.*?)</pre>', dom, re.S)
    if not found:
        raise SystemExit("the browser gave no report")
    return json.loads(html.unescape(found.group(1)))


def area(box):
    return (box[2] - box[0]) * (box[3] - box[1])


def overlap(a, b, slack=0.05):
    return a[0] + slack < b[2] and b[0] + slack < a[2] and a[1] + slack < b[3] and b[1] + slack < a[3]


def letters(box):
    """The box of a text without the typeface's room for accents: a browser gives the whole line."""
    tall = box[3] - box[1]
    wide = box[2] - box[0]
    if wide >= tall:
        return [box[0], box[1] + 0.12 * tall, box[2], box[3] - 0.05 * tall]
    return [box[0] + 0.12 * wide, box[1], box[2] - 0.05 * wide, box[3]]


def finish(path, r):
    contours = [p["box_mm"] for p in r["paths"] if p["group"] == "contour"]
    contours += [
        [
            c["centre_mm"][0] - c["diameter_mm"] / 2,
            c["centre_mm"][1] - c["diameter_mm"] / 2,
            c["centre_mm"][0] + c["diameter_mm"] / 2,
            c["centre_mm"][1] + c["diameter_mm"] / 2,
        ]
        for c in r["circles"]
        if c["group"] == "contour"
    ]
    outline = max(contours, key=area, default=None)
    holes = []
    if outline:
        for c in r["circles"]:
            if c["group"] == "holes":
                x, y = c["centre_mm"]
                holes.append({"part_mm": [x - outline[0], outline[3] - y], "diameter_mm": c["diameter_mm"]})
    checks = [p["box_mm"][2] - p["box_mm"][0] for p in r["paths"] if p["group"] == "check-bars"]
    overlaps = []
    for i, t in enumerate(r["texts"]):
        for other in r["texts"][i + 1 :]:
            if overlap(letters(t["box_mm"]), letters(other["box_mm"])):
                overlaps.append({"text": t["text"], "with": other["text"]})
        b = t["box_mm"]
        if b[0] < 0 or b[1] < 0 or b[2] > r["size_mm"][0] or b[3] > r["size_mm"][1]:
            overlaps.append({"text": t["text"], "with": "border of the image"})
    return {
        "file": path,
        **r,
        "outline_mm": outline,
        "holes": holes,
        "check_mm": max(checks, default=None),
        "overlaps": overlaps,
    }


def main():
    if len(sys.argv) < 2 or sys.argv[1] in ("-h", "--help"):
        print(__doc__)
        return 2
    paths = sys.argv[1:]
    for path, report in zip(paths, measure(paths)):
        print(json.dumps(finish(path, report), ensure_ascii=False))
    return 0


if __name__ == "__main__":
    sys.exit(main())
