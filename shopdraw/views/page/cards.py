"""Tell of each piece what its card says.

In:  `Solution`.   Out: `Card`s.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.drawing.page import Card, Fact
from shopdraw.job.model import Job
from shopdraw.job.survey import Profile
from shopdraw.lengths import format_length, format_made
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.hearth.form import RISER_FACES
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    FLAT_KINDS,
    OF_AN_ARCH,
    CutListRow,
    Layout,
    Outline,
    Piece,
)
from shopdraw.solution import Solution
from shopdraw.views.brick.units import type_of
from shopdraw.views.making.sizes import ends_kept, finished_size
from shopdraw.views.page.facing import Faces, Facing
from shopdraw.views.page.rows import FaceRows, FaceSide
from shopdraw.views.page.under import Under
from shopdraw.views.parts.phrases import edge_says, listed
from shopdraw.views.parts.strings import is_half

Way = Literal["left", "right"]
WAYS: tuple[Way, Way] = ("left", "right")
STOPS = {
    "edge": "{} at the end of the face",
    "wall": "{} at the wall",
    "fold": "none: the outside corner",
    "jamb": "the opening, edge {}",
    "soldier": "what stands over the opening",
    "arch": "the arch",
    "panel": "the panel",
    "inside corner": "the inside corner",
}
"""What a run of brick stops at, by the kind of the stop; the braces take the edge."""
ON_GROUND = {"above": "behind", "below": "in front",
             "upper left": "back left", "upper right": "back right",
             "lower left": "front left", "lower right": "front right"}  # fmt: skip
"""Where a side looks that lies on the ground, by where it would look on a wall."""
STANDS_OFF = ("above", "below", "behind", "in front")
"""What a joint is said to be by itself; it is at any other side."""
STANDS = {"bottom": "foot", "top": "head"}
"""What the ends of a piece are called that stands."""
NEXT = 2
"""A gap wider than so many of the widest joint is no joint."""
FACED = {"left": "left return", "right": "right return",
         "left reveal": "left jamb", "right reveal": "right jamb",
         "riser": "the riser", "left riser": "the riser, left end",
         "right riser": "the riser, right end"}  # fmt: skip
"""What a face is called by who lays it, where its name alone would not do."""
LEVEL = Profile(((Fraction(0), Fraction(0)),))


@dataclass(frozen=True)
class Plane:
    """What lies on one plane.

    Attributes:
        job: what is asked of it: its joints and edges.
        layout: the pieces, among others.
        starts: the left end of each face on it, by its name.
        courses: of these faces.
        datum: what levels are measured from.
        ground: the level that its first course stands on; `on` names it.
        is_flat: whether it lies on the ground: then its y goes back, not up.
    """

    job: Job
    layout: Layout
    starts: Mapping[str, Fraction]
    courses: tuple[Course, ...] = ()
    datum: str = "the datum"
    ground: Profile = LEVEL
    on: str = "the hearth"
    is_flat: bool = False

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The pieces whose first outline is on it."""
        every = self.layout.pieces
        return tuple(x for x in every if x.outlines[0].face in self.starts)


def planes_of(solution: Solution) -> Iterator[Plane]:
    """Yield the faces; then a hearth of brick, its riser before it."""
    surround = solution.surround
    faces = (*surround.faces, *surround.reveals)
    starts = {str(face.name): face.left for face in faces}
    yield Plane(
        solution.job,
        solution.layout,
        starts,
        solution.coursing.courses,
        ground=surround.as_built.hearth,
    )
    hearth = solution.hearth
    if hearth is None:
        return
    if hearth.riser is not None:
        riser = hearth.riser
        starts = {str(RISER_FACES[x.name]): x.left for x in riser.surround.faces}
        yield Plane(
            riser.job,
            hearth.layout,
            starts,
            riser.coursing.courses,
            "the floor",
            riser.surround.as_built.hearth,
            "the floor",
        )
    ground = {"hearth": Fraction(0)}
    yield Plane(solution.job, hearth.layout, ground, is_flat=True)


def face_says(face: str) -> str:
    """Return what a face is called by who lays it."""
    return FACED.get(face, face)


def _the(face: str) -> str:
    """Return what a face is called, in a sentence."""
    return f"the {face_says(face).removeprefix('the ')}"


class Cards:
    """Makes the cards of the pieces on one plane."""

    def __init__(self, solution: Solution, plane: Plane) -> None:
        self._job, self._plane = plane.job, plane
        self.rows = FaceRows(plane.layout.pieces, plane.courses, plane.starts)
        self._made = {row.mark: row for row in solution.cut_list}
        self._courses = {course.number: course for course in plane.courses}
        self.widest = NEXT * plane.job.joints.head.most
        self._facing = Facing(plane.layout.pieces, plane.starts, self.widest)
        self._under = Under(solution, self._facing, plane.ground, plane.on)
        self._stops = {(x.face, x.course, x.x): x.kind for x in plane.layout.stops}

    def length(self, value: Fraction) -> str:
        """Write a length as the sheets print it."""
        return format_length(value, self._job.lengths)

    def card(self, piece: Piece) -> Card:
        """Return a piece's card."""
        sides = self.sides(piece)
        faces = self._faces(piece) if self._is_aslant(piece) else {}
        beside = [
            *((way, x.piece) for way, x in zip(WAYS, sides, strict=True)),
            *((way, x.piece) for way, there in faces.items() for x in there),
        ]
        return Card(
            id=piece.id,
            mark=piece.mark,
            kind=type_of(piece).lower(),
            size=finished_size(self._job, self._made[piece.mark]).lower(),
            facts=(*self._place(piece), *self._joints(piece, sides, faces)),
            beside=tuple((way, other.id) for way, other in beside if other is not None),
        )

    def sides(self, piece: Piece) -> tuple[FaceSide, FaceSide]:
        """Return what lies beside a piece in its row; nothing beside what has none."""
        if self._is_aslant(piece):
            return FaceSide(None), FaceSide(None)
        left, right = self.rows.beside(piece)
        return self._square(piece, "left", left), self._square(piece, "right", right)

    def _square(self, piece: Piece, way: Way, side: FaceSide) -> FaceSide:
        """Return a side with its joint square to it, as an arch has it, and not level.

        A row can meet a keystone's head, too, that is under the piece.
        """
        if side.piece is None or side.piece.kind not in OF_AN_ARCH:
            return side
        there = [x for x in self._facing.of(piece) if x.way.endswith(way)]
        if not there:
            return side
        best = min(
            there,
            key=lambda x: (x.piece.course != piece.course, x.piece is not side.piece),
        )
        return FaceSide(best.piece, best.gaps[0])

    def joint_up_to(self, piece: Piece, other: str) -> str:
        """Say how wide the joint is between a piece without a row and another's ID."""
        faces = self._facing.of(piece) if self._is_aslant(piece) else ()
        wide = [self._under.wide(x) for x in faces if x.piece.id == other]
        return f"joint {wide[0]}" if wide else ""

    def _is_aslant(self, piece: Piece) -> bool:
        """Whether a piece lies in no row: in an arch, in a pattern, on the ground."""
        is_turned = piece.kind in OF_AN_ARCH or piece.place == "panel"
        return is_turned or self._plane.is_flat

    def _faces(self, piece: Piece) -> dict[str, list[Faces]]:
        """Return what faces the sides of a piece that lies in no row, side by side."""
        found: dict[str, list[Faces]] = {}
        for each in self._facing.of(piece):
            way = ON_GROUND.get(each.way, each.way)
            found.setdefault(way if self._plane.is_flat else each.way, []).append(each)
        return found

    def _place(self, piece: Piece) -> Iterator[Fact]:
        """Say where a piece is."""
        first, datum = piece.outlines[0], self._plane.datum
        if self._plane.is_flat:
            reach = f"{self.length(first.bottom)} to {self.length(first.top)}"
            yield "back from the front edge", reach
        else:
            yield "course", f"{piece.course} of {len(self._courses)}"
            yield f"top from {datum}", self.length(first.top)
            yield "foot", self.length(first.bottom)
        for outline in piece.outlines:
            if outline.face in self._plane.starts:
                yield f"along {_the(outline.face)}", self.reach(piece, outline)
        if piece.kind in CORNER_KINDS:
            legs = zip(piece.legs, piece.outlines, strict=True)
            yield (
                "legs",
                listed([f"{self.length(x)} on {_the(y.face)}" for x, y in legs]),
            )

    def reach(self, piece: Piece, outline: Outline) -> str:
        """Say from where to where a piece reaches from its face's left end."""
        left, right = outline.left, outline.right
        level = self.rows.level_of(piece)
        if not outline.is_rectangle and outline.bottom < level < outline.top:
            left, right = outline.at_level(level)
        start = self._plane.starts[outline.face]
        return f"{self.along(left - start)} to {self.along(right - start)}"

    def along(self, value: Fraction) -> str:
        """Write a place along a face: half a brick ends where the sawn piece does."""
        lengths = self._job.lengths
        finer = is_half(value, lengths)
        return (format_made if finer else format_length)(value, lengths)

    def _joints(
        self,
        piece: Piece,
        sides: tuple[FaceSide, FaceSide],
        faces: dict[str, list[Faces]],
    ) -> Iterator[Fact]:
        """Say what is round a piece, and which of its ends are as delivered."""
        if any(side.piece is not None for side in sides):
            for way, side in zip(WAYS, sides, strict=True):
                yield f"joint at its {way}", self.joint(piece, way, side)
        for towards, there in faces.items():
            said = [f"{self._under.wide(x)}, then {x.piece.mark}" for x in there]
            at = "" if towards in STANDS_OFF else "at its "
            yield f"joint {at}{towards}", "; ".join(dict.fromkeys(said))
        course = self._courses.get(piece.course)
        if course is not None and not faces:
            yield "joint below", self._under.words(piece, course)
        name = "ends as delivered" + ", on the wall" * (not self._plane.is_flat)
        yield name, self._ends(piece, self._made[piece.mark])
        if piece.broken:
            yield "breaks a rule", listed(piece.broken)

    def is_joint(self, side: FaceSide) -> bool:
        """Whether mortar of a usual width is all that lies up to the next piece."""
        return side.piece is not None and 0 < side.gap <= self.widest

    def joint(self, piece: Piece, way: Way, side: FaceSide) -> str:
        """Say what is between a piece and the next one, or where the row ends."""
        then = side.piece
        if then is not None and side.gap <= self.widest:
            joint = self.length(side.gap) if side.gap > 0 else "none, they meet"
            return f"{joint}, then {then.mark}"
        kind = self._stop(piece, way)
        said = STOPS.get(kind or "", "").format(self._edge(kind, way))
        if then is None:
            return said
        return f"{said or 'no joint'}: {self.length(side.gap)}, then {then.mark}"

    def _edge(self, kind: str | None, way: Way) -> str:
        """Say what the job has at an edge of the brick."""
        edges = self._job.edges
        beside = edges.left if way == "left" else edges.right
        return edge_says(self._job, edges.jambs if kind == "jamb" else beside)

    def _stop(self, piece: Piece, way: Way) -> str | None:
        """Return at what kind of stop a piece ends on one side; None at none."""
        outline = (min if way == "left" else max)(
            piece.outlines, key=lambda each: each.left
        )
        end = outline.left if way == "left" else outline.right
        return self._stops.get((outline.face, piece.course, end))

    def to_know(self, piece: Piece) -> Iterator[str]:
        """Say which end of a flat piece is sawn, and where it stands if not level."""
        if piece.is_cut and piece.kind in FLAT_KINDS:
            ends = [way for way in WAYS if way not in piece.delivered_ends]
            if ends:
                yield f"sawn end {listed(ends)}"
        if self._is_aslant(piece):
            return
        course, foot = self._courses[piece.course], piece.outlines[0].bottom
        if course.number == 1:
            yield from self._under.falls(piece, course)
        if foot > course.top:
            yield f"foot at {self.length(foot)}"

    def _ends(self, piece: Piece, row: CutListRow) -> str:
        """Name the ends that are not sawn, as they are on the wall."""
        if piece.kind in CORNER_KINDS:
            return listed([x.lower() for x in ends_kept(self._job, row)]) or "none"
        ends = [STANDS.get(end, end) for end in piece.delivered_ends]
        return listed(ends) or "none"
