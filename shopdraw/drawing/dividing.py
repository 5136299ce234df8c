"""Divide a drawing that is too large for a sheet, at match lines.

In:  a `Drawing`, whether a part fits.   Out: its parts, in reading order.
Frame: the drawing's own.

A line that goes on is cut off at the match line. A unit is drawn whole in each part
that it reaches, a line of lettering in the one where its middle is, a bubble and its
leader in the one where what it marks is. A dimension that goes on is drawn as lines,
with its figure wherever there is room for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import pairwise, product
from math import inf

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import Mark, marks_on
from shopdraw.drawing.columns import middles_of
from shopdraw.drawing.extents import about, every_line, extent_of, lettering_of
from shopdraw.drawing.ink import (
    Drawing,
    Fill,
    Hatch,
    Ink,
    Insert,
    Measure,
    Paint,
    Point,
    Stroke,
    Symbol,
    ViewPart,
    Words,
)
from shopdraw.drawing.jutting import holds, off_match_lines
from shopdraw.drawing.lettering import Box, box_of, overlap, width_of
from shopdraw.drawing.match_lines import Line, kept_whole, match_lines, outline_of
from shopdraw.drawing.measures import (
    ends_of,
    follows,
    letter_of,
    lines_of,
    ticks_of,
)

WHOLE = frozenset((layers.UNITS, layers.CORNERS))
"""The layers of what is not cut in two; the cut lines of a unit follow it."""
MOST = 4
"""A drawing is divided in so many parts at most, across and up."""
TRIED = 60
"""So many places are tried for a match line."""
ABOUT = 0.375, 0.25
"""How far to either side of where parts are even, in their widths: the further clears a
bubble with its arrow over the middle, the nearer is for parts that fit only so."""
Even = tuple[Box, tuple[int, int], float]
"""The box whose parts are to be about as large as one another, how many they are across
and up, and how far off even they may be, in their own widths."""
FAR = 1e6
"""Farther than anything that is drawn."""


def divide(
    drawing: Drawing,
    view: int,
    fits: Callable[[Drawing], bool],
    text: float,
    room: tuple[float, float] = (inf, inf),
    fewer_than: float = inf,
) -> tuple[Drawing, ...]:
    """Divide a drawing in the fewest parts that fit; none where no division fits.

    Args:
        drawing: without its title.
        view: its number.
        fits: whether a part goes on a sheet.
        text: the height of lettering on paper.
        room: the width and height of what goes on a sheet at most, as the drawing is
            drawn; it saves looking at parts that are too many or too few.
        fewer_than: so many parts are too many.
    """
    built, whole = _built(drawing), extent_of(drawing)
    wide, high = whole[2] - whole[0], whole[3] - whole[1]
    counts = [
        (across, up)
        for across in range(1, MOST + 1)
        for up in range(1, MOST + 1)
        if 1 < across * up < fewer_than
        and wide <= across * room[0]
        and high <= up * room[1]
    ]
    ordered = sorted(counts, key=lambda count: count[0] * count[1])
    # Even in what is built if that fits; a part without a unit tells a mason nothing.
    ways = ((True, (built, whole)), (False, (whole,)))
    for needs_units, boxes in ways if _has_units(drawing) else ways[1:]:
        for count in ordered:
            for box, far in product(boxes, ABOUT):
                even = box, count, far
                parts = _fitting(drawing, even, fits, needs_units=needs_units)
                # Lettering is moved from part to part where they fit then, too.
                for said in (_moved(drawing, parts), parts):
                    lined = _lined(said, view, text)
                    if lined and all(fits(part) for part in lined):
                        return lined
    return ()


def _fitting(
    drawing: Drawing,
    even: Even,
    fits: Callable[[Drawing], bool],
    *,
    needs_units: bool,
) -> tuple[Drawing, ...]:
    """Return a drawing's parts, about even; none where one of them is amiss."""
    found = []
    for part in _parts(drawing, even):
        if not (_is_worth_it(part, needs_units) and fits(part)):
            return ()
        found.append(part)
    return tuple(found)


def _parts(drawing: Drawing, even: Even) -> Iterator[Drawing]:
    """Yield a drawing's parts, about even."""
    xs, ys = (_cuts(drawing, even, axis) for axis in (0, 1))
    windows = [
        (left, bottom, right, top)
        for bottom, top in reversed(list(pairwise(ys)))
        for left, right in pairwise(xs)
    ]
    for number, window in enumerate(windows, start=1):
        yield _part(drawing, ViewPart(number, window), len(windows))


def _moved(drawing: Drawing, parts: tuple[Drawing, ...]) -> tuple[Drawing, ...]:
    """Return parts of a drawing whose lettering is moved off their match lines."""
    found = [part.part for part in parts if part.part]
    if not found:
        return ()
    moved = off_match_lines(drawing, [part.window for part in found])
    return tuple(_part(moved, replace(x, begun=()), len(found)) for x in found)


def _is_worth_it(part: Drawing, needs_units: bool) -> bool:
    return _has_units(part) if needs_units else bool(part.ink)


def _has_units(drawing: Drawing) -> bool:
    return any(isinstance(ink, Insert) for ink in drawing.ink)


def _lined(parts: tuple[Drawing, ...], view: int, text: float) -> tuple[Drawing, ...]:
    """Return the parts with their match lines."""
    windows = [part.part.window for part in parts if part.part]
    return tuple(
        replace(part, ink=(*part.ink, *match_lines(part, windows, view, text)))
        for part in parts
    )


def clipped(points: Sequence[Point], window: Box, *, closed: bool) -> Iterator[Line]:
    """Yield what of a line lies in a window, as lines from one end to the other."""
    ring = (*points, points[0]) if closed else tuple(points)
    if all_within(ring, window):
        yield ring
        return
    if _is_beyond(ring, window):
        return
    found = shapely.clip_by_rect(shapely.LineString(ring), *_bounded(window))
    for part in shapely.get_parts(found):
        if part.length > 0:
            yield tuple((x, y) for x, y in part.coords)


def _is_beyond(points: Sequence[Point], window: Box) -> bool:
    """Whether all points lie beyond one side of a window."""
    left, bottom, right, top = about(points)
    return (
        right < window[0] or window[2] < left or top < window[1] or window[3] < bottom
    )


def clipped_area(points: Sequence[Point], window: Box) -> Iterator[Line]:
    """Yield what of an area lies in a window, by its corners."""
    if all_within(points, window):
        yield tuple(points)
        return
    found = shapely.clip_by_rect(shapely.Polygon(points), *_bounded(window))
    for part in shapely.get_parts(found):
        if part.area > 0:
            yield tuple((x, y) for x, y in part.exterior.coords[:-1])


def all_within(points: Iterable[Point], window: Box) -> bool:
    """Whether all points lie in a window."""
    return all(holds(window, point) for point in points)


def reaches(outline: Iterable[Point], window: Box) -> bool:
    """Whether something with an outline is seen in a window."""
    left, bottom, right, top = about(outline)
    return (
        left < window[2]
        and window[0] < right
        and bottom < window[3]
        and window[1] < top
    )


def _bounded(window: Box) -> Box:
    left, bottom, right, top = (max(-FAR, min(FAR, x)) for x in window)
    return left, bottom, right, top


def _cuts(drawing: Drawing, even: Even, axis: int) -> list[float]:
    """Return where match lines lie along an axis, where they meet the least.

    Args:
        drawing: what is divided.
        even: how evenly.
        axis: 0 across, 1 up.
    """
    within, counts, most = even
    low, high, count = within[axis], within[axis + 2], counts[axis]
    step = (high - low) / count
    boxes = [(box[axis], box[axis + 2], weight) for box, weight in kept_whole(drawing)]

    def cost(ideal: float, at: float) -> tuple[float, float]:
        met = sum(weight for a, b, weight in boxes if a < at < b)
        return met + 4 * abs(at - ideal) / step, at

    cuts = []
    for number in range(1, count):
        ideal = low + number * step
        tried = (ideal + step * most * (2 * k / TRIED - 1) for k in range(TRIED + 1))
        cuts.append(min(tried, key=partial(cost, ideal)))
    return [-inf, *cuts, inf]


def _built(drawing: Drawing) -> Box:
    """Return the box round a drawing's units; of one without any, round its ink."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    points = [
        point
        for ink in drawing.ink
        if isinstance(ink, Insert)
        for point in outline_of(ink, symbols)
    ]
    return about(points) if points else extent_of(drawing)


def _part(drawing: Drawing, part: ViewPart, count: int) -> Drawing:
    """Return what a window shows."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    ink: list[Ink] = []
    keeps = False
    marks, middles = list(marks_on(drawing)), middles_of(drawing)
    for each in drawing.ink:
        mark = _mark_of(each, marks)
        outline = _unit(each, symbols)
        if outline:
            keeps = reaches(outline, part.window)
        if outline or (isinstance(each, Stroke) and each.layer == layers.CUTS):
            ink += [each] * keeps
        elif mark:
            ink += [each] * holds(part.window, mark.place)
        elif isinstance(each, Words):
            ink += [each] * holds(part.window, middles[id(each)])
        else:
            ink += _seen(each, part.window, drawing.scale)
    used = {each.symbol for each in ink if isinstance(each, Insert)}
    seen = replace(
        drawing,
        title=f"{drawing.title}, PART {part.number} OF {count}",
        ink=tuple(ink),
        symbols=tuple(x for x in drawing.symbols if x.name in used),
        part=replace(part, begun=tuple(_begun(drawing, ink))),
    )
    seen = off_match_lines(seen, [part.window])
    again = _lettered_again(drawing, seen, part.window)
    return replace(seen, ink=(*seen.ink, *again))


def _mark_of(ink: Ink, marks: Sequence[Mark]) -> Mark | None:
    """Return the mark that ink is of: leader, ring, arrow, line or lettering."""
    if not isinstance(ink, Stroke | Words) or ink.layer != layers.NOTES:
        return None
    points = ink.points if isinstance(ink, Stroke) else (ink.at,)
    own = (x for x in marks if ink is x.leader)
    return next(own, next((x for x in marks if all_within(points, x.box)), None))


def _begun(drawing: Drawing, seen: list[Ink]) -> Iterator[tuple[Point, Point]]:
    """Yield where what is seen of a string begins, and where the string does."""
    start, last = (0.0, 0.0), None
    here = {id(each) for each in seen}
    was_here = False
    for measure in drawing.ink:
        if not isinstance(measure, Measure):
            continue
        if last is None or not follows(last, measure):
            start, was_here = ends_of(measure)[0], False
        is_here = id(measure) in here
        if is_here and not was_here and ends_of(measure)[0] != start:
            yield ends_of(measure)[0], start
        last, was_here = measure, is_here


def _unit(ink: Ink, symbols: dict[str, Symbol]) -> tuple[Point, ...]:
    """Return the outline of what is not cut in two: a unit, whose cut lines follow."""
    if isinstance(ink, Insert):
        return tuple(outline_of(ink, symbols))
    if isinstance(ink, Stroke) and ink.layer in WHOLE:
        return ink.points
    return ()


def _seen(ink: Ink, window: Box, scale: float) -> Iterator[Ink]:
    """Yield what of one ink a window shows."""
    if isinstance(ink, Stroke):
        if all_within(ink.points, window):
            yield ink
            return
        for line in clipped(ink.points, window, closed=ink.closed):
            yield Stroke(ink.layer, line)
    elif isinstance(ink, Measure):
        yield from _measured(ink, window, scale)
    elif isinstance(ink, Fill | Hatch | Paint):
        yield from _area(ink, window)


def _area(ink: Fill | Hatch | Paint, window: Box) -> Iterator[Ink]:
    for corners in clipped_area(ink.points, window):
        yield replace(ink, points=corners)


def _measured(measure: Measure, window: Box, scale: float) -> Iterator[Ink]:
    """Yield a dimension, or what is seen of one that goes on past a match line."""
    lines = lines_of(measure, scale)
    letter = letter_of(measure, scale)
    is_here = holds(window, _middle(box_of(letter, scale)))
    if is_here and all(all_within(line, window) for line in lines):
        yield measure
        return
    for line in (*lines, *ticks_of(measure, scale)):
        for seen in clipped(line, window, closed=False):
            yield Stroke(measure.layer, seen)
    if is_here:
        yield letter


def _lettered_again(drawing: Drawing, seen: Drawing, window: Box) -> Iterator[Words]:
    """Letter figures once more along what is seen of their lines, where it is clear."""
    scale = drawing.scale
    taken = [box for _, box in lettering_of(seen)]
    lines = shapely.STRtree([shapely.LineString(line) for line in every_line(seen)])
    for measure in drawing.ink:
        if not isinstance(measure, Measure) or measure.letter is not None:
            continue
        letter = letter_of(measure, scale)
        if holds(window, _middle(box_of(letter, scale))):
            continue
        for spot in _spots(measure, letter, window, scale):
            box = box_of(spot, scale)
            is_struck = len(lines.query(shapely.box(*box), "intersects")) > 0
            if not is_struck and not any(overlap(box, other) for other in taken):
                taken.append(box)
                yield spot
                break


def _spots(
    measure: Measure, letter: Words, window: Box, scale: float
) -> Iterator[Words]:
    """Yield a figure wherever it might stand along what is seen of its line."""
    along = 0 if measure.axis == "x" else 1
    wide = 1.5 * width_of(measure.words, measure.height_on_paper) * scale
    for line in clipped(ends_of(measure), window, closed=False):
        first, last = sorted(point[along] for point in (line[0], line[-1]))
        spare = last - first - wide
        for off in (0.0, 0.25, -0.25, 0.5, -0.5):
            if spare > 0:
                at = list(letter.at)
                at[along] = (first + last) / 2 + off * spare
                yield replace(letter, at=(at[0], at[1]))


def _middle(box: Box) -> Point:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
