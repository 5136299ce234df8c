"""Unroll the faces to be covered onto one developed plane.

In:  `Job`.   Out: `Surround`.
Frame: the job's lengths; x runs along the finished faces from left to right, on round
each outside corner, 0 at the left end; y is up from the hearth datum.

The finished face stands off a measured substrate by the build-out: the mean setting
bed and the brick. At a square corner both faces grow by it, because each is covered.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import cast

from shopdraw.job.complaint import grown_on
from shopdraw.job.model import Job
from shopdraw.job.model_brick import CornerTable
from shopdraw.job.model_face import SIDES, Side
from shopdraw.job.model_head import STANDING
from shopdraw.job.turning import SQUARE, gained_at_wall, grown_at, short_of_wall
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.asbuilt import lean_out, trace_as_built
from shopdraw.masonry.wall.form import (
    Edge,
    Face,
    FaceName,
    HeadKind,
    Opening,
    Surround,
)

ZERO = Fraction(0)


def trace_surround(job: Job) -> Surround:
    """Unroll the job's faces onto the developed plane, at their finished sizes."""
    build_out = job.setting_bed.mean + job.brick.thickness
    added = build_out if job.face.measured_to == "substrate" else Fraction(0)
    leans = lean_out(job)
    sides = tuple(_beside(job, side, added) for side in SIDES)
    # What leans outward is at the end of a side, or of the front if that has no side.
    near = [
        grown_on(job, side)[0] if faces else lean
        for side, faces, lean in zip(SIDES, sides, leans, strict=True)
    ]
    front_left = sum((width for _, width, _, _ in sides[0]), ZERO)
    front_left += leans[0] if sides[0] else ZERO
    start = front_left + near[0]
    front_right = start + job.face.width + near[1]
    front = Face("front", front_left, front_right, ZERO)
    faces = (
        *_unrolled(sides[0], front, -1, leans[0]),
        front,
        *_unrolled(sides[1], front, 1, leans[1]),
    )
    folds = tuple(
        a.right for a, b in pairwise(faces) if not (a.is_alcove or b.is_alcove)
    )

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
        faces=faces,
        folds=folds,
        left_edge=_edge(job, faces[0].left, "left"),
        right_edge=_edge(job, faces[-1].right, "right"),
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


Beside = tuple[FaceName, Fraction, Fraction, Fraction]
"""A face beside the front: its name, how wide it is finished, its turn, and how far it
goes on behind another face."""


def _beside(job: Job, side: Side, added: Fraction) -> tuple[Beside, ...]:
    """Return the finished faces that turn back on a side, from the front on.

    Each grows at its corners by what brick and bed move them, and the last one where
    it meets the wall aslant. At an inside corner both faces lose what stands before the
    other's wall. There each goes on by the thickness of the brick in every other
    course: the end that runs past stands in the bed that the other's brick backs onto,
    and does not touch the wall (common practice, no published source).

    Args:
        job: what was measured.
        side: which.
        added: how far the finished faces stand out from those that were measured.
    """
    grown, faces = grown_on(job, side), job.face.beside(side)
    alcove, thick = job.face.alcove(side), job.brick.thickness
    found = list[Beside]()
    for place, face in enumerate(faces):
        is_last = place == len(faces) - 1
        far = (
            gained_at_wall(added, face.splay, job.lengths)
            if is_last
            else grown[place + 1]
        )
        behind = ZERO
        if is_last and alcove is not None:
            behind, far = thick, thick - added
        names = {"return": side, "chamfer": f"{side} chamfer"}
        width = face.along + grown[place] + far
        found.append((cast("FaceName", names[face.name]), width, face.turn, behind))
    if alcove is not None:
        name = cast("FaceName", f"{side} alcove")
        found.append((name, alcove - added + thick, ZERO, thick))
    return tuple(found)


def _unrolled(
    beside: tuple[Beside, ...], front: Face, way: int, lean: Fraction
) -> tuple[Face, ...]:
    """Lay the faces of a side out from the front on, and return them left to right.

    The last goes on as far as its end leans out.
    """
    at, faces = front.right if way > 0 else front.left, list[Face]()
    for place, (name, width, turn, behind) in enumerate(beside):
        more = lean if place == len(beside) - 1 else ZERO
        end = at + way * (width + more)
        faces.append(Face(name, min(at, end), max(at, end), turn, behind))
        at = end
    return tuple(faces[::way])


def _edge(job: Job, x: Fraction, side: Side) -> Edge:
    edge = job.edge(side)
    faces, inward = job.face.beside(side), 1 if side == "left" else -1
    more = ZERO
    if faces:
        more = short_of_wall(job.brick.thickness, faces[-1].splay, job.lengths)
    meets_wall = bool(faces)
    if job.face.alcove(side) is not None:
        # A joint lies between two things; what is left bare is a free edge.
        meets_wall = edge.kind != "bare"
    return Edge(
        x=x,
        brick_x=x + inward * (edge.width + more),
        against="wall" if meets_wall else "edge",
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
    short = [
        max(Fraction(0), width - keeps) if job.face.beside(side) else width
        for width, side in zip(leg_widths, SIDES, strict=True)
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
