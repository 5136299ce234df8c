"""Chains of positions: what is equal and cannot be printed alike is EQ."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from itertools import accumulate, pairwise
from random import Random

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


def test_where_a_string_is_crowded_the_commonest_gaps_are_eq_with_their_sum() -> None:
    crowded = replace(chain(BRICK, F(3, 8), BRICK, F(3, 8), F(2), F(3, 8), F(2)),
                      is_crowded=True)  # fmt: skip
    assert [n for n, x in enumerate(crowded.words()) if x == "EQ"] == [1, 3, 5]
    (equal,) = crowded.equals
    assert (equal.places, equal.total) == ((1, 3, 5), F(9, 8))


def test_gaps_that_only_look_alike_are_not_eq() -> None:
    """One of 29/64 in and one of 7/16 in are not equal, whatever is printed."""
    made = chain(BRICK, F(29, 64), BRICK, F(7, 16), BRICK)
    assert "EQ" not in made.words()


def test_two_kinds_in_one_string_have_names_of_their_own() -> None:
    """Brick of 215 mm in inches, on equal joints: neither falls on sixteenths."""
    brick, joint = F(2150, 254), F(27, 64)
    made = chain(brick, joint, brick, joint, brick, joint, brick)
    names = {equal.name: equal for equal in made.equals}
    assert set(names) == {"EQ A", "EQ B"}
    assert set(made.words()) == {"EQ A", "EQ B"}
    assert sum((x.total for x in made.equals), F(0)) == made.overall


def sums_off(made: Chain, half_a_mark: F) -> list[F]:
    """Return the sums of equal gaps that are further off than half a mark."""
    gaps = [b - a for a, b in pairwise(made.positions)]
    offs = [abs(x.total - sum(gaps[n] for n in x.places)) for x in made.equals]
    return [off for off in offs if off > half_a_mark]


def test_sums_are_rounded_by_themselves_where_the_string_closes_with_that() -> None:
    """Three of 3 25/48 in are 10 9/16 in; by positions, with what gathers, 10 5/8."""
    a, b = F(169, 48), F(329, 96)
    made = chain(a, b, a, b, a)
    assert sum(made.figures[n] for n in (0, 2, 4)) == F(85, 8)
    assert {x.places: x.total for x in made.equals} == {
        (0, 2, 4): F(169, 16),
        (1, 3): F(55, 8),
    }
    assert sum((x.total for x in made.equals), F(0)) == made.overall


def test_a_sum_that_would_be_off_by_more_than_half_a_mark_is_not_lettered() -> None:
    """Four brick of 215 mm are 33 55/64 in; by positions, on such joints, 33 13/16."""
    brick, joint = F(2150, 254), F(29, 64)
    made = chain(brick, joint, brick, joint, brick, joint, brick)
    assert sum(made.figures[::2]) == F(541, 16)
    assert [x.places for x in made.equals] == [(1, 3, 5)]
    assert made.words()[::2] == ('8 7/16"', '8 7/16"', '8 1/2"', '8 7/16"')


def test_no_sum_of_any_mix_of_gaps_is_off_by_more_than_half_a_mark() -> None:
    random, lettered = Random(29), 0
    for _ in range(500):
        kinds = [F(random.randint(20, 400), random.choice((48, 64, 96, 112)))
                 for _ in range(random.choice((2, 3)))]  # fmt: skip
        made = chain(*random.choices(kinds, k=random.randint(3, 14)))
        assert sums_off(made, F(1, 32)) == []
        in_sums = {n for x in made.equals for n in x.places}
        others = sum(x for n, x in enumerate(made.figures) if n not in in_sums)
        assert sum((x.total for x in made.equals), F(others)) == made.overall
        lettered += len(made.equals)
    assert lettered > 100
