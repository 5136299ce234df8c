"""Rowlocks, heads of two courses, brick that turns into the jambs, narrow legs."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from functools import cache

import pytest

from shopdraw.errors import NotProved
from shopdraw.job.reading import parse_job
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.longer import mostly_long

JOB = """
[job]
name = "Turned"
[face]
width = "{width} in"
height = "{height} in"
measured_to = "{measured}"
{face}
[opening]
width = "34 in"
height = "27 in"
{opening}
[brick]
size = "modular"
corner = {{ long_leg = "7 5/8 in", short_leg = "3 5/8 in" }}
{brick}
"""


@cache
def solved(
    opening: str = "",
    *,
    width: str = "57 1/4",
    height: str = "43",
    measured: str = "finish",
    face: str = "",
    brick: str = "",
) -> Solution:
    text = JOB.format(
        width=width, height=height, measured=measured, face=face, opening=opening,
        brick=brick,
    )  # fmt: skip
    return solve(parse_job(text, "turned.toml"))


RETURNS = 'left_return = "11 5/8 in"\nright_return = "11 5/8 in"'


def kinds(solution: Solution, kind: str) -> list:
    return [piece for piece in solution.layout.pieces if piece.kind == kind]


def test_a_rowlock_shows_half_a_brick_and_is_as_wide_as_a_brick_is_high() -> None:
    # (7 5/8 - 3/8) / 2 = 3 5/8.
    solution = solved('head = "rowlock"\nhead_over = "face"', height="40")
    assert solution.job.soldier_height == F(29, 8)
    rowlocks = kinds(solution, "rowlock")
    assert {piece.height for piece in rowlocks} == {F(29, 8)}
    assert {piece.length for piece in rowlocks if piece.mark == "R1"} == {F(9, 4)}
    assert all(piece.is_cut and "top" in piece.cut_edges for piece in rowlocks)


def test_rowlocks_over_the_opening_end_with_the_nearest_course() -> None:
    solution = solved('head = "rowlock"', height="40")
    coursing = solution.coursing
    tops = [course.top for course in coursing.courses if course.top > coursing.head]
    wanted = coursing.head + F(29, 8)
    assert coursing.soldier_top == min(tops, key=lambda top: (abs(top - wanted), top))


@pytest.mark.parametrize("over", ["opening", "face"])
@pytest.mark.parametrize("head", ["soldier", "rowlock"])
def test_two_courses_stand_plumb_one_above_the_other_a_bed_joint_apart(
    head: str, over: str
) -> None:
    asked = f'head = "{head}"\nhead_courses = 2\nhead_over = "{over}"'
    solution = solved(asked, height="60")
    standing = kinds(solution, head)
    bottoms = sorted({piece.outlines[0].bottom for piece in standing})
    assert len(bottoms) == 2
    low, high = (
        [piece.outlines[0] for piece in standing if piece.outlines[0].bottom == bottom]
        for bottom in bottoms
    )
    assert [(x.left, x.right) for x in low] == [(x.left, x.right) for x in high]
    assert high[0].bottom - low[0].top == F(3, 8)
    assert low[0].bottom == solution.coursing.head
    assert high[0].top == solution.coursing.soldier_top
    # 2 x 7 5/8 + 3/8, or 2 x 3 5/8 + 3/8.
    whole = {"soldier": F(125, 8), "rowlock": F(61, 8)}[head]
    assert solution.job.head_height == whole


def test_an_upper_course_that_is_moved_into_its_neighbour_is_noticed() -> None:
    solution = solved('head = "soldier"\nhead_courses = 2', height="60")
    layout = solution.layout
    at = max(i for i, piece in enumerate(layout.pieces) if piece.kind == "soldier")
    piece = layout.pieces[at]
    moved = replace(piece, outlines=(piece.outlines[0].moved(F(-3, 8), F(0)),))
    pieces = (*layout.pieces[:at], moved, *layout.pieces[at + 1 :])
    with pytest.raises(NotProved, match="closer together than the least"):
        prove_layout(
            solution.job, solution.surround, solution.coursing,
            replace(layout, pieces=pieces),
        )  # fmt: skip


def test_brick_that_turns_into_the_jambs_covers_them_to_the_depth_asked() -> None:
    # From the substrate the brick stands off each jamb by the build-out, 1 in: of
    # 34 in 32 are left clear. In one course the short leg fills 3 5/8; in the next the
    # long one is trimmed to it from its free end.
    solution = solved(
        'jamb_return = "3 5/8 in"\nfirebox = "5 in"',
        measured="substrate", width="56", face=RETURNS,
    )  # fmt: skip
    opening = solution.surround.opening
    assert opening.brick_right - opening.brick_left == 32
    for reveal in solution.surround.reveals:
        legs = [
            outline
            for piece in solution.layout.pieces
            for outline in piece.outlines
            if outline.face == reveal.name
        ]
        assert len(legs) == solution.coursing.courses_below_head
        assert {(x.left, x.right) for x in legs} == {(reveal.left, reveal.right)}
        assert reveal.width == F(29, 8)
    turned = [
        piece
        for piece in solution.layout.pieces
        if any(x.face.endswith("reveal") for x in piece.outlines)
    ]
    assert {piece.kind for piece in turned} == {"corner unit"}
    assert len({piece.id for piece in solution.layout.pieces}) == len(
        solution.layout.pieces
    )
    area = solution.takeoff.row("corner units").net
    assert area == len(kinds(solution, "corner unit"))


@pytest.mark.parametrize(
    ("firebox", "status"),
    [('"3 5/8 in"', "passed"), ('"3 1/2 in"', "failed"), (None, "not checked")],
)
def test_the_return_must_stop_outside_the_firebox(
    firebox: str | None, status: str
) -> None:
    asked = 'jamb_return = "3 5/8 in"'
    if firebox:
        asked += f"\nfirebox = {firebox}"
    finding = solved(asked, face=RETURNS).finding("jamb-return")
    assert finding is not None
    assert finding.status == status
    assert finding.rule.words == "brick in the jambs stops outside the firebox"


def test_a_deeper_return_is_filled_behind_the_corner_units() -> None:
    # 11 5/8 = 7 5/8 + 3/8 + 3 5/8 in one course, 3 5/8 + 3/8 + 7 5/8 in the next.
    solution = solved('jamb_return = "11 5/8 in"', face=RETURNS)
    by_course: dict[int, list[F]] = {}
    for piece in solution.layout.pieces:
        for outline in piece.outlines:
            if outline.face == "left reveal":
                length = outline.right - outline.left
                by_course.setdefault(piece.course, []).append(length)
    assert {tuple(sorted(each)) for each in by_course.values()} == {
        (F(29, 8), F(61, 8))
    }


def legs_by_course(solution: Solution, course: int) -> list[F]:
    """Return the lengths in the left leg of a course, left to right."""
    left = solution.surround.opening.left
    outlines = [
        outline
        for piece in solution.layout.pieces
        if piece.course == course
        for outline in piece.outlines
        if outline.face == "front" and outline.right <= left
    ]
    return [x.right - x.left for x in sorted(outlines, key=lambda x: x.left)]


def test_a_leg_narrower_than_a_brick_is_one_cut_in_every_course() -> None:
    # (41 - 34) / 2 = 3 1/2 in, without a fold: no joint, no lap to keep.
    solution = solved(width="41")
    for course in range(1, solution.coursing.courses_below_head + 1):
        assert legs_by_course(solution, course) == [F(7, 2)]
    assert solution.layout.broken == ()


def test_a_leg_narrower_than_the_corner_unit_is_its_trimmed_leg() -> None:
    # 5 in at a fold: the long leg trimmed to it; in the next course the short one and
    # a piece, neither under 2 in: 5 = leg + joint + piece.
    solution = solved(width="44", face=RETURNS)
    assert legs_by_course(solution, 1) == [5]
    leg, piece = legs_by_course(solution, 2)
    assert min(leg, piece) >= 2
    assert F(1, 4) <= 5 - leg - piece <= F(1, 2)
    assert not [rule for rule in solution.layout.broken if rule.rule == "least piece"]


def test_a_leg_too_narrow_for_any_whole_piece_says_which_rule_it_breaks() -> None:
    # 1 1/4 in: under the least piece of 2 in whatever is done. With 1 1/4 x 2 1/4 it is
    # under a quarter of a brick's face of 7 5/8 x 2 1/4 too.
    solution = solved(width="36 1/2")
    broken = {rule.rule: rule.least for rule in solution.layout.broken}
    assert broken == {"least piece": 2, "least area": F(61, 8) * F(9, 4) / 4}
    measured = {rule.rule: rule.measured for rule in solution.layout.broken}
    assert measured == {"least piece": F(5, 4), "least area": F(5, 4) * F(9, 4)}
    failed = [f.rule.key for f in solution.findings if f.status == "failed"]
    assert failed.count("least-piece") == 1


FACES = (
    ("120", "43", "40", ""),
    ("90", "43", "96", RETURNS),
    ("70", "5", "60", 'right_return = "9 in"'),
    ("38 1/2", "1", "36", ""),
)


@pytest.mark.parametrize(
    ("width", "from_left", "height", "face"),
    mostly_long(FACES, FACES[0], FACES[1], FACES[3]),
)
def test_wide_faces_high_faces_and_unequal_legs_are_proved(
    width: str, from_left: str, height: str, face: str
) -> None:
    solution = solved(
        f'from_left = "{from_left} in"', width=width, height=height, face=face
    )
    assert solution.layout.pieces
    named = {rule.rule for rule in solution.layout.broken}
    failed = {f.rule.words for f in solution.findings if f.status == "failed"}
    assert named <= failed


@pytest.mark.parametrize(
    "leg", mostly_long(("3", "4", "5", "6 1/2", "8"), "3", "6 1/2")
)
def test_a_narrow_leg_between_two_folds_holds_both_corner_units(leg: str) -> None:
    width = f"{34 + 2 * sum(F(x) for x in leg.split())}"
    whole, part = divmod(F(width), 1)
    solution = solved(
        'jamb_return = "3 5/8 in"',
        width=f"{whole} {part}" if part else f"{whole}",
        face=RETURNS,
    )
    wide = sum((F(x) for x in leg.split()), F(0))
    for course in (1, 2):
        lengths = legs_by_course(solution, course)
        joints = wide - sum(lengths)
        assert len(lengths) >= 2
        assert F(1, 4) * (len(lengths) - 1) <= joints <= F(1, 2) * (len(lengths) - 1)
