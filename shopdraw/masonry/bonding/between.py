"""Lay the courses over an opening between what two legs that differ hand on.

In:  the toothings of both sides, one kind.   Out: `Closings`.
Frame: grid lengths, left to right; the right side comes mirrored about nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from shopdraw.masonry.bonding.legs import Rows
from shopdraw.masonry.bonding.toothing import (
    FIRSTS,
    Groups,
    Toothing,
    each_with_all,
    kept_of,
    stands_in,
    token_of,
)
from shopdraw.masonry.rows.bonds import CourseKind
from shopdraw.masonry.rows.closing import Between
from shopdraw.masonry.rows.forms import Speller
from shopdraw.masonry.rows.judge import RowSetting, judge_rows, sawn_pieces
from shopdraw.masonry.rows.layer import Cuts, RowLayer, Spans
from shopdraw.masonry.rows.meetings import FAR
from shopdraw.masonry.rows.merit import SAWN, Flags, Ints, pack
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import (
    CLOSER,
    CUT,
    NONE,
    WHOLE,
    Fillings,
    joined_tables,
    side_by_side,
)


@dataclass(frozen=True)
class Closings:
    """New pieces between what two legs hand on; a closing a line.

    Attributes:
        one, other: the groups of the left and of the right.
        new: the new pieces.
        words: their own merit.
    """

    one: Ints
    other: Ints
    new: Fillings
    words: Ints

    def __len__(self) -> int:
        return len(self.one)


@dataclass(frozen=True)
class _Laid:
    """Closings that are not judged yet."""

    one: Ints
    other: Ints
    new: Fillings


@dataclass
class Closer:
    """Closes the courses of one kind, each two groups once.

    Attributes:
        sizes, row: the bond and the brick, and what lies in the course.
        legs: the fillings of both sides.
        sides: what they hand on.
        jambs: where the opening is.
        courses: how many courses of the kind lie over the opening.
        cuts: how many equal cuts may stand together.
    """

    sizes: Sizes
    row: CourseKind
    legs: tuple[Rows, Rows]
    sides: tuple[Toothing, Toothing]
    jambs: tuple[int, int]
    courses: int
    cuts: int
    done: Ints = field(default_factory=lambda: np.zeros(0, np.int64))
    found: list[Closings] = field(default_factory=list)

    def codes(self, one: Ints, other: Ints) -> Ints:
        """Return one number for each two groups."""
        codes: Ints = one * len(self.sides[1].groups.first) + other
        return codes

    def new(self, one: Ints, other: Ints) -> int:
        """Return how many of some groups were not closed before."""
        return len(np.setdiff1d(self.codes(one, other), self.done))

    def close(self, one: Ints, other: Ints) -> int:
        """Close between some groups, those that were not closed before.

        Returns:
            How many rows were laid.
        """
        wide = max(len(self.sides[1].groups.first), 1)
        codes = np.setdiff1d(self.codes(one, other), self.done)
        if not len(codes):
            return 0
        self.done = np.union1d(self.done, codes)
        laid = list(self._alike(*np.divmod(codes, wide)))
        if laid:
            self.found.append(self._judged(laid))
        return sum(len(x.one) for x in laid)

    def _alike(self, one: Ints, other: Ints) -> Iterator[_Laid]:
        """Yield what is laid between groups that begin alike."""
        left, right = self.sides[0].groups, self.sides[1].groups
        looks = np.column_stack(
            [left.first[one], left.after[one], right.first[other], right.after[other]]
        )
        every, which = np.unique(looks, axis=0, return_inverse=True)
        for at in range(len(every)):
            some = np.nonzero(which.reshape(-1) == at)[0]
            found = self._lay(one[some], other[some])
            if len(found.one):
                yield found

    def _lay(self, one: Ints, other: Ints) -> _Laid:
        """Lay what may stand between groups that begin alike."""
        left, right = self.sides[0].groups, self.sides[1].groups
        one, other, joint = self._joints(one, other)
        start, end = left.start[one], -right.start[other]
        wide = end - start
        widest = int(wide.max(initial=0))
        speller = Speller(
            self.sizes, self.row, widest, widest - int(wide.min(initial=widest))
        )
        spelt = Between(
            speller,
            (FIRSTS[left.first[one[0]]], FIRSTS[right.first[other[0]]]),
            (token_of(int(left.after[one[0]])), token_of(int(right.after[other[0]]))),
            self.cuts,
        ).spellings()
        spans, span = np.unique(
            np.column_stack([start, wide, joint]), axis=0, return_inverse=True
        )
        layer = RowLayer(self.sizes, self.row, Cuts(self.least, self.least, ()))
        tables, spans_of = list[Fillings](), list[Ints]()
        for seeks in (False, True):
            some = [x for x, seeking in spelt.items() if seeking == seeks]
            new, of = layer.lay(some, Spans(*spans.T))
            # A course of one new piece has the legs' joint all the same.
            new = side_by_side([new], spans[of, 2])
            if seeks and len(new):
                ok = self._nearest(new, of)
                new, of = new.take(ok), of[ok]
            tables.append(new)
            spans_of.append(of)
        new, of = joined_tables(tables), np.concatenate(spans_of)
        group, line = each_with_all(span.reshape(-1), of, len(spans))
        one, other, new = one[group], other[group], new.take(line)
        ok = self._may_stand(new, left, one, self.jambs[0])
        ok &= self._may_stand(new.mirrored(0), right, other, -self.jambs[1])
        return _Laid(one[ok], other[ok], new.take(ok))

    @property
    def least(self) -> int:
        """The shortest cut: what the legs were made with."""
        return min(x.least for x in self.legs)

    def _joints(self, one: Ints, other: Ints) -> tuple[Ints, Ints, Ints]:
        """Return two groups with the joint that both have, or each that they may."""
        joint = np.maximum(
            self.sides[0].groups.joint[one], self.sides[1].groups.joint[other]
        )
        bare = joint == 0
        if not bare.any():
            return one, other, joint
        widths = np.array(sorted({j for x in self.legs for j in x.joint_widths}))
        again = [np.repeat(x[bare], len(widths)) for x in (one, other)]
        return (
            np.concatenate([one[~bare], again[0]]),
            np.concatenate([other[~bare], again[1]]),
            np.concatenate([joint[~bare], np.tile(widths, int(bare.sum()))]),
        )

    def _nearest(self, new: Fillings, of: Ints) -> Flags:
        """Return which rows of a span have their cuts nearest to the centre line."""
        # A cut that a side begins with stands at an end, and is not sought.
        is_cut, columns = new.role == CUT, np.arange(new.left.shape[1])[None, :]
        is_cut &= (columns > 0) & (columns < new.pieces[:, None] - 1)
        low = np.where(is_cut, new.left, FAR).min(axis=1)
        high = np.where(is_cut, new.right, -FAR).max(axis=1)
        away = np.abs(low + high - sum(self.jambs))
        wholes = (new.role == WHOLE).sum(axis=1)
        group = (of * 64 + wholes) * 8 + is_cut.sum(axis=1)
        _, group = np.unique(group, return_inverse=True)
        least = np.full(int(group.max()) + 1, FAR)
        np.minimum.at(least, group, away)
        return np.asarray(away == least[group])

    def _may_stand(
        self, new: Fillings, groups: Groups, group: Ints, jamb: int
    ) -> Flags:
        """Return which rows reach the jamb, with nothing short beside a closer.

        The first new piece reaches the jamb, or the second among headers. One that
        ends at the jamb again is the piece that was there.
        """
        first, header = groups.first[group], self.sizes.brick.header
        length = new.right[:, 0] - new.left[:, 0]
        short = (new.role[:, 0] == CUT) & (length < header)
        ok = ~(short & (groups.sides.role[group, -1] == CLOSER))
        reach = new.right[:, 0] >= jamb
        if self.row.has_headers and new.left.shape[1] > 1:
            reach |= (new.right[:, 1] >= jamb) & (new.role[:, 1] != NONE)
        if self.legs[0].at.ends[1] != "corner":
            in_place = first == FIRSTS.index("none in place of two")
            reach &= (new.right[:, 0] != jamb) | in_place
        return np.asarray(ok & (reach | (first == FIRSTS.index("none"))))

    def _judged(self, laid: list[_Laid]) -> Closings:
        one, other = (np.concatenate([getattr(x, n) for x in laid]) for n in _SIDES)
        new = joined_tables([x.new for x in laid])
        left, right = self.sides[0].groups, self.sides[1].groups
        stood = stands_in(new, left.gone.take(one))
        stood |= stands_in(new, right.gone.take(other).mirrored(0))
        new = replace(new, counted=new.counted & ~stood)
        beside = left.sides.take(one), right.sides.take(other).mirrored(0)
        seen = side_by_side([beside[0], new, beside[1]], new.joint)
        ends = self.legs[0].at.goes_on_from, self.legs[1].at.goes_on_from
        at = RowSetting(self.sizes, self.row, ends, (0, 0), is_leg=False)
        sawn = sawn_pieces(new, self.sizes, self.row).sum(axis=1)
        sawn = sawn - left.dropped[one] - right.dropped[other]
        words = judge_rows(seen, at) + pack({SAWN: self.courses * sawn}, len(new))
        return Closings(one, other, new, words)

    def every(self) -> Closings:
        """Return all that was closed, those of two groups side by side."""
        if len(self.found) != 1:
            none = np.zeros(0, np.int64)
            one, other = (
                np.concatenate([none, *(getattr(x, n) for x in self.found)])
                for n in _SIDES
            )
            new = joined_tables([x.new for x in self.found])
            words = np.concatenate(
                [pack({}, 0), *(x.words for x in self.found)], axis=0
            )
            self.found = [Closings(one, other, new, words)]
        some = self.found[0]
        codes = self.codes(some.one, some.other)
        if (np.diff(codes) < 0).any():
            at = np.argsort(codes, kind="stable")
            some = Closings(
                some.one[at], some.other[at], some.new.take(at), some.words[at]
            )
            self.found = [some]
        return some

    def whole_rows(self, closings: Ints, fillings: tuple[Ints, Ints]) -> Fillings:
        """Return whole courses: closings, each between two fillings of the legs."""
        some = self.every()
        new, kept = some.new.take(closings), list[Fillings]()
        for side, group, filling in zip(
            (0, 1), (some.one[closings], some.other[closings]), fillings, strict=True
        ):
            table = self.legs[side].table
            count = table.pieces[filling] - self.sides[side].groups.less[group]
            kept.append(kept_of(table, filling, count))
        return side_by_side([kept[0], new, kept[1].mirrored(0)], new.joint)


_SIDES = "one", "other"
