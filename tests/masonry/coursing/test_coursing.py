"""The coursing by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from shopdraw.masonry.coursing.explain import explain_coursing
from shopdraw.masonry.coursing.form import OtherCount
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.wall.surround import trace_surround
from tests.demos import solution_of


def sixteenths(lengths):
    return [length * 16 for length in lengths]


def fixed(least, most=None):
    """A bed joint range in sixteenths with 3/8 in preferred."""
    most = least if most is None else most
    return {"preferred": "3/8 in", "least": f"{least}/16 in", "most": f"{most}/16 in"}


# By hand


def test_a_head_at_27_takes_six_wide_joints_and_four_preferred_ones(solve):
    # Ten brick are 22 1/2, so eleven joints share 4 1/2 = 72/16. All at 3/8 is 66/16:
    # six are left over. The bottom joint may not take them (it would jump by 3/8), so
    # with the bottom at 3/8 six of the ten bed joints are 7/16, the wide ones first.
    # An eleventh brick stands on the head and ends the face.
    coursing = solve(opening__height="27 in", face__height="29 1/4 in")
    assert sixteenths(coursing.joints) == [6] + [7] * 6 + [6] * 4
    assert coursing.courses_below_head == 10
    assert coursing.head == 27
    merit = coursing.merit
    assert merit.misses == (0, 0)
    assert (merit.jump, merit.departure, merit.narrow) == (0, Fraction(1, 16), 0)
    assert (merit.changes, merit.bottom_departure) == (1, 0)
    assert merit.total_departure == Fraction(6, 16)


def test_a_hidden_bottom_joint_takes_up_what_is_left_over(solve):
    # The same 72/16, but the jump is not seen: 12/16 at the bottom and ten of 6/16.
    coursing = solve(
        opening__height="27 in",
        face__height="29 1/4 in",
        joints__bottom={"least": "1/4 in", "most": "3/4 in", "hidden": True},
    )
    assert sixteenths(coursing.joints) == [12] + [6] * 10


def test_the_library_hearth_lands_on_head_top_and_soldiers_at_once(solve):
    # Head: 72/16 in eleven joints. Soldiers: 7 5/8 - 3 x 2 1/4 = 14/16 in two joints,
    # so 7/16 each; with 7/16 under the head too there is a single change.
    coursing = solve(opening__head="soldier", hearth={"fall": "1/8 in"})
    assert coursing.lands
    assert sixteenths(coursing.joints) == [6] * 5 + [7] * 8
    assert [(t.name, t.got) for t in coursing.targets] == [
        ("opening head", 27),
        ("top", Fraction(277, 8)),
        ("soldier top", Fraction(277, 8)),
    ]
    assert coursing.soldier_top == Fraction(277, 8)
    assert not coursing.soldiers_cut
    assert coursing.courses_beside_soldiers == 3
    assert {course.kind for course in coursing.courses} == {"running"}


def test_the_reasons_say_what_was_decided(solve):
    coursing = solve(opening__head="soldier", hearth={"fall": "1/8 in"})
    assert coursing.reasons == (
        'The bottom joint is 3/8" at the highest point of the hearth and takes up its '
        'fall of 1/8": it is 1/2" at the lowest point.',
        'Bed joints from the bottom up: 3/8" under courses 2 to 5, 7/16" under '
        "courses 6 to 13.",
        'Opening head: the 7/16" joint above course 10 lands on 2\'-3".',
        "Top: the top of course 13 lands on 2'-10 5/8\".",
        "Soldier top (the head's level plus 7 5/8\" of soldier): the top of course 13 "
        "lands on 2'-10 5/8\".",
        'The soldiers keep the full length of the brick, 7 5/8".',
        'There are 13 courses; with 14 the top would be missed by 2 1/8".',
    )


def test_a_level_off_by_less_than_is_printed_is_not_told_as_two_levels(solve):
    # 27 1/64 and 27 print alike; 27 1/32 prints as 27 1/16 (the half rounds up).
    for height, told in (("27 1/64 in", ""), ("27 1/32 in", ", within the tolerance")):
        coursing = solve(opening__height=height, face__height="29 1/4 in")
        (head,) = (x for x in coursing.reasons if x.startswith("Opening head"))
        assert head.partition("lands on 2'-3\"")[2].startswith(told + "." * (not told))


def test_the_fall_of_the_hearth_is_kept_free_in_the_bottom_joint(solve):
    # With ten bed joints of 3/8 the bottom joint must be 3/4, its most.
    # A fall of 1/4 leaves it 1/2 at the highest point, and the head is 1/4 low.
    usual = {
        "opening__height": "27 in",
        "face__height": "29 1/4 in",
        "joints__bed": fixed(6),
        "joints__bottom": {"least": "1/4 in", "most": "3/4 in", "hidden": True},
    }
    assert solve(**usual).joints[0] == Fraction(3, 4)
    coursing = solve(**usual, hearth={"fall": "1/4 in"})
    assert coursing.joints[0] == Fraction(1, 2)
    assert coursing.merit.misses == (Fraction(1, 4), Fraction(1, 4))


def test_a_fall_that_the_bottom_joint_cannot_take_is_sawn_off_the_first_course(solve):
    # 1/4 to 3/4 takes up 1/2; of 5/8 none is left to the joint: 2 1/4 less 5/8.
    coursing = solve(hearth={"fall": "5/8 in"})
    assert coursing.courses[0].height == Fraction(13, 8)
    assert 'scribed to it: 1 5/8" high at the highest point' in coursing.reasons[0]
    assert coursing.reasons[0].endswith('The joint below is 3/8" throughout.')


def test_a_fall_that_sawing_cannot_take_either_widens_the_joint(solve):
    # Half of 2 1/4 is 1 1/8; of a fall of 2, 7/8 are left to the joint: 1/4 and 7/8.
    coursing = solve(hearth={"fall": "2 in"})
    assert coursing.courses[0].height == Fraction(9, 8)
    assert coursing.joints[0] == Fraction(1, 4)
    assert coursing.reasons[0].endswith(
        'The joint below is 1/4" there and 1 1/8" at the lowest point, more than the '
        '3/4" allowed.'
    )


def test_brick_may_stand_on_the_hearth_without_a_joint(solve):
    # 4 x 2 1/4 + 3 x 3/8 = 10 1/8, and nothing below.
    coursing = solve(
        face__height="10 1/8 in",
        opening__height="7 7/8 in",
        joints__bed=fixed(6),
        joints__bottom={"kind": "none", "least": "0 in", "most": "0 in"},
    )
    assert coursing.courses[0].bottom == 0
    assert sixteenths(coursing.joints) == [0, 6, 6, 6]
    assert coursing.lands


def test_a_top_that_meets_an_underside_lists_the_joint_under_it(solve):
    # 4 x 2 5/8 = 10 1/2 from the datum to the top of the fourth brick, and a joint.
    coursing = solve(
        face__height="10 7/8 in",
        face__top_meets="underside",
        opening__height="5 5/8 in",
        joints__bed=fixed(6),
        joints__bottom={"least": "3/8 in", "most": "3/8 in"},
    )
    assert len(coursing.courses) == 4
    assert sixteenths(coursing.joints) == [6] * 5
    assert coursing.lands


def test_soldiers_over_the_face_are_a_course_that_stands_on_the_head(solve):
    # 3/8 + 3 x 2 5/8 = 8 1/4; 8 1/4 + 7 5/8 + 3/8 + 2 1/4 = 18 1/2.
    coursing = solve(
        opening__height="8 1/4 in",
        face__height="18 1/2 in",
        opening__head="soldier",
        opening__head_over="face",
        joints__bed=fixed(6),
    )
    assert coursing.lands
    assert [course.kind for course in coursing.courses] == [
        "running", "running", "running", "soldier", "running"
    ]  # fmt: skip
    soldiers = coursing.courses[3]
    assert soldiers.bottom == coursing.head == Fraction(33, 4)
    assert soldiers.height == Fraction(61, 8)
    assert coursing.soldier_top == soldiers.top
    assert (coursing.soldiers_cut, coursing.courses_beside_soldiers) == (False, 0)


def test_soldiers_that_meet_no_course_are_sawn_to_the_last_one_below(solve):
    # From the head two courses and a joint are 4 7/8, three and two joints 7 1/2: the
    # soldiers at 6 1/2 are missed by an inch, and sawn to the lower one.
    coursing = solve(
        opening__height="8 1/4 in",
        face__height="15 3/4 in",
        opening__head="soldier",
        brick__length="6 1/2 in",
        joints__bed=fixed(6),
    )
    soldiers = coursing.targets[2]
    assert (soldiers.wanted - coursing.head, soldiers.miss) == (Fraction(13, 2), 1)
    assert not soldiers.lands
    assert coursing.soldier_top - coursing.head == Fraction(39, 8)
    assert coursing.soldiers_cut
    assert coursing.courses_beside_soldiers == 2
    assert (
        'The soldiers are sawn to 4 7/8": at the 6 1/2" wanted they would end '
        '1 5/8" above the course beside them.' in coursing.reasons
    )


def test_joints_are_not_spoiled_to_saw_less_off_soldiers(solve):
    # Eight courses of 2 5/8 end at 21, and five of them at the head, 13 1/8 and the
    # joint: 13 1/2. Soldiers of 8 end at 21 1/2. The three courses beside them end at
    # 21, and with joints of 1/2 at 21 1/4 (only two of their joints lie above the
    # head): sawn by 1/4 then, but sawn all the same, and the joints no longer even.
    coursing = solve(
        face__height="26 1/4 in",
        opening__height="13 1/2 in",
        opening__head="soldier",
        brick__length="8 in",
    )
    assert set(coursing.joints) == {Fraction(3, 8)}
    assert coursing.targets[2].miss == Fraction(1, 2)
    assert coursing.merit.misses == (0, 0, 1)
    assert coursing.soldiers_cut
    assert coursing.soldier_top - coursing.head == Fraction(15, 2)


def test_soldiers_taller_than_the_face_are_sawn_to_its_top(solve):
    coursing = solve(
        opening__height="8 1/4 in",
        face__height="13 1/8 in",
        opening__head="soldier",
        joints__bed=fixed(6),
    )
    assert coursing.soldier_top == Fraction(105, 8)
    assert coursing.soldiers_cut


def test_soldiers_sawn_on_purpose_stand_as_tall_as_the_job_says(solve):
    coursing = solve(
        opening__height="8 1/4 in",
        face__height="13 1/8 in",
        opening__head="soldier",
        courses__soldier_height="4 7/8 in",
        joints__bed=fixed(6),
    )
    assert coursing.lands
    assert coursing.soldiers_cut
    assert coursing.soldier_top == Fraction(105, 8)


def test_a_soldier_top_within_one_step_leaves_the_soldiers_whole(solve):
    # Two joints of 3/8 make 7 1/2 where 7 9/16 is wanted: one step, which is allowed.
    coursing = solve(
        opening__height="8 1/4 in",
        face__height="15 3/4 in",
        opening__head="soldier",
        brick__length="7 9/16 in",
        joints__bed=fixed(6),
    )
    assert coursing.lands
    assert not coursing.soldiers_cut
    assert coursing.soldier_top - coursing.head == Fraction(121, 16)


def test_the_bottom_and_the_top_course_may_be_sawn(solve):
    # 3/8 + 2 + 3/8 + 2 1/4 + 3/8 + 2 1/4 + 3/8 + 1 1/2 = 9 1/2
    coursing = solve(
        opening__height="5 3/8 in",
        face__height="9 1/2 in",
        courses__bottom_height="2 in",
        courses__top_height="1 1/2 in",
        joints__bed=fixed(6),
    )
    assert coursing.lands
    heights = [course.height for course in coursing.courses]
    assert heights == [2, Fraction(9, 4), Fraction(9, 4), Fraction(3, 2)]


def test_of_two_equally_near_planes_a_target_takes_the_lower(solve):
    # Undersides at 5 5/8 and 8 1/4: 6 15/16 is 1 5/16 from both.
    coursing = solve(
        opening__height="6 15/16 in",
        face__height="18 3/8 in",
        opening__head="soldier",
        opening__head_over="face",
        joints__bed=fixed(6),
        joints__bottom={"least": "3/8 in", "most": "3/8 in"},
    )
    assert coursing.head == Fraction(45, 8)
    assert coursing.courses[2].kind == "soldier"
    assert coursing.targets[0].miss == Fraction(21, 16)


def test_one_plane_may_serve_two_targets(solve):
    shelf = {"name": "shelf line", "level": "27 in", "meets": "underside"}
    coursing = solve(target=[shelf])
    assert [t.got for t in coursing.targets if t.wanted == 27] == [27, 27]


def test_a_target_takes_a_plane_of_its_own_kind(solve):
    # With every joint at 3/8, the second brick ends at 5 1/4, its joint at 5 5/8.
    lines = [
        {"name": "low", "level": "5 1/4 in", "meets": "top"},
        {"name": "high", "level": "5 5/8 in", "meets": "underside"},
    ]
    coursing = solve(
        opening__height="8 1/4 in",
        face__height="15 3/4 in",
        joints__bed=fixed(6),
        target=lines,
    )
    assert coursing.lands
    assert [t.got for t in coursing.targets[2:]] == [Fraction(21, 4), Fraction(45, 8)]


def test_the_head_comes_before_the_top(solve):
    # Joints are all 3/8: one of the two is missed, and it is the top.
    coursing = solve(
        opening__height="8 1/4 in", face__height="15 1/2 in", joints__bed=fixed(6),
        joints__bottom={"least": "1/8 in", "most": "3/8 in"},
    )  # fmt: skip
    assert coursing.merit.misses == (0, Fraction(1, 4))
    assert coursing.targets[0].got == Fraction(33, 4)


def test_a_miss_within_the_tolerance_counts_as_none(solve):
    # The plane at 8 1/4 is 1/8 off; a third of an inch is allowed.
    line = {"name": "line", "level": "8 3/8 in"}
    usual = {"opening__height": "5 5/8 in", "face__height": "15 3/4 in",
             "joints__bed": fixed(6)}  # fmt: skip
    allowed = solve(**usual, target=[{**line, "tolerance": "1/3 in"}])
    assert allowed.merit.misses == (0, 0, 0)
    assert allowed.targets[2].miss == Fraction(1, 8)
    assert allowed.lands
    assert solve(**usual, target=[line]).merit.misses == (0, 0, Fraction(1, 8))


def test_of_two_equal_departures_the_wide_joint_is_taken(solve):
    # The top may end half a step high or low; the preferred joint lies between too.
    coursing = solve(
        face__height=f"{Fraction(9, 2) + Fraction(25, 32)} in",
        opening__height="3/8 in",
        joints__bed={"preferred": "13/32 in", "least": "3/8 in", "most": "7/16 in"},
        joints__bottom={"least": "3/8 in", "most": "3/8 in"},
    )
    assert sixteenths(coursing.joints) == [6, 7]
    assert coursing.merit.narrow == 0


def test_the_grid_keeps_the_mean_of_ten_brick_exact(solve):
    # Ten brick laid dry measure 22 1/16, so a course of the mean is 2 33/160 high.
    coursing = solve(brick__height="2 33/160 in")
    assert coursing.courses[0].height == Fraction(353, 160)
    assert all((joint * 16).denominator == 1 for joint in coursing.joints)


def test_a_face_that_ends_at_the_head_still_gets_an_answer(solve):
    # The head comes first, and the course that stands on it is a whole one too high.
    coursing = solve(opening__height="27 in", face__height="27 in")
    assert coursing.merit.misses == (0, Fraction(9, 4))


@pytest.mark.parametrize("demo", ["jack-arch-parlour", "library-hearth"])
def test_only_an_arch_is_said_to_end_with_a_course(demo):
    reasons = solution_of(demo).coursing.reasons
    says = 'The arch is 7 1/2" deep, and its back is level with a course.'
    assert (says in reasons) == (demo == "jack-arch-parlour")


def test_what_another_number_of_courses_would_cost_is_said_as_by_hand(solve):
    # Eleven brick are 24 3/4: of 52/16 the first two joints take 12 up to the head, and
    # 40 for nine are fives and fours. Ten leave 88/16, and 76 for eight: tens among
    # them, 4/16 off the preferred six.
    coursing = solve(
        opening__height="3 in",
        face__height="28 in",
        joints__bed=fixed(4, 12),
        joints__bottom={"least": "1/4 in", "most": "3/4 in", "hidden": True},
    )
    says = 'with 10 a bed joint would be 1/4" off the preferred instead of 1/8".'
    assert f"There are 11 courses; {says}" in coursing.reasons


@pytest.mark.parametrize(
    ("narrow", "says"),
    [
        (0, "the joints would come out no better."),
        (1, "the joint furthest off the preferred would be thin."),
    ],
)
def test_where_no_joint_is_further_off_a_thin_one_is_told(stack_job, narrow, says):
    job = stack_job()
    coursing = solve_coursing(job, trace_surround(job))
    merit, count = coursing.merit, len(coursing.courses)
    other = OtherCount(
        count + 1, merit.misses, merit.jump, merit.departure, merit.narrow + narrow
    )
    reasons = explain_coursing(job, coursing, other)
    assert f"There are {count} courses; with {count + 1} {says}" in reasons
