"""What is true of every answer, of walls that could have been laid."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.wall.surround import trace_surround


@st.composite
def laid_stacks(draw):
    """A wall that has been laid: joints on the step, and the levels they lead to."""
    step = draw(st.sampled_from([Fraction(1, 16), Fraction(1, 8), Fraction(3, 32)]))
    height = draw(
        st.sampled_from([Fraction(9, 4), Fraction(353, 160), Fraction(13, 8)])
    )
    least = draw(st.integers(2, 6))
    most = draw(st.integers(least, least + 5))
    bottom_least = draw(st.integers(0, 4))
    bottom_most = draw(st.integers(bottom_least, bottom_least + 8))
    bottom = draw(st.integers(bottom_least, bottom_most))
    beds = draw(st.lists(st.integers(least, most), min_size=1, max_size=12))
    joints = [joint * step for joint in (bottom, *beds)]
    undersides = [
        sum(joints[: number + 1]) + number * height for number in range(len(joints))
    ]
    head = draw(st.sampled_from(undersides[1:]))
    changes = {
        "brick__height": f"{height} in",
        "joints__step": f"{step} in",
        "joints__bed": {
            "preferred": "3/8 in",
            "least": f"{least * step} in",
            "most": f"{most * step} in",
        },
        "joints__bottom": {
            "least": f"{bottom_least * step} in",
            "most": f"{bottom_most * step} in",
            "hidden": draw(st.booleans()),
        },
        "opening__height": f"{head} in",
        "face__height": f"{undersides[-1] + height} in",
    }
    return joints, changes


@given(stack=laid_stacks())
@settings(max_examples=30, deadline=None)
def test_a_wall_that_was_laid_is_found_again_or_a_better_one(stack_job, stack):
    laid, changes = stack
    job = stack_job(**changes)
    coursing = solve_coursing(job, trace_surround(job))
    assert coursing.lands

    bottom, *beds = laid
    jump = max([0, *(abs(b - a) - job.joints.step for a, b in pairwise(beds))])
    if not job.joints.bottom.hidden:
        jump = max(jump, abs(beds[0] - bottom) - Fraction(1, 8))
    departure = max(abs(bed - job.joints.bed.preferred) for bed in beds)
    merit = coursing.merit
    assert (merit.jump, merit.departure) <= (jump, departure)


@given(stack=laid_stacks(), off=st.integers(-40, 40))
@settings(max_examples=60, deadline=None)
def test_joints_and_brick_add_up_and_stay_in_their_ranges(stack_job, stack, off):
    _, changes = stack
    height = max(
        Fraction(1), Fraction(changes["face__height"][:-3]) + Fraction(off, 32)
    )
    job = stack_job(**{**changes, "face__height": f"{height} in"})
    coursing = solve_coursing(job, trace_surround(job))

    level = Fraction(0)
    for number, (course, joint) in enumerate(
        zip(coursing.courses, coursing.joints, strict=True), start=1
    ):
        assert (course.number, course.bed_joint) == (number, joint)
        assert course.bottom == level + joint
        assert course.height == job.brick.height
        level = course.top
    assert level == coursing.targets[1].got
    assert level == sum(coursing.joints) + len(coursing.courses) * job.brick.height
    bottom, *beds = coursing.joints
    assert job.joints.bottom.least <= bottom <= job.joints.bottom.most
    assert all(job.joints.bed.least <= bed <= job.joints.bed.most for bed in beds)
    assert all((joint / job.joints.step).denominator == 1 for joint in coursing.joints)
    assert coursing.courses_below_head == sum(
        course.top < coursing.head for course in coursing.courses
    )


@given(stack=laid_stacks(), off=st.integers(-40, 40))
@settings(max_examples=30, deadline=None)
def test_a_wall_twice_as_large_has_joints_twice_as_large(stack_job, stack, off):
    # What is not seen at the bottom is a fixed length, so the bottom joint is hidden.
    _, changes = stack
    height = max(
        Fraction(1), Fraction(changes["face__height"][:-3]) + Fraction(off, 32)
    )
    changes = {**changes, "face__height": f"{height} in"}
    changes["joints__bottom"] = {**changes["joints__bottom"], "hidden": True}
    job = stack_job(**changes)
    once = solve_coursing(job, trace_surround(job))

    def twice(value):
        if isinstance(value, dict):
            return {key: twice(inner) for key, inner in value.items()}
        return value if isinstance(value, bool) else f"{_inches(value) * 2} in"

    job = stack_job(**twice(changes))
    doubled = solve_coursing(job, trace_surround(job))
    assert doubled.joints == tuple(2 * joint for joint in once.joints)
    assert doubled.merit.misses == tuple(2 * miss for miss in once.merit.misses)


def _inches(text):
    return sum(Fraction(part) for part in text.removesuffix(" in").split())


@given(stack=laid_stacks(), off=st.integers(-40, 40))
@settings(max_examples=30, deadline=None)
def test_a_wider_range_never_misses_by_more(stack_job, stack, off):
    _, changes = stack
    height = max(
        Fraction(1), Fraction(changes["face__height"][:-3]) + Fraction(off, 32)
    )
    job = stack_job(**{**changes, "face__height": f"{height} in"})
    wider = job.edited("joints.bed.most", job.joints.bed.most + job.joints.step)
    narrow = solve_coursing(job, trace_surround(job))
    wide = solve_coursing(wider, trace_surround(wider))
    assert wide.merit.misses <= narrow.merit.misses
