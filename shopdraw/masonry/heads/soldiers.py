"""Lay the soldier course: over the opening, past its jambs, or round the face.

In:  `Job`, `Surround`, `Coursing`.   Out: `SoldierCourse`.
Frame: as `Surround`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_head import STANDING
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.heads.shares import NONE, SoldierRun
from shopdraw.masonry.heads.soldier_words import say_no_answer, say_run
from shopdraw.masonry.heads.stands import Stand, StandEnd, stands_of
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import (
    Outline,
    Piece,
    PieceKind,
    Stop,
    flat_piece,
    rectangle,
)
from shopdraw.masonry.wall.surround import corner_legs


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
    run, number = _run_of(stand), coursing.courses_below_head + 1
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


def _run_of(stand: Stand) -> SoldierRun:
    if stand.run is None:
        message = "a face that nothing fills is told before it is laid"
        raise AssertionError(message)
    return stand.run


def _soldiers(job: Job, coursing: Coursing, stand: Stand, course: int) -> list[Piece]:
    """Stand the soldiers of a face in place, sawn ends up.

    Where there are two courses, each soldier stands plumb over the one below: common
    practice, no published source.
    """
    kind: PieceKind = "rowlock" if job.opening.head == "rowlock" else "soldier"
    pieces = []
    for bottom, top in tiers(job, coursing):
        to_length = ("top",) if top - bottom != job.brick.length else ()
        for place, (a, b) in enumerate(_run_of(stand).places):
            is_narrow = b - a != job.brick.height
            to_width = (_sawn_edge(stand, is_left=place == 0),) if is_narrow else ()
            outline = rectangle(stand.face, stand.left + a, bottom, stand.left + b, top)
            pieces.append(flat_piece(kind, course, outline, (*to_width, *to_length)))
    return pieces


def _sawn_edge(stand: Stand, *, is_left: bool) -> str:
    """Return which edge of a narrower soldier is sawn: the outer, if that is hidden."""
    outer, inner = ("left", "right") if is_left else ("right", "left")
    return outer if stand.ends[0 if is_left else 1].may_be_sawn else inner


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
    number = next(c.number for c in coursing.courses if c.kind == "soldier")
    pieces: list[Piece] = []
    stops: list[Stop] = []
    reasons: tuple[str, ...] = ()
    for stand in stands:
        # At an outside corner the run goes on to it: what turns it is part of the run.
        for end in stand.ends:
            x = end.x if end.fold is None else end.fold
            stops.append(Stop(stand.face, number, end.kind, x))
        laid = _soldiers(job, coursing, stand, number)
        row = len(_run_of(stand).places)
        for first in range(0, len(laid), row or 1):
            for place, end in zip((first, first + row - 1), stand.ends, strict=True):
                laid[place] = _turned(laid[place], job, surround, end)
        pieces += laid
        if stand.face == "front":
            reasons = say_run(job, surround, stand)
    pieces += _soldier_corners(job, surround, coursing, number)
    opening = surround.opening
    return SoldierCourse(
        tuple(pieces), tuple(stops), (opening.brick_left, opening.brick_right), reasons
    )


def _turned(piece: Piece, job: Job, surround: Surround, end: StandEnd) -> Piece:
    """Mitre the soldier at an outside corner, or let its edge show on the return."""
    if end.fold is None or job.brick.soldier_corner is not None:
        return piece
    if job.brick.at_fold == "mitre":
        edges = (*piece.cut_edges, "mitre")
        return replace(piece, is_cut=True, cut_edges=edges)
    if piece.outlines[0].face != "front":
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
