"""Corners rounded or clipped, from the description in docs/file-format.md: which they are and what is taken off."""

import math
from dataclasses import dataclass

import curve
import folio

# nm; see layout.NEAR.
NEAR = 2

# nm. A stretch as short as this comes of two crossings that are almost one; no corner is made of it.
STUB = 100


@dataclass(frozen=True)
class Free:
    """A corner where paper ends on both sides: its place, and of each side its names, its end and its length."""

    tip: tuple
    names: tuple
    ends: tuple
    lengths: tuple

    def half_angle(self):
        (ux, uy), (vx, vy) = ((end[0] - self.tip[0], end[1] - self.tip[1]) for end in self.ends)
        return abs(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) / 2

    def takes(self, said):
        """How much of either side: a circle that touches both does so at r / tan(θ/2) from the corner."""
        if "clip" in said:
            return folio.length(said["clip"])
        return folio.length(said["round"]) / math.tan(self.half_angle()) if "round" in said else 0

    def path(self, said):
        """Where it is cut, from side to side."""
        takes = self.takes(said)
        a, b = (tuple(t + (e - t) * takes / length for t, e in zip(self.tip, end))
                for end, length in zip(self.ends, self.lengths))
        # A little beyond the sides, which may run a nanometre beside these points.
        return [self.beyond(a, b, self.ends[0]), *self.between(a, b, said), self.beyond(b, a, self.ends[1])]

    def beyond(self, place, other, end):
        _, (lx, ly) = curve.way(self.tip, end)
        away = -NEAR if lx * (other[0] - place[0]) + ly * (other[1] - place[1]) > 0 else NEAR
        return place[0] + away * lx, place[1] + away * ly

    def between(self, a, b, said):
        if "clip" in said:
            return [a, b]
        # The middle of the arc lies r / sin(θ/2) - r from the corner, on the line that halves its angle.
        rise = folio.length(said["round"]) * (1 - math.sin(self.half_angle()))
        _, (lx, ly) = curve.way(a, b)
        to_left = (self.tip[0] - a[0]) * lx + (self.tip[1] - a[1]) * ly > 0
        return curve.arc(a, b, rise if to_left else -rise)


def named(name):
    """A border as the file calls it, in the words that sides are called by here."""
    return int(name.split(" ")[1]) if name.startswith("line ") else name.split(" ")[0]


def taken_off(said, layout):
    """What is cut off (path and tip), for each of what is said what keeps it from being done, and in how many sentences
    the cut list says so: one for all corners of a panel or a piece where all are taken off, else one for each."""
    asked, free, faults, meant = {}, {}, {}, {}
    pieces = layout.pieces()
    for number, one in enumerate(said):
        panel = layout.panel_at(folio.point(one["mark"]))
        if panel is None:
            faults[number] = {"no panel is there"}
            continue
        which = one["which"]
        panels = [other for other in pieces if pieces[other] == pieces[panel]] if which == "piece" else [panel]
        for each in panels:
            free.setdefault(each, free_corners(layout, each))
        meant[number] = [(each, own) for each in panels for own in free[each]
                         if not isinstance(which, list) or between(own.names, which)]
        if not meant[number]:
            meet = isinstance(which, list) and any(between(names, which) for names in all_corners(layout, panel))
            faults[number] = {"a fold ends there or it points inwards" if meet else
                              "its borders don't meet" if isinstance(which, list) else "none of them is free"}
        asked.update(dict.fromkeys(meant[number], number))
    taken = fitting(said, asked, faults)
    done = {number: [each for each in taken if asked[each] == number] for number in meant}
    sentences = sum(1 if len(mine) == len(meant[number]) and not isinstance(said[number]["which"], list) else len(mine)
                    for number, mine in done.items() if mine)
    return [(own.path(said[asked[panel, own]]), own.tip) for panel, own in taken], faults, sentences


def fitting(said, asked, faults):
    """The corners that fit on their sides, by themselves and beside one another."""
    takes = {each: each[1].takes(said[number]) for each, number in asked.items()}
    large = {each for each, own in takes.items() if own > min(each[1].lengths) + NEAR}
    alone = {each: own for each, own in takes.items() if own and each not in large}
    for panel, own in alone:
        # Where the outline touches itself, two corners are in one place.
        others = [sum(alone[each] for each in alone
                      if each[0] == panel and each[1].tip == end and own.tip in each[1].ends) for end in own.ends]
        if any(alone[panel, own] + other > length + NEAR for other, length in zip(others, own.lengths)):
            large.add((panel, own))
    for each in large:
        faults.setdefault(asked[each], set()).add("it is larger than its side")
    return [each for each in alone if each not in large]


def between(names, which):
    one, other = map(named, which)
    return any(one in a and other in b for a, b in (names, names[::-1]))


def outline(layout, panel):
    """The sides of a panel's outline, clockwise as it is seen with y down, but for stretches of a few nanometres."""
    shape = layout.cells[panel].shape
    # With y up that is anticlockwise.
    ring = ring_of(shape.exterior, True)
    # An opening that touches the outline at a point is a part of it: there the paper ends on either side.
    openings = [ring_of(inner, False) for inner in shape.interiors]
    while touching := next(((inner, at) for inner in openings for at in inner if at in ring), None):
        inner, at = touching
        openings.remove(inner)
        i, k = ring.index(at), inner.index(at)
        ring[i:i] = inner[k:] + inner[:k]
    sides = list(zip(ring, ring[1:] + ring[:1]))
    return [(a, b) for a, b in sides if math.dist(a, b) > STUB]


def ring_of(ring, anticlockwise):
    corners = [tuple(place) for place in ring.coords[:-1]]
    return corners if ring.is_ccw == anticlockwise else corners[::-1]


def names_along(layout, pair):
    covers = layout.covers[tuple(sorted(pair))]
    return {source.does if source.line is None else source.line for source in covers}


def all_corners(layout, panel):
    """What the two sides are called at each place of a panel's outline."""
    names = [names_along(layout, side) for side in outline(layout, panel)]
    return list(zip(names[-1:] + names, names))


def ends_paper(layout, pair):
    pair = tuple(sorted(pair))
    return layout.fold_along(pair) is None or any(layout.cells[cell].void for cell in layout.sides[pair])


def free_corners(layout, panel):
    sides = outline(layout, panel)
    count = len(sides)

    def end(first, step):
        """To where paper ends straight on, from a stretch on."""
        near, far = sides[first % count][::step]
        for k in range(1, count):
            stretch = sides[(first + k * step) % count]
            beyond = stretch[::step][1]
            if not straight(near, far, beyond) or not ends_paper(layout, stretch):
                break
            far = beyond
        return far

    found = []
    for i in range(count):
        before, after = sides[i - 1], sides[i]
        tip, far, near = after[0], end(i - 1, -1), end(i, 1)
        # Walking clockwise, a corner that points outwards turns to the right.
        turns = (tip[0] - far[0]) * (near[1] - tip[1]) - (tip[1] - far[1]) * (near[0] - tip[0])
        if turns <= 0 or straight(far, tip, near) or not all(ends_paper(layout, side) for side in (before, after)):
            continue
        names = tuple(frozenset(names_along(layout, side)) for side in (before, after))
        found.append(Free(tip, names, (far, near), (math.dist(tip, far), math.dist(tip, near))))
    return found


def straight(a, b, c):
    """Whether b lies between a and c, but for a nanometre that it was moved."""
    ux, uy, vx, vy = c[0] - a[0], c[1] - a[1], b[0] - a[0], b[1] - a[1]
    whole = math.hypot(ux, uy)
    return whole > 0 and abs(ux * vy - uy * vx) / whole <= NEAR and 0 < ux * vx + uy * vy < whole**2
