"""The outlines of the faces and of the finished opening, by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.laying.outlines import (
    face_ring,
    finished_opening,
    front_ring,
    head_over,
)
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout, Point
from tests.masonry.legs import StackJob, lay, library

Wall = tuple[Surround, Coursing, Layout]
TOP = F(277, 8)
"""Of the wall: 34 5/8."""


@pytest.fixture
def true(stack_job: StackJob) -> Wall:
    """Return a wall 56 wide, its opening 34 by 27 from 11, all square."""
    return lay(stack_job())


@pytest.fixture
def crooked(stack_job: StackJob) -> Wall:
    """Return the same, its ends out of plumb and its hearth falling to the right."""
    leans = {"left": {"lean": "5/8 in"}, "right": {"lean": "-1/4 in"}}
    return lay(stack_job(edges=leans, hearth={"fall": "1/4 in"}))


def arched(layout: Layout, soffit: tuple[Point, ...]) -> Layout:
    """Return a layout with an arch of which only the soffit is set out."""
    none = F(0)
    arch = Arch(
        kind="segmental arch",
        span=F(34),
        spring=soffit[0][1],
        rise=none,
        depth=none,
        centre=(none, none),
        radius=0.0,
        skewback_deg=0.0,
        are_whole=False,
        whole_joints=None,
        voussoirs=(),
        tilts=(),
        joints=(),
        soffit=soffit,
        keep_out=(),
    )
    return replace(layout, arch=arch)


def test_a_face_goes_along_the_hearth_then_up_at_its_right(true: Wall) -> None:
    surround, *_ = true
    ring = face_ring(surround, surround.front, TOP)
    assert ring == [(0, 0), (56, 0), (56, TOP), (0, TOP)]


def test_a_face_stands_on_the_hearth_and_leans_with_its_ends(crooked: Wall) -> None:
    surround, *_ = crooked
    # Half way up the left end is 5/16 in, the right one 1/8; the hearth is 1/4 lower
    # at 56, where the right foot stands.
    ring = face_ring(surround, surround.front, TOP / 2)
    assert ring == [
        (0, 0),
        (56, F(-1, 4)),
        (56 - F(1, 8), TOP / 2),
        (F(5, 16), TOP / 2),
    ]


def test_a_return_is_plumb_at_its_fold(stack_job: StackJob) -> None:
    surround, coursing, _ = lay(library(stack_job, edges__left={"lean": "5/8 in"}))
    front, left = surround.front, surround.face("left")
    assert face_ring(surround, left, coursing.top) == [
        *((0, 0), (14, 0), (14, coursing.top)),
        (F(5, 8) * coursing.top / TOP, coursing.top),
    ]
    assert face_ring(surround, front, F(8)) == [
        *((14, 0), (F(285, 4), 0), (F(285, 4), 8), (14, 8))
    ]


def test_the_front_goes_down_at_its_left_and_round_the_opening(true: Wall) -> None:
    surround, coursing, layout = true
    assert (coursing.head, coursing.top) == (27, TOP)
    assert front_ring(surround, coursing, layout) == (
        *((0, TOP), (0, 0)),
        *((11, 0), (11, 27), (45, 27), (45, 0)),
        *((56, 0), (56, TOP)),
    )


def test_the_front_goes_round_an_arch_and_over_a_falling_hearth(crooked: Wall) -> None:
    surround, coursing, layout = crooked
    soffit = ((F(11), F(24)), (F(28), F(27)), (F(45), F(24)))
    ring = front_ring(surround, coursing, arched(layout, soffit))
    # 1/4 over 56: at 11 in 11/224, at 45 in 45/224. Jambs stand on the datum.
    top = coursing.top
    assert ring == (
        *((F(5, 8) * top / TOP, top), (0, 0), (11, F(-11, 224))),
        *((11, 0), (11, 24), (28, 27), (45, 24), (45, 0)),
        *((45, F(-45, 224)), (56, F(-1, 4)), (56 - F(1, 4) * top / TOP, top)),
    )


def test_the_head_over_a_place_is_the_head_where_it_is_level(true: Wall) -> None:
    assert [head_over(*true, F(x)) for x in (11, 28, 45)] == [27, 27, 27]


def test_an_arch_s_head_is_its_soffit_over_the_centre(true: Wall) -> None:
    surround, coursing, layout = true
    soffit = ((F(11), F(24)), (F(28), F(27)), (F(45), F(24)))
    wall = surround, coursing, arched(layout, soffit)
    assert head_over(*wall, surround.opening.centre) == 27
    # Half way from the spring to the crown; a third of the way down the other side.
    assert head_over(*wall, F(39, 2)) == F(51, 2)
    assert head_over(*wall, 28 + F(17, 3)) == 26
    assert (head_over(*wall, F(11)), head_over(*wall, F(45))) == (24, 24)


def test_a_head_that_sags_is_lowest_in_its_middle(stack_job: StackJob) -> None:
    corners = {
        "bottom_left": ["11 in", "0 in"],
        "bottom_right": ["45 in", "0 in"],
        "top_left": ["11 in", "27 1/4 in"],
        "top_right": ["45 in", "27 1/4 in"],
        "sag": "1/4 in",
    }
    wall = surround, coursing, _ = lay(stack_job(opening__corners=corners))
    # The courses land on the lowest point; the corners are 1/4 over it.
    assert head_over(*wall, surround.opening.centre) == coursing.head
    assert head_over(*wall, F(11)) == coursing.head + F(1, 4)
    assert finished_opening(*wall) == (
        *((11, 0), (45, 0), (45, coursing.head + F(1, 4))),
        *((28, coursing.head), (11, coursing.head + F(1, 4))),
    )


def test_brick_that_covers_the_jamb_narrows_what_is_seen(stack_job: StackJob) -> None:
    # Measured to the wall, brick that turns into the jamb covers 5/8 of brick and the
    # mean bed of 3/8: an inch at each side.
    job = library(
        stack_job,
        face__measured_to="substrate",
        opening__jamb_return="3 5/8 in",
        opening__head="running",
    )
    surround, coursing, layout = lay(job)
    seen = finished_opening(surround, coursing, layout)
    opening = surround.opening
    assert seen[0] == (opening.left + 1, 0)
    assert seen[1] == (opening.right - 1, 0)
