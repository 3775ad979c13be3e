"""Lines, panels, pieces, folds, the ledger and the scoring table against shapely's arrangement of the same lines."""

import random
from collections import Counter

import numpy as np
import shapely
from shapely import Point, Polygon

import anything
import folio
import made_up
from checks import ENVELOPE, OUT, STARTER, Checks, seeds
from layout import JOINED, Layout
from program import described_each
from scoring import check_scoring

# nm. How far a corner of a panel may be from where it is here: each is moved to whole nanometres, some more than once.
OFF = 3

# nm. A crossing half way between two whole nanometres may go to either.
TIE = 1

# nm. Between an arc as the program lays it out and the arc itself (docs/decisions.md).
FLAT = 5_000

# Shapely's areas are floats: parts of the sheet's area.
ALIKE = 1e-11


def half(area):
    return int(area["half_nm2"])


def place(said):
    return said["x"]["nm"], said["y"]["nm"]


def twice_around(points):
    """Twice the area within whole nanometres, exactly (the shoelace formula)."""
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1])))


class Said:
    """The areas that the program says there are, as shapely has them."""

    def __init__(self, said):
        self.areas = [*said["panels"], *said["voids"]]
        self.panels = len(said["panels"])
        rings = [[[place(point) for point in ring] for ring in (area["outline"], *area.get("holes", []))]
                 for area in self.areas]
        self.exact = [twice_around(outline) - sum(map(twice_around, holes)) for outline, *holes in rings]
        self.shapes = [Polygon(outline, holes) for outline, *holes in rings]
        self.names = [area.get("name") for area in self.areas]

    def kind(self, number):
        """What is taken out there and along which line; neither for a panel."""
        area = self.areas[number]
        return area.get("kind"), (area.get("line") or {}).get("id")

    def around(self, points):
        """For each point the areas around it."""
        found = [[] for _ in points]
        for number, shape in enumerate(self.shapes):
            shapely.prepare(shape)
            for i in np.flatnonzero(shapely.contains(shape, points)):
                found[i].append(number)
        return found


def check_lines(checks, name, document, lines, said):
    """Which lines have a place, and where it is."""
    without = {line["id"] for line in said["lines"] if "fault" in line}
    checks.equal(without, {line["id"] for line in document["lines"]} - set(lines), f"{name}: lines without a place")
    wrong = []
    for one in said["lines"]:
        if (line := lines.get(one["id"])) is None or "fault" in one:
            continue
        off = max(abs(a - b) for ours, theirs in zip((line.a, line.b), one["ends"])
                  for a, b in zip(ours, place(theirs)))
        across = one["distance"] and one["distance"]["nm"]
        if off > (OFF if line.turn is None else TIE) or (one["turn"], across) != (line.turn, line.across):
            wrong.append(f"line {line.id}: {one['turn'], across, *map(place, one['ends'])}, not {line}")
        seen = (one["work"], one.get("fold", "").removesuffix(" way") or None, one.get("pressed"), one["bow"]["nm"])
        if seen != (line.work, line.fold, line.face, line.bow):
            wrong.append(f"line {line.id}: {seen}, not {line}")
    checks.that(not wrong, f"{name}: where lines lie", "; ".join(wrong))


def check_areas(checks, name, layout, seen):
    """Each area here is one there, of the same size and kind. Gives back which is which."""
    wrong, same = [], {}
    for number, (cell, around) in enumerate(zip(layout.cells, seen.around(layout.inner))):
        room = OFF * cell.shape.length + FLAT * cell.curved + ALIKE * layout.sheet[0] * layout.sheet[1]
        if cell.shape.area <= 2 * room:
            # So narrow that it may well close up.
            continue
        if len(around) != 1 or around[0] in same.values():
            wrong.append(f"{cell.shape.area / 1e12:.6f} mm² at {cell.shape.representative_point()} is {around}")
            continue
        there = same[number] = around[0]
        area = seen.exact[there] / 2
        wanted = (cell.void.kind, cell.void.line) if cell.void else (None, None)
        if abs(area - cell.shape.area) > room or seen.kind(there) != wanted:
            wrong.append(f"{area / 1e12:.6f} mm² {seen.kind(there)} instead of {cell.shape.area / 1e12:.6f} mm² "
                         f"{wanted}, give or take {room / 1e12:.6f}")
    for number in set(range(len(seen.shapes))) - set(same.values()):
        shape = seen.shapes[number]
        if shape.area > 2 * (OFF + (FLAT if any(cell.curved for cell in layout.cells) else 0)) * shape.length:
            wrong.append(f"{shape.area / 1e12:.6f} mm² at {shape.representative_point()} is not there")
    checks.that(not wrong, f"{name}: panels, and what is taken out by kind and line", "; ".join(wrong))
    return same


def check_joints(checks, name, layout, seen, same, said):
    """Which panels are joined by which line, what hangs together, and what falls out."""
    number = {seen.names[there]: here for here, there in same.items()
              if there < seen.panels and layout.cells[here].void is None}
    folds = set()
    for fold in said["folds"]:
        length = sum(Point(*place(a)).distance(Point(*place(b))) for a, b in fold["stretches"])
        if length > JOINED:
            folds.add((*sorted(number.get(panel, -1) for panel in fold["panels"]), fold["line"]["id"]))
    wanted = {key for key in layout.folds if key[0] in same and key[1] in same}
    folds = {key for key in folds if -1 not in key}
    checks.equal(folds, wanted, f"{name}: which panels are joined by which line")
    pieces, islands = layout.pieces(), layout.islands()
    theirs = {panel["name"]: panel["piece"] for panel in said["panels"]}
    together = lambda piece_of: {frozenset(here for here in number.values() if piece_of(here) == piece)
                                 for piece in map(piece_of, number.values())}
    name_of = {here: panel for panel, here in number.items()}
    checks.equal(together(lambda here: theirs[name_of[here]]), together(pieces.get), f"{name}: what hangs together")
    island = {piece["name"]: piece["island"] for piece in said["pieces"]}
    wrong = [panel for panel, here in number.items() if island[theirs[panel]] != (pieces[here] in islands)]
    checks.that(not wrong, f"{name}: which pieces fall out", wrong)


def check_ledger(checks, name, document, layout, seen, said):
    """Areas that are whole numbers are held to be exactly so."""
    areas = [half(area["area"]) for area in seen.areas]
    checks.equal(areas, seen.exact, f"{name}: areas are those within the outlines")
    ledger = {key: half(area) for key, area in said["ledger"].items()}
    checks.equal(ledger["sheet"], 2 * layout.sheet[0] * layout.sheet[1], f"{name}: the sheet's area, to the half nm²")
    checks.equal(sum(ledger.values()), 2 * ledger["sheet"], f"{name}: the ledger adds up, to the half nm²")
    by_name = dict(zip(seen.names, seen.exact))
    for piece in said["pieces"]:
        if half(piece["area"]) != sum(by_name[panel] for panel in piece["panels"]):
            checks.that(False, f"{name}: {piece['name']} is its panels, to the half nm²", piece)
    kept = sum(half(piece["area"]) for piece in said["pieces"] if piece["folio"])
    lost = Counter()
    for void in said["voids"]:
        lost["slots" if void["kind"] == "slot" else "waste"] += half(void["area"])
    rest = sum(half(piece["area"]) for piece in said["pieces"]) - kept
    checks.equal((ledger["folio"], ledger["offcuts"], ledger["slots"], ledger["waste"]),
                 (kept, rest, lost["slots"], lost["waste"]), f"{name}: where the sheet's area went")
    base = layout.panel_at(folio.point(document["base"]))
    checks.equal(said["base"] is not None, base is not None, f"{name}: whether the base lies in a panel")


def check_points(checks, name, layout, seen, count=100):
    """Every place is in just one panel or void. Places are between nanometres, so none lies on an upright line."""
    rng = random.Random(name)
    places = shapely.points([[rng.uniform(0, side) for side in layout.sheet] for _ in range(count)])
    around = [len(found) for found in seen.around(places)]
    wrong = [f"{point} is in {found}" for point, found in zip(places, around) if found != 1]
    checks.that(not wrong, f"{name}: each of {count} points is in one panel or void", "; ".join(wrong))


def check_corners(checks, name, document, layout, said):
    wanted = [layout.corner_faults.get(number, set()) for number in range(len(document.get("corners", [])))]
    faults = [set(corner["faults"]) for corner in said["corners"]]
    checks.equal(faults, wanted, f"{name}: which corners can't be done, and why")


def check_cuts(checks, name, layout, said):
    """Every cut is in the list once."""
    lines = layout.lines.values()
    cuts = Counter((cut["line"]["id"], cut["turn"]) for cut in said["cuts"] if cut["line"])
    checks.equal(cuts, Counter((line.id, line.turn) for line in lines if line.parts_paper), f"{name}: the cut list")
    sentences = [cut["sentence"] for cut in said["cuts"]]
    checks.that(all(one.endswith(".") for one in sentences), f"{name}: each cut in a sentence", sentences)
    corners = sum(cut["line"] is None for cut in said["cuts"])
    checks.equal(corners, layout.corner_sentences, f"{name}: corners in the cut list")


def check_design(checks, path, said):
    document = folio.load(path)
    layout, seen, name = Layout(document), Said(said), path.name
    check_lines(checks, name, document, layout.lines, said)
    same = check_areas(checks, name, layout, seen)
    check_joints(checks, name, layout, seen, same, said)
    check_ledger(checks, name, document, layout, seen, said)
    check_points(checks, name, layout, seen)
    check_corners(checks, name, document, layout, said)
    check_scoring(checks, name, document, layout.lines, said)
    check_cuts(checks, name, layout, said)


def with_labels(seed):
    """A sheet with anything on it and labels cut from what comes off."""
    document = anything.sheet(seed)
    on = document["base"]
    document["parts"] = [{"id": number, "name": f"Label {number}", "kind": {"mat": {"width": "25 mm", "height": "12 mm"}},
                          "from": "any offcut", "place": {"on": on}} for number in range(1, 5)]
    return document


def main():
    checks = Checks(__file__)
    groups = [
        ("the starter and the checks' own design", [STARTER, ENVELOPE]),
        ("200 sheets with upright and level lines, seeds fixed",
         [made_up.save(made_up.any_lines(seed), OUT / f"any-lines-{seed}.folio") for seed in seeds(200)]),
        ("100 corners cut away along slanting scores, seeds fixed",
         [made_up.save(anything.slanting_corner(seed), OUT / f"slanting-corner-{seed}.folio") for seed in seeds(100)]),
        ("100 slanting edges with corners taken off, seeds fixed",
         [made_up.save(anything.slanting_edge(seed), OUT / f"slanting-edge-{seed}.folio") for seed in seeds(100)]),
        ("1000 sheets with anything on them, seeds fixed",
         [made_up.save(anything.sheet(seed), OUT / f"anything-{seed}.folio") for seed in seeds(1000)]),
    ]
    for name, paths in groups:
        checks.group(name, "shapely: snap-rounded unary_union and polygonize of lines resolved from the file alone")
        for path, said in described_each(paths):
            check_design(checks, path, said)
    checks.group("300 sheets with labels from what comes off, seeds fixed", "shapely: no score across an offcut that is used")
    paths = [made_up.save(with_labels(seed), OUT / f"labels-{seed}.folio") for seed in seeds(300)]
    crossed = 0
    for path, said in described_each(paths):
        document = folio.load(path)
        crossed += check_scoring(checks, path.name, document, Layout(document).lines, said)
    checks.that(crossed >= 20, "some scores would run over offcuts that are used", crossed)
    checks.finish()


main()
