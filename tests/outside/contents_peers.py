"""A folio measured from what goes in, against the same choice put to OR-tools' CP-SAT.

The model here says in whole grooves what a folio is: how things may be turned and piled, how much room they need (1/8 in
more than their size; common practice, no source), how wide gussets and flaps are. The program's measures have to obey it,
and CP-SAT must neither find less nor find something where the program finds nothing.
"""

import json
import math
import random

from ortools.sat.python import cp_model

from checks import OUT, Checks, seeds
from program import described, run

NM_IN = 25_400_000
GROOVE = NM_IN // 8
ROOM = NM_IN // 8
CALIPER = 300_000
SETS = 40
MOST_GUSSET = NM_IN // GROOVE

up = lambda nm: -(-nm // GROOVE)


def things_of(random_):
    """Kinds of things as (count, width, height, thickness) in nanometres; sizes in sixteenths, thickness in tenths of mm."""
    one = lambda: (random_.randint(1, 6), random_.randint(16, 80) * NM_IN // 16, random_.randint(16, 80) * NM_IN // 16,
                   random_.randint(2, 9) * 100_000)
    return [one() for _ in range(random_.randint(5, 12))]


def cost(width, height, sheet):
    return width * sheet[1] + height * sheet[0]


def by_cp_sat(things, sheet, along):
    """The least cost for things in one pile (`along` is None) or two along an axis; None where there is no folio."""
    model = cp_model.CpModel()
    whole = lambda most, name: model.new_int_var(0, most, name)
    turned = [model.new_bool_var(f"turned {i}") for i in range(len(things))]
    second = [model.new_bool_var(f"second {i}") for i in range(len(things))]
    piles = 1 if along is None else 2
    axis = along or 0
    room = [whole(2000, f"room {p}") for p in range(piles)]
    across = whole(2000, "across")
    gusset = whole(MOST_GUSSET, "gusset")
    if piles == 1:
        for lies in second:
            model.add(lies == 0)
    for i, (_, width, height, _) in enumerate(things):
        sizes = [up(width + ROOM), up(height + ROOM)]
        for is_turned in (0, 1):
            size = sizes[::-1] if is_turned else sizes
            holds = turned[i] if is_turned else turned[i].negated()
            model.add(across >= size[1 - axis]).only_enforce_if(holds)
            for p in range(piles):
                model.add(room[p] >= size[axis]).only_enforce_if([holds, second[i] if p else second[i].negated()])
    thick = [count * thickness for count, _, _, thickness in things]
    for p in range(piles):
        here = sum(t * (lies if p else 1 - lies) for t, lies in zip(thick, second))
        # Two side flaps, the front flap, and a caliper for the gusset's two creases.
        model.add(here + 4 * CALIPER <= GROOVE * gusset)
    base = [sum(room), across] if axis == 0 else [across, sum(room)]
    half_width, half_height = whole(2000, "half width"), whole(2000, "half height")
    model.add(2 * half_width >= base[0])
    model.add(2 * half_height >= base[1])
    needed = [base[0] + 2 * gusset + 2 * (half_width + 1), 2 * base[1] + 2 * gusset + half_height]
    for side, most in zip(needed, sheet):
        model.add(side <= most)
    model.minimize(needed[0] * sheet[1] + needed[1] * sheet[0])
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


checks = Checks(__file__)
checks.group("measures from what goes in", "OR-tools CP-SAT on the same choice, whole grooves")
found_some = refused_some = 0
for seed in seeds(SETS):
    random_ = random.Random(f"contents {seed}")
    things = things_of(random_)
    inches = [random_.randint(10, 22), random_.randint(10, 22)]
    sheet = [side * 8 for side in inches]
    words = ["measure", "--sheet", f"{inches[0]}x{inches[1]}in", "--json"]
    for i, (count, width, height, thickness) in enumerate(things):
        size = f"{width * 16 // NM_IN}/16 x {height * 16 // NM_IN}/16 in"
        words += ["--put", f"thing {i}, {count}, {size}, {thickness / 1e6} mm"]
    ended = run(*words)
    costs = [best for best in (by_cp_sat(things, sheet, along) for along in (None, 0, 1)) if best is not None]
    if ended.returncode == 1:
        refused_some += 1
        checks.equal(costs, [], f"set {seed}: none is found where there is none: {ended.stderr.strip()}")
        continue
    if not checks.equal(ended.returncode, 0, f"set {seed} is measured: {ended.stderr.strip()}"):
        continue
    found_some += 1
    told = json.loads(ended.stdout)
    width, height = (told["needed"][side]["nm"] // GROOVE for side in ("width", "height"))
    checks.equal(cost(width, height, sheet), min(costs, default=math.nan), f"set {seed}: nothing takes less")
checks.that(found_some >= 10 and refused_some >= 3, "both kinds of sets were met", f"{found_some} and {refused_some}")

checks.group("the folio that is made", "its own description")
place = OUT / "measured.folio"
place.unlink(missing_ok=True)
ended = run("measure", "--sheet", "12x12in", "--put", "seed packet, 3, 4 1/2x3 1/4in, 1mm", "-o", place)
checks.equal(ended.returncode, 0, f"it is made: {ended.stderr.strip()}")
checks.equal(run("check", place).returncode, 0, "the checker has nothing against it")
told = described(place)
checks.equal(len(told["closing"]), 4, "it closes in four steps")
checks.finish()
