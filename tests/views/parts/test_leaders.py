"""Leaders end in what they name, and cross neither each other nor a bubble."""

from fractions import Fraction
from itertools import combinations

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.chains import Chain
from shopdraw.drawing.dimensions import (
    StringStyle,
    string_of_dimensions,
)
from shopdraw.drawing.ink import Drawing, Measure, Stroke
from shopdraw.drawing.measures import cross, leader_of
from shopdraw.views.brick.leaders import _leaders_of
from shopdraw.views.parts.figures import Hand, inside_of
from shopdraw.views.parts.strings import is_fine

F = Fraction


def test_only_leaders_and_their_diamonds_are_kept_off_as_such():
    line, diamond = ((0.0, 0.0), (6.0, 0.0)), ((7.0, 0.0), (8.0, 1.0), (9.0, 0.0))
    leader = Stroke(layers.NOTES, line)
    point = Stroke(layers.NOTES, (*diamond, (8.0, -1.0)), closed=True)
    brick = Stroke(layers.OUTLINE, line)
    bent = Stroke(layers.NOTES, diamond)
    ink = (brick, leader, bent, point, Stroke(layers.OUTLINE, line, closed=True))
    found = [*_leaders_of(Drawing("view", "", 8.0, ink), 0.25)]
    first, second = found
    assert first.equals(shapely.LineString(line).buffer(0.25))
    # All of the diamond, not its edge alone.
    assert second.covers(shapely.Point(8.0, 0.0))


def test_lines_that_only_touch_do_not_cross():
    slanted = ((0.0, 0.0), (2.0, 2.0))
    assert cross(slanted, ((0.0, 2.0), (2.0, 0.0)))
    assert not cross(slanted, ((2.0, 2.0), (3.0, 0.0)))
    assert not cross(slanted, ((0.0, 1.0), (2.0, 3.0)))


def test_figures_of_a_closer_between_two_joints_do_not_cross_leaders():
    steps = (F(29, 8), F(3, 8), F(13, 8), F(3, 8), F(61, 8), F(3, 8), F(13, 8), F(3, 8))
    at, positions = F(0), [F(0)]
    for step in (*steps, F(29, 8)):
        at += step
        positions.append(at)
    chain = Chain(tuple(positions), "x", "in")
    style = StringStyle("layer", 3 / 32, 8.0, outward=-1)
    string = string_of_dimensions(chain, 0.0, 1.0, style)
    leaders = [line for each in string for line in leader_of(each, 8.0)]
    assert len(leaders) > 2
    assert not any(cross(a, b) for a, b in combinations(leaders, 2))


def test_notes_that_are_pushed_up_stand_in_the_order_that_no_leader_crosses():
    hand = Hand("in", 8.0)
    rows = (((9.0, 0.0), "FIRE\nNOT MEASURED"), ((6.0, -1.0), "HEARTH\nNOT MEASURED"))
    ink = hand.leaders(rows, 12.0, -1.5)
    lines = [x.points[:2] for x in ink if isinstance(x, Stroke) and not x.closed]
    assert len(lines) == 2
    assert not cross(*lines)


def test_no_leader_runs_through_the_diamond_that_another_ends_in():
    hand = Hand("in", 8.0)
    # What is shaded lies far in, and as high as the point of the note beside it.
    rows = (((0.0, 0.05), "SHADED"), ((9.0, 0.0), "FRONT PASSED"))
    for notes in (rows, rows[::-1]):
        lines = [x for x in hand.leaders(notes, 12.0) if isinstance(x, Stroke)]
        (shaded,) = [x.points for x in lines if x.points[0] == (0.0, 0.05)]
        (x, y), (far, level) = shaded[:2]
        below = y + (level - y) * (9.0 - x) / (far - x)
        assert below < -0.4 * hand.text


@pytest.mark.parametrize("near", [-1.0, 2.4, 2.5, 9.0])
def test_a_leader_ends_inside_a_brick_and_in_no_joint(near):
    spans = ((0.0, 2.25), (2.625, 4.875))
    assert any(low < inside_of(spans, near) < high for low, high in spans)


def test_half_a_millimetre_is_printed_where_each_gap_has_its_own_figure_then():
    assert is_fine((F(0), F(205, 2), F(225, 2)), "mm")
    assert not is_fine((F(0), F(103), F(113)), "mm")
    # A piece of 84.45 is 84.5 on the cut list, and not 84 here and 85 there.
    ends = F(0), F(8445, 100), F(9345, 100), F(1779, 10)
    assert is_fine(ends, "mm")
    assert Chain(ends, "x", "mm", is_fine=True).words() == ("84.5", "9", "84.5")
    assert Chain(ends, "x", "mm").words() == ("84", "9", "85")
    # By neither step has each its own.
    assert not is_fine((F(0), F(3, 10), F(6, 10)), "mm")


@pytest.mark.parametrize(("size", "is_led"), [(4, False), (F(1, 4), True)])
def test_a_figure_that_fits_its_gap_stands_in_its_string(size, is_led):
    ink = tuple(Hand("in", 4.0).fan("x", (F(-size), F(0)), 3.0))
    (figure,) = [x for x in ink if isinstance(x, Measure)]
    assert (figure.letter is not None) == is_led
    assert any(isinstance(x, Stroke) for x in ink) == is_led


def test_a_figure_with_a_name_is_led_to_where_its_name_is():
    ink = tuple(Hand("in", 4.0).fan("y", (F(0), F(4)), 0.0, ("BUILD-OUT",)))
    assert any(isinstance(x, Stroke) for x in ink)
