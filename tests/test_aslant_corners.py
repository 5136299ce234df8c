"""Old houses whose outside corners are not square: held; one drawn and read back.

Four here, two hundred in the benchmark: `python -m tests.bench corners`.
"""

from __future__ import annotations

import pytest

from tests.aslant_corners import make_aslant, wrong_in
from tests.old_houses import seeded

HERE, DRAWN = (2, 8, 18, 20), 18


@pytest.mark.parametrize("number", HERE)
def test_any_corner_that_is_not_square_is_solved_proved_and_composed(
    number: int,
) -> None:
    assert wrong_in(number, to_draw=number == DRAWN) == []


def test_returns_and_chamfers_given_in_both_ways_are_among_those_here() -> None:
    jobs = [make_aslant(seeded(number))[1] for number in HERE]
    faces = [job.face for job in jobs]
    chamfers = {face.left_chamfer is None for face in faces}
    depths = {face.left_return_depth is None for face in faces}
    assert chamfers == {True, False}
    assert depths == {True, False} or any(face.left_chamfer_depth for face in faces)
    assert {job.job.lengths for job in jobs} == {"in", "mm"}
    turns = {turn for face in faces for turn in face.turns("left")}
    assert min(turns) < 90 < max(turns)
