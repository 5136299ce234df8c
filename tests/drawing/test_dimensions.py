"""Chains and strings: printed figures add up to the printed overall, always."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from itertools import accumulate, combinations
from math import dist

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from shopdraw.drawing.chains import Chain, strings_close
from shopdraw.drawing.dimensions import (
    MOST_LEVELS,
    StringStyle,
    string_of_dimensions,
)
from shopdraw.drawing.ink import Measure
from shopdraw.drawing.lettering import Box, box_of, overlap, width_of
from shopdraw.drawing.measures import leader_of, letter_of
from shopdraw.lengths import Lengths

POSITIONS = st.lists(
    st.fractions(min_value=0, max_value=400, max_denominator=97),
    min_size=2,
    max_size=25,
    unique=True,
).map(lambda x: tuple(sorted(x)))


@given(POSITIONS, st.sampled_from(["in", "mm"]))
def test_every_chain_closes_as_printed(
    positions: tuple[F, ...], lengths: Lengths
) -> None:
    chain = Chain(positions, "x", lengths)
    assert strings_close(iter([chain]))
    step = F(1, 16) if lengths == "in" else F(1)
    assert all(abs(figure / step % 1) == 0 for figure in chain.figures)


def test_rounding_pitches_would_not_close_and_rounding_positions_does() -> None:
    # Twenty courses in 47.3 in: the pitch is 2.365, or 2 3/8 rounded, 47 1/2 in all.
    positions = tuple(F(473, 10) * n / 20 for n in range(21))
    chain = Chain(positions, "y", "in")
    assert sum(chain.figures) == chain.overall == F(757, 16)
    assert 20 * F(38, 16) != chain.overall


@pytest.mark.parametrize("axis", ["x", "y"])
@given(POSITIONS)
def test_figures_of_a_string_do_not_lie_on_each_other(
    axis: str, positions: tuple[F, ...]
) -> None:
    chain = Chain(positions, "x" if axis == "x" else "y", "in")
    style = StringStyle("A-ANNO-DIMS", 0.09375, 8.0, -1, upright=axis == "y")
    measures = string_of_dimensions(chain, 0.0, 1.0, style)
    assert len(measures) == len(positions) - 1
    boxes = [box_of(letter_of(measure, 8.0), 8.0) for measure in measures]
    if len(positions) < MOST_LEVELS:
        assert not any(overlap(a, b) for a, b in combinations(boxes, 2))


def test_a_letter_tail_is_room_that_a_figure_takes() -> None:
    # These two stood a tail's depth too near each other once.
    chain = Chain((F(1, 2), F(1), F(67, 28)), "y", "in")
    style = StringStyle("A-ANNO-DIMS", 0.09375, 8.0, -1, upright=True)
    first, second = string_of_dimensions(chain, 0.0, 1.0, style)
    assert not overlap(*(box_of(letter_of(x, 8.0), 8.0) for x in (first, second)))


def test_two_figures_on_one_spot_are_noticed() -> None:
    chain = Chain((F(0), F(1), F(2)), "x", "in")
    style = StringStyle("A-ANNO-DIMS", 0.09375, 8.0)
    first, _ = string_of_dimensions(chain, 0.0, 1.0, style)
    box = box_of(letter_of(first, 8.0), 8.0)
    assert overlap(box, box)


def test_two_figures_in_one_row_stand_apart() -> None:
    # A voussoir's halves: their figures touched, and read as one.
    chain = Chain((F(0), F(17, 16), F(67, 32)), "x", "in", is_fine=True)
    style = StringStyle("A-ANNO-DIMS", 0.09375, 4.0)
    boxes = [
        box_of(letter_of(each, 4.0), 4.0)
        for each in string_of_dimensions(chain, 3.0, 1.0, style)
    ]
    assert row_gap(*boxes) >= 0.5 * 0.09375 * 4.0
    left, low, right, high = boxes[1]
    aside = boxes[0][2] - left
    assert row_gap(boxes[0], (left + aside, low, right + aside, high)) == 0.0


def tight(string: tuple[Measure, ...]) -> list[tuple[str, str]]:
    """Return figures that another one's leader passes within half a letter's height."""
    near = 0.5 * 0.09375 * 8.0
    lines = {
        one: shapely.LineString(line)
        for one, each in enumerate(string)
        for line in leader_of(each, 8.0)
    }
    boxes = [shapely.box(*box_of(letter_of(each, 8.0), 8.0)) for each in string]
    return [
        (string[one].words, string[other].words)
        for other, box in enumerate(boxes)
        for one, line in lines.items()
        if one != other and line.distance(box) < near
    ]


def test_no_figure_stands_tight_beside_another_one_s_leader() -> None:
    # A head joint, and a closer whose figure is wider than its gap, beside a jamb.
    steps = (F(61, 8), F(7, 16), F(55, 16), F(147, 4))
    chain = Chain(tuple(accumulate(steps, initial=F(0))), "x", "in")
    style = StringStyle("A-ANNO-DIMS", 0.09375, 8.0, -1)
    string = string_of_dimensions(chain, 0.0, 1.0, style)
    assert tight(string) == []
    joint, closer = string[1:3]
    assert closer.letter is not None
    # The joint's figure right below its gap, in the second row, is noticed.
    below = (float(61 / 8 + 7 / 32), closer.letter[1] - 1.7 * 0.75)
    assert tight((replace(joint, letter=below), closer)) == [('7/16"', '3 7/16"')]


def hiding(string: tuple[Measure, ...]) -> list[tuple[str, str]]:
    """Return the figures that stand beside another's gap as if they were its own.

    They do where they have no leader, are higher than their own gap, and cover the
    middle of one that is not theirs.
    """
    boxes = [box_of(letter_of(each, 4.0), 4.0) for each in string]
    middles = [(each.start[1] + each.end[1]) / 2 for each in string]
    return [
        (string[one].words, string[other].words)
        for one, (_, low, _, high) in enumerate(boxes)
        for other, middle in enumerate(middles)
        if one != other
        and not string[one].has_leader
        and low < middle < high
        and string[one].end[1] - string[one].start[1] < 0.09375 * 4.0
    ]


@pytest.mark.parametrize(
    "steps", [("3/32", "3/8", "1/32", "7/4"), ("3/32", "3/4", "1/4", "37/32")]
)
def test_a_level_figure_does_not_stand_beside_another_ones_gap(
    steps: tuple[str, ...],
) -> None:
    # The feet of two bricks over an arch: beside 3/8 there stood 1/32, or no leader.
    positions = tuple(accumulate((F(step) for step in steps), initial=F(0)))
    style = StringStyle("A-ANNO-DIMS", 0.09375, 4.0, 1, upright=True)
    chain = Chain(positions, "y", "in", is_fine=True)
    string = string_of_dimensions(chain, 0.0, -1.0, style)
    assert hiding(string) == []
    wide = string[1]
    assert wide.letter is not None
    assert not wide.has_leader
    # The same with the small one beside the wide one's gap is noticed.
    beside = replace(string[2], letter=wide.letter, has_leader=False)
    assert hiding((string[0], wide, beside)) != []


def row_gap(a: Box, b: Box) -> float:
    """Return the room between two figures along their row; they share the row."""
    assert min(a[3], b[3]) > max(a[1], b[1])
    return max(a[0], b[0]) - min(a[2], b[2])


def test_a_figure_beside_a_higher_one_has_a_leader_no_longer_than_two_figures() -> None:
    """A cut of 1/32 between heights that fill their gaps: its figure stands next."""
    steps = (F(3, 32), F(3, 8), F(1, 32), F(7, 4))
    positions = tuple(accumulate(steps, initial=F(0)))
    style = StringStyle("A-ANNO-DIMS", 0.09375, 4.0, upright=True)
    chain = Chain(positions, "y", "in", is_fine=True)
    string = string_of_dimensions(chain, 0.0, 1.0, style)
    wide = 2 * width_of('1 31/32"', style.height) * style.scale
    leaders = {x.words: leader_of(x, 4.0) for x in string if x.has_leader}
    assert set(leaders) == {'3/32"', '1/32"'}
    assert all(dist(*line) < wide for (line,) in leaders.values())


TEXT = 0.09375


def figures_of(*gaps: str, axis: str, scale: float, upright: bool) -> list[Box]:
    """Return where the figures of a string stand, its line at 0."""
    places = tuple(accumulate((F(x) for x in gaps), initial=F(0)))
    chain = Chain(places, "x" if axis == "x" else "y", "in")
    style = StringStyle("A-ANNO-DIMS", TEXT, scale, -1, upright=upright)
    string = string_of_dimensions(chain, 0.0, 1.0, style)
    return [box_of(letter_of(each, scale), scale) for each in string]


def test_a_figure_longer_than_its_upright_string_stands_level_between_its_ends() -> (
    None
):
    """3 3/4 in at a twelfth are a third of an inch, and the figure is longer."""
    (box,) = figures_of("15/4", axis="y", scale=12.0, upright=False)
    assert box[2] - box[0] > 3.75
    assert 0.0 < box[1] < box[3] < 3.75
    assert box[2] < 0.0
    # One that fits stands along its line.
    (box,) = figures_of("24", axis="y", scale=12.0, upright=False)
    assert box[3] - box[1] > box[2] - box[0]


def test_figures_in_a_column_stand_apart() -> None:
    """A joint of 3/8 in over a sliver of 3/4 in, at a quarter: 1 1/2 heights apart."""
    gaps = ("31/4", "1/4", "3/4", "3/8", "9/4", "3/8", "9/4")
    boxes = figures_of(*gaps, axis="y", scale=4.0, upright=True)
    for one, other in combinations(boxes, 2):
        beside = one[0] < other[2] and other[0] < one[2]
        if beside:
            apart = max(one[1], other[1]) - min(one[3], other[3])
            assert apart > 0.3 * TEXT * 4.0


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_figure_near_the_end_of_its_string_is_led_out_within_it(side: str) -> None:
    """As of a course of headers: no leader runs over the edge of the face."""
    gaps = ["29/8", "3/8", "13/8", "3/8", "29/8", "3/8", "29/8", "3/8", "45/8", "259/8"]
    if side == "right":
        gaps.reverse()
    boxes = figures_of(*gaps, axis="x", scale=8.0, upright=False)
    length = float(sum(map(F, gaps)))
    assert all(box[0] > 0.0 and box[2] < length for box in boxes)
