"""Draw the later papers that a job asks for: by a table of its own, or by name.

In:  `Solution`.   Out: pages, by the paper's name.
Frame: as `lines`.

A small job's folder stays small: what nobody asks for is not drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from shopdraw.drawing.sheets import Sheet
from shopdraw.job.model import Job
from shopdraw.job.model_labour import Paper
from shopdraw.solution import Solution
from shopdraw.views.papers.bring import draw_bring
from shopdraw.views.papers.costs import draw_costs
from shopdraw.views.papers.handover import draw_handover
from shopdraw.views.papers.quote import draw_quote
from shopdraw.views.papers.stripping import draw_stripping

DRAWN: dict[Paper, Callable[[Solution], tuple[Sheet, ...]]] = {
    "quote": draw_quote,
    "costs": draw_costs,
    "bring": draw_bring,
    "stripping": draw_stripping,
    "handover": draw_handover,
}
BEFORE_THE_WORK: tuple[Paper, ...] = ("quote", "costs", "bring", "stripping")
"""What no record needs: each is of use only until the brick is laid."""
KEPT_BACK: tuple[Paper, ...] = ("costs",)
"""What the page for the phone does not link to: the owner may read that page."""


def draw_asked(solution: Solution) -> Iterator[tuple[str, tuple[Sheet, ...]]]:
    """Yield each paper that is asked for, in their own order."""
    asked = papers_asked(solution.job)
    if solution.coursing.is_as_built:
        asked -= set(BEFORE_THE_WORK)
    for name, draw in DRAWN.items():
        if name in asked:
            yield name, draw(solution)


def papers_asked(job: Job) -> set[Paper]:
    """Return the papers that a job asks for."""
    asked = set(job.sheet.papers)
    if job.labour is not None:
        asked |= {"quote", "costs"}
    if job.stripping is not None:
        asked.add("stripping")
    return asked
