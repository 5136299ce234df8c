"""The form of what must be found in a written drawing when it is read back.

In:  nothing.   Out: `Expected`.
Frame: model space of the DXF file, full size, in the drawing's own lengths; what is on
paper in paper lengths.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from shopdraw.drawing.ink import Point

LineKind = Literal["open", "closed", "fill", "hatch"]


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
    """One polyline, tinted or hatched area: its layer, and its points in order.

    Attributes:
        pattern: of a hatched area the name of its pattern, and of each family of its
            lines the angle and the step to the next one, all as `said_of` has them.
    """

    layer: str
    kind: LineKind
    points: tuple[Point, ...]
    pattern: str = ""


def said_of(name: str, families: Iterable[tuple[float, float, float]]) -> str:
    """Say what a hatch is: its name; the angle and step of each family of lines."""
    # Nothing is added, so that no figure is told as "-0".
    lines = (f"{a:.3f} {x + 0.0:.3f} {y + 0.0:.3f}" for a, x, y in families)
    return "; ".join((name, *lines)).replace("-0.000", "0.000")


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
