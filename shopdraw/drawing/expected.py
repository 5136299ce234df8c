"""The form of what must be found in a written drawing when it is read back.

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
    """One insert: its tags, and the outline that its block draws there."""

    tags: tuple[tuple[str, str], ...]
    outline: tuple[Point, ...]


@dataclass(frozen=True)
class ExpectedMeasure:
    """One dimension: the length along its axis, and its words."""

    length: float
    words: str


@dataclass(frozen=True)
class Trace:
    """One polyline or tinted area: its layer, and its points in order."""

    layer: str
    kind: LineKind
    points: tuple[Point, ...]


@dataclass(frozen=True)
class ExpectedViewport:
    """A window on the sheet: its middle and size there, and what it shows.

    Attributes:
        middle, size: on paper.
        looks_at: the point of model space that its middle shows.
        scale: lengths in model space to one on paper.
    """

    middle: Point
    size: Point
    looks_at: Point
    scale: float


@dataclass(frozen=True)
class Expected:
    """Everything that must be found, no more and no less.

    Attributes:
        inserts: by tag `ID`, sorted.
        measures: in drawing order.
        words: every paragraph, and every other line of lettering, in model space,
            sorted.
        lines: every polyline and tinted area in model space, also those that inserts
            draw.
        paper_lines, paper_words: the same on the layout: border and title block.
        viewports: one for each drawing.
    """

    inserts: tuple[ExpectedInsert, ...]
    measures: tuple[ExpectedMeasure, ...]
    words: tuple[str, ...]
    lines: tuple[Trace, ...] = ()
    paper_lines: tuple[Trace, ...] = ()
    paper_words: tuple[str, ...] = ()
    viewports: tuple[ExpectedViewport, ...] = ()
