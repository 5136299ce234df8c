"""Say where the cut lines of a piece lie: just inside each side that is sawn.

In:  `Piece`, one of its outlines.   Out: lines.
Frame: the outline's own; floating point, because a side may slant.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from fractions import Fraction
from math import hypot

import shapely

from shopdraw.masonry.wall.form import Point
from shopdraw.masonry.wall.layout import OF_AN_ARCH, Outline, Piece, sawn_sides

INSET = 1 / 8
"""A cut line lies so much of a piece's lesser side inside its sawn edge."""
STRAIGHT = 1 / 3
"""Two sides go straight on where one turns from the other by less than one in three."""
SAME = 1e-9
"""A distance below this is none."""
ORIGIN = (Fraction(0), Fraction(0))
Spot = tuple[float, float]
Line = tuple[Spot, Spot]


def sides_sawn(
    piece: Piece, outline: Outline, folds: Collection[Fraction] = ()
) -> tuple[str, ...]:
    """Return which sides of a rectangular outline get a cut line, by name.

    Args:
        piece: what is sawn.
        outline: which of its outlines.
        folds: x of the outside corners; the edge that is mitred is the one on them.
    """
    sides = set(sawn_sides(piece, outline))
    if "mitre" in piece.cut_edges and outline is piece.outlines[0]:
        sides.add("left" if outline.left in folds else "right")
    return tuple(sorted(sides))


def cut_lines(
    piece: Piece,
    outline: Outline,
    folds: Collection[Fraction] = (),
    origin: Point = ORIGIN,
) -> Iterator[Line]:
    """Yield the lines just inside the sawn sides of an outline.

    Args:
        piece: what is sawn.
        outline: which of its outlines.
        folds: x of the outside corners.
        origin: where they are measured from.
    """
    x, y = origin
    if not outline.is_rectangle:
        yield from _within(outline.moved(-x, -y), _size_of(piece, outline) * INSET)
        return
    sawn = sides_sawn(piece, outline, folds)
    if not sawn:
        return
    left, right = float(outline.left - x), float(outline.right - x)
    bottom, top = float(outline.bottom - y), float(outline.top - y)
    wide, high = (
        float(outline.right - outline.left),
        float(outline.top - outline.bottom),
    )
    inset = min(wide, high) * INSET
    lines: dict[str, Line] = {
        "left": ((left + inset, bottom), (left + inset, top)),
        "right": ((right - inset, bottom), (right - inset, top)),
        "bottom": ((left, bottom + inset), (right, bottom + inset)),
        "top": ((left, top - inset), (right, top - inset)),
    }
    for side in sawn:
        yield lines[side]


def _size_of(piece: Piece, outline: Outline) -> float:
    """Return the lesser side of a shape; of one that is turned, as it is sawn."""
    # The box round a piece that leans is wider than the brick that it is sawn from.
    turned = piece.place in ("panel", "hearth") or piece.kind in OF_AN_ARCH
    lain = piece.as_sawn if turned and piece.as_sawn is not None else outline
    return float(min(lain.right - lain.left, lain.top - lain.bottom))


def _within(outline: Outline, inset: float) -> Iterator[Line]:
    """Yield the lines of a shape, each clipped by the sides next to its own."""
    ring = [(float(x), float(y)) for x, y in outline.points]
    for place in outline.cuts:
        a, b = ring[place], ring[(place + 1) % len(ring)]
        before, after = ring[place - 1], ring[(place + 2) % len(ring)]
        line: Line | None = None
        if _is_convex(ring):
            # A side beside the cut may be too short to clip the line.
            line = _across(ring, a, b, inset)
        if line is None:
            spots = tuple(
                square if _goes_on(corner, away, along) else _toward(*ends, inset)
                for ends, square in zip(
                    ((a, before, b), (b, after, a)), _inside(a, b, inset), strict=True
                )
                for corner, away, along in [ends]
            )
            line = _clipped((spots[0], spots[1]), ring)
        if line is not None and line[0] != line[1]:
            yield line


def _clipped(line: Line, ring: list[Spot]) -> Line | None:
    """Return what of a line lies in a shape; None where nothing does.

    Beside a cut that is shorter than the inset a line may end past the next side.
    """
    shape = shapely.Polygon(ring)
    if all(shape.distance(shapely.Point(spot)) < SAME for spot in line):
        return line
    inside = shape.intersection(shapely.LineString(line))
    parts = [x for x in getattr(inside, "geoms", [inside]) if x.length > SAME]
    if not parts:
        return None
    (ax, ay), *_, (bx, by) = max(parts, key=lambda part: float(part.length)).coords
    return (ax, ay), (bx, by)


def _goes_on(corner: Spot, away: Spot, along: Spot) -> bool:
    """Whether the side beside a cut goes nearly straight on from their corner."""
    side = away[0] - corner[0], away[1] - corner[1]
    cut = along[0] - corner[0], along[1] - corner[1]
    across = abs(side[0] * cut[1] - side[1] * cut[0])
    along_it = side[0] * cut[0] + side[1] * cut[1]
    return along_it < 0 and across < -along_it * STRAIGHT


def _inside(a: Spot, b: Spot, inset: float) -> Line:
    """Return a side moved in, toward the piece to its left."""
    x, y = b[0] - a[0], b[1] - a[1]
    length = hypot(x, y)
    x, y = -y / length * inset, x / length * inset
    return (a[0] + x, a[1] + y), (b[0] + x, b[1] + y)


def _is_convex(ring: list[Spot]) -> bool:
    corners = zip(ring[-2:] + ring[:-2], ring[-1:] + ring[:-1], ring, strict=True)
    return all(_beside(a, b, c) > -SAME for a, b, c in corners)


def _beside(a: Spot, b: Spot, spot: Spot) -> float:
    """Return how far a spot lies to the left of the line from a to b."""
    (ax, ay), (bx, by) = a, b
    length = hypot(bx - ax, by - ay)
    return ((bx - ax) * (spot[1] - ay) - (by - ay) * (spot[0] - ax)) / length


def _across(ring: list[Spot], a: Spot, b: Spot, inset: float) -> Line | None:
    """Return the line beside a cut from a to b, from one side of a shape to the other.

    None where the shape does not reach so far in.
    """
    met = []
    for p, q in zip(ring, (*ring[1:], ring[0]), strict=True):
        here, there = _beside(a, b, p) - inset, _beside(a, b, q) - inset
        if (here > 0) != (there > 0):
            share = here / (here - there)
            met.append((p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])))
    if len(met) != 2:
        return None
    dx, dy = b[0] - a[0], b[1] - a[1]
    met.sort(key=lambda spot: spot[0] * dx + spot[1] * dy)
    return met[0], met[1]


def _toward(corner: Spot, away: Spot, along: Spot, inset: float) -> Spot:
    """Return the spot on the side beside a cut that lies the inset in from the cut."""
    side = away[0] - corner[0], away[1] - corner[1]
    cut = along[0] - corner[0], along[1] - corner[1]
    length = hypot(*cut)
    deep = abs(side[0] * cut[1] - side[1] * cut[0]) / length if length else 0.0
    share = min(0.5, inset / deep) if deep else 0.5
    return corner[0] + share * side[0], corner[1] + share * side[1]
