"""The bond: hand cases, published widths, what always holds."""

from __future__ import annotations

from fractions import Fraction

import pytest

from shopdraw.job.model import Job
from shopdraw.masonry.laying.pieces import list_cuts
from shopdraw.masonry.laying.proof import prove_layout
from tests.masonry.legs import CORNER, F, StackJob, lay, lengths_of, library, row


def test_a_leg_that_fits_the_corner_units_is_cut_only_in_halves(
    stack_job: StackJob,
) -> None:
    # 11 5/8 = 7 5/8 + 3/8 + 3 5/8 in course 1, and 3 5/8 + 3/8 + 7 5/8 in course 2.
    _, _, layout = lay(library(stack_job))
    left_leg = [row(layout, "front", course)[:2] for course in (1, 2)]
    assert lengths_of(left_leg[0]) == [F(61, 8), F(29, 8)]
    assert lengths_of(left_leg[1]) == [F(29, 8), F(61, 8)]


def test_a_return_that_does_not_fit_has_no_piece_under_half(
    stack_job: StackJob,
) -> None:
    # 14 = 3 5/8 + 3/8 + 6 + 3/8 + 3 5/8 in course 1: the smallest is half a unit; a
    # whole unit there would leave 2 in. Course 2: 7 5/8 + 3/8 + 6.
    _, _, layout = lay(library(stack_job))
    assert lengths_of(row(layout, "left", 1)) == [F(29, 8), F(6), F(29, 8)]
    assert lengths_of(row(layout, "left", 2)) == [F(6), F(61, 8)]


def test_a_return_with_other_cuts_names_the_widths_that_need_none_but_halves(
    stack_job: StackJob,
) -> None:
    # 7 5/8 + 3/8 + 3 5/8 is 11 5/8, and 7 5/8 + 3/8 + 7 5/8 is 15 5/8: 14 lies between.
    _, _, layout = lay(library(stack_job))
    assert layout.ways_out == (
        'Left return and right return: 11 5/8" would need no cuts but halves; that is '
        '2 3/8" narrower.',
        "Left return and right return: 1'-3 5/8\" would need no cuts but halves; that "
        'is 1 5/8" wider.',
    )
    near = library(stack_job, face__left_return="12 in", face__right_return="12 in")
    _, _, layout = lay(near)
    assert 'an edge joint 3/8" wider gives that.' in layout.ways_out[0]


def test_a_leg_of_13_keeps_its_lap_and_its_least_piece(stack_job: StackJob) -> None:
    # At joints of 3/8: 7 5/8 + 5, and 3 5/8 + 6 + 2 5/8, whose smallest is 2 5/8. With
    # two equal cuts, 3 5/8 + 4 5/16 + 4 5/16, the lap would be 5/16.
    job = library(stack_job, face__width="60 in", opening__width="34 in")
    fixed = "3/8 in"
    job = job.edited("joints.head.least", F(3, 8)).edited("joints.head.most", F(3, 8))
    assert fixed == f"{job.joints.head.least} in"
    _, _, layout = lay(job)
    assert lengths_of(row(layout, "front", 1)[:2]) == [F(61, 8), F(5)]
    assert lengths_of(row(layout, "front", 2)[:3]) == [F(29, 8), F(6), F(21, 8)]
    assert layout.least_lap == 2
    assert not layout.broken


def test_a_leg_narrower_than_the_corner_unit_trims_it(stack_job: StackJob) -> None:
    # 6 in: the long leg is trimmed to 6, the short one has 3/8 and 2 beside it.
    job = library(stack_job, face__width="46 in", opening__width="34 in")
    job = job.edited("joints.head.least", F(3, 8)).edited("joints.head.most", F(3, 8))
    _, _, layout = lay(job)
    assert lengths_of(row(layout, "front", 1)[:1]) == [F(6)]
    assert lengths_of(row(layout, "front", 2)[:2]) == [F(29, 8), F(2)]
    trimmed = [piece for piece in layout.pieces if piece.is_trimmed]
    assert {piece.legs for piece in trimmed} == {(F(6), F(29, 8))}
    assert all("front leg" in piece.cut_edges for piece in trimmed)


@pytest.mark.parametrize(
    ("bricks", "width"),
    [(1, 215), (2, 440), (3, 665), (4, 890), (5, 1115)],
)
def test_published_pier_widths_need_no_cut_but_halves(
    stack_job: StackJob, bricks: int, width: int
) -> None:
    """Brickwork dimensions table, 215 mm brick and 10 mm joints, column CO-.

    Read in the technical information sheet (document mirror, address withheld).
    """
    job = stack_job(
        "mm",
        face__width=f"{2 * width + 865} mm",
        opening__width="865 mm",
        face__height="605 mm",
        opening__head="soldier",
    )
    _, _, layout = lay(job)
    for course in (1, 2):
        leg = lengths_of([x for x in row(layout, "front", course) if x[1] <= width])
        assert sum(leg) + 10 * (len(leg) - 1) == width
        assert set(leg) <= {F(215), F(205, 2)}
        if bricks > 1:
            assert leg.count(F(205, 2)) in (0, 2)


@pytest.mark.parametrize(
    ("count", "joint"), [(14, F(36 * 4 - 14 * 9, 4 * 13)), (13, F(9, 16))]
)
def test_soldiers_share_the_joint_exactly(
    stack_job: StackJob, count: int, joint: Fraction
) -> None:
    """36 in: 14 soldiers at 9/26 = 0.34615, or 13 at 0.5625 (arithmetic)."""
    job = stack_job(
        "in",
        face__width="58 in",
        opening__width="36 in",
        opening__head="soldier",
        opening__head_ends="joint in the leg",
        opening__head_centre="joint" if count == 14 else "unit",
        joints__head={"preferred": "3/8 in", "least": "1/4 in", "most": "9/16 in"},
    )
    _, _, layout = lay(job)
    soldiers = [x for x in layout.pieces if x.kind == "soldier"]
    assert len(soldiers) == count
    assert soldiers[1].outlines[0].left - soldiers[0].outlines[0].right == joint


def test_third_bond_without_a_fold_is_laid_in_three_courses(
    stack_job: StackJob,
) -> None:
    # Two units and a joint wide, so that thirds fit: 15 5/8.
    job = stack_job(
        "in",
        face__width="65 1/4 in",
        opening__width="34 in",
        opening__head="soldier",
        bond__pattern="third",
    )
    _, _, layout = lay(job)
    rows = [row(layout, "front", course) for course in (1, 2, 3, 4)]
    assert rows[0] == rows[3]
    assert len({tuple(x) for x in rows[:3]}) == 3
    third = (F(61, 8) + F(3, 8)) / 3
    assert layout.least_lap is not None
    assert layout.least_lap >= third - F(1, 2)


def test_third_bond_at_a_fold_is_laid_in_two_and_says_so(stack_job: StackJob) -> None:
    _, _, layout = lay(library(stack_job, bond__pattern="third"))
    assert row(layout, "front", 1) == row(layout, "front", 3)
    assert any("every two courses here" in reason for reason in layout.reasons)


def test_stack_bond_repeats_every_course_and_asks_for_no_lap(
    stack_job: StackJob,
) -> None:
    _, _, layout = lay(library(stack_job, bond__pattern="stack"))
    assert row(layout, "front", 1) == row(layout, "front", 2)
    assert row(layout, "left", 1) == row(layout, "left", 2)
    assert layout.least_lap is None


def test_perpends_stay_plumb_over_the_opening(stack_job: StackJob) -> None:
    job = library(stack_job, opening__head="running", face__height="45 1/8 in")
    surround, coursing, layout = lay(job)
    low = {x[1] for x in row(layout, "front", 1) if x[1] < surround.opening.left}
    above = 1 + 2 * ((coursing.courses_below_head + 1) // 2)
    assert above > coursing.courses_below_head
    high = {x[1] for x in row(layout, "front", above)}
    assert low <= high


def test_corner_units_alternate_and_course_1_has_the_long_leg_in_front(
    stack_job: StackJob,
) -> None:
    _, _, layout = lay(library(stack_job))
    places = {
        piece.course: piece.place
        for piece in layout.pieces
        if piece.kind == "corner unit" and piece.outlines[0].left < 30
    }
    assert [places[course] for course in (1, 2, 3, 4)] == ["front", "left"] * 2


@pytest.mark.parametrize("at_fold", ["mitre", "butt"])
def test_a_soldier_course_round_the_face_turns_the_fold(
    stack_job: StackJob, at_fold: str
) -> None:
    job = library(
        stack_job,
        opening__head_over="face",
        brick__at_fold=at_fold,
        face__height="42 1/4 in",
    )
    surround, coursing, layout = lay(job)
    prove_layout(job, surround, coursing, layout)
    soldiers = [piece for piece in layout.pieces if piece.kind == "soldier"]
    assert {piece.place for piece in soldiers} == {"left", "front", "right"}
    if at_fold == "mitre":
        assert sum("mitre" in piece.cut_edges for piece in soldiers) == 4
    else:
        edges = [piece for piece in soldiers if len(piece.outlines) == 2]
        assert len(edges) == 2
        assert all(piece.legs == (F(9, 4), F(5, 8)) for piece in edges)


def test_soldiers_that_stop_short_leave_the_corner_units_whole(
    stack_job: StackJob,
) -> None:
    job = library(stack_job, opening__head_over="face", brick__at_fold="stop short")
    surround, coursing, layout = lay(job)
    prove_layout(job, surround, coursing, layout)
    assert not any(piece.is_trimmed for piece in layout.pieces)
    assert not layout.broken


def test_units_that_may_not_be_turned_over_have_two_hands(stack_job: StackJob) -> None:
    job = library(stack_job, brick__corner={**CORNER, "turns_over": False})
    _, _, layout = lay(job)
    marks = {x.mark for x in layout.pieces if x.kind == "corner unit"}
    assert marks == {"C-L", "C-R"}
    _, _, layout = lay(library(stack_job))
    assert {x.mark for x in layout.pieces if x.kind == "corner unit"} == {"C"}


def test_the_cut_list_counts_every_piece_once(stack_job: StackJob) -> None:
    job = library(stack_job)
    _, _, layout = lay(job)
    rows = list_cuts(job, layout)
    ids = [name for row in rows for name in row.ids]
    assert sorted(ids) == sorted(piece.id for piece in layout.pieces)
    assert sum(row.count for row in rows) == len(layout.pieces)


def mirrored(job: Job) -> Job:
    from_left = job.face.width - job.opening.width - (job.opening.from_left or 0)
    return (
        job.edited("opening.from_left", from_left)
        .edited("face.left_return", job.face.right_return)
        .edited("face.right_return", job.face.left_return)
    )


@pytest.mark.parametrize("from_left", ["9 in", "10 3/4 in", "13 1/2 in"])
def test_the_mirrored_job_has_the_mirrored_bond(
    stack_job: StackJob, from_left: str
) -> None:
    job = library(
        stack_job, opening__from_left=from_left, face__right_return="9 in",
    )  # fmt: skip
    surround, _, layout = lay(job)
    _, _, other = lay(mirrored(job))
    width = surround.faces[-1].right
    for face, back in (("left", "right"), ("front", "front"), ("right", "left")):
        for course in (1, 2):
            ends = [(width - b, width - a) for a, b in row(layout, face, course)]
            # Of cuts that are equal in every respect the leftmost joint comes first, so
            # only their order may differ.
            assert sorted(lengths_of(ends)) == sorted(
                lengths_of(row(other, back, course))
            )


def test_a_job_twice_as_large_has_the_same_bond_twice_as_large(
    stack_job: StackJob,
) -> None:
    job = library(stack_job, face__width="60 in")
    double = job
    for key in (
        "face.width", "face.height", "face.left_return", "face.right_return",
        "opening.width", "opening.height", "brick.length", "brick.height",
        "brick.thickness", "brick.corner.long_leg", "brick.corner.short_leg",
        "joints.head.preferred", "joints.head.least", "joints.head.most",
        "joints.bed.preferred", "joints.bed.least", "joints.bed.most",
        "joints.bottom.least", "joints.bottom.most", "joints.step",
        "bond.least_piece", "bond.least_lap",
    ):  # fmt: skip
        value = job
        for name in key.split("."):
            value = getattr(value, name)
        double = double.edited(key, 2 * value)
    _, _, layout = lay(job)
    _, _, larger = lay(double)
    assert [2 * x.length for x in layout.pieces] == [x.length for x in larger.pieces]
