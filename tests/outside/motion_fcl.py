"""What a cover strikes on its way, against a collision library: panels as boxes of the paper's thickness.

Made-up folios have a tab that stands up from the base and a cover that closes over it. Where the program names a strike,
the boxes reach into one another just after that angle and not before; where it names none, at no time.
"""

import random
import re

import fcl
import numpy as np

import made_up
from checks import OUT, Checks, seeds
from program import described

# The program says whole degrees, and its drawn poses lift layers evenly as a fold turns: half a degree for each.
MARGIN = 1.0

# Degrees between looks where no strike is named.
LOOK = 5.0


def folio(seed):
    """A cover at the left, a base, and a tab on it that is hinged on the side of the cover; sizes in mm."""
    rng = random.Random(seed)
    cover, away, tall = rng.randint(40, 110), rng.randint(35, 120), rng.randint(8, 35)
    if rng.random() < 0.3:
        # Just long enough, or just too short, to reach the tab.
        cover = away + rng.randint(-3, 6)
    wide, high, at = cover + away + tall + 20, 60, cover + away
    caliper = rng.choice(["0.1 mm", "0.15 mm", "0.2 mm"])

    def line(number, work, turn, distance, start, end, **more):
        place = {"turn": turn, "from": "edge", "distance": f"{distance} mm", "start": f"{start} mm", "end": f"{end} mm"}
        return {"id": number, "name": f"Line {number}", "work": work, "place": place, **more}

    # On turn 1 the top edge lies at the left and x runs up.
    along = (wide - at - tall, wide - at)
    lines = [
        line(1, "cut", 1, 20, *along), line(2, "cut", 1, 40, *along), line(3, "cut", 0, at + tall, 20, 40),
        line(4, "score", 0, at, 20, 40, fold="valley", angle=90), line(5, "score", 0, cover, 0, high, fold="valley"),
    ]
    sheet = made_up.sheet(f"{wide} mm", f"{high} mm", lines, (f"{cover + 2} mm", "5 mm"), [[4], [5]], f"Cover {seed}", "mm")
    sheet["stock"]["caliper"] = caliper
    return sheet, (cover, at, tall), float(caliper.split()[0])


def box(panel, caliper):
    """A rectangular panel as a box: its first corner, two edges, and the thickness across them."""
    corners = np.array(panel["corners"])
    along, across = corners[1] - corners[0], corners[-1] - corners[0]
    sides = np.linalg.norm(along), np.linalg.norm(across)
    x, y = along / sides[0], across / sides[1]
    turn = np.column_stack((x, y, np.cross(x, y)))
    return fcl.CollisionObject(fcl.Box(*sides, caliper), fcl.Transform(turn, corners[0] + (along + across) / 2))


def depth(path, degrees, caliper, wanted):
    """How deep cover and tab reach into one another when the cover has turned so far, in mm."""
    panels = described(path, at=1 + degrees / 180)["closed"]["panels"]
    boxes = [box(next(panel for panel in panels if wanted[name](panel)), caliper) for name in ("cover", "tab")]
    result = fcl.CollisionResult()
    fcl.collide(*boxes, fcl.CollisionRequest(num_max_contacts=20, enable_contact=True), result)
    return max((contact.penetration_depth for contact in result.contacts), default=0.0)


def check(checks, seed):
    document, (cover, at, tall), caliper = folio(seed)
    path = made_up.save(document, OUT / f"cover-{seed}.folio")
    said = described(path)
    sizes = {"cover": (0, cover), "tab": (at, at + tall)}
    wanted = {name: (lambda panel, ends=ends: (min(x for x, _ in panel["flat"]), max(x for x, _ in panel["flat"])) == ends)
              for name, ends in sizes.items()}
    strikes = [finding for finding in said["findings"] if finding["rule"] == "strikes"]
    angles = [int(found) for strike in strikes for found in re.findall(r"turned (\d+)°", strike["sentence"])]
    give = caliper + 0.05
    if angles:
        angle = min(angles)
        for before in np.arange(angle - MARGIN, 60.0, -20.0):
            seen = depth(path, before, caliper, wanted)
            checks.that(seen < 0.02, f"{path.name}: free at {before:.1f}°, struck at {angle}°", seen)
        seen = max(depth(path, angle + MARGIN, caliper, wanted), depth(path, angle + 2 * MARGIN, caliper, wanted))
        checks.that(seen > 0.0, f"{path.name}: struck by {angle + MARGIN}°", seen)
    else:
        for degrees in np.arange(90.0, 180.0, LOOK):
            seen = depth(path, degrees, caliper, wanted)
            checks.that(seen < give, f"{path.name}: nothing is struck at {degrees}°", seen)


def main():
    checks = Checks(__file__)
    checks.group("covers over tabs", "python-fcl: boxes of the caliper's thickness, at the program's poses")
    for seed in seeds(120):
        check(checks, seed)
    checks.finish()


main()
