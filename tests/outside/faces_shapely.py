"""What is seen of closed folios, how thick they are and what their gussets wrap, against shapely.

Recomputed from where the program has the panels and from the numbers of their layers.
"""

import itertools
import math
import random
from collections import defaultdict

from shapely import Polygon, set_precision
from shapely.ops import polygonize, unary_union

import folio
import made_up
from checks import OUT, STARTER, Checks, seeds
from program import described, described_each

# mm and mm²; folded positions are floats of some hundreds of millimetres, told areas whole square nanometres.
SAME = 1e-6
SAME_AREA = 2e-3
CALIPER = 0.3

# Cells narrower than this, in mm, come from rounding; the program takes what is below a micrometre for nothing.
SLIVER = 2e-3


class Panel:
    """A panel that lies flat: its polygon on the table, how high, in which layer, which face is up and which way."""

    def __init__(self, said):
        self.name = said["name"]
        self.layer = said["layer"]
        corners = said["corners"]
        self.z = corners[0][2]
        # To the nanometre: shapely's areas go wrong where edges miss each other by a rounding error.
        self.outline = set_precision(Polygon([(x, y) for x, y, _ in corners]), 1e-6)
        self.face = "front" if Polygon([(x, y) for x, y, _ in corners]).exterior.is_ccw else "back"
        (a, b, c), (p, q, r) = said["flat"][:3], corners[:3]
        # Where (0, 1) of the sheet goes: solved from two edges of the panel.
        (ux, uy), (vx, vy) = ((other[0] - a[0], other[1] - a[1]) for other in (b, c))
        whole = ux * vy - uy * vx
        s, t = -vx / whole, ux / whole
        self.up = tuple(s * (q[i] - p[i]) + t * (r[i] - p[i]) for i in (0, 1))


def flat_panels(closed):
    """Those parallel to the table, from low to high."""
    flat = [Panel(panel) for panel in closed["panels"]
            if max(z for *_, z in panel["corners"]) - min(z for *_, z in panel["corners"]) < SAME]
    # Planes first, then layers.
    return sorted(flat, key=lambda panel: (round(panel.z, 2), panel.layer))


def in_order(panels):
    """Whether planes and layers say for sure what lies on what."""
    return all(abs(a.z - b.z) < SAME and a.layer != b.layer or abs(a.z - b.z) > 0.05
               for a, b in itertools.combinations(panels, 2) if a.outline.intersection(b.outline).area > 0.01)


def shape(regions):
    return unary_union([Polygon(region["outline"], region["holes"]) for region in regions])


def turn(up, side):
    """Degrees clockwise, as one sees it from that side."""
    x = up[0] if side == "front" else -up[0]
    return math.degrees(math.atan2(x, up[1])) % 360


def check_faces(checks, name, closed, panels, document):
    for side in ("front", "back"):
        said = {face["panel"]: face for face in closed["faces"][side]}
        covered, seen = Polygon(), {}
        for panel in (reversed(panels) if side == "front" else panels):
            free = panel.outline.difference(covered)
            covered = covered.union(panel.outline)
            if free.area > 0.01:
                seen[panel.name] = (panel, free)
        big = {face for face in said if said[face]["mm2"] > 0.01}
        if not checks.equal(big, set(seen), f"{name}: what is seen from the {side}"):
            continue
        off = max(max(abs(said[one]["mm2"] - free.area), set_precision(shape(said[one]["regions"]), 1e-6)
                      .symmetric_difference(free).area) for one, (_, free) in seen.items())
        checks.near(off, 0.0, SAME_AREA, f"{name}: areas seen from the {side}, mm²")
        total = sum(face["mm2"] for face in closed["faces"][side])
        checks.near(total, covered.area, SAME_AREA, f"{name}: they add up to the outline, mm²")
        for one, (panel, _) in seen.items():
            face = panel.face if side == "front" else {"front": "back", "back": "front"}[panel.face]
            checks.equal(said[one]["face"], face, f"{name}: the face of {one} seen from the {side}")
            apart = (said[one]["up"] - turn(panel.up, side) + 180) % 360 - 180
            checks.near(apart, 0.0, 1e-5, f"{name}: which way {one} is up from the {side}, degrees")
            check_pattern(checks, f"{name}: {one} from the {side}", said[one], document)


def check_pattern(checks, what, said, document):
    """A one-way pattern's top is a quarter turn from the sheet's for each edge on, the other way round on the back."""
    pattern = document["stock"].get(said["face"], {}).get("pattern", "plain")
    if not pattern.endswith(" up"):
        checks.equal((said["pattern"], said["pattern_up"]), (pattern, None), f"{what}: its pattern")
        return
    quarters = ["top up", "right up", "bottom up", "left up"].index(pattern) * (1 if said["face"] == "front" else -1)
    apart = (said["pattern_up"] - said["up"] - 90 * quarters + 180) % 360 - 180
    checks.near(apart, 0.0, 1e-6, f"{what}: which way its pattern is up, degrees")


def cells(panels):
    """The areas that no boundary crosses, each with the panels over it from low to high."""
    lines = unary_union([panel.outline.exterior for panel in panels])
    for cell in polygonize(lines):
        if 2 * cell.area > SLIVER * cell.length:
            at = cell.representative_point()
            yield cell, [panel for panel in panels if panel.outline.contains(at)]


def told(height):
    """To the micrometre, so that halves of one, which designs may have, are clear."""
    return round(height + 1e-5, 3)


def check_thickness(checks, name, closed, panels):
    wanted, said = defaultdict(float), defaultdict(float)
    for cell, pile in cells(panels):
        if pile:
            faces = [panel.z + panel.layer * CALIPER for panel in pile]
            height = max(max(faces) - min(faces) + CALIPER, len(pile) * CALIPER)
            wanted[len(pile), told(height)] += cell.area
    for area in closed["thickness_areas"]:
        said[area["layers"], told(area["height_mm"])] += area["mm2"]
        checks.near(area["paper_mm"], area["layers"] * CALIPER, SAME, f"{name}: {area['layers']} layers, mm")
        checks.near(shape(area["regions"]).area, area["mm2"], SAME_AREA, f"{name}: regions of a thickness, mm²")
    off = max(abs(wanted[key] - said[key]) for key in set(wanted) | set(said))
    checks.near(off, 0.0, 0.05, f"{name}: areas of each thickness, mm²: {dict(wanted)} and {dict(said)}")


def check_gussets(checks, name, said, panels):
    by_name = {panel.name: panel for panel in panels}
    folds = defaultdict(set)
    for fold in said["folds"]:
        folds[fold["line"]["id"]].update(fold["panels"])
    for gusset in said["closed"]["gussets"]:
        ends = [by_name.get(other) for line in gusset["lines"] for other in folds[line["id"]] - {gusset["panel"]}]
        if len(ends) != 2 or None in ends:
            # It stands on another, or its folds go on beyond it.
            continue
        low, high = sorted(ends, key=panels.index)
        checks.near(gusset["has_mm"], high.z - low.z, SAME, f"{name}: the width of {gusset['panel']}, mm")
        between = [len([panel for panel in pile if panels.index(low) < panels.index(panel) < panels.index(high)])
                   for _, pile in cells(panels) if low in pile and high in pile]
        most = max(between, default=0)
        checks.equal(gusset["layers"], most, f"{name}: the layers that {gusset['panel']} wraps")
        checks.near(gusset["least_mm"], (most + 1) * CALIPER, SAME, f"{name}: how wide {gusset['panel']} has to be, mm")


def check_overlaps(checks, name, closed, panels):
    said = {(pair["lower"], pair["upper"]): pair["mm2"] for pair in closed["overlaps"]}
    for low, high in itertools.combinations(panels, 2):
        area = low.outline.intersection(high.outline).area if abs(low.z - high.z) < SAME else 0.0
        if area > 0.01:
            pair = said.get((low.name, high.name), math.nan)
            checks.near(pair, area, SAME_AREA, f"{name}: {high.name} on {low.name}, mm²")


def check_closed(checks, name, document, said):
    closed = said["closed"]
    panels = flat_panels(closed)
    # Where paper has passed through paper, or lies thicker than its gusset, planes and layers contradict each other.
    if any(finding["severity"] == "error" for finding in said["findings"]) or not in_order(panels):
        return False
    check_faces(checks, name, closed, panels, document)
    check_thickness(checks, name, closed, panels)
    check_gussets(checks, name, said, panels)
    check_overlaps(checks, name, closed, panels)
    return True


def check_stage(checks, name, path, time):
    """On the way nothing is told of layers: what is seen is part of its panel, and all of it covers the folio once."""
    closed = described(path, at=time)["closed"]
    shadows = {panel["name"]: Polygon([(x, y) for x, y, _ in panel["corners"]]) for panel in closed["panels"]}
    whole = unary_union([set_precision(shadow, 1e-6) for shadow in shadows.values() if shadow.area > SAME])
    for side in ("front", "back"):
        parts = [(face["panel"], set_precision(shape(face["regions"]), 1e-6)) for face in closed["faces"][side]]
        beyond = max(part.difference(shadows[panel].buffer(1e-5)).area for panel, part in parts)
        checks.near(beyond, 0.0, SAME_AREA, f"{name} at {time}: what is seen from the {side} is of its panel, mm²")
        union = unary_union([part for _, part in parts])
        checks.near(union.symmetric_difference(whole).area, 0.0, 0.1, f"{name} at {time}: the {side} is whole, mm²")
        total = sum(part.area for _, part in parts)
        checks.near(total, whole.area, 0.1, f"{name} at {time}: nothing is seen twice, mm²")


def wrapped(seed):
    """Flaps from four sides that close over one another, all valleys, most of them on gussets: the shallowest first."""
    rng = random.Random(seed)
    wide, high = rng.randint(90, 140), rng.randint(90, 140)
    lines, steps, order = [], [], [0, 1, 2, 3]
    rng.shuffle(order)
    depth = {turn: rng.randint(30, (wide if turn % 2 == 0 else high) - 8) for turn in range(4)}
    gusset = {turn: rng.choice([0, 2, 6]) for turn in range(4)}
    inner = {}
    for turn in range(4):
        folds = [depth[turn], depth[turn] + gusset[turn]] if gusset[turn] else [depth[turn]]
        own = [{"id": len(lines) + number, "name": f"Fold {turn} {number}", "work": "score", "fold": "valley",
                "angle": 90 if gusset[turn] else 180, "place": {"turn": turn, "from": "edge", "distance": f"{at} mm"}}
               for number, at in enumerate(folds, 1)]
        lines += own
        inner[turn] = own[-1]["id"]
        steps.append([line["id"] for line in own])
    ends = {0: (1, 3), 1: (2, 0), 2: (3, 1), 3: (0, 2)}
    for turn, (start, end) in ends.items():
        for stop in ({"end": f"line {inner[start]}"}, {"start": f"line {inner[end]}"}):
            lines.append({"id": len(lines) + 1, "name": "Corner", "work": "cut",
                          "place": {"along": f"line {inner[turn]}", **stop}})
    width = wide + sum(depth[turn] + gusset[turn] for turn in (0, 2))
    height = high + sum(depth[turn] + gusset[turn] for turn in (1, 3))
    # A nanometre off the middle keeps the base off every line.
    base = [f"{depth[turn] + gusset[turn] + side / 2 + 0.000001:.6f} mm" for turn, side in ((0, wide), (1, high))]
    steps = [steps[turn] for turn in sorted(order, key=gusset.get)]
    return made_up.sheet(f"{width} mm", f"{height} mm", lines, base, steps, f"Wrapped {seed}", "mm")


def dog_ears(seed):
    """A sheet with its four corners folded over it, or under it, along slanting lines."""
    rng = random.Random(seed)
    wide, high = rng.randint(100, 200), rng.randint(100, 200)
    lines, spot = [], lambda x, y: {"x": f"{x} mm", "y": f"{y} mm"}
    for left, top in itertools.product((True, False), repeat=2):
        x, y = rng.randint(20, wide // 2 - 5), rng.randint(20, high // 2 - 5)
        drawn = {"from": spot(x if left else wide - x, 0 if top else high),
                 "to": spot(0 if left else wide, y if top else high - y)}
        lines.append({"id": len(lines) + 1, "name": f"Ear {len(lines)}", "work": "score",
                      "fold": rng.choice(["valley", "mountain"]), "place": {"drawn": drawn}})
    steps = [[line["id"]] for line in rng.sample(lines, 4)]
    base = (f"{wide / 2 + 0.000001:.6f} mm", f"{high / 2 + 0.000001:.6f} mm")
    return made_up.sheet(f"{wide} mm", f"{high} mm", lines, base, steps, f"Dog-ears {seed}", "mm") | {"version": 2}


def patterned(document, seed):
    rng = random.Random(seed)
    for face in ("front", "back"):
        if rng.random() < 0.7:
            document["stock"][face] = {"pattern": rng.choice(["any way", "top up", "right up", "bottom up", "left up"])}
    return document | {"version": 2}


def main():
    checks = Checks(__file__)
    checks.group("the starter", "shapely, on the corners and layers where the program has them")
    starter = folio.load(STARTER)
    checks.that(check_closed(checks, STARTER.name, starter, described(STARTER)), "the starter has no errors")
    for half in range(2 * len(starter["steps"]) + 1):
        check_stage(checks, STARTER.name, STARTER, half / 2)
    kinds = [("flaps", made_up.flaps, 160), ("wrapped", wrapped, 160), ("dog-ears", dog_ears, 100)]
    for kind, make, count in kinds:
        checks.group(f"{count} made-up folios: {kind}", "the same, seeds fixed")
        paths = [made_up.save(patterned(make(seed), seed), OUT / f"faces-{kind}-{seed}.folio") for seed in seeds(count)]
        clear = 0
        for path, said in described_each(paths):
            clear += check_closed(checks, path.name, folio.load(path), said)
        checks.that(clear > count // 10, f"{clear} of {count} folios could be looked at")
        for path in paths[:10]:
            steps = len(folio.load(path)["steps"])
            for time in (0, steps // 2, steps * 0.37):
                check_stage(checks, path.name, path, time)
    checks.finish()


main()
