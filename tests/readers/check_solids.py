#!/usr/bin/env python3
"""Measures closed bodies with trimesh, which has nothing to do with Jigless.

    python check_solids.py FILE

reads one JSON object for each body on a line of its own, `name`, `corners` [[x, y, z], ...] and `triangles`
[[a, b, c], ...], and prints for each of them `name`, `watertight`, `winding` (whether all triangles look outward),
`volume`, `area` and `centre` (of mass).

Needs trimesh and numpy.
"""

import json
import sys

import numpy as np
import trimesh


def measured(line):
    body = json.loads(line)
    mesh = trimesh.Trimesh(
        vertices=np.array(body["corners"], dtype=float),
        faces=np.array(body["triangles"], dtype=int),
        process=False,
        validate=False,
    )
    return {
        "name": body["name"],
        "watertight": bool(mesh.is_watertight),
        "winding": bool(mesh.is_winding_consistent and mesh.volume > 0),
        "volume": float(mesh.volume),
        "area": float(mesh.area),
        "centre": [float(x) for x in mesh.center_mass],
    }


def main():
    if len(sys.argv) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    with open(sys.argv[1], encoding="utf-8") as bodies:
        for line in bodies:
            print(json.dumps(measured(line)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
