"""Clip pieces to where brick may be.

In:  `Piece`s, the areas of each face to keep out of.   Out: what is left of them.
Frame: as `Surround`; clipped in floating point, but corners that are kept stay exact.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import hypot

import shapely
from shapely.geometry.base import BaseGeometry

from shopdraw.masonry.wall.form import FaceName
from shopdraw.masonry.wall.layout import (
    SIDES,
    Outline,
    Piece,
    sawn_sides,
)

NOTHING = 1e-7
"""Polygons are in floating point; an area or a distance below this is none."""
FINEST = 2**30
"""A clipped corner lies on a grid of one part in so many."""

Areas = Mapping[FaceName, BaseGeometry]
Spot = tuple[float, float]


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
        return tuple(with_outlines(piece, (outline,)) for outline in parts[0])
    # A corner unit stays one piece: of each leg the longest part is kept.
    legs = [
        max(part, key=lambda outline: outline.right - outline.left)
        for part in parts
        if part
    ]
    return (with_outlines(piece, tuple(legs)),) if len(legs) == len(parts) else ()


def with_outlines(piece: Piece, outlines: tuple[Outline, ...]) -> Piece:
    """Return a piece that is sawn to other outlines, their cuts among its own."""
    edges = dict.fromkeys(piece.cut_edges)
    for outline in outlines:
        edges |= dict.fromkeys(outline.sawn_ends())
    # The cuts of an upright rectangle are said by the piece's own edges.
    outlines = tuple(replace(x, cuts=()) if x.is_rectangle else x for x in outlines)
    first = outlines[0]
    return replace(
        piece,
        outlines=outlines,
        length=first.right - first.left,
        height=first.top - first.bottom,
        legs=tuple(x.right - x.left for x in outlines) if piece.legs else (),
        is_cut=piece.is_cut or bool(set(edges) - set(piece.cut_edges)),
        cut_edges=tuple(edges),
    )


def trim_leg(piece: Piece, old: Outline, new: Outline) -> Piece:
    """Return a corner unit with one of its legs trimmed.

    One that is made gets a shorter leg: nothing is trimmed off it.
    """
    outlines = tuple(new if outline is old else outline for outline in piece.outlines)
    trimmed = () if piece.is_made else (f"{new.face} leg",)
    edges = dict.fromkeys((*trimmed, *piece.cut_edges))
    return replace(
        piece,
        outlines=outlines,
        length=outlines[0].right - outlines[0].left,
        legs=tuple(outline.right - outline.left for outline in outlines),
        is_trimmed=not piece.is_made,
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
    if rest.is_empty:
        # Beside a corner far away floating point may lose it all: look near it alone.
        near = shapely.box(*before.buffer(1).bounds)
        rest = before.difference(keep_out.intersection(near))
    sawn = outline.cuts
    if outline.is_rectangle:
        sawn = tuple(SIDES.index(name) for name in sawn_sides(piece, outline))
    sides = [
        [(float(x), float(y)) for x, y in side]
        for place, side in enumerate(outline.sides())
        if place not in sawn
    ]
    kept = shapely.MultiLineString(sides) if sides else None
    parts = [part for part in getattr(rest, "geoms", [rest]) if not _is_nothing(part)]
    for part in sorted(parts, key=lambda part: part.bounds):
        around = shapely.orient_polygons(part.simplify(NOTHING)).exterior.coords
        spots = _without_hairs([(x, y) for x, y in around[:-1]])
        start = min(
            range(len(spots)), key=lambda i: (round(sum(spots[i]), 6), spots[i])
        )
        spots = [*spots[start:], *spots[:start]]
        middles = shapely.points(
            [
                ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                for a, b in pairwise([*spots, spots[0]])
            ]
        )
        # Where no side is kept, each is sawn.
        off = shapely.distance(kept, middles) if kept else [1.0] * len(spots)
        cuts = tuple(place for place, far in enumerate(off) if far > NOTHING)
        yield Outline(
            outline.face, tuple(_exact(spot, outline) for spot in spots), cuts
        )


def _without_hairs(ring: list[Spot]) -> list[Spot]:
    """Return a ring without corners at which it turns back along its own side.

    An area on a grid may end just short of a bed: what is left there is no brick.
    """
    spots = list(ring)
    while len(spots) > len(SIDES) - 1:
        hairs = (x for x in range(len(spots)) if _is_hair(spots, x))
        place = next(hairs, None)
        if place is None:
            break
        del spots[place]
    return spots


def _is_hair(ring: list[Spot], place: int) -> bool:
    """Whether the shorter side at a corner lies on the other one."""
    x, y = ring[place]
    ways = [(a - x, b - y) for a, b in (ring[place - 1], ring[place + 1 - len(ring)])]
    (nx, ny), (fx, fy) = sorted(ways, key=lambda way: hypot(*way))
    off = abs(nx * fy - ny * fx)
    return nx * fx + ny * fy > 0 and off < NOTHING * hypot(fx, fy)


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
