"""The patterns as data: the brick of one cell, and the two steps that repeat it.

In:  `PatternName`, `PanelBrick`.   Out: `Pattern`.
Frame: the pattern's own, which may be turned by 45 degrees on the panel. A brick lies
at the lower left of its place, with a joint to its right and above it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from shopdraw.masonry.panels.form import (
    NotFilled,
    PanelBrick,
    PatternName,
    Point,
)

NONE = Fraction(0)
HALF_TURN_DEG = 45
"""A diagonal herringbone is turned by so much, clockwise."""


@dataclass(frozen=True)
class CellBrick:
    """One brick of a cell: its lower left corner, and whether it lies across."""

    at: Point
    is_across: bool = False


@dataclass(frozen=True)
class Pattern:
    """A pattern.

    Attributes:
        cell: the brick that are repeated.
        steps: the two steps that the cell is repeated by.
        middles: the points about which the pattern is symmetric; any of them may lie on
            the middle of a panel. The first is where phases are counted from.
        turned_deg: how far it is turned on the panel, clockwise.
        widest_joint: between any two of its brick.
        spread: for two directions on the panel, how far phases have to be tried.
    """

    cell: tuple[CellBrick, ...]
    steps: tuple[Point, Point]
    middles: tuple[Point, ...]
    spread: tuple[tuple[Point, float], tuple[Point, float]]
    widest_joint: Fraction
    turned_deg: int = 0


X_AXIS, Y_AXIS = (Fraction(1), NONE), (NONE, Fraction(1))
DIAGONAL = (Fraction(1), Fraction(1))


def pattern_of(name: PatternName, brick: PanelBrick) -> Pattern:
    """Return a pattern laid in a brick.

    Raises:
        NotFilled: the brick's length and width do not go together in it.
    """
    if name in ("running", "stack"):
        return _rows(brick, shifted=name == "running")
    if name == "soldier":
        return _soldiers(brick)
    if name == "basket weave":
        return _basket(brick)
    return _herringbone(brick, turned_deg=HALF_TURN_DEG if "45" in name else 0)


def _rows(brick: PanelBrick, *, shifted: bool) -> Pattern:
    """Return rows of brick, each shifted by half a brick, or none."""
    along, up = brick.length + brick.joint, brick.width + brick.joint
    x, y = brick.length / 2, brick.width / 2
    return Pattern(
        cell=(CellBrick((NONE, NONE)),),
        steps=((along, NONE), (along / 2 if shifted else NONE, up)),
        # The middle line goes through a brick or a joint, of a row or between two.
        middles=tuple(
            (x + i * along / 2, y + j * up / 2) for j in (0, 1) for i in (0, 1)
        ),
        spread=((X_AXIS, float(along)), (Y_AXIS, float(up))),
        widest_joint=brick.joint,
    )


def _soldiers(brick: PanelBrick) -> Pattern:
    """Return rows of brick on end, each straight over the last: a stack turned."""
    along, up = brick.width + brick.joint, brick.length + brick.joint
    x, y = brick.width / 2, brick.length / 2
    return Pattern(
        cell=(CellBrick((NONE, NONE), is_across=True),),
        steps=((along, NONE), (NONE, up)),
        middles=tuple(
            (x + i * along / 2, y + j * up / 2) for j in (0, 1) for i in (0, 1)
        ),
        spread=((X_AXIS, float(along)), (Y_AXIS, float(up))),
        widest_joint=brick.joint,
    )


def _herringbone(brick: PanelBrick, *, turned_deg: int) -> Pattern:
    """Return herringbone: it closes whatever the brick's length is to its width."""
    long, wide = brick.length + brick.joint, brick.width + brick.joint
    x, y = brick.length / 2, brick.width / 2
    steps = (wide, wide), (long, -long)
    spread = (DIAGONAL, float(wide)), (Y_AXIS, 2 * float(long))
    if turned_deg:
        # Turned, the two steps lie along x and along y.
        spread = (X_AXIS, sqrt(2) * float(wide)), (Y_AXIS, sqrt(2) * float(long))
    return Pattern(
        cell=(CellBrick((NONE, NONE)), CellBrick((long, wide - long), is_across=True)),
        steps=steps,
        # A half turn about the middle of a brick, or half a step from it.
        middles=tuple(
            (x + i * wide / 2 + j * long / 2, y + i * wide / 2 - j * long / 2)
            for i in (0, 1)
            for j in (0, 1)
        ),
        spread=spread,
        widest_joint=brick.joint,
        turned_deg=turned_deg,
    )


def _basket(brick: PanelBrick) -> Pattern:
    """Return basket weave: squares of brick, along and across by turns."""
    count, joint = squares_of(brick)
    side, each = brick.length + brick.joint, brick.width + joint
    middle = brick.length / 2
    along = (CellBrick((NONE, k * each)) for k in range(count))
    across = (CellBrick((side + k * each, NONE), is_across=True) for k in range(count))
    return Pattern(
        cell=(*along, *across),
        steps=((side, side), (side, -side)),
        middles=((middle, middle), (middle + side, middle)),
        spread=((X_AXIS, float(side)), (Y_AXIS, 2 * float(side))),
        widest_joint=max(joint, brick.joint),
    )


def squares_of(brick: PanelBrick) -> tuple[int, Fraction]:
    """Return how many brick make a square of basket weave, and the joint between them.

    Raises:
        NotFilled: no number of brick makes a square with a joint in range.
    """
    ways = []
    count = 2
    while count * brick.width < brick.length:
        joint = (brick.length - count * brick.width) / (count - 1)
        if brick.joint_least <= joint <= brick.joint_most:
            ways.append((abs(joint - brick.joint), count, joint))
        count += 1
    if not ways:
        message = (
            "no number of brick side by side, with joints as they may be, is as wide "
            "as a brick is long, so basket weave has no squares"
        )
        raise NotFilled(message)
    _, count, joint = min(ways)
    return count, joint
