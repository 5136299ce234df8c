"""Draw a detail of every corner unit and every cut piece, for whoever saws.

In:  `Solution`, the scale, the room on paper.   Out: `Drawing`s.
Frame: full size; each detail about its own outside corner or lower left corner, then
set out in rows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from math import hypot

from shopdraw.drawing import layers
from shopdraw.drawing.composing import MOST_FILL
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Axis, Drawing, Ink, Measure, Point, Stroke
from shopdraw.drawing.moving import moved
from shopdraw.drawing.sheets import STYLES, content_of
from shopdraw.drawing.titles import titled
from shopdraw.job.model import Job
from shopdraw.lengths import half_marked, settled, typed_length
from shopdraw.masonry.marks.templates import stone_templates
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow, Outline
from shopdraw.masonry.wall.printing import as_printed, place_along
from shopdraw.masonry.wall.turning import turning_of
from shopdraw.quantities.fabricating import sawn_tolerance
from shopdraw.solution import Solution
from shopdraw.views.making.corner_units import draw_corner_unit, unfolded_stock
from shopdraw.views.making.sharing import WIDE, Detail, Unlettered, in_rows
from shopdraw.views.making.sizes import (
    LYING,
    angles_of,
    ends_kept,
    ends_on_the_wall,
    on_the_wall,
    stock_of,
)
from shopdraw.views.parts.figures import ring_of, string_from
from shopdraw.views.parts.phrases import pieces_title

NONE = Fraction(0)
COLUMNS = (WIDE, 38.0, 30.0, 24.0, 21.0)
"""How wide the words below a detail are tried, in heights of lettering."""
BELOW = 2.0
"""How far below all that is drawn of a detail its words begin, in letter heights."""
TITLE_HIGH = 12
"""The title below the details takes so many letter heights."""


def draw_details(solution: Solution, scale: float) -> list[Drawing]:
    """Draw every corner unit and every cut piece, in rows.

    Returns:
        One titled drawing, or more where one would be higher than a sheet.
    """
    job = solution.job
    drawings: list[Drawing] = []
    for number, details in enumerate(set_out_details(solution, scale), start=1):
        ink = tuple(moved(x, each.at) for each in details for x in each.drawing.ink)
        title = pieces_title(detail.row.kind for detail in details)
        drawing = Drawing(f"details-{number}", title, scale, ink)
        drawings.append(titled(drawing, None, job.lengths, job.scales))
    return drawings


@lru_cache(maxsize=4)
def set_out_details(solution: Solution, scale: float) -> tuple[tuple[Detail, ...], ...]:
    """Set the details out in rows, on the fewest drawings.

    The words below them stand in the widest columns with which that can be done. It is
    kept: what is drawn, and what must be found on each drawing, both go by it.
    """
    job, style = solution.job, STYLES[solution.lengths]
    wide, high = (float(side) for side in job.paper)
    left, bottom, right, top = content_of(wide, high, style)
    # As wide as the sheet, and no higher than looks well.
    room = right - left, MOST_FILL * (top - bottom) - TITLE_HIGH * style.text
    rows = [
        row
        for row in solution.cut_list
        if row.kind in (*CORNER_KINDS, "keystone") or row.is_cut
    ]
    best: tuple[tuple[Detail, ...], ...] = ()
    unlettered = [x for row in rows for x in drawn_of(job, row, scale)]
    for wide in COLUMNS:
        # Where a line of one is broken, the lines of all stand as far apart.
        apart = any(x.breaks(wide) for _, x in unlettered)
        found = in_rows(unlettered, (wide, apart), 3.0 * style.text * scale, room)
        if not best or len(found) < len(best):
            best = found
        if len(best) < 2:
            break
    return best


def drawn_of(
    job: Job, row: CutListRow, scale: float
) -> Iterator[tuple[tuple[Outline, ...], Unlettered]]:
    """Yield what is drawn of a mark, and the outlines that it shows from the face.

    A corner unit sawn to shape has its legs' too.
    """
    if row.kind in CORNER_KINDS:
        yield (), draw_corner_unit(job, row, scale)
        if row.unfolded:
            legs = as_printed(row.unfolded, job.lengths)
            yield legs, draw_unfolded(job, row, scale)
    elif row.shapes:
        yield as_printed(row.shapes[:1], job.lengths), draw_shape(job, row, scale)
    else:
        yield (), draw_cut(job, row, scale)


def draw_cut(job: Job, row: CutListRow, scale: float) -> Unlettered:
    """Draw a cut piece as it stands on the wall, and the whole unit it is sawn from."""
    text = STYLES[job.lengths].text * scale
    whole = (job.brick.length, job.brick.height)
    if row.kind in LYING:
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
        how = "ALONG THE BRICK" if row.kind in LYING else "TO LENGTH"
        lines.append(f"SAW {how} AT THE CUT LINE")
    if not ends_kept(job, row):
        ink.append(Stroke(layers.CUTS, ((0.0, -out), (0.0, height + out))))
    if height < full[1]:
        ink.append(Stroke(layers.CUTS, ((-out, height), (width + out, height))))
        how = "TO HEIGHT" if row.kind in LYING else "ALONG THE BRICK"
        lines.append(f"SAW {how} AT THE CUT LINE")
    lines += (ends_on_the_wall(job, row), turning_of(row).upper(), *on_the_wall(row))
    if "mitre" in row.note:
        ink += _mitre(width, float(job.brick.thickness), max(height, full[1]) + 3 * out)
        lines.append("MITRE ONE LONG EDGE AT 45 DEGREES: END VIEW ABOVE")
    ink += string_from(job, (NONE, row.length), "x", -3 * text, -0.9 * text, scale, -1)
    ink += string_from(job, (NONE, row.height), "y", -3 * text, -0.9 * text, scale, -1)
    drawing = Drawing(f"detail-{row.mark}", "", scale, tuple(ink))
    foot = min(-6 * text, _below(drawing, text))
    return Unlettered(job, row, drawing, (0.0, foot), tuple(lines))


def draw_shape(job: Job, row: CutListRow, scale: float) -> Unlettered:
    """Draw a piece that is not a rectangle, on the brick that it is sawn from.

    It is drawn as it is printed: its corners are where the figures say.

    The strings along its foot and its head, and up either end, give each of its
    corners from one end and from its foot; a voussoir's axis is drawn and placed too.
    """
    text = STYLES[job.lengths].text * scale
    (shape,) = as_printed(row.shapes[:1], job.lengths)
    stock = stock_of(job, row, shape)
    if row.kind == "keystone":
        # It is wider than a brick: its figures stand clear of the stone itself.
        stock = ring_of((0.0, 0.0, float(shape.right), float(shape.top)))
    ink: list[Ink] = [Stroke(layers.UNITS, _floats(shape.points), closed=True)]
    if row.kind != "keystone":
        ink.append(Stroke(layers.HIDDEN, stock, closed=True))
    ink += _cut_lines(shape, 0.6 * text)
    stones, printed = stone_templates((row,)), place_along(row.shapes[:1], job.lengths)
    # Half of a width may lie between two marks: what is midway is said to be, no more.
    axes = {
        (shape.left + shape.right) / 2 if x.is_even else printed(settled(x.axis)): x
        for x in stones
    }
    ink += (_axis(axis, stock, 1.2 * text) for axis in axes)
    over = tuple(at for at, x in axes.items() if not x.is_even) if axes else None
    ink += figures_about(job, (shape,), (stock[0], stock[2]), scale, over)
    within = typed_length(sawn_tolerance(job), job.lengths).upper()
    what = f"CUT {row.kind.upper()}, SAWN FROM A WHOLE UNIT, SEEN FROM ITS FACE"
    how = f"SAW AT THE CUT LINES; TOLERANCE {within} EITHER WAY"
    if row.kind == "keystone":
        what, how = "KEYSTONE, SEEN FROM ITS FACE", "MADE BY OTHERS TO ITS TEMPLATE"
    lines = [what, how, *angles_of(row)]
    if row.kind != "keystone":
        lines += (ends_on_the_wall(job, row), turning_of(row).upper())
    drawing = Drawing(f"detail-{row.mark}", "", scale, tuple(ink))
    return _with_words_below(job, row, drawing, (*lines, *on_the_wall(row)))


def draw_unfolded(job: Job, row: CutListRow, scale: float) -> Unlettered:
    """Draw both legs of a corner unit sawn to shape side by side, as on the wall."""
    text = STYLES[job.lengths].text * scale
    left, right = as_printed(row.unfolded, job.lengths)
    stock = unfolded_stock(job, row)
    ink: list[Ink] = [Stroke(layers.HIDDEN, ring_of(stock), closed=True)]
    for leg in (left, right):
        ink.append(Stroke(layers.UNITS, _floats(leg.points), closed=True))
        ink += _cut_lines(leg, 0.6 * text)
    ink += figures_about(job, (left, right), (stock[:2], stock[2:]), scale)
    within = typed_length(sawn_tolerance(job), job.lengths).upper()
    lines = (
        f"{row.kind.upper()}, BOTH LEGS UNFOLDED, SEEN FROM THE FACE",
        "THE LINE BETWEEN THE LEGS IS THE OUTSIDE CORNER",
        f"SAW AT THE CUT LINES; TOLERANCE {within} EITHER WAY",
        *angles_of(row),
        turning_of(row).upper(),
        *on_the_wall(row),
    )
    drawing = Drawing(f"detail-{row.mark}-legs", "", scale, tuple(ink))
    return _with_words_below(job, row, drawing, lines)


def _cut_lines(shape: Outline, past: float) -> Iterator[Stroke]:
    sides = list(shape.sides())
    for place in shape.cuts:
        yield Stroke(layers.CUTS, _prolonged(_floats(sides[place]), past))


def _axis(at: Fraction, stock: tuple[Point, ...], past: float) -> Stroke:
    x, foot, head = float(at), stock[0][1] - past, stock[2][1] + past
    return Stroke(layers.LEVELS, ((x, foot), (x, head)))


def _with_words_below(
    job: Job, row: CutListRow, drawing: Drawing, lines: tuple[str, ...]
) -> Unlettered:
    """Have a detail's words below all that is drawn of it."""
    left, _, _, _ = extent_of(drawing)
    foot = left, _below(drawing, STYLES[job.lengths].text * drawing.scale)
    return Unlettered(job, row, drawing, foot, lines)


def _below(drawing: Drawing, text: float) -> float:
    """Return where words begin below all that is drawn.

    Figures too wide for their place hang below the string, one under another.
    """
    return extent_of(drawing)[1] - BELOW * text


def figures_about(
    job: Job,
    shapes: tuple[Outline, ...],
    box: tuple[Point, Point],
    scale: float,
    over: tuple[Fraction, ...] | None = None,
) -> Iterator[Measure]:
    """Set out the strings that give every corner of what is drawn from its face.

    Args:
        job: its lengths.
        shapes: what is drawn, from its lower left corner.
        box: the lower left and upper right corner of all that is drawn.
        scale: of the drawing.
        over: places along the head that are no corners, in a string with its ends,
            which is set out even if there are none; None where it is like any side.
    """
    text = STYLES[job.lengths].text * scale
    corners = sorted({point for shape in shapes for point in shape.points})
    near, far = 0.5 * text, 3.0 * text
    both: tuple[Axis, Axis] = ("x", "y")
    for along, axis in enumerate(both):
        across = 1 - along
        spots = [corner[across] for corner in corners]
        middle = (min(spots) + max(spots)) / 2
        ends = {pick(corner[along] for corner in corners) for pick in (min, max)}
        given: set[Fraction] = set()
        for is_far, outward in ((False, -1), (True, 1)):
            # An outline's corners are given on the side where they are.
            on_side = {p[along] for p in corners if (p[across] > middle) == is_far}
            more = over if axis == "x" and is_far else None
            places = _apart(job, [*ends, *on_side, *(more or ())])
            printed = {half_marked(settled(x), job.lengths) for x in places}
            if len(places) < 2 or (printed <= given and more is None):
                continue
            given |= printed
            edge = box[is_far][across]
            line_at = edge + outward * far
            string = string_from(
                job, places, axis, line_at, edge + outward * near, scale, outward,
                upright=axis == "y",
            )  # fmt: skip
            yield from _tied(string, corners, along, outward)


def _tied(
    measures: tuple[Measure, ...],
    corners: list[tuple[Fraction, Fraction]],
    along: int,
    outward: int,
) -> Iterator[Measure]:
    """Begin each extension line at the corner that it stands for."""
    for measure in measures:
        ends = []
        for point in (measure.start, measure.end):
            met = [
                float(corner[1 - along])
                for corner in corners
                if float(corner[along]) == point[along]
            ]
            nearest = max if outward > 0 else min
            level = nearest(met) if met else point[1 - along]
            ends.append((point[0], level) if along == 0 else (level, point[1]))
        yield replace(measure, start=ends[0], end=ends[1])


def _apart(job: Job, places: list[Fraction]) -> tuple[Fraction, ...]:
    """Return positions in order, those that print alike only once."""
    seen: dict[Fraction, Fraction] = {}
    for place in sorted(places):
        seen.setdefault(half_marked(settled(place), job.lengths), place)
    return tuple(seen.values())


def _floats(points: tuple[tuple[Fraction, Fraction], ...]) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in points)


def _prolonged(line: tuple[Point, ...], past: float) -> tuple[Point, Point]:
    """Return a line drawn out past both its ends."""
    a, b = line
    length = hypot(b[0] - a[0], b[1] - a[1])
    x, y = ((b[i] - a[i]) / length * past for i in (0, 1))
    return (a[0] - x, a[1] - y), (b[0] + x, b[1] + y)


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
