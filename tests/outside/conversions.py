"""Designs converted to other units and other sheets: what has to stay stays, to the nanometre."""

import itertools
import re

import anything
import folio
import made_up
from checks import ENVELOPE, OUT, STARTER, Checks, seeds
from program import described, run

LENGTH = re.compile(r"-?(?:\d+ )?\d+(?:\.\d+|/\d+)? (?:in|mm|cm)")

# nm: strips up to this wide are for glue and are kept (docs/decisions.md).
STRIP = 6_350_000

# What a file may leave out, and what it then means.
USUAL = {"angle": 180, "start": "edge", "end": "edge", "locked": False, "caliper": "0 mm", "credit": "", "bow": "0 mm"}


def meaning(value, key=None):
    """A part of a file with its lengths in nanometres, and without what says no more than leaving it out."""
    if isinstance(value, dict):
        kept = {k: meaning(v, k) for k, v in value.items() if v is not None and USUAL.get(k) != v}
        if kept.get("work") == "slot":
            kept.setdefault("side", "centred")
        return kept
    if isinstance(value, list):
        return [meaning(one) for one in value]
    if isinstance(value, str) and key not in ("title", "credit", "name", "file", "weight"):
        return LENGTH.sub(lambda found: f"{folio.length(found[0])} nm", value)
    return value


def converted(source, *options):
    path = OUT / "converted.folio"
    path.unlink(missing_ok=True)
    return run("convert", source, "-o", path, *options), path


def check_units(checks, source):
    before = folio.load(source)
    for unit in ("in", "mm", "cm"):
        _, path = converted(source, "--units", unit)
        after = folio.load(path)
        name = f"{source.name} in {unit}"
        checks.equal(after["units"], unit, f"{name}: the unit")
        same = [meaning(document | {"units": "", "version": 0}) for document in (before, after)]
        checks.equal(same[1], same[0], f"{name}: every length, to the nanometre, and all else")


def places(document, upright):
    """Where the lines lie that run one way, along the sheet's edge that they cross, and the edge's ends."""
    lines = folio.lines(document).values()
    own = {line.id: line.a[0 if upright else 1] for line in lines if line.turn is not None and line.upright == upright}
    return own, folio.size(document)[0 if upright else 1]


def check_sheet(checks, source, sheet, size):
    before, said = folio.load(source), described(source)
    ended, path = converted(source, "--sheet", sheet)
    name = f"{source.name} on {sheet}"
    if ended.returncode != 0:
        # Too small for what is kept; it says so.
        seen = (ended.returncode, len(ended.stderr.splitlines()), path.exists())
        checks.equal(seen, (1, 1, False), f"{name}: refused in one sentence")
        return False
    after = folio.load(path)
    checks.equal(folio.size(after), size, f"{name}: the sheet's size")
    work = [[meaning(line | {"place": None}) for line in document["lines"]] for document in (before, after)]
    checks.equal(work[1], work[0], f"{name}: what is done along every line")
    checks.equal(set(folio.lines(after)), set(folio.lines(before)), f"{name}: every line still has a place")
    check_strips(checks, name, before, after, gussets(said))
    return True


def gussets(said):
    """Where gussets lie: whether they are upright, and from where to where across."""
    found = set()
    for panel in said["panels"]:
        if panel["gusset"]:
            upright = panel["width"]["nm"] < panel["height"]["nm"]
            across = [corner["x" if upright else "y"]["nm"] for corner in panel["outline"]]
            found.add((upright, min(across), max(across)))
    return found


def check_strips(checks, name, before, after, gussets):
    """Between lines that run one way, gussets and narrow strips stay; all else grows or shrinks by one factor, to whole
    grooves but for the widest."""
    groove = folio.length(before["board"]["grooves"]) if before.get("board") else 0
    for upright in (True, False):
        (own, side), (new, other) = places(before, upright), places(after, upright)
        moved = {0: 0, side: other} | {own[number]: new[number] for number in own if number in new}
        stops = sorted(moved)
        now = [moved[at] for at in stops]
        checks.equal(now, sorted(now), f"{name}: lines lie in the order they did")
        loose, kept = [], 0
        for a, b in itertools.pairwise(stops):
            if b - a <= STRIP or (upright, a, b) in gussets:
                kept += b - a
                checks.equal(moved[b] - moved[a], b - a, f"{name}: a gusset or strip of {(b - a) / 1e6} mm")
            else:
                loose.append((b - a, moved[b] - moved[a]))
        if not loose or other == side or not groove:
            continue
        factor = (other - kept) / (side - kept)
        widest = max(was for was, _ in loose)
        for was, now in loose:
            # The widest makes up for the others, each of which is less than a groove off.
            room = groove * (len(loose) if was == widest else 1)
            checks.near(now, was * factor, room, f"{name}: a strip of {was / 1e6} mm changes like all others, nm")
            if was != widest:
                checks.equal(now % groove, 0, f"{name}: a strip of {was / 1e6} mm becomes whole grooves")


def check_kept(checks, source):
    """No line that has a place loses it, and what is done along lines and at corners stays."""
    ended, path = converted(source, "--sheet", "300x300mm")
    if ended.returncode != 0:
        seen = (ended.returncode, len(ended.stderr.splitlines()), path.exists())
        checks.equal(seen, (1, 1, False), f"{source.name}: refused in one sentence")
        return
    before, after = folio.load(source), folio.load(path)
    lost = set(folio.lines(before)) - set(folio.lines(after))
    checks.that(not lost, f"{source.name}: every line that had a place has one", lost)
    for key, place in (("lines", "place"), ("corners", "mark")):
        same = [[meaning(one | {place: None}) for one in document.get(key, [])] for document in (before, after)]
        checks.equal(same[1], same[0], f"{source.name}: what is done at {key}")


def on_the_board(count):
    """Designs of lines that are all measured on a board and all have a place."""
    found = []
    for seed in itertools.count(seeds(1)[0]):
        document = made_up.any_lines(seed)
        document["board"] = {"grooves": "5 mm"}
        if len(folio.lines(document)) == len(document["lines"]) > 3:
            found.append(made_up.save(document, OUT / f"grooved-{seed}.folio"))
        if len(found) == count:
            return found


def main():
    checks = Checks(__file__)
    checks.group("other units", "the lengths of both files, as fractions")
    some = [made_up.save(anything.sheet(seed), OUT / f"anything-{seed}.folio") for seed in seeds(200)]
    for source in (STARTER, ENVELOPE, *some[:60]):
        check_units(checks, source)
    sheets = [("8x8in", (203_200_000,) * 2), ("300x300mm", (300_000_000,) * 2), ("A3", (297_000_000, 420_000_000)),
              ("letter", (215_900_000, 279_400_000)), ("600x500mm", (600_000_000, 500_000_000))]
    checks.group("other sheets", "docs/decisions.md on what a design keeps; lines resolved from both files")
    folding = [made_up.save(made_up.flaps(seed), OUT / f"flaps-{seed}.folio") for seed in seeds(20)]
    sources = [STARTER, ENVELOPE, *folding, *on_the_board(20)]
    done_at_all = sum(check_sheet(checks, source, *sheet) for source in sources for sheet in sheets)
    checks.that(done_at_all > 100, "enough of them are converted for this to say something", done_at_all)
    checks.group("sheets with anything on them, on another", "docs/decisions.md; seeds fixed")
    for source in some:
        check_kept(checks, source)
    checks.finish()


main()
