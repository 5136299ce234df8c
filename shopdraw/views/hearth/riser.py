"""Draw the riser of a raised hearth, a face at a time.

In:  `Solution`, the face, the scale.   Out: `Drawing`.
Frame: full size; x from the left end of the face as seen facing it, y up from the
floor.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.masonry.hearth.form import RISER_FACES, BrickHearth, Riser
from shopdraw.masonry.laying.cuts import course_ends
from shopdraw.masonry.wall.form import Face
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import with_leaders
from shopdraw.views.brick.units import unit_ink
from shopdraw.views.parts.figures import Hand
from shopdraw.views.parts.phrases import OUTSIDE_CORNER
from shopdraw.views.parts.strings import Says, lines_below, stacked_strings
from shopdraw.views.wall.standing import made_of

TITLES = {
    "front": "RISER, FRONT",
    "left": "RISER, LEFT END",
    "right": "RISER, RIGHT END",
}
ZERO = Fraction(0)


def draw_riser(
    solution: Solution, hearth: BrickHearth, riser: Riser, name: str, scale: float
) -> Drawing:
    """Draw one face of the riser: its brick, its courses, its length.

    Args:
        solution: for the job's lengths.
        hearth: whose riser it is.
        riser: what is drawn.
        name: "left", "front" or "right".
        scale: of the drawing.
    """
    job = solution.job
    hand, style = Hand(job.lengths, scale), STYLES[job.lengths]
    face = riser.surround.face(name)
    shown, dx = {str(RISER_FACES[name])}, -float(face.left)
    units, symbols = unit_ink(hearth.layout, shown, dx, style.text, scale)
    levels = sorted(
        {ZERO, *(y for c in riser.coursing.courses for y in (c.bottom, c.top))}
    )
    wide, top = float(face.width), float(riser.coursing.top)
    rows = _rows(riser, face)
    ink: list[Ink] = [
        *units,
        Stroke(layers.OUTLINE, outline_of(face, riser), closed=True),
        *hand.upright_strings(tuple(levels), -3.0 * hand.text),
        *stacked_strings(
            job, rows, scale, says=_nosing(riser, face, len(rows) - 1, hand)
        ),
        Stroke(layers.OTHERS, ((-2.0 * hand.text, 0.0), (wide + 2.0 * hand.text, 0.0))),
        Words(
            layers.NOTES,
            (wide + 0.6 * hand.text, 0.5 * hand.text),
            "FLOOR",
            style.text,
        ),
    ]
    for row, said in enumerate(("DATUM: TOP", "OF THE HEARTH")):
        at_top = (wide + 0.6 * hand.text, top - (0.5 + 1.6 * row) * hand.text)
        ink.append(Words(layers.NOTES, at_top, said, style.text))
    y = top + 1.2 * hand.text
    for (at, lift), words, align in _ends(name, wide, hand):
        ink.append(Words(layers.NOTES, (at, y + lift), words, style.text, align))
    drawing = Drawing(f"riser-{name}", TITLES[name], scale, tuple(ink), symbols)
    return with_leaders(hearth.layout.pieces, shown, dx, style.text, drawing)


def outline_of(face: Face, riser: Riser) -> tuple[Point, ...]:
    """Return the outline of a face of the riser."""
    wide, top = float(face.width), float(riser.coursing.top)
    return ((0.0, 0.0), (wide, 0.0), (wide, top), (0.0, top))


def _ends(name: str, wide: float, hand: Hand) -> Iterator[tuple[Point, str, Align]]:
    """Yield what each end is called: how far along, how much higher, and words.

    On a short face the last stands over the first.
    """
    first, last = OUTSIDE_CORNER, OUTSIDE_CORNER
    if name == "left":
        first = "WALL"
    if name == "right":
        last = "WALL"
    crowded = hand.width(first + last) + 2 * hand.text > wide
    yield (0.0, 0.0), first, "left"
    yield (wide, 1.7 * hand.text if crowded else 0.0), last, "right"


def _rows(riser: Riser, face: Face) -> list[tuple[str, tuple[Fraction, ...]]]:
    """Return the strings below: the first two courses, then the whole length."""
    running = riser.coursing.courses
    if riser.has_nosing:
        running = running[:-1]
    rows = []
    for course in running[:2]:
        ends = {face.left, *course_ends(riser.layout, face.name, course), face.right}
        places = tuple(x - face.left for x in sorted(ends))
        rows.append((f"COURSE {course.number}, FINISH", places))
    last = "NOSING AND OVERALL, FINISH" if riser.has_nosing else "OVERALL, FINISH"
    rows.append((last, (ZERO, face.width)))
    return rows


def _nosing(riser: Riser, face: Face, place: int, hand: Hand) -> dict[int, Says]:
    """Say, below the string at a place, what the nosing of a face is made of.

    It begins no further left than the string, whose name stands there.
    """
    if not riser.has_nosing:
        return {}
    top = riser.coursing.courses[-1].number
    run = sorted(
        (
            outline
            for piece in riser.layout.in_courses
            for outline in piece.outlines
            if outline.face == face.name and piece.course == top
        ),
        key=lambda outline: outline.left,
    )
    words = made_of("rowlock", (face.left, face.right), run, riser.job.lengths)
    middle = float(face.left + face.right) / 2
    lines = lines_below((middle, words), (face.left, face.right), hand.text)
    widest = max(hand.width(line) for line in lines)
    return {place: (max(float(face.width), widest) / 2, words)}
