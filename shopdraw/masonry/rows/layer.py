"""Lay spellings out at every joint and cut.

In:  spellings, spans, free cuts.   Out: `Fillings`.
Frame: grid lengths.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shopdraw.masonry.rows.bonds import CourseKind
from shopdraw.masonry.rows.forms import Spelling, Token
from shopdraw.masonry.rows.merit import Flags, Ints
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import CLOSER, CUT, LEG, NONE, WHOLE, Fillings

_OTHERS = "LXPMYZxpQq."
_ROLES = (LEG, LEG, LEG, LEG, LEG, LEG, CUT, CUT, CLOSER, CLOSER, NONE)


@dataclass(frozen=True)
class Spans:
    """What is to be filled, and with which head joint; a span a row."""

    starts: Ints
    widths: Ints
    joints: Ints


@dataclass(frozen=True)
class Cuts:
    """What the cuts of a run may be.

    Attributes:
        least: the shortest cut.
        least_at_wall: the shortest that ends at a hidden wall.
        free: the free cuts.
        ends_at_wall: whether the run's last piece ends at a hidden wall.
        slack: how far short of its end a run without cuts may stop after a corner
            unit.
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
    gaps: Ints
    equal_range: tuple[Ints, Ints]
    free_range: tuple[Ints, Ints]

    def take(self, which: Ints | Flags) -> _Codes:
        """Return some of the spellings."""
        low, high = self.equal_range
        free_low, free_high = self.free_range
        return _Codes(
            self.base[which], self.role[which], self.letter[which],
            self.is_equal[which], self.is_free[which], self.gaps[which],
            (low[which], high[which]), (free_low[which], free_high[which]),
        )  # fmt: skip


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

    def lay(self, spellings: Sequence[Spelling], spans: Spans) -> tuple[Fillings, Ints]:
        """Lay spellings into each of some spans, with the span's joint.

        Returns:
            The fillings, and for each which span it is in.
        """
        if not spellings or not len(spans.starts):
            none = np.zeros((0, 1), np.int64)
            empty = none.astype(np.int8)
            flags = none.astype(np.bool_)
            return Fillings(none, none, empty, empty, none[:, 0], flags), none[:, 0]
        codes = self._codes(spellings)
        has_free = np.asarray(codes.is_free.any(axis=1))
        found = [
            self._solved(codes, ~has_free, np.zeros(1, np.int64), spans),
            self._solved(codes, has_free, np.array(self.cuts.free, np.int64), spans),
        ]
        spelling, bat, span, equal = (
            np.concatenate(x) for x in zip(*found, strict=True)
        )
        return _stand(codes, spelling, spans, span, equal, bat, self.cuts.lead), span

    def _solved(
        self, codes: _Codes, which: Flags, free: Ints, spans: Spans
    ) -> tuple[Ints, Ints, Ints, Ints]:
        """Return which spellings come out with which free cut in which span."""
        at = np.nonzero(which)[0]
        some = codes.take(at)
        equals = some.is_equal.sum(axis=1)
        taken = some.base.sum(axis=1)[:, None] + (
            some.is_free.sum(axis=1)[:, None] * free[None, :]
        )
        left = spans.widths[None, :] - some.gaps[:, None] * spans.joints[None, :]
        room = left[:, None, :] - taken[:, :, None]
        share = np.maximum(equals, 1)[:, None, None]
        cut = room // share
        low, high = (x[:, None, None] for x in some.equal_range)
        ok = (cut * share == room) & (cut >= low) & (cut <= high)
        is_whole = np.asarray(equals == 0)[:, None, None]
        short = (room >= 0) & (room <= self.cuts.slack * self._may_stop(some))
        ok = np.where(is_whole, short, ok)
        if some.is_free.any():
            low, high = some.free_range
            ok &= _within(free, low, high)[:, :, None]
        spelling, bat, span = np.nonzero(ok)
        equal = np.where(equals[spelling] > 0, cut[spelling, bat, span], 0)
        return at[spelling], free[bat], span, equal

    def _may_stop(self, codes: _Codes) -> Ints:
        """Return 1 for the spellings that may stop short of a wall."""
        may: Ints = (codes.role[:, 0] == LEG).astype(np.int64)[:, None, None]
        return may

    def fitting_joints(self, spellings: Sequence[Spelling], width: int) -> set[int]:
        """Return each joint at which spellings without cuts fill a width."""
        found = set()
        most, least = self.sizes.joints.most, self.sizes.joints.least
        for spelling in spellings:
            gaps = len(spelling) - 1 + 2 * self.cuts.lead
            if gaps > 0 and not set(spelling) & set("xXYqpPZ"):
                room = width - sum(self._length(x) for x in spelling)
                joint, rest = divmod(room, gaps)
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

    def _codes(self, spellings: Sequence[Spelling]) -> _Codes:
        letters = len(self.row.pattern)
        number: dict[Token, int] = {at: at for at in range(letters)}
        number |= {token: letters + at for at, token in enumerate(_OTHERS)}
        length = np.array([self._length(x) for x in number] + [0], np.int64)
        role = np.array([WHOLE] * letters + [*_ROLES, NONE], np.int8)
        letter = np.array([*range(letters)] + [-1] * (len(_OTHERS) + 1), np.int8)
        none = len(number)
        columns = max(map(len, spellings))
        code = np.array(
            [[number[x] for x in some] + [none] * (columns - len(some))
             for some in spellings]
        )  # fmt: skip

        def where(tokens: str) -> Flags:
            named = np.array([x in tokens for x in map(str, number)] + [False])
            return np.asarray(named[code])

        is_equal, is_free = where("xXYq"), where("pPZ")
        pieces = (code != none).sum(axis=1)
        last = np.arange(columns)[None, :] == pieces[:, None] - 1
        beside = _beside(where("Qq"))
        near, far = self.row.leg, self.row.at_jamb
        longest = {"X": near, "P": near, "Y": far, "Z": far}
        ranges = []
        for cut, trimmed in ((is_equal & ~where("q"), "XY"), (is_free, "PZ")):
            least = np.where(last & self.cuts.ends_at_wall, self.cuts.least_at_wall,
                             self.cuts.least)  # fmt: skip
            least = np.where(beside, np.maximum(least, self.sizes.brick.header), least)
            low = np.where(cut, least, 0).max(axis=1)
            high = np.full(len(spellings), self.sizes.brick.unit)
            for token in trimmed:
                most = self.sizes.brick.leg(longest[token]) - 1
                high = np.where(where(token).any(axis=1), np.minimum(high, most), high)
            ranges.append((low, high))
        closer, step = self.sizes.closer(self.row), self.sizes.joints.step
        solved = where("q").any(axis=1)
        low = np.where(solved, max(closer - 2 * step, 1), np.maximum(ranges[0][0], 1))
        high = np.where(solved, closer + 2 * step, ranges[0][1])
        gaps = pieces - 1 + 2 * self.cuts.lead
        return _Codes(length[code], role[code], letter[code], is_equal, is_free, gaps,
                      (low, high), ranges[1])  # fmt: skip


def _beside(closers: Flags) -> Flags:
    beside = np.zeros_like(closers)
    beside[:, 1:] |= closers[:, :-1]
    beside[:, :-1] |= closers[:, 1:]
    return beside


def _within(lengths: Ints, low: Ints, high: Ints) -> Flags:
    ok: Flags = (lengths >= low[:, None]) & (lengths <= high[:, None])
    return ok


def _stand(
    codes: _Codes,
    spelling: Ints,
    spans: Spans,
    span: Ints,
    equal: Ints,
    free: Ints,
    lead: int,
) -> Fillings:
    """Stand the pieces of spellings side by side."""
    some = codes.take(spelling)
    joint = np.where(some.gaps > 0, spans.joints[span], 0)
    begin = spans.starts[span] + lead * joint
    length = some.base + some.is_equal * equal[:, None] + some.is_free * free[:, None]
    is_piece = some.role != NONE
    right = np.cumsum(length + joint[:, None], axis=1) + (begin - joint)[:, None]
    return Fillings(
        np.where(is_piece, right - length, 0),
        np.where(is_piece, right, 0),
        some.role,
        some.letter,
        joint,
        is_piece,
    )
