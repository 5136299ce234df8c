"""Trace what brick keeps out of: an arch, leaning jambs and ends, a falling hearth.

In:  `Job`, `Surround`, `Coursing`, the arch.   Out: `KeepOut`.
Frame: as `Surround`; areas in floating point.

Some of it is scribed on the wall: there a piece is left long, held up, marked and sawn
in place. For the rest each piece is sawn beforehand.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from shopdraw.job.model import Job
from shopdraw.job.model_head import STANDING
from shopdraw.lengths import Lengths
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.sawing.clipping import Areas, polygon_of
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.asbuilt import plan_bottom_course
from shopdraw.masonry.wall.form import Face, FaceName, Point, Surround, x_at
from shopdraw.masonry.wall.surround import opening_ring

FAR = 10_000.0
"""A distance beyond the end of any face."""
LITTLE: dict[Lengths, Fraction] = {"in": Fraction(1, 8), "mm": Fraction(3)}
"""An edge that changes a cut by less than this from one piece to the next is scribed,
where the job does not say (common practice, no published source)."""


@dataclass(frozen=True)
class KeepOut:
    """The areas of each face that brick keeps out of.

    Attributes:
        every: all of them, by face.
        sawn: those that pieces are sawn to beforehand, by face.
        scribed: the names of the edges that are scribed on the wall.
    """

    every: Areas
    sawn: Areas
    scribed: tuple[str, ...]


def trace_keep_out(
    job: Job, surround: Surround, coursing: Coursing, arch: Arch | None
) -> KeepOut:
    """Return the areas of each face that brick keeps out of, if anything is untrue."""
    areas: list[tuple[FaceName, str, BaseGeometry]] = []
    if not surround.as_built.is_true or arch is not None:
        ring = opening_ring(surround, coursing.head, arch, surround.opening.beside)
        areas.append(("front", "opening", polygon_of(dropped(ring))))
    if arch is not None:
        areas.append(("front", "arch", polygon_of(arch.keep_out)))
    areas += _ends(surround)
    if plan_bottom_course(job).is_scribed:
        for face in (*surround.faces, *surround.reveals):
            below = _below(surround, coursing.joints[0], face)
            areas.append((face.name, "hearth", below))
    scribed = tuple(name for name in EDGES if _is_scribed(job, surround, name))
    return KeepOut(
        _joined((face, area) for face, _, area in areas),
        _joined((face, area) for face, name, area in areas if name not in scribed),
        tuple(name for name in scribed if any(name == each for _, each, _ in areas)),
    )


EDGES = ("opening", "left end", "right end", "hearth")
"""What may be scribed on the wall; an arch never is."""


def _joined(areas: Iterable[tuple[FaceName, BaseGeometry]]) -> Areas:
    of_face: dict[FaceName, list[BaseGeometry]] = defaultdict(list)
    for face, area in areas:
        of_face[face].append(area)
    return {face: shapely.union_all(some) for face, some in of_face.items()}


def _is_scribed(job: Job, surround: Surround, name: str) -> bool:
    """Whether brick is scribed on the wall where it meets an edge."""
    change = _change(job, surround, name)
    if job.edges.fit != "best":
        return change > 0 and job.edges.fit == "scribed on the wall"
    return 0 < change < LITTLE[job.lengths]


def _change(job: Job, surround: Surround, name: str) -> Fraction:
    """Return by how much a cut changes along an edge, from one piece to the next.

    Along what is upright that is from course to course, along what is level from
    soldier to soldier or from brick to brick.
    """
    built, brick, joints = surround.as_built, job.brick, job.joints
    up = brick.height + joints.bed.preferred
    along = brick.length + joints.head.preferred
    if name == "hearth":
        return along * _steepest(built.hearth.points, 1)
    if name != "opening":
        return up * _steepest(built.ends[0 if name == "left end" else 1], 0)
    if job.opening.head in STANDING:
        along = brick.height + joints.head.preferred
    return max(
        along * _steepest(built.head, 1),
        *(up * _steepest(jamb, 0) for jamb in built.jambs),
    )


def _steepest(line: tuple[Point, ...], across: int) -> Fraction:
    """Return how far a line goes aside at the most for a length along it.

    Args:
        line: its points.
        across: 0 for an upright line, which goes aside along x; 1 for a level one.
    """
    return max(
        (
            abs(b[across] - a[across]) / abs(b[1 - across] - a[1 - across])
            for a, b in pairwise(line)
            if a[1 - across] != b[1 - across]
        ),
        default=Fraction(0),
    )


def _ends(surround: Surround) -> Iterator[tuple[FaceName, str, BaseGeometry]]:
    """Yield what lies beyond each end of the faces that leans."""
    for line, edge, face, way, name in zip(
        surround.as_built.ends,
        (surround.left_edge, surround.right_edge),
        (surround.faces[0], surround.faces[-1]),
        (-1, 1),
        ("left end", "right end"),
        strict=True,
    ):
        if line[0][0] == line[1][0]:
            continue
        aside = abs(edge.x - edge.brick_x) * -way
        far = Fraction(FAR)
        ends = [(x_at(line, y) + aside, y) for y in (-far, far)]
        beyond = [(x + way * far * 2, y) for x, y in reversed(ends)]
        yield face.name, name, polygon_of((*ends, *beyond))


def dropped(
    ring: tuple[tuple[Fraction, Fraction], ...],
) -> list[tuple[Fraction, Fraction]]:
    """Lengthen an opening downward from its feet, to below any hearth."""
    (left, _), (right, _), *rest = ring
    down = Fraction(-FAR)
    return [(left, down), (right, down), ring[1], *rest, ring[0]]


def _below(surround: Surround, joint: Fraction, face: Face) -> BaseGeometry:
    """Return the hearth below one face, and the joint on top of it."""
    hearth, down = surround.hearth_under(face), Fraction(-FAR)
    line = [(x, y + joint) for x, y in hearth.between(face.left, face.right)]
    return polygon_of((*line, (face.right, down), (face.left, down)))
