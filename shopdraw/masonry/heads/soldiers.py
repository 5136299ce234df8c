"""Lay the soldier course: over the opening, past its jambs, or round the face.

In:  `Job`, `Surround`, `Coursing`.   Out: `SoldierCourse`.
Frame: as `Surround`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_head import STANDING
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.heads.shares import NONE
from shopdraw.masonry.heads.soldier_words import say_no_answer, say_run
from shopdraw.masonry.heads.standing import (
    outside_corners,
    run_of,
    stand_pieces,
    stand_round,
    stops_of,
)
from shopdraw.masonry.heads.stands import Stand, stands_of
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Piece, PieceKind, Stop


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
    """Lay the soldier course over the opening or round the face.

    Raises:
        NotLaid: no rule fills a face; the message says what would do.
    """
    opening = surround.opening
    if job.opening.head not in STANDING or coursing.soldier_top is None:
        return SoldierCourse((), (), (opening.brick_left, opening.brick_right), ())
    stands = stands_of(job, surround)
    wrong = next((stand for stand in stands if stand.run is None), None)
    if wrong is not None:
        raise NotLaid(say_no_answer(job, wrong))
    if opening.head == "soldier over the face":
        return _round_the_face(job, surround, coursing, stands)
    return _over_the_opening(job, surround, coursing, stands[0])


def _over_the_opening(
    job: Job, surround: Surround, coursing: Coursing, stand: Stand
) -> SoldierCourse:
    run, number = run_of(stand), coursing.courses_below_head + 1
    gap = run.bears + (run.joint if surround.opening.joint_in_leg else NONE)
    ends = stand.left + run.places[0][0], stand.left + run.places[-1][1]
    return SoldierCourse(
        pieces=tuple(_soldiers(job, coursing, stand, number)),
        stops=tuple(
            Stop("front", number, end.kind, x)
            for end, x in zip(stand.ends, ends, strict=True)
        ),
        brick_stops=(stand.left - gap, stand.right + gap),
        reasons=say_run(job, surround, stand),
    )


def _soldiers(job: Job, coursing: Coursing, stand: Stand, course: int) -> list[Piece]:
    """Stand the soldiers of a face in place, sawn ends up.

    Where there are two courses, each soldier stands plumb over the one below: common
    practice, no published source.
    """
    kind: PieceKind = "rowlock" if job.opening.head == "rowlock" else "soldier"
    return [
        piece
        for tier in tiers(job, coursing)
        for piece in stand_pieces(job, stand, kind, course, tier)
    ]


def tiers(job: Job, coursing: Coursing) -> tuple[tuple[Fraction, Fraction], ...]:
    """Return the bottom and the top of each course that stands over the opening."""
    count, joint = job.opening.head_courses, job.joints.bed.preferred
    top = coursing.soldier_top or coursing.head
    height = (top - coursing.head - (count - 1) * joint) / count
    bottoms = [coursing.head + place * (height + joint) for place in range(count)]
    return tuple((bottom, bottom + height) for bottom in bottoms)


def _round_the_face(
    job: Job, surround: Surround, coursing: Coursing, stands: tuple[Stand, ...]
) -> SoldierCourse:
    """Lay soldiers on every face; the job says how they turn the outside corner."""
    number = next(
        c.number for c in coursing.courses if c.kind == "soldier" and not c.band
    )
    kind: PieceKind = "rowlock" if job.opening.head == "rowlock" else "soldier"
    corners = outside_corners(surround)
    pieces: list[Piece] = []
    for tier in tiers(job, coursing):
        pieces += stand_round(job, stands, corners, kind, number, tier)
    opening = surround.opening
    return SoldierCourse(
        tuple(pieces),
        tuple(stops_of(stands, number)),
        (opening.brick_left, opening.brick_right),
        tuple(
            reason
            for stand in stands
            if stand.face == "front"
            for reason in say_run(job, surround, stand)
        ),
    )
