"""Corbels: courses that step out, longer at the corners, by hand and damaged."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise

import pytest

from shopdraw.errors import BadJob, NotLaid, NotProved
from shopdraw.masonry.laying.cuts import cut_level, cut_upright
from shopdraw.masonry.laying.outlines import front_ring, whole_ring
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.quantities.cutting import plan_cuts
from shopdraw.quantities.joints import measure_wall
from shopdraw.quantities.takeoff import take_off
from tests.masonry.laying.banded import Laid, banded, laid

STEP = F(3, 16)
CORBEL = """[[corbel]]
courses = 3
step = "3/16 in"
"""
WIDTH, DEPTH = F(509, 8), F(125, 8)


def test_the_last_courses_step_out_one_by_one() -> None:
    out = laid(CORBEL).coursing.projections
    assert out == {15: STEP, 16: 2 * STEP, 17: 3 * STEP}


@pytest.mark.parametrize("place", [1, 2, 3])
def test_a_course_is_longer_by_its_projection_at_each_corner(place: int) -> None:
    wall, out = laid(CORBEL), place * STEP
    course = 14 + place
    assert wall.span(course) == (-out, WIDTH + out)
    # A return begins at the wall and ends past the corner.
    begins, ends = wall.span(course, "left"), wall.span(course, "right")
    assert (begins[1], ends[0]) == (out, WIDTH - out)
    # At the hidden wall it may stop up to a joint short.
    assert 0 <= begins[0] + DEPTH <= F(1, 2)
    assert 0 <= WIDTH + DEPTH - ends[1] <= F(1, 2)
    assert wall.span(14) == (0, WIDTH)


def test_brick_and_joints_of_a_course_add_up_to_its_own_length() -> None:
    wall = laid(CORBEL)
    for course, out in wall.coursing.projections.items():
        row = [outline for outline, _ in wall.row(course)]
        brick = sum(x.right - x.left for x in row)
        joints = [b.left - a.right for a, b in pairwise(row)]
        assert brick + sum(joints) == WIDTH + 2 * out
        assert min(joints) >= F(1, 4)
        assert max(joints) <= F(1, 2)


def test_corner_units_are_bought_ones_however_far_they_stand_out() -> None:
    wall = laid(CORBEL)
    units = [x for x in wall.layout.pieces if x.kind == "corner unit"]
    # One at each corner of each of the 17 courses, none of them trimmed.
    assert len(units) == 34
    assert {tuple(sorted(x.legs)) for x in units} == {(F(29, 8), F(61, 8))}


def test_the_laps_of_a_corbel_are_kept_as_everywhere() -> None:
    wall = laid(CORBEL)
    assert not wall.layout.broken
    for lower in (14, 15, 16):
        below = [x for x, _ in wall.row(lower)]
        above = [x for x, _ in wall.row(lower + 1)]
        edges = [(a.right, b.left) for a, b in pairwise(below)]
        for a, b in pairwise(above):
            lap = min(max(left - b.left, a.right - right) for left, right in edges)
            assert lap >= 2


def test_a_mirrored_corbel_is_its_own_mirror_image() -> None:
    wall = laid(CORBEL, ('width = "63 5/8 in"', 'width = "63 1/8 in"'))
    about = 2 * wall.surround.opening.centre
    for course in wall.coursing.projections:
        row = [(x.left, x.right) for x, _ in wall.row(course)]
        assert row == [(about - b, about - a) for a, b in reversed(row)]


def test_a_free_end_does_not_grow() -> None:
    wall = laid(CORBEL, ('left_return = "15 5/8 in"\n', ""))
    assert wall.span(17) == (0, WIDTH + 3 * STEP)
    other = laid(CORBEL, ('right_return = "15 5/8 in"\n', ""))
    assert other.span(17) == (-3 * STEP, WIDTH)
    both = laid(
        CORBEL,
        ('left_return = "15 5/8 in"\n', ""),
        ('right_return = "15 5/8 in"\n', ""),
    )
    assert both.span(17) == (0, WIDTH)


def test_a_corbel_ends_where_its_level_says() -> None:
    # The top of course 15 is at 15 x 2 5/8 = 39 3/8.
    wall = laid(CORBEL + 'top = "39 3/8 in"\n')
    assert wall.coursing.projections == {13: STEP, 14: 2 * STEP, 15: 3 * STEP}
    assert wall.coursing.targets[-1].name == "corbel top"
    assert wall.span(16) == (0, WIDTH)


def test_a_band_may_be_a_course_of_a_corbel() -> None:
    rowlocks = """[[band]]
kind = "rowlock"
course = 17
[courses]
rowlock_height = "3 5/8 in"
"""
    wall = laid(CORBEL + rowlocks, ('height = "44 5/8 in"', 'height = "46 in"'))
    assert wall.span(17) == (-3 * STEP, WIDTH + 3 * STEP)
    assert {piece.kind for _, piece in wall.row(17)} == {"rowlock"}


def test_plan_and_section_bring_the_course_out() -> None:
    wall = laid(CORBEL)
    out, t = 3 * STEP, F(3, 4)
    cuts = cut_level(wall.surround, wall.layout, wall.coursing.courses[16], t)
    corners = {point for cut in cuts for point in cut.ring}
    assert {(-out, -out), (WIDTH + out, -out), (t - out, t - out)} <= corners
    centre = wall.surround.opening.centre
    met = cut_upright(wall.layout, centre, F(1, 2), t, wall.coursing.projections)
    assert [cut.ring[0][0] for cut in met][-4:] == [0, -STEP, -2 * STEP, -out]
    assert {cut.ring[1][0] - cut.ring[0][0] for cut in met} == {t}


def test_the_outline_steps_out_at_each_underside() -> None:
    wall = laid(CORBEL)
    front = wall.surround.front
    ring = front_ring(wall.surround, wall.coursing, wall.layout)
    for course, out in wall.coursing.projections.items():
        level = wall.coursing.courses[course - 1].bottom
        assert (front.left - out, level) in ring
        assert (front.right + out, level) in ring
    left = wall.surround.faces[0]
    assert max(x for x, _ in whole_ring(wall.surround, wall.coursing, left)) == (
        front.left + 3 * STEP
    )


def test_the_wall_has_more_face_by_both_sides_of_each_corner() -> None:
    with_corbel, plain = laid(CORBEL), laid("")

    def face(wall: Laid) -> F:
        parts = wall.job, wall.surround, wall.coursing, wall.layout
        return measure_wall(*parts).face

    # Two corners, two faces each, 2 5/8 of height, steps of 1, 2 and 3 sixteenths x 3.
    assert face(with_corbel) - face(plain) == 2 * 2 * F(21, 8) * 6 * STEP


def test_the_backing_is_listed_as_others_work() -> None:
    wall = laid(CORBEL)
    plan = plan_cuts(wall.job, wall.layout.pieces)
    parts = wall.job, wall.surround, wall.coursing, wall.layout, plan
    row = take_off(*parts).row("corbel backing")
    # Three courses of 2 5/8, round a front of 63 5/8 and two returns of 15 5/8.
    assert row.net == 3 * F(21, 8) * (WIDTH + 2 * DEPTH) / 144
    assert row.order is None
    assert "by others" in row.note
    assert "non-combustible" in row.note
    plain = laid("")
    parts = plain.job, plain.surround, plain.coursing, plain.layout, plan
    with pytest.raises(KeyError):
        take_off(*parts).row("corbel backing")


@pytest.mark.parametrize("face", ["front", "left", "right"])
def test_a_course_that_does_not_reach_its_corner_is_noticed(face: str) -> None:
    wall = laid(CORBEL)
    flat = {
        course.number: replace(course, projection=course.projection * 2)
        for course in wall.coursing.corbelled
    }
    courses = tuple(flat.get(x.number, x) for x in wall.coursing.courses)
    damaged = replace(wall.coursing, courses=courses)
    with pytest.raises(NotProved, match=rf"{face} course 17 does not"):
        prove_layout(wall.job, wall.surround, damaged, wall.layout)


@pytest.mark.parametrize("step", ["1 1/2 in", "2 in", "3 in"])
def test_a_corner_unit_may_stand_out_by_more_than_half_its_short_leg(step: str) -> None:
    """Past the corner by 2 in each way, a leg of 3 5/8 begins after the long one."""
    wall = laid(CORBEL.replace("courses = 3", "courses = 1").replace("3/16 in", step))
    assert (
        prove_layout(wall.job, wall.surround, wall.coursing, wall.layout) == wall.layout
    )
    out = F(wall.coursing.courses[-1].projection)
    assert wall.span(17) == (-out, WIDTH + out)


def test_a_course_that_stands_out_unasked_is_noticed() -> None:
    wall = laid(CORBEL)
    flush = tuple(replace(x, projection=F(0)) for x in wall.coursing.courses)
    with pytest.raises(NotProved, match="leaves the front face"):
        prove_layout(
            wall.job, wall.surround, replace(wall.coursing, courses=flush), wall.layout
        )


def test_a_corbel_beside_the_fire_is_refused() -> None:
    with pytest.raises(BadJob, match="not laid here"):
        banded(CORBEL + 'top = "12 in"\n')
    with pytest.raises(BadJob, match="leaves no room for the corbel"):
        banded(CORBEL.replace("3\n", "30\n", 1))
    with pytest.raises(NotLaid, match="above what stands over the opening"):
        laid(CORBEL + 'top = "31 in"\n', ('"24 in"', '"24 in"\nhead = "soldier"'))


def test_a_corbel_that_comes_too_low_is_told_what_the_job_typed_alone() -> None:
    soldiers = ('"24 in"', '"24 in"\nhead = "soldier"')
    too_many = CORBEL.replace("3\n", "6\n", 1)
    with pytest.raises(NotLaid, match=r"write fewer courses$"):
        laid(too_many, soldiers)
    with pytest.raises(NotLaid, match=r"write fewer courses or another top$"):
        laid(too_many + 'top = "44 5/8 in"\n', soldiers)


def test_two_corbels_at_the_top_are_refused() -> None:
    with pytest.raises(BadJob, match="ends at the top of the face, as"):
        banded(CORBEL + CORBEL)
