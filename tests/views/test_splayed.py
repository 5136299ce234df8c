"""Splayed jambs on paper: figures by hand, and lines that damage makes red."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Measure, Stroke, Words
from shopdraw.drawing.sheets import PlacedDrawing, Sheet
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_dxf
from shopdraw.output.readback import read_back
from shopdraw.solution import Solution
from shopdraw.views.every import every_view
from shopdraw.views.expected.built import trace_built
from shopdraw.views.expected.sheets import expect_sheet
from shopdraw.views.making.corner_units import draw_corner_unit
from shopdraw.views.section.upright import draw_upright_section
from shopdraw.views.wall.plans import draw_plan
from shopdraw.views.wall.turned import draw_jamb_courses
from tests.demos import set_of, solution_of
from tests.splayed import COS, SIN, splayed
from tests.views.lettering import collisions

DEMO, CHAMFERED = "splayed-parlour", "chamfered-breast"


def figures(drawing: Drawing, axis: str) -> list[str]:
    return [x.words for x in drawing.ink if isinstance(x, Measure) and x.axis == axis]


def said(drawing: Drawing) -> list[str]:
    return [x.text for x in drawing.ink if isinstance(x, Words)]


def strokes(drawing: Drawing, layer: str) -> list[Stroke]:
    return [x for x in drawing.ink if isinstance(x, Stroke) and x.layer == layer]


def detail(solution: Solution) -> Drawing:
    row = next(row for row in solution.cut_list if row.is_made)
    return draw_corner_unit(solution.job, row, 4.0).lettered()


def test_a_mitred_corner_unit_has_its_legs_outside_and_inside() -> None:
    # 5/8 x tan 30 = 0.361: 7 5/8 is 7.264 inside, and 3 5/8 is 3.264; to a sixteenth
    # 7 1/4 and 3 1/4. 180 - 60 = 120 degrees between the faces, mitred at 30.
    drawing = detail(splayed())
    assert figures(drawing, "x") == ['7 5/8"', '7 1/4"', '3 5/8"', '3 1/4"']
    words = said(drawing)
    assert "120 DEGREES" in words
    assert "120 DEGREES BETWEEN ITS LEGS, MEASURED ON THE FACES" in words
    assert "MITRE EACH LEG 30 DEGREES OFF SQUARE, LONGEST ON THE FACE" in words
    assert "GLUE MITRE TO MITRE, TIGHT: NO JOINT IS ALLOWED FOR" in words
    assert collisions(drawing) == []


def test_a_unit_that_may_not_be_turned_is_drawn_in_its_own_hand() -> None:
    solution = splayed(turns=", turns_over = false")
    rows = [row for row in solution.cut_list if row.is_made]
    assert {row.mark[-2:] for row in rows} == {"-L", "-R"}
    for row in rows:
        drawing = draw_corner_unit(solution.job, row, 4.0).lettered()
        ring = strokes(drawing, layers.SECTION)[0].points
        far = max(ring, key=lambda point: abs(point[0]))
        assert far[0] == pytest.approx(-7.625 if row.mark.endswith("-L") else 7.625)
        assert collisions(drawing) == []


def test_the_plan_dimensions_the_jambs_at_their_back() -> None:
    # 25 1/4 clear, 6.603 back; below, the face has 32 7/8.
    drawing = draw_plan(splayed(), 1, 8.0)
    assert "2'-1 1/4\"" in figures(drawing, "x")
    assert '6 5/8"' in figures(drawing, "y")
    assert "2'-8 7/8\"" in figures(drawing, "x")
    assert "CLEAR AT THE BACK; JAMBS SPLAY 30 DEG" in said(drawing)
    square = draw_plan(splayed('jamb_return = "7 5/8 in"'), 1, 8.0)
    assert not any("SPLAY" in words for words in said(square))


def test_the_jamb_is_drawn_at_its_true_angle() -> None:
    # The jamb's face runs from 0, 0 to 7 5/8 x cos 60 = 3.8125 and 6.6034.
    drawing = draw_jamb_courses(splayed(), 4.0)
    points = {
        (round(x, 4), round(y, 4))
        for stroke in strokes(drawing, layers.SECTION)
        for x, y in stroke.points
    }
    assert (0.0, 0.0) in points
    assert (round(7.625 * COS, 4), round(7.625 * SIN, 4)) in points
    assert figures(drawing, "x").count('3 13/16"') == 2
    assert figures(drawing, "y") == ['6 5/8"', '6 5/8"']
    assert said(drawing).count("60 DEG") == 2
    assert collisions(drawing) == []
    with pytest.raises(ValueError, match="no brick turns"):
        draw_jamb_courses(splayed(""), 4.0)


def test_a_square_jamb_has_its_courses_and_no_mitre() -> None:
    solution = splayed('jamb_return = "7 5/8 in"')
    drawing = draw_jamb_courses(solution, 4.0)
    assert figures(drawing, "y") == ['7 5/8"', '7 5/8"']
    assert said(drawing).count("90 DEG") == 2
    assert sum("LEG IN THE JAMB" in words for words in said(drawing)) == 2
    # A mitre would be a line of two points from the corner.
    assert [x for x in strokes(drawing, layers.SECTION) if len(x.points) == 2] == []
    assert collisions(drawing) == []
    assert "jamb" in [view.name for view in every_view(solution)]
    wanted = {x.points for x in trace_built(solution, drawing) if x.kind == "closed"}
    drawn = {x.points for x in strokes(drawing, layers.SECTION) if x.closed}
    assert len(wanted) == len(drawn)


def test_the_jamb_says_whether_the_right_one_is_of_the_opposite_hand() -> None:
    solution = splayed('jamb_return = "7 5/8 in"')
    assert "RIGHT JAMB: OPPOSITE HAND" in said(draw_jamb_courses(solution, 4.0))
    # The long leg of the right jamb's first corner unit is taken to lie on the front.
    fold = solution.surround.jamb_folds[1]
    pieces = tuple(
        replace(piece, course=3 - piece.course)
        if piece.course < 3 and any(fold in (x.left, x.right) for x in piece.outlines)
        else piece
        for piece in solution.layout.pieces
    )
    other = replace(solution, layout=replace(solution.layout, pieces=pieces))
    assert "RIGHT JAMB: SEE THE PLANS" in said(draw_jamb_courses(other, 4.0))


def test_the_section_sees_the_jamb_as_deep_as_it_is() -> None:
    for opening, deep in (
        ('jamb_return = "7 5/8 in"\nsplay = 30', 7.625 * SIN),
        ('jamb_return = "7 5/8 in"', 7.625),
    ):
        drawing = draw_upright_section(splayed(opening), 8.0)
        seen = [
            x
            for layer in (layers.UNITS, layers.CORNERS)
            for x in strokes(drawing, layer)
        ]
        far = max(x for stroke in seen for x, _ in stroke.points)
        assert far == pytest.approx(deep, abs=1e-5)


def placed_at(sheet: Sheet, name: str) -> int:
    return [each.drawing.name for each in sheet.drawings].index(name)


def damaged(sheet: Sheet, name: str, change: Callable[[Ink], Ink | None]) -> Sheet:
    """Return a sheet with the first ink of a drawing that can be changed, changed."""
    at = placed_at(sheet, name)
    placed = list(sheet.drawings)
    drawing = placed[at].drawing
    for ink in drawing.ink:
        new = change(ink)
        if new is not ink:
            kept = [new if x is ink else x for x in drawing.ink]
            drawing = replace(drawing, ink=tuple(x for x in kept if x is not None))
            placed[at] = PlacedDrawing(drawing, placed[at].placement)
            return replace(sheet, drawings=tuple(placed))
    raise AssertionError("nothing to change")


def is_line(ink: Ink, layer: str, corners: int) -> bool:
    return isinstance(ink, Stroke) and (ink.layer, len(ink.points)) == (layer, corners)


def sheet_with(demo: str, name: str) -> Sheet:
    """Return the sheet of a demo that has a drawing."""
    return next(
        x
        for x in set_of(demo).sheets
        if name in [each.drawing.name for each in x.drawings]
    )


@cache
def differs(demo: str, called: str) -> tuple[str, ...]:
    """Return what a sheet as it was drawn has otherwise than it should, read back."""
    (sheet,) = [x for x in set_of(demo).sheets if x.name == called]
    return compare(read_back(write_dxf(sheet)), expect_sheet(solution_of(demo), sheet))


@pytest.mark.parametrize(
    ("demo", "name", "layer", "corners"),
    [
        # A jamb beyond the elevation, and in section.
        (DEMO, "elevation", layers.CORNERS, 4),
        (DEMO, "upright-section", layers.CORNERS, 4),
        # A corner unit at its angle, and its mitre; the same in the details.
        (DEMO, "plan-1", layers.SECTION, 6),
        (DEMO, "jamb", layers.SECTION, 6),
        (DEMO, "jamb", layers.SECTION, 2),
        (DEMO, "details-1", layers.SECTION, 6),
        (DEMO, "details-1", layers.SECTION, 2),
        (DEMO, "details-1", layers.CUTS, 2),
        # A chamfer beside the front, by itself, in plan, and at both its corners.
        (CHAMFERED, "elevation", layers.CORNERS, 4),
        (CHAMFERED, "chamfer-left", layers.CORNERS, 4),
        (CHAMFERED, "plan-1", layers.SECTION, 6),
        (CHAMFERED, "corner-1", layers.SECTION, 6),
        (CHAMFERED, "corner-2", layers.SECTION, 6),
        (CHAMFERED, "corner-2", layers.SECTION, 2),
    ],
)
def test_a_line_that_is_moved_or_missing_is_found(
    demo: str, name: str, layer: str, corners: int
) -> None:
    solution, sheet = solution_of(demo), sheet_with(demo, name)
    assert differs(demo, sheet.name) == ()

    def moved(ink: Ink) -> Ink:
        if not is_line(ink, layer, corners):
            return ink
        assert isinstance(ink, Stroke)
        (x, y), *rest = ink.points
        return replace(ink, points=((x + 0.25, y), *rest))

    def gone(ink: Ink) -> Ink | None:
        return None if is_line(ink, layer, corners) else ink

    for change in (moved, gone):
        wrong = damaged(sheet, name, change)
        found = compare(read_back(write_dxf(wrong)), expect_sheet(solution, wrong))
        assert any("should be drawn but is not" in each for each in found)


def test_faces_beside_the_front_stand_as_they_unfold_left_to_right() -> None:
    wanted = ["return-left", "chamfer-left", "chamfer-right", "return-right"]
    placed = [x for sheet in set_of(CHAMFERED).sheets for x in sheet.drawings]
    faces = [x for x in placed if x.drawing.name in wanted]
    stand = sorted(faces, key=lambda x: x.placement.to_paper((0, 0))[0])
    assert [x.drawing.name for x in stand] == wanted
    assert [
        x.name for x in every_view(solution_of(CHAMFERED)) if x.name in wanted
    ] == wanted
