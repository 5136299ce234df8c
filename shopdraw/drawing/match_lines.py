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
from shopdraw.drawing.bubbles import bubbles_on, part_key, stand_in
from shopdraw.drawing.extents import about, every_line, extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Ink, Insert, Point, Stroke, Symbol, Words
from shopdraw.drawing.lettering import (
    Box,
    box_of,
    overlap,
    width_of,
)

Line = tuple[Point, ...]
Place = tuple[float, float, float]
"""Where a match line lies, and between which ends."""
SHARES = 0.0, -0.25, 0.25, -0.5, 0.5
"""How far from the line's middle its name is tried, of the room that it leaves."""
ARROW = 3
"""A bubble's arrow is drawn through so many points."""
BESIDE = 0.5
"""What is left free about a match line's name, in its height."""
BUBBLE = 12.0
"""How much more than a line of lettering a bubble counts that a match line cuts."""


def kept_whole(drawing: Drawing) -> Iterator[tuple[Box, float]]:
    """Yield what a match line had better not meet, and how much that counts."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    bubbles = list(bubbles_on(drawing))
    for ink in drawing.ink:
        if isinstance(ink, Insert):
            yield about(outline_of(ink, symbols)), 3.0
        elif isinstance(ink, Stroke) and _is_of_bubble(ink, bubbles):
            yield about(ink.points), BUBBLE
    for _, box in lettering_of(drawing):
        yield box, 1.0


def _is_of_bubble(stroke: Stroke, bubbles: list[Box]) -> bool:
    """Whether it is a bubble's ring, the only ring among the notes, or its arrow."""
    if stroke.layer != layers.NOTES:
        return False
    left, low, right, high = about(stroke.points)
    return stroke.closed or (
        len(stroke.points) == ARROW
        and any(
            a <= left and b <= low and right <= c and high <= d
            for a, b, c, d in bubbles
        )
    )


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
    lines, named = list[Line](), list[tuple[str, Place, int]]()
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
        lines += broken(drawing, (ends[0], ends[1]), unit)
        name = f"MATCH LINE, SEE {stand_in('part', part_key(view, beyond))}"
        named.append((name, (at, first, last), side))
    yield from (Stroke(layers.MATCH, line) for line in lines)
    struck = shapely.STRtree(
        [shapely.LineString(x) for x in (*every_line(drawing), *lines)]
    )
    for name, place, side in named:
        yield _named(name, place, side, (drawing, text), struck)


def _named(
    name: str,
    at: Place,
    side: int,
    on: tuple[Drawing, float],
    lines: shapely.STRtree,
) -> Words:
    """Letter a match line along it, beyond it, as near as no ink is there.

    It stands at the line's middle, or else nearer to an end: further off it would be
    read as the name of something else.

    Args:
        name: the words.
        at: where the line lies, and its ends.
        side: of the part, as its window has them.
        on: the part, and the height of lettering.
        lines: every line of the part, match lines too.
    """
    drawing, text = on
    level, first, last = at
    taken = [box for box, _ in kept_whole(drawing)]
    unit, out = text * drawing.scale, -1.0 if side < 2 else 1.0
    turned = 0.0 if side % 2 else 90.0
    spare = max(0.0, last - first - width_of(name, text) * drawing.scale)
    off = 1.2
    while True:
        for share in SHARES:
            where, middle = level + out * off * unit, (first + last) / 2 + share * spare
            spot = (middle, where) if side % 2 else (where, middle)
            words = Words(layers.NOTES, spot, name, text, "centre", "middle", turned)
            box = box_of(words, drawing.scale)
            around = shapely.box(*box).buffer(BESIDE * unit, join_style="mitre")
            is_struck = len(lines.query(around, "intersects")) > 0
            if not is_struck and not any(overlap(box, other) for other in taken):
                return words
        off += 0.5


def broken(drawing: Drawing, ends: tuple[Point, Point], unit: float) -> Iterator[Line]:
    """Yield a line without what would strike lettering, and short of that.

    Args:
        drawing: with the lettering.
        ends: of the line.
        unit: the height of lettering; no shorter piece of the line is left.
    """
    whole = shapely.LineString(ends)
    boxes = [
        shapely.box(*box).buffer(0.3 * unit, join_style="mitre")
        for _, box in lettering_of(drawing)
    ]
    left = whole.difference(shapely.union_all(boxes)) if boxes else whole
    for part in shapely.get_parts(left):
        if part.length > unit:
            yield tuple((x, y) for x, y in part.coords)
