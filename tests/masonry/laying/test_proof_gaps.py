"""Where an arch's joint meets the bed joints, each gap that is too wide noticed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.errors import NotProved
from shopdraw.job.reading import parse_job
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.layout import Layout
from shopdraw.pipeline import solve
from tests.demos import solution_of
from tests.masonry.legs import lay

FLAT = """
[job]
name = "A flat arch"
[face]
width = "54 5/8 in"
height = "42 13/16 in"
measured_to = "finish"
[opening]
head = "segmental arch"
width = "26 in"
height = "13 3/16 in"
[arch]
rise = "4 5/16 in"
[brick]
size = "norman"
[hearth]
front = "20 in"
left = "12 in"
right = "12 in"
"""
"""Course 11 runs out on the arch; at its tip the joint over the back and the bed of
course 12 are 7/16 in and 1/2 in: together more than the widest joint, which is the
bottom one of 3/4 in."""


def without(layout: Layout, course: int, place: int) -> Layout:
    row = [piece for piece in layout.pieces if piece.course == course]
    left_out = [x for x in row if x.kind != "voussoir"][place]
    return replace(layout, pieces=tuple(x for x in layout.pieces if x is not left_out))


def dropped_arch(layout: Layout) -> Layout:
    """Set the voussoirs 1/2 in lower, so that the joint over the back is too wide."""
    pieces = tuple(
        replace(x, outlines=tuple(o.moved(F(0), F(-1, 2)) for o in x.outlines))
        if x.kind == "voussoir"
        else x
        for x in layout.pieces
    )
    return replace(layout, pieces=pieces)


def raised_line(layout: Layout) -> Layout:
    """Say that brick keeps further out of the arch than its joint."""
    assert layout.arch is not None
    line = tuple((x, y + 1) for x, y in layout.arch.keep_out)
    return replace(layout, arch=replace(layout.arch, keep_out=line))


def drawn_back(layout: Layout) -> Layout:
    """Cut what lies on the arch's back in course 11 two inches short of it."""
    pieces = []
    for piece in layout.pieces:
        if piece.course == 11 and piece.shapes:
            way = -2 if piece.outlines[0].left < 27 else 2
            moved = tuple(x.moved(F(way), F(0)) for x in piece.outlines)
            piece = replace(piece, outlines=moved)
        pieces.append(piece)
    return replace(layout, pieces=tuple(pieces))


def test_two_joints_that_lie_on_one_another_are_no_gap() -> None:
    job = parse_job(FLAT, "flat.toml")
    surround, coursing, layout = lay(job)
    assert {fillet.course for fillet in layout.fillets} == {10, 11}
    assert prove_layout(job, surround, coursing, layout) is layout


@pytest.mark.parametrize(
    "damage",
    [
        lambda layout: without(layout, 11, 0),
        lambda layout: without(layout, 11, 1),
        lambda layout: without(layout, 12, 2),
        dropped_arch,
        raised_line,
        drawn_back,
    ],
)
def test_a_gap_at_the_back_of_an_arch_is_noticed(
    damage: Callable[[Layout], Layout],
) -> None:
    job = parse_job(FLAT, "flat.toml")
    surround, coursing, layout = lay(job)
    with pytest.raises(NotProved, match="the front face has no brick at"):
        prove_layout(job, surround, coursing, damage(layout))


LEVEL = """
[job]
name = "Nothing between two joints over a jack arch"
[face]
width = "62 in"
height = "36 3/4 in"
measured_to = "finish"
[opening]
width = "30 in"
height = "26 1/4 in"
head = "jack arch"
[arch]
depth = "4 39/64 in"
[brick]
size = "modular"
"""


def test_a_course_of_which_a_saw_s_tolerance_is_left_is_reported_and_no_gap() -> None:
    solution = solve(parse_job(LEVEL, "level.toml"))
    arch = solution.layout.arch
    assert arch is not None
    assert arch.strip == F(1, 64) < solution.job.saw_tolerance
    failed = {x.rule.key for x in solution.findings if x.status == "failed"}
    assert "arch-crown" in failed
    # Half an inch lower, the arch leaves so much more mortar: that is a gap.
    job, layout = solution.job, dropped_arch(solution.layout)
    with pytest.raises(NotProved, match="the front face has no brick at"):
        prove_layout(job, solution.surround, solution.coursing, layout)


def test_a_head_joint_as_wide_as_a_bottom_joint_may_be_is_a_gap() -> None:
    solution = solution_of("library-hearth")
    job, layout = solution.job, solution.layout
    assert job.joints.head.most < F(5, 8) < job.joints.bottom.most
    pieces = list(layout.pieces)
    at = next(i for i, x in enumerate(pieces) if x.id == "F-05-02")
    first = pieces[at].outlines[0]
    left = first.left + F(5, 8) - job.joints.head.preferred
    ring = tuple((max(x, left), y) for x, y in first.points)
    pieces[at] = replace(
        pieces[at],
        outlines=(replace(first, points=ring),),
        length=first.right - left,
    )
    damaged = replace(layout, pieces=tuple(pieces))
    with pytest.raises(NotProved, match="the front face has no brick at"):
        prove_layout(job, solution.surround, solution.coursing, damaged)
    assert prove_layout(job, solution.surround, solution.coursing, layout) is layout
