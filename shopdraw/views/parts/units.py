"""Draw the units of a layout: one symbol a kind, inserted once for every piece.

In:  `Layout`, the faces asked for.   Out: ink and symbols.
Frame: full size; x on the developed plane, moved by `dx`; y up from the datum.

A piece is inserted, with its tags, on the face that it counts on. A corner unit's
other leg is plain outline on its face, so that inserts count pieces.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import atan2, cos, degrees, hypot, sin

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Insert, Point, Stroke, Symbol, Tag, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.masonry.wall.layout import Layout, Outline, Piece, sawn_sides

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
    """Draw every outline that lies on one of the faces.

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
                ink += _other_leg(piece, outline, dx)
    return ink, tuple(symbols[name] for name in sorted(symbols))


def tags_of(piece: Piece) -> tuple[tuple[str, str], ...]:
    """Return what a piece's insert is tagged with."""
    return (
        ("ID", piece.id),
        ("MARK", piece.mark),
        ("TYPE", type_of(piece)),
        ("COURSE", str(piece.course)),
        ("FACE", piece.place.upper()),
    )


def type_of(piece: Piece) -> str:
    """Return what a piece is, in words: `CUT STRETCHER`."""
    return f"{TYPE_STATES[piece.is_cut, piece.is_trimmed]}{piece.kind.upper()}"


INSET = 1 / 8
"""A cut line lies so much of a piece's lesser side inside its sawn edge."""


def layer_of(piece: Piece) -> str:
    """Return the layer that a piece's outline stands on."""
    return layers.CORNERS if len(piece.outlines) > 1 else layers.UNITS


def _symbol(piece: Piece, outline: Outline, folds: set[Fraction]) -> Symbol:
    if not outline.is_rectangle:
        return Symbol(f"U-{piece.id}", tuple(_shape(piece, outline.at_origin())), TAGS)
    width = float(outline.right - outline.left)
    height = float(outline.top - outline.bottom)
    sides = sawn_sides(piece, outline)
    if "mitre" in piece.cut_edges:
        # The edge sawn at 45 degrees is the one on the fold.
        sides = (*sides, "left" if outline.left in folds else "right")
    variant = "".join(side[0].upper() for side in sorted(set(sides)))
    name = f"U-{piece.mark}{'-' if variant else ''}{variant}"
    strokes = [
        Stroke(layer_of(piece), _ring(0.0, 0.0, width, height), closed=True),
        *(_cut_mark(side, 0.0, 0.0, width, height) for side in sorted(set(sides))),
    ]
    return Symbol(name, tuple(strokes), TAGS)


def _shape(piece: Piece, outline: Outline, dx: float = 0.0) -> Iterator[Stroke]:
    """Draw an outline that is no rectangle, and a cut line inside each sawn side."""
    ring = [(float(x) + dx, float(y)) for x, y in outline.points]
    yield Stroke(layer_of(piece), tuple(ring), closed=True)
    for line in cut_lines(outline):
        yield Stroke(layers.CUTS, tuple((x + dx, y) for x, y in line))


def cut_lines(outline: Outline) -> Iterator[tuple[Point, Point]]:
    """Yield the lines just inside the sawn sides of an outline.

    Each is clipped by the sides next to it, so that it stays within the outline.
    """
    ring = [(float(x), float(y)) for x, y in outline.points]
    wide = float(outline.right - outline.left)
    high = float(outline.top - outline.bottom)
    inset = min(wide, high) * INSET
    for place in outline.cuts:
        a, b = ring[place], ring[(place + 1) % len(ring)]
        before, after = ring[place - 1], ring[(place + 2) % len(ring)]
        line = _toward(a, before, b, inset), _toward(b, after, a, inset)
        if line[0] != line[1]:
            yield line


def _toward(corner: Point, away: Point, along: Point, inset: float) -> Point:
    """Return the spot on the side beside a cut that lies the inset in from the cut."""
    side = away[0] - corner[0], away[1] - corner[1]
    cut = along[0] - corner[0], along[1] - corner[1]
    length = hypot(*cut)
    deep = abs(side[0] * cut[1] - side[1] * cut[0]) / length if length else 0.0
    share = min(0.5, inset / deep) if deep else 0.5
    return corner[0] + share * side[0], corner[1] + share * side[1]


def _ring(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def _cut_mark(
    side: str, left: float, bottom: float, right: float, top: float
) -> Stroke:
    """Draw the cut line just inside a sawn edge."""
    inset = min(right - left, top - bottom) * INSET
    lines = {
        "left": ((left + inset, bottom), (left + inset, top)),
        "right": ((right - inset, bottom), (right - inset, top)),
        "bottom": ((left, bottom + inset), (right, bottom + inset)),
        "top": ((left, top - inset), (right, top - inset)),
    }
    return Stroke(layers.CUTS, lines[side])


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
    """Return what of a rectangle lies within its cut lines."""
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
    """Letter the mark where a shape is widest, along it; None where it is too small."""
    ring = [(float(x), float(y)) for x, y in outline.points]
    turned = _along_axis(piece)
    wide, high = (width_of(piece.mark, height) * scale, 1.5 * height * scale)
    lines = [*zip(ring, [*ring[1:], ring[0]], strict=True), *cut_lines(outline)]
    half = (wide / 2 * cos(turned), wide / 2 * sin(turned))
    up = (-high / 2 * sin(turned), high / 2 * cos(turned))
    for x, y in _middles(outline, ring):
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


def _middles(outline: Outline, ring: list[Point]) -> Iterator[Point]:
    """Yield where a mark may stand: in the middle, then to either side of it."""
    count = len(ring)
    yield sum(x for x, _ in ring) / count, sum(y for _, y in ring) / count
    left, bottom = float(outline.left), float(outline.bottom)
    wide, high = float(outline.right) - left, float(outline.top) - bottom
    for up in (0.5, 0.65, 0.75, 0.35):
        for along in (0.5, 0.35, 0.65, 0.2, 0.8):
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
    """Return the way that a shape's mark reads: up along a voussoir, else level."""
    first = piece.outlines[0]
    if piece.kind != "voussoir":
        return 0.0
    points = [(float(x), float(y)) for x, y in first.points]
    low = [(points[0][i] + points[1][i]) / 2 for i in (0, 1)]
    high = [(points[2][i] + points[3][i]) / 2 for i in (0, 1)]
    return atan2(high[1] - low[1], high[0] - low[0])


def _is_inside(spot: Point, ring: list[Point]) -> bool:
    """Whether a spot lies within a ring: a line from it crosses the ring oddly."""
    x, y = spot
    return (
        sum(
            (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1)
            for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True)
        )
        % 2
        == 1
    )


def _other_leg(piece: Piece, outline: Outline, dx: float) -> Iterator[Ink]:
    if not outline.is_rectangle:
        yield from _shape(piece, outline, dx)
        return
    left, right = float(outline.left) + dx, float(outline.right) + dx
    bottom, top = float(outline.bottom), float(outline.top)
    yield Stroke(layer_of(piece), _ring(left, bottom, right, top), closed=True)
    for side in sawn_sides(piece, outline):
        yield _cut_mark(side, left, bottom, right, top)
