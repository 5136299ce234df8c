"""Each demo on every paper of the catalog: sheets, and lettering struck or overlapping.

What is struck is measured by the extents of the letters (`tests/views/lettering.py`).
"""

from __future__ import annotations

from shopdraw.catalog.rows import sheet_names
from shopdraw.errors import NotDrawable
from shopdraw.job.reading import read_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.set import compose_sheets
from tests.bench.timing import JOBS, Row
from tests.views.lettering import collisions_on
from tests.views.on_papers import on_paper, struck_on


def measure() -> list[Row]:
    """Compose every demo on every paper of the catalog."""
    names = ", ".join(sheet_names())
    head = Row(f"sheets on {names}", "", "struck; overlapping; refused", asked="none")
    return [head, *(_row(path.stem, solve(read_job(path))) for path in JOBS)]


def _row(name: str, solution: Solution) -> Row:
    counts, struck, overlapping, refused = [], [], [], []
    for size in sheet_names():
        try:
            sheets = compose_sheets(on_paper(solution, size))
        except NotDrawable as error:
            counts.append("-")
            refused.append(f"{size} ({error})")
            continue
        counts.append(str(len(sheets)))
        struck += _counted(size, sum(len(struck_on(x)) for x in sheets))
        overlapping += _counted(size, sum(len(collisions_on(x)) for x in sheets))
    found = (", ".join(x) or "none" for x in (struck, overlapping, refused))
    return Row(name, " ".join(counts), "; ".join(found), asked="none")


def _counted(size: str, count: int) -> list[str]:
    return [f"{size} {count}"] if count else []
