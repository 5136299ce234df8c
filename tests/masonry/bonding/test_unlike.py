"""Fronts whose legs differ against the brute force, on small walls of every bond."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction as F
from functools import cache

import numpy as np
import pytest

from shopdraw.masonry.bonding import answer, courses, unlike, unlike_within
from shopdraw.masonry.bonding.answer import solve_front
from shopdraw.masonry.bonding.courses import NO_END
from shopdraw.masonry.bonding.legs import Front, NoWayError, Width
from shopdraw.masonry.bonding.sides import Side
from shopdraw.masonry.bonding.unlike import Unlike
from shopdraw.masonry.bonding.unlike_within import TableOfArms
from shopdraw.masonry.rows.bonds import BONDS as OURS
from shopdraw.masonry.rows.laps import Sieve
from shopdraw.masonry.rows.merit import ENDLESS
from shopdraw.masonry.rows.search import NO_LIMIT
from shopdraw.masonry.rows.sizes import Sizes
from tests.longer import mostly_long
from tests.masonry.bonding import walls
from tests.masonry.bonding.brute_force import BONDS, Answer, Wall, best, judge, say
from tests.masonry.bonding.brute_trade import Front as BruteFront
from tests.masonry.bonding.test_against_brute_force import (
    grid,
    in_their_words,
    places,
    sizes_of,
    wall_of,
)
from tests.masonry.bonding.walls import on_grid

SMALL_ENOUGH = tuple(name for name in BONDS if name != "common-5")
SEEDS = {"common-6": 8}
"""Where the first front of a bond is a large one: another."""
FOUR_KINDS = 3
"""With four kinds of course most fronts are too large to go through; not this one."""
PARTS = {"left leg": "left", "right leg": "right", "over": "over"}


def front_of(pick: random.Random, name: str, most: int = 0) -> Wall:
    """Return a random front whose legs differ, small enough to be gone through.

    Args:
        pick: where chance comes from.
        name: the bond.
        most: by how many half inches each part may be wider than the least.
    """
    wall = wall_of(pick, name)
    spread = F(1, 16) if pick.random() < 0.15 else F(0)
    least = 9 if wall.unit < 9 else 13
    ends = [pick.choice(("corner", "free")) for _ in "ab"]
    left, right = (
        F(pick.randint(least, least + 2 + most), 2) + (2 if end == "corner" else 0)
        for end in ends
    )
    if left == right and ends[0] == ends[1]:
        left += F(1, 2)
    opening = F(pick.randint(3 * least // 2, 3 * least // 2 + 2 + most), 2)
    face = BruteFront(
        width=left + opening + right,
        left=left,
        right=right,
        left_end=ends[0],
        right_end=ends[1],
        legs=12 + pick.randint(0, 1),
        over=12,
    )
    return replace(
        wall,
        least_joint=wall.joint - spread,
        most_joint=wall.joint,
        face=face,
        free_step=F(2),
    )


def ours_of(wall: Wall, name: str) -> tuple[Sizes, Front]:
    """Return a brute wall's front in our words."""
    sizes, face = sizes_of(wall, name), wall.face
    cycle = sizes.bond.cycle
    kinds = [cycle[at % len(cycle)] for at in range(face.legs + face.over)]
    front = Front(
        0,
        grid(face.width),
        (grid(face.left), grid(face.width - face.right)),
        (face.left_end, face.right_end),
        tuple(kinds[: face.legs]),
        tuple(kinds[face.legs :]),
        face.own_mirror,
    )
    return sizes, front


def in_brute_rows(found, wall: Wall, name: str):
    """Return our rows as the brute force names them."""
    rows: dict = {}
    for zone, part in PARTS.items():
        for kind, filling in found.zones.get(zone, {}).items():
            rows.setdefault(kind, {})[part] = in_their_words(
                filling, wall, name, kind, part
            )
    return rows


@cache
def least_of(wall: Wall, name: str) -> Answer | None:
    """Return the brute force's answer, once for all that is held against it."""
    return best(wall, BONDS[name])


def compare(wall: Wall, name: str) -> None:
    """Fail where our answer's merit is not the brute force's."""
    found = solve_front(*ours_of(wall, name))
    wanted = least_of(wall, name)
    assert wanted is not None
    assert found.searched_all
    ours = judge(wall, BONDS[name], in_brute_rows(found, wall, name))
    rows = f"{in_brute_rows(found, wall, name)}\n{wanted.rows}"
    assert tuple(found.merit) == tuple(ours), (
        f"judged otherwise: {wall}\n{say(found.merit)}\n{say(ours)}\n{rows}"
    )
    assert tuple(ours) == tuple(wanted.merit), (
        f"another answer: {wall} {wanted.search}\n{say(ours)}\n"
        f"{say(wanted.merit)}\n{rows}"
    )
    stand = places(in_brute_rows(found, wall, name))
    assert stand == places(wanted.rows), f"a tie broken otherwise: {wall}\n{rows}"


def look_at_all_as_at_many(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let small walls be searched in the ways that large ones are."""
    monkeypatch.setattr(courses, "SWEPT", -1)
    monkeypatch.setattr(unlike_within, "MANY", 0)


@pytest.mark.parametrize("is_many", [False, True])
# In Flemish bond it takes longest; it is held to fronts that lean and turn in, too.
@pytest.mark.parametrize(
    "name", mostly_long(SMALL_ENOUGH, *(x for x in SMALL_ENOUGH if x != "Flemish"))
)
def test_no_unlike_front_has_a_better_answer(
    monkeypatch: pytest.MonkeyPatch, name: str, is_many: bool
) -> None:
    if is_many:
        look_at_all_as_at_many(monkeypatch)
    compare(front_of(random.Random(f"{name} {SEEDS.get(name, 1)}"), name), name)


def test_a_pair_of_courses_that_is_lost_is_noticed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    wall = front_of(random.Random("common-6 8"), "common-6")
    look_at_all_as_at_many(monkeypatch)
    pairs = Sieve.pairs
    monkeypatch.setattr(Sieve, "pairs", lambda *x: list(pairs(*x))[:-1])
    with pytest.raises((AssertionError, ValueError, NoWayError)):
        compare(wall, "common-6")


@pytest.mark.parametrize(
    ("name", "seed"), [("half", 1), ("half", 2), ("half", 3), ("Flemish", 2)]
)
def test_courses_that_lie_only_over_the_opening_are_judged_as_they_should_be(
    name: str, seed: int
) -> None:
    """With one course in the legs the other kinds have none: the judge goes by rows."""
    wall = front_of(random.Random(f"{name} {seed}"), name)
    wall = replace(wall, face=replace(wall.face, legs=1))
    found = solve_front(*ours_of(wall, name))
    assert found.searched_all
    assert set(found.zones["left leg"]) == {0}
    assert len(found.zones["over"]) == 2
    rows = in_brute_rows(found, wall, name)
    assert tuple(found.merit) == tuple(judge(wall, BONDS[name], rows))
    face = wall.face
    for row in (some["over"] for some in rows.values()):
        assert (row[0].left, row[-1].right) == (0, face.width)
        # A unit with two legs at an outside corner, whole or trimmed, and only there.
        for end, piece in ((face.left_end, row[0]), (face.right_end, row[-1])):
            assert (piece.role in ("L", "T")) == (end == "corner")
    turned = replace(
        face, left=face.right, right=face.left,
        left_end=face.right_end, right_end=face.left_end,
    )  # fmt: skip
    other = solve_front(*ours_of(replace(wall, face=turned), name))
    assert other.merit == found.merit


@pytest.mark.parametrize("damaged", [False, True])
def test_kinds_that_meet_in_few_ways_leave_the_legs_of_the_best(
    monkeypatch: pytest.MonkeyPatch, damaged: bool
) -> None:
    wall = front_of(random.Random("common-6 8"), "common-6")
    sizes, front = ours_of(wall, "common-6")
    search = Unlike(sizes, front, Width(fine=True, trims=True), NO_END)
    best = search.solve()
    assert best is not None
    assert search._set_up([0, 1, 2])
    arms = search._arms_of([side.words for side in search.sides], best.words)
    assert arms is not None
    monkeypatch.setattr(unlike_within, "MANY", 0)
    if damaged:
        those = unlike_within.with_options
        monkeypatch.setattr(
            unlike_within, "with_options", lambda x, k, some: those(x, k, some[:0])
        )
    left = search._left_by_few(arms, best.words)
    assert len(left[0][0, 1]) < len(arms[0][0, 1])
    found = search._within(left, best.words)
    assert (found is None or found.merit != best.merit) == damaged


@pytest.mark.parametrize("damaged", [False, True])
def test_every_two_arms_that_go_together_are_of_one_hand(damaged: bool) -> None:
    sizes, front = walls.sizes_of(OURS["half"]), wide_front(legs=("9", "13 1/2"))
    search = Unlike(sizes, front, Width(), NO_END)
    assert search._set_up([0, 1])
    arms = search._arms_of([side.words for side in search.sides], NO_LIMIT)
    assert arms is not None
    # A few of all of them, so that each two can be looked at.
    arms = [
        {k: x.take(np.arange(0, len(x), len(x) // 400 + 1)) for k, x in some.items()}
        for some in arms
    ]
    hands = list(unlike._hand_by_hand(arms))[int(damaged) :: 1 + damaged]
    assert len(hands) > 1

    def together(some: list[TableOfArms]) -> set[tuple[int, ...]]:
        """Return each two arms whose joints go together."""
        left, right = (np.hstack([x[0, 1].fillings, x[0, 1].joints]) for x in some)
        goes = left[:, None, 2:] == right[None, :, 2:]
        goes |= (left[:, None, 2:] == 0) | (right[None, :, 2:] == 0)
        at, to = np.nonzero(goes.all(axis=2))
        return set(map(tuple, np.hstack([left[at], right[to]]).tolist()))

    every = together(arms)
    found = set().union(*map(together, hands))
    assert every
    assert (found == every) != damaged


def only_the_best(self, *_):
    """Return words in which only the filling that is best by itself counts."""
    return self.best_few(1)


def test_a_search_of_the_rows_that_are_best_by_themselves_is_noticed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    wall = front_of(random.Random("half 3"), "half")
    compare(wall, "half")
    monkeypatch.setattr(Side, "with_joints", only_the_best)
    with pytest.raises((AssertionError, ValueError)):
        compare(wall, "half")


def with_one_joint(sizes: Sizes) -> Sizes:
    """Return sizes whose head joint has no range."""
    one = sizes.joints.preferred
    return replace(sizes, joints=replace(sizes.joints, least=one, most=one))


def wide_front(
    *,
    is_turned: bool = False,
    legs: tuple[str, str] = ("17", "23 1/2"),
):
    """Return an unlike front of the common size."""
    left, right = map(on_grid, legs)
    jambs = left, left + on_grid("36")
    ends = ("corner", "free")
    kinds = (0, 1) * 3
    return Front(
        0, jambs[1] + right, jambs, ends, kinds, kinds, False, is_turned=is_turned
    )


def test_a_front_over_its_work_says_so_and_is_no_worse_than_the_best_legs(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # With one head joint the legs that are best by themselves go together.
    sizes, front = with_one_joint(walls.sizes_of(OURS["half"])), wide_front()
    whole = solve_front(sizes, front)
    assert whole.searched_all
    monkeypatch.setattr(answer, "WORK", (0, 0, 0))
    short = solve_front(sizes, front)
    assert not short.searched_all
    assert short.merit >= whole.merit
    assert short.merit <= best_of_best_legs(sizes, front)


def best_of_best_legs(sizes, front):
    """Return the best merit over the legs that are best by themselves."""
    search = Unlike(sizes, front, Width(), NO_END)
    kinds = sorted(set(front.leg_kinds))
    assert search._set_up(kinds)
    arms = []
    for side in search.sides[::-1]:
        chosen = side.best().chosen
        words = {k: np.tile(ENDLESS, (len(x), 1)) for k, x in side.words.items()}
        for kind, at in chosen.items():
            words[kind][at] = side.words[kind][at]
        arms.append(side.arms(words, NO_LIMIT))
    found = search._within(arms[::-1], NO_LIMIT)
    assert found is not None
    return found.merit


@pytest.mark.parametrize("legs", [("9", "13 1/2"), ("5", "7 1/4"), ("3 1/2", "12")])
def test_jambs_that_turn_in_have_no_corner_unit_over_them(
    legs: tuple[str, str],
) -> None:
    sizes, front = walls.sizes_of(OURS["half"]), wide_front(is_turned=True, legs=legs)
    solved = solve_front(sizes, front)
    for row in solved.zones["over"].values():
        assert (row.pieces[0][0], row.pieces[-1][1]) == (front.left, front.right)
        ends = zip(row.pieces, row.roles, strict=True)
        quoins = [left for (left, _), role in ends if role == "leg"]
        assert quoins in ([], [front.left])
    for zone, jamb in (("left leg", -1), ("right leg", 0)):
        assert all(x.roles[jamb] == "leg" for x in solved.zones[zone].values())
