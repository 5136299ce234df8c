"""Judge rows that lie on one another: a count for each level of merit.

In:  `Perpends`, the joints of fillings.   Out: merits as words (see `merit`).
Frame: grid lengths; every array has a pair of fillings a row.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from shopdraw.masonry.rows.judge import RowSetting, ends_of, reads, up
from shopdraw.masonry.rows.merit import Flags, Ints, not_over, pack
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import CUT, NONE, WHOLE, Fillings

FAR = 1 << 60
"""Where a joint stands that is not there."""


@dataclass(frozen=True)
class Perpends:
    """The joints of fillings, for meetings; arrays of shape (fillings, joints).

    Attributes:
        left, right: each joint; `FAR` and `-FAR`, far from all, where there is none.
        is_there: whether there is one.
        is_last: whether it is the last before a hidden wall.
        header_left, header_right: headers between two joints that a joint in the next
            course may not stand over; none are listed where it may.
        joint: the head joint, of shape (fillings,).
    """

    left: Ints
    right: Ints
    is_there: Flags
    is_last: Flags
    header_left: Ints
    header_right: Ints
    joint: Ints

    def take(self, which: Ints | Flags) -> Perpends:
        """Return those of some fillings."""
        return Perpends(
            self.left[which],
            self.right[which],
            self.is_there[which],
            self.is_last[which],
            self.header_left[which],
            self.header_right[which],
            self.joint[which],
        )


def joints_of(table: Fillings, at: RowSetting) -> Perpends:
    """Return the joints of every filling, and its headers between two joints."""
    is_there = table.role[:, 1:] != NONE
    columns = np.arange(is_there.shape[1])[None, :]
    last = columns == table.pieces[:, None] - 2
    is_last = is_there & last if at.ends[1] == "wall" else np.zeros_like(is_there)
    if at.ends[0] == "wall":
        is_last |= is_there & (columns == 0)
    header_left = np.zeros((len(table), 0), np.int64)
    header_right = header_left
    if "S" in at.row.pattern and at.row.has_headers:
        first, ending = ends_of(table)
        _, header = reads(table.right - table.left, at.sizes)
        flat = (table.role == WHOLE) | (table.role == CUT)
        inner = header & flat & ~first & ~ending & table.counted
        header_left = np.where(inner, table.left, -FAR)
        header_right = np.where(inner, table.right, -FAR)
    return Perpends(
        np.where(is_there, table.right[:, :-1], FAR),
        np.where(is_there, table.left[:, 1:], -FAR),
        is_there,
        is_last,
        header_left,
        header_right,
        table.joint,
    )


@dataclass(frozen=True)
class Meeting:
    """Two kinds that lie on one another, for the judge.

    Attributes:
        sizes: the bond and the brick.
        kinds: which two.
        width: how wide the run is that they meet in.
        at_head: whether this is over on leg: then only the laps count.
    """

    sizes: Sizes
    kinds: tuple[int, int]
    width: int
    at_head: bool = False


def judge_meetings(one: Perpends, other: Perpends, at: Meeting) -> Ints:
    """Judge pairs of fillings that lie on one another.

    Args:
        one: the joints of each pair's first.
        other: those of its second.
        at: the two kinds.

    Returns:
        Words of shape (pairs, WORDS).
    """
    return judge_laps(one, other, at) + judge_the_rest(one, other, at)


def _near(one: Perpends, other: Perpends) -> Ints:
    """Return how near every two joints are, of shape (pairs, joints, joints)."""
    near = other.left[:, None, :] - one.right[:, :, None]
    np.maximum(near, one.left[:, :, None] - other.right[:, None, :], out=near)
    return near


def judge_laps(one: Perpends, other: Perpends, at: Meeting) -> Ints:
    """Judge the laps of pairs that lie on one another: merits 3, 4 and 10."""
    pairs = len(one.left)
    if not at.sizes.own_lap(*at.kinds):
        return pack({}, pairs)
    if at.at_head:
        clean = np.zeros_like
        one = replace(one, is_last=clean(one.is_last))
        other = replace(other, is_last=clean(other.is_last))
    return pack(_laps(_near(one, other), one, other, at), pairs)


def judge_the_rest(one: Perpends, other: Perpends, at: Meeting) -> Ints:
    """Judge all but the laps of pairs that lie on one another; nothing at the head."""
    pairs = len(one.left)
    if at.at_head or not at.sizes.own_lap(*at.kinds):
        return pack({}, pairs)
    levels = _off_the_lap(np.maximum(_near(one, other), 0), one, other, at)
    levels[5] = _unbonded(one, other, at)
    levels[11] = _uneven(one, other, at)
    levels[14] = _under_joints(one, other) + _under_joints(other, one)
    return pack(levels, pairs)


@dataclass
class Pairs:
    """Pairs of candidates that are being priced; those over their limits drop out.

    Attributes:
        total: each pair's own merit, as words.
        limit: what it may come to with what the meetings add.
        which: the pairs that are left.
        added: what their meetings add so far.
    """

    total: Ints
    limit: Ints
    which: Ints
    added: Ints

    def add(self, words: Ints) -> None:
        """Add what one more judgement says of the pairs that are left."""
        self.added = self.added + words
        ok = not_over(self.total[self.which] + self.added, self.limit[self.which])
        self.which, self.added = self.which[ok], self.added[ok]

    def meet(
        self,
        one: tuple[Perpends, Ints],
        other: tuple[Perpends, Ints],
        at: Meeting,
        times: int = 1,
    ) -> None:
        """Judge a meeting of every pair that is left.

        Args:
            one: joints of candidates, and which of them each pair has first.
            other: the same for the second.
            at: the two kinds.
            times: how often it counts.
        """
        for judge in (judge_laps, judge_the_rest):
            if len(self.which):
                mine = one[0].take(one[1][self.which])
                theirs = other[0].take(other[1][self.which])
                self.add(times * judge(mine, theirs, at))


def _laps(near: Ints, one: Perpends, other: Perpends, at: Meeting) -> dict[int, Ints]:
    least, step = at.sizes.least_lap(*at.kinds), at.sizes.joints.step
    if not one.is_last.any() and not other.is_last.any():
        under = near < least
        count = under.sum(axis=(1, 2))
        pair, i, j = np.nonzero(under)
        short = up(least - np.maximum(near[pair, i, j], 0), step)
        steps = np.zeros(len(near), np.int64)
        np.add.at(steps, pair, short)
        return {3: count, 4: steps}
    near = np.maximum(near, 0)
    at_wall = one.is_last[:, :, None] | other.is_last[:, None, :]
    # Twice the lengths, so that half the least lap is whole.
    bound = np.where(at_wall, least, 2 * least)
    steps = up(np.where(2 * near < bound, bound - 2 * near, 0), 2 * step)
    excused = at_wall & (2 * near >= least) & (near < least)
    return {
        3: (steps > 0).sum(axis=(1, 2)),
        4: steps.sum(axis=(1, 2)),
        10: excused.sum(axis=(1, 2)),
    }


def _off_the_lap(
    near: Ints, one: Perpends, other: Perpends, at: Meeting
) -> dict[int, Ints]:
    nearest, farthest = at.sizes.lap_range(*at.kinds)
    found = np.zeros(len(near), np.int64)
    for axis, here, there in ((2, one, other), (1, other, one)):
        closest = near.min(axis=axis, initial=FAR)
        counts = here.is_there & there.is_there.any(axis=1, keepdims=True)
        off = 12 * closest < nearest
        if farthest is not None:
            off |= (12 * closest > farthest) & (closest < FAR // 2)
        found += (off & counts).sum(axis=1)
    return {16: found}


def _unbonded(one: Perpends, other: Perpends, at: Meeting) -> Ints:
    bare = ~one.is_there.any(axis=1) & ~other.is_there.any(axis=1)
    if 4 * at.width <= 3 * at.sizes.brick.unit:
        bare = np.zeros_like(bare)
    return np.asarray(bare, np.int64)


def _uneven(one: Perpends, other: Perpends, at: Meeting) -> Ints:
    both = one.is_there.any(axis=1) & other.is_there.any(axis=1)
    steps = up(np.abs(one.joint - other.joint), at.sizes.joints.step)
    return np.where(both, np.maximum(steps - 1, 0), 0)


def _under_joints(one: Perpends, other: Perpends) -> Ints:
    """Count the headers of one that have a joint of the other over them."""
    if not one.header_left.shape[1]:
        return np.zeros(len(one.left), np.int64)
    over = (other.left[:, None, :] < one.header_right[:, :, None]) & (
        other.right[:, None, :] > one.header_left[:, :, None]
    )
    count: Ints = over.any(axis=2).sum(axis=1)
    return count
