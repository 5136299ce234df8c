"""The solver against the brute force: the same merit on small walls of every bond.

The brute force was written apart, from the problem's statement alone. It judges the
solver's answer too, so that neither the family nor the judge is the solver's own.
"""

from __future__ import annotations

import random
from fractions import Fraction as F

import pytest

from shopdraw.masonry.bonding.answer import solve_return
from shopdraw.masonry.bonding.faces import LaidRow, solve_stretch
from shopdraw.masonry.bonding.legs import LegSpan
from shopdraw.masonry.rows.bonds import BONDS as OURS
from shopdraw.masonry.rows.bonds import common_bond
from shopdraw.masonry.rows.sizes import BondLimits, Brick, Joints, Sizes
from tests.masonry.bonding.brute_force import (
    BONDS,
    Piece,
    Run,
    Wall,
    best,
    judge,
    say,
)

SCALE = 232_792_560 * 64
BRICKS = ((F(61, 8), F(29, 8)), (F(93, 8), F(29, 8)))
"""Length, and what a header shows: both corner units have legs as long."""


def wall_of(pick: random.Random, name: str) -> Wall:
    """Return a random leg or return, small enough to be searched one by one."""
    unit, header = BRICKS[0] if name != "third" else pick.choice(BRICKS)
    least, most = pick.choice(((F(3, 8), F(3, 8)), (F(5, 16), F(7, 16))))
    is_return = pick.random() < 0.4
    start = "corner" if is_return or pick.random() < 0.6 else "free"
    run = Run(
        width=F(pick.randint(12 if start == "free" else 17, 36), 2) + F(1, 8),
        start=start,
        end="wall" if is_return else "jamb",
        is_return=is_return,
        courses=12,
    )
    return Wall(
        unit=unit,
        header=header,
        long=unit,
        short=header,
        joint=F(3, 8),
        least_joint=least,
        most_joint=most,
        step=F(1, 16),
        least_piece=F(2),
        least_lap=F(2),
        free_step=F(1, 4),
        face=run,
    )


def grid(length) -> int:
    steps = F(length) * SCALE
    assert steps.denominator == 1
    return int(steps)


def sizes_of(wall: Wall, name: str) -> Sizes:
    """Return a bond in a brute wall's brick."""
    bond = common_bond(int(name[-1])) if name.startswith("common") else OURS[name]
    return Sizes(
        bond=bond,
        brick=Brick(*map(grid, (wall.unit, wall.header, wall.long, wall.short))),
        joints=Joints(
            *map(grid, (wall.joint, wall.least_joint, wall.most_joint, wall.step))
        ),
        limits=BondLimits(
            grid(wall.least_piece), grid(wall.least_lap), grid(wall.free_step)
        ),
    )


def solved(wall: Wall, name: str):
    """Return our answer for a brute wall's run."""
    sizes, run = sizes_of(wall, name), wall.face
    bond = sizes.bond
    kinds = tuple(bond.cycle[at % len(bond.cycle)] for at in range(run.courses))
    stretch = LegSpan(0, grid(run.width), run.start, run.end, kinds)
    if run.is_return:
        return solve_return(sizes, stretch), "return"
    return solve_stretch(sizes, stretch), "leg"


def in_their_words(filling: LaidRow, wall: Wall) -> tuple[Piece, ...]:
    """Return a filling as the brute force names its pieces."""
    pieces = []
    for (left, right), role, letter in zip(
        filling.pieces, filling.roles, filling.letters, strict=True
    ):
        length = F(right - left, SCALE)
        name = {"leg": "L", "cut": "x", "closer": "Q", "whole": letter}[role]
        if role == "leg" and length not in (wall.long, wall.short):
            name = "T"
        pieces.append(Piece(F(left, SCALE), F(right, SCALE), name))
    return tuple(pieces)


@pytest.mark.parametrize("name", BONDS)
def test_no_run_has_a_better_answer(name: str) -> None:
    pick = random.Random(f"{name} runs")
    for _ in range(10):
        wall = wall_of(pick, name)
        found, zone = solved(wall, name)
        wanted = best(wall, BONDS[name])
        assert wanted is not None
        rows = {
            kind: {"run": in_their_words(filling, wall)}
            for kind, filling in found.zones[zone].items()
        }
        ours = judge(wall, BONDS[name], rows)
        assert tuple(found.merit) == tuple(ours), (
            f"judged otherwise: {wall.face}\n{say(found.merit)}\n{say(ours)}"
        )
        assert tuple(ours) == tuple(wanted.merit), (
            f"another answer: {wall.face} {wanted.search}\n{say(ours)}\n"
            f"{say(wanted.merit)}\n{rows}\n{wanted.rows}"
        )
