"""Draw what was reviewed: from the front and in section, each figure keyed to its row.

In:  `Job`, `Surround`, `Coursing`, `Layout`, `Finding`s, the scale.   Out: `Drawing`.
Frame: full size; y from the datum; from the front x from the left end of the front's
finished face; in section x from that face back into the wall, all moved to the right.

A measured line runs between the very points that the review measured from and to.
Beside it stand its figure and, in a circle, the number of its row in the table.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import cos, hypot, pi, sin, tau

from shopdraw.drawing.extents import extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Ink, Measure, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, overlap, width_of
from shopdraw.drawing.measures import Line, lines_of, ticks_of
from shopdraw.drawing.sheets import BAR_LENGTHS, STYLES, scale_name
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.lengths import MM_PER_INCH
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.layout import Layout
from shopdraw.masonry.surround import Surround
from shopdraw.review import fittings, hearth, trim
from shopdraw.review.findings import Finding, in_words
from shopdraw.review.opening import Rectangle, trace_openings
from shopdraw.views.details import moved
from shopdraw.views.figures import (
    DIMS,
    NOTE,
    OTHERS,
    Hand,
    break_line,
    cut_through,
    dot,
    hatch,
    ring_of,
    wall_behind,
)
from shopdraw.views.found import draw_existing, head_over, lowest_of, outline_front
from shopdraw.views.strings import top_of

HIDDEN, BEYOND = "A-ELEV-HIDD", "A-ELEV-MSNR"
RING, NUMBER, BAR = 0.078, 0.055, 1.5
"""In inches on paper: a key's radius, its lettering, a scale bar at its longest."""
SLAB, LANE, APART = 2.4, 3.4, 4.0
"""In heights of lettering: the extension's edge, the lane below it, between views."""
PLACES = (0.5, 0.34, 0.66, 0.22, 0.78, 0.12, 0.88, 0.05, 0.95)
"""Where along what it may measure a line is tried, in parts of it."""
TURNS, FURTHEST = 16, 60
RIGHT, UP, ROOM, DOWN = 0.0, pi / 2, pi, -pi / 2
"""Which way from its line a figure is tried first; the room is at the left."""
SHORT = {"in": 18.0, "mm": 450.0}
"""So much of an extension is drawn where none was measured."""
KEYED = (
    "A number in a circle is a row of the table. Broken lines: existing work, work by "
    "others, and the opening where it was measured from and is not as finished."
)


@dataclass(frozen=True)
class Keyed:
    """What is keyed: a figure with the lines that may show it, or a thing in its place.

    Attributes:
        number: of its row.
        words: the figure; empty for a thing.
        spans: lines that measure it, the best first.
        toward: which way from its line the figure is tried first.
        extends_from: the level that extension lines begin at; None without any.
    """

    number: int
    words: str
    spans: tuple[Line, ...]
    toward: float = RIGHT
    extends_from: float | None = None


@dataclass(frozen=True)
class View:
    """What both views are drawn from, and the levels that they share."""

    job: Job
    surround: Surround
    coursing: Coursing
    layout: Layout
    findings: tuple[Finding, ...]
    scale: float

    @property
    def text(self) -> float:
        """The height of the lettering, at full size."""
        return STYLES[self.job.lengths].small * self.scale

    @property
    def floor(self) -> float:
        """The hearth's level in the section."""
        return float(self.surround.as_built.hearth.at(self.surround.opening.centre))

    @property
    def low(self) -> float:
        """The lowest level of the hearth in either view."""
        return min(lowest_of(self.surround), self.floor)

    @property
    def under(self) -> float:
        """The underside of the extension, as drawn."""
        return self.low - SLAB * self.text

    @property
    def opening(self) -> Rectangle:
        """What clearances are measured from, x from the front's left end."""
        outer = self._openings.outer
        return _moved(outer, -self.surround.front.left)

    @property
    def found(self) -> Rectangle:
        """The opening as found, likewise."""
        return _moved(self._openings.found, -self.surround.front.left)

    @property
    def _openings(self):  # noqa: ANN202
        return trace_openings(self.job, self.surround, self.coursing, self.layout.arch)

    def hearth_row(self, what: str) -> tuple[int, Fraction] | None:
        """Return row and figure of a rule of the hearth; None where it has none."""
        for number, finding in enumerate(self.findings, start=1):
            if (
                finding.rule == f"{hearth.RULE}, {what}"
                and finding.measured is not None
            ):
                return number, finding.measured
        return None
