"""What the picture shows of brick, for its tests: each in its colour, in its place."""

from __future__ import annotations

from shopdraw.drawing.ink import Paint, Point
from shopdraw.drawing.sheets import Sheet
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import seen_from_front
from shopdraw.views.picture.appearance import IN_SHADE
from shopdraw.views.picture.brickwork import shaded, tone_of

Ring = tuple[Point, ...]


def painted(picture: Sheet) -> list[Paint]:
    ink = picture.drawings[0].drawing.ink
    return [each for each in ink if isinstance(each, Paint)]


def box(ring: Ring) -> tuple[float, float, float, float]:
    xs, ys = zip(*ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def bricks_seen(solution: Solution) -> list[tuple[str, Ring, str]]:
    """Return every brick that the picture shows upright: ID, outline, colour."""
    left = solution.surround.front.left
    found = [
        (
            piece.id,
            tuple((float(x - left), float(y)) for x, y in outline.points),
            tone_of(solution.job, piece.id),
        )
        for piece in solution.layout.pieces
        for outline in piece.outlines
        if outline.face == "front" and piece.kind != "keystone"
    ]
    return found + [
        (piece.id, ring, shaded(tone_of(solution.job, piece.id), IN_SHADE))
        for piece, _, ring in seen_from_front(solution)
    ]


def not_shown(paints: list[Paint], solution: Solution) -> list[str]:
    """Return the brick that have no face where they lie, in their colour.

    A face is worn by a tenth of an inch at the most and reaches past its outline
    nowhere; what is painted on it later is not looked at.
    """
    inch = 1.0 if solution.lengths == "in" else 25.4
    by_colour: dict[str, list[tuple[float, float, float, float]]] = {}
    for paint in paints:
        by_colour.setdefault(paint.colour, []).append(box(paint.points))
    missing = []
    for name, ring, colour in bricks_seen(solution):
        wanted = box(ring)
        least = min(wanted[2] - wanted[0], wanted[3] - wanted[1])
        within = min(0.35 * inch, 0.2 * least + 0.15 * inch)
        if not any(
            all(abs(a - b) <= within for a, b in zip(wanted, got, strict=True))
            and got[0] >= wanted[0] - 1e-6
            and got[2] <= wanted[2] + 1e-6
            for got in by_colour.get(colour, ())
        ):
            missing.append(name)
    return missing
