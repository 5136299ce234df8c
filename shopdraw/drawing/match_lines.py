"""Draw the lines at which a drawing is divided, and say what is beyond them.

In:  a part of a `Drawing`, the windows of all parts.   Out: `Ink`; what a match line
had better not meet.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import part_key, stand_in
from shopdraw.drawing.extents import about, every_line, extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Ink, Insert, Point, Stroke, Symbol, Words
from shopdraw.drawing.lettering import Box, box_of, overlap

Line = tuple[Point, ...]
BESIDE = 0.5
"""What is left free about a match line's name, in its height."""
BUBBLE = 12.0
"""How much more than a line of lettering a bubble counts that a match line cuts."""


def kept_whole(drawing: Drawing) -> Iterator[tuple[Box, float]]:
    """Yield what a match line had better not meet, and how much that counts."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    for ink in drawing.ink:
        if isinstance(ink, Insert):
            yield about(outline_of(ink, symbols)), 3.0
        # A ring among the notes is a bubble.
        elif isinstance(ink, Stroke) and ink.closed and ink.layer == layers.NOTES:
            yield about(ink.points), BUBBLE
    for _, box in lettering_of(drawing):
        yield box, 1.0


def outline_of(insert: Insert, symbols: dict[str, Symbol]) -> Iterator[Point]:
    """Yield the corners of a unit where it stands."""
    for stroke in symbols[insert.symbol].strokes:
        for x, y in stroke.points:
            yield x + insert.at[0], y + insert.at[1]


def match_lines(
    drawing: Drawing, windows: Sequence[Box], view: int, text: float
) -> Iterator[Ink]:
    """Draw a part's match lines as far as the part goes, and say what is beyond."""
    window = drawing.part.window if drawing.part else ()
    left, bottom, right, top = extent_of(drawing)
    unit = text * drawing.scale
    lines, named = list[Line](), list[tuple[str, tuple[float, float], int]]()
    for side, at in enumerate(window):
        if abs(at) == inf:
            continue
        along = 1 - side % 2
        first, last = (bottom, top) if along else (left, right)
        beyond = next(
            number
            for number, other in enumerate(windows, start=1)
            if other[(side + 2) % 4] == at and other[along] == window[along]
        )
        ends = [(at, y) if along else (y, at) for y in (first - unit, last + unit)]
        lines += _broken(drawing, (ends[0], ends[1]), unit)
        name = f"MATCH LINE, SEE {stand_in('part', part_key(view, beyond))}"
        named.append((name, (at, (first + last) / 2), side))
    yield from (Stroke(layers.MATCH, line) for line in lines)
    struck = shapely.STRtree(
        [shapely.LineString(x) for x in (*every_line(drawing), *lines)]
    )
    for name, place, side in named:
        yield _named(name, place, side, (drawing, text), struck)


def _named(
    name: str,
    at: tuple[float, float],
    side: int,
    on: tuple[Drawing, float],
    lines: shapely.STRtree,
) -> Words:
    """Letter a match line along it, beyond it, as near as no ink is there.

    Args:
        name: the words.
        at: where the line lies, and its middle.
        side: of the part, as its window has them.
        on: the part, and the height of lettering.
        lines: every line of the part, match lines too.
    """
    drawing, text = on
    level, middle = at
    taken = [box for box, _ in kept_whole(drawing)]
    unit, out = text * drawing.scale, -1.0 if side < 2 else 1.0
    turned = 0.0 if side % 2 else 90.0
    off = 1.2
    while True:
        where = level + out * off * unit
        spot = (middle, where) if side % 2 else (where, middle)
        words = Words(layers.NOTES, spot, name, text, "centre", "middle", turned)
        box = box_of(words, drawing.scale)
        around = shapely.box(*box).buffer(BESIDE * unit, join_style="mitre")
        is_struck = len(lines.query(around, "intersects")) > 0
        if not is_struck and not any(overlap(box, other) for other in taken):
            return words
        off += 0.5


def _broken(drawing: Drawing, ends: tuple[Point, Point], unit: float) -> Iterator[Line]:
    """Yield a match line without what would strike lettering."""
    whole = shapely.LineString(ends)
    boxes = [
        shapely.box(*box).buffer(0.3 * unit, join_style="mitre")
        for _, box in lettering_of(drawing)
    ]
    left = whole.difference(shapely.union_all(boxes)) if boxes else whole
    for part in shapely.get_parts(left):
        if part.length > unit:
            yield tuple((x, y) for x, y in part.coords)
