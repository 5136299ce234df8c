"""The form of what is laid: every unit, where it lies and what it is.

In:  nothing.   Out: `Layout` and what it holds.
Frame: as `Surround`: x along the faces from the left end, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from math import lcm
from re import split
from typing import Literal

from shopdraw.job.turning import SQUARE
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.bond_rules import BrokenRule, Fillet, GivenUp, Least
from shopdraw.masonry.wall.face_panel import FacePanel
from shopdraw.masonry.wall.form import FROM_THE_LEFT, FaceName

Point = tuple[Fraction, Fraction]
PieceKind = Literal[
    "stretcher", "header", "closer", "corner unit", "soldier", "rowlock",
    "soldier corner unit", "voussoir", "keystone",
]  # fmt: skip
FLAT_KINDS = ("stretcher", "header", "closer")
RUNNING_KINDS = (*FLAT_KINDS, "corner unit")
"""The kinds that lie in running courses, with head joints between them."""
CORNER_KINDS = ("corner unit", "soldier corner unit")
"""The kinds that have two legs; any other piece with two outlines shows its edge."""
OF_AN_ARCH = ("voussoir", "keystone")
"""The kinds that lean as the arch turns; they lie in no course."""
Hand = Literal["", "L", "R"]
StopKind = Literal[
    "edge", "wall", "fold", "jamb", "soldier", "arch", "panel", "inside corner"
]  # fmt: skip


@dataclass(frozen=True)
class Outline:
    """One face of a piece: an open ring, anticlockwise from its lower left corner.

    Attributes:
        face: the face of the wall that it lies on.
        points: its corners.
        cuts: which sides are sawn, where the piece is sawn to an edge out of true: side
            i goes from point i to the next. Empty for an upright rectangle.
    """

    face: FaceName
    points: tuple[Point, ...]
    cuts: tuple[int, ...] = ()

    @cached_property
    def left(self) -> Fraction:
        """The least x."""
        return min(x for x, _ in self.points)

    @cached_property
    def right(self) -> Fraction:
        """The greatest x."""
        return max(x for x, _ in self.points)

    @cached_property
    def bottom(self) -> Fraction:
        """The least y."""
        return min(y for _, y in self.points)

    @cached_property
    def top(self) -> Fraction:
        """The greatest y."""
        return max(y for _, y in self.points)

    @cached_property
    def is_rectangle(self) -> bool:
        """Whether it is an upright rectangle."""
        whole = rectangle(self.face, self.left, self.bottom, self.right, self.top)
        return sorted(self.points) == sorted(whole.points)

    def at_level(self, level: Fraction) -> tuple[Fraction, Fraction]:
        """Return its leftmost and its rightmost x at a level within it."""
        if self.is_rectangle:
            return self.left, self.right
        crossed = [
            x1 + (x2 - x1) * (level - y1) / (y2 - y1)
            for (x1, y1), (x2, y2) in self.sides()
            if y1 != y2 and min(y1, y2) <= level <= max(y1, y2)
        ]
        return min(crossed), max(crossed)

    def upright_at(self, x: Fraction) -> tuple[Fraction, Fraction]:
        """Return its lowest and its highest y at a place within it."""
        met = [
            y
            for (x1, y1), (x2, y2) in self.sides()
            if min(x1, x2) <= x <= max(x1, x2)
            for y in (
                (y1, y2) if x1 == x2 else (y1 + (y2 - y1) * (x - x1) / (x2 - x1),)
            )
        ]
        return min(met), max(met)

    def sides(self) -> Iterator[tuple[Point, Point]]:
        """Yield its sides in turn, starting from the first point."""
        yield from zip(self.points, (*self.points[1:], self.points[0]), strict=True)

    def sawn_ends(self) -> Iterator[str]:
        """Yield which way each cut faces: "left", "right", "top", "bottom"."""
        for place, ((x1, y1), (x2, y2)) in enumerate(self.sides()):
            if place in self.cuts:
                across, up = y2 - y1, x1 - x2
                if abs(across) > abs(up):
                    yield "right" if across > 0 else "left"
                else:
                    yield "top" if up > 0 else "bottom"

    def square_ends(self, *, upright: bool = False) -> tuple[str, ...]:
        """Return the ends that are square and not sawn.

        A lying piece has a left and a right end, an upright one a bottom and a top. An
        end that is only a point does not count.
        """
        axis, names = (1, ("bottom", "top")) if upright else (0, ("left", "right"))
        places = (min(p[axis] for p in self.points), max(p[axis] for p in self.points))
        return tuple(
            name
            for name, at in zip(names, places, strict=True)
            if name not in self.sawn_ends()
            and any(
                a[axis] == b[axis] == at and side not in self.cuts
                for side, (a, b) in enumerate(self.sides())
            )
        )

    def moved(self, dx: Fraction, dy: Fraction) -> Outline:
        """Return the outline moved."""
        return replace(self, points=tuple((x + dx, y + dy) for x, y in self.points))

    def at_origin(self) -> Outline:
        """Return the outline moved so that its least x and y are 0."""
        return self.moved(-self.left, -self.bottom)


@dataclass(frozen=True)
class Piece:
    """One piece of brick on the wall.

    Attributes:
        id: unique in the set, `F-07-03`: face, course, place in the course.
        mark: its kind, shared by like pieces.
        kind: what it is sawn from.
        course: its course; a soldier's, or a panel's piece's, is the one at its foot.
        place: the face it counts on; a corner unit's has its long leg; or "panel".
        outlines: one; a corner unit has two that meet at the corner, the first on
            `place`.
        length, height: of the first outline: along the course, and up.
        legs: a corner unit's two, measured outside, in the order of its outlines.
        is_cut: whether it is sawn to length or height; trimming does not count as that.
        is_trimmed: whether it is a corner unit with a leg shortened at its free end.
        cut_edges: the sides of the first outline that are sawn ("left", "right",
            "top", "bottom"); of a trimmed corner unit the free ends.
        broken: the rules that a finding says it breaks ("least piece", "least lap").
        as_sawn: a voussoir's ring as it lies on the brick that it is sawn from; also
            that of a piece of a panel or the hearth that is turned, or no rectangle.
        left_long: of a piece that is scribed on the wall, its outlines there before
            that: what is sawn beforehand, if anything is.
        turn: of a corner unit, by how many degrees its second leg is turned.
        stands_out: how far a keystone stands out from the face of the brick.
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
    as_sawn: Outline | None = None
    left_long: tuple[Outline, ...] = ()
    turn: Fraction = SQUARE
    stands_out: Fraction = Fraction(0)

    @property
    def is_made(self) -> bool:
        """Whether it is a corner unit that nobody sells: two flat brick, mitred."""
        return self.turn != SQUARE

    @property
    def before_scribing(self) -> tuple[Outline, ...]:
        """Its outlines as sawn beforehand, before anything is scribed on the wall."""
        return self.left_long or self.outlines

    @property
    def shapes(self) -> tuple[Outline, ...]:
        """The outlines that length and height do not describe: those not rectangles."""
        if self.as_sawn is not None:
            is_square = self.as_sawn.is_rectangle and self.kind != "voussoir"
            return () if is_square else (self.as_sawn,)
        return tuple(x for x in self.before_scribing if not x.is_rectangle)

    @property
    def delivered_ends(self) -> tuple[str, ...]:
        """The ends of the brick that stay as delivered; a voussoir has none.

        Of a piece that stands on the wall they are its foot and its head.
        """
        if self.kind in OF_AN_ARCH:
            return ()
        stands = self.kind in STANDING_KINDS
        if self.as_sawn is not None:
            return self.as_sawn.square_ends(upright=stands)
        if self.shapes:
            return self.shapes[0].square_ends(upright=stands)
        ends = ("bottom", "top") if stands else ("left", "right")
        return tuple(end for end in ends if end not in self.cut_edges)


@dataclass(frozen=True)
class Stop:
    """Where a run of brick ends: the brick reaches to x and no further."""

    face: FaceName
    course: int
    kind: StopKind
    x: Fraction


@dataclass(frozen=True)
class Layout:
    """Every unit in reading order: bottom course first, left to right.

    Attributes:
        pieces: every piece once, on all faces.
        stops: both ends of every run of brick.
        broken: the rules of the bond and of its pieces that are not kept.
        least_piece, least_lap: what comes nearest to breaking the two bond rules; a
            whole unit where nothing is cut, no lap in stack bond.
        reasons: what was decided and why, a sentence each.
        ways_out: widths that would need fewer cuts, a sentence each.
        arch: the arch over the opening; None where there is none.
        cycle: what lies in each course of the bond by turns, bottom up, until it
            repeats: "S" for stretchers, "H" for headers, "SH" for one of each.
        given_up: what the bond gives up on each face, in the order of merit.
        searched_all: whether every way of laying the bond was looked at, or ruled out.
        fillets: where mortar takes the tip of a course, in reading order.
        panels: in the front; their pieces are among `pieces`.
    """

    pieces: tuple[Piece, ...]
    stops: tuple[Stop, ...]
    broken: tuple[BrokenRule, ...]
    least_piece: Least
    least_lap: Least | None
    reasons: tuple[str, ...]
    ways_out: tuple[str, ...] = ()
    arch: Arch | None = None
    cycle: tuple[str, ...] = ("S",)
    given_up: tuple[GivenUp, ...] = ()
    searched_all: bool = True
    fillets: tuple[Fillet, ...] = ()
    panels: tuple[FacePanel, ...] = ()

    @cached_property
    def in_courses(self) -> tuple[Piece, ...]:
        """Every piece but those of panels."""
        return tuple(x for x in self.pieces if x.place != "panel")


@dataclass(frozen=True)
class CutListRow:
    """Like pieces: one mark, how it is made, how many.

    Attributes:
        mark, kind, length, height, legs, is_cut, is_trimmed, turn: as `Piece`.
        count: how many on the wall.
        ids: which ones, in reading order.
        note: what whoever saws it must know ("trim from the free end").
        shapes: where length and height do not describe them, the outlines of the first
            of these pieces, each moved to the origin.
        hand: of a corner unit that may not be turned over, on which side of its corner
            its long leg is, "L" or "R"; else "".
        is_scribed: whether it is left long, and scribed on the wall.
        unfolded: of a corner unit with shapes both legs side by side, as they are seen
            on the wall, moved to the origin together: the left one first.
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
    shapes: tuple[Outline, ...] = ()
    turn: Fraction = SQUARE
    hand: Hand = ""
    is_scribed: bool = False
    unfolded: tuple[Outline, ...] = ()

    @property
    def is_made(self) -> bool:
        """Whether it is a corner unit of two flat brick, mitred: see `Piece`."""
        return self.turn != SQUARE


def area_within(ring: Iterable[Point]) -> Fraction:
    """Return the area within a ring of corners."""
    points = tuple(ring)
    # In whole numbers, for speed: exact as before, on the finest grid of the corners.
    grid = lcm(*(each.denominator for point in points for each in point))
    whole = [tuple(x.numerator * (grid // x.denominator) for x in p) for p in points]
    sides = zip(whole, (*whole[1:], whole[0]), strict=True)
    twice = sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in sides)
    return Fraction(abs(twice), 2 * grid * grid)


STANDING_KINDS = ("soldier", "rowlock", "soldier corner unit")


def standing_lowest(pieces: Iterable[Piece]) -> Iterator[tuple[Piece, Outline]]:
    """Yield every outline; of two courses that stand over the head only the lower's."""
    every = [(piece, outline) for piece in pieces for outline in piece.outlines]
    lowest: dict[tuple[str, int], Fraction] = {}
    for piece, outline in every:
        if piece.kind in STANDING_KINDS:
            key = outline.face, piece.course
            # Under a sagging head their feet are sawn: only their tops are level.
            lowest[key] = min(lowest.get(key, outline.top), outline.top)
    for piece, outline in every:
        stands = piece.kind in STANDING_KINDS
        if not stands or outline.top == lowest[outline.face, piece.course]:
            yield piece, outline


SIDES = ("bottom", "right", "top", "left")
"""The sides of a rectangle's outline, in turn from its lower left corner."""


def sawn_sides(piece: Piece, outline: Outline) -> tuple[str, ...]:
    """Return which sides of a rectangular outline are sawn.

    A trimmed leg is sawn at its free end, away from the corner where it meets the
    piece's other leg.
    """
    sides = [x for x in piece.cut_edges if x in SIDES]
    if len(piece.outlines) == 1:
        return tuple(sides)
    sides = [x for x in sides if x in ("top", "bottom")]
    other = next(x for x in piece.outlines if x is not outline)
    if f"{outline.face} leg" in piece.cut_edges:
        sides.append("right" if outline.left >= other.right else "left")
    return tuple(sides)


def mark_order(mark: str) -> tuple[str | int, ...]:
    """Return what marks are sorted by: B2 comes before B10."""
    return tuple(int(x) if x.isdigit() else x for x in split(r"(\d+)", mark))


def from_the_left(legs: Iterable[Outline]) -> list[Outline]:
    """Return the legs of a corner unit in their faces' order, though they overlap."""
    return sorted(legs, key=lambda leg: FROM_THE_LEFT.index(leg.face))


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
