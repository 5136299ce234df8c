"""Draw woodwork over the opening in section, and what the rule set allows of it.

In:  `Solution`, `Through`.   Out: ink.
Frame: as the section through the opening.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shopdraw.drawing import layers
from shopdraw.drawing.dimensions import levels_used
from shopdraw.drawing.ink import Ink, Measure, Point, Stroke
from shopdraw.drawing.lettering import Box, plain
from shopdraw.drawing.measures import runs_through
from shopdraw.job.model_around import TrimTable
from shopdraw.lengths import format_length
from shopdraw.review.envelope import Corner, Envelope
from shopdraw.review.findings import Finding, Key, in_words
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import Hand, break_line, dot
from shopdraw.views.parts.heights import HeightColumn, stand_clear
from shopdraw.views.parts.phrases import in_lines
from shopdraw.views.section.through import STEP, Through

KEYED: tuple[tuple[Key, str], ...] = (
    ("trim-distance", "distance"),
    ("trim-projection", "projection"),
)
"""The findings that are lettered beside woodwork, and their names there."""
BENDS = 12
"""So many places are tried for the bend of a leader."""
ABOVE = 3.0
"""So far above a string, in heights of lettering, a leader may pass it."""
ASLANT = 0.5
"""So steeply a leader to a line rises or falls: none takes it for an extension line.
Our own: no published source."""


@dataclass(frozen=True)
class Block:
    """A note, and where its leader may end.

    Attributes:
        points: of which it is led to one: the first, unless it crosses fewer level
            lines to another.
        lines: what it says.
        lift: so far above its point a note's line had best stand, for the leader to
            run down aslant, where the points lie on a line among others.
    """

    points: tuple[Point, ...]
    lines: tuple[str, ...]
    lift: float = 0.0


def draw_woodwork(trim: TrimTable, reach: float) -> Iterator[Ink]:
    """Draw a piece of woodwork in section, step by step from its underside up."""
    low, high = float(trim.bottom), float(trim.bottom + trim.height)
    steps = [(float(s.reach), float(s.projection)) for s in trim.steps]
    if not steps:
        steps = [(high - low, float(trim.furthest))]
    points: list[Point] = [(reach, low)]
    level = low
    for place, (up, out) in enumerate(steps):
        last = place == len(steps) - 1
        points.append((-out, level))
        level = high if last else level + up
        points.append((-out, level))
    yield Stroke(layers.OTHERS, (*points, (reach, high)), closed=True)


def draw_envelope(envelope: Envelope, at: Through, hand: Hand) -> Iterator[Ink]:
    """Draw how far woodwork may stand out, by its distance from the opening."""
    over = float(at.over)
    corners = tuple((-float(out), over + float(up)) for up, out in envelope.corners)
    foot = (0.0, corners[0][1])
    yield Stroke(layers.HIDDEN, (foot, *corners))
    end = corners[-1]
    if envelope.reach is None:
        yield break_line(end, (end[0] - 3.0 * hand.text, end[1]), 0.5 * hand.text)


def measure_allowed(
    at: Through, props: tuple[Measure, ...], levels: Sequence[float], hand: Hand
) -> tuple[list[Ink], list[Block], float]:
    """Dimension what the rule set allows over the opening, nearest to the brick.

    Args:
        at: what is shown.
        props: the string that stands below this one.
        levels: the level lines that cross what is allowed.
        hand: for the sizes on paper.

    Returns:
        the ink; the note that belongs to it; where notes may end, past its figures.
    """
    ink: list[Ink] = [*props]
    notes: list[Block] = []
    x, beside = at.before, props
    if at.envelope is not None:
        ends = tuple(at.over + up for up, _ in at.envelope.corners)
        string = hand.string("y", (at.over, *ends), x)
        ink += string
        beside = (*props, *string)
        for up, out in at.envelope.corners:
            level = float(at.over + up)
            line = (x - 1.4 * hand.text, level), (-float(out), level)
            ink.append(Stroke(layers.LEVELS, line))
        points, said = (
            _middles(at.envelope, at, levels),
            _allowed(at.envelope, at, hand),
        )
        # Past the string's figure, and short of its end.
        notes.append(Block(points, said, float(ends[1] - ends[0]) / 4))
    return (
        ink,
        notes,
        x - max(3.2 * hand.text, _used(beside, x, hand) + 1.8 * hand.text),
    )


def _middles(
    envelope: Envelope, at: Through, levels: Sequence[float]
) -> tuple[Point, ...]:
    """Return the middles of what level lines leave of its slope, the longest first."""
    (low, near), (high, far) = ((float(x), float(y)) for x, y in envelope.corners)
    if high == low:
        return ((-near, float(at.over) + low),)
    cuts = (level - float(at.over) for level in levels)
    stops = sorted({low, high, *(up for up in cuts if low < up < high)})
    parts = sorted(pairwise(stops), key=lambda part: part[0] - part[1])
    middles = ((a + b) / 2 for a, b in parts)
    run = (far - near) / (high - low)
    return tuple((-near - run * (x - low), float(at.over) + x) for x in middles)


def measure_woodwork(at: Through, x: float, hand: Hand) -> tuple[list[Ink], float]:
    """Dimension how far woodwork is from the opening's top, from `x` outward.

    Returns:
        the ink, and where the next string may stand.
    """
    ink: list[Ink] = []
    last = x
    for trim in at.trims:
        low = float(trim.bottom)
        ink.append(Stroke(layers.LEVELS, ((x, low), (-float(trim.furthest), low))))
        measures: tuple[Measure, ...] = ()
        if trim.bottom > at.over:
            measures = hand.string("y", (at.over, trim.bottom), x)
        ink += measures
        last = x
        x -= _step(measures, x, hand)
    if at.trims:
        over = float(at.over)
        ink.append(Stroke(layers.LEVELS, ((last, over), (0.0, over))))
    return ink, x


def nose_of(trim: TrimTable, at: Through, hand: Hand) -> Point:
    """Return a point in a piece of woodwork, just behind what stands out furthest.

    Where that goes on above the string of what is allowed, it is led to above it.
    """
    low, out = float(trim.bottom), float(trim.furthest)
    high = low + float(trim.height)
    for step in trim.steps:
        if step.projection == trim.furthest:
            high = low + float(step.reach)
            break
        low += float(step.reach)
    if at.envelope is not None:
        string = float(at.over + max(up for up, _ in at.envelope.corners))
        if high - string > ABOVE * hand.text:
            low = max(low, string)
    return -out + min(0.6 * hand.text, out / 2), (low + high) / 2


def _step(measures: tuple[Measure, ...], x: float, hand: Hand) -> float:
    """Return how far from a string the next one stands, past its figures."""
    return max(STEP * hand.text, _used(measures, x, hand) + 3.0 * hand.text)


def _used(measures: tuple[Measure, ...], x: float, hand: Hand) -> float:
    """Return how far from a string its figures reach."""
    return levels_used(measures, x, hand.scale) * hand.scale


def _allowed(envelope: Envelope, at: Through, hand: Hand) -> tuple[str, ...]:
    """Say what the envelope is, and where it ends."""
    lengths = hand.lengths

    def said(corner: Corner) -> str:
        up, out = (format_length(x, lengths) for x in corner)
        return f"{out} AT {up}"

    first, last = envelope.corners
    least = format_length(envelope.least, lengths)
    by = "BROKEN LINE: HOW FAR WOODWORK MAY STAND OUT BY", f"{plain(envelope.source)}:"
    lines = [
        # In narrow lines its own ends would be left over.
        *([" ".join(by)] if at.is_narrow else by),
        f"NONE THAT BURNS WITHIN {least};",
        f"{said(first)}, {said(last)}",
    ]
    if envelope.reach is not None:
        reach = format_length(envelope.reach, lengths)
        lines = [
            f"PAST {reach} NOT LIMITED BY THIS RULE; OTHER RULES MAY LIMIT IT.",
            *lines,
        ]
    return tuple(part for line in lines for part in in_lines(line.upper(), at.wide))


def findings_of(
    solution: Solution, trim: TrimTable, at: Through, hand: Hand
) -> tuple[str, ...]:
    """Letter a piece's distance and projection, each with its limit."""
    place = solution.job.trim.index(trim) + 1
    lines = [plain(trim.name).upper()]
    for key, what in KEYED:
        finding = solution.finding(key, place)
        if finding is not None:
            lines.append(_asked(finding, what, hand, most=what == "projection"))
    if at.is_narrow:
        lines = [part for line in lines for part in in_lines(line, at.wide)]
    return tuple(lines)


def _asked(finding: Finding, what: str, hand: Hand, *, most: bool) -> str:
    """Letter one clearance: its figure, its limit, and whether it passed."""
    found, limit = finding.measured, finding.limit
    words = what.upper()
    if found is not None:
        words += f" {in_words(found, hand.lengths, up=most).upper()}"
    if limit is not None:
        word = "MAX" if most else "MIN"
        words += f" ({word} {in_words(limit, hand.lengths, up=not most).upper()})"
    return f"{words}: {finding.status.upper()}"


def lead_left(
    blocks: Sequence[Block],
    x: float,
    there: tuple[Sequence[Box], tuple[float, ...]],
    lowest: float,
    hand: Hand,
) -> Iterator[Ink]:
    """Letter a column of notes that ends at `x`, each with a leader to its point.

    The highest note stands above the level of its point, the others hang from theirs as
    far as there is room; all stand higher where the last would go below the lowest
    level. A leader bends where it runs through no figure, if it can. One
    that would cross level lines goes to another of its note's points, if there is one.

    Args:
        blocks: the notes.
        x: where their longest line ends.
        there: the figures beside them, and the level lines that run across them.
        lowest: that level.
        hand: the sizes on paper.
    """
    figures, levels = there
    pitch, last = 1.8 * hand.text, float("inf")
    ordered = sorted(blocks, key=lambda block: -block.points[0][1])
    wanted = list[tuple[float, float]]()
    for place, block in enumerate(ordered):
        level, deep = block.points[0][1] + block.lift, (len(block.lines) - 1) * pitch
        first = level if place else level + deep
        wanted.append((min(first, last - 1.4 * pitch), deep))
        last = wanted[-1][0] - deep
    low = lowest
    for place, (first, deep) in reversed([*enumerate(wanted)]):
        wanted[place] = max(first, low + deep), deep
        low = wanted[place][0] + 1.4 * pitch
    column = HeightColumn(levels, hand.text, 1.4 * pitch, lowest)
    stand = stand_clear(wanted, column)
    for place, block in enumerate(ordered):
        lines = block.lines
        led = len(lines) - 1 if place == 0 else 0
        y = stand[place] - led * pitch
        point = min(block.points, key=lambda end: _between(y, end[1], levels))
        left = x - max(hand.width(line) for line in lines)
        start = left + hand.width(lines[led]) + 0.6 * hand.text
        near = (x + 1.6 * hand.text, y)
        steep = ASLANT if block.lift else 0.0
        leader = (start, y), *_way(near, point, figures, hand.text, steep)
        yield Stroke(layers.DIMENSIONS, tuple(dict.fromkeys(leader)))
        yield dot(point, 0.25 * hand.text)
        for row, line in enumerate(lines):
            yield hand.caption((left, stand[place] - row * pitch), line, "left")


def _between(low: float, high: float, levels: Sequence[float]) -> int:
    """Count the levels that a leader from one height to another crosses."""
    low, high = min(low, high), max(low, high)
    return sum(low < level < high for level in levels)


def _way(
    near: Point, point: Point, figures: Sequence[Box], text: float, steep: float
) -> tuple[Point, ...]:
    """Return a leader from beside its note to its point, through the fewest figures.

    It goes to a level beside the note, along it, and on to the point: by preference
    the note's own level, then the point's, then one between the figures. The last of
    it rises or falls by `steep` times its run, or more.
    """
    far = near[0] + (point[0] - near[0]) * (1 - 1 / BENDS)
    between = (point[1] + sign * n * text for n in range(1, BENDS) for sign in (1, -1))
    tried = [
        (near, (near[0], y), (near[0] + share / BENDS * (far - near[0]), y), point)
        for y in (near[1], point[1], *between)
        for share in range(BENDS + 1)
    ]
    tried = [way for way in tried if _is_steep(way[-2], point, steep)]

    def struck(way: tuple[Point, ...]) -> int:
        return sum(runs_through(x, box) for x in pairwise(way) for box in figures)

    return next((way for way in tried if not struck(way)), None) or min(
        tried, key=struck
    )


def _is_steep(bend: Point, end: Point, steep: float) -> bool:
    return abs(end[1] - bend[1]) >= steep * abs(end[0] - bend[0])
