"""Five hundred jobs from the whole space of old houses: solved, proved, composed.

Every job is held against what is always true on the way (`prove_layout` raises), and
what could not be kept must be reported. On every sheet lettering keeps clear of
lettering, strings close, and each piece is there once. Twenty are drawn and given to
every reader there is; the benchmark does two hundred.
"""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from shopdraw.drawing.set import DrawingSet
from shopdraw.output.write import make_dxf_files
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from shopdraw.views import set as views_set
from tests.demos import set_of, solution_of
from tests.old_houses import make_job, seeded
from tests.output.readers import (
    differences,
    install_npm,
    npm_differences,
    npm_folder,
)
from tests.views.lettering import collisions_on, crossings
from tests.views.strings import ids_of, unclosed

JOBS = 500
SHARES = 25
DRAWN = 20


def unreported(solution: Solution) -> list[str]:
    """Name what could not be kept and is in no finding."""
    failed = {f.rule.words for f in solution.findings if f.status == "failed"}
    missing = [rule.rule for rule in solution.layout.broken if rule.rule not in failed]
    least = solution.job.bond.least_piece
    named = {piece for rule in solution.layout.broken for piece in rule.pieces}
    missing += [
        piece.id
        for piece in solution.layout.pieces
        if piece.kind == "stretcher" and piece.length < least and piece.id not in named
    ]
    if named != {piece.id for piece in solution.layout.pieces if piece.broken}:
        missing.append("a piece that breaks a rule, or is said to")
    lands = all(target.lands for target in solution.coursing.targets)
    if lands != solution.coursing.lands or (not lands and solution.is_clear):
        missing.append("a target")
    return missing


def without_papers(solution: Solution) -> DrawingSet:
    """Draw a set but for the papers beside its sheets."""
    with patch.object(views_set, "draw_papers", return_value=()):
        return build(solution)


def redlined(solution: Solution, drawn: DrawingSet) -> list[str]:
    """Name what a draughtsman would mark in red on the sheets."""
    drawings = [placed.drawing for sheet in drawn.sheets for placed in sheet.drawings]
    wrong = [
        f"{pair} collide" for sheet in drawn.sheets for pair in collisions_on(sheet)
    ]
    for drawing in drawings:
        wrong += [f"a line crosses {words}" for words, _ in crossings(drawing)]
        wrong += unclosed(drawing, drawn.lengths)
    ids = Counter(name for drawing in drawings for name in ids_of(drawing))
    if ids != Counter(piece.id for piece in solution.layout.pieces):
        wrong.append("a piece is missing, or there twice")
    return wrong


def miscounted(solution: Solution, drawn: DrawingSet) -> list[str]:
    """Name the counts that differ: drawn, listed, planned, taken off, recorded."""
    pieces = len(solution.layout.pieces)
    drawings = [placed.drawing for sheet in drawn.sheets for placed in sheet.drawings]
    plan, takeoff = solution.cut_plan, solution.takeoff
    flats = [row for row in solution.cut_list if "corner" not in row.kind]
    cut = {row.mark: row.count for row in flats if row.is_cut}
    record = json.loads(drawn.record_json)
    counts = {
        "drawn": sum(len(ids_of(drawing)) for drawing in drawings),
        "in the bare drawing": len(ids_of(drawn.bare)),
        "in the cut list": sum(row.count for row in solution.cut_list),
        "taken off": takeoff.row("all units").net,
        "in the record's cut list": sum(row["count"] for row in record["cut_list"]),
        "in the record's layout": len(record["layout"]["pieces"]),
        "whole, planned and corner": takeoff.row("whole units").net
        + sum(plan.pieces.values())
        + takeoff.row("corner units").net,
    }
    wrong = [
        f"{count} {where}, not {pieces}"
        for where, count in counts.items()
        if count != pieces
    ]
    if dict(plan.pieces) != cut:
        wrong.append("the plan gives other pieces than the cut list has")
    if takeoff.row("flat units").net != sum(row.count for row in flats):
        wrong.append("flat units")
    return wrong


@pytest.mark.parametrize("share", range(SHARES))
def test_any_old_house_is_solved_proved_and_composed(
    share: int, shared: Path | None, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """The first of each share, but for five, is drawn and given to the readers too.

    So are the papers beside its sheets. A general reader that can't be installed is
    told of where the demos are given to it.
    """
    to_draw = share < DRAWN
    npm = npm_folder(shared, tmp_path_factory.getbasetemp())

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
        nonlocal to_draw
        # The first number is 0 in every share: there it stands for the share's own.
        text, job = make_job(seeded(number or share))
        solution = solve(job)
        assert unreported(solution) == [], text
        drawn = build(solution) if to_draw else without_papers(solution)
        assert redlined(solution, drawn) == [], text
        assert miscounted(solution, drawn) == [], text
        if to_draw:
            to_draw = False
            files = make_dxf_files(drawn)
            assert len(files) == len(drawn.sheets) + 1
            assert differences(solution, drawn, files) == [], text
            if not install_npm(npm):
                assert npm_differences(npm, [(drawn, files)]) == [[]], text

    holds()


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
