"""Where panels lie when folded, against rotations composed from the definition of a fold with scipy."""

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
    checks.finish()


main()
