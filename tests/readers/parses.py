"""Whether files parse: DXF with ezdxf (strictly), PDF with pikepdf, SVG with lxml, JSON and YAML records with json.

Prints a line of JSON for each file of the folders given: its path, and what is wrong with it or null.
"""

import json
import sys
from pathlib import Path

import ezdxf
import pikepdf
from lxml import etree


def parse(path):
    if path.suffix == ".dxf":
        ezdxf.readfile(path)
    elif path.suffix == ".pdf":
        with pikepdf.open(path) as document:
            for page in document.pages:
                for content in page.obj.Contents if isinstance(page.obj.Contents, pikepdf.Array) else [page.obj.Contents]:
                    content.read_bytes()
    elif path.suffix == ".svg":
        etree.parse(str(path))
    elif path.suffix == ".json":
        json.loads(path.read_text(encoding="utf-8"))
    elif path.suffix in (".csv", ".txt", ".html"):
        path.read_text(encoding="utf-8")
    else:
        raise ValueError(f"no reader for {path.suffix}")


for folder in sys.argv[1:]:
    for path in sorted(Path(folder).rglob("*")):
        if path.is_file():
            wrong = None
            try:
                parse(path)
            except Exception as error:  # whatever a reader says is the answer
                wrong = f"{type(error).__name__}: {error}"
            print(json.dumps({"path": str(path), "wrong": wrong}))
