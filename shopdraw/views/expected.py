"""Say what each DXF must be found to hold when it is read back.

In:  the layout, and a sheet or the bare drawing.   Out: `Expected`.
Frame: model space of the file.

Units are taken from the layout, not from the ink that was made of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import hypot

from shopdraw.drawing.expected import Expected, ExpectedInsert, ExpectedMeasure
from shopdraw.drawing.ink import Drawing, Measure, Point, Words
from shopdraw.drawing.sheets import Sheet
from shopdraw.masonry.layout import Layout
from shopdraw.masonry.surround import Surround
from shopdraw.views.units import tags_of

Move = Callable[[Point], Point]
FACE_OF_VIEW = {"elevation": "front", "return-left": "left", "return-right": "right"}
"""The views that insert units, and the face whose pieces they show."""


def expect_sheet(surround: Surround, layout: Layout, sheet: Sheet) -> Expected:
    """Return what a sheet's file must hold."""
    inserts: list[ExpectedInsert] = []
    for placed in sheet.drawings:
        face = FACE_OF_VIEW.get(placed.drawing.name)
        if face is not None:
            dx = -float(surround.face(face).left)
            move = placed.placement.to_model
            inserts += _units(layout, {face}, dx, move)
    drawings = [placed.drawing for placed in sheet.drawings]
    return _expected(inserts, drawings)


def expect_bare(surround: Surround, layout: Layout, drawing: Drawing) -> Expected:
    """Return what the bare drawing's file must hold."""
    faces = {str(face.name) for face in surround.faces}
    dx = -float(surround.opening.centre)
    return _expected(list(_units(layout, faces, dx, lambda point: point)), [drawing])


def _units(
    layout: Layout, faces: set[str], dx: float, move: Move
) -> Iterator[ExpectedInsert]:
    for piece in layout.pieces:
        if piece.place not in faces:
            continue
        points = piece.outlines[0].points
        outline = tuple(move((float(x) + dx, float(y))) for x, y in points)
        yield ExpectedInsert(tags_of(piece), outline)


def _expected(inserts: list[ExpectedInsert], drawings: list[Drawing]) -> Expected:
    measures = []
    words = []
    for drawing in drawings:
        for ink in drawing.ink:
            if isinstance(ink, Measure):
                measures.append(ExpectedMeasure(_length(ink), ink.words))
            elif isinstance(ink, Words):
                words.append(ink.text)
    return Expected(
        inserts=tuple(sorted(inserts, key=lambda insert: insert.tags)),
        measures=tuple(measures),
        words=tuple(sorted(words)),
    )


def _length(measure: Measure) -> float:
    (a, b), (c, d) = measure.start, measure.end
    return hypot(c - a, 0.0) if measure.axis == "x" else hypot(0.0, d - b)
