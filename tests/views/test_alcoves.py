"""Inside corners on paper and in lists: figures by hand, damage that makes red."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.set import DrawingSet
from shopdraw.job.reading import parse_job
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_dxf
from shopdraw.output.readback import read_back
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from shopdraw.views.expected.sheets import expect_sheet
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.wall.inside import draw_inside_corner
from shopdraw.views.wall.plans import draw_plan
from shopdraw.views.wall.returns import draw_return
from shopdraw.views.words.notes import general_notes
from shopdraw.views.words.record import solution_record
from tests.alcoves import JOB, beside_alcoves
from tests.splayed import RETURNS, splayed
from tests.views.lettering import collisions, collisions_on, crossings
from tests.views.test_aslant import figures, said, spots

BOTH = pytest.mark.parametrize("side", ["left", "right"])


@BOTH
def test_the_detail_shows_what_runs_past_and_what_butts(side: str) -> None:
    solution = beside_alcoves()
    drawing = draw_inside_corner(solution, side, 4.0)
    assert drawing.title == f"{side.upper()} INSIDE CORNER, COURSES 1 AND 2"
    assert sorted(figures(drawing, "x")) == ['3/8"', '5/8"']
    assert sorted(figures(drawing, "y")) == ['3/8"', '5/8"']
    words = " ".join(said(drawing))
    for line in ("THE RETURN RUNS PAST", "THE RETURN BUTTS", "THE ALCOVE RUNS PAST"):
        assert words.count(line) == 1
    assert collisions(drawing) == []
    assert crossings(drawing) == []
    # The back of the return stands 5/8 behind its face, away from the alcove.
    way = 1.0 if side == "left" else -1.0
    section = spots(drawing, layers.SECTION)
    passing = {(0.0, 0.625), (way * 0.625, 0.625), (-way * 0.375, 0.625)}
    moved = {(x, y) for x, y in section if abs(x) < 1}
    other = {(round(x - apart_of(drawing), 3), y) for x, y in section}
    assert passing <= moved or passing <= other


def apart_of(drawing: Drawing) -> float:
    """Return how far the second course stands from the first: where its line begins."""
    courses = [x.at[0] for x in drawing.ink
               if isinstance(x, Words) and x.text.startswith("COURSE")]  # fmt: skip
    return max(courses) - min(courses)


def test_a_return_is_dimensioned_as_far_as_its_brick_goes() -> None:
    drawing = draw_return(beside_alcoves(), "left", 12.0)
    assert said(drawing).count("INSIDE CORNER") == 1
    assert "OUTSIDE CORNER" in said(drawing)
    assert figures(drawing, "x")[-2:] == ['11"', '11"']
    # 23 when finished, 24 as measured.
    drawing = draw_return(beside_alcoves(), "left alcove", 12.0)
    assert drawing.title == "LEFT ALCOVE, DEVELOPED"
    assert figures(drawing, "x")[-2:] == ["1'-11\"", "2'-0\""]
    assert 'WALL, SOFT JOINT 3/8"' in said(drawing)
    assert "FREE EDGE" in said(draw_return(beside_alcoves(), "right alcove", 12.0))
    # The outline is what is seen, and brick goes on beyond it.
    outline = spots(drawing, layers.OUTLINE)
    assert max(x for x, _ in outline) == 23.0


@pytest.mark.parametrize("number", [1, 2])
def test_the_plan_shows_both_faces_and_their_inside_corner(number: int) -> None:
    drawing = draw_plan(beside_alcoves(), number, 12.0)
    assert said(drawing).count("INSIDE CORNER") == 2
    assert "WALL" not in said(drawing)
    assert {"1'-11\"", "1'-3\""} <= set(figures(drawing, "x"))
    section = spots(drawing, layers.SECTION)
    assert min(x for x, _ in section) == -23 + 0.375
    assert {(71.125, 11.0), (71.125, 11.625)} <= section
    assert collisions(drawing) == []
    assert crossings(drawing) == []


def test_a_plan_without_alcoves_is_as_it_was() -> None:
    drawing = draw_plan(splayed("", RETURNS, "[edges]"), 1, 12.0)
    assert "INSIDE CORNER" not in said(drawing)
    assert said(drawing).count("WALL") == 2


def test_the_elevation_leaves_the_alcoves_to_their_own() -> None:
    drawing = draw_elevation(beside_alcoves(), 12.0)
    assert min(x for x, _ in spots(drawing, layers.UNITS) or {(0.0, 0.0)}) >= 0
    notes = " ".join(general_notes(beside_alcoves()).paragraphs)
    assert 'and take 1" from both faces at each inside corner' in notes
    assert "inside corner" not in " ".join(
        general_notes(splayed("", RETURNS)).paragraphs
    )


def test_the_record_has_the_faces_as_they_are_seen() -> None:
    record = solution_record(beside_alcoves())
    faces = {face["name"]: face for face in record["layout"]["faces"]}
    top = float(beside_alcoves().coursing.top)
    assert faces["left alcove"]["area"] == pytest.approx(23 * top)
    assert faces["left"]["area"] == pytest.approx(11 * top)
    assert faces["left alcove"]["folds"] == []
    assert faces["left alcove"]["turn_deg"] == 0


@cache
def whole() -> Solution:
    """Return the whole job solved, once a session."""
    return solve(parse_job(JOB, "alcove.toml"))


@cache
def drawn_whole() -> DrawingSet:
    """Return the whole job drawn, once a session."""
    return build(whole())


def test_the_whole_job_is_drawn_clear_and_read_back_alike() -> None:
    solution, drawn = whole(), drawn_whole()
    titles = [x.drawing.title for sheet in drawn.sheets for x in sheet.drawings]
    for name in ("LEFT ALCOVE, DEVELOPED", "RIGHT INSIDE CORNER, COURSES 1 AND 2"):
        assert any(name in title for title in titles), name
    for sheet in drawn.sheets:
        assert collisions_on(sheet) == []
        assert compare(read_back(write_dxf(sheet)), expect_sheet(solution, sheet)) == ()


def moved_brick(ink: Ink) -> Ink:
    """Return cut brick moved by 1/8."""
    if isinstance(ink, Stroke) and ink.layer == layers.SECTION:
        return replace(ink, points=tuple((x + 0.125, y) for x, y in ink.points))
    return ink


@pytest.mark.parametrize(
    ("view", "change"), [("inside-left", moved_brick), ("plan-1", moved_brick)]
)
def test_brick_in_the_wrong_place_is_found_when_read_back(
    view: str, change: Callable[[Ink], Ink]
) -> None:
    solution = whole()
    (sheet,) = (
        x
        for x in drawn_whole().sheets
        if any(placed.drawing.name == view for placed in x.drawings)
    )
    damaged = replace(
        sheet,
        drawings=tuple(
            replace(
                placed,
                drawing=replace(
                    placed.drawing, ink=tuple(map(change, placed.drawing.ink))
                ),
            )
            if placed.drawing.name == view
            else placed
            for placed in sheet.drawings
        ),
    )
    expected = expect_sheet(solution, damaged)
    assert compare(read_back(write_dxf(damaged)), expected)
