"""Revisions: their table, the cloud about what changed, and nothing where none did."""

from __future__ import annotations

from functools import cache

import pytest

from shopdraw.drawing.ink import Stroke, Words
from shopdraw.drawing.tables import Column, Table, without_blank
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from shopdraw.views.parts.clouds import cloud_of
from shopdraw.views.set import compose_sheets
from shopdraw.views.words.schedules import (
    list_events,
    materials_table,
    revisions_table,
)
from tests.demos import set_of, solution_of
from tests.longer import mostly_long
from tests.views.jobs import text_of
from tests.views.lettering import collisions_on, crossings

REVISED = """
[[revision]]
mark = "A"
says = "first issue"

[[revision]]
mark = "B"
date = 2026-03-20
by = "the mason"
says = "head measured again"
courses = [6, 7, 8]
"""


@cache
def revised() -> Solution:
    return solve(parse_job(text_of("library-hearth") + REVISED, "den.toml"))


def test_the_last_revision_stands_first_with_its_courses() -> None:
    rows = revisions_table(revised().job).rows
    assert rows == (
        ("B", "2026-03-20", "the mason", "head measured again", "6 to 8"),
        ("A", "", "", "first issue", ""),
    )


def test_the_cloud_is_about_the_courses_that_changed_alone() -> None:
    solution = revised()
    ink = cloud_of(solution, 8.0)
    left, right, _ = (x.points for x in ink if isinstance(x, Stroke))
    courses = {course.number: course for course in solution.coursing.courses}
    for cloud in (left, right):
        ys = [y for _, y in cloud]
        # It bulges out by less than an arc, so nothing of course 5 or 9 is within it.
        assert courses[5].bottom < min(ys) < courses[6].bottom
        assert courses[8].top < max(ys) < courses[9].top
    # About each leg: the opening is 34 wide, from 11 5/8.
    assert min(x for x, _ in left) < 0
    assert 11.625 < max(x for x, _ in left) < 11.625 + 5
    assert 45.625 - 5 < min(x for x, _ in right) < 45.625
    assert max(x for x, _ in right) > 57.25


# About the soldiers over the opening, and at the foot, there is the least room.
@pytest.mark.parametrize(
    "courses",
    mostly_long(("[6, 7, 8]", "[9, 10, 11]", "[11, 12]", "[1]"), "[9, 10, 11]", "[1]"),
)
def test_neither_cloud_nor_delta_lies_on_lettering(courses: str) -> None:
    text = text_of("library-hearth") + REVISED.replace("[6, 7, 8]", courses)
    solution = solve(parse_job(text, "den.toml"))
    sheet = next(x for x in compose_sheets(solution) if "elevation" in x.shows)
    elevation = sheet.drawings[0].drawing
    # A bubble's ring has 36 points.
    clouds = sum(isinstance(x, Stroke) and len(x.points) > 36 for x in elevation.ink)
    assert clouds == (2 if courses in ("[6, 7, 8]", "[1]") else 1)
    assert crossings(elevation) == []


def test_a_job_without_revisions_has_neither(solution: Solution) -> None:
    ink = cloud_of(solution, 8.0)
    assert list(ink) == []


def test_a_revised_set_has_its_table_and_nothing_collides() -> None:
    drawn = build(revised())
    names = [p.drawing.name for p in drawn.sheets[0].drawings]
    assert "revisions" in names
    for sheet in drawn.sheets:
        assert collisions_on(sheet) == []


@pytest.mark.parametrize(
    ("name", "made"),
    [
        # The riser's corners are square, and drawn as units in one piece.
        ("raised-hearth", "solid"),
        ("library-hearth", "solid"),
        ("chamfered-breast", "made of flat brick"),
    ],
)
def test_corner_units_are_ordered_as_they_are_drawn(name: str, made: str) -> None:
    rows = materials_table(solution_of(name).job).rows
    (corner,) = (row for row in rows if row[0] == "corner unit")
    assert corner[-1] == f"legs measured outside, {made}"


def test_a_column_in_which_nothing_stands_is_left_out() -> None:
    heads = tuple(map(Column, ("MARK", "LEGS", "NOTE")))
    table = Table("list", "LIST", heads, (("B1", "", ""), ("B2", "", "sawn")))
    shown = without_blank(table)
    assert [column.head for column in shown.columns] == ["MARK", "NOTE"]
    assert shown.rows == (("B1", ""), ("B2", "sawn"))
    assert without_blank(shown) == shown


@pytest.mark.parametrize(
    ("demo", "has_legs"), [("jack-arch-parlour", False), ("library-hearth", True)]
)
def test_the_cut_list_has_legs_where_there_are_corner_units(
    demo: str, has_legs: bool
) -> None:
    heads = {
        ink.text
        for sheet in set_of(demo).sheets
        for placed in sheet.drawings
        if placed.drawing.name == "cut-list"
        for ink in placed.drawing.ink
        if isinstance(ink, Words)
    }
    assert "MARK" in heads
    assert ("LEGS, OUTSIDE" in heads) == has_legs


def test_a_day_in_the_calendar_is_the_first_not_the_day_of_the_work() -> None:
    events = list_events(solution_of("library-hearth"))
    assert len(events) == 3
    assert all(x.what.endswith(", not before this day") for x in events)
    assert events[0].what == "point the joints, not before this day"
