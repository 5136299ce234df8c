"""What the brick's own variation does, against scipy and against laying it by lot."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise
from math import sqrt
from statistics import stdev

import numpy as np
import pytest

from shopdraw.catalog.rows import tolerance_classes
from shopdraw.job.reading import parse_job
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.marks.rule_marks import follow_marks
from shopdraw.masonry.marks.variation import reckon_variation, spread_of
from shopdraw.masonry.wall.surround import trace_surround

JOB = """
[job]
name = "A lot"
[face]
width = "60 in"
height = "38 in"
[opening]
width = "36 in"
height = "26 in"
[brick]
size = "modular"
[brick.sample]
{sample}
{more}
"""
HEIGHTS = ["2 1/4 in", "2 9/32 in", "2 1/4 in", "2 7/32 in", "2 1/4 in", "2 1/4 in",
           "2 9/32 in", "2 1/4 in", "2 7/32 in", "2 1/4 in"]  # fmt: skip


def lot(heights=HEIGHTS, more=""):
    said = ", ".join(f'"{height}"' for height in heights)
    job = parse_job(JOB.format(sample=f"heights = [{said}]", more=more), "lot.toml")
    return job, solve_coursing(job, trace_surround(job))


def test_mean_and_deviation_are_those_of_a_statistics_library():
    # It takes a second to load, and only this module uses it.
    from scipy import stats

    sizes = tuple(F(n, 32) for n in (72, 73, 72, 71, 72, 72, 73, 72, 71, 70))
    spread = spread_of(sizes)
    described = stats.describe([float(size) for size in sizes])
    assert float(spread.mean) == pytest.approx(described.mean)
    assert float(spread.variance) == pytest.approx(described.variance)
    assert (float(spread.least), float(spread.most)) == described.minmax
    assert spread.deviation == pytest.approx(
        stats.tstd([float(size) for size in sizes])
    )


def test_the_job_is_solved_with_the_mean_of_the_sample():
    job, coursing = lot()
    assert (
        job.brick.height
        == sum((F(n, 32) for n in (72, 73, 72, 71, 72, 72, 73, 72, 71, 72)), F(0)) / 10
    )
    assert {course.height for course in coursing.courses} == {job.brick.height}


def test_ten_laid_dry_give_the_mean_and_no_spread():
    sample = 'stack_of_ten = "22 1/16 in"'
    job = parse_job(JOB.format(sample=sample, more=""), "lot.toml")
    # 22 1/16 / 10 = 2.20625 in.
    assert job.brick.height == F(353, 160)
    variation = reckon_variation(job, solve_coursing(job, trace_surround(job)))
    assert variation.height is None
    assert variation.wander_at(5) is None


def test_courses_laid_by_lot_wander_as_far_as_it_is_said():
    from scipy import stats

    """Lay many walls of brick picked by lot from one kiln, each planned with a mean
    of its own sample of ten: 95 in 100 stay within two deviations."""
    picks = np.random.default_rng(20260610)
    deviation, sample, courses, walls = 0.03, 10, 12, 40_000
    measured = picks.normal(2.25, deviation, (walls, sample)).mean(axis=1)
    laid = picks.normal(2.25, deviation, (walls, courses)).cumsum(axis=1)
    planned = measured[:, None] * np.arange(1, courses + 1)
    off = np.abs(laid - planned)
    said = [2 * deviation * sqrt(n + n * n / sample) for n in range(1, courses + 1)]
    within = (off <= np.array(said)).mean(axis=0)
    exact = 2 * stats.norm.cdf(2) - 1
    assert within == pytest.approx([exact] * courses, abs=0.006)
    # And the formula is the program's own, for a spread of that variance.
    spread = spread_of(tuple(F(n, 1000) for n in (2220, 2280) * 5))
    n = 7
    expected = 2 * spread.deviation * sqrt(n + n * n / 10)
    assert spread.wander(n) == pytest.approx(expected)


def test_a_top_wanders_from_the_last_one_that_was_measured():
    variation = reckon_variation(*lot())
    whole = [variation.height.wander(courses) for courses in range(6)]
    assert whole == sorted(set(whole))
    laid = replace(variation, laid=3)
    assert [laid.wander_at(course) for course in (2, 3, 4, 8)] == [
        0, 0, whole[1], whole[5],
    ]  # fmt: skip
    assert replace(variation, height=None).wander_at(4) is None


def test_a_correction_of_one_step_is_enough_at_the_courses_said():
    job, coursing = lot()
    variation = reckon_variation(job, coursing)
    step = float(job.joints.step)
    assert variation.at_once >= 1
    assert variation.height.wander(variation.at_once) <= step
    assert variation.height.wander(variation.at_once + 1) > step
    assert coursing.courses_below_head in variation.remeasure_at
    stops = [0, *variation.remeasure_at]
    assert all(b - a <= variation.at_once for a, b in pairwise(stops))


def test_an_uneven_lot_must_be_held_to_the_pole_at_every_course():
    heights = ["2 in", "2 1/2 in"] * 5
    job, coursing = lot(heights)
    variation = reckon_variation(job, coursing)
    assert variation.at_once == 0
    assert variation.tight


@pytest.mark.parametrize("off", range(5))
def test_a_joint_is_tight_if_two_deviations_reach_past_its_range(off):
    # Joints are 1/4 to 1/2 in; so many brick are 1/32 high, and as many 1/32 low.
    heights = ["2 9/32 in"] * off + ["2 7/32 in"] * off
    heights += ["2 1/4 in"] * (10 - len(heights))
    job, coursing = lot(heights)
    two = 2 * stdev([1] * off + [-1] * off + [0] * (10 - 2 * off))
    room = {
        x.number: min(float(x.bed_joint) - 0.25, 0.5 - float(x.bed_joint))
        for x in coursing.courses[1:]
    }
    tight = tuple(number for number, most in room.items() if most < two / 32)
    assert reckon_variation(job, coursing).tight == tight


def test_tolerances_are_as_read_and_say_how():
    # EN 771-1 T1 and T2 for 215, 102.5 and 65 mm: second-hand.
    t2, t1 = tolerance_classes("mm")
    assert [t1.allowed(F(x)) for x in (215, F(205, 2), 65)] == [6, 4, 3]
    assert [t2.allowed(F(x)) for x in (215, F(205, 2), 65)] == [4, 3, 2]
    assert (t1.status, t2.status) == ("second-hand", "second-hand")
    # T1 is 0.40 and T2 0.25 times the root of the size, rounded: from memory.
    assert [round(0.40 * sqrt(x)) for x in (215, 102.5, 65)] == [6, 4, 3]
    assert [round(0.25 * sqrt(x)) for x in (215, 102.5, 65)] == [4, 3, 2]
    fbx, fbs = tolerance_classes("in")
    assert fbx.allowed(F(61, 8)) == F(5, 32)
    assert fbs.allowed(F(61, 8)) == F(1, 4)
    assert (fbx.status, fbs.status) == ("from memory", "from memory")
    assert fbx.allowed(F(20)) is None


def test_each_course_follows_the_nearest_of_the_marks_typed():
    more = "".join(
        f'\n[[rule_marks]]\nmark = "{mark}"\nheight = "{height} in"\n'
        for mark, height in (("5", "2 9/16"), ("6", "2 5/8"), ("7", "2 11/16"))
    )
    job, coursing = lot(more=more)
    follows = follow_marks(job, coursing)
    heights = {"5": F(41, 16), "6": F(21, 8), "7": F(43, 16)}
    for course, mark in zip(coursing.courses, follows, strict=True):
        pitch = course.bed_joint + course.height
        assert mark.off == pitch - heights[mark.mark]
        assert abs(mark.off) == min(abs(pitch - h) for h in heights.values())
    moves = [a.mark != b.mark for a, b in pairwise(follows)]
    assert [mark.moves for mark in follows[1:]] == moves
    assert not follows[0].moves


def test_no_marks_no_following():
    job, coursing = lot()
    assert follow_marks(job, coursing) == ()
