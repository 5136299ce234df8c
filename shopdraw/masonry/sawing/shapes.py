"""Measure the shape of a piece, and say by which figure it can't be sawn.

In:  rings of corners, what a job allows.   Out: lengths, degrees, areas, `Shortfall`s.
Frame: the ring's own; floating point, since the corners that a cut makes are so too.

A long thin wedge and a knife edge are no pieces, however long they are: thin brick
breaks on the saw, or in the hand. So a piece is judged by four figures: its length
along its longest side, its width where it is narrowest, its sharpest corner, its area.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import atan2, degrees, hypot, isclose

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import split

from shopdraw.job.model import Job
from shopdraw.masonry.wall.bond_rules import Least, RuleName
from shopdraw.masonry.wall.layout import Outline, Piece, PieceKind, area_within

Spot = tuple[float, float]
Ring = tuple[Spot, ...]
NOTCH = 10.0
"""Degrees: a corner that turns in by more is a notch. By less it is one of the straight
cuts along a curve (common practice, no published source)."""
PARALLEL = 0.5
"""Degrees: two sides that lean to each other by less don't make a corner."""
FAR = 1000.0
"""Past the end of any piece."""
MOST_NOTCHES = 3
"""A piece with more notches is not taken apart any further."""
NOTHING = 1e-6
"""How far a measurement in floating point may be off."""
FINE = 1024
"""Measurements are handed on as so many parts of a length or a degree."""
OWN_LENGTH: tuple[PieceKind, ...] = ("header", "closer", "voussoir", "keystone")
"""The kinds that are as short and as small as their bond or their arch has them."""


@dataclass(frozen=True)
class Shortfall:
    """What a piece falls short of: the rule, what it measures, and what is allowed."""

    rule: RuleName
    least: Least


@dataclass(frozen=True)
class ShapeLimits:
    """What a job allows of a sawn piece.

    Attributes:
        length, width: in the job's lengths.
        corner: in degrees.
        share: of the face of a brick, as high as its course is.
        brick: how long a whole one is, and how high.
    """

    length: Fraction
    width: Fraction
    corner: Fraction
    share: Fraction
    brick: tuple[Fraction, Fraction]

    def judge(
        self, outline: Outline, length: Fraction, high: Fraction
    ) -> Shortfall | None:
        """Return the first figure that a shape falls short of, or None.

        Args:
            outline: its corners, anticlockwise.
            length: the least length that is allowed of it; nothing where it is as
                short as its bond has it.
            high: how high its course is.
        """
        return next(self.shortfalls(outline, length, high), None)

    def shortfalls(
        self, outline: Outline, length: Fraction, high: Fraction
    ) -> Iterator[Shortfall]:
        """Yield every figure that a shape falls short of; in and out as `judge`."""
        for rule, size, least in self._figures(outline, length, high):
            if size < least - Fraction(1, FINE):
                yield Shortfall(rule, Least(size, least))

    def _figures(
        self, outline: Outline, length: Fraction, high: Fraction
    ) -> Iterator[tuple[RuleName, Fraction, Fraction]]:
        """Yield each rule, what the shape measures, and what is allowed."""
        if outline.is_rectangle:
            sides = outline.right - outline.left, outline.top - outline.bottom
            yield "least piece", max(sides), length
            yield "least width", min(sides), self.width
        else:
            spots = tuple((float(x), float(y)) for x, y in outline.points)
            yield "least piece", _fine(length_along(spots)), length
            yield "least width", _fine(narrowest(spots)), self.width
            corner = _fine(sharpest(spots, float(self.width)))
            yield "sharpest corner", corner, self.corner
        if length:
            whole = self.brick[0] * min(high, self.brick[1])
            least = min(self.share * whole, length * min(high, self.brick[1]))
            yield "least area", area_within(outline.points), least


def limits_of(job: Job) -> ShapeLimits:
    """Return what a job allows of a sawn piece."""
    bond, brick = job.bond, job.brick
    return ShapeLimits(
        length=bond.least_piece,
        width=bond.least_width,
        corner=Fraction(bond.least_corner),
        share=Fraction(bond.least_area, 100),
        brick=(brick.length, brick.height),
    )


def find_shortfall(
    piece: Piece, limits: ShapeLimits, high: Fraction, length: Fraction
) -> Shortfall | None:
    """Return what a piece falls short of beside its length, or None.

    What is bought is not judged, nor a leg that keeps its square ends; its own rule
    holds a length.

    Args:
        piece: as it is on the wall.
        limits: what is allowed.
        high: how high its course is.
        length: the least length that is allowed of it.
    """
    if not (piece.is_cut or piece.is_trimmed):
        return None
    for outline in piece.outlines:
        if len(piece.outlines) > 1 and outline.is_rectangle:
            continue
        own = _own_length(piece.kind, length)
        for short in limits.shortfalls(outline, own, high):
            if short.rule != "least piece":
                return short
    return None


def _own_length(kind: PieceKind, length: Fraction) -> Fraction:
    return Fraction(0) if kind in OWN_LENGTH else length


def length_of(outline: Outline) -> Fraction:
    """Return how long an outline is along its course, and along its longest side."""
    along = outline.right - outline.left
    if outline.is_rectangle:
        return along
    spots = tuple((float(x), float(y)) for x, y in outline.points)
    return min(along, _fine(length_along(spots)))


def length_along(ring: Ring) -> float:
    """Return how long a shape is along its longest side."""
    a, b = max(_sides(ring), key=lambda side: hypot(*_way(side)))
    x, y = _way((a, b))
    along = [(px * x + py * y) / hypot(x, y) for px, py in ring]
    return max(along) - min(along)


def narrowest(ring: Ring) -> float:
    """Return how wide a shape is where it is narrowest, each limb by itself.

    That is the least distance between two parallel lines that hold it. A shape with a
    notch is taken apart there, along each side of the notch; what reaches less far from
    the cut than the cut is long is a shoulder, not a limb, and is as strong as its
    neighbour.
    """
    return _narrowest(shapely.Polygon(ring), MOST_NOTCHES)


def _narrowest(shape: BaseGeometry, deep: int) -> float:
    ring = _ring_of(shape)
    widths = [width_of(_hull(shape, ring))]
    for at in notches(ring) if deep else ():
        for line in _through(ring, at):
            widths += (_narrowest(x, deep - 1) for x in _limbs(shape, line))
    return min(widths)


def _through(ring: Ring, at: int) -> Iterator[shapely.LineString]:
    """Yield the two sides of a notch, prolonged from its inside corner on."""
    corner = ring[at]
    for other in (ring[at - 1], ring[(at + 1) % len(ring)]):
        x, y = _way((other, corner))
        reach = FAR / hypot(x, y)
        yield shapely.LineString(
            [corner, (corner[0] + x * reach, corner[1] + y * reach)]
        )


def _limbs(shape: BaseGeometry, line: shapely.LineString) -> Iterator[BaseGeometry]:
    """Yield the limbs that a line takes a shape apart into."""
    root = shape.intersection(line).length
    for part in split(shape, line).geoms:
        reach = max(line.distance(shapely.Point(spot)) for spot in _ring_of(part))
        if part.area > NOTHING and reach >= root - NOTHING:
            yield part.simplify(NOTHING)


def notches(ring: Ring) -> Iterator[int]:
    """Yield the places of the corners that turn in, in a ring that is anticlockwise."""
    for place in range(len(ring)):
        if inside_angle(ring, place) > 180 + NOTCH:
            yield place


def corners_turned_in(outline: Outline) -> tuple[int, ...]:
    """Return the places of an outline's corners that turn in."""
    ring = tuple((float(x), float(y)) for x, y in outline.points)
    return tuple(notches(ring))


def has_notch(outline: Outline) -> bool:
    """Whether an outline turns in at a corner, so that it must be ground there."""
    return bool(corners_turned_in(outline))


def sharpest(ring: Ring, width: float) -> float:
    """Return a shape's sharpest corner, in degrees.

    An end narrower than the least width is no end: the corner that counts is the one
    that the sides next to it would make.
    """
    corners = list(ring)
    while len(corners) > 3:
        place = _blunt_end(corners, width)
        if place is None:
            break
        after = (place + 1) % len(corners)
        lines = (
            (corners[place - 1], corners[place]),
            (corners[(place + 2) % len(corners)], corners[after]),
        )
        corners[place] = _meet(*lines)
        del corners[after]
    angles = (inside_angle(tuple(corners), i) for i in range(len(corners)))
    return min(angles)


def _blunt_end(ring: list[Spot], width: float) -> int | None:
    """Return the place of the shortest side between two that would meet beyond it."""
    spots = tuple(ring)
    ends = [
        (hypot(*_way(side)), place)
        for place, side in enumerate(_sides(spots))
        if hypot(*_way(side)) < width - NOTHING
        and _leans_in(inside_angle(spots, place), inside_angle(spots, place + 1))
    ]
    return min(ends)[1] if ends else None


def _leans_in(one: float, other: float) -> bool:
    """Whether the sides next to a side, at such angles to it, meet beyond it."""
    return max(one, other) < 180 and one + other > 180 + PARALLEL


def inside_angle(ring: Ring, place: int) -> float:
    """Return the angle inside a corner of a ring that is anticlockwise, in degrees."""
    at = ring[place % len(ring)]
    before, after = ring[(place - 1) % len(ring)], ring[(place + 1) % len(ring)]
    a, b = _way((at, after)), _way((at, before))
    angle = degrees(atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]))
    return angle if angle >= 0 else angle + 360


def width_of(hull: Ring) -> float:
    """Return the least distance between two parallel lines that hold a convex ring."""
    widths = []
    for a, b in _sides(hull):
        x, y = _way((a, b))
        length = hypot(x, y)
        if length > NOTHING:
            widths.append(
                max(abs(x * (py - a[1]) - y * (px - a[0])) / length for px, py in hull)
            )
    return min(widths)


def _hull(shape: BaseGeometry, ring: Ring) -> Ring:
    if all(inside_angle(ring, place) <= 180 for place in range(len(ring))):
        return ring
    return _ring_of(shape.convex_hull)


def _ring_of(shape: BaseGeometry) -> Ring:
    assert isinstance(shape, shapely.Polygon)  # noqa: S101 - a piece is one polygon
    around = shapely.orient_polygons(shape).exterior.coords
    return tuple((x, y) for x, y in around[:-1])


def _sides(ring: Ring) -> Iterator[tuple[Spot, Spot]]:
    yield from pairwise((*ring, ring[0]))


def _way(side: tuple[Spot, Spot]) -> Spot:
    (x1, y1), (x2, y2) = side
    return x2 - x1, y2 - y1


def _meet(a: tuple[Spot, Spot], b: tuple[Spot, Spot]) -> Spot:
    """Return where two lines meet that are not parallel."""
    (x, y), (dx, dy) = a[0], _way(a)
    ex, ey = _way(b)
    share = ((b[0][0] - x) * ey - (b[0][1] - y) * ex) / (dx * ey - dy * ex)
    return x + share * dx, y + share * dy


def _fine(value: float) -> Fraction:
    """Return a measurement as a fraction; one that is as good as whole is that."""
    near = round(value * FINE)
    if isclose(value * FINE, near, abs_tol=NOTHING * FINE):
        return Fraction(near, FINE)
    return Fraction(value).limit_denominator(FINE * FINE)
