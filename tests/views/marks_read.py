"""Read the marks of pieces off a drawing, as whoever holds the sheet does.

Nothing here asks the program where it put a mark: a mark is lettering that lies on a
piece, or stands at a leader that ends on one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from math import cos, hypot, radians, sin

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Insert, Stroke, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.masonry.wall.layout import Outline, Piece

LED = re.compile(
    r"(\(?[A-Z]+\d*(?:-[LR])?\)?)"
    r"(?:, (?:(ALTERNATE )?COURSES (.+)|(\d+) SIDE BY SIDE))?"
)
SLACK = 1e-6
Shown = tuple[Piece, Outline, shapely.Polygon]


def without_mark(
    drawing: Drawing, pieces: Iterable[Piece], face: str, dx: float, least: float
) -> list[str]:
    """Return the IDs of the pieces on a face that a drawing leaves without a mark.

    Args:
        drawing: what is read.
        pieces: all that may be on it.
        face: which one it shows.
        dx: how far the drawing has moved the pieces.
        least: the height, on paper, below which lettering can't be read.
    """
    shown = list(_shown(pieces, face, dx))
    lettered = [x for x in _marks(drawing) if x.height_on_paper >= least - SLACK]
    led = set(_led(drawing, shown, least))
    return [
        piece.id
        for piece, outline, shape in shown
        if not is_whole(piece)
        and (piece.id, outline) not in led
        and not any(
            words.text == said(piece, outline)
            and shape.buffer(SLACK).contains(_box(words, drawing.scale))
            for words in lettered
        )
    ]


def is_whole(piece: Piece) -> bool:
    """Whether the legend's rule for whole brick covers a piece."""
    if piece.kind in ("corner unit", "soldier corner unit", "voussoir", "keystone"):
        return False
    return not (piece.is_cut or piece.is_trimmed or piece.is_made)


def said(piece: Piece, outline: Outline) -> str:
    """Return how the legend has a piece's mark: in brackets on the other face."""
    return piece.mark if outline == piece.outlines[0] else f"({piece.mark})"


def _shown(pieces: Iterable[Piece], face: str, dx: float) -> Iterator[Shown]:
    for piece in pieces:
        for outline in piece.outlines:
            if outline.face == face:
                ring = [(float(x) + dx, float(y)) for x, y in outline.points]
                yield piece, outline, shapely.Polygon(ring)


def _marks(drawing: Drawing) -> Iterator[Words]:
    for ink in drawing.ink:
        if isinstance(ink, Words) and ink.layer == layers.MARKS:
            yield ink
        elif isinstance(ink, Insert):
            yield from (tag.words for tag in ink.tags if tag.words is not None)


def _box(words: Words, scale: float) -> shapely.Polygon:
    """Return the box of lettering that is centred on its place."""
    assert (words.align, words.seat) == ("centre", "middle")
    wide = width_of(words.text, words.height_on_paper) * scale / 2
    high, turn = words.height_on_paper * scale / 2, radians(words.angle_deg)
    x, y = words.at
    return shapely.Polygon(
        [
            (x + a * cos(turn) - b * sin(turn), y + a * sin(turn) + b * cos(turn))
            for a, b in ((-wide, -high), (wide, -high), (wide, high), (-wide, high))
        ]
    )


def _led(
    drawing: Drawing, shown: list[Shown], least: float
) -> Iterator[tuple[str, Outline]]:
    """Yield the pieces that leaders name: those they end on, and those in a column."""
    lines = [
        x.points for x in drawing.ink if isinstance(x, Stroke) and len(x.points) == 2
    ]
    for words in drawing.ink:
        if not isinstance(words, Words) or words.height_on_paper < least - SLACK:
            continue
        read = LED.fullmatch(words.text)
        if read is None:
            continue
        near = words.height_on_paper * drawing.scale
        ends = [a for a, b in lines if _off(b, words.at) < near]
        for spot in map(shapely.Point, ends):
            hit = [x for x in shown if x[2].contains(spot) and said(*x[:2]) == read[1]]
            for _, outline, shape in hit:
                if read[4]:
                    run = _side_by_side(shape, read[1], shown)
                    yield from run if len(run) == int(read[4]) else ()
                    continue
                named = courses_of(read[3], step=2 if read[2] else 1)
                for piece, other, place in shown:
                    if said(piece, other) != read[1]:
                        continue
                    is_it = other is outline
                    if is_it or (piece.course in named and _over(place, shape)):
                        yield piece.id, other


def _side_by_side(
    shape: shapely.Polygon, mark: str, shown: list[Shown]
) -> list[tuple[str, Outline]]:
    """Return the voussoirs of a mark that go on from one, each a joint off the last."""
    alike = [x for x in shown if x[0].kind == "voussoir" and said(*x[:2]) == mark]
    found = [x for x in alike if x[2] is shape]
    for _, _, one in found:
        # A joint is narrower than half a brick is wide.
        (a, b, c, _) = shapely.oriented_envelope(one).exterior.coords[:4]
        near = min(_off(a, b), _off(b, c)) / 2
        found += [
            x
            for x in alike
            if one.distance(x[2]) < near and not any(x is y for y in found)
        ]
    return [(piece.id, outline) for piece, outline, _ in found]


def courses_of(words: str | None, step: int) -> set[int]:
    """Read which courses are named: `3, 5, 7`, or `3 TO 9` by so many."""
    if words is None:
        return set()
    if " TO " in words:
        first, last = map(int, words.split(" TO "))
        return set(range(first, last + 1, step))
    return {int(x) for x in words.split(", ")}


def _off(a: tuple[float, float], b: tuple[float, float]) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _over(one: shapely.Polygon, other: shapely.Polygon) -> bool:
    (a, _, b, _), (c, _, d, _) = one.bounds, other.bounds
    return bool(min(b, d) - max(a, c) > 0)
