"""The leader to a figure that stands far to one side stops short of its letters."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from shopdraw.drawing.ink import Axis, Measure
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.measures import drawn_ends, leader_of, letter_of

SCALE, HEIGHT = 8.0, 0.1


def measured(axis: Axis, aside: float, out: float) -> Measure:
    """Return a dimension whose figure stands so far to one side, and so far out."""
    letter = (aside, -out) if axis == "x" else (-out, aside)
    start, end = ((-0.2, 1.0), (0.2, 1.0))
    if axis == "y":
        start, end = ((1.0, -0.2), (1.0, 0.2))
    return Measure(
        layer="A-ANNO-DIMS", start=start, end=end, axis=axis, line_at=0.0,
        words='1/4"', height_on_paper=HEIGHT, letter=letter, has_leader=True,
    )  # fmt: skip


@pytest.mark.parametrize("axis", ["x", "y"])
@pytest.mark.parametrize("aside", [0.0, 2.0, 4.0, -6.0, 10.0, 30.0])
def test_a_leader_ends_beside_its_own_letters(axis: Axis, aside: float) -> None:
    measure = measured(axis, aside, 4.0)
    ((_, (x, y)),) = leader_of(measure, SCALE)
    left, low, right, high = box_of(letter_of(measure, SCALE), SCALE)
    # The tails of letters, which figures have not, are left out.
    if axis == "x":
        low = high - HEIGHT * SCALE
    else:
        right = left + HEIGHT * SCALE
    near = 1e-9
    assert not (left + near < x < right - near and low + near < y < high - near)


def test_a_leader_from_straight_above_ends_as_near_as_it_did() -> None:
    ((start, end),) = leader_of(measured("x", 0.0, 4.0), SCALE)
    assert start == (0.0, 0.0)
    assert end == pytest.approx((0.0, -4.0 + 0.8 * HEIGHT * SCALE))


@pytest.mark.parametrize("axis", ["x", "y"])
@pytest.mark.parametrize("aside", [0.0, 1.0, 2.5, 5.0, 10.0])
def test_a_slanting_leader_leaves_its_figure_some_air(axis: Axis, aside: float) -> None:
    """A quarter of the lettering's height at least, measured to the letters' box."""
    measure = measured(axis, aside, 4.0)
    ((_, (x, y)),) = leader_of(measure, SCALE)
    left, low, right, top = box_of(letter_of(measure, SCALE), SCALE)
    if axis == "x":
        low = top - HEIGHT * SCALE
    else:
        right = left + HEIGHT * SCALE
    off = hypot(max(left - x, x - right, 0.0), max(low - y, y - top, 0.0))
    assert off > 0.25 * HEIGHT * SCALE


@pytest.mark.parametrize("axis", ["x", "y"])
@pytest.mark.parametrize(("height", "scale"), [(0.1, 8.0), (2.5, 10.0), (0.1, 1.0)])
def test_a_line_ends_in_arrows_where_it_is_longer_than_3_2_heights_of_its_figure(
    axis: Axis, height: float, scale: float
) -> None:
    room = 3.2 * height * scale
    for long, ends in ((0.99 * room, "stroke"), (1.01 * room, "arrow")):
        end = (long, 0.0) if axis == "x" else (0.0, long)
        measure = Measure(
            "A-ANNO-DIMS", (0.0, 0.0), end, axis, 0.0, "1", height, ends="arrow"
        )
        assert drawn_ends(measure, scale) == ends
        assert drawn_ends(replace(measure, ends="stroke"), scale) == "stroke"
