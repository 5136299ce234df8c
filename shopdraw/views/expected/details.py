"""Trace the details of what is sawn, from the cut list alone.

In:  `Solution`, the scale, which of the drawings.   Out: `Trace`s.
Frame: the drawing's own, where the details are set out in rows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import cos, hypot, pi, radians, sin

from shopdraw.drawing import layers
from shopdraw.drawing.expected import Trace
from shopdraw.drawing.ink import Point
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow, Outline
from shopdraw.masonry.wall.surround import corner_legs
from shopdraw.solution import Solution
from shopdraw.views.making.cut_pieces import set_out_details
from shopdraw.views.making.mitred_units import PITCH

Traces = Iterator[Trace]
PAST = 0.6
"""A cut line goes so far past the brick, in heights of lettering."""
STANDING = ("soldier", "rowlock")


def trace_details(solution: Solution, scale: float, place: int) -> Traces:
    """Yield what one drawing of details must show of what is sawn."""
    job = solution.job
    past = PAST * STYLES[job.lengths].text * scale
    for detail in set_out_details(solution, scale)[place]:
        x, y = detail.at
        traces: Iterable[Trace]
        if detail.shapes:
            traces = (x for shape in detail.shapes for x in _shape(shape, past))
        elif detail.row.is_made:
            traces = _mitred_unit(job, detail.row, past)
        elif detail.row.kind in CORNER_KINDS:
            traces = _corner_unit(job, detail.row, past)
        else:
            traces = _rectangle(job, detail.row, past)
        for trace in traces:
            points = tuple((a + x, b + y) for a, b in trace.points)
            yield Trace(trace.layer, trace.kind, points)


def _shape(shape: Outline, past: float) -> Traces:
    """Yield a piece sawn to shape: its outline, and each cut drawn past its corners."""
    ring = [(float(x), float(y)) for x, y in shape.points]
    yield Trace(layers.UNITS, "closed", tuple(ring))
    for side in shape.cuts:
        (a, b), (c, d) = ring[side], ring[(side + 1) % len(ring)]
        share = past / hypot(c - a, d - b)
        x, y = (c - a) * share, (d - b) * share
        yield Trace(layers.CUTS, "open", ((a - x, b - y), (c + x, d + y)))


def _rectangle(job: Job, row: CutListRow, past: float) -> Traces:
    """Yield a piece sawn square: its outline, and a line at each cut."""
    whole = job.brick.length, job.brick.height
    if row.kind in STANDING:
        whole = whole[1], whole[0]
    wide, high = float(row.length), float(row.height)
    ring = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    yield Trace(layers.UNITS, "closed", ring)
    if row.length < whole[0]:
        yield Trace(layers.CUTS, "open", ((wide, -past), (wide, high + past)))
    both = row.kind not in STANDING and "one end as delivered" not in row.note
    if both and row.length < whole[0]:
        yield Trace(layers.CUTS, "open", ((0.0, -past), (0.0, high + past)))
    if row.height < whole[1]:
        yield Trace(layers.CUTS, "open", ((-past, high), (wide + past, high)))
    if "mitre" in row.note:
        foot = max(high, float(whole[1])) + 3 * past
        yield from _on_end(wide, float(job.brick.thickness), foot)


def _on_end(wide: float, thick: float, foot: float) -> Traces:
    """Yield a mitred piece as it is seen from its end."""
    back, top = min(thick, wide), foot + thick
    ring: tuple[Point, ...] = ((0.0, foot), (wide, foot), (wide, top), (back, top))
    yield Trace(layers.SECTION, "closed", ring)
    yield Trace(layers.CUTS, "open", ((0.0, foot), (back, top)))


def _corner_unit(job: Job, row: CutListRow, past: float) -> Traces:
    """Yield a corner unit from above: both legs, and where either is trimmed."""
    is_soldier = row.kind == "soldier corner unit"
    bought = job.brick.soldier_corner if is_soldier else job.brick.corner
    hand = -1 if row.hand == "L" else 1
    thick = float(job.brick.thickness)
    long, short = (float(leg) for leg in row.legs)
    legs = ((0.0, 0.0), (long, 0.0), (long, thick), (thick, thick))
    ring = (*legs, (thick, short), (0.0, short))
    yield Trace(layers.SECTION, "closed", tuple((hand * x, y) for x, y in ring))
    if bought is None:
        return
    whole = corner_legs(bought, job.brick.thickness)
    if row.legs[0] < whole[0]:
        ends = ((hand * long, -past), (hand * long, thick + past))
        yield Trace(layers.CUTS, "open", ends)
    if row.legs[1] < whole[1]:
        ends = ((-hand * past, short), (hand * (thick + past), short))
        yield Trace(layers.CUTS, "open", ends)
    if bought.made == "mitred":
        yield Trace(layers.SECTION, "open", ((0.0, 0.0), (hand * thick, thick)))


def _mitred_unit(job: Job, row: CutListRow, past: float) -> Traces:
    """Yield a unit of two brick from above, and below it each leg by itself.

    The inside corner lies on the line that halves the angle between the legs, so far
    from the outside one that it is the thickness away from both faces.
    """
    thick, between = float(job.brick.thickness), pi - radians(row.turn)
    far, half = thick / sin(between / 2), between / 2
    inner = far * cos(half), far * sin(half)
    hand = -1 if row.hand == "L" else 1
    first, second = (float(leg) for leg in row.legs)
    end = second * cos(between), second * sin(between)
    back = end[0] + thick * sin(between), end[1] - thick * cos(between)
    ring = ((0.0, 0.0), (first, 0.0), (first, thick), inner, back, end)
    yield Trace(layers.SECTION, "closed", tuple((hand * x, y) for x, y in ring))
    mitre = (0.0, 0.0), (hand * inner[0], inner[1])
    yield Trace(layers.SECTION, "open", mitre)
    y, share = -thick - 7.0 * past / PAST, past / thick
    for leg in sorted((first, second), reverse=True):
        kept = ((0.0, 0.0), (leg, 0.0), (leg, thick), inner)
        sawn = (-share * inner[0], -past), ((1 + share) * inner[0], thick + past)
        at = [tuple((hand * x, up + y) for x, up in part) for part in (kept, sawn)]
        yield Trace(layers.SECTION, "closed", at[0])
        yield Trace(layers.CUTS, "open", at[1])
        y -= thick + PITCH * past / PAST
