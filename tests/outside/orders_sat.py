"""How many ways there are for the layers of a closed folio to lie, and what all of them have in common, against
python-sat on a model of its own (`flat_orders`), with shapely for the arrangement.

From the program come only the places of the closed panels, how their folds are meant, and which wall stands outside
which; that last is part of the question, since it asks for orders of layers and not of walls.
"""

import random

import made_up
from checks import OUT, STARTER, Checks, seeds
from flat_orders import planes
from program import described, described_each

# No part of made-up folios that does not depend on others has more orders.
MOST = 3000


def score(number, name, turn, at, fold, angle=180, **ends):
    place = {"turn": turn, "from": "edge", "distance": f"{at} mm", **ends}
    return {"id": number, "name": name, "work": "score", "fold": fold, "angle": angle, "place": place}


def either(rng):
    return rng.choice(["valley", "mountain"])


def strip(seed, widths=(10, 10, 15, 20, 30), square=0.08):
    """Panels side by side, some alike, folded flat or square one crease at a time, some creases not at all."""
    rng = random.Random(seed)
    lengths = [rng.choice(widths) for _ in range(rng.randint(3, 8))]
    at, lines, ends = 0, [], []
    for number, length in enumerate(lengths[:-1], 1):
        at += length
        ends.append(at)
        lines.append(score(number, f"Crease {number}", 0, at, either(rng), 90 if rng.random() < square else 180))
    steps = [[line["id"]] for line in lines if rng.random() < 0.93]
    rng.shuffle(steps)
    wide = sum(lengths)
    base = rng.choice([0, *ends]) + 5.000001
    return made_up.sheet(f"{wide} mm", "40 mm", lines, (f"{base:.6f} mm", "20 mm"), steps, f"Strip {seed}", "mm")


def boxes(seed):
    """The same with many square folds: walls that stand on one line, within one another or back to back."""
    return strip(seed, (10, 10, 20), 0.4)


def map_of(seed):
    """A sheet folded along all its upright lines, then along its level ones; here and there a crease that is wrong."""
    rng = random.Random(seed)
    columns, rows = rng.choice([(2, 2), (2, 3), (3, 2), (2, 4), (3, 3)])
    even = rng.random() < 0.6
    sides = [[30 if even else rng.choice((20, 25, 30)) for _ in range(count)] for count in (columns, rows)]
    ends = [[sum(side[:i + 1]) for i in range(len(side) - 1)] for side in sides]
    lines, steps = [], []
    for number, at in enumerate(ends[0], 1):
        lines.append(score(number, f"Upright {number}", 0, at, either(rng)))
    upright = rng.sample(range(1, columns), columns - 1)
    steps += [[number] for number in upright]
    for at in rng.sample(ends[1], rows - 1):
        fold, step = either(rng), []
        for column in range(columns):
            # On its own turn a level line runs from the sheet's right to its left.
            ends = {"end": f"line {column}"} if column else {}
            if column + 1 < columns:
                ends["start"] = f"line {column + 1}"
            # Each upright fold turns the panel over.
            own = {"valley": "mountain", "mountain": "valley"}[fold] if column % 2 else fold
            own = either(rng) if rng.random() < 0.05 else own
            lines.append(score(len(lines) + 1, f"Level {at} {column}", 1, at, own, **ends))
            step.append(lines[-1]["id"])
        steps.append(step)
    # A nanometre off keeps the base off every line.
    base = ("5.000001 mm", "5.000001 mm")
    return made_up.sheet(f"{sum(sides[0])} mm", f"{sum(sides[1])} mm", lines, base, steps, f"Map {seed}", "mm")


def overlapping(seed):
    """Flaps of any depth on four sides, some on gussets, some folded back on themselves, most of them valleys."""
    rng = random.Random(seed)
    wide, high = rng.choice((80, 100, 120)), rng.choice((80, 100, 120))
    lines, steps, inner, reach = [], [], {}, {}
    for turn in range(4):
        room = wide if turn % 2 == 0 else high
        widths = [rng.choice((20, 30, 40, 50, 60, room // 2, room - 4))]
        angles = [180]
        if rng.random() < 0.3:
            widths.insert(0, rng.choice((10, 15, widths[0])))
            angles.insert(0, 180)
        if rng.random() < 0.35:
            widths.append(rng.choice((2, 2, 4)))
            angles[-1:] = [90, 90]
        at, own = 0, []
        for width, angle in zip(widths, angles):
            at += width
            fold = "valley" if angle == 90 or rng.random() < 0.75 else "mountain"
            own.append(score(len(lines) + 1, f"Fold {turn} {len(own)}", turn, at, fold, angle))
            lines.append(own[-1])
        reach[turn], inner[turn] = at, own[-1]["id"]
        square = [line["id"] for line in own if line["angle"] == 90]
        steps += [[line["id"]] for line in own if line["angle"] == 180] + ([square] if square else [])
    ends = {0: (1, 3), 1: (2, 0), 2: (3, 1), 3: (0, 2)}
    for turn, (start, end) in ends.items():
        for stop in ({"end": f"line {inner[start]}"}, {"start": f"line {inner[end]}"}):
            lines.append({"id": len(lines) + 1, "name": "Corner", "work": "cut",
                          "place": {"along": f"line {inner[turn]}", **stop}})
    rng.shuffle(steps)
    base = [f"{reach[turn] + side / 2 + 0.000001:.6f} mm" for turn, side in ((0, wide), (1, high))]
    return made_up.sheet(f"{wide + reach[0] + reach[2]} mm", f"{high + reach[1] + reach[3]} mm", lines, base, steps,
                         f"Overlapping {seed}", "mm")


def check_plane(checks, name, plane, said):
    """One plane that the program has looked at, too. Gives back how many orders it has."""
    count, forced = plane.orders(MOST)
    told = int(said["count"])
    if said["count_is"] == "exact":
        checks.equal(told, count, f"{name}: how many orders")
    else:
        checks.that(count is None or count > told or (count == told and said["count_is"] == "at least"),
                    f"{name}: {said['count_is']} {told} orders", count)
    if count != 0:
        checks.equal({tuple(pair) for pair in said["forced"]}, forced, f"{name}: what lies so in all orders")
    return count


def check_closed(checks, name, said):
    """All planes of a folio. Gives back the counts of their orders."""
    own = [(pair["lower"], pair["upper"]) for pair in said["closed"]["overlaps"]]
    told = {frozenset(plane["panels"]): plane for plane in said["orders"]}
    crossed = [finding for finding in said["findings"] if finding["rule"] == "no-layer-order"]
    counts, holds = [], True
    for names, plane in planes(said):
        if not plane.variables:
            continue
        of_plane = told.pop(frozenset(names), None)
        if checks.that(of_plane is not None, f"{name}: the plane of {names} is told of"):
            counts.append(check_plane(checks, name, plane, of_plane))
        holds &= plane.holds(own)
    checks.equal(list(told), [], f"{name}: planes in which nothing lies on anything")
    if not crossed:
        checks.that(holds, f"{name}: the order that was reached is possible")
    elif any(finding["lines"] for finding in crossed):
        # Those without lines are of panels in planes that are not parallel.
        checks.that(not holds, f"{name}: the order that was reached is impossible", crossed[0]["sentence"])
    return counts


def main():
    checks = Checks(__file__)
    checks.group("the starter", "four flaps over one another close in any order: 4! ways, by hand")
    counts = check_closed(checks, STARTER.name, described(STARTER, "--orders=0"))
    checks.equal(counts, [24], "orders of the starter's flaps")
    kinds = [("strip", strip, 250), ("boxes", boxes, 450), ("map", map_of, 150), ("flaps", made_up.flaps, 120),
             ("overlapping", overlapping, 200)]
    for kind, make, count in kinds:
        checks.group(f"{count} made-up folios: {kind}", "python-sat on a model made with shapely, seeds fixed")
        paths = [made_up.save(make(seed), OUT / f"orders-{kind}-{seed}.folio") for seed in seeds(count)]
        counts = []
        for path, said in described_each(paths, "--orders=0"):
            counts += check_closed(checks, path.name, said)
        none, one = counts.count(0), counts.count(1)
        several = len(counts) - none - one
        checks.that(len(counts) > count // 3, f"{kind}: enough planes with something to look at", len(counts))
        print(f"  {len(counts)} planes: {none} without an order, {one} with one, {several} with several")
    checks.finish()


main()
