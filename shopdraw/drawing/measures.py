"""Turn a dimension into lines, ticks and lettering, the same for every writer.

In:  `Measure` and its drawing's scale.   Out: lines, ticks, `Words`.
Frame: the drawing's own full-size lengths.
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot, radians, tan

from shopdraw.drawing.ink import Drawing, Ends, Measure, Point, Words
from shopdraw.drawing.lettering import Box, width_of

Line = tuple[Point, Point]
NOTHING = 1e-9
TICK_PEN_MM = 0.5
GAP = 0.6
"""From the work to its extension line, and from that past the dimension line."""
CLEAR = 0.3
"""How far a leader ends short of its figure, in heights of lettering."""
TICK = 0.4
"""How far a stroke reaches from the end of its line, in heights of the figure."""
ARROW, ARROW_DEG = 0.88, 30.0
"""How long an open arrow is, in heights of the figure, and how wide it opens."""
ARROWS = 8.0
"""A line must be so many ticks long for arrows; a shorter one ends in strokes."""


def letter_of(measure: Measure, scale: float) -> Words:
    """Return a dimension's figure as lettering."""
    turned = 90.0 if measure.axis == "y" and not measure.upright else 0.0
    if measure.letter is not None:
        at = measure.letter
    else:
        gap = 0.9 * measure.height_on_paper * scale
        if measure.axis == "x":
            at = ((measure.start[0] + measure.end[0]) / 2, measure.line_at + gap)
        else:
            at = (measure.line_at - gap, (measure.start[1] + measure.end[1]) / 2)
    return Words(
        layer=measure.layer,
        at=at,
        text=measure.words,
        height_on_paper=measure.height_on_paper,
        align="centre",
        seat="middle",
        angle_deg=turned,
    )


def with_arrows(drawing: Drawing) -> Drawing:
    """Return a drawing whose dimension lines end in arrows, if they have room."""
    ink = (
        replace(each, ends="arrow") if isinstance(each, Measure) else each
        for each in drawing.ink
    )
    return replace(drawing, ink=tuple(ink))


def follows(last: Measure, measure: Measure) -> bool:
    """Whether a dimension goes on where another ends, on one line: in one string."""
    return (
        last.axis == measure.axis
        and last.line_at == measure.line_at
        and last.end == measure.start
    )


def ends_of(measure: Measure) -> Line:
    """Return the two ends of the dimension line."""
    if measure.axis == "x":
        return (measure.start[0], measure.line_at), (measure.end[0], measure.line_at)
    return (measure.line_at, measure.start[1]), (measure.line_at, measure.end[1])


def ticks_of(measure: Measure, scale: float) -> tuple[Line, ...]:
    """Return the ends of the dimension line: slanting strokes, or open arrows."""
    height = measure.height_on_paper * scale
    first, last = ends_of(measure)
    if drawn_ends(measure, scale) == "arrow":
        along, long = (0 if measure.axis == "x" else 1), ARROW * height
        return (*_arrow(first, along, long), *_arrow(last, along, -long))
    tick = TICK * height
    return tuple(((x - tick, y - tick), (x + tick, y + tick)) for x, y in (first, last))


def drawn_ends(measure: Measure, scale: float) -> Ends:
    """Say what a dimension line ends in: arrows only if they have room."""
    first, last = ends_of(measure)
    along = 0 if measure.axis == "x" else 1
    room = ARROWS * TICK * measure.height_on_paper * scale
    return measure.ends if last[along] - first[along] > room else "stroke"


def _arrow(tip: Point, along: int, back: float) -> tuple[Line, Line]:
    """Return an open arrow so long, its tip at the end of the line."""
    aside = abs(back) * tan(radians(ARROW_DEG / 2))
    if along == 0:
        ends = ((tip[0] + back, tip[1] + aside), (tip[0] + back, tip[1] - aside))
    else:
        ends = ((tip[0] + aside, tip[1] + back), (tip[0] - aside, tip[1] + back))
    return (tip, ends[0]), (tip, ends[1])


def lines_of(measure: Measure, scale: float) -> list[tuple[Point, Point]]:
    """Return a dimension's lines: the line, its extension lines, its leader."""
    ends = ends_of(measure)
    gap = past = GAP * measure.height_on_paper * scale
    lines: list[tuple[Point, Point]] = [ends]
    for point, end in zip((measure.start, measure.end), ends, strict=True):
        length = hypot(end[0] - point[0], end[1] - point[1])
        if length > gap:
            unit = ((end[0] - point[0]) / length, (end[1] - point[1]) / length)
            start = (point[0] + unit[0] * gap, point[1] + unit[1] * gap)
            lines.append((start, (end[0] + unit[0] * past, end[1] + unit[1] * past)))
    lines += leader_of(measure, scale)
    return lines


def leader_of(measure: Measure, scale: float) -> list[Line]:
    """Return the leader from a dimension line to a figure that stands away from it."""
    if not measure.has_leader or measure.letter is None:
        return []
    (x, y), (far_x, far_y) = ends_of(measure)
    middle = ((x + far_x) / 2, (y + far_y) / 2)
    reach = (measure.letter[0] - middle[0], measure.letter[1] - middle[1])
    # It ends short of the letters, which lie across it, or along it where they are
    # level beside an upright line.
    height, length = measure.height_on_paper, max(hypot(*reach), 1e-9)
    wide = width_of(measure.words, height)
    off = _under_letters(measure, wide, reach)
    if measure.upright:
        off = wide / 2 + CLEAR * height
    short = 1 - off * scale / length
    if short <= 0:
        return []
    return [(middle, (middle[0] + reach[0] * short, middle[1] + reach[1] * short))]


def _under_letters(measure: Measure, wide: float, reach: Point) -> float:
    """Return, on paper, how much of a leader would lie under its own figure, or near.

    Args:
        measure: its figure lies along its line, not upright.
        wide: the figure's width on paper.
        reach: from the line's middle to the figure's.
    """
    along, across = (abs(x) for x in (reach if measure.axis == "x" else reach[::-1]))
    height = measure.height_on_paper
    off = CLEAR * height
    halves = (wide / 2 + off, along), (height / 2 + off, across)
    length = hypot(along, across)
    return min((half * length / way for half, way in halves if way > 1e-9), default=0.0)


def cross(one: Line, other: Line) -> bool:
    """Whether two lines cross, each inside the other's length."""

    def turns(line: Line, at: Point) -> float:
        (x, y), (far_x, far_y) = line
        return (far_x - x) * (at[1] - y) - (far_y - y) * (at[0] - x)

    return all(
        turns(line, across[0]) * turns(line, across[1]) < 0
        for line, across in ((one, other), (other, one))
    )


def runs_through(line: Line, box: Box) -> bool:
    """Whether any part of a line lies inside a box."""
    (x, y), (far_x, far_y) = line
    begin, end = 0.0, 1.0
    for at, reach, low, high in (
        (x, far_x - x, box[0], box[2]),
        (y, far_y - y, box[1], box[3]),
    ):
        if abs(reach) < NOTHING:
            if not low < at < high:
                return False
            continue
        enters, leaves = sorted(((low - at) / reach, (high - at) / reach))
        begin, end = max(begin, enters), min(end, leaves)
    return begin < end
