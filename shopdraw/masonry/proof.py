"""Hold the layout against what is always true of brick on a wall, on every run.

In:  `Job`, `Surround`, `Coursing`, `Layout`.   Out: nothing, or `NotProved`.
Frame: as `Surround`.

None of this is taken on trust from the solvers: it is measured on the outlines. What
is found here is a fault of the program's, never of the job's.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from shopdraw.errors import NotProved
from shopdraw.job.model import Job
from shopdraw.masonry.asbuilt import Line, plan_bottom_course, x_at
from shopdraw.masonry.clipping import polygon_of
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.fitting import dropped, opening_ring
from shopdraw.masonry.layout import Layout, Outline, Piece, standing_lowest
from shopdraw.masonry.surround import Face, Surround

NOTHING = 1e-7
"""Polygons are in floating point; a difference below this is none."""
SAWN = 1e-4
"""Points of an arch lie on a grid; so much less room than asked is none."""


def prove_layout(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout
) -> Layout:
    """Return the layout if everything that must be true of it is.

    Raises:
        NotProved: a line for each thing that is not.
    """
    differences = (
        *_courses_add_up(coursing),
        *_pieces_are_their_outlines(layout),
        *_runs_add_up(layout),
        *_pieces_keep_apart(job, coursing, layout),
        *_pieces_keep_to_their_faces(surround, coursing, layout),
        *_nothing_gapes(job, surround, coursing, layout),
    )
    if differences:
        raise NotProved(differences)
    return layout


def _courses_add_up(coursing: Coursing) -> Iterator[str]:
    """The joints up to each course, and the brick below it, add up to its bottom."""
    at = Fraction(0)
    for course, joint in zip(coursing.courses, coursing.joints, strict=False):
        at += joint
        if course.bottom != at or course.bed_joint != joint:
            yield f"course {course.number} starts at {course.bottom}, not {at}"
        at += course.height


def _pieces_are_their_outlines(layout: Layout) -> Iterator[str]:
    """A piece's length and height are its outline's; corner units have two outlines."""
    for piece in layout.pieces:
        first = piece.outlines[0]
        size = (first.right - first.left, first.top - first.bottom)
        if size != (piece.length, piece.height):
            yield f"{piece.id} is {piece.length} x {piece.height}, drawn {size}"
        is_corner = piece.kind in ("corner unit", "soldier corner unit")
        if is_corner and len(piece.outlines) != 2:
            yield f"{piece.id} is a corner unit with {len(piece.outlines)} outlines"
        if piece.legs and piece.legs != tuple(x.right - x.left for x in piece.outlines):
            yield f"{piece.id} has legs {piece.legs} that its outlines have not"
    ids = [piece.id for piece in layout.pieces]
    if len(set(ids)) != len(ids):
        yield "an ID stands for more than one piece"


def _rows(layout: Layout) -> dict[tuple[str, int], list[Outline]]:
    """Return the outlines of each course of each face, left to right.

    Of two courses that stand over the head the lower one: the upper one stands plumb
    upon it, and where an end leans it has a length of its own.
    """
    rows: dict[tuple[str, int], list[Outline]] = defaultdict(list)
    for piece, outline in standing_lowest(layout.pieces):
        if piece.kind != "voussoir":
            rows[outline.face, piece.course].append(outline)
    for row in rows.values():
        row.sort(key=lambda outline: outline.left)
    return rows


def _runs_add_up(layout: Layout) -> Iterator[str]:
    """Between two stops, pieces and joints add up to the run."""
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
                yield f"{key[0]} course {key[1]}: a run of {right - left} holds {total}"


def _pieces_keep_apart(job: Job, coursing: Coursing, layout: Layout) -> Iterator[str]:
    """No two pieces overlap or stand closer than the least joint.

    What is laid stands as it was laid, and is for the review.
    """
    bed = min([job.joints.bed.least, *coursing.joints[1 : _laid(coursing)]])
    drawn = [(o, piece.id) for piece in layout.pieces for o in piece.outlines]
    across = float(job.joints.head.least)
    up = float(min(bed, job.joints.head.least))
    boxes = [polygon_of(outline.points) for outline, _ in drawn]
    tree = shapely.STRtree(boxes)
    # A box grown by the least joint may touch its neighbours but not enter them.
    grown = [
        shapely.box(
            float(o.left) - across + NOTHING,
            float(o.bottom) - up + NOTHING,
            float(o.right) + across - NOTHING,
            float(o.top) + up - NOTHING,
        )
        for o, _ in drawn
    ]
    # One step: the tolerance of a soldier's top beside the leg courses.
    step = job.joints.step
    for a, b in tree.query(grown, predicate="intersects").T:
        if a >= b or drawn[a][0].face != drawn[b][0].face:
            continue
        first, second = drawn[a][0], drawn[b][0]
        gap_x = max(second.left - first.right, first.left - second.right)
        gap_y = max(second.bottom - first.top, first.bottom - second.top)
        if gap_x >= job.joints.head.least or gap_y >= bed - step:
            continue
        if not (first.is_rectangle and second.is_rectangle):
            least = min(job.joints.head.least, bed - step)
            if boxes[a].distance(boxes[b]) >= float(least) - _slack(layout):
                continue
        yield f"{drawn[a][1]} and {drawn[b][1]} stand closer than the least joint"


def _slack(layout: Layout) -> float:
    """Return how much room points on a grid may lack: an arch's grid is the coarser."""
    return NOTHING if layout.arch is None else SAWN


def _laid(coursing: Coursing) -> int:
    return len(coursing.laid.courses) if coursing.laid else 0


def _pieces_keep_to_their_faces(
    surround: Surround, coursing: Coursing, layout: Layout
) -> Iterator[str]:
    """No piece leaves its face, enters the opening or goes into the hearth."""
    ring = opening_ring(surround, coursing.head, layout.arch, surround.opening.covered)
    opening = polygon_of(ring)
    opening = opening.buffer(-_slack(layout))
    top = max(course.top for course in coursing.courses)
    top = max(top, coursing.soldier_top or top)
    for piece in layout.pieces:
        for outline in piece.outlines:
            face = surround.face(outline.face)
            if outline.left < face.left or outline.right > face.right:
                yield f"{piece.id} leaves the {face.name} face"
            if outline.top > top:
                yield f"{piece.id} leaves the face's height"
            hearth = surround.hearth_under(face)
            if any(y < hearth.at(x) for x, y in outline.points):
                yield f"{piece.id} goes into the hearth"
            shape = polygon_of(outline.points)
            if outline.face == "front" and shape.intersects(opening):
                yield f"{piece.id} enters the opening"
            yield from _beyond_the_ends(surround, piece, outline)


def _beyond_the_ends(
    surround: Surround, piece: Piece, outline: Outline
) -> Iterator[str]:
    """No piece crosses an end of the faces, however it leans."""
    faces = surround.faces[0].name, surround.faces[-1].name
    for line, face, way in zip(surround.as_built.ends, faces, (-1, 1), strict=True):
        if outline.face == face and any(
            (x - x_at(line, y)) * way > NOTHING for x, y in outline.points
        ):
            yield f"{piece.id} leaves the {face} face"


def _nothing_gapes(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout
) -> Iterator[str]:
    """What is neither piece nor opening is nowhere wider than the widest joint.

    A square a little larger than the widest joint must find no room: its centre may
    be nowhere in the face, drawn in by half the square, that is clear of every piece
    and of the opening, each grown by half the square.
    """
    joints, edges = job.joints, job.edges
    widest = max(
        joints.head.most, joints.bed.most, joints.bottom.most, edges.left.width,
        edges.right.width, edges.jambs.width,
        *coursing.joints[: _laid(coursing)],
        # What neither joint nor saw takes up of a hearth is found by the review.
        coursing.joints[0] + plan_bottom_course(job).in_joint,
    )  # fmt: skip
    if layout.arch is not None:
        # Beside its back a course may end thinner than any piece: that is mortar, too.
        widest = max(widest, joints.bed.preferred + joints.bed.most)
    half = float(widest + joints.step) / 2 + NOTHING
    top = float(max(course.top for course in coursing.courses))
    opening = surround.opening
    ring = opening_ring(surround, coursing.head, layout.arch, opening.beside)
    hole = _grown(dropped(ring), half)
    for face in (*surround.faces, *surround.reveals):
        grown = [
            _grown(o.points, half)
            for piece in layout.pieces
            for o in piece.outlines
            if o.face == face.name
        ]
        if face.name == "front":
            grown.append(hole)
        if face.width <= 2 * half:
            continue
        high = float(coursing.head) if face in surround.reveals else top
        room = _room(surround, face, half, high)
        left_over = room.difference(shapely.union_all(grown))
        if left_over.area > NOTHING:
            x, y = left_over.representative_point().coords[0]
            yield f"the {face.name} face is bare at {x:.3f}, {y:.3f}"


def _grown(points: Iterable[tuple[Fraction, Fraction]], half: float) -> BaseGeometry:
    """Return a shape, as good as convex, grown by a square of twice `half`."""
    corners = [
        (float(x) + dx, float(y) + dy)
        for x, y in points
        for dx in (-half, half)
        for dy in (-half, half)
    ]
    return shapely.MultiPoint(corners).convex_hull


def _room(surround: Surround, face: Face, half: float, top: float) -> BaseGeometry:
    """Return where the middle of the square may be on a face, hearth and ends true."""
    floor = [
        (float(x), float(y) + half)
        for x, y in surround.hearth_under(face).between(face.left, face.right)
    ]
    left, right = (
        line if face is surround.faces[place] else ((x, Fraction(0)), (x, Fraction(1)))
        for line, place, x in zip(
            surround.as_built.ends, (0, -1), (face.left, face.right), strict=True
        )
    )
    far = top + half

    def at(line: Line, y: float, aside: float) -> tuple[float, float]:
        return float(x_at(line, Fraction(y))) + aside, y

    outer = shapely.Polygon(
        [
            at(left, -far, half),
            at(right, -far, -half),
            at(right, far, -half),
            at(left, far, half),
        ]
    )
    ceiling = [(float(face.right), top - half), (float(face.left), top - half)]
    return outer.intersection(shapely.Polygon([*floor, *ceiling]))
