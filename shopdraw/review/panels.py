"""Review the panels of a face: whether their pieces can be sawn, what mortar takes.

In:  `Job`, `Layout`.   Out: `Finding`s; none where the job has no panel.
Frame: the job's lengths.

No rule for patterns in a face is published: what is asked of the pieces are the job's
own figures, as for all others.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.catalog.statuses import COMMON, IN_JOB
from shopdraw.job.model import Job
from shopdraw.masonry.panels.choosing import asked_of
from shopdraw.masonry.panels.judging import worst_piece
from shopdraw.masonry.sawing.shapes import width_of
from shopdraw.masonry.wall.face_panel import FacePanel
from shopdraw.masonry.wall.layout import Layout, Piece
from shopdraw.review.brick_hearth import measured_width, say_shortcoming
from shopdraw.review.findings import Finding, Limit, Rule, hold, in_words


def review_panels(job: Job, layout: Layout) -> Iterator[Finding]:
    """Hold the pieces of every panel against what can be sawn."""
    for number, panel in enumerate(layout.panels, start=1):
        pieces = tuple(x for x in layout.pieces if _is_in(x, panel))
        yield _pieces(job, number, panel, pieces)
        if panel.left_out:
            yield _left_out(job, number, panel)


def _is_in(piece: Piece, panel: FacePanel) -> bool:
    outline = piece.outlines[0]
    left, bottom, right, top = panel.box
    return (
        piece.place == "panel"
        and left <= outline.left <= right
        and bottom <= outline.bottom <= top
    )


def _pieces(
    job: Job, number: int, panel: FacePanel, pieces: tuple[Piece, ...]
) -> Finding:
    """Hold the pieces of one panel, border included, against what can be sawn."""
    rule = Rule("panel-pieces", f"pieces of the panel: {panel.name}", number)
    limit = Limit(
        job.bond.least_width, "the narrowest piece that the job allows", IN_JOB
    )
    worst, short = worst_piece(job, pieces)
    if not short:
        says = (
            f"the narrowest piece is {in_words(measured_width(worst), job.lengths)}, "
            "and corners and face of every one are as the job allows"
        )
        return hold(rule, measured_width(worst), limit, says)
    count = "1 piece falls" if len(short) == 1 else f"{len(short)} pieces fall"
    says = (
        f"{count} short of what can be sawn; the worst is {worst.id}: "
        f"{say_shortcoming(job, worst)}; give the panel another width or height, or "
        "another pattern"
    )
    finding = hold(rule, measured_width(worst), limit, says)
    finding = replace(finding, status="failed", margin=None, pieces=short)
    if any(each.rule == "least width" for each in worst.short):
        return finding
    # Its width is not what is amiss.
    return replace(finding, measured=None, limit=None)


def _left_out(job: Job, number: int, panel: FacePanel) -> Finding:
    """Say how much mortar takes where no piece can be sawn."""
    widths = (
        width_of(tuple((float(x), float(y)) for x, y in ring))
        for ring in panel.left_out
    )
    widest = Fraction(max(widths)).limit_denominator(10_000)
    limit = Limit(asked_of(job).left_out, "too narrow for a piece", COMMON)
    count = len(panel.left_out)
    says = (
        f"{count} place{'s' if count > 1 else ''} at the pattern's edge "
        f"{'are' if count > 1 else 'is'} left to mortar, the widest "
        f"{in_words(widest, job.lengths, up=True)}"
    )
    rule = Rule("panel-left-out", f"too narrow for a piece: {panel.name}", number)
    return hold(rule, widest, limit, says, at="most")
