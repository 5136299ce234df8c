"""The order of merit as a table, and a judge that sees each fault that is made."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np
import pytest

from shopdraw.masonry.bond.beside import solve_beside
from shopdraw.masonry.bonding.answer import solve_stretch
from shopdraw.masonry.bonding.legs import LegSpan, Width, fill_stretch, joints_key
from shopdraw.masonry.rows.bonds import BONDS
from shopdraw.masonry.rows.judge import RowSetting, judge_rows
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge, Perpends, joints_of
from shopdraw.masonry.rows.merit import (
    LEVELS,
    PLACES,
    WORD,
    WORDS,
    Ints,
    Merit,
    as_tuple,
    joined,
    not_over,
    pack,
)
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import CLOSER, CUT, LEG, WHOLE, Fillings
from tests.masonry.bonding.walls import INCH, leg_of, on_grid, sizes_of


def from_tuple(merit: Merit) -> int:
    """Return the 24 counts as one whole number, which compares as they do."""
    words = [0] * WORDS
    for count, (word, shift) in zip(merit, PLACES, strict=False):
        words[word] += count << shift
    number = 0
    for word in words:
        number = (number << WORD) + word
    return number


def judge_meetings(one: Perpends, other: Perpends, at: Meeting) -> Ints:
    """Judge pairs of fillings that lie on one another, first with first."""
    every = np.arange(len(one.joint))
    return MeetingJudge(one, other, at)(every, every)


def test_the_levels_are_numbered_and_each_is_said() -> None:
    assert [level.number for level in LEVELS] == list(range(1, 25))
    assert all(level.name and level.counts for level in LEVELS)
    assert len({level.name for level in LEVELS}) == 24


def test_merits_add_and_compare_as_tuples() -> None:
    rng = Random(4)
    for _ in range(200):
        one, other = (tuple(rng.choice((0, 0, 1, 3)) for _ in LEVELS) for _ in "ab")
        a, b = from_tuple(one), from_tuple(other)
        assert (a < b) == (one < other)
        assert as_tuple(a + b) == tuple(x + y for x, y in zip(one, other, strict=True))
        words = pack({n: np.array([x]) for n, x in enumerate(one, 1)}, 1)
        limit = pack({n: np.array([x]) for n, x in enumerate(other, 1)}, 1)
        assert joined(words[0]) == a
        assert not_over(words, limit)[0] == (one <= other)


def test_a_count_that_has_no_room_is_an_error() -> None:
    with pytest.raises(OverflowError, match="too many for merit 7"):
        pack({7: np.array([100])}, 1)


def table_of(lengths: str, roles: list[int], joint: str = "3/8") -> Fillings:
    """Lay lengths in inches from nought."""
    wide = on_grid(joint)
    sizes = [on_grid(x) for x in lengths.split(", ")]
    left = np.cumsum([0, *(x + wide for x in sizes[:-1])])
    return Fillings(
        left[None, :],
        (left + sizes)[None, :],
        np.array([roles], np.int8),
        np.full((1, len(sizes)), -1, np.int8),
        np.array([wide]),
        np.ones((1, len(sizes)), np.bool_),
    )


ROWS = {
    # What is wrong, the row, and the levels that must be above nothing.
    1: ("7 5/8, 7 5/8, 1", [LEG, WHOLE, CUT]),
    2: ("7 5/8, 7 5/8, 1", [LEG, WHOLE, CUT]),
    6: ("5, 7 5/8, 7 5/8", [LEG, WHOLE, WHOLE]),
    9: ("7, 7 5/8, 7 5/8", [LEG, WHOLE, WHOLE]),
    12: ("7 5/8, 7 5/8, 2 1/2", [LEG, WHOLE, CUT]),
    13: ("7 5/8, 2 1/2, 7 5/8", [LEG, CUT, WHOLE]),
    15: ("7, 7 5/8, 7 5/8", [LEG, WHOLE, WHOLE]),
    17: ("7 5/8, 7 5/8, 3", [LEG, WHOLE, CUT]),
    18: ("7 5/8, 3, 7 5/8", [LEG, CUT, WHOLE]),
    19: ("7 5/8, 7 5/8, 5", [LEG, WHOLE, CUT]),
    20: ("7 5/8, 7 5/8, 5, 7 5/8", [LEG, WHOLE, CUT, WHOLE]),
    21: ("7 5/8, 7 5/8, 3", [LEG, WHOLE, CUT]),
    22: ("7 5/8, 5, 7 5/8", [LEG, CUT, WHOLE]),
    23: ("7 5/8, 5, 7 5/8", [LEG, CUT, WHOLE]),
}


def setting(name: str, kind: int) -> RowSetting:
    sizes = sizes_of(BONDS[name])
    row = sizes.bond.rows[kind]
    leg = sizes.brick.leg(row.leg)
    return RowSetting(sizes, row, ("corner", "jamb"), (leg, leg))


def own(table: Fillings, at: RowSetting) -> tuple[int, ...]:
    return as_tuple(joined(judge_rows(table, at)[0]))


def test_a_row_of_wholes_is_without_fault() -> None:
    table = table_of("7 5/8, 7 5/8, 7 5/8", [LEG, WHOLE, WHOLE])
    assert own(table, setting("half", 0)) == (0,) * 24


@pytest.mark.parametrize("level", ROWS)
def test_each_damage_of_a_row_is_counted(level: int) -> None:
    assert own(table_of(*ROWS[level]), setting("half", 0))[level - 1] > 0


def test_joints_off_the_preferred_are_counted_in_half_steps() -> None:
    table = table_of("7 5/8, 7 5/8", [LEG, WHOLE], "1/4")
    assert own(table, setting("half", 0))[23] == 4


def test_two_headers_side_by_side_break_flemish_but_not_through_order() -> None:
    right = table_of("7 5/8, 3 5/8, 7 5/8", [LEG, WHOLE, WHOLE])
    wrong = table_of("7 5/8, 3 5/8, 3 5/8", [LEG, WHOLE, WHOLE])
    at = setting("Flemish", 0)
    # Twice for the pair, and double in a leg.
    assert (own(right, at)[13], own(wrong, at)[13]) == (0, 4)


def test_a_closer_that_is_not_its_length_is_a_cut() -> None:
    at = setting("Flemish", 1)
    right = table_of("3 5/8, 1 5/8, 7 5/8", [LEG, CLOSER, WHOLE])
    wrong = table_of("3 5/8, 1 11/16, 7 5/8", [LEG, CLOSER, WHOLE])
    assert own(right, at)[:23] == (0,) * 23
    assert [n for n, x in enumerate(own(wrong, at), 1) if x] == [22, 23]


def test_a_lean_lessens_the_piece_that_meets_it() -> None:
    at = setting("half", 0)
    limits = replace(at.sizes.limits, at_jamb=on_grid("1"))
    leaning = replace(at, sizes=replace(at.sizes, limits=limits))
    table = table_of("7 5/8, 7 5/8, 2 1/2", [LEG, WHOLE, CUT])
    assert (own(table, at)[0], own(table, leaning)[0]) == (0, 1)


def meeting(
    one: Fillings, other: Fillings, name: str = "half", end: str = "jamb"
) -> list:
    first, second = setting(name, 0), setting(name, 1)
    ends = ("corner", end)
    at = Meeting(first.sizes, (0, 1), on_grid("24"))
    words = judge_meetings(
        joints_of(one, replace(first, ends=ends)),
        joints_of(other, replace(second, ends=ends)),
        at,
    )
    return list(as_tuple(joined(words[0])))


def test_each_damage_of_a_meeting_is_counted() -> None:
    long = table_of("7 5/8, 7 5/8, 3 5/8", [LEG, WHOLE, CUT])
    short = table_of("3 5/8, 7 5/8, 7 5/8", [LEG, WHOLE, WHOLE])
    assert not any(meeting(long, short))
    near = table_of("6 5/8, 7 5/8, 4 5/8", [LEG, WHOLE, CUT])
    merit = meeting(long, near)
    # Two laps of 5/8, 1 3/8 under the least: 22 steps each; four joints are off.
    assert (merit[2], merit[3], merit[15]) == (2, 44, 4)
    wide = table_of("3 5/8, 7 5/8, 7 3/8", [LEG, WHOLE, CUT], "1/2")
    assert meeting(long, wide)[10] == 1
    one, other = table_of("19 5/8", [CUT]), table_of("19 5/8", [CUT])
    assert meeting(one, other)[4] == 1


def test_at_a_hidden_wall_half_the_least_lap_will_do_but_is_told() -> None:
    long = table_of("7 5/8, 7 5/8, 3 5/8", [LEG, WHOLE, CUT])
    near = table_of("3 5/8, 10 1/4, 5", [LEG, WHOLE, CUT])
    seen, hidden = meeting(long, near), meeting(long, near, end="wall")
    assert (seen[2], hidden[2], hidden[9]) == (1, 0, 1)


def test_a_header_with_a_joint_over_it_breaks_the_pattern() -> None:
    one = table_of("7 5/8, 3 5/8, 7 5/8", [LEG, WHOLE, WHOLE])
    over = table_of("3 5/8, 5 5/8, 7 5/8", [LEG, CUT, WHOLE])
    clear = table_of("3 5/8, 9 5/8, 5", [LEG, CUT, CUT])
    assert meeting(one, over, "Flemish")[13] == 1
    assert meeting(one, clear, "Flemish")[13] == 0


@pytest.mark.parametrize("seed", range(12))
def test_the_search_agrees_with_trying_every_pair(seed: int) -> None:
    rng = Random(seed)
    name = rng.choice(["half", "third", "quarter", "English", "Flemish"])
    bond = BONDS[name]
    sizes: Sizes = sizes_of(bond, step="1/8")
    near = rng.choice(["corner", "free"])
    far = rng.choice(["jamb", "wall"])
    stretch = LegSpan(0, rng.randrange(5 * 16, 11 * 16) * INCH // 16, near, far, (0, 1))
    rows = {k: fill_stretch(sizes, stretch, k, Width()) for k in (0, 1)}
    at = Meeting(sizes, (0, 1), stretch.width)
    found = []
    for a in range(len(rows[0].table)):
        every = np.arange(len(rows[1].table))
        one = rows[0].take(np.full(len(every), a))
        words = judge_meetings(one.joints, rows[1].joints, at)
        words += one.words + rows[1].words
        for b, line in enumerate(words):
            key = joints_key(rows[0].table, a), joints_key(rows[1].table, b)
            sawn = int(rows[0].sawn[a] + rows[1].sawn[b])
            found.append((joined(line) + sawn, key))
        if len(found) > 6000:
            break
    solved = solve_stretch(sizes, stretch)
    if not found:
        assert solved.merit[8]
        return
    if any(solved.merit[:13]) or len(found) > 6000:
        assert from_tuple(solved.merit) <= min(found)[0]
        return
    laid = solved.zones["leg"]
    least, key = min(found)
    assert solved.merit == as_tuple(least)
    assert (laid[0].joints, laid[1].joints) == key


def test_a_leg_beside_soldiers_stops_short_and_keeps_its_perpends() -> None:
    bond = BONDS["half"]
    sizes = sizes_of(bond)
    leg = solve_stretch(sizes, leg_of("23 5/8", "corner", bond)).zones["leg"]
    stretch = leg_of("19 5/8", "corner", bond)
    beside = solve_beside(sizes, stretch, leg, None, None).zones["beside"]
    for kind, row in beside.items():
        assert row.pieces[-1][1] == on_grid("19 5/8")
        kept = [x for x in leg[kind].joints[:-1] if x[1] < row.pieces[-1][1]]
        assert set(kept) <= set(row.joints)
