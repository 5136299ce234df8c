"""New courses beside old brick, against every set of joints that a low face can have.

The search here knows nothing of the solver: it lays each number of courses with each
joint that the job allows, and takes the best by the order of merit as it is stated. An
old line is met or it isn't: missed by however much, it counts one. Lines that rise by
more or less than any joint allows ask for nothing.
"""

from __future__ import annotations

import random
from fractions import Fraction as F
from itertools import accumulate, pairwise, product

import pytest

from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.coursing.ways import find_ways_out
from shopdraw.masonry.wall.surround import trace_surround
from tests.longer import mostly_long

HIGH, HALF_STEP = F(9, 4), F(1, 32)
GRID = 32
"""The search counts in half steps, so that all its figures are whole."""


def old(where="left", **keys):
    return {"name": "party return", "where": where, **keys}


def job_beside(stack_job, *olds, head="5 in", height="10 1/2 in"):
    return stack_job(
        "in",
        opening__height=head,
        face__height=height,
        joints__bottom={"least": "1/4 in", "most": "3/4 in"},
        existing_brick=list(olds),
    )


def best_joints(head, top, lines):
    """Return misses as counted, as they are, and the joints of the best of all.

    Args:
        head, top: levels to land on, within half a step.
        lines: pairs, an old top and its tolerance.
    """
    high, step, preferred, unseen = 72, 2, 12, 4
    bottom_joints, bed_joints = range(8, 26, step), range(8, 18, step)
    head, top = head * GRID, top * GRID
    lines = [(line * GRID, within * GRID) for line, within in lines]
    assert all(x.denominator == 1 for x in (head, top, *(y for z in lines for y in z)))
    head, top, lines = int(head), int(top), [(int(a), int(b)) for a, b in lines]
    found = []
    for courses in range(1, 6):
        for joints in product(bottom_joints, *[bed_joints] * (courses - 1)):
            bottoms = [j + n * high for n, j in enumerate(accumulate(joints))]
            tops = [bottom + high for bottom in bottoms]
            raw = [
                min(abs(x - head) for x in bottoms),
                abs(tops[-1] - top),
                *(min(abs(x - line) for x in tops) for line, _ in lines),
            ]
            counted = [x if x > 1 else 0 for x in raw[:2]]
            counted += [
                int(x > within) for x, (_, within) in zip(raw[2:], lines, strict=True)
            ]
            bottom, *beds = joints
            apart = [abs(a - b) for a, b in pairwise(beds)]
            jumps = [0, *(x - step for x in apart)]
            if beds:
                jumps.append(abs(beds[0] - bottom) - unseen)
            off = [abs(bed - preferred) for bed in beds]
            most = max(off, default=0)
            found.append(
                (
                    counted,
                    max(jumps),
                    most,
                    int(most > 0 and preferred - most in beds),
                    sum(x > 0 for x in apart),
                    abs(bottom - preferred),
                    abs(bottom - preferred) + sum(off),
                    raw,
                    [-joint for joint in joints],
                )
            )
    counted, *_, raw, joints = min(found)
    misses = [F(x, GRID) for x in counted[:2]] + counted[2:]
    return misses, [F(x, GRID) for x in raw], tuple(F(-x, GRID) for x in joints)


def case_of(seed):
    """Make up old brick: like the new, off by a little, far off, or laid anyhow."""
    rng = random.Random(seed)
    kind = seed % 4
    first = F(rng.randint(36, 50), 16)
    gauge = F(rng.choice([(41, 42, 43), (40, 42, 44), (45, 52, 60)][kind % 3]), 16)
    tops = [first + n * gauge for n in range(rng.randint(1, 4))]
    if kind == 3:
        tops = [top + F(rng.randint(-2, 2), 16) for top in tops]
    within = rng.choice([None, F(1, 16), F(1, 8)])
    head = F(rng.randint(76, 92), 16)
    height = F(rng.randint(150, 172), 16)
    return tops, within, head, height


@pytest.mark.parametrize("seed", mostly_long(range(24), *range(10)))
def test_no_joints_line_through_better_than_those_chosen(stack_job, seed):
    tops, within, head, height = case_of(seed)
    keys = {} if within is None else {"tolerance": f"{within} in"}
    beside = old(tops=[f"{top} in" for top in tops], **keys)
    job = job_beside(stack_job, beside, head=f"{head} in", height=f"{height} in")
    coursing = solve_coursing(job, trace_surround(job))
    beside = [top for top in tops if HIGH <= top <= height]
    lines = [(top, HALF_STEP if within is None else within) for top in beside]
    rise = (tops[-1] - tops[0]) / max(1, len(tops) - 1)
    asked = lines if len(tops) == 1 or F(5, 2) <= rise <= F(11, 4) else []
    counted, _, joints = best_joints(head, height, asked)
    assert coursing.joints == joints
    assert list(coursing.merit.misses) == counted
    assert [line.wanted for line in coursing.old_lines] == beside
    ends = [(n + 1) * HIGH + top for n, top in enumerate(accumulate(joints))]
    for line in coursing.old_lines:
        assert line.miss == min(abs(end - line.wanted) for end in ends)
        assert coursing.courses[coursing.course_at(line) - 1].top == line.got
    assert {target.name for target in coursing.targets} == {"opening head", "top"}


def test_the_cases_are_of_every_sort(stack_job):
    met, missed, unasked = 0, 0, 0
    for seed in range(24):
        tops, within, head, height = case_of(seed)
        keys = {} if within is None else {"tolerance": f"{within} in"}
        beside = old(tops=[f"{top} in" for top in tops], **keys)
        job = job_beside(stack_job, beside, head=f"{head} in", height=f"{height} in")
        coursing = solve_coursing(job, trace_surround(job))
        asked = [line for line in coursing.old_lines if line.old.is_asked]
        met += sum(line.lands for line in asked)
        missed += sum(not line.lands for line in asked)
        unasked += len(coursing.old_lines) - len(asked)
    assert min(met, missed, unasked) > 5


def test_old_lines_move_the_joints(stack_job):
    # To the head 18/16 are shared by three joints, 6/16 each. Old tops at 2 11/16 and
    # 5 3/8 want 7/16 and 7/16 of the first two, which leaves 4/16 to the third.
    alone = job_beside(stack_job, head="5 5/8 in", height="7 7/8 in")
    lines = {"tops": ["2 11/16 in", "5 3/8 in"]}
    beside = job_beside(stack_job, old(**lines), head="5 5/8 in", height="7 7/8 in")
    before = solve_coursing(alone, trace_surround(alone))
    after = solve_coursing(beside, trace_surround(beside))
    assert [x * 16 for x in before.joints] == [6, 6, 6]
    assert [x * 16 for x in after.joints] == [7, 7, 4]


def test_a_gauge_and_a_count_are_the_tops_one_by_one(stack_job):
    gauged = old(first_top="2 5/8 in", gauge="2 2/3 in", courses=4)
    typed = old(tops=["2 5/8 in", "5 7/24 in", "7 23/24 in", "10 5/8 in"])
    one, other = (job_beside(stack_job, each) for each in (gauged, typed))
    assert one.existing_brick[0].lines == other.existing_brick[0].lines
    found = [solve_coursing(job, trace_surround(job)) for job in (one, other)]
    assert found[0] == found[1]


def test_lines_below_a_first_course_and_above_the_face_ask_for_nothing(stack_job):
    lines = old(tops=["1 in", "5 1/4 in", "10 1/2 in", "13 1/8 in"])
    job = job_beside(stack_job, lines)
    coursing = solve_coursing(job, trace_surround(job))
    assert [line.old.number for line in coursing.old_lines] == [2, 3]


def test_brick_above_is_carried_by_the_last_bed_joint(stack_job):
    above = old("above", first_top="13 1/8 in", gauge="2 5/8 in", courses=3)
    job = stack_job(
        "in",
        opening__height="5 5/8 in",
        face__height="10 7/8 in",
        face__top_meets="underside",
        existing_brick=[above],
    )
    coursing = solve_coursing(job, trace_surround(job))
    (line,) = coursing.old_lines
    assert (line.meets, line.wanted, line.lands) == ("underside", F(87, 8), True)
    assert coursing.courses[-1].top + coursing.joints[-1] == line.got


def test_joints_are_not_bent_for_brick_that_can_not_be_followed(stack_job):
    # Old courses rise by 3 1/4, the new by 2 3/4 at most: every fifth new course may
    # meet an old line, by chance, and the joints are those that there are without.
    job = job_beside(
        stack_job,
        old(first_top="3 in", gauge="3 1/4 in", courses=3),
        head="5 5/8 in",
        height="10 1/2 in",
    )
    alone = job_beside(stack_job, head="5 5/8 in", height="10 1/2 in")
    coursing = solve_coursing(job, trace_surround(job))
    assert coursing.joints == solve_coursing(alone, trace_surround(alone)).joints
    assert not coursing.lands
    assert any("no joint is bent for it" in said for said in coursing.reasons)


def test_a_way_out_lets_every_old_line_be_met(stack_job):
    # Old courses rise by 2 13/16: brick of 2 1/4 want joints of 9/16, 1/16 over the
    # widest. Wider joints are the way out, and old brick is never to be moved.
    lines = old(first_top="2 13/16 in", gauge="2 13/16 in", courses=3)
    job = job_beside(stack_job, lines, head="6 3/16 in", height="8 7/16 in")
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    assert not coursing.lands
    ways = find_ways_out(job, surround, coursing)
    assert (("joints.bed.most", F(9, 16)),) in [way.edits for way in ways]
    assert not any("existing" in key for way in ways for key, _ in way.edits)
    for way in ways:
        other = job
        for key, value in way.edits:
            other = other.edited(key, value)
        assert solve_coursing(other, trace_surround(other)).lands


def test_the_search_here_sees_a_line_that_is_not_asked_for():
    # With the line the first two joints are 7/16; without it all three are 6/16.
    line = F(43, 16), HALF_STEP
    with_it = best_joints(F(45, 8), F(63, 8), [line])
    assert with_it[0] == [0, 0, 0]
    assert with_it[2] != best_joints(F(45, 8), F(63, 8), [])[2]
