#!/usr/bin/env python3
"""Reads DXF files with two readers that have nothing to do with Jigless, and says what they saw.

    python check_dxf.py FILE...

prints one JSON object for each file on a line of its own:

    file          the path as given
    acadver       $ACADVER: AC1009 is R12, AC1015 is R2000
    strict_ok     whether ezdxf's strict `readfile` took it
    error         why not, where it did not
    audit_errors  what ezdxf's audit calls an error, as texts
    audit_fixes   what it would have put right, as texts
    name_faults   layer names and other table names that R12 does not allow
    insunits      $INSUNITS: 1 is inch, 4 is millimetre; null where the version has none
    measurement   $MEASUREMENT: 0 is English, 1 is metric; null where the version has none
    layers        name -> colour number, without layer 0
    undeclared    layers that entities use and the table does not declare
    entities      in file order: type, layer, handle, z (greatest distance from the plane z = 0), and
                  centre and radius | closed and vertices [[x, y, bulge], ...] | text, at, height and rotation
    extents       $EXTMIN and $EXTMAX as [[x, y], [x, y]]
    work_extents  the box around all but texts and layers NOTES, HAND_WORK and REFERENCE, by ezdxf; null if empty
    handles_unique, handseed_free
                  no handle occurs twice; $HANDSEED is above every handle
    ogr_count     entities that GDAL's ogrinfo reads; null where ogrinfo is not installed
    ogr_extent    the box around them [xmin, ymin, xmax, ymax], by ogrinfo

It exits with 1 if a file cannot be read strictly, if the audit finds anything, or if one of the two readers sees
another number of entities; with 2 on wrong usage.

Needs ezdxf 1.4 and, for the second opinion, GDAL's ogrinfo.
"""

import json
import re
import shutil
import subprocess
import sys
from collections import Counter

import ezdxf
from ezdxf import bbox

# R12 as strict readers hold it: these characters, at most 31 of them (ezdxf, module r12strict).
NAME_CHARACTERS = set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789$_-")
NOT_WORKED = {"NOTES", "HAND_WORK", "REFERENCE"}


def main(paths):
    """Checks every file; gives the exit code."""
    if not paths:
        print(__doc__, file=sys.stderr)
        return 2
    sound = True
    for path in paths:
        report = check(path)
        print(json.dumps(report, ensure_ascii=False))
        sound = sound and is_sound(report)
    return 0 if sound else 1


def is_sound(report):
    """Whether both readers take the file as it is."""
    return (
        report["strict_ok"]
        and not report["audit_errors"]
        and not report["audit_fixes"]
        and not report["name_faults"]
        and not report["undeclared"]
        and report["handles_unique"]
        and report["handseed_free"]
        and report["ogr_count"] in (None, len(report["entities"]))
    )


def check(path):
    """What the readers see in one file."""
    report = {"file": path, "strict_ok": False}
    try:
        document = ezdxf.readfile(path)
    except Exception as error:  # whatever a reader says no with is the finding
        report["error"] = f"{type(error).__name__}: {error}"
        return report
    report["strict_ok"] = True
    audit = document.audit()
    header = document.header
    space = list(document.modelspace())
    # Reading adds layer Defpoints.
    layers = {
        layer.dxf.name: layer.dxf.color
        for layer in document.layers
        if layer.dxf.name not in ("0", "Defpoints")
    }
    report.update(
        acadver=raw_header(path).get("$ACADVER", [None])[0],
        audit_errors=[entry.message for entry in audit.errors],
        audit_fixes=[entry.message for entry in audit.fixes],
        name_faults=[name for name in layers if not is_legal_name(name)],
        # ezdxf makes up what a version has not; the file itself tells.
        insunits=whole_number(raw_header(path).get("$INSUNITS")),
        measurement=whole_number(raw_header(path).get("$MEASUREMENT")),
        layers=layers,
        undeclared=sorted({entity.dxf.layer for entity in space} - set(layers)),
        entities=[describe(entity) for entity in space],
        extents=[list(header["$EXTMIN"])[:2], list(header["$EXTMAX"])[:2]],
        work_extents=work_extents(space),
    )
    handles, seed = raw_handles(path)
    report["handles_unique"] = all(count == 1 for count in Counter(handles).values())
    report["handseed_free"] = seed is not None and all(handle < seed for handle in handles)
    report.update(second_opinion(path))
    return report


def describe(entity):
    """An entity in plain data."""
    kind = entity.dxftype()
    seen = {"type": kind, "layer": entity.dxf.layer, "handle": entity.dxf.handle}
    if kind == "CIRCLE":
        centre = entity.dxf.center
        seen.update(centre=[centre.x, centre.y], radius=entity.dxf.radius, z=abs(centre.z))
    elif kind == "LWPOLYLINE":
        vertices = [list(vertex) for vertex in entity.get_points("xyb")]
        seen.update(closed=bool(entity.closed), vertices=vertices, z=abs(entity.dxf.elevation))
    elif kind == "POLYLINE":
        vertices = [[v.dxf.location.x, v.dxf.location.y, v.dxf.bulge] for v in entity.vertices]
        height = max((abs(v.dxf.location.z) for v in entity.vertices), default=0.0)
        seen.update(closed=bool(entity.is_closed), vertices=vertices, z=height)
        strays = {v.dxf.layer for v in entity.vertices} - {entity.dxf.layer}
        if strays:
            seen["vertex_layers"] = sorted(strays)
    elif kind == "TEXT":
        at = entity.dxf.align_point if entity.dxf.hasattr("align_point") else entity.dxf.insert
        seen.update(
            text=entity.plain_text(),
            at=[at.x, at.y],
            height=entity.dxf.height,
            rotation=entity.dxf.rotation,
            z=abs(at.z),
        )
    return seen


def work_extents(space):
    """The box around what a machine would work."""
    work = [e for e in space if e.dxf.layer not in NOT_WORKED and e.dxftype() != "TEXT"]
    box = bbox.extents(work, fast=False)
    if not box.has_data:
        return None
    return [[box.extmin.x, box.extmin.y], [box.extmax.x, box.extmax.y]]


def is_legal_name(name):
    """Whether R12 allows a name."""
    return 0 < len(name) <= 31 and set(name) <= NAME_CHARACTERS


def raw_groups(path):
    """The groups of a file as (code, value), read without any library."""
    with open(path, encoding="latin-1", newline="") as file:
        lines = file.read().split("\r\n")
    codes, values = lines[0::2], lines[1::2]
    return [(int(code), value) for code, value in zip(codes, values)]


def raw_header(path):
    """Header variables as the file has them: name -> values."""
    variables, name = {}, None
    for code, value in raw_groups(path):
        if (code, value) == (0, "ENDSEC"):
            break
        if code == 9:
            name = value
            variables[name] = []
        elif name:
            variables[name].append(value)
    return variables


def raw_handles(path):
    """Every handle that the file gives away, and its $HANDSEED."""
    handles, record = [], None
    for code, value in raw_groups(path):
        if code == 0:
            record = value
        elif record not in (None, "SECTION") and code == (105 if record == "DIMSTYLE" else 5):
            handles.append(int(value, 16))
    seed = raw_header(path).get("$HANDSEED")
    return handles, int(seed[0], 16) if seed else None


def whole_number(values):
    """The first of some values as a whole number; None for none."""
    return int(values[0]) if values else None


def second_opinion(path):
    """What GDAL sees."""
    tool = shutil.which("ogrinfo")
    if tool is None:
        return {"ogr_count": None, "ogr_extent": None}
    run = subprocess.run(
        [tool, "-ro", "-al", "-so", path], capture_output=True, text=True, check=False
    )
    counts = re.findall(r"^Feature Count: (\d+)", run.stdout, re.MULTILINE)
    if run.returncode != 0 or not counts:
        return {"ogr_count": -1, "ogr_extent": None, "ogr_messages": run.stderr.strip()}
    number = r"(-?[\d.]+)"
    extent = re.search(rf"^Extent: \({number}, {number}\) - \({number}, {number}\)", run.stdout, re.MULTILINE)
    return {
        "ogr_count": sum(int(count) for count in counts),
        "ogr_extent": [float(value) for value in extent.groups()] if extent else None,
        "ogr_messages": run.stderr.strip(),
    }


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
