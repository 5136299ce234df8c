"""Say in plain words what in a face that splays can't be built.

In:  `Job`, every key well formed, what follows from others filled in.
Out: `Complaint`s; none where it can be built.
Frame: the job's lengths; angles in degrees.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.complaint import Complaint, grown_on, or_more, said
from shopdraw.job.model import Job
from shopdraw.job.model_face import SIDES, Side
from shopdraw.job.sense_round import complaints_of_what_goes_round
from shopdraw.job.splayed import BESIDE, JAMB, Splayed
from shopdraw.job.turning import SQUARE, short_of_wall, splay_of, square_depth
from shopdraw.lengths import rounded, shown_step

LEAST_TURN = 20
"""In degrees: what turns by less is no corner that a unit is mitred for."""


def complaints_of_splay(job: Job) -> Iterator[Complaint]:
    """Complain of an angle without a jamb, and of figures that don't agree."""
    yield from _figures(job, JAMB)
    if job.opening.jamb_return is not None and job.opening.splayed:
        yield from _legs(job, "jambs splay")


def complaints_of_corners(job: Job) -> Iterator[Complaint]:
    """Complain of outside corners that are not square and can't be built."""
    faults = [complaint for face in BESIDE for complaint in _figures(job, face)]
    faults += [complaint for side in SIDES for complaint in _chamfer(job, side)]
    yield from faults
    if faults or job.face.is_square:
        return
    for side in SIDES:
        yield from _at_the_wall(job, side)
    yield from _legs(job, "an outside corner is not square")
    yield from _only_square(job)


def _figures(job: Job, face: Splayed) -> Iterator[Complaint]:
    """Complain of figures that don't agree, or that say too little."""
    along, deep = (face.length(job, key) for key in (face.along, face.deep))
    splay = face.angle(job)
    if along is None:
        yield from _without_a_length(job, face)
        return
    if deep is not None and deep > along:
        wanted = (
            f"is more than {face.along}, {said(job, along)}; that one is "
            f"measured along the {face.name}, and this one square to the face"
        )
        yield Complaint(face.deep, wanted)
        return
    if splay is not None and splay > face.most:
        wanted = (
            f"makes a splay of {float(splay):.1f} degrees with {face.along}; it may "
            f"be {face.most} at most"
        )
        yield Complaint(face.deep, wanted)
        return
    if deep is None or splay is None:
        return
    follows = square_depth(along, splay)
    # A depth gives the angle no better than half a degree, nor than a tape's step.
    agrees = abs(follows - deep) <= shown_step(job.lengths)
    if not agrees and splay_of(along, deep) != abs(splay):
        wanted = (
            f"does not agree with the other two: a {face.name} of {said(job, along)} "
            f"that splays by {float(splay):g} degrees reaches "
            f"{said(job, rounded(follows, job.lengths))} back; measure again, or leave "
            "one of the three out"
        )
        yield Complaint(face.deep, wanted)


def _without_a_length(job: Job, face: Splayed) -> Iterator[Complaint]:
    """Complain of a depth or an angle of a face that is not there."""
    if face.length(job, face.deep) is not None:
        wanted = (
            f"says how far back the {face.name} reaches, but not how long it is; "
            f"write {face.along} or {face.splay} too"
        )
        yield Complaint(face.deep, wanted)
    elif face.angle(job):
        turns = "turns into the jambs" if face is JAMB else "turns the corner"
        wanted = (
            f"is for brick that {turns}; write {face.along} or {face.deep} too, or "
            "leave it out"
        )
        yield Complaint(face.splay, wanted)


def _chamfer(job: Job, side: Side) -> Iterator[Complaint]:
    """Complain of a chamfer with no return, no angle, or no room for two legs."""
    key = f"face.{side}_chamfer"
    if job.at(key) is None:
        return
    if not job.face.beside(side):
        wanted = (
            f"stands between the front and a return; write face.{side}_return too, or "
            f"where it goes back to the wall itself, call it face.{side}_return and "
            f"write face.{side}_return_splay"
        )
        yield Complaint(key, wanted)
        return
    if job.at(f"{key}_splay") is None:
        wanted = (
            f"needs its angle: write {key}_splay, 45 where it halves a square corner, "
            f"or {key}_depth"
        )
        yield Complaint(key, wanted)
        return
    last = job.face.turns(side)[-1]
    if last < LEAST_TURN:
        wanted = (
            f"leaves a corner of {float(last):g} degrees between it and the return; it "
            f"must turn by {LEAST_TURN} at least: write a larger splay, or a smaller "
            f"face.{side}_return_splay"
        )
        yield Complaint(f"{key}_splay", wanted)
    chamfer, least = job.face.beside(side)[0], job.joints.head.least
    finished = chamfer.along + sum(grown_on(job, side))
    least += 2 * job.bond.least_piece
    if finished < least:
        wanted = (
            f"is {said(job, finished)} wide when finished; with a leg of a corner unit "
            f"at each end and a joint it needs {said(job, least, 'up')} at least"
        )
        yield Complaint(key, wanted)


def _at_the_wall(job: Job, side: Side) -> Iterator[Complaint]:
    """Complain of a return whose brick would stop too far from a slanting wall."""
    faces = job.face.beside(side)
    if not faces:
        return
    last, corner = faces[-1], job.face.turns(side)[-1]
    taken = job.edge(side).width + short_of_wall(
        job.brick.thickness, last.splay, job.lengths
    )
    room = last.along + grown_on(job, side)[-1] - taken
    least = job.bond.least_piece
    if corner != SQUARE and room < least:
        wanted = (
            f"leaves {said(job, room)} for brick between its corner and the joint at "
            f"the wall; write {or_more(job, last.along + least - room)}"
        )
        yield Complaint(f"face.{last.key}", wanted)


def _legs(job: Job, where: str) -> Iterator[Complaint]:
    """Hold the legs of a mitred corner unit against the brick that they come out of."""
    corner = job.brick.corner
    if corner is None:
        return
    inside = job.brick.thickness if corner.measured == "inside" else Fraction(0)
    if corner.long_leg + inside > job.brick.length:
        wanted = (
            "is longer outside than a whole brick, "
            f"{said(job, job.brick.length)}; where {where} each leg is sawn from "
            "one brick"
        )
        yield Complaint("brick.corner.long_leg", wanted)


def _only_square(job: Job) -> Iterator[Complaint]:
    """Complain of what turns a corner or steps out there, and wants it square."""
    only = "an outside corner that is not square"
    yield from complaints_of_what_goes_round(
        job,
        f"round {only}",
        ", and {what} turn square ones alone",
        f"at {only}; a corbel is laid between square ones alone",
    )
