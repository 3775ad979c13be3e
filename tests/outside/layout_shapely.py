"""Panels, pieces and the ledger of areas against shapely's arrangement of the same lines."""

from collections import Counter

from shapely import Point

import folio
import made_up
from checks import OUT, STARTER, Checks, seeds
from layout import faces
from program import described

# Parts of the sheet's area: shapely's coordinates are floats.
ALIKE = 1e-11


def check_areas(checks, what, got, wanted, whole):
    """Two lists of areas, in any order."""
    got, wanted = sorted(got), sorted(wanted)
    alike = len(got) == len(wanted) and all(abs(a - b) <= ALIKE * whole for a, b in zip(got, wanted))
    checks.that(alike, what, f"{got} instead of {wanted}")


def check_design(checks, path):
    document = folio.load(path)
    sheet, lines = folio.size(document), folio.lines(document)
    said = described(path)
    half = lambda area: int(area["half_nm2"])
    doubled = 2 * sheet[0] * sheet[1]
    cells = faces(sheet, lines.values())
    pieces = faces(sheet, [line for line in lines.values() if line.kind == "cut"])
    name = path.name
    check_areas(checks, f"{name}: panels", [half(panel["area"]) for panel in said["panels"]],
                [2 * cell.area for cell in cells], doubled)
    check_areas(checks, f"{name}: pieces", [half(piece["area"]) for piece in said["pieces"]],
                [2 * piece.area for piece in pieces], doubled)
    ledger = {key: half(area) for key, area in said["ledger"].items()}
    checks.equal(ledger["sheet"], doubled, f"{name}: the sheet's area, to the square nanometre")
    checks.equal(ledger["folio"] + ledger["offcuts"], doubled, f"{name}: the ledger adds up, to the square nanometre")
    base = Point(*(folio.length(document["base"][axis]) for axis in "xy"))
    kept = sum(2 * piece.area for piece in pieces if piece.contains(base))
    checks.near(ledger["folio"], kept, ALIKE * doubled, f"{name}: the folio is the piece with the base")
    # The scoring table: distances by turn, read off the lines.
    table = {(turn["turn"], score["distance"]["nm"], line["id"])
             for turn in said["scoring"] for score in turn["scores"] for line in score["lines"]}
    scores = {(line.turn, line.across, line.id) for line in lines.values() if line.kind != "cut"}
    checks.equal(table, scores, f"{name}: the scoring table")
    cuts = Counter((cut["line"]["id"], cut["turn"], cut["distance"]["nm"], cut["from"]["nm"], cut["to"]["nm"])
                   for cut in said["cuts"])
    wanted = Counter((line.id, line.turn, line.across, *line.down) for line in lines.values() if line.kind == "cut")
    checks.equal(cuts, wanted, f"{name}: the cut list")


def main():
    checks = Checks(__file__)
    checks.group("the starter's areas", "shapely: unary_union and polygonize of lines resolved from the file alone")
    check_design(checks, STARTER)
    checks.group("200 sheets with any lines", "the same, seeds fixed")
    for seed in seeds(200):
        check_design(checks, made_up.save(made_up.any_lines(seed), OUT / f"any-lines-{seed}.folio"))
    checks.finish()


main()
