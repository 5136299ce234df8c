"""Make pieces of the outlines that a panel, or a hearth, is laid of.

In:  rings in their place, and as they lie on their brick.   Out: `Piece`s, not named
yet.
Frame: the hearth's plan, or the faces'; of a brick x along it, or across it where it
stands.
"""

from __future__ import annotations

from dataclasses import replace

from shopdraw.masonry.wall.form import FaceName
from shopdraw.masonry.wall.layout import (
    SIDES,
    Outline,
    Piece,
    PieceKind,
    Point,
    flat_piece,
)

Ring = tuple[Point, ...]


def panel_piece(
    kind: PieceKind,
    face: FaceName,
    ring: Ring,
    cuts: tuple[int, ...],
    lain: Ring,
    row: int,
) -> Piece:
    """Return a piece of a panel or of the hearth.

    Args:
        kind: what it is.
        face: where it lies.
        ring: where it lies, anticlockwise.
        cuts: which of its sides are sawn.
        lain: the same corners in the same order, as they lie on the brick.
        row: which row, or course, it belongs to; from 1.
    """
    outline = _from_lower_left(face, ring, cuts)
    on_brick = lying(face, lain, cuts)
    edges = tuple(dict.fromkeys(outline.sawn_ends()))
    if outline.is_rectangle:
        edges = tuple(SIDES[side] for side in outline.cuts)
        outline = Outline(outline.face, outline.points)
    piece = flat_piece(kind, row, outline, edges)
    (ax, ay), (bx, by) = ring[0], ring[1]
    is_turned = (bx - ax, by - ay) != (lain[1][0] - lain[0][0], lain[1][1] - lain[0][1])
    if outline.is_rectangle and not is_turned:
        return piece
    return replace(piece, as_sawn=on_brick)


def lying(face: FaceName, lain: Ring, cuts: tuple[int, ...]) -> Outline:
    """Return a piece on its brick, from the origin.

    A piece may be turned round on the saw's table, so of the two ways round it is
    always the same one: then like pieces look alike.
    """
    turned = tuple((-x, -y) for x, y in lain)
    ways = [_from_lower_left(face, each, cuts).at_origin() for each in (lain, turned)]
    return min(ways, key=lambda way: (way.cuts, way.points))


def _from_lower_left(face: FaceName, ring: Ring, cuts: tuple[int, ...]) -> Outline:
    """Return a ring as an outline that begins at its lower left corner."""
    start = min(range(len(ring)), key=lambda place: (ring[place][1], ring[place][0]))
    count = len(ring)
    return Outline(
        face,
        (*ring[start:], *ring[:start]),
        tuple(sorted((side - start) % count for side in cuts)),
    )
