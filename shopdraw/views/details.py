"""Draw what the saw needs: corner units from above, and every cut piece.

In:  `Job`, the cut list, the scale, the room on paper.   Out: `Drawing`s.
Frame: full size; each detail about its own lower left corner, then set out in rows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.drawing.dimensions import Chain, StringStyle, string_of_dimensions
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Ink, Insert, Measure, Point, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import CornerTable, Job
from shopdraw.lengths import format_length
from shopdraw.masonry.layout import CutListRow
from shopdraw.views.units import CUTS

DIMS = "A-ANNO-DIMS"
NOTE = "A-ANNO-NOTE"
SECTION = "A-SECT-MCUT"
HIDDEN = "A-ELEV-HIDD"
UNITS = "A-ELEV-MSNR"


def draw_details(
    job: Job, cut_list: tuple[CutListRow, ...], scale: float, room: tuple[float, float]
) -> list[Drawing]:
    """Draw every corner unit and every cut piece, in rows.

    Args:
        job: for sizes and lengths.
        cut_list: every mark.
        scale: of the details.
        room: width and height on paper that one drawing may take.

    Returns:
        One drawing, or more where one would be higher than the room.
    """
    details = [
        _corner_detail(job, row, scale) if row.legs else _cut_detail(job, row, scale)
        for row in cut_list
        if row.legs or row.is_cut
    ]
    drawings: list[Drawing] = []
    for ink in _in_rows(details, job, scale, room):
        name = f"details-{len(drawings) + 1}"
        drawings.append(Drawing(name, "", scale, ink))
    return drawings


def _in_rows(
    details: list[Drawing], job: Job, scale: float, room: tuple[float, float]
) -> Iterator[tuple[Ink, ...]]:
    """Set details side by side, in rows, in sheets: first come, first set."""
    style = STYLES[job.lengths]
    gap = 3.0 * style.text * scale
    width, height = room[0] * scale * 0.98, room[1] * scale * 0.98
    x = y = row_high = 0.0
    ink: list[Ink] = []
    for detail in details:
        left, bottom, right, top = extent_of(detail)
        wide, high = right - left, top - bottom
        if x > 0 and x + wide > width:
            x, y, row_high = 0.0, y - row_high - gap, 0.0
        if ink and -y + high > height:
            yield tuple(ink)
            ink, x, y, row_high = [], 0.0, 0.0, 0.0
        ink += (moved(one, x - left, y - top) for one in detail.ink)
        x += wide + gap
        row_high = max(row_high, high)
    if ink:
        yield tuple(ink)


def moved(ink: Ink, dx: float, dy: float) -> Ink:
    """Return ink moved."""

    def shift(point: Point) -> Point:
        return (point[0] + dx, point[1] + dy)

    if isinstance(ink, Words):
        return replace(ink, at=shift(ink.at))
    if isinstance(ink, Insert):
        return replace(ink, at=shift(ink.at))
    if isinstance(ink, Measure):
        return replace(
            ink,
            start=shift(ink.start),
            end=shift(ink.end),
            line_at=ink.line_at + (dy if ink.axis == "x" else dx),
            letter=None if ink.letter is None else shift(ink.letter),
        )
    return replace(ink, points=tuple(shift(point) for point in ink.points))


def _titled(
    job: Job, row: CutListRow, scale: float, foot: float, lines: tuple[str, ...]
) -> Iterator[Ink]:
    """Letter the mark and the count below, then what else must be known."""
    style = STYLES[job.lengths]
    y = foot - style.title * scale
    yield Words(NOTE, (0.0, y), f"{row.mark}   {row.count} REQUIRED", style.title)
    for line in lines:
        y -= 1.8 * style.text * scale
        yield Words(NOTE, (0.0, y), line, style.text)


def _string(
    job: Job,
    positions: tuple[Fraction, ...],
    axis: str,
    line_at: float,
    start: float,
    scale: float,
    outward: int,
    *,
    upright: bool = False,
) -> tuple[Measure, ...]:
    style = STYLES[job.lengths]
    chain = Chain(positions, "x" if axis == "x" else "y", job.lengths)
    set_out = StringStyle(DIMS, style.text, scale, outward, upright)
    return string_of_dimensions(chain, line_at, start, set_out)


def _corner_detail(job: Job, row: CutListRow, scale: float) -> Drawing:
    """Draw a corner unit from above: both legs outside, thickness, inside check."""
    style = STYLES[job.lengths]
    text = style.text * scale
    long, short = row.legs
    thick = job.brick.thickness
    a, b, t = float(long), float(short), float(thick)
    ell = ((0.0, 0.0), (a, 0.0), (a, t), (t, t), (t, b), (0.0, b))
    ink: list[Ink] = [Stroke(SECTION, ell, closed=True)]
    zero = Fraction(0)
    ink += _string(job, (zero, long), "x", -3.0 * text, -0.6 * text, scale, -1)
    ink += _string(job, (zero, short), "y", -3.0 * text, -0.6 * text, scale, -1)
    if long > thick and short > thick:
        # The inside measures are a check, not a size to saw to.
        inside = b + 3.0 * text
        ink += _string(job, (thick, long), "x", inside, t + 0.6 * text, scale, 1)
    at = (a + 3.0 * text, a + 0.6 * text)
    ink += _string(job, (zero, thick), "y", *at, scale, 1, upright=True)
    lines = [
        f"{row.kind.upper()}, {format_length(row.height, job.lengths)} HIGH",
        "LEGS OUTSIDE; UPPER FIGURE INSIDE, A CHECK",
    ]
    corner = _bought(job, row)
    if row.is_trimmed and corner is not None:
        ink += _trims(row, corner, thick)
        lines.append("TRIM FROM THE FREE END, AT THE RED LINE")
    if corner is not None:
        lines.append(_hand(row, corner))
    lines.append("LEGS SQUARE TO EACH OTHER")
    ink += _titled(job, row, scale, -6.0 * text, tuple(lines))
    return Drawing(f"detail-{row.mark}", "", scale, tuple(ink))


def _bought(job: Job, row: CutListRow) -> CornerTable | None:
    if row.kind == "corner unit":
        return job.brick.corner
    if row.kind == "soldier corner unit":
        return job.brick.soldier_corner
    return None


def _hand(row: CutListRow, corner: CornerTable) -> str:
    if corner.turns_over:
        return "MAY BE TURNED OVER: ONE MARK FOR BOTH HANDS"
    hand = "LONG LEG TO THE LEFT" if row.mark.endswith("L") else "LONG LEG TO THE RIGHT"
    return f"NOT TURNED OVER; {hand}"


def _trims(row: CutListRow, corner: CornerTable, thick: Fraction) -> Iterator[Ink]:
    """Show the leg as bought in hidden line, and the cut at the free end."""
    inside = thick if corner.measured == "inside" else Fraction(0)
    long, short = (float(x) for x in row.legs)
    bought = (float(corner.long_leg + inside), float(corner.short_leg + inside))
    t = float(thick)
    if long < bought[0]:
        yield Stroke(CUTS, ((long, 0.0), (long, t)))
        end = ((long, 0.0), (bought[0], 0.0), (bought[0], t), (long, t))
        yield Stroke(HIDDEN, end)
    if short < bought[1]:
        yield Stroke(CUTS, ((0.0, short), (t, short)))
        end = ((0.0, short), (0.0, bought[1]), (t, bought[1]), (t, short))
        yield Stroke(HIDDEN, end)


def _cut_detail(job: Job, row: CutListRow, scale: float) -> Drawing:
    """Draw a cut piece on the whole unit it is sawn from."""
    style = STYLES[job.lengths]
    text = style.text * scale
    whole = (job.brick.length, job.brick.height)
    if row.kind == "soldier":
        whole = (job.brick.height, job.brick.length)
    width, height = float(row.length), float(row.height)
    full = (float(whole[0]), float(whole[1]))
    ink: list[Ink] = [_ring(UNITS, width, height)]
    if full != (width, height):
        ink.append(_ring(HIDDEN, *full))
    if width < full[0]:
        ink.append(Stroke(CUTS, ((width, -0.6 * text), (width, height + 0.6 * text))))
    if height < full[1]:
        ink.append(Stroke(CUTS, ((-0.6 * text, height), (width + 0.6 * text, height))))
    zero = Fraction(0)
    ink += _string(job, (zero, row.length), "x", -3.0 * text, -0.9 * text, scale, -1)
    ink += _string(job, (zero, row.height), "y", -3.0 * text, -0.9 * text, scale, -1)
    lines = [f"CUT {row.kind.upper()}, FROM A WHOLE UNIT"]
    if width < full[0]:
        lines.append("LEFT END AS DELIVERED, SAW AT THE RED LINE")
    if height < full[1]:
        lines.append("SAWN TO HEIGHT AT THE RED LINE")
    if "mitre" in row.note:
        ink.append(Stroke(CUTS, ((0.0, 0.0), (width, height))))
        lines.append("ONE LONG EDGE MITRED, 45 DEGREES")
    ink += _titled(job, row, scale, -6.0 * text, tuple(lines))
    return Drawing(f"detail-{row.mark}", "", scale, tuple(ink))


def _ring(layer: str, width: float, height: float) -> Stroke:
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return Stroke(layer, corners, closed=True)
