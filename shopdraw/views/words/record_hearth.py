"""The form of the record of a hearth laid in brick.

In:  nothing.   Out: `HearthRecord` and what it holds.
Frame: the job's lengths; x from the hearth's finished left end, y from its finished
front edge back.
"""

from __future__ import annotations

from typing_extensions import TypedDict

from shopdraw.job.model_hearth import HearthPattern
from shopdraw.views.words.record_wall import OutlineRecord, PieceRecord, Point


class HearthFieldRecord(TypedDict):
    """A rectangle of the hearth that is filled with a pattern."""

    pattern: HearthPattern
    """How it is laid."""
    outline: list[Point]
    """Its corners [x, y], anticlockwise from the front left one."""
    phase: Point
    """How far the middle of the pattern lies from the middle of the rectangle."""
    is_symmetric: bool
    """Whether it is the same on either side of its middle, or after a half turn."""
    narrowest: float
    """The least distance between two parallel lines that hold its narrowest piece."""


class RiserRecord(TypedDict):
    """The riser of a raised hearth: a small wall of its own, from the floor up."""

    height: float
    """How high the finished hearth is to stand above the floor."""
    top: float
    """How high the riser's courses come."""
    bed_joints: list[float]
    """The joint below each course, from the bottom up."""
    tops: list[float]
    """The top of each course above the floor."""
    has_nosing: bool
    """Whether its last course is rowlocks."""


class HearthRecord(TypedDict):
    """A hearth laid in brick, seen from above."""

    width: float
    """From its finished left end to its right one."""
    face: float
    """The y of the finished face that stands on it."""
    wall: float
    """The y of the wall as found."""
    firebox: float | None
    """The y of the line where the firebox begins; null where it was not given."""
    back: float
    """The y at which its brick ends."""
    joint: float
    """The joint between the pieces of its pattern."""
    thickness: float
    """How thick its brick is."""
    bed: float
    """How thick the bed under its brick is."""
    fields: list[HearthFieldRecord]
    """What is filled with a pattern: the field, then the strip between the jambs."""
    left_out: list[OutlineRecord]
    """Places at the pattern's edge too narrow for a piece: mortar takes them."""
    riser: RiserRecord | None
    """Null where the hearth is not raised."""
    pieces: list[PieceRecord]
    """Every piece of the hearth and of its riser. Those of the riser lie on faces of
    their own: x along them from the back of the left end, y up from the floor."""
    reasons: list[str]
    """What was decided and why, a sentence each."""
