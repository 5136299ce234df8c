"""Letter the mark of a piece on the piece itself, where it can be read there.

In:  `Piece`, one of its outlines.   Out: `Words`.
Frame: full size; x on the developed plane, moved by `dx`; y up from the datum.

The rules are in the legend: a whole brick has no mark; a leg that is counted on the
other face has its mark in brackets; what has no room has a leader
(`views.brick.leaders`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from math import atan2, cos, degrees, pi, sin

from shopdraw.drawing import layers
from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Point, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.masonry.laying.cut_lines import INSET, cut_lines
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    OF_AN_ARCH,
    Outline,
    Piece,
    sawn_sides,
)

Line = tuple[Point, Point]
ASIDE, ABOVE = 0.3, 1.3
BRACKETED = 0.6, 1.7
"""Room that lettering asks for beside it and for its height, in its own height.

Brackets are higher than letters, and where they stand the face ends in a heavy line.
"""
ALONG = (0.5, 0.6, 0.4, 0.7, 0.75, 0.3, 0.8, 0.85, 0.9, 0.2)
"""Where on the axis of a voussoir its mark is tried, of its depth."""
FINE = tuple(n / 24 for n in range(1, 24))
"""Of its height and width, where the mark of a sawn piece is tried in the end."""
LEVEL, UPRIGHT = 0.0, pi / 2


def goes_unmarked(piece: Piece) -> bool:
    """Whether a piece is a whole brick: nothing is sawn, no leg goes round a corner."""
    if piece.kind in (*CORNER_KINDS, *OF_AN_ARCH):
        return False
    return not (piece.is_cut or piece.is_trimmed or piece.is_made)


def mark_of(piece: Piece, outline: Outline) -> str:
    """Return the mark for one outline: in brackets where it counts on another face."""
    return piece.mark if outline is piece.outlines[0] else f"({piece.mark})"


def mark_within(
    piece: Piece,
    outline: Outline,
    dx: float,
    height: float,
    scale: float,
    over: Sequence[Line] = (),
) -> Words | None:
    """Letter a mark within an outline.

    Args:
        piece: whose mark it is.
        outline: which of its outlines.
        dx: added to x.
        height: of the lettering, on paper.
        scale: of the drawing.
        over: lines that are drawn across the brick, x moved already.

    Returns:
        The lettering, clear of the sides, of the cut lines, of what crosses the piece;
        None where there is no room for it.
    """
    mark = mark_of(piece, outline)
    ring = [(float(x) + dx, float(y)) for x, y in outline.points]
    aside, above = BRACKETED if mark.startswith("(") else (ASIDE, ABOVE)
    half_wide = (width_of(mark, height) + aside * height) * scale / 2
    half_high = above * height * scale / 2
    across = list(_near(over, ring))
    if outline.is_rectangle and not across:
        # Most pieces: there is room in the middle or nowhere.
        left, low, right, high = _clear_of_cuts(piece, outline)
        room = (right - left) / 2, (high - low) / 2
        for stands in sorted((False, True), reverse=room[1] > room[0]):
            if half_wide <= room[stands] and half_high <= room[not stands]:
                at = (left + right) / 2 + dx, (low + high) / 2
                given = layers.MARKS, at, mark, height
                return Words(*given, "centre", "middle", 90.0 * stands)
        return None
    cuts = [((a + dx, b), (c + dx, d)) for (a, b), (c, d) in cut_lines(piece, outline)]
    lines = [*zip(ring, [*ring[1:], ring[0]], strict=True), *cuts, *across]
    left, low, right, high = about(ring)
    for turned, (x, y) in _places(piece, outline, ring):
        along = half_wide * cos(turned), half_wide * sin(turned)
        up = -half_high * sin(turned), half_high * cos(turned)
        far, far_up = abs(along[0]) + abs(up[0]), abs(along[1]) + abs(up[1])
        if x - far < left or x + far > right or y - far_up < low or y + far_up > high:
            # At most places it sticks out, and that is quickly seen.
            continue
        box = [
            (x + i * along[0] + j * up[0], y + i * along[1] + j * up[1])
            for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        ]
        if _is_clear(box, lines) and is_inside((x, y), ring):
            spot = layers.MARKS, (x, y), mark, height
            return Words(*spot, "centre", "middle", degrees(turned))
    return None


def _clear_of_cuts(piece: Piece, outline: Outline) -> tuple[float, float, float, float]:
    """Return the part of a rectangle that lies within its cut lines."""
    left, bottom, right, top = (
        float(x) for x in (outline.left, outline.bottom, outline.right, outline.top)
    )
    inset = min(right - left, top - bottom) * INSET
    sides = sawn_sides(piece, outline)
    return (
        left + inset * ("left" in sides),
        bottom + inset * ("bottom" in sides),
        right - inset * ("right" in sides),
        top - inset * ("top" in sides),
    )


def _places(
    piece: Piece, outline: Outline, ring: list[Point]
) -> Iterator[tuple[float, Point]]:
    """Yield the angles and places to try for a mark."""
    if piece.kind in OF_AN_ARCH and outline is piece.outlines[0]:
        yield from _on_axis(ring)
        return
    high, wide = outline.top - outline.bottom, outline.right - outline.left
    turns = [UPRIGHT, LEVEL] if high > wide else [LEVEL, UPRIGHT]
    if piece.place in ("panel", "hearth") and not outline.is_rectangle:
        # A small triangle has most room along its longest side.
        turns = [LEVEL, UPRIGHT, pi / 4, -pi / 4]
    yield from product(turns, _middles(outline, ring))


def _on_axis(ring: list[Point]) -> Iterator[tuple[float, Point]]:
    """Yield places along a voussoir's axis; its mark reads from below or the right."""
    low = [(ring[0][i] + ring[1][i]) / 2 for i in (0, 1)]
    high = [(ring[2][i] + ring[3][i]) / 2 for i in (0, 1)]
    turned = atan2(high[1] - low[1], high[0] - low[0])
    while turned > pi / 2 + 1e-9:
        turned -= pi
    across = turned - pi / 2 if turned > 0 else turned + pi / 2
    for turn, share in product((turned, across), ALONG):
        x, y = (low[i] + share * (high[i] - low[i]) for i in (0, 1))
        yield turn, (x, y)


def _middles(outline: Outline, ring: list[Point]) -> Iterator[Point]:
    """Yield the places to try for a mark: the middle, then to either side of it."""
    count = len(ring)
    yield sum(x for x, _ in ring) / count, sum(y for _, y in ring) / count
    left, bottom = min(x for x, _ in ring), float(outline.bottom)
    wide, high = max(x for x, _ in ring) - left, float(outline.top) - bottom
    for up in (0.5, 0.65, 0.72, 0.75, 0.35, 0.28):
        for along in (0.5, 0.35, 0.65, 0.2, 0.8, 0.23, 0.77):
            yield left + along * wide, bottom + up * high
    for up, along in product(FINE, FINE):
        yield left + along * wide, bottom + up * high


def _near(lines: Sequence[Line], ring: list[Point]) -> Iterator[Line]:
    """Yield the lines whose boxes meet an outline's."""
    xs, ys = zip(*ring, strict=True)
    left, right, low, high = min(xs), max(xs), min(ys), max(ys)
    for (a, b), (c, d) in lines:
        beside = max(a, c) <= left or min(a, c) >= right
        if not (beside or max(b, d) <= low or min(b, d) >= high):
            yield (a, b), (c, d)


def _is_clear(box: list[Point], lines: list[Line]) -> bool:
    """Whether no line crosses a box or lies within it."""
    sides = list(zip(box, [*box[1:], box[0]], strict=True))
    if any(_crosses(side, line) for side in sides for line in lines):
        return False
    return not any(is_inside(begin, box) for begin, _ in lines)


def _crosses(one: Line, other: Line) -> bool:
    (a, b), (c, d) = one, other
    return _side_of(a, b, c) != _side_of(a, b, d) and (
        _side_of(c, d, a) != _side_of(c, d, b)
    )


def _side_of(a: Point, b: Point, spot: Point) -> bool:
    return (b[0] - a[0]) * (spot[1] - a[1]) > (b[1] - a[1]) * (spot[0] - a[0])


def is_inside(spot: Point, ring: list[Point]) -> bool:
    """Whether a point is inside an outline: a line from it crosses the sides oddly."""
    x, y = spot
    return (
        sum(
            (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1)
            for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True)
        )
        % 2
        == 1
    )
