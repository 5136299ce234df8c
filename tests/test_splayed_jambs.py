"""Old houses with splayed jambs: solved, proved, composed; one drawn and read back.

Four here, two hundred in the benchmark: `python -m tests.bench splays`.
"""

from __future__ import annotations

import pytest

from tests.old_houses import seeded
from tests.splayed_jambs import make_splayed, wrong_in

HERE, DRAWN = (8, 20, 44, 45), 44
"""Quick to lay, most of them; the one that is drawn is in millimetres."""


@pytest.mark.parametrize("number", HERE)
def test_any_splayed_jamb_is_solved_proved_and_composed(number: int) -> None:
    assert wrong_in(number, to_draw=number == DRAWN) == []


def test_both_ways_of_giving_a_splay_are_among_those_here() -> None:
    jobs = [make_splayed(seeded(number))[1] for number in HERE]
    assert {job.opening.jamb_depth is None for job in jobs} == {True, False}
    assert {job.job.lengths for job in jobs} == {"in", "mm"}
    assert all(job.opening.splayed for job in jobs)
