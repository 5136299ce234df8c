"""Put brick that stands on end in its place, and turn it round the outside corners.

In:  `Job`, `Stand`s, from which level to which.   Out: `Piece`s, `Stop`s.
Frame: as `Surround`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.heads.shares import SoldierRun
from shopdraw.masonry.heads.stands import Stand, StandEnd
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import Piece, PieceKind, Stop, flat_piece, rectangle
from shopdraw.masonry.wall.surround import corner_legs

Tier = tuple[Fraction, Fraction]
"""The bottom and the top of what stands."""
NONE = Fraction(0)


@dataclass(frozen=True)
class TurnedCorner:
    """A corner that brick turns, from the front to another face.

    Attributes:
        front_x: where it is on the front.
        front_inward: 1 where the front goes on to the right of it, -1 to the left.
        face: the face round it.
        x, inward: the same on that face.
    """

    front_x: Fraction
    front_inward: int
    face: FaceName
    x: Fraction
    inward: int


def outside_corners(
    surround: Surround, out: Fraction = NONE
) -> tuple[TurnedCorner, ...]:
    """Return the outside corners of a course that projects so far."""
    front, names = surround.front, {face.name for face in surround.faces}
    corners = []
    if "left" in names:
        corners.append(TurnedCorner(front.left - out, 1, "left", front.left + out, -1))
    if "right" in names:
        corners.append(
            TurnedCorner(front.right + out, -1, "right", front.right - out, 1)
        )
    return tuple(corners)


def jamb_corners(surround: Surround) -> tuple[TurnedCorner, ...]:
    """Return the corners where brick turns into the jambs."""
    if not surround.reveals:
        return ()
    left, right = surround.jamb_folds
    return (
        TurnedCorner(left, -1, "left reveal", left, 1),
        TurnedCorner(right, 1, "right reveal", right, -1),
    )


def run_of(stand: Stand) -> SoldierRun:
    """Return what fills a face."""
    if stand.run is None:
        message = "a face that nothing fills is told before it is laid"
        raise AssertionError(message)
    return stand.run


def stand_pieces(
    job: Job, stand: Stand, kind: PieceKind, course: int, tier: Tier
) -> list[Piece]:
    """Stand the brick of a face in place, sawn ends up."""
    bottom, top = tier
    to_length = ("top",) if top - bottom != job.brick.length else ()
    pieces = []
    for place, (a, b) in enumerate(run_of(stand).places):
        is_narrow = b - a != job.brick.height
        to_width = (_sawn_edge(stand, is_left=place == 0),) if is_narrow else ()
        outline = rectangle(stand.face, stand.left + a, bottom, stand.left + b, top)
        pieces.append(flat_piece(kind, course, outline, (*to_width, *to_length)))
    return pieces


def _sawn_edge(stand: Stand, *, is_left: bool) -> str:
    """Return which edge of a narrower soldier is sawn: the outer, if that is hidden."""
    outer, inner = ("left", "right") if is_left else ("right", "left")
    return outer if stand.ends[0 if is_left else 1].may_be_sawn else inner


def stops_of(stands: tuple[Stand, ...], course: int) -> Iterator[Stop]:
    """Yield where the runs of a course end.

    At an outside corner the run goes on to it: what turns it is part of the run.
    """
    for stand in stands:
        for end in stand.ends:
            x = end.x if end.fold is None else end.fold
            yield Stop(stand.face, course, end.kind, x)


def stand_round(
    job: Job,
    stands: tuple[Stand, ...],
    corners: tuple[TurnedCorner, ...],
    kind: PieceKind,
    course: int,
    tier: Tier,
) -> Iterator[Piece]:
    """Yield one course of standing brick on every face, turned round its corners."""
    for stand in stands:
        laid = stand_pieces(job, stand, kind, course, tier)
        if laid:
            for place, end in zip((0, len(laid) - 1), stand.ends, strict=True):
                laid[place] = _turned(laid[place], job, corners, end)
        yield from laid
    if job.brick.soldier_corner is not None:
        for corner in corners:
            yield _corner_unit(job, corner, course, tier)


def _turned(
    piece: Piece, job: Job, corners: tuple[TurnedCorner, ...], end: StandEnd
) -> Piece:
    """Mitre the piece at an outside corner, or let its edge show round it."""
    if end.fold is None or job.brick.soldier_corner is not None:
        return piece
    if job.brick.at_fold == "mitre":
        edges = (*piece.cut_edges, "mitre")
        return replace(piece, is_cut=True, cut_edges=edges)
    front, thickness = piece.outlines[0], job.brick.thickness
    if front.face != "front":
        return piece
    corner = next(x for x in corners if x.front_x == end.fold)
    ends = sorted((corner.x, corner.x + corner.inward * thickness))
    edge = rectangle(corner.face, ends[0], front.bottom, ends[1], front.top)
    return replace(piece, outlines=(front, edge), legs=(piece.length, thickness))


def _corner_unit(job: Job, corner: TurnedCorner, course: int, tier: Tier) -> Piece:
    """Return what is bought to turn a corner in a course of standing brick."""
    bought = job.brick.soldier_corner
    if bought is None:
        message = "there is no corner unit to turn a corner with"
        raise AssertionError(message)
    bottom, top = tier
    long_leg, short_leg = corner_legs(bought, job.brick.thickness)
    spans = (
        sorted((corner.front_x, corner.front_x + corner.front_inward * long_leg)),
        sorted((corner.x, corner.x + corner.inward * short_leg)),
    )
    faces: tuple[FaceName, FaceName] = ("front", corner.face)
    outlines = tuple(
        rectangle(face, left, bottom, right, top)
        for face, (left, right) in zip(faces, spans, strict=True)
    )
    piece = flat_piece("soldier corner unit", course, outlines[0], ())
    return replace(piece, outlines=outlines, legs=(long_leg, short_leg))
