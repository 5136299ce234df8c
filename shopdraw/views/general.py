"""Draw what a set says of itself: the index of its sheets, the legend of its lines.

In:  `Solution`, what is on each sheet.   Out: `Drawing`s.
Frame: as tables have it: the origin is the upper left corner.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from shopdraw.drawing import layers
from shopdraw.drawing.hatching import PATTERNS
from shopdraw.drawing.ink import Drawing, Fill, Ink, Point, Stroke, Words
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.drawing.tables import Column, Table
from shopdraw.masonry.wall.layout import CORNER_KINDS, FLAT_KINDS
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import DOT
from shopdraw.views.brick.marks import goes_unmarked
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
WIDE = 10.0
"""How wide a sample is, in heights of lettering."""
Sample = tuple[str, str]


def index_table(sheets: Sequence[tuple[str, str]], blank: int = 0) -> Table:
    """List the numbers and titles of all sheets, with so many blank rows after them."""
    columns = (Column("SHEET"), Column("WHAT IS ON IT"))
    rows = (*sheets, *(("", ""),) * blank)
    return Table("index", "SHEETS OF THIS SET", columns, rows)


def draw_legend(solution: Solution, scale: float) -> Drawing:
    """Draw a sample of every kind of line and hatch, and say what it stands for."""
    style = STYLES[solution.lengths]
    height, hand = style.text, Hand(solution.lengths, scale)
    head = 1.35 * height
    ink: list[Ink] = [Words(layers.NOTES, (0, -head * scale), "LEGEND", head)]
    y = -head - 2.4 * height
    for layer, words in _lines(solution):
        ink += _sample(layer, (0.0, y * scale), hand)
        at = ((WIDE + 2) * height * scale, y * scale)
        ink.append(Words(layers.NOTES, at, words, height, "left", "middle"))
        y -= 2.2 * height
    for mark, words in _marks(solution):
        ink += _marked((0.0, y * scale), mark, style, scale)
        at = ((WIDE + 2) * height * scale, y * scale)
        ink.append(Words(layers.NOTES, at, words, height, "left", "middle"))
        y -= 2.2 * height
    return Drawing(LEGEND, "", scale, tuple(ink))


BREAK = "break"


def _lines(solution: Solution) -> Iterator[Sample]:
    """Yield each kind of line that the set has, and what it stands for."""
    kinds = {piece.kind for piece in solution.pieces}
    yield layers.OUTLINE, "EDGE OF A FACE OR OF THE OPENING"
    yield layers.UNITS, "BRICK"
    if kinds & {*CORNER_KINDS}:
        yield layers.CORNERS, "CORNER UNIT"
    if any(piece.is_cut for piece in solution.pieces):
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


def _marks(solution: Solution) -> Iterator[Sample]:
    """Yield the rules for marks that the set uses: a mark, and what it means there.

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
    yield f"{LED}{mark}", "NO ROOM: ON A LEADER; FOR LIKE PIECES ABOVE, ITS COURSES"


LED = ">"
"""Before a mark that stands on a leader."""


def _marked(at: Point, mark: str, style: PaperStyle, scale: float) -> Iterator[Ink]:
    """Draw a brick with its mark within, or on a leader."""
    (x, y), text = at, style.text * scale
    wide, high = WIDE * text, 0.9 * text
    lettered = x + wide / 2, y
    if mark.startswith(LED):
        wide /= 3
        lettered = x + 2 * wide + text, y
        spot = x + wide / 2, y
        yield Stroke(layers.NOTES, (spot, (x + 2 * wide - 0.4 * text, y)))
        yield replace(dot(spot, DOT * text), layer=layers.NOTES)
    box = ring_of((x, y - high, x + wide, y + high))
    yield Stroke(layers.UNITS, box, closed=True)
    words = mark.removeprefix(LED)
    if words:
        yield Words(layers.MARKS, lettered, words, style.text, "centre", "middle")


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
    elif layer == layers.SECTION:
        yield Fill(layer, box)
        yield Stroke(layer, box, closed=True)
    elif layer in (layers.UNITS, layers.CORNERS):
        yield Stroke(layer, box, closed=True)
    else:
        yield Stroke(layer, ((x, y), (x + wide, y)))
