"""Draw the brick of a layout: one symbol for each kind, inserted once for each piece.

In:  `Layout`, the faces asked for.   Out: ink and symbols.
Frame: full size; x on the developed plane, moved by `dx`; y up from the datum.

A piece is inserted, with its tags, on the face that it counts on. A corner unit's
other leg is plain outline on its face, so that inserts count pieces.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from math import atan2, cos, degrees, pi, sin

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Insert, Point, Stroke, Symbol, Tag, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.masonry.laying.cut_lines import INSET, ORIGIN, cut_lines, sides_sawn
from shopdraw.masonry.wall.layout import (
    OF_AN_ARCH,
    CutListRow,
    Layout,
    Outline,
    Piece,
    sawn_sides,
)

TYPE_STATES = {
    (False, False): "",
    (True, False): "CUT ",
    (False, True): "TRIMMED ",
    (True, True): "TRIMMED AND CUT ",
}
"""What is said of a piece that is cut, or a corner unit that is trimmed."""
TAGS = ("ID", "MARK", "TYPE", "COURSE", "FACE")


def unit_ink(
    layout: Layout, faces: set[str], dx: float, mark_height: float, scale: float
) -> tuple[list[Ink], tuple[Symbol, ...]]:
    """Draw every piece that lies on one of the faces.

    Args:
        layout: the pieces.
        faces: names of faces.
        dx: added to x.
        mark_height: of the marks, on paper.
        scale: of the drawing.

    Returns:
        The ink, in reading order, and the symbols it inserts, by name. Pieces that
        count on a face asked for are inserts; an outline there of a piece that counts
        elsewhere is plain, without tags.
    """
    ink: list[Ink] = []
    symbols: dict[str, Symbol] = {}
    folds = {stop.x for stop in layout.stops if stop.kind == "fold"}
    for piece in layout.pieces:
        for place, outline in enumerate(piece.outlines):
            if outline.face not in faces:
                continue
            if place == 0:
                symbol = _symbol(piece, outline, folds)
                symbols.setdefault(symbol.name, symbol)
                ink.append(_insert(piece, outline, symbol, dx, mark_height, scale))
            else:
                ink += _strokes(piece, outline, folds, dx=dx)
    return ink, tuple(symbols[name] for name in sorted(symbols))


def tags_of(piece: Piece) -> tuple[tuple[str, str], ...]:
    """Return the tags of a piece's insert: ID, mark, type, course and face."""
    return (
        ("ID", piece.id),
        ("MARK", piece.mark),
        ("TYPE", type_of(piece)),
        ("COURSE", str(piece.course)),
        ("FACE", piece.place.upper()),
    )


def type_of(piece: Piece) -> str:
    """Return what kind of piece it is, in words: `CUT STRETCHER`."""
    return f"{state_of(piece)}{piece.kind.upper()}"


def state_of(one: Piece | CutListRow) -> str:
    """Return what is done to a piece: `CUT `, `MITRED `; empty where nothing is."""
    made = "MITRED " if one.is_made else ""
    return f"{TYPE_STATES[one.is_cut, one.is_trimmed]}{made}"


def layer_of(piece: Piece) -> str:
    """Return the layer that a piece's outline stands on."""
    return layers.CORNERS if len(piece.outlines) > 1 else layers.UNITS


def _symbol(piece: Piece, outline: Outline, folds: set[Fraction]) -> Symbol:
    """Return a piece's block: like pieces share it.

    A shape has one of its own, and so has a piece that is scribed to its place.
    """
    name = f"U-{piece.id}"
    if outline.is_rectangle and not piece.left_long:
        sides = sides_sawn(piece, outline, folds)
        variant = "".join(side[0].upper() for side in sides)
        if len(piece.outlines) > 1 and not piece.legs:
            # It shows its edge round the corner, and stands on the corners' layer.
            variant += "E"
        if piece.as_sawn is not None and piece.as_sawn.right != piece.length:
            # It lies across on the hearth.
            variant += "T"
        name = f"U-{piece.mark}{'-' if variant else ''}{variant}"
    origin = outline.left, outline.bottom
    return Symbol(name, tuple(_strokes(piece, outline, folds, origin)), TAGS)


def _strokes(
    piece: Piece,
    outline: Outline,
    folds: set[Fraction],
    origin: tuple[Fraction, Fraction] = ORIGIN,
    dx: float = 0.0,
) -> Iterator[Stroke]:
    """Draw an outline from an origin, and a cut line inside each sawn side."""
    x, y = origin
    ring = ((float(a - x) + dx, float(b - y)) for a, b in outline.points)
    yield Stroke(layer_of(piece), tuple(ring), closed=True)
    for line in cut_lines(piece, outline, folds, origin):
        yield Stroke(layers.CUTS, tuple((a + dx, b) for a, b in line))


def _insert(
    piece: Piece,
    outline: Outline,
    symbol: Symbol,
    dx: float,
    mark_height: float,
    scale: float,
) -> Insert:
    at = (float(outline.left) + dx, float(outline.bottom))
    tags = tuple(
        Tag(name, text, _mark(piece, outline, dx, mark_height, scale))
        if name == "MARK"
        else Tag(name, text)
        for name, text in tags_of(piece)
    )
    return Insert(layer_of(piece), symbol.name, at, tags)


def _mark(
    piece: Piece, outline: Outline, dx: float, height: float, scale: float
) -> Words | None:
    """Letter the mark clear of the cuts; None where the piece is too small for it."""
    if not outline.is_rectangle:
        return _mark_in_shape(piece, outline, dx, height, scale)
    left, bottom, right, top = _clear_of_cuts(piece, outline)
    wide, high = (right - left) / scale, (top - bottom) / scale
    at = ((left + right) / 2 + dx, (bottom + top) / 2)
    long = width_of(piece.mark, height) / 0.9
    for stands in sorted((False, True), reverse=high > wide):
        room = (high, wide) if stands else (wide, high)
        if long <= room[0] and 1.5 * height <= room[1]:
            return Words(
                layers.MARKS, at, piece.mark, height, "centre", "middle", 90 * stands
            )
    return None


def _clear_of_cuts(piece: Piece, outline: Outline) -> tuple[float, float, float, float]:
    """Return the part of a rectangle that lies within its cut lines."""
    left, bottom, right, top = (
        float(x) for x in (outline.left, outline.bottom, outline.right, outline.top)
    )
    inset = min(right - left, top - bottom) * INSET
    sides = sawn_sides(piece, outline)
    return (
        left + inset * ("left" in sides),
        bottom + inset * ("bottom" in sides),
        right - inset * ("right" in sides),
        top - inset * ("top" in sides),
    )


def _mark_in_shape(
    piece: Piece, outline: Outline, dx: float, height: float, scale: float
) -> Words | None:
    """Letter the mark where a shape has room for it; None where it has none."""
    ring = [(float(x), float(y)) for x, y in outline.points]
    wide, high = (width_of(piece.mark, height) * scale, 1.5 * height * scale)
    lines = [*zip(ring, [*ring[1:], ring[0]], strict=True), *cut_lines(piece, outline)]
    for turned, (x, y) in product(_turns(piece), _middles(outline, ring)):
        half = (wide / 2 * cos(turned), wide / 2 * sin(turned))
        up = (-high / 2 * sin(turned), high / 2 * cos(turned))
        box = [
            (x + i * half[0] + j * up[0], y + i * half[1] + j * up[1])
            for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        ]
        if not _crosses(box, lines) and _is_inside(box[0], ring):
            return Words(
                *(layers.MARKS, (x + dx, y), piece.mark, height, "centre", "middle"),
                degrees(turned),
            )
    return None


def _turns(piece: Piece) -> tuple[float, ...]:
    """Return the angles to try for a shape's mark.

    In a pattern a small triangle has most room along its longest side.
    """
    if piece.place in ("panel", "hearth"):
        return 0.0, pi / 2, pi / 4, -pi / 4
    return (_along_axis(piece),)


def _middles(outline: Outline, ring: list[Point]) -> Iterator[Point]:
    """Yield the places to try for a mark: the middle, then to either side of it."""
    count = len(ring)
    yield sum(x for x, _ in ring) / count, sum(y for _, y in ring) / count
    left, bottom = float(outline.left), float(outline.bottom)
    wide, high = float(outline.right) - left, float(outline.top) - bottom
    for up in (0.5, 0.65, 0.72, 0.75, 0.35):
        for along in (0.5, 0.35, 0.65, 0.2, 0.8, 0.23, 0.77):
            yield left + along * wide, bottom + up * high


def _crosses(box: list[Point], lines: list[tuple[Point, Point]]) -> bool:
    """Whether any side of a box crosses any of some lines."""
    return any(
        _side_of(a, b, c) != _side_of(a, b, d)
        and _side_of(c, d, a) != _side_of(c, d, b)
        for a, b in zip(box, [*box[1:], box[0]], strict=True)
        for c, d in lines
    )


def _side_of(a: Point, b: Point, spot: Point) -> bool:
    return (b[0] - a[0]) * (spot[1] - a[1]) > (b[1] - a[1]) * (spot[0] - a[0])


def _along_axis(piece: Piece) -> float:
    """Return the angle of a shape's mark: up along a voussoir, otherwise level."""
    first = piece.outlines[0]
    if piece.kind not in OF_AN_ARCH:
        return 0.0
    points = [(float(x), float(y)) for x, y in first.points]
    low = [(points[0][i] + points[1][i]) / 2 for i in (0, 1)]
    high = [(points[2][i] + points[3][i]) / 2 for i in (0, 1)]
    return atan2(high[1] - low[1], high[0] - low[0])


def _is_inside(spot: Point, ring: list[Point]) -> bool:
    """Whether a point is inside an outline: a line from it crosses the sides oddly."""
    x, y = spot
    return (
        sum(
            (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1)
            for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True)
        )
        % 2
        == 1
    )
