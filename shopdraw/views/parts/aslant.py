"""See the faces that turn away as the front and the section do: foreshortened.

In:  `Solution`.   Out: pieces with their rings, lengths.
Frame: as each says.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.ink import Point
from shopdraw.job.turning import SQUARE
from shopdraw.masonry.wall.folding import far_end, place_face
from shopdraw.masonry.wall.form import Face, Surround
from shopdraw.masonry.wall.layout import Outline, Piece
from shopdraw.solution import Solution

Seen = tuple[Piece, Outline, tuple[Point, ...]]
"""A piece, which of its outlines is seen, and its ring as it is seen."""


def faces_seen(surround: Surround) -> Iterator[Face]:
    """Yield the faces that the front sees aslant: what splays, jambs and chamfers.

    An alcove faces as the front does, further back; it has an elevation of its own.
    """
    for face in (*surround.faces, *surround.reveals):
        if face.name != "front" and not face.is_alcove and face.turn < SQUARE:
            yield face


def seen_from_front(solution: Solution) -> Iterator[Seen]:
    """Yield what is seen of faces aslant from the front; nothing of square ones.

    Rings: x from the front's finished left end, y from the datum.
    """
    for face in faces_seen(solution.surround):
        yield from _seen(solution, face.name, 0)


def width_seen(surround: Surround) -> tuple[float, float]:
    """Return how far the brick reaches past the front's ends, seen from the front."""
    ends = [
        float(point[0])
        for face in surround.faces
        if face.name != "front" and not face.is_alcove
        for point in (far_end(surround, face),)
    ]
    wide = float(surround.front.width)
    return max([0.0, *(-x for x in ends)]), max([0.0, *(x - wide for x in ends)])


def seen_in_section(solution: Solution) -> Iterator[Seen]:
    """Yield what an upright section sees of the left jamb, if brick turns into it.

    Rings: x back from the finished front, y from the datum.
    """
    if solution.surround.reveals:
        yield from _seen(solution, "left reveal", 1)


def _seen(solution: Solution, face: str, axis: int) -> Iterator[Seen]:
    placed = place_face(solution.surround, face)
    for piece in solution.layout.pieces:
        for outline in piece.outlines:
            if outline.face == face:
                ring = (
                    (float(placed.point(x)[axis]), float(y)) for x, y in outline.points
                )
                yield piece, outline, tuple(ring)


def ends_of_jambs(solution: Solution) -> tuple[Point, Point]:
    """Return in plan where the finished jambs end, the left one first."""
    surround = solution.surround
    left, right = (far_end(surround, face) for face in surround.reveals)
    return (float(left[0]), float(left[1])), (float(right[0]), float(right[1]))
