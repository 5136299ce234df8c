"""A panel filled by brute force, written apart from the program: shapely and floats.

Brick are set one by one where the trade's description of each pattern puts them, far
past the panel on all sides, and cut with a polygon library. Nothing of the program is
used but the names of the patterns.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from math import hypot

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry


@dataclass(frozen=True)
class Brick:
    """A brick's face and its joint."""

    length: float
    width: float
    joint: float


Box = tuple[float, float, float, float]


def box(x: float, y: float, wide: float, high: float) -> Box:
    return (x, y, x + wide, y + high)


def rows(brick: Brick, far: float, shift: float) -> Iterator[Box]:
    """Rows about the middle of a brick at the origin, each shifted on from the last."""
    along, up = brick.length + brick.joint, brick.width + brick.joint
    count, deep = int(far / along) + 2, int(far / up) + 2
    for row in range(-deep, deep + 1):
        for place in range(-count, count + 1):
            x = place * along + (row % 2) * shift - brick.length / 2
            yield box(x, row * up - brick.width / 2, brick.length, brick.width)


def herringbone(brick: Brick, far: float) -> Iterator[Box]:
    """Stairs of lying brick and stairs of standing ones, by turns.

    A stair goes up a brick's width at each step. A standing brick's head is flush with
    the top of the lying one whose end it meets; the next stair begins at its foot.
    """
    long, wide = brick.length + brick.joint, brick.width + brick.joint
    count = int(2 * far / wide) + 4
    stairs = int(2 * far / long) + 4
    for stair in range(-stairs, stairs + 1):
        # From one stair of lying brick to the next: past the end, and down.
        x0, y0 = stair * (long + wide), stair * (wide - long)
        for step in range(-count, count + 1):
            x, y = x0 + step * wide, y0 + step * wide
            yield box(x, y, brick.length, brick.width)
            yield box(x + long, y + wide - long, brick.width, brick.length)


def basket(brick: Brick, far: float) -> Iterator[Box]:
    """Squares of brick side by side, along and across like a chessboard."""
    side = brick.length + brick.joint
    count = round(side / (brick.width + brick.joint))
    gap = (brick.length - count * brick.width) / (count - 1)
    reach = int(far / side) + 2
    for i in range(-reach, reach + 1):
        for j in range(-reach, reach + 1):
            x, y = i * side - brick.length / 2, j * side - brick.length / 2
            for k in range(count):
                at = k * (brick.width + gap)
                if (i + j) % 2:
                    yield box(x + at, y, brick.width, brick.length)
                else:
                    yield box(x, y + at, brick.length, brick.width)


def every_brick(pattern: str, brick: Brick, far: float) -> list[Box]:
    """Return the brick about the middle of the pattern at the origin."""
    if pattern == "running":
        return list(rows(brick, far, (brick.length + brick.joint) / 2))
    if pattern == "stack":
        return list(rows(brick, far, 0.0))
    if pattern == "soldier":
        # A stack turned on its side.
        return [(b, a, d, c) for a, b, c, d in rows(brick, far, 0.0)]
    if pattern == "basket weave":
        return list(basket(brick, far))
    dx, dy = brick.length / 2, brick.width / 2
    every = herringbone(brick, 1.5 * far)
    return [(a - dx, b - dy, c - dx, d - dy) for a, b, c, d in every]


@cache
def near(pattern: str, brick: Brick, far: float) -> tuple[BaseGeometry, ...]:
    """Return every brick that is no further than `far` from the middle."""
    made = [
        shapely.box(*each)
        for each in every_brick(pattern, brick, far)
        if max(map(abs, each)) < 2 * far
    ]
    if pattern == "herringbone 45":
        made = [affinity.rotate(x, -45, origin=(0, 0)) for x in made]
    return tuple(made)


def laid(
    pattern: str,
    brick: Brick,
    size: tuple[float, float],
    phase: tuple[float, float],
) -> list[BaseGeometry]:
    """Return the pieces of a panel with the pattern's middle at a phase."""
    wide, high = size
    dx, dy = wide / 2 + phase[0], high / 2 + phase[1]
    panel = shapely.box(-dx, -dy, wide - dx, high - dy)
    far = max(wide, high) + 4 * brick.length
    pieces = shapely.intersection(near(pattern, brick, far), panel)
    return [affinity.translate(piece, dx, dy) for piece in pieces if piece.area > 1e-6]


def narrowest(piece: BaseGeometry) -> float:
    """Return the least width of a convex piece: tried square to each of its sides."""
    points = list(piece.exterior.coords)[:-1]
    widths = []
    for (ax, ay), (bx, by) in zip(points, [*points[1:], points[0]], strict=True):
        length = hypot(bx - ax, by - ay)
        if length < 1e-9:
            continue
        nx, ny = (by - ay) / length, (ax - bx) / length
        along = [nx * x + ny * y for x, y in points]
        widths.append(max(along) - min(along))
    return min(widths)


def edge_gap(
    pieces: list[BaseGeometry], size: tuple[float, float], joint: float
) -> float:
    """Return the widest strip along an edge that no brick reaches, up to a joint."""
    wide, high = size
    widest = 0.0
    for piece in pieces:
        left, low, right, top = piece.bounds
        for room in (left, low, wide - right, high - top):
            if room <= joint + 1e-9:
                widest = max(widest, room)
    return widest
