"""Draw a developed return as an elevation.

In:  `Job`, `Surround`, `Coursing`, `Layout`, the face, the scale.   Out: `Drawing`.
Frame: full size; x from the left end of the return as seen facing it, y from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.dimensions import levels_used
from shopdraw.drawing.ink import Align, Drawing, Ink, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.layout import Layout
from shopdraw.masonry.surround import Face, Surround
from shopdraw.views.figures import LEVELS, NOTE, Hand, ring_of
from shopdraw.views.strings import stacked_strings, top_of
from shopdraw.views.units import unit_ink


def draw_return(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    face_name: str,
    scale: float,
) -> Drawing:
    """Draw one return: units, marks, cuts, strings, and which end is which.

    Pieces that count on the return are inserts; the leg of a corner unit that counts
    on the front is plain outline.

    Raises:
        KeyError: the job has no such return.
    """
    hand = Hand(job.lengths, scale)
    face = surround.face(face_name)
    small = STYLES[job.lengths].small
    units, symbols = unit_ink(layout, {face_name}, -float(face.left), small, scale)
    whole = (0.0, 0.0, float(face.width), float(top_of(coursing)))
    ink: list[Ink] = [
        *units,
        Stroke("A-ELEV-OTLN", ring_of(whole), closed=True),
        *_ends(surround, face, coursing, hand),
        *_courses(face, coursing, hand),
        *_heights(coursing, hand),
        *stacked_strings(job, _level_rows(job, surround, face, layout), scale),
    ]
    title = f"{face_name.upper()} RETURN, DEVELOPED"
    return Drawing(f"return-{face_name}", title, scale, tuple(ink), symbols)


def _ends(
    surround: Surround, face: Face, coursing: Coursing, hand: Hand
) -> Iterator[Ink]:
    """Say which end is the fold and which the wall, and what joint is left there."""
    text = STYLES[hand.lengths].text
    edge = surround.left_edge if face.name == "left" else surround.right_edge
    joint = abs(edge.brick_x - edge.x)
    wall = "WALL"
    if joint:
        wall = f"WALL, {edge.kind.upper()} {format_length(joint, hand.lengths)}"
    labels = (wall, "FOLD") if face.name == "left" else ("FOLD", wall)
    width, y = float(face.width), float(top_of(coursing)) + 1.2 * hand.text
    # On a narrow return one label stands outward, below the other.
    crowded = hand.width("".join(labels)) + 2 * hand.text > width
    lift = 1.7 * hand.text if crowded else 0.0
    align: Align = "right" if crowded else "left"
    yield Words(NOTE, (0.0, y), labels[0], text, align)
    yield Words(NOTE, (width, y + lift), labels[1], text, "right")


def _courses(face: Face, coursing: Coursing, hand: Hand) -> Iterator[Ink]:
    """Number the courses at the right, as many as there is room for; mark the datum."""
    style = STYLES[hand.lengths]
    width = float(face.width)
    x = width + 1.2 * hand.text
    least = min(course.top - course.bottom for course in coursing.courses)
    stride = max(1, int(1.4 * hand.text / float(least)) + 1)
    courses = coursing.courses[::stride]
    for course in courses:
        y = float(course.bottom + course.top) / 2
        number = str(course.number)
        yield Words(NOTE, (x, y), number, style.text, "left", "middle")
    over = (x, float(courses[-1].top) + 1.2 * hand.text)
    yield Words(NOTE, over, "COURSE", style.small, "left", "foot")
    reach = 0.8 * hand.text
    end = x + hand.width("DATUM", small=True)
    yield Stroke(LEVELS, ((-reach, 0.0), (0.0, 0.0)))
    yield Stroke(LEVELS, ((width, 0.0), (end, 0.0)))
    yield Words(NOTE, (x, -0.4 * hand.text), "DATUM", style.small, "left", "top")


def _heights(coursing: Coursing, hand: Hand) -> Iterator[Ink]:
    """Dimension head and top at the left; every course's height is on the elevation."""
    small = STYLES[hand.lengths].small
    head, top = coursing.head, top_of(coursing)
    name = "OPENING HEAD"
    at = -(hand.width(name, small=True) + 2.0 * hand.text)
    if 0 < head < top:
        measures = hand.string("y", (Fraction(0), head, top), at)
        yield from measures
        y = float(head)
        yield Stroke(LEVELS, ((at, y), (0.0, y)))
        where = (-0.8 * hand.text, y + 0.4 * hand.text)
        yield Words(NOTE, where, name, small, "right")
        at -= levels_used(measures, at, hand.scale) * hand.scale + 1.2 * hand.text
    yield from hand.string("y", (Fraction(0), top), at)


Row = tuple[str, tuple[Fraction, ...]]


def _level_rows(job: Job, surround: Surround, face: Face, layout: Layout) -> list[Row]:
    """Return the level strings, nearest first: two courses, overall, as measured."""
    rows: list[Row] = []
    for course in sorted({piece.course for piece in layout.pieces})[:2]:
        ends = {
            x - face.left
            for piece in layout.pieces
            if piece.course == course
            for outline in piece.outlines
            if outline.face == face.name
            for x in (outline.left, outline.right)
        }
        positions = tuple(sorted({Fraction(0), *ends, face.width}))
        rows.append((f"COURSE {course}, FINISH", positions))
    rows.append(("OVERALL, FINISH", (Fraction(0), face.width)))
    if job.face.measured_to == "substrate":
        depth = face.width - surround.build_out
        wall_first = face.name == "left"
        start = Fraction(0) if wall_first else surround.build_out
        rows.append(("SUBSTRATE, AS MEASURED", (start, start + depth)))
    return rows
