"""Say what in a survey or an arch can't be built, in the mason's words.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where it can be built.
Frame: the job's lengths, as the person measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from math import sin, tan

from shopdraw.job.arching import DEEPEST, jack_skewback, segmental_skewback
from shopdraw.job.complaint import Complaint, build_out_of, inches, legs_of, said
from shopdraw.job.model import ARCHES, ArchTable, Job

NONE = Fraction(0)


def complaints_of_found(job: Job) -> Iterator[Complaint]:
    """Yield what can't be so of the opening's corners, the hearth and the ends."""
    yield from _corners(job)
    yield from _hearth(job)
    yield from _leans(job)
    yield from _jamb_returns(job)


def _corners(job: Job) -> Iterator[Complaint]:
    corners = job.opening.corners
    if corners is None:
        return
    key = "opening.corners"
    left = max(corners.bottom_left[0], corners.top_left[0])
    right = min(corners.bottom_right[0], corners.top_right[0])
    if right <= left:
        wanted = "leave no opening between the jambs; from left to right they rise"
        yield Complaint(key, wanted, f"{said(job, left)} and {said(job, right)}")
    for side in ("left", "right"):
        foot, head = getattr(corners, f"bottom_{side}"), getattr(corners, f"top_{side}")
        if head[1] <= foot[1]:
            wanted = f"is not above its foot, {said(job, foot[1])} up"
            yield Complaint(f"{key}.top_{side}", wanted)
        elif abs(head[0] - foot[0]) > (head[1] - foot[1]) / 4:
            wanted = (
                f"leans {said(job, abs(head[0] - foot[0]))} from its foot; at most a "
                "quarter of its height"
            )
            yield Complaint(f"{key}.top_{side}", wanted)
    if corners.sag and job.opening.head in ARCHES:
        wanted = "is of a straight head; an arch is set out from its spring line"
        yield Complaint(f"{key}.sag", wanted)
    most = min(corners.top_left[1], corners.top_right[1]) / 4
    if corners.sag > most > 0:
        wanted = f"is more than a head sags; {said(job, most)} at most"
        yield Complaint(f"{key}.sag", wanted)


def _hearth(job: Job) -> Iterator[Complaint]:
    points = job.hearth.points if job.hearth else ()
    if not points:
        return
    if len(points) == 1:
        wanted = "is one point only; give two or more, or hearth.fall"
        yield Complaint("hearth.points", wanted)
    for place, (a, b) in enumerate(pairwise(points), start=2):
        if b[0] <= a[0]:
            wanted = (
                f"is not to the right of the point before it, {said(job, a[0])} along"
            )
            yield Complaint(f"hearth.points[{place}]", wanted)
    for place, (along, _) in enumerate(points, start=1):
        if not 0 <= along <= job.face.width:
            wanted = f"is beside the face, 0 to {said(job, job.face.width)} along"
            yield Complaint(f"hearth.points[{place}]", wanted)


def _leans(job: Job) -> Iterator[Complaint]:
    for name, edge in (("top", job.edges.top), ("jambs", job.edges.jambs)):
        if edge.lean:
            wanted = (
                "is for the left and right ends; opening.corners says how jambs lean"
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
            wanted = f"is over half the {what}, {said(job, room)}"
            yield Complaint(f"edges.{side}.lean", wanted)


def _jamb_returns(job: Job) -> Iterator[Complaint]:
    depth, opening = job.opening.jamb_return, job.opening
    if depth is None:
        if opening.firebox is not None:
            wanted = "is asked for what turns into the jambs; give opening.jamb_return"
            yield Complaint("opening.firebox", wanted)
        return
    least = job.brick.thickness + job.joints.step
    if depth < least:
        wanted = f"is the brick's own edge; {said(job, least)} at least"
        yield Complaint("opening.jamb_return", wanted)
    most = opening.width / 2 - build_out_of(job)
    if depth > most:
        wanted = f"reaches the middle of the opening; {said(job, most)} at most"
        yield Complaint("opening.jamb_return", wanted)
    yield from _between_folds(job)
    if job.edges.jambs.width:
        wanted = "can't be beside opening.jamb_return: the brick turns the corner there"
        yield Complaint("edges.jambs.width", wanted)
    if opening.head in ARCHES:
        wanted = f'is for straight heads; opening.head is "{opening.head}"'
        yield Complaint("opening.jamb_return", wanted)


def _between_folds(job: Job) -> Iterator[Complaint]:
    """A leg between two folds holds a leg of a corner unit at each, both trimmed."""
    least = job.joints.head.least + 2 * (job.brick.thickness + job.joints.step)
    returns = (job.face.left_return, job.face.right_return)
    for side, leg, depth in zip(("left", "right"), legs_of(job), returns, strict=True):
        if depth is not None and leg < least:
            wanted = (
                f"leaves the {side} leg {said(job, leg)} wide; a corner unit at both "
                f"its sides needs {said(job, least)}"
            )
            yield Complaint("opening.jamb_return", wanted)


def complaints_of_arch(job: Job) -> Iterator[Complaint]:
    """Yield what can't be so of an arch."""
    head, arch = job.opening.head, job.arch
    if head not in ARCHES:
        usual = ArchTable()
        for name in ArchTable.model_fields:
            if getattr(arch, name) != getattr(usual, name):
                wanted = f'is for an arch; opening.head is "{head}"'
                yield Complaint(f"arch.{name}", wanted)
        return
    yield from _jack(job) if head == "jack arch" else _segmental(job)
    depth = job.brick.length if arch.depth is None else arch.depth
    most = job.brick.length * DEEPEST
    if depth > most:
        wanted = f"is over what two brick reach; {said(job, most)} at most"
        yield Complaint("arch.depth", wanted)
    elif depth < job.brick.height:
        wanted = f"is under the brick's height, {said(job, job.brick.height)}"
        yield Complaint("arch.depth", wanted)
    rise = arch.rise or NONE
    crown = job.opening.height + rise + depth
    if crown > job.face.height:
        wanted = (
            f"puts the crown of the arch at {said(job, crown)}; the face is "
            f"{said(job, job.face.height)} high"
        )
        yield Complaint("opening.height", wanted)
    yield from _skewbacks(job, depth)


def _jack(job: Job) -> Iterator[Complaint]:
    arch = job.arch
    if arch.rise is not None:
        wanted = "is of a segmental arch; a jack arch has a camber"
        yield Complaint("arch.rise", wanted)
    if arch.voussoirs == "whole":
        wanted = "can't be: a jack arch ends level, so that its voussoirs are sawn"
        yield Complaint("arch.voussoirs", wanted)
    most = job.opening.width / 24
    if arch.camber is not None and arch.camber > most:
        wanted = (
            f"is more than a camber; {said(job, most)} at most, or a segmental arch"
        )
        yield Complaint("arch.camber", wanted)


def _segmental(job: Job) -> Iterator[Complaint]:
    arch, span = job.arch, job.opening.width
    if arch.camber is not None:
        wanted = "is of a jack arch; a segmental arch has a rise"
        yield Complaint("arch.camber", wanted)
    if arch.rise is None:
        wanted = "is missing: how far the crown of the soffit is above the spring line"
        yield Complaint("arch.rise", wanted)
    elif not span / 24 <= arch.rise < span / 2:
        wanted = (
            f"makes no segment over {said(job, span)}; {said(job, span / 24)} to less "
            f"than {said(job, span / 2)}"
        )
        yield Complaint("arch.rise", wanted)


def _skewbacks(job: Job, depth: Fraction) -> Iterator[Complaint]:
    """Hold the arch's reach to either side against the narrower leg."""
    span, rise = float(job.opening.width + 2 * job.edges.jambs.width), job.arch.rise
    deep, joint = float(depth), float(job.joints.bed.preferred)
    if job.opening.head == "jack arch":
        reach = deep * tan(jack_skewback(span, job.lengths))
    elif rise is not None and span / 24 <= rise < span / 2:
        reach = (deep + joint) * sin(segmental_skewback(span, float(rise)))
    else:
        return
    least, stays = min(legs_of(job)) - job.edges.jambs.width, inches(job, Fraction(1))
    if least > 0 and reach > float(least - stays):
        wanted = (
            f"makes skewbacks that reach {reach:.2f} {job.lengths} over legs of "
            f"{said(job, least)}; {said(job, stays)} of leg must stay"
        )
        yield Complaint("arch.depth", wanted, said(job, depth))
