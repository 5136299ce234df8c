"""Hold the layout, on every run, against what is always true of brick on a wall.

In:  `Job`, `Surround`, `Coursing`, `Layout`.   Out: the layout, or `NotProved`.
Frame: as `Surround`.

Nothing here is believed from the solvers: everything is measured on the outlines. What
is wrong here is a fault of the program, never of the job.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from shopdraw.errors import NotProved
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.inset.proof import prove_panels
from shopdraw.masonry.laying.folded import corners_close
from shopdraw.masonry.laying.proof_gaps import NOTHING, Floats, count_laid, find_gaps
from shopdraw.masonry.laying.proof_pieces import prove_pieces
from shopdraw.masonry.sawing.clipping import FINEST, polygon_of
from shopdraw.masonry.wall.form import Surround, x_at
from shopdraw.masonry.wall.layout import (
    OF_AN_ARCH,
    Layout,
    Outline,
    Piece,
    standing_lowest,
)
from shopdraw.masonry.wall.surround import opening_ring

SAWN = 1e-4
"""Points of an arch, and of a turned pattern, lie on a coarser grid; a difference below
this is none there."""


GRID = Fraction(1, FINEST)


def prove_layout(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout
) -> Layout:
    """Return the layout if all that must be true of it is true.

    Raises:
        NotProved: a line for each thing that is not true.
    """
    drawn = _draw(layout)
    differences = (
        *_courses_add_up(coursing),
        *_pieces_are_their_outlines(layout),
        *_runs_add_up(layout),
        *_pieces_keep_apart(job, coursing, layout, drawn),
        *_pieces_keep_to_their_faces(surround, coursing, layout, drawn),
        *find_gaps(job, surround, coursing, layout, drawn.outlines, drawn.edges),
        *corners_close(job, surround, coursing, layout),
        *prove_pieces(job, coursing, layout),
        *_corbels_stand_out(surround, coursing, layout),
        *prove_panels(job, layout),
    )
    if differences:
        raise NotProved(differences)
    return layout


def _courses_add_up(coursing: Coursing) -> Iterator[str]:
    """Check that the brick and joints below each course add up to its bottom."""
    at = Fraction(0)
    for course, joint in zip(coursing.courses, coursing.joints, strict=False):
        at += joint
        if course.bottom != at or course.bed_joint != joint:
            yield (
                f"course {course.number} starts at {course.bottom}, but the brick and "
                f"joints below it add up to {at}"
            )
        at += course.height


def _pieces_are_their_outlines(layout: Layout) -> Iterator[str]:
    """Check that pieces are as large as drawn, and corner units drawn on two faces."""
    for piece in layout.pieces:
        first = piece.outlines[0]
        size = (first.right - first.left, first.top - first.bottom)
        if size != (piece.length, piece.height):
            listed, drawn = f"{piece.length} x {piece.height}", f"{size[0]} x {size[1]}"
            yield f"{piece.id} is listed as {listed}, but drawn as {drawn}"
        is_corner = piece.kind in ("corner unit", "soldier corner unit")
        if is_corner and len(piece.outlines) != 2:
            count = len(piece.outlines)
            yield f"{piece.id} is a corner unit, but is drawn on {count} faces, not 2"
        if piece.legs and piece.legs != tuple(x.right - x.left for x in piece.outlines):
            listed = " x ".join(str(leg) for leg in piece.legs)
            yield f"{piece.id} is listed with legs {listed}, but not drawn with them"
    ids = [piece.id for piece in layout.pieces]
    if len(set(ids)) != len(ids):
        yield "two pieces have the same ID"


def _rows(layout: Layout) -> dict[tuple[str, int], list[Outline]]:
    """Return the outlines of each course of each face, left to right.

    Where two courses of soldiers stand over the head it is the lower one. The upper one
    stands plumb on it, and has another length where an end leans.
    """
    rows: dict[tuple[str, int], list[Outline]] = defaultdict(list)
    for piece, outline in standing_lowest(layout.in_courses):
        if piece.kind not in OF_AN_ARCH:
            rows[outline.face, piece.course].append(outline)
    for row in rows.values():
        row.sort(key=lambda outline: outline.left)
    return rows


def _runs_add_up(layout: Layout) -> Iterator[str]:
    """Check that pieces and joints between two stops add up to the run."""
    rows = _rows(layout)
    stops: dict[tuple[str, int], list[Fraction]] = defaultdict(list)
    for stop in layout.stops:
        stops[stop.face, stop.course].append(stop.x)
    for key, ends in stops.items():
        ends.sort()
        row = rows[key]
        for left, right in zip(ends[::2], ends[1::2], strict=True):
            inside = [x for x in row if x.left >= left and x.right <= right]
            total = sum((x.right - x.left for x in inside), Fraction(0))
            total += sum((b.left - a.right for a, b in pairwise(inside)), Fraction(0))
            if not inside or total != right - left:
                yield (
                    f"{key[0]} course {key[1]}: a run of {right - left} is filled with "
                    f"brick and joints of {total}"
                )


@dataclass(frozen=True)
class _Drawn:
    """Every outline with its piece, and all of them once more in floating point.

    Floating point sorts out, many at a time, those that are clear of a limit; the rest
    are compared exactly.

    Attributes:
        edges: (outlines, 4) of left, bottom, right, top.
        shapes: their polygons.
    """

    outlines: tuple[Outline, ...]
    pieces: tuple[Piece, ...]
    edges: Floats
    shapes: NDArray[np.object_]

    def on(self, face: str) -> NDArray[np.bool_]:
        """Return which outlines lie on a face."""
        return np.array([outline.face == face for outline in self.outlines], bool)


def _draw(layout: Layout) -> _Drawn:
    pairs = [(o, piece) for piece in layout.pieces for o in piece.outlines]
    edges = np.array([(o.left, o.bottom, o.right, o.top) for o, _ in pairs], float)
    shapes = shapely.box(*edges.T)
    for place, (outline, _) in enumerate(pairs):
        if not outline.is_rectangle:
            shapes[place] = polygon_of(outline.points)
    outlines, pieces = zip(*pairs, strict=True)
    return _Drawn(outlines, pieces, edges, shapes)


def _pieces_keep_apart(
    job: Job, coursing: Coursing, layout: Layout, drawn: _Drawn
) -> Iterator[str]:
    """Check that no two pieces overlap or stand closer than the least joint.

    Courses already laid are as close as they were laid: the review looks at those.
    """
    bed = min([job.joints.bed.least, *coursing.joints[1 : count_laid(coursing)]])
    # One step less: so far a soldier's top may be off beside the courses of the legs.
    across, up = job.joints.head.least, bed - job.joints.step
    left, bottom, right, top = drawn.edges.T
    # A box grown by the least joint may touch its neighbours but not enter them.
    far = float(across) - NOTHING, float(min(bed, across)) - NOTHING
    grown = shapely.box(left - far[0], bottom - far[1], right + far[0], top + far[1])
    a, b = shapely.STRtree(drawn.shapes).query(grown, predicate="intersects")
    gap_x = np.maximum(left[b] - right[a], left[a] - right[b])
    gap_y = np.maximum(bottom[b] - top[a], bottom[a] - top[b])
    close = (gap_x < float(across) + NOTHING) & (gap_y < float(up) + NOTHING)
    for i, j in zip(a[close & (a < b)], b[close & (a < b)], strict=True):
        first, second = drawn.outlines[i], drawn.outlines[j]
        if first.face != second.face:
            continue
        if max(second.left - first.right, first.left - second.right) >= across:
            continue
        if max(second.bottom - first.top, first.bottom - second.top) >= up:
            continue
        if not (first.is_rectangle and second.is_rectangle):
            least = float(min(across, up))
            if drawn.shapes[i].distance(drawn.shapes[j]) >= least - _slack(layout):
                continue
        names = f"{drawn.pieces[i].id} and {drawn.pieces[j].id}"
        yield f"{names} stand closer together than the least joint"


def _slack(layout: Layout) -> float:
    """Return the difference that is still none: larger with an arch or a panel."""
    return NOTHING if layout.arch is None and not layout.panels else SAWN


def _pieces_keep_to_their_faces(
    surround: Surround, coursing: Coursing, layout: Layout, drawn: _Drawn
) -> Iterator[str]:
    """Check that no piece leaves its face, enters the opening or the hearth."""
    ring = opening_ring(surround, coursing.head, layout.arch, surround.opening.covered)
    opening = polygon_of(ring)
    opening = opening.buffer(-_slack(layout))
    entered = shapely.intersects(drawn.shapes, opening)
    top = max(course.top for course in coursing.courses)
    top = max(top, coursing.soldier_top or top)
    for face in (*surround.faces, *surround.reveals):
        on = drawn.on(face.name)
        if face.name == "front":
            for place in np.flatnonzero(on & entered):
                yield f"{drawn.pieces[place].id} enters the opening"
        hearth = surround.hearth_under(face)
        highest = max(y for _, y in hearth.points)
        limits = float(face.left), float(highest), float(face.right), float(top)
        inside = drawn.edges * (1, 1, -1, -1) > np.array(limits) * (1, 1, -1, -1)
        for place in np.flatnonzero(on & ~inside.all(axis=1)):
            piece, outline = drawn.pieces[place], drawn.outlines[place]
            left, right = surround.ends(
                face, coursing.courses[piece.course - 1].projection
            )
            if outline.left < left or outline.right > right:
                yield f"{piece.id} leaves the {face.name} face"
            if outline.top > top:
                yield f"{piece.id} rises above the top of the {face.name} face"
            # A corner that clipping made lies on a grid, perhaps just below.
            if any(y < hearth.at(x) - GRID for x, y in outline.points):
                yield f"{piece.id} goes into the hearth"
    yield from _beyond_the_ends(surround, drawn)


def _corbels_stand_out(
    surround: Surround, coursing: Coursing, layout: Layout
) -> Iterator[str]:
    """Check that a course that projects reaches as far past each outside corner."""
    for course in coursing.corbelled:
        for face in surround.faces:
            row = [
                outline
                for piece in layout.pieces
                if piece.course == course.number
                for outline in piece.outlines
                if outline.face == face.name
            ]
            left, right = surround.ends(face, course.projection)
            far = min((x.left for x in row), default=None)
            if face.left in surround.folds and far != left:
                yield f"{face.name} course {course.number} does not begin at its corner"
            far = max((x.right for x in row), default=None)
            if face.right in surround.folds and far != right:
                yield f"{face.name} course {course.number} does not end at its corner"


def _beyond_the_ends(surround: Surround, drawn: _Drawn) -> Iterator[str]:
    """Check that no piece crosses an end of the faces, however it leans."""
    faces = surround.faces[0].name, surround.faces[-1].name
    for line, face, way in zip(surround.as_built.ends, faces, (-1, 1), strict=True):
        (foot, low), (head, high) = (tuple(map(float, point)) for point in line)
        near = drawn.edges[:, 0 if way < 0 else 2, None]
        at = foot + (head - foot) * (drawn.edges[:, (1, 3)] - low) / (high - low)
        beyond = ((near - at) * way > 0).any(axis=1)
        for place in np.flatnonzero(drawn.on(face) & beyond):
            points = drawn.outlines[place].points
            if any((x - x_at(line, y)) * way > NOTHING for x, y in points):
                yield f"{drawn.pieces[place].id} leaves the {face} face"
