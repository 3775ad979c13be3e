"""The order of layers in closed strips, held to the definition of a flat folding, literally.

The program works the order out fold by fold and verifies it with a solver. Here the finished order is looked at: along
each crease the paper goes round an edge, and nothing may pass through there. Whether a strip closes at all is not asked;
of those that the program says close, each has to obey.
"""

import itertools
import random

import made_up
from checks import OUT, Checks, seeds
from program import described

def strip(lengths, folds, base, order):
    """A design: panels of whole millimetres side by side, folded flat one crease at a time."""
    ends = list(itertools.accumulate(lengths))
    lines = [{"id": i + 1, "place": {"turn": 0, "from": "edge", "distance": f"{end} mm"}, "work": "score", "fold": fold}
             for i, (end, fold) in enumerate(zip(ends, folds))]
    middle = ends[base] - lengths[base] / 2
    return made_up.sheet(f"{ends[-1]} mm", "50 mm", lines, (f"{middle} mm", "25 mm"), [[i + 1] for i in order], "Strip", "mm")


def layers(said, count):
    """The layer of each panel, from the left end of the flat strip."""
    panels = sorted(said["closed"]["panels"], key=lambda panel: min(x for x, _ in panel["flat"]))
    assert len(panels) == count
    return [panel["layer"] for panel in panels]


def faults(lengths, folds, base, layer):
    """Where an order of layers breaks the definition."""
    count = len(lengths)
    # Where each crease comes to lie, walking along the folded strip, and on which side of it its panels are.
    at, way, joints, spans = 0, 1, [], []
    for i, length in enumerate(lengths):
        spans.append(tuple(sorted((at, at + way * length))))
        at += way * length
        if i + 1 < count:
            joints.append((at, -way, i))
        way = -way
    wrong = []
    for i, fold in enumerate(folds):
        # A valley brings the fronts together, so the next panel lies on the front of this one.
        front_up = (i - base) % 2 == 0
        if (layer[i + 1] > layer[i]) != (front_up == (fold == "valley")):
            wrong.append(f"crease {i} is no {fold}")
    for a, b in itertools.combinations(range(count), 2):
        overlap = min(spans[a][1], spans[b][1]) - max(spans[a][0], spans[b][0])
        if overlap > 0 and layer[a] == layer[b]:
            wrong.append(f"panels {a} and {b} are in one layer and in one place")
    between = lambda i, p: min(layer[i], layer[i + 1]) < layer[p] < max(layer[i], layer[i + 1])
    for x, _, i in joints:
        for p in range(count):
            if p not in (i, i + 1) and spans[p][0] < x < spans[p][1] and between(i, p):
                wrong.append(f"panel {p} passes through crease {i}")
    for (x, side, i), (y, other, j) in itertools.combinations(joints, 2):
        # Two creases on one edge: one lies within the other or beside it.
        if (x, side) == (y, other):
            ends = [p for p in (j, j + 1) if p not in (i, i + 1)]
            if len(ends) == 2 and between(i, ends[0]) != between(i, ends[1]):
                wrong.append(f"creases {i} and {j} pass through one another")
    return wrong


def check_strip(checks, name, lengths, folds, base, order):
    """Whether the program says that it closes; if so, its layers are looked at."""
    said = described(made_up.save(strip(lengths, folds, base, order), OUT / "strip.folio"))
    if any(finding["severity"] == "error" for finding in said["findings"]):
        return None
    layer = layers(said, len(lengths))
    wrong = faults(lengths, folds, base, layer)
    checks.that(not wrong, f"{name}: {lengths} {folds} from {base} in order {order}", f"layers {layer}: {wrong}")
    return tuple(layer)


def main():
    checks = Checks(__file__)
    definition = "no two creases on one edge interleave, and nothing passes through a crease; Koehler 1968, from memory"
    # Labelled orders of a strip of 2 to 5 stamps: OEIS A000136.
    published = {2: 2, 3: 6, 4: 16, 5: 50}
    checks.group("the definition itself", "OEIS A000136")
    for count, orders in published.items():
        obey = sum(not faults([10] * count, folds, 0, layer) for layer in itertools.permutations(range(count))
                   for folds in itertools.product(("valley", "mountain"), repeat=count - 1))
        checks.equal(obey, orders, f"orders of {count} stamps that obey it")
    checks.group("all strips of up to five stamps in every closing order", definition)
    for count, most in published.items():
        found = set()
        for folds in itertools.product(("valley", "mountain"), repeat=count - 1):
            for order in itertools.permutations(range(count - 1)):
                layer = check_strip(checks, "stamps", [10] * count, folds, 0, order)
                # Seen from the lowest, so that the base's layer number does not matter.
                found |= {tuple(sorted(range(count), key=lambda p: layer[p]))} if layer else set()
        checks.that(2 ** (count - 1) <= len(found) <= most, f"orders of {count} stamps: at most {most} (OEIS A000136)", len(found))
        print(f"  {count} stamps: {len(found)} of {most} orders are reached by folding one crease after another")
    checks.group("400 strips of uneven panels", f"{definition}; seeds fixed")
    closed = 0
    for seed in seeds(400):
        rng = random.Random(seed)
        count = rng.randint(3, 8)
        lengths = [rng.choice((10, 15, 20, 30)) for _ in range(count)]
        folds = [rng.choice(("valley", "mountain")) for _ in range(count - 1)]
        order = rng.sample(range(count - 1), count - 1)
        closed += check_strip(checks, f"seed {seed}", lengths, folds, rng.randrange(count), order) is not None
    checks.that(closed > 40, "enough of them close for this to say something", closed)
    print(f"  {closed} of 400 close")
    checks.finish()


main()
