"""Draw a detail of every corner unit and every cut piece, for whoever saws.

In:  `Solution`, the scale, the room on paper.   Out: `Drawing`s.
Frame: full size; each detail about its own outside corner or lower left corner, then
set out in rows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import hypot

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import (
    Axis,
    Drawing,
    Ink,
    Point,
    Stroke,
)
from shopdraw.drawing.moving import moved
from shopdraw.drawing.sheets import STYLES, content_of
from shopdraw.drawing.titles import titled
from shopdraw.job.model import Job
from shopdraw.lengths import rounded, typed_length
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    OF_AN_ARCH,
    CutListRow,
    Outline,
)
from shopdraw.quantities.fabricating import sawn_tolerance
from shopdraw.solution import Solution
from shopdraw.views.making.corner_units import draw_corner_unit
from shopdraw.views.parts.figures import mark_words, string_from

NONE = Fraction(0)
TITLE_HIGH = 12
"""The title below the details takes so many letter heights."""


@dataclass(frozen=True)
class Detail:
    """One detail, and where it stands on its drawing.

    Attributes:
        row: of the mark that it shows.
        shape: the outline that is drawn from its face; None for a corner unit from
            above, or for a rectangle.
        drawing: about its own origin.
        at: where that origin is on the drawing.
    """

    row: CutListRow
    shape: Outline | None
    drawing: Drawing
    at: Point = (0.0, 0.0)


def draw_details(solution: Solution, scale: float) -> list[Drawing]:
    """Draw every corner unit and every cut piece, in rows.

    Returns:
        One titled drawing, or more where one would be higher than a sheet.
    """
    job = solution.job
    drawings: list[Drawing] = []
    for number, details in enumerate(set_out_details(solution, scale), start=1):
        ink = tuple(moved(x, each.at) for each in details for x in each.drawing.ink)
        title = "CORNER UNITS AND CUT PIECES"
        drawing = Drawing(f"details-{number}", title, scale, ink)
        drawings.append(titled(drawing, None, job.lengths, job.scales))
    return drawings


def set_out_details(solution: Solution, scale: float) -> list[list[Detail]]:
    """Set the details out in rows, on as many drawings as they take."""
    job, style = solution.job, STYLES[solution.lengths]
    wide, high = (float(side) for side in job.paper)
    left, bottom, right, top = content_of(wide, high, style)
    room = right - left, top - bottom - TITLE_HIGH * style.text
    details = (
        detail
        for row in solution.cut_list
        if row.kind in (*CORNER_KINDS, "keystone") or row.is_cut
        for detail in _details_of(job, row, scale)
    )
    return list(_in_rows(details, 3.0 * style.text * scale, scale, room))


def _details_of(job: Job, row: CutListRow, scale: float) -> Iterator[Detail]:
    """Yield the details of a mark; a corner unit's scribed legs have their own."""
    if row.kind in CORNER_KINDS:
        yield Detail(row, None, draw_corner_unit(job, row, scale))
        for shape in row.shapes:
            name = "LONG" if shape.right >= max(row.legs) else "SHORT"
            said = f"{name} LEG, SEEN FROM ITS FACE"
            yield Detail(row, shape, draw_shape(job, row, shape, scale, said))
    elif row.shapes:
        shape = row.shapes[0]
        yield Detail(row, shape, draw_shape(job, row, shape, scale, ""))
    else:
        yield Detail(row, None, draw_cut(job, row, scale))


def _in_rows(
    details: Iterable[Detail], gap: float, scale: float, room: tuple[float, float]
) -> Iterator[list[Detail]]:
    """Set details side by side, in rows, in order; yield a sheet's worth at a time."""
    width, height = room[0] * scale * 0.98, room[1] * scale * 0.98
    x = y = row_high = 0.0
    placed: list[Detail] = []
    for detail in details:
        left, bottom, right, top = extent_of(detail.drawing)
        wide, high = right - left, top - bottom
        if x > 0 and x + wide > width:
            x, y, row_high = 0.0, y - row_high - gap, 0.0
        if placed and -y + high > height:
            yield placed
            placed, x, y, row_high = [], 0.0, 0.0, 0.0
        placed.append(replace(detail, at=(x - left, y - top)))
        x += wide + gap
        row_high = max(row_high, high)
    if placed:
        yield placed


def draw_cut(job: Job, row: CutListRow, scale: float) -> Drawing:
    """Draw a cut piece as it stands on the wall, and the whole unit it is sawn from."""
    text = STYLES[job.lengths].text * scale
    whole = (job.brick.length, job.brick.height)
    if row.kind in ("soldier", "rowlock"):
        whole = (job.brick.height, job.brick.length)
    width, height = float(row.length), float(row.height)
    full = (float(whole[0]), float(whole[1]))
    out = 0.6 * text
    ink: list[Ink] = [_ring(layers.UNITS, width, height)]
    if full != (width, height):
        ink.append(Stroke(layers.HIDDEN, _offcut((width, height), full)))
    within = typed_length(sawn_tolerance(job), job.lengths).upper()
    lines = [
        f"CUT {row.kind.upper()}, SAWN FROM A WHOLE UNIT",
        f"TOLERANCE: {within} EITHER WAY",
    ]
    if width < full[0]:
        ink.append(Stroke(layers.CUTS, ((width, -out), (width, height + out))))
        as_is = "" if "mitre" in row.note else ", OTHER END AS DELIVERED"
        lines.append(f"SAW AT THE CUT LINE{as_is}")
    if height < full[1]:
        ink.append(Stroke(layers.CUTS, ((-out, height), (width + out, height))))
        lines.append("SAW TO HEIGHT AT THE CUT LINE")
    lines += on_the_wall(row)
    if "mitre" in row.note:
        ink += _mitre(width, float(job.brick.thickness), max(height, full[1]) + 3 * out)
        lines.append("MITRE ONE LONG EDGE AT 45 DEGREES: END VIEW ABOVE")
    ink += string_from(job, (NONE, row.length), "x", -3 * text, -0.9 * text, scale, -1)
    ink += string_from(job, (NONE, row.height), "y", -3 * text, -0.9 * text, scale, -1)
    ink += mark_words(job, row, scale, (0.0, -6 * text), tuple(lines))
    return Drawing(f"detail-{row.mark}", "", scale, tuple(ink))


def draw_shape(
    job: Job, row: CutListRow, shape: Outline, scale: float, name: str
) -> Drawing:
    """Draw a piece that is not a rectangle, on the brick that it is sawn from.

    The strings along its foot and its head, and up either end, give its corners.
    """
    text = STYLES[job.lengths].text * scale
    stock = _stock(job, row, shape)
    ink: list[Ink] = [Stroke(layers.UNITS, _floats(shape.points), closed=True)]
    if not name and row.kind != "keystone":
        ink.append(Stroke(layers.HIDDEN, stock, closed=True))
    sides = list(shape.sides())
    ink += (
        Stroke(layers.CUTS, _prolonged(_floats(sides[place]), 0.6 * text))
        for place in shape.cuts
    )
    middle_x, middle_y = shape.right / 2, shape.top / 2
    (left, foot), (right, head) = stock[0], stock[2]
    near, far = 0.9 * text, 3.0 * text
    strings: tuple[tuple[Axis, bool, float, float, int], ...] = (
        ("x", False, foot - far, foot - near, -1),
        ("x", True, head + far, head + near, 1),
        ("y", False, left - far, left - near, -1),
        ("y", True, right + far, right + near, 1),
    )
    for axis, is_far, line_at, start, outward in strings:
        along, across = (0, 1) if axis == "x" else (1, 0)
        middle = middle_y if axis == "x" else middle_x
        places = _apart(
            job, [p[along] for p in shape.points if (p[across] > middle) == is_far]
        )
        if len(places) > 1:
            ink += string_from(
                job, places, axis, line_at, start, scale, outward, upright=axis == "y"
            )
    within = typed_length(sawn_tolerance(job), job.lengths).upper()
    what = name or f"CUT {row.kind.upper()}, SAWN FROM A WHOLE UNIT, SEEN FROM ITS FACE"
    # Figures too wide for their place hang below the string, one under another.
    lowest = extent_of(Drawing("", "", scale, tuple(ink)))[1] - 0.5 * text
    at = (left, min(foot - 6.5 * text, lowest))
    how = f"SAW AT THE CUT LINES; TOLERANCE {within} EITHER WAY"
    if row.kind == "keystone":
        what, how = "KEYSTONE, SEEN FROM ITS FACE", "MADE BY OTHERS TO ITS TEMPLATE"
    ink += mark_words(job, row, scale, at, (what, how, *on_the_wall(row)))
    return Drawing(f"detail-{row.mark}", "", scale, tuple(ink))


def on_the_wall(row: CutListRow) -> Iterator[str]:
    """Yield what a mark's note says of grinding and scribing, as lettered."""
    for part in row.note.split("; "):
        if part.startswith(("left long", "notch")):
            yield part.upper()


def _apart(job: Job, places: list[Fraction]) -> tuple[Fraction, ...]:
    """Return positions in order, those that print alike only once."""
    seen: dict[Fraction, Fraction] = {}
    for place in sorted(places):
        seen.setdefault(rounded(place, job.lengths), place)
    return tuple(seen.values())


def _floats(points: tuple[tuple[Fraction, Fraction], ...]) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in points)


def _prolonged(line: tuple[Point, ...], past: float) -> tuple[Point, Point]:
    """Return a line drawn out past both its ends."""
    a, b = line
    length = hypot(b[0] - a[0], b[1] - a[1])
    x, y = ((b[i] - a[i]) / length * past for i in (0, 1))
    return (a[0] - x, a[1] - y), (b[0] + x, b[1] + y)


def _stock(job: Job, row: CutListRow, shape: Outline) -> tuple[Point, ...]:
    """Return the outline of the whole brick, flush with the end that is not sawn."""
    wide, high = float(job.brick.length), float(job.brick.height)
    if row.kind in ("soldier", "rowlock", *OF_AN_ARCH):
        wide, high = high, wide
    sawn, square = set(shape.sawn_ends()), shape.square_ends()
    left = 0.0
    if row.kind in OF_AN_ARCH:
        left = (float(shape.right) - wide) / 2
    elif "left" not in square and ("right" in square or "left" in sawn):
        left = float(shape.right) - wide
    foot = float(shape.top) - high if "bottom" in sawn and "top" not in sawn else 0.0
    return (
        (left, foot),
        (left + wide, foot),
        (left + wide, foot + high),
        (left, foot + high),
    )


def _offcut(kept: Point, full: Point) -> tuple[Point, ...]:
    """Return the outline of what is sawn off, without the cut itself."""
    (w, h), (far_x, far_y) = kept, full
    start = (w, 0.0) if w < far_x else (w, h)
    end = (0.0, h) if h < far_y else (w, h)
    corners = ((far_x, start[1]), (far_x, far_y), (end[0], far_y))
    return (start, *corners, end)


def _mitre(width: float, thick: float, foot: float) -> Iterator[Ink]:
    """Draw the end view of a mitred piece, face down, and what the saw takes off."""
    back = min(thick, width)
    top = foot + thick
    kept = ((0.0, foot), (width, foot), (width, top), (back, top))
    yield Stroke(layers.SECTION, kept, closed=True)
    yield Stroke(layers.HIDDEN, ((0.0, foot), (0.0, top), (back, top)))
    yield Stroke(layers.CUTS, ((0.0, foot), (back, top)))


def _ring(layer: str, width: float, height: float) -> Stroke:
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return Stroke(layer, corners, closed=True)
