"""What a level plane and an upright one meet, by hand.

The wall is that of `library`: returns of 14, so that the front begins at 14 on the
developed plane; the front 57 1/4 wide, so that it ends at 71 1/4; brick 5/8 thick.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.cuts import course_ends, cut_level, cut_upright
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import (
    Layout,
    Outline,
    Piece,
    PieceKind,
    flat_piece,
    rectangle,
)
from shopdraw.masonry.wall.surround import trace_surround
from tests.masonry.legs import StackJob, lay, library

THICK = F(5, 8)
HIGH = F(9, 4)


def course(number: int, bottom: F = F(0)) -> Course:
    return Course(number, "running", F(3, 8), bottom, HIGH)


def on(face: FaceName, left: F | int | str, right: F | int | str) -> Outline:
    return rectangle(face, F(left), F(0), F(right), HIGH)


def piece(
    kind: PieceKind, *outlines: Outline, cut_edges: tuple[str, ...] = ()
) -> Piece:
    flat = flat_piece(kind, 1, outlines[0], cut_edges)
    legs = tuple(x.right - x.left for x in outlines) if len(outlines) > 1 else ()
    return replace(flat, outlines=outlines, legs=legs)


def laid(*pieces: Piece) -> Layout:
    return Layout(pieces, (), (), F(2), None, ())


def met(surround: Surround, *pieces: Piece) -> list[tuple[tuple[F, F], ...]]:
    return [x.ring for x in cut_level(surround, laid(*pieces), course(1), THICK)]


@pytest.fixture
def surround(stack_job: StackJob) -> Surround:
    return trace_surround(library(stack_job, opening__jamb_return="3 5/8 in"))


def test_a_flat_piece_is_a_rectangle_on_its_own_face(surround: Surround) -> None:
    rings = met(
        surround,
        # 22 to 25 5/8 on the plane is 8 to 11 5/8 from the front's end.
        piece("stretcher", on("front", 22, "205/8")),
        # 2 to 9 on the left return is 5 to 12 back from the fold at 14.
        piece("stretcher", on("left", 2, 9)),
        # 75 to 80 on the right one is 3 3/4 to 8 3/4 back from the fold at 71 1/4.
        piece("stretcher", on("right", 75, 80)),
    )
    assert rings == [
        ((8, 0), (F(93, 8), 0), (F(93, 8), THICK), (8, THICK)),
        ((0, 5), (THICK, 5), (THICK, 12), (0, 12)),
        (
            (F(57.25) - THICK, F(15, 4)),
            (F(57.25), F(15, 4)),
            (F(57.25), F(35, 4)),
            (F(57.25) - THICK, F(35, 4)),
        ),
    ]


def test_a_unit_whose_leg_is_as_long_as_it_is_thick_is_a_rectangle(
    surround: Surround,
) -> None:
    trimmed = piece("corner unit", on("left", "83/8", 14), on("front", 14, 14 + THICK))
    # 10 3/8 to 14 on the plane is 0 to 3 5/8 back.
    assert met(surround, trimmed) == [
        ((0, 0), (THICK, 0), (THICK, F(29, 8)), (0, F(29, 8)))
    ]


def test_a_unit_at_an_outside_corner_is_an_l(surround: Surround) -> None:
    left = piece("corner unit", on("front", 14, "173/8"), on("left", "83/8", 14))
    right = piece(
        "corner unit", on("right", "285/4", "599/8"), on("front", "509/8", "285/4")
    )
    # Left: 7 5/8 along the front, 3 5/8 back. Right: 57 1/4 - 7 5/8 = 49 5/8.
    assert met(surround, left, right) == [
        (
            *((0, 0), (F(61, 8), 0), (F(61, 8), THICK)),
            *((THICK, THICK), (THICK, F(29, 8)), (0, F(29, 8))),
        ),
        (
            *((F(397, 8), 0), (F(229, 4), 0), (F(229, 4), F(29, 8))),
            *((F(453, 8), F(29, 8)), (F(453, 8), THICK), (F(397, 8), THICK)),
        ),
    ]


@pytest.mark.parametrize("back", [F(13, 16), F(-1)])
def test_legs_of_a_course_that_stands_far_out_are_taken_in_their_order(
    surround: Surround, back: F
) -> None:
    """The short one ends behind the corner, or an inch before it."""
    out = F(45, 16)
    far = replace(course(1), projection=out)
    unit = piece(
        "corner unit", on("front", 14 - out, 20), on("left", 14 - back, 14 + out)
    )
    (cut,) = cut_level(surround, laid(unit), far, THICK)
    inner = THICK - out
    assert cut.ring == (
        *((-out, -out), (6, -out), (6, inner)),
        *((inner, inner), (inner, back), (-out, back)),
    )


def test_a_unit_that_turns_into_the_jamb_is_an_l_in_the_leg(surround: Surround) -> None:
    # The left jamb stands at 14 + 11 5/8 = 25 5/8: 11 5/8 from the front's end.
    unit = piece(
        "corner unit", on("front", 18, "205/8"), on("left reveal", "205/8", "234/8")
    )
    assert met(surround, unit) == [
        (
            *((4, 0), (F(93, 8), 0), (F(93, 8), F(29, 8))),
            *((11, F(29, 8)), (11, THICK), (4, THICK)),
        )
    ]
    # The right one at 14 + 45 5/8 = 59 5/8: 45 5/8, and back 5/8 into the leg.
    flat = piece("stretcher", on("right reveal", 57, "477/8"))
    assert met(surround, flat) == [
        ((F(365, 8), 0), (F(185, 4), 0), (F(185, 4), F(21, 8)), (F(365, 8), F(21, 8)))
    ]


def test_mitred_soldiers_share_the_line_from_corner_to_corner(
    surround: Surround,
) -> None:
    mitre = ("mitre",)
    rings = met(
        surround,
        piece("soldier", on("left", "47/4", 14), cut_edges=mitre),
        piece("soldier", on("front", 14, "65/4"), cut_edges=mitre),
        piece("soldier", on("front", 69, "285/4"), cut_edges=mitre),
        piece("soldier", on("right", "285/4", "147/2"), cut_edges=mitre),
    )
    inner, far = (THICK, THICK), (F(453, 8), THICK)
    assert rings == [
        # 14 - 11 3/4 = 2 1/4 back along the return, 2 1/4 along the front.
        ((0, 0), inner, (THICK, F(9, 4)), (0, F(9, 4))),
        ((0, 0), (F(9, 4), 0), (F(9, 4), THICK), inner),
        # 57 1/4 - 5/8 = 56 5/8.
        ((55, 0), (F(229, 4), 0), far, (55, THICK)),
        ((F(229, 4), 0), (F(229, 4), F(9, 4)), (F(453, 8), F(9, 4)), far),
    ]


def test_a_leaning_jamb_is_cut_where_it_is_cut(surround: Surround) -> None:
    # It leans from 25 to 25 1/2 over a course: half way up it is at 25 1/4.
    ring = ((F(20), F(0)), (F(25), F(0)), (F(51, 2), HIGH), (F(20), HIGH))
    leaning = piece("stretcher", Outline("front", ring, cuts=(1,)))
    (cut,) = cut_level(surround, laid(leaning), course(1), THICK)
    assert cut.piece is leaning
    assert cut.outlines == (rectangle("front", F(20), F(0), F(101, 4), HIGH),)
    # 20 - 14 = 6; 25 1/4 - 14 = 11 1/4.
    assert cut.ring == ((6, 0), (F(45, 4), 0), (F(45, 4), THICK), (6, THICK))
    assert course_ends(laid(leaning), "front", course(1)) == (20, F(101, 4))


def test_a_level_cut_meets_what_stands_through_it_and_nothing_else(
    surround: Surround,
) -> None:
    low = piece("stretcher", on("front", 14, 20))
    high = piece("soldier", rectangle("front", F(30), F(0), F(32), F(8)))
    over = course(2, F(21, 8))
    assert [x.piece for x in cut_level(surround, laid(low, high), over, THICK)] == [
        high
    ]
    # Ends of a course are those of its own pieces: the soldier stands in the first.
    assert course_ends(laid(low, high), "front", over) == ()
    assert course_ends(laid(low, high), "front", course(1)) == (14, 20, 30, 32)
    assert course_ends(laid(low, high), "left", course(1)) == ()


def test_a_joint_on_the_line_takes_the_piece_to_its_left() -> None:
    # The joint is 3/8 wide, from 20 to 20 3/8; the widest allowed is 1/2.
    left, right = (
        piece("stretcher", on("front", 14, 20)),
        piece("stretcher", on("front", "163/8", 28)),
    )
    for x, taken in (
        ("20", left),
        ("323/16", left),
        ("163/8", right),
        ("21", right),
    ):
        (cut,) = cut_upright(laid(left, right), F(x), F(1, 2), THICK)
        assert cut.piece is taken
        assert cut.ring == ((0, 0), (THICK, 0), (THICK, HIGH), (0, HIGH))
    # Where nothing is within a joint of the line nothing is met.
    assert cut_upright(laid(left), F(21), F(1, 2), THICK) == ()


def test_an_upright_cut_goes_bottom_up_over_the_front_alone() -> None:
    upper = piece("stretcher", rectangle("front", F(15), F(21, 8), F(22), F(39, 8)))
    lower = piece("stretcher", on("front", 14, 20))
    beside = piece("stretcher", on("left", 14, 20))
    cuts = cut_upright(laid(upper, lower, beside), F(16), F(1, 2), THICK)
    assert [x.piece for x in cuts] == [lower, upper]
    assert [x.outlines for x in cuts] == [lower.outlines, upper.outlines]
    assert cuts[1].ring[0] == (0, F(21, 8))
    assert cuts[1].ring[2] == (THICK, F(39, 8))


@pytest.mark.parametrize("number", [1, 2])
def test_what_is_cut_of_a_laid_wall_is_as_long_as_its_pieces(
    stack_job: StackJob, number: int
) -> None:
    surround, coursing, layout = lay(library(stack_job))
    cut = coursing.courses[number - 1]
    cuts = cut_level(surround, layout, cut, THICK)
    assert [x.piece for x in cuts] == [x for x in layout.pieces if x.course == number]
    for each in cuts:
        # An L's two legs outside, less the thickness that they share; else the length.
        xs, ys = ({point[axis] for point in each.ring} for axis in (0, 1))
        wide, deep = max(xs) - min(xs), max(ys) - min(ys)
        legs = each.piece.legs or (each.piece.length, THICK)
        assert sorted((wide, deep)) == sorted(legs)
