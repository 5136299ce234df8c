"""Old houses out of the whole space of them: solved, proved, composed.

Seven jobs, all but one for the long run, which draws two of them; five hundred in the
benchmark: `python -m tests.bench old_houses`.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.demos import set_of, solution_of
from tests.longer import mostly_long, mostly_long_demos
from tests.old_houses import make_job, seeded
from tests.old_houses_held import (
    miscounted,
    misread,
    redlined,
    unreported,
    wrong_with,
)
from tests.output.readers import install_npm, npm_folder

DRAWN_HERE = (9, 1885047)
HERE = (*DRAWN_HERE, 749, 3082, 1524644, 9451223, 1040036)
"""Some that are quick to lay; the first two are drawn.

These are a segmental arch, and soldiers in millimetres.
"""


@pytest.mark.parametrize("number", mostly_long(HERE, 749))
def test_any_old_house_is_solved_proved_and_composed(
    number: int, shared: Path | None, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Where npm's reader can't be installed is told of where demos are given to it."""
    drawn, npm = number in DRAWN_HERE, None
    if drawn:
        folder = npm_folder(shared, tmp_path_factory.getbasetemp())
        npm = None if install_npm(folder) else folder
    assert wrong_with(number, npm, drawn=drawn) == []


def test_every_kind_of_job_is_among_those_here() -> None:
    jobs = [make_job(seeded(number))[1] for number in HERE]
    assert len({job.opening.head for job in jobs}) == 5
    assert len({job.bond.pattern for job in jobs}) >= 4
    assert {job.job.lengths for job in jobs} == {"in", "mm"}
    assert {job.opening.corners is None for job in jobs} == {True, False}
    assert {job.opening.jamb_return is None for job in jobs} == {True, False}
    returns = {bool(job.face.left_return or job.face.right_return) for job in jobs}
    assert returns == {True, False}
    drawn = [make_job(seeded(number))[1] for number in DRAWN_HERE]
    assert len({job.opening.head for job in drawn}) == 2
    assert {job.job.lengths for job in drawn} == {"in", "mm"}


@cache
def solved(number: int) -> Solution:
    """Return a job that is only damaged here, solved."""
    return solve(make_job(seeded(number))[1])


def test_what_is_not_reported_is_noticed() -> None:
    for number in range(200):
        solution = solved(number)
        if solution.layout.broken:
            hushed = replace(solution, findings=())
            assert unreported(hushed) != []
            return
    pytest.fail("no job broke a rule")


def without_the_front(drawn: DrawingSet) -> tuple[Sheet, ...]:
    return tuple(sheet for sheet in drawn.sheets if "elevation" not in sheet.shows)


def test_a_redline_is_noticed() -> None:
    solution, drawn = solution_of("library-hearth"), set_of("library-hearth")
    assert redlined(solution, drawn) == []
    assert redlined(solution, replace(drawn, sheets=without_the_front(drawn))) != []


@mostly_long_demos("library-hearth", "metric-slips", "semicircular-dining-room")
def test_a_count_that_is_off_is_noticed(demo: str) -> None:
    solution, drawn = solution_of(demo), set_of(demo)
    assert miscounted(solution, drawn) == []
    plan = replace(solution.cut_plan, units=solution.cut_plan.units[1:])
    assert miscounted(replace(solution, cut_plan=plan), drawn) != []
    less = replace(solution, cut_list=solution.cut_list[1:])
    assert miscounted(less, drawn) != []
    assert miscounted(solution, replace(drawn, sheets=without_the_front(drawn))) != []


def test_a_file_that_was_drawn_otherwise_is_noticed() -> None:
    solution, whole = solution_of("metric-slips"), set_of("metric-slips")
    # Of two sheets one has brick on it.
    drawn = replace(whole, sheets=whole.sheets[:2], expected=whole.expected[:2])
    expected = tuple(
        replace(each, inserts=each.inserts[1:]) if each.inserts else each
        for each in drawn.expected
    )
    wrong = replace(drawn, expected=expected)
    assert misread(solution, drawn, None) == []
    assert misread(solution, wrong, None) != []
