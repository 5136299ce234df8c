"""Brick at inside corners, by hand, on the breast of `tests.alcoves`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise

import pytest

from shopdraw.errors import NotProved
from shopdraw.masonry.bond.plan import BondPlan, plan_bond
from shopdraw.masonry.bond.solve import solve_bond, spans_of
from shopdraw.masonry.bonding.answer import solve_stretch
from shopdraw.masonry.bonding.legs import NoWayError
from shopdraw.masonry.laying.cuts import cut_level
from shopdraw.masonry.laying.measure import measure_laps
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.folding import far_end, place_face
from shopdraw.masonry.wall.layout import Layout, Outline, Piece, rectangle
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.solution import Solution
from tests.alcoves import beside_alcoves

THICK, JOINT = F(5, 8), F(3, 8)
PATTERNS = ("half", "third", "quarter", "Flemish", "English", "common")


def bonded(pattern: str) -> Solution:
    return beside_alcoves(more=f'[bond]\npattern = "{pattern}"')


def plan_of(solution: Solution) -> BondPlan:
    opening = solution.surround.opening
    stops = opening.brick_left, opening.brick_right
    return plan_bond(solution.job, solution.surround, solution.coursing, stops)


def row(layout: Layout, face: str, course: int) -> list[Outline]:
    return sorted(
        (
            outline
            for piece in layout.pieces
            if piece.course == course
            for outline in piece.outlines
            if outline.face == face
        ),
        key=lambda outline: outline.left,
    )


def refusals(solution: Solution, change: Callable[[Piece], Piece]) -> str:
    """Return what the proof says of the layout with its pieces changed."""
    pieces = tuple(map(change, solution.layout.pieces))
    layout = replace(solution.layout, pieces=pieces)
    with pytest.raises(NotProved) as refused:
        prove_layout(solution.job, solution.surround, solution.coursing, layout)
    return str(refused.value)


def ended(piece: Piece, *, left: F = F(0), right: F = F(0)) -> Piece:
    """Return a flat piece with its ends moved."""
    (old,) = piece.outlines
    new = rectangle(old.face, old.left + left, old.bottom, old.right + right, old.top)
    return replace(piece, outlines=(new,), length=new.right - new.left)


def test_faces_lose_and_gain_what_the_build_out_moves() -> None:
    surround = beside_alcoves().surround
    seen = {face.name: face.seen[1] - face.seen[0] for face in surround.faces}
    assert seen == {
        "left alcove": 23, "left": 11, "front": F(449, 8), "right": 11,
        "right alcove": 15,
    }  # fmt: skip
    # Each goes on behind the other by the brick.
    assert {face.behind for face in surround.faces if face.name != "front"} == {THICK}
    assert len(surround.folds) == 2


def test_measured_to_the_finish_nothing_grows() -> None:
    finish = beside_alcoves().job
    face = finish.face.model_copy(update={"measured_to": "finish"})
    surround = trace_surround(finish.model_copy(update={"face": face}))
    widths = {x.name: x.seen[1] - x.seen[0] for x in surround.faces}
    assert widths == {
        "left alcove": 24, "left": 11, "front": F(433, 8), "right": 11,
        "right alcove": 16,
    }  # fmt: skip


def test_in_plan_the_alcove_faces_the_room_from_the_end_of_the_return() -> None:
    surround = beside_alcoves().surround
    wide = F(449, 8)
    assert far_end(surround, surround.face("left")) == (0, 11)
    assert far_end(surround, surround.face("left alcove")) == (-23, 11)
    assert far_end(surround, surround.face("right")) == (wide, 11)
    assert far_end(surround, surround.face("right alcove")) == (wide + 15, 11)
    for name in ("left alcove", "right alcove"):
        placed = place_face(surround, name)
        assert (placed.along, placed.back) == ((1, 0), (0, 1))


@pytest.mark.parametrize("pattern", PATTERNS)
def test_what_runs_past_and_what_butts_alternate_course_by_course(
    pattern: str,
) -> None:
    solution = bonded(pattern)
    surround, layout = solution.surround, solution.layout
    for side, way in (("left", -1), ("right", 1)):
        beside, alcove = surround.face(side), surround.face(f"{side} alcove")
        past = []
        for course in solution.coursing.courses:
            # From the outside corner, and from the alcove's far end.
            back = row(layout, side, course.number)
            across = row(layout, alcove.name, course.number)
            outer = (
                max(x.right for x in back) if way > 0 else -min(x.left for x in back)
            )
            inner = (
                max(x.right for x in across)
                if way < 0
                else -min(x.left for x in across)
            )
            fold = surround.fold_of(beside)
            deep = outer - way * fold
            far = alcove.left if way < 0 else -alcove.right
            wide = inner - far
            seen = alcove.seen[1] - alcove.seen[0]
            assert (deep, wide) in (
                (11 + THICK, seen - JOINT),
                (11 - JOINT, seen + THICK),
            )
            past.append(deep > 11)
        assert all(a != b for a, b in pairwise(past))


def test_the_far_end_is_a_joint_off_the_wall_or_free() -> None:
    solution = beside_alcoves()
    surround = solution.surround
    left, right = surround.left_edge, surround.right_edge
    assert (left.against, left.brick_x - left.x) == ("wall", JOINT)
    assert (right.against, right.brick_x - right.x) == ("edge", 0)
    for course in solution.coursing.courses:
        first = row(solution.layout, "left alcove", course.number)[0]
        last = row(solution.layout, "right alcove", course.number)[-1]
        assert (first.left, last.right) == (left.brick_x, right.x)
    kinds = {(x.face, x.kind) for x in solution.layout.stops}
    assert ("left alcove", "wall") in kinds
    assert ("right alcove", "edge") in kinds
    assert ("left", "inside corner") in kinds
    assert ("left", "wall") not in kinds


def test_brick_of_a_course_does_not_meet_in_plan() -> None:
    # Course by course, one butts: the two rings at the corner are a joint apart.
    solution = beside_alcoves()
    for course in solution.coursing.courses[:2]:
        cuts = cut_level(solution.surround, solution.layout, course, THICK)
        ends = {
            face: [cut.ring for cut in cuts if cut.outlines[0].face == face]
            for face in ("left", "left alcove")
        }
        across = max(x for ring in ends["left alcove"] for x, _ in ring)
        back = max(y for ring in ends["left"] for _, y in ring)
        assert (across, back) in ((THICK, 11 - JOINT), (-JOINT, 11 + THICK))


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_leg_that_goes_with_running_past_is_the_better_one(pattern: str) -> None:
    plan = plan_of(bonded(pattern))
    laid = solve_bond(plan)
    for side in ("left", "right"):
        names = (f"{side} return", f"{side} alcove")
        merits = []
        for short in (frozenset(), frozenset({side})):
            way = replace(plan, short_past=short)
            spans = dict(spans_of(way))
            try:
                found = [solve_stretch(way.sizes_on(x), spans[x]).merit for x in names]
            except NoWayError:
                continue
            merits.append(tuple(map(sum, zip(*found, strict=True))))
        mine = [laid.faces[name].merit for name in names]
        assert tuple(map(sum, zip(*mine, strict=True))) == min(merits)


def last_of(solution: Solution, face: str, course: int) -> Piece:
    """Return the flat piece that ends a course at the left inside corner."""
    pieces = [
        piece
        for piece in solution.layout.pieces
        if piece.course == course and piece.outlines[0].face == face
        if len(piece.outlines) == 1
    ]
    at_left = face == "left"
    return min(pieces, key=lambda x: x.outlines[0].left * (1 if at_left else -1))


def ways(solution: Solution) -> tuple[int, int]:
    """Return a course in which the left return runs past, and one where it butts."""
    end = solution.surround.face("left").left
    numbers = 3, 4
    past = [n for n in numbers if row(solution.layout, "left", n)[0].left == end]
    (one,) = past
    return one, sum(numbers) - one


def test_the_proof_sees_both_faces_run_past_and_meet_in_plan() -> None:
    solution = beside_alcoves()
    _, butts = ways(solution)
    piece = last_of(solution, "left", butts)
    longer = ended(piece, left=-(THICK + JOINT))
    said = refusals(solution, lambda x: longer if x is piece else x)
    assert f"course {butts}: both faces run past the inside corner" in said
    assert "run into each other" in said
    assert "left runs past in courses" not in said


def test_the_proof_sees_neither_face_run_past() -> None:
    solution = beside_alcoves()
    past, _ = ways(solution)
    piece = last_of(solution, "left", past)
    shorter = ended(piece, left=THICK + JOINT)
    said = refusals(solution, lambda x: shorter if x is piece else x)
    assert f"course {past}: neither face runs past the inside corner" in said


def test_the_proof_sees_what_runs_past_end_short() -> None:
    solution = beside_alcoves()
    past, _ = ways(solution)
    piece = last_of(solution, "left", past)
    shorter = ended(piece, left=F(1, 8))
    said = refusals(solution, lambda x: shorter if x is piece else x)
    assert f"left course {past} ends -1/2 before an inside corner" in said


def test_the_proof_sees_a_course_that_does_not_take_its_turn() -> None:
    solution = beside_alcoves()
    _, butts = ways(solution)
    back, across = (last_of(solution, x, butts) for x in ("left", "left alcove"))
    swapped = {
        back.id: ended(back, left=-(THICK + JOINT)),
        across.id: ended(across, right=-(THICK + JOINT)),
    }
    said = refusals(solution, lambda x: swapped.get(x.id, x))
    assert "left runs past in courses" in said
    assert "alike" in said


def test_the_joint_in_the_corner_is_lapped_like_any_other() -> None:
    # In the course that runs past, the last perpend is moved over the corner's joint.
    solution = beside_alcoves()
    past, _ = ways(solution)
    plan, end = plan_of(solution), solution.surround.face("left").seen[0]
    piece = last_of(solution, "left", past)
    after = row(solution.layout, "left", past)[1]
    gap = after.left - piece.outlines[0].right
    moved = ended(piece, right=end - piece.outlines[0].right)

    def beside(other: Piece) -> Piece:
        if other is piece:
            return moved
        if after in other.outlines:
            outlines = tuple(
                replace(x, points=rectangle(x.face, end + gap, x.bottom, x.right,
                                            x.top).points) if x == after else x
                for x in other.outlines
            )  # fmt: skip
            return replace(other, outlines=outlines)
        return other

    laps = [
        lap.least.measured
        for lap in measure_laps(plan, solution.layout.pieces, solution.coursing)
        if piece.id in lap.pieces
    ]
    changed = tuple(map(beside, solution.layout.pieces))
    worse = [
        lap.least.measured
        for lap in measure_laps(plan, changed, solution.coursing)
        if piece.id in lap.pieces
    ]
    assert min(laps) >= solution.job.bond.least_lap
    assert min(worse) == 0
