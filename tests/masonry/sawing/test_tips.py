"""Where a course runs out on an arch: the tip that mortar takes, by hand."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import dist, pi, tan

import pytest
import shapely
from shapely.affinity import translate

from shopdraw.masonry.sawing.fillets import measure_fillets
from shopdraw.masonry.sawing.shapes import sharpest
from shopdraw.masonry.sawing.tips import find_tips
from shopdraw.masonry.wall.layout import flat_piece, rectangle
from tests.demos import solution_of


def course(*points):
    return shapely.Polygon(points)


def tips(shape, width=0.75, corner=30.0):
    return list(find_tips(shape, width, corner))


def test_a_shallow_tip_is_cut_off_square_where_it_is_as_thick_as_the_least_width():
    # It rises 1 in 4, from 4 on: it is 3/4 thick 3 before its end at 13.
    (tip,) = tips(course((0, 0), (4, 0), (13, 2.25), (0, 2.25)))
    assert tip.end == (13, 2.25)
    assert tip.way == -1
    assert tip.length == pytest.approx(3)
    assert tip.area.area == pytest.approx(3 * 0.75 / 2)
    left, bottom, right, top = tip.area.bounds
    assert (left, bottom, right, top) == pytest.approx((10, 1.5, 13, 2.25))


def test_it_is_so_at_the_left_too():
    (tip,) = tips(course((0, 2.25), (9, 0), (13, 0), (13, 2.25)))
    assert (tip.end, tip.way, tip.length) == ((0, 2.25), 1, pytest.approx(3))


@pytest.mark.parametrize(("degrees", "count"), [(29, 1), (31, 0), (60, 0)])
def test_a_corner_that_may_be_sawn_is_left(degrees, count):
    reach = 2.25 / tan(degrees * pi / 180)
    shape = course((0, 0), (4, 0), (4 + reach, 2.25), (0, 2.25))
    assert len(tips(shape)) == count


def test_a_thinner_least_width_takes_a_shorter_tip():
    shape = course((0, 0), (4, 0), (13, 2.25), (0, 2.25))
    (tip,) = tips(shape, width=0.25)
    assert tip.length == pytest.approx(1)


def test_over_a_skewback_the_saw_goes_on_in_one_straight_line():
    # The tip is 0.6 thick where the skewback begins, which leans 1 to 2.
    shape = course((0, 0), (6, 0), (5.175, 1.65), (6.375, 2.25), (0, 2.25))
    (tip,) = tips(shape)
    left, bottom, right, top = tip.area.bounds
    assert (left, bottom, right, top) == pytest.approx((4.875, 1.65, 6.375, 2.25))
    rest = shape.difference(tip.area)
    assert rest.convex_hull.area == pytest.approx(rest.area)


def test_the_fillets_of_the_segmental_demo_are_as_long_as_the_mortar_is():
    layout = solution_of("segmental-kitchen").layout
    assert [fillet.course for fillet in layout.fillets] == [13, 13, 14, 14, 15, 15]
    for fillet in layout.fillets:
        corners = [
            point
            for piece in layout.pieces
            if piece.course == fillet.course and piece.kind == "stretcher"
            for point in piece.outlines[0].points
        ]
        tip = [x for x, _ in fillet.points]
        end = max(tip) if max(tip) < 52 else min(tip)
        # As far as brick is cut back anywhere: at the bed, or aslant, at the arch.
        met = [p for p in corners if any(dist(p, q) < 1e-6 for q in fillet.points)]
        assert met
        gap = max(abs(float(x - end)) for x, _ in met)
        assert float(fillet.length) == pytest.approx(gap, abs=1e-6)


def test_a_tip_that_would_be_too_long_is_cut_aslant_as_square_as_can_be():
    # It rises 1 in 4. Aslant the end is 3/4 wide still, and 3/4 sin(a) high: 4 times
    # that is the mortar. 2 in would need 41.8 degrees; in steps of five that is 40.
    shape = course((0, 0), (4, 0), (13, 2.25), (0, 2.25))
    (tip,) = find_tips(shape, 0.75, 30.0, 2.0)
    assert tip.aslant == 40
    assert tip.length == pytest.approx(3 * 0.6427876)
    rest = shape.difference(tip.area)
    ring = [*shapely.orient_polygons(rest).exterior.coords]
    ends = [(a, b) for a, b in pairwise(ring) if 10 < (a[0] + b[0]) / 2 < 13]
    (end,) = [(a, b) for a, b in ends if abs(a[1] - b[1]) > 0.4 and a[0] != b[0]
              and abs((b[1] - a[1]) / (b[0] - a[0])) > 0.5]  # fmt: skip
    assert dist(*end) == pytest.approx(0.75)
    assert abs((end[0][1] - end[1][1]) / (end[0][0] - end[1][0])) == pytest.approx(
        tan(40 * pi / 180)
    )
    assert sharpest(tuple(ring[:-1]), 0.75) == pytest.approx(40)


def test_no_tip_is_cut_sharper_than_a_corner_may_be():
    # It rises 1 in 10: square that is 7 1/2 of mortar, at 30 degrees half of it.
    shape = course((0, 0), (4, 0), (26.5, 2.25), (0, 2.25))
    (tip,) = find_tips(shape, 0.75, 30.0, 2.0)
    assert (tip.aslant, tip.length) == (30, pytest.approx(3.75))
    (square,) = find_tips(shape, 0.75, 30.0, 7.5)
    assert (square.aslant, square.length) == (None, pytest.approx(7.5))


def test_a_tip_that_no_slant_makes_shorter_is_cut_square():
    # Flat for 0.8, then steep: 1 1/4 thick 0.8 + 1.23 x 1.8 / 2.23 from its end. Cut
    # aslant, 1 1/4 long, it would begin on the bed past the end.
    shape = course((0, 0), (5.4, 0), (4.6, 0.02), (2.8, 2.25), (0, 2.25))
    (tip,) = find_tips(shape, 1.25, 20.0, 1.0)
    assert (tip.aslant, tip.length) == (None, pytest.approx(0.8 + 1.23 * 1.8 / 2.23))


def test_mortar_takes_of_a_tip_only_what_brick_leaves() -> None:
    """The tip is cut off at x = 10; brick is sawn square 1/32 beyond, at 10 1/32.

    There it is 3/4 - 1/128 high, and the mortar from there to its end at 13.
    """
    (tip,) = tips(course((0, 0), (4, 0), (13, 2.25), (0, 2.25)))
    end = Fraction(321, 32)
    for right in (Fraction(10), end):
        brick = rectangle("front", Fraction(0), Fraction(0), right, Fraction(9, 4))
        piece = flat_piece("stretcher", 4, brick, ("right",))
        (fillet,) = measure_fillets([("front", 4, tip)], (piece,))
        ring = shapely.Polygon([(float(x), float(y)) for x, y in fillet.points])
        wide = 13 - float(right)
        assert ring.area == pytest.approx(wide * wide / 8)
        assert ring.bounds[0] == pytest.approx(float(right))
        # It is never told shorter than it is.
        assert float(fillet.length) >= wide - 1e-6


@pytest.mark.parametrize("by", [(60, 5), (5, 60), (-40, 90)])
@pytest.mark.parametrize("longest", [2.0, 9.0])
def test_a_tip_is_the_same_wherever_on_the_wall_it_is(by, longest):
    shape = course((0, 0), (4, 0), (13, 2.25), (0, 2.25))
    (here,) = find_tips(shape, 0.75, 30.0, longest)
    (there,) = find_tips(translate(shape, *by), 0.75, 30.0, longest)
    assert there.aslant == here.aslant
    assert there.length == pytest.approx(here.length)
    assert there.area.equals_exact(translate(here.area, *by), 1e-6, normalize=True)
