"""Lay the soldier course: how many soldiers, which joint, and what is at its ends.

In:  `Job`, `Surround`, `Coursing`.   Out: `SoldierCourse`.
Frame: as `Surround`; a `SoldierRun` is measured from the left end of its own width.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor
from typing import Literal

from shopdraw.job.model import Job, JointTable
from shopdraw.job.model_head import STANDING
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.form import Face, FaceName, Surround
from shopdraw.masonry.wall.layout import (
    Outline,
    Piece,
    PieceKind,
    Stop,
    StopKind,
    flat_piece,
    rectangle,
)
from shopdraw.masonry.wall.surround import corner_legs

Centre = Literal["best", "unit", "joint"]


@dataclass(frozen=True)
class SoldierRun:
    """Soldiers side by side.

    Attributes:
        places: (left, right) of each, from the left end of the width.
        joint: how wide the joints are.
        joint_count: how many there are, those at the ends included.
        cut: the width that the middle soldier is sawn to; None where it is not sawn.
        keeps_centre: whether a soldier, or a joint, is on the centre line as asked.
    """

    places: tuple[tuple[Fraction, Fraction], ...]
    joint: Fraction
    joint_count: int
    cut: Fraction | None
    keeps_centre: bool


def share_soldiers(
    width: Fraction,
    face: Fraction,
    joint: JointTable,
    *,
    end_joints: tuple[bool, bool],
    centre: Centre = "best",
) -> SoldierRun:
    """Fill a width with soldiers.

    Args:
        width: how much is to be filled, end joints included.
        face: the width that one soldier shows (the height of the brick).
        joint: the range of the joints, which share what is left exactly. They need not
            be whole steps, because no soldier is sawn for them.
        end_joints: whether there is a joint at the left end, and at the right.
        centre: what must be on the centre line.

    Returns:
        As many soldiers as bring the joint nearest the preferred; of two numbers that
        do, the larger. An odd or even number, as the centre line asks, if one fits, or
        else any. Where no number fits, the middle soldier is sawn, to half its width or
        more where that is possible.
    """
    wanted = {"best": (0, 1), "unit": (1,), "joint": (0,)}[centre]
    for parities, keeps in ((wanted, True), ((0, 1), centre == "best")):
        best: tuple[Fraction, int, Fraction] | None = None
        for count, share in _shares(width, face, end_joints):
            if count % 2 in parities and joint.least <= share <= joint.most:
                key = (abs(share - joint.preferred), -count, share)
                best = key if best is None else min(best, key)
        if best is not None:
            return _stand(-best[1], face, best[2], end_joints, None, keeps=keeps)
    return _with_one_cut(width, face, joint, end_joints, keeps=centre != "joint")


def _shares(
    width: Fraction, face: Fraction, end_joints: tuple[bool, bool]
) -> list[tuple[int, Fraction]]:
    shares = []
    for count in range(1, floor(width / face) + 1):
        joints = count - 1 + sum(end_joints)
        left_over = width - count * face
        if joints:
            shares.append((count, left_over / joints))
    return shares


def _with_one_cut(
    width: Fraction,
    face: Fraction,
    joint: JointTable,
    end_joints: tuple[bool, bool],
    *,
    keeps: bool,
) -> SoldierRun:
    """Saw the middle soldier, with an odd number of them and the best joint for it."""
    best: tuple[bool, bool, Fraction, Fraction, int, Fraction] | None = None
    for count in range(1, floor(width / face) + 4):
        joints = count - 1 + sum(end_joints)
        for share in (joint.preferred, joint.least, joint.most):
            cut = width - (count - 1) * face - joints * share
            if 0 < cut <= face:
                departure = abs(share - joint.preferred)
                key = (cut < face / 2, count % 2 == 0, departure, -cut, count, share)
                best = key if best is None else min(best, key)
    if best is None:
        # The width is less than its joints alone: one piece fills all of it.
        return _stand(1, face, Fraction(0), (False, False), width, keeps=keeps)
    *_, minus_cut, count, share = best
    return _stand(count, face, share, end_joints, -Fraction(minus_cut), keeps=keeps)


def _stand(
    count: int,
    face: Fraction,
    joint: Fraction,
    end_joints: tuple[bool, bool],
    cut: Fraction | None,
    *,
    keeps: bool,
) -> SoldierRun:
    at = joint if end_joints[0] else Fraction(0)
    places = []
    for place in range(count):
        width = cut if cut is not None and place == count // 2 else face
        places.append((at, at + width))
        at += width + joint
    joints = count - 1 + sum(end_joints)
    return SoldierRun(tuple(places), joint, joints, cut, keeps)


@dataclass(frozen=True)
class SoldierCourse:
    """The soldier course as laid; empty where the head is not soldiers or rowlocks.

    Attributes:
        pieces: not named yet.
        stops: the ends of its runs.
        brick_stops: where the brick of the legs beside it stops, left and right.
        reasons: what was decided and why.
    """

    pieces: tuple[Piece, ...]
    stops: tuple[Stop, ...]
    brick_stops: tuple[Fraction, Fraction]
    reasons: tuple[str, ...]


def lay_soldiers(job: Job, surround: Surround, coursing: Coursing) -> SoldierCourse:
    """Lay the soldier course over the opening or round the face."""
    opening = surround.opening
    stands = job.opening.head in STANDING
    if not stands or coursing.soldier_top is None:
        return SoldierCourse((), (), (opening.brick_left, opening.brick_right), ())
    if opening.head == "soldier over the face":
        return _round_the_face(job, surround, coursing)
    return _over_the_opening(job, surround, coursing)


def _over_the_opening(
    job: Job, surround: Surround, coursing: Coursing
) -> SoldierCourse:
    opening = surround.opening
    left = opening.brick_left - opening.soldiers_past[0]
    right = opening.brick_right + opening.soldiers_past[1]
    # Where the soldiers reach the very end of the front, nothing stands beside them.
    meets = (left > surround.front.left, right < surround.front.right)
    left = max(left, surround.left_edge.brick_x if not meets[0] else left)
    right = min(right, surround.right_edge.brick_x if not meets[1] else right)
    in_opening = not opening.joint_in_leg
    run = share_soldiers(
        right - left,
        job.brick.height,
        job.joints.head,
        end_joints=(in_opening and meets[0], in_opening and meets[1]),
        centre=job.opening.head_centre,
    )
    gap = Fraction(0) if in_opening else run.joint
    number = coursing.courses_below_head + 1
    ends = run.places[0][0] + left, run.places[-1][1] + left
    return SoldierCourse(
        pieces=tuple(_soldiers(job, coursing, run, left, "front", number)),
        stops=(
            Stop("front", number, "soldier" if meets[0] else "edge", ends[0]),
            Stop("front", number, "soldier" if meets[1] else "edge", ends[1]),
        ),
        brick_stops=(left - gap, right + gap),
        reasons=_say(job, run),
    )


def _soldiers(
    job: Job,
    coursing: Coursing,
    run: SoldierRun,
    left: Fraction,
    face: FaceName,
    course: int,
) -> list[Piece]:
    """Stand the soldiers of a run in place, sawn ends up.

    Where there are two courses, each soldier stands plumb over the one below: common
    practice, no published source.
    """
    kind: PieceKind = "rowlock" if job.opening.head == "rowlock" else "soldier"
    pieces = []
    for bottom, top in tiers(job, coursing):
        to_length = ("top",) if top - bottom != job.brick.length else ()
        for a, b in run.places:
            to_width = ("right",) if b - a != job.brick.height else ()
            outline = rectangle(face, left + a, bottom, left + b, top)
            pieces.append(flat_piece(kind, course, outline, (*to_width, *to_length)))
    return pieces


def tiers(job: Job, coursing: Coursing) -> tuple[tuple[Fraction, Fraction], ...]:
    """Return the bottom and the top of each course that stands over the opening."""
    count, joint = job.opening.head_courses, job.joints.bed.preferred
    top = coursing.soldier_top or coursing.head
    height = (top - coursing.head - (count - 1) * joint) / count
    bottoms = [coursing.head + place * (height + joint) for place in range(count)]
    return tuple((bottom, bottom + height) for bottom in bottoms)


def _say(job: Job, run: SoldierRun) -> tuple[str, ...]:
    reasons = []
    asked = job.opening.head_centre
    joint = format_length(run.joint, job.lengths)
    name = job.opening.head
    middle = name if len(run.places) % 2 else "joint"
    which = "The" if job.opening.head_courses == 1 else "Each"
    reasons.append(
        f"{which} {name} course has {len(run.places)} {name}s, with a {middle} on its "
        f"centre line; {run.joint_count} joints of about {joint} share what is left "
        "evenly."
    )
    if not run.keeps_centre:
        reasons.append(
            f"With a {asked} on the centre line the head joints would be out of range."
        )
    if run.cut is not None:
        reasons.append(
            f"The middle {name} is sawn narrower: no number of whole {name}s fills the "
            "width with head joints in range."
        )
    return tuple(reasons)


def _round_the_face(job: Job, surround: Surround, coursing: Coursing) -> SoldierCourse:
    """Lay soldiers on every face; the job says how they turn the outside corner."""
    number = next(c.number for c in coursing.courses if c.kind == "soldier")
    pieces: list[Piece] = []
    stops: list[Stop] = []
    reasons: tuple[str, ...] = ()
    for face in surround.faces:
        left, right = _face_ends(job, surround, face)
        # At an outside corner the run goes on to it: what turns it is part of the run.
        for end in (left, right):
            x = end.x if end.fold is None else end.fold
            stops.append(Stop(face.name, number, end.kind, x))
        if right.x - left.x <= job.joints.head.most:
            # Beside what turns the corner there is no room for more than a joint.
            continue
        run = share_soldiers(
            right.x - left.x,
            job.brick.height,
            job.joints.head,
            end_joints=(left.has_joint, right.has_joint),
            centre=job.opening.head_centre if face.name == "front" else "best",
        )
        laid = _soldiers(job, coursing, run, left.x, face.name, number)
        row = len(run.places)
        for first in range(0, len(laid), row):
            for place, end in ((first, left), (first + row - 1, right)):
                laid[place] = _turned(laid[place], job, surround, face, end)
        pieces += laid
        if face.name == "front":
            reasons = _say(job, run)
    pieces += _soldier_corners(job, surround, coursing, number)
    opening = surround.opening
    return SoldierCourse(
        tuple(pieces), tuple(stops), (opening.brick_left, opening.brick_right), reasons
    )


@dataclass(frozen=True)
class _FaceEnd:
    """Where a face's own soldiers end, and whether there is a joint at that end."""

    x: Fraction
    has_joint: bool
    kind: StopKind
    fold: Fraction | None


def _face_ends(job: Job, surround: Surround, face: Face) -> tuple[_FaceEnd, _FaceEnd]:
    ends = []
    for x, inward, edge in (
        (face.left, 1, surround.left_edge),
        (face.right, -1, surround.right_edge),
    ):
        if x not in surround.folds:
            ends.append(_FaceEnd(edge.brick_x, False, edge.against, None))
            continue
        taken = Fraction(0)
        if job.brick.soldier_corner is not None:
            legs = corner_legs(job.brick.soldier_corner, job.brick.thickness)
            taken = legs[0] if face.name == "front" else legs[1]
        elif job.brick.at_fold == "butt" and face.name != "front":
            taken = job.brick.thickness
        ends.append(_FaceEnd(x + inward * taken, taken > 0, "fold", x))
    return ends[0], ends[1]


def _turned(
    piece: Piece, job: Job, surround: Surround, face: Face, end: _FaceEnd
) -> Piece:
    """Mitre the soldier at an outside corner, or let its edge show on the return."""
    if end.fold is None or job.brick.soldier_corner is not None:
        return piece
    if job.brick.at_fold == "mitre":
        edges = (*piece.cut_edges, "mitre")
        return replace(piece, is_cut=True, cut_edges=edges)
    if face.name != "front":
        return piece
    on_left = end.fold == surround.front.left
    name: FaceName = "left" if on_left else "right"
    thickness = job.brick.thickness
    at = end.fold - thickness if on_left else end.fold
    front = piece.outlines[0]
    edge = rectangle(name, at, front.bottom, at + thickness, front.top)
    return replace(piece, outlines=(front, edge), legs=(piece.length, thickness))


def _soldier_corners(
    job: Job, surround: Surround, coursing: Coursing, course: int
) -> list[Piece]:
    if job.brick.soldier_corner is None:
        return []
    long_leg, short_leg = corner_legs(job.brick.soldier_corner, job.brick.thickness)
    pieces = []
    at = ((fold, tier) for fold in surround.folds for tier in tiers(job, coursing))
    for fold, (bottom, top) in at:
        on_left = fold == surround.front.left
        name: FaceName = "left" if on_left else "right"
        spans = (fold, fold + long_leg), (fold - short_leg, fold)
        if not on_left:
            spans = (fold - long_leg, fold), (fold, fold + short_leg)
        outlines: tuple[Outline, ...] = (
            rectangle("front", spans[0][0], bottom, spans[0][1], top),
            rectangle(name, spans[1][0], bottom, spans[1][1], top),
        )
        piece = flat_piece("soldier corner unit", course, outlines[0], ())
        pieces.append(replace(piece, outlines=outlines, legs=(long_leg, short_leg)))
    return pieces
