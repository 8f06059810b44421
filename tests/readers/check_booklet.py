#!/usr/bin/env python3
"""Reads booklets and pages back: what their tables, steps and pictures say.

    check_booklet.py FILE...

A line of JSON for each file, a PDF or a page of HTML, in the order given. Of a PDF its tree of elements is read, and the
letters that belong to each of them; of a page its elements. Both come to the same: `language`, `title`, `tables` (a list of
rows of cells for each), `headings`, `figures` (what stands in place of each picture), `photographs` (width and height of each in dots), `links`; of a PDF also `pages`,
`fonts` (name, embedded) and `bookmarks`. Needs pdfplumber, pikepdf, pillow and lxml.
"""

import base64
import io
import json
import re
import sys

import lxml.html
import PIL.Image
import pdfplumber
import pikepdf


def squeezed(words):
    return " ".join(words.replace("\u00a0", " ").split())


def words_of_page(page):
    """The words of each marked piece of a page; a space where a line or a piece ends."""
    pieces, last = {}, {}
    for char in page.chars:
        mcid = char.get("mcid")
        if mcid is None:
            continue
        words = pieces.setdefault(mcid, [])
        before = last.get(mcid)
        if before and (abs(before["bottom"] - char["bottom"]) > 1 or char["x0"] - before["x1"] > 1):
            words.append(" ")
        words.append(char["text"])
        last[mcid] = char
    return {mcid: "".join(words) for mcid, words in pieces.items()}


def of_pdf(path):
    found = {"tables": [], "headings": [], "figures": []}
    with pdfplumber.open(path) as pdf:
        words = {page.page_number: words_of_page(page) for page in pdf.pages}

        def pieces(element):
            page = element.get("page_number")
            own = [(page, mcid) for mcid in element.get("mcids", [])]
            return own + [piece for child in element.get("children", []) for piece in pieces(child)]

        def said(element):
            # Links stand between the words of what they are in: pieces are numbered as they are read.
            said = " ".join(words.get(page, {}).get(mcid, "") for page, mcid in sorted(pieces(element)))
            return re.sub(r" +([,;.])", r"\1", said)

        def walk(element):
            kind = element.get("type")
            if kind == "Table":
                rows = [row for row in element.get("children", []) if row.get("type") == "TR"]
                found["tables"].append(
                    [[squeezed(said(cell)) for cell in row.get("children", [])] for row in rows]
                )
            elif kind in ("H1", "H2", "H3"):
                found["headings"].append(squeezed(said(element)))
            elif kind == "Figure":
                found["figures"].append(element.get("alt_text", ""))
            for child in element.get("children", []):
                walk(child)

        for element in pdf.structure_tree:
            walk(element)
        found["pages"] = len(pdf.pages)
    with pikepdf.open(path) as pdf:
        found["language"] = str(pdf.Root.Lang)
        found["title"] = str(pdf.docinfo["/Title"])
        found["links"] = sum(len(page.get("/Annots", [])) for page in pdf.pages)
        with pdf.open_outline() as outline:
            found["bookmarks"] = [item.title for item in outline.root]
        fonts = {}
        for page in pdf.pages:
            for font in page.Resources.Font.values():
                inner = font.DescendantFonts[0]
                fonts[str(font.BaseFont)] = "/FontFile2" in inner.FontDescriptor and "/ToUnicode" in font
        found["fonts"] = sorted(fonts.items())
        images = pdf.pages[0].Resources.get("/XObject", {})
        found["photographs"] = sorted(pikepdf.PdfImage(image).as_pil_image().size for image in images.values())
    return found


def size_of(address):
    """Width and height of a picture that stands in its own address."""
    return PIL.Image.open(io.BytesIO(base64.b64decode(address.partition(";base64,")[2]))).size


def of_page(path):
    page = lxml.html.parse(path).getroot()

    def text(element):
        return squeezed(element.text_content())

    tables = [
        [[text(cell) for cell in row.iter("th", "td")] for row in table.iter("tr")]
        for table in page.iter("table")
    ]
    return {
        "tables": tables,
        "headings": [text(head) for head in page.iter("h1", "h2", "h3")],
        "figures": [figure.get("aria-label") or figure.get("alt", "") for figure in page.iter("svg", "img")],
        "photographs": sorted(size_of(img.get("src")) for img in page.iter("img")),
        "language": page.get("lang"),
        "title": page.findtext("head/title"),
        "links": sum(1 for _ in page.iter("a")),
        "loads": sorted(
            {
                e.get(k)
                for e in page.iter()
                for k in ("src", "srcset", "data")
                if e.get(k) and not e.get(k).startswith("data:image/")
            }
        ),
        "ids": [e.get("id") for e in page.iter() if isinstance(e.tag, str) and e.get("id")],
        "scripts": sum(1 for _ in page.iter("script")),
        "policy": [e.get("content") for e in page.iter("meta") if e.get("http-equiv")],
    }


for path in sys.argv[1:]:
    print(json.dumps(of_pdf(path) if path.endswith(".pdf") else of_page(path)))
