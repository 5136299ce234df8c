"""The search finds what trying every pair of candidates finds."""

from __future__ import annotations

from itertools import product
from random import Random

import numpy as np
import pytest

from shopdraw.masonry.bonding.answer import solve_front, solve_stretch
from shopdraw.masonry.bonding.courses import Courses, perpends_of_both
from shopdraw.masonry.bonding.fronts import Mirrored
from shopdraw.masonry.bonding.legs import Front, LegSpan, Width, head_of
from shopdraw.masonry.rows.bonds import BONDS
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge
from shopdraw.masonry.rows.merit import WORDS, Ints
from shopdraw.masonry.rows.search import best_together
from tests.longer import mostly_long
from tests.masonry.bonding.walls import INCH, leg_of, lengths, on_grid, sizes_of


def best_of_all_pairs(search: Mirrored) -> tuple[int, ...]:
    """Return the best words of two kinds, every pair of candidates priced."""
    front, sizes = search.front, search.sizes
    search.kinds = {kind: search._kind(kind) for kind in (0, 1)}
    kinds = list(search.kinds.values())
    for kind, some in enumerate(kinds):
        search._go_on(kind, np.arange(len(some.words)))
    legs = [kind.legs for kind in kinds]
    laid = []
    for kind, some in enumerate(kinds):
        words, over = search._way_words(kind, some.over), some.over
        every = np.arange(len(words))
        whole = search._whole(kind, some.legs, over, every)
        laid.append(Courses(over.leg, every, words, words, *whole))
    own = [k.words[x.leg] + x.words for k, x in zip(kinds, laid, strict=True)]
    on_legs = Meeting(sizes, (0, 1), front.left_leg.width, times=2)
    over = Meeting(sizes, (0, 1), front.right - front.left, skips=True)
    head = Meeting(sizes, (0, 1), front.right - front.left, at_head=True, skips=True)
    below, _ = head_of(front)
    both = perpends_of_both(legs[below].joints.take(laid[below].leg), front.about)
    stand = [both if k == below else laid[k].joints for k in (0, 1)]
    judges = (
        MeetingJudge(*(legs[k].joints.take(laid[k].leg) for k in (0, 1)), on_legs),
        MeetingJudge(laid[0].joints, laid[1].joints, over),
        MeetingJudge(*stand, head),
    )
    best = None
    for a in range(len(own[0])):
        every = np.arange(len(own[1]))
        same = np.full(len(every), a)
        total = own[0][same] + own[1]
        total = total + sum(judge(same, every) for judge in judges)
        here = min(map(tuple, total.tolist()))
        best = here if best is None else min(best, here)
    assert best is not None
    return best


# Two that take longest are for the long run: of each bond one is here.
@pytest.mark.parametrize("seed", mostly_long(range(8), 0, 1, 2, 3, 4, 7))
def test_a_mirrored_front_is_searched_to_the_end(seed: int) -> None:
    rng = Random(seed)
    name = ("half", "third", "quarter", "English")[seed % 4]
    sizes = sizes_of(BONDS[name], step="1/4")
    leg = rng.randrange(8 * 16 + 8, 10 * 16) * INCH // 16
    opening = rng.randrange(9 * 16, 14 * 16) * INCH // 16
    end = rng.choice(["corner", "free"])
    front = Front(
        0, 2 * leg + opening, (leg, leg + opening), (end, end), (0, 1) * 3, (0, 1), True
    )
    found = Mirrored(sizes, front, Width()).solve()
    assert found is not None
    assert tuple(found.words.tolist()) == best_of_all_pairs(
        Mirrored(sizes, front, Width())
    )


@pytest.mark.parametrize("is_mirrored", [True, False])
def test_the_parts_add_up_and_every_row_fills_its_width(*, is_mirrored: bool) -> None:
    bond = BONDS["half"]
    jambs = (on_grid("13"), on_grid("43"))
    right = on_grid("56") if is_mirrored else on_grid("61")
    front = Front(
        0, right, jambs, ("corner", "corner"), (0, 1, 0), (1, 0, 1), is_mirrored
    )
    solved = solve_front(sizes_of(bond), front)
    merits = zip(*(part.merit for part in solved.parts), strict=True)
    assert tuple(map(sum, merits)) == solved.merit
    assert solved.searched_all
    for zone, ends in (
        ("left leg", (0, jambs[0])),
        ("right leg", (jambs[1], right)),
        ("over", (0, right)),
    ):
        for filling in solved.zones[zone].values():
            assert (filling.pieces[0][0], filling.pieces[-1][1]) == ends


def test_a_return_shows_the_other_legs() -> None:
    bond = BONDS["half"]
    stretch = LegSpan(0, on_grid("13 1/8"), "corner", "wall", (0, 1))
    laid = solve_stretch(sizes_of(bond).round_the_corner(), stretch).zones["leg"]
    first = [laid[kind].pieces[0][1] for kind in (0, 1)]
    assert first == [on_grid("3 5/8"), on_grid("7 5/8")]


@pytest.mark.parametrize("most", [0, 1])
def test_of_equals_that_with_fewer_sawn_pieces_in_all_courses_is_laid(
    most: int,
) -> None:
    """Either kind may have the two bats: the one that is laid less often gets them."""
    bond, few = BONDS["half"], 1 - most
    leg = leg_of("15 5/8", "free", bond)
    kinds = (most, few, most)
    stretch = LegSpan(leg.left, leg.right, leg.near, leg.far, kinds)
    laid = solve_stretch(sizes_of(bond), stretch).zones["leg"]
    assert lengths(laid[most]) == [122, 122]
    assert lengths(laid[few]) == [58, 122, 58]


class Table:
    """The price of every pair of two kinds' candidates."""

    def __init__(self, words: Ints) -> None:
        self.words = words

    def __call__(self, a: Ints, b: Ints) -> Ints:
        return self.words[a, b]

    def first_words(self, begin: int, end: int) -> Ints:
        return self.words[begin:end, :, 0]

    def take(self, a: Ints, b: Ints) -> Table:
        return Table(self.words[a][:, b])


def random_words(rng: np.random.Generator, *shape: int) -> Ints:
    return rng.integers(0, 3, (*shape, WORDS))


@pytest.mark.parametrize("seed", range(6))
def test_kinds_in_a_row_are_searched_to_the_end(seed: int) -> None:
    rng = np.random.default_rng(seed)
    count = {kind: int(rng.integers(3, 9)) for kind in range(4)}
    own = {kind: random_words(rng, n) for kind, n in count.items()}
    prices = {
        pair: Table(random_words(rng, count[pair[0]], count[pair[1]]))
        for pair in ((0, 1), (0, 2), (1, 3))
    }
    every = {}
    for chosen in product(*(range(n) for n in count.values())):
        total = sum(own[kind][at] for kind, at in enumerate(chosen))
        total = total + sum(
            price.words[chosen[one], chosen[other]]
            for (one, other), price in prices.items()
        )
        every[chosen] = (tuple(total.tolist()), chosen)
    found = best_together(own, prices, lambda _, at: (at,))
    assert found is not None
    words, chosen = min(every.values())
    assert tuple(found.words.tolist()) == words
    assert tuple(found.chosen[kind] for kind in range(4)) == chosen


def test_kinds_that_go_round_in_a_ring_are_refused() -> None:
    one = np.zeros((1, WORDS), np.int64)
    ring = dict.fromkeys(((0, 1), (1, 2), (0, 2)), Table(one[None]))
    with pytest.raises(ValueError, match="ring"):
        best_together(dict.fromkeys(range(3), one), ring, lambda *_: ())


def test_there_is_no_answer_where_one_kind_has_no_candidate() -> None:
    """A leg between two corners that is too narrow for one of its rows."""
    nothing = np.zeros((0, WORDS), np.int64)
    one = np.zeros((1, WORDS), np.int64)
    for words in ({0: one, 1: nothing}, {0: nothing, 1: one}):
        price = Table(np.zeros((len(words[0]), len(words[1]), WORDS), np.int64))
        assert best_together(words, {(0, 1): price}, lambda *_: ()) is None
    found = best_together({0: one}, {}, lambda *_: ())
    assert found is not None
    assert found.chosen == {0: 0}
