"""The form that bond and pieces share: every unit, where it lies and what it is.

In:  nothing.   Out: `Layout` and what it holds.
Frame: as `Surround`: x along the faces from the left end, y up from the datum.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.masonry.surround import FaceName

Point = tuple[Fraction, Fraction]
PieceKind = Literal["stretcher", "corner unit", "soldier", "soldier corner unit"]
StopKind = Literal["edge", "wall", "fold", "jamb", "soldier"]


@dataclass(frozen=True)
class Outline:
    """One face of a piece: an open ring, anticlockwise from its lower left corner."""

    face: FaceName
    points: tuple[Point, ...]

    @property
    def left(self) -> Fraction:
        """The least x."""
        return min(x for x, _ in self.points)

    @property
    def right(self) -> Fraction:
        """The greatest x."""
        return max(x for x, _ in self.points)

    @property
    def bottom(self) -> Fraction:
        """The least y."""
        return min(y for _, y in self.points)

    @property
    def top(self) -> Fraction:
        """The greatest y."""
        return max(y for _, y in self.points)


@dataclass(frozen=True)
class Piece:
    """One piece of brick on the wall.

    Attributes:
        id: unique in the set, `F-07-03`: face, course, place in the course.
        mark: its kind, shared by like pieces.
        kind: what it is sawn from.
        course: a soldier's is the leg course whose bottom it shares.
        place: the face it counts on; for a corner unit the one with its long leg.
        outlines: one, or a corner unit's two that share the fold, the first on `place`.
        length, height: of the first outline: along the course, and up.
        legs: a corner unit's two, measured outside, in the order of its outlines.
        is_cut: sawn to length or height; a trimmed corner unit is not counted as cut.
        is_trimmed: a corner unit with a leg shortened from its free end.
        cut_edges: the sides of the first outline that are sawn ("left", "right",
            "top", "bottom"); of a trimmed corner unit the free ends.
        broken: the rules that a finding says it breaks ("least piece", "least lap").
    """

    id: str
    mark: str
    kind: PieceKind
    course: int
    place: FaceName
    outlines: tuple[Outline, ...]
    length: Fraction
    height: Fraction
    legs: tuple[Fraction, ...]
    is_cut: bool
    is_trimmed: bool
    cut_edges: tuple[str, ...]
    broken: tuple[str, ...] = ()


@dataclass(frozen=True)
class Stop:
    """Where a run of brick ends: the brick reaches to x and no further."""

    face: FaceName
    course: int
    kind: StopKind
    x: Fraction


@dataclass(frozen=True)
class BrokenRule:
    """A bond rule that could not be kept: where, by how much, and why.

    Attributes:
        rule: "least piece" or "least lap".
        least: the job's figure.
        measured: the worst found.
        pieces: the IDs of the pieces that break it, in reading order.
        why: a sentence.
    """

    rule: str
    least: Fraction
    measured: Fraction
    pieces: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class Layout:
    """Every unit in reading order: bottom course first, left to right.

    Attributes:
        pieces: every piece once, on all faces.
        stops: every end of every run.
        broken: the bond rules that could not be kept.
        least_piece, least_lap: the least found on the wall (no lap in stack bond).
        reasons: what was decided and why, a sentence each.
        ways_out: widths that would need fewer cuts, a sentence each.
    """

    pieces: tuple[Piece, ...]
    stops: tuple[Stop, ...]
    broken: tuple[BrokenRule, ...]
    least_piece: Fraction
    least_lap: Fraction | None
    reasons: tuple[str, ...]
    ways_out: tuple[str, ...] = ()


@dataclass(frozen=True)
class CutListRow:
    """Like pieces: one mark, how it is made, how many.

    Attributes:
        mark, kind, length, height, legs, is_cut, is_trimmed: as `Piece`.
        count: how many on the wall.
        ids: which ones, in reading order.
        note: what the saw must know ("trim the 3 5/8 leg from its free end").
    """

    mark: str
    kind: PieceKind
    length: Fraction
    height: Fraction
    legs: tuple[Fraction, ...]
    is_cut: bool
    is_trimmed: bool
    count: int
    ids: tuple[str, ...]
    note: str = ""


def rectangle(
    face: FaceName, left: Fraction, bottom: Fraction, right: Fraction, top: Fraction
) -> Outline:
    """Return the outline of an upright rectangle."""
    return Outline(face, ((left, bottom), (right, bottom), (right, top), (left, top)))


def flat_piece(
    kind: PieceKind, course: int, outline: Outline, cut_edges: tuple[str, ...]
) -> Piece:
    """Return a piece with one outline; its ID and mark come later."""
    return Piece(
        id="",
        mark="",
        kind=kind,
        course=course,
        place=outline.face,
        outlines=(outline,),
        length=outline.right - outline.left,
        height=outline.top - outline.bottom,
        legs=(),
        is_cut=bool(cut_edges),
        is_trimmed=False,
        cut_edges=cut_edges,
    )
