"""Unroll the faces to be covered onto one developed plane.

In:  `Job`.   Out: `Surround`.
Frame: the job's lengths; x runs along the finished faces from left to right, on round
each outside corner, 0 at the left end; y is up from the hearth datum.

The finished face stands off a measured substrate by the build-out: the mean setting
bed and the brick. At an outside corner both faces grow by it, because each is covered.
"""

from __future__ import annotations

from fractions import Fraction

from shopdraw.job.model import EdgeTable, Job
from shopdraw.job.model_brick import CornerTable
from shopdraw.job.model_head import STANDING
from shopdraw.job.turning import SQUARE, grown_at
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.asbuilt import lean_out, trace_as_built
from shopdraw.masonry.wall.form import (
    Edge,
    Face,
    HeadKind,
    Opening,
    Surround,
)


def trace_surround(job: Job) -> Surround:
    """Unroll the job's faces onto the developed plane, at their finished sizes."""
    build_out = job.setting_bed.mean + job.brick.thickness
    added = build_out if job.face.measured_to == "substrate" else Fraction(0)
    returns = (job.face.left_return, job.face.right_return)
    grows = tuple(added if depth is not None else Fraction(0) for depth in returns)
    leans = lean_out(job)

    front_left, start = Fraction(0), leans[0]
    if returns[0] is not None:
        front_left = leans[0] + returns[0] + grows[0]
        start = front_left + grows[0]
    front_right = start + job.face.width + grows[1]
    if returns[1] is None:
        front_right += leans[1]
    faces = [Face("front", front_left, front_right)]
    folds = []
    if returns[0] is not None:
        faces.insert(0, Face("left", Fraction(0), front_left))
        folds.append(front_left)
    if returns[1] is not None:
        far = front_right + returns[1] + grows[1] + leans[1]
        faces.append(Face("right", front_right, far))
        folds.append(front_right)

    from_left = job.opening.from_left
    if from_left is None:
        from_left = (job.face.width - job.opening.width) / 2
    left = start + from_left
    right = left + job.opening.width
    jambs, depth = job.edges.jambs, job.opening.jamb_return
    turn = SQUARE - job.opening.splayed
    covers = Fraction(0) if depth is None else grown_at(added, turn, job.lengths)
    leg_widths = (left + covers - front_left, front_right - right + covers)
    head, past = _head(job, leg_widths)
    return Surround(
        lengths=job.lengths,
        faces=tuple(faces),
        folds=tuple(folds),
        left_edge=_edge(faces[0].left, job.edges.left, 1, returns[0] is not None),
        right_edge=_edge(faces[-1].right, job.edges.right, -1, returns[1] is not None),
        opening=Opening(
            left=left,
            right=right,
            brick_left=left + covers - jambs.width,
            brick_right=right - covers + jambs.width,
            height=job.opening.height,
            jambs=jambs,
            head=head,
            soldiers_past=past,
            joint_in_leg=_stops_short(job) is None
            and job.opening.head_ends == "joint in the leg",
        ),
        height=job.face.height,
        build_out=build_out,
        build_out_most=job.setting_bed.most + job.brick.thickness,
        as_built=trace_as_built(
            job, start, (faces[0].left + leans[0], faces[-1].right - leans[1])
        ),
        reveals=_reveals(left + covers, right - covers, depth, turn),
    )


def _reveals(
    left: Fraction, right: Fraction, depth: Fraction | None, turn: Fraction
) -> tuple[Face, ...]:
    if depth is None:
        return ()
    return (
        Face("left reveal", left, left + depth, turn),
        Face("right reveal", right - depth, right, turn),
    )


def _edge(x: Fraction, edge: EdgeTable, inward: int, has_return: bool) -> Edge:
    return Edge(
        x=x,
        brick_x=x + inward * edge.width,
        against="wall" if has_return else "edge",
        kind=edge.kind,
        shows=edge.shows,
    )


def _head(
    job: Job, leg_widths: tuple[Fraction, Fraction]
) -> tuple[HeadKind, tuple[Fraction, Fraction]]:
    """Return what stands over the opening and how far it goes past each jamb.

    Soldiers that stop short of an outside corner leave room for a whole corner unit
    and a joint there.
    """
    none = Fraction(0), Fraction(0)
    bears = job.opening.head_bears
    if job.opening.head != "soldier" and job.opening.head != "rowlock":
        return job.opening.head, none
    if job.opening.head_over == "opening":
        past = bears if isinstance(bears, Fraction) else Fraction(0)
        return "soldier over the opening", (past, past)
    keeps = _stops_short(job)
    if keeps is None:
        return "soldier over the face", none
    returns = (job.face.left_return, job.face.right_return)
    short = [
        max(Fraction(0), width - keeps) if depth is not None else width
        for width, depth in zip(leg_widths, returns, strict=True)
    ]
    return "soldier over the opening", (short[0], short[1])


def _stops_short(job: Job) -> Fraction | None:
    """Return the leg that soldiers leave at an outside corner; None if they don't."""
    has_fold = job.face.left_return is not None or job.face.right_return is not None
    if (
        job.opening.head in STANDING
        and job.opening.head_over == "face"
        and job.brick.at_fold == "stop short"
        and job.brick.corner is not None
        and has_fold
    ):
        return corner_legs(job.brick.corner, job.brick.thickness)[0]
    return None


def corner_legs(corner: CornerTable, thickness: Fraction) -> tuple[Fraction, Fraction]:
    """Return the long and the short leg of a corner unit, measured outside."""
    inside = thickness if corner.measured == "inside" else Fraction(0)
    return corner.long_leg + inside, corner.short_leg + inside


def opening_ring(
    surround: Surround,
    head: Fraction,
    arch: Arch | None,
    beside: Fraction = Fraction(0),
) -> tuple[tuple[Fraction, Fraction], ...]:
    """Return the opening's ring as it will be, from its feet on.

    Args:
        surround: the opening as found.
        head: the level of the underside of the brick over it.
        arch: the arch over it; None where there is none.
        beside: how much wider it is at each jamb.
    """
    ring = surround.as_built.opening(head, beside)
    return ring if arch is None else (*ring[:2], *reversed(arch.soffit))
