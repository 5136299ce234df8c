"""Lay a pattern over a rectangle at one phase, and cut it at the edge.

In:  `Pattern`, the rectangle, the phase.   Out: `PanelPiece`s; how narrow they get.
Frame: the panel's: x from its left edge, y up from its lower edge.

Phases are tried in floating point. The one that is laid is exact, but for a pattern
that is turned by 45 degrees: its points lie on a grid of one part in 65,536.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import ceil, floor, sqrt
from typing import Any

from shopdraw.masonry.panels.cutting import (
    SAME,
    Vertex,
    cut_to,
)
from shopdraw.masonry.panels.form import (
    Asked,
    PanelBrick,
    PanelPiece,
    Point,
    Ring,
)
from shopdraw.masonry.panels.patterns import Pattern
from shopdraw.masonry.sawing.shapes import Shortfall, width_of
from shopdraw.masonry.wall.layout import Outline

PARTS = 65_536
"""Points of a turned pattern lie on a grid of one part in so many."""
RIGHT_ANGLE_DEG = 90
LAST = 1000.0
"""So much is taken off the width of a phase that is laid only where there is no other.
"""
Size = tuple[Fraction, Fraction]
Spot = tuple[float, float]


@dataclass(frozen=True)
class PlacedBrick:
    """One brick of a pattern, not cut: its lower left corner in the pattern."""

    at: Point
    is_across: bool

    def corners(self, brick: PanelBrick) -> Ring:
        """Return its corners in the pattern, from its left foot as it lies."""
        (x, y), long, wide = self.at, brick.length, brick.width
        if self.is_across:
            return ((x + wide, y), (x + wide, y + long), (x, y + long), (x, y))
        return ((x, y), (x + long, y), (x + long, y + wide), (x, y + wide))


def bricks_over(pattern: Pattern, reach: float) -> Iterator[PlacedBrick]:
    """Yield every brick of a pattern that may come within reach of its first middle."""
    (ax, ay), (bx, by) = pattern.steps
    cross = float(ax * by - ay * bx)
    mx, my = (float(x) for x in pattern.middles[0])
    for brick in pattern.cell:
        x, y = float(brick.at[0]) - mx, float(brick.at[1]) - my
        # How many of each step lead from the brick to a corner of the reach.
        ends = [
            (
                (dx * float(by) - dy * float(bx)) / cross,
                (float(ax) * dy - float(ay) * dx) / cross,
            )
            for dx, dy in product((-reach - x, reach - x), (-reach - y, reach - y))
        ]
        first = [floor(min(end[i] for end in ends)) for i in (0, 1)]
        last = [ceil(max(end[i] for end in ends)) for i in (0, 1)]
        for i, j in product(range(first[0], last[0] + 1), range(first[1], last[1] + 1)):
            at = (brick.at[0] + i * ax + j * bx, brick.at[1] + i * ay + j * by)
            if max(abs(float(at[0]) - mx), abs(float(at[1]) - my)) <= reach:
                yield PlacedBrick(at, brick.is_across)


@dataclass(frozen=True)
class PatternOver:
    """A pattern over a rectangle, at no phase yet.

    Attributes:
        bricks: every brick that may be met at any phase.
        rings: the same in floating point on the panel, with the pattern's first middle
            on the panel's.
        boxes: left, bottom, right and top of each.
    """

    pattern: Pattern
    brick: PanelBrick
    size: Size
    bricks: tuple[PlacedBrick, ...]
    rings: tuple[tuple[Spot, ...], ...]
    boxes: tuple[tuple[float, float, float, float], ...]

    def narrowest(self, phase: Spot, enough: float) -> float:
        """Return how narrow the narrowest piece is at a phase.

        Args:
            phase: how far the pattern's middle lies from the rectangle's.
            enough: once a piece is narrower than this the rest is not looked at.

        Returns:
            The width; less than nothing where a joint of the pattern lies along the
            edge and makes the joint there too wide, or where the edge takes less off a
            brick than a saw can: such phases come last.
        """
        dx, dy = phase
        wide, high = float(self.size[0]), float(self.size[1])
        least, last = float(self.brick.width), 0.0
        for ring, box in zip(self.rings, self.boxes, strict=True):
            room = box[0] + dx, box[1] + dy, wide - box[2] - dx, high - box[3] - dy
            if room[0] >= wide - SAME or room[2] >= wide - SAME:
                continue
            if room[1] >= high - SAME or room[3] >= high - SAME:
                continue
            if not self.pattern.turned_deg and any(map(self._gapes, room)):
                last = LAST
            if min(room) >= -SAME:
                continue
            if min(room) > -self.nip:
                last = LAST
            corners = [Vertex(x + dx, y + dy) for x, y in ring]
            left_over = cut_to(corners, wide, high, SAME)
            width = width_of(tuple((c.x, c.y) for c in left_over)) if left_over else 0.0
            # What only touches the edge is no piece.
            if SAME < width < least:
                least = width
            if least - last < enough:
                break
        return least - last

    @property
    def nip(self) -> float:
        """What is less than a saw takes off a brick: as much as its joint may give."""
        return float(self.brick.joint - self.brick.joint_least)

    def sawn(self, phase: Spot) -> int:
        """Return how many pieces are sawn at a phase."""
        wide, high = float(self.size[0]), float(self.size[1])
        count = 0
        for left, bottom, right, top in self.boxes:
            room = (
                left + phase[0],
                bottom + phase[1],
                wide - right - phase[0],
                high - top - phase[1],
            )
            is_met = max(room[0], room[2]) < wide and max(room[1], room[3]) < high
            count += is_met and min(room) < -SAME
        return count

    def _gapes(self, room: float) -> bool:
        """Whether a brick ends so near the edge that only a joint comes after it.

        With the joint along the edge that is too wide a joint, unless it is in range.
        """
        brick = self.brick
        spare = float(brick.joint_most - brick.edge_joint)
        return spare + SAME < room <= float(self.pattern.widest_joint) + SAME


def lay_over(pattern: Pattern, brick: PanelBrick, size: Size) -> PatternOver:
    """Return a pattern over a rectangle, ready to be tried at any phase."""
    wide, high = float(size[0]), float(size[1])
    # As far as any phase may move a brick, and some more for those between.
    most = sum(far for _, far in pattern.spread) / 2 + float(brick.length)
    reach = (wide + high) / 2 + 2 * most
    bricks, rings, boxes = [], [], []
    for laid in bricks_over(pattern, reach):
        ring = tuple(
            _on_panel(pattern, size, (float(x), float(y)))
            for x, y in laid.corners(brick)
        )
        box = (
            min(x for x, _ in ring),
            min(y for _, y in ring),
            max(x for x, _ in ring),
            max(y for _, y in ring),
        )
        if box[2] < -most or box[0] > wide + most:
            continue
        if box[3] < -most or box[1] > high + most:
            continue
        bricks.append(laid)
        rings.append(ring)
        boxes.append(box)
    return PatternOver(pattern, brick, size, tuple(bricks), tuple(rings), tuple(boxes))


def _on_panel(pattern: Pattern, size: Size, spot: Spot) -> Spot:
    """Return where a point of the pattern lies on the panel, at no phase."""
    mx, my = (float(x) for x in pattern.middles[0])
    x, y = spot[0] - mx, spot[1] - my
    if pattern.turned_deg:
        x, y = (x + y) / sqrt(2), (y - x) / sqrt(2)
    return x + float(size[0]) / 2, y + float(size[1]) / 2


def cut_pieces(
    ground: PatternOver, phase: Point, asked: Asked
) -> tuple[tuple[PanelPiece, ...], tuple[PanelPiece, ...]]:
    """Return the pieces at a phase, and the places that are too narrow for one."""
    pieces: list[PanelPiece] = []
    left_out: list[PanelPiece] = []
    for laid in ground.bricks:
        piece = (
            _cut_turned(ground, laid, phase, asked)
            if ground.pattern.turned_deg
            else _cut_exactly(ground, laid, phase, asked)
        )
        if piece is None:
            continue
        is_out = piece.cuts and piece.width < float(asked.left_out) - SAME
        (left_out if is_out else pieces).append(piece)
    return tuple(pieces), tuple(left_out)


def _cut_exactly(
    ground: PatternOver, laid: PlacedBrick, phase: Point, asked: Asked
) -> PanelPiece | None:
    """Cut a brick that lies along or across; None where it is beyond the edge."""
    (mx, my), (wide, high) = ground.pattern.middles[0], ground.size
    dx, dy = wide / 2 - mx + phase[0], high / 2 - my + phase[1]
    ring = [Vertex(x + dx, y + dy) for x, y in laid.corners(ground.brick)]
    start = ring[0]
    kept = cut_to(ring, wide, high, Fraction(0))
    if not kept:
        return None
    # As it lies: a brick that lies across is turned back by a right angle.
    lain = tuple(
        (c.y - start.y, start.x - c.x)
        if laid.is_across
        else (c.x - start.x, c.y - start.y)
        for c in kept
    )
    points = tuple((c.x, c.y) for c in kept)
    return _piece(points, kept, lain, laid.is_across * RIGHT_ANGLE_DEG, asked)


def _cut_turned(
    ground: PatternOver, laid: PlacedBrick, phase: Point, asked: Asked
) -> PanelPiece | None:
    """Cut a brick that lies at 45 degrees, its points on the grid."""
    brick, (wide, high) = ground.brick, ground.size
    dx, dy = float(phase[0]), float(phase[1])
    ring = [
        Vertex(x + dx, y + dy)
        for x, y in (
            _on_panel(ground.pattern, ground.size, (float(x), float(y)))
            for x, y in laid.corners(brick)
        )
    ]
    kept = cut_to(ring, float(wide), float(high), SAME)
    if not kept:
        return None
    # Along the brick, and up it, as it lies.
    share = 1 / sqrt(2)
    along = (share, share) if laid.is_across else (share, -share)
    start = ring[0]
    lain = tuple(
        (
            _on_grid(
                (c.x - start.x) * along[0] + (c.y - start.y) * along[1], brick.length
            ),
            _on_grid(
                (c.y - start.y) * along[0] - (c.x - start.x) * along[1], brick.width
            ),
        )
        for c in kept
    )
    points = tuple((_on_grid(c.x, wide), _on_grid(c.y, high)) for c in kept)
    turned = ground.pattern.turned_deg * (1 if laid.is_across else -1)
    return _piece(points, kept, lain, turned, asked)


def _on_grid(at: float, end: Fraction) -> Fraction:
    """Return the nearest point of the grid; an end that it lies on is kept exactly."""
    for edge in (Fraction(0), end):
        if abs(at - float(edge)) < 1 / (2 * PARTS):
            return edge
    return Fraction(round(at * PARTS), PARTS)


def _piece(
    points: Ring,
    kept: Sequence[Vertex[Any]],
    lain: Ring,
    turned_deg: int,
    asked: Asked,
) -> PanelPiece | None:
    width = width_of(tuple((float(x), float(y)) for x, y in points))
    if width <= 2 / PARTS:
        return None
    cuts = tuple(place for place, corner in enumerate(kept) if corner.is_sawn)
    short: tuple[Shortfall, ...] = ()
    if cuts:
        limits = asked.limits
        shape = Outline("panel", points)
        short = tuple(limits.shortfalls(shape, limits.length, limits.brick[1]))
    return PanelPiece(points, cuts, lain, turned_deg, width, short)
