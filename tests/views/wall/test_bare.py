"""The bare drawing: every piece once, where the layout has it, about the centre."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest

from shopdraw.drawing.ink import Drawing, Insert, Point, Stroke
from shopdraw.drawing.layers import CORNERS, CUTS
from shopdraw.masonry.wall.layout import Layout, sawn_sides
from shopdraw.solution import Solution
from shopdraw.views.brick.units import TAGS
from shopdraw.views.wall.bare import draw_surround
from tests.demos import solution_of
from tests.views.jobs import CHANGES, solved
from tests.views.lettering import collisions

NAMES = sorted(CHANGES)


def bare(solution: Solution) -> Drawing:
    return draw_surround(solution)


def ring(points: tuple[Point, ...]) -> frozenset[Point]:
    return frozenset((round(x, 6), round(y, 6)) for x, y in points)


def drawn_units(drawing: Drawing) -> dict[str, frozenset[Point]]:
    """Return each insert's outline, by ID, as its symbol draws it."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    units = {}
    for ink in drawing.ink:
        if isinstance(ink, Insert):
            outline = symbols[ink.symbol].strokes[0].points
            moved = tuple((x + ink.at[0], y + ink.at[1]) for x, y in outline)
            units[{tag.name: tag.text for tag in ink.tags}["ID"]] = ring(moved)
    return units


def laid_units(layout: Layout, centre: float) -> dict[str, frozenset[Point]]:
    return {
        piece.id: ring(
            tuple((float(x) - centre, float(y)) for x, y in piece.outlines[0].points)
        )
        for piece in layout.pieces
    }


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_is_inserted_once_where_the_layout_has_it(name: str) -> None:
    solution = solved(name)
    drawing = bare(solution)
    inserts = [ink for ink in drawing.ink if isinstance(ink, Insert)]
    assert len(inserts) == len(solution.layout.pieces)
    centre = float(solution.surround.opening.centre)
    assert drawn_units(drawing) == laid_units(solution.layout, centre)


def test_a_piece_drawn_elsewhere_is_noticed() -> None:
    solution = solution_of("library-hearth")
    drawing = bare(solution)
    first = next(ink for ink in drawing.ink if isinstance(ink, Insert))
    moved = replace(first, at=(first.at[0] + 0.001, first.at[1]))
    ink = tuple(moved if x is first else x for x in drawing.ink)
    centre = float(solution.surround.opening.centre)
    assert drawn_units(replace(drawing, ink=ink)) != laid_units(solution.layout, centre)


@pytest.mark.parametrize("name", NAMES)
def test_marks_are_counted_as_the_cut_list_counts_them(name: str) -> None:
    solution = solved(name)
    marks = Counter(
        tag.text
        for ink in bare(solution).ink
        if isinstance(ink, Insert)
        for tag in ink.tags
        if tag.name == "MARK"
    )
    assert marks == Counter({row.mark: row.count for row in solution.cut_list})


@pytest.mark.parametrize("name", NAMES)
def test_only_marks_are_lettered_and_every_insert_has_all_its_tags(name: str) -> None:
    drawing = bare(solved(name))
    for ink in drawing.ink:
        if isinstance(ink, Insert):
            assert tuple(tag.name for tag in ink.tags) == TAGS
            assert all(tag.words is None for tag in ink.tags if tag.name != "MARK")
            assert all(tag.text for tag in ink.tags)
    assert collisions(drawing) == []


@pytest.mark.parametrize("name", NAMES)
def test_the_other_leg_of_a_corner_unit_is_plain_outline(name: str) -> None:
    solution = solved(name)
    centre = float(solution.surround.opening.centre)
    wanted = Counter(
        ring(tuple((float(x) - centre, float(y)) for x, y in outline.points))
        for piece in solution.layout.pieces
        for outline in piece.outlines[1:]
    )
    drawn = Counter(
        ring(ink.points)
        for ink in bare(solution).ink
        if isinstance(ink, Stroke) and ink.layer == CORNERS
    )
    assert wanted
    assert drawn == wanted


@pytest.mark.parametrize("name", NAMES)
def test_symbols_are_named_plainly_and_mark_each_sawn_edge(name: str) -> None:
    solution = solved(name)
    drawing = bare(solution)
    names = [symbol.name for symbol in drawing.symbols]
    assert names == sorted(set(names))
    assert all(re.fullmatch(r"[A-Z0-9-]{1,31}", each) for each in names)
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    used = set()
    pieces = {piece.id: piece for piece in solution.layout.pieces}
    for ink in drawing.ink:
        if not isinstance(ink, Insert):
            continue
        used.add(ink.symbol)
        piece = pieces[ink.tags[0].text]
        marked = [s for s in symbols[ink.symbol].strokes if s.layer == CUTS]
        sides = len(sawn_sides(piece, piece.outlines[0]))
        assert len(marked) == sides + ("mitre" in piece.cut_edges)
    assert used == set(names)


def test_a_mitred_soldier_is_marked_on_its_fold() -> None:
    solution = solved("mitre")
    symbols = {symbol.name: symbol for symbol in bare(solution).symbols}
    folds = set(solution.surround.folds)
    seen = 0
    for piece in solution.layout.pieces:
        if "mitre" not in piece.cut_edges:
            continue
        seen += 1
        outline = piece.outlines[0]
        side = "L" if outline.left in folds else "R"
        assert outline.left in folds or outline.right in folds
        name = next(
            ink.symbol
            for ink in bare(solution).ink
            if isinstance(ink, Insert) and ink.tags[0].text == piece.id
        )
        # One that is narrower besides is sawn on its other side.
        narrow = piece.length < solution.job.brick.height
        sides = "LR" if narrow else side
        assert name == f"U-{piece.mark}-{sides}"
        cuts = [s for s in symbols[name].strokes if s.layer == CUTS]
        middle = float(outline.right - outline.left) / 2
        marked = ["L" if cut.points[0][0] < middle else "R" for cut in cuts]
        assert sorted(marked) == list(sides)
    assert seen == 4


def test_the_origin_is_on_the_datum_under_the_centre_of_the_opening(
    solution: Solution,
) -> None:
    half = float(solution.job.opening.width) / 2
    outlines = [
        ink.points
        for ink in bare(solution).ink
        if isinstance(ink, Stroke) and ink.layer == "A-ELEV-OTLN" and not ink.closed
    ]
    (opening,) = outlines
    head = float(solution.coursing.head)
    wanted = ((-half, 0.0), (-half, head), (half, head), (half, 0.0))
    for point, other in zip(opening, wanted, strict=True):
        assert point == pytest.approx(other, abs=1e-9)
