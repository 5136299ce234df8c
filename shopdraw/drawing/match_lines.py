"""Draw the lines at which a drawing is divided, and say what is beyond them.

In:  a part of a `Drawing`, the windows of all parts.   Out: `Ink`; what a match line
had better not meet.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import inf

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import bubbles_on, part_key, stand_in
from shopdraw.drawing.extents import about, every_line, extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Ink, Insert, Point, Stroke, Symbol, Words
from shopdraw.drawing.lettering import Box, box_of, overlap

Line = tuple[Point, ...]
BESIDE = 0.5
"""What is left free about a match line's name, in its height."""
BUBBLE = 12.0
"""How much more than a line of lettering a bubble counts that a match line cuts."""
NEAR = 0.8
"""A line so near to lettering, in its heights, belongs to it: a string, a leader."""
FURTHER = 8
"""Lettering is moved so many heights further off a match line, where it must be."""


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


def off_match_lines(part: Drawing) -> Drawing:
    """Move lettering that juts over a match line along itself, off it, where it may.

    It keeps beside the lines that it belongs to, and comes on no other, nor on other
    lettering.
    """
    if part.part is None:
        return part
    lines = shapely.STRtree([shapely.LineString(line) for line in every_line(part)])
    ink, bubbles = list(part.ink), list(bubbles_on(part))
    for place, words in enumerate(ink):
        if not isinstance(words, Words) or words.angle_deg not in (0.0, 90.0):
            continue
        box, axis = box_of(words, part.scale), int(words.angle_deg == 90.0)
        unit = words.height_on_paper * part.scale
        low, high = (part.part.window[n] for n in (axis, axis + 2))
        up = low + BESIDE * unit - box[axis]
        down = box[axis + 2] + BESIDE * unit - high
        if max(up, down) <= 0 or any(overlap(box, other) for other in bubbles):
            continue
        rest = replace(part, ink=(*ink[:place], *ink[place + 1 :]))
        others = [other for _, other in lettering_of(rest)]
        near = set(_lines_near(box, lines, NEAR * unit))
        for more in range(FURTHER):
            by = up + more * unit if up > 0 else -down - more * unit
            at = words.at[0] + by * (1 - axis), words.at[1] + by * axis
            moved = replace(words, at=at)
            there = box_of(moved, part.scale)
            is_clear = not _lines_near(there, lines, 0.0)
            is_clear = is_clear and near <= set(_lines_near(there, lines, NEAR * unit))
            is_inside = low < there[axis] and there[axis + 2] < high
            if is_inside and is_clear and not any(overlap(there, x) for x in others):
                ink[place] = moved
                break
    return replace(part, ink=tuple(ink))


def _lines_near(box: Box, lines: shapely.STRtree, far: float) -> list[int]:
    """Return which lines come so near to a box round lettering."""
    return list(lines.query(shapely.box(*box), "dwithin", far))


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
        lines += broken(drawing, (ends[0], ends[1]), unit)
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
