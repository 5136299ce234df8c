"""Judge rows by themselves, and rows that meet: one count for each level of merit.

In:  `Table`s of fillings.   Out: merits as words (see `merit`).
Frame: grid lengths; every array has a filling, or a pair of fillings, a row.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from shopdraw.masonry.bond.bonds import Row
from shopdraw.masonry.bond.merit import Flags, Ints, not_over, pack
from shopdraw.masonry.bond.sizes import Sizes
from shopdraw.masonry.bond.tables import CLOSER, CUT, LEG, NONE, WHOLE, Table

End = Literal["corner", "free", "jamb", "wall", "open"]
"""What a run ends at; "open" where it is only part of a course over the opening."""
FAR = 1 << 60
"""Where a joint stands that is not there."""


@dataclass(frozen=True)
class Setting:
    """Where fillings stand, for the judge.

    Attributes:
        sizes: the bond and the brick.
        row: what lies in the course.
        ends: what is at the left and at the right.
        legs: the corner unit's leg, as bought, at the left and at the right.
        is_leg: whether this is a leg's row, or a return's; over the opening if not.
    """

    sizes: Sizes
    row: Row
    ends: tuple[End, End]
    legs: tuple[int, int]
    is_leg: bool = True


@dataclass(frozen=True)
class _Seen:
    """A table with what its pieces are judged as; all of shape (fillings, columns)."""

    table: Table
    length: Ints
    counted: Flags
    is_cut: Flags
    is_odd_closer: Flags
    is_trimmed: Flags
    trim: Ints
    at_jamb: Flags
    at_wall: Flags


def ends_of(table: Table) -> tuple[Flags, Flags]:
    """Return which piece is the first of its filling, and which the last."""
    columns = np.arange(table.left.shape[1])[None, :]
    is_piece = table.role != NONE
    return is_piece & (columns == 0), is_piece & (columns == table.pieces[:, None] - 1)


def _see(table: Table, at: Setting) -> _Seen:
    role, limits = table.role, at.sizes.limits
    first, last = ends_of(table)
    taken = {"jamb": limits.at_jamb, "free": limits.at_end, "wall": limits.at_end}
    length = table.right - table.left
    bought = np.zeros_like(length)
    for end, leg, here in zip(at.ends, at.legs, (first, last), strict=True):
        length = length - taken.get(end, 0) * (here & (role != LEG))
        bought = np.where(here & (bought == 0), leg, bought)
    if at.ends[0] != "corner":
        bought = np.where(last, at.legs[1], bought)
    wholes = [at.sizes.whole(x) for x in set(at.row.pattern)]
    is_flat = (role == WHOLE) | (role == CUT)
    is_trimmed = (role == LEG) & (length < bought)
    jamb, wall = np.zeros_like(first), np.zeros_like(first)
    for end, here in zip(at.ends, (first, last), strict=True):
        jamb |= here if end == "jamb" else False
        wall |= here if end == "wall" else False
    return _Seen(
        table=table,
        length=length,
        counted=table.counted,
        is_cut=table.counted & is_flat & ~np.isin(length, wholes),
        is_odd_closer=table.counted
        & (role == CLOSER)
        & (length != at.sizes.closer(at.row)),
        is_trimmed=table.counted & is_trimmed,
        trim=np.where(is_trimmed, bought - length, 0),
        at_jamb=jamb,
        at_wall=wall,
    )


def up(lengths: Ints, step: int) -> Ints:
    """Return lengths in steps, part of a step counting as one; none below nothing."""
    steps: Ints = np.maximum(-(-lengths // step), 0)
    return steps


def _sum(flags: Flags | Ints) -> Ints:
    return flags.sum(axis=1, dtype=np.int64)


def judge_rows(table: Table, at: Setting) -> Ints:
    """Judge every filling by itself.

    Returns:
        Words of shape (fillings, WORDS).
    """
    seen = _see(table, at)
    levels = {
        **_under_the_least(seen, at),
        **_corners(seen, at),
        **_sizes_of_cuts(seen, at),
        14: _pattern_broken(seen, at),
        **_counts_of_cuts(seen, at),
    }
    return pack(levels, len(table))


def _under_the_least(seen: _Seen, at: Setting) -> dict[int, Ints]:
    least = at.sizes.limits.least_piece
    # Four times the lengths, so that three quarters of the least is whole.
    bound = np.where(seen.at_wall, 3 * least, 4 * least)
    short = np.where(seen.is_cut | seen.is_trimmed, bound - 4 * seen.length, 0)
    steps = up(short, 4 * at.sizes.joints.step)
    return {1: _sum(steps > 0), 2: _sum(steps)}


def _corners(seen: _Seen, at: Setting) -> dict[int, Ints]:
    brick, limits, joint = at.sizes.brick, at.sizes.limits, at.sizes.joints.preferred
    long, short = brick.long, brick.short
    if long - short < limits.least_lap:
        short = (long - joint) // 2
    is_long = seen.length + seen.trim == brick.long
    if brick.long == brick.short:
        is_long = np.full_like(is_long, at.row.leg == "long")
    lost = np.where(
        is_long, 2 * seen.length < long + short, 4 * seen.length < 3 * short
    )
    return {
        6: _sum(seen.is_trimmed & lost),
        9: _sum(seen.is_trimmed),
        15: _sum(np.where(seen.is_trimmed, up(seen.trim, 2 * at.sizes.joints.step), 0)),
    }


def _sizes_of_cuts(seen: _Seen, at: Setting) -> dict[int, Ints]:
    sizes, step = at.sizes, at.sizes.joints.step
    bat = sizes.natural_bat(at.row)
    looked_at = (seen.is_cut | seen.is_trimmed) & ~seen.at_wall
    # Eight times the lengths: three eighths of a unit are whole.
    slip = max(8 * sizes.limits.least_piece, min(3 * sizes.brick.unit, 8 * bat))
    small = looked_at & (8 * seen.length < slip)
    short = looked_at & (seen.length < bat - step)
    steps = (2 * (bat - seen.length) + step) // (2 * step)
    return {
        12: _sum(small & seen.at_jamb),
        13: _sum(small & ~seen.at_jamb),
        17: _sum(short & seen.at_jamb),
        18: _sum(short & ~seen.at_jamb),
        21: _sum(np.where(short, steps, 0)),
    }


def _counts_of_cuts(seen: _Seen, at: Setting) -> dict[int, Ints]:
    role, joints = seen.table.role, at.sizes.joints
    is_leg = role == LEG
    beside = np.zeros_like(is_leg)
    beside[:, 1:] |= is_leg[:, :-1]
    beside[:, :-1] |= is_leg[:, 1:]
    sawn = seen.is_cut | seen.is_odd_closer
    open_view = sawn & ~seen.at_jamb & ~seen.at_wall & ~beside
    open_view |= seen.is_odd_closer
    lengths = np.sort(np.where(sawn, seen.table.right - seen.table.left, 0), axis=1)
    different = (lengths[:, 1:] != lengths[:, :-1]).sum(axis=1) + (lengths[:, 0] > 0)
    off = np.abs(seen.table.joint - joints.preferred)
    # A half step is what is counted, to the nearest.
    half_steps = (4 * off + joints.step) // (2 * joints.step)
    has_joint = seen.table.pieces > 1
    open_view &= ~(seen.is_odd_closer & beside)
    return {
        19: _sum(seen.is_cut & seen.at_jamb),
        20: _sum(open_view),
        22: different.astype(np.int64),
        23: _sum(sawn),
        24: np.where(has_joint, half_steps, 0),
    }


def _reads(length: Ints, sizes: Sizes) -> tuple[Flags, Flags]:
    """Return which pieces read as stretchers, and which as headers."""
    unit, header, step = sizes.brick.unit, sizes.brick.header, sizes.joints.step
    stretcher = 2 * length >= unit + header - 2 * step
    is_header = (4 * length >= 3 * header) & (4 * length < 4 * header + unit - header)
    return stretcher, is_header & ~stretcher


def _pattern_broken(seen: _Seen, at: Setting) -> Ints:
    role = seen.table.role
    none = np.zeros(len(role), np.int64)
    if not at.row.is_read:
        return none
    length = seen.table.right - seen.table.left
    is_flat = (role == WHOLE) | (role == CUT) | (role == LEG)
    stretcher, header = _reads(length, at.sizes)
    double = 2 if at.is_leg else 1
    if len(set(at.row.pattern)) == 1:
        right = stretcher if at.row.pattern[0] == "S" else header
        of_leg = stretcher if at.row.leg == "long" else header
        wrong = is_flat & seen.counted & ~np.where(role == LEG, of_leg, right)
        return double * _sum(wrong)
    reading = np.where(is_flat, np.where(stretcher, 1, np.where(header, 2, 3)), 0)
    neither = (reading == 3) & seen.counted
    return double * (_sum(neither) + 2 * _alike(seen, reading, at.row.pattern))


def _alike(seen: _Seen, reading: Ints, pattern: str) -> Ints:
    """Count pieces side by side that read alike, beyond what the pattern has."""
    role, counted = seen.table.role, seen.counted
    found = np.zeros(len(role), np.int64)
    same = {1: pattern in ("SH", "HS"), 2: True}
    for apart in (1, 2):
        one, other = reading[:, :-apart], reading[:, apart:]
        alike = (one == other) & (counted[:, :-apart] | counted[:, apart:])
        alike &= ((one == 1) & same[1]) | ((one == 2) & same[2])
        if apart == 2:
            alike &= role[:, 1:-1] == CLOSER
        found += _sum(alike)
    return found


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


def joints_of(table: Table, at: Setting) -> Perpends:
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
        _, header = _reads(table.right - table.left, at.sizes)
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
        one, other: their joints, pair by pair.
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
            one, other: joints of candidates, and which candidate each pair has.
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
        counts = here.is_there & there.is_there.any(axis=1)[:, None]
        off = 12 * closest < nearest
        if farthest is not None:
            off |= (12 * closest > farthest) & (closest < FAR // 2)
        found += (off & counts).sum(axis=1)
    return {16: found}


def _unbonded(one: Perpends, other: Perpends, at: Meeting) -> Ints:
    bare = ~one.is_there.any(axis=1) & ~other.is_there.any(axis=1)
    if 4 * at.width <= 3 * at.sizes.brick.unit:
        bare = np.zeros_like(bare)
    return bare.astype(np.int64)


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
    return over.any(axis=2).sum(axis=1)
