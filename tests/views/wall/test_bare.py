"""The bare drawing: the front alone about its base point, every piece once.

What turns back lies apart, each face as a whole, on layers of its own.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

import pytest

from shopdraw.drawing.ink import Drawing, Insert, Point, Stroke
from shopdraw.drawing.layers import CORNERS, CUTS, OF_RETURNS
from shopdraw.job.reading import parse_job
from shopdraw.masonry.wall.layout import Layout, sawn_sides
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.brick.units import TAGS
from shopdraw.views.wall.bare import draw_surround
from tests.demos import solution_of
from tests.views.jobs import CHANGES, solved
from tests.views.lettering import collisions

NAMES = sorted(CHANGES)
ROUND_A_BUTTED_CORNER = """
[job]
name = "Soldiers round a corner"
lengths = "mm"
[face]
width = "1589 mm"
height = "1743 mm"
left_return = "310 mm"
[opening]
width = "667 mm"
height = "665 mm"
head = "soldier"
from_left = "495 mm"
head_over = "face"
[brick]
size = "uk-65"
thickness = "19 mm"
at_fold = "butt"
[joints]
bed = { preferred = "10 mm", least = "6 mm", most = "13 mm" }
head = { preferred = "10 mm", least = "6 mm", most = "13 mm" }
"""
ALL_CUTS = (CUTS, OF_RETURNS[CUTS])


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


def moves(solution: Solution, drawing: Drawing) -> dict[str, set[float]]:
    """Return by face how far to the right its pieces lie of where they are laid."""
    laid = laid_units(solution.layout, float(solution.surround.opening.centre))
    drawn = drawn_units(drawing)
    found: dict[str, set[float]] = {}
    for piece in solution.layout.pieces:
        one, other = laid[piece.id], drawn[piece.id]
        move = round(min(other)[0] - min(one)[0], 6)
        same = ring(tuple((x + move, y) for x, y in one)) == other
        found.setdefault(piece.outlines[0].face, set()).add(move if same else 1e9)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_is_inserted_once_and_each_face_lies_as_a_whole(name: str) -> None:
    solution = solved(name)
    drawing = bare(solution)
    inserts = [ink for ink in drawing.ink if isinstance(ink, Insert)]
    assert len(inserts) == len(solution.layout.pieces)
    found = moves(solution, drawing)
    assert found.pop("front") == {0.0}
    apart = 12 if solution.lengths == "in" else 300
    for face, each in found.items():
        (move,) = each
        assert move <= -apart if face.startswith("left") else move >= apart


def test_a_piece_drawn_elsewhere_is_noticed() -> None:
    solution = solution_of("library-hearth")
    drawing = bare(solution)
    first = next(ink for ink in drawing.ink if isinstance(ink, Insert))
    moved = replace(first, at=(first.at[0] + 0.001, first.at[1]))
    ink = tuple(moved if x is first else x for x in drawing.ink)
    assert moves(solution, drawing)["front"] == {0.0}
    assert moves(solution, replace(drawing, ink=ink))["front"] != {0.0}


def spans(drawing: Drawing, *, apart: bool) -> list[tuple[float, float]]:
    """Return the reach along x of each thing on the front's layers, or the others."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    found = []
    for ink in drawing.ink:
        strokes = [ink] if isinstance(ink, Stroke) else []
        dx = 0.0
        if isinstance(ink, Insert):
            strokes, dx = list(symbols[ink.symbol].strokes), ink.at[0]
            layers = {each.layer for each in strokes} | {ink.layer}
            layers |= {x.words.layer for x in ink.tags if x.words is not None}
            # A block is all of it the front's, or none of it.
            assert len({"RETN" in layer for layer in layers}) == 1
        for stroke in strokes:
            if ("RETN" in stroke.layer) is apart:
                xs = [x + dx for x, _ in stroke.points]
                found.append((min(xs), max(xs)))
    return found


@pytest.mark.parametrize(
    "demo", ["library-hearth", "splayed-parlour", "chamfered-breast", "metric-slips"]
)
def test_with_the_layers_of_returns_off_the_front_is_left_alone(demo: str) -> None:
    solution = solution_of(demo)
    drawing = bare(solution)
    front = spans(drawing, apart=False)
    ends = min(a for a, _ in front), max(b for _, b in front)
    surround = solution.surround
    half = float(surround.front.width) / 2
    # A chamfer is seen beside the front, narrower than it is.
    beside = sum(float(x.width) for x in surround.faces if 0 < x.turn < 90) / 2
    assert half <= -ends[0] + 1e-9 <= half + beside + 1e-9
    assert half <= ends[1] + 1e-9 <= half + beside + 1e-9
    apart = 12 if solution.lengths == "in" else 300
    for left, right in spans(drawing, apart=True):
        assert right <= ends[0] - apart + 1e-9 or left >= ends[1] + apart - 1e-9


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


def size(points: Iterable[Point]) -> Point:
    xs, ys = zip(*points, strict=True)
    return round(float(max(xs) - min(xs)), 6), round(float(max(ys) - min(ys)), 6)


@pytest.mark.parametrize("name", NAMES)
def test_the_other_leg_of_a_corner_unit_is_plain_outline(name: str) -> None:
    solution = solved(name)
    wanted = Counter(
        (outline.face == "front", *size(outline.points))
        for piece in solution.layout.pieces
        for outline in piece.outlines[1:]
    )
    drawn = Counter(
        (ink.layer == CORNERS, *size(ink.points))
        for ink in bare(solution).ink
        if isinstance(ink, Stroke) and ink.layer in (CORNERS, OF_RETURNS[CORNERS])
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
        marked = [s for s in symbols[ink.symbol].strokes if s.layer in ALL_CUTS]
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
        letter = "U" if outline.face == "front" else "R"
        assert name == f"{letter}-{piece.mark}-{sides}"
        cuts = [s for s in symbols[name].strokes if s.layer in ALL_CUTS]
        middle = float(outline.right - outline.left) / 2
        marked = ["L" if cut.points[0][0] < middle else "R" for cut in cuts]
        assert sorted(marked) == list(sides)
    assert seen == 4


def test_the_origin_is_on_the_datum_under_the_centre_of_the_opening(
    solution: Solution,
) -> None:
    (front,) = [
        ink.points
        for ink in bare(solution).ink
        if isinstance(ink, Stroke) and ink.layer == "A-ELEV-OTLN"
    ]
    feet = sorted(x for x, y in front if y <= 1e-9)
    jambs = max(x for x in feet if x < 0), min(x for x in feet if x > 0)
    # What was found out of true leans by no more than half an inch in the demos.
    is_true = solution.surround.as_built.is_true
    assert sum(jambs) == pytest.approx(0.0, abs=1e-9 if is_true else 0.5)
    # The ring goes round the opening: over the base point it begins at the head.
    crossed = [
        a[1] + (b[1] - a[1]) * -a[0] / (b[0] - a[0])
        for a, b in pairwise((*front, front[0]))
        if min(a[0], b[0]) <= 0 < max(a[0], b[0])
    ]
    arch = solution.layout.arch
    rise = 0.0 if arch is None else float(solution.job.arch_rise)
    assert min(crossed) >= float(solution.coursing.head) - 1e-9
    near = 1.0 if arch else 1e-9 if is_true else 0.5
    assert min(crossed) == pytest.approx(float(solution.coursing.head) + rise, abs=near)


def test_a_whole_soldier_that_shows_its_edge_has_a_block_of_its_own() -> None:
    """It has the mark of the others, and stands on the corners' layer."""
    drawing = bare(solve(parse_job(ROUND_A_BUTTED_CORNER, "job.toml")))
    layers = {symbol.name: symbol.strokes[0].layer for symbol in drawing.symbols}
    units = [ink for ink in drawing.ink if isinstance(ink, Insert)]
    soldiers = {ink.layer for ink in units if ink.symbol.startswith("U-S")}
    assert len(soldiers) > 1
    assert [ink.symbol for ink in units if layers[ink.symbol] != ink.layer] == []
