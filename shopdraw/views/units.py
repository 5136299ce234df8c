"""Draw the units of a layout: one symbol a kind, inserted once for every piece.

In:  `Layout`, the faces asked for.   Out: ink and symbols.
Frame: full size; x on the developed plane, moved by `dx`; y up from the datum.

A piece is inserted, with its tags, on the face that it counts on. A corner unit's
other leg is plain outline on its face, so that inserts count pieces.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.ink import Ink, Insert, Point, Stroke, Symbol, Tag, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.masonry.layout import Layout, Outline, Piece

UNITS = "A-ELEV-MSNR"
CORNERS = "A-ELEV-MSNR-CORN"
CUTS = "A-ELEV-MSNR-CUTM"
MARKS = "A-ELEV-MSNR-IDEN"
TYPE_STATES = {
    (False, False): "",
    (True, False): "CUT ",
    (False, True): "TRIMMED ",
    (True, True): "TRIMMED AND CUT ",
}
"""What is said of a piece that is cut, or a corner unit that is trimmed."""
CORNER_KINDS = ("corner unit", "soldier corner unit")
"""The kinds that have two legs; what else has two outlines only shows its edge."""
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


def layer_of(piece: Piece) -> str:
    """Return the layer that a piece's outline stands on."""
    return CORNERS if len(piece.outlines) > 1 else UNITS


def cut_sides(piece: Piece, outline: Outline) -> tuple[str, ...]:
    """Return which sides of an outline are sawn.

    A trimmed leg is sawn at its free end: the one away from the fold that it shares
    with the piece's other outline.
    """
    sides = [x for x in piece.cut_edges if x in ("left", "right", "top", "bottom")]
    if len(piece.outlines) == 1:
        return tuple(sides)
    sides = [x for x in sides if x in ("top", "bottom")]
    other = next(x for x in piece.outlines if x is not outline)
    if f"{outline.face} leg" in piece.cut_edges:
        sides.append("right" if outline.left >= other.right else "left")
    return tuple(sides)


def _symbol(piece: Piece, outline: Outline, folds: set[Fraction]) -> Symbol:
    width = float(outline.right - outline.left)
    height = float(outline.top - outline.bottom)
    sides = cut_sides(piece, outline)
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


def _ring(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def _cut_mark(
    side: str, left: float, bottom: float, right: float, top: float
) -> Stroke:
    """Draw the cut line just inside a sawn edge."""
    inset = min((right - left) / 6, (top - bottom) / 6)
    lines = {
        "left": ((left + inset, bottom), (left + inset, top)),
        "right": ((right - inset, bottom), (right - inset, top)),
        "bottom": ((left, bottom + inset), (right, bottom + inset)),
        "top": ((left, top - inset), (right, top - inset)),
    }
    return Stroke(CUTS, lines[side])


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
    """Letter the mark in the middle; None where the piece is too small for it."""
    wide = float(outline.right - outline.left) / scale
    high = float(outline.top - outline.bottom) / scale
    stands = high > wide
    room = (high, wide) if stands else (wide, high)
    if width_of(piece.mark, height) > 0.9 * room[0] or 1.5 * height > room[1]:
        return None
    at = (
        float(outline.left + outline.right) / 2 + dx,
        float(outline.bottom + outline.top) / 2,
    )
    return Words(MARKS, at, piece.mark, height, "centre", "middle", 90.0 * stands)


def _other_leg(piece: Piece, outline: Outline, dx: float) -> Iterator[Ink]:
    left, right = float(outline.left) + dx, float(outline.right) + dx
    bottom, top = float(outline.bottom), float(outline.top)
    yield Stroke(layer_of(piece), _ring(left, bottom, right, top), closed=True)
    for side in cut_sides(piece, outline):
        yield _cut_mark(side, left, bottom, right, top)
