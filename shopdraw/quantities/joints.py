"""Measure the face, its brick and its joints, for mortar and sealant.

In:  `Job`, `Surround`, `Coursing`, `Layout`.   Out: `WallAreas`.
Frame: the job's lengths and their square, on the developed plane: returns count.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.form import Surround, x_at
from shopdraw.masonry.wall.layout import Layout, area_within
from shopdraw.masonry.wall.surround import opening_ring

_NONE = Fraction(0)


@dataclass(frozen=True)
class EdgeJoint:
    """A joint along an edge of the brick.

    Attributes:
        kind: "mortar", "soft", "gap", "bare" or "none", as the job says.
        width, length: of the joint.
        is_beyond: whether it lies outside the face as it was measured.
    """

    kind: str
    width: Fraction
    length: Fraction
    is_beyond: bool = False

    @property
    def area(self) -> Fraction:
        """How much of the wall it takes."""
        return self.width * self.length


@dataclass(frozen=True)
class WallAreas:
    """How much there is of the wall's face, its brick and its joints.

    Attributes:
        face: the area of all faces as they are seen, up to the top that the courses
            make, less the opening; with what a corbel adds at the outside corners, but
            not the undersides of its courses.
        brick: the area of all pieces as they are seen.
        pointed: the area of the joints that are filled with mortar.
        soft_length: how long the joints are that are filled with sealant.
        open_length: how long the gaps at the edges are that nothing fills.
        soft: the joints that are filled with sealant, one by one.
    """

    face: Fraction
    brick: Fraction
    pointed: Fraction
    soft_length: Fraction
    open_length: Fraction
    soft: tuple[EdgeJoint, ...] = ()


def measure_wall(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout
) -> WallAreas:
    """Measure the wall as laid out: all but brick and edge joints is pointed."""
    top = _top(job, coursing)
    face = _covered(surround, coursing, layout, top) + _grown(surround, coursing)
    face -= surround.hidden_width * top
    brick = sum(
        (
            area_within(outline.points)
            for piece in layout.pieces
            for outline in piece.outlines
        ),
        Fraction(0),
    )
    brick -= _hidden(surround, coursing)
    edges = [edge for edge in _edge_joints(job, surround, coursing, top) if edge.area]
    pointed = face - brick
    for edge in edges:
        if edge.is_beyond:
            pointed += edge.area if edge.kind == "mortar" else 0
        else:
            pointed -= edge.area if edge.kind != "mortar" else 0
    soft = tuple(edge for edge in edges if edge.kind == "soft")
    filled = ("mortar", "soft")
    gaps = [edge.length for edge in edges if edge.kind not in filled]
    soft_length = sum((edge.length for edge in soft), _NONE)
    return WallAreas(face, brick, pointed, soft_length, sum(gaps, _NONE), soft)


def _hidden(surround: Surround, coursing: Coursing) -> Fraction:
    """Return the area of brick that lies behind the other face at inside corners.

    In every course one of the two faces runs past.
    """
    high = sum((course.height for course in coursing.courses), _NONE)
    return high * sum((face.behind for face in surround.alcoves), _NONE)


def _covered(
    surround: Surround, coursing: Coursing, layout: Layout, top: Fraction
) -> Fraction:
    """Return the area of all faces, from the hearth to the top, less the opening."""
    built = surround.as_built
    left, right = built.ends
    ends = (x_at(right, top), top), (x_at(left, top), top)
    floor = built.hearth.between(left[0][0], right[0][0])
    ring = opening_ring(surround, coursing.head, layout.arch, surround.opening.covered)
    feet = built.hearth.between(ring[0][0], ring[1][0])
    turned = sum(
        (
            area_within(
                (
                    *surround.hearth_under(face).between(face.left, face.right),
                    (face.right, coursing.head),
                    (face.left, coursing.head),
                )
            )
            for face in surround.reveals
        ),
        _NONE,
    )
    return area_within((*floor, *ends)) - area_within((*feet, *ring[2:])) + turned


def _grown(surround: Surround, coursing: Coursing) -> Fraction:
    """Return what courses that project add at the outside corners, bed joints too.

    Each corner adds the projection twice: on the front, and on the return.
    """
    at_corner = sum(
        (2 * x.projection * (x.bed_joint + x.height) for x in coursing.corbelled),
        _NONE,
    )
    return len(surround.folds) * at_corner


def _top(job: Job, coursing: Coursing) -> Fraction:
    """Return the top of the last course, and of the joint above it if it has one."""
    joint = coursing.joints[-1] if job.face.top_meets == "underside" else _NONE
    return coursing.courses[-1].top + joint


def _edge_joints(
    job: Job, surround: Surround, coursing: Coursing, top: Fraction
) -> tuple[EdgeJoint, ...]:
    left, right, opening = surround.left_edge, surround.right_edge, surround.opening
    along_top = right.brick_x - left.brick_x - surround.hidden_width
    along_bottom = along_top - (opening.brick_right - opening.brick_left)
    jamb, over = job.edges.jambs, job.edges.top
    return (
        EdgeJoint(left.kind, left.brick_x - left.x, top),
        EdgeJoint(right.kind, right.x - right.brick_x, top),
        EdgeJoint(jamb.kind, jamb.width, 2 * coursing.head),
        EdgeJoint(job.joints.bottom.kind, coursing.joints[0], along_bottom),
        EdgeJoint(over.kind, over.width, along_top, is_beyond=True),
    )


def panel_areas(layout: Layout) -> Iterator[tuple[str, Fraction, str]]:
    """Yield the item, the area and the note of each panel that the takeoff lists."""
    for panel in layout.panels:
        wide, high = panel.size
        words = f"{panel.name}: {panel.pattern}, among the face area"
        yield "panel area", wide * high, words
