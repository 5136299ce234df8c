"""The search of a mirrored front finds what trying every pair of candidates finds."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from shopdraw.masonry.bonding.answer import solve_front, solve_return
from shopdraw.masonry.bonding.front import Front
from shopdraw.masonry.bonding.fronts import Mirrored
from shopdraw.masonry.bonding.legs import LegSpan, Width, fill_stretch
from shopdraw.masonry.bonding.search import Search
from shopdraw.masonry.rows.bonds import BONDS
from shopdraw.masonry.rows.meetings import Pairs
from shopdraw.masonry.rows.merit import WORDS, Ints, as_tuple, joined, order
from tests.masonry.bonding.walls import INCH, on_grid, sizes_of


def best_of_all_pairs(search: Mirrored) -> int:
    """Return the best merit of two kinds, every pair of candidates priced."""
    kinds = {}
    for kind in (0, 1):
        search.legs[kind] = fill_stretch(
            search.sizes, search.front.left_leg, kind, search.width
        )
    for kind in (0, 1):
        every = np.arange(len(search.legs[kind].table))
        kinds[kind] = search._kind(kind, every)
        search._lay_out(kind, kinds[kind])
    price = search._prices(kinds)[0, 1]
    best = None
    for a in range(len(kinds[0].words)):
        b = np.arange(len(kinds[1].words))
        own = kinds[0].words[a] + kinds[1].words[b]
        free = np.full((len(b), WORDS), 1 << 61)
        pairs = Pairs(own, free, b, np.zeros_like(own))
        price(np.full(len(b), a), b, pairs)
        total = own + pairs.added
        here = joined(total[order(total)[0]])
        best = here if best is None else min(best, here)
    assert best is not None
    return best


@pytest.mark.parametrize("seed", range(5))
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
    best = best_of_all_pairs(Mirrored(sizes, front, Width()))
    assert found is not None
    assert found.merit == as_tuple(best)


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
    assert solved.searched_all == is_mirrored
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
    laid = solve_return(sizes_of(bond), stretch).zones["return"]
    first = [laid[kind].pieces[0][1] for kind in (0, 1)]
    assert first == [on_grid("3 5/8"), on_grid("7 5/8")]


def test_there_is_no_answer_where_one_kind_has_no_candidate() -> None:
    """A leg between two corners that is too narrow for one of its rows."""
    nothing = np.zeros((0, WORDS), np.int64)
    one = np.zeros((1, WORDS), np.int64)

    def price(a: Ints, b: Ints, pairs: Pairs) -> None:
        raise AssertionError((a, b, pairs))

    for words in ({0: one, 1: nothing}, {0: nothing, 1: one}):
        assert Search(words, {(0, 1): price}, lambda *_: ()).best() is None
    assert Search({0: one}, {}, lambda *_: ()).best() == (0, {0: 0})
