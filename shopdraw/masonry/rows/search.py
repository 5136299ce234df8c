"""Choose one candidate of each kind, so that those that meet cost least, to the end.

In:  candidates with their own merits, and what pairs cost where two kinds meet.
Out: the best, one candidate a kind.
Frame: none.

The kinds that meet make a tree. What everything beyond a candidate costs at least is
handed along it, from kind to kind; so the least that any candidate, and any pair, can
come to is known, and what is over the limit is left out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Protocol, TypeAlias

import numpy as np

from shopdraw.masonry.rows.merit import (
    ENDLESS,
    WORDS,
    Flags,
    Ints,
    least_of,
    not_over,
    order,
    pack,
)

Pair: TypeAlias = tuple[int, int]
PAIRS_AT_ONCE = 1 << 17
FIRST_TRIED = 32
"""The limit rises past so many candidates of a kind, then past half as many more; where
a good one is given, past four times as many."""
MORE_LAPS = 2, 6, 20, 80
"""Then past so many laps under the least."""
NO_LIMIT = ENDLESS - np.array([1, *[0] * (WORDS - 1)])


class Price(Protocol):
    """What two kinds' candidates cost where they meet."""

    def __call__(self, a: Ints, b: Ints) -> Ints:
        """Return words for pairs of candidates."""

    def take(self, a: Ints, b: Ints) -> Price:
        """Return the same of some of the candidates."""


@dataclass(frozen=True)
class Links:
    """Pairs of two kinds' candidates, and what each costs where it meets.

    Attributes:
        one, other: the candidates, of shape (pairs,).
        words: what their meetings cost.
    """

    one: Ints
    other: Ints
    words: Ints

    def take(self, which: Ints | Flags) -> Links:
        """Return some of the pairs."""
        return Links(self.one[which], self.other[which], self.words[which])


NO_LINKS = Links(
    np.zeros(0, np.int64), np.zeros(0, np.int64), np.zeros((0, WORDS), np.int64)
)


@dataclass
class Tree:
    """Kinds with their candidates, and the pairs of those that meet.

    Attributes:
        own: by kind, every candidate's own merit.
        links: by two kinds, the pairs that are looked at.
    """

    own: Mapping[int, Ints]
    links: dict[Pair, Links] = field(default_factory=dict)
    handed: dict[Pair, Ints] = field(default_factory=dict)

    def toward(self, kind: int, leaving: int | None) -> Ints:
        """Return the least that candidates come to without what lies one way."""
        total = self.own[kind]
        for pair in self.links:
            if kind in pair:
                beyond = pair[1] if kind == pair[0] else pair[0]
                if beyond != leaving:
                    total = total + self.hand_on(beyond, kind)
        return np.where(total[:, :1] < ENDLESS[0], total, ENDLESS)

    def hand_on(self, beyond: int, kind: int) -> Ints:
        """Return the least that a kind's candidates pay for all that lies one way."""
        if (beyond, kind) not in self.handed:
            links = self.links.get((kind, beyond)) or _turned(self.links[beyond, kind])
            words = links.words + self.toward(beyond, kind)[links.other]
            count = len(self.own[kind])
            self.handed[beyond, kind] = least_of(words, links.one, count)
        return self.handed[beyond, kind]

    def within(self, own: Mapping[int, Ints], limit: Ints) -> Tree:
        """Return the pairs that are no worse than a limit with other merits."""
        tree = Tree(own, self.links)
        kept = {
            pair: links.take(not_over(tree.pairs(pair), limit))
            for pair, links in self.links.items()
        }
        return Tree(own, kept)

    @property
    def is_broken(self) -> bool:
        """Whether two kinds that meet have no pair."""
        return any(not len(links.one) for links in self.links.values())

    def pairs(self, pair: Pair) -> Ints:
        """Return the least that everything comes to with each pair of two kinds."""
        links = self.links[pair]
        one, other = self.toward(pair[0], pair[1]), self.toward(pair[1], pair[0])
        total = links.words + one[links.one] + other[links.other]
        return np.where(total[:, :1] < ENDLESS[0], total, ENDLESS)

    def least(self) -> Ints:
        """Return the best merit; `ENDLESS` where nothing fits together."""
        total, seen = np.zeros(WORDS, np.int64), set[int]()
        for kind in sorted(self.own):
            if kind not in seen:
                seen |= self.joined_to(kind)
                total = total + least(self.toward(kind, None))
        return total if total[0] < ENDLESS[0] else ENDLESS

    def joined_to(self, kind: int) -> set[int]:
        """Return the kinds that are linked to one, itself among them."""
        found, more = set[int](), [kind]
        while more:
            at = more.pop()
            found.add(at)
            near = {x for pair in self.links if at in pair for x in pair}
            more += near - found
        return found

    def best(self, tie: Callable[[int, int], tuple[object, ...]]) -> dict[int, int]:
        """Return the best candidate of each kind, equals told apart kind by kind."""
        own, chosen = dict(self.own), dict[int, int]()
        tree = self
        for kind in sorted(own):
            total = tree.toward(kind, None)
            equal = np.nonzero((total == least(total)).all(axis=1))[0]
            at = min(equal.tolist(), key=lambda x: tie(kind, x))
            chosen[kind] = at
            own[kind] = np.tile(ENDLESS, (len(total), 1))
            own[kind][at] = self.own[kind][at]
            tree = Tree(own, self.links)
        return chosen


def _turned(links: Links) -> Links:
    return Links(links.other, links.one, links.words)


def check_tree(pairs: Mapping[Pair, object]) -> None:
    """See that kinds that meet make a tree, which the search relies on.

    Raises:
        ValueError: they go round in a ring.
    """
    group = {kind: kind for pair in pairs for kind in pair}
    for one, other in pairs:
        mine, theirs = group[one], group[other]
        if mine == theirs:
            message = "the kinds of course that meet go round in a ring"
            raise ValueError(message)
        group = {k: mine if g == theirs else g for k, g in group.items()}


def link(one: Ints, other: Ints, limit: Ints, judges: tuple[Price, ...]) -> Links:
    """Price every pair that may be no worse than a limit.

    Args:
        one: the least that each candidate comes to without the other.
        other: the same of the other kind.
        limit: what a pair may come to.
        judges: what adds to a pair's price, the harshest first.
    """
    found = [NO_LINKS]
    mine = np.nonzero(not_over(one + least(other), limit))[0]
    theirs = np.nonzero(not_over(other + least(one), limit))[0]
    one, other = one[mine], other[theirs]
    judges = tuple(judge.take(mine, theirs) for judge in judges)
    at_once = max(PAIRS_AT_ONCE // max(len(other), 1), 1)
    for start in range(0, len(one), at_once):
        some = one[start : start + at_once]
        a, b = np.nonzero(some[:, None, 0] + other[None, :, 0] <= limit[0])
        a += start
        at, price = priced(a, b, one[a] + other[b], limit, judges)
        found.append(Links(mine[a[at]], theirs[b[at]], price))
    return joined_links(found)


def priced(
    a: Ints, b: Ints, least: Ints, limit: Ints, judges: tuple[Price, ...]
) -> tuple[Ints, Ints]:
    """Price pairs, and keep those that are no worse than a limit.

    Args:
        a: the first candidate of each pair.
        b: the second.
        least: the least that each pair comes to without its price.
        limit: what a pair may come to.
        judges: what adds to the price.

    Returns:
        Which pairs are kept, and their prices.
    """
    at = np.nonzero(not_over(least, limit))[0]
    price = np.zeros((len(at), WORDS), np.int64)
    for judge in judges:
        price = price + judge(a[at], b[at])
        ok = not_over(least[at] + price, limit)
        at, price = at[ok], price[ok]
    return at, price


def products(keys: Ints, among: Ints) -> Iterator[tuple[Ints, Ints]]:
    """Yield each key's place with the places that it has among others, many at once.

    Args:
        keys: what is looked for.
        among: sorted; where it is looked for.
    """
    begin = np.searchsorted(among, keys, "left")
    count = np.searchsorted(among, keys, "right") - begin
    total = np.cumsum(count)
    start = 0
    while start < len(keys):
        done = total[start] - count[start]
        stop = max(
            int(np.searchsorted(total, done + PAIRS_AT_ONCE, "right")), start + 1
        )
        some = count[start:stop]
        key = np.repeat(np.arange(start, stop), some)
        place = np.arange(len(key)) - np.repeat(np.cumsum(some) - some, some)
        yield key, begin[key] + place
        start = stop


def joined_links(found: list[Links]) -> Links:
    """Return the pairs of several lists in one."""
    return Links(
        np.concatenate([x.one for x in found]),
        np.concatenate([x.other for x in found]),
        np.concatenate([x.words for x in found]),
    )


def linked(
    own: Mapping[int, Ints], prices: Mapping[Pair, tuple[Price, ...]], limit: Ints
) -> Tree:
    """Price the pairs of kinds that meet, but those that are over the limit."""
    tree = Tree(own)
    for pair, some in prices.items():
        one, other = (tree.toward(kind, None) for kind in pair)
        joined = tree.joined_to(pair[0]) | tree.joined_to(pair[1])
        rest = limit - sum(least(own[kind]) for kind in own if kind not in joined)
        links = link(one, other, rest, some)
        tree = Tree(own, {**tree.links, pair: links})
        if not len(links.one):
            none = dict.fromkeys(prices, NO_LINKS)
            return Tree(own, none)
    return tree


def least(words: Ints) -> Ints:
    """Return the best of some words; `ENDLESS` where there are none."""
    best: Ints = least_of(words, np.zeros(len(words), np.int64), 1)[0]
    return best


def best_together(
    own: Mapping[int, Ints],
    prices: Mapping[Pair, Price],
    tie: Callable[[int, int], tuple[object, ...]],
) -> tuple[Ints, dict[int, int]] | None:
    """Return the best merit, and the candidate of each kind that it is come to with.

    Args:
        own: by kind, every candidate's own merit.
        prices: by two kinds that meet, what each pair costs.
        tie: what equals are told apart by.

    Returns:
        None where some kind has no candidate.
    """
    check_tree(prices)
    judges = {pair: (price,) for pair, price in prices.items()}
    if not all(len(words) for words in own.values()):
        return None
    few = {kind: np.tile(ENDLESS, (len(words), 1)) for kind, words in own.items()}
    for kind, words in own.items():
        some = order(words)[:FIRST_TRIED]
        few[kind][some] = words[some]
    known = linked(few, judges, NO_LIMIT).least()
    known = known if known[0] < ENDLESS[0] else NO_LIMIT
    for limit in rising_limits(own, known):
        tree = linked(own, judges, limit)
        total = tree.least()
        if total[0] < ENDLESS[0] and not_over(total[None], limit)[0]:
            return total, tree.best(tie)
    return None


def rising_limits(own: Mapping[int, Ints], limit: Ints) -> Iterator[Ints]:
    """Yield limits that let more and more candidates in, up to one that is given."""
    sums = {kind: words[order(words)] for kind, words in own.items()}
    base = np.sum([x[0] for x in sums.values()], axis=0)
    limits, most = list[Ints](), FIRST_TRIED
    while any(len(x) > most for x in sums.values()):
        past = [base + x[most] - x[0] for x in sums.values() if len(x) > most]
        limits.append(min(past, key=tuple))
        most = most * 3 // 2 if limit[0] == NO_LIMIT[0] else most * 4
    limits = [x for x in limits if x[0] == base[0]]
    for laps in (0, *MORE_LAPS):
        more = base + pack({3: np.array([laps])}, 1)[0]
        more[1:] = ENDLESS[0]
        limits.append(more)
    yield from (x for x in limits if not_over(x[None], limit)[0])
    yield limit
