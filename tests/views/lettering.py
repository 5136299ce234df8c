"""Whether lettering lies on lettering, or on a line that it should keep clear of."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import cos, radians, sin

import shapely

from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Insert, Measure, Point, Stroke, Words
from shopdraw.drawing.lettering import box_of, overlap
from shopdraw.drawing.measures import lines_of, ticks_of
from shopdraw.drawing.sheets import Sheet


def collisions(drawing: Drawing) -> list[tuple[str, str]]:
    """Return the lettering of a drawing that lies on other lettering."""
    lettered = list(lettering_of(drawing))
    tree = shapely.STRtree([shapely.box(*box) for _, box in lettered])
    found = []
    for one, other in tree.query(tree.geometries).T:
        (a, box_a), (b, box_b) = lettered[one], lettered[other]
        height = min(a.height_on_paper, b.height_on_paper)
        slack = 0.15 * height * drawing.scale
        if one >= other or not overlap(box_a, box_b, slack):
            continue
        # Where letters lean, the upright boxes round them say too much.
        lean = (a.angle_deg % 90, b.angle_deg % 90) != (0, 0)
        shapes = [shapely.Polygon(_letters(x, drawing.scale)) for x in (a, b)]
        if not lean or shapes[0].intersects(shapes[1]):
            first, second = sorted((a.text, b.text))
            found.append((first, second))
    return found


def collisions_on(sheet: Sheet) -> list[tuple[str, str]]:
    """Return the lettering of a sheet that lies on other lettering."""
    found = [x for placed in sheet.drawings for x in collisions(placed.drawing)]
    return found + collisions(Drawing("paper", "", 1.0, sheet.paper_ink))


def crossings(drawing: Drawing) -> list[tuple[str, str]]:
    """Return the lettering that a line runs through, with the line's layer.

    Hatching may. Letters are taken from foot to head, tails and the room beside them
    left out; a line that touches no letter is no crossing.
    """
    lettered = [words for words, _ in lettering_of(drawing) if words.text.strip()]
    if not lettered:
        return []
    layers, lines = zip(*_lines(drawing), strict=True)
    tree = shapely.STRtree(shapely.linestrings(lines))
    boxes = shapely.polygons([_letters(words, drawing.scale) for words in lettered])
    hits = tree.query(boxes, predicate="crosses").T
    return [(lettered[place].text, layers[line]) for place, line in hits]


def _letters(words: Words, scale: float) -> list[Point]:
    height = words.height_on_paper * scale
    left, _, right, top = box_of(
        Words(
            "", (0.0, 0.0), words.text, words.height_on_paper, words.align, words.seat
        ),
        scale,
    )
    low = top - height
    room = 0.1 * height
    turn = radians(words.angle_deg)
    x0, y0 = words.at
    return [
        (x0 + x * cos(turn) - y * sin(turn), y0 + x * sin(turn) + y * cos(turn))
        for x, y in (
            (left + room, low + room),
            (right - room, low + room),
            (right - room, top - room),
            (left + room, top - room),
        )
    ]


def _lines(drawing: Drawing) -> Iterator[tuple[str, tuple[Point, Point]]]:
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    for ink in drawing.ink:
        if isinstance(ink, Stroke):
            yield from _sides(ink, (0.0, 0.0))
        elif isinstance(ink, Insert):
            for stroke in symbols[ink.symbol].strokes:
                yield from _sides(stroke, ink.at)
        elif isinstance(ink, Measure):
            for line in (
                *lines_of(ink, drawing.scale),
                *ticks_of(ink, drawing.scale),
            ):
                yield ink.layer, line
    # A drawing of words alone has no lines: one far away stands for none.
    yield "", ((1e9, 1e9), (1e9 + 1, 1e9))


def _sides(stroke: Stroke, at: Point) -> Iterator[tuple[str, tuple[Point, Point]]]:
    if stroke.layer.endswith("-PATT"):
        return
    points = [(x + at[0], y + at[1]) for x, y in stroke.points]
    if stroke.closed:
        points.append(points[0])
    for side in pairwise(points):
        yield stroke.layer, side
