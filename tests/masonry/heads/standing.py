"""Jobs laid and proved, and their soldiers read off the layout.

In:  `Job`.   Out: `Surround`, `Layout`, outlines, their widths.
Frame: as `Surround`.
"""

from __future__ import annotations

from fractions import Fraction as F
from itertools import pairwise

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout, Outline
from shopdraw.masonry.wall.surround import trace_surround


def proved(job: Job) -> tuple[Surround, Layout]:
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    layout = lay_bond(job, surround, coursing)
    return surround, prove_layout(job, surround, coursing, layout)


def standing(layout: Layout, face: str = "front") -> list[Outline]:
    """Return the lowest course of a face's soldiers or rowlocks, left to right."""
    found = [
        outline
        for piece in layout.pieces
        if piece.kind in ("soldier", "rowlock")
        for outline in piece.outlines[:1]
        if outline.face == face
    ]
    lowest = min((outline.bottom for outline in found), default=F(0))
    return sorted((x for x in found if x.bottom == lowest), key=lambda x: x.left)


def widths(outlines: list[Outline]) -> list[F]:
    return [outline.right - outline.left for outline in outlines]


def on_line(outlines: list[Outline], x: F) -> str:
    """Look what stands on a line: a unit or a joint astride it, or neither."""
    spans = [(o.left, o.right, "unit") for o in outlines]
    spans += [(a.right, b.left, "joint") for a, b in pairwise(outlines)]
    return next((name for a, b, name in spans if a + b == 2 * x), "neither")
