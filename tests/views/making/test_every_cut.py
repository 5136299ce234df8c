"""Every sawn edge of every piece is answered: by a stop of the saw, or by an angle.

Worked out from the outlines of the pieces alone, and held against the stops and the
words at the marks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

import pytest

from shopdraw.lengths import half_marked
from shopdraw.masonry.wall.layout import Outline, Piece
from shopdraw.quantities.stops import SawStop
from shopdraw.solution import Solution
from shopdraw.views.making.sizes import angles_of
from tests.demos import solution_of

STANDING = ("soldier", "rowlock", "soldier corner unit", "voussoir")
CALLED = {
    "left": ("LEFT END", "SIDE AT THE LEFT"),
    "right": ("RIGHT END", "SIDE AT THE RIGHT"),
    "bottom": ("FOOT",),
    "top": ("TOP", "HEAD"),
}
Asked = tuple[str, str, Fraction, bool]
"""A cut: the mark, what is held against the stop, its length, whether mitred."""


def unanswered(solution: Solution, stops: Iterable[SawStop]) -> list[str]:
    """Return the marks of cuts that nothing answers, and of stops with no cut."""
    given: Counter[Asked] = Counter()
    for stop in stops:
        for mark in stop.marks:
            given[mark, stop.against, stop.length, stop.is_mitred] += 1
    asked: Counter[Asked] = Counter()
    cuts: Counter[tuple[str, Fraction, bool]] = Counter()
    angles = {row.mark: " ".join(angles_of(row)) for row in solution.cut_list}
    wrong = []
    sawn = [x for x in solution.pieces if x.kind != "keystone"]
    for piece in sawn:
        mine = set(asked_of(solution, piece))
        asked.update(mine)
        cuts.update((against, length, mitre) for _, against, length, mitre in mine)
        wrong += [
            f"{piece.mark}: {side}"
            for side in slanting(piece)
            if not any(name in angles[piece.mark] for name in CALLED[side])
            and "EACH SIDE" not in angles[piece.mark]
        ]
    wrong += [f"{cut[0]}: {cut[1]}" for cut in asked.keys() ^ given.keys()]
    wrong += [
        f"cuts at {stop.length}"
        for stop in stops
        if stop.cuts != cuts[stop.against, stop.length, stop.is_mitred]
    ]
    return sorted(set(wrong))


def asked_of(solution: Solution, piece: Piece) -> Iterator[Asked]:
    """Yield the cuts of a piece that want a stop, from its outline and its brick."""
    job, brick = solution.job, solution.job.brick
    stands = piece.kind in STANDING
    if piece.is_made:
        for name, leg in zip("ab", sorted(piece.legs, reverse=True), strict=True):
            yield piece.mark + name, "end", half_marked(leg, job.lengths), True
        return
    if "mitre" in piece.cut_edges:
        wide = half_marked(piece.length, job.lengths)
        yield piece.mark, "edge", wide, True
    corner = "corner" in piece.kind
    for leg in piece.before_scribing if corner else ():
        if f"{leg.face} leg" in piece.cut_edges:
            wide = half_marked(leg.right - leg.left, job.lengths)
            yield piece.mark, "corner", wide, False
    for shape in made(piece):
        sizes = shape.right - shape.left, shape.top - shape.bottom
        for axis, side in straight(piece, shape):
            against = "end" if (axis == 1) == stands else "edge"
            if corner and side in ("left", "right", "longest point"):
                continue
            whole = brick.length if against == "end" else brick.height
            size = half_marked(sizes[axis], job.lengths)
            if size < whole:
                yield piece.mark, against, size, False


def made(piece: Piece) -> tuple[Outline, ...]:
    return (piece.as_sawn,) if piece.as_sawn else piece.before_scribing


def straight(piece: Piece, shape: Outline) -> Iterator[tuple[int, str]]:
    """Yield the sawn sides that are square to the brick, and farthest out.

    A brick is sawn to its longest point before anything of it is sawn aslant.
    """
    if shape.is_rectangle:
        sides = piece.cut_edges if piece.as_sawn is None else shape.sawn_ends()
        for side in sides:
            if side in CALLED:
                yield (0 if side in ("left", "right") else 1), side
        return
    along = 1 if piece.kind in STANDING else 0
    yield along, "longest point"
    for place, facing in zip(shape.cuts, shape.sawn_ends(), strict=True):
        a, b = list(shape.sides())[place]
        axis = 0 if facing in ("left", "right") else 1
        ends = {pick(p[axis] for p in shape.points) for pick in (min, max)}
        if axis != along and a[axis] == b[axis] and a[axis] in ends:
            yield axis, facing


def slanting(piece: Piece) -> Iterator[str]:
    """Yield which way each sawn side of a shape faces that is not square to it."""
    for shape in made(piece):
        sides = list(shape.sides())
        for place, facing in zip(shape.cuts, shape.sawn_ends(), strict=True):
            (x1, y1), (x2, y2) = sides[place]
            if x1 != x2 and y1 != y2:
                yield facing


def test_every_sawn_edge_has_its_stop_or_its_angle(demo: str) -> None:
    solution = solution_of(demo)
    assert unanswered(solution, solution.cut_plan.stops) == []


def along_left_out(stops: tuple[SawStop, ...]) -> tuple[SawStop, ...]:
    return tuple(x for x in stops if x.against != "edge")


def square_left_out(stops: tuple[SawStop, ...]) -> tuple[SawStop, ...]:
    return tuple(x for x in stops if x.against != "edge" or x.is_mitred)


def a_cut_short(stops: tuple[SawStop, ...]) -> tuple[SawStop, ...]:
    return replace(stops[0], cuts=stops[0].cuts - 1), *stops[1:]


@pytest.mark.parametrize(
    ("damage", "found"),
    [
        (
            along_left_out,
            [f"{x}: edge" for x in ("R2", "R3", "R4", "S1", "S2", "S3")],
        ),
        (square_left_out, [f"{x}: edge" for x in ("R3", "R4", "S2", "S3")]),
        (a_cut_short, ["cuts at 59/8"]),
    ],
)
def test_a_cut_without_a_stop_is_noticed(
    damage: Callable[[tuple[SawStop, ...]], tuple[SawStop, ...]], found: list[str]
) -> None:
    solution = solution_of("banded-breast")
    assert unanswered(solution, damage(solution.cut_plan.stops)) == found


def test_strips_are_sawn_along_the_brick_after_everything_is_sawn_to_length() -> None:
    """By hand: two strips of 1 15/16 at each end of a band of soldiers and of one of
    rowlocks, on both returns; one of each two is mitred, and so is the front's end.
    """
    stops = solution_of("banded-breast").cut_plan.stops
    along = [x for x in stops if x.against == "edge"]
    assert [(x.length, x.marks, x.cuts, x.is_mitred) for x in along] == [
        (Fraction("1.9375"), ("R3", "R4", "S2", "S3"), 8, False),
        (Fraction("2.25"), ("R2", "S1"), 4, True),
        (Fraction("1.9375"), ("R4", "S3"), 4, True),
    ]
    assert stops[-len(along) :] == tuple(along)


def test_a_trimmed_leg_is_set_from_its_corner() -> None:
    stops = solution_of("semicircular-dining-room").cut_plan.stops
    trimmed = [(x.length, x.marks) for x in stops if x.against == "corner"]
    assert trimmed == [(Fraction("7.125"), ("C1",)), (Fraction("6.125"), ("C2",))]
