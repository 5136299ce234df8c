"""Random panels: laid, proved and drawn, or refused in words."""

from __future__ import annotations

import pytest

from shopdraw.errors import BadJob, NotLaid
from shopdraw.output.write import make_files
from shopdraw.pipeline import build, solve
from tests.face_panels import panel_job


@pytest.mark.parametrize("seed", [0, 1, 2, 4])
def test_a_random_panel_is_drawn_whole_or_refused_in_words(seed: int) -> None:
    try:
        solution = solve(panel_job(seed))
    except (BadJob, NotLaid) as error:
        assert str(error)
        return
    for number, _ in enumerate(solution.layout.panels, start=1):
        short = solution.finding("panel-pieces", number)
        assert short is not None
        # What falls short is named; nothing that is named passed.
        assert (short.status == "failed") == bool(short.pieces)
    assert solution.layout.panels
    assert make_files(build(solution))
