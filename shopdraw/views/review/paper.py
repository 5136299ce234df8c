"""What all pages of the review share: their paper, and the caution at the foot.

In:  the page's lengths and size.   Out: `Paper`, ink.
Frame: each part in the page's lengths from its own upper left corner, y up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, wrap
from shopdraw.drawing.moving import moved
from shopdraw.drawing.papers import Part
from shopdraw.lengths import MM_PER_INCH, Lengths
from shopdraw.views.parts.figures import ring_of
from shopdraw.views.review.table import PITCH

MARGIN, GAP, TITLE, STAMP, COUNTS, TEXT, FINE = 0.4, 0.1, 0.15, 0.09, 0.08, 0.0625, 0.05
"""In inches: the margin, between parts, then heights of lettering."""
NO_APPROVAL = "NOT CHECKED IS NOT AN APPROVAL"
CAUTION = (
    "CAUTION: Code figures are from a model code: check the edition that the "
    "jurisdiction adopted. The local code, the listing of the appliance and a licensed "
    "person decide; this page approves nothing. What was not checked was not found "
    "safe. What was typed into the job was not measured again: verify it in the field."
)


@dataclass(frozen=True)
class Paper:
    """The page: its lengths, and the room within its margins."""

    lengths: Lengths
    size: tuple[float, float]

    @property
    def inch(self) -> float:
        """An inch, in the page's lengths."""
        return 1.0 if self.lengths == "in" else float(MM_PER_INCH)

    @property
    def wide(self) -> float:
        """The width within the margins."""
        return self.size[0] - 2 * MARGIN * self.inch

    @property
    def high(self) -> float:
        """The height within the margins."""
        return self.size[1] - 2 * MARGIN * self.inch


def set_down(part: Iterable[Ink], at: Point, scale: float) -> Iterator[Ink]:
    """Move a part's ink to its place on paper, at the scale of the drawing."""
    place = at[0] * scale, at[1] * scale
    return (moved(ink, place, scale, lettering=1.0) for ink in part)


def box_of(box: Box, layer: str = layers.TABLES) -> Stroke:
    """Return the outline of a box."""
    return Stroke(layer, ring_of(box), closed=True)


def cautions(paper: Paper) -> Part:
    """Letter the caution in a box."""
    text, pad = TEXT * paper.inch, 0.08 * paper.inch
    lines = wrap(CAUTION, text, paper.wide - 2 * pad)
    high = (len(lines) - 1) * PITCH * text + text + 2 * pad
    ink: list[Ink] = [box_of((0.0, -high, paper.wide, 0.0), layers.BORDER)]
    for row, line in enumerate(lines):
        ink.append(
            Words(layers.NOTES, (pad, -pad - (1 + PITCH * row) * text), line, text)
        )
    return tuple(ink), high
