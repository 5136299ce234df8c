"""Mend the pieces that an edge out of true leaves too small, too sharp or in two.

In:  the pieces as laid, what brick keeps out of.   Out: the same, laid anew in places.
Frame: as `Surround`.

In this order: the perpend beside such a piece is moved; it is joined to its neighbour,
where both come out of one brick; the same, with a notch; what is left is for the review
to report.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

import shapely

from shopdraw.job.model import Job
from shopdraw.masonry.laying.clipping import Areas, clip_piece, polygon_of
from shopdraw.masonry.laying.shapes import OWN_LENGTH, has_notch, limits_of
from shopdraw.masonry.laying.tips import Tip, find_tips
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
Row = tuple[FaceName, int]
Span = tuple[Fraction, Fraction]


class Faults(NamedTuple):
    """What is wrong with some pieces, what counts most first."""

    short: int
    parted: int
    laps: int
    notched: int


class Way(NamedTuple):
    """One way to lay two neighbours anew: where each lies, None for one left out."""

    left: Span | None
    right: Span | None


class Mend:
    """Lays pieces anew beside what is out of true.

    Attributes:
        pieces: as laid; None for one that was joined to its neighbour.
        tips: of each course of each face, the tips that mortar takes.
        moved, joined: how many perpends were moved, and how many left out.
    """

    def __init__(self, job: Job, pieces: tuple[Piece, ...], keep_out: Areas) -> None:
        self.job, self.keep_out = job, keep_out
        self.limits = limits_of(job)
        self.laid = frozenset(map(id, pieces))
        self._kept = pieces
        self.pieces: list[Piece | None] = list(pieces)
        self.moved = self.joined = 0
        self.of_course: dict[int, list[int]] = defaultdict(list)
        for place, piece in enumerate(pieces):
            if piece.kind in RUNNING_KINDS:
                self.of_course[piece.course].append(place)
        self.rows = self._rows()
        self.tips = {row: self._tips(row) for row in self.rows}
        self._areas: dict[tuple[bool, Row], Areas] = {}

    def all_rows(self, touched: set[int]) -> None:
        """Mend every course of every face.

        Args:
            touched: the places of the pieces that may meet an edge out of true.
        """
        for row, places in self.rows.items():
            if not touched & set(places):
                continue
            # What mends one piece may spoil the next: so such a row is gone over again.
            some = [place for place in places if place in touched]
            if sum(self._mend(row, place) for place in some):
                for place in some:
                    self._mend(row, place)

    def areas_of(self, piece: Piece, keep_out: Areas | None = None) -> Areas:
        """Return what a piece keeps out of, the tips of its course among it.

        Args:
            piece: which.
            keep_out: the areas; all of them where not given.
        """
        row = piece.place, piece.course
        areas = self.keep_out if keep_out is None else keep_out
        tips = [tip.area for tip in self.tips.get(row, ())]
        if not tips:
            return areas
        key = keep_out is None, row
        if key not in self._areas:
            parts = [areas[row[0]], *tips] if row[0] in areas else tips
            self._areas[key] = {
                **areas,
                row[0]: shapely.union_all(parts, grid_size=GRID),
            }
        return self._areas[key]

    # ------------------------------------------------------------------------ the rows

    def _rows(self) -> dict[Row, list[int]]:
        rows: dict[Row, list[int]] = defaultdict(list)
        for place, piece in enumerate(self.pieces):
            if piece is None or piece.kind not in FLAT_KINDS:
                continue
            if piece.place in self.keep_out:
                rows[piece.place, piece.course].append(place)
        for row in rows.values():
            row.sort(key=lambda place: self._laid(place).left)
        return rows

    def _tips(self, row: Row) -> tuple[Tip, ...]:
        outlines = [self._laid(place) for place in self.rows[row]]
        band = shapely.box(
            float(min(x.left for x in outlines)),
            float(min(x.bottom for x in outlines)),
            float(max(x.right for x in outlines)),
            float(max(x.top for x in outlines)),
        )
        free = band.difference(self.keep_out[row[0]])
        width, corner = float(self.limits.width), float(self.limits.corner)
        return tuple(find_tips(free, width, corner))

    def _laid(self, place: int) -> Outline:
        piece = self.pieces[place]
        assert piece is not None  # noqa: S101 - only places still laid are asked for
        return piece.outlines[0]

    # ---------------------------------------------------------------------- one piece

    def _mend(self, row: Row, place: int) -> bool:
        """Lay a piece and one of its neighbours anew, if that is better."""
        piece = self.pieces[place]
        if piece is None or not any(self._faults((piece,))):
            return False
        best: tuple[tuple[int | Fraction, ...], Way, tuple[int, int]] | None = None
        places = [x for x in self.rows[row] if self.pieces[x] is not None]
        for left, right in pairwise(places):
            if place not in (left, right) or not self._are_neighbours(left, right):
                continue
            before = self._faults_of((left, right))
            for way, cost in self._ways(left, right, place):
                faults = self._faults(self._made(left, right, way))
                rank = (*faults, *cost)
                if faults < before and (best is None or rank < best[0]):
                    best = rank, way, (left, right)
                if not any(faults) and not cost[0]:
                    break
        if best is not None:
            _, way, (left, right) = best
            self._lay(left, right, way)
        return best is not None

    def _are_neighbours(self, left: int, right: int) -> bool:
        gap = self._laid(right).left - self._laid(left).right
        return 0 <= gap <= self.job.joints.head.most

    def _ways(
        self, left: int, right: int, amiss: int
    ) -> Iterator[tuple[Way, tuple[int, Fraction]]]:
        """Yield every way to lay two neighbours anew, and what it costs.

        First the perpend moves, the least first; then the two are one piece.
        """
        first, last = self._ends(left)[0], self._ends(right)[1]
        if first is None or last is None:
            return
        joint = self._laid(right).left - self._laid(left).right
        now, unit = self._laid(left).right, self.job.brick.length
        step, least = STEPS * self.job.joints.step, self.limits.length
        for count in range(1, int((last - first) / step) + 1):
            for way in (count, -count) if amiss == left else (-count, count):
                perpend = now + way * step
                a, b = (first, perpend), (perpend + joint, last)
                if all(least <= y - x <= unit for x, y in (a, b)):
                    yield Way(a, b), (0, count * step)
        if last - first <= unit:
            one = first, last
            yield (Way(one, None) if amiss == right else Way(None, one)), (1, joint)

    def _ends(self, place: int) -> tuple[Fraction | None, Fraction | None]:
        """Return how far a piece reaches; None where nothing of it is left."""
        piece = self.pieces[place]
        assert piece is not None  # noqa: S101 - only places still laid are asked for
        parts = [x.outlines[0] for x in clip_piece(piece, self.areas_of(piece))]
        if not parts:
            return None, None
        return min(x.left for x in parts), max(x.right for x in parts)

    def _made(self, left: int, right: int, way: Way) -> tuple[Piece, ...]:
        pairs = (left, way.left), (right, way.right)
        return tuple(self._anew(place, span) for place, span in pairs if span)

    def _anew(self, place: int, span: Span) -> Piece:
        """Return a piece laid anew from one end to the other."""
        piece = self.pieces[place]
        assert piece is not None  # noqa: S101 - only places still laid are laid again
        old, (left, right) = piece.outlines[0], span
        edges = tuple(x for x in piece.cut_edges if x in ("top", "bottom"))
        outline = rectangle(old.face, left, old.bottom, right, old.top)
        if right - left != self.job.brick.length:
            edges = ("right" if left == old.left else "left", *edges)
        return flat_piece("stretcher", piece.course, outline, edges)

    def _lay(self, left: int, right: int, way: Way) -> None:
        for place, span in ((left, way.left), (right, way.right)):
            self.pieces[place] = None if span is None else self._anew(place, span)
        self.moved += None not in way
        self.joined += None in way

    # ------------------------------------------------------------------------ judging

    def _faults_of(self, places: tuple[int, int]) -> Faults:
        pieces = (self.pieces[place] for place in places)
        return self._faults(tuple(piece for piece in pieces if piece is not None))

    def _faults(self, pieces: tuple[Piece, ...]) -> Faults:
        """Count what is wrong with pieces, once they are sawn to what is there."""
        short = parted = notched = 0
        for piece in pieces:
            parts = clip_piece(piece, self.areas_of(piece))
            if parts == (piece,):
                # The bond answers for what it laid.
                is_anew = id(piece) not in self.laid
                short += is_anew and piece.length < self.limits.length
                continue
            short += sum(self._is_short(piece, part) for part in parts)
            parted += self._is_parted(parts)
            notched += sum(has_notch(part.outlines[0]) for part in parts)
        return Faults(short, parted, self._short_laps(pieces), notched)

    def _is_short(self, laid: Piece, part: Piece) -> bool:
        """Whether clipping leaves a part under the least, or smaller than it was laid.

        A piece that the bond lays shorter than the least is not held to more.
        """
        least = self.limits.length
        if id(laid) in self.laid:
            least = min(least, laid.length)
        if laid.kind in OWN_LENGTH:
            least = Fraction(0)
        high = laid.outlines[0].top - laid.outlines[0].bottom
        short = self.limits.judge(part.outlines[0], least, high)
        return part.length < least or short is not None

    def _is_parted(self, parts: tuple[Piece, ...]) -> bool:
        """Whether clipping leaves two parts with less than the least joint between."""
        if len(parts) < 2:
            return False
        shapes = [polygon_of(part.outlines[0].points) for part in parts]
        least = float(self.job.joints.head.least) - NOTHING
        return any(a.distance(b) < least for a, b in pairwise(shapes))

    def _short_laps(self, pieces: tuple[Piece, ...]) -> int:
        """Count the joints between pieces laid anew that lap too little."""
        if len(pieces) < 2 or self.job.bond.pattern == "stack":
            return 0
        a, b = (piece.outlines[0] for piece in pieces)
        course, face = pieces[0].course, pieces[0].place
        return sum(
            max(a.right - y, x - b.left) < self.job.bond.least_lap
            for near in (course - 1, course + 1)
            for x, y in self._perpends(face, near)
        )

    def _perpends(self, face: FaceName, course: int) -> Iterator[Span]:
        """Yield the head joints of a course of a face, as laid."""
        pieces = (self.pieces[place] for place in self.of_course[course])
        ends = sorted(
            (outline.left, outline.right)
            for piece in pieces
            if piece is not None
            for outline in piece.outlines
            if outline.face == face
        )
        for (_, right), (left, _) in pairwise(ends):
            if 0 < left - right <= self.job.joints.head.most:
                yield right, left
