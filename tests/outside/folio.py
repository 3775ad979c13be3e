"""The project file read from its description alone: where each line of a design lies on its sheet.

Shares nothing with the program. Lengths are whole nanometres. The sheet's origin is its upper left corner, x to the
right, y down. What lies between two nanometres is moved to the nearest one, as docs/decisions.md says.
"""

import json
import math
import re
from dataclasses import dataclass
from fractions import Fraction

import curve

NM = {"in": Fraction(25_400_000), "mm": Fraction(1_000_000), "cm": Fraction(10_000_000)}

# A trim takes 1/32 in at most (docs/decisions.md).
WIDEST_TRIM = 793_750

# Paper is folded away from the face that is pressed, so that the bead lies inside the fold (common practice, no
# source): a valley brings the fronts together and is pressed into the back.
SUITING = {"valley": "back", "mountain": "front", "either": "front"}


@dataclass(frozen=True)
class Line:
    """A line that has a place. `a` and `b` are its ends on the sheet; `turn` and `across` are None for one that is
    drawn between two spots; `down` is where it starts and ends along its way; `bow` is how far an arc rises to the
    left; `width` is also a notch's depth."""

    id: int
    work: str
    fold: str | None
    angle: int
    face: str | None
    width: int
    side: str | None
    turn: int | None
    across: int | None
    down: tuple
    a: tuple
    b: tuple
    bow: int

    @property
    def kind(self):
        """What is done along it: for a score how it folds, else its work."""
        return self.fold or self.work

    @property
    def parts_paper(self):
        return self.work in ("cut", "slot", "trim", "notch")

    @property
    def upright(self):
        return self.a[0] == self.b[0]

    def path(self):
        """Its points, finely for an arc."""
        return curve.arc(self.a, self.b, self.bow)

    def taken_out(self, sheet):
        """The outline of what is taken out along it, if anything is.

        Where a slanting line ends at the sheet's edge, a strip along it does so with both its sides.
        """
        if self.work == "notch":
            return curve.arc(self.a, self.b, self.width if self.side == "left" else -self.width)
        if self.work in ("slot", "trim"):
            # An edge that it runs along is none that it ends at.
            at_edge = [any(part in (0, most) and a != b for part, most, a, b in zip(end, sheet, self.a, self.b))
                       for end in (self.a, self.b)]
            return curve.strip(self.a, self.b, self.width, self.side, [4 * self.width * end for end in at_edge])
        return None


@dataclass(frozen=True)
class Track:
    """The whole way that a line lies on, from edge to edge of the sheet or from spot to spot."""

    turn: int | None
    across: int | None
    a: tuple
    b: tuple
    bow: int

    def reach(self):
        return math.isqrt((self.b[0] - self.a[0]) ** 2 + (self.b[1] - self.a[1]) ** 2)

    def at(self, down):
        """The point so far from its start."""
        # Twelve more digits than a nanometre has, so that the root is as good as exact.
        much = 10**12
        whole = math.isqrt(((self.b[0] - self.a[0]) ** 2 + (self.b[1] - self.a[1]) ** 2) * much**2)
        return tuple(round(a + Fraction((b - a) * down * much, whole)) for a, b in zip(self.a, self.b))

    def down(self, point):
        """How far from its start a point of it lies."""
        whole = Fraction(math.isqrt(((self.b[0] - self.a[0]) ** 2 + (self.b[1] - self.a[1]) ** 2) * 10**24), 10**12)
        along = sum((b - a) * (p - a) for a, b, p in zip(self.a, self.b, point))
        return round(along / whole)


class Misplaced(Exception):
    """A line has no place on the sheet."""


def length(text):
    """"2 3/4 in", "-1/8 in" or "70.5 mm" in nanometres."""
    number, unit = text.strip().rsplit(" ", 1)
    sign = -1 if number.startswith("-") else 1
    total = sum(Fraction(part) for part in number.lstrip("-").split())
    nm = sign * total * NM[unit]
    assert nm.denominator == 1, text
    return int(nm)


def point(value):
    return length(value["x"]), length(value["y"])


# The keys in which a formula may stand (docs/file-format.md, named lengths).
RECKONED = {"width", "height", "distance", "start", "end", "bow", "x", "y", "at", "depth", "round", "clip", "across", "down",
            "length", "leaf", "free_leaf", "strip", "rim", "gusset", "band", "reach", "around", "overlap", "thickness"}
FIGURE = r"(?:\d+ )?\d+/\d+|\d+(?:\.\d+)?"


def value(formula, names):
    """What a formula comes to, in nanometres: names are put in, then it is reckoned in fractions."""
    spelled = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True)) or "$^"
    terms = []

    def term(match):
        figure, unit, name = match.group("figure", "unit", "name")
        if name:
            terms.append(Fraction(names[name.lower()]))
        else:
            terms.append(sum(Fraction(part) for part in figure.split()) * NM.get(unit, 1))
        return f"terms[{len(terms) - 1}]"

    pattern = rf"(?P<name>\b(?:{spelled})\b)|(?P<figure>{FIGURE})(?: (?P<unit>in|mm|cm)\b)?"
    reckoned = re.sub(pattern, term, formula, flags=re.IGNORECASE)
    assert re.fullmatch(r"(?:terms\[\d+\]|[-+*/() ])+", reckoned), formula
    nm = eval(reckoned, {"terms": terms})
    assert nm.denominator == 1, formula
    return int(nm)


def worked_out(document):
    """A design with lengths in place of its formulas, and without names."""
    names = {}
    for named in document.get("lengths", []):
        names[named["name"].lower()] = value(named["value"], names)

    def plain(key, text):
        after = ""
        if key in ("start", "end") and (text == "edge" or text.startswith("line ")):
            stop = re.fullmatch(r"(line \d+) ([-+]) (.*)", text)
            if stop is None:
                return text
            nm = value(("-" if stop[2] == "-" else "") + stop[3], names)
            return f"{stop[1]} {'-' if nm < 0 else '+'} {Fraction(abs(nm), 1_000_000)} mm"
        if key in ("across", "down") and " from " in text:
            text, after = text.split(" from ")
            after = f" from {after}"
        return f"{Fraction(value(text, names), 1_000_000)} mm{after}"

    def walk(key, item):
        if isinstance(item, dict):
            return {name: walk(name, inner) for name, inner in item.items()}
        if isinstance(item, list):
            return [walk(key, inner) for inner in item]
        return plain(key, item) if key in RECKONED and isinstance(item, str) and names else item

    bare = {key: item for key, item in document.items() if key != "lengths"}
    return {key: walk(key, item) for key, item in bare.items()} if names else document


def load(path):
    """A design as plain lengths."""
    with open(path, encoding="utf-8") as file:
        return worked_out(json.load(file))


def size(document):
    stock = document["stock"]
    return length(stock["width"]), length(stock["height"])


def turned(point, sheet, quarters):
    """Where a point of a sheet comes to lie when the sheet is turned to the left, and the size it has then.

    One quarter turn brings the top edge to the left: what was so far down is then so far from the left, and what was at
    the right edge is then at the top.
    """
    (x, y), (w, h) = point, sheet
    for _ in range(quarters % 4):
        (x, y), (w, h) = (y, w - x), (h, w)
    return (x, y), (w, h)


def lines(document):
    """The lines that have a place, by id, in the document's order."""
    found = Resolver(document)
    placed = {}
    for line in document["lines"]:
        try:
            placed[line["id"]] = found.line(line)
        except Misplaced:
            continue
    return placed


class Resolver:
    """Finds the place of each line.

    Where a line's way lies hangs on what it is measured from, lies along or is drawn between; where it starts and ends
    hangs only on the ways of the lines that it stops at, so two lines may stop at each other.
    """

    def __init__(self, document):
        self.sheet = size(document)
        self.by_id = {line["id"]: line for line in document["lines"]}
        self.tracks = {}

    def line(self, line):
        track = self.track(line["id"])
        place = line["place"]
        run = {key: stop for key in ("start", "end") if (stop := place.get(key, "edge")) != "edge"}
        if track.bow and run:
            raise Misplaced("a part of an arc")
        # Where a run stops at a line, that point itself is its end.
        (top, a), (bottom, b) = (self.stop(run[key], track) if key in run else edge
                                 for key, edge in (("start", (0, track.a)), ("end", (track.reach(), track.b))))
        if top >= bottom:
            raise Misplaced("ends before it starts")
        work = line["work"]
        fold = line["fold"] if work == "score" else None
        width = length(line.get("width") or line.get("depth") or "0 mm")
        side = line.get("side") or ("centred" if work == "slot" else None)
        face = line.get("pressed") or SUITING.get(fold)
        found = Line(line["id"], work, fold, line.get("angle", 180), face, width, side, track.turn, track.across,
                     (top, bottom), a, b, track.bow)
        self.workable(found)
        return found

    def workable(self, line):
        """Not every line can be worked as is said (docs/decisions.md: only what is not folded may be curved)."""
        if line.bow and line.work not in ("cut", "guide"):
            raise Misplaced("a curve that is no cut")
        if line.work in ("slot", "trim", "notch") and line.width <= 0:
            raise Misplaced("no width")
        if line.work == "trim" and line.width > WIDEST_TRIM:
            raise Misplaced("no hairline")
        if line.work == "notch" and 2 * line.width > line.down[1] - line.down[0]:
            raise Misplaced("more than half round")
        outlines = line.path() + (line.taken_out(self.sheet) if line.work == "notch" else [])
        # Arcs have points between nanometres.
        if any(not (-0.5 <= x <= self.sheet[0] + 0.5 and -0.5 <= y <= self.sheet[1] + 0.5) for x, y in outlines):
            raise Misplaced("beyond the sheet")

    def track(self, number, waiting=()):
        """The way of a line."""
        if number not in self.by_id or number in waiting:
            raise Misplaced(number)
        if number not in self.tracks:
            try:
                self.tracks[number] = self.found(self.by_id[number]["place"], (*waiting, number))
            except Misplaced as error:
                self.tracks[number] = error
        if isinstance(self.tracks[number], Misplaced):
            raise self.tracks[number]
        return self.tracks[number]

    def named(self, text, waiting=()):
        word, number = text.split(" ")
        assert word == "line", text
        return self.track(int(number), waiting)

    def straight(self, text, waiting=()):
        track = self.named(text, waiting)
        if track.bow:
            raise Misplaced("an arc crosses in two places or none")
        return track

    def found(self, place, waiting):
        if "drawn" in place:
            return self.drawn(place["drawn"], waiting)
        if "along" in place:
            return self.named(place["along"], waiting)
        turn, across = place["turn"], length(place["distance"])
        _, (wide, high) = turned((0, 0), self.sheet, turn)
        if place["from"] != "edge":
            other = self.named(place["from"], waiting)
            if other.turn is None or (other.turn - turn) % 2:
                raise Misplaced("not parallel")
            across += turned(other.a, self.sheet, turn)[0][0]
        if not 0 <= across <= wide:
            raise Misplaced("beyond the sheet")
        # Turning on to four quarter turns brings the sheet back.
        a, b = (turned((across, down), (wide, high), 4 - turn)[0] for down in (0, high))
        return Track(turn, across, a, b, 0)

    def drawn(self, drawn, waiting):
        a, b = self.spot(drawn["from"], waiting), self.spot(drawn["to"], waiting)
        bow = length(drawn["bow"]) if drawn.get("bow") else 0
        track = Track(None, None, a, b, bow)
        if a == b or 2 * abs(bow) > track.reach():
            raise Misplaced("nothing, or more than half round")
        return track

    def spot(self, spot, waiting):
        if "crossing" in spot:
            at = crossing(*(self.straight(name, waiting) for name in spot["crossing"]))
        elif "on" in spot:
            at = self.straight(spot["on"], waiting).at(length(spot["at"]))
        else:
            at = point(spot)
        if not all(0 <= part <= most for part, most in zip(at, self.sheet)):
            raise Misplaced("beyond the sheet")
        return at

    def stop(self, text, track):
        """How far down a way a stop lies, and where on the sheet."""
        if not text.startswith("line "):
            down = length(text)
            at = track.at(down)
        else:
            name, past = text, 0
            for sign, word in ((1, " + "), (-1, " - ")):
                if word in text:
                    name, by = text.split(word)
                    past = sign * length(by)
            at = crossing(track, self.straight(name))
            down = track.down(at)
            if past:
                down += past
                at = track.at(down)
        if not 0 <= down <= track.reach():
            raise Misplaced("beyond its way")
        return down, at


def crossing(first, second):
    """Where two ways, carried on as far as needed, cross."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = first.a, first.b, second.a, second.b
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    whole = ux * vy - uy * vx
    if whole == 0:
        raise Misplaced("they run the same way")
    part = Fraction((cx - ax) * vy - (cy - ay) * vx, whole)
    return round(ax + part * ux), round(ay + part * uy)


def drawn(document):
    """What is to be seen along each upright or level line: kind to a list of (upright, at, from, to), as long as they
    run.

    Where lines lie on one another a cut is drawn, else the score that comes first; along the sheet's edge only the edge
    is. Guides are drawn as they are, under everything.
    """
    wide, high = size(document)
    tracks = {}
    seen = {"cut": [], "valley": [], "mountain": [], "either": [], "guide": []}
    for line in lines(document).values():
        here, there = sorted((line.a, line.b))
        at, start, end = (here[0], here[1], there[1]) if line.upright else (here[1], here[0], there[0])
        if line.kind == "guide":
            seen["guide"].append((line.upright, at, start, end))
        elif at not in (0, wide if line.upright else high):
            tracks.setdefault((line.upright, at), []).append((start, end, line.kind))
    for (upright, at), on in tracks.items():
        marks = sorted({end for start, stop, _ in on for end in (start, stop)})
        for start, end in zip(marks, marks[1:]):
            over = [kind for a, b, kind in on if a <= start and end <= b]
            if not over:
                continue
            runs = seen["cut" if "cut" in over else over[0]]
            if runs and runs[-1][:2] == (upright, at) and runs[-1][3] == start:
                runs[-1] = (upright, at, runs[-1][2], end)
            else:
                runs.append((upright, at, start, end))
    return seen
