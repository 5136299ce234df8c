"""The forms of a hearth of brick: where it lies, what it is laid of, what came out.

In:  nothing.   Out: `HearthGround`, `Riser`, `BrickHearth` and what they hold.
Frame: the hearth's plan: x from its finished left end, y from its finished front edge
back. A riser has the frame of the faces: x along it, y up from the floor.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.panels.form import Panel
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import Layout, Outline

Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, front, right and back of a rectangle in plan."""


@dataclass(frozen=True)
class HearthGround:
    """Where a hearth of brick lies.

    Attributes:
        width: from end to end, finished.
        from_front: where the left end of the finished front lies, from the hearth's.
        face: y of the finished face of the brick above.
        wall: y of the wall as found.
        firebox: y of the line where the firebox begins; None where it was not given.
        opening: x of the opening's jambs as found.
        main: the rectangle that brick is laid in before the wall.
        between: the one between the jambs, up to the firebox; None where there is none.
        edge: what a riser's brick and its joint take of the top, on three sides.
        build_out: of a riser: its brick and the mean bed; 0 where there is none.
        thickness: of the brick.
        bed: under it.
    """

    width: Fraction
    from_front: Fraction
    face: Fraction
    wall: Fraction
    firebox: Fraction | None
    opening: tuple[Fraction, Fraction]
    main: Box
    between: Box | None
    edge: Fraction
    build_out: Fraction
    thickness: Fraction
    bed: Fraction

    @property
    def drop(self) -> Fraction:
        """How far what it is laid on lies below the datum."""
        return self.thickness + self.bed

    @property
    def back(self) -> Fraction:
        """How far back brick is laid anywhere."""
        return self.main[3] if self.between is None else self.between[3]


@dataclass(frozen=True)
class Field:
    """A rectangle of the hearth that is filled with a pattern."""

    box: Box
    panel: Panel


@dataclass(frozen=True)
class LeftOut:
    """A place too narrow for a piece, which mortar takes.

    Attributes:
        outline: where it is.
        width: the least distance between two parallel lines that hold it.
    """

    outline: Outline
    width: Fraction


@dataclass(frozen=True)
class Riser:
    """The riser, solved as a small surround without an opening.

    Attributes:
        job: what is asked of it.
        surround: its faces; there they are called left, front and right.
        coursing: from the floor up to the hearth's top.
        layout: its pieces, on the faces as they are called there.
        height: how high it is to be.
        has_nosing: whether its last course is rowlocks.
    """

    job: Job
    surround: Surround
    coursing: Coursing
    layout: Layout
    height: Fraction
    has_nosing: bool


RISER_FACES: dict[str, FaceName] = {
    "left": "left riser",
    "front": "riser",
    "right": "right riser",
}
"""What the faces of a riser are called outside of it."""


@dataclass(frozen=True)
class BrickHearth:
    """A hearth of brick, laid.

    Attributes:
        ground: where it lies.
        joint: between the pieces of its field.
        fields: what is filled with a pattern.
        left_out: places that mortar takes.
        layout: the pieces of the hearth and of its riser.
        riser: None where the hearth is not raised.
    """

    ground: HearthGround
    joint: Fraction
    fields: tuple[Field, ...]
    left_out: tuple[LeftOut, ...]
    layout: Layout
    riser: Riser | None
