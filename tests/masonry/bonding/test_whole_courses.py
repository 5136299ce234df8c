"""Legs that differ, held against each other by whole courses: nothing good is lost."""

from __future__ import annotations

import random

import numpy as np
import pytest

from shopdraw.masonry.bonding import unlike, unlike_whole
from shopdraw.masonry.bonding.answer import WIDENINGS
from shopdraw.masonry.bonding.courses import NO_END, BestCourses
from shopdraw.masonry.bonding.unlike import Unlike
from shopdraw.masonry.bonding.unlike_within import Beside, TableOfArms
from shopdraw.masonry.rows.bonds import each_kind
from shopdraw.masonry.rows.laps import Sieve
from shopdraw.masonry.rows.merit import Ints, with_at_most
from tests.masonry.bonding.test_unlike import SMALL_ENOUGH, front_of, ours_of


class Held:
    """A small front whose legs differ, its best way, and arms that may be as good."""

    def __init__(self, name: str, seed: int) -> None:
        sizes, front = ours_of(front_of(random.Random(f"whole {seed}"), name, 8), name)
        self.search = Unlike(sizes, front, WIDENINGS[1], NO_END)
        found = self.search.solve()
        assert found is not None
        self.best: BestCourses = found
        self.search._set_up(each_kind((*front.leg_kinds, *front.over_kinds)))
        arms = self.search._arms_of([x.words for x in self.search.sides], found.words)
        assert arms is not None
        self.arms: list[TableOfArms] = arms

    def beside(self, limit: Ints) -> Beside | None:
        """Return which arms may stand side by side within a limit."""
        return self.search._held_whole(self.arms, limit)


@pytest.mark.parametrize("name", SMALL_ENOUGH)
def test_the_best_way_is_still_among_those_that_are_left(name: str) -> None:
    held = Held(name, 1)
    limit = held.best.words
    beside = held.beside(limit)
    assert beside is not None
    found = held.search._within(held.arms, limit, beside)
    assert found is not None
    assert (found.words == limit).all()
    less = limit - np.array([*[0] * (len(limit) - 1), 1])
    beside = held.beside(less)
    assert beside is not None
    is_any = all(len(one) for one, _ in beside.values())
    assert not is_any or held.search._within(held.arms, less, beside) is None


def test_courses_that_are_said_to_meet_nowhere_leave_no_way(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    held = Held("half", 1)
    monkeypatch.setattr(Sieve, "pairs", lambda *_: iter(()))
    beside = held.beside(held.best.words)
    assert beside is not None
    assert not all(len(one) for one, _ in beside.values())


def test_of_too_many_legs_nothing_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    held = Held("half", 1)
    monkeypatch.setattr(unlike_whole, "MOST_LEGS", 1)
    assert held.beside(held.best.words) is None


def test_they_are_asked_where_a_rule_is_broken_and_few_arms_were_not_enough(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    held, asked = Held("half", 2), list[int]()
    whole = Unlike._held_whole

    def counted(self: Unlike, arms: list[TableOfArms], limit: Ints) -> Beside | None:
        asked.append(1)
        return whole(self, arms, limit)

    monkeypatch.setattr(Unlike, "_held_whole", counted)
    monkeypatch.setattr(unlike, "SOME", ())
    monkeypatch.setattr(unlike_whole, "LEGS", 0)
    no_laps = with_at_most(0 * held.best.words, 3, 0)
    found, is_none = held.search._some_within(no_laps)
    assert asked
    assert found is not None
    assert found.merit[:3] == held.best.merit[:3] == (0, 0, 0)
    assert not is_none
    asked.clear()
    held.search.work = unlike.PATIENT
    held.search._some_within(no_laps)
    assert not asked


@pytest.mark.parametrize("name", ["half", "English"])
def test_all_at_once_is_what_is_found_level_by_level(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked, better = list[int](), Unlike._bettered
    monkeypatch.setattr(
        Unlike, "_bettered", lambda *args: asked.append(1) or better(*args)
    )
    found = []
    for share in (1, 1 << 70):
        asked.clear()
        monkeypatch.setattr(unlike, "LITTLE", share)
        found.append(Held(name, 1).best)
        # Where no work is left to it, it is not sure of anything.
        assert bool(asked) == (share > 1)
    assert (found[0].words == found[1].words).all()
    assert found[0].tie == found[1].tie
