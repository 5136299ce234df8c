"""Brick round corners that are not square, by hand, on the walls of `tests.aslant`."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise

import pytest

from shopdraw.errors import NotLaid, NotProved
from shopdraw.job.reading import parse_job
from shopdraw.masonry.bond.plan import BondPlan, plan_bond
from shopdraw.masonry.bond.solve import solve_bond, spans_of
from shopdraw.masonry.bonding.answer import solve_stretch
from shopdraw.masonry.bonding.legs import NoWayError
from shopdraw.masonry.laying.cuts import cut_level
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.folding import far_end, place_face
from shopdraw.masonry.wall.layout import Piece
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.aslant import CHAMFERS, SPLAYED, breast
from tests.longer import mostly_long
from tests.splayed import RETURNS, text_of

NEAR = 0.05
"""A sixteenth and a half: each finished width is rounded to a sixteenth."""


def widths(solution: Solution) -> dict[str, F]:
    return {face.name: face.width for face in solution.surround.faces}


def plan_of(solution: Solution) -> BondPlan:
    opening = solution.surround.opening
    stops = opening.brick_left, opening.brick_right
    return plan_bond(solution.job, solution.surround, solution.coursing, stops)


def refusals(solution: Solution, old: Piece, new: Piece) -> str:
    """Return what the proof says of the layout with one piece changed."""
    pieces = tuple(new if x is old else x for x in solution.layout.pieces)
    layout = replace(solution.layout, pieces=pieces)
    with pytest.raises(NotProved) as refused:
        prove_layout(solution.job, solution.surround, solution.coursing, layout)
    return str(refused.value)


def test_a_splayed_return_grows_at_its_corner_and_at_the_slanting_wall() -> None:
    # 11 + tan 30 + tan 30 = 12.1547: each to a sixteenth 9/16, so 12 1/8. The front
    # grows by 9/16 at each end.
    assert widths(breast(SPLAYED)) == {
        "left": F(97, 8), "front": F(433, 8) + F(9, 8), "right": F(97, 8),
    }  # fmt: skip
    # Back to the wall it is as deep as the substrate, 11 x cos 30 = 9.526, and an inch.
    for face in ("left", "right"):
        solution = breast(SPLAYED)
        back = far_end(solution.surround, solution.surround.face(face))
        assert float(back[1]) == pytest.approx(10.526, abs=NEAR)


def test_brick_stops_where_the_back_of_its_end_meets_the_joint_at_the_wall() -> None:
    # 5/8 x tan 30 = 0.3608, up to the next sixteenth 3/8, and the joint of 3/8.
    edge = breast(SPLAYED).surround.left_edge
    assert edge.brick_x - edge.x == F(3, 4)
    # Narrower at the wall the face is nearest, so that only the joint is left.
    narrower = f"{RETURNS}\nleft_return_splay = -12"
    edge = breast(narrower).surround.left_edge
    assert edge.brick_x - edge.x == F(3, 8)


def test_no_corner_of_a_brick_is_nearer_to_the_wall_than_its_joint() -> None:
    for face in (SPLAYED, f"{RETURNS}\nleft_return_splay = -12", CHAMFERS):
        solution = breast(face)
        wall = far_end(solution.surround, solution.surround.faces[0])[1]
        for course in solution.coursing.courses:
            cuts = cut_level(solution.surround, solution.layout, course, F(5, 8))
            on_left = [x for x in cuts if x.outlines[0].face == "left"]
            deepest = max(y for cut in on_left for _, y in cut.ring)
            # Where it splays the wall is nearer, measured square to it, than along.
            assert float(wall - deepest) > 0.375 * 0.86 - 0.01


def test_a_chamfer_grows_at_both_its_corners() -> None:
    # tan 22.5 = 0.4142 is 7/16: 10 3/4 + 7/8 = 11 5/8, and the return 11 + 7/16.
    assert widths(breast(CHAMFERS)) == {
        "left": F(183, 16), "left chamfer": F(93, 8), "front": 55,
        "right chamfer": F(93, 8), "right": F(183, 16),
    }  # fmt: skip


def test_a_chamfered_breast_is_folded_in_plan_face_by_face() -> None:
    surround = breast(CHAMFERS).surround
    # 11 5/8 at 45 degrees is 8.2201 aside and back; then 11 7/16 straight back.
    chamfer, side = surround.face("left chamfer"), surround.face("left")
    x, y = (float(part) for part in far_end(surround, chamfer))
    assert (x, y) == pytest.approx((-8.2201, 8.2201), abs=1e-3)
    x, y = (float(part) for part in far_end(surround, side))
    assert (x, y) == pytest.approx((-8.2201, 19.6576), abs=1e-3)
    x, y = (float(part) for part in far_end(surround, surround.face("right")))
    assert (x, y) == pytest.approx((63.2201, 19.6576), abs=1e-3)
    placed = place_face(surround, "right chamfer")
    assert [float(part) for part in placed.along] == pytest.approx(
        [0.70711] * 2, abs=1e-5
    )


def test_each_corner_has_a_unit_a_course_that_turns_by_45() -> None:
    solution = breast(CHAMFERS)
    units = [x for x in solution.layout.pieces if x.kind == "corner unit"]
    assert len(units) == 4 * len(solution.coursing.courses)
    assert {(x.turn, x.is_trimmed) for x in units} == {(45, False)}
    pairs = {frozenset(outline.face for outline in x.outlines) for x in units}
    assert pairs == {
        frozenset(pair)
        for pair in (
            ("left", "left chamfer"), ("left chamfer", "front"),
            ("front", "right chamfer"), ("right chamfer", "right"),
        )
    }  # fmt: skip


def test_a_chamfer_as_wide_as_both_legs_has_them_by_turns_at_both_ends() -> None:
    # 7 5/8 + 3/8 + 3 5/8 = 11 5/8: nothing is trimmed, and each course is the other
    # turned round.
    solution = breast(CHAMFERS)
    for name in ("left chamfer", "right chamfer"):
        rows = [
            [
                outline.right - outline.left
                for piece in solution.layout.pieces
                for outline in piece.outlines
                if piece.course == course.number and outline.face == name
            ]
            for course in solution.coursing.courses
        ]
        assert all(sorted(row) == [F(29, 8), F(61, 8)] for row in rows)
        assert all(a == b[::-1] for a, b in pairwise(rows))


def test_a_chamfer_for_two_long_legs_is_laid_like_a_front() -> None:
    # 15 5/8 is two long legs and a joint, or two short ones and a whole brick between
    # them with two joints: like a front between two corners.
    face = CHAMFERS.replace("10 3/4", "14 3/4")
    solution = breast(face)
    assert solution.surround.face("left chamfer").width == F(125, 8)
    plan = solve_bond(plan_of(solution)).plan
    assert plan.swapped == frozenset()
    lengths = {
        tuple(
            outline.right - outline.left
            for piece in solution.layout.pieces
            for outline in piece.outlines
            if piece.course == course and outline.face == "left chamfer"
        )
        for course in (1, 2)
    }
    whole, short = F(61, 8), F(29, 8)
    assert lengths == {(whole, whole), (short, whole, short)}


WIDTHS = ("5 in", "6 1/2 in", "8 in", "10 3/4 in", "12 in", "15 in")


@pytest.mark.parametrize("width", mostly_long(WIDTHS, *WIDTHS[::2]))
@pytest.mark.parametrize("bond", mostly_long(("half", "Flemish", "common"), "Flemish"))
def test_other_legs_at_the_far_end_would_be_no_better(width: str, bond: str) -> None:
    more = f'[bond]\npattern = "{bond}"'
    solution = breast(CHAMFERS.replace("10 3/4 in", width), more=more)
    solved = solve_bond(plan_of(solution))
    for side in ("left", "right"):
        zones = [f"{side} chamfer", f"{side} return"]
        laid = [solved.faces[zone].merit for zone in zones]
        other = replace(solved.plan, swapped=solved.plan.swapped ^ {side})
        for merit in merits_of(other, zones):
            assert [*map(sum, zip(*laid, strict=True))] <= merit


def merits_of(plan: BondPlan, zones: list[str]) -> Iterator[list[int]]:
    """Yield the counts of some zones together; nothing where one can't be laid."""
    spans = dict(spans_of(plan))
    with suppress(NoWayError):
        found = [solve_stretch(plan.sizes_on(x), spans[x]).merit for x in zones]
        yield [*map(sum, zip(*found, strict=True))]


def test_the_proof_finds_a_unit_that_turns_otherwise_than_its_corner() -> None:
    for face in (SPLAYED, CHAMFERS):
        solution = breast(face)
        unit = next(x for x in solution.layout.pieces if x.is_made)
        said = refusals(solution, unit, replace(unit, turn=F(90)))
        assert f"{unit.id} turns by 90 degrees, but its corner by" in said


def test_the_proof_finds_a_unit_that_is_moved_off_its_corner() -> None:
    solution = breast(CHAMFERS)
    unit = next(
        x
        for x in solution.layout.pieces
        if {y.face for y in x.outlines} == {"left", "left chamfer"}
    )
    outlines = tuple(
        x.moved(F(1), F(0)) if x.face == "left chamfer" else x for x in unit.outlines
    )
    said = refusals(solution, unit, replace(unit, outlines=outlines))
    assert "does not lie at an outside corner" in said


NARROWING = (
    'left_return = "{0} in"\nright_return = "{0} in"\n'
    "left_return_splay = -30\nright_return_splay = -30"
)


def narrowing(along: int) -> Solution:
    text = text_of('jamb_return = "16 in"', NARROWING.format(along))
    return solve(parse_job(text.replace('"34 in"', '"40 in"'), "narrow.toml"))


def test_brick_of_a_return_that_narrows_may_not_meet_that_of_the_jamb() -> None:
    """A leg is 9 13/16 in finished. A splay of 30 degrees has taken 9 1/4 of it where
    the jamb ends, and each brick takes 5/8; a return of 11 in ends sooner."""
    with pytest.raises(NotLaid, match=r"left leg the brick .* run into each other"):
        narrowing(20)
    assert narrowing(11).layout.pieces
