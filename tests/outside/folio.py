"""The project file read from its description alone: where each line of a design lies on its sheet.

Shares nothing with the program. Lengths are whole nanometres. The sheet's origin is its upper left corner, x to the
right, y down.
"""

import json
from dataclasses import dataclass
from fractions import Fraction

NM = {"in": Fraction(25_400_000), "mm": Fraction(1_000_000), "cm": Fraction(10_000_000)}


@dataclass(frozen=True)
class Line:
    """A line that has a place. `kind` is cut, valley or mountain; `a` and `b` are its ends on the sheet."""

    id: int
    kind: str
    angle: int
    turn: int
    across: int
    down: tuple
    a: tuple
    b: tuple

    @property
    def upright(self):
        return self.a[0] == self.b[0]


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


def load(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


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
    """The lines that have a place, by id, in the document's order.

    How far across a line lies hangs on what it is measured from or lies along; where it starts and ends hangs only on how
    far across the lines lie that it stops at, so two lines may stop at each other.
    """
    sheet = size(document)
    by_id = {line["id"]: line for line in document["lines"]}
    tracks = {}

    def track(number, waiting=()):
        """The turn of a line and how far across it lies on that turn."""
        if number not in by_id or number in waiting:
            raise Misplaced(number)
        if number not in tracks:
            try:
                tracks[number] = found(by_id[number]["place"], (*waiting, number))
            except Misplaced as error:
                tracks[number] = error
        if isinstance(tracks[number], Misplaced):
            raise tracks[number]
        return tracks[number]

    def other(text, waiting=()):
        word, number = text.split(" ")
        assert word == "line", text
        return track(int(number), waiting)

    def on_board(at, turn):
        """A point of a track as it lies on another turn."""
        its_turn, across = at
        _, lying = turned((0, 0), sheet, its_turn)
        return turned(turned((across, 0), lying, 4 - its_turn)[0], sheet, turn)[0]

    def found(place, waiting):
        if "along" in place:
            return other(place["along"], waiting)
        turn, across = place["turn"], length(place["distance"])
        if place["from"] != "edge":
            at = other(place["from"], waiting)
            if (at[0] - turn) % 2:
                raise Misplaced(place)
            across += on_board(at, turn)[0]
        if not 0 <= across <= turned((0, 0), sheet, turn)[1][0]:
            raise Misplaced(place)
        return turn, across

    def stop(text, turn, edge, high):
        if text == "edge":
            return edge
        if text.startswith("line "):
            at = other(text)
            if (at[0] - turn) % 2 == 0:
                raise Misplaced(text)
            return on_board(at, turn)[1]
        if not 0 <= length(text) <= high:
            raise Misplaced(text)
        return length(text)

    def place(line):
        turn, across = track(line["id"])
        _, (wide, high) = turned((0, 0), sheet, turn)
        run = line["place"]
        top, bottom = stop(run.get("start", "edge"), turn, 0, high), stop(run.get("end", "edge"), turn, high, high)
        if top >= bottom:
            raise Misplaced(line["id"])
        # Turning on to four quarter turns brings the sheet back.
        ends = [turned((across, down), (wide, high), 4 - turn)[0] for down in (top, bottom)]
        kind = "cut" if line["work"] == "cut" else line["fold"]
        return Line(line["id"], kind, line.get("angle", 180), turn, across, (top, bottom), *ends)

    placed = {}
    for line in document["lines"]:
        try:
            placed[line["id"]] = place(line)
        except Misplaced:
            continue
    return placed


def drawn(document):
    """What is to be seen along each line: kind to a list of (upright, at, from, to), pieces as long as they run.

    Where lines lie on one another a cut is drawn, else the line that comes first; along the sheet's edge only the edge
    is.
    """
    wide, high = size(document)
    tracks = {}
    for line in lines(document).values():
        here, there = sorted((line.a, line.b))
        at, start, end = (here[0], here[1], there[1]) if line.upright else (here[1], here[0], there[0])
        if at not in (0, wide if line.upright else high):
            tracks.setdefault((line.upright, at), []).append((start, end, line.kind))
    seen = {"cut": [], "valley": [], "mountain": []}
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
