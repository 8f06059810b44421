"""Proves random cabinets by plain arithmetic on boxes and straight lines, without any of our code.

Reads a cabinet a line as JSON: parts with their sizes, places and holes as they are drawn, and which parts are joined.
Works out for itself where every piece and hole is in the whole, and prints a JSON line for each fault:

- a screw whose tip is outside wood, or that passes through air on its way;
- two holes or screws of one piece that run into each other;
- a piece that cannot come in: in all six directions something is ahead of it that was there before;
- a screw that goes into another piece and that a straight driver cannot reach when both are there;
- a piece that no chain of joints, runners, hinges or shelf pins joins to what stands on the floor.
"""

import json
import math
import sys

DIRECTIONS = {
    "right": (0, 1),
    "left": (0, -1),
    "up": (1, 1),
    "down": (1, -1),
    "front": (2, 1),
    "back": (2, -1),
}
AIR = 1.05
# What a straight driver takes behind the face, in millimetres, as the plan's check says it.
DRIVER = 150.0
EXACT = 1e-6


def vector(word):
    axis, sign = DIRECTIONS[word]
    return [sign if axis == i else 0 for i in range(3)]


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def along(a, b, share):
    return [a[i] + (b[i] - a[i]) * share for i in range(3)]


def length(a, b):
    return math.dist(a, b)


class Piece:
    """A part in one of its places."""

    def __init__(self, part, number, place):
        self.part, self.number = part, number
        self.x, self.y = vector(place["width"]), vector(place["height"])
        self.front = cross(self.x, self.y)
        size = [(self.x, part["w"]), (self.y, part["h"]), (self.front, part["t"])]
        low = place["at"]
        self.low = list(low)
        self.high = list(low)
        for direction, extent in size:
            axis = next(i for i in range(3) if direction[i])
            self.high[axis] += extent
        # The corner of the front face at which x and y begin.
        self.origin = list(low)
        for direction, extent in size[:2]:
            axis = next(i for i in range(3) if direction[i])
            if direction[axis] < 0:
                self.origin[axis] += extent
        axis = next(i for i in range(3) if self.front[i])
        if self.front[axis] > 0:
            self.origin[axis] += part["t"]

    def point(self, x, y, depth):
        return [self.origin[i] + x * self.x[i] + y * self.y[i] - depth * self.front[i] for i in range(3)]

    def holds(self, point, margin=0.0):
        return all(self.low[i] - margin <= point[i] <= self.high[i] + margin for i in range(3))

    def passed(self, a, b):
        """Between which shares of the way from a to b the box is passed."""
        start, stop = 0.0, 1.0
        for i in range(3):
            run = b[i] - a[i]
            low, high = self.low[i] - EXACT, self.high[i] + EXACT
            if abs(run) < 1e-12:
                if not low <= a[i] <= high:
                    return None
                continue
            one, two = (low - a[i]) / run, (high - a[i]) / run
            start, stop = max(start, min(one, two)), min(stop, max(one, two))
        return (start, stop) if start <= stop else None

    def near(self, other, within):
        return all(
            self.low[i] - within <= other.high[i] and other.low[i] - within <= self.high[i] for i in range(3)
        )

    def lines(self):
        """Every bore: where it begins and ends, its radius, and the length of what goes into it."""
        part = self.part
        for drill in part["drills"]:
            t = part["t"]
            deep = t if drill["depth"] is None else drill["depth"]
            depth = (lambda d: d) if drill["face"] == "front" else (lambda d: t - d)
            begin = self.point(drill["x"], drill["y"], depth(0))
            end = self.point(drill["x"], drill["y"], depth(deep))
            yield begin, end, drill["d"] / 2, drill["screw"], drill["depth"] is None
        for hole in part["edges"]:
            at = {
                "left": lambda d: (d, hole["along"]),
                "right": lambda d: (part["w"] - d, hole["along"]),
                "bottom": lambda d: (hole["along"], d),
                "top": lambda d: (hole["along"], part["h"] - d),
            }[hole["edge"]]
            begin = self.point(*at(0), hole["front"])
            end = self.point(*at(hole["depth"]), hole["front"])
            yield begin, end, hole["d"] / 2, hole["screw"], False
        for bore in part["pockets"]:
            t = part["t"]
            depth = (lambda d: d) if bore["face"] == "front" else (lambda d: t - d)
            entry = self.point(*bore["entry"], depth(0))
            out = self.point(*bore["exit"], depth(bore["exit_depth"]))
            whole = length(entry, out)
            shoulder = along(entry, out, bore["shoulder"] / whole)
            yield entry, shoulder, bore["d"] / 2, None, False
            yield shoulder, out, bore["pilot"] / 2, bore["screw"], True


def dot(a, b):
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def less(a, b):
    return [a[0] - b[0], a[1] - b[1], a[2] - b[2]]


def segments_apart(a, b, c, d):
    """The shortest distance between two straight pieces: where both are free it is found in one step, else at an end."""
    one, two, off = less(b, a), less(d, c), less(a, c)
    aa, bb, ab = dot(one, one), dot(two, two), dot(one, two)
    ao, bo = dot(one, off), dot(two, off)
    clamp = lambda share: min(1.0, max(0.0, share))
    over = aa * bb - ab * ab
    best = math.inf
    shares = [0.0, 1.0]
    if over > 1e-12 * aa * bb:
        shares.append(clamp((ab * bo - bb * ao) / over))
    # On the one piece its ends and where the lines are nearest, with the nearest place on the other, and back.
    for share in shares:
        there = clamp((bo + share * ab) / bb)
        back = clamp((there * ab - ao) / aa)
        best = min(best, length(along(a, b, back), along(c, d, there)))
    return best


def parallel(a, b, c, d):
    one = [(b[i] - a[i]) / length(a, b) for i in range(3)]
    two = [(d[i] - c[i]) / length(c, d) for i in range(3)]
    return abs(abs(sum(one[i] * two[i] for i in range(3))) - 1) < 1e-9, one


def meet(one, other):
    (a, b, r, *_), (c, d, s, *_) = one, other
    same, run = parallel(a, b, c, d)
    if same:
        off = [c[i] - a[i] for i in range(3)]
        ahead = sum(off[i] * run[i] for i in range(3))
        beside = math.sqrt(max(0.0, sum(v * v for v in off) - ahead * ahead))
        if beside < 0.75:
            return False
        far = ahead + sum((d[i] - c[i]) * run[i] for i in range(3))
        overlap = min(length(a, b), max(ahead, far)) - max(0.0, min(ahead, far))
        return overlap > EXACT and beside < r + s - EXACT
    return segments_apart(a, b, c, d) < min(r + s, 12.0) - 0.05


def screw_faults(pieces, piece, line):
    begin, end, _, screw, through = line
    if screw is None:
        return
    run = [(end[i] - begin[i]) / length(begin, end) for i in range(3)]
    tip = [begin[i] + run[i] * screw for i in range(3)]
    if not through:
        if not piece.holds(tip):
            yield "the tip of a screw comes out of its own part"
        return
    # Where the way is in the box of some piece, from piece to piece; boxes may stand apart by the play of a panel.
    inside = sorted(filter(None, (other.passed(begin, tip) for other in pieces)))
    reached = 0.0
    for start, stop in inside:
        if (start - reached) * screw > AIR:
            break
        reached = max(reached, stop)
    if (1.0 - reached) * screw > AIR:
        yield "a screw passes through air or comes out"
        return
    if not any(other is not piece and other.holds(tip) for other in pieces):
        yield "the tip of a screw is in no other part"


def reachable(pieces, joints):
    linked = {number: set() for number in range(len(pieces))}

    def link(i, j):
        linked[i].add(j)
        linked[j].add(i)

    joined = {frozenset(pair) for pair in joints}
    for i, one in enumerate(pieces):
        for j in range(i + 1, len(pieces)):
            other = pieces[j]
            ids = frozenset((one.part["id"], other.part["id"]))
            if ids in joined and one.near(other, 0.01):
                link(i, j)
            # What lies by its own weight is held by what it touches.
            if (one.part["loose"] or other.part["loose"]) and one.near(other, 0.01):
                link(i, j)
            if one.near(other, 45) and (
                one.part["runner"] and other.part["runner"]
                or one.part["hinged"] and other.part["plates"]
                or other.part["hinged"] and one.part["plates"]
                or one.part["pinned"] and other.part["pins"]
                or other.part["pinned"] and one.part["pins"]
            ):
                link(i, j)
    floor = min(piece.low[1] for piece in pieces)
    waiting = [i for i, piece in enumerate(pieces) if piece.low[1] <= floor + 1]
    found = set(waiting)
    while waiting:
        for j in linked[waiting.pop()]:
            if j not in found:
                found.add(j)
                waiting.append(j)
    return [pieces[i].part["id"] for i in range(len(pieces)) if i not in found]


def blocks(own, other, axis, sign):
    """Whether a piece on its way along an axis runs into another one: across the way they overlap, and it is ahead."""
    for i in range(3):
        if i != axis and min(own.high[i], other.high[i]) - max(own.low[i], other.low[i]) < 0.6:
            return False
    ahead = other.high[axis] - own.high[axis] if sign > 0 else own.low[axis] - other.low[axis]
    return ahead > 0.6


def turns(pieces, order, joints):
    """What is put together by itself, each with its pieces in the order in which they come: the whole without what moves,
    and of every group the pieces that joints hold together."""
    number = {part: turn for turn, part in enumerate(order)}
    joined = {frozenset(pair) for pair in joints}
    units = [[piece for piece in pieces if not piece.part["group"] and not piece.part["moves"]]]
    left = [piece for piece in pieces if piece.part["group"]]
    while left:
        unit = [left.pop()]
        for own in unit:
            for other in list(left):
                ids = frozenset((own.part["id"], other.part["id"]))
                if other.part["group"] == own.part["group"] and ids in joined and own.near(other, 0.01):
                    unit.append(other)
                    left.remove(other)
        units.append(unit)
    for unit in units:
        yield sorted(unit, key=lambda piece: number[piece.part["id"]])


def way_faults(unit):
    for count, piece in enumerate(unit):
        there = [other for other in unit[:count] if other.part["id"] != piece.part["id"]]
        ways = DIRECTIONS.values()
        if all(any(blocks(piece, other, *way) for other in there) for way in ways):
            yield f"{piece.part['id']} cannot come in"


def crossed(box, a, b):
    low, high = 0.0, 1.0
    for i in range(3):
        run = b[i] - a[i]
        one, two = box.low[i] + 0.01, box.high[i] - 0.01
        if abs(run) < 1e-12:
            if not one <= a[i] <= two:
                return False
            continue
        ends = sorted(((one - a[i]) / run, (two - a[i]) / run))
        low, high = max(low, ends[0]), min(high, ends[1])
    return low < high


def driver_faults(unit):
    turn = {id(piece): count for count, piece in enumerate(unit)}
    for piece in unit:
        entry = None
        for begin, end, _, screw, through in piece.lines():
            pocket = screw is None and not through and piece.part["pockets"]
            mouth, entry = (entry or begin), (begin if pocket else None)
            if screw is None or not through:
                continue
            run = [(end[i] - begin[i]) / length(begin, end) for i in range(3)]
            tip = [begin[i] + run[i] * screw for i in range(3)]
            into = [other for other in unit if other is not piece and other.holds(tip)]
            if not into:
                continue
            then = max(turn[id(piece)], min(turn[id(other)] for other in into))
            # The bit comes in at the mouth of a pocket, or at the face.
            back = [mouth[i] - run[i] * DRIVER for i in range(3)]
            for other in unit[: then + 1]:
                if other is not piece and other not in into and crossed(other, mouth, back):
                    yield f"{piece.part['id']}: a driver cannot reach a screw, {other.part['id']} is in its way"


def main():
    for number, text in enumerate(sys.stdin):
        cabinet = json.loads(text)
        pieces = [
            Piece(part, index, place) for part in cabinet["parts"] for index, place in enumerate(part["places"])
        ]
        faults = [f"{part} is not held" for part in reachable(pieces, cabinet["joints"])]
        for unit in turns(pieces, cabinet["order"], cabinet["joints"]):
            faults += way_faults(unit)
            faults += driver_faults(unit)
        for piece in pieces:
            lines = list(piece.lines())
            for line in lines:
                faults += [f"{piece.part['id']}: {fault}" for fault in screw_faults(pieces, piece, line)]
            for i, one in enumerate(lines):
                for other in lines[i + 1 :]:
                    if length(one[0], other[0]) < 250 and meet(one, other):
                        faults.append(f"{piece.part['id']}: two bores meet at {one[0]} and {other[0]}")
        print(json.dumps({"cabinet": number, "pieces": len(pieces), "faults": faults[:5]}))


main()
