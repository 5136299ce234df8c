"""The legs of a front whose legs differ: how each may stand, and what it hands on.

In:  a leg's span, the kinds.   Out: `Side`; `Arms`, two kinds' legs that may stand.
Frame: grid lengths; each leg begins at its own end, on the left.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from shopdraw.masonry.bonding.legs import LegSpan, Rows, joints_key
from shopdraw.masonry.bonding.toothing import Toothing
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge
from shopdraw.masonry.rows.merit import (
    ENDLESS,
    SAWN,
    WORDS,
    Ints,
    joined,
    least_of,
    not_over,
    order,
    pack,
)
from shopdraw.masonry.rows.search import (
    Pair,
    Price,
    Together,
    Tree,
    best_together,
    linked,
)
from shopdraw.masonry.rows.sizes import Sizes

MOST_ARMS = 20_000
"""So many pairs of classes are gone on with, the best, wherever there are more."""
NO_LEG = np.zeros((1, WORDS), np.int64)


@dataclass(frozen=True)
class Arms:
    """How the legs of some kinds that meet may stand on one side, the best first.

    Attributes:
        options: of each kind, what its filling hands on, of shape (arms, kinds).
        fillings: the best filling for it, of the same shape.
        joints: the joint that each hands on; 0 where it goes with any.
        words: what they cost beyond the least of each option.
        bound: the least that the whole side comes to with them, and with what is sure
            to lie beside it.
    """

    options: Ints
    fillings: Ints
    joints: Ints
    words: Ints
    bound: Ints

    def __len__(self) -> int:
        return len(self.bound)

    def take(self, which: Ints) -> Arms:
        """Return some of them."""
        return Arms(
            self.options[which], self.fillings[which], self.joints[which],
            self.words[which], self.bound[which],
        )  # fmt: skip

    @property
    def least(self) -> Ints:
        """The least that they come to."""
        words: Ints = self.bound[0]
        return words

    def within(self, limit: Ints) -> Arms:
        """Return those that are no worse than a limit."""
        return self.take(np.arange(int(not_over(self.bound, limit).sum())))

    def first_of_each(self, most: int) -> Arms:
        """Return the best so many, as many for each set of joints."""
        if not len(self):
            return self
        _, hand = np.unique(self.joints, axis=0, return_inverse=True)
        each = max(most // (int(hand.max()) + 1), 2)
        ranked = np.argsort(hand.reshape(-1), kind="stable")
        sorted_hand = hand.reshape(-1)[ranked]
        place = np.arange(len(ranked)) - np.searchsorted(sorted_hand, sorted_hand)
        return self.take(np.sort(ranked[place < each])[:most])


@dataclass
class Side:
    """One side of a front.

    Attributes:
        sizes: the bond and the brick.
        span: where the leg is.
        rows: by kind, the leg's fillings; kinds that lie only over the opening lack.
        toothing: by kind, what they hand on.
        words: by kind, each filling's merit; of nothing where there is no leg.
        meetings: the kinds that meet, here or over the opening.
    """

    sizes: Sizes
    span: LegSpan
    rows: dict[int, Rows]
    toothing: dict[int, Toothing]
    words: dict[int, Ints]
    meetings: list[Pair]

    def __post_init__(self) -> None:
        in_legs = self.sizes.bond.meetings(self.span.kinds)
        self.prices: dict[Pair, tuple[Price, ...]] = {}
        for pair in self.meetings:
            at = Meeting(self.sizes, pair, self.span.width)
            self.prices[pair] = ()
            if pair in in_legs and set(pair) <= set(self.rows):
                one, other = (self.rows[kind].joints for kind in pair)
                self.prices[pair] = (MeetingJudge(one, other, at),)
        self.is_cut_short = False
        self.sure: dict[tuple[int, ...], tuple[Price, ...]] = {}
        self.base = {
            kind: least_of(self.words[kind], x.of, len(x.first_of))
            for kind, x in self.toothing.items()
        }

    def options(self, kind: int) -> int:
        """Return how many options a kind's fillings have."""
        return len(self.toothing[kind].owner) if kind in self.toothing else 1

    def option_words(self, kind: int) -> Ints:
        """Return the least that the fillings of each option come to."""
        if kind not in self.toothing:
            return NO_LEG
        words: Ints = self.base[kind][self.toothing[kind].owner]
        return words

    def best(self) -> Together | None:
        """Return the best way to lay this leg by itself."""
        judges = {pair: some[0] for pair, some in self.prices.items() if some}
        own = {kind: self.words[kind] for kind in self.rows}
        return best_together(
            own, judges, lambda kind, at: joints_key(self.rows[kind].table, at)
        )

    def few(self, best: Mapping[int, int], count: int) -> dict[int, Ints]:
        """Return words in which only a few fillings count, the best of each joint."""
        few = {}
        for kind, words in self.words.items():
            few[kind] = words
            if kind in self.rows:
                joint = self.rows[kind].table.joint
                ranked = order(words)
                ranked = ranked[np.argsort(joint[ranked], kind="stable")]
                hand = joint[ranked]
                place = np.arange(len(ranked)) - np.searchsorted(hand, hand)
                many = np.unique(joint).size
                each = min(max(count // many, 1), count // 2)
                some = np.append(ranked[place < each], best.get(kind, ranked[0]))
                few[kind] = np.tile(ENDLESS, (len(words), 1))
                few[kind][some] = words[some]
        return few

    def only(self, fillings: Mapping[int, int]) -> dict[int, Ints]:
        """Return words in which one filling of each kind counts."""
        words = dict(self.words)
        for kind, filling in fillings.items():
            if kind in self.rows:
                words[kind] = np.tile(ENDLESS, (len(self.words[kind]), 1))
                words[kind][filling] = self.words[kind][filling]
        return words

    @property
    def work(self) -> int:
        """How many pairs of fillings meet here."""
        sizes = {kind: len(words) for kind, words in self.words.items()}
        return sum(sizes[one] * sizes[other] for one, other in self.meetings)

    def best_few(self, most: int) -> dict[int, Ints]:
        """Return words in which only so many fillings of each kind count, the best."""
        few = {}
        for kind, words in self.words.items():
            few[kind] = np.tile(ENDLESS, (len(words), 1))
            some = order(words)[:most]
            few[kind][some] = words[some]
        return few

    def with_joints(
        self, words: Mapping[int, Ints], facing: Mapping[int, Ints]
    ) -> dict[int, Ints]:
        """Return words in which only fillings count that go with some joints.

        Args:
            words: by kind, what counts already.
            facing: by kind, the joints of the other side; 0 where it goes with any.
        """
        words = dict(words)
        for kind, joints in facing.items():
            if kind in self.toothing and (joints > 0).all():
                mine = self.rows[kind].table.joint
                ok = (mine == 0) | np.isin(mine, joints)
                words[kind] = np.where(ok[:, None], words[kind], ENDLESS)
        return words

    def arms(
        self, own: Mapping[int, Ints], limit: Ints
    ) -> dict[tuple[int, ...], Arms] | None:
        """Return how the legs of each two kinds that meet may stand, within a limit.

        A kind that meets none comes by itself.

        Returns:
            None where nothing is within the limit.
        """
        tree = linked(own, self.prices, limit)
        if tree.is_broken:
            return None
        found = dict[tuple[int, ...], Arms]()
        for pair in self.meetings:
            links = tree.links[pair]
            bound = tree.pairs(pair) + self._rest(tree, pair)
            fillings = np.column_stack([links.one, links.other])
            found[pair] = self._arms(pair, fillings, links.words, bound, limit)
        for kind in self.words:
            if not any(kind in pair for pair in self.meetings):
                words = own[kind]
                bound = words + self._rest(tree, (kind,))
                some = np.nonzero(words[:, 0] < ENDLESS[0])[0]
                none = np.zeros((len(some), WORDS), np.int64)
                bound = bound[some]
                found[(kind,)] = self._arms((kind,), some[:, None], none, bound, limit)
        return found

    def _rest(self, tree: Tree, kinds: Iterable[int]) -> Ints:
        """Return the least of all kinds that are not linked to some."""
        joined_to = set().union(*(tree.joined_to(kind) for kind in kinds))
        rest = np.zeros(WORDS, np.int64)
        for kind, words in tree.own.items():
            if kind not in joined_to:
                rest = rest + words[order(words)[0]]
        return rest

    def _arms(
        self,
        kinds: tuple[int, ...],
        fillings: Ints,
        words: Ints,
        bound: Ints,
        limit: Ints,
    ) -> Arms:
        """Return the best fillings for each options, within the limit."""
        classes, code = np.zeros_like(fillings), np.zeros(len(fillings), np.int64)
        for column, kind in enumerate(kinds):
            of = fillings[:, column]
            words = words + self.words[kind][of]
            if kind in self.toothing:
                some = self.toothing[kind]
                classes[:, column] = some.of[of]
                words = words - self.base[kind][classes[:, column]]
                code = code * len(some.first_of) + classes[:, column]
        ranked = order(bound)
        ranked = ranked[: int(not_over(bound, limit).sum())]
        first = ranked[np.sort(np.unique(code[ranked], return_index=True)[1])]
        if len(first) > MOST_ARMS:
            first, self.is_cut_short = first[:MOST_ARMS], True
        options, joints = classes[first], np.zeros_like(classes[first])
        for column, kind in enumerate(kinds):
            if kind in self.toothing:
                some = self.toothing[kind]
                whose, option = some.options(options[:, column])
                first, options, joints = first[whose], options[whose], joints[whose]
                options[:, column], joints[:, column] = option, some.joint[option]
        beside = self._beside(kinds, options)
        bound = bound[first] + beside
        ranked = order(bound)[: int(not_over(bound, limit).sum())]
        first = first[ranked]
        return Arms(
            options[ranked], fillings[first], joints[ranked],
            words[first], bound[ranked],
        )  # fmt: skip

    def _beside(self, kinds: tuple[int, ...], options: Ints) -> Ints:
        """Return the least that what lies beside the leg, over the opening, costs."""
        words = pack({}, len(options))
        for price in self.sure.get(kinds, ()):
            words = words + price(options[:, 0], options[:, -1])
        return words


def side_by_side_arms(
    one: Arms, other: Arms, limit: Ints, spend: Callable[[int], None]
) -> tuple[Ints, Ints]:
    """Return which arms of two sides go together by their joints, within a limit.

    Args:
        one: the arms of the left.
        other: those of the right.
        limit: what both may come to.
        spend: told how many they are, before they are listed.
    """
    found = [np.zeros((2, 0), np.int64)]
    if not len(one) or not len(other):
        return found[0][0], found[0][1]
    many = [
        int(not_over(x.bound + y.bound[0], limit).sum())
        for x, y in ((one, other), (other, one))
    ]
    hands, of = np.unique(one.joints[: many[0]], axis=0, return_inverse=True)
    sums, most = [joined(x) for x in other.bound[: many[1]]], joined(limit)
    for at, hand in enumerate(hands):
        joints = other.joints[: many[1]]
        same = (joints == hand) | (joints == 0) | (hand == 0)
        facing = np.nonzero(same.all(axis=1))[0]
        some, counts = [sums[x] for x in facing], list[int]()
        mine = np.nonzero(of.reshape(-1) == at)[0]
        for arm in mine:
            counts.append(bisect_right(some, most - joined(one.bound[arm])))
            if not counts[-1]:
                break
            spend(counts[-1])
        count = np.array(counts, np.int64)
        whose = np.repeat(mine[: len(count)], count)
        place = np.arange(len(whose)) - np.repeat(np.cumsum(count) - count, count)
        found.append(np.stack([whose, facing[place]]))
    one_of, other_of = np.concatenate(found, axis=1)
    return one_of, other_of


def pack_sawn(rows: Rows, courses: int) -> Ints:
    """Return each filling's merit, with the sawn pieces of so many courses."""
    words: Ints = rows.words + pack({SAWN: courses * rows.sawn}, len(rows.sawn))
    return words
