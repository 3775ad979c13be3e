"""The scoring table, held to what it promises: every score once, where it is when the sheet lies as is said; and none across
an offcut that a part is cut from."""

from collections import Counter

import folio
import shapely
from shapely import LineString, Polygon

# nm. So near to an edge a score runs along it and not across.
ALONG = 1_000


def check_scoring(checks, name, document, lines, said):
    """Gives back how many scores stop short of offcuts that are used."""
    sheet = folio.size(document)
    groove = folio.length(document["board"]["grooves"]) if document.get("board") else 0
    table = said["scoring"]
    broken = check_broken(checks, name, lines, sheet, said)
    scores = {line.id: line for line in lines.values() if line.work == "score" and line.id not in broken}
    pressed = [(turn["face"], turn["turn"], score["distance"]["nm"], run)
               for turn in table["turns"] for score in turn["scores"] for run in score["runs"]
               if run["line"]["id"] not in broken]
    by_ruler = [one for one in table["by_ruler"] if one["line"]["id"] not in broken]
    ruled = [one["line"]["id"] for one in by_ruler]
    times = Counter([run["line"]["id"] for *_, run in pressed] + ruled)
    checks.equal(times, Counter(dict.fromkeys(scores, 1)), f"{name}: every score is pressed once")
    faces = {one["line"]["id"]: one["face"] for one in by_ruler}
    drawn = {line.id: line.face for line in scores.values() if line.turn is None}
    checks.equal(faces, drawn, f"{name}: which are pressed along a ruler, and into which face")
    checks.that(list(faces.values()) == sorted(faces.values(), reverse=True), f"{name}: the front first", faces)
    wrong = [f"line {run['line']['id']} at {distance} on turn {turn}, {face}" for face, turn, distance, run in pressed
             if not is_there(scores.get(run["line"]["id"]), sheet, face, turn, distance, run)]
    checks.that(not wrong, f"{name}: each lies there when the sheet is turned so, its own face up", "; ".join(wrong))
    if groove:
        off = [run["line"]["id"] for *_, distance, run in pressed
               if scores[run["line"]["id"]].across % groove == 0 and distance % groove]
        checks.that(not off, f"{name}: none that lies in a groove is said to lie beside one", off)
    order = [(turn["face"] == "back", [score["distance"]["nm"] for score in turn["scores"]]) for turn in table["turns"]]
    checks.that([back for back, _ in order] == sorted(back for back, _ in order), f"{name}: the front first", order)
    ascending = all(one == sorted(set(one)) for _, one in order)
    checks.that(ascending, f"{name}: from left to right, each distance once", order)
    if broken:
        return len(broken)
    turns = Counter((turn["face"], turn["turn"]) for turn in table["turns"])
    checks.equal(turns, fewest_turns(sheet, groove, scores.values(), set(turns)), f"{name}: on the fewest turns")
    return 0


def check_broken(checks, name, lines, sheet, said):
    """The scores that would run over an offcut that is used: nothing of one is pressed there, and all of it in the folio."""
    used = {one["name"] for one in (said["plan"] or {"offcuts": []})["offcuts"] if one["parts"]}
    if not used or said["base"] is None:
        return set()
    folio_pieces = {one["name"] for one in said["pieces"] if one["folio"]}
    within = lambda pieces: shapely.union_all([shape_of(panel) for panel in said["panels"] if panel["piece"] in pieces])
    off, kept = within(used).buffer(-ALONG), within(folio_pieces).buffer(-ALONG)
    # Along a cut nothing is left of a score.
    cuts = shapely.union_all([LineString([line.a, line.b]).buffer(ALONG) for line in lines.values() if line.parts_paper])
    broken = set()
    for line in lines.values():
        if line.work != "score" or line.bow:
            continue
        whole = LineString([line.a, line.b])
        if whole.intersection(off).difference(cuts).length <= ALONG:
            continue
        broken.add(line.id)
        runs = shapely.union_all([LineString(run) for run in runs_of(line.id, sheet, said["scoring"])])
        # Each run is moved to whole nanometres.
        near = runs.buffer(ALONG)
        stray = runs.difference(whole.buffer(ALONG)).length
        across = runs.intersection(off).difference(cuts).length
        missing = whole.intersection(kept).difference(cuts).difference(near).length
        checks.that(max(stray, across, missing) <= 4 * ALONG, f"{name}: line {line.id} is pressed in the folio only",
                    f"{stray / 1e6:.6f} mm aside, {across / 1e6:.6f} mm across an offcut, {missing / 1e6:.6f} mm missing")
    return broken


def shape_of(panel):
    ring = lambda points: [(point["x"]["nm"], point["y"]["nm"]) for point in points]
    return Polygon(ring(panel["outline"]), [ring(hole) for hole in panel["holes"]])


def runs_of(line, sheet, table):
    """From where to where a score is pressed, on the sheet as drawn."""
    for one in table["by_ruler"]:
        if one["line"]["id"] == line:
            yield from ([(end["x"]["nm"], end["y"]["nm"]) for end in run] for run in one["runs"])
    for turn in table["turns"]:
        _, (wide, high) = folio.turned((0, 0), sheet, turn["turn"])
        for score in turn["scores"]:
            for run in score["runs"]:
                if run["line"]["id"] == line:
                    downs = [run[end]["nm"] for end in ("from", "to")]
                    downs = [high - down for down in downs] if turn["face"] == "back" else downs
                    yield [folio.turned((score["distance"]["nm"], down), (wide, high), 4 - turn["turn"])[0]
                           for down in downs]


def is_there(line, sheet, face, turn, distance, run):
    """Whether a run that is said lies where the line does."""
    if line is None or line.turn is None or line.face != face:
        return False
    _, (wide, high) = folio.turned((0, 0), sheet, turn)
    downs = [run["from"]["nm"], run["to"]["nm"]]
    if face == "back":
        # Turned over away from the maker, what was at the top is at the bottom, and the left stays.
        downs = [high - down for down in downs]
    ends = sorted(folio.turned((distance, down), (wide, high), 4 - turn)[0] for down in downs)
    off = [abs(a - b) for end, other in zip(ends, sorted((line.a, line.b))) for a, b in zip(end, other)]
    # Across the board exactly; a crossing half way between two whole nanometres may go to either.
    across = off[0::2] if turn % 2 == 0 else off[1::2]
    return run["from"]["nm"] < run["to"]["nm"] and max(across) == 0 and max(off) <= 1


def fewest_turns(sheet, groove, scores, said):
    """Scores of a turn and of the opposite one share one of the two, unless that takes one out of a groove.

    On which of the two, where both would do, is left to the program.
    """
    def stays(line, turn):
        return line.turn == turn or not groove or line.across % groove or (sheet[turn % 2] - line.across) % groove == 0

    wanted = Counter()
    for face in ("front", "back"):
        for pair in ((0, 2), (1, 3)):
            own = [line for line in scores if line.turn in pair and line.face == face]
            may = [turn for turn in pair if all(stays(line, turn) for line in own)]
            if not own:
                continue
            if not may:
                wanted.update((face, turn) for turn in pair)
            else:
                wanted[face, next((turn for turn in may if (face, turn) in said), may[0])] += 1
    return wanted
