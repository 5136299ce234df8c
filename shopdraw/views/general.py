"""Draw what a set says of itself: the index of its sheets, the legend of its lines.

In:  `Solution`, what is on each sheet.   Out: `Drawing`s.
Frame: as tables have it: the origin is the upper left corner.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import zip_longest
from math import ceil

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import RADIUS, SIDES, bubble
from shopdraw.drawing.chains import EQ
from shopdraw.drawing.extents import about
from shopdraw.drawing.hatching import PATTERNS
from shopdraw.drawing.ink import (
    Align,
    Drawing,
    Fill,
    Hatch,
    Ink,
    Insert,
    PatternName,
    Point,
    Stroke,
    Words,
)
from shopdraw.drawing.measures import runs_through
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.drawing.tables import MANY_ROWS, Column, Table
from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import FLAT_KINDS
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import DOT
from shopdraw.views.brick.marks import goes_unmarked
from shopdraw.views.parts.aslant import seen_from_front
from shopdraw.views.parts.clouds import scallops
from shopdraw.views.parts.figures import (
    UNKNOWN,
    Hand,
    break_line,
    dot,
    hatch,
    ring_of,
    wall_pattern,
)

LEGEND = "legend"
SHORT: PatternName = "CROSSED"
"""The hatch of what is short of what a rule asks for."""
WIDE = 10.0
"""How wide a sample is, in heights of lettering."""
ROW = 2.8
"""From sample to sample, in heights of lettering: each of brick clear of the next."""
CLOSE = 2.1
"""The same where a column is a sheet, so that the index goes on it, too."""
Sample = tuple[str, str]


def index_table(sheets: Sequence[tuple[str, str]], blank: int = 0) -> Table:
    """List the numbers and titles of all sheets, with so many blank rows after them.

    A long list goes on beside its first half, so that more goes below it on a sheet.
    """
    columns = (Column("SHEET"), Column("WHAT IS ON IT"))
    rows: tuple[tuple[str, ...], ...] = (*sheets, *(("", ""),) * blank)
    if len(rows) > MANY_ROWS:
        half = ceil(len(rows) / 2)
        pairs = zip_longest(rows[:half], rows[half:], fillvalue=("", ""))
        rows = tuple((*one, *other) for one, other in pairs)
        return Table("index", "SHEETS OF THIS SET", columns * 2, rows)
    return Table("index", "SHEETS OF THIS SET", columns, rows)


def draw_legend(
    solution: Solution, drawings: Iterable[Drawing], scale: float, row: float = ROW
) -> Drawing:
    """Draw a sample of each kind of line, area and hatch, and say what it stands for.

    Args:
        solution: for what the wall is made of, and the marks of its pieces.
        drawings: all views of the set: what is in none of them has no sample.
        scale: of the legend.
        row: from sample to sample, in heights of lettering.
    """
    kinds = set().union(*(kinds_of(each) for each in drawings))
    style = STYLES[solution.lengths]
    height, hand = style.text, Hand(solution.lengths, scale)
    head = 1.35 * height
    ink: list[Ink] = [Words(layers.NOTES, (0, -head * scale), "LEGEND", head)]
    y = -head - 2.4 * height
    for layer, words in _lines(solution):
        if layer not in kinds:
            continue
        ink += _sample(layer, (0.0, y * scale), hand)
        at = ((WIDE + 2) * height * scale, y * scale)
        ink.append(Words(layers.NOTES, at, words, height, "left", "middle"))
        y -= row * height
    for mark, words in _marks(solution, over=OVER in kinds):
        ink += _marked((0.0, y * scale), mark, style, scale)
        at = ((WIDE + 2) * height * scale, y * scale)
        ink.append(Words(layers.NOTES, at, words, height, "left", "middle"))
        y -= row * height
    if EQ in kinds:
        at = (WIDE / 2 * height * scale, y * scale)
        ink.append(Words(layers.NOTES, at, EQ, height, "centre", "middle"))
        at = ((WIDE + 2) * height * scale, y * scale)
        ink.append(Words(layers.NOTES, at, EQUAL, height, "left", "middle"))
        y -= row * height
    ink += _bubbled((0.0, (y - 2.2 * height) * scale), solution.job, style, scale)
    return Drawing(LEGEND, "", scale, tuple(ink))


EQUAL = "EQUAL AMONG THEMSELVES; COUNT AND SUM ARE GIVEN"
BREAK, TINT, CLOUD, OVER = "break", "tint", "cloud", "over"
KINK, DIAMOND = 6, 4
"""So many points a break line has, and the dot that a leader begins in."""


def kinds_of(drawing: Drawing) -> set[str]:
    """Return what a drawing has of what a legend explains.

    That is layers of lines, names of hatches, tints, breaks, clouds, what is lettered
    EQ, and leaders over brick that they don't name.
    """
    found = {x.layer for symbol in drawing.symbols for x in symbol.strokes}
    for ink in drawing.ink:
        if isinstance(ink, Hatch):
            found.add(ink.pattern)
        elif isinstance(ink, Fill):
            found.add(TINT if ink.layer == layers.PATTERN else ink.layer)
        elif isinstance(ink, Stroke):
            found.add(_kind_of(ink))
        elif isinstance(ink, Insert):
            found.add(ink.layer)
        elif isinstance(ink, Words) and EQ in ink.text.split():
            found.add(EQ)
    return found | ({OVER} if _leads_over_brick(drawing) else set())


def _leads_over_brick(drawing: Drawing) -> bool:
    """Whether the leader of a mark runs over brick that the mark isn't of."""
    sizes = {
        symbol.name: about(spot for each in symbol.strokes for spot in each.points)
        for symbol in drawing.symbols
    }
    boxes = [
        (x + left, y + low, x + right, y + high)
        for (left, low, right, high), (x, y) in (
            (sizes[ink.symbol], ink.at)
            for ink in drawing.ink
            if isinstance(ink, Insert)
        )
    ]
    lines = [
        x for x in drawing.ink if isinstance(x, Stroke) and x.layer == layers.NOTES
    ]
    dots = [about(x.points) for x in lines if x.closed and len(x.points) == DIAMOND]
    return any(
        runs_through((spot, end), (a, b, c, d))
        and not (a <= spot[0] <= c and b <= spot[1] <= d)
        for spot, end in (x.points for x in lines if len(x.points) == 2)
        if any(runs_through((spot, end), box) for box in dots)
        for a, b, c, d in boxes
    )


def _kind_of(line: Stroke) -> str:
    """Tell breaks and clouds from other lines of their layer."""
    if line.layer == layers.DIMENSIONS and len(line.points) == KINK:
        return BREAK
    if line.layer == layers.NOTES and line.closed and len(line.points) > SIDES:
        return CLOUD
    return line.layer


def _lines(solution: Solution) -> Iterator[Sample]:
    """Yield each kind of line that a set may have, and what it stands for."""
    yield layers.OUTLINE, "EDGE OF A FACE OR OF THE OPENING"
    yield layers.UNITS, "BRICK"
    yield layers.CORNERS, "CORNER UNIT"
    yield layers.CUTS, "SAWN EDGE"
    yield layers.SECTION, "BRICK CUT THROUGH BY A PLAN OR SECTION"
    wall = wall_pattern(solution.job)
    if wall != UNKNOWN:
        kind = solution.job.substrate.kind.upper()
        yield wall, f"WALL CUT THROUGH, {kind}, BY OTHERS"
    yield UNKNOWN, "CUT THROUGH, BY OTHERS, MATERIAL NOT GIVEN"
    yield BREAK, "GOES ON, NOT DRAWN FURTHER"
    yield layers.HIDDEN, "HIDDEN BEHIND, TEMPORARY, OR SAWN OFF"
    yield layers.LEVELS, "CENTRE LINE, LEVEL, DATUM"
    yield layers.OTHERS, "EXISTING, OR WORK BY OTHERS"
    yield layers.PATTERN, "WHERE THE SETTING BED ENDS"
    yield layers.FLOOR, "FLOOR BEYOND THE HEARTH, BY OTHERS"
    yield TINT, "HEARTH THAT THE RULE ASKS FOR"
    yield SHORT, "SHORT OF WHAT THE RULE ASKS FOR"
    yield CLOUD, "FAILED, BY ITS FINDING'S NUMBER; OR REVISED"
    yield layers.MATCH, "MATCH LINE: GOES ON WHERE IT SAYS"


def _marks(solution: Solution, *, over: bool) -> Iterator[Sample]:
    """Yield the rules for marks that the set uses: a mark, and what it means there.

    One of them is for leaders over other brick, where there are any.

    By these rules every piece is marked on its drawing.
    """
    pieces = solution.pieces
    if any(goes_unmarked(piece) for piece in pieces):
        yield "", "NO MARK: A WHOLE BRICK"
    marked = [piece for piece in pieces if not goes_unmarked(piece)]
    if not marked:
        return
    usual = [piece for piece in marked if piece.kind in FLAT_KINDS]
    mark = (*usual, *marked)[0].mark
    yield mark, "MARK: LIKE PIECES, AS IN THE CUT LIST"
    turned = [piece for piece in marked if len(piece.outlines) > 1]
    if turned:
        yield f"({turned[0].mark})", "IN BRACKETS: COUNTED ON THE OTHER FACE"
    if any(seen_from_front(solution)):
        yield "", "SEEN ASLANT: MARKED ON THE VIEW OF ITS OWN FACE"
    yield f"{LED}{mark}", "NO ROOM: ON A LEADER; FOR LIKE PIECES ABOVE, ITS COURSES"
    if over:
        yield (
            f"{LED}{LED}{mark}",
            "CLOSED IN: OVER OTHER BRICK, FROM THE ONE WITH THE DOT",
        )


LED = ">"
"""Before a mark that stands on a leader; twice where it runs over another brick."""


def _marked(at: Point, mark: str, style: PaperStyle, scale: float) -> Iterator[Ink]:
    """Draw a brick with its mark within, or on a leader."""
    (x, y), text = at, style.text * scale
    wide, high = WIDE * text, 0.9 * text
    align: Align = "centre"
    lettered = x + wide / 2, y
    if mark.startswith(LED * 2):
        wide *= 0.28
        other = ring_of((x + 1.1 * wide, y - high, x + 2.1 * wide, y + high))
        yield Stroke(layers.UNITS, other, closed=True)
        lettered, align = (x + 2.5 * wide, y), "left"
        spot = x + wide / 2, y
        yield Stroke(layers.NOTES, (spot, (x + 2.5 * wide - 0.4 * text, y)))
        yield replace(dot(spot, DOT * text), layer=layers.NOTES)
    elif mark.startswith(LED):
        wide /= 3
        # However long a mark is, it begins clear of its leader.
        lettered, align = (x + 2 * wide, y), "left"
        spot = x + wide / 2, y
        yield Stroke(layers.NOTES, (spot, (x + 2 * wide - 0.4 * text, y)))
        yield replace(dot(spot, DOT * text), layer=layers.NOTES)
    box = ring_of((x, y - high, x + wide, y + high))
    yield Stroke(layers.UNITS, box, closed=True)
    words = mark.lstrip(LED)
    if words:
        yield Words(layers.MARKS, lettered, words, style.text, align, "middle")


def _bubbled(at: Point, job: Job, style: PaperStyle, scale: float) -> Iterator[Ink]:
    """Draw the mark of a view, and say what stands in it."""
    x, y = at[0] + WIDE / 2 * style.text * scale, at[1]
    parts = [*bubble(1, "drawn", (x, y), style.text, scale, sight_deg=180.0)]
    yield from (each for each in parts if not isinstance(each, Words))
    up = 0.45 * RADIUS * style.text * scale
    sheet = "2" if job.sheet.profile == "iso" else "A-201"
    beside = at[0] + (WIDE + 2) * style.text * scale
    for inside, says, level in (
        ("1", "A VIEW'S NUMBER; ARROW: THE WAY ONE LOOKS", y + up),
        (sheet, "THE SHEET WHERE IT IS DRAWN, OR CUT", y - up),
    ):
        yield Words(layers.NOTES, (x, level), inside, style.text, "centre", "middle")
        yield Words(layers.NOTES, (beside, level), says, style.text, "left", "middle")


def _sample(layer: str, at: Point, hand: Hand) -> Iterator[Ink]:
    """Draw a line, an area or a break, its middle at a level."""
    x, y = at
    wide, high = WIDE * hand.text, 0.7 * hand.text
    box = ring_of((x, y - high, x + wide, y + high))
    pattern = next((name for name in PATTERNS if name == layer), None)
    if pattern is not None:
        yield Stroke(layers.OTHERS, box, closed=True)
        yield hatch(box, pattern, hand)
    elif layer == BREAK:
        yield break_line((x, y), (x + wide, y), 0.8 * hand.text)
    elif layer == TINT:
        yield Fill(layers.PATTERN, box)
        yield Stroke(layers.HIDDEN, box, closed=True)
    elif layer == CLOUD:
        cloud = tuple(scallops(box, 1.2 * hand.text))
        yield Stroke(layers.NOTES, cloud, closed=True)
    elif layer == layers.SECTION:
        yield Fill(layer, box)
        yield Stroke(layer, box, closed=True)
    elif layer in (layers.UNITS, layers.CORNERS):
        yield Stroke(layer, box, closed=True)
    else:
        yield Stroke(layer, ((x, y), (x + wide, y)))
