"""Lay the border of a panel in the face: all round, its sides between top and bottom.

In:  `Job`, the panel's rectangle.   Out: `Piece`s, and what is left for the field.
Frame: as `Surround`.

Common practice, no published source: rowlocks stand with an end to the edge, headers
lie along it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_panel import FaceBorder
from shopdraw.lengths import typed_length
from shopdraw.masonry.heads.shares import Filling, share_soldiers
from shopdraw.masonry.panels.pieces import Ring, panel_piece
from shopdraw.masonry.wall.face_panel import Box
from shopdraw.masonry.wall.layout import Piece, PieceKind, Point

NONE = Fraction(0)


@dataclass(frozen=True)
class BorderBrick:
    """What a border is laid of: its kind, and how it shows.

    Attributes:
        along: the edge.
        deep: in from the edge.
        is_sawn: whether it is sawn to show so little.
    """

    kind: PieceKind
    along: Fraction
    deep: Fraction
    is_sawn: bool


@dataclass(frozen=True)
class _Side:
    """One side of a border.

    Attributes:
        length: along the edge.
        between: whether it stands between two others, a joint from each.
        place: turns a point, along the side and in from the edge, into one on the face.
    """

    length: Fraction
    between: bool
    place: Callable[[Point], Point]


def border_brick(job: Job, border: FaceBorder) -> BorderBrick | None:
    """Return what a border is laid of; None where there is none."""
    long, high = job.brick.length, job.brick.height
    if border == "rowlock":
        deep = job.rowlock_height
        return BorderBrick("rowlock", high, deep, deep != long)
    if border == "header":
        return BorderBrick("header", job.header_length, high, is_sawn=True)
    return None


def lay_border(
    job: Job, key: str, border: FaceBorder, box: Box, course: Callable[[Fraction], int]
) -> tuple[tuple[Piece, ...], Box]:
    """Lay the border of a panel.

    Args:
        job: its brick and its joints.
        key: of the panel in the job file.
        border: which.
        box: the panel's rectangle.
        course: returns the course that lies at a level.

    Returns:
        Its pieces, and the rectangle that it leaves for the field.

    Raises:
        NotLaid: a side can't be filled with brick and joints in their range.
    """
    brick = border_brick(job, border)
    if brick is None:
        return (), box
    left, bottom, right, top = box
    frame = brick.deep + job.joints.head.preferred
    inner: Box = (left + frame, bottom + frame, right - frame, top - frame)
    pieces = tuple(
        panel_piece(
            brick.kind, "front", points, cuts, lain, course(min(y for _, y in points))
        )
        for side in _sides(box, brick.deep)
        for points, cuts, lain in _laid(job, key, brick, side)
    )
    return pieces, inner


def _sides(box: Box, deep: Fraction) -> Iterator[_Side]:
    """Yield the side at the bottom, then round anticlockwise.

    Along each runs anticlockwise, so that all are the same side turned: no piece is
    seen in a mirror.
    """
    left, bottom, right, top = box
    wide, high = right - left, top - bottom - 2 * deep
    yield _Side(wide, False, lambda p: (left + p[0], bottom + p[1]))
    yield _Side(high, True, lambda p: (right - p[1], bottom + deep + p[0]))
    yield _Side(wide, False, lambda p: (right - p[0], top - p[1]))
    yield _Side(high, True, lambda p: (left + p[1], top - deep - p[0]))


def _laid(
    job: Job, key: str, brick: BorderBrick, side: _Side
) -> Iterator[tuple[Ring, tuple[int, ...], Ring]]:
    """Yield where each piece of a side lies, its cuts, and how it lies on its brick."""
    joint = job.joints.head
    ends = (side.between, side.between)
    run = share_soldiers(Filling(side.length, brick.along, joint, ends))
    if run is None:
        message = (
            f"{key}.border: {typed_length(side.length, job.lengths)} of {brick.kind}s "
            "can't be filled with brick and joints as joints.head allows; give the "
            'panel another size, or border = "none"'
        )
        raise NotLaid(message)
    # A rowlock stands and is sawn at its inner end; a header lies and loses its right.
    stands = brick.kind == "rowlock"
    for a, b in run.places:
        ring = ((a, NONE), (b, NONE), (b, brick.deep), (a, brick.deep))
        is_narrow = b - a != brick.along
        is_sawn = {1: is_narrow or not stands, 2: brick.is_sawn and stands}
        cuts = tuple(place for place in (1, 2) if is_sawn[place])
        lain = tuple((x - a, y) for x, y in ring)
        yield tuple(map(side.place, ring)), cuts, lain
