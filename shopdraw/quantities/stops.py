"""List the stops of the saw: every cut that is square to its brick, or mitred.

In:  `Job`, `Piece`s.   Out: `SawStop`s.
Frame: the job's lengths, as the brick lies on the saw.

A cut that slants on the face has no stop: a sawyer sets its angle, and both are at the
piece's mark. A brick that is sawn to its longest point first has a stop for that.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple

from shopdraw.job.model import Job
from shopdraw.job.turning import SQUARE
from shopdraw.lengths import half_marked
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    OF_AN_ARCH,
    STANDING_KINDS,
    Outline,
    Piece,
    mark_order,
)

LEGS = "ab"
"""What is added to the mark of a mitred corner unit for its longer and shorter leg."""
Against = Literal["end", "corner", "edge"]
ORDER: tuple[Against, ...] = ("end", "corner", "edge")
"""The order of sawing: brick are sawn to length before they are sawn along it."""


@dataclass(frozen=True)
class SawStop:
    """One setting of the saw's stop: the length, the marks, how many cuts.

    Attributes:
        against: which side of the brick is held against the stop: an "end", so that it
            is sawn to length; the "corner" of a corner unit whose leg is trimmed; or a
            long "edge", so that it is sawn along its length.
        mitre: by how many degrees the saw is set aslant, too; None where it is square.
    """

    length: Fraction
    marks: tuple[str, ...]
    cuts: int
    mitre: Fraction | None = None
    against: Against = "end"

    @property
    def is_mitred(self) -> bool:
        """Whether the saw is set aslant."""
        return self.mitre is not None


class SawCut(NamedTuple):
    """One cut of one piece, as `SawStop`."""

    against: Against
    length: Fraction
    mitre: Fraction | None
    mark: str


def list_stops(job: Job, pieces: Iterable[Piece]) -> tuple[SawStop, ...]:
    """Return the stops in the order of sawing, each set once, the longest first.

    So the stop moves one way only, and every offcut is there by the time it is needed.
    """
    marks: dict[tuple[Against, Fraction, Fraction | None], list[str]] = defaultdict(
        list
    )
    for piece in pieces:
        for cut in _cuts(job, piece):
            marks[cut.against, cut.length, cut.mitre].append(cut.mark)
    stops = [
        SawStop(
            length, tuple(sorted(set(cut), key=mark_order)), len(cut), mitre, against
        )
        for (against, length, mitre), cut in marks.items()
    ]
    stops.sort(key=_place_in_order)
    return tuple(stops)


def _place_in_order(stop: SawStop) -> tuple[object, ...]:
    """Say when a stop is set: a strip is sawn square before an edge of it is mitred."""
    is_last = stop.is_mitred and stop.against == "edge"
    return ORDER.index(stop.against), is_last, -stop.length, -(stop.mitre or 0)


def along(piece: Piece) -> Fraction:
    """Return how long a piece of flat brick is along its brick, as sawn beforehand."""
    first = _as_made(piece)
    return first.top - first.bottom if _stands(piece) else first.right - first.left


def _cuts(job: Job, piece: Piece) -> Iterator[SawCut]:
    """Yield the cuts of a piece that a stop is set for."""
    if piece.is_made:
        yield from _cuts_of_made(job, piece)
    elif piece.kind in CORNER_KINDS:
        yield from _cuts_of_corner(job, piece)
    elif piece.is_cut:
        length = half_marked(along(piece), job.lengths)
        if length < job.brick.length:
            yield SawCut("end", length, None, piece.mark)
        wide = half_marked(_across(piece), job.lengths)
        if _is_level(piece, _as_made(piece)) and wide < job.brick.height:
            yield SawCut("edge", wide, None, piece.mark)
        if "mitre" in piece.cut_edges:
            yield SawCut("edge", wide, SQUARE / 2, piece.mark)


def _cuts_of_made(job: Job, piece: Piece) -> Iterator[SawCut]:
    """Yield the mitre of each leg, which is sawn of a leg as long as a brick, too."""
    for name, leg in zip(LEGS, sorted(piece.legs, reverse=True), strict=True):
        length = min(job.brick.length, half_marked(leg, job.lengths))
        yield SawCut("end", length, piece.turn / 2, piece.mark + name)
        for cut in _cut_to_height(job, piece):
            yield cut._replace(mark=piece.mark + name)


def _cuts_of_corner(job: Job, piece: Piece) -> Iterator[SawCut]:
    """Yield the cuts of a corner unit: of legs that are trimmed, and to its height."""
    for leg in piece.before_scribing:
        if f"{leg.face} leg" in piece.cut_edges:
            length = half_marked(leg.right - leg.left, job.lengths)
            yield SawCut("corner", length, None, piece.mark)
    yield from _cut_to_height(job, piece)


def _cut_to_height(job: Job, piece: Piece) -> Iterator[SawCut]:
    """Yield the cut of a corner unit whose legs are too high; of like legs one cut."""
    stands = piece.kind in STANDING_KINDS
    whole = job.brick.length if stands else job.brick.height
    heights = {
        half_marked(leg.top - leg.bottom, job.lengths)
        for leg in piece.before_scribing
        if _is_level(piece, leg, upright=True)
    }
    for height in sorted(heights):
        if height < whole:
            yield SawCut("end" if stands else "edge", height, None, piece.mark)


def _stands(piece: Piece) -> bool:
    return piece.kind in STANDING_KINDS or piece.kind in OF_AN_ARCH


def _as_made(piece: Piece) -> Outline:
    return piece.as_sawn or piece.before_scribing[0]


def _across(piece: Piece) -> Fraction:
    first = _as_made(piece)
    return first.right - first.left if _stands(piece) else first.top - first.bottom


def _is_level(piece: Piece, shape: Outline, *, upright: bool | None = None) -> bool:
    """Whether what is too wide across is sawn off by a cut along the brick.

    That is so of every rectangle. Of another shape it is so where a sawn side lies
    farthest out and along; where all of them slant, the angle is set instead.
    """
    if shape.is_rectangle:
        return True
    axis = 1 if upright or not _stands(piece) else 0
    outermost = {pick(point[axis] for point in shape.points) for pick in (min, max)}
    return any(
        place in shape.cuts and a[axis] == b[axis] and a[axis] in outermost
        for place, (a, b) in enumerate(shape.sides())
    )
