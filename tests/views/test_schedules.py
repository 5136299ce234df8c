"""Revisions: their table, the cloud about what changed, and nothing where none did."""

from __future__ import annotations

from shopdraw.drawing.ink import Stroke
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import Solution, build, solve
from shopdraw.views.schedules import cloud_of, revisions_table
from tests.views.jobs import text_of
from tests.views.lettering import collisions_on

REVISED = """
[[revision]]
mark = "A"
says = "first issue"

[[revision]]
mark = "B"
date = 2026-03-20
says = "head measured again"
courses = [6, 7, 8]
"""


def revised() -> Solution:
    return solve(parse_job(text_of("library-hearth") + REVISED, "den.toml"))


def test_the_last_revision_stands_first_with_its_courses() -> None:
    rows = revisions_table(revised().job).rows
    assert rows == (
        ("B", "2026-03-20", "head measured again", "6 to 8"),
        ("A", "", "first issue", ""),
    )


def test_the_cloud_is_about_the_courses_that_changed_alone() -> None:
    solution = revised()
    ink = list(cloud_of(solution.job, solution.coursing, 57.25, 8.0))
    cloud = next(x for x in ink if isinstance(x, Stroke))
    courses = {course.number: course for course in solution.coursing.courses}
    ys = [y for _, y in cloud.points]
    # It bulges out by less than an arc, so nothing of course 5 or 9 is within it.
    assert courses[5].bottom < min(ys) < courses[6].bottom
    assert courses[8].top < max(ys) < courses[9].top
    assert min(x for x, _ in cloud.points) < 0
    assert max(x for x, _ in cloud.points) > 57.25


def test_a_job_without_revisions_has_neither(solution: Solution) -> None:
    assert list(cloud_of(solution.job, solution.coursing, 50.0, 8.0)) == []


def test_a_revised_set_has_its_table_and_nothing_collides() -> None:
    drawn = build(revised())
    names = [p.drawing.name for p in drawn.sheets[0].drawings]
    assert "revisions" in names
    for sheet in drawn.sheets:
        assert collisions_on(sheet) == []
