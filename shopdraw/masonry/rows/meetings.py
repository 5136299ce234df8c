"""Judge rows that lie on one another: a count for each level of merit.

In:  `Perpends`, the joints of fillings.   Out: merits as words (see `merit`).
Frame: grid lengths.

Many fillings share a joint. Every two joints are compared once; what two fillings cost
is then looked up joint by joint.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cached_property

import numpy as np

from shopdraw.masonry.rows.judge import RowSetting, ends_of, reads, up
from shopdraw.masonry.rows.merit import PLACES, Flags, Ints, pack
from shopdraw.masonry.rows.overlaps import (
    NearJoints,
    added_up,
    headers_under,
    lap_words,
    least_of_lines,
)
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import CUT, NONE, WHOLE, Fillings

FAR = 1 << 60
"""Where a joint stands that is not there."""
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
        joint: the head joint, of shape (fillings,); below 0 where one piece butts.
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
    joint = table.joint
    if at.corner_joint:  # By it the row butts another face: one more of its joints.
        joint = np.where(table.pieces > 1, joint, -1)
        end = np.take_along_axis(table.right, table.pieces[:, None] - 1, axis=1)
        left = np.hstack([left, end])
        right = np.hstack([right, end + at.corner_joint])
        more = np.ones_like(end, np.bool_)
        is_there = np.hstack([is_there, more])
        is_last = np.hstack([is_last, ~more])
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
        header & ~table.counted[:, :wide], joint,
    )  # fmt: skip


def _times(left: Ints, right: Ints, there: Flags, about: int | None) -> Ints:
    if about is None:
        return there.astype(np.int64)
    middle = left + right - about
    times: Ints = there * (2 * (middle < 0) + (middle == 0)).astype(np.int64)
    return times


@dataclass(frozen=True)
class Meeting:
    """Two kinds that lie on one another, for the judge.

    Attributes:
        sizes: the bond and the brick.
        kinds: which two.
        width: how wide the run is that they meet in.
        at_head: whether this is over on leg: then only the laps count.
        times: how often it counts.
        skips: whether what stands in the leg's row of both is judged there, and not
            here.
        is_part: whether only some of the joints are known: then what comes back is the
            least that it can be.
    """

    sizes: Sizes
    kinds: tuple[int, int]
    width: int
    at_head: bool = False
    times: int = 1
    skips: bool = False
    is_part: bool = False

    def lap_words(self, lap: Ints, is_at_wall: Flags | None = None) -> Ints:
        """Return what laps here add to merits 3 and 4, in the first word."""
        least = self.sizes.least_lap(*self.kinds)
        return lap_words(lap, least, self.sizes.joints.step, is_at_wall)


@dataclass(frozen=True)
class _Side:
    """The joints of one kind's fillings, by number.

    Attributes:
        left, right, is_last: each different joint; the last stands for none.
        times: how often each counts.
        every, kept: the numbers of each filling's joints, and of those that are judged
            with the leg.
        new: of each filling's other joints, which of `looked_at`.
        looked_at: the numbers of the joints that are judged here.
    """

    left: Ints
    right: Ints
    is_last: Flags
    times: Ints
    every: Ints
    kept: Ints
    new: Ints
    looked_at: Ints


def _packed(numbers: Ints, which: Flags, none: int) -> Ints:
    """Return the numbers of some columns, moved to the left."""
    many = which.sum(axis=1)
    columns = np.arange(int(many.max(initial=0)))
    packed = np.full((len(which), len(columns)), none)
    packed[columns < many[:, None]] = numbers[which]
    return packed


def _side(some: Perpends, at: Meeting) -> _Side:
    there = some.is_there
    wide, width = np.unique(some.joint, return_inverse=True)
    key = (some.left * len(wide) + width.reshape(-1, 1)) * 2 + some.is_last
    numbers = np.zeros(there.shape, np.int64)
    _, first, inverse = np.unique(key[there], return_index=True, return_inverse=True)
    numbers[there] = inverse.reshape(-1)
    none = len(first)

    def once(what: Ints, nothing: int) -> Ints:
        return np.append(what[there][first], nothing)

    is_last = some.is_last.astype(np.int64) * (not at.at_head)

    kept = there & some.is_kept & at.skips
    new = _packed(numbers, there & ~kept & (some.times > 0), none)
    is_there = np.bincount(new.reshape(-1), minlength=none + 1) > 0
    place = np.cumsum(is_there)[new] - 1
    return _Side(
        once(some.left, FAR), once(some.right, -FAR),
        once(is_last, 0) > 0, once(some.times, 0),
        _packed(numbers, there, none), _packed(numbers, kept, none),
        place, np.flatnonzero(is_there),
    )  # fmt: skip


def _has_joints(some: Perpends) -> Flags:
    return np.asarray(some.is_there.any(axis=1))


OFF = 40
"""Where, above the laps in a first word, the joints off the bond's lap are counted."""


class MeetingJudge:
    """Judges pairs of two kinds' fillings where they lie on one another."""

    def __init__(self, one: Perpends, other: Perpends, at: Meeting) -> None:
        self.at, self.perpends = at, (one, other)
        self.has_laps = bool(at.sizes.own_lap(*at.kinds))

    def take(self, a: Ints, b: Ints) -> MeetingJudge:
        """Return the judge of some of the fillings."""
        one, other = self.perpends
        return MeetingJudge(one.take(a), other.take(b), self.at)

    def __call__(self, a: Ints, b: Ints) -> Ints:
        """Judge pairs of fillings; at the head only their laps.

        Args:
            a: which filling is each pair's first.
            b: which is its second.

        Returns:
            Words of shape (pairs, WORDS).
        """
        words = pack({}, len(a))
        if not self.has_laps or not len(a):
            return words
        found = self._looked_up(self._tables, a, b)
        words[:, 0] = found & ((1 << OFF) - 1)
        if self._at_wall is not None:
            words[:, 1] = self._looked_up(self._at_wall, a, b)
        if self.at.at_head:
            return self.at.times * words
        one, other = self.perpends
        there = _has_joints(one)[a], _has_joints(other)[b]
        is_wide = 4 * self.at.width > 3 * self.at.sizes.brick.unit
        is_wide = is_wide and not self.at.is_part
        mine, theirs = one.joint[a], other.joint[b]
        uneven = up(np.abs(mine - theirs), self.at.sizes.joints.step) - 1
        uneven *= there[0] & there[1] & (mine >= 0) & (theirs >= 0)
        levels = {
            5: (~there[0] & ~there[1] & is_wide & (not self.at.is_part)).astype(
                np.int64
            ),
            11: np.maximum(uneven, 0),
            14: self._under_joints(0, a, b) + self._under_joints(1, b, a),
            16: found >> OFF,
        }
        return self.at.times * (words + pack(levels, len(a)))

    def first_words(self, begin: int, end: int) -> Ints:
        """Return the first word of what pairs cost, their laps.

        Args:
            begin: the first of the first kind's fillings.
            end: the one after the last.

        Returns:
            Of shape (end - begin, all of the other kind's fillings).
        """
        one, other = self._sides
        total = np.zeros((end - begin, len(other.every)), np.int64)
        if not self.has_laps or not total.size:
            return total
        of_one, of_other = self._tables
        for column in one.new[begin:end].T:
            total += of_one.T[column]
        for column in other.new.T:
            total += of_other[begin:end].take(column, axis=1)
        return self.at.times * (total & ((1 << OFF) - 1))

    def _under_joints(self, which: int, mine: Ints, theirs: Ints) -> Ints:
        """Count the headers of one kind that have a joint of the other over them."""
        numbers, times, over = self._headers[which]
        found = np.zeros(len(mine), np.int64)
        flat, wide = over.reshape(-1), over.shape[1]
        for column in range(numbers.shape[1]):
            number = numbers[mine, column]
            found += times[mine, column] * flat.take(theirs * wide + number)
        return found

    @cached_property
    def _headers(self) -> tuple[tuple[Ints, Ints, Flags], tuple[Ints, Ints, Flags]]:
        """Each kind's headers by number, how often each counts, and what lies over."""
        found = []
        for mine, theirs in zip(self.perpends, self._sides[::-1], strict=True):
            times = mine.header_times * ~(mine.header_kept & self.at.skips)
            headers = mine.header_left, mine.header_right, times
            joints = theirs.left, theirs.right, theirs.every
            found.append(headers_under(headers, joints))
        return found[0], found[1]

    @cached_property
    def _sides(self) -> tuple[_Side, _Side]:
        one, other = self.perpends
        return _side(one, self.at), _side(other, self.at)

    def _looked_up(self, tables: tuple[Ints, Ints], a: Ints, b: Ints) -> Ints:
        """Add up what the joints of one cost against the other's, and the reverse."""
        total = np.zeros(len(a), np.int64)
        for side, table, mine, theirs in zip(
            self._sides, tables, (a, b), (b, a), strict=True
        ):
            flat, wide = table.reshape(-1), table.shape[1]
            for column in side.new.T:
                total += flat.take(theirs * wide + column[mine])
        return total

    @cached_property
    def _tables(self) -> tuple[Ints, Ints]:
        """What each filling of one costs each joint of the other: laps, off."""
        one, other = self._sides
        found = []
        for mine, theirs, columns in (
            (one, other, other.every), (other, one, one.kept)
        ):  # fmt: skip
            near = self._near(mine, theirs)
            table = added_up(self._laps(near), columns)
            if not self.at.at_head:
                table += self._off(mine, theirs, near) << OFF
            found.append(table)
        return found[0], found[1]

    @cached_property
    def _at_wall(self) -> tuple[Ints, Ints] | None:
        """The same, of laps that a hidden wall excuses: merit 10."""
        one, other = self._sides
        if not one.is_last.any() and not other.is_last.any():
            return None
        least = self.at.sizes.least_lap(*self.at.kinds)
        found = []
        for mine, theirs, columns in (
            (one, other, other.every), (other, one, one.kept)
        ):  # fmt: skip
            near = self._near(mine, theirs)
            some = near.is_at_wall & (2 * near.lap >= least) & (near.lap < least)
            words = near.times * (some.astype(np.int64) << PLACES[9][1])
            found.append(added_up(near.spread(words), columns))
        return found[0], found[1]

    def _near(self, mine: _Side, theirs: _Side) -> NearJoints:
        """Return the joints of two sides that are near enough to be judged."""
        sizes, kinds = self.at.sizes, self.at.kinds
        least, (nearest, farthest) = sizes.least_lap(*kinds), sizes.lap_range(*kinds)
        reach = max(12 * least, nearest, farthest or 0) // 12 + 1
        left, right = mine.left[mine.looked_at], mine.right[mine.looked_at]
        wide = int((theirs.right - theirs.left)[:-1].max(initial=0))
        # The last stands for no joint, and is far from all.
        begin = np.searchsorted(theirs.left, np.minimum(left, FAR // 2) - reach - wide)
        end = np.searchsorted(
            theirs.left, np.maximum(right, -FAR // 2) + reach, "right"
        )
        count = np.maximum(end - begin, 0)
        one = np.repeat(np.arange(len(count)), count)
        other = np.arange(len(one)) - np.repeat(np.cumsum(count) - count - begin, count)
        lap = np.maximum(
            theirs.left[other] - right[one], left[one] - theirs.right[other]
        )
        number = mine.looked_at[one]
        return NearJoints(
            one, other, np.clip(lap, 0, FAR // 16), mine.times[number],
            mine.is_last[number] | theirs.is_last[other],
            (len(count), len(theirs.left)),
        )  # fmt: skip

    def _laps(self, near: NearJoints) -> Ints:
        """Return what each two joints add to merits 3 and 4, in the first word."""
        words = self.at.lap_words(near.lap, near.is_at_wall)
        return near.spread(near.times * words)

    def _off(self, mine: _Side, theirs: _Side, near: NearJoints) -> Ints:
        """Return whether each joint's nearest in a filling is too near, or too far."""
        nearest, farthest = self.at.sizes.lap_range(*self.at.kinds)
        farthest = None if self.at.is_part else farthest
        beyond = RIGHT if farthest is None else TOO_FAR
        code = np.where(12 * near.lap < nearest, TOO_NEAR, RIGHT)
        if farthest is not None:
            code[12 * near.lap > farthest] = TOO_FAR
        codes = np.full(near.shape[::-1], beyond, np.int8)
        codes[near.other, near.one] = code
        codes[-1] = NO_JOINT
        least = least_of_lines(codes, theirs.every, beyond, NO_JOINT)
        off = (least == TOO_NEAR) | (least == TOO_FAR)
        counted: Ints = off * mine.times[None, mine.looked_at]
        return counted
