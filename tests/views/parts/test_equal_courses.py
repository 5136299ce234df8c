"""Equal courses are one dimension: how many, how high each, and a sum that adds up."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction as F
from itertools import groupby

import pytest

from shopdraw.drawing.ink import Drawing, Measure, Words
from shopdraw.solution import Solution
from shopdraw.views.parts.equal_courses import EqualRun, equal_runs, said_once
from tests.demos import elevation_of, solution_of
from tests.views.lettering import collisions, crossings
from tests.views.strings import printed, unclosed

SAID = re.compile(r"(?:JOINTS (.+?), )?(\d+) (EQ )?COURSES(?: AT (.+))? =")


def listed_singly(solution: Solution, drawing: Drawing) -> list[int]:
    """Return courses of a run of three or more alike whose joints stand by themselves.

    The runs are found here from joints and bricks, not by what draws them.
    """
    heights = {
        (x.start[1], x.end[1])
        for x in drawing.ink
        if isinstance(x, Measure) and x.axis == "y"
    }
    wrong = []
    for _, some in groupby(
        solution.coursing.courses,
        key=lambda x: (x.bed_joint, x.height, x.is_reckoned or x.is_joint_reckoned),
    ):
        run = list(some)
        if len(run) < 3 or run[0].is_joint_reckoned:
            continue
        wrong += [
            course.number
            for course in run
            if (float(course.bottom), float(course.top)) in heights
        ]
    return wrong


def sums(drawing: Drawing) -> Iterator[tuple[re.Match[str], Measure]]:
    """Yield what is said of each run, with the dimension whose middle it stands at."""
    strings = [x for x in drawing.ink if isinstance(x, Measure) and x.axis == "y"]
    ink = [x for x in drawing.ink if isinstance(x, Words)]
    for words in ink:
        if words.angle_deg != 90 or "COURSES" not in words.text:
            continue
        whole = words.text if words.text.endswith("=") else f"{words.text} ="
        for after in ink:
            if after.text.startswith("AT ") and after.at[1] == words.at[1]:
                whole = f"{words.text} {after.text}"
        read = SAID.fullmatch(whole)
        assert read is not None, whole
        near = [
            x
            for x in strings
            if abs((x.start[1] + x.end[1]) / 2 - words.at[1]) < 1e-6
            and 0 < x.line_at - words.at[0] < 8 * words.height_on_paper * drawing.scale
        ]
        yield read, max(near, key=lambda x: x.line_at)


def not_adding_up(solution: Solution, drawing: Drawing) -> list[str]:
    """Return what is said of runs whose each and count do not make the figure."""
    wrong = []
    for read, measure in sums(drawing):
        whole = printed(measure.words, solution.lengths)
        each = printed(read[4], solution.lengths) if read[4] else None
        drawn = measure.end[1] - measure.start[1]
        courses = [
            x
            for x in solution.coursing.courses
            if measure.start[1] < float(x.top) <= measure.end[1] + 1e-9
        ]
        if (
            (each is not None and int(read[2]) * each != whole)
            or len(courses) != int(read[2])
            or abs(drawn - float(whole)) > (1 / 16 if solution.lengths == "in" else 1)
        ):
            wrong.append(read[0])
    return wrong


def test_every_demo_s_equal_courses_are_one_dimension(
    demo: str, solution: Solution
) -> None:
    drawing = elevation_of(demo, 8.0 if solution.lengths == "in" else 10.0)
    assert listed_singly(solution, drawing) == []
    assert not_adding_up(solution, drawing) == []
    assert unclosed(drawing, solution.lengths) == []
    assert collisions(drawing) == crossings(drawing) == []


def test_the_library_s_courses_in_the_trade_s_words() -> None:
    """5 on joints of 3/8, 8 on 7/16, as a mason would read it off."""
    drawing = elevation_of("library-hearth", 4.0)
    said = {(read[0], x.words) for read, x in sums(drawing)}
    assert said == {
        ('JOINTS 3/8", 5 COURSES AT 2 5/8" =', "1'-1 1/8\""),
        ('JOINTS 7/16", 8 COURSES AT 2 11/16" =', "1'-9 1/2\""),
    }


@pytest.mark.parametrize(
    ("each", "said"),
    [
        (F(75), "JOINTS 10, 8 COURSES AT 75 ="),
        # 8 x 75.3 = 602.4, printed 602; 8 x 75 would be 600.
        (F(753, 10), "JOINTS 10, 8 EQ COURSES ="),
        # 8 x 75.05 = 600.4, printed 600, as 8 x 75 is.
        (F(1501, 20), "JOINTS 10, 8 COURSES AT 75 ="),
    ],
)
def test_each_is_printed_only_where_it_adds_up(each: F, said: str) -> None:
    run = EqualRun(8, F(10), each, F(0))
    top = float(run.top)
    measure = Measure("", (0.0, 0.0), (0.0, top), "y", -9.0, f"{round(top)}", 2.5)
    _, words = said_once((measure,), (run,), "mm", 10.0)
    assert ", ".join(x.text for x in words) == said


def test_a_sum_that_is_wrong_and_a_course_by_itself_are_noticed() -> None:
    solution = solution_of("library-hearth")
    drawing = elevation_of("library-hearth", 4.0)
    miscounted = tuple(
        replace(x, text=x.text.replace("5 COURSES", "6 COURSES"))
        if isinstance(x, Words)
        else x
        for x in drawing.ink
    )
    assert len(not_adding_up(solution, replace(drawing, ink=miscounted))) == 1
    course = solution.coursing.courses[1]
    ends = (0.0, float(course.bottom)), (0.0, float(course.top))
    alone = Measure("", *ends, "y", -5.0, '2 1/4"', 3 / 32)
    ink = (*drawing.ink, alone)
    assert listed_singly(solution, replace(drawing, ink=ink)) == [2]


def test_what_nobody_measured_is_in_no_run() -> None:
    courses = solution_of("library-hearth").coursing.courses
    assert [run.count for run in equal_runs(courses)] == [5, 8]
    hidden = replace(courses[2], is_reckoned=True)
    assert [run.count for run in equal_runs((*courses[:2], hidden, *courses[3:]))] == [
        8
    ]
