"""Ends that lean, jambs that turn in, legs beside soldiers, against the brute force.

It lays and judges them by its own reading of the statement (`brute_force`, 27 to 29).
A few of each bond here; more in the benchmark: `python -m tests.bench brute`.
"""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.masonry.bond import beside
from shopdraw.masonry.bonding.legs import Rows
from tests.longer import mostly_long
from tests.masonry.bonding.brute_force import Run, Wall
from tests.masonry.bonding.test_against_brute_force import sizes_of as plain_sizes_of
from tests.masonry.bonding.test_against_brute_force import wall_of
from tests.masonry.ends import compared
from tests.masonry.ends.compared import (
    MAKERS,
    bonds_of,
    compare,
    compare_front,
    compare_run,
    small_front,
)

SEEDS = {
    "turned_run": {"half": 9, "third": 9, "stack": 2, "Flemish": 6, "common-5": 9},
    "leaning_run": {"half": 6, "Flemish": 10, "English": 8, "common-5": 5},
    "turned_front": {"half": 1, "third": 2, "quarter": 3, "stack": 8, "Flemish": 2,
                     "English": 6, "common-6": 6},
    "leaning_front": {"stack": 3},
    "leaning_return": {"half": 2},
    "turned_unlike": {"quarter": 5},
}  # fmt: skip
"""Which wall of a bond, if not the first: those that were answered otherwise once, and
quick ones."""


EVERY = [(what, name) for what in MAKERS for name in bonds_of(what)]
LONG = {
    *(("leaning_unlike", x) for x in ("English", "common-6", "quarter", "half")),
    ("turned_unlike", "half"),
}
"""These take longest, and other bonds have the like."""


@pytest.mark.parametrize(
    ("what", "name"), mostly_long(EVERY, *(x for x in EVERY if x not in LONG))
)
def test_no_wall_with_such_ends_has_a_better_answer(name: str, what: str) -> None:
    compare(what, name, SEEDS.get(what, {}).get(name, 0))


@pytest.mark.parametrize(
    ("what", "name"),
    [
        ("leaning_run", "English"),
        ("leaning_return", "half"),
        ("leaning_front", "stack"),
        ("leaning_unlike", "Flemish"),
    ],
)
def test_a_lean_that_is_forgotten_is_noticed(
    monkeypatch: pytest.MonkeyPatch, what: str, name: str
) -> None:
    monkeypatch.setattr(compared, "sizes_of", plain_sizes_of)
    with pytest.raises(AssertionError, match="judged otherwise"):
        compare(what, name, SEEDS.get(what, {}).get(name, 0))


def test_units_that_turn_the_wrong_way_at_the_jamb_are_noticed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(compared, "sizes_of", plain_sizes_of)
    wall = crossed_flemish()
    with pytest.raises(AssertionError):
        compare_front(wall, "Flemish")


@pytest.mark.parametrize("lost", ["_not_carried", "against"])
def test_courses_beside_soldiers_that_meet_nothing_are_noticed(
    monkeypatch: pytest.MonkeyPatch, lost: str
) -> None:
    def nothing(*some: object) -> object:
        rows = next(x for x in some if isinstance(x, Rows))
        return 0 * rows.words

    monkeypatch.setattr(beside, lost, nothing)
    with pytest.raises(AssertionError):
        compare_all("beside_soldiers", "half", 8)


def compare_all(what: str, name: str, walls: int) -> None:
    """Fail where our answer to one of so many walls is not the brute force's."""
    for number in range(walls):
        compare(what, name, number)


def test_a_lone_leg_at_a_jamb_that_leans_is_judged_by_what_is_left_of_it() -> None:
    wall = wall_of(random.Random(1), "half")
    # Where the lean takes most 3 are left of 3 1/4: five steps less than a half bat
    # less a step, not two.
    run = Run(F(13, 4), "corner", "jamb", courses=12, jamb_lean=F(1, 4))
    compare_run(replace(wall, face=run), "half")


def crossed_flemish() -> Wall:
    """Return a front whose legs have just room for a quoin's closer and both units."""
    wall, leg = small_front(random.Random(3), "Flemish"), F(109, 8)
    face = replace(
        wall.face, width=2 * leg + 12, left=leg, right=leg, left_end="corner",
        right_end="corner", legs=3, over=3, jamb="turned", crossed=True,
    )  # fmt: skip
    return replace(wall, face=face)


def test_the_quoins_closer_stays_where_a_unit_turns_into_the_jamb_next_to_it() -> None:
    compare_front(crossed_flemish(), "Flemish")
