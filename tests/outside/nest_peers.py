"""Which parts come out of leftovers by cuts from edge to edge, against rectpack, an exact count and OR-tools.

On made-up leftovers of a 12 in sheet, in sixteenths of an inch: the plan is checked here from scratch, is never worse
than the best that rectpack finds with any of its guillotine algorithms and sorts, is the optimum where the parts are so
few that all ways of joining them can be gone through, and never beyond what CP-SAT proves for parts that need only lie
apart. On published instances, where `FOLIOWRIGHT_NEST_DATA` or the folder `shared/data` beside the repository has them,
it is the published optimum. Times are printed and not checked.
"""

import json
import os
import random
import subprocess
import time
from itertools import product
from pathlib import Path

import rectpack
from ortools.sat.python import cp_model
from rectpack import guillotine

from checks import ROOT, Checks, seeds

SHEET = 192
SETS = 20

# Sets of so few parts are gone through exactly; there are rather more parts in every third.
FEW = (6, 9)
MANY = (10, 16)

# CP-SAT may take so long for each set; what it has proved by then is an upper bound.
SECONDS = 1.5

# About a second at most, and where that does not reach the optimum ten times as much.
STEPS = (300_000_000, 3_000_000_000)

ALGORITHMS = [getattr(guillotine, f"Guillotine{fit}{split}") for fit, split in
              product(("Bssf", "Blsf", "Baf"), ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas"))]
SORTS = [rectpack.SORT_NONE, rectpack.SORT_AREA, rectpack.SORT_PERI, rectpack.SORT_DIFF, rectpack.SORT_SSIDE,
         rectpack.SORT_LSIDE, rectpack.SORT_RATIO]
BINS = [rectpack.PackingBin.BNF, rectpack.PackingBin.BFF, rectpack.PackingBin.BBF, rectpack.PackingBin.Global]


class Nest:
    """The example of the crate that answers one question a line."""

    def __init__(self):
        words = ["cargo", "build", "--quiet", "--release", "-p", "foliowright-nest", "--example", "plans"]
        subprocess.run(words, cwd=ROOT, check=True, stdin=subprocess.DEVNULL, timeout=900)
        metadata = subprocess.run(["cargo", "metadata", "--format-version", "1", "--no-deps"], cwd=ROOT, check=True,
                                  capture_output=True, text=True, stdin=subprocess.DEVNULL, timeout=120)
        target = Path(json.loads(metadata.stdout)["target_directory"])
        self.process = subprocess.Popen([target / "release" / "examples" / "plans"], stdin=subprocess.PIPE,
                                        stdout=subprocess.PIPE, text=True)

    def ask(self, papers, parts, goal="area", steps=None):
        """A plan; parts are (w, h, count, turns, worth)."""
        keys = ("w", "h", "count", "turns", "worth")
        task = {"papers": papers, "parts": [dict(zip(keys, part)) for part in parts], "goal": goal}
        if steps:
            task["steps"] = steps
        self.process.stdin.write(json.dumps(task) + "\n")
        self.process.stdin.flush()
        answer = json.loads(self.process.stdout.readline())
        if "fault" in answer:
            raise RuntimeError(answer["fault"])
        return answer

    def close(self):
        self.process.stdin.close()
        self.process.wait(timeout=60)


def parted(rects):
    """Whether cuts from edge to edge part these rectangles (x, y, w, h), which don't overlap."""
    if len(rects) < 2:
        return True
    for axis in (0, 1):
        ends = sorted({rect[axis] + rect[axis + 2] for rect in rects})[:-1]
        for at in ends:
            first = [rect for rect in rects if rect[axis] + rect[axis + 2] <= at]
            second = [rect for rect in rects if rect[axis] >= at]
            # A cut that parts cleanly never stands in the way of others.
            if len(first) + len(second) == len(rects) and first and second:
                return parted(first) and parted(second)
    return False


def wrong(papers, parts, placements):
    """What is wrong with a plan of (part, paper, x, y, w, h); nothing when it can be cut."""
    counts = [0] * len(parts)
    for part, paper, x, y, w, h in placements:
        counts[part] += 1
        kept, turned = (w, h) == parts[part][:2], (h, w) == parts[part][:2] and parts[part][3]
        if not (kept or turned):
            return f"part {part} is {w} by {h}"
        if min(x, y) < 0 or x + w > papers[paper][0] or y + h > papers[paper][1]:
            return f"part {part} sticks out"
    if any(count > part[2] for count, part in zip(counts, parts)):
        return "more of a part than asked for"
    for paper in range(len(papers)):
        rects = [tuple(place[2:]) for place in placements if place[1] == paper]
        for i, (x, y, w, h) in enumerate(rects):
            for other_x, other_y, other_w, other_h in rects[:i]:
                if x < other_x + other_w and other_x < x + w and y < other_y + other_h and other_y < y + h:
                    return f"parts overlap on paper {paper}"
        if not parted(rects):
            return f"no cuts from edge to edge part paper {paper}"
    return ""


def area(placements):
    return sum(w * h for *_, w, h in placements)


def leftovers(rng):
    """Four corners between the flaps of a folio, and strips off the ends of one or two flaps."""
    left, right, top, bottom = (rng.randrange(28, 73, 2) for _ in range(4))
    corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
    strips = rng.sample([(left // 3, SHEET - top - bottom), (SHEET - left - right, top // 3)], rng.randint(1, 2))
    return corners + strips


def wanted(rng, papers, count):
    """Hinges, pockets, mats and tabs of sizes that the leftovers suggest, until they want more than there is."""
    room, parts = sum(w * h for w, h in papers), []
    small = 0.45 if count > FEW[1] else 0.6
    while len(parts) < count and sum(w * h for w, h, *_ in parts) < 1.15 * room:
        long, short = sorted(rng.choice(papers), reverse=True)
        share = lambda side: max(6, round(side * rng.uniform(small, 1.05)))
        kind = rng.choice(("hinge", "pocket", "mat", "tab"))
        if kind == "hinge":
            parts.append((rng.randrange(8, 17), share(long), 1, True, 0))
        elif kind == "tab":
            parts.append((rng.randrange(12, 25), rng.randrange(12, 25), 1, True, 0))
        else:
            parts.append((share(short), share(min(long, 72)), 1, True, 0))
    return parts


def best_of_rectpack(papers, parts):
    """The most area of any run that can be cut, and how long all runs took."""
    best, start = 0, time.perf_counter()
    for algorithm, sort, bins in product(ALGORITHMS, SORTS, BINS):
        packer = rectpack.newPacker(rectpack.PackingMode.Offline, bins, algorithm, sort, rotation=True)
        for number, (w, h, *_) in enumerate(parts):
            packer.add_rect(w, h, rid=number)
        for number, (w, h) in enumerate(papers):
            packer.add_bin(w, h, bid=number)
        packer.pack()
        placed = [(rect.rid, paper.bid, rect.x, rect.y, rect.width, rect.height) for paper in packer for rect in paper]
        if area(placed) > best and not wrong(papers, parts, placed):
            best = area(placed)
    return best, time.perf_counter() - start


def optimum(papers, parts):
    """The most area that cuts from edge to edge allow, by all ways of joining all subsets of the parts.

    What cuts can part is what joining two of it side by side or one above the other makes, again and again; of each
    subset only the rectangles around it that none other fits into are kept.
    """
    start = time.perf_counter()
    count, widest = len(parts), max(max(paper) for paper in papers)
    around = [set() for _ in range(1 << count)]
    for number, (w, h, *_) in enumerate(parts):
        around[1 << number] = least({(w, h), (h, w)}, widest)
    for subset in range(1, 1 << count):
        found, first = set(around[subset]), (subset - 1) & subset
        while first > subset ^ first:
            for (w, h), (other_w, other_h) in product(around[first], around[subset ^ first]):
                found |= {(w + other_w, max(h, other_h)), (max(w, other_w), h + other_h)}
            first = (first - 1) & subset
        around[subset] = least(found, widest)
    cut = {0}
    for width, height in papers:
        fits = [subset for subset, sizes in enumerate(around) if any(w <= width and h <= height for w, h in sizes)]
        cut |= {used | more for used, more in product(cut, fits) if not used & more}
    areas = [w * h for w, h, *_ in parts]
    best = max(sum(areas[i] for i in range(count) if used >> i & 1) for used in cut)
    return best, time.perf_counter() - start


def least(sizes, widest):
    """Those that are not too large and that none of the others fits into."""
    kept, lowest = set(), widest + 1
    for w, h in sorted(sizes):
        if w <= widest and h < lowest:
            kept.add((w, h))
            lowest = h
    return kept


def without_cuts(papers, parts):
    """The most area that CP-SAT can't rule out when parts need only lie apart, and the most it found."""
    start, model = time.perf_counter(), cp_model.CpModel()
    spans, gains = [([], []) for _ in papers], []
    for part, (w, h, *_) in enumerate(parts):
        chosen = []
        for (paper, (width, height)), (a, b) in product(enumerate(papers), {(w, h), (h, w)}):
            if a > width or b > height:
                continue
            there = model.new_bool_var(f"{part} on {paper}, {a} wide")
            x, y = (model.new_int_var(0, room, "") for room in (width - a, height - b))
            spans[paper][0].append(model.new_optional_fixed_size_interval_var(x, a, there, ""))
            spans[paper][1].append(model.new_optional_fixed_size_interval_var(y, b, there, ""))
            chosen.append(there)
            gains.append(w * h * there)
        model.add_at_most_one(chosen)
    for (width, height), (across, down) in zip(papers, spans):
        model.add_no_overlap_2d(across, down)
        model.add_cumulative(across, [span.size_expr() for span in down], height)
        model.add_cumulative(down, [span.size_expr() for span in across], width)
    model.maximize(sum(gains))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = SECONDS
    solver.parameters.num_workers = 1
    solver.solve(model)
    return round(solver.best_objective_bound), time.perf_counter() - start


def made_up(checks, nest):
    print(f"  {'set':>4} {'parts':>5} {'paper':>6} {'ours':>6} {'ms':>7} {'rectpack':>8} {'ms':>6} {'optimum':>7} "
          f"{'s':>5} {'CP-SAT':>7} {'s':>5}")
    proved = 0
    for seed in seeds(SETS):
        rng = random.Random(seed)
        papers = leftovers(rng)
        parts = wanted(rng, papers, rng.randint(*(MANY if seed % 3 == 0 else FEW)))
        plan = nest.ask(papers, parts)
        placements = [tuple(place) for place in plan["placements"]]
        fault = wrong(papers, parts, placements)
        checks.that(not fault, f"set {seed} can be cut", fault)
        checks.equal(plan["reached"], area(placements), f"set {seed} has the area that it says")
        rival, rival_time = best_of_rectpack(papers, parts)
        ours = plan["reached"]
        checks.that(ours >= rival, f"set {seed} is as good as rectpack's", f"{ours} against {rival}")
        ceiling, ceiling_time = without_cuts(papers, parts)
        checks.that(ours <= ceiling, f"set {seed} is possible at all", f"{ours} above {ceiling}")
        proved += plan["reached"] == ceiling
        best = best_time = None
        if len(parts) <= FEW[1]:
            best, best_time = optimum(papers, parts)
            checks.equal(plan["reached"], best, f"set {seed} is the optimum")
            checks.equal(plan["bound"], best, f"set {seed} is known to be the optimum")
        else:
            checks.that(plan["bound"] >= rival, f"set {seed} claims no more than is so", plan["bound"])
        exact = f"{best:>7} {best_time:>5.2f}" if best_time is not None else f"{'-':>7} {'':>5}"
        print(f"  {seed:>4} {len(parts):>5} {sum(w * h for w, h in papers):>6} {plan['reached']:>6} "
              f"{plan['microseconds'] / 1000:>7.1f} {rival:>8} {rival_time * 1000:>6.0f} {exact} {ceiling:>7} "
              f"{ceiling_time:>5.2f}")
    print(f"  of {SETS} sets CP-SAT proves {proved} within {SECONDS} s each")


def data():
    """The folder with published instances; `None` where there is none."""
    named = os.environ.get("FOLIOWRIGHT_NEST_DATA")
    folder = Path(named) if named else ROOT.parent / "shared" / "data"
    return folder if folder.is_dir() else None


def instances(folder):
    """Name, papers, parts, goal and optimum (or `None`) of each published instance, without and with turning."""
    constrained = folder / "g2kp_constrained_guillotine.json"
    if constrained.is_file():
        for one in json.loads(constrained.read_text())["instances"]:
            for turns, key in ((False, "optimum_guillotine_fixed_published"),
                               (True, "optimum_guillotine_rotation_recomputed")):
                parts = [(item["w"], item["h"], item["demand"], turns, item["value"]) for item in one["items"]]
                yield one["name"] + ", turned" * turns, [(one["W"], one["H"])], parts, "worth", one.get(key)
    any_number = folder / "g2ukp_unconstrained_guillotine.json"
    if any_number.is_file():
        for one in json.loads(any_number.read_text())["instances"]:
            for turns, key in ((False, "optimum_fixed"), (True, "optimum_rotation")):
                most = 9_999 // len(one["items"])
                parts = [(item["w"], item["h"], min(most, one["W"] * one["H"] // (item["w"] * item["h"])), turns,
                          item["value"]) for item in one["items"]]
                name = f"{one['name']}, any number" + ", turned" * turns
                yield name, [(one["W"], one["H"])], parts, "worth", one.get(key)
    samples = folder / "leftover_12x12_samples.json"
    if samples.is_file():
        read = json.loads(samples.read_text())
        for result in read["results"]:
            parts = [(item["w"], item["h"], item["count"], True, 0) for item in read["cases"][result["case"]]]
            goal = "pieces" if result["objective"] == "count" else "area"
            best = result["value"] if result["proved"] else None
            yield f"leftovers {result['case']}, {goal}", read["leftovers"], parts, goal, best


def published(checks, nest, folder):
    reached = spent = 0
    for name, papers, parts, goal, best in instances(folder):
        plan = nest.ask(papers, parts, goal, STEPS[0])
        if best is not None and plan["reached"] < best:
            plan = nest.ask(papers, parts, goal, STEPS[1])
        spent += plan["microseconds"]
        placements = [tuple(place) for place in plan["placements"]]
        fault = wrong(papers, [tuple(part) for part in parts], placements)
        checks.that(not fault, f"{name} can be cut", fault)
        if best is None:
            print(f"  {name}: no optimum is given; {plan['reached'] / plan['bound']:.4f} of our own bound")
        else:
            checks.equal(plan["reached"], best, f"the optimum of {name}")
            reached += plan["reached"] == best
    print(f"  {reached} optima reached, {spent / 1e6:.1f} s in all")


def main():
    checks = Checks(__file__)
    nest = Nest()
    checks.group("leftovers of folios", "rectpack; all joins of all subsets, counted here; OR-tools CP-SAT")
    made_up(checks, nest)
    folder = data()
    if folder:
        checks.group("published instances", "optima as listed with the instances, see crates/nest/tests/published.rs")
        published(checks, nest, folder)
    nest.close()
    checks.finish()


if __name__ == "__main__":
    main()
