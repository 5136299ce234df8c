"""Where less is asked for than was found, an answer is had that was missed."""

from __future__ import annotations

import numpy as np
import pytest

from shopdraw.masonry.bond import solve
from shopdraw.masonry.bonding import answer, unlike
from shopdraw.masonry.bonding.courses import BestCourses
from shopdraw.masonry.bonding.unlike import narrowed
from shopdraw.masonry.rows.merit import (
    LEVELS,
    Ints,
    as_tuple,
    joined,
    not_over,
    pack,
    with_at_most,
)
from tests.bench.bonds import KINDS, hold

A_LAP_SHORT = 109
"""In this wall the legs that are best by themselves leave a lap under the least."""


def words_of(**counts: int) -> Ints:
    """Return words of a few levels, by their numbers."""
    return pack({int(k[1:]): np.array([x]) for k, x in counts.items()}, 1)[0]


def found_of(words: Ints) -> BestCourses:
    """Return an answer with nothing but its merit."""
    return BestCourses(words, {}, ())


@pytest.mark.parametrize("number", [3, 7, 14, 24])
def test_a_limit_is_at_its_level_and_leaves_what_comes_after(number: int) -> None:
    words = words_of(n2=5, **{f"n{number}": 3})
    limit = with_at_most(words, number, 2)
    counts = {n: np.array([5 if n == 2 else 0]) for n in range(1, len(LEVELS) + 1)}
    for count, is_within in ((2, True), (3, False)):
        after = {n: np.array([1]) for n in range(number + 1, len(LEVELS) + 1)}
        some = pack(counts | {number: np.array([count])} | after, 1)
        assert not_over(some, limit)[0] == is_within
    assert not not_over(pack({2: np.array([6])}, 1), limit)[0]


def test_each_level_is_asked_for_until_less_is_ruled_out() -> None:
    there = [
        words_of(n3=a, n14=b, n20=c) for a, b, c in ((1, 0, 9), (0, 7, 2), (0, 5, 4))
    ]
    asked = list[tuple[int, ...]]()

    def ask(limit: Ints) -> tuple[BestCourses | None, bool]:
        asked.append(as_tuple(joined(limit)))
        some = [x for x in there if not_over(x[None], limit)[0]]
        return (found_of(some[0]), False) if some else (None, True)

    best = narrowed(found_of(there[0]), there[0], ask)
    assert best is not None
    assert tuple(best.words) == tuple(there[2])
    assert len(asked) < 20


def test_past_a_level_left_undecided_nothing_is_asked() -> None:
    asked = list[int]()

    def ask(limit: Ints) -> tuple[BestCourses | None, bool]:
        asked.append(as_tuple(joined(limit))[2])
        return None, False

    first = found_of(words_of(n3=1, n14=3))
    assert narrowed(first, first.words, ask) is first
    assert asked == [0]


@pytest.mark.parametrize("asks", [True, False])
def test_a_lap_under_the_least_is_not_left_where_there_is_a_way_without(
    monkeypatch: pytest.MonkeyPatch, asks: bool
) -> None:
    monkeypatch.setattr(answer, "WORK", (600_000, 0, 0))
    monkeypatch.setattr(answer, "PATIENCE", (0, 0, 0))
    if not asks:
        monkeypatch.setattr(unlike.Unlike, "_bettered", lambda _, best, __: best)
        monkeypatch.setattr(unlike.Unlike, "_leg_by_leg", lambda *_: None)
    solve._front.cache_clear()
    held = hold(KINDS["common, header every 6th, unlike legs"].kind, A_LAP_SHORT)
    solve._front.cache_clear()
    fails = {merit for face, merit in held.given if face == "front" and merit < 7}
    assert fails == (set() if asks else {3, 4})
