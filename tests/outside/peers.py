"""Our times beside those of general solvers, geometry and writers, in a table.

`peers.py before FOLDER` puts designs for our bench into the folder, `peers.py FOLDER` prints the table from what our benches
left there: `budgets.json`, `stages.json` and `exports.json`. With `--busy`, processor's times in place of those that pass. Ours are times within one process; each peer gets the
question in the form that suits it best, and the work in Python to put it so is left out of its time where it can be told
apart. Answers must agree; times are only printed.
"""

import json
import sys
from pathlib import Path

import peers_geometry as geometry
import peers_order
import peers_paper
from checks import ROOT, STARTER
from program import described

# Pleats of which the motion is looked at.
PLEATS = 12


def prepare(folder):
    (folder / "seed-swap.folio").write_text(STARTER.read_text())
    (folder / "facing.folio").write_text(json.dumps(geometry.moving_folio(1)[1]))
    (folder / "pleats.folio").write_text(json.dumps(geometry.pleated_folio(PLEATS)[1]))


class Ours:
    """What our benches say, in seconds."""

    def __init__(self, folder):
        read = [json.loads((folder / f"{name}.json").read_text())["rows"] for name in ("budgets", "stages", "exports")]
        self.rows = {(row["folio"], row["what"]): row["ms"] / 1e3 for rows in read for row in rows}

    def of(self, folio, *stages):
        return sum(self.rows[folio, stage] for stage in stages)


def rows(folder):
    """What is asked, our seconds, the peer's, who it is and what it does otherwise."""
    ours, demo = Ours(folder), described(STARTER)
    for name in ("seed-swap", "flaps-500", "map-500"):
        said = described(folder / f"{name}.folio")
        yield (f"layout: {name}", ours.of(name, "layout"), geometry.layout(said), "shapely",
               "areas alone: no folds, pieces, names, exact places")
    yield ("overlaps: a pile of 96", ours.of("what lies over what in a pile of 96 panels", "budget"),
           geometry.overlaps([geometry.box(0, 0, 10, 10)] * 96), "shapely", "overlaps alone: ours makes the solver's rules too")
    listed = ours.of("all orders of a map of 4 x 4 listed", "budget")
    yield "order: map 4 x 4, all", listed, peers_order.all_orders(), "OR-tools CP-SAT", ""
    first = ours.of("a first order of a pile of 96 panels", "budget")
    yield "order: map 8 x 12, first", first, peers_order.first_order(), "python-sat, CaDiCaL", "from clauses, ours from outlines"
    yield "order: map 8 x 12, first", first, peers_order.first_order_by_cp(), "OR-tools CP-SAT", "the same"
    yield ("demo: layout, closing, order", ours.of("seed-swap", "layout", "assemble", "close"), geometry.whole(demo),
           "shapely, python-sat", "no motion")
    for name, folio in (("facing", geometry.moving_folio(1)[0]), ("pleats", geometry.pleated_folio(PLEATS)[0])):
        seconds, looks = geometry.motion(folio)
        yield (f"motion: {name}, {len(folio.panels)} panels", ours.of(name, "close"), seconds, "python-fcl",
               f"{looks} looks, every 5°; ours the exact angle, layers and order too")
    (nest, once, best, bound), (_, once_share, best_share) = peers_paper.nesting()
    yield "nesting: 6 to 9 parts, proved", nest, bound, "OR-tools CP-SAT", "without cuts from edge to edge, 1.5 s at most"
    yield "nesting: 6 to 9 parts, proved", nest, best, "rectpack, best of 168", f"{best_share:.1%} of our area, cuts checked"
    yield "nesting: 6 to 9 parts, proved", nest, once, "rectpack, one run", f"{once_share:.1%} of our area, nothing proved"
    yield ("PDF: lines of the demo", ours.of("seed-swap", "template.pdf"), peers_paper.lines_as_pdf(demo), "reportlab",
           "lines and names alone: no fonts, tables, checks, overlaps")
    yield ("moving: 90 pictures, GIF", ours.of("seed-swap", "animation.gif"),
           peers_paper.pictures(ROOT / "assets" / "starters" / "seed-swap.folio"), "Pillow", "writing alone: ours draws them too")


def main():
    if "before" in sys.argv:
        return prepare(Path(sys.argv[-1]))
    folder = Path(sys.argv[-1])
    print(f"{'':34}{'ours, ms':>11}{'peer, ms':>11}{'peer / ours':>13}  peer")
    told = []
    for name, ours, peer, who, otherwise in rows(folder):
        print(f"{name:34}{ours * 1e3:11.3f}{peer * 1e3:11.3f}{peer / ours:13.1f}  {who}{': ' * bool(otherwise)}{otherwise}",
              flush=True)
        told.append({"what": name, "ours_ms": ours * 1e3, "peer_ms": peer * 1e3, "peer": who, "otherwise": otherwise})
    (folder / "peers.json").write_text(json.dumps(told, indent=1))
    return None


main()
