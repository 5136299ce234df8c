"""Lay spellings out at every joint and cut.

In:  spellings, widths, joints, free cuts.   Out: `Fillings`.
Frame: grid lengths.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shopdraw.masonry.rows.bonds import CourseKind
from shopdraw.masonry.rows.forms import Spelling, Token
from shopdraw.masonry.rows.merit import Flags, Ints
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import (
    CLOSER,
    CUT,
    LEG,
    NONE,
    WHOLE,
    Fillings,
    joined_tables,
)


@dataclass(frozen=True)
class Cuts:
    """What the cuts of a run may be.

    Attributes:
        least: the shortest cut.
        least_at_wall: the shortest that ends at a hidden wall.
        free: the free cuts.
        ends_at_wall: whether the run's last piece ends at a hidden wall.
        slack: how far short of its end a run without cuts may stop.
        lead: 1 where the run has a joint before its first piece and after its last.
    """

    least: int
    least_at_wall: int
    free: tuple[int, ...]
    ends_at_wall: bool = False
    slack: int = 0
    lead: int = 0


@dataclass(frozen=True)
class _Codes:
    """Spellings as numbers, of shape (spellings, columns) or (spellings,)."""

    base: Ints
    role: NDArray[np.int8]
    letter: NDArray[np.int8]
    is_equal: Flags
    is_free: Flags
    pieces: Ints
    equal_range: tuple[Ints, Ints]
    free_range: tuple[Ints, Ints]


@dataclass(frozen=True)
class RowLayer:
    """Lays spellings of one row.

    Attributes:
        sizes: the bond and the brick.
        row: what lies in the course.
        cuts: what its cuts may be.
    """

    sizes: Sizes
    row: CourseKind
    cuts: Cuts

    def lay(
        self,
        spellings: Iterable[Spelling],
        starts: Ints,
        widths: Ints,
        joints: Sequence[int],
    ) -> tuple[Fillings, Ints]:
        """Lay spellings into each of some spans.

        Args:
            spellings: what stands where.
            starts: where each span begins.
            widths: how wide each span is.
            joints: the head joints to lay with; a spelling without cuts is laid with
                the joint at which it fits, whether or not it is one of these.

        Returns:
            The fillings, and for each which span it is in.
        """
        every = list(dict.fromkeys(spellings))
        by_kind: dict[str, list[Spelling]] = {"solved": [], "equal": [], "free": []}
        for spelling in every:
            tokens = set(spelling)
            kind = "equal" if tokens & {"x", "X", "Y", "q"} else "solved"
            by_kind["free" if tokens & {"p", "P"} else kind].append(spelling)
        found = []
        for kind, some in by_kind.items():
            if some:
                found += self._lay_kind(kind, some, starts, widths, joints)
        tables = [table for table, _ in found]
        spans = [at for _, at in found]
        return (
            joined_tables(tables),
            np.concatenate(spans) if spans else np.zeros(0, np.int64),
        )

    def _lay_kind(
        self,
        kind: str,
        spellings: list[Spelling],
        starts: Ints,
        widths: Ints,
        joints: Sequence[int],
    ) -> list[tuple[Fillings, Ints]]:
        codes = self._codes(spellings)
        every = np.array(joints, np.int64)
        if kind == "solved":
            laid = [self._fitted(codes, starts, widths)]
            if self.cuts.slack:
                laid.append(self._short_of_wall(codes, starts, widths, every))
            return laid
        if kind == "equal":
            return [self._equal(codes, starts, widths, every)]
        has_equal = np.asarray(codes.is_equal.any(axis=1))
        laid = []
        if has_equal.any():
            laid.append(self._free(_some(codes, has_equal), starts, widths, every))
        if not has_equal.all():
            laid.append(self._free_fitted(_some(codes, ~has_equal), starts, widths))
        return laid

    def fitting_joints(self, spellings: Iterable[Spelling], width: int) -> set[int]:
        """Return each joint at which spellings without cuts fill a width."""
        found = set()
        most, least = self.sizes.joints.most, self.sizes.joints.least
        for spelling in spellings:
            if len(spelling) > 1 and not set(spelling) & set("xXYqpP"):
                room = width - sum(self._length(x) for x in spelling)
                joint, rest = divmod(room, len(spelling) - 1)
                if not rest and least <= joint <= most:
                    found.add(joint)
        return found

    def _length(self, token: Token) -> int:
        if isinstance(token, int):
            return self.sizes.whole(self.row.pattern[token])
        if token == "L":
            return self.sizes.brick.leg(self.row.leg)
        if token == "M":
            return self.sizes.brick.leg(self.row.at_jamb)
        return self.sizes.closer(self.row) if token == "Q" else 0

    def _codes(self, spellings: list[Spelling]) -> _Codes:
        shape = len(spellings), max(map(len, spellings))
        base = np.zeros(shape, np.int64)
        role = np.zeros(shape, np.int8)
        letter = np.full(shape, -1, np.int8)
        is_equal, is_free = np.zeros(shape, np.bool_), np.zeros(shape, np.bool_)
        ranges = []
        roles = {"L": LEG, "X": LEG, "P": LEG, "M": LEG, "Y": LEG, "x": CUT, "p": CUT,
                 "Q": CLOSER, "q": CLOSER, ".": NONE}  # fmt: skip
        for at, spelling in enumerate(spellings):
            for column, token in enumerate(spelling):
                base[at, column] = self._length(token)
                if isinstance(token, int):
                    role[at, column], letter[at, column] = WHOLE, token
                else:
                    role[at, column] = roles[token]
                    is_equal[at, column] = token in "xXYq"
                    is_free[at, column] = token in "pP"
            ranges.append(
                (*self._range(spelling, "xXYq"), *self._range(spelling, "pP"))
            )
        low, high, free_low, free_high = np.array(ranges, np.int64).T
        pieces = np.array([len(x) for x in spellings], np.int64)
        return _Codes(base, role, letter, is_equal, is_free, pieces,
                      (low, high), (free_low, free_high))  # fmt: skip

    def _range(self, spelling: Spelling, tokens: str) -> tuple[int, int]:
        """Return how short and how long the cuts of a spelling may be."""
        low, high = 1, self.sizes.brick.unit
        for at, token in enumerate(spelling):
            if isinstance(token, int) or token not in tokens:
                continue
            if token == "q":
                closer, step = self.sizes.closer(self.row), self.sizes.joints.step
                low, high = max(low, closer - 2 * step), min(high, closer + 2 * step)
                continue
            at_wall = self.cuts.ends_at_wall and at == len(spelling) - 1
            low = max(low, self.cuts.least_at_wall if at_wall else self.cuts.least)
            if token in "XPY":
                leg = self.row.at_jamb if token == "Y" else self.row.leg
                high = min(high, self.sizes.brick.leg(leg) - 1)
            if {"Q", "q"} & set(spelling[max(at - 1, 0) : at + 2]):
                low = max(low, self.sizes.brick.header)
        return low, high

    def _fitted(
        self, codes: _Codes, starts: Ints, widths: Ints
    ) -> tuple[Fillings, Ints]:
        """Lay spellings without cuts at the joint that fits."""
        gaps = codes.pieces[:, None] - 1 + 2 * self.cuts.lead
        room = widths[None, :] - codes.base.sum(axis=1)[:, None]
        joint = room // np.maximum(gaps, 1)
        fits = joint * gaps == room
        in_range = (joint >= self.sizes.joints.least) & (
            joint <= self.sizes.joints.most
        )
        spelling, span = np.nonzero(fits & ((gaps == 0) | in_range))
        joint = np.where(gaps[spelling, 0] > 0, joint[spelling, span], 0)
        begin = starts[span] + self.cuts.lead * joint
        return _laid(codes, spelling, joint, begin), span

    def _short_of_wall(
        self, codes: _Codes, starts: Ints, widths: Ints, joints: Ints
    ) -> tuple[Fillings, Ints]:
        """Lay corner unit and wholes up to a joint short of the wall."""
        gaps = (codes.pieces[:, None] - 1) * joints[None, :]
        used = codes.base.sum(axis=1)[:, None] + gaps
        short = widths[None, None, :] - used[:, :, None]
        has_corner = (codes.role[:, 0] == LEG)[:, None, None]
        ok = has_corner & (short > 0) & (short <= self.cuts.slack)
        spelling, at, span = np.nonzero(ok)
        joint = np.where(gaps_of(codes, self.cuts)[spelling] > 0, joints[at], 0)
        begin = starts[span] + self.cuts.lead * joint
        return _laid(codes, spelling, joint, begin), span

    def _equal(
        self, codes: _Codes, starts: Ints, widths: Ints, joints: Ints
    ) -> tuple[Fillings, Ints]:
        """Lay spellings with equal cuts at every joint."""
        count = codes.is_equal.sum(axis=1)[:, None, None]
        used = codes.base.sum(axis=1)[:, None] + (
            (codes.pieces[:, None] - 1 + 2 * self.cuts.lead) * joints[None, :]
        )
        room = widths[None, None, :] - used[:, :, None]
        cut = room // count
        low, high = (x[:, None, None] for x in codes.equal_range)
        ok = (cut * count == room) & (cut >= low) & (cut <= high)
        spelling, at, span = np.nonzero(ok)
        joint = np.where(gaps_of(codes, self.cuts)[spelling] > 0, joints[at], 0)
        equal = cut[spelling, at, span]
        begin = starts[span] + self.cuts.lead * joint
        return _laid(codes, spelling, joint, begin, equal=equal), span

    def _free(
        self, codes: _Codes, starts: Ints, widths: Ints, joints: Ints
    ) -> tuple[Fillings, Ints]:
        """Lay spellings with equal cuts and free cuts at every joint."""
        free = np.array(self.cuts.free, np.int64)
        count = codes.is_equal.sum(axis=1)[:, None, None, None]
        used = codes.base.sum(axis=1)[:, None] + (
            (codes.pieces[:, None] - 1 + 2 * self.cuts.lead) * joints[None, :]
        )
        taken = codes.is_free.sum(axis=1)[:, None] * free[None, :]
        room = (
            widths[None, None, None, :]
            - used[:, :, None, None]
            - taken[:, None, :, None]
        )
        cut = room // count
        low, high = (x[:, None, None, None] for x in codes.equal_range)
        ok = (cut * count == room) & (cut >= low) & (cut <= high)
        ok &= _within(free[None, :], codes.free_range)[:, None, :, None]
        spelling, at, bat, span = np.nonzero(ok)
        equal = cut[spelling, at, bat, span]
        begin = starts[span] + self.cuts.lead * joints[at]
        table = _laid(codes, spelling, joints[at], begin, equal=equal, free=free[bat])
        return table, span

    def _free_fitted(
        self, codes: _Codes, starts: Ints, widths: Ints
    ) -> tuple[Fillings, Ints]:
        """Lay spellings whose only cuts are free ones, at the joint that fits."""
        free = np.array(self.cuts.free, np.int64)
        gaps = np.maximum(codes.pieces - 1 + 2 * self.cuts.lead, 1)[:, None, None]
        taken = codes.base.sum(axis=1)[:, None] + (
            codes.is_free.sum(axis=1)[:, None] * free[None, :]
        )
        room = widths[None, None, :] - taken[:, :, None]
        joint = room // gaps
        ok = (joint * gaps == room) & (codes.pieces > 1)[:, None, None]
        ok &= (joint >= self.sizes.joints.least) & (joint <= self.sizes.joints.most)
        ok &= _within(free[None, :], codes.free_range)[:, :, None]
        spelling, bat, span = np.nonzero(ok)
        joint = joint[spelling, bat, span]
        begin = starts[span] + self.cuts.lead * joint
        return _laid(codes, spelling, joint, begin, free=free[bat]), span


def gaps_of(codes: _Codes, cuts: Cuts) -> Ints:
    """Return how many joints each spelling has."""
    gaps: Ints = codes.pieces - 1 + 2 * cuts.lead
    return gaps


def _within(lengths: Ints, limits: tuple[Ints, Ints]) -> Flags:
    low, high = limits
    ok: Flags = (lengths >= low[:, None]) & (lengths <= high[:, None])
    return ok


def _some(codes: _Codes, which: Flags) -> _Codes:
    return _Codes(
        codes.base[which],
        codes.role[which],
        codes.letter[which],
        codes.is_equal[which],
        codes.is_free[which],
        codes.pieces[which],
        (codes.equal_range[0][which], codes.equal_range[1][which]),
        (codes.free_range[0][which], codes.free_range[1][which]),
    )


def _laid(
    codes: _Codes,
    spelling: Ints,
    joint: Ints,
    starts: Ints,
    *,
    equal: Ints | int = 0,
    free: Ints | int = 0,
) -> Fillings:
    """Stand the pieces of spellings side by side."""
    zero = np.zeros(len(spelling), np.int64)
    length = codes.base[spelling]
    length = length + codes.is_equal[spelling] * (zero + equal)[:, None]
    length += codes.is_free[spelling] * (zero + free)[:, None]
    role = codes.role[spelling]
    is_piece = role != NONE
    right = np.cumsum(length + joint[:, None], axis=1) + (starts - joint)[:, None]
    return Fillings(
        np.where(is_piece, right - length, 0),
        np.where(is_piece, right, 0),
        role,
        codes.letter[spelling],
        joint,
        is_piece,
    )
