"""Mend the pieces that an edge out of true leaves too small, too sharp or in two.

In:  the pieces as laid, what brick keeps out of.   Out: the same, laid anew in places.
Frame: as `Surround`.

In this order: the perpend beside such a piece is moved; it is joined to its neighbour,
where both come out of one brick; the leg of the corner unit beside it is trimmed; the
same, with a notch. What is left is for the review to report.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

import shapely

from shopdraw.job.model import Job
from shopdraw.masonry.sawing.clipping import (
    FINEST,
    Areas,
    clip_piece,
    polygon_of,
    trim_leg,
)
from shopdraw.masonry.sawing.shapes import OWN_LENGTH, has_notch, limits_of
from shopdraw.masonry.sawing.tips import Tip, find_tips
from shopdraw.masonry.wall.form import FaceName
from shopdraw.masonry.wall.layout import (
    FLAT_KINDS,
    RUNNING_KINDS,
    Outline,
    Piece,
    flat_piece,
    rectangle,
)

NOTHING = 1e-7
GRID = 2.0**-30
"""Areas that share a side are joined on so fine a grid, so that no crack is left."""
STEPS = 4
"""A perpend is tried so many joint steps further at a time."""
LeastLap = Callable[[int, int], Fraction]
"""The least lap between two courses, by their numbers."""
Row = tuple[FaceName, int]
Span = tuple[Fraction, Fraction]


class Faults(NamedTuple):
    """What is wrong with some pieces, what counts most first."""

    short: int
    parted: int
    laps: int
    notched: int


class Cost(NamedTuple):
    """What a way of laying two neighbours anew costs, what counts most first.

    Attributes:
        kind: 0 where a perpend moves, 1 where the two are joined, 2 where the leg of a
            corner unit is trimmed.
        moved: how far the perpend moves.
    """

    kind: int
    moved: Fraction


class Relaid(NamedTuple):
    """One way to lay two neighbours anew: where each lies, None for one left out."""

    left: Span | None
    right: Span | None
    cost: Cost


class Mend:
    """Lays pieces anew beside what is out of true.

    Attributes:
        pieces: as laid; None for one that was joined to its neighbour.
        laid: the pieces as laid.
        rows: the places of the pieces of each course of a face, left to right.
        tips: of each course of each face, the tips that mortar takes.
    """

    def __init__(
        self,
        job: Job,
        pieces: tuple[Piece, ...],
        keep_out: Areas,
        least_lap: LeastLap,
    ) -> None:
        self.job, self.keep_out, self.least_lap = job, keep_out, least_lap
        self.limits = limits_of(job)
        self.laid = pieces
        self.as_laid = {id(piece): piece for piece in pieces}
        self.pieces: list[Piece | None] = list(pieces)
        self.rows = self._rows()
        self.tips = {
            row: self._tips(row) for row in self.rows if row[0] in self.keep_out
        }
        self._areas: dict[tuple[bool, Row], Areas] = {}
        self._known: dict[tuple[int, Row], tuple[Piece, Faults]] = {}

    def all_rows(self, touched: set[int]) -> None:
        """Mend every course of every face.

        Args:
            touched: the places of the pieces that may meet an edge out of true.
        """
        for row, places in self.rows.items():
            some = [place for place in places if place in touched]
            if row[0] not in self.keep_out or not some:
                continue
            # What mends one piece may spoil the next: so such a row is gone over again.
            if sum(self._mend(row, place) for place in some):
                for place in some:
                    self._mend(row, place)

    def areas_of(self, piece: Piece, keep_out: Areas | None = None) -> Areas:
        """Return what a piece keeps out of, the tips of its course among it.

        Args:
            piece: which.
            keep_out: the areas; all of them where not given.
        """
        areas = self.keep_out if keep_out is None else keep_out
        for outline in piece.outlines:
            row = outline.face, piece.course
            tips = [tip.area for tip in self.tips.get(row, ())]
            if not tips:
                continue
            key = keep_out is None, row
            if key not in self._areas:
                parts = [areas[row[0]], *tips] if row[0] in areas else tips
                joined = shapely.union_all(parts, grid_size=GRID)
                self._areas[key] = {**areas, row[0]: joined}
            areas = {**areas, row[0]: self._areas[key][row[0]]}
        return areas

    # ------------------------------------------------------------------------ the rows

    def _rows(self) -> dict[Row, list[int]]:
        """Return the places of the pieces of each course of a face, left to right."""
        rows: dict[Row, list[int]] = defaultdict(list)
        for place, piece in enumerate(self.pieces):
            if piece is not None and piece.kind in RUNNING_KINDS:
                for outline in piece.outlines:
                    rows[outline.face, piece.course].append(place)
        for row, places in rows.items():
            face = row[0]
            places.sort(key=lambda place: on_face(self._piece(place), face).left)
        return rows

    def band(self, row: Row) -> shapely.Polygon:
        """Return where the pieces of a course lie on a face, from end to end."""
        laid = [on_face(self.laid[place], row[0]) for place in self.rows[row]]
        left, low = min(x.left for x in laid), min(x.bottom for x in laid)
        right, high = max(x.right for x in laid), max(x.top for x in laid)
        return shapely.box(float(left), float(low), float(right), float(high))

    def _tips(self, row: Row) -> tuple[Tip, ...]:
        free = self.band(row).difference(self.keep_out[row[0]])
        width, corner = float(self.limits.width), float(self.limits.corner)
        longest = float(self.job.bond.longest_fillet)
        return tuple(find_tips(free, width, corner, longest))

    def _piece(self, place: int) -> Piece:
        piece = self.pieces[place]
        assert piece is not None  # noqa: S101 - only places still laid are asked for
        return piece

    # ---------------------------------------------------------------------- one piece

    def _mend(self, row: Row, place: int) -> bool:
        """Lay a piece and one of its neighbours anew, if that is better."""
        piece = self.pieces[place]
        if piece is None or not any(self._faults(row, (piece,))):
            return False
        best: tuple[Faults, Cost] | None = None
        chosen: tuple[int, int, Relaid] | None = None
        for left, right in self._neighbours(row, place):
            before = self._faults(row, (self._piece(left), self._piece(right)))
            for way in self._ways(row, left, right, is_left=place == left):
                faults = self._faults(row, self._made(row, left, right, way))
                if faults < before and (best is None or (faults, way.cost) < best):
                    best, chosen = (faults, way.cost), (left, right, way)
                if not any(faults) and way.cost.kind == 0:
                    break
        if chosen is not None:
            self._lay(row, *chosen)
        return chosen is not None

    def _neighbours(self, row: Row, place: int) -> Iterator[tuple[int, int]]:
        """Yield a piece with the one to its left, and with the one to its right."""
        places = [x for x in self.rows[row] if self.pieces[x] is not None]
        for left, right in pairwise(places):
            a, b = (on_face(self._piece(x), row[0]) for x in (left, right))
            if place in (left, right) and 0 <= b.left - a.right <= self._widest:
                yield left, right

    @property
    def _widest(self) -> Fraction:
        return self.job.joints.head.most

    def _ways(
        self, row: Row, left: int, right: int, *, is_left: bool
    ) -> Iterator[Relaid]:
        """Yield every way to lay two neighbours anew, the least move first.

        Args:
            row: their course and face.
            left: the place of the left one.
            right: that of the right one.
            is_left: whether it is the left one that is amiss.
        """
        pieces = self._piece(left), self._piece(right)
        first, last = self._reach(row, pieces[0])[0], self._reach(row, pieces[1])[1]
        if first is None or last is None:
            return
        a, b = (on_face(piece, row[0]) for piece in pieces)
        joint = b.left - a.right
        step = STEPS * self.job.joints.step
        kind = 0 if all(piece.kind in FLAT_KINDS for piece in pieces) else 2
        most = [self._most(piece, row[0]) for piece in pieces]
        for count in range(1, int((last - first) / step) + 1):
            for way in (count, -count) if is_left else (-count, count):
                perpend = a.right + way * step
                spans = (first, perpend), (perpend + joint, last)
                if all(
                    self.limits.length <= y - x <= longest
                    for (x, y), longest in zip(spans, most, strict=True)
                ):
                    yield Relaid(*spans, Cost(kind, count * step))
        if kind == 0 and last - first <= self.job.brick.length:
            one, cost = (first, last), Cost(1, joint)
            yield Relaid(None, one, cost) if is_left else Relaid(one, None, cost)

    def _most(self, piece: Piece, face: FaceName) -> Fraction:
        """Return how long a piece may be; a corner unit's leg can only be trimmed."""
        if piece.kind in FLAT_KINDS:
            return self.job.brick.length
        outline = on_face(piece, face)
        return outline.right - outline.left

    def _reach(self, row: Row, piece: Piece) -> tuple[Fraction | None, Fraction | None]:
        """Return how far a piece reaches, or its tip; None where nothing is left."""
        if piece.kind not in FLAT_KINDS:
            return on_face(piece, row[0]).left, on_face(piece, row[0]).right
        parts = [x.outlines[0] for x in clip_piece(piece, self.areas_of(piece))]
        if not parts:
            tip = self._tip_over(row, on_face(piece, row[0]))
            at = None if tip is None else Fraction(round(tip.cut * FINEST), FINEST)
            return at, at
        return min(x.left for x in parts), max(x.right for x in parts)

    def _made(self, row: Row, left: int, right: int, way: Relaid) -> tuple[Piece, ...]:
        pairs = (left, way.left), (right, way.right)
        return tuple(
            self.anew(row, self._piece(place), span) for place, span in pairs if span
        )

    def anew(self, row: Row, piece: Piece, span: Span) -> Piece:
        """Return a piece laid anew from one end to the other."""
        old, (left, right) = on_face(piece, row[0]), span
        outline = rectangle(old.face, left, old.bottom, right, old.top)
        if piece.kind not in FLAT_KINDS:
            return trim_leg(piece, old, outline)
        edges = tuple(x for x in piece.cut_edges if x in ("top", "bottom"))
        if right - left != self.job.brick.length:
            edges = ("right" if left == old.left else "left", *edges)
        return flat_piece("stretcher", piece.course, outline, edges)

    def _lay(self, row: Row, left: int, right: int, way: Relaid) -> None:
        for place, span in ((left, way.left), (right, way.right)):
            piece = self._piece(place)
            self.pieces[place] = None if span is None else self.anew(row, piece, span)

    @property
    def joined(self) -> int:
        """How many head joints are left out."""
        return self.pieces.count(None)

    @property
    def moved(self) -> int:
        """How many head joints are moved."""
        return sum(
            len({*self._perpends(row, self.pieces)} - {*self._perpends(row, self.laid)})
            for row in self.rows
        )

    # ------------------------------------------------------------------------ judging

    def faults_of(self, row: Row, pieces: Sequence[Piece | None]) -> Faults:
        """Count what is wrong with all the pieces of a course."""
        there = [piece for piece in pieces if piece is not None]
        each = [self._faults(row, (piece,)) for piece in there]
        laps = sum(self._short_laps(row, pair) for pair in pairwise(there))
        faults = Faults(*(sum(counts) for counts in zip(*each, strict=True)))
        return faults._replace(laps=laps)

    def _faults(self, row: Row, pieces: tuple[Piece, ...]) -> Faults:
        """Count what is wrong with pieces, once they are sawn to what is there."""
        each = [self._faults_of(row, piece) for piece in pieces]
        laps = self._short_laps(row, pieces)
        short, parted, _, notched = map(sum, zip(*each, strict=True))
        return Faults(short, parted, laps, notched)

    def _faults_of(self, row: Row, piece: Piece) -> Faults:
        """Count what is wrong with one piece, its laps left out; once for each."""
        key = id(piece), row
        if key not in self._known:
            # The piece is kept too: so no other is taken for it.
            self._known[key] = piece, self._judged(row, piece)
        return self._known[key][1]

    def _judged(self, row: Row, piece: Piece) -> Faults:
        parts = clip_piece(piece, self.areas_of(piece))
        laid, length = on_face(piece, row[0]), self.limits.length
        if not parts:
            return Faults(0, int(self._tip_over(row, laid) is not None), 0, 0)
        if parts == (piece,):
            # The bond answers for what it laid.
            is_anew = id(piece) not in self.as_laid
            return Faults(int(is_anew and laid.right - laid.left < length), 0, 0, 0)
        outlines = [on_face(part, row[0]) for part in parts]
        return Faults(
            sum(self._is_short(piece, laid, x) for x in outlines),
            int(self._is_parted(outlines)),
            0,
            sum(has_notch(x) for x in outlines),
        )

    def _tip_over(self, row: Row, laid: Outline) -> Tip | None:
        """Return the tip that takes all of a piece and the joint beside it too.

        None where there is no more mortar with that joint than the job allows.
        """
        joint = float(self.job.joints.head.preferred)
        for tip in self.tips.get(row, ()):
            near = float(laid.left if tip.way < 0 else laid.right)
            beside = near + joint * tip.way
            mortar = (beside - tip.end[0]) * tip.way
            is_more = mortar > max(tip.length, float(self.job.bond.longest_fillet))
            if is_more and mortar <= tip.length + joint:
                return tip
        return None

    def _is_short(self, piece: Piece, laid: Outline, left: Outline) -> bool:
        """Whether clipping leaves a part under the least, or smaller than it was laid.

        A piece that the bond lays shorter than the least is not held to more.
        """
        least = self.limits.length
        if id(piece) in self.as_laid:
            least = min(least, laid.right - laid.left)
        if piece.kind in OWN_LENGTH:
            least = Fraction(0)
        short = self.limits.judge(left, least, laid.top - laid.bottom)
        return left.right - left.left < least or short is not None

    def _is_parted(self, outlines: list[Outline]) -> bool:
        """Whether clipping leaves two parts with less than the least joint between."""
        if len(outlines) <= 1:
            return False
        shapes = [polygon_of(outline.points) for outline in outlines]
        least = float(self.job.joints.head.least) - NOTHING
        return any(a.distance(b) < least for a, b in pairwise(shapes))

    def _short_laps(self, row: Row, pieces: tuple[Piece, ...]) -> int:
        """Count the perpends near to one between two pieces that lap it too little."""
        if len(pieces) <= 1:
            return 0
        face, course = row
        a, b = (on_face(piece, face) for piece in pieces)
        return sum(
            max(a.right - y, x - b.left) < self.least_lap(course, near)
            for near in (course - 1, course + 1)
            for x, y in self._perpends((face, near), self.pieces)
        )

    def _perpends(self, row: Row, pieces: Sequence[Piece | None]) -> Iterator[Span]:
        """Yield the head joints of a course of a face, before anything is clipped."""
        there = (pieces[place] for place in self.rows.get(row, ()))
        ends = [on_face(piece, row[0]) for piece in there if piece is not None]
        for a, b in pairwise(ends):
            if 0 < b.left - a.right <= self._widest:
                yield a.right, b.left


def on_face(piece: Piece, face: FaceName) -> Outline:
    """Return the outline of a piece on one face."""
    return next(outline for outline in piece.outlines if outline.face == face)
