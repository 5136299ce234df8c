"""The forms of the wall: its faces on one developed plane, and what was found there.

In:  nothing.   Out: `Surround`, `AsBuilt`, `BottomCourse` and what they hold.
Frame: the job's lengths; x along the finished faces from left to right, 0 at the left
end; y up from the datum.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.job.model import EdgeTable
from shopdraw.job.model_face import Side
from shopdraw.job.survey import Profile
from shopdraw.job.turning import SQUARE
from shopdraw.lengths import Lengths

Point = tuple[Fraction, Fraction]
Line = tuple[Point, Point]
"""A line that stands or leans, from its foot to its top."""
FaceName = Literal[
    "left", "left chamfer", "front", "right chamfer", "right",
    "left alcove", "right alcove",
    "left reveal", "right reveal",
    "hearth", "left riser", "riser", "right riser", "panel",
]  # fmt: skip
HeadKind = Literal[
    "running",
    "soldier over the opening",
    "soldier over the face",
    "jack arch",
    "segmental arch",
    "semicircular arch",
]
NONE = Fraction(0)
MEET_AT_RIGHT = ("left", "left chamfer", "left alcove", "right reveal")
"""The faces whose corner on the way to the front is at their right end."""
FROM_THE_LEFT: tuple[FaceName, ...] = (
    "left alcove", "left", "left chamfer", "right reveal", "front", "left reveal",
    "right chamfer", "right", "right alcove", "left riser", "riser", "right riser",
)  # fmt: skip
"""Of two faces that meet at a corner the left one comes first."""


@dataclass(frozen=True)
class AsBuilt:
    """The shapes as they really are.

    Attributes:
        hearth: its surface along the faces.
        jambs: the left and the right one, from foot to head.
        head: the opening's head as found, from left to right; its middle is there too
            where it sags.
        ends: the left and the right end of the developed plane.
        survey_line: the level of the line that the survey was measured from; None where
            heights were not measured from a line.
    """

    hearth: Profile
    jambs: tuple[Line, Line]
    head: tuple[Point, ...]
    ends: tuple[Line, Line]
    survey_line: Fraction | None = None

    @property
    def lowest_head(self) -> Fraction:
        """The lowest point of the head."""
        return min(y for _, y in self.head)

    @property
    def is_true(self) -> bool:
        """Whether jambs and ends are plumb and the head is level."""
        upright = all(foot[0] == top[0] for foot, top in (*self.jambs, *self.ends))
        return upright and len({y for _, y in self.head}) == 1

    def opening(self, head: Fraction, beside: Fraction = NONE) -> tuple[Point, ...]:
        """Return the opening's ring, from its feet on, with its head at a level.

        Args:
            head: the level that the lowest point of the head is moved to.
            beside: how much wider it is at each jamb.
        """
        up = head - self.lowest_head
        (left_foot, _), (right_foot, _) = self.jambs
        places = [(x, y + up) for x, y in self.head]
        left = _drawn_out(places[0], places[1], -beside)
        right = _drawn_out(places[-1], places[-2], beside)
        return (
            (left_foot[0] - beside, left_foot[1]),
            (right_foot[0] + beside, right_foot[1]),
            *(right, *reversed(places[1:-1]), left),
        )

    def jambs_at(self, level: Fraction) -> tuple[Fraction, Fraction]:
        """Return x of the left and the right jamb at a level."""
        left, right = self.jambs
        return x_at(left, level), x_at(right, level)


def x_at(line: Line, level: Fraction) -> Fraction:
    """Return x of a line at a level, which may be beyond its ends."""
    (foot, low), (top, high) = line
    return foot + (top - foot) * (level - low) / (high - low)


def _drawn_out(end: Point, inner: Point, by: Fraction) -> Point:
    """Return the end of a line, drawn out so far sideways along the line's slope."""
    return end[0] + by, end[1] + by * (end[1] - inner[1]) / (end[0] - inner[0])


@dataclass(frozen=True)
class BottomCourse:
    """How the first course takes up the fall of the hearth.

    Attributes:
        kind: "level" where there is no fall; "tapered" where the joint below takes up
            all of it; "scribed" where each piece is sawn to the hearth; "out of reach"
            where sawing takes off half the height and the joint has no room for the
            rest.
        height: of its brick where the hearth is highest.
        in_joint: how much of the fall the joint takes up.
    """

    kind: Literal["level", "tapered", "scribed", "out of reach"]
    height: Fraction
    in_joint: Fraction

    @property
    def is_scribed(self) -> bool:
        """Whether its pieces are sawn to the hearth."""
        return self.kind in ("scribed", "out of reach")


@dataclass(frozen=True)
class Face:
    """One flat face on the developed plane, from left to right, with edge joints.

    Attributes:
        turn: by how many degrees it is turned away from the front: 90 where it goes
            straight back, less where it splays; 0 for an alcove, which faces as the
            front does.
        behind: how far it goes on behind the face that it meets at an inside corner,
            in the courses that run past; part of its width here, but not seen.
    """

    name: FaceName
    left: Fraction
    right: Fraction
    turn: Fraction = SQUARE
    behind: Fraction = NONE

    @property
    def width(self) -> Fraction:
        """How wide the face is when finished, with what lies behind another."""
        return self.right - self.left

    @property
    def is_alcove(self) -> bool:
        """Whether it lies on the back wall of an alcove."""
        return self.name.endswith("alcove")

    @property
    def seen(self) -> tuple[Fraction, Fraction]:
        """Where it begins and ends as it is seen: up to the face it goes behind."""
        if self.name in ("right", "left alcove"):
            return self.left, self.right - self.behind
        return self.left + self.behind, self.right

    @property
    def inside_corner(self) -> Fraction | None:
        """Where it meets another face at an inside corner, as it is seen; or None."""
        if not self.behind:
            return None
        return self.seen[1 if self.name in ("right", "left alcove") else 0]


@dataclass(frozen=True)
class Edge:
    """An end of the developed plane: where the face ends and what is there.

    Attributes:
        x: where the face ends.
        brick_x: where the brick stops, short of that by the width of the edge joint.
        against: "wall" for the free end of a return, and of an alcove where a joint is
            left there; "edge" where the front, or the alcove, simply ends.
        kind, shows: as the job's `[edges]` gives them.
    """

    x: Fraction
    brick_x: Fraction
    against: Literal["wall", "edge"]
    kind: str
    shows: str


@dataclass(frozen=True)
class Opening:
    """The opening in the front.

    Attributes:
        left, right: the edges as measured, on the developed plane; where a jamb leans,
            at the place where the opening is narrowest.
        brick_left, brick_right: where the brick stops, short of the edges by the width
            of the jambs' joint; where brick turns into the jambs, the corners that it
            turns, a build-out inside a measured substrate.
        height: from the datum to the lowest point of the head, or to the spring line of
            an arch, as wanted.
        jambs: what `[edges]` says of the jambs.
        head: what stands over it. Soldiers over the opening stand beside courses of the
            legs; soldiers over the face are a course of their own.
        soldiers_past: how far soldiers over the opening must go past each jamb.
        joint_in_leg: whether the joint at the soldiers' ends is taken from the legs.
    """

    left: Fraction
    right: Fraction
    brick_left: Fraction
    brick_right: Fraction
    height: Fraction
    jambs: EdgeTable
    head: HeadKind
    soldiers_past: tuple[Fraction, Fraction]
    joint_in_leg: bool

    @property
    def beside(self) -> Fraction:
        """How far the brick stays back from each edge; negative where it laps over."""
        return self.left - self.brick_left

    @property
    def covered(self) -> Fraction:
        """As `beside`, but nothing where a joint fills up to the edge."""
        return min(Fraction(0), self.beside)

    @property
    def centre(self) -> Fraction:
        """The centre line."""
        return (self.left + self.right) / 2


@dataclass(frozen=True)
class Surround:
    """The faces as they will be when finished.

    Attributes:
        faces: left to right: the front, and what turns back from it: a return, or a
            chamfer and a return; beyond that what is faced of an alcove's back wall.
        folds: x of each outside corner, left to right: where two faces meet. Where a
            return meets an alcove there is none: the corner is an inside one.
        build_out: mean setting bed and brick: what is drawn.
        build_out_most: thickest setting bed and brick: what clearances are held with.
        as_built: the shapes as they really are; the faces go as far as these do.
        reveals: where brick turns into the jambs, the jambs unrolled into the opening.
    """

    lengths: Lengths
    faces: tuple[Face, ...]
    folds: tuple[Fraction, ...]
    left_edge: Edge
    right_edge: Edge
    opening: Opening
    height: Fraction
    build_out: Fraction
    build_out_most: Fraction
    as_built: AsBuilt
    reveals: tuple[Face, ...] = ()

    @property
    def jamb_folds(self) -> tuple[Fraction, ...]:
        """X of the corners where brick turns into the jambs, if it does."""
        if not self.reveals:
            return ()
        return self.opening.brick_left, self.opening.brick_right

    @property
    def splay(self) -> Fraction:
        """By how many degrees the jambs that brick turns into are out of square."""
        return SQUARE - self.reveals[0].turn if self.reveals else NONE

    def turn_at(self, fold: Fraction) -> Fraction:
        """Return by how many degrees the brick turns at an outside corner.

        Raises:
            KeyError: there is no outside corner at that x.
        """
        for face in (*self.faces, *self.reveals):
            if face.name != "front" and self.fold_of(face) == fold:
                return face.turn - self.before(face).turn
        raise KeyError(fold)

    @property
    def turns(self) -> frozenset[Fraction]:
        """By how many degrees the brick turns at its corners, each angle once."""
        return frozenset(map(self.turn_at, (*self.folds, *self.jamb_folds)))

    def fold_of(self, face: Face) -> Fraction:
        """Return x of the corner of a face on the way to the front."""
        return face.right if face.name in MEET_AT_RIGHT else face.left

    def before(self, face: Face) -> Face:
        """Return what a face meets at its corner on the way to the front."""
        if face in self.reveals:
            return self.front
        step = 1 if face.name in MEET_AT_RIGHT else -1
        return self.faces[self.faces.index(face) + step]

    @property
    def front(self) -> Face:
        """The face that holds the opening."""
        return next(face for face in self.faces if face.name == "front")

    def flank(self, side: Side) -> tuple[Face, ...]:
        """Return the faces that turn back on a side, from the front on; no alcove."""
        at = self.faces.index(self.front)
        beside = self.faces[:at][::-1] if side == "left" else self.faces[at + 1 :]
        return tuple(face for face in beside if not face.is_alcove)

    @property
    def alcoves(self) -> tuple[Face, ...]:
        """The faces on the back walls of alcoves, left to right."""
        return tuple(face for face in self.faces if face.is_alcove)

    @property
    def hidden_width(self) -> Fraction:
        """How much of the developed plane lies behind another face, all corners."""
        return sum((face.behind for face in self.faces), NONE)

    def ends(self, face: Face, out: Fraction) -> tuple[Fraction, Fraction]:
        """Return where a face begins and ends in a course that projects so far.

        It grows past its outside corners by as much.
        """
        return (
            face.left - (out if face.left in self.folds else NONE),
            face.right + (out if face.right in self.folds else NONE),
        )

    def hearth_under(self, face: Face) -> Profile:
        """Return the hearth along a face; a jamb stands at the level of its corner."""
        if face not in self.reveals:
            return self.as_built.hearth
        fold = face.left if face.name == "left reveal" else face.right
        return Profile(((fold, self.as_built.hearth.at(fold)),))

    def face(self, name: str) -> Face:
        """Return the face of that name.

        Raises:
            KeyError: the job has no such face.
        """
        for face in (*self.faces, *self.reveals):
            if face.name == name:
                return face
        raise KeyError(name)
