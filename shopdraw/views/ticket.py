"""Draw the fabricator's ticket: what to saw, from what, in which order, to tick off.

In:  `Job`, the fabrication list, the cut plan, the page's size.   Out: `Sheet`s.
Frame: each part in inches from its own upper left corner, y up; the page puts the parts
under one another and turns inches into its lengths, larger where few marks leave room.

A flat piece is drawn from its face, the brick's length level as on the saw; a corner
unit from above, and a leg sawn to shape from its face besides.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import zip_longest
from math import hypot

from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Align, Drawing, Point, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of, wrap
from shopdraw.drawing.sheets import (
    SCALES,
    PlacedDrawing,
    Placement,
    Sheet,
    scale_name,
)
from shopdraw.errors import NotDrawable
from shopdraw.job.model import CornerTable, Job
from shopdraw.lengths import MM_PER_INCH, format_length, typed_length
from shopdraw.masonry.layout import (
    CORNER_KINDS,
    SIDES,
    STANDING_KINDS,
    CutListRow,
    Outline,
    rectangle,
)
from shopdraw.masonry.surround import corner_legs
from shopdraw.quantities.cutting import CutPlan, SawnUnit, SawStop
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.views.tables import caution_notes
from shopdraw.views.units import CUTS, TYPE_STATES, UNITS

NOTE, TABLE = "A-ANNO-NOTE", "A-ANNO-SCHD"
SECTION, STOCK = "A-SECT-MCUT", "A-ELEV-HIDD"
MARGIN, GAP, GUTTER, PAD, LEAST_CELL = 0.4, 0.12, 0.2, 0.08, 2.3
"""In inches, as all measures here; the gutter is between two columns."""
TITLE, MARK, HEAD, SIZE, TEXT, FINE = 0.15, 0.125, 0.075, 0.07, 0.0625, 0.056
PITCH = 1.65
"""Heights of lettering, and how far apart its lines are, in heights."""
SQUARE, PAST, ROW = 0.11, 0.06, 0.17
"""A square to tick, how far a cut line goes past the piece, a row of the sequence."""
LARGER = (1.6, 1.45, 1.3, 1.15, 1.0)
"""How many times as large a ticket of one page may be; no smaller than the last."""
TOPICS = ("silica", "saw", "code")
"""The cautions of whoever saws, and whose word goes before this ticket's."""
FIELDS = ((0.34, 0.14, 0.14, 0.12, 0.26), (0.34, 0.28, 0.12, 0.26))
"""How wide the boxes of the heading are, row by row, in parts of the width."""
LYING = (*STANDING_KINDS, "voussoir")
"""The kinds that stand on the wall, and lie on the saw."""
Marks = Iterator[Stroke | Words]
Part = tuple[list[Stroke | Words], float]
"""The ink of a part, and how high it is."""


@dataclass(frozen=True)
class Page:
    """What the parts of a page are set out with.

    Attributes:
        wide, high: within the margins.
        unit: how long one inch of a part is on paper, in the job's lengths.
        scale: of the sketches; `name` as it is lettered.
        columns: of cells.
    """

    wide: float
    high: float
    unit: float
    scale: float
    name: str
    columns: int

    @property
    def cell(self) -> float:
        """How wide a cell is."""
        return self.wide / self.columns

    @property
    def half(self) -> float:
        """How wide one of two columns is."""
        return (self.wide - GUTTER) / 2


def draw_ticket(
    job: Job,
    rows: tuple[FabricationRow, ...],
    plan: CutPlan,
    size: tuple[float, float],
) -> tuple[Sheet, ...]:
    """Draw the ticket on pages so wide and so high: one, wherever the marks fit.

    Raises:
        NotDrawable: the page has no room for it.
    """
    if not rows:
        return ()
    pages: list[list[Stroke | Words]] = []
    unit = 0.0
    for larger in LARGER:
        page = _page_of(job, size, larger)
        if page is not None:
            pages, unit = list(_filled(job, rows, plan, page)), page.unit
        if len(pages) == 1:
            break
    if not pages:
        message = "sheet.page: the ticket needs a page of letter or A4 at least"
        raise NotDrawable(message)
    place = Placement(1.0, (0.0, 0.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0, *size))
    corner = (MARGIN * unit, size[1] - MARGIN * unit)
    corner = (_margin(job), size[1] - _margin(job))
    return tuple(
        Sheet(
            number,
            _named("ticket-{}", "ticket", number),
            _named("TICKET ({})", "TICKET", number),
            *size,
            job.lengths,
            (
                PlacedDrawing(
                    Drawing(
                        f"ticket-{number}",
                        "",
                        1.0,
                        tuple(_moved(each, corner, unit) for each in ink),
                    ),
                    place,
                ),
            ),
            (),
        )
        for number, ink in enumerate(pages, start=1)
    )
