"""Search a table for each kind for the best that can lie together, to the end.

In:  candidates with their own merits, and what a pair costs where two kinds meet.
Out: the best, one candidate a kind.
Frame: none.

The kinds that meet make a tree. A candidate is tried only while its own merit, with
the least that the others could add, is no worse than the best found.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np

from shopdraw.masonry.rows.meetings import Pairs
from shopdraw.masonry.rows.merit import WORDS, Flags, Ints, joined, order

Price: TypeAlias = Callable[[Ints, Ints, Pairs], None]
"""Given pairs of candidates of two kinds, adds what their meetings cost."""
Tie: TypeAlias = Callable[[int, int], tuple[object, ...]]
"""Given a kind and a candidate, what equal merits are told apart by."""
PAIRS_AT_ONCE = 1 << 15
ENDLESS = 1 << 70 * WORDS


@dataclass(frozen=True)
class Barred:
    """Pairs of candidates that are known to be too bad, by the group each is in.

    Attributes:
        one, other: the group of each candidate of the two kinds.
        is_open: of shape (groups, groups), which groups may still be paired.
    """

    one: Ints
    other: Ints
    is_open: Flags

    def turned(self) -> Barred:
        """Return the same, seen from the other kind."""
        return Barred(self.other, self.one, self.is_open.T)


@dataclass
class _Kind:
    """One kind's candidates, best first."""

    kind: int
    rank: Ints
    words: Ints
    own: list[int]
    below: list[tuple[_Kind, Price]] = field(default_factory=list)
    least_below: int = 0
    found: dict[int, tuple[int, int, _Best]] = field(default_factory=dict)


_Best: TypeAlias = dict[int, int]


def _grow(
    kind: int,
    words: dict[int, Ints],
    prices: dict[tuple[int, int], Price],
    seen: set[int],
) -> _Kind:
    """Return a kind with the kinds that hang on it."""
    seen.add(kind)
    rank = order(words[kind])
    mine = words[kind][rank]
    node = _Kind(kind, rank, mine, [joined(x) for x in mine])
    for (one, other), price in sorted(prices.items(), key=lambda x: x[0]):
        if kind not in (one, other):
            continue
        child = other if kind == one else one
        if child in seen:
            continue
        grown = _grow(child, words, prices, seen)
        facing = price if kind == one else _turned(price)
        node.below.append((grown, facing))
        node.least_below += grown.own[0] + grown.least_below
    return node


def _turned(price: Price) -> Price:
    return lambda one, other, pairs: price(other, one, pairs)


@dataclass
class Search:
    """The best of a candidate for each kind.

    Attributes:
        words: by kind, every candidate's own merit.
        prices: by two kinds, what their meeting adds.
        tie: what equals are told apart by.
        barred: by two kinds, which of their candidates can't be in a wanted answer.
    """

    words: dict[int, Ints]
    prices: dict[tuple[int, int], Price]
    tie: Tie
    barred: dict[tuple[int, int], Barred] = field(default_factory=dict)

    def best(self, limit: int = ENDLESS) -> tuple[int, dict[int, int]] | None:
        """Return the best merit, as one number, and its candidate of each kind.

        Args:
            limit: nothing worse than this is wanted.

        Returns:
            None where everything is worse than the limit, or a kind has no candidate.
        """
        if not all(len(words) for words in self.words.values()):
            return None
        total, chosen, seen = 0, dict[int, int](), set[int]()
        for kind in sorted(self.words):
            if kind in seen:
                continue
            found = self._best_of_tree(
                _grow(kind, self.words, self.prices, seen), limit
            )
            if found is None:
                return None
            total += found[0]
            chosen |= found[1]
        return total, chosen

    def _best_of_tree(self, root: _Kind, limit: int) -> tuple[int, _Best] | None:
        best: tuple[int, _Best] | None = None
        at, batch = 0, 4
        while at < len(root.own):
            last = bisect_right(root.own, limit - root.least_below)
            some = list(range(at, min(at + batch, last)))
            if not some:
                break
            for merit, chosen in self._values(root, some, limit):
                if (
                    best is None
                    or merit < best[0]
                    or (merit == best[0] and self._ties(chosen) < self._ties(best[1]))
                ):
                    best = merit, chosen
                    limit = min(limit, merit)
            at += batch
            batch = min(2 * batch, 256)
        return best

    def _ties(self, chosen: _Best) -> list[tuple[object, ...]]:
        return [self.tie(kind, chosen[kind]) for kind in sorted(chosen)]

    def _values(
        self, node: _Kind, some: Sequence[int], limit: int
    ) -> list[tuple[int, _Best]]:
        """Return for some candidates the best with all that hangs on them.

        Only those no worse than the limit are returned.
        """
        values = {at: (node.own[at], {node.kind: int(node.rank[at])}) for at in some}
        waiting = node.least_below
        for child, price in node.below:
            waiting -= child.own[0] + child.least_below
            budgets = {at: limit - value - waiting for at, (value, _) in values.items()}
            hung = self._hang(node, child, price, budgets)
            values = {
                at: (value + hung[at][0], chosen | hung[at][1])
                for at, (value, chosen) in values.items()
                if at in hung
            }
        return [x for x in values.values() if x[0] <= limit]

    def _hang(
        self, node: _Kind, child: _Kind, price: Price, budgets: dict[int, int]
    ) -> dict[int, tuple[int, _Best]]:
        """Return for candidates of a node the best child, within each one's budget."""
        best: dict[int, tuple[int, _Best]] = {}
        budgets = dict(budgets)
        barred = self._barred(node.kind, child.kind)
        groups = None if barred is None else barred.other[child.rank]
        begin, end = 0, 64
        while begin < len(child.own):
            pairs = []
            for at, budget in budgets.items():
                last = bisect_right(child.own, budget - child.least_below)
                if last <= begin:
                    continue
                some = np.arange(begin, min(last, end))
                if barred is not None and groups is not None:
                    is_open = barred.is_open[barred.one[node.rank[at]]]
                    some = some[is_open[groups[begin : min(last, end)]]]
                pairs.append((at, some))
            if not pairs:
                break
            self._try(node, child, price, pairs, budgets, best)
            begin, end = end, 4 * end
        return best

    def _barred(self, kind: int, child: int) -> Barred | None:
        if (kind, child) in self.barred:
            return self.barred[kind, child]
        turned = self.barred.get((child, kind))
        return None if turned is None else turned.turned()

    def _try(
        self,
        node: _Kind,
        child: _Kind,
        price: Price,
        spans: list[tuple[int, Ints]],
        budgets: dict[int, int],
        best: dict[int, tuple[int, _Best]],
    ) -> None:
        parents = [at for at, _ in spans]
        one = np.repeat(np.arange(len(spans)), [len(some) for _, some in spans])
        other = np.concatenate([some for _, some in spans])
        for start in range(0, len(one), PAIRS_AT_ONCE):
            mine, theirs = (x[start : start + PAIRS_AT_ONCE] for x in (one, other))
            limits = np.array(
                [as_words(budgets[at] - child.least_below) for at in parents]
            )
            pairs = Pairs(
                child.words[theirs],
                limits[mine],
                np.arange(len(mine)),
                np.zeros((len(mine), WORDS), np.int64),
            )
            at = node.rank[np.array(parents)[mine]]
            price(at, child.rank[theirs], pairs)
            total = pairs.total[pairs.which] + pairs.added
            for place in order(total):
                pair = pairs.which[place]
                parent, k = parents[int(mine[pair])], int(theirs[pair])
                added = joined(pairs.added[place])
                self._keep(child, parent, k, added, budgets, best)

    def _keep(
        self,
        child: _Kind,
        parent: int,
        k: int,
        added: int,
        budgets: dict[int, int],
        best: dict[int, tuple[int, _Best]],
    ) -> None:
        """Keep a pair if it is its parent's best yet."""
        budget = budgets[parent]
        if child.own[k] + child.least_below + added > budget:
            return
        if child.below:
            values = self._values(child, [k], budget - added)
            if not values:
                return
            merit, chosen = values[0]
        else:
            merit, chosen = child.own[k], {child.kind: int(child.rank[k])}
        merit += added
        had = best.get(parent)
        if (
            had is None
            or merit < had[0]
            or (merit == had[0] and self._ties(chosen) < self._ties(had[1]))
        ):
            best[parent] = merit, chosen
            budgets[parent] = min(budget, merit)


def as_words(number: int) -> Ints:
    """Return a number as words, the first of which may be below nothing."""
    number = min(number, (1 << 62 * WORDS) - 1)
    words = []
    for _ in range(WORDS - 1):
        words.append(number & ((1 << 62) - 1))
        number >>= 62
    return np.array([number, *reversed(words)], np.int64)


def price_of(price: Price, one: int, other: int) -> Ints:
    """Return the words that the meeting of two candidates costs."""
    endless = np.tile(as_words(ENDLESS), (1, 1))
    nothing = np.zeros((1, WORDS), np.int64)
    pairs = Pairs(nothing, endless, np.arange(1), nothing)
    price(np.array([one]), np.array([other]), pairs)
    added: Ints = pairs.added[0]
    return added
