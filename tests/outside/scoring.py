"""The scoring table, held to what it promises: every score once, where it is when the sheet lies as is said."""

from collections import Counter

import folio


def check_scoring(checks, name, document, lines, said):
    sheet = folio.size(document)
    groove = folio.length(document["board"]["grooves"]) if document.get("board") else 0
    table = said["scoring"]
    scores = {line.id: line for line in lines.values() if line.work == "score"}
    pressed = [(turn["face"], turn["turn"], score["distance"]["nm"], run)
               for turn in table["turns"] for score in turn["scores"] for run in score["runs"]]
    ruled = [one["line"]["id"] for one in table["by_ruler"]]
    times = Counter([run["line"]["id"] for *_, run in pressed] + ruled)
    checks.equal(times, Counter(dict.fromkeys(scores, 1)), f"{name}: every score is pressed once")
    faces = {one["line"]["id"]: one["face"] for one in table["by_ruler"]}
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
    turns = Counter((turn["face"], turn["turn"]) for turn in table["turns"])
    checks.equal(turns, fewest_turns(sheet, groove, scores.values(), set(turns)), f"{name}: on the fewest turns")


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
