"""The reader of laid bonds: it agrees with what is laid, and sees what is damaged."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.masonry.bond.plan import plan_bond
from shopdraw.masonry.bond.solve import solve_bond
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.heads.soldiers import lay_soldiers
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.measure import break_rules
from shopdraw.masonry.wall.bond_rules import GivenUp
from shopdraw.masonry.wall.layout import Layout, Piece, rectangle
from shopdraw.masonry.wall.surround import trace_surround
from tests.laid_bond import Reader, differences, nearest
from tests.random_walls import WallKind, job_of

WALLS = {"half": 0, "English": 0, "Flemish": 1, "common": 0}
"""By bond, a mirrored wall that is quick to solve."""


@cache
def laid(bond: str) -> tuple[Job, Layout]:
    """Return a random wall as it is laid."""
    job = job_of(WallKind(bond), WALLS[bond])
    surround = trace_surround(job)
    return job, lay_bond(job, surround, solve_coursing(job, surround))


def found(bond: str, **changes) -> list[str]:
    """Return what differs where a layout is changed."""
    job, layout = laid(bond)
    return list(differences(job, replace(layout, **changes), may_mirror=True))


def stretched(piece: Piece, left: Fraction, right: Fraction) -> Piece:
    """Return a flat piece with other ends."""
    (outline,) = piece.outlines
    new = rectangle(outline.face, left, outline.bottom, right, outline.top)
    return replace(piece, outlines=(new,), length=right - left)


def with_joint_moved(
    layout: Layout, course: int, joint: tuple[Fraction, Fraction, bool], by: Fraction
) -> tuple[Piece, ...]:
    """Return the pieces with one joint of a course of the front moved."""
    return tuple(
        _with_ends_moved(piece, joint, by) if piece.course == course else piece
        for piece in layout.pieces
    )


def _with_ends_moved(
    piece: Piece, joint: tuple[Fraction, Fraction, bool], by: Fraction
) -> Piece:
    outlines = []
    for x in piece.outlines:
        left = x.left + by if x.face == "front" and x.left == joint[1] else x.left
        right = x.right + by if x.face == "front" and x.right == joint[0] else x.right
        outlines.append(rectangle(x.face, left, x.bottom, right, x.top))
    return replace(piece, outlines=tuple(outlines))


@pytest.mark.parametrize("bond", WALLS)
def test_what_is_laid_is_what_is_said(bond: str) -> None:
    assert found(bond) == []


NARROW_RETURNS = """
[job]
name = "Narrow returns"
lengths = "in"
[face]
width = "83 5/8 in"
height = "48 in"
measured_to = "finish"
left_return = "4 in"
right_return = "4 in"
[opening]
width = "36 3/8 in"
height = "30 in"
head = "running"
[brick]
size = "roman"
thickness = "5/8 in"
corner = { long_leg = "11 5/8 in", short_leg = "3 5/8 in" }
[bond]
pattern = "half"
"""


def test_a_long_leg_sawn_as_short_as_a_short_one_is_the_least_piece() -> None:
    # On the returns a long leg of 11 5/8 is sawn to the 3 5/8 of a short one, and no
    # other piece is as short.
    job = parse_job(NARROW_RETURNS, "wall.toml")
    surround = trace_surround(job)
    layout = lay_bond(job, surround, solve_coursing(job, surround))
    assert layout.least_piece.measured == Fraction(29, 8)
    assert list(differences(job, layout, may_mirror=True)) == []


def test_what_a_return_breaks_is_sure_though_not_every_front_was_looked_at() -> None:
    # Returns of 4 in against walls have no room for two pieces of a roman brick whose
    # short leg is 3: 2, a joint of 3/8 and 1 1/2 are 3 7/8, and 3 5/8 are there.
    text = NARROW_RETURNS.replace('short_leg = "3 5/8 in"', 'short_leg = "3 in"')
    joint = 'preferred = "3/8 in", least = "3/8 in", most = "3/8 in"'
    job = parse_job(f"{text}[joints]\nhead = {{ {joint} }}", "wall.toml")
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    layout = lay_bond(job, surround, coursing)
    broken = next(x for x in layout.broken if x.rule == "least piece")
    stops = lay_soldiers(job, surround, coursing).brick_stops
    solved = solve_bond(plan_bond(job, surround, coursing, stops))
    assert {name for name, x in solved.faces.items() if x.merit[0]} == {
        "left return",
        "right return",
    }

    def said_without(*names: str) -> str:
        faces = {
            name: replace(x, searched_all=name not in names)
            for name, x in solved.faces.items()
        }
        bond = replace(solved, faces=faces)
        (rule,) = break_rules(layout.pieces, job, (), bond)
        return rule.why.split(" of ")[0]

    assert said_without() == "every way"
    assert said_without("front") == "every way"
    assert said_without("left return") == "not every way"
    assert broken.why.startswith("every way")


def test_one_joint_of_a_leg_moved_is_no_mirror_image() -> None:
    job, layout = laid("Flemish")
    reader = Reader(job, layout.pieces)
    assert reader.is_mirror_image()
    joint = next(reader.courses["front", 1].joints())
    pieces = with_joint_moved(layout, 1, joint, job.joints.step)
    assert not Reader(job, pieces).is_mirror_image()
    differ = found("Flemish", pieces=pieces)
    assert any(x.startswith("mirror image: said") for x in differ)


def test_a_front_said_to_be_no_mirror_image_that_is_one_is_seen() -> None:
    reasons = tuple(
        x.replace("is its own mirror", "is not its own mirror")
        for x in laid("half")[1].reasons
    )
    assert [x[:12] for x in found("half", reasons=reasons)] == ["mirror image"]
    assert [x[:12] for x in found("half", reasons=())] == ["mirror image"]


@pytest.mark.parametrize(
    ("place", "rule"), [(1, "least piece"), (3, "least lap"), (7, "mirror image")]
)
def test_a_merit_that_counts_what_is_not_there_is_seen(place: int, rule: str) -> None:
    given = GivenUp("front", place, "", "", "", 1, ())
    assert found("half", given_up=(given,)) == [f"{rule}: the merit says otherwise"]


def test_a_piece_sawn_under_the_least_is_seen() -> None:
    job, layout = laid("half")
    course = Reader(job, layout.pieces).courses["front", 1]
    jamb = course.runs[0][-1]
    joint = list(course.joints())[len(course.runs[0]) - 2]
    assert joint[1] == jamb.outline.left
    by = jamb.length - job.bond.least_piece * 3 / 4
    differ = found("half", pieces=with_joint_moved(layout, 1, joint, by))
    assert "least piece: the merit says otherwise" in differ
    assert "least piece: the rule is said to be kept" in differ


def test_a_lap_under_the_least_is_seen() -> None:
    job, layout = laid("half")
    reader = Reader(job, layout.pieces)
    assert not any(x.is_under for x in reader.laps())
    above = next(reader.courses["front", 2].joints())
    # The joint of course 1 that is nearest is laid right under it.
    here = min(reader.courses["front", 1].joints(), key=lambda x: abs(x[0] - above[0]))
    pieces = with_joint_moved(layout, 1, here, above[0] - here[0])
    least = nearest(Reader(job, pieces).laps())
    assert least is not None
    assert least.measured == 0
    differ = found("half", pieces=pieces)
    assert "least lap: the merit says otherwise" in differ
    assert "least lap: the rule is said to be kept" in differ


def test_a_closer_that_is_not_beside_the_quoins_header_is_a_piece_too_short() -> None:
    job, layout = laid("Flemish")
    reader = Reader(job, layout.pieces)
    run, at = next(
        (run, at)
        for course in reader.courses.values()
        for run in course.runs
        for at, x in enumerate(run)
        if x.piece.kind == "closer" and len(run) > 4
    )
    # What lies farther in takes its place, and it that piece's.
    other = run[at + 1] if at == 1 else run[at - 1]
    one, two = sorted((run[at], other), key=lambda x: x.outline.left)
    left, right = one.outline.left, two.outline.right
    swapped = {
        two.piece.id: stretched(two.piece, left, left + two.length),
        one.piece.id: stretched(one.piece, right - one.length, right),
    }
    pieces = tuple(swapped.get(x.id, x) for x in layout.pieces)
    was = sum(1 for x in reader.cuts())
    assert sum(1 for x in Reader(job, pieces).cuts()) > was


def test_three_quarters_of_the_least_will_do_at_a_hidden_wall_alone() -> None:
    job, layout = laid("half")
    reader = Reader(job, layout.pieces)
    allowed = {
        face: {x.allowed for x in _cuts_on(reader, face)} for face in ("front", "left")
    }
    least = job.bond.least_piece
    assert allowed["front"] <= {least}
    assert allowed["left"] <= {least, least * 3 / 4}
    assert least * 3 / 4 in allowed["left"]


def _cuts_on(reader: Reader, face: str):
    only = Reader(reader.job, reader.pieces)
    only.courses = {k: x for k, x in only.courses.items() if k[0] == face}
    return list(only.cuts())
