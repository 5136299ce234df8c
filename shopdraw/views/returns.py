"""Draw a developed return as an elevation.

In:  `Job`, `Surround`, `Coursing`, `Layout`, the face, the scale.   Out: `Drawing`.
Frame: full size; x from the left end of the return as seen facing it, y from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.dimensions import Chain, StringStyle, string_of_dimensions
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.layout import Layout
from shopdraw.masonry.surround import Face, Surround
from shopdraw.views.strings import stacked_strings, top_of
from shopdraw.views.units import unit_ink

DIMS = "A-ANNO-DIMS"
NOTE = "A-ANNO-NOTE"


def draw_return(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    name: str,
    scale: float,
) -> Drawing:
    """Draw one return: units, marks, cuts, strings, and which end is which."""
    style = STYLES[job.lengths]
    face = surround.face(name)
    dx = -float(face.left)
    units, symbols = unit_ink(layout, {name}, dx, style.small, scale)
    ink: list[Ink] = [
        *units,
        *_outline(face, coursing),
        *_ends(job, face, coursing, scale),
        *_level_strings(job, face, layout, scale),
        *_upright_strings(job, coursing, scale),
    ]
    title = f"{name.upper()} RETURN, DEVELOPED"
    return Drawing(f"return-{name}", title, scale, tuple(ink), symbols)


def _outline(face: Face, coursing: Coursing) -> Iterator[Ink]:
    right, top = float(face.width), float(top_of(coursing))
    corners = ((0.0, 0.0), (right, 0.0), (right, top), (0.0, top))
    yield Stroke("A-ELEV-OTLN", corners, closed=True)


def _ends(job: Job, face: Face, coursing: Coursing, scale: float) -> Iterator[Ink]:
    """Say which end is the fold and which the wall."""
    style = STYLES[job.lengths]
    y = float(top_of(coursing)) + 1.2 * style.text * scale
    ends = ("WALL", "FOLD") if face.name == "left" else ("FOLD", "WALL")
    width = float(face.width)
    yield Words(NOTE, (0.0, y), ends[0], style.text, "left")
    if width < 10 * style.text * scale:
        y += 1.7 * style.text * scale
    yield Words(NOTE, (width, y), ends[1], style.text, "right")


def _level_strings(job: Job, face: Face, layout: Layout, scale: float) -> Iterator[Ink]:
    courses = sorted({piece.course for piece in layout.pieces})[:2]
    rows: list[tuple[str, tuple[Fraction, ...]]] = []
    for course in courses:
        ends = {
            x - face.left
            for piece in layout.pieces
            if piece.course == course
            for outline in piece.outlines
            if outline.face == face.name
            for x in (outline.left, outline.right)
        }
        rows.append(
            (
                f"COURSE {course}, FINISH",
                tuple(sorted({Fraction(0), *ends, face.width})),
            )
        )
    rows.append(("OVERALL, FINISH", (Fraction(0), face.width)))
    yield from stacked_strings(job, rows, scale)


def _upright_strings(job: Job, coursing: Coursing, scale: float) -> Iterator[Ink]:
    """Set the overall height at the left; the running heights are on the elevation."""
    style = STYLES[job.lengths]
    chain = Chain((Fraction(0), top_of(coursing)), "y", job.lengths)
    at = -3.5 * style.text * scale
    set_out = StringStyle(DIMS, style.text, scale, outward=-1)
    yield from string_of_dimensions(chain, at, at + 1.2 * style.text * scale, set_out)
