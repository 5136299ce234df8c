"""A rectangle filled with a pattern: the phase, the pieces, the cuts."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction
from typing import get_args

import pytest
import shapely

from shopdraw.masonry.panels.fill import (
    choose_phase,
    fill_rectangle,
    phases_on_grid,
    symmetric_phases,
)
from shopdraw.masonry.panels.form import (
    Asked,
    NotFilled,
    Panel,
    PanelBrick,
    PanelPiece,
    PatternName,
)
from shopdraw.masonry.panels.laying import lay_over
from shopdraw.masonry.panels.patterns import pattern_of, squares_of
from shopdraw.masonry.sawing.shapes import ShapeLimits
from tests.masonry.panels import brute_panels as brute

F = Fraction
PATTERNS: tuple[PatternName, ...] = get_args(PatternName)
THIN = PanelBrick(F(61, 8), F(9, 4), F(7, 16), F(1, 4), F(1, 2), F(7, 16))
PAVER = PanelBrick(F(61, 8), F(29, 8), F(3, 8), F(1, 4), F(1, 2), F(3, 8))
SLIP = PanelBrick(F(215), F(65), F(10), F(8), F(12), F(10))


def asked_of(brick: PanelBrick) -> Asked:
    is_inch = brick.length < 20
    size = brick.length, brick.width
    lengths = (F(2), F(3, 4)) if is_inch else (F(50), F(20))
    return Asked(
        limits=ShapeLimits(*lengths, corner=F(30), share=F(1, 4), brick=size),
        left_out=F(3, 8) if is_inch else F(10),
        grid=F(1, 2) if is_inch else F(10),
    )


def fill(
    pattern: PatternName, wide: Fraction, high: Fraction, brick: PanelBrick
) -> Panel:
    return fill_rectangle(pattern, (wide, high), brick, asked_of(brick))


def polygon(piece: PanelPiece) -> shapely.Polygon:
    return shapely.Polygon([(float(x), float(y)) for x, y in piece.ring])


def wrong_of(panel: Panel) -> list[str]:
    """Say what is not as it must be of any panel, measured on the outlines."""
    wrong = []
    every = [*panel.pieces, *panel.left_out]
    shapes = [polygon(piece) for piece in every]
    room = shapely.box(0, 0, float(panel.width), float(panel.height))
    joint = float(panel.brick.joint)
    if panel.pattern == "basket weave":
        joint = min(joint, float(squares_of(panel.brick)[1]))
    for piece, shape in zip(every, shapes, strict=True):
        if not room.buffer(1e-4).covers(shape):
            wrong.append("a piece leaves the panel")
        lain = shapely.Polygon([(float(x), float(y)) for x, y in piece.lain])
        if abs(lain.area - shape.area) > 1e-4 * lain.length:
            wrong.append("a piece is not as large on its brick")
        brick = shapely.box(0, 0, float(panel.brick.length), float(panel.brick.width))
        if not brick.buffer(1e-4).covers(lain):
            wrong.append("a piece does not come out of one brick")
    near = shapely.STRtree(shapes).query(shapes, "dwithin", joint - 1e-4)
    wrong += ["two pieces are closer than the joint" for a, b in near.T if a < b]
    # A square of the joint and a little more fits between pieces nowhere.
    half = float(panel.brick.joint_most) / 2 + 0.02 * float(panel.brick.joint)
    grown = shapely.union_all(
        [shape.buffer(half, join_style="mitre") for shape in shapes]
    )
    inner = room.buffer(-half)
    if inner.difference(grown).area > 1e-3:
        wrong.append("a gap is too wide")
    return wrong


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("brick", [THIN, PAVER, SLIP], ids=["thin", "paver", "slip"])
def test_pieces_keep_apart_fill_the_panel_and_come_out_of_one_brick(
    pattern: PatternName, brick: PanelBrick
) -> None:
    draw = random.Random(f"{pattern} {brick.length}")
    unit = 1 if brick.length < 20 else 25
    for _ in range(3):
        wide, high = (F(draw.randint(100, 320) * unit, 8) for _ in range(2))
        try:
            panel = fill(pattern, wide, high, brick)
        except NotFilled:
            assert pattern == "basket weave"
            continue
        assert wrong_of(panel) == [], (wide, high)


def test_damage_to_a_panel_is_noticed() -> None:
    panel = fill("herringbone 90", F(30), F(20), THIN)
    assert wrong_of(panel) == []
    first, *rest = panel.pieces

    def with_first(piece: PanelPiece | None) -> Panel:
        return replace(panel, pieces=(*([piece] if piece else []), *rest))

    inside = next(x for x in panel.pieces if x.is_whole)
    less = replace(panel, pieces=tuple(x for x in panel.pieces if x is not inside))
    assert "a gap is too wide" in wrong_of(less)
    close = replace(inside, ring=tuple((x - F(1, 8), y) for x, y in inside.ring))
    nearer = tuple(close if x is inside else x for x in panel.pieces)
    told = wrong_of(replace(panel, pieces=nearer))
    assert "two pieces are closer than the joint" in told
    moved = replace(first, ring=tuple((x - 1, y) for x, y in first.ring))
    assert wrong_of(with_first(moved))
    other = replace(first, lain=tuple((2 * x, y) for x, y in first.lain))
    assert "a piece is not as large on its brick" in wrong_of(with_first(other))


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_phase_is_the_one_whose_narrowest_piece_is_widest(
    pattern: PatternName,
) -> None:
    """Held against every phase on the grid, laid by brute force.

    Phases at which the edge only nips a brick, or leaves too wide a joint, come last in
    the program; they are left out of the brute force by a rule of its own.
    """
    size = F(21), F(15)
    brick = brute.Brick(float(THIN.length), float(THIN.width), float(THIN.joint))
    asked = asked_of(THIN)
    made = pattern_of(pattern, THIN)
    panel = fill(pattern, *size, THIN)
    floats = float(size[0]), float(size[1])
    phases = [*symmetric_phases(made), *phases_on_grid(made, F(1, 2))]
    best = 0.0
    for phase in phases:
        spot = float(phase[0]), float(phase[1])
        pieces = brute.laid(pattern, brick, floats, spot)
        if is_last(pattern, brick, pieces, floats):
            continue
        best = max(best, min(brute.narrowest(piece) for piece in pieces))
    assert best > 0
    assert panel.narrowest >= best - 1e-4
    # And it is as wide as it says, laid by brute force.
    at = float(panel.phase[0]), float(panel.phase[1])
    again = brute.laid(pattern, brick, floats, at)
    assert len(again) == len(panel.pieces) + len(panel.left_out)
    least = min(brute.narrowest(piece) for piece in again)
    assert panel.narrowest == pytest.approx(least, abs=1e-3)
    assert asked.grid == F(1, 2)


def is_last(
    pattern: str,
    brick: brute.Brick,
    pieces: list[shapely.Polygon],
    size: tuple[float, float],
) -> bool:
    """Whether a phase nips a brick, or leaves more than the widest joint at an edge."""
    give = brick.joint - 0.25
    if pattern != "herringbone 45":
        spare = 0.5 - brick.joint
        gap = brute.edge_gap(pieces, size, brick.joint)
        if gap > spare + 1e-9:
            return True
    whole = brick.length * brick.width
    return any(0 < whole - x.area < give * brick.width for x in pieces)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_phase_comes_back_within_the_spread(pattern: PatternName) -> None:
    """A phase further on is one that was tried: the pattern repeats."""
    made = pattern_of(pattern, THIN)
    over = lay_over(made, THIN, (F(20), F(14)))
    draw = random.Random(pattern)
    for _ in range(5):
        x, y = draw.uniform(0, 1), draw.uniform(0, 1)
        here = over.narrowest((x, y), -1e9)
        for a, b in made.steps:
            if made.turned_deg:
                a, b = (a + b) / F(2**0.5), (b - a) / F(2**0.5)
            moved = over.narrowest((x + float(a) / 2, y + float(b) / 2), -1e9)
            back = over.narrowest((x - float(a) / 2, y - float(b) / 2), -1e9)
            assert moved == pytest.approx(back, abs=1e-6)
        assert here == over.narrowest((x, y), -1e9)


def test_of_equals_the_symmetric_one_is_taken() -> None:
    # Two rows and a joint, two brick and a joint: whole brick about the middle.
    wide, high = 2 * PAVER.length + PAVER.joint, 2 * PAVER.width + PAVER.joint
    panel = fill("stack", wide, high, PAVER)
    assert panel.is_symmetric
    assert len(panel.pieces) == 4
    assert all(piece.is_whole for piece in panel.pieces)


def test_basket_weave_by_hand() -> None:
    # Three of 2 1/4 and two joints of 7/16 are 7 5/8.
    assert squares_of(THIN) == (3, F(7, 16))
    # Two of 3 5/8 and a joint of 3/8 are 7 5/8.
    assert squares_of(PAVER) == (2, F(3, 8))
    # Three of 65 and two joints of 10 are 215.
    assert squares_of(SLIP) == (3, F(10))
    side = 3 * THIN.length + 2 * THIN.joint
    panel = fill("basket weave", side, side, THIN)
    assert panel.is_symmetric
    assert len(panel.pieces) == 27
    assert all(piece.is_whole for piece in panel.pieces)


def test_a_brick_that_makes_no_square_is_refused() -> None:
    with pytest.raises(NotFilled, match="no squares"):
        fill(
            "basket weave",
            F(30),
            F(30),
            PanelBrick(F(8), F(3), F(3, 8), F(1, 4), F(1, 2), F(3, 8)),
        )


def test_a_panel_without_room_is_refused() -> None:
    with pytest.raises(NotFilled, match="no room"):
        fill("running", F(30), F(1, 2), THIN)


def test_herringbone_in_a_brick_three_wide_closes_on_its_own_width() -> None:
    # 7 5/8 and a joint are three times 2 1/4 and a joint: 8 1/16 is three of 2 11/16.
    each = THIN.width + THIN.joint
    panel = fill("herringbone 90", 21 * each - THIN.joint, 7 * each - THIN.joint, THIN)
    lengths = {
        max(x for x, _ in p.lain) - min(x for x, _ in p.lain) for p in panel.pieces
    }
    assert lengths == {THIN.length, THIN.length - each, THIN.length - 2 * each}
    assert not panel.short


def test_diagonal_herringbone_says_which_triangles_are_small() -> None:
    panel = fill("herringbone 45", F(50), F(16), THIN)
    assert panel.short
    rules = {short.rule for piece in panel.short for short in piece.short}
    assert rules == {"least area"}
    for piece in panel.short:
        assert polygon(piece).area < float(THIN.length * THIN.width) / 4


def test_what_is_too_narrow_for_a_piece_is_left_out() -> None:
    # Not even half an inch deep beyond one row: whatever the phase, a strip is thin.
    asked = replace(asked_of(THIN), left_out=F(2))
    panel = fill_rectangle("herringbone 45", (F(20), F(9)), THIN, asked)
    assert panel.left_out
    assert all(piece.width < 2 for piece in panel.left_out)
    assert all(piece.width >= 2 or piece.is_whole for piece in panel.pieces)


def test_a_finer_grid_never_finds_a_narrower_best() -> None:
    size = F(24), F(15)
    over = lay_over(pattern_of("herringbone 90", THIN), THIN, size)
    coarse, _ = choose_phase(over, F(2))
    fine, _ = choose_phase(over, F(1, 2))
    assert fine.width >= coarse.width - 0.3
