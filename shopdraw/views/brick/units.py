"""Draw the brick of a layout: one symbol for each kind, inserted once for each piece.

In:  `Layout`, the faces asked for.   Out: ink and symbols.
Frame: full size; x on the developed plane, moved by `dx`; y up from the datum.

A piece is inserted, with its tags, on the face that it counts on. A corner unit's
other leg is plain outline on its face, so that inserts count pieces.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Insert, Stroke, Symbol, Tag, Words
from shopdraw.masonry.laying.cut_lines import ORIGIN, cut_lines, sides_sawn
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    CutListRow,
    Layout,
    Outline,
    Piece,
)
from shopdraw.views.brick.marks import Line, goes_unmarked, mark_within

TYPE_STATES = {
    (False, False): "",
    (True, False): "CUT ",
    (False, True): "TRIMMED ",
    (True, True): "TRIMMED AND CUT ",
}
"""What is said of a piece that is cut, or a corner unit that is trimmed."""
TAGS = ("ID", "MARK", "TYPE", "COURSE", "FACE")


def unit_ink(
    layout: Layout,
    faces: set[str],
    dx: float,
    mark_height: float,
    scale: float,
    over: Sequence[Line] = (),
) -> tuple[list[Ink], tuple[Symbol, ...]]:
    """Draw every piece that lies on one of the faces.

    Args:
        layout: the pieces.
        faces: names of faces.
        dx: added to x.
        mark_height: of the marks, on paper.
        scale: of the drawing.
        over: lines that are drawn across the brick, for marks to keep clear of.

    Returns:
        The ink, in reading order, and the symbols it inserts, by name. Pieces that
        count on a face asked for are inserts; an outline there of a piece that counts
        elsewhere is plain, without tags, its mark in brackets.
    """
    ink: list[Ink] = []
    symbols: dict[str, Symbol] = {}
    folds = {stop.x for stop in layout.stops if stop.kind == "fold"}
    for piece in layout.pieces:
        for place, outline in enumerate(piece.outlines):
            if outline.face not in faces:
                continue
            words = None
            if not goes_unmarked(piece):
                words = mark_within(piece, outline, dx, mark_height, scale, over)
            if place == 0:
                symbol = _symbol(piece, outline, folds)
                symbols.setdefault(symbol.name, symbol)
                ink.append(_insert(piece, outline, symbol, dx, words))
            else:
                ink += _strokes(piece, outline, folds, dx=dx)
                ink += [words] if words is not None else []
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
        if len(piece.outlines) > 1 and piece.kind not in CORNER_KINDS:
            # It shows its edge round the corner, and stands on the corners' layer;
            # whole, it has the mark of those that stand on the other.
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
    piece: Piece, outline: Outline, symbol: Symbol, dx: float, words: Words | None
) -> Insert:
    at = (float(outline.left) + dx, float(outline.bottom))
    tags = tuple(
        Tag(name, text, words if name == "MARK" else None)
        for name, text in tags_of(piece)
    )
    return Insert(layer_of(piece), symbol.name, at, tags)
