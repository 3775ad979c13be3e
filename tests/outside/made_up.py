"""Made-up designs from a seed: variants of the starter, sheets with any lines on them, and folios that fold."""

import copy
import json
import random

import folio


def distance(rng, least, most):
    """A length between two bounds in nanometres, as a maker may type it: sixty-fourths, tenths of a millimetre."""
    if rng.random() < 0.5:
        count = rng.randint(-(-least // 396_875), most // 396_875)
        whole, part = divmod(abs(count), 64)
        sign = "-" if count < 0 else ""
        return f"{sign}{whole} {part}/64 in" if whole and part else f"{sign}{part}/64 in" if part else f"{sign}{whole} in"
    return f"{rng.randint(-(-least // 100_000), most // 100_000) / 10:.1f} mm"


def sheet(width, height, lines, base, steps, title="Made up", units="in"):
    return {
        "format": "foliowright folio", "version": 2, "title": title, "units": units,
        "stock": {"width": width, "height": height, "caliper": "0.3 mm"},
        "lines": lines, "base": {"x": base[0], "y": base[1]}, "steps": steps,
    }


def variant(document, seed):
    """The same folio with other distances and, here and there, another way to fold."""
    rng = random.Random(seed)
    while True:
        other = copy.deepcopy(document)
        other["title"] = f"Variant {seed}"
        other["units"] = rng.choice(["in", "mm"])
        for line in other["lines"]:
            place = line["place"]
            if "distance" in place and rng.random() < 0.7:
                was = folio.length(place["distance"])
                room = 20_000_000 if place["from"] == "edge" else 2_000_000
                place["distance"] = distance(rng, was - room, was + room)
            if line["work"] == "score" and rng.random() < 0.4:
                line["fold"] = rng.choice(["valley", "mountain"])
        if len(folio.lines(other)) == len(other["lines"]):
            return other


def any_lines(seed):
    """A sheet with a handful of lines on all four turns; some lie on one another, some have no place."""
    rng = random.Random(seed)
    wide, high = rng.choice([(304_800_000, 304_800_000), (210_000_000, 297_000_000), (215_900_000, 279_400_000)])
    lines = []
    # What version 1 says is read as ever.
    version = 1 if seed % 3 == 0 else 2
    for number in range(1, rng.randint(3, 14)):
        turn = rng.randrange(4)
        before = [line for line in lines if "turn" in line["place"]]
        alike = [line["id"] for line in before if (line["place"]["turn"] - turn) % 2 == 0]
        crossing = [line["id"] for line in before if (line["place"]["turn"] - turn) % 2]
        across, down = (wide, high) if turn % 2 == 0 else (high, wide)
        place = {"turn": turn, "from": "edge", "distance": distance(rng, 0, across)}
        if alike and rng.random() < 0.35:
            near = rng.choice([across // 20, across // 2])
            place.update({"from": f"line {rng.choice(alike)}", "distance": distance(rng, -near, near)})
        elif alike and rng.random() < 0.2:
            place = {"along": f"line {rng.choice(alike)}"}
        for key in ("start", "end"):
            if rng.random() < 0.5:
                at_line = crossing and rng.random() < 0.7
                place[key] = f"line {rng.choice(crossing)}" if at_line else distance(rng, 0, down)
        line = {"id": number, "name": f"Line {number}", "place": place,
                "work": rng.choice(["score", "cut"] if version == 1 else ["score", "score", "cut", "cut", "guide"])}
        if line["work"] == "score":
            line["fold"] = rng.choice(["valley", "mountain"] if version == 1 else ["valley", "mountain", "either"])
        lines.append(line)
    # Lines may stop at lines that come after them, and at lines that stop at them.
    for line in lines:
        others = [other["id"] for other in lines if "turn" in line["place"] and "turn" in other["place"]
                  and (other["place"]["turn"] - line["place"]["turn"]) % 2]
        if others and rng.random() < 0.3:
            line["place"][rng.choice(["start", "end"])] = f"line {rng.choice(others)}"
    # An odd nanometre keeps the base off every line.
    base = [f"{rng.randrange(1, side // 1000) / 1000 + 0.000_001:.6f} mm" for side in (wide, high)]
    document = sheet(f"{wide / 1e6} mm", f"{high / 1e6} mm", lines, base, [], f"Any lines {seed}", "mm")
    return document | {"version": version}


def flaps(seed):
    """A base with a chain of one to three panels on each side, corners cut away, folded in any order that is possible.

    Some chains start with a gusset: two quarter turns in one step.
    """
    rng = random.Random(seed)
    side_names = ["left", "top", "right", "bottom"]
    lines, steps, innermost = [], [], []
    for turn, name in enumerate(side_names):
        # On its own turn each side's chain lies at the left, its outermost panel first.
        outer = rng.randint(20, 45) * 1_000_000
        own = []
        for _ in range(rng.randint(1, 3)):
            own.append({"id": len(lines) + 1, "name": f"{name} {len(own)}", "work": "score",
                        "place": {"turn": turn, "from": "edge", "distance": distance(rng, outer, outer + 400_000)},
                        "fold": rng.choice(["valley", "mountain"])})
            lines.append(own[-1])
            outer += rng.randint(6, 18) * 1_000_000
        innermost.append(own[-1]["id"])
        chain = own[::-1]
        if len(chain) >= 2 and rng.random() < 0.6:
            for line in chain[:2]:
                line.update({"angle": 90, "fold": "valley"})
            steps.append([line["id"] for line in chain[:2]])
            chain = chain[2:]
        for line in chain:
            if rng.random() < 0.3:
                line["angle"] = 90
            steps.append([line["id"]])
    left, top, right, bottom = innermost
    # The corners come off along the innermost folds; each line's own start and end lie on its own turn.
    ends = {left: (top, bottom), top: (right, left), right: (bottom, top), bottom: (left, right)}
    for line, (start, end) in ends.items():
        for stop in ({"end": f"line {start}"}, {"start": f"line {end}"}):
            lines.append({"id": len(lines) + 1, "name": "Corner", "work": "cut", "place": {"along": f"line {line}", **stop}})
    rng.shuffle(steps)
    return sheet("300 mm", "320 mm", lines, ("150.000001 mm", "160.000001 mm"), steps, f"Flaps {seed}", "mm")


def save(document, path):
    path.write_text(json.dumps(document, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
    return path
