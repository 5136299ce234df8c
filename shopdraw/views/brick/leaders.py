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
from itertools import chain, pairwise, product
from math import hypot

import numpy as np
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.extents import about, every_line, extent_of, lettering_of
from shopdraw.drawing.ink import Align, Drawing, Ink, Measure, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, ring_of_words, width_of
from shopdraw.drawing.measures import ends_of
from shopdraw.masonry.wall.layout import OF_AN_ARCH, Outline, Piece
from shopdraw.views.brick.marks import (
    Line,
    goes_unmarked,
    mark_of,
    mark_within,
)
from shopdraw.views.brick.nearest import (
    APART,
    PITCH,
    ROOM,
    STRUCK,
    Found,
    Shapes,
    Size,
    There,
    nearest_place,
)
from shopdraw.views.parts.figures import dot
from shopdraw.views.parts.phrases import courses_said

CLEAR, CLOSE = 0.1, 0.05
"""What is left free about other lettering, and what at the least, in its heights."""
BESIDE = 0.25
"""So near, in heights, is as bad as to cross a leader: between it and its mark, too."""
NEARER = 12.0
"""A leader may be so much longer, in heights, rather than leave less room about a note:
as long as it might be to cross no other leader."""
SHARES = (0.2, 0.5, 0.8)
"""Where across a piece, and up it, a leader may end as well."""
DOT = 0.25
"""Half the diamond that a leader ends in, in heights of lettering."""


@dataclass(frozen=True)
class Led:
    """What is lettered at a leader: the mark of pieces that share it, or some lines.

    Attributes:
        words: as lettered, a line each.
        spots: places for the leader's end, of which one is taken.
        instead: more of them, for where each leader from there runs through lettering;
            of a note, for where a leader is much shorter from one of them.
        is_of_arch: they are in an arch; any other leader goes round it.
        is_note: it is no mark, and stands apart from other lines where it can.
    """

    words: tuple[str, ...]
    spots: tuple[Point, ...]
    instead: tuple[Point, ...] = ()
    is_of_arch: bool = False
    is_note: bool = False


def with_leaders(
    pieces: Iterable[Piece],
    faces: set[str],
    dx: float,
    height: float,
    drawing: Drawing,
    over: Sequence[Line] = (),
    free: Sequence[Box] = (),
    kept: Sequence[Box] = (),
) -> Drawing:
    """Add a leader for each piece, or column of like pieces, that has no room.

    Args:
        pieces: all that the drawing may show.
        faces: which faces it shows.
        dx: added to x.
        height: of the lettering, on paper.
        drawing: with all its other ink.
        over: lines across the brick, as marks were kept clear of them.
        free: boxes that no mark stands in: woodwork.
        kept: the same for what is drawn later, whose leader none of these crosses.
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
    brick = [*taken, *(shapely.box(*box) for box in (*free, *kept))]
    # What lies low comes first: an arch's inner ring has the opening below it alone.
    columns = sorted(_columns(without, dx), key=lambda led: led.spots[0][1])
    if not columns:
        return drawing
    arch = _filled(_ring(x, dx) for piece, x in shown if piece.kind in OF_AN_ARCH)
    around = _Around(drawing, brick, height, arch, [shapely.box(*x) for x in kept])
    for led in columns:
        around.lead(led)
    return around.drawing


def with_led_words(
    words: tuple[str, ...],
    spots: tuple[Point, ...],
    pieces: Iterable[Piece],
    faces: set[str],
    dx: float,
    height: float,
    drawing: Drawing,
    kept: Sequence[Box] = (),
    instead: tuple[Point, ...] = (),
) -> Drawing:
    """Add lines of lettering, clear of all that is there, with a leader to a spot.

    They stand on no brick, nor between the face and its outermost dimensions; their
    leader goes round these, and round what is kept for others, if it can. `instead`
    are spots for a leader that is much shorter from there.
    """
    brick = [
        _ring(outline, dx)
        for piece in pieces
        for outline in piece.outlines
        if outline.face in faces
    ]
    face = about([x for ring in brick for x in _corners(ring.bounds)])
    strips = [shapely.box(*box) for box in (*dimensioned(drawing, face), *kept)]
    around = _Around(drawing, [*brick, *strips], height, strips)
    around.lead(Led(words, spots, instead, is_note=True))
    return around.drawing


def dimensioned(drawing: Drawing, face: Box) -> Iterator[Box]:
    """Yield the strips on each side of a face as far as dimensions stand there."""
    strings = (ends_of(x) for x in drawing.ink if isinstance(x, Measure))
    left, low, right, high = about([*_corners(face), *chain.from_iterable(strings)])
    yield left, low, face[0], high
    yield face[2], low, right, high
    yield left, low, right, face[1]
    yield left, face[3], right, high


def _corners(box: Box) -> tuple[Point, Point]:
    """Return the lower left and the upper right corner of a box."""
    return box[:2], box[2:]


def _ring(outline: Outline, dx: float) -> shapely.Polygon:
    return shapely.Polygon([(float(x) + dx, float(y)) for x, y in outline.points])


def _filled(rings: Iterable[shapely.Polygon]) -> list[shapely.Geometry]:
    """Return an arch as one, its joints filled: nothing where there is none."""
    every = list(rings)
    if not every:
        return []
    wide = min(map(_least_side, every)) / 2
    return [shapely.union_all([x.buffer(wide) for x in every]).buffer(-wide)]


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
        is_of_arch = piece.kind in OF_AN_ARCH
        yield Led((words,), middles, tuple(others), is_of_arch)


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


class _Around:
    """What a leader and its mark keep clear of; it grows by what is led.

    Args:
        drawing: with all its other ink.
        brick: brick and whatever else no lettering stands in.
        height: of the lettering, on paper.
        arch: what leaders go round, but those of its own pieces; for a note, strings
            of dimensions.
        kept: what no leader crosses, as if other leaders were there.
    """

    def __init__(
        self,
        drawing: Drawing,
        brick: list[shapely.Polygon],
        height: float,
        arch: Sequence[shapely.Geometry] = (),
        kept: Sequence[shapely.Geometry] = (),
    ) -> None:
        self.drawing = drawing
        self._brick, self._height = shapely.STRtree(brick), height
        self._arch = shapely.STRtree(list(arch))
        self._text = height * drawing.scale
        self._extent = extent_of(drawing)
        self._lines = _lines_of(drawing)
        self._lettered = _lettered_on(drawing)
        self._led = [*kept, *_leaders_of(drawing, BESIDE * self._text)]

    def lead(self, led: Led) -> None:
        """Add a leader with its mark, at the nearest clear place.

        Raises:
            ValueError: there is none.
        """
        ink = tuple(self._placed(led))
        # Only what is new is looked at: the rest is as it was.
        new = replace(self.drawing, ink=ink)
        self.drawing = replace(self.drawing, ink=(*self.drawing.ink, *ink))
        both = extent_of(new), self._extent
        self._extent = about([x for box in both for x in _corners(box)])
        self._lines = np.concatenate((self._lines, _lines_of(new)))
        self._lettered = np.concatenate((self._lettered, _lettered_on(new)))
        self._led += _leaders_of(new, BESIDE * self._text)

    def _placed(self, led: Led) -> Iterator[Ink]:
        """Draw a leader with its mark at the nearest clear place."""
        height, text = self._height, self._text
        lines, led_out = shapely.STRtree(self._lines), shapely.STRtree(self._led)
        across = shapely.STRtree([]) if led.is_of_arch else self._arch
        left, bottom, right, top = self._extent
        furthest = hypot(right - left, top - bottom) + 4 * text
        wide = max(width_of(line, height) for line in led.words) * self.drawing.scale
        size = wide, text, len(led.words)
        best: Found | None = None
        # Close to other lines or lettering, or from beside a piece's middle, only where
        # it must; a note also where its leader is much shorter then.
        rooms = [(ROOM, CLEAR, 0.0), (ROOM, CLOSE, 0.0)]
        if led.is_note:
            rooms = [(APART, ROOM, 0.0), (ROOM, CLEAR, NEARER), (ROOM, CLOSE, 0.0)]
        for (free, clear, dear), spots in product(rooms, (led.spots, led.instead)):
            if best is not None and best[0] < STRUCK * text and not dear:
                continue
            roomy = shapely.buffer(self._lettered, clear * text, join_style="mitre")
            words = shapely.STRtree(roomy)
            there = There(lines, words, self._brick, led_out, across, free, led.is_note)
            for spot in spots:
                best = _nearer(spot, size, furthest, there, best, dear * text)
        if best is None:
            message = f"{led.words[0]} finds no place on {self.drawing.name}"
            raise ValueError(message)
        _, spot, end = best
        side = 1 if end[0] >= spot[0] else -1
        yield Stroke(layers.NOTES, (spot, end))
        yield replace(dot(spot, DOT * text), layer=layers.NOTES)
        align: Align = "left" if side > 0 else "right"
        for row, line in enumerate(led.words):
            at = end[0] + side * ROOM * text, end[1] - PITCH * text * row
            yield Words(layers.NOTES, at, line, height, align, "middle")


def _nearer(
    spot: Point,
    size: Size,
    furthest: float,
    there: There,
    best: Found | None,
    dear: float,
) -> Found | None:
    """Return what `nearest_place` does, where each place costs so much more."""
    known = best and (best[0] - dear, *best[1:])
    found = nearest_place(spot, size, furthest, there, known)
    return best if found is known or found is None else (found[0] + dear, *found[1:])


def _lines_of(drawing: Drawing) -> Shapes:
    lines = np.array(list(every_line(drawing))).reshape(-1, 2, 2)
    return np.asarray(shapely.linestrings(lines))


def _lettered_on(drawing: Drawing) -> Shapes:
    rings = [
        ring_of_words(each, drawing.scale)
        for each, _ in lettering_of(drawing)
        if each.text.strip()
    ]
    return np.asarray(shapely.polygons(np.array(rings).reshape(-1, 4, 2)))


def _leaders_of(drawing: Drawing, beside: float) -> Iterator[shapely.Geometry]:
    """Yield other leaders and the diamonds they end in, with what is right beside."""
    strokes = (x for x in drawing.ink if isinstance(x, Stroke))
    for stroke in strokes:
        if stroke.layer == layers.NOTES and len(stroke.points) == 2:
            yield shapely.LineString(stroke.points).buffer(beside)
        elif stroke.layer == layers.NOTES and stroke.closed:
            yield shapely.Polygon(stroke.points).buffer(beside)
