"""What the job file says of the face, and of the faces that turn back from it.

In:  the table `[face]`.   Out: a table.
Frame: the job's lengths, as the person measured; angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Annotated, Literal

from pydantic import Field

from shopdraw.job.table import Table
from shopdraw.job.turning import SQUARE, angle_of
from shopdraw.job.values import Size

Meets = Literal["underside", "top"]
Side = Literal["left", "right"]
SIDES: tuple[Side, ...] = ("left", "right")
ReturnSplay = Annotated[float, Field(ge=-30, le=60)] | None
ChamferSplay = Annotated[float, Field(ge=20, le=70)] | None


@dataclass(frozen=True)
class FaceBeside:
    """A face that turns back from the front, or from a chamfer.

    Attributes:
        key: of `[face]`, that says how long it is; its other keys begin like it.
        name: what it is called in a sentence.
        along: how long it is, along itself.
        splay: by how many degrees it is out of square to the front.
    """

    key: str
    name: str
    along: Fraction
    splay: Fraction

    @property
    def turn(self) -> Fraction:
        """By how many degrees it is turned away from the front."""
        return SQUARE - self.splay


class FaceTable(Table):
    """`[face]`: the face that the brick will cover.

    Attributes:
        left_return, right_return: how long a return is, from its outside corner along
            itself back to the wall.
        left_return_depth, right_return_depth: how far back that is, square to the
            front.
        left_return_splay, right_return_splay: by how many degrees a return is out of
            square to the front; less than nothing where the breast is narrower at the
            wall.
        left_chamfer, right_chamfer, ...: the same of the narrow face between front and
            return.
        left_alcove, right_alcove: how much of the alcove's back wall is faced, from the
            inside corner where the return meets it.
    """

    measured_to: Literal["substrate", "finish"]
    width: Size
    height: Size
    top_meets: Meets = "top"
    left_return: Size | None = None
    right_return: Size | None = None
    left_return_depth: Size | None = None
    left_return_splay: ReturnSplay = None
    right_return_depth: Size | None = None
    right_return_splay: ReturnSplay = None
    left_chamfer: Size | None = None
    left_chamfer_depth: Size | None = None
    left_chamfer_splay: ChamferSplay = None
    right_chamfer: Size | None = None
    right_chamfer_depth: Size | None = None
    right_chamfer_splay: ChamferSplay = None
    left_alcove: Size | None = None
    right_alcove: Size | None = None

    def alcove(self, side: Side) -> Fraction | None:
        """Return how much of the alcove's back wall is faced on a side."""
        return self.left_alcove if side == "left" else self.right_alcove

    def beside(self, side: Side) -> tuple[FaceBeside, ...]:
        """Return the faces that turn back on a side, from the front on."""
        if getattr(self, f"{side}_return") is None:
            return ()
        return tuple(
            FaceBeside(key, name, along, angle_of(getattr(self, f"{key}_splay")))
            for name in ("chamfer", "return")
            for key in (f"{side}_{name}",)
            for along in (getattr(self, key),)
            if along is not None
        )

    def turns(self, side: Side) -> tuple[Fraction, ...]:
        """Return by how much the brick turns at each corner of a side, front first."""
        headings = (Fraction(0), *(face.turn for face in self.beside(side)))
        return tuple(after - before for before, after in pairwise(headings))

    @property
    def is_square(self) -> bool:
        """Whether every outside corner is square."""
        return all(turn == SQUARE for side in SIDES for turn in self.turns(side))
