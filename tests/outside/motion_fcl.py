"""What strikes what on the way, against a collision library: panels as boxes of the paper's thickness.

Where the program names a strike, the boxes reach into one another from that angle on and not before; where it names
none, they never reach deeper than scores give. Covers over tabs are looked at where the program draws them. All others
are put where plane geometry of thick paper has them: a fold turns about an axis on the valley face of its paper, or
half-way between the middles of the layers that come to lie on one another.
"""

import random
import re

import fcl
import numpy as np

import made_up
from checks import OUT, Checks, seeds
from program import described, described_each

# The program says whole degrees, and its drawn poses lift layers evenly as a fold turns: half a degree for each.
MARGIN = 1.0

# Degrees between looks where no strike is named.
LOOK = 5.0

# For boxes where we put them: whole degrees, and a tenth for looking.
NEAR = 0.6

# Boxes that reach less far into one another than this, in mm, touch: far above what the library rounds.
TOUCH = 1e-4


class Folio:
    """Rectangular panels that hang on one another; sizes in mm, x to the right and y down the sheet."""

    def __init__(self, wide, high, caliper):
        self.size, self.caliper = (wide, high), caliper
        # How deep boxes may reach into one another untold: what a score takes up or leaves, and a touch.
        self.give = caliper + 0.05
        self.lines, self.steps, self.panels, self.hinges = [], [], {}, {}

    def line(self, work, turn, distance, start, end, **more):
        sizes = {"distance": distance, "start": start, "end": end}
        place = {"turn": turn, "from": "edge"} | {key: f"{size:.2f} mm" for key, size in sizes.items()}
        number = len(self.lines) + 1
        self.lines.append({"id": number, "name": f"Line {number}", "work": work, "place": place, **more})
        return number

    def down(self, work, x, y, **more):
        return self.line(work, 0, x, *y, **more)

    def across(self, work, y, x, **more):
        # On turn 1 the top edge lies at the left and x runs up.
        return self.line(work, 1, y, self.size[0] - x[1], self.size[0] - x[0], **more)

    def panel(self, name, x, y, on=None, at=None, upright=True, angle=90, fold="valley", between=0):
        """A panel with its fold on another: upright at x = `at`, else level at y = `at`; the number of that line.

        `between` is how many layers lie between the two when it is closed.
        """
        self.panels[name] = (x, y)
        if on is None:
            return None
        self.hinges[name] = (on, at, upright, angle, fold, between)
        make, along = (self.down, y) if upright else (self.across, x)
        return make("score", at, along, fold=fold, angle=angle)

    def tab(self, name, on, at, tall, y, to_right=True):
        """A tab cut out of a panel that stands up from it; the number of its fold."""
        x = (at, at + tall) if to_right else (at - tall, at)
        for side in y:
            self.across("cut", side, x)
        self.down("cut", x[1] if to_right else x[0], y)
        return self.panel(name, x, y, on, at)

    def step(self, *lines):
        self.steps.append(list(lines))

    def document(self, title, base):
        wide, high = self.size
        place = tuple(f"{part:.2f} mm" for part in base)
        sheet = made_up.sheet(f"{wide:.2f} mm", f"{high:.2f} mm", self.lines, place, self.steps, title, "mm")
        sheet["stock"]["caliper"] = f"{self.caliper} mm"
        return sheet

    def pose(self, name, progress):
        """The motion of a panel's points from the flat sheet; `progress` gives that of a fold by its panel's name."""
        if name not in self.hinges:
            return np.eye(3), np.zeros(3)
        on, at, upright, angle, fold, between = self.hinges[name]
        x, y = self.panels[name]
        before = (sum(x) / 2 < at) if upright else (sum(y) / 2 < at)
        # A valley turns what is right of its line about -Y: up and over. The world's y runs up the sheet.
        sign = (1 if before else -1) * (1 if fold == "valley" else -1)
        way = np.array([0.0, sign, 0.0]) if upright else np.array([sign, 0.0, 0.0])
        aside = (1 + between) * self.caliper / 2 * (1 if fold == "valley" else -1)
        axis = np.array([at, 0.0, aside]) if upright else np.array([0.0, -at, aside])
        turn = rotation(way, np.radians(angle * progress(name)))
        base, shift = self.pose(on, progress)
        return base @ turn, shift + base @ (axis - turn @ axis)

    def box(self, name, progress):
        (left, right), (top, bottom) = self.panels[name]
        turn, shift = self.pose(name, progress)
        middle = turn @ np.array([(left + right) / 2, -(top + bottom) / 2, 0.0]) + shift
        return fcl.CollisionObject(fcl.Box(right - left, bottom - top, self.caliper), fcl.Transform(turn, middle))

    def depth(self, pair, last, part):
        """How deep a pair reach into one another when all steps but `last` are done and so much of that is, in mm."""
        moving = {name for name in self.hinges if self.line_of(name) in self.steps[last]}
        later = {name for name in self.hinges if any(self.line_of(name) in step for step in self.steps[last + 1:])}
        boxes = [self.box(name, lambda of: part if of in moving else 0.0 if of in later else 1.0) for name in pair]
        return deepest(boxes)

    def line_of(self, name):
        _, at, upright, angle, fold, _ = self.hinges[name]
        x, y = self.panels[name]
        place = (0, at, *y) if upright else (1, at, self.size[0] - x[1], self.size[0] - x[0])
        texts = [f"{part:.2f} mm" for part in place[1:]]
        for line in self.lines:
            of = line["place"]
            if line["work"] == "score" and of["turn"] == place[0] and [of["distance"], of["start"], of["end"]] == texts:
                return line["id"]
        raise LookupError(name)

    def named(self, said):
        """The program's names of the panels, by ours."""
        def extent(panel):
            xs, ys = zip(*panel["flat"])
            return round(min(xs), 3), round(max(xs), 3), round(-max(ys), 3), round(-min(ys), 3)
        names = {extent(panel): panel["name"] for panel in said["closed"]["panels"]}
        return {name: names[tuple(round(part, 3) for part in (*x, *y))] for name, (x, y) in self.panels.items()}


def rotation(way, angle):
    """About an axis of length 1 (Rodrigues)."""
    x, y, z = way
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * cross @ cross


def deepest(boxes):
    result = fcl.CollisionResult()
    fcl.collide(*boxes, fcl.CollisionRequest(num_max_contacts=20, enable_contact=True), result)
    return max((contact.penetration_depth for contact in result.contacts), default=0.0)


def gusset(rng, caliper):
    """A flap on a gusset closes over a tab of the base."""
    flap, deep, away, tall = rng.randint(40, 110), rng.randint(5, 25), rng.randint(15, 100), rng.randint(6, 35)
    to_right = rng.random() < 0.5
    if rng.random() < 0.3:
        # Just long enough, or just too short, to reach the tab; or a tab about as tall as the gusset is deep.
        flap, tall = (away + rng.randint(-3, 6), tall) if rng.random() < 0.5 else (flap, deep + rng.randint(-2, 3))
    flap, tall = max(flap, 20), min(max(tall, 4), 40 if to_right else away - 5)
    start = flap + deep
    folio = Folio(start + away + 60, 60, caliper)
    folio.panel("base", (start, start + away + 60), (0, 60))
    tab = folio.tab("tab", "base", start + away, tall, (20, 40), to_right)
    wall = folio.panel("wall", (flap, start), (0, 60), "base", start)
    folio.step(tab)
    folio.step(wall, folio.panel("flap", (0, flap), (0, 60), "wall", flap))
    return folio, (start + 3, 5), [("flap", "tab"), ("wall", "tab")]


def tab_on_flap(rng, caliper):
    """A flap on a gusset comes down on the base with a tab of its own."""
    flap, deep, away, tall = rng.randint(60, 110), rng.randint(5, 25), rng.randint(15, 55), rng.randint(6, 35)
    if rng.random() < 0.4:
        tall = deep + rng.choice([-2, -1, 1, 2])
    start = flap + deep
    folio = Folio(start + 130, 60, caliper)
    folio.panel("base", (start, start + 130), (0, 60))
    wall = folio.panel("wall", (flap, start), (0, 60), "base", start)
    last = folio.panel("flap", (0, flap), (0, 60), "wall", flap)
    to_right = rng.random() < 0.5
    tall = min(tall, away - 5 if to_right else flap - away - 5)
    folio.step(folio.tab("tab", "flap", flap - away, tall, (20, 40), to_right))
    folio.step(wall, last)
    return folio, (start + 3, 5), [("tab", "base")]


def facing(rng, caliper):
    """Flaps on gussets from both sides, one after the other or at once."""
    depths = rng.sample(range(4, 26), 2)
    flaps, wide = [rng.randint(30, 90), rng.randint(30, 90)], rng.randint(95, 120)
    if rng.random() < 0.3:
        # They just meet, or just do not.
        flaps[1] = max(wide - flaps[0] + rng.choice([-2, -1, 1, 2, 3]), 20)
    left = flaps[0] + depths[0]
    right = left + wide
    folio = Folio(right + depths[1] + flaps[1], 60, caliper)
    folio.panel("base", (left, right), (0, 60))
    one = [folio.panel("left wall", (flaps[0], left), (0, 60), "base", left),
           folio.panel("left flap", (0, flaps[0]), (0, 60), "left wall", flaps[0])]
    other = [folio.panel("right wall", (right, right + depths[1]), (0, 60), "base", right),
             folio.panel("right flap", (right + depths[1], folio.size[0]), (0, 60), "right wall", right + depths[1])]
    if rng.random() < 0.4:
        folio.step(*one, *other)
    else:
        folio.step(*one)
        folio.step(*other)
    pairs = [("left flap", "right flap"), ("left flap", "right wall"), ("left wall", "right flap")]
    return folio, (left + 3, 5), pairs


def crossing(rng, caliper):
    """A flap from the left on its gusset, then one from the top over, into or beside it."""
    deep, over = rng.sample(range(4, 26), 2)
    flap, top = rng.randint(20, 90), rng.randint(20, 80)
    left, above = flap + deep, top + over
    wide, high = rng.randint(80, 110), rng.randint(70, 100)
    folio = Folio(left + wide, above + high, caliper)
    # The left flap begins some way down its side; the top one ends or begins some way along.
    rows = (above + rng.choice([0, rng.randint(5, 40)]), above + high)
    columns = (left + rng.choice([0, rng.randint(5, 50)]), left + wide)
    folio.panel("base", (left, left + wide), (above, above + high))
    folio.down("cut", left, (0, rows[0]))
    folio.across("cut", rows[0], (0, left))
    if columns[0] > left:
        folio.down("cut", columns[0], (0, above))
        folio.across("cut", above, (left, columns[0]))
    elif rows[0] > above:
        folio.across("cut", above, (0, left))
    folio.step(folio.panel("left wall", (flap, left), rows, "base", left),
               folio.panel("left flap", (0, flap), rows, "left wall", flap))
    folio.step(folio.panel("top wall", columns, (top, above), "base", above, upright=False),
               folio.panel("top flap", columns, (0, top), "top wall", top, upright=False))
    pairs = [("top flap", "left flap"), ("top flap", "left wall"), ("top wall", "left flap")]
    return folio, (left + wide - 3, above + high - 3), pairs


def layered(rng, caliper):
    """A cover whose outer part has been folded in strikes a tab with two layers."""
    cover, turned = rng.randint(60, 110), rng.randint(20, 55)
    away, tall = rng.randint(30, 100), rng.randint(8, 30)
    start = turned + cover
    folio = Folio(start + away + 60, 60, caliper)
    folio.panel("base", (start, start + away + 60), (0, 60))
    tab = folio.tab("tab", "base", start + away, tall, (20, 40), rng.random() < 0.5 or away < tall + 5)
    on_cover = folio.panel("turned in", (0, turned), (0, 60), "cover", turned, angle=180)
    last = folio.panel("cover", (turned, start), (0, 60), "base", start, angle=180, between=1)
    folio.step(tab)
    folio.step(on_cover)
    folio.step(last)
    return folio, (start + 3, 5), [("cover", "tab"), ("turned in", "tab")]


def piled(rng, caliper):
    """A flap on a gusset over a pile of pleats on the base: some that just fit, some that are too thick by far."""
    fits = rng.random() < 0.5
    layers, flap, pleat = rng.randint(1, 7) if fits else rng.randint(7, 10), rng.randint(60, 100), rng.randint(50, 80)
    deep = max(1.0, layers * caliper + rng.choice([0.0, 0.5, 2.0])) if fits else caliper
    start = flap + deep
    folio = Folio(start + 110 + pleat * layers, 60, caliper)
    # Flat on flat it is the middles of the layers that have to pass through one another by so much.
    folio.give += caliper
    folio.panel("base", (start, start + 110), (0, 60))
    lines, names = [], ["base"]
    for number in range(layers):
        x = start + 110 + pleat * number
        fold = "valley" if number % 2 == 0 else "mountain"
        names.append(f"pleat {number}")
        lines.append(folio.panel(names[-1], (x, x + pleat), (0, 60), names[-2], x, angle=180, fold=fold))
    for line in reversed(lines):
        folio.step(line)
    folio.step(folio.panel("wall", (flap, start), (0, 60), "base", start),
               folio.panel("flap", (0, flap), (0, 60), "wall", flap))
    return folio, (start + 3, 5), [("flap", name) for name in names[1:]]


def check_folio(checks, path, folio, pairs, said):
    names = folio.named(said)
    strikes = {}
    for finding in said["findings"]:
        if finding["rule"] == "strikes":
            angle = int(re.search(r"turned (\d+)°", finding["sentence"])[1])
            strikes[frozenset(finding["panels"])] = (finding["step"] - 1, angle)
    struck = 0
    for pair in pairs:
        last = max(step for step, lines in enumerate(folio.steps) for name in pair
                   if name in folio.hinges and any(line in lines for line in carried_by(folio, name)))
        whole = folio.hinges[moving(folio, pair, last)][3]
        found = strikes.get(frozenset(names[name] for name in pair))
        if found is None:
            seen = max(folio.depth(pair, last, part) for part in np.linspace(0.0, 1.0, 91))
            checks.that(seen < folio.give, f"{path.name}: {pair[0]} does not strike {pair[1]}", seen)
            continue
        struck += 1
        step, angle = found
        checks.equal(step, last, f"{path.name}: {pair[0]} strikes {pair[1]} in the last step that moves them")
        before = np.arange(angle - NEAR, 0.0, -2.0) / whole
        seen = max((folio.depth(pair, last, part) for part in before), default=0.0)
        checks.that(seen < TOUCH, f"{path.name}: {pair[0]} is free of {pair[1]} before {angle}°", seen)
        after = np.arange(angle - NEAR, min(angle + 4.0, whole), 0.1) / whole
        seen = max(folio.depth(pair, last, part) for part in after)
        checks.that(seen > TOUCH, f"{path.name}: {pair[0]} strikes {pair[1]} at {angle}°", seen)
    return struck


def carried_by(folio, name):
    """The lines of all folds between a panel and the base."""
    while name in folio.hinges:
        yield folio.line_of(name)
        name = folio.hinges[name][0]


def moving(folio, pair, last):
    """Of a pair, the panel that moves in a step, or the one on whose fold it does."""
    for name in pair:
        while name in folio.hinges:
            if folio.line_of(name) in folio.steps[last]:
                return name
            name = folio.hinges[name][0]
    raise LookupError(pair)


def check_kind(checks, make, count):
    made = {}
    for seed in seeds(count):
        rng = random.Random(f"{make.__name__} {seed}")
        folio, base, pairs = make(rng, rng.choice([0.1, 0.2, 0.3, 0.76]))
        document = folio.document(f"{make.__doc__.split('.')[0]} {seed}", base)
        path = made_up.save(document, OUT / f"{make.__name__.replace('_', '-')}-{seed}.folio")
        made[path] = (folio, pairs)
    struck = 0
    for path, said in described_each(made):
        struck += check_folio(checks, path, *made[path], said)
    checks.that(struck > count // 10, f"{make.__name__}: some strike", struck)


def covered(seed):
    """A cover at the left, a base, and a tab on it that is hinged on the side of the cover; sizes in mm."""
    rng = random.Random(seed)
    cover, away, tall = rng.randint(40, 110), rng.randint(35, 120), rng.randint(8, 35)
    if rng.random() < 0.3:
        # Just long enough, or just too short, to reach the tab.
        cover = away + rng.randint(-3, 6)
    wide, high, at = cover + away + tall + 20, 60, cover + away
    caliper = rng.choice(["0.1 mm", "0.15 mm", "0.2 mm"])

    def line(number, work, turn, distance, start, end, **more):
        place = {"turn": turn, "from": "edge", "distance": f"{distance} mm", "start": f"{start} mm", "end": f"{end} mm"}
        return {"id": number, "name": f"Line {number}", "work": work, "place": place, **more}

    # On turn 1 the top edge lies at the left and x runs up.
    along = (wide - at - tall, wide - at)
    lines = [
        line(1, "cut", 1, 20, *along), line(2, "cut", 1, 40, *along), line(3, "cut", 0, at + tall, 20, 40),
        line(4, "score", 0, at, 20, 40, fold="valley", angle=90), line(5, "score", 0, cover, 0, high, fold="valley"),
    ]
    sheet = made_up.sheet(f"{wide} mm", f"{high} mm", lines, (f"{cover + 2} mm", "5 mm"), [[4], [5]], f"Cover {seed}", "mm")
    sheet["stock"]["caliper"] = caliper
    return sheet, (cover, at, tall), float(caliper.split()[0])


def box(panel, caliper):
    """A rectangular panel as a box: its first corner, two edges, and the thickness across them."""
    corners = np.array(panel["corners"])
    along, across = corners[1] - corners[0], corners[-1] - corners[0]
    sides = np.linalg.norm(along), np.linalg.norm(across)
    x, y = along / sides[0], across / sides[1]
    turn = np.column_stack((x, y, np.cross(x, y)))
    return fcl.CollisionObject(fcl.Box(*sides, caliper), fcl.Transform(turn, corners[0] + (along + across) / 2))


def depth(path, degrees, caliper, wanted):
    """How deep cover and tab reach into one another when the cover has turned so far, in mm."""
    panels = described(path, at=1 + degrees / 180)["closed"]["panels"]
    boxes = [box(next(panel for panel in panels if wanted[name](panel)), caliper) for name in ("cover", "tab")]
    return deepest(boxes)


def check(checks, seed):
    document, (cover, at, tall), caliper = covered(seed)
    path = made_up.save(document, OUT / f"cover-{seed}.folio")
    said = described(path)
    sizes = {"cover": (0, cover), "tab": (at, at + tall)}
    wanted = {name: (lambda panel, ends=ends: (min(x for x, _ in panel["flat"]), max(x for x, _ in panel["flat"])) == ends)
              for name, ends in sizes.items()}
    strikes = [finding for finding in said["findings"] if finding["rule"] == "strikes"]
    angles = [int(found) for strike in strikes for found in re.findall(r"turned (\d+)°", strike["sentence"])]
    give = caliper + 0.05
    if angles:
        angle = min(angles)
        for before in np.arange(angle - MARGIN, 60.0, -20.0):
            seen = depth(path, before, caliper, wanted)
            checks.that(seen < 0.02, f"{path.name}: free at {before:.1f}°, struck at {angle}°", seen)
        seen = max(depth(path, angle + MARGIN, caliper, wanted), depth(path, angle + 2 * MARGIN, caliper, wanted))
        checks.that(seen > 0.0, f"{path.name}: struck by {angle + MARGIN}°", seen)
    else:
        for degrees in np.arange(90.0, 180.0, LOOK):
            seen = depth(path, degrees, caliper, wanted)
            checks.that(seen < give, f"{path.name}: nothing is struck at {degrees}°", seen)


def main():
    checks = Checks(__file__)
    checks.group("covers over tabs", "python-fcl: boxes of the caliper's thickness, at the program's poses")
    for seed in seeds(120):
        check(checks, seed)
    for make, count in ((gusset, 120), (tab_on_flap, 80), (facing, 120), (crossing, 120), (layered, 80), (piled, 60)):
        checks.group(make.__doc__, "python-fcl: boxes of the caliper's thickness, turned about axes on the valley face")
        check_kind(checks, make, count)
    checks.finish()


if __name__ == "__main__":
    main()
