#!/usr/bin/env python3
"""Loads glTF files with two readers that have nothing to do with Jigless, and says what they saw.

    python check_glb.py FILE...

prints one JSON object for each file on a line of its own:

    file        the path as given
    nodes       name -> the box around the node in the scene as trimesh places it, [[x, y, z], [x, y, z]] in metres
    watertight  whether every mesh is closed once corners at the same place are one, by trimesh
    bounds      the box around the scene, by trimesh
    extras      name -> extras of the node, by pygltflib
    materials   names of the materials, by pygltflib

Needs trimesh, numpy and pygltflib.
"""

import json
import sys

import numpy as np
import pygltflib
import trimesh


def seen(path):
    scene = trimesh.load(path, file_type="glb", force="scene")
    nodes, closed = {}, True
    for name in scene.graph.nodes_geometry:
        transform, geometry = scene.graph[name]
        mesh = scene.geometry[geometry].copy()
        corners = trimesh.transform_points(mesh.vertices, transform)
        nodes[name] = [corners.min(axis=0).tolist(), corners.max(axis=0).tolist()]
        welded = trimesh.Trimesh(vertices=np.round(mesh.vertices, 7), faces=mesh.faces, process=False)
        welded.merge_vertices(merge_norm=True, merge_tex=True)
        closed = closed and bool(welded.is_watertight)
    document = pygltflib.GLTF2().load_binary(path)
    return {
        "file": path,
        "nodes": nodes,
        "watertight": closed,
        "bounds": np.asarray(scene.bounds).tolist(),
        "extras": {node.name: node.extras for node in document.nodes},
        "materials": [material.name for material in document.materials],
    }


def main():
    if len(sys.argv) < 2:
        print(__doc__, file=sys.stderr)
        return 2
    for path in sys.argv[1:]:
        print(json.dumps(seen(path)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
