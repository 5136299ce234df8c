"""Old houses whose outside corners are not square: held; one drawn and read back.

Four, half of them in the long run, two hundred in the benchmark:
`python -m tests.bench corners`.
"""

from __future__ import annotations

import pytest

from tests.aslant_corners import make_aslant, make_inside, wrong_in
from tests.longer import mostly_long
from tests.old_houses import seeded

HERE, DRAWN = (10, 11, 18, 20), 11
"""Quick to lay; 18 is refused in words."""
INSIDE = (10, 43, 3, 0)
"""Jobs with an inside corner beside an alcove; the last is drawn."""


@pytest.mark.parametrize("number", mostly_long(HERE, 11, 18))
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


@pytest.mark.parametrize("number", mostly_long(INSIDE, 3))
def test_any_inside_corner_is_solved_proved_and_composed(number: int) -> None:
    is_drawn = number == INSIDE[-1]
    assert wrong_in(number, to_draw=is_drawn, make=make_inside) == []


def test_both_sides_and_several_bonds_are_among_the_inside_corners_here() -> None:
    jobs = [make_inside(seeded(number))[1] for number in INSIDE]
    assert any(job.face.left_alcove for job in jobs)
    assert any(job.face.right_alcove for job in jobs)
    assert len({job.bond.pattern for job in jobs}) > 1
