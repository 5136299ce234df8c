"""Fronts whose legs differ against the brute force, on small walls of every bond."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.masonry.bonding.front import Front
from shopdraw.masonry.bonding.answer import solve_front
from tests.masonry.bonding.brute_force import BONDS, Wall, best, judge, say
from tests.masonry.bonding.brute_trade import Front as BruteFront
from tests.masonry.bonding.test_against_brute_force import (
    grid,
    in_their_words,
    sizes_of,
    wall_of,
)

SMALL_ENOUGH = tuple(name for name in BONDS if name != "common-5")
"""With four kinds of course even the smallest front is too large to go through here."""
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


def solved_front(wall: Wall, name: str):
    """Return our answer for a brute wall's front."""
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
    return solve_front(sizes, front)


def in_brute_rows(found, wall: Wall):
    """Return our rows as the brute force names them."""
    rows: dict = {}
    for zone, part in PARTS.items():
        for kind, filling in found.zones.get(zone, {}).items():
            rows.setdefault(kind, {})[part] = in_their_words(filling, wall)
    return rows


def compare(wall: Wall, name: str) -> None:
    """Fail where our answer's merit is not the brute force's."""
    found = solved_front(wall, name)
    wanted = best(wall, BONDS[name])
    assert wanted is not None
    assert found.searched_all
    ours = judge(wall, BONDS[name], in_brute_rows(found, wall))
    rows = f"{in_brute_rows(found, wall)}\n{wanted.rows}"
    assert tuple(found.merit) == tuple(ours), (
        f"judged otherwise: {wall}\n{say(found.merit)}\n{say(ours)}\n{rows}"
    )
    assert tuple(ours) == tuple(wanted.merit), (
        f"another answer: {wall} {wanted.search}\n{say(ours)}\n"
        f"{say(wanted.merit)}\n{rows}"
    )


@pytest.mark.parametrize("name", SMALL_ENOUGH)
def test_no_unlike_front_has_a_better_answer(name: str) -> None:
    compare(front_of(random.Random(f"{name} 1"), name), name)


