#!/usr/bin/env python3
"""Renders bodies with a z-buffer of its own, in numpy, and says how far a vector picture agrees with it.

    python check_pictures.py FILE

reads one JSON object for each picture on a line of its own:

    name, right, up, toward   the camera
    bodies                    [{corners, triangles}, ...]
    low, step, columns, rows  the raster: centre of the lower left pixel, size of a pixel, how many
    seen                      for each pixel, row by row from below, the number of the body that the picture shows there
                              in runs [count, body]; -1 where it shows none
    visible, hidden           places on the picture's visible and hidden lines: [x, y, nearness]

and prints for each `name`, `pixels` (those that any body covers), `wrong` (of them and of those that the picture fills,
where the two differ), `lines` (places looked at) and `wrong_lines` (where a visible place lies behind all that the z-buffer
has around it, or a hidden one before it).

Needs numpy.
"""

import json
import sys

import numpy as np


def rendered(picture):
    axes = np.array([picture["right"], picture["up"], picture["toward"]])
    columns, rows, step = picture["columns"], picture["rows"], picture["step"]
    low = np.array(picture["low"])
    depth = np.full((rows, columns), -np.inf)
    body = np.full((rows, columns), -1, dtype=int)
    for number, one in enumerate(picture["bodies"]):
        flat = np.array(one["corners"]) @ axes.T
        flat[:, :2] = (flat[:, :2] - low) / step
        corners = flat[np.array(one["triangles"], dtype=int)]
        first, second, third = corners[:, 0], corners[:, 1], corners[:, 2]
        edge_a, edge_b = second - first, third - first
        twice = edge_a[:, 0] * edge_b[:, 1] - edge_a[:, 1] * edge_b[:, 0]
        least = np.ceil(corners[:, :, :2].min(axis=1)).astype(int)
        most = np.floor(corners[:, :, :2].max(axis=1)).astype(int)
        least = np.maximum(least, 0)
        most = np.minimum(most, [columns - 1, rows - 1])
        wanted = (twice > 1e-12) & (least <= most).all(axis=1)
        for index in np.flatnonzero(wanted):
            (x0, y0), (x1, y1) = least[index], most[index]
            xs, ys = np.meshgrid(np.arange(x0, x1 + 1), np.arange(y0, y1 + 1))
            px, py = xs - first[index, 0], ys - first[index, 1]
            a, b = edge_a[index], edge_b[index]
            u = (px * b[1] - py * b[0]) / twice[index]
            v = (a[0] * py - a[1] * px) / twice[index]
            near = first[index, 2] + u * a[2] + v * b[2]
            block = (slice(y0, y1 + 1), slice(x0, x1 + 1))
            closer = (u >= 0) & (v >= 0) & (u + v <= 1) & (near > depth[block] + 1e-6)
            depth[block] = np.where(closer, near, depth[block])
            body[block] = np.where(closer, number, body[block])
    return depth, body


def judged(picture):
    depth, body = rendered(picture)
    columns, rows, step = picture["columns"], picture["rows"], picture["step"]
    seen = np.concatenate([np.full(count, number) for count, number in picture["seen"]])
    seen = seen.reshape(rows, columns)
    covered = (body >= 0) | (seen >= 0)
    wrong = int(((body != seen) & covered).sum())
    looked, wrong_lines = 0, 0
    low = picture["low"]
    # A line lies between pixels: what is around it is asked, with room for how steep a side may be.
    for kind in ("visible", "hidden"):
        for x, y, near in picture[kind]:
            column, row = round((x - low[0]) / step), round((y - low[1]) / step)
            if not (1 <= column < columns - 1 and 1 <= row < rows - 1):
                continue
            around = depth[row - 1 : row + 2, column - 1 : column + 2]
            looked += 1
            room = 5 * step
            if kind == "visible" and around.min() > near + room:
                wrong_lines += 1
            if kind == "hidden" and around.max() < near - room:
                wrong_lines += 1
    return {
        "name": picture["name"],
        "pixels": int(covered.sum()),
        "wrong": wrong,
        "lines": looked,
        "wrong_lines": wrong_lines,
    }


def main():
    if len(sys.argv) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    with open(sys.argv[1], encoding="utf-8") as pictures:
        for line in pictures:
            print(json.dumps(judged(json.loads(line))))
    return 0


if __name__ == "__main__":
    sys.exit(main())
