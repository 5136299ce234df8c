"""Judge rows by themselves: a count for each level of merit.

In:  `Fillings` of fillings.   Out: merits as words (see `merit`).
Frame: grid lengths; every array has a filling a row.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from shopdraw.masonry.rows.bonds import CourseKind
from shopdraw.masonry.rows.merit import Flags, Ints, pack
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import CLOSER, CUT, LEG, NONE, WHOLE, Fillings

End = Literal["corner", "free", "jamb", "wall", "inside", "open"]
"""What a run ends at; "inside" at an inside corner, "open" where it is only part of a
course over the opening."""


@dataclass(frozen=True)
class RowSetting:
    """Where fillings stand, for the judge.

    Attributes:
        sizes: the bond and the brick.
        row: what lies in the course.
        ends: what is at the left and at the right.
        legs: the corner unit's leg, as bought, at the left and at the right.
        is_leg: whether this is a leg's row, or a return's; over the opening if not.
        corner_joint: how wide the joint is by which the row butts another face at its
            right end; 0 where it doesn't.
    """

    sizes: Sizes
    row: CourseKind
    ends: tuple[End, End]
    legs: tuple[int, int]
    is_leg: bool = True
    corner_joint: int = 0

    @property
    def goes_on_from(self) -> End:
        """What a course over the opening begins at, where it keeps no piece of a leg.

        New brick at a free edge loses what a lean takes.
        """
        return "free" if self.ends[0] == "free" else "open"


@dataclass(frozen=True)
class _Seen:
    """A table with what its pieces are judged as; all of shape (fillings, columns).

    `left` is what is left of a piece's length where an end leans.
    """

    table: Fillings
    length: Ints
    left: Ints
    counted: Flags
    is_cut: Flags
    is_odd_closer: Flags
    is_trimmed: Flags
    trim: Ints
    at_jamb: Flags
    at_wall: Flags
    at_inside: Flags
    is_far_unit: Flags


def ends_of(table: Fillings) -> tuple[Flags, Flags]:
    """Return which piece is the first of its filling, and which the last."""
    columns = np.arange(table.left.shape[1])[None, :]
    is_piece = table.role != NONE
    return is_piece & (columns == 0), is_piece & (columns == table.pieces[:, None] - 1)


def _see(table: Fillings, at: RowSetting) -> _Seen:
    role, limits = table.role, at.sizes.limits
    first, last = ends_of(table)
    taken = {"jamb": limits.at_jamb, "free": limits.at_end, "wall": limits.at_end}
    length = table.right - table.left
    left, bought = length, np.zeros_like(length)
    for end, leg, here in zip(at.ends, at.legs, (first, last), strict=True):
        left = left - taken.get(end, 0) * here
        bought = np.where(here & (bought == 0), leg, bought)
    if at.ends[0] != "corner":
        bought = np.where(last, at.legs[1], bought)
    wholes = [at.sizes.whole(x) for x in set(at.row.pattern)]
    is_flat = (role == WHOLE) | (role == CUT)
    # What a lean takes from is sawn, however long it was and is.
    is_whole = one_of(length, wholes) & (left == length)
    is_trimmed = (role == LEG) & (length < bought)
    jamb, wall, inside = (np.zeros_like(first) for _ in range(3))
    for end, here in zip(at.ends, (first, last), strict=True):
        jamb |= here if end == "jamb" else False
        wall |= here if end == "wall" else False
        inside |= here if end == "inside" else False
    return _Seen(
        table=table,
        length=length,
        left=left,
        counted=table.counted,
        is_cut=table.counted & is_flat & ~is_whole,
        is_odd_closer=table.counted
        & (role == CLOSER)
        & (length != at.sizes.closer(at.row)),
        is_trimmed=table.counted & is_trimmed,
        trim=np.where(is_trimmed, bought - length, 0),
        at_jamb=jamb,
        at_wall=wall,
        at_inside=inside,
        is_far_unit=(role == LEG) & last & (at.is_leg and at.ends[1] == "corner"),
    )


def sawn_pieces(table: Fillings, sizes: Sizes, row: CourseKind) -> Flags:
    """Return which pieces are sawn: cuts, and closers that are not the bond's."""
    length = table.right - table.left
    wholes = [sizes.whole(x) for x in set(row.pattern)]
    flat = (table.role == WHOLE) | (table.role == CUT)
    odd = (table.role == CLOSER) & (length != sizes.closer(row))
    sawn: Flags = (flat & ~one_of(length, wholes)) | odd
    return sawn


def one_of(lengths: Ints, some: list[int]) -> Flags:
    """Return which lengths are one of some few."""
    found = np.zeros(lengths.shape, np.bool_)
    for length in some:
        found |= lengths == length
    return found


def up(lengths: Ints, step: int) -> Ints:
    """Return lengths in steps, part of a step counting as one; none below nothing."""
    steps: Ints = np.maximum(-(-lengths // step), 0)
    return steps


def _sum(flags: Flags | Ints) -> Ints:
    count: Ints = flags.sum(axis=1, dtype=np.int64)
    return count


def judge_rows(table: Fillings, at: RowSetting) -> Ints:
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


def _under_the_least(seen: _Seen, at: RowSetting) -> dict[int, Ints]:
    least = at.sizes.limits.least_piece
    # Four times the lengths, so that three quarters of the least is whole.
    bound = np.where(seen.at_wall, 3 * least, 4 * least)
    short = np.where(seen.is_cut | seen.is_trimmed, bound - 4 * seen.left, 0)
    steps = up(short, 4 * at.sizes.joints.step)
    return {1: _sum(steps > 0), 2: _sum(steps)}


def _corners(seen: _Seen, at: RowSetting) -> dict[int, Ints]:
    brick, limits, joint = at.sizes.brick, at.sizes.limits, at.sizes.joints.preferred
    long, short = brick.long, brick.short
    if long - short < limits.least_lap:
        short = (long - joint) // 2
    is_long = seen.length + seen.trim == brick.long
    if brick.long == brick.short:
        is_long = _is_long_leg(seen, at)
    lost = np.where(
        is_long, 2 * seen.length < long + short, 4 * seen.length < 3 * short
    )
    return {
        6: _sum(seen.is_trimmed & lost),
        9: _sum(seen.is_trimmed),
        15: _sum(np.where(seen.is_trimmed, up(seen.trim, 2 * at.sizes.joints.step), 0)),
    }


def _is_long_leg(seen: _Seen, at: RowSetting) -> Flags:
    """Return, of corner units' legs, which are the long one: at either end."""
    near, far = at.row.leg == "long", at.row.at_jamb == "long"
    found: Flags = np.where(seen.is_far_unit, far, near)
    return found


def _sizes_of_cuts(seen: _Seen, at: RowSetting) -> dict[int, Ints]:
    sizes, step = at.sizes, at.sizes.joints.step
    bat = sizes.natural_bat(at.row)
    looked_at = (seen.is_cut | seen.is_trimmed) & ~seen.at_wall
    # Eight times the lengths: three eighths of a unit are whole.
    slip = max(8 * sizes.limits.least_piece, min(3 * sizes.brick.unit, 8 * bat))
    small = looked_at & (8 * seen.left < slip)
    short = looked_at & (seen.left < bat - step)
    steps = (2 * (bat - seen.left) + step) // (2 * step)
    return {
        12: _sum(small & seen.at_jamb),
        13: _sum(small & ~seen.at_jamb),
        17: _sum(short & seen.at_jamb),
        18: _sum(short & ~seen.at_jamb),
        21: _sum(np.where(short, steps, 0)),
    }


def _counts_of_cuts(seen: _Seen, at: RowSetting) -> dict[int, Ints]:
    role, joints = seen.table.role, at.sizes.joints
    is_leg = role == LEG
    beside = np.zeros_like(is_leg)
    beside[:, 1:] |= is_leg[:, :-1]
    beside[:, :-1] |= is_leg[:, 1:]
    sawn = seen.is_cut | seen.is_odd_closer
    open_view = sawn & ~seen.at_jamb & ~seen.at_wall & ~seen.at_inside & ~beside
    open_view |= seen.is_odd_closer
    lengths = np.sort(np.where(sawn, seen.length, 0), axis=1)
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


def reads(length: Ints, sizes: Sizes) -> tuple[Flags, Flags]:
    """Return which pieces read as stretchers, and which as headers."""
    unit, header, step = sizes.brick.unit, sizes.brick.header, sizes.joints.step
    stretcher = 2 * length >= unit + header - 2 * step
    is_header = (4 * length >= 3 * header) & (4 * length < 4 * header + unit - header)
    return stretcher, is_header & ~stretcher


def _pattern_broken(seen: _Seen, at: RowSetting) -> Ints:
    role = seen.table.role
    none = np.zeros(len(role), np.int64)
    if not at.row.is_read:
        return none
    is_flat = (role == WHOLE) | (role == CUT) | (role == LEG)
    stretcher, header = reads(seen.length, at.sizes)
    double = 2 if at.is_leg else 1
    if len(set(at.row.pattern)) == 1:
        right = stretcher if at.row.pattern[0] == "S" else header
        of_leg = np.where(_is_long_leg(seen, at), stretcher, header)
        wrong = is_flat & seen.counted & ~np.where(role == LEG, of_leg, right)
        return double * _sum(wrong)
    reading = np.where(is_flat, np.where(stretcher, 1, np.where(header, 2, 3)), 0)
    neither = (reading == 3) & seen.counted
    return double * (_sum(neither) + 2 * _alike(seen, reading, at.row.pattern))


def _alike(seen: _Seen, reading: Ints, pattern: str) -> Ints:
    """Count pieces side by side that read alike, beyond what the pattern has.

    A closer between two is read through. Where the pattern has more than one stretcher
    to a header, fewer between two headers count too.
    """
    role, counted = seen.table.role, seen.counted
    most = max(map(len, (2 * pattern).split("H")))
    found = np.zeros(len(role), np.int64)
    for apart in (1, 2):
        one, other = reading[:, :-apart], reading[:, apart:]
        alike = (one == other) & (counted[:, :-apart] | counted[:, apart:])
        alike &= ((one == 1) & (most == 1)) | (one == 2)
        if apart == 2:
            alike &= role[:, 1:-1] == CLOSER
        found += _sum(alike)
    if most > 1:
        wrong = [[1] * (most + 1), *([2, *[1] * n, 2] for n in range(1, most))]
        found += sum(_sum(_reads_as(reading, counted, some)) for some in wrong)
    return found


def _reads_as(reading: Ints, counted: Flags, wanted: list[int]) -> Flags:
    """Return where neighbours read as is wanted, one of them new."""
    columns = reading.shape[1] - len(wanted) + 1
    places = range(len(wanted)) if columns > 0 else ()
    size = len(reading), max(columns, 0)
    same, is_new = np.ones(size, np.bool_), np.zeros(size, np.bool_)
    for at in places:
        same &= reading[:, at : at + columns] == wanted[at]
        is_new |= counted[:, at : at + columns]
    found: Flags = same & is_new
    return found
