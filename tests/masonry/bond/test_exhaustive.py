"""The bond of a leg, against every filling that there is."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, product

import pytest

from shopdraw.masonry.wall.layout import Layout
from tests.masonry.legs import F, StackJob, lay, library

Filling = tuple[int, list[tuple[int, int]]]


def every_filling(width: int, leg: int, least: int) -> list[Filling]:
    """List every filling of a run in eighths; no part of the solver is used.

    Args:
        width: of the run.
        leg: of the corner unit that it begins with; 0 at a free edge.
        least: the least piece.

    Returns:
        The smallest piece, up to a half, and the joints of each.
    """
    unit, half = 61, 29
    fillings: list[Filling] = [(half, [])] if width == leg else []
    for joint, count in product((2, 3, 4), range(1, 5)):
        room = width - leg - joint * (count - (leg == 0))
        places = [c for n in range(3) for c in combinations(range(count), n)]
        for sawn in places:
            left = room - unit * (count - len(sawn))
            splits: list[tuple[int, ...]] = [(x, left - x) for x in range(least, unit)]
            if len(sawn) < 2:
                splits = [(left,)] if sawn else [()] if left == 0 else []
            for cuts in splits:
                if any(not least <= x < unit for x in cuts):
                    continue
                pieces = [unit] * count
                for place, cut in zip(sawn, cuts, strict=True):
                    pieces[place] = cut
                at, joints = leg, []
                for place, piece in enumerate(pieces):
                    if leg or place:
                        joints.append((at, at + joint))
                        at += joint
                    at += piece
                fillings.append((min((*cuts, half)), joints))
    return sorted(fillings, key=lambda x: -x[0])


def exhaustive(width: int, legs: tuple[int, int], least: int) -> int | None:
    """Return the largest smallest piece of any two courses that lap; None for none."""
    first, second = (every_filling(width, leg, least) for leg in legs)
    best = None
    for smallest_a, joints_a in first:
        if best is not None and smallest_a <= best:
            break
        for smallest_b, joints_b in second:
            smallest = min(smallest_a, smallest_b)
            if best is not None and smallest <= best:
                break
            if all(max(c - b, a - d) >= 16 for a, b in joints_a for c, d in joints_b):
                best = smallest
    return best


def smallest_on(layout: Layout, left: Fraction, right: Fraction) -> Fraction:
    """Return the smallest piece between two lines, up to a half, in eighths."""
    cuts = [
        piece.length
        for piece in layout.pieces
        if piece.kind == "stretcher"
        and left <= piece.outlines[0].left
        and piece.outlines[0].right <= right
    ]
    return 8 * min([F(29, 8), *cuts])


@pytest.mark.parametrize("eighths", [*range(84, 190, 7), 93, 104, 123])
def test_no_exhaustive_search_finds_a_better_leg_at_a_fold(
    stack_job: StackJob, eighths: int
) -> None:
    width = f"{F(2 * eighths, 8) + 34} in"
    job = library(stack_job, face__width=width, opening__width="34 in")
    _, _, layout = lay(job)
    found = exhaustive(eighths, (61, 29), 16)
    assert found is not None
    assert not layout.broken
    assert smallest_on(layout, F(14), F(14) + F(eighths, 8)) >= found
    assert not [x for x in layout.pieces if x.is_trimmed and x.place == "front"]


@pytest.mark.parametrize("eighths", [70, 76, 97, 110, 127, 133, 139, 160, 193])
def test_no_exhaustive_search_finds_a_better_leg_at_a_free_edge(
    stack_job: StackJob, eighths: int
) -> None:
    job = stack_job(
        "in",
        face__width=f"{F(2 * eighths, 8) + 34} in",
        opening__width="34 in",
        opening__head="soldier",
    )
    _, _, layout = lay(job)
    found = exhaustive(eighths, (0, 0), 16)
    assert found is not None
    assert not layout.broken
    assert smallest_on(layout, F(0), F(eighths, 8)) >= found
