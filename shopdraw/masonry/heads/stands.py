"""Find where soldiers stand: from where to where on each face, and which fill it.

In:  `Job`, `Surround`.   Out: `Stand`s.
Frame: as `Surround`; the run of a stand is measured from its left end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.job.model_head import STANDING
from shopdraw.lengths import taped_length
from shopdraw.masonry.heads.shares import (
    NONE,
    Centre,
    Filling,
    SoldierRun,
    bearings_between,
    share_alone,
    share_soldiers,
    share_whole,
)
from shopdraw.masonry.wall.form import Edge, Face, FaceName, Opening, Surround
from shopdraw.masonry.wall.layout import StopKind
from shopdraw.masonry.wall.surround import corner_legs, trace_surround

SAWN_SHOWS = ("covered", "sawn")
"""What an edge shows where a sawn end may be there."""


@dataclass(frozen=True)
class StandEnd:
    """One end of what soldiers fill.

    Attributes:
        x: where it is.
        kind: what is there.
        has_joint: whether a joint there is part of what is filled.
        may_be_sawn: whether a sawn edge is hidden there.
        fold: x of the outside corner there, on this face; None where there is none.
        edge: how wide the edge joint is.
    """

    x: Fraction
    kind: StopKind
    has_joint: bool
    may_be_sawn: bool
    fold: Fraction | None = None
    edge: Fraction = NONE


@dataclass(frozen=True)
class Stand:
    """Soldiers on one face.

    Attributes:
        face: which.
        ends: the left and the right end of what they fill.
        run: what fills it; None where no rule has an answer.
        key: the key of the job file that gives the width.
    """

    face: FaceName
    ends: tuple[StandEnd, StandEnd]
    run: SoldierRun | None
    key: str

    @property
    def left(self) -> Fraction:
        """The left end of what they fill."""
        return self.ends[0].x

    @property
    def right(self) -> Fraction:
        """The right end of what they fill."""
        return self.ends[1].x

    @property
    def turned(self) -> Fraction:
        """How much of the face is taken by what turns its outside corners."""
        folds = [(end.x, end.fold) for end in self.ends if end.fold is not None]
        return sum((abs(x - fold) for x, fold in folds), NONE)

    def aside(self, opening: Opening) -> Fraction:
        """Return how far their middle lies to the right of the opening's."""
        if self.run is None or not self.run.places:
            return NONE
        first, last = self.run.places[0], self.run.places[-1]
        return self.left + (first[0] + last[1]) / 2 - opening.centre


def stands_of(job: Job, surround: Surround) -> tuple[Stand, ...]:
    """Return where soldiers or rowlocks stand, from left to right."""
    if job.opening.head not in STANDING:
        return ()
    if surround.opening.head == "soldier over the opening":
        return (_stand_over(job, surround),)
    return tuple(_stand_on(job, surround, face) for face in surround.faces)


def can_stand(job: Job) -> bool:
    """Whether the rules fill every face of a job that soldiers stand on."""
    stands = stands_of(job, trace_surround(job))
    return all(stand.run is not None for stand in stands)


# --------------------------------------------------------------------- over the opening


def _stand_over(job: Job, surround: Surround) -> Stand:
    """Stand soldiers over the opening, from jamb to jamb or past both."""
    opening = surround.opening
    ends = (
        _end_over(surround, opening.brick_left - opening.soldiers_past[0], 0),
        _end_over(surround, opening.brick_right + opening.soldiers_past[1], 1),
    )
    filling = Filling(
        width=ends[1].x - ends[0].x,
        face=job.brick.height,
        joint=job.joints.head,
        end_joints=(ends[0].has_joint, ends[1].has_joint),
        centre=job.opening.head_centre,
        bearings=_bearings(job, surround),
    )
    key = "opening.width" if job.opening.head_over == "opening" else "face.width"
    return Stand("front", ends, share_soldiers(filling), key)


def _end_over(surround: Surround, x: Fraction, place: int) -> StandEnd:
    """Return an end over the opening; at the front's own end no brick stands beside."""
    edge = (surround.left_edge, surround.right_edge)[place]
    is_beyond = x >= surround.front.right if place else x <= surround.front.left
    if is_beyond:
        return StandEnd(edge.brick_x, "edge", False, hides(edge))
    return StandEnd(x, "soldier", not surround.opening.joint_in_leg, True)


def hides(edge: Edge) -> bool:
    """Return whether a sawn end may be at an edge, because it is not seen there."""
    return edge.against == "wall" or edge.shows in SAWN_SHOWS


def _bearings(job: Job, surround: Surround) -> tuple[Fraction, ...]:
    """Return how far soldiers may go past both jambs to come out whole, least first.

    It is half a soldier and half a joint at least, so that it reads as meant, and a
    soldier and a joint at most; and there must be room beside them for the least piece,
    or for a corner unit that reaches past the thickness of the brick it turns.
    """
    if job.opening.head_bears != "best" or job.opening.head_over != "opening":
        return ()
    opening, front, joint = surround.opening, surround.front, job.joints.head
    rooms = []
    for jamb, x, edge, (foot, top) in zip(
        (opening.brick_left, opening.brick_right),
        (front.left, front.right),
        (surround.left_edge, surround.right_edge),
        surround.as_built.ends,
        strict=True,
    ):
        if x in surround.folds:
            least = max(job.bond.least_piece, job.brick.thickness + job.joints.step)
            rooms.append(abs(jamb - x) - least)
        else:
            leans = abs(top[0] - foot[0])
            rooms.append(abs(jamb - edge.brick_x) - leans - job.bond.least_piece)
    room = min(rooms) - (joint.most if opening.joint_in_leg else NONE)
    pitch = job.brick.height + joint.preferred
    return bearings_between(pitch / 2, min(pitch, room), job.joints.step)


# ----------------------------------------------------------------------- round the face


def _stand_on(job: Job, surround: Surround, face: Face) -> Stand:
    """Stand soldiers on a face, none of which can go past its ends.

    Whole soldiers on a return may stop short of the wall by a joint, which is hidden
    there; a return with room for one soldier alone has it sawn. None stand where there
    is room for no more than a joint beside what turns the corner.
    """
    ends = _face_ends(job, surround, face)
    key = f"face.{'width' if face.name == 'front' else f'{face.name}_return'}"
    centre = job.opening.head_centre if face.name == "front" else "best"
    return fill_face(job, face.name, ends, key, centre)


def fill_face(
    job: Job,
    face: FaceName,
    ends: tuple[StandEnd, StandEnd],
    key: str,
    centre: Centre = "best",
) -> Stand:
    """Fill a face, or a part of the front, from one of its ends to the other.

    Args:
        job: the brick and the joints.
        face: which.
        ends: what there is at the left and at the right.
        key: of the job file, that gives the width.
        centre: what is wanted in the middle of the front.
    """
    left, right = ends
    joints = left.has_joint, right.has_joint
    if any(joints) and right.x - left.x <= job.joints.head.most:
        # Two corner units side by side have a joint between them.
        least = job.joints.head.least if all(joints) else NONE
        fits = right.x - left.x >= least
        return Stand(face, ends, SoldierRun((), NONE, 0) if fits else None, key)
    from_right = left.kind == "wall"
    filling = Filling(
        width=right.x - left.x,
        face=job.brick.height,
        joint=job.joints.head,
        # A return is filled from its corner to the wall.
        end_joints=joints[::-1] if from_right else joints,
        centre=centre,
    )
    if face == "front":
        return Stand("front", (left, right), share_soldiers(filling), key)
    wall = left if from_right else right
    spare = max(NONE, job.joints.head.most - wall.edge)
    run = (
        share_whole(filling)
        or share_whole(filling, spare)
        or share_soldiers(filling)
        or share_alone(filling)
    )
    if run is not None and from_right:
        run = run.mirrored(filling.width)
    return Stand(face, (left, right), run, key)


def _face_ends(job: Job, surround: Surround, face: Face) -> tuple[StandEnd, StandEnd]:
    ends = []
    for x, inward, edge in (
        (face.left, 1, surround.left_edge),
        (face.right, -1, surround.right_edge),
    ):
        if x not in surround.folds:
            wide = abs(edge.brick_x - edge.x)
            ends.append(
                StandEnd(edge.brick_x, edge.against, False, hides(edge), edge=wide)
            )
            continue
        ends.append(end_at_fold(job, face.name, x, inward))
    return ends[0], ends[1]


def end_at_fold(job: Job, face: FaceName, x: Fraction, inward: int) -> StandEnd:
    """Return the end at an outside corner, where something turns it.

    Args:
        job: how soldiers turn a corner.
        face: which, the front or what is round its corner.
        x: of the corner, on the face.
        inward: 1 where the face goes on to the right of it, -1 to the left.
    """
    taken = NONE
    if job.brick.soldier_corner is not None:
        legs = corner_legs(job.brick.soldier_corner, job.brick.thickness)
        taken = legs[0] if face == "front" else legs[1]
    elif job.brick.at_fold == "butt" and face != "front":
        taken = job.brick.thickness
    is_beside = taken > 0
    return StandEnd(x + inward * taken, "fold", is_beside, is_beside, x)


def shorter_legs(job: Job, stand: Stand) -> Iterator[str]:
    """Yield what to write where corner units alone are wider than a face."""
    is_over = stand.right - stand.left < job.joints.head.least
    if is_over and stand.turned and job.brick.soldier_corner is not None:
        yield "shorter legs in brick.soldier_corner"


def say_unfilled(job: Job, stand: Stand, name: str, where: str = "") -> str:
    """Say that nothing fills a face, whichever brick stands there.

    Args:
        job: the brick and the joints.
        stand: what is not filled.
        name: of the brick that stands, "soldier" or "rowlock".
        where: on which face and in which course, where the key does not say.
    """
    room, joint = stand.right - stand.left, job.joints.head

    def say(length: Fraction) -> str:
        return taped_length(length, job.lengths)

    if room < joint.least and stand.turned:
        return (
            f"what turns the outside corners is {say(stand.turned)} wide without its "
            f"joints, and {say(room + stand.turned)}{where} is all there is"
        )
    joints = say(joint.least)
    if joint.least != joint.most:
        joints += f" to {say(joint.most)}"
    return (
        f"no {name}s {say(job.brick.height)} wide fill {say(room)}{where} with head "
        f"joints of {joints}, neither whole nor with two equal ones at the ends sawn "
        "to half or more"
    )
