"""Where panels lie when folded, against rotations composed from the definition of a fold with scipy."""

import itertools

import numpy as np
from shapely import Polygon

import folio
import made_up
from checks import OUT, STARTER, Checks, seeds
from folded import Folding
from program import described

# mm; folded positions are floats of some hundreds of millimetres.
SAME = 1e-6


def check_pose(checks, path, folding, time):
    said = described(path, at=time)["closed"]
    places = {}
    for panel in said["panels"]:
        outline = Polygon([(x * 1e6, -y * 1e6) for x, y in panel["flat"]])
        over = [i for i, cell in enumerate(folding.cells) if cell.intersection(outline).area > 0.5 * outline.area]
        if not checks.that(len(over) == 1 and over[0] in folding.parents, f"{path.name}: {panel['name']} is a panel"):
            return
        places[over[0]] = panel
    checks.equal(set(places), set(folding.parents), f"{path.name}: every panel of the folio is placed")
    worst = 0.0
    for i, panel in places.items():
        rotation, shift = folding.pose(i, time)
        flat = np.array([[x, y, 0.0] for x, y in panel["flat"]])
        worst = max(worst, float(np.abs(rotation.apply(flat) + shift - np.array(panel["corners"])).max()))
    checks.near(worst, 0.0, SAME, f"{path.name}: every corner at time {time}, mm")


def check_overlaps(checks, path):
    """Which panels lie on one another when closed, and over what area, by shapely."""
    closed = described(path)["closed"]
    said = {frozenset((pair["lower"], pair["upper"])): pair["mm2"] for pair in closed["overlaps"]}
    level = {}
    for panel in closed["panels"]:
        heights = [z for _, _, z in panel["corners"]]
        # Walls have overlaps too, but only one turn of the head away; those in planes like the base's are looked at.
        if max(heights) - min(heights) < SAME:
            level[panel["name"]] = (heights[0], Polygon([(x, y) for x, y, _ in panel["corners"]]))
    for (first, (z, one)), (second, (height, other)) in itertools.combinations(level.items(), 2):
        area = one.intersection(other).area if abs(z - height) < SAME else 0.0
        pair = frozenset((first, second))
        if area > 0.01:
            checks.near(said.get(pair, float("nan")), area, 1e-6, f"{path.name}: {first} and {second} share, mm²")
        else:
            checks.that(said.get(pair, 0.0) < 0.01, f"{path.name}: {first} and {second} don't lie on one another")


def main():
    checks = Checks(__file__)
    checks.group("the starter at every half step", "scipy.spatial.transform.Rotation, composed from the flat sheet")
    folding = Folding(folio.load(STARTER))
    for half in range(2 * len(folding.steps) + 1):
        check_pose(checks, STARTER, folding, half / 2)
    checks.group("40 made-up folios", "the same, seeds fixed")
    for seed in seeds(40):
        path = made_up.save(made_up.flaps(seed), OUT / f"flaps-{seed}.folio")
        folding = Folding(folio.load(path))
        steps = len(folding.steps)
        for time in (0, steps * 0.37, steps // 2, steps - 0.125, steps):
            check_pose(checks, path, folding, time)
    checks.group("what lies on what", "shapely, on the corners where the program has them")
    check_overlaps(checks, STARTER)
    for seed in seeds(40):
        check_overlaps(checks, OUT / f"flaps-{seed}.folio")
    checks.finish()


main()
