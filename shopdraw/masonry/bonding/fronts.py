"""Solve a front that is its own mirror image: its legs, and the courses over.

In:  `Front`, `Sizes`.   Out: the best, searched to the end.
Frame: grid lengths; the left leg is laid, and the right one is its mirror image.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from shopdraw.masonry.bonding.candidates import (
    TABLED,
    Candidates,
    Judgement,
    best_of_legs,
    every_of,
)
from shopdraw.masonry.bonding.faces import LaidRow, Part, Solved, filling_of, joints_key
from shopdraw.masonry.bonding.front import Front, head_of
from shopdraw.masonry.bonding.legs import (
    Rows,
    Width,
    fill_stretch,
    meeting_prices,
)
from shopdraw.masonry.bonding.over import (
    Over,
    OverSpan,
    fill_over,
    mirror_spellings,
    whole_rows,
)
from shopdraw.masonry.bonding.search import (
    ENDLESS,
    Barred,
    Price,
    Search,
    as_words,
    price_of,
)
from shopdraw.masonry.rows.forms import Speller, with_closers
from shopdraw.masonry.rows.judge import RowSetting, judge_rows
from shopdraw.masonry.rows.layer import Cuts, RowLayer
from shopdraw.masonry.rows.meetings import (
    Meeting,
    Pairs,
    joints_of,
    judge_meetings,
)
from shopdraw.masonry.rows.merit import (
    Flags,
    Ints,
    Merit,
    as_tuple,
    from_tuple,
    joined,
    not_over,
    order,
)
from shopdraw.masonry.rows.sizes import Sizes

SECOND_TRIED = 40
"""So many of the best fillings of each leg are tried next, for a closer bound."""


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
        layer = RowLayer(sizes, row, Cuts(least, least, sizes.bats(step)))
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
    at = RowSetting(sizes, row, front.ends, (leg, leg), is_leg=False)
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
            wanted[kind] = order(rows.words)[: int(ok.sum())]
        few = {kind: some[:SECOND_TRIED] for kind, some in wanted.items()}
        if any(len(some) > SECOND_TRIED for some in wanted.values()):
            second = self._search(few, limit)
            limit = min(limit, second[0]) if second else limit
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
    ) -> tuple[int, dict[int, int], dict[int, Candidates]] | None:
        kinds = {
            kind: self._kind(kind, wanted.get(kind))
            for kind in sorted({*self.front.leg_kinds, *self.front.over_kinds})
        }
        if any(not len(x.words) for x in kinds.values()):
            return None
        self._prune(kinds, limit)
        if any(not len(x.words) for x in kinds.values()):
            return None
        barred = self._bar(kinds, limit)
        if any(not len(x.words) for x in kinds.values()):
            return None
        for kind, some in kinds.items():
            self._lay_out(kind, some)
        search = Search(
            {kind: x.words for kind, x in kinds.items()},
            self._prices(kinds),
            lambda kind, at: self._tie(kinds[kind], at),
            barred,
        )
        found = search.best(limit)
        return None if found is None else (*found, kinds)

    def _kind(self, kind: int, wanted: Ints | None) -> Candidates:
        rows = self.legs.get(kind)
        if rows is None or wanted is None:
            over = self.alone[kind]
            return Candidates(None, over, over.leg, over.words[over.at])
        some = rows.take(wanted)
        if kind not in self.front.over_kinds:
            return Candidates(some, None, np.arange(len(wanted)), 2 * some.words)
        front = self.front
        opening = OverSpan(front.left, front.jambs[0], front.about, front.ends[0])
        over = fill_over(some, opening, self.width)
        words = 2 * some.words[over.leg] + over.words[over.at]
        return Candidates(some, over, over.leg, words)

    @staticmethod
    def _prune(kinds: dict[int, Candidates], limit: int) -> None:
        """Leave out what is over the limit with the least that the others add."""
        if limit >= ENDLESS:
            return
        least = {k: joined(x.words[order(x.words)[0]]) for k, x in kinds.items()}
        for kind, some in kinds.items():
            rest = limit - sum(least.values()) + least[kind]
            ok = not_over(some.words, as_words(rest))
            some.keep(ok)

    def _bar(
        self, kinds: dict[int, Candidates], limit: int
    ) -> dict[tuple[int, int], Barred]:
        """Return which legs can't stand over one another in a wanted answer."""
        if limit >= ENDLESS:
            return {}
        least = {k: joined(x.words[order(x.words)[0]]) for k, x in kinds.items()}
        found: dict[tuple[int, int], Flags] = {}
        for pair in self.sizes.bond.meetings(self.front.leg_kinds):
            one, other = (kinds[kind] for kind in pair)
            if one.ways is None or other.ways is None:
                continue
            added = self._legs_meet(one.rows, other.rows, pair)
            if added is None:
                continue
            rest = limit - sum(least.values()) + least[pair[0]] + least[pair[1]]
            best = (best_of_legs(one)[:, None] + best_of_legs(other)[None]) + added
            flat = best.reshape(-1, best.shape[2])
            is_open = not_over(flat, as_words(rest)).reshape(best.shape[:2])
            found[pair] = is_open
        for (first, second), is_open in found.items():
            kinds[first].keep(np.asarray(is_open.any(axis=1))[kinds[first].leg])
            kinds[second].keep(np.asarray(is_open.any(axis=0))[kinds[second].leg])
        return {
            (first, second): Barred(kinds[first].leg, kinds[second].leg, is_open)
            for (first, second), is_open in found.items()
        }

    def _legs_meet(
        self, one: Rows | None, other: Rows | None, pair: tuple[int, int]
    ) -> Ints | None:
        """Return what every two fillings of a leg cost where they meet, both legs."""
        if one is None or other is None:
            return None
        ones, others = len(one.table), len(other.table)
        if ones * others > TABLED:
            return None
        at = Meeting(self.sizes, pair, self.front.left_leg.width)
        a, b = np.repeat(np.arange(ones), others), np.tile(np.arange(others), ones)
        words = 2 * judge_meetings(one.joints.take(a), other.joints.take(b), at)
        return words.reshape(ones, others, -1)

    def _lay_out(self, kind: int, some: Candidates) -> None:
        if some.ways is None:
            return
        legs = None if some.rows is None else some.rows.table
        some.table = whole_rows(legs, some.ways, self.front.about)
        ends = self.front.ends
        at = RowSetting(self.sizes, self.sizes.bond.rows[kind], ends, (0, 0), False)
        some.perpends = joints_of(some.table, at)

    def _prices(self, kinds: dict[int, Candidates]) -> dict[tuple[int, int], Price]:
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
        kinds: dict[int, Candidates],
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
        one: Candidates,
        other: Candidates,
        pair: tuple[int, int],
        where: tuple[bool, bool],
        head: tuple[int, int] | None,
    ) -> list[Judgement]:
        """Return what is judged where two kinds meet: legs, over, and the head."""
        front, found = self.front, []
        wide = front.right - front.left
        if where[0] and one.rows is not None and other.rows is not None:
            at = Meeting(self.sizes, pair, front.left_leg.width)
            mine, theirs = (one.rows.joints, one.leg), (other.rows.joints, other.leg)
            found.append(Judgement("legs", mine, theirs, at, 2))
        mine_over, theirs_over = every_of(one), every_of(other)
        if where[1] and one.perpends is not None and other.perpends is not None:
            at = Meeting(self.sizes, pair, wide)
            found.append(
                Judgement(
                    "over",
                    (one.perpends, mine_over),
                    (other.perpends, theirs_over),
                    at,
                    1,
                )
            )
        if head and sorted(head) == list(pair):
            at = Meeting(self.sizes, pair, wide, at_head=True)
            if head[0] == pair[0] and one.rows is not None and other.perpends:
                found.append(
                    Judgement("head", (one.rows.joints, one.leg),
                          (other.perpends, theirs_over), at, 2)
                )  # fmt: skip
            if head[0] != pair[0] and other.rows is not None and one.perpends:
                found.append(
                    Judgement("head", (one.perpends, mine_over),
                          (other.rows.joints, other.leg), at, 2)
                )  # fmt: skip
        return found

    def _tie(self, some: Candidates, at: int) -> tuple[object, ...]:
        leg = (
            () if some.rows is None else joints_key(some.rows.table, int(some.leg[at]))
        )
        over = () if some.table is None else joints_key(some.table, at)
        return (leg, over)

    def _report(
        self, total: int, chosen: dict[int, int], kinds: dict[int, Candidates]
    ) -> Solved:
        zones: dict[str, dict[int, LaidRow]] = {}
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
        self, chosen: dict[int, int], kinds: dict[int, Candidates]
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
