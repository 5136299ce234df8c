"""See the jambs that brick turns into as the front and the section do: foreshortened.

In:  `Solution`.   Out: pieces with their rings, lengths.
Frame: as each says.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.ink import Point
from shopdraw.masonry.wall.folding import far_end, place_face
from shopdraw.masonry.wall.layout import Outline, Piece
from shopdraw.solution import Solution

Seen = tuple[Piece, Outline, tuple[Point, ...]]
"""A piece, which of its outlines is seen, and its ring as it is seen."""


def seen_from_front(solution: Solution) -> Iterator[Seen]:
    """Yield what is seen of splayed jambs from the front; nothing of square ones.

    Rings: x from the front's finished left end, y from the datum.
    """
    if solution.surround.splay:
        for face in solution.surround.reveals:
            yield from _seen(solution, face.name, 0)


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
