"""A layout or a view as lines that a person can read: one piece, one stroke a line.

In:  `Solution`, `Drawing`.   Out: lines, their fields two spaces apart.
Frame: a layout's exact lengths along the faces; a view's own, to a thousandth.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import floor

from shopdraw.drawing.ink import (
    Drawing,
    Fill,
    Hatch,
    Ink,
    Insert,
    Measure,
    Point,
    Stroke,
    Words,
)
from shopdraw.drawing.moving import moved
from shopdraw.lengths import mixed_number
from shopdraw.masonry.wall.layout import Layout, Outline, Piece

GAP = "  "
MOVES_WITH_WORDS = {"A-ANNO-NOTE", "A-ANNO-TTLB"}
"""Leaders, lines below titles and scale bars stand where prose leaves them room."""
FINEST = 1000
"""What is no whole number of so fine a part lies on no grid that a person laid."""


def layout_lines(name: str, layout: Layout) -> list[str]:
    """Return a layout's pieces in reading order, below what they come to."""
    pieces = layout.pieces
    kinds = Counter(piece.kind for piece in pieces)
    counts = [f"{count} {kind}" for kind, count in sorted(kinds.items())]
    counts += [f"{sum(piece.is_cut for piece in pieces)} cut"]
    counts += [f"{sum(piece.is_trimmed for piece in pieces)} trimmed"]
    return [
        GAP.join((name, f"{len(pieces)} pieces", *counts)),
        "ID  mark  type  course  face left, bottom, right, top, or its corners  legs",
        *(_piece_line(piece) for piece in pieces),
    ]


def _piece_line(piece: Piece) -> str:
    fields = [piece.id, piece.mark, piece.kind, f"course {piece.course}"]
    fields += [_face(outline) for outline in piece.outlines]
    fields += [f"legs {' x '.join(map(_exact, piece.legs))}"] * bool(piece.legs)
    fields += [f"turns {float(piece.turn):g}"] * piece.is_made
    fields += [f"sawn {', '.join(piece.cut_edges)}"] * bool(piece.cut_edges)
    if piece.as_sawn is not None:
        fields.append(f"from a brick {_face(piece.as_sawn)}")
    return GAP.join(fields)


def _face(outline: Outline) -> str:
    sides = (outline.left, outline.bottom, outline.right, outline.top)
    where = ", ".join(map(_exact, sides))
    if not outline.is_rectangle:
        corners = (f"({_exact(x)}, {_exact(y)})" for x, y in outline.points)
        where = " ".join(corners)
    cuts = ", ".join(str(side + 1) for side in outline.cuts)
    return f"{outline.face} {where}{f' sides {cuts} sawn' * bool(cuts)}"


def _exact(value: Fraction) -> str:
    """Write a fraction as typed; one that a clipping rounded, to a thousandth."""
    if value.denominator > FINEST:
        return _thousandth(float(value))
    return f"{'-' * (value < 0)}{mixed_number(abs(value))}"


def view_lines(drawing: Drawing) -> list[str]:
    """Return a view's strokes by layer, with the symbols that its inserts stand for.

    Lettering is left out, but for figures and the IDs of pieces, and so is what moves
    with it.
    """
    lines = [line for ink in drawing.ink for line in _ink_line(ink)]
    for symbol in drawing.symbols:
        for stroke in symbol.strokes:
            lines += _ink_line(stroke, f" of {symbol.name}")
    return sorted(lines)


def detail_lines(drawings: Iterable[Drawing]) -> list[str]:
    """Return the strokes of details mark by mark, each from its own lower left.

    Details are set side by side, as far apart as the words below them take.
    """
    lines: list[str] = []
    detail: list[Ink] = []
    for ink in (x for drawing in drawings for x in drawing.ink):
        if not isinstance(ink, Words):
            detail.append(ink)
        elif detail:
            # The first words below a detail begin with its mark.
            mark = ink.text.split()[0]
            lines += sorted(f"{mark}{GAP}{line}" for line in _at_origin(detail))
            detail = []
    return lines


def _at_origin(detail: Iterable[Ink]) -> Iterator[str]:
    points = [p for x in detail if isinstance(x, Stroke) for p in x.points]
    left, bottom = (min(values) for values in zip(*points, strict=True))
    for ink in detail:
        yield from _ink_line(moved(ink, (-left, -bottom)))


def _ink_line(ink: Ink, whose: str = "") -> Iterator[str]:
    if ink.layer in MOVES_WITH_WORDS:
        return
    if isinstance(ink, Stroke):
        kind = "closed" if ink.closed else "open"
        yield _line(ink.layer, kind + whose, ink.points)
    elif isinstance(ink, Fill):
        yield _line(ink.layer, "fill", ink.points)
    elif isinstance(ink, Hatch):
        yield _line(ink.layer, f"hatch {ink.pattern}", ink.points)
    elif isinstance(ink, Insert):
        ids = [tag.text for tag in ink.tags if tag.name == "ID"]
        yield _line(ink.layer, " ".join(("insert", ink.symbol, *ids)), (ink.at,))
    elif isinstance(ink, Measure):
        points = (ink.start, ink.end, *_dimension_line(ink))
        yield _line(ink.layer, f"dimension {ink.words}", points)


def _dimension_line(measure: Measure) -> tuple[Point, Point]:
    (a, b), (c, d), level = measure.start, measure.end, measure.line_at
    if measure.axis == "x":
        return (a, level), (c, level)
    return (level, b), (level, d)


def _line(layer: str, what: str, points: Iterable[Point]) -> str:
    places = (f"({_thousandth(x)}, {_thousandth(y)})" for x, y in points)
    return GAP.join((layer, what, " ".join(places)))


def _thousandth(value: float) -> str:
    """Round halves up, whatever floating point did to them: sixteenths end in one."""
    return f"{floor(1000 * value + 0.5001) / 1000:.3f}".rstrip("0").rstrip(".")
