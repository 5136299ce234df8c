"""Say where a hearth of brick lies: its edges, the wall, the line of the firebox.

In:  `Job`, `Surround`.   Out: `HearthGround`.
Frame: the hearth's plan.
"""

from __future__ import annotations

from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_hearth import HearthBrickTable
from shopdraw.lengths import taped_length
from shopdraw.masonry.hearth.form import Box, HearthGround
from shopdraw.masonry.wall.form import Surround

NONE = Fraction(0)


def trace_ground(job: Job, surround: Surround) -> HearthGround:
    """Say where the hearth of a job that asks for one lies.

    Brick goes back to the wall as found, under the face that stands on it; between the
    jambs it goes on to the line where the firebox begins, if that is further back. It
    never goes past that line.

    Raises:
        AssertionError: the job has no hearth of brick, or not its sizes.
        NotLaid: brick would go on between jambs that splay.
    """
    hearth = job.hearth
    if hearth is None or hearth.brick is None or hearth.front is None:
        raise AssertionError
    if hearth.left is None or hearth.right is None:
        raise AssertionError
    joint = job.joints.head.preferred
    opening, front = surround.opening, surround.front
    build_out = edge = NONE
    if hearth.brick.riser is not None:
        build_out = job.brick.thickness + job.setting_bed.mean
        edge = job.brick.thickness + joint
    left = opening.left - hearth.left - build_out
    right = opening.right + hearth.right + build_out
    width, wall = right - left, hearth.front + build_out
    face = wall - surround.build_out
    jambs = opening.left - left, opening.right - left
    firebox = job.opening.firebox
    line = None if firebox is None else face + firebox
    back = wall if line is None else line
    if hearth.brick.back is not None:
        back = face + hearth.brick.back
    main: Box = (edge, edge, width - edge, min(wall, back))
    between = _strip(job, surround, (*jambs, face, wall, back))
    return HearthGround(
        width=width,
        from_front=front.left - left,
        face=face,
        wall=wall,
        firebox=line,
        opening=jambs,
        main=main,
        between=between,
        edge=edge,
        build_out=build_out,
        thickness=job.brick.thickness,
        bed=_bed(job, hearth.brick),
    )


def _strip(job: Job, surround: Surround, at: tuple[Fraction, ...]) -> Box | None:
    """Return the rectangle between the jambs; None where nothing is laid there.

    Args:
        job: what was asked.
        surround: the faces.
        at: the left and the right jamb; the finished face, the wall as found, and how
            far back brick goes.

    Raises:
        NotLaid: the jambs splay, and a rectangle would run into them.
    """
    left, right, face, wall, back = at
    joint = job.joints.head.preferred
    strip = left + joint, wall + joint, right - joint, back - joint
    if strip[3] - strip[1] < job.bond.least_width:
        return None
    if surround.splay:
        short = taped_length(wall - face, job.lengths)
        message = (
            "hearth.brick.back: between jambs that splay no brick is laid on the "
            f"hearth: it would run into them; write {short}, so that the brick stops "
            "at the wall as found, or leave opening.splay out"
        )
        raise NotLaid(message)
    return strip


def _bed(job: Job, brick: HearthBrickTable) -> Fraction:
    """Return how thick the bed is: what the slab leaves, or as on the wall."""
    if brick.slab is None:
        return job.setting_bed.mean
    return brick.slab - job.brick.thickness
