"""What the corner's plan says of a unit's legs: as bought, and where it is trimmed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from shopdraw.masonry.wall.layout import Piece, rectangle
from shopdraw.views.wall.corner import told_of_legs
from tests.demos import solution_of


def unit() -> Piece:
    """Return a unit with its long leg on the front, as it was bought."""
    pieces = solution_of("library-hearth").layout.pieces
    return next(x for x in pieces if x.kind == "corner unit" and x.place == "front")


def trimmed(piece: Piece, long: Fraction) -> Piece:
    """Trim the leg on the front to a length."""
    front, side = piece.outlines
    if side.left >= front.right:
        left, right = front.right - long, front.right
    else:
        left, right = front.left, front.left + long
    short = rectangle("front", left, front.bottom, right, front.top)
    legs = (long, piece.legs[1])
    edges = ("front leg",)
    return replace(piece, outlines=(short, side), legs=legs, cut_edges=edges)


def test_a_whole_unit_has_its_long_leg_where_it_is() -> None:
    assert list(told_of_legs(unit())) == ["LONG LEG ON THE FRONT"]


def test_a_leg_trimmed_shorter_than_the_other_is_still_the_one_bought_long() -> None:
    short = trimmed(unit(), Fraction(3))
    assert short.legs[0] < short.legs[1]
    assert list(told_of_legs(short)) == [
        "LONG LEG ON THE FRONT",
        "TRIMMED ON THE FRONT",
    ]


def test_both_legs_trimmed_are_both_named() -> None:
    both = replace(unit(), cut_edges=("front leg", f"{unit().outlines[1].face} leg"))
    assert list(told_of_legs(both))[1] == "BOTH LEGS TRIMMED"
