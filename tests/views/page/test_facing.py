"""What faces the sides of voussoirs and turned pieces, held against a kept library.

The gap between two pieces is measured a second time by shapely, from whole outlines.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
import shapely

from shopdraw.errors import ShopdrawError
from shopdraw.lengths import parse_length
from shopdraw.masonry.wall.layout import OF_AN_ARCH, Piece
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.page.cards import NEXT, Cards, planes_of
from shopdraw.views.page.facing import LOOKS, Faces, Facing
from tests.demos import set_of, solution_of
from tests.face_panels import panel_job
from tests.longer import mostly_long

NEAR = 0.002
PRINTED = 1 / 32 + 1e-6
"""A length is printed to a sixteenth of an inch."""
SEEN = 0.05
"""What shares less of a side's length than this may be told or not."""
DEMOS = ("jack-arch-parlour", "semicircular-dining-room", "segmental-kitchen")


FEW = range(0, 15, 7)
"""Of these seeds one is laid level, one woven, one aslant."""


def panels(seeds: range) -> Iterable[Solution]:
    """Yield some walls with panels that can be laid."""
    for seed in seeds:
        try:
            solution = solve(panel_job(seed))
        except ShopdrawError:
            continue
        yield solution


def told(solution: Solution) -> tuple[list[tuple[Piece, Faces]], list[Piece], float]:
    """Return what faces each piece that is not upright, those pieces, and how near."""
    plane = next(planes_of(solution))
    widest = NEXT * plane.job.joints.head.most
    facing = Facing(plane.layout.pieces, plane.starts, widest)
    aslant = [x for x in plane.pieces if x.kind in OF_AN_ARCH or x.place == "panel"]
    every = [(piece, each) for piece in aslant for each in facing.of(piece)]
    return every, aslant, float(widest)


def ring(piece: Piece) -> shapely.Polygon:
    return shapely.Polygon([(float(x), float(y)) for x, y in piece.outlines[0].points])


def wrong(every: list[tuple[Piece, Faces]], aslant: list[Piece], near: float):
    """Name what is told that is not so, and what is not told that is."""
    rings = {x.id: ring(x) for x in aslant}
    pairs = {(piece.id, each.piece.id): each for piece, each in every}
    for (one, two), each in pairs.items():
        if two not in rings:
            continue
        apart = rings[one].distance(rings[two])
        if not apart - NEAR <= float(each.gaps[0]) <= float(each.gaps[1]) <= near:
            yield f"{one} to {two}: {each.gaps}, not {apart}"
        ways = {e.way for p, e in every if (p.id, e.piece.id) == (one, two)}
        back = {e.way for p, e in every if (p.id, e.piece.id) == (two, one)}
        turned = {LOOKS[(LOOKS.index(way) + 4) % 8] for way in ways}
        # Two sides that are not parallel may lie on both sides of an eighth of a turn.
        beside = {LOOKS[(LOOKS.index(x) + by) % 8] for x in turned for by in (-1, 0, 1)}
        if not back & beside and each.gaps[0] > 0:
            yield f"{one} to {two}: {ways}, back {back}"
    for one, two in combinations(rings, 2):
        first, other = rings[one], rings[two]
        if {(one, two), (two, one)} & pairs.keys() or first.distance(other) > near / 2:
            continue
        grown = (x.buffer(near / 2, join_style="mitre") for x in (first, other))
        shared = shapely.intersection(*grown).minimum_rotated_rectangle.length / 2
        if shared > SEEN * min(first.length, other.length) + 3 * near:
            yield f"{one}, {two}: not told"


@pytest.mark.parametrize("demo", DEMOS)
def test_what_faces_a_voussoir_is_as_far_off_as_it_says(demo: str) -> None:
    every, aslant, near = told(solution_of(demo))
    assert len(every) > 2 * len(aslant)
    assert list(wrong(every, aslant, near)) == []
    # Told too narrow, and not told at all, it is noticed.
    ids = {x.id for x in aslant}
    place = next(n for n, (_, each) in enumerate(every) if each.piece.id in ids)
    piece, each = every[place]
    changed = replace(each, gaps=(Fraction(0), each.gaps[1]))
    assert list(wrong([(piece, changed)], aslant, near))
    assert list(wrong([], aslant, near))


@pytest.mark.parametrize("seeds", mostly_long((FEW, range(7)), FEW))
def test_what_faces_a_piece_of_a_panel_is_as_far_off_as_it_says(seeds: range) -> None:
    ways = set()
    for solution in panels(seeds):
        every, aslant, near = told(solution)
        assert list(wrong(every, aslant, near)) == []
        ways |= {each.way for _, each in every}
    # Patterns laid level and patterns laid aslant were among them.
    assert ways == set(LOOKS)


BESIDE = re.compile(r"(?:^|; )([\d '\-/\"]+?)(?: to ([\d '\-/\"]+))?, then (\w+)")


def untrue(solution: Solution, by: Fraction = Fraction(0)) -> list[str]:
    """Name the joints beside pieces in courses that are not so wide; `by` is added."""
    plane = next(planes_of(solution))
    cards = Cards(solution, plane)
    rings = [(x, ring(x)) for x in plane.pieces]
    found = []
    for piece, mine in rings:
        if piece.kind in OF_AN_ARCH or piece.place == "panel":
            continue
        for name, said in cards.card(piece).facts:
            if not name.startswith("joint at its"):
                continue
            if said.startswith("no joint"):
                found.append(f"{piece.id}: {said}")
            for least, most, mark in BESIDE.findall(said):
                ends = [
                    float(
                        parse_length(f"{x.strip()} in".replace('" in', '"'), "in") + by
                    )
                    for x in (least, most)
                    if x
                ]
                apart = [
                    mine.distance(other)
                    for there, other in rings
                    if there.mark == mark and there.kind in OF_AN_ARCH
                ]
                near = [x for x in apart if x < cards.widest]
                if near and min(abs(x - ends[0]) for x in near) > PRINTED:
                    found.append(f"{piece.id}: {name}: {said}, not {near}")
    return found


@pytest.mark.parametrize("demo", DEMOS)
def test_a_joint_beside_an_arch_is_as_wide_as_a_card_says(demo: str) -> None:
    assert untrue(solution_of(demo)) == []
    assert untrue(solution_of(demo), Fraction(1, 8))


def test_a_run_says_the_joint_up_to_an_arch_square_to_it() -> None:
    page = set_of("semicircular-dining-room").page
    assert page is not None
    thens = {
        (step.name, place.card): place.then
        for step in page.steps
        for run in step.runs
        for place in run.places
    }
    assert thens["11", "F-11-02"] == (
        'joint 1/4"; V1 F-07-08 to V1 F-07-24, laid with course 7; joint 1/4"'
    )
    # Over the keystone brick meet as anywhere.
    assert thens["15", "F-15-04"] == 'joint 1/4"'


def test_a_card_names_what_is_round_a_voussoir() -> None:
    solution = solution_of("semicircular-dining-room")
    cards = Cards(solution, next(planes_of(solution)))
    pieces = {x.id: x for x in solution.layout.pieces}
    springer = cards.card(pieces["F-07-03"])
    assert dict(springer.facts)["joint above"] == '3/8", then V1'
    assert dict(springer.facts)["joint below"] == '3/8", then B6; 3/8", then B8'
    assert ("above", "F-07-04") in springer.beside
    key = cards.card(pieces["F-07-16"])
    assert dict(key.facts)["joint at its left"] == '3/8", then V1'
    assert cards.joint_up_to(pieces["F-07-16"], "F-07-17") == 'joint 3/8"'
    assert cards.joint_up_to(pieces["F-07-16"], "F-07-03") == ""
