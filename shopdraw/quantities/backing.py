"""Measure what stands behind the courses of a corbel; it is others' work.

In:  `Job`, `Surround`, `Coursing`.   Out: `TakeoffRow`s.
Frame: areas in sq ft or m2.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.lengths import taped_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.form import Surround
from shopdraw.quantities.measures import MEASURES, TakeoffRow


def list_backing(
    job: Job, surround: Surround, coursing: Coursing
) -> Iterator[TakeoffRow]:
    """List the backing of the courses that project, as high and as long as they are."""
    out = coursing.corbelled
    if not out:
        return
    measures = MEASURES[job.lengths]
    round_the_face = sum((face.width for face in surround.faces), Fraction(0))
    area = sum((x.height + x.bed_joint for x in out), Fraction(0)) * round_the_face
    steps = ", ".join(taped_length(x.projection, job.lengths) for x in out)
    words = (
        f"behind courses {out[0].number} to {out[-1].number}, by others: brings the "
        f"wall out by {steps}, from below up; non-combustible, and fixed as its "
        "designer says"
    )
    net = area / measures.per_area
    yield TakeoffRow("corbel backing", net, None, measures.area, words)
