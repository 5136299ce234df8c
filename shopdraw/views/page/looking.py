"""Choose the drawings that are tapped, and say which spot of them is which piece.

In:  `Solution`, the set's sheets.   Out: `View`s.
Frame: each drawing's own, full size.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Insert, Point
from shopdraw.drawing.page import PieceView, Spot
from shopdraw.drawing.sheets import PlacedDrawing, Sheet
from shopdraw.masonry.wall.layout import Piece
from shopdraw.solution import Solution
from shopdraw.views.page.enlarged import Shown, enlarged, without_words

ID = "ID"


def views_of_pieces(
    solution: Solution, sheets: tuple[Sheet, ...]
) -> Iterator[PieceView]:
    """Yield every drawing on the sheets that shows pieces by their IDs.

    A view that is divided at match lines is as many drawings as it has parts.
    """
    pieces = {piece.id: piece for piece in solution.pieces}
    for sheet in sheets:
        for placed in sheet.drawings:
            shown, (dx, dy) = _shown(solution, placed, pieces)
            if not shown:
                continue
            spots = tuple(
                Spot(
                    piece.id,
                    f"{piece.mark} {piece.id}",
                    tuple(_moved(outline.points, dx, dy)),
                )
                for piece, outline in shown
            )
            work = about(point for spot in spots for point in spot.points)
            letters = enlarged(solution, placed.drawing, shown, (dx, dy), work)
            small, large = tuple(letters), tuple(letters.values())
            rest = without_words(placed.drawing, small)
            yield PieceView(_title(placed), placed, spots, work, rest, small, large)


def _title(placed: PlacedDrawing) -> str:
    drawing = placed.drawing
    part = f", part {drawing.part.number}" if drawing.part is not None else ""
    title = drawing.title or drawing.name.replace("-", " ")
    return f"{title.capitalize()}{part}"


def _shown(
    solution: Solution, placed: PlacedDrawing, pieces: dict[str, Piece]
) -> tuple[tuple[Shown, ...], Point]:
    """Return the outlines on a drawing, a corner unit's other leg among them.

    And by how much they are moved there.
    """
    inserts = [
        (each, tag.text)
        for each in placed.drawing.ink
        if isinstance(each, Insert)
        for tag in each.tags
        if tag.name == ID
    ]
    if not inserts:
        return (), (0.0, 0.0)
    insert, name = inserts[0]
    first = pieces[name].outlines[0]
    dx, dy = insert.at[0] - float(first.left), insert.at[1] - float(first.bottom)
    there = {name for _, name in inserts}
    faces = {pieces[name].outlines[0].face for name in there}
    shown = (
        (piece, outline)
        for piece in solution.pieces
        for place, outline in enumerate(piece.outlines)
        if outline.face in faces and (piece.id in there or place)
    )
    return tuple(shown), (dx, dy)


def _moved(
    points: tuple[tuple[Fraction, Fraction], ...], dx: float, dy: float
) -> Iterator[tuple[float, float]]:
    for x, y in points:
        yield float(x) + dx, float(y) + dy
