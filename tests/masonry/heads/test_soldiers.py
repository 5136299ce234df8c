"""The soldier course: shared evenly, sawn where nothing fits, turned at a fold."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdraw.job.model import Job, JointTable
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.heads.soldiers import share_soldiers
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.surround import trace_surround

JOINT = JointTable(preferred=F(3, 8), least=F(1, 4), most=F(1, 2))
BRICK = F(9, 4)


@given(
    st.fractions(min_value=3, max_value=90, max_denominator=16),
    st.tuples(st.booleans(), st.booleans()),
    st.sampled_from(["best", "unit", "joint"]),
)
def test_soldiers_and_joints_add_up_to_the_width(
    width: F, ends: tuple[bool, bool], centre: str
) -> None:
    run = share_soldiers(width, BRICK, JOINT, end_joints=ends, centre=centre)
    brick = sum((b - a for a, b in run.places), F(0))
    if run.joint:
        assert brick + run.joint * run.joint_count == width
        assert JOINT.least <= run.joint <= JOINT.most
        assert run.joint_count == len(run.places) - 1 + sum(ends)
    sawn = [b - a for a, b in run.places if b - a != BRICK]
    assert len(sawn) == (run.cut is not None and run.cut != BRICK)
    if run.keeps_centre and run.cut is None and centre != "best":
        assert len(run.places) % 2 == (centre == "unit")


def test_a_width_that_no_number_fits_saws_the_middle_one() -> None:
    # 5 in between joints: 2 soldiers leave 1/2 for 3 joints, 1 leaves 2 3/4 for 2.
    run = share_soldiers(F(5), BRICK, JOINT, end_joints=(True, True))
    assert run.cut is not None
    assert 0 < run.cut < BRICK


def test_a_width_of_one_brick_has_no_joint() -> None:
    run = share_soldiers(BRICK, BRICK, JOINT, end_joints=(False, False))
    assert run.places == ((F(0), BRICK),)


def test_soldier_corner_units_turn_the_fold_with_the_long_leg_on_the_front(
    stack_job: Callable[..., Job],
) -> None:
    job = stack_job(
        "in",
        face__width="57 1/4 in",
        face__height="42 1/4 in",
        face__left_return="14 in",
        face__right_return="14 in",
        opening__head="soldier",
        opening__head_over="face",
        brick__corner={"long_leg": "7 5/8 in", "short_leg": "3 5/8 in"},
        brick__soldier_corner={
            "long_leg": "3 in",
            "short_leg": "2 1/4 in",
            "turns_over": False,
        },
    )
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    layout = prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    corners = [x for x in layout.pieces if x.kind == "soldier corner unit"]
    assert [x.legs for x in corners] == [(F(3), BRICK), (F(3), BRICK)]
    assert {x.place for x in corners} == {"front"}
    assert {x.mark for x in corners} == {"SC-L", "SC-R"}


@pytest.mark.parametrize("past", ["2 in", "4 in"])
def test_soldiers_past_the_jambs_keep_pieces_beside_them_whole_enough(
    stack_job: Callable[..., Job], past: str
) -> None:
    job = stack_job(
        "in",
        face__width="58 in",
        opening__width="34 in",
        opening__head="soldier",
        opening__head_bears=past,
    )
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    layout = prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    soldiers = [x.outlines[0] for x in layout.pieces if x.kind == "soldier"]
    reach = surround.opening.left - min(x.left for x in soldiers)
    assert reach > F(past.split()[0]) - F(1, 2)
    assert not any(rule.rule == "least piece" for rule in layout.broken)
