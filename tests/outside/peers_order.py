"""Layer orders by general solvers: a map's as clauses, put to CP-SAT and to a solver of clauses."""

import itertools
import random
import statistics
import sys

from ortools.sat.python import cp_model
from pysat.solvers import Cadical153

from peers_clock import RUNS, clock

# Orders of a map of 4 x 4: OEIS A001418.
ORDERS = 300_608


class Map:
    """A map of equal panels, all folded, as clauses; a variable says of two panels whether the first lies above."""

    def __init__(self, rows, columns, folds=None):
        panels = range(rows * columns)
        self.variables = {pair: number for number, pair in enumerate(itertools.combinations(panels, 2), 1)}
        self.clauses = []
        for a, b, c in itertools.combinations(panels, 3):
            ring = self.above(a, b), self.above(b, c), self.above(c, a)
            self.clauses += [ring, tuple(-literal for literal in ring)]
        # Folded up, every second crease of a direction comes to lie on the same side of the pile.
        sides = {}
        for row, column in itertools.product(range(rows), range(columns)):
            panel = row * columns + column
            if column + 1 < columns:
                sides.setdefault(("upright", column % 2), []).append((panel, panel + 1))
            if row + 1 < rows:
                sides.setdefault(("level", row % 2), []).append((panel, panel + columns))
        for creases in sides.values():
            for (a, b), (c, d) in itertools.combinations(creases, 2):
                between = self.above(a, c), self.above(a, d), self.above(b, c), self.above(b, d)
                for wrong in itertools.product((False, True), repeat=4):
                    if sum(wrong) % 2:
                        self.clauses.append(tuple(-x if value else x for x, value in zip(between, wrong)))
        for (a, b), is_valley in (folds or {}).items():
            a_up = sum(divmod(a, columns)) % 2 == 0
            up, down = (a, b) if a_up else (b, a)
            self.clauses.append((self.above(down, up) if is_valley else self.above(up, down),))

    def above(self, a, b):
        return self.variables[a, b] if a < b else -self.variables[b, a]


def folded_strip(rng, count):
    """For each crease of a strip that is folded through all its layers again and again, whether it is a valley."""
    at, front_up, valley = list(range(count)), [True] * count, [None] * (count - 1)
    while max(at) > min(at):
        line, is_over = rng.randint(min(at) + 1, max(at)), rng.random() < 0.5
        for crease in range(count - 1):
            if {at[crease], at[crease + 1]} == {line - 1, line}:
                valley[crease] = front_up[crease] == is_over
        moves = [place >= line for place in at]
        at = [2 * line - 1 - place if move else place for place, move in zip(at, moves)]
        front_up = [up != move for up, move in zip(front_up, moves)]
    return valley


def simply_folded(rng, rows, columns):
    """Whether each crease of a map is a valley: first all upright lines are folded, then all level ones."""
    upright, level = folded_strip(rng, columns), folded_strip(rng, rows)
    folds = {}
    for row, column in itertools.product(range(rows), range(columns)):
        panel = row * columns + column
        if column + 1 < columns:
            folds[panel, panel + 1] = upright[column]
        if row + 1 < rows:
            # In every second column the paper lies face down by then.
            folds[panel, panel + columns] = level[row] == (column % 2 == 0)
    return folds


class Counter(cp_model.CpSolverSolutionCallback):
    def __init__(self):
        super().__init__()
        self.found = 0

    def on_solution_callback(self):
        self.found += 1


def all_orders():
    """Seconds in which CP-SAT goes through all orders of a map of 4 x 4."""
    question, model = Map(4, 4), cp_model.CpModel()
    variables = [None, *(model.new_bool_var(str(number)) for number in question.variables.values())]
    for clause in question.clauses:
        model.add_bool_or([variables[x] if x > 0 else ~variables[-x] for x in clause])
    solver, counter = cp_model.CpSolver(), Counter()
    solver.parameters.enumerate_all_solutions = True
    solver.parameters.num_workers = 1
    start = clock()
    solver.solve(model, counter)
    seconds = clock() - start
    if counter.found != ORDERS:
        sys.exit(f"CP-SAT found {counter.found} orders of a map of 4 x 4 instead of {ORDERS}")
    return seconds


def first_order_by_cp():
    """Seconds in which CP-SAT takes in such a map and finds an order, the same way."""
    times = []
    for seed in range(RUNS):
        question, model = Map(8, 12, simply_folded(random.Random(seed), 8, 12)), cp_model.CpModel()
        variables = [None, *(model.new_bool_var("") for _ in question.variables)]
        for clause in question.clauses:
            model.add_bool_or([variables[x] if x > 0 else ~variables[-x] for x in clause])
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        # Its own time alone: putting the clauses to it in Python takes longer.
        start = clock()
        status = solver.solve(model)
        times.append(clock() - start)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            sys.exit(f"CP-SAT finds no order for the map of seed {seed}, which was folded up")
    return statistics.median(times)


def first_order():
    """Seconds in which a SAT solver takes in a map of 8 x 12 and finds an order: the median of several maps."""
    times = []
    for seed in range(RUNS):
        question = Map(8, 12, simply_folded(random.Random(seed), 8, 12))
        start = clock()
        with Cadical153(bootstrap_with=question.clauses) as solver:
            holds = solver.solve()
        times.append(clock() - start)
        if not holds:
            sys.exit(f"the SAT solver finds no order for the map of seed {seed}, which was folded up")
    return statistics.median(times)
