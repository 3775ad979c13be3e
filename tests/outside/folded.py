"""Where panels lie when folded, from the definition of a fold.

The pose of a panel is that of its neighbour nearer the base, after a rotation about their common fold as it lies on the
flat sheet. The program works step by step from the last state instead.
"""

import numpy as np
from scipy.spatial.transform import Rotation
from shapely import LineString, Point

import folio
from layout import faces


def world(point):
    """A sheet point in millimetres, x right, y up, z out of the front."""
    return np.array([point[0] / 1e6, -point[1] / 1e6, 0.0])


class Folding:
    """A folio as a tree of panels that hang on one another by folds, the base at its root."""

    def __init__(self, document):
        self.steps = document["steps"]
        sheet, lines = folio.size(document), folio.lines(document)
        self.cells = faces(sheet, lines.values())
        cuts = [LineString([line.a, line.b]) for line in lines.values() if line.kind == "cut"]
        scores = [line for line in lines.values() if line.kind != "cut"]
        base = Point(*(folio.length(document["base"][axis]) for axis in "xy"))
        root = next(i for i, cell in enumerate(self.cells) if cell.contains(base))
        # Each panel's parent and the fold between them.
        self.parents = {root: None}
        waiting = [root]
        for near in waiting:
            for far in set(range(len(self.cells))) - set(self.parents):
                shared = self.cells[near].boundary.intersection(self.cells[far].boundary)
                for line in scores:
                    along = shared.intersection(LineString([line.a, line.b]))
                    for cut in cuts:
                        along = along.difference(cut)
                    if along.length > 1:
                        self.parents[far] = (near, line)
                        waiting.append(far)
                        break

    def turned(self, line, time):
        """How far a line is folded at a time, in degrees."""
        for step, together in enumerate(self.steps):
            if line.id in together:
                return line.angle * min(max(time - step, 0.0), 1.0)
        return 0.0

    def pose(self, panel, time):
        """Rotation and shift of a panel at a time."""
        if self.parents[panel] is None:
            return Rotation.identity(), np.zeros(3)
        near, line = self.parents[panel]
        rotation, shift = self.pose(near, time)
        at, end = world(line.a), world(line.b)
        along = (end - at) / np.linalg.norm(end - at)
        aside = world(self.cells[panel].representative_point().coords[0]) - at
        # A valley lifts what lies beside the fold towards the front; a rotation about `along` lifts what lies to its left.
        to_front = 1.0 if np.cross(along, aside)[2] > 0 else -1.0
        sense = to_front if line.kind == "valley" else -to_front
        fold = Rotation.from_rotvec(sense * self.turned(line, time) * along, degrees=True)
        return rotation * fold, rotation.apply(at - fold.apply(at)) + shift
