"""Say in plain words what in a hearth of brick can't be built.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where it can be built.
Frame: the job's lengths, as the person measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.complaint import Complaint, inches, said
from shopdraw.job.model import Job
from shopdraw.job.model_around import HearthTable
from shopdraw.job.model_hearth import HearthBrickTable

KEY = "hearth.brick"
MOST_PIECES = 2_000
MOST_RISER = Fraction(36)
"""In inches; the code's own limits are lower, and are for the review."""


def complaints_of_hearth(job: Job) -> Iterator[Complaint]:
    """Complain of a hearth of brick that can't be laid, or that must not be."""
    hearth = job.hearth
    if hearth is None or hearth.brick is None:
        return
    yield from _sizes(job, hearth)
    yield from _past_the_firebox(job, hearth.brick)
    yield from _build_up(job, hearth.brick)
    if hearth.brick.riser is not None:
        yield from _riser(job, hearth.brick)


def _sizes(job: Job, hearth: HearthTable) -> Iterator[Complaint]:
    for name, where in (
        ("front", "from the wall as found to its front edge"),
        ("left", "from the left edge of the opening to its left end"),
        ("right", "from the right edge of the opening to its right end"),
    ):
        if getattr(hearth, name) is None:
            wanted = f"is missing, and {KEY} lays brick that far; measure {where}"
            yield Complaint(f"hearth.{name}", wanted)
    least = job.setting_bed.mean + job.brick.thickness + 2 * job.brick.length
    if hearth.front is not None and hearth.front < least:
        wanted = (
            f"leaves too little to lay brick on; write {said(job, least)} or more, or "
            f"leave {KEY} out"
        )
        yield Complaint("hearth.front", wanted)
    if hearth.front and hearth.left is not None and hearth.right is not None:
        width = hearth.left + job.opening.width + hearth.right
        count = width / job.brick.length * (hearth.front / job.brick.height)
        if count > MOST_PIECES:
            wanted = (
                f"takes about {int(count):,} pieces; this program lays at most "
                f"{MOST_PIECES:,} on a hearth"
            )
            yield Complaint(KEY, wanted, "the whole hearth")
    if hearth.later:
        wanted = (
            "is a finish still to be laid on the hearth, and its brick is that finish; "
            "leave later out: the datum is the top of the brick"
        )
        yield Complaint("hearth.later", wanted)


def _past_the_firebox(job: Job, brick: HearthBrickTable) -> Iterator[Complaint]:
    """Complain of brick past the line where the firebox begins."""
    if brick.back is None:
        return
    firebox = job.opening.firebox
    wall = job.setting_bed.mean + job.brick.thickness
    if firebox is not None and brick.back > firebox:
        wanted = (
            "goes past the line where the firebox begins, "
            f"{said(job, firebox)} behind the finished face; nothing is adhered inside "
            f"a firebox, so write {said(job, firebox)} or less"
        )
        yield Complaint(f"{KEY}.back", wanted)
    elif firebox is None and brick.back > wall:
        wanted = (
            "goes past the wall as found, and where the firebox begins is not given; "
            "nothing is adhered inside a firebox, so measure back to it, from the "
            f"finished face, as opening.firebox, or write {said(job, wall)} or less"
        )
        yield Complaint(f"{KEY}.back", wanted)


def _build_up(job: Job, brick: HearthBrickTable) -> Iterator[Complaint]:
    thick = job.brick.thickness
    if brick.slab is not None and brick.slab <= thick:
        wanted = (
            f"leaves no bed under brick {said(job, thick)} thick; write how far below "
            "the datum the brick is laid, at the slab's highest point"
        )
        yield Complaint(f"{KEY}.slab", wanted)
    stands = brick.border == "rowlock"
    stands = stands or (brick.riser is not None and brick.nosing == "rowlock")
    if stands and job.rowlock_height > job.brick.length:
        wanted = (
            "is longer than the brick that a rowlock is sawn from; write "
            f"{said(job, job.brick.length)} or less"
        )
        yield Complaint("courses.rowlock_height", wanted)
    joint = job.joints.head
    if brick.joint is not None and not joint.least <= brick.joint <= joint.most:
        wanted = (
            f"is not within joints.head, {said(job, joint.least)} to "
            f"{said(job, joint.most)}"
        )
        yield Complaint(f"{KEY}.joint", wanted)


def _riser(job: Job, brick: HearthBrickTable) -> Iterator[Complaint]:
    riser = brick.riser
    if riser is None:
        return
    if job.face.left_return is not None or job.face.right_return is not None:
        wanted = (
            "is for a face without returns: beside a breast the returns would stand on "
            "the floor and not on the hearth; leave the riser out, or the returns"
        )
        yield Complaint(f"{KEY}.riser", wanted)
    least = job.brick.height + job.joints.bottom.least
    if brick.nosing == "rowlock":
        least += job.rowlock_height + job.joints.bed.least
    most = inches(job, MOST_RISER)
    if riser < least:
        wanted = (
            f"has no room for a course and its nosing; write {said(job, least)} or more"
        )
        yield Complaint(f"{KEY}.riser", wanted)
    elif riser > most:
        wanted = f"is no hearth any more; write {said(job, most)} or less"
        yield Complaint(f"{KEY}.riser", wanted)
    hearth, from_left = job.hearth, job.opening.from_left
    if hearth is None or hearth.left is None or hearth.right is None:
        return
    if from_left is None:
        from_left = (job.face.width - job.opening.width) / 2
    right = job.face.width - job.opening.width - from_left
    if hearth.left < from_left or hearth.right < right:
        wanted = (
            "is for a hearth that the whole face stands on, and the face is wider than "
            "this one; measure hearth.left and hearth.right again, or leave the riser "
            "out"
        )
        yield Complaint(f"{KEY}.riser", wanted)
