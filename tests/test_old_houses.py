"""Five hundred jobs from the whole space of old houses: solved, proved, composed.

Every job is held against what is always true on the way (`prove_layout` raises), and
what could not be kept must be reported. Twenty are drawn; the benchmark draws all.
"""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from shopdraw.output.write import make_files, prove_files
from shopdraw.pipeline import Solution, build, solve
from tests.old_houses import make_job, seeded

JOBS = 500
SHARES = 10
DRAWN = 20


def unreported(solution: Solution) -> list[str]:
    """Name what could not be kept and is in no finding."""
    failed = {f.rule for f in solution.findings if f.status == "failed"}
    missing = [rule.rule for rule in solution.layout.broken if rule.rule not in failed]
    least = solution.job.bond.least_piece
    named = {piece for rule in solution.layout.broken for piece in rule.pieces}
    missing += [
        piece.id
        for piece in solution.layout.pieces
        if piece.kind == "stretcher" and piece.length < least and piece.id not in named
    ]
    lands = all(target.lands for target in solution.coursing.targets)
    if lands != solution.coursing.lands or (not lands and solution.is_clear):
        missing.append("a target")
    return missing


@pytest.mark.parametrize("share", range(SHARES))
def test_any_old_house_is_solved_proved_and_composed(share: int) -> None:
    @seed(share)
    @settings(
        max_examples=JOBS // SHARES,
        deadline=None,
        database=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(st.integers(0, 10**9))
    def holds(number: int) -> None:
        text, job = make_job(seeded(number))
        solution = solve(job)
        assert unreported(solution) == [], text
        assert build(solution).sheets

    holds()


@pytest.mark.parametrize("number", range(DRAWN))
def test_some_old_houses_are_drawn_and_read_back(number: int) -> None:
    _, job = make_job(seeded(1000 + number))
    drawing_set = build(solve(job))
    files = make_files(drawing_set)
    prove_files(drawing_set, files)
    assert files["set.pdf"].startswith(b"%PDF")


def test_what_is_not_reported_is_noticed() -> None:
    from dataclasses import replace

    for number in range(200):
        _, job = make_job(seeded(number))
        solution = solve(job)
        if solution.layout.broken:
            hushed = replace(solution, findings=())
            assert unreported(hushed) != []
            return
    pytest.fail("no job broke a rule")
