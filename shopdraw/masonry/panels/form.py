"""The forms of a panel: what fills it, what its pieces must be, what came out.

In:  `ShapeLimits`.   Out: `PanelBrick`, `Asked`, `Panel` and what it holds.
Frame: the panel's own: x from its left edge, y up from its lower edge; a piece also as
it lies on the brick that it is sawn from, x along the brick.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.masonry.sawing.shapes import ShapeLimits, Shortfall

Point = tuple[Fraction, Fraction]
Ring = tuple[Point, ...]
PatternName = Literal[
    "running", "stack", "soldier", "herringbone 90", "herringbone 45", "basket weave"
]


class NotFilled(ValueError):
    """A rectangle can't be filled with this pattern; its text says why."""


@dataclass(frozen=True)
class PanelBrick:
    """The brick that a panel is laid of, as its face shows, and the joint all round.

    Attributes:
        length, width: of the face.
        joint: between pieces.
        joint_least, joint_most: what a joint may be: within a square of basket weave,
            and along the panel's edge.
        edge_joint: what lies along the panel's edge, outside of it.
    """

    length: Fraction
    width: Fraction
    joint: Fraction
    joint_least: Fraction
    joint_most: Fraction
    edge_joint: Fraction


@dataclass(frozen=True)
class Asked:
    """What is asked of the pieces, and how finely phases are tried.

    Attributes:
        limits: what a sawn piece must be, as everywhere on the face.
        left_out: a piece narrower than this is not laid: mortar takes its place.
        grid: phases are tried so far apart, then closer round the best.
    """

    limits: ShapeLimits
    left_out: Fraction
    grid: Fraction


@dataclass(frozen=True)
class PanelPiece:
    """One piece of a panel.

    Attributes:
        ring: where it lies, anticlockwise.
        cuts: which sides of `ring` are sawn: side i goes from point i to the next.
        lain: the same piece as it lies on its brick; the same points in the same order.
        turned_deg: how far it is turned from lying along x, anticlockwise.
        width: how wide it is where it is narrowest, in floating point.
        short: what it falls short of; empty where nothing is amiss.
    """

    ring: Ring
    cuts: tuple[int, ...]
    lain: Ring
    turned_deg: int
    width: float
    short: tuple[Shortfall, ...]

    @property
    def is_whole(self) -> bool:
        """Whether nothing is sawn off it."""
        return not self.cuts


@dataclass(frozen=True)
class Panel:
    """A rectangle filled with a pattern.

    Attributes:
        pattern: its name.
        width, height: of the rectangle.
        brick: what it is laid of.
        pieces: in no order that means anything.
        left_out: places too narrow for a piece, which mortar takes.
        phase: where the middle of the pattern lies, from the middle of the rectangle.
        is_symmetric: whether a half turn, or the middle line, leaves it as it is.
        phases_tried: how many phases it was chosen from.
    """

    pattern: PatternName
    width: Fraction
    height: Fraction
    brick: PanelBrick
    pieces: tuple[PanelPiece, ...]
    left_out: tuple[PanelPiece, ...]
    phase: Point
    is_symmetric: bool
    phases_tried: int

    @property
    def narrowest(self) -> float:
        """The narrowest width of any piece, those left out among them."""
        return min(x.width for x in (*self.pieces, *self.left_out))

    @property
    def short(self) -> tuple[PanelPiece, ...]:
        """The pieces that fall short of what is asked."""
        return tuple(piece for piece in self.pieces if piece.short)
