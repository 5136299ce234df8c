"""Courses that are laid: their own joints, and the one that levels them up."""

from dataclasses import replace
from fractions import Fraction

import pytest

from shopdraw.masonry.coursing.form import AsLaid, LaidCourse
from shopdraw.review.laid import review_laid
from tests.findings import by_key

NARROW, WIDE = "laid-joints-narrowest", "laid-joints-widest"
UNEVEN = "laid-levelled"
HIGH = Fraction(9, 4)


@pytest.fixture
def of_laid(make_job, make_coursing):
    """Review a wall of these joints, from the bottom up, so many courses of it laid."""

    def run(joints, count, taper="0"):
        joints = tuple(map(Fraction, joints))
        courses = [LaidCourse("running", n * HIGH, HIGH, True) for n in range(count)]
        coursing = replace(
            make_coursing(Fraction(24), joints[0], soldiers_cut=False),
            joints=joints,
            laid=AsLaid(tuple(courses), Fraction(taper), None) if count else None,
        )
        return by_key(review_laid(make_job(), coursing))

    return run


# Bed joints are 1/4 to 1/2. The bottom joint has a range of its own, and what lies
# above the courses laid is still to be chosen: neither is held to this one.
@pytest.mark.parametrize(
    ("joints", "narrow", "wide"),
    [
        (("3/4", "1/4", "1/2", "1"), "0", "0"),
        (("3/4", "3/16", "3/8", "1"), "-1/16", "1/8"),
        (("1/8", "3/8", "5/8", "1/8"), "1/8", "-1/8"),
    ],
)
def test_the_joints_between_courses_laid_are_held_to_the_range(
    of_laid, joints, narrow, wide
):
    found = of_laid(joints, 3)
    assert {rule: each.rule.words for rule, each in found.items()} == {
        NARROW: "bed joints as laid, narrowest",
        WIDE: "bed joints as laid, widest",
    }
    for rule, margin in ((NARROW, narrow), (WIDE, wide)):
        assert found[rule].margin == Fraction(margin)
        assert "courses 2 to 3 as laid" in found[rule].says


def test_one_course_has_no_joint_between_and_none_laid_has_nothing(of_laid):
    assert not of_laid(("3/8", "3/8"), 0)
    assert not of_laid(("3/8", "3/8"), 1)


# 3/8 at the higher end; most 1/2 at the lower.
@pytest.mark.parametrize(
    ("taper", "status", "margin", "words"),
    [
        ("1/8", "passed", "0", "3/8 in thick at the course's higher end"),
        ("1/8", "passed", "0", "at the lower one thicker by 1/8 in, so that"),
        ("3/16", "failed", "-1/16", "the next course is level; level it up over two"),
        # 6.4 of 64ths are told as 7: never less than it is.
        ("1/10", "passed", "1/40", "at the lower one thicker by 7/64 in, so that"),
    ],
)
def test_the_joint_over_an_uneven_course_is_held_at_its_wider_end(
    of_laid, taper, status, margin, words
):
    finding = of_laid(("3/8", "3/8", "3/8"), 2, taper)[UNEVEN]
    assert finding.rule.words == "joint over an uneven course"
    assert (finding.status, finding.margin) == (status, Fraction(margin))
    assert "the joint above course 2 is 3/8 in thick" in finding.says
    assert words in finding.says
    assert ("take the course up" in finding.says) == (status == "failed")


def test_over_the_last_course_of_all_no_joint_levels_anything(of_laid):
    assert UNEVEN not in of_laid(("3/8", "3/8"), 2, "1/8")


def test_a_reading_taken_although_doubted_fails_until_it_is_measured_again(
    make_job, make_coursing
):
    laid = [
        {"course": 1, "top": "2 5/8 in"},
        {"course": 3, "left": "8 in", "right": "8 1/8 in", "doubted": True},
    ]
    none = make_coursing(Fraction(24), Fraction(3, 8), soldiers_cut=False)
    taken = replace(none, laid=AsLaid((), Fraction(0), None))
    found = by_key(review_laid(make_job(laid=laid), taken))
    assert list(found) == [("laid-doubted", 2)]
    doubted = found["laid-doubted", 2]
    # Out of level, its higher end is what the next course starts from.
    assert (doubted.status, doubted.measured) == ("failed", Fraction(65, 8))
    assert "course 3" in doubted.says
    assert "measure it again" in doubted.says
