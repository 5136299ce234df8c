"""Woodwork and the fire's floor in section: each as it is typed, as far as it goes."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from typing import Any

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Measure, Stroke
from shopdraw.job.model_around import TrimStep
from shopdraw.review.clearances import review_clearances
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import Hand
from shopdraw.views.section.behind import draw_firebox
from shopdraw.views.section.through import Through, through_of
from shopdraw.views.section.woodwork import (
    draw_woodwork,
    findings_of,
    measure_woodwork,
    nose_of,
)
from tests.demos import solution_of
from tests.views.jobs import with_job

HAND = Hand("in", 8.0)


def with_board(**changes: Any) -> Solution:
    """Return a demo whose frieze board is another, reviewed again."""
    solution = solution_of("library-hearth")
    (board,) = solution.job.trim
    given = with_job(solution, trim=(board.model_copy(update=changes),))
    found = review_clearances(
        given.job, given.surround, given.coursing, given.layout, given.openings,
        given.variation, given.hearth,
    )  # fmt: skip
    return replace(given, findings=found)


def stepped(*steps: tuple[int, int]) -> Solution:
    """Return it 6 in high, with steps that reach so far up and stand out so far."""
    each = tuple(TrimStep(reach=F(up), projection=F(out)) for up, out in steps)
    return with_board(projection=None, steps=each, bottom=F(40))


def test_a_profile_is_drawn_step_by_step_and_its_last_step_takes_the_rest() -> None:
    (trim,) = stepped((2, 1), (1, 3)).job.trim
    (ring,) = draw_woodwork(trim, 1.5)
    assert isinstance(ring, Stroke)
    assert ring.closed
    assert ring.points == (
        (1.5, 40), (-1, 40), (-1, 42), (-3, 42), (-3, 46), (1.5, 46)
    )  # fmt: skip


@pytest.mark.parametrize(
    ("steps", "low", "high"),
    [(((2, 3), (4, 1)), 40, 42), (((2, 1), (4, 3)), 42, 46)],
)
def test_a_profile_is_led_to_where_it_stands_out_furthest(
    steps: tuple[tuple[int, int], ...], low: int, high: int
) -> None:
    solution = stepped(*steps)
    (trim,) = solution.job.trim
    at = replace(through_of(solution, HAND), envelope=None)
    x, y = nose_of(trim, at, HAND)
    assert -3 < x < -1
    assert low < y < high


def figures(solution: Solution) -> list[tuple[float, float]]:
    at = through_of(solution, HAND)
    ink, _ = measure_woodwork(at, at.before, HAND)
    return [(x.start[1], x.end[1]) for x in ink if isinstance(x, Measure)]


def test_woodwork_right_on_the_opening_has_no_distance_to_dimension() -> None:
    over = solution_of("library-hearth").openings.outer.top
    assert figures(with_board(bottom=over)) == []
    assert figures(with_board(bottom=over + 1)) == [(over, over + 1)]


def test_what_does_not_burn_has_no_figure_and_no_most_to_stand_out() -> None:
    slate = with_board(material="slate", combustible=False, bottom=F(40))
    burns = with_board(bottom=F(40))
    said = [
        findings_of(each, each.job.trim[0], through_of(each, HAND), HAND)
        for each in (slate, burns)
    ]
    # 13 in above an opening of 27 in; beyond 12 in nothing limits what stands out.
    assert said[0] == ("FRIEZE BOARD", "DISTANCE: PASSED")
    assert said[1][1] == "DISTANCE 13 IN (MIN 6 IN): PASSED"
    assert said[1][2].startswith("PROJECTION 3/4 IN")


def firebox(raised: str, begins: str = "") -> tuple[list[Stroke], Through]:
    """Return the lines of the fire's floor, and of its front where it has one."""
    solution = with_job(
        solution_of("library-hearth"),
        hearth={"raised": F(raised) if raised else None},
        opening={"firebox": F(begins) if begins else None},
    )
    at = through_of(solution, HAND)
    lines = [x for x in draw_firebox(solution, at, HAND) if isinstance(x, Stroke)]
    return [x for x in lines if x.layer in (layers.OTHERS, layers.HIDDEN)], at


@pytest.mark.parametrize("begins", ["", "3", "9"])
def test_a_raised_fire_s_floor_has_a_front_where_the_firebox_begins(
    begins: str,
) -> None:
    """Where that was not measured, right behind the brick's bed."""
    floor_drawn, at = firebox("2", begins)
    front, floor = (x for x in floor_drawn if x.layer == layers.OTHERS)
    # From the finished face as drawn elsewhere, an eighth before it is at its furthest.
    start, low = float(F(begins) + F(1, 8)) if begins else at.reach, float(at.floor)
    assert front.points == ((start, low), (start, low + 2))
    assert floor.points == ((start, low + 2), (at.back, low + 2))


def test_a_fire_s_floor_that_is_not_raised_or_not_measured_has_no_front() -> None:
    for raised, layer in (("0", layers.OTHERS), ("", layers.HIDDEN)):
        (floor,), at = firebox(raised)
        assert {y for _, y in floor.points} == {float(at.floor)}
        assert floor.layer == layer
