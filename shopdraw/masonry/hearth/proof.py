"""Hold a hearth of brick, on every run, against what is always true of one.

In:  `Job`, `BrickHearth`.   Out: the hearth, or `NotProved`.
Frame: the hearth's plan. The riser is held by the proof of the faces.

Everything is measured on the outlines. What is wrong here is a fault of the program,
never of the job.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import shapely
from shapely.geometry.base import BaseGeometry

from shopdraw.errors import NotProved
from shopdraw.job.model import Job
from shopdraw.masonry.hearth.form import Box, BrickHearth
from shopdraw.masonry.panels.choosing import asked_of
from shopdraw.masonry.wall.layout import Outline, Piece

SLANTING = Fraction(3, 2)
"""So much wider a hole may be where a slanting joint runs into others."""
NOTHING = 1e-4
"""Points of a turned pattern lie on a grid; a difference below this is none there."""


def prove_hearth(job: Job, hearth: BrickHearth) -> BrickHearth:
    """Return the hearth if all that must be true of it is true.

    Raises:
        NotProved: a line for each thing that is not true.
    """
    pieces = pieces_on_top(hearth)
    shapes = [_polygon(piece.outlines[0]) for piece in pieces]
    differences = (
        *_as_large_as_drawn(pieces),
        *_apart(job, hearth, pieces, shapes),
        *_within(hearth, pieces, shapes),
        *_nothing_gapes(job, hearth, shapes),
        *_left_out_is_little(job, hearth),
    )
    if differences:
        raise NotProved(differences)
    return hearth


def pieces_on_top(hearth: BrickHearth) -> tuple[Piece, ...]:
    """Return the pieces of the hearth itself, without the riser's."""
    return tuple(x for x in hearth.layout.pieces if x.place == "hearth")


def _polygon(outline: Outline) -> BaseGeometry:
    return shapely.Polygon([(float(x), float(y)) for x, y in outline.points])


def _box(box: Box) -> BaseGeometry:
    left, front, right, back = map(float, box)
    return shapely.box(left, front, right, back)


def _as_large_as_drawn(pieces: tuple[Piece, ...]) -> Iterator[str]:
    """Check that a piece is as large on its brick as it is in its place."""
    for piece in pieces:
        outline, lain = piece.outlines[0], piece.as_sawn
        if lain is None:
            continue
        here, there = _polygon(outline), _polygon(lain)
        far = abs(here.length - there.length)
        # An area is off by as much as its outline is long.
        if far > 10 * NOTHING or abs(here.area - there.area) > NOTHING * here.length:
            yield f"{piece.id} on its brick is not as large as in its place"
    ids = [piece.id for piece in pieces]
    if len(set(ids)) != len(ids):
        yield "two pieces of the hearth have the same ID"


def _apart(
    job: Job,
    hearth: BrickHearth,
    pieces: tuple[Piece, ...],
    shapes: list[BaseGeometry],
) -> Iterator[str]:
    """Check that no two pieces stand closer together than the least joint."""
    least = float(min(job.joints.head.least, hearth.joint)) - NOTHING
    tree = shapely.STRtree(shapes)
    for i, j in zip(*tree.query(shapes, "dwithin", distance=least), strict=True):
        if i < j:
            names = f"{pieces[i].id} and {pieces[j].id}"
            yield f"{names} stand closer together than the least joint"


def _within(
    hearth: BrickHearth, pieces: tuple[Piece, ...], shapes: list[BaseGeometry]
) -> Iterator[str]:
    """Check that no piece leaves the hearth or goes past the line of the firebox."""
    ground = hearth.ground
    room = _box(ground.main)
    if ground.between is not None:
        room = room.union(_box(ground.between))
    room = room.buffer(NOTHING, join_style="mitre")
    for piece, shape in zip(pieces, shapes, strict=True):
        if ground.firebox is not None and piece.outlines[0].top > ground.firebox:
            yield f"{piece.id} goes past the line where the firebox begins"
        elif not room.contains(shape):
            yield f"{piece.id} leaves the hearth"


def _nothing_gapes(
    job: Job, hearth: BrickHearth, shapes: list[BaseGeometry]
) -> Iterator[str]:
    """Check that no gap is wider than the widest joint, in each rectangle.

    A square a little larger than that must fit in nowhere. So what is left of the
    rectangle, made smaller all round by half the square, must be covered by the pieces
    made larger by as much; places that mortar takes are held by themselves. Where a
    joint at 45 degrees runs into others the hole there is wider, by half at the most.
    """
    ground = hearth.ground
    widest = max(job.joints.head.most, hearth.joint)
    if any(not x.outlines[0].is_rectangle for x in hearth.layout.pieces):
        widest *= SLANTING
    half = float(widest + job.joints.step) / 2 + NOTHING
    out = [_polygon(x.outline) for x in hearth.left_out]
    grown = [_grown(shape, half) for shape in (*shapes, *out)]
    covered = shapely.union_all(grown)
    for box in (ground.main, ground.between):
        if box is None:
            continue
        left, front, right, back = map(float, box)
        # Under the face a border may stop short of the wall by a joint.
        room = shapely.box(
            left + half, front + half, right - half, back - half - float(widest)
        )
        bare = room.difference(covered)
        if bare.area > NOTHING:
            x, y = bare.representative_point().coords[0]
            yield f"the hearth has no brick at {x:.3f}, {y:.3f}"


def _grown(shape: BaseGeometry, half: float) -> BaseGeometry:
    """Return a convex shape made larger by half a square, its sides along x and y."""
    corners = [
        (x + dx, y + dy)
        for x, y in shapely.get_coordinates(shape)
        for dx in (-half, half)
        for dy in (-half, half)
    ]
    return shapely.MultiPoint(corners).convex_hull


def _left_out_is_little(job: Job, hearth: BrickHearth) -> Iterator[str]:
    """Check that mortar takes only what is too narrow for a piece."""
    limit = asked_of(job).left_out
    for each in hearth.left_out:
        measured = float(shapely.minimum_rotated_rectangle(_polygon(each.outline)).area)
        if each.width >= limit or measured > float(limit * job.brick.length * 2):
            yield "more of the hearth is left to mortar than is too narrow for a piece"
