"""Chains of positions: what is equal and cannot be printed alike is EQ."""

from __future__ import annotations

from fractions import Fraction as F
from itertools import accumulate

from shopdraw.drawing.chains import Chain


def chain(*gaps: F, is_summed: bool = True) -> Chain:
    return Chain(tuple(accumulate(gaps, initial=F(0))), "x", "in", is_summed=is_summed)


BRICK, JOINT = F(61, 8), F(29, 64)


def test_equal_joints_that_rounding_prints_unlike_are_eq_with_their_sum() -> None:
    """Three of 29/64 in are 1 23/64 in; by positions 7/16, 1/2 and 7/16 in."""
    made = chain(BRICK, JOINT, BRICK, JOINT, BRICK, JOINT, BRICK)
    assert made.words() == tuple("EQ" if n % 2 else '7 5/8"' for n in range(7))
    (equal,) = made.equals
    assert (equal.name, equal.places, equal.total) == ("EQ", (1, 3, 5), F(11, 8))
    assert sum((made.figures[n] for n in (0, 2, 4, 6)), equal.total) == made.overall


def test_where_no_sum_is_lettered_they_have_their_figures() -> None:
    made = chain(BRICK, JOINT, BRICK, JOINT, BRICK, JOINT, BRICK, is_summed=False)
    assert made.words()[1::2] == ('7/16"', '1/2"', '7/16"')


def test_equal_gaps_that_are_printed_alike_keep_their_figure() -> None:
    made = chain(BRICK, F(3, 8), BRICK, F(3, 8), BRICK)
    assert made.words() == ('7 5/8"', '3/8"', '7 5/8"', '3/8"', '7 5/8"')
    assert made.equals == ()


def test_gaps_that_only_look_alike_are_not_eq() -> None:
    """One of 29/64 in and one of 7/16 in are not equal, whatever is printed."""
    made = chain(BRICK, F(29, 64), BRICK, F(7, 16), BRICK)
    assert "EQ" not in made.words()


def test_two_kinds_in_one_string_have_names_of_their_own() -> None:
    """Brick of 215 mm in inches, on equal joints: neither falls on sixteenths."""
    brick, joint = F(2150, 254), F(29, 64)
    made = chain(brick, joint, brick, joint, brick, joint, brick)
    names = {equal.name: equal for equal in made.equals}
    assert set(names) == {"EQ A", "EQ B"}
    assert set(made.words()) == {"EQ A", "EQ B"}
    assert sum((x.total for x in made.equals), F(0)) == made.overall
