"""What is drawn in a file, as strokes in millimetres, and whether that is what a design asks for."""

from dataclasses import dataclass

import folio

# mm: what a maker's eye and ruler, and any printer, are far too coarse for.
TRUE = 0.01

# The inks and dashes of the kinds of line. Solid, dashed, dash-dotted and dotted lines are open convention (ISO 128-2
# has their lengths); the inks are the project's own, and every file has to keep to them.
KINDS = {"cut": ("1a1a1a", 0), "valley": ("00795a", 2), "mountain": ("6547b0", 4), "either": ("336085", 6),
         "guide": ("5c5248", 2)}


@dataclass(frozen=True)
class Stroke:
    """A straight stroke: its ends in mm from the upper left corner of the page, y down."""

    colour: str
    dashes: int
    width: float
    a: tuple
    b: tuple

    @property
    def kind(self):
        return next((kind for kind, look in KINDS.items() if look == (self.colour, self.dashes)), None)


def hexed(colour):
    """Red, green and blue from 0 to 1 as six hexadecimal digits."""
    return "".join(f"{round(255 * part):02x}" for part in colour)


def on_sheet(strokes, offset):
    """Strokes that are lines, as (kind, upright, at, from, to), mm on the sheet; `offset` is its corner on the page."""
    found = []
    for stroke in strokes:
        (ax, ay), (bx, by) = [(x - offset[0], y - offset[1]) for x, y in (stroke.a, stroke.b)]
        upright = abs(ax - bx) < abs(ay - by)
        at, off = ((ax + bx) / 2, abs(ax - bx)) if upright else ((ay + by) / 2, abs(ay - by))
        start, end = sorted((ay, by) if upright else (ax, bx))
        found.append((stroke.kind if off <= TRUE else "crooked", upright, at, start, end))
    return found


def wanted(document, turn=0):
    """What the design asks for, in the same form."""
    sheet = folio.size(document)
    found = []
    for kind, runs in folio.drawn(document).items():
        for upright, at, start, end in runs:
            ends = [(at, start), (at, end)] if upright else [(start, at), (end, at)]
            (ax, ay), (bx, by) = [folio.turned(end, sheet, turn)[0] for end in ends]
            standing = ax == bx
            low, high = sorted((ay, by) if standing else (ax, bx))
            found.append((kind, standing, (ax if standing else ay) / 1e6, low / 1e6, high / 1e6))
    return found


def differences(strokes, lines):
    """What is drawn and not asked for, and what is asked for and not drawn, each as a sentence.

    Strokes may overlap and follow one another; together they have to cover each line from end to end.
    """
    wrong = []

    def matches(stroke, line):
        return stroke[:2] == line[:2] and abs(stroke[2] - line[2]) <= TRUE

    for stroke in strokes:
        if not any(matches(stroke, line) and line[3] - TRUE <= stroke[3] and stroke[4] <= line[4] + TRUE for line in lines):
            wrong.append(f"{stroke} is drawn and not asked for")
    for line in lines:
        reached = line[3]
        for stroke in sorted((stroke for stroke in strokes if matches(stroke, line)), key=lambda stroke: stroke[3]):
            if stroke[3] <= reached + TRUE:
                reached = max(reached, stroke[4])
        if reached < line[4] - TRUE:
            wrong.append(f"{line} is drawn only up to {reached}")
    return wrong
