"""Lay the border of a hearth: at its front and at both ends.

In:  `Job`, `HearthGround`.   Out: `Piece`s, and what is left for the field.
Frame: the hearth's plan.

Every piece stands with its end to the edge. Common practice, no published source: the
front border runs from end to end and the side borders butt against it, or each is cut
at 45 degrees where they meet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_hearth import Border
from shopdraw.lengths import typed_length
from shopdraw.masonry.heads.shares import Filling, share_soldiers, share_whole
from shopdraw.masonry.hearth.form import Box, HearthGround
from shopdraw.masonry.panels.cutting import Vertex, cut_at
from shopdraw.masonry.panels.laying import PARTS
from shopdraw.masonry.panels.pieces import Ring, panel_piece
from shopdraw.masonry.wall.layout import Piece, PieceKind, Point

NONE = Fraction(0)
Place = Callable[[Point], Point]
"""Turns a point of a strip, along it and in from the edge, into a point in plan."""


@dataclass(frozen=True)
class BorderSide:
    """One side of a border.

    Attributes:
        length: along the edge.
        place: where its points lie in plan.
        mitres: whether its two ends are cut at 45 degrees.
        hidden: which end lies under the face, and may stop short by a joint.
    """

    length: Fraction
    place: Place
    mitres: tuple[bool, bool]
    hidden: Literal["near", "far", "neither"]


def lay_border(job: Job, ground: HearthGround) -> tuple[tuple[Piece, ...], Box]:
    """Lay the border a job asks for.

    Returns:
        Its pieces, and the rectangle that it leaves for the field.

    Raises:
        NotLaid: a side can't be filled with brick and joints in their range.
    """
    hearth = job.hearth
    if hearth is None or hearth.brick is None or hearth.brick.border == "none":
        return (), ground.main
    border = hearth.brick.border
    # Half a brick for rowlocks, a brick for headers.
    depth = job.rowlock_height if border == "rowlock" else job.brick.length
    joint = job.joints.head.preferred
    left, front, right, back = ground.main
    inner: Box = (
        left + depth + joint,
        front + depth + joint,
        right - depth - joint,
        back,
    )
    pieces = tuple(
        piece
        for strip in _strips(
            ground.main, depth, joint, hearth.brick.corners == "mitred"
        )
        for piece in _laid(job, strip, border, depth)
    )
    return pieces, inner


def _strips(
    box: Box, depth: Fraction, joint: Fraction, is_mitred: bool
) -> Iterator[BorderSide]:
    """Yield the front strip, then the left one and the right one, from the front on.

    Along each strip runs anticlockwise round the hearth's inside, so that all are the
    same strip turned: no piece is seen in a mirror.
    """
    left, front, right, back = box
    yield BorderSide(
        right - left,
        lambda p: (left + p[0], front + p[1]),
        (is_mitred, is_mitred),
        "neither",
    )
    start = front if is_mitred else front + depth + joint
    yield BorderSide(
        back - start, lambda p: (right - p[1], start + p[0]), (is_mitred, False), "far"
    )
    yield BorderSide(
        back - start,
        lambda p: (left + p[1], back - p[0]),
        (False, is_mitred),
        "near",
    )


def _laid(
    job: Job, strip: BorderSide, border: Border, depth: Fraction
) -> Iterator[Piece]:
    """Yield the pieces of one strip."""
    kind: PieceKind = "rowlock" if border == "rowlock" else "header"
    is_sawn = depth != job.brick.length
    for a, b in _spaced(job, strip):
        ring = [
            Vertex(a, NONE),
            # A rowlock is sawn at its inner end.
            Vertex(b, NONE, b - a != job.brick.height),
            Vertex(b, depth, is_sawn),
            Vertex(a, depth),
        ]
        kept = _mitred(ring, strip, job.joints.head.least)
        lain: Ring = tuple((corner.x - a, corner.y) for corner in kept)
        if kind == "header":
            # As it lies along its brick.
            lain = tuple((y, -x) for x, y in lain)
        points = tuple(strip.place((corner.x, corner.y)) for corner in kept)
        cuts = tuple(place for place, corner in enumerate(kept) if corner.is_sawn)
        yield panel_piece(kind, "hearth", points, cuts, lain, _row(job, points))


def _row(job: Job, points: Ring) -> int:
    return row_of(job, min(y for _, y in points))


def row_of(job: Job, y: Fraction) -> int:
    """Return which row of brick, from the front, a place belongs to; from 1."""
    return 1 + int(y // (job.brick.height + job.joints.head.preferred))


def _mitred(
    ring: list[Vertex[Fraction]], strip: BorderSide, joint: Fraction
) -> list[Vertex[Fraction]]:
    """Cut a piece at the mitres, half a joint away from each.

    The joint is the narrowest allowed: others run into it, and widen it there.
    """
    off = Fraction(round(float(joint) / 2 * 2**0.5 * PARTS), PARTS)
    one = Fraction(1)
    lines = ((-one, one, -off), (one, one, strip.length - off))
    for (x, y, limit), is_mitred in zip(lines, strip.mitres, strict=True):
        if is_mitred:
            ring = cut_at(ring, (x, y, limit), NONE)
    return ring


def _spaced(job: Job, strip: BorderSide) -> tuple[tuple[Fraction, Fraction], ...]:
    """Share a strip out among whole pieces, or with two equal sawn ones at its ends."""
    filling = Filling(strip.length, job.brick.height, job.joints.head, (False, False))
    run = None
    if strip.hidden != "neither":
        run = share_whole(filling, job.joints.head.most)
        if run is not None and strip.hidden == "near":
            run = run.mirrored(strip.length)
    run = run or share_soldiers(filling)
    if run is None:
        # The sides are always filled: they may stop short by what two sawn ones lack.
        message = (
            f"hearth.brick.border: {typed_length(strip.length, job.lengths)} of border "
            "can't be filled with brick and joints as joints.head allows; give a wider "
            'range of joints, another hearth.left, or border = "none"'
        )
        raise NotLaid(message)
    return run.places
