"""Hold that no gap between pieces gapes wider than mortar may be.

In:  `Job`, `Surround`, `Coursing`, `Layout`.   Out: a line for each face that gapes.
Frame: as `Surround`; polygons in floating point.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.inset.proof import widest_hole
from shopdraw.masonry.laying.measure import hidden_end
from shopdraw.masonry.sawing.clipping import polygon_of
from shopdraw.masonry.sawing.keep_out import dropped
from shopdraw.masonry.wall.asbuilt import plan_bottom_course
from shopdraw.masonry.wall.form import Face, Line, Point, Surround, x_at
from shopdraw.masonry.wall.layout import OF_AN_ARCH, Layout, Outline
from shopdraw.masonry.wall.surround import opening_ring

Floats = NDArray[np.float64]
SLANTING = 1.5
"""By so much more an arch's brick are made larger: where the slanting joints of one
ring run into the joint between two, more than one joint lies open. The joints of an
arch are held by the review."""
NOTHING = 1e-7
"""Polygons are in floating point; a difference below this is none."""


def count_laid(coursing: Coursing) -> int:
    """Return how many courses are laid already."""
    return len(coursing.laid.courses) if coursing.laid else 0


def find_gaps(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    outlines: tuple[Outline, ...],
    sides: Floats,
) -> Iterator[str]:
    """Check that no gap between pieces is wider than the widest joint.

    A square a little larger than the widest joint must fit in nowhere. So the face,
    made smaller all round by half the square, must be covered by the pieces and the
    opening, each made larger all round by half the square. Where a course ends at a
    hidden wall it may stop one more head joint short of it.

    Args:
        job: the widest joints.
        surround: the faces to cover.
        coursing: the courses, and those that are laid already.
        layout: the arch and the fillets of mortar.
        outlines: every outline of the layout.
        sides: of each its left, bottom, right and top.
    """
    joints, edges = job.joints, job.edges
    widest = max(
        joints.head.most, joints.bed.most, edges.jambs.width,
        *(abs(x.brick_x - x.x) for x in (surround.left_edge, surround.right_edge)),
        *coursing.joints[1 : count_laid(coursing)],
    )  # fmt: skip
    # A fall of the hearth too great for joint and saw is for the review to find.
    bottom = coursing.joints[0] + plan_bottom_course(job).in_joint
    bottom = max(joints.bottom.most, bottom)
    half = float(widest + joints.step) / 2 + NOTHING
    top = float(max(course.top for course in coursing.courses))
    opening = surround.opening
    ring = opening_ring(surround, coursing.head, layout.arch, opening.beside)
    hole = _grown(dropped(ring), half)
    for face in (*surround.faces, *surround.reveals):
        on = np.array([outline.face == face.name for outline in outlines], bool)
        grown = [*_all_grown(outlines, sides, on, half)]
        grown.append(_on_the_hearth(surround, face, float(bottom), half))
        # Where a course runs out on an arch, mortar takes the tip.
        grown += (_grown(x.points, half) for x in layout.fillets if x.face == face.name)
        if face.name == "front":
            merging = _merging(coursing, layout, job.saw_tolerance)
            grown += (hole, *(_grown(x, half) for x in merging))
            grown += (_grown(x, half * SLANTING) for x in _of_an_arch(layout))
            # Within a panel a hole may be wider: that is held by itself.
            grown += (_grown(x.ring, half) for x in layout.panels)
        if face.width <= 2 * half + float(joints.head.most):
            continue
        high = float(coursing.head) if face in surround.reveals else top
        room = _room(job, surround, face, half, high)
        left_over = room.difference(shapely.union_all(grown))
        if left_over.area > NOTHING:
            x, y = left_over.representative_point().coords[0]
            yield f"the {face.name} face has no brick at {x:.3f}, {y:.3f}"
    front = np.array([outline.face == "front" for outline in outlines], bool)
    for panel in layout.panels:
        half = (widest_hole(panel, float(widest)) + float(joints.step)) / 2 + NOTHING
        grown = [*_all_grown(outlines, sides, front, half)]
        # What mortar takes at a pattern's edge is held by itself.
        grown += (_grown(ring, half) for ring in panel.left_out)
        bare = polygon_of(panel.ring).difference(shapely.union_all(grown))
        if bare.area > NOTHING:
            x, y = bare.representative_point().coords[0]
            yield f"{panel.name} has no brick at {x:.3f}, {y:.3f}"


def _of_an_arch(layout: Layout) -> Iterator[tuple[Point, ...]]:
    """Yield the rings of what an arch is of, as it is laid."""
    for piece in layout.pieces:
        if piece.kind in OF_AN_ARCH:
            yield from (outline.points for outline in piece.outlines)


def _merging(
    coursing: Coursing, layout: Layout, tolerance: Fraction
) -> Iterator[tuple[Point, ...]]:
    """Yield the lines that part an arch's joint from the bed joints that end on it.

    Where a course runs out at a shallow angle two joints lie on one another: the one
    over the arch's back, and the bed of the course above. No brick could part them, but
    neither may be wider than the widest joint. The line between them is where brick
    beside and above the arch keeps out. Where less than the saw's tolerance is left of
    the course between them there is no brick either: that too little is left over the
    crown is for the review to find.
    """
    if layout.arch is None:
        return
    for below, above in pairwise(coursing.courses):
        for side in pairwise(layout.arch.keep_out):
            ends = _between(side, below.top - tolerance, above.bottom)
            if ends:
                yield ends


def _between(side: tuple[Point, Point], low: Fraction, high: Fraction) -> Line | None:
    """Return the part of a side between two levels; None where it has none."""
    (x1, y1), (x2, y2) = side
    low, high = max(low, min(y1, y2)), min(high, max(y1, y2))
    if low > high:
        return None
    if y1 == y2:
        return side
    rise = (x2 - x1) / (y2 - y1)
    return (x1 + (low - y1) * rise, low), (x1 + (high - y1) * rise, high)


def _all_grown(
    outlines: tuple[Outline, ...], sides: Floats, places: NDArray[np.bool_], half: float
) -> NDArray[np.object_]:
    """Return some outlines, each made larger all round by `half`."""
    left, bottom, right, top = sides[places].T
    grown: NDArray[np.object_] = shapely.box(
        left - half, bottom - half, right + half, top + half
    )
    for place, at in enumerate(np.flatnonzero(places)):
        if not outlines[at].is_rectangle:
            grown[place] = _grown(outlines[at].points, half)
    return grown


def _grown(points: Iterable[tuple[Fraction, Fraction]], half: float) -> BaseGeometry:
    """Return a shape that is as good as convex, made larger all round by `half`."""
    corners = [
        (float(x) + dx, float(y) + dy)
        for x, y in points
        for dx in (-half, half)
        for dy in (-half, half)
    ]
    return shapely.MultiPoint(corners).convex_hull


def _on_the_hearth(
    surround: Surround, face: Face, joint: float, half: float
) -> BaseGeometry:
    """Return where a bottom joint so wide lets the middle of the square be."""
    line = surround.hearth_under(face).between(face.left, face.right)
    spots = [(float(x), float(y)) for x, y in line]
    low = min(y for _, y in spots)
    high = [(x, y + joint + half) for x, y in spots]
    return shapely.Polygon([*high, (high[-1][0], low), (high[0][0], low)])


def _room(
    job: Job, surround: Surround, face: Face, half: float, top: float
) -> BaseGeometry:
    """Return where the middle of the square may be on a face as it really is.

    It is kept away from a hidden wall by how far a course may stop short of it, and at
    an inside corner from the face that is met there.
    """
    hidden, short = hidden_end(job, face.name), float(job.joints.head.most)
    aside = [half + short if hidden == side else half for side in ("left", "right")]
    floor = [
        (float(x), float(y) + half)
        for x, y in surround.hearth_under(face).between(face.left, face.right)
    ]
    left, right = (
        line if face is surround.faces[place] else ((x, Fraction(0)), (x, Fraction(1)))
        for line, place, x in zip(
            surround.as_built.ends, (0, -1), face.seen, strict=True
        )
    )
    far = top + half

    def at(line: Line, y: float, aside: float) -> tuple[float, float]:
        return float(x_at(line, Fraction(y))) + aside, y

    outer = shapely.Polygon(
        [
            at(left, -far, aside[0]),
            at(right, -far, -aside[1]),
            at(right, far, -aside[1]),
            at(left, far, aside[0]),
        ]
    )
    ceiling = [(float(face.right), top - half), (float(face.left), top - half)]
    return outer.intersection(shapely.Polygon([*floor, *ceiling]))
