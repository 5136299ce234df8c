"""The front in a photograph: its corners on the dots asked for, what is free free."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

import pytest
import shapely

from shopdraw.drawing.photo import Montage, Photo
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.picture.appearance import opening_of
from shopdraw.views.picture.in_photo import face_of, lay_into

CORNERS = ((20.0, 10.0), (180.0, 14.0), (176.0, 140.0), (24.0, 150.0))
PHOTO = Photo(bytes(200 * 160 * 3), 200, 160, 1.0, "0" * 64)
WALL = """
[job]
name = "Snug"
[face]
width = "28 in"
height = "36 1/4 in"
{more}
[opening]
width = "14 in"
height = "24 in"
[brick]
size = "modular"
[appearance]
photo = "a.jpg"
photo_corners = [[20, 10], [180, 14], [176, 140], [24, 150]]
{tables}
"""
SHELF = """
[[trim]]
name = "shelf"
width = "30 in"
left = "-1 in"
bottom = "30 in"
height = "2 in"
projection = "6 in"
covers_brick = true
"""


@cache
def solved(more: str = "", tables: str = "") -> Solution:
    return solve(parse_job(WALL.format(more=more, tables=tables), "snug.toml"))


def laid(more: str = "", tables: str = "", photo: Photo = PHOTO) -> Montage:
    return lay_into(solved(more, tables), photo)


def box_of(ring: tuple[tuple[float, float], ...]) -> list[float]:
    return list(shapely.Polygon(ring).bounds)


def test_the_faces_corners_lie_on_the_dots_asked_for() -> None:
    # With a height that the courses land on, the face is the whole front.
    solution, over = solved(), laid().over
    assert solution.surround.front.width == 28
    assert solution.coursing.top == Fraction(145, 4)
    for corner in CORNERS:
        nearest = min(
            over, key=lambda p: (p[0] - corner[0]) ** 2 + (p[1] - corner[1]) ** 2
        )
        assert nearest == pytest.approx(corner, abs=1e-6)


def test_a_corner_asked_for_elsewhere_moves_it() -> None:
    text = WALL.format(more="", tables="").replace("[180, 14]", "[190, 14]")
    over = lay_into(solve(parse_job(text, "snug.toml")), PHOTO).over
    assert max(x for x, _ in over) == pytest.approx(190)


def test_a_photograph_made_smaller_has_its_corners_nearer() -> None:
    half = Photo(bytes(100 * 80 * 3), 100, 80, 0.5, "0" * 64)
    assert box_of(laid(photo=half).over) == pytest.approx(
        [x / 2 for x in box_of(laid().over)]
    )


def test_the_corners_are_those_of_the_face_as_measured() -> None:
    more = 'measured_to = "substrate"\nleft_return = "6 in"\nright_return = "6 in"'
    solution = solved(more)
    grown = solution.surround.build_out
    assert solution.surround.front.width == 28 + 2 * grown
    left, low, right, high = face_of(solution.job)
    assert (left, right - left) == (pytest.approx(float(grown)), 28)
    assert (low, high) == (0, 36.25)
    # So the finished front reaches a little past them on both sides.
    wide = box_of(laid(more).over)
    assert wide[0] < 20
    assert wide[2] > 180


def test_every_brick_lies_on_the_front_and_none_in_the_opening() -> None:
    montage = laid()
    whole = shapely.Polygon(montage.over).buffer(1e-6)
    hole = shapely.Polygon(montage.free[0])
    assert len(montage.paints) > len(solved().layout.pieces)
    for paint in montage.paints[1:]:
        ring = shapely.Polygon(paint.points)
        assert whole.buffer(1.0).covers(ring)
        assert hole.buffer(-1.0).intersection(ring).area == pytest.approx(0, abs=1e-6)


def test_the_opening_that_is_left_free_is_the_one_that_is_finished() -> None:
    ring = opening_of(solved())
    assert shapely.Polygon(ring).area == pytest.approx(14 * 24, rel=0.05)
    hole = shapely.Polygon(laid().free[0])
    face = shapely.Polygon(CORNERS)
    assert face.buffer(1e-6).covers(hole)
    # It stands on the foot of the face, and a third of that is above it.
    left, top, right, foot = hole.bounds
    assert foot == pytest.approx(147, abs=2)
    assert top == pytest.approx(57, abs=3)
    assert left - 24 == pytest.approx(176 - right, abs=8)
    assert hole.area / face.area == pytest.approx(14 * 24 / (28 * 36.25), rel=0.15)


def test_what_stands_before_the_brick_stays_as_it_was_taken() -> None:
    free = laid(tables=SHELF).free
    assert len(free) == 2
    shelf = shapely.Polygon(free[1])
    assert shelf.intersects(shapely.Polygon(laid().over))
    assert len(laid().free) == 1


def test_it_is_the_picture_that_is_laid_in() -> None:
    colours = {paint.colour for paint in laid().paints}
    other = laid(tables='[joints.bed]\nmost = "1/2 in"')
    assert colours == {paint.colour for paint in other.paints}
    assert solved().job.appearance.joint == laid().paints[0].colour
    assert Fraction(0) <= solved().surround.front.left
