"""Tell where mortar takes the tip of a course that runs out on an arch, and how long.

In:  `Tip`s, the pieces as they are named.   Out: `Fillet`s.
Frame: as `Surround`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

import shapely

from shopdraw.masonry.sawing.clipping import FINEST, NOTHING, polygon_of
from shopdraw.masonry.sawing.shapes import Ring
from shopdraw.masonry.sawing.tips import Tip
from shopdraw.masonry.wall.bond_rules import Fillet
from shopdraw.masonry.wall.form import FaceName
from shopdraw.masonry.wall.layout import RUNNING_KINDS, Piece


def measure_fillets(
    tips: Iterable[tuple[FaceName, int, Tip]], pieces: tuple[Piece, ...]
) -> Iterator[Fillet]:
    """Yield the fillets of mortar where courses run out, in reading order."""
    for face, course, tip in sorted(tips, key=lambda each: (each[1], each[2].end)):
        inner = tip.end[0] + tip.way * tip.length
        ends = [
            max(float(x.left), inner) if tip.way > 0 else min(float(x.right), inner)
            for piece in pieces
            if piece.course == course and piece.kind in RUNNING_KINDS
            for x in piece.outlines
            if x.face == face
            and (float(x.right) > inner if tip.way > 0 else float(x.left) < inner)
        ]
        length = min((abs(tip.end[0] - x) for x in ends), default=tip.length)
        ring = _without_brick(tip, face, course, pieces)
        points = tuple((_on_grid(x), _on_grid(y)) for x, y in ring)
        yield Fillet(face, course, points, _on_grid(length))


def _without_brick(
    tip: Tip, face: FaceName, course: int, pieces: tuple[Piece, ...]
) -> Ring:
    """Return the corners of a tip without what brick takes of it.

    Brick that tapers by less than the saw's tolerance is cut square, into the tip.
    """
    brick = [
        polygon_of(outline.points)
        for piece in pieces
        if piece.course == course
        for outline in piece.outlines
        if outline.face == face
    ]
    met = shapely.intersection(brick, tip.area)
    if not (shapely.area(met) > NOTHING).any():
        return tip.ring
    bare = tip.area.difference(shapely.union_all(brick))
    return replace(tip, area=max(getattr(bare, "geoms", [bare]), key=_area)).ring


def _area(shape: shapely.Polygon) -> float:
    return float(shape.area)


def _on_grid(value: float) -> Fraction:
    return Fraction(round(value * FINEST), FINEST)
