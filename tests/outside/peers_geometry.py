"""Panels on the sheet, what lies over what and what strikes what on the way, by general geometry and a collision library."""

import random

import fcl
import numpy as np
import shapely
from shapely import LineString, STRtree, box
from shapely.ops import polygonize, unary_union

import motion_fcl
from flat_orders import planes, point
from peers_clock import clock, median

# Degrees between looks.
LOOK = 5.0


def lines_of(said):
    """The sheet's border and its lines, as the program says where they lie."""
    ends = [[point(end) for end in line["ends"]] for line in said["lines"] if "ends" in line]
    wide, high = (said["sheet"][key]["nm"] / 1e6 for key in ("width", "height"))
    return [LineString([(0, 0), (wide, 0), (wide, -high), (0, -high), (0, 0)]), *map(LineString, ends)]


def layout(said):
    """Seconds in which shapely divides the sheet along its lines. It says nothing of folds, pieces and names."""
    lines = lines_of(said)
    seconds, areas = median(lambda: list(polygonize(unary_union(lines))))
    if len(areas) < len(said["panels"]):
        raise SystemExit(f"shapely finds {len(areas)} areas where there are {len(said['panels'])} panels")
    return seconds


def overlaps(panels):
    """Seconds in which shapely finds which of them lie over one another, with its tree of boxes and all in one call."""
    shapes = np.array(panels)

    def run():
        a, b = STRtree(shapes).query(shapes, predicate="intersects")
        a, b = a[a < b], b[a < b]
        return np.count_nonzero(shapely.area(shapely.intersection(shapes[a], shapes[b])) > 1e-6)

    seconds, count = median(run)
    if count != len(panels) * (len(panels) - 1) // 2:
        raise SystemExit(f"shapely finds {count} overlaps in a pile of {len(panels)}")
    return seconds


def whole(said):
    """Seconds for the panels on the sheet and a layer order in each plane, by shapely and python-sat, from the lines on."""
    lines = lines_of(said)

    def run():
        areas = list(polygonize(unary_union(lines)))
        return areas, [plane.holds([]) for _, plane in planes(said)]

    seconds, (areas, holds) = median(run)
    if not all(holds) or len(areas) < len(said["closed"]["panels"]):
        raise SystemExit("the panels or their order were not found")
    return seconds


def moving_folio(seed):
    """A folio of a base and flaps on gussets from two sides, which close one after the other or at once."""
    folio, base, _ = motion_fcl.facing(random.Random(seed), 0.3)
    return folio, folio.document("Facing", base)


def pleated_folio(count):
    """Pleats that fold one after the other, from the far end."""
    folio = motion_fcl.Folio(60.0 * (count + 1), 60, 0.3)
    names = ["base"]
    folio.panel("base", (0, 60), (0, 60))
    lines = []
    for number in range(count):
        at = 60 * (number + 1)
        fold = "valley" if number % 2 == 0 else "mountain"
        names.append(f"pleat {number}")
        lines.append(folio.panel(names[-1], (at, at + 60), (0, 60), names[-2], at, angle=180, fold=fold))
    for line in reversed(lines):
        folio.step(line)
    return folio, folio.document("Pleats", (30.0, 30.0))


def motion(folio):
    """Seconds in which FCL looks every 5° whether anything strikes anything, all panels as boxes in a manager of its own.

    Where the boxes are is not in the time. It samples, and names no angle.
    """
    names = list(folio.panels)
    moves = {name: [step for step, lines in enumerate(folio.steps) if folio.line_of(name) in lines][0]
             for name in folio.hinges}
    spent, looks = 0.0, 0
    for step in range(len(folio.steps)):
        angle = max(folio.hinges[name][3] for name, of in moves.items() if of == step)
        for part in np.linspace(0.0, 1.0, int(angle / LOOK) + 1):
            progress = lambda of, part=part, step=step: part if moves[of] == step else float(moves[of] < step)
            boxes = [folio.box(name, progress) for name in names]
            start = clock()
            manager = fcl.DynamicAABBTreeCollisionManager()
            manager.registerObjects(boxes)
            manager.setup()
            manager.collide(fcl.CollisionData(fcl.CollisionRequest(num_max_contacts=1000)),
                            fcl.defaultCollisionCallback)
            spent += clock() - start
            looks += 1
    return spent, looks
