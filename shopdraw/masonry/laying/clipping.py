"""Clip pieces to where brick may be, and mend those that come out under the least.

In:  `Piece`s, the areas of each face to keep out of.   Out: what is left of them.
Frame: as `Surround`; clipped in floating point, but corners that are kept stay exact.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from shopdraw.job.model import Job
from shopdraw.masonry.wall.form import FaceName
from shopdraw.masonry.wall.layout import (
    FLAT_KINDS,
    SIDES,
    Outline,
    Piece,
    area_within,
    flat_piece,
    rectangle,
    sawn_sides,
)

NOTHING = 1e-7
"""Polygons are in floating point; an area or a distance below this is none."""
FINEST = 2**30
"""A clipped corner lies on a grid of one part in so many."""

Areas = dict[FaceName, BaseGeometry]


def clip_piece(piece: Piece, keep_out: Areas) -> tuple[Piece, ...]:
    """Return what is left of a piece: all of it, a part, two parts, or nothing."""
    parts = [
        tuple(_subtract(piece, outline, keep_out.get(outline.face)))
        for outline in piece.outlines
    ]
    if all(
        part == (outline,) for part, outline in zip(parts, piece.outlines, strict=True)
    ):
        return (piece,)
    if len(parts) == 1:
        return tuple(_made(piece, (outline,)) for outline in parts[0])
    # A corner unit stays one piece: of each leg the longest part is kept.
    legs = [
        max(part, key=lambda outline: outline.right - outline.left)
        for part in parts
        if part
    ]
    return (_made(piece, tuple(legs)),) if len(legs) == len(parts) else ()


def _made(piece: Piece, outlines: tuple[Outline, ...]) -> Piece:
    first = outlines[0]
    edges = dict.fromkeys(piece.cut_edges)
    for outline in outlines:
        edges |= dict.fromkeys(outline.sawn_ends())
    return replace(
        piece,
        outlines=outlines,
        length=first.right - first.left,
        height=first.top - first.bottom,
        legs=tuple(x.right - x.left for x in outlines) if piece.legs else (),
        is_cut=piece.is_cut or bool(set(edges) - set(piece.cut_edges)),
        cut_edges=tuple(edges),
    )


def _subtract(
    piece: Piece, outline: Outline, keep_out: BaseGeometry | None
) -> Iterator[Outline]:
    """Yield what is left of an outline outside the keep-out, kept corners exact."""
    before = polygon_of(outline.points)
    if keep_out is None or _is_nothing(before.intersection(keep_out)):
        yield outline
        return
    rest = before.difference(keep_out)
    sawn = outline.cuts
    if outline.is_rectangle:
        sawn = tuple(SIDES.index(name) for name in sawn_sides(piece, outline))
    kept = [
        shapely.LineString([(float(x), float(y)) for x, y in side])
        for place, side in enumerate(outline.sides())
        if place not in sawn
    ]
    parts = [part for part in getattr(rest, "geoms", [rest]) if not _is_nothing(part)]
    for part in sorted(parts, key=lambda part: part.bounds):
        spots = list(shapely.orient_polygons(part.simplify(NOTHING)).exterior.coords)[
            :-1
        ]
        start = min(
            range(len(spots)), key=lambda i: (round(sum(spots[i]), 6), spots[i])
        )
        spots = [*spots[start:], *spots[:start]]
        cuts = tuple(
            place
            for place, (a, b) in enumerate(pairwise([*spots, spots[0]]))
            if all(
                line.distance(shapely.Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))
                > NOTHING
                for line in kept
            )
        )
        yield Outline(
            outline.face, tuple(_exact(spot, outline) for spot in spots), cuts
        )


def _is_nothing(shape: BaseGeometry) -> bool:
    """Whether a shape is as thin as rounding makes it, however long it is."""
    return bool(shape.area <= NOTHING * max(1.0, shape.length))


def _exact(spot: tuple[float, float], outline: Outline) -> tuple[Fraction, Fraction]:
    """Return a corner's place, exact where it is on an edge of its outline."""
    x = _nearest(spot[0], (outline.left, outline.right))
    y = _nearest(spot[1], (outline.bottom, outline.top))
    return x, y


def _nearest(value: float, known: tuple[Fraction, ...]) -> Fraction:
    for each in known:
        if abs(value - float(each)) < NOTHING:
            return each
    return Fraction(round(value * FINEST), FINEST)


def polygon_of(points: Iterable[tuple[Fraction, Fraction]]) -> shapely.Polygon:
    """Return a ring of exact points as a polygon in floating point."""
    return shapely.Polygon([(float(x), float(y)) for x, y in points])


class Mend:
    """Makes pieces that came out under the least longer, out of their neighbours.

    Attributes:
        pieces: as laid; None for one that was joined to its neighbour.
        clipped: by its place, what is left of each piece that may have been clipped.
        moved: how many head joints were moved or left out.
    """

    def __init__(
        self,
        job: Job,
        pieces: tuple[Piece, ...],
        clipped: dict[int, tuple[Piece, ...]],
        keep_out: Areas,
    ) -> None:
        self.job, self.keep_out = job, keep_out
        self.pieces: list[Piece | None] = list(pieces)
        self.clipped = clipped
        self.moved = 0

    def all_rows(self) -> None:
        """Mend every course of every face."""
        rows: dict[tuple[str, int], list[int]] = defaultdict(list)
        for place, piece in enumerate(self.pieces):
            if place in self.clipped and piece is not None and piece.kind in FLAT_KINDS:
                rows[piece.place, piece.course].append(place)
        for row in rows.values():
            row.sort(key=lambda place: self._laid(place).left)
            # Mending a piece for its length may leave it in two, and the other way
            # round: so each row is gone over twice.
            for left, right in (*pairwise(row), *pairwise(row)):
                self._pair(left, right)
        for place in self.clipped:
            self._fill_tips(place)

    def _fill_tips(self, place: int) -> None:
        """Drop the parts of a piece that stand too close to its greatest part."""
        if not self._is_parted(place):
            return
        greatest, *others = sorted(
            self.clipped[place],
            key=lambda part: area_within(part.outlines[0].points),
            reverse=True,
        )
        first = greatest.outlines[0]
        joint = float(self.job.joints.head.least) + NOTHING
        grown = polygon_of(first.points).buffer(joint, join_style="mitre")
        near: Areas = {first.face: grown}
        kept = [part for other in others for part in clip_piece(other, near)]
        self.clipped[place] = (greatest, *kept)

    def _laid(self, place: int) -> Outline:
        piece = self.pieces[place]
        assert piece is not None  # noqa: S101 - only places still laid are asked for
        return piece.outlines[0]

    def _pair(self, left: int, right: int) -> None:
        """Mend two neighbours if clipping leaves one of them too short, or in two."""
        if self.pieces[left] is None or self.pieces[right] is None:
            return
        a, b = self._laid(left), self._laid(right)
        if b.left - a.right > self.job.joints.head.most:
            return
        for place, other in ((right, left), (left, right)):
            amiss = self._is_short(place) or self._is_parted(place)
            if amiss and len(self.clipped[other]) == 1:
                self._share(left, right, place)
                return

    def _is_short(self, place: int) -> bool:
        left = self.clipped[place]
        piece = self.pieces[place]
        if piece is None or not left or left == (piece,):
            return False
        return max(part.length for part in left) < self.job.bond.least_piece

    def _is_parted(self, place: int) -> bool:
        """Whether clipping leaves two parts with less than the least joint between."""
        parts = self.clipped[place]
        if len(parts) == 1:
            return False
        shapes = [polygon_of(part.outlines[0].points) for part in parts]
        least = float(self.job.joints.head.least) - NOTHING
        return any(a.distance(b) < least for a, b in pairwise(shapes))

    def _share(self, left: int, right: int, short: int) -> None:
        """Join two pieces if a brick is long enough, or move the joint between them."""
        a, b = self._laid(left), self._laid(right)
        unit, least = self.job.brick.length, self.job.bond.least_piece
        joint = b.left - a.right
        rest = [part.outlines[0] for part in self.clipped[short]]
        end = min(outline.left for outline in rest)
        if short == right:
            end = max(outline.right for outline in rest)
        start = a.left if short == right else b.right
        if abs(end - start) <= unit:
            self._lay(
                left if short == right else right, min(start, end), max(start, end)
            )
            self.pieces[short] = None
            self.moved += 1
            return
        near = b.left if short == right else a.right
        # A piece left in two gets longer until its parts are joined.
        wanted = least if self._is_short(short) else abs(end - near) + least / 2
        if abs(end - start) - joint - wanted < least:
            return
        if short == right:
            perpend = end - wanted - joint
            spans = (a.left, perpend), (perpend + joint, end)
        else:
            perpend = end + wanted
            spans = (end, perpend), (perpend + joint, b.right)
        if max(y - x for x, y in spans) > unit:
            return
        self._lay(left, *spans[0])
        self._lay(right, *spans[1])
        self.moved += 1

    def _lay(self, place: int, left: Fraction, right: Fraction) -> None:
        """Lay a piece anew from one end to the other, and clip it again."""
        piece = self.pieces[place]
        assert piece is not None  # noqa: S101 - only places still laid are laid again
        old = piece.outlines[0]
        edges = tuple(x for x in piece.cut_edges if x in ("top", "bottom"))
        if right - left != self.job.brick.length:
            edges = ("right" if left == old.left else "left", *edges)
        outline = rectangle(old.face, left, old.bottom, right, old.top)
        laid = flat_piece("stretcher", piece.course, outline, edges)
        self.pieces[place] = laid
        self.clipped[place] = clip_piece(laid, self.keep_out)
