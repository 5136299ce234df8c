"""How full each sheet of each demo is.

Fill is the area of the drawings' windows over the usable area; a sheet that is not the
last of what it is for is asked to have 0.50 to 0.85.
"""

from __future__ import annotations

from shopdraw.drawing.composing import LEAST_FILL, MOST_FILL
from shopdraw.drawing.sheets import STYLES, Sheet, content_of
from shopdraw.job.reading import read_job
from shopdraw.pipeline import solve
from shopdraw.views.set import compose_sheets
from tests.bench.timing import JOBS, Row


def fill_of(sheet: Sheet) -> float:
    """Return how much of a sheet's usable area its drawings' windows take."""
    left, bottom, right, top = content_of(
        sheet.width, sheet.height, STYLES[sheet.lengths]
    )
    windows = (each.placement.window for each in sheet.drawings)
    inked = sum((c - a) * (d - b) for a, b, c, d in windows)
    return inked / ((right - left) * (top - bottom))


def held_to_it(sheets: tuple[Sheet, ...]) -> list[Sheet]:
    """Return the sheets that are not the last of all that they are for."""
    last = {name: sheet.number for sheet in sheets for name in sheet.shows}
    return [
        sheet
        for sheet in sheets
        if any(last[name] != sheet.number for name in sheet.shows)
    ]


def measure() -> list[Row]:
    """Compose every demo on its own paper."""
    rows = []
    for path in JOBS:
        solution = solve(read_job(path))
        sheets = compose_sheets(solution)
        asked = held_to_it(sheets)
        off = sum(not LEAST_FILL <= fill_of(x) <= MOST_FILL for x in asked)
        fills = " ".join(f"{fill_of(sheet):.2f}" for sheet in sheets)
        rows.append(
            Row(
                f"{path.stem}, {len(sheets)} sheets: fills",
                fills,
                against=f"{off} of {len(asked)} off",
                asked="0 off",
            )
        )
    return rows
