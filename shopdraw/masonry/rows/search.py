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
from typing import Protocol, TypeAlias, TypeVar

import numpy as np

from shopdraw.masonry.rows.merit import (
    ENDLESS,
    WORDS,
    Flags,
    Ints,
    first_of,
    least,
    least_of,
    not_over,
    order,
)

Pair: TypeAlias = tuple[int, int]
PAIRS_AT_ONCE = 1 << 17
EVERY = 1 << 62
TRIED = (256, 256), (EVERY, 2048), (EVERY, EVERY)
"""So many candidates of a kind, and so many pairs of two kinds, are tried, the best by
themselves. What they come to rules out most others before more are tried."""
NO_LIMIT = ENDLESS - np.array([1, *[0] * (WORDS - 1)])


class Price(Protocol):
    """What two kinds' candidates cost where they meet."""

    def __call__(self, a: Ints, b: Ints) -> Ints:
        """Return words for pairs of candidates."""

    def first_words(self, begin: int, end: int) -> Ints:
        """Return the first word alone, of some with all of the other kind."""

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
        is_whole: whether these are all that are within the limit.
    """

    own: Mapping[int, Ints]
    links: dict[Pair, Links] = field(default_factory=dict)
    is_whole: bool = True
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

    def within(self, limit: Ints) -> Tree:
        """Return the pairs that are no worse than a limit."""
        kept = {
            pair: links.take(not_over(self.pairs(pair), limit))
            for pair, links in self.links.items()
        }
        return Tree(self.own, kept)

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

    def looked_at(self, kind: int) -> Ints:
        """Return the candidates of a kind that stand in a pair, or may stand alone."""
        found = [
            links.one if kind == pair[0] else links.other
            for pair, links in self.links.items()
            if kind in pair
        ]
        if not found:
            return np.nonzero(self.own[kind][:, 0] < ENDLESS[0])[0]
        return np.unique(np.concatenate(found))

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


def link(
    one: Ints, other: Ints, limit: Ints, judges: tuple[Price, ...], most: int
) -> tuple[Links, bool]:
    """Price every pair that may be no worse than a limit, or the best of them.

    Args:
        one: the least that each candidate comes to without the other.
        other: the same of the other kind.
        limit: what a pair may come to.
        judges: what adds to a pair's price, the harshest first.
        most: how many pairs are kept.

    Returns:
        The pairs, and whether they are all.
    """
    found, is_whole, enough = [NO_LINKS], True, limit
    mine = np.nonzero(not_over(one + least(other), limit))[0]
    theirs = np.nonzero(not_over(other + least(one), limit))[0]
    one, other = one[mine], other[theirs]
    judges = tuple(judge.take(mine, theirs) for judge in judges)
    at_once = max(PAIRS_AT_ONCE // max(len(other), 1), 1)
    for start in range(0, len(one), at_once):
        some = one[start : start + at_once]
        first = some[:, None, 0] + other[None, :, 0]
        for judge in judges:
            first = first + judge.first_words(start, start + len(some))
        a, b = np.nonzero(first <= limit[0])
        words = some[a] + other[b]
        if len(a) > most:
            rough = words.copy()
            rough[:, 0] = first[a, b]
            at = np.nonzero(not_over(rough, limit))[0]
            if len(at) > most:
                at, is_whole = at[first_of(rough[at], most)[:most]], False
                enough = rough[at[order(rough[at])[-1]]]
            a, b, words = a[at], b[at], words[at]
        a += start
        at, price = priced(a, b, words, limit, judges)
        found.append(Links(mine[a[at]], theirs[b[at]], price))
        limit = limit if is_whole else enough
    return joined_links(found), is_whole


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
    names = "one", "other", "words"
    return Links(*(np.concatenate([getattr(x, n) for x in found]) for n in names))


def linked(
    own: Mapping[int, Ints],
    prices: Mapping[Pair, tuple[Price, ...]],
    limit: Ints,
    most: int = EVERY,
) -> Tree:
    """Price the pairs of kinds that meet, but those that are over the limit.

    Args:
        own: by kind, every candidate's own merit.
        prices: by two kinds that meet, what each pair costs.
        limit: what everything may come to.
        most: how many pairs of two kinds are looked at.
    """
    tree = Tree(own)
    for pair, some in prices.items():
        one, other = (tree.toward(kind, None) for kind in pair)
        joined = tree.joined_to(pair[0]) | tree.joined_to(pair[1])
        rest = limit - sum(least(own[kind]) for kind in own if kind not in joined)
        links, is_whole = link(one, other, rest, some, most)
        tree = Tree(own, {**tree.links, pair: links}, tree.is_whole and is_whole)
        if not len(links.one):
            return Tree(own, dict.fromkeys(prices, NO_LINKS), tree.is_whole)
    return tree


class Answer(Protocol):
    """Something found."""

    @property
    def words(self) -> Ints:
        """Its merit."""


Found = TypeVar("Found", bound=Answer)


def best_within(
    own: Mapping[int, Ints],
    limit: Ints,
    find: Callable[[dict[int, Ints], Ints, int], tuple[Found | None, bool]],
) -> Found | None:
    """Return the best that can be made of candidates, searched to the end.

    Args:
        own: by kind, the least that anything comes to with each candidate.
        limit: what the best may come to.
        find: told what to try, all else being `ENDLESS`, a limit, and how many pairs
            to look at; returns the best, and whether those were all pairs.
    """
    best, base = None, {kind: least(words) for kind, words in own.items()}
    done = {kind: np.zeros(len(words), np.bool_) for kind, words in own.items()}
    is_whole = False
    for candidates, pairs in TRIED:
        tried = dict[int, Ints]()
        for kind, words in own.items():
            rest = limit - sum(x for k, x in base.items() if k != kind)
            tried[kind] = np.nonzero(not_over(words, rest))[0]
        is_whole &= all(done[k][x].all() for k, x in tried.items())
        if is_whole or not all(map(len, tried.values())):
            return best
        for kind, words in own.items():
            some = tried[kind][first_of(words[tried[kind]], candidates)]
            done[kind][some] = True
            tried[kind] = np.tile(ENDLESS, (len(words), 1))
            tried[kind][some] = words[some]
        found, is_whole = find(tried, limit, pairs)
        if found is not None:
            best, limit = found, found.words
    return best


@dataclass(frozen=True)
class Together:
    """The best merit, and the candidate of each kind that it is come to with."""

    words: Ints
    chosen: Mapping[int, int]


def best_together(
    own: Mapping[int, Ints],
    prices: Mapping[Pair, Price],
    tie: Callable[[int, int], tuple[object, ...]],
) -> Together | None:
    """Return the best candidates of every kind.

    Args:
        own: by kind, every candidate's own merit.
        prices: by two kinds that meet, what each pair costs.
        tie: what equals are told apart by.

    Returns:
        None where some kind has no candidate.
    """
    check_tree(prices)
    judges = {pair: (price,) for pair, price in prices.items()}

    def find(
        tried: dict[int, Ints], limit: Ints, pairs: int
    ) -> tuple[Together | None, bool]:
        tree = linked(tried, judges, limit, pairs)
        total = tree.least()
        if total[0] >= ENDLESS[0] or not not_over(total[None], limit)[0]:
            return None, tree.is_whole
        return Together(total, tree.best(tie)), tree.is_whole

    if not all(len(words) for words in own.values()):
        return None
    return best_within(own, NO_LIMIT, find)
