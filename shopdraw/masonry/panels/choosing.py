"""Say what is asked of a pattern's pieces, and choose the joint that suits it best.

In:  `Job`, a pattern, a rectangle.   Out: `Asked`, `Panel`.
Frame: the panel's own.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.panels.fill import fill_rectangle
from shopdraw.masonry.panels.form import (
    Asked,
    NotFilled,
    Panel,
    PanelBrick,
    PatternName,
)
from shopdraw.masonry.sawing.shapes import limits_of


def best_panel(
    job: Job,
    pattern: PatternName,
    size: tuple[Fraction, Fraction],
    joint: Fraction | None = None,
    edge_joint: Fraction | None = None,
) -> Panel:
    """Fill a rectangle at the joint that leaves the fewest pieces short.

    Args:
        job: its brick and its head joints.
        pattern: its name.
        size: the rectangle's width and height.
        joint: the one to lay it with; None to try them from the preferred one out, on
            the job's step, until no piece is short.
        edge_joint: the widest that lies along its edge; None for the preferred one.

    Raises:
        NotFilled: the pattern can't be laid there with any joint.
    """
    best: Panel | None = None
    why = ""
    for each in [joint] if joint is not None else _joints(job):
        try:
            brick = panel_brick(job, each, edge_joint)
            panel = fill_rectangle(pattern, size, brick, asked_of(job))
        except NotFilled as error:
            why = str(error)
            continue
        if best is None or _badness(panel) < _badness(best):
            best = panel
        if not any(_badness(best)[:2]):
            break
    if best is None:
        raise NotFilled(why)
    return best


def _badness(panel: Panel) -> tuple[int, int, float]:
    """Return what makes one joint worse than another."""
    return len(panel.left_out), len(panel.short), -panel.narrowest


def _joints(job: Job) -> Iterator[Fraction]:
    """Yield the joints to try, from the preferred one out."""
    joint, step = job.joints.head, job.joints.step
    count = int((joint.most - joint.least) / step)
    every = {joint.least + step * place for place in range(count + 1)}
    every.add(joint.preferred)
    yield from sorted(every, key=lambda x: (abs(x - joint.preferred), -x))


def panel_brick(
    job: Job, joint: Fraction, edge_joint: Fraction | None = None
) -> PanelBrick:
    """Return the job's brick, to be laid in a pattern with a joint all round."""
    head = job.joints.head
    return PanelBrick(
        length=job.brick.length,
        width=job.brick.height,
        joint=joint,
        joint_least=head.least,
        joint_most=head.most,
        edge_joint=head.preferred if edge_joint is None else edge_joint,
    )


def asked_of(job: Job) -> Asked:
    """Return what is asked of the pieces of a pattern that is cut at its edge.

    The job's own figures, as for the pieces of the face; the grid of the phases and
    what is left to mortar are common practice, no published source.
    """
    is_inch = job.lengths == "in"
    return Asked(
        limits=limits_of(job),
        left_out=Fraction(3, 8) if is_inch else Fraction(10),
        grid=Fraction(1, 2) if is_inch else Fraction(10),
    )
