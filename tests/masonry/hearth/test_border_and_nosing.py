"""The border and the nosing of a hearth: what can't be filled says what would do."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.errors import NotLaid, NotProved
from shopdraw.job.model import Job
from shopdraw.masonry.hearth.border import lay_border
from shopdraw.masonry.hearth.form import HearthGround, LeftOut
from shopdraw.masonry.hearth.ground import trace_ground
from shopdraw.masonry.hearth.proof import prove_hearth
from shopdraw.masonry.hearth.riser import lay_riser
from shopdraw.masonry.wall.layout import rectangle
from shopdraw.masonry.wall.surround import trace_surround
from tests.masonry.hearth.test_lay import FLAT, job_of, of_demo

ONE_JOINT = (
    ("[appliance]", '[joints.head]\nleast = "3/8 in"\nmost = "3/8 in"\n[appliance]'),
    ('joint = "7/16 in"', 'joint = "3/8 in"'),
)
"""Rowlocks and joints are then 2 1/4 and 3/8, whatever they are to fill."""
LOW = ('riser = "12 in"', 'riser = "7 in"')


def ground_of(job: Job) -> HearthGround:
    return trace_ground(job, trace_surround(job))


def left(inches: str) -> tuple[str, str]:
    return 'left = "15 in"', f'left = "{inches} in"'


def front(inches: str) -> tuple[str, str]:
    return 'front = "22 3/8 in"', f'front = "{inches} in"'


def test_without_a_border_the_field_has_the_whole_top() -> None:
    job = job_of(('border = "rowlock"', 'border = "none"'))
    ground = ground_of(job)
    assert lay_border(job, ground) == ((), ground.main)


def lay_the_border(job: Job) -> None:
    lay_border(job, ground_of(job))


def lay_the_riser(job: Job) -> None:
    lay_riser(job, ground_of(job))


@pytest.mark.parametrize(
    ("lay", "wrong", "instead"),
    [
        # From end to end 34, what is on the left, and 15. 24 whole ones or 23 between
        # two of a half or more: 62 5/8, or 61 1/2 to 62 5/8, or 62 7/8 and more.
        (lay_the_border, (FLAT, left("13 3/4")), (FLAT, left("13 5/8"))),
        (lay_the_border, (FLAT, left("13 3/4")), (FLAT, left("14"))),
        # The nosing goes round the riser's brick and bed, 1 at either end.
        (lay_the_riser, (LOW, left("14 3/8")), (LOW, left("14 1/4"))),
        # An end between the wall's soft joint and the front's rowlocks.
        (lay_the_riser, (LOW, front("21 1/8")), (LOW, front("21"))),
    ],
)
def test_what_can_t_be_filled_names_a_length_that_helps(
    lay: Callable[[Job], None],
    wrong: tuple[tuple[str, str], ...],
    instead: tuple[tuple[str, str], ...],
) -> None:
    key = "hearth.left" if "left" in wrong[-1][0] else "hearth.front"
    with pytest.raises(NotLaid, match=f"can't be filled .* another {key}, or"):
        lay(job_of(*ONE_JOINT, *wrong))
    lay(job_of(*ONE_JOINT, *instead))


def test_what_a_nosing_leaves_open_is_at_the_wall() -> None:
    # 21 5/8 from the wall's joint of 3/8 to the front's rowlock, 5/8 of brick and 3/8
    # away: eight and seven joints of at most 1/2 leave 1/8.
    job = job_of(LOW, front("22"))
    riser, layout = lay_riser(job, ground_of(job))
    ends: dict[str, list[F]] = {"left riser": [], "right riser": []}
    for piece in layout.pieces:
        if piece.kind == "rowlock" and piece.place != "riser":
            lies = piece.outlines[0]
            ends[piece.place] += [lies.left, lies.right]
    wide = riser.surround.faces[-1].right
    assert min(ends["left riser"]) == F(1, 2)
    assert max(ends["left riser"]) == riser.surround.front.left - 1
    assert sorted(wide - x for x in ends["right riser"]) == ends["left riser"]


def test_a_nosing_of_whole_brick_on_edge_is_not_sawn_at_its_foot() -> None:
    high = (
        ('riser = "12 in"', 'riser = "11 in"'),
        ("[appliance]", '[courses]\nrowlock_height = "7 5/8 in"\n[appliance]'),
    )
    job = job_of(*high)
    _, layout = lay_riser(job, ground_of(job))
    rowlocks = [x for x in layout.pieces if x.kind == "rowlock"]
    assert {x.outlines[0].top - x.outlines[0].bottom for x in rowlocks} == {F(61, 8)}
    assert not any("bottom" in x.cut_edges for x in rowlocks)


@pytest.mark.parametrize(("width", "length"), [("1/2", "1"), ("1/4", "64")])
def test_mortar_in_place_of_a_piece_is_noticed(width: str, length: str) -> None:
    """One place that a piece has room for; one too narrow for any, but very long."""
    hearth = of_demo()
    place = rectangle("hearth", F(1), F(1), F(1) + F(length), F(1) + F(width))
    wrong = replace(hearth, left_out=(LeftOut(place, F(width)),))
    with pytest.raises(NotProved, match="more of the hearth is left to mortar"):
        prove_hearth(job_of(), wrong)
    small = replace(wrong, left_out=(LeftOut(place, F(1, 4)),))
    if length == "1":
        assert prove_hearth(job_of(), small) is small
