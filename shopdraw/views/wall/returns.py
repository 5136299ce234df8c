"""Draw a return, or a jamb that brick turns into, as an elevation.

In:  `Solution`, the face, the scale.   Out: `Drawing`.
Frame: full size; x from the left end of the return as seen facing it, y from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.dimensions import levels_used
from shopdraw.drawing.ink import Align, Drawing, Ink, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.complaint import grown_on
from shopdraw.job.model_face import SIDES
from shopdraw.job.turning import SQUARE
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course, Coursing
from shopdraw.masonry.laying.cuts import course_ends
from shopdraw.masonry.laying.outlines import face_ring, whole_ring
from shopdraw.masonry.wall.form import Face, Surround
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import with_leaders
from shopdraw.views.brick.units import unit_ink
from shopdraw.views.parts.courses import course_strings
from shopdraw.views.parts.figures import Hand
from shopdraw.views.parts.phrases import EDGES, FACES, INSIDE_CORNER, OUTSIDE_CORNER
from shopdraw.views.parts.strings import Row, stacked_strings, with_substrate

TITLES = {
    "return": "RETURN, DEVELOPED",
    "chamfer": "CHAMFER, DEVELOPED",
    "alcove": "ALCOVE, DEVELOPED",
}


def draw_return(solution: Solution, face_name: str, scale: float) -> Drawing:
    """Draw a face beside the front: brick, marks, cuts, dimensions, and its ends.

    At an inside corner the outline goes as far as the face is seen, and the brick that
    runs past goes on behind the other face.

    Pieces that count on the return are inserts; the leg of a corner unit that counts
    on the front is plain outline.

    Raises:
        KeyError: the job has no such return.
    """
    job, coursing = solution.job, solution.coursing
    hand = Hand(job.lengths, scale)
    face = solution.surround.face(face_name)
    text, dx = STYLES[job.lengths].text, -float(face.left)
    units, symbols = unit_ink(solution.layout, {face_name}, dx, text, scale)
    outline = whole_ring(solution.surround, coursing, face)
    ring = tuple((float(x - face.left), float(y)) for x, y in outline)
    # A corbel goes past the face's end, and so does brick behind an inside corner.
    right = max(float(face.width), *(x for x, _ in ring))
    ink: list[Ink] = [
        *units,
        Stroke(layers.OUTLINE, ring, closed=True),
        *_ends(solution, face, hand),
        *_courses(right, coursing, hand),
        *_heights(coursing, hand),
        *stacked_strings(
            job,
            _level_rows(solution, face),
            scale,
            _lowest(solution),
        ),
    ]
    what = FACES[face.name]
    side = face_name.split()[0]
    title = f"{side.upper()} {TITLES[what]}"
    drawing = Drawing(f"{what}-{side}", title, scale, tuple(ink), symbols)
    return with_leaders(solution.layout.pieces, {face_name}, dx, text, drawing)


def draw_reveal(solution: Solution, face_name: str, scale: float) -> Drawing:
    """Draw a jamb that brick turns into, as seen from inside the opening.

    Raises:
        KeyError: the job has no such reveal.
    """
    job, coursing = solution.job, solution.coursing
    hand = Hand(job.lengths, scale)
    face = solution.surround.face(face_name)
    side = face_name.split()[0]
    text, dx = STYLES[job.lengths].text, -float(face.left)
    units, symbols = unit_ink(solution.layout, {face_name}, dx, text, scale)
    outline = face_ring(solution.surround, face, coursing.head)
    ring = tuple((float(x - face.left), float(y)) for x, y in outline)
    below = coursing.courses[: coursing.courses_below_head]
    rows = _course_rows(solution, face, below)
    name = "ALONG THE JAMB" if solution.surround.splay else "DEPTH"
    rows = _with_whole(rows, name, (Fraction(0), face.width))
    width = float(face.width)
    y = float(coursing.head) + 1.2 * hand.text
    inner, outer = (width, 0.0) if side == "left" else (0.0, width)
    ink: list[Ink] = [
        *units,
        Stroke(layers.OUTLINE, ring, closed=True),
        Words(layers.NOTES, (outer, y), "FACE", text, "centre"),
        Words(
            layers.NOTES, (inner, y + 1.7 * hand.text), "FIREBOX SIDE", text, "centre"
        ),
        *hand.string("y", (Fraction(0), coursing.head), -3.0 * hand.text),
        *stacked_strings(job, rows, scale, min(0.0, float(min(y for _, y in outline)))),
    ]
    title = f"{side.upper()} JAMB, DEVELOPED"
    drawing = Drawing(f"reveal-{side}", title, scale, tuple(ink), symbols)
    return with_leaders(solution.layout.pieces, {face_name}, dx, text, drawing)


def _with_whole(rows: list[Row], name: str, whole: tuple[Fraction, ...]) -> list[Row]:
    """Add the string of the whole, unless one piece from end to end gives it."""
    for place, (course, positions) in enumerate(rows):
        if positions == whole:
            both = course.replace(",", f" AND {name},"), positions
            return [*rows[:place], both, *rows[place + 1 :]]
    return [*rows, (f"{name}, FINISH", whole)]


def _lowest(solution: Solution) -> float:
    """Return the lowest level of all such faces: side by side, their strings align."""
    surround, coursing = solution.surround, solution.coursing
    faces = (x for x in surround.faces if x is not surround.front)
    rings = (whole_ring(surround, coursing, x) for x in faces)
    return float(min(y for ring in rings for _, y in ring))


def _ends(solution: Solution, face: Face, hand: Hand) -> Iterator[Ink]:
    """Letter the outside corner and the wall end, with the joint that is left there."""
    text = STYLES[hand.lengths].text
    labels = tuple(_end_words(solution, face, x, hand) for x in face.seen)
    first, last = (float(x - face.left) for x in face.seen)
    width, y = last - first, float(solution.coursing.top) + 1.2 * hand.text
    # On a narrow return one label stands outward, below the other.
    crowded = hand.width("".join(labels)) + 2 * hand.text > width
    lift = 1.7 * hand.text if crowded else 0.0
    align: Align = "right" if crowded else "left"
    yield Words(layers.NOTES, (first, y), labels[0], text, align)
    yield Words(layers.NOTES, (last, y + lift), labels[1], text, "right")


def _end_words(solution: Solution, face: Face, x: Fraction, hand: Hand) -> str:
    """Letter what is at an end: a corner and its angle, or the wall and its joint."""
    surround = solution.surround
    if x in surround.folds:
        turn = surround.turn_at(x)
        return OUTSIDE_CORNER + ("" if turn == SQUARE else f", {float(turn):g} DEG")
    if x == face.inside_corner:
        return INSIDE_CORNER
    edge = surround.left_edge if x == surround.left_edge.x else surround.right_edge
    joint = abs(edge.brick_x - edge.x)
    where = "WALL" if edge.against == "wall" else "FREE EDGE"
    if not joint:
        return where
    kind = EDGES[edge.kind].format(f" {format_length(joint, hand.lengths)}")
    return f"{where}, {kind.upper()}"


def _courses(right: float, coursing: Coursing, hand: Hand) -> Iterator[Ink]:
    """Number the courses at the right of all brick, as far as there is room."""
    style = STYLES[hand.lengths]
    x = right + 1.2 * hand.text
    least = min(course.top - course.bottom for course in coursing.courses)
    stride = max(1, int(1.4 * hand.text / float(least)) + 1)
    courses = coursing.courses[::stride]
    for course in courses:
        y = float(course.bottom + course.top) / 2
        number = str(course.number)
        yield Words(layers.NOTES, (x, y), number, style.text, "left", "middle")
    over = (x, float(courses[-1].top) + 1.2 * hand.text)
    yield Words(layers.NOTES, over, "COURSE", style.text, "left", "foot")


def _heights(coursing: Coursing, hand: Hand) -> Iterator[Ink]:
    """Dimension head and top at the left; the elevation has every course's height."""
    head, top = coursing.head, coursing.top
    at = -3.0 * hand.text
    if 0 < head < top:
        measures = hand.string("y", (Fraction(0), head, top), at)
        yield from measures
        at -= levels_used(measures, at, hand.scale) * hand.scale + 1.2 * hand.text
    yield from hand.string("y", (Fraction(0), top), at)


def _level_rows(solution: Solution, face: Face) -> list[Row]:
    """Return the strings below, nearest first: courses, overall, as measured."""
    surround = solution.surround
    rows = _course_rows(solution, face, solution.coursing.courses)
    rows += _overall(surround, face, solution.coursing.top)
    if solution.job.face.measured_to == "substrate":
        rows = with_substrate(rows, _as_measured(solution, face))
    return rows


def _as_measured(solution: Solution, face: Face) -> tuple[Fraction, Fraction]:
    """Return where the substrate of a face begins and ends, from its left end."""
    side = SIDES[face.name.startswith("right")]
    wide = solution.job.face.alcove(side)
    if face.is_alcove and wide is not None:
        return (
            (Fraction(0), wide) if side == "left" else (face.width - wide, face.width)
        )
    place = 0 if face.name.endswith("chamfer") else -1
    near = grown_on(solution.job, side)[place]
    along = solution.job.face.beside(side)[place].along
    if side == "right":
        return near, near + along
    return face.width - near - along, face.width - near


def _course_rows(
    solution: Solution, face: Face, courses: tuple[Course, ...]
) -> list[Row]:
    """Return the strings of the courses of a face.

    Where a course runs past an inside corner the string goes as far as its brick.
    """
    return course_strings(
        solution, courses, lambda x: _row_positions(solution, face, x), len(courses)
    )


def _row_positions(
    solution: Solution, face: Face, course: Course
) -> tuple[Fraction, ...]:
    """Return both ends of every piece of a course on a face, at mid height."""
    ends = set(course_ends(solution.layout, face.name, course))
    low, high = min(ends, default=face.left), max(ends, default=face.left)
    places = ends | {x for x in face.seen if not low < x < high}
    return tuple(x - face.left for x in sorted(places))


def _overall(surround: Surround, face: Face, top: Fraction) -> list[Row]:
    """Return the overall string; one at foot and one at top where the wall leans."""
    ring = face_ring(surround, face, top)
    left_foot, right_foot, right_top, left_top = ring[0], ring[-3], ring[-2], ring[-1]
    feet = (left_foot[0] - face.left, right_foot[0] - face.left)
    tops = (left_top[0] - face.left, right_top[0] - face.left)
    if feet == tops:
        return [("OVERALL, FINISH", feet)]
    return [("OVERALL AT THE FOOT, FINISH", feet), ("OVERALL AT THE TOP, FINISH", tops)]
