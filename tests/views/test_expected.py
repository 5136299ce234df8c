"""What a file must hold is reckoned from the solution, so that wrong ink is found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.expected import Expected
from shopdraw.drawing.ink import Drawing, Fill, Ink, Insert, Measure
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import PlacedDrawing, Sheet
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_dxf
from shopdraw.output.readback import read_back
from shopdraw.pipeline import build
from shopdraw.views.expected.built import trace_built
from shopdraw.views.expected.sheets import expect_bare, expect_measures, expect_sheet
from shopdraw.views.expected.units import trace_units
from shopdraw.views.general import LEGEND
from tests.demos import set_of, sheet_of, solution_of
from tests.longer import mostly_long
from tests.views.jobs import CHANGES, solved


def expected(name: str, sheet: Sheet) -> Expected:
    return expect_sheet(solution_of(name), sheet)


def wrong_figures(drawings: list[Drawing], lengths: str) -> list[tuple[str, str]]:
    """Return what the ink says and what it should say, where they differ."""
    wrong = []
    for drawing in drawings:
        measures = [ink for ink in drawing.ink if isinstance(ink, Measure)]
        wanted = expect_measures(measures, "in" if lengths == "in" else "mm")
        wrong += [
            (ink.words, should.words)
            for ink, should in zip(measures, wanted, strict=True)
            if ink.words != should.words
        ]
    return wrong


def drawings_of(drawn: DrawingSet) -> list[Drawing]:
    return [placed.drawing for sheet in drawn.sheets for placed in sheet.drawings]


def test_every_figure_of_a_demo_is_what_its_geometry_says(
    drawing_set: DrawingSet,
) -> None:
    drawings = drawings_of(drawing_set)
    assert sum(isinstance(x, Measure) for d in drawings for x in d.ink) > 20
    assert wrong_figures(drawings, drawing_set.lengths) == []


def test_all_that_a_demo_shows_cut_through_is_traced_from_its_solution(
    demo: str, drawing_set: DrawingSet
) -> None:
    solution, shown = solution_of(demo), 0
    for drawing in drawings_of(drawing_set):
        if drawing.part is not None or drawing.name == LEGEND:
            continue
        tinted = [x for x in drawing.ink if isinstance(x, Fill)]
        traced = [x for x in trace_built(solution, drawing) if x.kind == "fill"]
        inked, wanted = (
            sorted(
                tuple(round(at, 3) for at in shapely.Polygon(x.points).bounds)
                for x in areas
                if x.layer == layers.SECTION
            )
            for areas in (tinted, traced)
        )
        assert inked == wanted, drawing.name
        shown += len(inked)
    assert shown > 10


@pytest.mark.parametrize("name", mostly_long(sorted(CHANGES), "mitre", "two hands"))
def test_every_figure_of_a_changed_job_is_what_its_geometry_says(name: str) -> None:
    drawn = build(solved(name))
    assert wrong_figures(drawings_of(drawn), drawn.lengths) == []


def test_a_mitred_soldier_is_expected_sawn_at_its_corner_and_not_at_its_joint() -> None:
    solution = solved("mitre")
    front = solution.surround.front
    traces = trace_units(solution.layout, "front", -front.left)
    sawn = [x.points for x in traces if x.layer == layers.CUTS]
    upright = {a[0] for a, b in sawn if a[0] == b[0]}
    (soldier,) = {
        float(piece.length)
        for piece in solution.layout.pieces
        if "mitre" in piece.cut_edges and piece.outlines[0].face == "front"
    }
    for corner, inward in ((0.0, 1), (float(front.width), -1)):
        off = [inward * (x - corner) for x in upright]
        (cut,) = (x for x in off if 0 < x < soldier)
        assert cut < soldier / 2


def changed(sheet: Sheet, change: Callable[[Ink], Ink | None]) -> Sheet:
    """Return a sheet with the first ink that can be changed, changed."""
    placed = list(sheet.drawings)
    for at, each in enumerate(placed):
        for ink in each.drawing.ink:
            new = change(ink)
            if new is ink:
                continue
            kept = [new if x is ink else x for x in each.drawing.ink]
            drawing = replace(each.drawing, ink=tuple(x for x in kept if x is not None))
            placed[at] = PlacedDrawing(drawing, each.placement)
            return replace(sheet, drawings=tuple(placed))
    raise AssertionError("nothing to change")


def wrong_words(ink: Ink) -> Ink:
    return replace(ink, words='99"') if isinstance(ink, Measure) else ink


def longer(ink: Ink) -> Ink:
    if not isinstance(ink, Measure) or ink.axis != "x":
        return ink
    return replace(ink, end=(ink.end[0] + 1.0, ink.end[1]))


def beside(ink: Ink) -> Ink:
    if not isinstance(ink, Insert):
        return ink
    return replace(ink, at=(ink.at[0] + 0.01, ink.at[1]))


def gone(ink: Ink) -> Ink | None:
    return None if isinstance(ink, Insert) else ink


def other_mark(ink: Ink) -> Ink:
    if not isinstance(ink, Insert):
        return ink
    tags = tuple(
        replace(tag, text="B99") if tag.name == "MARK" else tag for tag in ink.tags
    )
    return replace(ink, tags=tags)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (wrong_words, 'a dimension reads 99"'),
        (longer, "a dimension reads"),
        (beside, "is drawn at"),
        (gone, "should be drawn but is not"),
        (other_mark, "has tags"),
    ],
)
def test_wrong_ink_is_found_when_its_file_is_read_back(
    change: Callable[[Ink], Ink | None], says: str
) -> None:
    name = "library-hearth"
    sheet = sheet_of(name)
    right = compare(read_back(write_dxf(sheet)), expected(name, sheet))
    assert right == ()
    damaged = changed(sheet, change)
    found = compare(read_back(write_dxf(damaged)), expected(name, damaged))
    assert any(says in each for each in found)


def test_the_bare_drawing_is_expected_to_hold_every_piece() -> None:
    solution = solution_of("chimney-breast-gas")
    drawn = set_of("chimney-breast-gas")
    wanted = expect_bare(solution, drawn.bare)
    assert len(wanted.inserts) == len(solution.layout.pieces)
    empty = replace(drawn.bare, ink=())
    assert expect_bare(solution, empty).inserts == wanted.inserts


def test_the_sheets_of_a_set_are_expected_to_hold_every_piece_once(
    demo: str, drawing_set: DrawingSet
) -> None:
    ids = [
        dict(insert.tags)["ID"]
        for sheet in drawing_set.sheets
        for insert in expected(demo, sheet).inserts
    ]
    assert sorted(ids) == sorted(p.id for p in solution_of(demo).pieces)
