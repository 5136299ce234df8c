"""A panel of herringbone over the opening, in every drawing, list and record."""

from __future__ import annotations

import json
from fractions import Fraction as F
from functools import cache

import pytest

from shopdraw.drawing.ink import Insert, Measure, Words
from shopdraw.masonry.wall.layout import area_within
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from shopdraw.views.picture.appearance import compose_appearance
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.wall.sections import draw_head_section, over_the_opening
from shopdraw.views.words.record import record_text
from shopdraw.views.words.report import write_report
from tests.demos import unpictured
from tests.masonry.inset.panel_jobs import job_of
from tests.views.marks_read import without_mark
from tests.views.picture.shown import bricks_seen, not_shown, painted


@cache
def solved() -> Solution:
    return solve(job_of())


def test_every_file_of_the_set_reads_back_as_it_was_meant() -> None:
    assert unpictured(build(solved()))


def test_the_elevation_inserts_each_piece_once_with_its_tags() -> None:
    solution = solved()
    drawing = draw_elevation(solution, 8.0)
    tags = [
        {tag.name: tag.text for tag in each.tags}
        for each in drawing.ink
        if isinstance(each, Insert)
    ]
    shown = [each["ID"] for each in tags if each["FACE"] == "PANEL"]
    laid = [x.id for x in solution.pieces if x.place == "panel"]
    assert sorted(shown) == sorted(laid)
    assert len(laid) > 30


def test_the_elevation_sets_the_panel_out() -> None:
    drawing = draw_elevation(solved(), 8.0)
    words = {each.text for each in drawing.ink if isinstance(each, Words)}
    assert "PANEL, FINISH" in words
    assert "OVERMANTEL PANEL, TOP" in words
    across = {
        (each.start[0], each.end[0])
        for each in drawing.ink
        if isinstance(each, Measure) and each.axis == "x"
    }
    assert {(0, 17.8125), (17.8125, 45.8125), (45.8125, 63.625)} <= across
    up = {
        (each.start[1], each.end[1])
        for each in drawing.ink
        if isinstance(each, Measure) and each.axis == "y"
    }
    assert (31.875, 52.5) in up


def test_the_picture_paints_every_piece_of_the_front() -> None:
    solution = solved()
    shown = [name for name, _, _ in bricks_seen(solution)]
    assert any(name.startswith("P-") for name in shown)
    assert not_shown(painted(compose_appearance(solution, 9)), solution) == []


def test_cut_list_cut_plan_and_takeoff_count_every_piece() -> None:
    solution = solved()
    ids = sorted(each for row in solution.cut_list for each in row.ids)
    assert ids == sorted(x.id for x in solution.layout.pieces)
    area = solution.takeoff.row("panel area")
    assert float(area.net) == pytest.approx(28 * 20.625 / 144)


def test_the_finding_names_the_pieces_that_fall_short() -> None:
    solution = solved()
    found = solution.finding("panel-pieces", 1)
    assert found is not None
    small = {
        x.id
        for x in solution.layout.pieces
        if x.place == "panel"
        and x.is_cut
        and area_within(x.outlines[0].points) < F(61, 8) * F(9, 4) / 4
    }
    assert found.status == ("failed" if small else "passed")
    assert set(found.pieces) == small
    assert small


def test_record_and_report_say_what_is_there() -> None:
    solution = solved()
    record = json.loads(record_text(solution))["layout"]
    (panel,) = record["panels"]
    assert panel["pattern"] == "herringbone 45"
    assert panel["courses"] == [13, 20]
    assert panel["outline"][0] == [11.625 + 17.8125, 31.875]
    assert {x["kind"] for x in json.loads(record_text(solution))["stops"]} >= {"panel"}
    text = write_report(solution)
    assert "Overmantel panel: herringbone 45" in text
    assert "The courses stop a joint of 3/8" in text


def test_a_section_dimensions_no_turned_piece_that_it_happens_to_meet() -> None:
    solution = solved()
    field = solution.layout.panels[0].field
    drawing = draw_head_section(solution, 4.0)
    levels = {
        point[1]
        for each in drawing.ink
        if isinstance(each, Measure) and each.axis == "y"
        for point in (each.start, each.end)
    }
    # The two courses under the panel are dimensioned; within the panel nothing is.
    assert {float(solution.coursing.head), 31.5} <= levels
    assert not [y for y in levels if y > float(field[1])]
    drawn = [cut for cut in over_the_opening(solution) if cut.piece.place == "panel"]
    assert drawn


@cache
def bordered() -> Solution:
    return solve(job_of(('border = "none"', 'border = "rowlock"')))


def test_the_mark_of_a_triangle_lies_along_the_side_that_has_room() -> None:
    drawing = draw_elevation(bordered(), 4.0)
    lettered = {
        tag.text: tag.words
        for each in drawing.ink
        if isinstance(each, Insert)
        for tag in each.tags
        if tag.name == "MARK" and tag.words is not None
    }
    pieces = bordered().layout.pieces
    dx = -float(bordered().surround.front.left)
    assert without_mark(drawing, pieces, "front", dx, 3 / 32) == []
    # The smallest have a leader; the next has its right angle in a corner of the field.
    smallest = sorted(
        (area_within(x.outlines[0].points), x.mark)
        for x in pieces
        if x.place == "panel"
    )
    leaning = [lettered[x].angle_deg for _, x in smallest if x in lettered]
    assert leaning[0] == 90
