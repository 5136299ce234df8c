"""Word and draw what the fabricator needs of a mark: size, ends, hand, corners.

In:  `Job`, `CutListRow`s.   Out: words, strokes.
Frame: lengths as the sheets print them; strokes at full size. A brick is drawn lying
down; one that stands on the wall has its foot to the left.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Stroke
from shopdraw.drawing.lettering import wrap
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.job.turning import taken_at_mitre
from shopdraw.lengths import format_length
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow
from shopdraw.masonry.wall.surround import corner_legs
from shopdraw.views.brick.units import state_of
from shopdraw.views.making.corner_units import draw_corner_unit
from shopdraw.views.making.cut_pieces import draw_cut, draw_shape
from shopdraw.views.making.mitred_units import leg_alone, legs_of, put_together

LYING = ("soldier", "rowlock", "voussoir", "keystone")
"""The kinds that stand on the wall: on the saw they lie down."""
ONE_END, TURNS = "one end as delivered", "may be turned over"
FIGURE = re.compile(r'(?<=\d) (?=\d+/)|(?<=["\d]) (?=x \d)|(?<= x) (?=\d)')
"""The blanks inside a figure or a pair: a line broken there would be misread."""
PAST = 0.6
"""A cut line goes so far past the brick, in heights of lettering."""
TIED = "\\"
"""Stands for such a blank; plain text never has this sign."""
TOLD = ("", ONE_END, TURNS, "not turned over")
"""Parts of a row's note that are said more exactly here."""


def finished_size(job: Job, row: CutListRow) -> str:
    """Return length and height, or both legs (outside) and height, as lettered."""
    unit = " MM" if job.lengths == "mm" else ""
    height = f"{format_length(row.height, job.lengths)}{unit} HIGH"
    if row.kind not in CORNER_KINDS:
        return f"{format_length(row.length, job.lengths)} x {height}"
    legs = " x ".join(format_length(leg, job.lengths) for leg in row.legs)
    return f"{legs} OUTSIDE x {height}"


def kind_of(row: CutListRow) -> str:
    """Return what a mark is, as lettered: `CUT STRETCHER`."""
    return f"{state_of(row)}{row.kind.upper()}"


def turning_of(row: CutListRow) -> str:
    """Return whether a mark may be turned end for end, or over, as lettered."""
    if row.kind not in CORNER_KINDS:
        return f"{'DO NOT TURN' if row.shapes else 'MAY BE TURNED'} END FOR END"
    if row.shapes:
        # The cut list does not say on which side of the corner their long leg lies.
        names = ", ".join(row.ids)
        return f"DO NOT TURN OVER ONCE SAWN: SEE {names} ON THE ELEVATION FOR ITS HAND"
    if TURNS in row.note:
        return TURNS.upper()
    hand = "LEFT" if row.mark.endswith("-L") else "RIGHT"
    return f"DO NOT TURN OVER: LONG LEG {hand} OF ITS CORNER"


def ends_kept(job: Job, row: CutListRow) -> list[str]:
    """Return which ends stay as delivered, the brick lying down as on the saw."""
    if row.kind in CORNER_KINDS:
        return _legs_kept(job, row)
    lies, whole = row.kind in LYING, job.brick.length
    if row.shapes:
        called = {"bottom": "LEFT", "top": "RIGHT", "left": "LEFT", "right": "RIGHT"}
        return [called[end] for end in row.shapes[0].square_ends(upright=lies)]
    if (row.height if lies else row.length) >= whole:
        return ["LEFT", "RIGHT"]
    return ["LEFT"] if lies or ONE_END in row.note else []


def _legs_kept(job: Job, row: CutListRow) -> list[str]:
    """Return the legs of a corner unit whose free ends are not sawn."""
    solid = row.kind == "corner unit"
    corner = job.brick.corner if solid else job.brick.soldier_corner
    legs = corner_legs(corner, job.brick.thickness) if corner else row.legs
    ends = {"left", "right"}
    sawn = [shape.right for shape in row.shapes if ends & set(shape.sawn_ends())]
    return [
        f"{name} LEG"
        for name, leg, was in zip(("LONG", "SHORT"), row.legs, legs, strict=True)
        if (leg >= was or row.is_made) and leg not in sawn
    ]


def corners_of(job: Job, row: CutListRow) -> Iterator[str]:
    """Yield the corners of each shape as drawn, anticlockwise from the lower left."""
    for shape in row.shapes:
        points = list(shape.points)
        if row.kind in LYING:
            points = [(y, shape.right - x) for x, y in points]
        first = points.index(min(points, key=sum))
        yield ", ".join(
            " x ".join(format_length(side, job.lengths) for side in point)
            for point in (*points[first:], *points[:first])
        )


def tied(text: str) -> str:
    """Tie the parts of each figure in a text together, so that it is one word."""
    return FIGURE.sub(lambda _: TIED, text)


def lines_of(text: str, height: float, width: float) -> tuple[str, ...]:
    """Break a text into lines no wider than the width, and keep figures whole."""
    lines = wrap(tied(text), height, width) or ("",)
    return tuple(line.replace(TIED, " ") for line in lines)


def views_of(
    job: Job, row: CutListRow, scale: float
) -> Iterator[tuple[str, tuple[Stroke, ...]]]:
    """Yield the views of a mark at full size, each with its caption, if it has one."""
    name = ""
    if row.is_made:
        yield from _views_of_made(job, row, scale)
    elif row.kind in CORNER_KINDS:
        yield name, _level(draw_corner_unit(job, row, scale), row, [])
    if row.kind in CORNER_KINDS:
        for shape in row.shapes:
            name = f"{format_length(shape.right, job.lengths)} LEG, SEEN FROM ITS FACE"
            yield name, _level(draw_shape(job, row, shape, scale, name), row, [])
    elif row.shapes:
        drawing = draw_shape(job, row, row.shapes[0], scale, name)
        yield name, _level(drawing, row, ends_kept(job, row))
    else:
        yield name, _level(draw_cut(job, row, scale), row, [])


def _views_of_made(
    job: Job, row: CutListRow, scale: float
) -> Iterator[tuple[str, tuple[Stroke, ...]]]:
    """Yield a unit that is made of two brick, and each of its legs face down."""
    yield "PUT TOGETHER, FROM ABOVE", put_together(job, row)
    for name, leg in legs_of(row):
        outside, inside = (
            format_length(x, job.lengths)
            for x in (leg, leg - taken_at_mitre(job.brick.thickness, row.turn))
        )
        said = f"{name}, FACE DOWN: {outside} OUTSIDE, {inside} INSIDE"
        yield said, leg_alone(job, row, leg, PAST * scale * STYLES[job.lengths].text)


def _level(drawing: Drawing, row: CutListRow, ends: list[str]) -> tuple[Stroke, ...]:
    """Return a drawing's lines with the brick lying down, flush with the end kept."""
    lines = [each for each in drawing.ink if isinstance(each, Stroke)]
    if row.kind in LYING:
        lines = [replace(x, points=tuple((b, -a) for a, b in x.points)) for x in lines]
    edge, at = (min if "LEFT" in ends else max), {layers.UNITS: 0.0, layers.HIDDEN: 0.0}
    for layer in at if ends else ():
        at[layer] = edge(x for y in lines if y.layer == layer for x, _ in y.points)
    by = {layers.HIDDEN: at[layers.UNITS] - at[layers.HIDDEN]}
    return tuple(
        replace(x, points=tuple((a + by.get(x.layer, 0.0), b) for a, b in x.points))
        for x in lines
    )
