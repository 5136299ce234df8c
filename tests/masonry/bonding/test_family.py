"""Whether the family of fillings is wide enough: held against every cut on the step.

On small legs each course is filled in every way there is: any number of pieces, each a
whole, a corner unit's leg, a closer where one may stand, or a cut of any length on the
step. By the same judge the best of all these is no better than the family's in lines 1
to 19 of the order, but where a course is sawn to three different lengths, or a course
of headers to two: such courses are not in the family: nobody saws them by choice.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from shopdraw.masonry.bonding.answer import best_rows, solve_stretch
from shopdraw.masonry.bonding.legs import LegSpan, Near, Solved, judged, setting_of
from shopdraw.masonry.rows.bonds import BONDS
from shopdraw.masonry.rows.merit import FAULTS
from shopdraw.masonry.rows.sizes import BondLimits, Brick, Joints, Sizes
from shopdraw.masonry.rows.tables import CLOSER, CUT, LEG, NONE, WHOLE, Fillings
from tests.masonry.bonding.walls import on_grid

STEP = on_grid("1/4")
JOINT = on_grid("3/8")
LEAST = on_grid("2")
WALLS = [
    ("half", "free", "10"), ("half", "free", "14 3/4"), ("half", "corner", "12"),
    ("half", "corner", "16 1/2"), ("half", "free", "15 3/4"),
    ("third", "free", "13 1/4"), ("third", "corner", "15"), ("stack", "free", "13"),
    ("quarter", "free", "12 1/2"), ("quarter", "corner", "14"),
    ("Flemish", "free", "13 3/4"), ("Flemish", "corner", "15"),
    ("English", "free", "12 1/4"), ("English", "free", "10 3/4"),
    ("English", "corner", "14 1/2"),
]  # fmt: skip
COMPARED = 19
"""Lines 1 to 19: from the twentieth on a cut more or less is a matter of taste."""


def sizes_of(bond: str) -> Sizes:
    return Sizes(
        BONDS[bond],
        Brick(*map(on_grid, ("7 5/8", "3 5/8", "7 5/8", "3 5/8"))),
        Joints(JOINT, JOINT, JOINT, STEP),
        BondLimits(LEAST, LEAST, STEP),
    )


Piece = tuple[int, int, int]
"""A piece's length, its role, and its letter's place; -1 where it has none."""


def pieces_of(sizes: Sizes, kind: int) -> list[Piece]:
    """Return every piece but corner units and closers that may stand in a course."""
    pattern = sizes.bond.rows[kind].pattern
    wholes = {sizes.whole(x): pattern.index(x) for x in pattern}
    cuts = range(LEAST, sizes.brick.unit, STEP)
    return [(x, CUT, -1) for x in cuts if x not in wholes] + [
        (length, WHOLE, at) for length, at in wholes.items()
    ]


def ways(sizes: Sizes, kind: int, room: int) -> Iterator[tuple[Piece, ...]]:
    """Yield every way of filling what is left of a course, the last piece solved."""
    wholes = {x for x, role, _ in pieces_of(sizes, kind) if role == WHOLE}
    if LEAST <= room <= sizes.brick.unit and room not in wholes:
        yield ((room, CUT, -1),)
    for piece in pieces_of(sizes, kind):
        if piece[0] == room:
            if piece[1] == WHOLE:
                yield (piece,)
        elif piece[0] + JOINT + LEAST <= room:
            for rest in ways(sizes, kind, room - piece[0] - JOINT):
                yield (piece, *rest)


def courses(sizes: Sizes, kind: int, near: Near, width: int) -> set[tuple[Piece, ...]]:
    """Return every way of filling a course, with closers at both ends or neither."""
    row, closer = (
        sizes.bond.rows[kind],
        (sizes.closer(sizes.bond.rows[kind]), CLOSER, -1),
    )
    leg = (sizes.brick.leg(row.leg), LEG, -1)
    found = set()
    for extra in range(3) if closer[0] else (0,):
        room = width - extra * (closer[0] + JOINT)
        if near == "corner":
            plain = [(leg, *x) for x in ways(sizes, kind, room - leg[0] - JOINT)]
        else:
            plain = list(ways(sizes, kind, room))
        for way in plain:
            found |= set(_closed(sizes, kind, way, extra, closer))
    return found


def _closed(
    sizes: Sizes, kind: int, way: tuple[Piece, ...], extra: int, closer: Piece
) -> Iterator[tuple[Piece, ...]]:
    """Yield a way with so many closers, each beside the header at an end."""
    if not extra:
        yield way
        return
    near, far = _takes(sizes, kind, way), _takes(sizes, kind, way[::-1])
    if extra == 2 and near and far and len(way) > 2:
        yield (way[0], closer, *way[1:-1], closer, way[-1])
    if extra == 1 and near:
        yield (way[0], closer, *way[1:])
    if extra == 1 and far:
        yield (*way[:-1], closer, way[-1])


def _takes(sizes: Sizes, kind: int, way: tuple[Piece, ...]) -> bool:
    if len(way) < 2:
        return False
    (length, role, _), (beside, beside_role, _) = way[0], way[1]
    row, header = sizes.bond.rows[kind], sizes.brick.header
    is_header = length == header and role in (WHOLE, LEG)
    ends_run = "S" in row.pattern or len(way) == 2
    return is_header and (beside_role == WHOLE or (beside >= header and ends_run))


def table_of(every: set[tuple[Piece, ...]], start: int) -> Fillings:
    """Stand every way's pieces side by side."""
    columns = max(map(len, every))
    shape = len(every), columns
    left, right = np.zeros(shape, np.int64), np.zeros(shape, np.int64)
    role = np.full(shape, NONE, np.int8)
    letter = np.full(shape, -1, np.int8)
    for n, way in enumerate(sorted(every)):
        at = start
        for place, (length, what, which) in enumerate(way):
            left[n, place], right[n, place] = at, at + length
            role[n, place], letter[n, place] = what, which
            at += length + JOINT
    joint = np.where((role != NONE).sum(axis=1) > 1, JOINT, 0)
    return Fillings(left, right, role, letter, joint, role != NONE)


def best_of_all(sizes: Sizes, span: LegSpan) -> Solved:
    """Return the best of every way there is."""
    rows = {}
    for kind in sorted(set(span.kinds)):
        every = courses(sizes, kind, span.near, span.width)
        rows[kind] = judged(table_of(every, span.left), setting_of(sizes, span, kind))
    best = best_rows(sizes, span, "leg", rows)
    assert best is not None
    return best


def is_sawn_by_nobody(sizes: Sizes, solved: Solved) -> bool:
    """Whether a course is sawn to three lengths, or one of headers to two."""
    return any(
        len({b - a for (a, b), role in zip(row.pieces, row.roles, strict=True)
             if role == "cut"}) >= (2 if sizes.bond.rows[kind].pattern == "H" else 3)
        for kind, row in solved.zones["leg"].items()
    )  # fmt: skip


@pytest.mark.parametrize(("bond", "near", "width"), WALLS)
def test_no_cut_on_the_step_does_better_than_the_family(
    bond: str, near: Near, width: str
) -> None:
    sizes = sizes_of(bond)
    span = LegSpan(0, on_grid(width), near, "jamb", BONDS[bond].cycle)
    free, ours = best_of_all(sizes, span), solve_stretch(sizes, span)
    if ours.merit[:COMPARED] > free.merit[:COMPARED]:
        assert is_sawn_by_nobody(sizes, free)
        assert ours.merit[:FAULTS] == free.merit[:FAULTS]


def test_a_family_without_cuts_would_be_noticed() -> None:
    """With whole units and corner units alone the same wall does worse."""
    sizes = sizes_of("half")
    span = LegSpan(0, on_grid("15 5/8"), "free", "jamb", (0,))
    wholes = {x for x in courses(sizes, 0, "free", span.width) if
              all(role == WHOLE for _, role, _ in x)}  # fmt: skip
    assert wholes
    both = LegSpan(0, span.width, "free", "jamb", (0, 1))
    rows = {
        kind: judged(table_of(wholes, 0), setting_of(sizes, both, kind))
        for kind in (0, 1)
    }
    worse = best_rows(sizes, both, "leg", rows)
    assert worse is not None
    assert worse.merit[:COMPARED] > best_of_all(sizes, both).merit[:COMPARED]
