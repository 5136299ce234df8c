"""The coursing against published heights."""

from __future__ import annotations

from fractions import Fraction

import pytest

COURSING_TABLE = [
    # Technical Note 10B (rev. June 1993), Table 3, as reprinted in April 1994: the
    # entries that are legible in the reprint (read in the source). A course counts
    # with its bed; the beds that hold each coursing are arithmetic from the table.
    # (height of brick, bed, step, [(courses, inches)])
    ("1 5/8 in", "3/8 in", "1/16 in",
     [(5, 10), (8, 16), (10, 20), (20, 40), (50, 100), (100, 200)]),
    ("2 1/4 in", "5/12 in", "1/12 in",
     [(3, 8), (9, 24), (12, 32), (18, 48), (21, 56), (24, 64), (30, 80), (36, 96)]),
    ("2 13/16 in", "31/80 in", "1/80 in", [(5, 16), (10, 32), (25, 80), (30, 96)]),
    ("3 5/8 in", "3/8 in", "1/16 in", [(3, 12), (10, 40), (24, 96), (100, 400)]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("height", "bed", "step", "courses", "level"),
    [(h, bed, step, *row) for h, bed, step, rows in COURSING_TABLE for row in rows],
)
def test_the_coursing_table_of_the_brick_industry_is_met(
    solve, height, bed, step, courses, level
):
    gauge = Fraction(level, courses)
    bed_joint = Fraction(bed.removesuffix(" in"))
    head = gauge * (courses // 2) + bed_joint
    coursing = solve(
        brick__height=height,
        face__height=f"{level} in",
        opening__height=f"{head} in",
        joints__step=step,
        joints__bed={"preferred": bed, "least": "1/4 in", "most": "1/2 in"},
        joints__bottom={"least": "1/4 in", "most": "1/2 in"},
    )
    assert coursing.lands
    assert len(coursing.courses) == courses
    assert set(coursing.joints) == {bed_joint}


@pytest.mark.parametrize(("courses", "level"), [(10, 750), (20, 1500), (40, 3000)])
def test_uk_brick_course_at_75_millimetres(solve, courses, level):
    # 75 mm a course: brick-association technical information sheet on brickwork
    # dimensions (read as a mirrored document); 10, 20 and 40 courses are arithmetic.
    coursing = solve("mm", face__height=f"{level} mm", opening__height="385 mm")
    assert coursing.lands
    assert len(coursing.courses) == courses
    assert set(coursing.joints) == {10}


def test_a_sill_at_four_feet_four_and_a_quarter_takes_19_courses(solve):
    # NAVEDTRA 14045 (Builder Advanced), read in the source: sill 4 ft 4 1/4 in above
    # the start, 2 1/4 in brick, 1/2 in joints: 19 courses.
    coursing = solve(
        face__height="4 ft 4 1/4 in",
        opening__height="28 in",  # ten courses of 2 3/4 and a joint
        joints__bed={"preferred": "1/2 in", "least": "3/8 in", "most": "5/8 in"},
        joints__bottom={"least": "3/8 in", "most": "5/8 in"},
    )
    assert coursing.lands
    assert len(coursing.courses) == 19
    assert set(coursing.joints) == {Fraction(1, 2)}


def test_the_story_pole_to_29_inches_takes_11_courses(solve):
    # Arithmetic: 29 / 2 5/8 = 11.05, so 11 courses, whose mean joint is 0.38636 in.
    # 4 1/4 in = 68/16 in 11 joints: ten of 3/8, and 1/2 at the bottom, where a jump of
    # 1/8 is not seen, is better than a bed joint that departs.
    coursing = solve(face__height="29 in", opening__height="3 1/8 in")
    assert coursing.lands
    assert len(coursing.courses) == 11
    assert [16 * joint for joint in coursing.joints] == [8] + [6] * 10
