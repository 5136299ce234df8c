"""Say what each DXF must be found to hold when it is read back.

In:  `Solution`, and a sheet or the bare drawing.   Out: `Expected`.
Frame: model space of the file.

Units are taken from the layout, and the figures of dimensions from where they stand,
not from the ink that was made of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from shopdraw.drawing.expected import Expected, ExpectedInsert, ExpectedMeasure
from shopdraw.drawing.ink import Drawing, Measure, Point, Words
from shopdraw.drawing.sheets import Sheet
from shopdraw.lengths import Lengths, format_length, rounded, settled
from shopdraw.masonry.wall.layout import Layout
from shopdraw.solution import Solution
from shopdraw.views.parts.units import tags_of

Move = Callable[[Point], Point]
FACE_OF_VIEW = {
    "elevation": "front",
    "return-left": "left",
    "return-right": "right",
    "reveal-left": "left reveal",
    "reveal-right": "right reveal",
}
"""The views that insert units, and the face whose pieces they show."""


def expect_sheet(solution: Solution, sheet: Sheet) -> Expected:
    """Return what a sheet's file must hold."""
    inserts: list[ExpectedInsert] = []
    for placed in sheet.drawings:
        face = FACE_OF_VIEW.get(placed.drawing.name)
        if face is not None:
            dx = -float(solution.surround.face(face).left)
            move = placed.placement.to_model
            inserts += _units(solution.layout, {face}, dx, move)
    drawings = [placed.drawing for placed in sheet.drawings]
    return _expected(inserts, drawings, solution.surround.lengths)


def expect_sheets(
    solution: Solution, sheets: tuple[Sheet, ...]
) -> tuple[Expected, ...]:
    """Return what each sheet's file must hold."""
    return tuple(expect_sheet(solution, sheet) for sheet in sheets)


def expect_bare(solution: Solution, drawing: Drawing) -> Expected:
    """Return what the bare drawing's file must hold."""
    surround = solution.surround
    faces = {str(face.name) for face in (*surround.faces, *surround.reveals)}
    dx = -float(surround.opening.centre)
    units = list(_units(solution.layout, faces, dx, lambda point: point))
    return _expected(units, [drawing], surround.lengths)


def _units(
    layout: Layout, faces: set[str], dx: float, move: Move
) -> Iterator[ExpectedInsert]:
    for piece in layout.pieces:
        if piece.place not in faces:
            continue
        points = piece.outlines[0].points
        outline = tuple(move((float(x) + dx, float(y))) for x, y in points)
        yield ExpectedInsert(tags_of(piece), outline)


def _expected(
    inserts: list[ExpectedInsert], drawings: list[Drawing], lengths: Lengths
) -> Expected:
    measures: list[ExpectedMeasure] = []
    words: list[str] = []
    for drawing in drawings:
        ink = drawing.ink
        measures += expect_measures((x for x in ink if isinstance(x, Measure)), lengths)
        words += (x.text for x in ink if isinstance(x, Words))
    return Expected(
        inserts=tuple(sorted(inserts, key=lambda insert: insert.tags)),
        measures=tuple(measures),
        words=tuple(sorted(words)),
    )


def expect_measures(
    measures: Iterable[Measure], lengths: Lengths
) -> Iterator[ExpectedMeasure]:
    """Reckon from where a dimension stands what it must read.

    Dimensions that follow on one another on one line are a string: positions are
    rounded from its start, and a figure is the difference of two of them. The figure
    that the ink carries is not looked at, so a wrong one is found out.
    """
    start, last = 0.0, None
    for measure in measures:
        a, b = _along(measure)
        if last is None or not _follows(last, measure):
            start = a
        shown = rounded(settled(b - start), lengths) - rounded(
            settled(a - start), lengths
        )
        yield ExpectedMeasure(abs(b - a), format_length(abs(shown), lengths))
        last = measure


def _along(measure: Measure) -> tuple[float, float]:
    """Return the two positions along the axis."""
    at = 0 if measure.axis == "x" else 1
    return measure.start[at], measure.end[at]


def _follows(last: Measure, measure: Measure) -> bool:
    return (
        last.axis == measure.axis
        and last.line_at == measure.line_at
        and last.end == measure.start
    )
