"""The form of the record of what is laid: the wall's faces, a hearth, every piece.

In:  nothing.   Out: `LayoutRecord`, `StopRecord`, `HearthRecord`, and what they hold.
Frame: the job's lengths; on the wall x along the faces from the left end, y up from the
datum; on a hearth x from its finished left end, y from its finished front edge back.
"""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from shopdraw.job.model_hearth import HearthPattern
from shopdraw.job.model_panel import FaceBorder, FacePattern
from shopdraw.masonry.wall.form import FaceName
from shopdraw.masonry.wall.layout import PieceKind, StopKind

Point = tuple[float, float]


class FaceRecord(TypedDict):
    """One face of the surround, unfolded."""

    name: FaceName
    """The front; "left" or "right", where the brick turns back to the wall; a chamfer,
    between it and the front; an alcove, on the wall that a return goes back to; a
    reveal, where it turns into the opening."""
    outline: list[Point]
    """Its corners [x, y]: lower left, lower right, upper right, upper left. Brick that
    runs past an inside corner goes on beyond them."""
    area: float
    """Its area without the opening, in square inches or square millimetres."""
    folds: list[float]
    """The x of each of its ends that is an outside corner of the brick."""
    turn_deg: float
    """By how many degrees it is turned away from the front: 0 for the front itself, 90
    where it goes straight back. A corner turns by the difference of its two faces."""


class OpeningRecord(TypedDict):
    """The opening as the new brick leaves it."""

    left: float
    """The x at which the brick left of it stops."""
    right: float
    """The x at which the brick right of it stops."""
    bottom: int
    """The level that it starts at: the datum, 0."""
    top: float
    """The level of the underside of the brick over it; under an arch, the level that
    the arch springs from."""
    outline: list[Point]
    """Its corners [x, y], the lower left first, then the lower right."""


class AsFoundRecord(TypedDict):
    """What was measured at the fireplace, before any brick is laid."""

    hearth: list[Point]
    """Points [x, y] on the finished hearth along the faces, from left to right."""
    opening: list[Point]
    """The corners [x, y] of the opening, the lower left first, then the lower right."""
    ends: list[list[Point]]
    """The left and the right end of the unfolded faces, each from its foot [x, y] to
    its top."""


class ArchRecord(TypedDict):
    """The arch over the opening."""

    kind: Literal["jack arch", "segmental arch", "semicircular arch"]
    """A jack arch is straight or nearly so, a segmental arch is a part of a circle, and
    a semicircular arch is half of one."""
    span: float
    """How wide it is between the two ends of its underside."""
    spring: float
    """The level of the two ends of its underside, from which it springs."""
    rise: float
    """How far the highest point of its underside is above those ends."""
    depth: float
    """How high its brick is at the middle, from the underside to the back; of a jack
    arch, from its two ends to the back."""
    radius: float
    """The radius of the underside; 0 where it is straight."""
    skewback_deg: float
    """By how many degrees the slope that each of its ends leans on is out of plumb."""
    centre: Point
    """The point [x, y] that every joint points to."""
    are_whole: bool
    """Whether its bricks are whole and the joints between them taper; if not, the
    bricks are sawn to taper."""
    counts: list[int]
    """How many bricks each ring has, the lowest ring first; a keystone counts as one of
    each ring that it goes through."""
    has_keystone: bool
    """Whether a keystone made to size stands on the centre line."""
    over: float
    """How wide the joint over its back is."""
    strip: float | None
    """How much is left, over the middle, of the course that its back ends in; null
    where that course is not cut."""
    joints: list[tuple[float, float]]
    """How wide each joint is, [at the underside, at the back], from left to right, ring
    by ring; the first and the last of a ring are at its ends."""


class OutlineRecord(TypedDict):
    """The outline of a piece on one face."""

    face: FaceName
    """The face that it lies on."""
    points: list[Point]
    """Its corners [x, y], anticlockwise from the lower left one."""


class PieceRecord(TypedDict):
    """One piece of brick on the wall."""

    id: str
    """Its own name, which no other piece has: face, course, place in the course, as
    "F-07-03"."""
    mark: str
    """The mark that it shares with all pieces like it."""
    kind: PieceKind
    """What kind of unit it is, or is sawn from. A stretcher lies along the wall; a
    header shows its end; a closer fills the course out beside a header; a soldier
    stands on end and shows its long side, a rowlock stands on edge and shows
    its end; a corner unit covers both sides of a corner; a voussoir is one brick of an
    arch; a keystone is made to size by others."""
    course: int
    """The number of its course; of brick that stands over the opening, the number of
    the course beside it that starts at the same level."""
    place: FaceName
    """The face that it is counted on: of a corner unit, the one with its long leg."""
    outlines: list[OutlineRecord]
    """Its outline on each face that it shows on, the one on `place` first."""
    length: float
    """The length of its first outline, along the course."""
    height: float
    """The height of its first outline."""
    legs: list[float]
    """The two legs of a corner unit, measured outside, in the order of `outlines`;
    empty for any other piece."""
    is_cut: bool
    """Whether it is sawn. A corner unit that only has a leg trimmed does not count as
    cut."""
    is_trimmed: bool
    """Whether it is a corner unit with a leg that is sawn shorter from its free end."""
    broken: list[str]
    """The rules of the bond and of its pieces that it breaks: "least piece", "least
    lap", "least width", "sharpest corner", "least area"."""
    left_long: list[OutlineRecord]
    """Of a piece that is scribed on the wall, what it is sawn to before that, as its
    `outlines`; empty for any other piece."""


class FilletRecord(TypedDict):
    """Mortar where a course runs out on an arch, its tip being too thin to be sawn."""

    face: FaceName
    """The face."""
    course: int
    """The number of the course."""
    length: float
    """How long it is, from the brick to the end of the tip."""


class ZoneRecord(TypedDict):
    """How much of something is in one zone of a face."""

    zone: str
    """The zone: a leg, both legs, all over the opening, a return, ..."""
    count: int
    """How much of it."""


class GivenUpRecord(TypedDict):
    """What the bond of one face gives up, at one line of the order of merit."""

    face: str
    """The face, or the legs beside soldiers that pass the jambs."""
    place: int
    """Which line of the order it is, 1 first: a line weighs more than all after it."""
    level: str
    """What the line is called."""
    count: int
    """How much of it there is, counted as the order counts it; less is better."""
    zones: list[ZoneRecord]
    """How much of it is in each zone of the face."""


class PanelRecord(TypedDict):
    """A rectangle of the front that is laid in a pattern of its own."""

    name: str
    """What the job calls it."""
    pattern: FacePattern
    """How it is laid."""
    border: FaceBorder
    """What frames it."""
    outline: list[Point]
    """The corners [x, y] of its brick, border included, from the lower left one."""
    field: list[Point]
    """The corners [x, y] of what is filled with the pattern."""
    courses: tuple[int, int]
    """The numbers of the first and the last course that stop beside it."""
    joint: float
    """The joint between the pieces of its pattern."""
    phase: Point
    """How far the middle of the pattern lies from the middle of the field."""
    is_symmetric: bool
    """Whether it is the same on either side of its middle, or after a half turn."""
    narrowest: float
    """The least distance between two parallel lines that hold its narrowest piece."""
    left_out: list[list[Point]]
    """The corners [x, y] of each place too narrow for a piece, which mortar takes."""


class LayoutRecord(TypedDict):
    """Every piece of brick, on the faces unfolded into one flat plane.

    On it x runs along the faces from the left end, y up from the datum.
    """

    faces: list[FaceRecord]
    """The faces, from left to right, then those that turn into the opening."""
    opening: OpeningRecord
    as_found: AsFoundRecord
    arch: ArchRecord | None
    """The arch over the opening; null where there is none."""
    panels: list[PanelRecord]
    """The panels in the front; their pieces are among the pieces, their place
    "panel"."""
    pieces: list[PieceRecord]
    """Every piece, from the bottom up and in each course from left to right."""
    least_piece: float
    """The length of the shortest stretcher, or trimmed leg of a corner unit; of a whole
    brick where none is sawn shorter."""
    least_lap: float | None
    """The least distance along the wall between two joints in neighbouring courses;
    null in stack bond, whose joints stand over one another."""
    fillets: list[FilletRecord]
    """Where mortar takes the tip of a course."""
    given_up: list[GivenUpRecord]
    """What the bond gives up, face by face, in the order of merit; a line that is not
    here is kept whole."""
    searched_all: bool
    """Whether every way of laying the bond that the program knows was looked at, or
    shown to be no better."""
    reasons: list[str]
    """What was decided and why, a sentence each."""
    ways_out: list[str]
    """Other widths of the faces that would need fewer cuts, a sentence each."""


class StopRecord(TypedDict):
    """The end of one run of brick: the brick reaches this far and no further."""

    face: FaceName
    """The face that the run is on."""
    course: int
    """The number of its course."""
    kind: StopKind
    """What it stops at: "edge", the end of the face; "wall"; "fold", an outside corner;
    "inside corner", where an alcove meets a return; "jamb", a side of the opening;
    "soldier"; "arch"; "panel"."""
    x: float
    """Where it stops."""


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
