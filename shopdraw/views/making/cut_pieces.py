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
    Measure,
    Point,
    Stroke,
)
from shopdraw.drawing.moving import moved
from shopdraw.drawing.sheets import STYLES, content_of
from shopdraw.drawing.titles import titled
from shopdraw.job.model import Job
from shopdraw.lengths import FINEST, half_marked, settled, typed_length
from shopdraw.masonry.marks.templates import stone_templates
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    OF_AN_ARCH,
    CutListRow,
    Outline,
)
from shopdraw.masonry.wall.turning import turning_of
from shopdraw.quantities.fabricating import sawn_tolerance
from shopdraw.solution import Solution
from shopdraw.views.making.corner_units import corner_as_bought, draw_corner_unit
from shopdraw.views.making.sharing import set_out
from shopdraw.views.making.sizes import LYING, angles_of, ends_kept, ends_on_the_wall
from shopdraw.views.parts.figures import Box, mark_words, ring_of, string_from
from shopdraw.views.parts.phrases import pieces_title

NONE = Fraction(0)
TITLE_HIGH = 12
"""The title below the details takes so many letter heights."""


@dataclass(frozen=True)
class Detail:
    """One detail, and where it stands on its drawing.

    Attributes:
        row: of the mark that it shows.
        shapes: the outlines that are drawn from the face; none for a corner unit from
            above, or for a rectangle.
        drawing: about its own origin.
        at: where that origin is on the drawing.
    """

    row: CutListRow
    shapes: tuple[Outline, ...]
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
        title = pieces_title(detail.row.kind for detail in details)
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
        for detail in details_of(job, row, scale)
    )
    return list(_in_rows(details, 3.0 * style.text * scale, scale, room))


def details_of(job: Job, row: CutListRow, scale: float) -> Iterator[Detail]:
    """Yield the details of a mark; a corner unit sawn to shape has its legs' too."""
    if row.kind in CORNER_KINDS:
        yield Detail(row, (), draw_corner_unit(job, row, scale))
        if row.unfolded:
            yield Detail(row, row.unfolded, draw_unfolded(job, row, scale))
    elif row.shapes:
        shape = row.shapes[0]
        yield Detail(row, (shape,), draw_shape(job, row, shape, scale))
    else:
        yield Detail(row, (), draw_cut(job, row, scale))


def _in_rows(
    details: Iterable[Detail], gap: float, scale: float, room: tuple[float, float]
) -> Iterator[list[Detail]]:
    """Set details side by side, in rows, in order; yield them sheet by sheet.

    Where they take more than one sheet, each has about as much.
    """
    listed = [*details]
    boxes = [extent_of(detail.drawing) for detail in listed]
    sizes = [(right - left, top - bottom) for left, bottom, right, top in boxes]
    sheet = (room[0] * scale * 0.98, room[1] * scale * 0.98)
    for corners in set_out(sizes, gap, sheet):
        yield [
            replace(listed[n], at=(x - boxes[n][0], y - boxes[n][3]))
            for n, (x, y) in corners.items()
        ]


def draw_cut(job: Job, row: CutListRow, scale: float) -> Drawing:
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
        lines.append("SAW TO LENGTH AT THE CUT LINE")
    if not ends_kept(job, row):
        ink.append(Stroke(layers.CUTS, ((0.0, -out), (0.0, height + out))))
    if height < full[1]:
        ink.append(Stroke(layers.CUTS, ((-out, height), (width + out, height))))
        lines.append("SAW TO HEIGHT AT THE CUT LINE")
    lines += (ends_on_the_wall(job, row), turning_of(row).upper(), *on_the_wall(row))
    if "mitre" in row.note:
        ink += _mitre(width, float(job.brick.thickness), max(height, full[1]) + 3 * out)
        lines.append("MITRE ONE LONG EDGE AT 45 DEGREES: END VIEW ABOVE")
    ink += string_from(job, (NONE, row.length), "x", -3 * text, -0.9 * text, scale, -1)
    ink += string_from(job, (NONE, row.height), "y", -3 * text, -0.9 * text, scale, -1)
    ink += mark_words(job, row, scale, (0.0, -6 * text), tuple(lines))
    return Drawing(f"detail-{row.mark}", "", scale, tuple(ink))


def draw_shape(job: Job, row: CutListRow, shape: Outline, scale: float) -> Drawing:
    """Draw a piece that is not a rectangle, on the brick that it is sawn from.

    The strings along its foot and its head, and up either end, give each of its
    corners from one end and from its foot; a voussoir's axis is drawn and placed too.
    """
    text = STYLES[job.lengths].text * scale
    stock = _stock(job, row, shape)
    if row.kind == "keystone":
        # It is wider than a brick: its figures stand clear of the stone itself.
        stock = ring_of((0.0, 0.0, float(shape.right), float(shape.top)))
    ink: list[Ink] = [Stroke(layers.UNITS, _floats(shape.points), closed=True)]
    if row.kind != "keystone":
        ink.append(Stroke(layers.HIDDEN, stock, closed=True))
    ink += _cut_lines(shape, 0.6 * text)
    axes = [Fraction(x.axis).limit_denominator(FINEST) for x in stone_templates((row,))]
    ink += (_axis(axis, stock, 1.2 * text) for axis in axes)
    ink += figures_about(job, (shape,), (stock[0], stock[2]), scale, tuple(axes))
    within = typed_length(sawn_tolerance(job), job.lengths).upper()
    what = f"CUT {row.kind.upper()}, SAWN FROM A WHOLE UNIT, SEEN FROM ITS FACE"
    how = f"SAW AT THE CUT LINES; TOLERANCE {within} EITHER WAY"
    if row.kind == "keystone":
        what, how = "KEYSTONE, SEEN FROM ITS FACE", "MADE BY OTHERS TO ITS TEMPLATE"
    lines = [what, how, *angles_of(row)]
    if row.kind != "keystone":
        lines += (ends_on_the_wall(job, row), turning_of(row).upper())
    ink += _words_below(job, row, (*lines, *on_the_wall(row)), scale, ink)
    return Drawing(f"detail-{row.mark}", "", scale, tuple(ink))


def draw_unfolded(job: Job, row: CutListRow, scale: float) -> Drawing:
    """Draw both legs of a corner unit sawn to shape side by side, as on the wall."""
    text = STYLES[job.lengths].text * scale
    left, right = row.unfolded
    stock = _unfolded_stock(job, row)
    ink: list[Ink] = [Stroke(layers.HIDDEN, ring_of(stock), closed=True)]
    for leg in row.unfolded:
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
    ink += _words_below(job, row, lines, scale, ink)
    return Drawing(f"detail-{row.mark}-legs", "", scale, tuple(ink))


def _cut_lines(shape: Outline, past: float) -> Iterator[Stroke]:
    sides = list(shape.sides())
    for place in shape.cuts:
        yield Stroke(layers.CUTS, _prolonged(_floats(sides[place]), past))


def _axis(at: Fraction, stock: tuple[Point, ...], past: float) -> Stroke:
    x, foot, head = float(at), stock[0][1] - past, stock[2][1] + past
    return Stroke(layers.LEVELS, ((x, foot), (x, head)))


def _words_below(
    job: Job, row: CutListRow, lines: tuple[str, ...], scale: float, ink: list[Ink]
) -> tuple[Ink, ...]:
    """Letter a detail's words below all that is drawn of it."""
    text = STYLES[job.lengths].text * scale
    # Figures too wide for their place hang below the string, one under another.
    drawn = Drawing("", "", scale, tuple(ink))
    low = extent_of(drawn)[1] - 1.0 * text
    left = min(x for each in ink if isinstance(each, Stroke) for x, _ in each.points)
    return tuple(mark_words(job, row, scale, (left, low), lines))


def figures_about(
    job: Job,
    shapes: tuple[Outline, ...],
    box: tuple[Point, Point],
    scale: float,
    more: tuple[Fraction, ...] = (),
) -> Iterator[Measure]:
    """Set out the strings that give every corner of what is drawn from its face.

    Args:
        job: its lengths.
        shapes: what is drawn, from its lower left corner.
        box: the lower left and upper right corner of all that is drawn.
        scale: of the drawing.
        more: places along the head that are no corners: an axis.
    """
    text = STYLES[job.lengths].text * scale
    corners = sorted({point for shape in shapes for point in shape.points})
    near, far = 0.5 * text, 3.0 * text
    axes: tuple[Axis, Axis] = ("x", "y")
    for along, axis in enumerate(axes):
        across = 1 - along
        spots = [corner[across] for corner in corners]
        middle = (min(spots) + max(spots)) / 2
        ends = {pick(corner[along] for corner in corners) for pick in (min, max)}
        given: set[Fraction] = set()
        for is_far, outward in ((False, -1), (True, 1)):
            # An outline's corners are given on the side where they are.
            on_side = {p[along] for p in corners if (p[across] > middle) == is_far}
            extra = set(more) if axis == "x" and is_far else set()
            places = _apart(job, [*ends, *on_side, *extra])
            printed = {half_marked(settled(x), job.lengths) for x in places}
            if len(places) < 2 or printed <= given:
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


def on_the_wall(row: CutListRow) -> Iterator[str]:
    """Yield what a mark's note says of grinding and scribing, as lettered."""
    for part in row.note.split("; "):
        if part.startswith(("left long", "notch")):
            yield part.upper()


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


def _stock(job: Job, row: CutListRow, shape: Outline) -> tuple[Point, ...]:
    """Return the outline of the whole brick, flush with the end that is not sawn."""
    wide, high = float(job.brick.length), float(job.brick.height)
    if row.kind in LYING:
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


def _unfolded_stock(job: Job, row: CutListRow) -> Box:
    """Return what a corner unit's legs are sawn from: as bought, side by side."""
    left, right = row.unfolded
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
