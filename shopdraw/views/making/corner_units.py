"""Draw corner units from above, as the fabricator makes them.

In:  `Job`, one row of the cut list, the scale.   Out: `Drawing`.
Frame: full size, about the unit's own outside corner.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Measure, Stroke
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.job.model_brick import CornerTable
from shopdraw.lengths import format_made, typed_length
from shopdraw.masonry.wall.layout import CutListRow
from shopdraw.masonry.wall.printing import as_printed
from shopdraw.masonry.wall.surround import corner_legs
from shopdraw.masonry.wall.turning import turning_of
from shopdraw.quantities.fabricating import sawn_tolerance
from shopdraw.views.making.mitred_units import draw_mitred_unit, hand_of
from shopdraw.views.making.sharing import Unlettered
from shopdraw.views.parts.figures import Box, string_from

NONE = Fraction(0)
MADE = {"solid": "SOLID, IN ONE PIECE", "mitred": "TWO LEGS MITRED AND GLUED"}


def draw_corner_unit(job: Job, row: CutListRow, scale: float) -> Unlettered:
    """Draw a corner unit from above, its outside corner at the lower left or right.

    Both legs are dimensioned outside; the strings on the inside give its thickness and
    the inside length, as a check. A unit that may not be turned over is drawn with its
    long leg on the side where it belongs. One that is not square is made of two brick.
    """
    if row.is_made:
        return draw_mitred_unit(job, row, scale)
    text = STYLES[job.lengths].text * scale
    hand = hand_of(row)
    thick, (long, short) = job.brick.thickness, row.legs
    a, b, t = float(long), float(short), float(thick)
    whole = corner_as_bought(job, row)
    far_x, far_y = max(a, float(whole[0])), max(b, float(whole[1]))
    ell = ((0.0, 0.0), (a, 0.0), (a, t), (t, t), (t, b), (0.0, b))
    ink: list[Ink] = [
        Stroke(layers.SECTION, tuple((hand * x, y) for x, y in ell), closed=True),
        *_trims(row, whole, thick, hand, 0.6 * text),
        *_mitre_line(job, row, t, hand),
        *string_from(job, (NONE, hand * long), "x", -3 * text, -0.6 * text, scale, -1),
        *string_from(
            job, (NONE, short), "y", -3 * hand * text, -0.6 * hand * text, scale, -hand
        ),
    ]
    if long > thick and short > thick:
        across = (NONE, hand * thick, hand * long)
        line, start = far_y + 3 * text, far_y + 0.6 * text
        string = string_from(job, across, "x", line, start, scale, 1)
        ink += _reaching(string, hand * a, t + 0.6 * text)
        line, start = hand * (far_x + 3 * text), hand * (far_x + 0.6 * text)
        string = string_from(
            job, (NONE, thick, short), "y", line, start, scale, hand, upright=True
        )
        ink += _reaching(string, b, hand * (t + 0.6 * text))
    foot = (min(0.0, hand * far_x), -6 * text)
    drawing = Drawing(f"detail-{row.mark}", "", scale, tuple(ink))
    return Unlettered(job, row, drawing, foot, tuple(_corner_lines(job, row)))


def _reaching(
    measures: tuple[Measure, ...], far: float, across: float
) -> Iterator[Measure]:
    """Draw the extension line at one position right up to what it measures."""
    for measure in measures:
        level = measure.axis == "x"
        point = (far, across) if level else (across, far)
        along = 0 if level else 1
        if measure.end[along] == far:
            yield replace(measure, end=point)
        elif measure.start[along] == far:
            yield replace(measure, start=point)
        else:
            yield measure


def _corner_table(job: Job, row: CutListRow) -> CornerTable | None:
    return job.brick.corner if row.kind == "corner unit" else job.brick.soldier_corner


def corner_as_bought(job: Job, row: CutListRow) -> tuple[Fraction, Fraction]:
    """Return the legs of the corner unit as bought, measured outside."""
    corner = _corner_table(job, row)
    if corner is None:
        return row.legs[0], row.legs[1]
    return corner_legs(corner, job.brick.thickness)


def _corner_lines(job: Job, row: CutListRow) -> Iterator[str]:
    """Yield the lines lettered below a corner unit: what the drawing can't show."""
    height = format_made(row.height, job.lengths)
    yield f"{row.kind.upper()} SEEN FROM ABOVE, {height} HIGH"
    yield "MEASURE LEGS OUTSIDE; CHECK WITH THE INSIDE FIGURES"
    within = typed_length(sawn_tolerance(job), job.lengths).upper()
    corner = _corner_table(job, row)
    if corner is not None:
        yield f"{MADE[corner.made]}; SQUARE WITHIN {within} AT THE LEG ENDS"
    yield f"TOLERANCE OF EACH LEG: {within} EITHER WAY"
    if row.is_trimmed:
        names = ("LONG", "SHORT")
        for name, leg, whole in zip(
            names, row.legs, corner_as_bought(job, row), strict=True
        ):
            if leg < whole:
                was = format_made(whole, job.lengths)
                yield f"SAW {name} LEG FROM {was}, AT ITS FREE END"
    if row.unfolded:
        yield "SAWN TO SHAPE: SEE ITS LEGS UNFOLDED"
    elif row.is_cut:
        yield f"SAW TO {height} HIGH"
    yield turning_of(row).upper()


def _trims(
    row: CutListRow,
    whole: tuple[Fraction, Fraction],
    thick: Fraction,
    hand: int,
    past: float,
) -> Iterator[Ink]:
    """Draw each leg as bought in hidden line, and the cut at its free end."""
    (long, short), t = (float(x) for x in row.legs), float(thick)
    far_x, far_y = float(whole[0]), float(whole[1])
    if long < far_x:
        yield Stroke(layers.CUTS, ((hand * long, -past), (hand * long, t + past)))
        end = ((long, 0.0), (far_x, 0.0), (far_x, t), (long, t))
        yield Stroke(layers.HIDDEN, tuple((hand * x, y) for x, y in end))
    if short < far_y:
        yield Stroke(layers.CUTS, ((-hand * past, short), (hand * (t + past), short)))
        end = ((0.0, short), (0.0, far_y), (t, far_y), (t, short))
        yield Stroke(layers.HIDDEN, tuple((hand * x, y) for x, y in end))


def _mitre_line(job: Job, row: CutListRow, t: float, hand: int) -> Iterator[Ink]:
    """Draw the mitre of a corner unit that is made of two pieces."""
    corner = _corner_table(job, row)
    if corner is not None and corner.made == "mitred":
        yield Stroke(layers.SECTION, ((0.0, 0.0), (hand * t, t)))


def unfolded_stock(job: Job, row: CutListRow) -> Box:
    """Return what a corner unit's legs are sawn from: as bought, side by side."""
    left, right = as_printed(row.unfolded, job.lengths)
    long, short = corner_as_bought(job, row)
    first, second = (long, short) if row.hand == "L" else (short, long)
    fold, high = left.right, job.brick.height
    if row.kind != "corner unit":
        high = max(row.height, job.brick.length)
    sawn = {*left.sawn_ends(), *right.sawn_ends()}
    top = max(left.top, right.top)
    foot = top - high if "bottom" in sawn and "top" not in sawn else Fraction(0)
    box = fold - first, foot, fold + second, foot + high
    return float(box[0]), float(box[1]), float(box[2]), float(box[3])
