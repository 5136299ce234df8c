"""Which corner units to order, and when others would save trimming."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from shopdraw.masonry.bond.corners import say_corners
from shopdraw.masonry.bond.plan import plan_bond
from shopdraw.masonry.bond.solve import solve_bond
from shopdraw.masonry.coursing.solve import solve_coursing
from tests.masonry.bond.held_words import Wall
from tests.masonry.conftest import stack_job_of
from tests.masonry.legs import lay

RETURNS = {"face__left_return": "11 5/8 in", "face__right_return": "11 5/8 in"}


def laid(long: str, short: str) -> Wall:
    job = stack_job_of(
        "in", face__height="43 1/2 in", face__width="65 1/4 in", **RETURNS,
        brick__corner={"long_leg": long, "short_leg": short},
    )  # fmt: skip
    surround, _, layout = lay(job)
    return Wall(job, surround, layout)


def told(wall: Wall, words: str) -> list[str]:
    return [x for x in wall.layout.reasons if words in x]


def test_corner_units_that_are_laid_as_delivered_are_counted() -> None:
    wall = laid("7 5/8 in", "3 5/8 in")
    units = [x for x in wall.layout.pieces if x.kind == "corner unit"]
    assert told(wall, "Corner units of") == [
        f'Corner units of 7 5/8" x 3 5/8": {len(units)} stand on the wall, all of them '
        "as delivered."
    ]
    assert told(wall, "none would be trimmed") == []


def test_equal_legs_are_trimmed_one_a_course_and_what_to_buy_instead_is_told() -> None:
    wall = laid("7 5/8 in", "7 5/8 in")
    units = [x for x in wall.layout.pieces if x.kind == "corner unit"]
    trimmed = [x for x in units if x.is_trimmed]
    assert trimmed
    # One leg a course, never both.
    bought = {wall.say(x.legs[0]) for x in units if not x.is_trimmed} or {'7 5/8"'}
    for unit in trimmed:
        assert sum(wall.say(leg) not in bought for leg in unit.legs) == 1
    (order,) = told(wall, "Corner units of")
    counts = [int(x) for x in re.findall(r", (\d+) trimmed to", order)]
    assert sum(counts) == len(trimmed)
    assert told(wall, "none would be trimmed") == [
        'With corner units of 7 5/8" x 3 5/8" none would be trimmed.'
    ]
    other = laid("7 5/8 in", "3 5/8 in")
    assert not any(x.is_trimmed for x in other.layout.pieces)


def test_units_that_are_trimmed_to_one_size_are_told_once() -> None:
    # One is the other's mirror image, its legs the other way round: one size to saw.
    # An arch's back that was clipped to in floating point makes no other size either.
    wall = laid("7 5/8 in", "7 5/8 in")
    hair = Fraction(1, 10**9)
    first, second, *_ = (x for x in wall.layout.pieces if x.is_trimmed)
    turned = replace(first, legs=first.legs[::-1])
    shorter = replace(second, legs=(second.legs[0] - hair, second.legs[1] - hair))
    pieces = turned, shorter, *(x for x in wall.layout.pieces if x.is_trimmed)
    coursing = solve_coursing(wall.job, wall.surround)
    opening = wall.surround.opening
    jambs = opening.brick_left, opening.brick_right
    plan = plan_bond(wall.job, wall.surround, coursing, jambs)
    order = next(say_corners(plan, solve_bond(plan), pieces))
    sizes = re.findall(r"trimmed to ([^,.]+)", order)
    assert sizes
    assert len(set(sizes)) == len(sizes)
