"""Draw the elevation alone, as soon as it can be: while a job is typed.

In:  `Solution`.   Out: `Sheet`.
Frame: paper lengths; the sheet is as large as the drawing.

It is the drawing of the set, at the scale that its paper has room for, without the
marks of sections: here no other view is drawn that they could lead to.
"""

from __future__ import annotations

from shopdraw.drawing.extension_lines import tied
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.sheets import (
    STYLES,
    Sheet,
    content_of,
    goes_into,
    place,
    size_on_paper,
)
from shopdraw.drawing.titles import titled
from shopdraw.solution import Solution
from shopdraw.views.projection import least_size, legible_scales, profiled
from shopdraw.views.wall.elevation import (
    draw_bare_elevation,
    draw_elevation,
    letter_elevation,
)


def draw_front(solution: Solution) -> Sheet:
    """Return the elevation on a sheet of its own size."""
    job = solution.job
    drawn = titled(tied(_fitted(solution)), None, job.lengths, job.scales)
    drawing = profiled(job, drawn)
    wide, high = size_on_paper(drawing)
    placed = place(drawing, (0.0, 0.0, wide, high), drawing.scale)
    title = drawing.title.capitalize()
    return Sheet(1, drawing.name, title, wide, high, job.lengths, (placed,), ())


def _fitted(solution: Solution) -> Drawing:
    """Draw it at the largest scale at which the paper holds it, or else the least."""
    job = solution.job
    wide, high = (float(side) for side in job.paper)
    content = content_of(wide, high, STYLES[job.lengths])
    scales = legible_scales(job)
    for scale in scales[:-1]:
        if not goes_into(least_size(solution, scale), content):
            continue
        bare = draw_bare_elevation(solution, scale)
        if goes_into(size_on_paper(bare), content):
            drawing = letter_elevation(solution, bare)
            if goes_into(size_on_paper(drawing), content):
                return drawing
    return draw_elevation(solution, scales[-1])
