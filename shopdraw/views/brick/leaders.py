"""Lead the marks out of pieces that have no room for them, to where they can be read.

In:  pieces, a `Drawing` with its other ink.   Out: ink.
Frame: the drawing's own; x of the pieces on the developed plane, moved by `dx`.

A mark on a leader stands clear of all brick, lines and lettering, as near to its piece
as can be: in the opening, above the face or beside it. Like pieces one above another
share a leader, which says in which courses they lie; like voussoirs side by side share
one that says how many they are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from math import hypot

import numpy as np
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.extents import every_line, extent_of, lettering_of
from shopdraw.drawing.ink import Align, Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, ring_of_words, width_of
from shopdraw.masonry.wall.layout import OF_AN_ARCH, Outline, Piece
from shopdraw.views.brick.marks import (
    Line,
    goes_unmarked,
    mark_of,
    mark_within,
)
from shopdraw.views.parts.figures import dot

WAYS = 72
"""In so many directions from a piece a place is looked for."""
STEP = 1.0
"""How far apart places are tried, in heights of lettering."""
ROOM = 0.4
"""What is left free about a mark, in heights of lettering."""
CLEAR, CLOSE = 0.1, 0.05
"""What is left free about other lettering, and what at the least, in its heights."""
CROSSED = 0.6
"""A leader may go so much further, in heights, rather than cross one more line."""
ASTRAY = 12.0
"""The same, rather than cross another leader: the eye would follow the wrong one."""
BESIDE = 0.25
"""So near, in heights, is as bad: between a leader and its mark, too."""
STRUCK = 400.0
"""The same, rather than run through lettering."""
BATCH, FEW = 64, 4
"""So many leaders are looked at together, and of one ring so many in each direction."""
PITCH = 1.8
"""From one line of lettering to the next, in its heights."""
SHARES = (0.2, 0.5, 0.8)
"""Where across a piece, and up it, a leader may end as well."""
DOT = 0.25
"""Half the diamond that a leader ends in, in heights of lettering."""

There = tuple[shapely.STRtree, shapely.STRtree, shapely.STRtree, shapely.STRtree]

Size = tuple[float, float, int]


@dataclass(frozen=True)
class Led:
    """What is lettered at a leader: the mark of pieces that share it, or some lines.

    Attributes:
        words: as lettered, a line each.
        spots: places for the leader's end, of which one is taken.
        instead: more of them, for where each leader from there runs through lettering.
    """

    words: tuple[str, ...]
    spots: tuple[Point, ...]
    instead: tuple[Point, ...] = ()


def with_leaders(
    pieces: Iterable[Piece],
    faces: set[str],
    dx: float,
    height: float,
    drawing: Drawing,
    over: Sequence[Line] = (),
    free: Sequence[Box] = (),
) -> Drawing:
    """Add a leader for each piece, or column of like pieces, that has no room.

    Args:
        pieces: all that the drawing may show.
        faces: which faces it shows.
        dx: added to x.
        height: of the lettering, on paper.
        drawing: with all its other ink.
        over: lines across the brick, as marks were kept clear of them.
        free: boxes that no mark stands in: woodwork, and what is drawn later.
    """
    given = dx, height, drawing.scale, over
    shown = [
        (piece, outline)
        for piece in pieces
        for outline in piece.outlines
        if outline.face in faces
    ]
    without = [
        (piece, outline)
        for piece, outline in shown
        if not goes_unmarked(piece) and mark_within(piece, outline, *given) is None
    ]
    taken = [_ring(outline, dx) for _, outline in shown]
    brick = shapely.STRtree([*taken, *(shapely.box(*box) for box in free)])
    for led in _columns(without, dx):
        placed = tuple(_placed(led, drawing, brick, height))
        drawing = replace(drawing, ink=(*drawing.ink, *placed))
    return drawing


def with_led_words(
    words: tuple[str, ...],
    spots: tuple[Point, ...],
    pieces: Iterable[Piece],
    faces: set[str],
    dx: float,
    height: float,
    drawing: Drawing,
) -> Drawing:
    """Add lines of lettering, clear of all that is there, with a leader to a spot."""
    brick = shapely.STRtree(
        [
            _ring(outline, dx)
            for piece in pieces
            for outline in piece.outlines
            if outline.face in faces
        ]
    )
    placed = _placed(Led(words, spots), drawing, brick, height)
    return replace(drawing, ink=(*drawing.ink, *placed))


def _ring(outline: Outline, dx: float) -> shapely.Polygon:
    return shapely.Polygon([(float(x) + dx, float(y)) for x, y in outline.points])


def _columns(without: list[tuple[Piece, Outline]], dx: float) -> Iterator[Led]:
    """Put like pieces together: one above another, and side by side in an arch."""
    columns: list[list[tuple[Piece, Outline]]] = []
    for piece, outline in without:
        mark = mark_of(piece, outline)
        for column in columns:
            first, there = column[0]
            alike = mark_of(first, there) == mark and outline.face == there.face
            if alike and _goes_with((piece, outline), column):
                column.append((piece, outline))
                break
        else:
            columns.append([(piece, outline)])
    for column in columns:
        piece, outline = column[0]
        spots = (_ring(each, dx).representative_point() for _, each in column)
        words = mark_of(piece, outline)
        if len(column) > 1 and piece.kind in OF_AN_ARCH:
            words += f", {len(column)} SIDE BY SIDE"
        elif len(column) > 1:
            words += f", {courses_said([each.course for each, _ in column])}"
        middles = tuple((spot.x, spot.y) for spot in spots)
        others = (spot for _, each in column for spot in _off_middle(_ring(each, dx)))
        yield Led((words,), middles, tuple(others))


def _off_middle(ring: shapely.Polygon) -> Iterator[Point]:
    """Yield places in a piece that are not its middle, and not at its edge."""
    left, low, right, top = ring.bounds
    for across, up in product(SHARES, SHARES):
        spot = left + across * (right - left), low + up * (top - low)
        if ring.contains(shapely.Point(spot)):
            yield spot


def _goes_with(one: tuple[Piece, Outline], column: list[tuple[Piece, Outline]]) -> bool:
    """Whether a piece may share the leader of others that have its mark."""
    (piece, outline), (first, there) = one, column[0]
    if piece.kind in OF_AN_ARCH and first.kind in OF_AN_ARCH:
        ring = _ring(outline, 0.0)
        # From one to the next it is a joint, which is less than half its width.
        near = _least_side(ring) / 2
        return any(ring.distance(_ring(other, 0.0)) < near for _, other in column)
    has_course = piece.kind not in OF_AN_ARCH and piece.place not in ("panel", "hearth")
    return has_course and _is_above(outline, there)


def _least_side(ring: shapely.Polygon) -> float:
    corners = ring.exterior.coords
    return min(hypot(c - a, d - b) for (a, b), (c, d) in pairwise(corners))


def _is_above(outline: Outline, there: Outline) -> bool:
    """Whether two outlines share more than half of the narrower one's width."""
    shared = min(outline.right, there.right) - max(outline.left, there.left)
    wide = min(outline.right - outline.left, there.right - there.left)
    return 2 * shared > wide


def courses_said(numbers: list[int]) -> str:
    """Name courses: `COURSES 3 TO 7`, `ALTERNATE COURSES 3 TO 9`, `COURSES 3, 8`."""
    steps = {b - a for a, b in pairwise(numbers)}
    if len(numbers) > 2 and len(steps) == 1 and steps <= {1, 2}:
        alternate = "ALTERNATE " if steps == {2} else ""
        return f"{alternate}COURSES {numbers[0]} TO {numbers[-1]}"
    return f"COURSES {', '.join(map(str, numbers))}"


def _placed(
    led: Led, drawing: Drawing, brick: shapely.STRtree, height: float
) -> Iterator[Ink]:
    """Draw a leader with its mark at the nearest clear place."""
    text = height * drawing.scale
    lines = shapely.STRtree(shapely.linestrings(list(every_line(drawing))))
    rings = [
        ring_of_words(each, drawing.scale)
        for each, _ in lettering_of(drawing)
        if each.text.strip()
    ]
    lettered = shapely.polygons(np.array(rings).reshape(-1, 4, 2))
    led_out = shapely.STRtree([*_leaders_of(drawing, BESIDE * text)])
    left, bottom, right, top = extent_of(drawing)
    furthest = hypot(right - left, top - bottom) + 4 * text
    wide = max(width_of(line, height) for line in led.words) * drawing.scale
    size = wide, text, len(led.words)
    best: tuple[float, Point, Point] | None = None
    # Close to other lettering, or from beside a piece's middle, only where it must be.
    for clear, spots in product((CLEAR, CLOSE), (led.spots, led.instead)):
        if best is not None and best[0] < STRUCK * text:
            break
        roomy = shapely.buffer(lettered, clear * text, join_style="mitre")
        there = lines, shapely.STRtree(np.asarray(roomy)), brick, led_out
        other = _best_of(spots, size, furthest, there)
        best = min((x for x in (best, other) if x is not None), default=None)
    if best is None:
        message = f"{led.words[0]} finds no place on {drawing.name}"
        raise ValueError(message)
    _, spot, end = best
    side = 1 if end[0] >= spot[0] else -1
    yield Stroke(layers.NOTES, (spot, end))
    yield replace(dot(spot, DOT * text), layer=layers.NOTES)
    align: Align = "left" if side > 0 else "right"
    first = end[1] + PITCH * text * (len(led.words) - 1) / 2
    for row, line in enumerate(led.words):
        at = end[0] + side * ROOM * text, first - PITCH * text * row
        yield Words(layers.NOTES, at, line, height, align, "middle")


def _leaders_of(drawing: Drawing, beside: float) -> Iterator[shapely.Geometry]:
    """Yield other leaders and the diamonds they end in, with what is right beside."""
    strokes = (x for x in drawing.ink if isinstance(x, Stroke))
    for stroke in strokes:
        if stroke.layer == layers.NOTES and len(stroke.points) == 2:
            yield shapely.LineString(stroke.points).buffer(beside)
        elif stroke.layer == layers.NOTES and stroke.closed:
            yield shapely.Polygon(stroke.points).buffer(beside)


def _best_of(
    spots: tuple[Point, ...], size: Size, furthest: float, there: There
) -> tuple[float, Point, Point] | None:
    """Return what the best leader costs, and its two ends; None for none."""
    best: tuple[float, Point, Point] | None = None
    for spot in spots:
        # A leader costs more than it is long.
        most = furthest if best is None else min(furthest, best[0])
        found = _nearest(spot, size, most, there)
        if found is not None and (best is None or found[0] < best[0]):
            best = found[0], spot, found[1]
    return best


def _nearest(
    spot: Point, size: Size, furthest: float, there: There
) -> tuple[float, Point] | None:
    """Return what the nearest clear place costs, and where its leader ends.

    Args:
        spot: where the leader begins.
        size: width and height of the lettering, and how many lines it has.
        furthest: how far places are tried.
        there: lines; lettering; brick and whatever else no lettering stands in;
            other leaders.
    """
    best: tuple[float, Point] | None = None
    text = size[1]
    near = 2 * text
    # From near to far, so that few of the places are looked at.
    for reach in (12 * text, 30 * text, 80 * text, furthest):
        most = furthest if best is None else min(furthest, best[0])
        if most <= near:
            break
        found = _within(spot, size, (near, min(reach, most)), there)
        if found is not None and (best is None or found[0] < best[0]):
            best = found
        near = max(near, reach)
    return best


def _within(
    spot: Point, size: Size, reach: tuple[float, float], there: There
) -> tuple[float, Point] | None:
    """Return what `_nearest` does, of the places between two distances."""
    lines, words, brick, led_out = there
    (x, y), (wide, text, rows) = spot, size
    far, turn = np.meshgrid(
        np.arange(*reach, STEP * text),
        np.linspace(0.0, 2 * np.pi, WAYS, endpoint=False),
    )
    far, turn = far.ravel(), turn.ravel()
    ends = np.column_stack((x + far * np.cos(turn), y + far * np.sin(turn)))
    side = np.where(ends[:, 0] >= x, 1.0, -1.0)
    near, away = ends[:, 0], ends[:, 0] + side * (wide + 2 * ROOM * text)
    left, right = np.minimum(near, away), np.maximum(near, away)
    half = (0.5 + ROOM + PITCH * (rows - 1) / 2) * text
    boxes = shapely.box(left, ends[:, 1] - half, right, ends[:, 1] + half)
    clear = np.ones(len(ends), dtype=bool)
    for tree in (brick, words, lines):
        left_over = np.flatnonzero(clear)
        clear[left_over[tree.query(boxes[clear], "intersects")[0]]] = False
    # In each direction the nearest few, because long leaders meet much.
    nearest = np.cumsum(clear.reshape(WAYS, -1), axis=1).ravel() <= FEW
    order = np.argsort(far[clear & nearest], kind="stable")
    far, ends = far[clear & nearest][order], ends[clear & nearest][order]
    best: tuple[float, Point] | None = None
    for first in range(0, len(far), BATCH):
        if best is not None and best[0] <= far[first]:
            break
        some, gone = ends[first : first + BATCH], far[first : first + BATCH]
        starts = np.broadcast_to(np.array(spot), some.shape)
        leaders = np.asarray(shapely.linestrings(np.stack((starts, some), axis=1)))
        struck = np.bincount(words.query(leaders, "intersects")[0], minlength=len(some))
        # What is crossed takes longest to count: only of those that may yet be chosen.
        least = gone + text * STRUCK * struck
        for times in np.unique(struck):
            limit = np.inf if best is None else best[0]
            at = np.flatnonzero((struck == times) & (least < limit))
            hits = lines.query(leaders[at], "crosses")[0]
            crossed = CROSSED * np.bincount(hits, minlength=len(at))
            astray = led_out.query(leaders[at], "crosses")[0]
            crossed += ASTRAY * np.bincount(astray, minlength=len(at))
            cost = gone[at] + text * (crossed + STRUCK * times)
            chosen = int(cost.argmin()) if len(at) else -1
            if len(at) and cost[chosen] < limit:
                end = some[at[chosen]]
                best = float(cost[chosen]), (float(end[0]), float(end[1]))
    return best
