"""Sheets from a seed with whatever a file can say of lines and corners; some of it has no place, as happens."""

import random

import folio
import made_up

SHEETS = [("12 in", "12 in", 304_800_000, 304_800_000), ("210 mm", "297 mm", 210_000_000, 297_000_000),
          ("8 1/2 in", "11 in", 215_900_000, 279_400_000), ("6 in", "12 in", 152_400_000, 304_800_000)]

# The board's grooves, and the same in nanometres.
GROOVES = [(None, 0), ("1/8 in", 3_175_000), ("1/4 in", 6_350_000), ("5 mm", 5_000_000)]


class Maker:
    """Makes up one design."""

    def __init__(self, seed):
        self.seed = seed
        self.rng = random.Random(seed)
        self.width, self.height, self.wide, self.high = self.rng.choice(SHEETS)
        self.grooves, self.groove = self.rng.choice(GROOVES)
        # What is taken off a corner beside a curve is not described.
        self.has_curves = self.rng.random() < 0.55
        self.lines = []
        # Of each line the turn that it lies on, None for one that is drawn.
        self.turns = {}

    def design(self):
        rng = self.rng
        for number in range(1, rng.randint(3, 14)):
            self.lines.append(None)
            # Some are left that have no place.
            for _ in range(rng.randint(1, 4)):
                self.lines[-1] = self.line(number)
                if number in folio.lines(self.document()):
                    break
        self.stop_at_later_lines()
        # An odd nanometre keeps marks off every upright and level line.
        mark = lambda: {"x": f"{rng.randrange(1, self.wide // 1000) / 1000 + 0.000_001:.6f} mm",
                        "y": f"{rng.randrange(1, self.high // 1000) / 1000 + 0.000_001:.6f} mm"}
        document = self.document() | {"units": rng.choice(["in", "mm", "cm"]), "base": mark()}
        document["stock"] = self.paper(self.width, self.height)
        if rng.random() < 0.2:
            document["further_stocks"] = [{"id": number, "stock": self.paper("210 mm", "297 mm")} for number in (3, 1)]
        if self.grooves:
            document["board"] = {"grooves": self.grooves}
        if not self.has_curves and rng.random() < 0.8:
            document["corners"] = [{"mark": mark(), "which": self.which(), **self.shape()}
                                   for _ in range(rng.randint(1, 4))]
        return document

    def document(self):
        return {
            "format": "foliowright folio", "version": 2, "title": f"Anything {self.seed}", "units": "mm",
            "stock": {"width": self.width, "height": self.height}, "lines": self.lines, "steps": [],
        }

    def paper(self, width, height):
        """What else may be known of a sheet."""
        rng, stock = self.rng, {"width": width, "height": height}
        thickness = [{}, {"caliper": rng.choice(["0.3 mm", "0.012 in"])}, {"bulk": rng.choice(["0.87", "1.25"])}]
        stock |= rng.choice(thickness)
        weight = rng.choice(["80 lb cover", "110 lb index", "216 g/m2", "67.5 lb bristol"])
        stock |= rng.choice([{}, {"weight": weight}])
        stock |= rng.choice([{}, {"grain": rng.choice(["upright", "level"])}])
        pattern = rng.choice(["any way", "top up", "left up"])
        stock |= rng.choice([{}, {"front": {"pattern": pattern, "colour": "#7a9b3c"}}])
        if rng.random() < 0.2:
            left = rng.choice([{}, {"left": made_up.distance(rng, -9_000_000, 9_000_000)}])
            picture = {"file": "seedlings.png", "sha256": "0a" * 32, "pixels": [3600, 1800], "width": width}
            stock["back"] = {"artwork": picture | left}
        return stock

    def line(self, number):
        """The line of that number, with a place or without."""
        self.turns.pop(number, None)
        place = self.rng.choices([self.measured, self.along, self.drawn], [55, 15, 30])[0](number)
        locked = {"locked": True} if self.rng.random() < 0.1 else {}
        return {"id": number, "place": place, **self.work(place), **locked}

    def distance(self, least, most):
        """Often a whole number of grooves."""
        if self.groove and self.rng.random() < 0.6:
            count = self.rng.randint(-(-least // self.groove), most // self.groove)
            return f"{count * self.groove / 1e6:.6f} mm"
        return made_up.distance(self.rng, least, most)

    def size(self, turn):
        return (self.wide, self.high) if turn % 2 == 0 else (self.high, self.wide)

    def any_line(self, wanted=lambda turn: True):
        found = [number for number, turn in self.turns.items() if wanted(turn)]
        return f"line {self.rng.choice(found)}" if found else None

    def measured(self, number):
        rng, turn = self.rng, self.rng.randrange(4)
        across, _ = self.size(turn)
        place = {"turn": turn, "from": "edge", "distance": self.distance(0, across)}
        alike = self.any_line(lambda other: other is not None and (other - turn) % 2 == 0)
        if alike and rng.random() < 0.35:
            near = rng.choice([across // 20, across // 2])
            place.update({"from": alike, "distance": self.distance(-near, near)})
        self.turns[number] = turn
        return place | self.run(turn)

    def along(self, number):
        host = self.any_line()
        if host is None:
            return self.measured(number)
        turn = self.turns[number] = self.turns[int(host.split(" ")[1])]
        return {"along": host, **self.run(turn)}

    def run(self, turn):
        """Which stretch, for a line on a turn."""
        rng, run = self.rng, {}
        down = self.size(turn)[1] if turn is not None else min(self.wide, self.high) // 2
        for key in ("start", "end"):
            if rng.random() < 0.4:
                at = self.any_line(lambda other: other is None or turn is None or (other - turn) % 2)
                if at and rng.random() < 0.75:
                    by = made_up.distance(rng, 1, down // 8)
                    run[key] = at + rng.choice(["", "", f" + {by}", f" - {by}"])
                else:
                    run[key] = made_up.distance(rng, 0, down)
        return run

    def drawn(self, number):
        rng = self.rng
        drawn = {"from": self.spot(), "to": self.spot()}
        if self.has_curves and rng.random() < 0.45:
            drawn["bow"] = made_up.distance(rng, -self.wide // 6, self.wide // 6)
        self.turns[number] = None
        return {"drawn": drawn}

    def spot(self):
        rng = self.rng
        one, other = self.any_line(), self.any_line()
        kind = rng.choice(["at", "at", "edge", "crossing", "on"]) if one else rng.choice(["at", "edge"])
        if kind == "crossing" and one != other:
            return {"crossing": [one, other]}
        if kind == "on":
            return {"on": one, "at": made_up.distance(rng, 0, self.high)}
        x, y = made_up.distance(rng, 0, self.wide), made_up.distance(rng, 0, self.high)
        if kind == "edge":
            x, y = rng.choice([("0 mm", y), (self.width, y), (x, "0 mm"), (x, self.height)])
        return {"x": x, "y": y}

    def work(self, place):
        rng = self.rng
        curved = place.get("drawn", {}).get("bow")
        # Now and then what can't be: a curve that is scored.
        work = rng.choices(["score", "cut", "slot", "trim", "notch", "guide"],
                           [2, 70, 1, 1, 1, 15] if curved else [45, 25, 8, 6, 6 if self.has_curves else 0, 10])[0]
        said = {"work": work}
        if work == "score":
            said["fold"] = rng.choice(["valley", "mountain", "either"])
            said |= {"angle": 90} if rng.random() < 0.3 else {}
            said |= {"pressed": rng.choice(["front", "back"])} if rng.random() < 0.3 else {}
        elif work == "slot":
            said["width"] = made_up.distance(rng, 100_000, 12_000_000)
            said |= {"side": rng.choice(["left", "right", "centred"])} if rng.random() < 0.8 else {}
        elif work == "trim":
            said["width"] = rng.choice(["1/64 in", "1/32 in", "0.5 mm"])
            said["side"] = rng.choice(["left", "right", "centred"])
        elif work == "notch":
            said |= {"depth": made_up.distance(rng, 1_000_000, 20_000_000), "side": rng.choice(["left", "right"])}
        return said

    def stop_at_later_lines(self):
        """Lines may stop at lines that come after them, and at lines that stop at them."""
        for line in self.lines:
            place, turn = line["place"], self.turns[line["id"]]
            others = [number for number, other in self.turns.items() if number != line["id"] and other != turn]
            if others and "drawn" not in place and self.rng.random() < 0.25:
                place[self.rng.choice(["start", "end"])] = f"line {self.rng.choice(others)}"

    def which(self):
        rng = self.rng
        borders = [f"{edge} edge" for edge in ("top", "right", "bottom", "left")]
        borders += [f"line {number}" for number in self.turns]
        return rng.choice(["panel", "piece", rng.sample(borders, 2), rng.sample(borders, 2)])

    def shape(self):
        rng = self.rng
        size = made_up.distance(rng, 100_000, rng.choice([3_000_000, 30_000_000]))
        return rng.choice([{"round": size}, {"round": size}, {"clip": size}, {"square": True}])


def sheet(seed):
    """A design with anything on it."""
    return Maker(seed).design()


def slanting_corner(seed):
    """Two slanting scores that cross, and a corner cut away along both, from where they cross to the edge."""
    rng = random.Random(seed)
    width, height, wide, high = rng.choice(SHEETS)
    x, y = (lambda: made_up.distance(rng, 10_000_000, side - 10_000_000) for side in (wide, high))
    ends = [({"x": x(), "y": "0 mm"}, {"x": x(), "y": height}), ({"x": "0 mm", "y": y()}, {"x": width, "y": y()})]
    scores = [{"id": number, "place": {"drawn": dict(zip(("from", "to"), pair if rng.random() < 0.5 else pair[::-1]))},
               "work": "score", "fold": "valley"} for number, pair in enumerate(ends, 1)]
    cuts = [{"id": number + 2, "place": {"along": f"line {number}", rng.choice(["start", "end"]): f"line {3 - number}"},
             "work": "cut"} for number in (1, 2)]
    base = {"x": "5.000001 mm", "y": "5.000001 mm"}
    return {"format": "foliowright folio", "version": 2, "title": f"Slanting corner {seed}", "units": "mm",
            "stock": {"width": width, "height": height}, "lines": scores + cuts, "base": base, "steps": []}


def slanting_edge(seed):
    """A slanting cut with scores that end at it on one side, and corners taken off on the other, where it is whole."""
    rng = random.Random(seed)
    width, height, wide, high = rng.choice(SHEETS)
    x = lambda: made_up.distance(rng, wide // 3, wide - 10_000_000)
    drawn = {"from": {"x": x(), "y": "0 mm"}, "to": {"x": x(), "y": height}}
    lines = [{"id": 1, "place": {"drawn": drawn}, "work": "cut"}]
    for number in range(2, rng.randint(3, 6)):
        turn = rng.choice([1, 3])
        place = {"turn": turn, "from": "edge", "distance": made_up.distance(rng, 0, high)}
        place["end" if turn == 1 else "start"] = "line 1"
        lines.append({"id": number, "place": place, "work": "score", "fold": "valley"})
    which = rng.choice(["panel", "piece", ["line 1", "top edge"], ["bottom edge", "line 1"]])
    middle = {"x": "30.000001 mm", "y": "120.000001 mm"}
    shape = {rng.choice(["round", "clip"]): made_up.distance(rng, 1_000_000, 60_000_000)}
    return {"format": "foliowright folio", "version": 2, "title": f"Slanting edge {seed}", "units": "in",
            "stock": {"width": width, "height": height}, "lines": lines,
            "corners": [{"mark": middle, "which": which, **shape}], "base": middle, "steps": []}
