"""The coursing and the cut plan against general solvers, on one thread each."""

from __future__ import annotations

import gc
import random
import statistics
import time
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import numpy as np
from ortools.sat.python import cp_model
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.quantities.cutting import Need, fill_units
from tests.bench.timing import Row, on_cores
from tests.masonry.conftest import stack_job_of
from tests.masonry.coursing.general_solver import any_job, by_cp_sat, compare
from tests.quantities.general_solver import fewest

SEEDS = 1_000
COURSES = (8, 20)
"""Of a usual surround; the suite's own jobs are lower."""
MOST_TARGETS = 4
LIMIT = 10.0
"""Seconds for one objective; past that a solver has not answered."""
UNIT, KERF = 61, 1
"""Eighths of an inch: a unit of 7 5/8, a kerf of 1/8."""
ENDLESS = 2**62
"""A bound beyond this is none."""

Terms = list[tuple[int, int]]
"""Coefficient and variable."""
Solve = Callable[[Any], list[int]]


class Timed:
    """A general solver and how long it worked: solving alone, no model building."""

    def __init__(self, solve: Solve, translate: Callable[[Any], Any] | None = None):
        self.solve, self.translate, self.spent = solve, translate, 0.0

    def __call__(self, model: cp_model.CpModel) -> list[int]:
        stated = self.translate(model) if self.translate else model
        began = time.process_time()
        try:
            return self.solve(stated)
        finally:
            self.spent += time.process_time() - began


class Milp(NamedTuple):
    """A model as `scipy.optimize.milp` takes it."""

    costs: np.ndarray
    bounds: Bounds
    rows: LinearConstraint


def by_highs(stated: Milp) -> list[int]:
    """Find the least of a model's objective with HiGHS."""
    found = milp(
        stated.costs,
        integrality=np.ones_like(stated.costs),
        bounds=stated.bounds,
        constraints=stated.rows,
        options={"mip_rel_gap": 0, "time_limit": LIMIT},
    )
    if found.status == 1:
        raise TimeoutError
    assert found.status == 0, found.message
    return [round(value) for value in found.x]


def as_milp(model: cp_model.CpModel) -> Milp:
    """Write a model of linear constraints and conditions as rows of whole numbers."""
    proto = model.proto
    spans = [(each.domain[0], each.domain[1]) for each in proto.variables]
    costs = np.zeros(len(spans))
    for cost, variable in zip(
        proto.objective.coeffs, proto.objective.vars, strict=True
    ):
        costs[variable] += cost
    values, places, columns, least, most = [], [], [], [], []
    rows = [row for each in proto.constraints for row in _rows(each, spans)]
    for place, (terms, low, high) in enumerate(rows):
        for value, column in terms:
            values.append(value)
            places.append(place)
            columns.append(column)
        least.append(low if low > -ENDLESS else -np.inf)
        most.append(high if high < ENDLESS else np.inf)
    matrix = csr_array((values, (places, columns)), shape=(len(rows), len(spans)))
    lows, highs = zip(*spans, strict=True)
    return Milp(costs, Bounds(lows, highs), LinearConstraint(matrix, least, most))


def _rows(
    constraint: Any, spans: list[tuple[int, int]]
) -> Iterator[tuple[Terms, float, float]]:
    """Yield the rows of one constraint; a condition slackens its row where it fails."""
    rows: list[tuple[Terms, int, int]]
    if constraint.has_linear():
        linear = constraint.linear
        terms = list(zip(linear.coeffs, linear.vars, strict=True))
        rows = [(terms, linear.domain[0], linear.domain[1])]
    elif constraint.has_exactly_one():
        rows = [_count(constraint.exactly_one.literals, 1, 1)]
    elif constraint.has_bool_and():
        rows = [_count([each], 1, 1) for each in constraint.bool_and.literals]
    else:
        message = f"no row for {constraint}"
        raise AssertionError(message)
    conditions = list(constraint.enforcement_literal)
    if not conditions:
        yield from rows
        return
    fails, _, _ = _count([-each - 1 for each in conditions], 0, 0)
    offset = sum(each >= 0 for each in conditions)
    for terms, low, high in rows:
        ends = [sorted(value * end for end in spans[each]) for value, each in terms]
        below = low - sum(least for least, _ in ends)
        above = high - sum(most for _, most in ends)
        if below > 0:
            slack = [(below * value, each) for value, each in fails]
            yield [*terms, *slack], low - below * offset, np.inf
        if above < 0:
            slack = [(above * value, each) for value, each in fails]
            yield [*terms, *slack], -np.inf, high - above * offset


def _count(literals: Any, low: int, high: int) -> tuple[Terms, int, int]:
    """Return how many literals hold, as a row; one below nothing is negated."""
    terms = [(1, each) if each >= 0 else (-1, -each - 1) for each in literals]
    negated = sum(each < 0 for each in literals)
    return terms, low - negated, high - negated


def random_job(seed: int) -> Job:
    """Make a job of a usual surround's height with two to four targets."""
    job = any_job(stack_job_of, seed, COURSES)
    beside = trace_surround(job).opening.head == "soldier over the opening"
    further = job.target[: MOST_TARGETS - 2 - beside]
    return job.model_copy(update={"target": further})


def random_cuts(seed: int) -> list[Need]:
    """Make a cut list of up to 24 pieces, some of which keep an end."""
    pick = random.Random(seed)
    return [
        Need(pick.randint(16, UNIT), pick.randint(0, 1), pick.choice("ABCDEF"))
        for _ in range(pick.randint(1, 24))
    ]


class Race:
    """The same problems for ours and for general solvers: times, and who agreed."""

    def __init__(self) -> None:
        self.solvers = {
            "CP-SAT": Timed(by_cp_sat),
            "HiGHS": Timed(by_highs, as_milp),
        }
        self.ours: list[float] = []
        self.theirs: dict[str, list[float]] = {name: [] for name in self.solvers}
        self.alike = dict.fromkeys(self.solvers, 0)
        self.late = dict.fromkeys(self.solvers, 0)

    def run(
        self,
        seed: int,
        ours: Callable[[], Any],
        differ: Callable[[Any, Timed], list[str]],
    ) -> None:
        """Answer one problem with each, and print in what a general solver differs."""
        began = time.process_time()
        answer = ours()
        self.ours.append(time.process_time() - began)
        for name, solver in self.solvers.items():
            solver.spent = 0.0
            try:
                wrong = differ(answer, solver)
            except TimeoutError:
                self.late[name] += 1
            else:
                self.alike[name] += not wrong
                if wrong:
                    print(f"seed {seed}, {name}: {', '.join(wrong)} differ", flush=True)
            self.theirs[name].append(solver.spent)

    def rows(self, what: str, asked: dict[str, str]) -> Iterator[Row]:
        """Yield the median, the mean and the agreement with each solver."""
        for name in self.solvers:
            for mean in (statistics.median, statistics.mean):
                ours, theirs = mean(self.ours) * 1e3, mean(self.theirs[name]) * 1e3
                yield Row(
                    f"{what}, {mean.__name__}",
                    f"{ours:.2f} ms",
                    f"{name}: {theirs:.1f} ms",
                    f"{theirs / ours:.1f}",
                    asked[mean.__name__],
                )
            late = self.late[name]
            yield Row(
                "  the same optimum",
                f"{self.alike[name]:,} of {len(self.ours):,}",
                f"{name}: {late} past {LIMIT:.0f} s" if late else name,
                asked=f"{len(self.ours):,}",
            )


def measure(seeds: int = SEEDS) -> list[Row]:
    """Race ours against the general solvers: random coursings, random cut lists.

    Ours is timed whole, with its reasons. A general solver is timed while it solves,
    one objective after another, not while its model is built. CP-SAT also finds the
    joints, the wider first; HiGHS, which reckons in floating point, not those.
    """
    # As in a run of the command, garbage is seldom looked for.
    gc.set_threshold(100_000, 50, 100)
    coursings, cuts = Race(), Race()
    cp_sat = coursings.solvers["CP-SAT"]
    with on_cores(1):
        for seed in range(seeds):
            job, needs = random_job(seed), random_cuts(seed)
            surround = trace_surround(job)
            coursings.run(
                seed,
                lambda job=job, surround=surround: solve_coursing(job, surround),
                lambda coursing, solver, job=job: compare(
                    job, coursing, solver, with_joints=solver is cp_sat
                ),
            )
            cuts.run(
                seed,
                lambda needs=needs: len(fill_units(needs, UNIT + KERF, KERF)[0]),
                lambda units, solver, needs=needs: (
                    []
                    if fewest(needs, UNIT + KERF, KERF, solver) == units
                    else ["units"]
                ),
            )
    return [
        *coursings.rows(f"{seeds:,} coursings", {"median": "10", "mean": "100"}),
        *cuts.rows(f"{seeds:,} cut lists", {"median": "10", "mean": "10"}),
    ]
