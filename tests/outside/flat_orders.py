"""The layer orders of a plane of panels as clauses: an arrangement made with shapely, a model for python-sat.

A variable stands for each two panels that share a cell of the arrangement: true when the first lies above the second.
Panels are convex. What must hold, as the theory of flat foldings has it (after Justin 1997, from memory): over one cell
none lies above itself; two folds at one edge, on one side of it, don't interleave; what goes through an edge
lies above both panels of a fold there or below both; two sheets that go through an edge don't change places there; a
valley brings fronts together. A wall that stands on a panel goes through all that lies over its line on its way.
"""

import itertools
import math
from collections import defaultdict

from pysat.solvers import Minisat22
from shapely import Point, Polygon, get_parts
from shapely.ops import polygonize, unary_union

# mm. Made-up lengths differ by some thousandths or not at all; folded positions are floats of some hundreds.
SAME = 1e-5
BESIDE = 1e-4


class Plane:
    """Panels of one plane: `outlines` by name, as one sees them who looks against the plane's normal.

    `folds` are (a, b, fold, segment) with both panels in the plane; `walls` are (host, wall, is_up, segment);
    `outer` says of two walls which of them lies farther along the plane's x and y, if it is known.
    """

    def __init__(self, outlines, folds, walls, outer):
        self.names = sorted(outlines)
        self.outlines = {name: Polygon(outlines[name]) for name in self.names}
        self.face_up = {name: self.outlines[name].exterior.is_ccw for name in self.names}
        self.folds, self.walls, self.outer = folds, walls, outer
        self.variables, self.clauses = {}, set()
        lines = unary_union([outline.exterior for outline in self.outlines.values()])
        self.transitive(lines)
        for part in get_parts(lines):
            for ends in itertools.pairwise(part.coords):
                self.edge(*ends)
        for a, b, fold, _ in folds:
            if self.face_up[a] != self.face_up[b]:
                up, down = (a, b) if self.face_up[a] else (b, a)
                self.add(self.above(down, up) if fold == "valley" else self.above(up, down))

    def over(self, x, y):
        at = Point(x, y)
        return [name for name in self.names if self.outlines[name].contains(at)]

    def above(self, a, b):
        """The literal that says that `a` lies above `b`."""
        return self.variables[a, b] if a < b else -self.variables[b, a]

    def add(self, *literals):
        self.clauses.add(tuple(sorted(set(literals))))

    def alike(self, *literals):
        """An even number of the literals is true."""
        for wrong in itertools.product((False, True), repeat=len(literals)):
            if sum(wrong) % 2:
                self.add(*(-literal if value else literal for literal, value in zip(literals, wrong)))

    def transitive(self, lines):
        for cell in polygonize(lines):
            at = cell.representative_point()
            pile = self.over(at.x, at.y)
            for pair in itertools.combinations(pile, 2):
                self.variables.setdefault(pair, len(self.variables) + 1)
            for a, b, c in itertools.combinations(pile, 3):
                ring = self.above(a, b), self.above(b, c), self.above(c, a)
                self.add(*ring)
                self.add(*(-literal for literal in ring))

    def edge(self, start, end):
        """What must hold along one edge of the arrangement, between the cells to its left and right."""
        (x, y), length = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), math.dist(start, end)
        out = ((end[1] - start[1]) / length, (start[0] - end[0]) / length)
        cells = [set(self.over(x - BESIDE * out[0] * way, y - BESIDE * out[1] * way)) for way in (1, -1)]
        lies = lambda segment: distance(x, y, *segment) < SAME
        through = [(name, name) for name in sorted(cells[0] & cells[1])]
        bends = ([], [])
        for a, b, _, segment in self.folds:
            if not lies(segment):
                continue
            sides = [[side for side in (0, 1) if name in cells[side]] for name in (a, b)]
            if sides[0] == sides[1]:
                bends[sides[0][0]].append((a, b))
            else:
                # An unfolded score: a sheet of which each side has another name.
                through.append((a, b) if sides[0] == [0] else (b, a))
        walls = [(host, wall, is_up, 0 if host in cells[0] else 1)
                 for host, wall, is_up, segment in self.walls if lies(segment)]
        for sheet, other in itertools.combinations(through, 2):
            if sheet[0] != other[0] and sheet[1] != other[1]:
                self.alike(self.above(sheet[0], other[0]), self.above(sheet[1], other[1]))
        for side in (0, 1):
            for a, b in bends[side]:
                for sheet in through:
                    self.alike(self.above(a, sheet[side]), self.above(b, sheet[side]))
            for (a, b), (c, d) in itertools.combinations(bends[side], 2):
                self.alike(self.above(a, c), self.above(a, d), self.above(b, c), self.above(b, d))
        for host, _, is_up, side in walls:
            for sheet in through:
                self.add(self.higher(host, sheet[side], is_up))
            for a, b in bends[side]:
                if host not in (a, b):
                    self.alike(self.above(a, host), self.above(b, host))
        for first, second in itertools.combinations(walls, 2):
            self.two_walls(first, second, out)

    def higher(self, a, b, is_up):
        return self.above(a, b) if is_up else self.above(b, a)

    def two_walls(self, first, second, out):
        """Two walls on one edge; `out` points to its right."""
        (a, wall, up, side), (b, other, other_up, other_side) = first, second
        if up != other_up:
            if side == other_side:
                self.add(self.higher(a, b, up))
            return
        farther = self.outer(wall, other, out)
        if farther is None:
            return
        # Whether the first stands to the right of the second.
        is_right = farther == wall
        if side != other_side:
            if is_right == (side == 0):
                # Each would have to go through the other's host.
                self.clauses.add(())
            return
        is_outer = is_right == (side == 0)
        # The outer of two walls that rise comes from the lower host.
        self.add(self.higher(b, a, up) if is_outer else self.higher(a, b, up))

    def literals(self, pairs):
        """Of pairs, the lower first, those that lie on one another here."""
        return [self.above(high, low) for low, high in pairs
                if tuple(sorted((low, high))) in self.variables]

    def holds(self, pairs):
        """Whether an order with these pairs, the lower first, is possible."""
        if () in self.clauses:
            return False
        with Minisat22(bootstrap_with=self.clauses) as solver:
            return solver.solve(assumptions=self.literals(pairs))

    def orders(self, most):
        """How many orders there are, and the pairs, the lower first, that all of them have; no count beyond `most` in
        a part that does not depend on others."""
        if () in self.clauses:
            return 0, set()
        with Minisat22(bootstrap_with=self.clauses) as solver:
            if not solver.solve():
                return 0, set()
            model = set(solver.get_model() or [])
            forced = {literal for literal in (v if v in model else -v for v in self.variables.values())
                      if not solver.solve(assumptions=[-literal])}
        pairs = {(b, a) if variable in forced else (a, b) for (a, b), variable in self.variables.items()
                 if variable in forced or -variable in forced}
        return self.count(forced, most), pairs

    def count(self, forced, most):
        left = [tuple(literal for literal in clause if -literal not in forced) for clause in self.clauses
                if not forced.intersection(clause)]
        part = {variable: {variable} for variable in self.variables.values()
                if variable not in forced and -variable not in forced}
        for clause in left:
            whole = set().union(*(part[abs(literal)] for literal in clause))
            part.update({variable: whole for variable in whole})
        product = 1
        for variables in {id(variables): variables for variables in part.values()}.values():
            own = [clause for clause in left if abs(clause[0]) in variables]
            found = each(own, sorted(variables), most)
            if found is None:
                return None
            product *= found
        return product


def each(clauses, variables, most):
    """How many ways there are to meet some clauses; None beyond `most`."""
    with Minisat22(bootstrap_with=[*clauses, *([v, -v] for v in variables)]) as solver:
        for found in range(most + 1):
            if not solver.solve():
                return found
            model = set(solver.get_model())
            solver.add_clause([-v if v in model else v for v in variables])
    return None


def distance(x, y, start, end):
    """How far a point is from a segment."""
    along = (end[0] - start[0], end[1] - start[1])
    at = ((x - start[0]) * along[0] + (y - start[1]) * along[1]) / (along[0] ** 2 + along[1] ** 2)
    at = min(1.0, max(0.0, at))
    return math.dist((x, y), (start[0] + at * along[0], start[1] + at * along[1]))


def planes(said):
    """The planes of a closed folio, each as (names, Plane), from where the program has the corners of its panels."""
    places = {panel["name"]: Place(panel) for panel in said["closed"]["panels"]}
    folds = [(*fold["panels"], fold["fold"], [[point(end) for end in stretch] for stretch in fold["stretches"]])
             for fold in said["folds"] if set(fold["panels"]) <= set(places)]
    lies = {(pair["lower"], pair["upper"]) for pair in said["closed"]["overlaps"]}
    groups = defaultdict(list)
    for name, place in places.items():
        groups[place.plane].append(name)
    for (axis, height), names in groups.items():
        # The two other axes, so that they and the normal are a right-handed system.
        seen = lambda at: tuple(round(at[(axis + k) % 3], 6) for k in (1, 2))
        within, walls = [], []
        for a, b, fold, stretches in folds:
            hosts = [name for name in (a, b) if name in names]
            for stretch in stretches if hosts else []:
                segment = [seen(places[hosts[0]].lay(end)) for end in stretch]
                if len(hosts) == 2:
                    within.append((a, b, fold, segment))
                else:
                    wall = b if hosts == [a] else a
                    middle = sum(corner[axis] for corner in places[wall].corners) / len(places[wall].corners)
                    walls.append((hosts[0], wall, middle > height, segment))

        def outer(wall, other, out):
            # Walls lie on one another along an axis; `out` is that axis or its opposite.
            across = places[wall].plane[0]
            forwards = out[(across - axis) % 3 - 1] > 0
            for low, high in ((wall, other), (other, wall)):
                if (low, high) in lies:
                    return high if forwards else low
            return None

        outlines = {name: [seen(corner) for corner in places[name].corners] for name in names}
        yield names, Plane(outlines, within, walls, outer)


class Place:
    """Where a panel lies."""

    def __init__(self, said):
        self.flat, self.corners = said["flat"], said["corners"]
        spread = [max(axis) - min(axis) for axis in zip(*self.corners)]
        axis = min(range(3), key=lambda i: spread[i])
        self.plane = (axis, round(self.corners[0][axis], 5) + 0.0)

    def lay(self, at):
        """A point of the flat sheet in space: solved from two edges of the panel."""
        (a, b, c), (p, q, r) = self.flat[:3], self.corners[:3]
        (ux, uy), (vx, vy) = ((other[0] - a[0], other[1] - a[1]) for other in (b, c))
        x, y, whole = at[0] - a[0], at[1] - a[1], ux * vy - uy * vx
        s, t = (x * vy - y * vx) / whole, (ux * y - uy * x) / whole
        return [p[i] + s * (q[i] - p[i]) + t * (r[i] - p[i]) for i in range(3)]


def point(said):
    """On the flat sheet in mm, y up, as closed panels have it."""
    return said["x"]["nm"] / 1e6, -said["y"]["nm"] / 1e6
