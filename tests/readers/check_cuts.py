#!/usr/bin/env python3
"""Cuts rectangles as the text of cutting pages says, and tells what comes of it.

    check_cuts.py FILE...

Reads nothing but the words of each PDF, line by line, as who stands at the saw reads them. Every sheet and board begins
as the rectangle that `Start with` names; each numbered cut takes the piece that it names off the bench, parts it at the
line of its setting with the blade on the side that is said, and puts back what it makes and leaves. Sizes that the text
states for these are compared with what the cuts give, and never taken in their place.

Prints one line of JSON for each file, in the order given:

    file       its path, as given
    unit       mm or in, as the first page says
    parts      the list of parts: {"mark", "count", "size_mm"}, across and upward
    pieces     what the cuts give: {"name", "mark", "size_mm"}
    offcuts    {"name", "size_mm"}
    cuts       how many cuts were made
    settings   how many settings were said
    guides     how many places of the guide were said; each is held against the saw's offset on the first page
    proved     how many stocks are said to be proved the least
    worst_mm   the largest difference between a size that is stated and the size that the cuts give
    faults     what could not be followed: words not understood, pieces not on the bench, lines outside of them
    smallest   the smallest type on any page, in points
    outside    texts that reach out of the paper's printable area of 12 mm, with their pages

Needs pdfplumber.
"""

import json
import re
import sys

import pdfplumber

MM_PER_POINT = 25.4 / 72
NUMBER = r"~?\d+(?:\.\d+)?(?: \d+/\d+)?|~?\d+/\d+"
SIZE = rf"({NUMBER})(?: \([+-][\d.]+ mm\))? × ({NUMBER})(?: \([+-][\d.]+ mm\))?"
NAME = r"(sheet|board \d+|waste|O\d+|[A-HJ-NP-Z]+\d*)(?: \(.*?\))?"

START = re.compile(rf"Start with (sheet|board \d+), {SIZE}\. Each cut takes ({NUMBER})\.")
SETTING = re.compile(
    rf"Setting (\d+)(?:, continued)?\. (?:Trim, cut|Break down, cut|Cut) (along|across), "
    rf"line ({NUMBER})(?: \([+-][\d.]+ mm\))? from the (?:(left|bottom) edge|end), blade (beyond|before) it\."
)
GUIDE = re.compile(rf"Guide (at )?({NUMBER})(?: \([+-][\d.]+ mm\))?(?: off the edge)?, (beyond|before) the blade\.")
OFFSET = re.compile(rf"The guide: its place is worked out for ({NUMBER})(?: \([+-][\d.]+ mm\))? from")
MAKES = re.compile(rf"(\d+) (Sheet|Board \d+): makes {NAME}, {SIZE}; leaves (?:nothing|{NAME}, {SIZE})\.")
KEEPS = re.compile(
    rf"(\d+) (Sheet|Board \d+): keeps {NAME}, {SIZE}; (?:only dust|waste, {SIZE}) falls off\."
)
THEN = re.compile(rf"(?:The )?(sheet|Board \d+) is then {NAME}, {SIZE}\.")
PART = re.compile(rf"^([A-HJ-NP-Z]+) (\d+) (.*?)\s*{SIZE}(?: .*)?$")


def number(words):
    """A number as it is written: 12.5, 3 1/2, ~5/8."""
    total = 0.0
    for word in words.lstrip("~").split():
        over, _, under = word.partition("/")
        total += float(over) / float(under) if under else float(over)
    return total


def lines_of(page):
    """The words of a page from the top, line by line: those on one level, from the left."""
    levels = {}
    for word in page.extract_words(keep_blank_chars=False, use_text_flow=False, extra_attrs=["upright"]):
        if word["upright"]:
            levels.setdefault(round(word["bottom"], 0), []).append(word)
    lines = []
    for bottom in sorted(levels):
        words = sorted(levels[bottom], key=lambda word: word["x0"])
        lines.append(" ".join(word["text"] for word in words))
    # What the work can do to people stands over the foot of every page.
    cautions = [at for at, line in enumerate(lines) if line.startswith("Cautions: ")]
    return lines[: cautions[0]] + lines[-1:] if cautions else lines


class Saw:
    """The bench: rectangles by name."""

    def __init__(self, unit):
        self.unit = unit
        self.mm = 25.4 if unit == "in" else 1.0
        self.bench = {}
        self.kerf = 0.0
        self.setting = None
        self.pieces = []
        self.offcuts = []
        self.cuts = 0
        self.settings = 0
        self.offset = None
        self.guides = 0
        self.worst = 0.0
        self.faults = []

    def length(self, words):
        return number(words) * self.mm

    def compare(self, what, have, said):
        for a, words in zip(have, said):
            self.worst = max(self.worst, abs(a - self.length(words)))
        return have

    def start(self, name, width, height, kerf):
        for left in self.bench:
            self.faults.append(f"{left} is still on the bench when {name} begins")
        self.bench = {name: (self.length(width), self.length(height))}
        self.kerf = self.length(kerf)
        self.setting = None

    def put(self, name, size, said):
        self.compare(name, size, said)
        if min(size) < 0:
            self.faults.append(f"{name} has no size: {size}")
        if name == "waste":
            return
        if name == "sheet" or name.startswith("board"):
            if name in self.bench:
                self.faults.append(f"there are two of {name}")
            self.bench[name] = size
        elif name.startswith("O"):
            self.offcuts.append({"name": name, "size_mm": size})
        else:
            mark = name.rstrip("0123456789")
            self.pieces.append({"name": name, "mark": mark, "size_mm": size})

    def part(self, of):
        """Parts a piece of the bench at the line of the setting: what is before the blade, and what is beyond it."""
        name = of.lower()
        if name not in self.bench or self.setting is None:
            self.faults.append(f"{of} is not on the bench, or nothing is set")
            return None
        self.cuts += 1
        direction, line, blade = self.setting
        size = self.bench.pop(name)
        axis = 0 if direction == "along" else 1
        near, far = (line, line + self.kerf) if blade == "beyond" else (line - self.kerf, line)
        if line > size[axis] + 0.01:
            self.faults.append(f"the line at {line} is outside of {of}, {size}")
        sized = lambda extent: tuple(extent if i == axis else size[i] for i in (0, 1))
        return sized(near), sized(size[axis] - far)

    def makes(self, m):
        parts = self.part(m[2])
        if parts is None:
            return
        if self.setting[2] != "beyond":
            self.faults.append(f"cut {m[1]} makes something on the waste side")
        self.put(m[3], parts[0], (m[4], m[5]))
        if m[6]:
            self.put(m[6], parts[1], (m[7], m[8]))
        elif max(parts[1][0] * parts[1][1], 0) > 0 and min(parts[1]) > 0.01:
            self.faults.append(f"cut {m[1]} leaves something: {parts[1]}")

    def keeps(self, m):
        parts = self.part(m[2])
        if parts is None:
            return
        kept, lost = parts if self.setting[2] == "beyond" else parts[::-1]
        self.put(m[3], kept, (m[4], m[5]))
        if m[6]:
            self.put("waste", lost, (m[6], m[7]))

    def then(self, m):
        size = self.bench.pop(m[1].lower(), None)
        if size is None:
            self.faults.append(f"{m[1]} is not on the bench")
        else:
            self.put(m[2], size, (m[3], m[4]))

    def follow(self, words):
        """Does what a run of words says, sentence after sentence; words that are no orders are passed over."""
        at = 0
        orders = [
            (START, lambda m: self.start(*m.groups())),
            (SETTING, self.set),
            (MAKES, self.makes),
            (KEEPS, self.keeps),
            (GUIDE, self.guide),
            (THEN, self.then),
        ]
        while True:
            found = [(m.start(), m, do) for pattern, do in orders if (m := pattern.search(words, at))]
            if not found:
                return words[at:]
            _, m, do = min(found, key=lambda f: f[0])
            self.check_passed(words[at : m.start()])
            do(m)
            at = m.end()

    def check_passed(self, words):
        """No order may be passed over because it was not understood."""
        for sign in ("Setting", "Guide", "makes", "keeps", "leaves", "is then", "Start with"):
            if sign in words:
                self.faults.append(f"not understood: {words.strip()[:200]}")

    def guide(self, m):
        """The edge of the saw's base runs along the guide, and the blade's good side along the line; where the guide is
        on the other side of the blade, the kerf lies between."""
        self.guides += 1
        if self.offset is None or self.setting is None:
            self.faults.append(f"a guide, and no offset or line: {m[0]}")
            return
        _, line, blade = self.setting
        # Where waste is trimmed off before the line, the good side is the far one, and the guide lies there.
        if blade == "before" and m[3] != "beyond":
            self.faults.append(f"{m[0]} lies on the waste")
        wanted = line + self.offset if m[3] == "beyond" else line + self.kerf - self.offset
        # Half a step of each rounded number: line, offset and place.
        place = self.length(m[2]) * (1 if m[1] else -1)
        if abs(place - wanted) > (0.02 if self.unit == "mm" else 1.5 * 25.4 / 64):
            self.faults.append(f"{m[0]} should be at {wanted} mm")

    def set(self, m):
        self.settings += "continued" not in m[0]
        self.setting = (m[2], self.length(m[3]), m[5])


def check(path):
    with pdfplumber.open(path) as pdf:
        first = lines_of(pdf.pages[0])
        unit = "in" if "inches" in " ".join(first[:4]) else "mm"
        saw = Saw(unit)
        parts, proved, text = [], 0, []
        smallest, outside = 1e9, []
        listing = False
        for index, page in enumerate(pdf.pages):
            lines = lines_of(page)
            for c in page.chars:
                smallest = min(smallest, c["size"] if c["upright"] else c["x1"] - c["x0"])
                box = (c["x0"], page.height - c["bottom"], page.width - c["x1"], c["top"])
                if min(box) * MM_PER_POINT < 12.0 and c["text"].strip():
                    outside.append([index + 1, c["text"]])
            # The first lines are the title and what stands beside it, the last is the foot.
            title = [line for line in lines[:2] if line.startswith(("CUTS OF", "CUTTING"))]
            if not title:
                continue
            if title[0].startswith("CUTS OF"):
                text.extend(lines[2:-1])
                continue
            whole = " ".join(lines)
            proved += whole.count("Proved the least")
            for line in lines:
                if line.startswith("mark count"):
                    listing = True
                elif line.startswith("Sheets and boards"):
                    listing = False
                elif listing and (m := PART.match(line)):
                    size = [saw.length(m[4]), saw.length(m[5])]
                    parts.append({"mark": m[1], "count": int(m[2]), "size_mm": size})
            if m := OFFSET.search(whole):
                saw.offset = saw.length(m[1])
        left = saw.follow(" ".join(text))
        saw.check_passed(left)
    for name in saw.bench:
        saw.faults.append(f"{name} is still on the bench at the end")
    return {
        "file": path,
        "unit": unit,
        "parts": parts,
        "pieces": saw.pieces,
        "offcuts": saw.offcuts,
        "cuts": saw.cuts,
        "settings": saw.settings,
        "guides": saw.guides,
        "proved": proved,
        "worst_mm": saw.worst,
        "faults": saw.faults,
        "smallest": smallest,
        "outside": outside,
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
