"""Solve a front that is its own mirror image: its legs, and the courses over.

In:  `Front`, `Sizes`.   Out: the best, searched to the end.
Frame: grid lengths; the left leg is laid, and the right one is its mirror image.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from shopdraw.masonry.bond.faces import Filling, Part, Solved, filling_of, joints_key
from shopdraw.masonry.bond.forms import Speller, with_closers
from shopdraw.masonry.bond.front import Front, head_of
from shopdraw.masonry.bond.judge import Setting, judge_rows
from shopdraw.masonry.bond.layer import Cuts, Layer
from shopdraw.masonry.bond.legs import (
    Rows,
    Width,
    fill_stretch,
    meeting_prices,
)
from shopdraw.masonry.bond.meetings import (
    Meeting,
    Pairs,
    Perpends,
    joints_of,
    judge_meetings,
)
from shopdraw.masonry.bond.merit import (
    Ints,
    Merit,
    as_tuple,
    from_tuple,
    joined,
    not_over,
    order,
)
from shopdraw.masonry.bond.over import (
    Opening,
    Over,
    fill_over,
    mirror_spellings,
    whole_rows,
)
from shopdraw.masonry.bond.search import ENDLESS, Price, Search, as_words, price_of
from shopdraw.masonry.bond.sizes import Sizes
from shopdraw.masonry.bond.tables import Table


@dataclass
class _Kind:
    """One kind's candidates: a leg's filling, a course over, or both.

    Attributes:
        leg, over: which filling, which way over; empty where there is none.
        words: each one's own merit, both legs and over.
        perpends: of the courses over, in the candidates' order.
    """

    rows: Rows | None
    ways: Over | None
    leg: Ints
    words: Ints
    table: Table | None = None
    perpends: Perpends | None = field(default=None)


TABLED = 1 << 16
"""Up to so many pairs of legs are judged beforehand."""


@dataclass(frozen=True)
class _Meet:
    """One judgement of two kinds that meet.

    Attributes:
        zone: where they meet.
        one, other: the joints, and for each candidate which of them are its.
        at: the two kinds.
        times: how often it counts.
    """

    zone: str
    one: tuple[Perpends, Ints]
    other: tuple[Perpends, Ints]
    at: Meeting
    times: int

    def __call__(self, a: Ints, b: Ints, pairs: Pairs) -> None:
        """Judge pairs of candidates."""
        mine, theirs = self.one[1][a], self.other[1][b]
        if self.every is not None:
            at = mine * len(self.other[0].left) + theirs
            pairs.add(self.every[at[pairs.which]])
        else:
            pairs.meet(
                (self.one[0], mine), (self.other[0], theirs), self.at, self.times
            )

    @cached_property
    def every(self) -> Ints | None:
        """What every pair costs, where that is quicker than each that comes up."""
        ones, others = len(self.one[0].left), len(self.other[0].left)
        if self.zone != "legs" or ones * others > TABLED:
            return None
        a, b = np.repeat(np.arange(ones), others), np.tile(np.arange(others), ones)
        words = judge_meetings(self.one[0].take(a), self.other[0].take(b), self.at)
        return self.times * words


def _every(some: _Kind) -> Ints:
    return np.arange(len(some.words))


def _over_alone(sizes: Sizes, front: Front, kind: int, width: Width) -> Over:
    """Return the courses over the opening of a kind that no leg has."""
    row, limits = sizes.bond.rows[kind], sizes.limits
    span = front.right - front.left
    speller = Speller(sizes, row, span)
    corner = front.ends[0] == "corner"
    spellings = []
    for first in ("", "p", "x", "xx"):
        if "p" in first and "S" not in row.pattern:
            continue
        begun = (*("L" if corner else ""), *first)
        for spelling in mirror_spellings(speller, begun, None, width.cuts, 0):
            spellings += list(with_closers(speller, spelling, at_end=True))
    step = limits.bat_step // 2 if width.fine else limits.bat_step
    found = None
    for least in (limits.least_piece, sizes.joints.step):
        layer = Layer(sizes, row, Cuts(least, least, sizes.bats(step)))
        found, _ = layer.lay(
            [x for x in spellings if x == x[::-1]],
            np.array([front.left]),
            np.array([span]),
            sizes.joints.on_step(),
        )
        if len(found):
            break
    if found is None:
        message = "no joint step to begin from"
        raise AssertionError(message)
    leg = sizes.brick.leg(row.leg)
    at = Setting(sizes, row, front.ends, (leg, leg), is_leg=False)
    every = np.arange(len(found))
    return Over(found, judge_rows(found, at), every * 0 - 1, every * 0, every)


@dataclass
class Mirrored:
    """The search of one mirrored front, at one width."""

    sizes: Sizes
    front: Front
    width: Width
    limit: int = ENDLESS
    legs: dict[int, Rows] = field(default_factory=dict)
    alone: dict[int, Over] = field(default_factory=dict)

    def solve(self) -> Solved | None:
        """Return the best; None where nothing can be laid mirrored."""
        front = self.front
        leg_kinds = set(front.leg_kinds)
        for kind in sorted(leg_kinds):
            self.legs[kind] = fill_stretch(self.sizes, front.left_leg, kind, self.width)
        for kind in sorted(set(front.over_kinds) - leg_kinds):
            self.alone[kind] = _over_alone(self.sizes, front, kind, self.width)
        if any(not len(x.table) for x in self.legs.values()):
            return None
        first = self._search(self._best_legs(), self.limit)
        limit = min(self.limit, first[0]) if first else self.limit
        least = {
            k: 2 * joined(x.words[order(x.words)[0]]) for k, x in self.legs.items()
        }
        wanted = {}
        for kind, rows in self.legs.items():
            rest = limit - sum(least.values()) + least[kind]
            ok = not_over(2 * rows.words, as_words(rest))
            wanted[kind] = np.nonzero(ok)[0]
        found = self._search(wanted, limit)
        if found is None:
            return None
        return self._report(*found)

    def _best_legs(self) -> dict[int, Ints]:
        """Return the best fillings of the legs by themselves, to begin from."""
        search = Search(
            {kind: x.words for kind, x in self.legs.items()},
            meeting_prices(self.legs, self.front.left_leg, self.sizes),
            lambda kind, at: joints_key(self.legs[kind].table, at),
        )
        found = search.best()
        chosen = {} if found is None else found[1]
        return {kind: np.array([at]) for kind, at in chosen.items()}

    def _search(
        self, wanted: dict[int, Ints], limit: int
    ) -> tuple[int, dict[int, int], dict[int, _Kind]] | None:
        kinds = {
            kind: self._kind(kind, wanted.get(kind))
            for kind in sorted({*self.front.leg_kinds, *self.front.over_kinds})
        }
        if any(not len(x.words) for x in kinds.values()):
            return None
        self._prune(kinds, limit)
        if any(not len(x.words) for x in kinds.values()):
            return None
        for kind, some in kinds.items():
            self._lay_out(kind, some)
        search = Search(
            {kind: x.words for kind, x in kinds.items()},
            self._prices(kinds),
            lambda kind, at: self._tie(kinds[kind], at),
        )
        found = search.best(limit)
        return None if found is None else (*found, kinds)

    def _kind(self, kind: int, wanted: Ints | None) -> _Kind:
        rows = self.legs.get(kind)
        if rows is None or wanted is None:
            over = self.alone[kind]
            return _Kind(None, over, over.leg, over.words[over.at])
        some = rows.take(wanted)
        if kind not in self.front.over_kinds:
            return _Kind(some, None, np.arange(len(wanted)), 2 * some.words)
        front = self.front
        opening = Opening(front.left, front.jambs[0], front.about, front.ends[0])
        over = fill_over(some, opening, self.width)
        words = 2 * some.words[over.leg] + over.words[over.at]
        return _Kind(some, over, over.leg, words)

    @staticmethod
    def _prune(kinds: dict[int, _Kind], limit: int) -> None:
        """Leave out what is over the limit with the least that the others add."""
        if limit >= ENDLESS:
            return
        least = {k: joined(x.words[order(x.words)[0]]) for k, x in kinds.items()}
        for kind, some in kinds.items():
            rest = limit - sum(least.values()) + least[kind]
            ok = not_over(some.words, as_words(rest))
            some.words, some.leg = some.words[ok], some.leg[ok]
            some.ways = some.ways.take(ok) if some.ways is not None else None

    def _lay_out(self, kind: int, some: _Kind) -> None:
        if some.ways is None:
            return
        legs = None if some.rows is None else some.rows.table
        some.table = whole_rows(legs, some.ways, self.front.about)
        ends = self.front.ends
        at = Setting(self.sizes, self.sizes.bond.rows[kind], ends, (0, 0), False)
        some.perpends = joints_of(some.table, at)

    def _prices(self, kinds: dict[int, _Kind]) -> dict[tuple[int, int], Price]:
        bond, front = self.sizes.bond, self.front
        legs = set(bond.meetings(front.leg_kinds))
        over = set(bond.meetings(front.over_kinds))
        head = head_of(front)
        pairs = legs | over | ({(min(head), max(head))} if head else set())
        return {
            pair: self._price(kinds, pair, pair in legs, pair in over, head)
            for pair in sorted(pairs)
        }

    def _price(
        self,
        kinds: dict[int, _Kind],
        pair: tuple[int, int],
        in_legs: bool,
        in_over: bool,
        head: tuple[int, int] | None,
    ) -> Price:
        one, other = kinds[pair[0]], kinds[pair[1]]

        meets = self._meetings(one, other, pair, (in_legs, in_over), head)

        def price(a: Ints, b: Ints, pairs: Pairs) -> None:
            for meet in meets:
                meet(a, b, pairs)

        return price

    def _meetings(
        self,
        one: _Kind,
        other: _Kind,
        pair: tuple[int, int],
        where: tuple[bool, bool],
        head: tuple[int, int] | None,
    ) -> list[_Meet]:
        """Return what is judged where two kinds meet: legs, over, and the head."""
        front, found = self.front, []
        wide = front.right - front.left
        if where[0] and one.rows is not None and other.rows is not None:
            at = Meeting(self.sizes, pair, front.left_leg.width)
            mine, theirs = (one.rows.joints, one.leg), (other.rows.joints, other.leg)
            found.append(_Meet("legs", mine, theirs, at, 2))
        mine_over, theirs_over = _every(one), _every(other)
        if where[1] and one.perpends is not None and other.perpends is not None:
            at = Meeting(self.sizes, pair, wide)
            found.append(
                _Meet("over", (one.perpends, mine_over), (other.perpends, theirs_over),
                      at, 1)
            )  # fmt: skip
        if head and sorted(head) == list(pair):
            at = Meeting(self.sizes, pair, wide, at_head=True)
            if head[0] == pair[0] and one.rows is not None and other.perpends:
                found.append(
                    _Meet("head", (one.rows.joints, one.leg),
                          (other.perpends, theirs_over), at, 2)
                )  # fmt: skip
            if head[0] != pair[0] and other.rows is not None and one.perpends:
                found.append(
                    _Meet("head", (one.perpends, mine_over),
                          (other.rows.joints, other.leg), at, 2)
                )  # fmt: skip
        return found

    def _tie(self, some: _Kind, at: int) -> tuple[object, ...]:
        leg = (
            () if some.rows is None else joints_key(some.rows.table, int(some.leg[at]))
        )
        over = () if some.table is None else joints_key(some.table, at)
        return (leg, over)

    def _report(
        self, total: int, chosen: dict[int, int], kinds: dict[int, _Kind]
    ) -> Solved:
        zones: dict[str, dict[int, Filling]] = {}
        parts = []
        for kind, at in chosen.items():
            some, pattern = kinds[kind], self.sizes.bond.rows[kind].pattern
            if some.rows is not None:
                leg = some.rows.take(some.leg[[at]])
                right = leg.table.mirrored(self.front.about)
                for zone, table in (("left leg", leg.table), ("right leg", right)):
                    zones.setdefault(zone, {})[kind] = filling_of(
                        table, 0, self.sizes, pattern
                    )
                    parts.append(Part(zone, (kind,), as_tuple(joined(leg.words[0]))))
            if some.table is not None and some.ways is not None:
                over = filling_of(some.table, at, self.sizes, pattern)
                zones.setdefault("over", {})[kind] = over
                words = some.ways.words[some.ways.at[at]]
                parts.append(Part("over", (kind,), as_tuple(joined(words))))
        parts += self._meeting_parts(chosen, kinds)
        return Solved(zones, tuple(parts), as_tuple(total), searched_all=True)

    def _meeting_parts(
        self, chosen: dict[int, int], kinds: dict[int, _Kind]
    ) -> list[Part]:
        bond, front = self.sizes.bond, self.front
        legs, over = bond.meetings(front.leg_kinds), bond.meetings(front.over_kinds)
        parts = []
        for pair in self._prices(kinds):
            one, other = kinds[pair[0]], kinds[pair[1]]
            where = pair in legs, pair in over
            for meet in self._meetings(one, other, pair, where, head_of(front)):
                words = price_of(meet, chosen[pair[0]], chosen[pair[1]])
                parts.append(Part(meet.zone, pair, as_tuple(joined(words))))
        return parts


def solve_mirrored(
    sizes: Sizes, front: Front, width: Width, known: Merit | None = None
) -> Solved | None:
    """Return the best mirrored way.

    Args:
        sizes: the bond and the brick.
        front: where.
        width: how wide the search is.
        known: the merit of a way that is known.

    Returns:
        None where there is no way, or none as good as the one that is known.
    """
    limit = ENDLESS if known is None else from_tuple(known)
    return Mirrored(sizes, front, width, limit).solve()
