"""Trace the faces to be covered onto one developed plane.

In:  `Job`.   Out: `Surround`.
Frame: the job's lengths; x runs along the finished faces from left to right with a
fold at each outside corner, 0 at the left end; y is up from the hearth datum.

The finished face stands off a measured substrate by the build-out: the mean setting
bed and the brick. At an outside corner both faces grow by it, because each is covered.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.job.model import STANDING, CornerTable, EdgeTable, Job
from shopdraw.job.survey import Profile
from shopdraw.lengths import Lengths
from shopdraw.masonry.asbuilt import AsBuilt, lean_out, trace_as_built

FaceName = Literal["left", "front", "right", "left reveal", "right reveal"]
HeadKind = Literal[
    "running",
    "soldier over the opening",
    "soldier over the face",
    "jack arch",
    "segmental arch",
]


@dataclass(frozen=True)
class Face:
    """One flat of the developed plane, from `left` to `right`, edge joints included."""

    name: FaceName
    left: Fraction
    right: Fraction

    @property
    def width(self) -> Fraction:
        """How wide the finished face is."""
        return self.right - self.left


@dataclass(frozen=True)
class Edge:
    """An end of the developed plane: where the face ends and what is there.

    Attributes:
        x: where the face ends.
        brick_x: where the brick stops, the edge joint's width short of it.
        against: "wall" for the free end of a return, "edge" where the brick stops
            at the corner of the front.
        kind, shows: as the job's `[edges]` says.
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
        left, right: the edges as measured, on the developed plane; of a leaning jamb
            where the opening is narrowest.
        brick_left, brick_right: where the brick stops, the jambs' width short of them;
            where it turns into the jambs, the folds, a build-out beyond a substrate.
        height: from the datum to the lowest point of the head, or the spring line of
            an arch, as wanted.
        jambs: what `[edges]` says of the jambs.
        head: what stands over it. Soldiers over the opening stand beside leg courses;
            over the face they are a course of their own.
        soldiers_past: how far soldiers over the opening go past each jamb.
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
        """How far the brick stays back from each edge; negative where it covers it."""
        return self.left - self.brick_left

    @property
    def covered(self) -> Fraction:
        """As `beside`, but nothing where a joint carries the edge on."""
        return min(Fraction(0), self.beside)

    @property
    def centre(self) -> Fraction:
        """The centre line."""
        return (self.left + self.right) / 2


@dataclass(frozen=True)
class Surround:
    """The faces as they will be when finished.

    Attributes:
        faces: left to right; the front always, a return where the job has one.
        folds: x of each outside corner, left to right (0, 1 or 2 of them).
        build_out: drawn with: mean setting bed and brick.
        build_out_most: cleared with: the thickest setting bed and brick.
        as_built: the true shapes; the faces reach to where these reach furthest.
        reveals: the jambs where brick turns into them, folded out into the opening.
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
        """X of the folds at the jambs, where brick turns into them."""
        if not self.reveals:
            return ()
        return self.opening.brick_left, self.opening.brick_right

    @property
    def front(self) -> Face:
        """The face that holds the opening."""
        return next(face for face in self.faces if face.name == "front")

    def hearth_under(self, face: Face) -> Profile:
        """Return the hearth along a face; a jamb stands on what lies at its fold."""
        if face not in self.reveals:
            return self.as_built.hearth
        fold = face.left if face.name == "left reveal" else face.right
        return Profile(((fold, self.as_built.hearth.at(fold)),))

    def face(self, name: str) -> Face:
        """Return the face of that name; KeyError where the job has none."""
        for face in (*self.faces, *self.reveals):
            if face.name == name:
                return face
        raise KeyError(name)


def trace_surround(job: Job) -> Surround:
    """Trace the job's faces onto the developed plane, at their finished sizes."""
    build_out = job.setting_bed.mean + job.brick.thickness
    added = build_out if job.face.measured_to == "substrate" else Fraction(0)
    returns = (job.face.left_return, job.face.right_return)
    grows = tuple(added if depth is not None else Fraction(0) for depth in returns)
    leans = lean_out(job)

    front_left, start = Fraction(0), leans[0]
    if returns[0] is not None:
        front_left = leans[0] + returns[0] + grows[0]
        start = front_left + grows[0]
    front_right = start + job.face.width + grows[1]
    if returns[1] is None:
        front_right += leans[1]
    faces = [Face("front", front_left, front_right)]
    folds = []
    if returns[0] is not None:
        faces.insert(0, Face("left", Fraction(0), front_left))
        folds.append(front_left)
    if returns[1] is not None:
        far = front_right + returns[1] + grows[1] + leans[1]
        faces.append(Face("right", front_right, far))
        folds.append(front_right)

    from_left = job.opening.from_left
    if from_left is None:
        from_left = (job.face.width - job.opening.width) / 2
    left = start + from_left
    right = left + job.opening.width
    jambs, depth = job.edges.jambs, job.opening.jamb_return
    covers = Fraction(0) if depth is None else added
    leg_widths = (left + covers - front_left, front_right - right + covers)
    head, past = _head(job, leg_widths)
    return Surround(
        lengths=job.lengths,
        faces=tuple(faces),
        folds=tuple(folds),
        left_edge=_edge(faces[0].left, job.edges.left, 1, returns[0] is not None),
        right_edge=_edge(faces[-1].right, job.edges.right, -1, returns[1] is not None),
        opening=Opening(
            left=left,
            right=right,
            brick_left=left + covers - jambs.width,
            brick_right=right - covers + jambs.width,
            height=job.opening.height,
            jambs=jambs,
            head=head,
            soldiers_past=past,
            joint_in_leg=_stops_short(job) is None
            and job.opening.head_ends == "joint in the leg",
        ),
        height=job.face.height,
        build_out=build_out,
        build_out_most=job.setting_bed.most + job.brick.thickness,
        as_built=trace_as_built(
            job, start, (faces[0].left + leans[0], faces[-1].right - leans[1])
        ),
        reveals=_reveals(left + covers, right - covers, depth),
    )


def _reveals(
    left: Fraction, right: Fraction, depth: Fraction | None
) -> tuple[Face, ...]:
    if depth is None:
        return ()
    return (
        Face("left reveal", left, left + depth),
        Face("right reveal", right - depth, right),
    )


def _edge(x: Fraction, edge: EdgeTable, inward: int, has_return: bool) -> Edge:
    return Edge(
        x=x,
        brick_x=x + inward * edge.width,
        against="wall" if has_return else "edge",
        kind=edge.kind,
        shows=edge.shows,
    )


def _head(
    job: Job, leg_widths: tuple[Fraction, Fraction]
) -> tuple[HeadKind, tuple[Fraction, Fraction]]:
    """Return what stands over the opening and how far it goes past each jamb.

    Soldiers that stop short of a fold leave a whole corner unit and a joint there.
    """
    none = Fraction(0), Fraction(0)
    over = job.opening.head_over
    if job.opening.head in ("running", "jack arch", "segmental arch"):
        return job.opening.head, none
    if over != "face":
        past = Fraction(0) if over == "opening" else Fraction(over)
        return "soldier over the opening", (past, past)
    keeps = _stops_short(job)
    if keeps is None:
        return "soldier over the face", none
    returns = (job.face.left_return, job.face.right_return)
    short = [
        max(Fraction(0), width - keeps) if depth is not None else width
        for width, depth in zip(leg_widths, returns, strict=True)
    ]
    return "soldier over the opening", (short[0], short[1])


def _stops_short(job: Job) -> Fraction | None:
    """Return the long leg that soldiers stopping short of a fold leave standing."""
    has_fold = job.face.left_return is not None or job.face.right_return is not None
    if (
        job.opening.head in STANDING
        and job.opening.head_over == "face"
        and job.brick.at_fold == "stop short"
        and job.brick.corner is not None
        and has_fold
    ):
        return corner_legs(job.brick.corner, job.brick.thickness)[0]
    return None


def corner_legs(corner: CornerTable, thickness: Fraction) -> tuple[Fraction, Fraction]:
    """Return the long and the short leg of a corner unit, measured outside."""
    inside = thickness if corner.measured == "inside" else Fraction(0)
    return corner.long_leg + inside, corner.short_leg + inside
