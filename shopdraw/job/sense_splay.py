"""Say in plain words what in a splayed jamb can't be built.

In:  `Job`, every key well formed, what follows from others filled in.
Out: `Complaint`s; none where it can be built.
Frame: the job's lengths; angles in degrees.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.complaint import Complaint, said
from shopdraw.job.model import Job
from shopdraw.job.turning import splay_of, square_depth
from shopdraw.lengths import rounded, shown_step

MOST_SPLAYED = 60
"""In degrees: past this a jamb is hardly a jamb any more."""


def complaints_of_splay(job: Job) -> Iterator[Complaint]:
    """Complain of an angle without a jamb, and of figures that don't agree."""
    opening = job.opening
    along, deep, splay = opening.jamb_return, opening.jamb_depth, opening.splay
    if along is None:
        yield from _without_a_jamb(job)
        return
    if deep is not None and deep > along:
        wanted = (
            f"is more than opening.jamb_return, {said(job, along)}; that one is "
            "measured along the jamb, and this one square to the face"
        )
        yield Complaint("opening.jamb_depth", wanted)
        return
    if splay is not None and opening.splayed > MOST_SPLAYED:
        wanted = (
            f"makes a splay of {float(opening.splayed):.1f} degrees with "
            f"opening.jamb_return; it may be {MOST_SPLAYED} at most"
        )
        yield Complaint("opening.jamb_depth", wanted)
        return
    follows = square_depth(along, opening.splayed)
    # A depth gives the angle no better than half a degree, nor than a tape's step.
    agrees = abs(follows - deep) <= shown_step(job.lengths) if deep else True
    if deep is not None and not agrees and splay_of(along, deep) != opening.splayed:
        wanted = (
            f"does not agree with the other two: a jamb of {said(job, along)} that "
            f"splays by {float(opening.splayed):g} degrees reaches "
            f"{said(job, rounded(follows, job.lengths))} back; measure again, or leave "
            "one of the three out"
        )
        yield Complaint("opening.jamb_depth", wanted)
    if opening.splayed:
        yield from _legs(job)


def _without_a_jamb(job: Job) -> Iterator[Complaint]:
    if job.opening.jamb_depth is not None:
        wanted = (
            "says how far back the jamb reaches, but not how long it is; write "
            "opening.jamb_return or opening.splay too"
        )
        yield Complaint("opening.jamb_depth", wanted)
    elif job.opening.splay:
        wanted = (
            "is for brick that turns into the jambs; write opening.jamb_return or "
            "opening.jamb_depth too, or leave splay out"
        )
        yield Complaint("opening.splay", wanted)


def _legs(job: Job) -> Iterator[Complaint]:
    """Hold the legs of a mitred corner unit against the brick that they come out of."""
    corner = job.brick.corner
    if corner is None:
        return
    inside = job.brick.thickness if corner.measured == "inside" else Fraction(0)
    if corner.long_leg + inside > job.brick.length:
        wanted = (
            "is longer outside than a whole brick, "
            f"{said(job, job.brick.length)}; where jambs splay each leg is sawn from "
            "one brick"
        )
        yield Complaint("brick.corner.long_leg", wanted)
