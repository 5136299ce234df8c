"""Say what the words and lines of the fabricator's ticket mean.

In:  `Job`, `FabricationRow`s, the scale of the sketches.   Out: the legend's words.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.sheets import scale_name
from shopdraw.job.model import Job
from shopdraw.job.splayed import is_mitred
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.views.making.sizes import corners_of


def legend_of(job: Job, rows: tuple[FabricationRow, ...], scale: float) -> str:
    """Return the legend: what no mark of the ticket needs is not in it."""
    return plain(" ".join(_sentences(job, rows, scale)))


def _sentences(
    job: Job, rows: tuple[FabricationRow, ...], scale: float
) -> Iterator[str]:
    if job.lengths == "mm":
        yield "All lengths are in millimetres."
    yield f"Sketches are drawn at {scale_name(scale, job.scales)}; go by the figures."
    yield (
        "A line that runs past the edges of a piece is a cut. Dashed lines are the "
        "brick, or the leg, as delivered."
    )
    yield (
        "At a mark the first number is how many are laid; the spares are the job's "
        "waste on these, to the nearest piece, so that of a few there may be none."
    )
    if any(True for each in rows for _ in corners_of(job, each.row)):
        yield (
            "A corner's two lengths are how far it lies along, to the right of the "
            "sketch's left end, and how far up from its lower edge."
        )
    yield (
        "The cut plan and the number of cuts do not include spares: saw a spare at the "
        "same stop, from another unit. Hold at the stop what is named: an end, to saw "
        "to length; a long edge, to saw along the brick; or the corner of a corner "
        "unit, to trim its leg. A flat mark with no stop for an end keeps the brick's "
        "full length. A slanting cut is set by its mark's angle. The cut plan counts "
        "flat brick only: a corner unit that is trimmed is sawn from a corner unit."
    )
    if is_mitred(job):
        yield "A mitred one is made of two flat brick, its legs a and b."
