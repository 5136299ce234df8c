"""Random panels: laid, proved and drawn, or refused in words."""

from __future__ import annotations

import pytest

from shopdraw.errors import BadJob, NotLaid
from shopdraw.output.write import make_files
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from tests.demos import unpictured
from tests.face_panels import house_job, panel_job
from tests.longer import mostly_long

HOLE_AT_A_CORNER = 14
"""Joints at 45 degrees meet at a corner of its field: that was called a hole once."""


@pytest.mark.parametrize(
    "seed", mostly_long((0, 2, 3, HOLE_AT_A_CORNER), 3, HOLE_AT_A_CORNER)
)
def test_a_random_panel_is_drawn_whole_or_refused_in_words(seed: int) -> None:
    try:
        solution = solve(panel_job(seed))
    except (BadJob, NotLaid) as error:
        assert str(error)
        return
    assert_named(solution)
    drawn = build(solution)
    assert unpictured(drawn)
    if not seed:
        # Of one random set the pictures, too.
        assert all(make_files(drawn).values())


@pytest.mark.parametrize("seed", mostly_long((0, 3, 4, 5, 7), 5, 7))
def test_a_panel_in_an_old_house_is_laid_or_refused_in_words(seed: int) -> None:
    try:
        solution = solve(house_job(seed))
    except NotLaid as error:
        assert all(error.lines())
        return
    assert_named(solution)


def assert_named(solution: Solution) -> None:
    """Hold that what falls short is named, and that nothing that is named passed."""
    assert solution.layout.panels
    for number, _ in enumerate(solution.layout.panels, start=1):
        short = solution.finding("panel-pieces", number)
        assert short is not None
        assert (short.status == "failed") == bool(short.pieces)
