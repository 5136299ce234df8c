"""Draw a corner unit that is not square, as the fabricator makes it of two flat brick.

In:  `Job`, one row of the cut list, the scale.   Out: `Drawing`, strokes.
Frame: full size; the unit from above about its own outside corner, its first leg along
x; below it each leg by itself, its face down.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import cos, pi, radians, sin

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.job.turning import cos_sin, taken_at_mitre
from shopdraw.lengths import format_made, typed_length
from shopdraw.masonry.wall.layout import CutListRow
from shopdraw.masonry.wall.turning import turning_of
from shopdraw.quantities.fabricating import sawn_tolerance
from shopdraw.quantities.stops import LEGS
from shopdraw.views.making.sharing import Unlettered
from shopdraw.views.parts.figures import string_from

PITCH = 11
"""From one leg to the next, beyond its thickness, in heights of lettering."""


def draw_mitred_unit(job: Job, row: CutListRow, scale: float) -> Unlettered:
    """Draw the unit put together, its angle, and each leg with its mitre.

    A unit that may not be turned over is drawn with its first leg on the side where it
    belongs.
    """
    text, thick = STYLES[job.lengths].text * scale, job.brick.thickness
    ink: list[Ink] = [*put_together(job, row), *_angle(job, row, text)]
    y = -float(thick) - 7.0 * text
    for name, leg in legs_of(row):
        part = leg_alone(job, row, leg, 0.6 * text)
        ink += (_lifted(stroke, y) for stroke in part)
        ink += _leg_figures(job, row, (name, leg), y, scale)
        y -= float(thick) + PITCH * text
    reach = min(0.0, hand_of(row) * float(max(row.legs)))
    foot = (reach, y + (PITCH - 6.0) * text + float(thick))
    drawing = Drawing(f"detail-{row.mark}", "", scale, tuple(ink))
    return Unlettered(job, row, drawing, foot, tuple(_lines(job, row)))


def hand_of(row: CutListRow) -> int:
    """Return on which side of its corner the first leg is: 1 right, -1 left."""
    return -1 if row.hand == "L" else 1


def legs_of(row: CutListRow) -> Iterator[tuple[str, Fraction]]:
    """Yield the name and the length of each leg, the longer one first."""
    for letter, leg in zip(LEGS, sorted(row.legs, reverse=True), strict=True):
        yield f"{row.mark}{letter}", leg


def put_together(job: Job, row: CutListRow) -> tuple[Stroke, ...]:
    """Draw the unit from above, without figures: its outline and its mitre."""
    ring = _together(job, row)
    return (ring, Stroke(layers.SECTION, (ring.points[0], ring.points[3])))


def leg_alone(
    job: Job, row: CutListRow, leg: Fraction, past: float
) -> tuple[Stroke, ...]:
    """Draw a leg by itself, face down: what is kept, the brick, and the cut.

    Args:
        job: its brick.
        row: the unit.
        leg: how long the leg is outside.
        past: how far the cut runs past the brick.
    """
    hand, long, thick = hand_of(row), float(leg), float(job.brick.thickness)
    back = float(taken_at_mitre(job.brick.thickness, row.turn))
    start = long - float(job.brick.length)
    kept = ((0.0, 0.0), (long, 0.0), (long, thick), (back, thick))
    brick = ((back, thick), (start, thick), (start, 0.0), (0.0, 0.0))
    share = past / thick
    cut = ((-share * back, -past), ((1 + share) * back, thick + past))
    return (
        Stroke(layers.SECTION, _handed(kept, hand), closed=True),
        Stroke(layers.HIDDEN, _handed(brick, hand)),
        Stroke(layers.CUTS, _handed(cut, hand)),
    )


def _handed(points: tuple[Point, ...], hand: int) -> tuple[Point, ...]:
    return tuple((hand * x, y) for x, y in points)


def _lifted(stroke: Stroke, y: float) -> Stroke:
    points = tuple((a, b + y) for a, b in stroke.points)
    return Stroke(stroke.layer, points, closed=stroke.closed)


def _together(job: Job, row: CutListRow) -> Stroke:
    thick = float(job.brick.thickness)
    back = float(taken_at_mitre(job.brick.thickness, row.turn))
    across, up = (float(part) for part in cos_sin(row.turn))
    a, b = (float(leg) for leg in row.legs)
    end = -b * across, b * up
    ring = (
        (0.0, 0.0),
        (a, 0.0),
        (a, thick),
        (back, thick),
        (end[0] + thick * up, end[1] + thick * across),
        end,
    )
    return Stroke(layers.SECTION, _handed(ring, hand_of(row)), closed=True)


def between_legs(row: CutListRow) -> str:
    """Letter the angle between the legs, measured outside."""
    return f"{float(180 - row.turn):g} DEGREES"


def _angle(job: Job, row: CutListRow, text: float) -> Iterator[Ink]:
    """Draw an arc between the legs and letter the angle in it."""
    hand, between = hand_of(row), radians(180 - row.turn)
    radius = max(0.62 * float(min(row.legs)), 2.0 * float(job.brick.thickness))
    arc = [
        (radius * cos(between * n / 12), radius * sin(between * n / 12))
        for n in range(13)
    ]
    yield Stroke(layers.DIMENSIONS, _handed(tuple(arc), hand))
    # Clear of both legs: along the line that halves the angle.
    half = between / 2 if between < pi else pi / 2
    far = radius + text
    at = (hand * far * cos(half), far * sin(half))
    words, style = between_legs(row), STYLES[job.lengths]
    align: Align = "left" if hand > 0 else "right"
    yield Words(layers.NOTES, at, words, style.text, align, "foot")


def _leg_figures(
    job: Job, row: CutListRow, leg: tuple[str, Fraction], y: float, scale: float
) -> Iterator[Ink]:
    """Dimension a leg outside, below it, and inside, above it; letter its name."""
    hand, (name, long), thick = hand_of(row), leg, job.brick.thickness
    text, zero = STYLES[job.lengths].text * scale, Fraction(0)
    back = taken_at_mitre(thick, row.turn)
    outside, inside = (zero, hand * long), (hand * back, hand * long)
    yield from string_from(job, outside, "x", y - 3 * text, y - 0.8 * text, scale, -1)
    top = y + float(thick)
    yield from string_from(job, inside, "x", top + 3 * text, top + 0.8 * text, scale, 1)
    at = (hand * (float(long) + text), y + float(thick) / 2)
    small = STYLES[job.lengths].text
    align: Align = "left" if hand > 0 else "right"
    yield Words(layers.NOTES, at, name, small, align, "middle")


def _lines(job: Job, row: CutListRow) -> Iterator[str]:
    """Yield the lines lettered below the unit: what the drawing can't show."""
    height = format_made(row.height, job.lengths)
    within = typed_length(sawn_tolerance(job), job.lengths).upper()
    yield f"{row.kind.upper()} SEEN FROM ABOVE, {height} HIGH; BELOW IT ITS LEGS"
    yield from making_of(row)
    yield f"TOLERANCE OF EACH LEG: {within} EITHER WAY"
    if row.unfolded:
        yield "SAWN TO SHAPE: SEE ITS LEGS UNFOLDED"
    elif row.is_cut:
        yield f"SAW TO {height} HIGH"
    yield turning_of(row).upper()


def making_of(row: CutListRow) -> Iterator[str]:
    """Yield how the fabricator makes the unit. Common practice, no published source."""
    half = f"{float(row.turn / 2):g}"
    yield f"{between_legs(row)} BETWEEN ITS LEGS, MEASURED ON THE FACES"
    yield f"MITRE EACH LEG {half} DEGREES OFF SQUARE, LONGEST ON THE FACE"
    yield "THE FREE ENDS STAY AS DELIVERED"
    yield "GLUE MITRE TO MITRE, TIGHT: NO JOINT IS ALLOWED FOR"
