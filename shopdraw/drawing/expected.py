"""What a written drawing must be found to hold when it is read back.

In:  nothing.   Out: `Expected`.
Frame: model space of the DXF file, full size, in the drawing's own lengths.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.drawing.ink import Point


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
class Expected:
    """What must be found, no more and no less.

    Attributes:
        inserts: by tag `ID`, sorted.
        measures: in drawing order.
        words: every line of lettering that stands in model space, sorted.
    """

    inserts: tuple[ExpectedInsert, ...]
    measures: tuple[ExpectedMeasure, ...]
    words: tuple[str, ...]
