"""Draw the lines at which a drawing is divided, and say what is beyond them.

In:  a part of a `Drawing`, the windows of all parts.   Out: `Ink`; what a match line
had better not meet.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
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
    whole_lengths,
    width_of,
    wrap,
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
NEAR = 0.8
"""A line so near to lettering, in its heights, belongs to it: a string, a leader."""
OFF = 0.3
"""Lettering that is broken into lines keeps so many of its heights off other lines."""
PITCH = 1.6
"""From line to line of it, in its heights."""
FURTHER = 8
"""Lettering is moved so many heights further off a match line, where it must be."""


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


def off_match_lines(part: Drawing) -> Drawing:
    """Move lettering that juts over a match line along itself, off it, where it may.

    It keeps beside the lines that it belongs to, and comes on no other, nor on other
    lettering. What has no room so, and stands by itself, is broken into lines where
    these have.
    """
    if part.part is None:
        return part
    lines = shapely.STRtree([shapely.LineString(line) for line in every_line(part)])
    ink, bubbles = list(part.ink), list(bubbles_on(part))
    for place, words in enumerate(part.ink):
        if not isinstance(words, Words) or words.angle_deg not in (0.0, 90.0):
            continue
        box, axis = box_of(words, part.scale), int(words.angle_deg == 90.0)
        if any(overlap(box, other) for other in bubbles):
            continue
        window = part.part.window
        ways = [[one] for one in _along(words, box, axis, window, part.scale)]
        if not ways:
            continue
        rest = replace(part, ink=(*ink[:place], *ink[place + 1 :]))
        others = tuple(other for _, other in lettering_of(rest))
        beside = _Beside(window, part.scale, lines, others, words)
        found = next(filter(beside.has_room, ways), None)
        if found is None and not (axis or words.column or beside.near):
            found = next(filter(beside.has_lines, _in_lines(words, beside)), None)
        if found is not None:
            ink[place] = found[0]
            ink += found[1:]
    return replace(part, ink=tuple(ink))


@dataclass(frozen=True)
class _Beside:
    """What lettering that juts over a match line makes way for.

    Attributes:
        window: of its part.
        scale: of the drawing.
        lines: of the part.
        others: where its other lettering stands.
        words: it, where it stands now.
    """

    window: Box
    scale: float
    lines: shapely.STRtree
    others: tuple[Box, ...]
    words: Words

    @property
    def near(self) -> set[int]:
        """The lines that it belongs to."""
        unit = self.words.height_on_paper * self.scale
        return set(_lines_near(box_of(self.words, self.scale), self.lines, NEAR * unit))

    def has_room(self, moved: list[Words], off: float = 0.0) -> bool:
        """Whether lettering is clear there, so far off lines, beside those it was."""
        near, unit = set[int](), self.words.height_on_paper * self.scale
        for words in moved:
            box = box_of(words, self.scale)
            left, bottom, right, top = self.window
            is_inside = left < box[0] and box[2] < right
            is_inside = is_inside and bottom < box[1] and box[3] < top
            if not is_inside or any(overlap(box, x) for x in self.others):
                return False
            if _lines_near(box, self.lines, off * unit):
                return False
            near |= set(_lines_near(box, self.lines, NEAR * unit))
        return near >= self.near

    def has_lines(self, broken: list[Words]) -> bool:
        """Whether there is room for lines: they keep off what is beside them."""
        return self.has_room(broken, OFF)


def _along(
    words: Words, box: Box, axis: int, window: Box, scale: float
) -> Iterator[Words]:
    """Yield lettering moved along itself, off a match line and further."""
    unit = words.height_on_paper * scale
    up = window[axis] + BESIDE * unit - box[axis]
    down = box[axis + 2] + BESIDE * unit - window[axis + 2]
    if max(up, down) <= 0:
        return
    for more in range(FURTHER):
        by = up + more * unit if up > 0 else -down - more * unit
        at = words.at[0] + by * (1 - axis), words.at[1] + by * axis
        yield replace(words, at=at)


def _in_lines(words: Words, beside: _Beside) -> Iterator[list[Words]]:
    """Yield level lettering in lines about where it stands, or from there down."""
    height, text = words.height_on_paper, whole_lengths(words.text)
    widest = width_of(words.text, height)
    for count in (2, 3):
        lines = wrap(text, height, 1.15 * widest / count)
        if " ".join(lines) != words.text:
            # A word itself would be broken.
            continue
        for share in (0.5, 0.25, 0.0):
            first = share * (len(lines) - 1)
            downs = [PITCH * (n - first) * height for n in range(len(lines))]
            stacked = [
                replace(
                    words, text=line, at=(words.at[0], words.at[1] - y * beside.scale)
                )
                for line, y in zip(lines, downs, strict=True)
            ]
            boxes = [box_of(each, beside.scale) for each in stacked]
            around = min(x[0] for x in boxes), 0.0, max(x[2] for x in boxes), 0.0
            ways = [*_along(words, around, 0, beside.window, beside.scale)]
            for moved in ways or [words]:
                by = moved.at[0] - words.at[0]
                yield [replace(x, at=(x.at[0] + by, x.at[1])) for x in stacked]


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
