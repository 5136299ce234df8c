"""Say in plain words what in a survey can't be built.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where it can be built.
Frame: the job's lengths, as the person measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from shopdraw.job.complaint import (
    Complaint,
    build_out_of,
    legs_of,
    or_less,
    or_more,
    said,
)
from shopdraw.job.model import Job
from shopdraw.job.model_head import ARCHES
from shopdraw.job.sense_alcove import complaints_of_alcoves
from shopdraw.job.sense_splay import complaints_of_corners, complaints_of_splay

NONE = Fraction(0)


def complaints_of_found(job: Job) -> Iterator[Complaint]:
    """Complain of the opening's corners, the hearth, the ends and the jambs."""
    yield from _corners(job)
    yield from _hearth(job)
    yield from _leans(job)
    yield from _jamb_returns(job)
    yield from complaints_of_corners(job)
    yield from complaints_of_alcoves(job)


def _corners(job: Job) -> Iterator[Complaint]:
    corners = job.opening.corners
    if corners is None:
        return
    key = "opening.corners"
    left = max(corners.bottom_left[0], corners.top_left[0])
    right = min(corners.bottom_right[0], corners.top_right[0])
    if right <= left:
        wanted = (
            f"put the left jamb at {said(job, left)} and the right one at "
            f"{said(job, right)}; measure each from the left end of the face"
        )
        yield Complaint(key, wanted, "the corners")
    for side in ("left", "right"):
        foot, head = getattr(corners, f"bottom_{side}"), getattr(corners, f"top_{side}")
        if head[1] <= foot[1]:
            wanted = f"is not above the foot of its jamb, {said(job, foot[1])} up"
            yield Complaint(f"{key}.top_{side}", wanted, f"{said(job, head[1])} up")
        elif abs(head[0] - foot[0]) > (head[1] - foot[1]) / 4:
            wanted = (
                f"is {said(job, abs(head[0] - foot[0]))} to one side of the foot of "
                "its jamb; a jamb may lean by a quarter of its height at most"
            )
            yield Complaint(f"{key}.top_{side}", wanted, f"{said(job, head[0])} along")
    if corners.sag and job.opening.head in ARCHES:
        wanted = (
            "is for a straight head only; an arch is set out from its spring line, so "
            "leave sag out"
        )
        yield Complaint(f"{key}.sag", wanted)
    most = min(corners.top_left[1], corners.top_right[1]) / 4
    if corners.sag > most > 0:
        wanted = f"is more than a head can sag; write {or_less(job, most)}"
        yield Complaint(f"{key}.sag", wanted)


def _hearth(job: Job) -> Iterator[Complaint]:
    points = job.hearth.points if job.hearth else ()
    if not points:
        return
    if len(points) == 1:
        wanted = "is not enough; give two points or more, or hearth.fall instead"
        yield Complaint("hearth.points", wanted, "one point")
    for place, (a, b) in enumerate(pairwise(points), start=2):
        if b[0] <= a[0]:
            wanted = (
                f"is not to the right of the point before it, {said(job, a[0])} along"
            )
            found = f"{said(job, b[0])} along"
            yield Complaint(f"hearth.points[{place}]", wanted, found)
    for place, (along, _) in enumerate(points, start=1):
        if not 0 <= along <= job.face.width:
            wanted = (
                f"is beyond the face; write from 0 to {said(job, job.face.width)} along"
            )
            found = f"{said(job, along)} along"
            yield Complaint(f"hearth.points[{place}]", wanted, found)


def _leans(job: Job) -> Iterator[Complaint]:
    for name, edge in (("top", job.edges.top), ("jambs", job.edges.jambs)):
        if edge.lean:
            wanted = (
                "is for the left and right ends only; opening.corners says how jambs "
                "lean"
            )
            yield Complaint(f"edges.{name}.lean", wanted)
    for side, edge, leg, depth in zip(
        ("left", "right"),
        (job.edges.left, job.edges.right),
        legs_of(job),
        (job.face.left_return, job.face.right_return),
        strict=True,
    ):
        room = leg if depth is None else depth
        if abs(edge.lean) > room / 2 > 0:
            what = "leg" if depth is None else "return"
            wanted = f"is more than half the {what}, {said(job, room)} wide"
            yield Complaint(f"edges.{side}.lean", wanted)


def _jamb_returns(job: Job) -> Iterator[Complaint]:
    depth, opening = job.opening.jamb_return, job.opening
    yield from complaints_of_splay(job)
    if depth is None:
        has_hearth = job.hearth is not None and job.hearth.brick is not None
        if opening.firebox is not None and not has_hearth:
            wanted = (
                "is for brick that turns into the jambs; write opening.jamb_return, or "
                "leave firebox out"
            )
            yield Complaint("opening.firebox", wanted)
        return
    least = job.brick.thickness + job.joints.step
    if depth < least:
        wanted = f"is no deeper than the brick itself; write {or_more(job, least)}"
        yield Complaint("opening.jamb_return", wanted)
    most = opening.width / 2 - build_out_of(job)
    if depth > most:
        wanted = f"is past the middle of the opening; write {or_less(job, most)}"
        yield Complaint("opening.jamb_return", wanted)
    yield from _between_folds(job)
    if job.edges.jambs.width:
        wanted = (
            "can't be given with opening.jamb_return, because the brick turns the "
            "corner there; leave the width out"
        )
        yield Complaint("edges.jambs.width", wanted)
    if opening.head in ARCHES:
        wanted = f'needs a straight head, and opening.head is "{opening.head}"'
        yield Complaint("opening.jamb_return", wanted)


def _between_folds(job: Job) -> Iterator[Complaint]:
    """Hold a leg of the face between two outside corners against two corner units.

    Each corner has a leg of a corner unit on this leg of the face, both trimmed.
    """
    least = job.joints.head.least + 2 * (job.brick.thickness + job.joints.step)
    returns = (job.face.left_return, job.face.right_return)
    for side, leg, depth in zip(("left", "right"), legs_of(job), returns, strict=True):
        if depth is not None and leg < least:
            wanted = (
                f"leaves the {side} leg {said(job, leg)} wide; with a corner unit at "
                f"each side it needs at least {said(job, least, 'up')}"
            )
            yield Complaint("opening.jamb_return", wanted)
