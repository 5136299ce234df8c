"""Old houses out of the whole space of them: solved, proved, composed; two drawn.

Eight jobs here, five hundred in the benchmark: `python -m tests.bench old_houses`.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from shopdraw.job.model import Job
from shopdraw.pipeline import build, solve
from tests.demos import set_of, solution_of
from tests.old_houses import make_job, seeded
from tests.old_houses_held import (
    DRAWN,
    JOBS,
    SHARES,
    miscounted,
    misread,
    numbers_of,
    redlined,
    unreported,
    wrong_in,
)
from tests.output.readers import install_npm, npm_folder

HERE, MOST = (9, 19), 4
"""The shares that are held here, and how many jobs of each; the benchmark holds all.

The forty jobs of both shares, of which so many are held here, have every head in inches
or millimetres, with returns and without, each bond, openings true and out of true, and
brick turned into the jambs. The first job of each share is drawn: a segmental arch, and
soldiers in millimetres.
"""


@pytest.mark.parametrize("share", HERE)
def test_any_old_house_is_solved_proved_and_composed(
    share: int, shared: Path | None, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Where npm's reader can't be installed is told of where demos are given to it."""
    npm = npm_folder(shared, tmp_path_factory.getbasetemp())
    assert wrong_in(share, None if install_npm(npm) else npm, MOST) == []


def kinds_of(job: Job) -> set[str]:
    has_returns = bool(job.face.left_return or job.face.right_return)
    return {
        f"{job.job.lengths}, {job.opening.head}",
        f"{job.opening.head}, {'' if has_returns else 'no '}return",
        f"{job.bond.pattern} bond",
        "true" if job.opening.corners is None else "out of true",
        "brick in the jambs" if job.opening.jamb_return else "plain jambs",
    }


def test_every_kind_of_job_is_among_those_here() -> None:
    assert SHARES * len(numbers_of(HERE[0])) == JOBS
    assert max(HERE) < DRAWN
    jobs = [make_job(seeded(x))[1] for share in HERE for x in numbers_of(share)]
    found = Counter(kind for job in jobs for kind in kinds_of(job))
    assert len(found) == 2 * 5 + 2 * 5 + 7 + 2 + 2
    drawn = [make_job(seeded(numbers_of(share)[0]))[1] for share in HERE]
    assert len({job.opening.head for job in drawn}) == 2
    assert {job.job.lengths for job in drawn} == {"in", "mm"}


def test_what_is_not_reported_is_noticed() -> None:
    for number in range(200):
        _, job = make_job(seeded(number))
        solution = solve(job)
        if solution.layout.broken:
            hushed = replace(solution, findings=())
            assert unreported(hushed) != []
            return
    pytest.fail("no job broke a rule")


def test_a_redline_is_noticed() -> None:
    _, job = make_job(seeded(0))
    solution = solve(job)
    drawn = build(solution)
    assert redlined(solution, replace(drawn, sheets=drawn.sheets[1:])) != []


def test_a_count_that_is_off_is_noticed(demo: str) -> None:
    solution, drawn = solution_of(demo), set_of(demo)
    assert miscounted(solution, drawn) == []
    plan = replace(solution.cut_plan, units=solution.cut_plan.units[1:])
    assert miscounted(replace(solution, cut_plan=plan), drawn) != []
    less = replace(solution, cut_list=solution.cut_list[1:])
    assert miscounted(less, drawn) != []
    assert miscounted(solution, replace(drawn, sheets=drawn.sheets[1:])) != []


def test_a_file_that_was_drawn_otherwise_is_noticed() -> None:
    solution, drawn = solution_of("cannot-land"), set_of("cannot-land")
    first, *rest = drawn.expected
    wrong = replace(drawn, expected=(replace(first, inserts=first.inserts[1:]), *rest))
    assert misread(solution, drawn, None) == []
    assert misread(solution, wrong, None) != []
