"""Move lettering that juts over a match line off it.

In:  a `Drawing`, the windows of its parts.   Out: it, its lettering moved.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain, product

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import bubbles_on
from shopdraw.drawing.columns import blocks_in, box_round, middles_of
from shopdraw.drawing.extents import every_line, extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import (
    LINES,
    Box,
    box_of,
    overlap,
    whole_lengths,
    width_of,
    wrap,
)
from shopdraw.drawing.match_lines import BESIDE, Line

NEAR = 0.8
"""A line so near to lettering, in its heights, belongs to it: a string, a leader."""
OFF = 0.2
"""Lettering that is broken into lines keeps so many of its heights off other lines."""
PITCH = 1.6
"""From line to line of it, in its heights."""
FURTHER = 8
"""Lettering is moved so many heights further off a match line, where it must be."""
DOWN = 12
"""And less than so many up or down, where it stands by itself."""
NARROWER = 0.95, 0.75
"""Lines one under another are broken to so much of the widest of them."""
SAID = 3.5
"""What is said below a string begins less than so many heights below its line."""
TIES = layers.NOTES, layers.DIMENSIONS
"""What lettering may belong to is on these layers."""


def off_match_lines(drawing: Drawing, windows: Sequence[Box]) -> Drawing:
    """Move lettering that juts over a match line along itself, off it, where it may.

    Lines one under another are moved as one. They keep beside the lines that they
    belong to, and come on no other, nor on other lettering; the end of their leader
    goes with them. What has no room so is broken into lines, or moved up or down, where
    it has, if it is at a leader or stands by itself; what is said below a string goes
    under the string's name. What has no room in its own window is put in another.

    Args:
        drawing: the whole of it.
        windows: of its parts.
    """
    ink, bubbles = list(drawing.ink), list(bubbles_on(drawing))
    middles = middles_of(drawing)
    for places in blocks_in(drawing):
        block = tuple(places.values())
        box, axis = box_round(block, drawing.scale), int(block[0].angle_deg == 90.0)
        middle = middles[id(block[0])]
        ordered = sorted(windows, key=lambda window: not holds(window, middle))
        unit = block[0].height_on_paper * drawing.scale
        is_bubbles = any(overlap(box, other) for other in bubbles)
        if is_bubbles or not any(_offsets(box, axis, ordered[0], unit)):
            continue
        so_far = replace(drawing, ink=tuple(ink))
        for window in ordered:
            held, led = _leader_of(block, so_far, window)
            kept = [x for n, x in enumerate(ink) if n not in places and n != held]
            rest = replace(drawing, ink=tuple(kept))
            beside = _Beside(rest, block, led, window)
            moved, leader = next(_ways(beside, box, axis), ([], None))
            if leader is not None:
                ink[held] = leader
            for place, words in zip(places, moved, strict=False):
                ink[place] = words
            ink += moved[len(places) :]
            if moved:
                break
    return replace(drawing, ink=tuple(ink))


def holds(window: Box, point: Point) -> bool:
    """Whether a point lies in a window."""
    return window[0] <= point[0] <= window[2] and window[1] <= point[1] <= window[3]


def _leader_of(
    block: Sequence[Words], drawing: Drawing, window: Box
) -> tuple[int, Stroke | None]:
    """Return the leader that ends at some lines' first, and its place in the ink.

    One that is cut off at a match line goes on beyond it, and stays as it is.
    """
    left, low, right, high = box_of(block[0], drawing.scale)
    unit = block[0].height_on_paper * drawing.scale
    for place, ink in enumerate(drawing.ink):
        if not isinstance(ink, Stroke) or ink.layer != layers.NOTES:
            continue
        if ink.closed or len(ink.points) != 2:
            continue
        (from_x, from_y), (x, y) = ink.points
        is_whole = holds(window, (from_x, from_y))
        gap = max(left - x, x - right)
        if is_whole and low < y < high and 0.0 < gap < NEAR * unit:
            return place, ink
    return -1, None


Way = tuple[list[Words], Stroke | None]
"""Lettering where it may be moved to, and its leader, if it has one."""


def _ways(beside: _Beside, box: Box, axis: int) -> Iterator[Way]:
    """Yield where lettering that juts over a match line has room off it."""
    block = beside.block
    is_own = holds(beside.window, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
    offsets = [*_offsets(box, axis, beside.window, beside.unit)]
    for by in offsets:
        moved = _moved(block, (by * (1 - axis), by * axis))
        is_there = beside.keeps_near(moved) and beside.has_room(moved, 0.0)
        if is_there and (is_own or beside.is_same_side(moved)):
            yield from beside.with_leader(moved)
    if axis or any(x.column for x in block):
        return
    is_free = not beside.near
    ups = [sign * n * beside.unit for n in range(1, DOWN) for sign in (-1, 1)]
    raised = (_moved(block, (by, up)) for up, by in product(ups, offsets))
    others = chain(
        _in_lines(beside) if is_free and len(block) == 1 else (),
        _under_name(beside),
        filter(beside.is_same_side, raised)
        if is_free and (len(block) > 1 or beside.led is not None)
        else (),
        _narrower(beside) if is_free and len(block) > 1 else (),
    )
    for moved in filter(beside.has_room, others):
        yield from beside.with_leader(moved)


def _moved(block: Sequence[Words], by: Point) -> list[Words]:
    return [replace(x, at=(x.at[0] + by[0], x.at[1] + by[1])) for x in block]


def _under_name(beside: _Beside) -> Iterator[list[Words]]:
    """Yield what is said below a string, with its name instead: under it."""
    block, unit = beside.block, beside.unit
    (x, y), height = block[0].at, block[0].height_on_paper
    for string in beside.lines_of(lambda ink: ink.layer == layers.DIMENSIONS):
        (left, level), (right, other) = string
        is_below = level == other and 0.0 < level - y < SAID * unit
        if not (is_below and min(left, right) < x < max(left, right)):
            continue
        for name in (tuple(x.values()) for x in blocks_in(beside.rest)):
            ys = [words.at[1] for words in name]
            is_at = min(ys) - 0.1 * unit < level < max(ys) + 0.1 * unit
            if name[0].align != "right" or not is_at:
                continue
            widest = max(width_of(words.text, height) for words in name)
            for lines in (
                [words.text for words in block],
                [y for x in block for y in wrap(whole_lengths(x.text), height, widest)],
            ):
                below = [
                    replace(
                        name[-1],
                        at=(name[-1].at[0], min(ys) - n * LINES * unit),
                        text=line,
                    )
                    for n, line in enumerate(lines, start=1)
                ]
                # A part that grows wider may fit at a smaller scale only.
                if box_round(below, beside.scale)[0] >= extent_of(beside.rest)[0]:
                    yield below


@dataclass(frozen=True)
class _Beside:
    """What lettering that juts over a match line makes way for.

    Attributes:
        rest: the drawing without it.
        block: it, a line or lines one under another, where it stands now.
        led: its leader, if it has one.
        window: that it is to stand in.
    """

    rest: Drawing
    block: tuple[Words, ...]
    led: Stroke | None
    window: Box

    @property
    def scale(self) -> float:
        """The scale of the drawing."""
        return self.rest.scale

    @cached_property
    def lines(self) -> shapely.STRtree:
        """All lines of the drawing."""
        return self._tree(lambda _: True)

    @cached_property
    def ties(self) -> shapely.STRtree:
        """Lines that lettering may belong to: strings, leaders."""
        return self._tree(lambda ink: ink.layer in TIES)

    @cached_property
    def walls(self) -> shapely.STRtree:
        """Lines that lettering is not moved across: neither these nor levels."""
        return self._tree(lambda ink: ink.layer not in (*TIES, layers.LEVELS))

    @cached_property
    def leaders(self) -> shapely.STRtree:
        """Leaders of other notes."""
        return self._tree(
            lambda ink: ink.layer == layers.NOTES and not getattr(ink, "closed", False)
        )

    @cached_property
    def others(self) -> tuple[Box, ...]:
        """Where other lettering stands."""
        return tuple(box for _, box in lettering_of(self.rest))

    def _tree(self, is_in: Callable[[Ink], bool]) -> shapely.STRtree:
        return shapely.STRtree([shapely.LineString(x) for x in self.lines_of(is_in)])

    def lines_of(self, is_in: Callable[[Ink], bool]) -> list[Line]:
        """Return the lines of some of the ink."""
        ink = tuple(x for x in self.rest.ink if is_in(x))
        return list(every_line(replace(self.rest, ink=ink)))

    @property
    def unit(self) -> float:
        """The height of the lettering."""
        return self.block[0].height_on_paper * self.scale

    @cached_property
    def near(self) -> set[int]:
        """The lines that it belongs to, but for its own leader."""
        return set() if self.led is not None else self._near(self.block)

    def _near(self, block: Sequence[Words]) -> set[int]:
        boxes = (box_of(words, self.scale) for words in block)
        found = (_lines_near(box, self.ties, NEAR * self.unit) for box in boxes)
        return set(chain.from_iterable(found))

    def keeps_near(self, moved: list[Words]) -> bool:
        """Whether lettering is beside the lines there that it belongs to."""
        return not self.near or self._near(moved) >= self.near

    def has_room(self, moved: list[Words], off: float = OFF) -> bool:
        """Whether lettering is clear there, so many of its heights off lines."""
        left, bottom, right, top = self.window
        for words in moved:
            box = box_of(words, self.scale)
            is_inside = left < box[0] and box[2] < right
            is_inside = is_inside and bottom < box[1] and box[3] < top
            if not is_inside or any(overlap(box, x) for x in self.others):
                return False
            if _lines_near(box, self.lines, off * self.unit):
                return False
        return True

    def with_leader(self, moved: list[Words]) -> Iterator[Way]:
        """Yield lettering moved, with its leader to its first line or its last.

        It meets no lettering on its way, and no other leader.
        """
        if self.led is None:
            yield moved, None
            return
        spot, (x, y) = self.led.points
        (was_x, was_y), boxes = self.block[0].at, [box_of(x, self.scale) for x in moved]
        for row in (moved[0], moved[-1]):
            points = spot, (x + row.at[0] - was_x, y + row.at[1] - was_y)
            line = shapely.LineString(points)
            struck = (line.intersects(shapely.box(*x)) for x in (*self.others, *boxes))
            if not any(struck) and not len(self.leaders.query(line, "crosses")):
                yield moved, replace(self.led, points=points)

    def is_same_side(self, moved: list[Words]) -> bool:
        """Whether no line but a level lies between where lettering was and is."""
        ends = (box_round(x, self.scale) for x in (self.block, moved))
        middles = [((a + c) / 2, (b + d) / 2) for a, b, c, d in ends]
        return not len(self.walls.query(shapely.LineString(middles), "intersects"))


def _offsets(box: Box, axis: int, window: Box, unit: float) -> Iterator[float]:
    """Yield how far lettering may be moved along itself, off a match line.

    Args:
        box: round the lettering.
        axis: 0 along x, 1 along y.
        window: that it is to stand in.
        unit: its height.
    """
    up = window[axis] + BESIDE * unit - box[axis]
    down = box[axis + 2] + BESIDE * unit - window[axis + 2]
    if max(up, down) <= 0:
        return
    for more in range(FURTHER):
        yield up + more * unit if up > 0 else -down - more * unit


def _narrower(beside: _Beside) -> Iterator[list[Words]]:
    """Yield lines one under another with the widest of them broken, from there down."""
    height = beside.block[0].height_on_paper
    widest = max(width_of(words.text, height) for words in beside.block)
    for share in NARROWER:
        lines, down = list[Words](), 0.0
        for words in beside.block:
            for n, text in enumerate(
                wrap(whole_lengths(words.text), height, share * widest)
            ):
                down += PITCH * beside.unit * (n > 0)
                at = words.at[0], words.at[1] - down
                lines.append(replace(words, text=text, at=at))
        around = box_round(lines, beside.scale)
        for by in [*_offsets(around, 0, beside.window, beside.unit)] or [0.0]:
            yield _moved(lines, (by, 0.0))


def _in_lines(beside: _Beside) -> Iterator[list[Words]]:
    """Yield level lettering in lines about where it stands, or from there down."""
    (words,) = beside.block
    height, text = words.height_on_paper, whole_lengths(words.text)
    widest = width_of(words.text, height)
    for count in (2, 3):
        lines = wrap(text, height, 1.15 * widest / count)
        if " ".join(lines) != words.text:
            # A word itself would be broken.
            continue
        for share in (0.5, 0.75, 0.25, 0.0):
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
            offsets = [*_offsets(around, 0, beside.window, beside.unit)]
            for by in offsets or [0.0]:
                yield _moved(stacked, (by, 0.0))


def _lines_near(box: Box, lines: shapely.STRtree, far: float) -> list[int]:
    """Return which lines come so near to a box round lettering."""
    return list(lines.query(shapely.box(*box), "dwithin", far))
