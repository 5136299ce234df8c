"""What runs and joints count for, by hand, place by place of the order of merit."""

from __future__ import annotations

import pytest

from shopdraw.masonry.bond.choose import Bench, Weights, best_pairs
from shopdraw.masonry.bond.runs import Run, RunRules, Span
from shopdraw.masonry.bond.score import run_score
from shopdraw.masonry.bond.trimming import fill_trimmed
from shopdraw.masonry.coursing.joints import Room
from shopdraw.masonry.coursing.problem import state_problem
from shopdraw.masonry.wall.surround import trace_surround

# A brick of 64 with joints of 4, halves of 30, on a grid where one is an eighth.
RULES = RunRules(
    unit=64, half=30, least_piece=16, least_lap=12, least_leg=16, shortest_leg=8,
    joints=(4, 3, 5), preferred=4, least_joint=3, most_joint=5, step=1,
)  # fmt: skip
WHOLE = Run(((0, 64), (68, 132)), 4, False, False, 0, "edge", "jamb")
HALVED = Run(((0, 30), (34, 98), (102, 132)), 4, False, False, 0, "edge", "jamb")
WIDE = Run(((0, 29), (34, 98), (103, 132)), 5, False, False, 0, "edge", "jamb")


def test_a_run_alone_counts_its_cuts_by_place_and_no_lap() -> None:
    score = run_score(HALVED, 3, RULES, frozenset(), cap=64)
    assert (score.small, score.how_small) == (0, 0)
    assert (score.short_laps, score.how_short) == (0, 0)
    assert score.smallest == 30
    # In three courses: one at the jamb, none between, one at the free end.
    assert score.cuts_by_place == (3, 0, 0, 3)
    assert (score.different_cuts, score.cuts, score.departures) == (1, 6, 0)


def test_a_joint_off_the_preferred_departs_at_every_head_joint() -> None:
    score = run_score(WIDE, 3, RULES, frozenset(), cap=64)
    assert score.departures == 3 * 2 * 1


@pytest.mark.parametrize("upper", [HALVED, WIDE])
def test_a_pair_counts_each_course_as_often_as_it_is_laid(upper: Run) -> None:
    benches = [Bench([run], RULES, frozenset()) for run in (WHOLE, upper)]
    (pair,) = best_pairs(*benches, RULES, Weights(4, 3, 6), lap_counts=True, cap=64)
    score = pair.score
    assert (pair.lower, pair.upper) == (WHOLE, upper)
    # Joints at 64 to 68, and 30 to 34 or 98 to 102: 30 and more apart.
    assert (score.short_laps, score.how_short) == (0, 0)
    assert score.cuts_by_place == (3, 0, 0, 3)
    assert (score.different_cuts, score.cuts) == (1, 6)
    assert score.departures == (3 * 2 * 1 if upper is WIDE else 0)


def test_the_better_of_two_uppers_is_taken() -> None:
    lower = Bench([WHOLE], RULES, frozenset())
    upper = Bench([WIDE, HALVED], RULES, frozenset())
    (pair,) = best_pairs(lower, upper, RULES, Weights(4, 3, 6), lap_counts=True, cap=64)
    assert pair.upper == HALVED


@pytest.mark.parametrize(
    ("beds", "narrow"),
    [((5, 6, 7), True), ((6, 7), False), ((6,), False), ((5,), True)],
)
def test_a_joint_is_narrow_that_is_narrower_by_the_most_there_is(
    stack_job, beds: tuple[int, ...], narrow: bool
) -> None:
    # The preferred joint of 3/8 is six steps of 1/16.
    job = stack_job(
        "in", joints__bed={"preferred": "3/8 in", "least": "1/4 in", "most": "1/2 in"}
    )
    problem = state_problem(job, trace_surround(job))
    assert problem.preferred == 6 * problem.step
    assert Room(problem, (6,), beds, 0).has_narrow == narrow


def test_two_corner_units_that_meet_are_trimmed_and_never_made_longer() -> None:
    # 100 between two folds has no room for a brick between legs of 64 each.
    span = Span(0, 100, "fold", "fold", left_leg=64, right_leg=64)
    both = [run for run in fill_trimmed(span, RULES) if run.trims == 2]
    assert both
    for run in both:
        lengths = [right - left for left, right in run.pieces]
        assert sum(lengths) + run.joint == 100
        assert all(RULES.shortest_leg <= length < 64 for length in lengths)
