"""The kinds of ink: everything that a drawing may hold.

In:  nothing.   Out: `Drawing` and the marks that it holds.
Frame: a drawing's own lengths (full size), x right, y up; whatever is `on_paper` is
in the same lengths but measured on the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
Axis = Literal["x", "y"]
Ends = Literal["stroke", "arrow"]
"""What a dimension line ends in."""
Align = Literal["left", "centre", "right"]
Seat = Literal["foot", "middle", "top"]


@dataclass(frozen=True)
class Stroke:
    """A polyline, closed or not."""

    layer: str
    points: tuple[Point, ...]
    closed: bool = False


FILL_OPACITY = 0.25
"""A filled area is a tint, so that what stands on it can be read."""


@dataclass(frozen=True)
class Fill:
    """A tinted area (material cut in a section)."""

    layer: str
    points: tuple[Point, ...]


PatternName = Literal["DIAGONAL", "CROSSED", "CONCRETE", "BROKEN", "DOTTED"]
"""The hatches, by what they look like; their lines are in `hatching`."""


@dataclass(frozen=True)
class Hatch:
    """An area filled with the lines of a pattern.

    Attributes:
        inch: how long an inch of the pattern is, at full size.
        origin: where the pattern begins: areas of one origin match at their edges.
    """

    layer: str
    points: tuple[Point, ...]
    pattern: PatternName
    inch: float
    origin: Point = (0.0, 0.0)


@dataclass(frozen=True)
class Paint:
    """An area of one colour, for a picture without figures.

    Attributes:
        colour: `#rrggbb`; a tint that lets what is below it through, `#rrggbbaa`.
    """

    layer: str
    points: tuple[Point, ...]
    colour: str


@dataclass(frozen=True)
class Words:
    """One line of lettering; its height is the height of its capitals on the sheet.

    Attributes:
        column: how wide on paper the paragraph is that the line is of; 0 for none.
        goes_on: it goes on from the line before it, in one paragraph.
    """

    layer: str
    at: Point
    text: str
    height_on_paper: float
    align: Align = "left"
    seat: Seat = "foot"
    angle_deg: float = 0.0
    column: float = 0.0
    goes_on: bool = False


@dataclass(frozen=True)
class Tag:
    """An attribute of an insert; `words` letters it on the drawing, None hides it."""

    name: str
    text: str
    words: Words | None = None


@dataclass(frozen=True)
class Symbol:
    """A block, drawn about its own origin and inserted many times at full size."""

    name: str
    strokes: tuple[Stroke, ...]
    tag_names: tuple[str, ...] = ()


@dataclass(frozen=True)
class Insert:
    """A symbol placed at a point, with its tags filled in."""

    layer: str
    symbol: str
    at: Point
    tags: tuple[Tag, ...] = ()


@dataclass(frozen=True)
class Measure:
    """A dimension between two points, along one axis.

    Attributes:
        start, end: what is measured; extension lines begin at them.
        axis: "x" measures along x (the dimension line is level), "y" along y.
        line_at: the other coordinate of the dimension line.
        words: the figure as printed; its value equals the geometry as rounded.
        letter: where the words stand if they don't fit between the ends (their
            middle); None centres them above the line.
        upright: the words stand level even along y.
        has_leader: a thin line joins the dimension's middle to the words.
        ends: what the dimension line ends in; strokes if arrows have no room.
        is_fine: whether its figure is rounded to half of what others are: a size that
            somebody saws to.
        is_equal: whether its words are no figure: it is one of several equal gaps,
            whose count and sum stand beside the string.
    """

    layer: str
    start: Point
    end: Point
    axis: Axis
    line_at: float
    words: str
    height_on_paper: float
    letter: Point | None = None
    upright: bool = False
    has_leader: bool = False
    ends: Ends = "stroke"
    is_fine: bool = False
    is_equal: bool = False


Ink = Stroke | Fill | Hatch | Paint | Words | Insert | Measure


@dataclass(frozen=True)
class ViewPart:
    """A part of a view that is divided at match lines: its number, what it shows.

    Attributes:
        number: from 1 on.
        window: of the view, left, bottom, right and top.
        begun: of each string of dimensions that begins beyond it, where what is here
            of it begins, and where the string does: its figures are rounded from there.
    """

    number: int
    window: tuple[float, float, float, float]
    begun: tuple[tuple[Point, Point], ...] = ()


@dataclass(frozen=True, eq=False)
class Drawing:
    """One view: its ink at full size, and the symbols that the ink inserts.

    Two drawings are never equal, so that what was measured of one can be kept.

    Attributes:
        name: short and unique on its sheet, `elevation`.
        title: as lettered below the view; empty for tables and notes.
        scale: full-size lengths per paper length (8 for 1 1/2 in = 1 ft); the ink's
            offsets were reckoned for it.
        ink: in drawing order.
        symbols: every symbol that an `Insert` names, each once, sorted by name.
        part: which part of the view it is; None for the whole of it.
    """

    name: str
    title: str
    scale: float
    ink: tuple[Ink, ...]
    symbols: tuple[Symbol, ...] = ()
    part: ViewPart | None = None
