"""Tie dimensions to the work: take each extension line on to what it measures.

In:  a `Drawing`.   Out: the same; its dimensions begin at corners of the work.
Frame: the drawing's own.

A view sets its strings out before all of its ink is there, each with short extension
lines. Here each is taken on to the nearest corner of the work that stands where it
measures, or to the outline that the corner lies just inside of; the writers leave the
usual gap there. It begins short of lettering in its way. It stays as it was where there
is no such corner, and where it would run across solid work or a level line: a joint far
up the face is not tied to what happens to lie below it. But both ends of a string below
the work, which may measure what lies behind it or far up it, go on to whatever is in
the way, and beyond lettering, unless another string's end is there already. Each level
of an upright string goes on beyond lettering, too: a nearer string's lies across it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from shopdraw.drawing import layers
from shopdraw.drawing.extents import every_line, lettering_of
from shopdraw.drawing.ink import Axis, Drawing, Ink, Insert, Measure, Point, Stroke
from shopdraw.drawing.measures import CLEAR, GAP

OUTLINES = {layers.OUTLINE, layers.OF_RETURNS[layers.OUTLINE]}
"""What an extension line ends at, if what it measures lies inside."""
SOLID = {
    layers.UNITS,
    layers.CORNERS,
    layers.SECTION,
    *layers.OF_RETURNS.values(),
} - OUTLINES
"""What is solid in a view."""
BARRED = SOLID | {layers.LEVELS}
"""What an extension line never runs across."""
WORK = SOLID | OUTLINES | {layers.HIDDEN, layers.OTHERS, layers.FLOOR}
"""What is measured."""
SAME = 1e-6
"""Full-size lengths that differ by no more are the same."""
UNSEEN = 0.05
"""So far aside, in heights of lettering, the end of a string is still at its corner:
slanting work is measured to the nearest mark of a tape."""

BESIDE = 1.0
"""So near, in heights of lettering, an extension line reads as an outline's edge."""


class _Work(NamedTuple):
    """What dimensions along one axis may be tied to.

    The first of each pair of coordinates lies along the axis that is measured, the
    other across it.

    Attributes:
        corners: of all work: n x 2.
        outlines: lines that are ended at: n x 2 ends x 2.
        barred: lines that are not run across: n x 2 ends x 2.
        every: all lines of the work, and level lines: n x 2 ends x 2.
        lettered: least and most of each line of lettering: n x 2 x 2.
    """

    corners: np.ndarray
    outlines: np.ndarray
    barred: np.ndarray
    every: np.ndarray
    lettered: np.ndarray


def tied(drawing: Drawing) -> Drawing:
    """Return a drawing whose extension lines reach the work that they measure."""
    if not any(isinstance(ink, Measure) for ink in drawing.ink):
        return drawing
    boxes = [box for words, box in lettering_of(drawing) if words.text.strip()]
    lines = _lines(drawing, WORK)
    along_x = _Work(
        corners=_corners(lines),
        outlines=_lines(drawing, OUTLINES),
        barred=_lines(drawing, BARRED),
        every=_lines(drawing, WORK | BARRED),
        lettered=np.array(boxes).reshape(-1, 2, 2),
    )
    along_y = _Work(*(each[..., ::-1] for each in along_x))
    # Where an upright edge goes straight on, its spot is the level that is measured.
    along_y = along_y._replace(corners=lines.reshape(-1, 2)[:, ::-1])
    work: dict[Axis, _Work] = {"x": along_x, "y": along_y}
    going_on: dict[Axis, set[Point]] = {x: _going_on(drawing, x) for x in work}
    ink, drawn = list[Ink](), set[tuple[Point, ...]]()
    for each in drawing.ink:
        if isinstance(each, Measure):
            ends = going_on[each.axis]
            measure, *beyond = _tied(each, work[each.axis], drawing.scale, ends)
            ink.append(measure)
            # A level is the end of one dimension and the start of the next.
            ink += [x for x in beyond if x.points not in drawn]
            drawn |= {x.points for x in beyond}
        else:
            ink.append(each)
    return replace(drawing, ink=tuple(ink))


def _going_on(drawing: Drawing, axis: Axis) -> set[Point]:
    """Return the ends that go on beyond lettering, each with its dimension line.

    Along x that are the two of a string, along y all. Of ends one behind another only
    the nearest to the work.
    """
    strings: dict[float, list[Point]] = {}
    for ink in drawing.ink:
        if isinstance(ink, Measure) and ink.axis == axis:
            ends = (x if axis == "x" else x[::-1] for x in (ink.start, ink.end))
            strings.setdefault(ink.line_at, []).extend(ends)
    found: dict[tuple[int, bool], Point] = {}
    for line_at, points in strings.items():
        outer = (min(points), max(points))
        for at, short in outer if axis == "x" else points:
            spot, end = (round(at / SAME), short > line_at), (at, line_at)
            nearest = max if short > line_at else min
            found[spot] = nearest(found.get(spot, end), end, key=lambda x: x[1])
    return set(found.values())


def _lines(drawing: Drawing, wanted: set[str]) -> np.ndarray:
    """Return the straight lines on some layers: n x 2 ends x 2."""
    inked = tuple(
        ink
        for ink in drawing.ink
        if isinstance(ink, Stroke | Insert) and ink.layer in wanted
    )
    return np.array(list(every_line(replace(drawing, ink=inked)))).reshape(-1, 2, 2)


def _corners(lines: np.ndarray) -> np.ndarray:
    """Return the ends of lines, but where the next goes straight on: n x 2."""
    ends = lines.reshape(-1, 2)
    if len(lines) < 2:
        return ends
    (dx, dy), (ax, ay) = (
        (lines[:-1, 1] - lines[:-1, 0]).T,
        (lines[1:, 1] - lines[1:, 0]).T,
    )
    meets = (np.abs(lines[:-1, 1] - lines[1:, 0]) < SAME).all(axis=1)
    goes_on = meets & (np.abs(dx * ay - dy * ax) < SAME) & (dx * ax + dy * ay > 0)
    at = np.flatnonzero(goes_on)
    return np.delete(ends, np.concatenate((2 * at + 1, 2 * at + 2)), axis=0)


def _tied(
    measure: Measure, work: _Work, scale: float, going_on: set[Point]
) -> tuple[Measure, *tuple[Stroke, ...]]:
    """Return a dimension whose two extension lines are as long as they can be.

    What they go on with beyond lettering follows it.
    """
    text = measure.height_on_paper * scale
    way, beyond, begun = 0 if measure.axis == "x" else 1, list[Stroke](), list[Point]()

    def placed(at: float, far: float) -> Point:
        return (at, far) if measure.axis == "x" else (far, at)

    for point in (measure.start, measure.end):
        at, short = point[way], point[1 - way]
        goes_on = (at, measure.line_at) in going_on
        is_outer = goes_on and measure.axis == "x"
        far, *more = _reached(
            at, (measure.line_at, short), work, text, is_outer=is_outer
        )
        begun.append(placed(at, far))
        if not goes_on:
            continue
        beyond += [
            Stroke(measure.layer, (placed(at, low), placed(at, high)))
            for low, high in zip(more[::2], more[1::2], strict=True)
        ]
    return replace(measure, start=begun[0], end=begun[1]), *beyond


def _reached(
    at: float, ends: Point, work: _Work, text: float, *, is_outer: bool
) -> list[float]:
    """Return where an extension line begins, then where it goes on beyond lettering.

    Args:
        at: where it measures.
        ends: where it ends, at its dimension line, and where it began as set out.
        work: what is there.
        text: the height of its figure, at full size.
        is_outer: it is the end of a string.
    """
    line_at, short = ends
    inward, room = 1.0 if short > line_at else -1.0, CLEAR * text

    def further(found: np.ndarray) -> np.ndarray:
        """Return how much further in than set out something is, where it is."""
        beyond = (found - short) * inward
        return np.asarray(beyond[beyond > SAME])

    aside = UNSEEN * text if is_outer else SAME
    corners = further(work.corners[np.abs(work.corners[:, 0] - at) < aside, 1])
    barred = further(_met(at, work.barred))
    far = corners.min() if corners.size else np.inf
    if not corners.size or (barred < far - SAME).any():
        met = further(_met(at, work.every, -SAME))
        if not is_outer or not met.size:
            return [short]
        far = met.min()
    least, most = work.lettered[:, 0], work.lettered[:, 1]
    over = (least[:, 0] - room < at) & (at < most[:, 0] + room)
    near, last = (least, most) if inward > 0 else (most, least)
    ahead = over & ((last[:, 1] - short) * inward > SAME)
    words = np.maximum((near[ahead, 1] - short) * inward, 0.0)
    # Right beside an outline it would thicken that: it ends where that begins.
    off = np.abs(work.outlines[..., 0] - at)
    beside = ((aside <= off) & (off < BESIDE * text)).all(axis=1)
    stops = _met(at, work.outlines), work.outlines[beside, :, 1].ravel()
    end = float(np.array([far, *further(np.concatenate(stops))]).min())
    begun = [short + inward * float(np.array([end, *words]).min())]
    past = (last[ahead, 1] - short) * inward
    starts, nexts = sorted(past + room), [*sorted(words - room)[1:], np.inf]
    for low, stop in zip(starts, nexts[: len(starts)], strict=True):
        high = min(stop, end - GAP * text)
        if high - low > text:
            begun += [short + inward * low, short + inward * high]
    return begun


def _met(at: float, lines: np.ndarray, within: float = SAME) -> np.ndarray:
    """Return where lines are met at a coordinate, so far within their length."""
    first, last = lines[:, 0], lines[:, 1]
    low, high = np.minimum(first[:, 0], last[:, 0]), np.maximum(first[:, 0], last[:, 0])
    across = (low < at - within) & (at + within < high) & (high - low > 2 * SAME)
    first, last = first[across], last[across]
    share = (at - first[:, 0]) / (last[:, 0] - first[:, 0])
    return np.asarray(first[:, 1] + share * (last[:, 1] - first[:, 1]))
