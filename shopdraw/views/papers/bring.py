"""Draw the list of what to bring: one page to tick, each line with its figure.

In:  `Solution`.   Out: a `Sheet`, standing up.
Frame: as `lines`.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.papers import Part
from shopdraw.drawing.sheets import Sheet
from shopdraw.quantities.bringing import list_to_bring
from shopdraw.solution import Solution
from shopdraw.views.papers.lines import (
    BLANK,
    TICK,
    PageColumn,
    PageHand,
    set_pages,
    stamped,
)

COLUMNS = (
    PageColumn("", 0.3),
    PageColumn("what", 3.2),
    PageColumn("how much", 1.5),
    PageColumn("where the figure comes from", 4.6),
)
OF_THE_SAW = (
    "Silica dust harms: 29 CFR 1926.1153 Table 1, as California Title 8 section 1532.3 "
    "prints it. Tools and protection are common practice where no figure is named."
)


def draw_bring(solution: Solution) -> tuple[Sheet, ...]:
    """Draw the list on one upright page.

    Raises:
        NotDrawable: it does not fit the page.
    """
    names = "bring", "WHAT TO BRING"
    return set_pages(solution, names, lambda hand: _parts(solution, hand))


def _parts(solution: Solution, hand: PageHand) -> Iterator[Part]:
    yield from stamped(solution, hand)
    loads = list_to_bring(
        solution.job,
        solution.surround,
        solution.coursing,
        solution.layout,
        solution.takeoff,
        solution.hearth,
    )
    for place, load in enumerate(loads):
        if load.things:
            yield hand.head(load.name)
            cells = ((TICK, x.what, x.amount or BLANK, x.why) for x in load.things)
            yield from hand.rows(COLUMNS, cells, with_heads=not place)
    yield hand.gap(0.3)
    yield hand.says(OF_THE_SAW, height=0.85)
