"""Room in the order of merit: every count of a face within the job's limits fits."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from shopdraw.job.sense_sizes import LEAST, MOST
from shopdraw.masonry.rows.bonds import BONDS, CourseKind
from shopdraw.masonry.rows.judge import End, RowSetting, judge_rows
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge, joints_of
from shopdraw.masonry.rows.merit import (
    ENDLESS,
    LEVELS,
    MOST_TERMS,
    Ints,
    Merit,
    as_tuple,
    joined,
    pack,
)
from shopdraw.masonry.rows.sizes import BondLimits, Brick, Joints, Sizes
from shopdraw.masonry.rows.tables import CUT, LEG, WHOLE, Fillings

INCH = 64
"""The grid: the least joint step that a job may have is one of it."""
WIDEST, LONGEST = MOST["face.width"] * INCH, MOST["brick.length"] * INCH
SHORTEST = int(LEAST["brick.length"] * INCH)
THINNEST = int(LEAST["joints.head.preferred"] * INCH)
MOST_CUTS = 10
"""No form of a row has as many cuts: five on the centre line, and two at each side."""


def sizes_of(name: str, unit: int, header: int, joint: int = THINNEST) -> Sizes:
    return Sizes(
        BONDS[name],
        Brick(unit, header, unit, header),
        Joints(joint, THINNEST, MOST["joints.head.most"] * INCH, 1),
        BondLimits(unit, unit, INCH // 4),
    )


def row(pieces: list[tuple[int, int]], joint: int) -> Fillings:
    """Lay pieces, (length, role), side by side."""
    lengths = np.array([length for length, _ in pieces], np.int64)
    right = np.cumsum(lengths + joint) - joint
    return Fillings(
        (right - lengths)[None, :],
        right[None, :],
        np.array([[role for _, role in pieces]], np.int8),
        np.zeros((1, len(pieces)), np.int8),
        np.array([joint], np.int64),
        np.ones((1, len(pieces)), np.bool_),
    )


def counts(words: Ints, times: int = 1) -> Merit:
    return as_tuple(joined(times * words[0]))


def judged(table: Fillings, sizes: Sizes, kind: CourseKind, end: End) -> Ints:
    legs = sizes.brick.long, sizes.brick.long
    return judge_rows(table, RowSetting(sizes, kind, (end, end), legs))


def test_a_level_is_as_fine_as_the_finest_step_that_a_job_may_have() -> None:
    assert LEAST["joints.step"] * INCH == 1


def test_the_longest_legs_may_be_trimmed_to_next_to_nothing() -> None:
    sizes = sizes_of("stack", LONGEST, SHORTEST)
    table = row([(1, LEG), (1, LEG)], THINNEST)
    words = judged(table, sizes, sizes.bond.rows[0], "corner")
    # Twice a step is one; a part of it counts as one.
    trim = -(-(LONGEST - 1) // 2)
    assert counts(words)[14] == 2 * trim
    assert counts(words, MOST_TERMS)[14] == MOST_TERMS * 2 * trim


def test_cuts_may_be_short_by_the_longest_brick() -> None:
    sizes = sizes_of("English", LONGEST, LONGEST)
    table = row([(1, CUT)] * MOST_CUTS, THINNEST)
    words = judged(table, sizes, sizes.bond.rows[1], "free")
    found = counts(words, 12)
    assert found[:2] == (12 * MOST_CUTS, 12 * MOST_CUTS * (LONGEST - 1))
    assert found[20] == 12 * MOST_CUTS * (LONGEST - 1)
    assert (12 * words)[0, 0] < ENDLESS[0]


def test_every_piece_of_the_widest_row_may_read_wrong() -> None:
    sizes = sizes_of("English", SHORTEST, SHORTEST)
    many = WIDEST // (SHORTEST + THINNEST)
    table = row([(SHORTEST, WHOLE)] * many, THINNEST)
    words = judged(table, sizes, replace(sizes.bond.rows[1]), "free")
    # A header as long as the unit reads as a stretcher; double in a leg.
    assert counts(words, 12)[13] == 12 * 2 * many


@pytest.mark.parametrize("unit", [SHORTEST, 4 * INCH, LONGEST])
def test_every_lap_of_the_widest_rows_may_be_missing(unit: int) -> None:
    sizes = sizes_of("half", unit, SHORTEST)
    many = WIDEST // (unit + THINNEST)
    table = row([(unit, WHOLE)] * many, THINNEST)
    at = RowSetting(sizes, sizes.bond.rows[0], ("free", "free"), (0, 0))
    joints = joints_of(table, at)
    zero = np.zeros(1, np.int64)
    meeting = Meeting(sizes, (0, 1), WIDEST)
    words = MeetingJudge(joints, joints, meeting)(zero, zero)
    # Each joint stands on one of the other course, in four such meetings.
    found, least = counts(words, 4), sizes.least_lap(0, 1)
    assert found[2:4] == (4 * (many - 1), 4 * (many - 1) * least)
    assert found[15] == 4 * 2 * (many - 1)
    assert (4 * words)[0, 0] < ENDLESS[0]


def test_joints_may_differ_by_the_whole_range() -> None:
    sizes = sizes_of("half", 4 * INCH, 2 * INCH)
    wide = sizes.joints.most
    tables = [row([(4 * INCH, WHOLE)] * 9, joint) for joint in (THINNEST, wide)]
    at = RowSetting(sizes, sizes.bond.rows[0], ("free", "free"), (0, 0))
    meeting = Meeting(sizes, (0, 1), WIDEST, times=2)
    zero = np.zeros(1, np.int64)
    judge = MeetingJudge(*(joints_of(x, at) for x in tables), meeting)
    assert counts(judge(zero, zero), 4)[10] == 8 * (wide - THINNEST - 1)
    words = judged(tables[1], sizes, sizes.bond.rows[0], "free")
    assert counts(words, 12)[23] == 12 * 2 * (wide - THINNEST)


def test_every_level_adds_up_to_the_most_terms_without_running_over() -> None:
    for level in LEVELS:
        room = (1 << level.bits) // MOST_TERMS
        words = pack({level.number: np.array([room - 1])}, 1)
        found = counts(words, MOST_TERMS)
        assert found[level.number - 1] == MOST_TERMS * (room - 1)
        assert sum(found) == MOST_TERMS * (room - 1)
        with pytest.raises(OverflowError, match=f"too many for merit {level.number}"):
            pack({level.number: np.array([room])}, 1)
