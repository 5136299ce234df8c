"""What is always true of a layout, each damage noticed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from shopdraw.errors import NotProved
from shopdraw.job.reading import parse_job
from shopdraw.masonry.laying.measure import Lap, break_rules
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.bond_rules import Least
from shopdraw.masonry.wall.layout import Layout, Outline
from tests.masonry.legs import F, StackJob, lay, library


def damaged(layout: Layout, at: int, outline: Outline) -> Layout:
    piece = layout.pieces[at]
    moved = replace(piece, outlines=(outline, *piece.outlines[1:]))
    return replace(
        layout, pieces=(*layout.pieces[:at], moved, *layout.pieces[at + 1 :])
    )


def shifted(outline: Outline, dx: Fraction, dy: Fraction = F(0)) -> Outline:
    return Outline(outline.face, tuple((x + dx, y + dy) for x, y in outline.points))


@pytest.mark.parametrize(
    ("dx", "dy", "complaint"),
    [
        (F(-3, 16), F(0), "stand closer together than the least joint"),
        (F(0), F(1), "stand closer together than the least joint"),
        (F(40), F(0), "leaves the"),
        (F(-30), F(0), "leaves the"),
        (F(12), F(0), "enters the opening"),
        (F(0), F(-3), "goes into the hearth"),
    ],
)
def test_a_piece_that_is_moved_is_noticed(
    stack_job: StackJob, dx: Fraction, dy: Fraction, complaint: str
) -> None:
    job = library(stack_job)
    surround, coursing, layout = lay(job)
    at = next(
        i
        for i, piece in enumerate(layout.pieces)
        if piece.kind == "stretcher" and piece.place == "front" and piece.course == 1
    )
    if "leaves the" in complaint and not dy and dx > 0:
        at = max(i for i, x in enumerate(layout.pieces) if x.place == "right")
    outline = layout.pieces[at].outlines[0]
    moved = damaged(layout, at, shifted(outline, dx, dy))
    with pytest.raises(NotProved, match=complaint):
        prove_layout(job, surround, coursing, moved)


FALLING = """
[job]
name = "A jamb where the hearth is at no round height"
lengths = "in"
[face]
width = "43 1/8 in"
height = "41 3/8 in"
[opening]
width = "37 1/8 in"
height = "34 1/2 in"
jamb_return = "3 1/16 in"
[brick]
size = "roman"
[joints]
bottom = { kind = "none", least = "0 in", most = "1 in" }
[hearth]
fall = "3 in"
"""


def test_brick_clipped_on_a_grid_at_the_hearth_is_not_in_it() -> None:
    """The hearth at the jamb is at -32/115 in; the nearest of the grid lies below."""
    job = parse_job(FALLING, "den.toml")
    surround, coursing, layout = lay(job)
    (reveal,) = [x for x in surround.reveals if x.name == "left reveal"]
    hearth = surround.hearth_under(reveal)
    feet = [
        min(y for _, y in outline.points) - hearth.at(reveal.left)
        for piece in layout.pieces
        for outline in piece.outlines
        if outline.face == reveal.name and piece.course == 1
    ]
    assert -F(1, 2**30) < min(feet) < 0
    assert prove_layout(job, surround, coursing, layout) == layout


def test_a_piece_that_is_missing_is_noticed(stack_job: StackJob) -> None:
    job = library(stack_job)
    surround, coursing, layout = lay(job)
    for at in (0, 3, len(layout.pieces) // 2, len(layout.pieces) - 1):
        without = replace(
            layout, pieces=(*layout.pieces[:at], *layout.pieces[at + 1 :])
        )
        with pytest.raises(NotProved, match="has no brick at"):
            prove_layout(job, surround, coursing, without)


def test_a_size_or_an_id_or_a_course_that_is_wrong_is_noticed(
    stack_job: StackJob,
) -> None:
    job = library(stack_job)
    surround, coursing, layout = lay(job)
    first, second = layout.pieces[:2]
    wrong = replace(first, length=first.length + F(1, 16))
    with pytest.raises(NotProved, match=r"is listed as .* but drawn as"):
        prove_layout(
            job, surround, coursing, replace(layout, pieces=(wrong, *layout.pieces[1:]))
        )
    same = replace(second, id=first.id)
    with pytest.raises(NotProved, match="two pieces have the same ID"):
        prove_layout(
            job,
            surround,
            coursing,
            replace(layout, pieces=(first, same, *layout.pieces[2:])),
        )
    joints = (coursing.joints[0] + F(1, 16), *coursing.joints[1:])
    with pytest.raises(NotProved, match="course 1 starts at"):
        prove_layout(job, surround, replace(coursing, joints=joints), layout)
    stops = tuple(replace(stop, x=stop.x + F(1, 16)) for stop in layout.stops[:1])
    with pytest.raises(NotProved, match="a run of"):
        prove_layout(
            job, surround, coursing, replace(layout, stops=(*stops, *layout.stops[1:]))
        )


def test_a_lap_under_the_least_says_whether_every_way_was_looked_at(
    stack_job: StackJob,
) -> None:
    lap = Lap(Least(measured=F(1), allowed=F(2)), ("F-01-01", "F-02-01"))
    (broken,) = break_rules((), stack_job(), (lap,), None)
    assert (broken.rule, broken.measured, broken.least) == ("least lap", 1, 2)
    assert broken.why == (
        "not every way of laying this bond was looked at; the best found has laps "
        "under the least"
    )
