"""Judge rows that lie on one another: a count for each level of merit.

In:  `Perpends`, the joints of fillings.   Out: merits as words (see `merit`).
Frame: grid lengths.

Many fillings share a joint. Every two joints are compared once; what two fillings cost
is then looked up joint by joint.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cached_property
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from shopdraw.masonry.rows.judge import RowSetting, ends_of, reads, up
from shopdraw.masonry.rows.merit import PLACES, Flags, Ints, pack
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import CUT, NONE, WHOLE, Fillings

FAR = 1 << 60
"""Where a joint stands that is not there."""
Codes: TypeAlias = NDArray[np.int8]
TOO_NEAR, RIGHT, TOO_FAR, NO_JOINT = range(4)
"""How a joint stands to one of the next course; the least of a row is its nearest's."""


@dataclass(frozen=True)
class Perpends:
    """The joints of fillings, for meetings; arrays of shape (fillings, joints).

    Attributes:
        left, right: each joint.
        times: how often it counts; 0 where there is none, or for one whose mirror
            image is counted.
        is_there: whether there is one.
        is_kept: whether it stands in the leg's row, for a row over the opening.
        is_last: whether it is the last before a hidden wall.
        header_left, header_right, header_times, header_kept: the same for headers
            between two joints, where a joint of the next course may not stand over
            them; none are listed where it may.
        joint: the head joint, of shape (fillings,).
    """

    left: Ints
    right: Ints
    times: Ints
    is_there: Flags
    is_kept: Flags
    is_last: Flags
    header_left: Ints
    header_right: Ints
    header_times: Ints
    header_kept: Flags
    joint: Ints

    def take(self, which: Ints | Flags) -> Perpends:
        """Return those of some fillings."""
        return Perpends(*(getattr(self, x.name)[which] for x in fields(self)))


def joints_of(table: Fillings, at: RowSetting, about: int | None = None) -> Perpends:
    """Return the joints of every filling, and its headers between two joints.

    Args:
        table: the fillings.
        at: where they stand.
        about: twice the line that the fillings are mirrored about, if they are: then
            only the left half counts, twice, and what stands on the line once.
    """
    is_there = table.role[:, 1:] != NONE
    columns = np.arange(is_there.shape[1])[None, :]
    is_last = np.zeros_like(is_there)
    if at.ends[1] == "wall":
        is_last |= is_there & (columns == table.pieces[:, None] - 2)
    left = np.where(is_there, table.right[:, :-1], FAR)
    right = np.where(is_there, table.left[:, 1:], -FAR)
    header = np.zeros((len(table), 0), np.bool_)
    if "S" in at.row.pattern and at.row.has_headers:
        first, ending = ends_of(table)
        header = reads(table.right - table.left, at.sizes)[1] & ~first & ~ending
        header &= (table.role == WHOLE) | (table.role == CUT)
    wide = header.shape[1]
    header_left = np.where(header, table.left[:, :wide], FAR)
    header_right = np.where(header, table.right[:, :wide], -FAR)
    return Perpends(
        left, right, _times(left, right, is_there, about), is_there,
        np.zeros_like(is_there), is_last,
        header_left, header_right, _times(header_left, header_right, header, about),
        header & ~table.counted[:, :wide], table.joint,
    )  # fmt: skip


def _times(left: Ints, right: Ints, there: Flags, about: int | None) -> Ints:
    if about is None:
        return there.astype(np.int64)
    middle = left + right - about
    return there * (2 * (middle < 0) + (middle == 0)).astype(np.int64)


@dataclass(frozen=True)
class Meeting:
    """Two kinds that lie on one another, for the judge.

    Attributes:
        sizes: the bond and the brick.
        kinds: which two.
        width: how wide the run is that they meet in.
        at_head: whether this is over on leg: then only the laps count.
        skips: whether what stands in the leg's row of both is judged there, and not
            here.
    """

    sizes: Sizes
    kinds: tuple[int, int]
    width: int
    at_head: bool = False
    skips: bool = False


def judge_meetings(one: Perpends, other: Perpends, at: Meeting) -> Ints:
    """Judge pairs of fillings that lie on one another.

    Args:
        one: the joints of each pair's first.
        other: those of its second.
        at: the two kinds.

    Returns:
        Words of shape (pairs, WORDS).
    """
    every = np.arange(len(one.joint))
    judge = MeetingJudge(one, other, at)
    return judge.laps(every, every) + judge.the_rest(every, every)


@dataclass(frozen=True)
class _Side:
    """The joints of one kind's fillings, by number.

    Attributes:
        left, right, is_last: each different joint; the last stands for none.
        every: the numbers of each filling's joints.
        new, times: those that are judged here, and how often.
        kept: those that are judged with the leg.
        is_there: whether there is any.
    """

    left: Ints
    right: Ints
    is_last: Flags
    every: Ints
    new: Ints
    times: Ints
    kept: Ints
    is_there: Flags


def _packed(numbers: Ints, which: Flags, none: int) -> tuple[Ints, Ints]:
    """Return the numbers of some columns, moved to the left, and where they were."""
    columns = int(which.sum(axis=1).max(initial=0))
    at = np.argsort(~which, axis=1, kind="stable")[:, :columns]
    there = np.take_along_axis(which, at, 1)
    return np.where(there, np.take_along_axis(numbers, at, 1), none), at


def _side(some: Perpends, at: Meeting) -> _Side:
    there = some.is_there
    wide, width = np.unique(some.joint, return_inverse=True)
    key = (some.left * len(wide) + width.reshape(-1, 1)) * 2 + some.is_last
    numbers = np.zeros(there.shape, np.int64)
    _, first, inverse = np.unique(key[there], return_index=True, return_inverse=True)
    numbers[there] = inverse.reshape(-1)
    none = len(first)
    left, right = some.left[there][first], some.right[there][first]
    is_last = some.is_last[there][first] & (not at.at_head)
    kept = there & some.is_kept & at.skips
    new, columns = _packed(numbers, there & ~kept & (some.times > 0), none)
    return _Side(
        np.append(left, FAR), np.append(right, -FAR), np.append(is_last, False),
        _packed(numbers, there, none)[0], new,
        np.take_along_axis(some.times, columns, 1), _packed(numbers, kept, none)[0],
        np.asarray(there.any(axis=1)),
    )  # fmt: skip


class MeetingJudge:
    """Judges pairs of two kinds' fillings where they lie on one another."""

    def __init__(self, one: Perpends, other: Perpends, at: Meeting) -> None:
        self.at, self.perpends = at, (one, other)
        self.has_laps = bool(at.sizes.own_lap(*at.kinds))
        if self.has_laps:
            self.sides = _side(one, at), _side(other, at)

    @cached_property
    def _near(self) -> Ints:
        """How near every two joints are, of shape (joints, joints)."""
        one, other = self.sides
        near = other.left[None, :] - one.right[:, None]
        np.maximum(near, one.left[:, None] - other.right[None, :], out=near)
        return np.maximum(near, 0, out=near)

    @cached_property
    def _lap_words(self) -> tuple[Ints, Ints | None]:
        """What two joints add: merits 3 and 4 in the first word; and merit 10."""
        at, near = self.at, self._near
        least, step = at.sizes.least_lap(*at.kinds), at.sizes.joints.step
        one, other = self.sides
        at_wall = one.is_last[:, None] | other.is_last[None, :]
        # Twice the lengths, so that half the least lap is whole.
        bound = np.where(at_wall, least, 2 * least)
        steps = up(bound - np.minimum(2 * near, bound), 2 * step)
        words = ((steps > 0).astype(np.int64) << PLACES[2][1]) + (steps << PLACES[3][1])
        if not at_wall.any():
            return words, None
        excused = at_wall & (2 * near >= least) & (near < least)
        return words, excused.astype(np.int64) << PLACES[9][1]

    @cached_property
    def _codes(self) -> Codes:
        """How every two joints stand to the bond's own lap."""
        nearest, farthest = self.at.sizes.lap_range(*self.at.kinds)
        near = self._near
        codes = np.where(12 * near < nearest, TOO_NEAR, RIGHT).astype(np.int8)
        if farthest is not None:
            codes[12 * np.minimum(near, farthest) > farthest] = TOO_FAR
        codes[-1, :] = NO_JOINT
        codes[:, -1] = NO_JOINT
        return codes

    def laps(self, a: Ints, b: Ints) -> Ints:
        """Judge the laps of pairs of fillings: merits 3, 4 and 10."""
        words = pack({}, len(a))
        if self.has_laps and len(a):
            for word, table in enumerate(self._lap_words):
                if table is not None:
                    words[:, word] = self._sum(table, a, b)
        return words

    def _sum(self, table: Ints, a: Ints, b: Ints) -> Ints:
        one, other = self.sides
        total = np.zeros(len(a), np.int64)
        every = other.every[b]
        for column, times in zip(one.new.T, one.times.T, strict=True):
            added = table[column[a][:, None], every].sum(axis=1)
            total += times[a] * added
        if one.kept.shape[1]:
            kept = one.kept[a]
            for column, times in zip(other.new.T, other.times.T, strict=True):
                total += times[b] * table[kept, column[b][:, None]].sum(axis=1)
        return total

    def the_rest(self, a: Ints, b: Ints) -> Ints:
        """Judge all but the laps of pairs of fillings; nothing at the head."""
        if self.at.at_head or not self.has_laps or not len(a):
            return pack({}, len(a))
        one, other = self.perpends
        sides = self.sides
        bare = ~sides[0].is_there[a] & ~sides[1].is_there[b]
        is_wide = 4 * self.at.width > 3 * self.at.sizes.brick.unit
        both = sides[0].is_there[a] & sides[1].is_there[b]
        uneven = up(np.abs(one.joint[a] - other.joint[b]), self.at.sizes.joints.step)
        levels = {
            5: (bare & is_wide).astype(np.int64),
            11: np.where(both, np.maximum(uneven - 1, 0), 0),
            14: _under_joints(one, other, a, b, self.at)
            + _under_joints(other, one, b, a, self.at),
            16: _off_the_lap(self._codes, sides, a, b)
            + _off_the_lap(self._codes.T, sides[::-1], b, a),
        }
        return pack(levels, len(a))


def _off_the_lap(codes: Codes, sides: tuple[_Side, ...], a: Ints, b: Ints) -> Ints:
    """Count the joints of one whose nearest of the other is too near, or too far."""
    one, other = sides
    found = np.zeros(len(a), np.int64)
    every = other.every[b]
    if not every.shape[1]:
        return found
    for column, times in zip(one.new.T, one.times.T, strict=True):
        nearest = codes[column[a][:, None], every].min(axis=1)
        found += times[a] * ((nearest == TOO_NEAR) | (nearest == TOO_FAR))
    return found


def _under_joints(
    one: Perpends, other: Perpends, a: Ints, b: Ints, at: Meeting
) -> Ints:
    """Count the headers of one that have a joint of the other over them."""
    found = np.zeros(len(a), np.int64)
    times = one.header_times * ~(one.header_kept & at.skips)
    columns = np.nonzero(times.any(axis=0))[0]
    if not len(columns):
        return found
    left, right = other.left[b], other.right[b]
    for column in columns:
        over = left < one.header_right[a, column][:, None]
        over &= right > one.header_left[a, column][:, None]
        found += times[a, column] * over.any(axis=1)
    return found
