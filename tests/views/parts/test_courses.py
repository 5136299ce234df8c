"""What the coursing table and the notes say of courses, rule marks and a lot."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from shopdraw.job.reading import parse_job
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.marks.rule_marks import follow_marks
from shopdraw.masonry.marks.variation import reckon_variation
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.views.parts.courses import further_columns, lot_words
from shopdraw.views.words.tables import coursing_table
from tests.demos import solution_of
from tests.views.jobs import text_of


def told_of(more: str) -> tuple[list[str], dict[str, tuple[str, ...]]]:
    """Return the sentences on the lot and the further columns of the first demo."""
    job = parse_job(f"{text_of('library-hearth')}\n{more}", "den.toml")
    coursing = solve_coursing(job, trace_surround(job))
    solution = replace(
        solution_of("library-hearth"),
        job=job,
        coursing=coursing,
        variation=reckon_variation(job, coursing),
        rule_marks=follow_marks(job, coursing),
    )
    return list(lot_words(solution)), dict(further_columns(solution))


def test_without_sample_laid_courses_or_rule_there_is_nothing_to_tell() -> None:
    assert told_of("") == ([], {})


def test_ten_in_a_row_give_a_mean_and_no_spread() -> None:
    # 76 1/4 for ten is 7 5/8 each.
    said, columns = told_of('[brick.sample]\nrow_of_ten = "76 1/4 in"')
    assert said == [
        "The courses are worked out with the mean of the brick measured: length "
        "7 5/8 in.",
        "The brick were not measured one by one for height, so it is not known how far "
        "the courses may wander.",
    ]
    assert columns == {}


def test_a_stack_of_ten_gives_the_height_alone() -> None:
    said, _ = told_of('[brick.sample]\nstack_of_ten = "22 1/2 in"')
    assert said[0].endswith("the mean of the brick measured: height 2 1/4 in.")


def test_an_uneven_lot_is_held_to_the_pole_at_every_course() -> None:
    # Five at 2 3/16 and five at 2 5/16: the mean is 2 1/4, the standard deviation
    # 1/16 x sqrt(10/9) = 0.066 in, over 1/16; twice that is more than a joint step.
    heights = ", ".join(['"2 3/16 in"', '"2 5/16 in"'] * 5)
    said, columns = told_of(f"[brick.sample]\nheights = [{heights}]")
    assert said[0].endswith("height 2 1/4 in.")
    assert said[1].startswith(
        "The heights of 10 brick run from 2 3/16 in to 2 5/16 in, standard deviation "
    )
    assert any(
        "may be off by more than one joint step, 1/16 in: check every course" in each
        for each in said
    )
    assert set(columns) == {"MAY WANDER", "MEASURE AGAIN"}
    assert all(cell.startswith("+/- ") for cell in columns["MAY WANDER"])


def test_an_even_lot_says_where_to_measure_again() -> None:
    # Nine alike and one 1/64 off: twice the deviation is far less than a step.
    heights = ", ".join(['"2 1/4 in"'] * 9 + ['"2 17/64 in"'])
    said, columns = told_of(f"[brick.sample]\nheights = [{heights}]")
    (again,) = (each for each in said if each.startswith("Measure again at course"))
    numbers = again.split(":")[0]
    here = [n for n, cell in enumerate(columns["MEASURE AGAIN"], 1) if cell == "here"]
    assert [int(number) for number in re.findall(r"\d+", numbers)] == here


@pytest.mark.parametrize(
    ("height", "said"),
    [
        ("2 5/8 in", "7"),
        ("2 9/16 in", "7, 1/16 in over"),
        ("2 11/16 in", "7, 1/16 in under"),
    ],
)
def test_a_rule_mark_says_what_the_course_is_off_by(height: str, said: str) -> None:
    # Courses 2 to 5 stand on joints of 3/8: 2 5/8 each with their brick.
    marks = f'[[rule_marks]]\nmark = "7"\nheight = "{height}"'
    _, columns = told_of(marks)
    assert columns["RULE MARK"][1].removeprefix("change to ") == said


@pytest.mark.parametrize(
    ("demo", "first", "names"),
    [
        ("library-hearth", 1, ["stretcher"] * 3),
        ("flemish-breast", 1, ["stretcher and header"] * 3),
        # Common bond has its course of headers at the foot, then every sixth.
        ("common-sitting-room", 1, ["header", *["stretcher"] * 5, "header"]),
    ],
)
def test_each_course_is_called_what_lies_in_it(
    demo: str, first: int, names: list[str]
) -> None:
    """As the trade has it: a course of stretchers, of headers, of both by turns."""
    solution = solution_of(demo)
    rows = coursing_table(solution).rows[first - 1 : first - 1 + len(names)]
    assert [row[1] for row in rows] == names
    # Read again from the pieces: headers, and what is as long as a brick.
    for course, name in enumerate(names, start=1):
        lying = [
            (piece.kind, outline.right - outline.left)
            for piece in solution.layout.pieces
            if piece.course == course
            for outline in piece.outlines
            if outline.face == "front"
        ]
        has_headers = any(kind == "header" for kind, _ in lying)
        has_stretchers = any(long == solution.job.brick.length for _, long in lying)
        assert (has_stretchers, has_headers) == {
            "stretcher": (True, False),
            "header": (False, True),
            "stretcher and header": (True, True),
        }[name]


def test_a_course_that_stands_keeps_its_name() -> None:
    solution = solution_of("banded-breast")
    for course, row in zip(
        solution.coursing.courses, coursing_table(solution).rows, strict=True
    ):
        assert (row[1] == course.kind) == (course.kind != "running")
