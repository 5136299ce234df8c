"""Say in plain words what at an inside corner beside an alcove can't be built.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where it can be built.
Frame: the job's lengths, as the person measured.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.job.complaint import (
    Complaint,
    build_out_of,
    grown_on,
    or_more,
    said,
)
from shopdraw.job.model import Job
from shopdraw.job.model_face import SIDES, Side
from shopdraw.job.sense_round import complaints_of_what_goes_round


def complaints_of_alcoves(job: Job) -> Iterator[Complaint]:
    """Complain of an alcove with no square return, no room, or with what goes round."""
    faults = [
        complaint
        for side in SIDES
        if job.face.alcove(side) is not None
        for complaint in _alcove(job, side)
    ]
    yield from faults
    if not faults and any(job.face.alcove(side) is not None for side in SIDES):
        yield from _goes_round(job)


def _alcove(job: Job, side: Side) -> Iterator[Complaint]:
    """Complain of one alcove: what it meets, and how much brick there is room for."""
    key, faces = f"face.{side}_alcove", job.face.beside(side)
    if not faces:
        wanted = (
            "is the wall that a return meets at an inside corner; write "
            f"face.{side}_return too, or leave it out"
        )
        yield Complaint(key, wanted)
        return
    if faces[-1].splay:
        wanted = (
            f"meets a return that splays by {float(faces[-1].splay):g} degrees; an "
            f"inside corner is laid square alone: leave out face.{side}_return_splay "
            "and its depth, or the alcove"
        )
        yield Complaint(key, wanted)
        return
    if job.edge(side).lean:
        wanted = (
            "is of the end of an alcove, and that is laid plumb; leave it out, and end "
            "the brick where the wall is nearest"
        )
        yield Complaint(f"edges.{side}.lean", wanted)
    yield from _room(job, side)


def _room(job: Job, side: Side) -> Iterator[Complaint]:
    """Complain of a return, or an alcove, too narrow for brick where a course butts."""
    grow, joint = build_out_of(job), job.joints.head.preferred
    back = job.face.beside(side)[-1].along
    room = back + grown_on(job, side)[-1] - grow - joint
    least = job.brick.thickness + job.joints.step
    if room < least:
        wanted = (
            f"leaves {said(job, room)} for brick before the alcove's, where it butts; "
            f"write {or_more(job, back + least - room)}"
        )
        yield Complaint(f"face.{side}_return", wanted)
    wide = job.face.alcove(side)
    if wide is None:
        return
    room = wide - grow - joint - job.edge(side).width
    if room < job.bond.least_piece:
        wanted = (
            f"leaves {said(job, room)} for brick beside the return's, where it butts; "
            f"write {or_more(job, wide + job.bond.least_piece - room)}"
        )
        yield Complaint(f"face.{side}_alcove", wanted)


def _goes_round(job: Job) -> Iterator[Complaint]:
    """Complain of what goes round the faces and can't alternate at an inside corner."""
    only = "an inside corner, where courses of the bond alone run past by turns"
    if job.bond.pattern == "stack":
        wanted = (
            f"has courses that are all alike, and at {only.split(',')[0]} they go by "
            "turns; write another pattern, or leave the alcove out"
        )
        yield Complaint("bond.pattern", wanted)
    steps = f"to {only}; leave the corbel or the alcove out"
    yield from complaints_of_what_goes_round(job, f"to {only}", "", steps)
    brick = job.hearth.brick if job.hearth else None
    if brick is not None and brick.riser is not None:
        wanted = (
            "faces a raised hearth between the returns and the wall, and there the "
            "alcove's brick stands; leave the riser or the alcove out"
        )
        yield Complaint("hearth.brick.riser", wanted)
