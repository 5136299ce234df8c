"""What a written drawing must be found to hold when it is read back.

In:  nothing.   Out: `Expected`.
Frame: model space of the DXF file, full size, in the drawing's own lengths; what is on
paper in paper lengths.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from shopdraw.drawing.ink import Point

LineKind = Literal["open", "closed", "fill"]


@dataclass(frozen=True)
class ExpectedInsert:
    """One insert: its tags, and the outline that its block gives at its point."""

    tags: tuple[tuple[str, str], ...]
    outline: tuple[Point, ...]


@dataclass(frozen=True)
class ExpectedMeasure:
    """One dimension: the length along its axis, and its words."""

    length: float
    words: str


@dataclass(frozen=True)
class Trace:
    """One polyline, or one tinted area: its layer and its points, in turn."""

    layer: str
    kind: LineKind
    points: tuple[Point, ...]


@dataclass(frozen=True)
class ExpectedViewport:
    """A window on the sheet: its middle and size there, and what it shows.

    Attributes:
        middle, size: on paper.
        looks_at: the point of model space in its middle.
        scale: lengths in model space to one on paper.
    """

    middle: Point
    size: Point
    looks_at: Point
    scale: float


@dataclass(frozen=True)
class Expected:
    """What must be found, no more and no less.

    Attributes:
        inserts: by tag `ID`, sorted.
        measures: in drawing order.
        words: every line of lettering that stands in model space, sorted.
        lines: every polyline and tinted area in model space, those that inserts draw
            among them.
        paper_lines, paper_words: likewise on the layout: border and title block.
        viewports: one a drawing.
    """

    inserts: tuple[ExpectedInsert, ...]
    measures: tuple[ExpectedMeasure, ...]
    words: tuple[str, ...]
    lines: tuple[Trace, ...] = ()
    paper_lines: tuple[Trace, ...] = ()
    paper_words: tuple[str, ...] = ()
    viewports: tuple[ExpectedViewport, ...] = ()
