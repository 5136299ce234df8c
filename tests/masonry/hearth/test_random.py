"""Random hearths: laid, proved and drawn, or refused in words."""

from __future__ import annotations

import pytest

from shopdraw.errors import BadJob, NotLaid
from shopdraw.pipeline import build, solve
from tests.demos import unpictured
from tests.hearths import hearth_job
from tests.longer import mostly_long


@pytest.mark.parametrize("seed", mostly_long(range(5), 2, 3, 4))
def test_a_random_hearth_is_drawn_whole_or_refused_in_words(seed: int) -> None:
    try:
        solution = solve(hearth_job(seed))
    except (BadJob, NotLaid) as error:
        assert str(error)
        return
    hearth = solution.hearth
    assert hearth is not None
    short = solution.finding("hearth-pieces")
    assert short is not None
    # What falls short is named; nothing that is named passed.
    assert (short.status == "failed") == bool(short.pieces)
    assert unpictured(build(solution))
