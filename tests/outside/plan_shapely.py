"""Parts: where they lie, how they are glued, which paper they are cut from and how large mats may be, against shapely.

Designs are made up from seeds: a base with a flap at each side, parts on it, offcuts at its corners. Where things come
to lie is worked out here from docs/file-format.md and docs/command-line.md alone.
"""

import itertools
import math
import random

from shapely import Polygon, box
from shapely.affinity import affine_transform
from shapely.ops import unary_union

import folio
import made_up
from checks import OUT, Checks, seeds
from program import described_each

EDGES = ["top", "right", "bottom", "left"]

# nm: what is turned aslant is moved to whole nanometres, a point or two of it more than once.
OFF = 3

# Shapely's areas are floats: parts of the larger area.
ALIKE = 1e-11


def mm(nm):
    return f"{nm / 1e6:.6f} mm"


def place(said):
    return said["x"]["nm"], said["y"]["nm"]


def polygon(said):
    return Polygon([place(corner) for corner in said["outline"]],
                   [[place(corner) for corner in hole] for hole in said["holes"]])


def rectangle(said):
    x, y = place(said["at"])
    return box(x, y, x + said["width"]["nm"], y + said["height"]["nm"])


def half(area):
    return int(area["half_nm2"])


def twice_around(ring):
    points = [place(corner) for corner in ring]
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1])))


def exact(panel):
    """Half square nanometres."""
    return twice_around(panel["outline"]) - sum(map(twice_around, panel["holes"]))


def within(inner, outer, off=OFF):
    return outer.buffer(off, join_style="mitre").contains(inner)


def overlap(shapes):
    """The largest area that two of them share."""
    return max((a.intersection(b).area for a, b in itertools.combinations(shapes, 2)), default=0)


def some(rng, least, most):
    """A length in tenths of a millimetre, in nanometres."""
    return rng.randint(math.ceil(least / 100_000), int(most // 100_000)) * 100_000


def kind(rng, most):
    """A kind of part no larger than `most` either way when it is laid, with the extent of its main panel."""
    wide, high = (some(rng, 24_000_000, most) for _ in range(2))
    strip = mm(some(rng, 3_000_000, 8_000_000))
    sides = {"width": mm(wide), "height": mm(high)}
    edges = rng.sample(EDGES, rng.randint(1, 3))
    which = rng.choice(["mat", "tab", "pocket", "rim", "gusset", "hinge", "page", "flap", "tuck", "insert", "brad"])
    if which in ("mat", "insert"):
        return {which: sides}, (wide, high)
    if which == "tab":
        return {"tab": {**sides, "glued": edges[0], "strip": strip}}, (wide, high)
    if which in ("pocket", "rim", "gusset"):
        more = {} if which == "pocket" else {which: mm(some(rng, 3_000_000, 7_000_000))}
        edges = edges if which == "pocket" else ["right", "bottom", "left"]
        return {"pocket": {**sides, "glued": edges, "strip": strip, **more}}, (wide, high)
    if which == "hinge":
        return {"hinge": {"length": mm(high), "leaf": mm(wide // 2), "free_leaf": mm(wide // 2)}}, (wide // 2, high)
    if which == "page":
        return {"page": {**sides, "hinged": edges[0], "strip": strip}}, (wide, high)
    if which == "flap":
        deep = 12_000_000
        main = (wide, deep) if edges[0] in ("top", "bottom") else (deep, wide)
        return {"flap": {"width": mm(wide), "reach": mm(high), "edge": edges[0], "strip": mm(deep)}}, main
    if which == "tuck":
        corner = rng.choice(["top left", "top right", "bottom right", "bottom left"])
        band = {"band": mm(some(rng, 5_000_000, 9_000_000))} if rng.random() < 0.4 else {}
        legs = {"across": mm(wide), "down": mm(high), "corner": corner, "strip": "4 mm"}
        return {"tuck_corner": legs | band}, (wide, high)
    return {"closure": {"with": "brad", "width": "8 mm", "height": "8 mm", "thickness": "1 mm"}}, (8e6, 8e6)


def anchor(rng, room, names):
    """A distance from one of three, so that something with so much room to move stays inside."""
    name = rng.choice(names)
    spare = room / 2 if name == "middle" else room
    least = -spare if name == "middle" else 0
    return some(rng, least, spare), name


def part(rng, number, base, offcuts):
    """A part that lies inside the base, with how it was said to lie there."""
    wide, high = base[2] - base[0], base[3] - base[1]
    own, (across, down) = kind(rng, min(wide, high) / 2)
    # A tuck corner's shape is not that of the rectangle around it, so only quarters keep it where it was reckoned.
    quarters = rng.random() < 0.75 or "tuck_corner" in own
    degrees = rng.choice([0, 90, 180, 270]) if quarters else rng.randrange(1, 36_000) / 100
    angle = math.radians(degrees)
    extent = (across * abs(math.cos(angle)) + down * abs(math.sin(angle)),
              across * abs(math.sin(angle)) + down * abs(math.cos(angle)))
    x, left = anchor(rng, wide - extent[0] - 200_000, ["left", "middle", "right"])
    y, top = anchor(rng, high - extent[1] - 200_000, ["top", "middle", "bottom"])
    sources = ["any offcut", "any offcut", "folio stock", "stock 1", {"offcut": rng.choice(offcuts)}]
    face, showing = (rng.choice(["front", "back"]) for _ in range(2))
    said = {"across": (x, left), "down": (y, top), "degrees": degrees, "turned_over": face != showing}
    return {
        "id": number, "name": f"Part {number}", "kind": own,
        "from": "bought" if "closure" in own else rng.choice(sources),
        "place": {
            "on": {"x": mm((base[0] + base[2]) // 2), "y": mm((base[1] + base[3]) // 2)}, "face": face,
            "across": f"{mm(x)} from {left}", "down": f"{mm(y)} from {top}",
            "rotation": f"{degrees:.2f}", "showing": showing,
        },
    }, said


def furnished(seed):
    """A design, its base and how each part was said to lie."""
    rng = random.Random(seed)
    wide, high = (some(rng, 240_000_000, 320_000_000) for _ in range(2))
    depths = [some(rng, 40_000_000, 80_000_000) for _ in range(4)]
    lines = [{"id": turn + 1, "name": f"Fold {turn + 1}", "work": "score", "fold": rng.choice(["valley", "mountain"]),
              "place": {"turn": turn, "from": "edge", "distance": mm(depth)}} for turn, depth in enumerate(depths)]
    for fold in range(1, 5):
        for key, at in (("end", fold % 4 + 1), ("start", (fold + 2) % 4 + 1)):
            lines.append({"id": len(lines) + 1, "work": "cut",
                          "place": {"along": f"line {fold}", key: f"line {at}"}})
    if rng.random() < 0.5:
        # A slanting edge of the upper flap, so that an offcut is a triangle.
        ends = {"from": {"x": mm(depths[0] + 40_000_000), "y": "0 mm"},
                "to": {"x": mm(depths[0]), "y": mm(depths[1] - 5_000_000)}}
        lines.append({"id": len(lines) + 1, "work": "cut", "place": {"drawn": ends}})
    left, top, right, bottom = depths
    base = (left, top, wide - right, high - bottom)
    corners = [{"x": mm(x), "y": mm(y)} for x in (left // 2, wide - right // 2) for y in (top // 2, high - bottom // 2)]
    made = [part(rng, number, base, corners) for number in range(1, rng.randint(3, 7))]
    order = rng.sample([1, 2, 3, 4], 4)
    document = made_up.sheet(mm(wide), mm(high), lines, (mm((base[0] + base[2]) // 2), mm((base[1] + base[3]) // 2)),
                             [[line] for line in order], f"Furnished {seed}", "mm")
    meadow = {"name": "Meadow", "width": "200 mm", "height": "180 mm", "caliper": "0.2 mm"}
    document["further_stocks"] = [{"id": 1, "stock": meadow}]
    document["parts"] = [own for own, _ in made]
    return document, base, {own["id"]: said for own, said in made}


def laid(shape, said):
    """Where a shape on a part's own little sheet lies on the sheet of the panel under it: docs/command-line.md."""
    (cos, sin), (x, y) = said["right"], place(said["origin"])
    side = -1 if said["turned_over"] else 1
    return affine_transform(shape, [side * cos, -sin, side * sin, cos, x, y])


def mirrored(shape, run):
    """A shape folded over along a stretch of a fold."""
    (ax, ay), (bx, by) = map(place, run)
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    a, b = (dx * dx - dy * dy) / square, 2 * dx * dy / square
    return affine_transform(shape, [a, b, b, -a, ax - a * ax - b * ay, ay - b * ax + a * ay])


def folded_before(part):
    """For each panel that folds before the part is put in place, the folds over which it goes to the main one."""
    ways, open_ = {part["main"]: []}, [part["main"]]
    while open_:
        here = open_.pop()
        for fold in part["folds"]:
            if here in fold["panels"] and fold["before"]:
                there = fold["panels"][1 - fold["panels"].index(here)]
                if there not in ways:
                    ways[there] = [fold["stretches"][0], *ways[here]]
                    open_.append(there)
    return ways


def along(low, high, own, distance, name):
    """Where something of length `own` starts: docs/file-format.md."""
    if name in ("left", "top"):
        return low + distance
    if name in ("right", "bottom"):
        return high - own - distance
    return (low + high - own) / 2 + distance


def check_place(checks, name, part, said, base):
    """Where a part's main panel lies, from how it was said to lie."""
    main = polygon(next(panel for panel in part["panels"] if panel["name"] == part["main"]))
    angle = math.radians(said["degrees"])
    cos, sin, side = math.cos(angle), math.sin(angle), -1 if said["turned_over"] else 1
    turned = affine_transform(main, [side * cos, -sin, side * sin, cos, 0, 0])
    least_x, least_y, most_x, most_y = turned.bounds
    x = along(base[0], base[2], most_x - least_x, *said["across"])
    y = along(base[1], base[3], most_y - least_y, *said["down"])
    wanted = affine_transform(turned, [1, 0, 0, 1, x - least_x, y - least_y])
    seen = Polygon([place(corner) for corner in part["place"]["outline"]])
    far = wanted.hausdorff_distance(seen)
    checks.that(far <= OFF, f"{name}: {part['name']} lies as it was said", f"{far} nm off")
    far = laid(main, part["place"]).hausdorff_distance(seen)
    checks.that(far <= OFF, f"{name}: {part['name']} lies as its place says", f"{far} nm off")
    least_x, least_y, most_x, most_y = seen.bounds
    borders = [part["place"]["borders"][key]["nm"] for key in ("left", "top", "right", "bottom")]
    wanted = [least_x - base[0], least_y - base[1], base[2] - most_x, base[3] - most_y]
    checks.that(all(abs(a - b) <= OFF for a, b in zip(borders, wanted)), f"{name}: {part['name']} and borders", borders)


def check_glue(checks, name, part, hosts):
    """Glue is on its own panel and, as the part is folded and laid, on the one that it is glued to."""
    panels = {panel["name"]: polygon(panel) for panel in part["panels"]}
    ways = folded_before(part)
    for glue in part["glue"]:
        for said in glue["areas"]:
            area = Polygon([place(corner) for corner in said])
            checks.that(within(area, panels[glue["panel"]]), f"{name}: glue on {glue['panel']} is on it", area)
            if glue["panel"] in ways and glue["to"] == part["place"]["panel"]:
                for run in ways[glue["panel"]]:
                    area = mirrored(area, run)
                on_host = laid(area, part["place"])
                checks.that(within(on_host, hosts[glue["to"]]), f"{name}: glue of {glue['panel']} is on its host",
                            on_host)


def on_paper(part, cutout):
    """The part's panels as they lie on the paper that they are cut from."""
    x, y = place(cutout["at"])
    wide, high = part["width"]["nm"], part["height"]["nm"]
    # Clockwise by so many quarters, then back into the corner.
    turn = [[1, 0, 0, 1, 0, 0], [0, -1, 1, 0, high, 0], [-1, 0, 0, -1, wide, high], [0, 1, -1, 0, 0, wide]]
    a, b, d, e, dx, dy = turn[cutout["quarters"]]
    return [affine_transform(polygon(panel), [a, b, d, e, x + dx, y + dy]) for panel in part["panels"]]


def check_paper(checks, name, said):
    """Cutouts lie in their offcut or sheet, apart from one another and from what is left, and areas add up."""
    parts, plan = {part["id"]: part for part in said["parts"]}, said["plan"]
    cut = {supply["part"]["id"]: supply for supply in plan["supplies"] if supply["cutout"]}
    pieces, total = {}, 0
    for panel in said["panels"]:
        pieces.setdefault(panel["piece"], []).append(panel)
    for offcut in plan["offcuts"]:
        own, ledger = pieces[offcut["name"]], offcut["ledger"]
        paper = unary_union([polygon(panel) for panel in own])
        mine = [cut[part["id"]] for part in offcut["parts"]]
        whole = sum(map(exact, own))
        checks.equal(half(ledger["whole"]), whole, f"{name}: {offcut['name']} is all of its paper")
        used = {part["part"]["id"]: half(part["area"]) for part in ledger["parts"]}
        wanted = {one["part"]["id"]: sum(map(exact, parts[one["part"]["id"]]["panels"])) for one in mine}
        checks.equal(used, wanted, f"{name}: parts of {offcut['name']}")
        lost = sum(half(ledger[key]) for key in ("cut_offs", "left", "waste"))
        checks.equal(sum(used.values()) + lost, whole, f"{name}: {offcut['name']} adds up")
        for one in mine:
            checks.equal(one["offcut"], offcut["name"], f"{name}: which offcut {one['part']['name']} is from")
            inside = all(within(shape, paper) for shape in on_paper(parts[one["part"]["id"]], one["cutout"]))
            checks.that(inside, f"{name}: {one['part']['name']} lies in its offcut")
        if not offcut["untouched"]:
            check_cutting(checks, f"{name}: {offcut['name']}", paper, mine, offcut, half(ledger["left"]),
                          whole - half(ledger["waste"]))
        else:
            rests = [rectangle(rest) for rest in offcut["remainders"]]
            checks.that(all(within(rest, paper) for rest in rests), f"{name}: what is in {offcut['name']}", rests)
        total += whole
    for sheets in plan["sheets"]:
        paper = box(0, 0, sheets["width"]["nm"], sheets["height"]["nm"])
        for sheet in sheets["sheets"]:
            mine = [cut[part["id"]] for part in sheet["parts"]]
            numbers = {(one["stock"], one["sheet"]) for one in mine}
            checks.equal(numbers, {(sheets["stock"], sheet["number"])}, f"{name}: parts on a further sheet")
            rests = sum(2 * rest["width"]["nm"] * rest["height"]["nm"] for rest in sheet["remainders"])
            check_cutting(checks, f"{name}: further sheet", paper, mine, sheet, rests, round(2 * paper.area))
    ledger = {key: half(area) for key, area in plan["ledger"].items() if not key.endswith("per_cent")}
    checks.equal(sum(ledger.values()), 2 * ledger["sheet"], f"{name}: the sheet adds up")
    checks.equal(ledger["parts"] + ledger["cut_offs"] + ledger["left"] + ledger["waste"],
                 total + half(said["ledger"]["waste"]), f"{name}: offcuts and what was lost before")


def check_cutting(checks, name, paper, mine, cutting, left, kept):
    """Rectangles that are cut, and those that are left, are apart and make up what is no waste. Areas are halves."""
    cutouts = [rectangle(one["cutout"]) for one in mine]
    rests = [rectangle(rest) for rest in cutting["remainders"]]
    checks.that(all(within(shape, paper) for shape in cutouts + rests), f"{name}: cutouts and rests lie in it")
    checks.that(overlap(cutouts + rests) <= ALIKE * paper.area, f"{name}: cutouts and rests are apart")
    sizes = [2 * said["width"]["nm"] * said["height"]["nm"] for said in cutting["remainders"]]
    checks.equal(sum(sizes), left, f"{name}: what is left of it")
    taken = sum(2 * one["cutout"]["width"]["nm"] * one["cutout"]["height"]["nm"] for one in mine)
    checks.equal(taken + left, kept, f"{name}: cutouts, rests and waste are all of it")
    checks.that(len(cutting["cuts"]) >= 1 and all(cut["sentence"] for cut in cutting["cuts"]), f"{name}: its cuts")


def check_mats(checks, name, said, panels):
    """A mat stays off the edges of its panel by the margin."""
    margin = said["mats"]["margin"]["nm"]
    for face in said["mats"]["faces"]:
        room = panels[face["panel"]].buffer(-margin, join_style="mitre")
        mat = rectangle(face)
        checks.that(within(mat, room), f"{name}: the mat on {face['panel']}, {face['face']}", f"{mat} in {room}")
    counted = sorted(at for cut in said["mats"]["cut_list"] for at in cut["faces"])
    checks.equal(counted, list(range(len(said["mats"]["faces"]))), f"{name}: every mat is cut once")


def check_making(checks, name, said):
    jobs = [job["job"] for job in said["making"]["jobs"]]
    checks.equal(len(set(jobs)), len(jobs), f"{name}: every job is there once")
    wrong = [one for one in said["making"]["constraints"] if jobs.index(one["first"]) >= jobs.index(one["then"])]
    checks.that(not wrong, f"{name}: the order of making obeys its reasons", wrong)


def main():
    checks = Checks(__file__)
    checks.group("100 folios with parts on them, seeds fixed", "shapely: placing, folding, containment anew")
    designs = {}
    for seed in seeds(100):
        document, base, said = furnished(seed)
        designs[made_up.save(document, OUT / f"furnished-{seed}.folio")] = (base, said)
    seen = dict.fromkeys(["placed", "glued", "offcut", "sheet", "missing", "mats"], 0)
    for path, said in described_each(designs, "--margin", "3.5 mm"):
        base, placed = designs[path]
        name = path.name
        panels = {panel["name"]: polygon(panel) for panel in said["panels"]}
        checks.that(panels[said["base"]].equals(box(*base)), f"{name}: the base", panels[said["base"]])
        for part in said["parts"]:
            checks.equal(part["fault"], None, f"{name}: {part['name']} has a place")
            check_place(checks, name, part, placed[part["id"]], base)
            check_glue(checks, name, part, panels)
            panels |= {panel["name"]: polygon(panel) for panel in part["panels"]}
            seen["placed"] += 1
            seen["glued"] += len(part["glue"])
        check_paper(checks, name, said)
        check_mats(checks, name, said, panels)
        check_making(checks, name, said)
        for supply in said["plan"]["supplies"]:
            seen[supply["from"]] = seen.get(supply["from"], 0) + 1
        seen["mats"] += len(said["mats"]["faces"])
    # The designs have to be such that all of this is looked at.
    checks.that(all(seen.values()), "the designs have parts of all sorts", seen)
    checks.finish()


main()
