"""The shape of a piece, by hand and by brute force; wedges that no saw makes."""

from __future__ import annotations

from fractions import Fraction as F
from math import cos, pi, sin, tan

import numpy as np
import pytest
import shapely

from shopdraw.masonry.sawing.shapes import (
    ShapeLimits,
    find_shortfall,
    has_notch,
    length_along,
    length_of,
    narrowest,
    sharpest,
)
from shopdraw.masonry.wall.layout import Outline, Piece

LIMITS = ShapeLimits(F(2), F(3, 4), F(30), F(1, 4), (F(61, 8), F(9, 4)))
"""The usual figures, of a brick 7 5/8 long and 2 1/4 high."""
BRICK = F(9, 4)


def outline(*points):
    return Outline("front", tuple((F(str(x)), F(str(y))) for x, y in points))


def box(wide, high):
    return outline((0, 0), (wide, 0), (wide, high), (0, high))


def short_of(shape, length=F(2), high=BRICK):
    short = LIMITS.judge(shape, length, high)
    return short.rule if short else None


# Courses beside the arch of the old kitchen, as the program laid them before it judged
# a piece by its shape: its wedges, and its knife edges.
WEDGE = outline((30.25, 36.156), (30.7, 36.375), (32.46, 37.125), (30.25, 37.125))
WEDGE_MIRRORED = outline(
    (71.54, 37.125), (73.3, 36.375), (73.75, 36.156), (73.75, 37.125)
)
KNIFE = outline(
    (34.5, 37.911), (35.502, 38.279), (37.969, 39.048), (40.471, 39.691),
    (40.759, 39.75), (34.5, 39.75),
)  # fmt: skip
KNIFE_MIRRORED = outline(
    (63.241, 39.75), (63.529, 39.691), (66.031, 39.048), (68.498, 38.279),
    (69.5, 37.911), (69.5, 39.75),
)  # fmt: skip
BLUNT_KNIFE = outline(
    (33, 37.5), (33.383, 37.5), (35.502, 38.279), (37.969, 39.048), (40.471, 39.691),
    (40.625, 39.723), (40.625, 39.75), (33, 39.75),
)  # fmt: skip
HOOK = outline(
    (20.875, 32.25), (26.906, 32.25), (25.937, 33.894), (27.032, 34.5), (20.875, 34.5),
)  # fmt: skip
TALL_END = outline(
    (23.5625, 34.875), (27.709, 34.875), (28.377, 35.244), (30, 36.034),
    (30, 37.125), (23.5625, 37.125),
)  # fmt: skip


@pytest.mark.parametrize(
    ("shape", "corner"),
    [
        (WEDGE, 23), (WEDGE_MIRRORED, 23), (KNIFE, 12), (KNIFE_MIRRORED, 12),
        (BLUNT_KNIFE, 12),
    ],
)  # fmt: skip
def test_the_wedges_of_the_segmental_arch_are_no_pieces(shape, corner):
    short = LIMITS.judge(shape, F(2), BRICK)
    assert short.rule == "sharpest corner"
    assert float(short.least.measured) == pytest.approx(corner, abs=0.6)
    assert short.least.allowed == 30


def test_a_hooked_limb_that_hangs_over_an_arch_is_no_piece():
    short = LIMITS.judge(HOOK, F(2), BRICK)
    assert short.rule == "least width"
    assert float(short.least.measured) == pytest.approx(0.6, abs=0.1)
    assert sharpest(tuple((float(x), float(y)) for x, y in HOOK.points), 0.75) < 30


def test_an_end_over_an_inch_high_beside_the_arch_is_sawn_as_it_is():
    # 1 3/32 in at its right end: it keeps all four figures.
    assert short_of(TALL_END) is None


@pytest.mark.parametrize(
    ("shape", "rule"),
    [
        (box("2", "2.25"), None),
        (box("1.96", "1.5"), "least piece"),
        (box("7.625", "0.75"), None),
        (box("7.625", "0.74"), "least width"),
        (box("5.72", "0.75"), None),
        (box("5.71", "0.75"), "least area"),  # a quarter is 4.29 sq in
    ],
)
def test_a_rectangle_is_held_to_each_figure(shape, rule):
    assert short_of(shape) == rule


@pytest.mark.parametrize(("degrees", "rule"), [(31, None), (29, "sharpest corner")])
def test_a_corner_is_held_to_thirty_degrees(degrees, rule):
    reach = 2.25 / tan(degrees * pi / 180)
    shape = outline((0, 0), (3 + reach, 0), (3, 2.25), (0, 2.25))
    assert short_of(shape) == rule


def test_a_course_that_is_sawn_low_is_held_to_a_quarter_of_its_own_height():
    half = box("3.625", "1.125")
    assert short_of(half, high=F(9, 8)) is None
    assert short_of(half) == "least area"


def test_what_is_as_short_as_its_bond_has_it_is_held_to_width_and_corner_alone():
    assert short_of(box("1.625", "2.25"), length=F(0)) is None
    assert short_of(box("0.7", "2.25"), length=F(0)) == "least width"


def test_a_tip_cut_off_square_at_the_least_width_is_no_knife_edge():
    # A rise of 1 in 4 is 14 degrees; the end is as wide as the least, or 1/8 narrower.
    wide = outline((0, 0), (6, "1.5"), (6, "2.25"), (0, "2.25"))
    thin = outline((0, 0), ("6.5", "1.625"), ("6.5", "2.25"), (0, "2.25"))
    assert short_of(wide) is None
    assert short_of(thin) == "sharpest corner"


ELL = ((0, 0), (6, 0), (6, 1.75), (8, 1.75), (8, 2.25), (0, 2.25))
WIDE_ELL = ((0, 0), (6, 0), (6, 0.75), (8, 0.75), (8, 2.25), (0, 2.25))
NICK = ((0, 0.19), (0.25, 0.19), (0.25, 0), (7.5, 0), (7.5, 2.25), (0, 2.25))
YOKE = (
    (0, 0), (0.5, 0), (0.5, 1), (7, 1), (7, 0), (7.5, 0), (7.5, 2.25), (0, 2.25),
)  # fmt: skip


@pytest.mark.parametrize(
    ("ring", "width"), [(ELL, 0.5), (WIDE_ELL, 1.5), (NICK, 2.25), (YOKE, 0.5)]
)
def test_each_limb_of_a_notched_piece_is_measured_by_itself(ring, width):
    assert narrowest(ring) == pytest.approx(width)
    assert has_notch(outline(*ring))
    mirrored = tuple((-x, y) for x, y in reversed(ring))
    assert narrowest(mirrored) == pytest.approx(width)


# The sides of these notches lean, so that it matters which way they are prolonged.
ASLANT = ((0, 0), (4, 0), (6, 1.75), (6.75, 1.5), (7, 2.25), (0.5, 2.25))
STEEP = ((0, 0), (5, 0), (5.75, 1), (6, 1.75), (6.75, 2.25), (0.25, 2.25))


@pytest.mark.parametrize("ring", [YOKE, ASLANT, STEEP])
@pytest.mark.parametrize("far", [(150, 0), (0, 90), (150, 90)])
def test_a_notched_piece_is_as_wide_wherever_on_the_face_it_stands(ring, far):
    there = tuple((x + far[0], y + far[1]) for x, y in ring)
    assert narrowest(there) == pytest.approx(narrowest(ring))


def test_the_cuts_along_an_arch_s_back_are_no_notch():
    assert not has_notch(KNIFE)
    assert not has_notch(BLUNT_KNIFE)
    assert has_notch(HOOK)


def test_a_slanting_bar_is_as_long_as_its_side_and_as_wide_as_it_is_thick():
    ring = tuple(
        (x * cos(0.4) - y * sin(0.4), x * sin(0.4) + y * cos(0.4))
        for x, y in ((0, 0), (5, 0), (5, 0.6), (0, 0.6))
    )
    assert length_along(ring) == pytest.approx(5)
    assert narrowest(ring) == pytest.approx(0.6)
    assert sharpest(ring, 0.5) == pytest.approx(90)


def test_a_piece_is_no_longer_than_it_is_along_its_course():
    steep = outline((0, 0), (1, 0), ("1.5", "2.25"), ("0.5", "2.25"))
    assert length_of(steep) == F(3, 2)


@pytest.mark.parametrize("seed", range(12))
def test_the_narrowest_width_of_a_random_shape_against_every_direction(seed):
    random = np.random.default_rng(seed)
    spots = random.random((random.integers(3, 9), 2)) * (8, 2.25)
    hull = shapely.MultiPoint(spots).convex_hull
    ring = tuple(shapely.orient_polygons(hull).exterior.coords)[:-1]
    angles = np.linspace(0, pi, 20_001)
    seen = np.array(ring) @ np.array([np.cos(angles), np.sin(angles)])
    tried = (seen.max(axis=0) - seen.min(axis=0)).min()
    # Between two directions tried, the width is no less than by their small angle.
    assert narrowest(ring) <= tried + 1e-9
    assert narrowest(ring) == pytest.approx(tried, abs=2e-3)


def test_a_rowlock_short_in_height_is_still_held_to_its_area() -> None:
    # Sawn to half and more, as its own rule allows; its height is under a least piece.
    shape = outline((0, 0.022), (1.687, 0.094), (1.687, 2), (0, 2))
    piece = Piece(
        "F-08-08", "R2", "rowlock", 8, "front", (shape,), F("1.687"), F(2), (),
        is_cut=True, is_trimmed=False, cut_edges=("right", "bottom"),
    )  # fmt: skip
    assert short_of(shape) == "least piece"
    short = find_shortfall(piece, LIMITS, BRICK, F(2))
    assert short is not None
    assert short.rule == "least area"
