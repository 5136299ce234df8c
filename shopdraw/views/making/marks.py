"""Draw each mark as the fabricator's ticket sketches it, and break lines of figures.

In:  `Job`, `CutListRow`s.   Out: strokes, lines of words.
Frame: lengths as the sheets print them; strokes at full size. A brick is drawn lying
down; one that stands on the wall has its foot to the left.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Stroke
from shopdraw.drawing.lettering import wrap
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.job.splayed import turns_of
from shopdraw.job.turning import cos_sin, taken_at_mitre
from shopdraw.lengths import format_made
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow
from shopdraw.masonry.wall.surround import corner_legs
from shopdraw.views.making.corner_units import draw_corner_unit
from shopdraw.views.making.cut_pieces import draw_cut, draw_shape, draw_unfolded
from shopdraw.views.making.mitred_units import leg_alone, legs_of, put_together
from shopdraw.views.making.sizes import LYING, ends_kept

FIGURE = re.compile(r'(?<=\d) (?=\d+/)|(?<=["\d]) (?=x \d)|(?<= x) (?=\d)')
"""The blanks inside a figure or a pair: a line broken there would be misread."""
PAST = 0.6
"""A cut line goes so far past the brick, in heights of lettering."""
TIED = "\\"
"""Stands for such a blank; plain text never has this sign."""


@lru_cache(maxsize=4096)
def tied(text: str) -> str:
    """Tie the parts of each figure in a text together, so that it is one word."""
    return FIGURE.sub(lambda _: TIED, text)


@lru_cache(maxsize=4096)
def lines_of(text: str, height: float, width: float) -> tuple[str, ...]:
    """Break a text into lines no wider than the width, and keep figures whole.

    Kept, because labels and cells of a mark say the same again and again.
    """
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
        yield name, _level(draw_corner_unit(job, row, scale).drawing, row, [])
    if row.unfolded:
        said = "BOTH LEGS UNFOLDED, SEEN FROM THE FACE"
        yield said, _level(draw_unfolded(job, row, scale).drawing, row, [])
    elif row.kind in CORNER_KINDS:
        return
    elif row.shapes:
        drawing = draw_shape(job, row, scale).drawing
        yield name, _level(drawing, row, ends_kept(job, row))
    else:
        yield name, _level(draw_cut(job, row, scale).drawing, row, [])


def longest_sketch(job: Job, is_unfolded: bool) -> float:
    """Return how long a mark's longest sketch may be, at full size.

    Legs that are unfolded lie side by side.
    """
    brick = job.brick
    corners = [x for x in (brick.corner, brick.soldier_corner) if x is not None]
    both = [corner_legs(x, brick.thickness) for x in corners]
    legs = [leg for pair in both for leg in pair]
    # A mitred brick is shown from its end beside itself.
    longest = max([brick.length, *legs]) + brick.thickness
    if is_unfolded:
        longest = max([longest, *(a + b for a, b in both)])
    # Two mitred legs spread further than a square corner's.
    spread = max((cos_sin(x)[0] * max(legs) for x in turns_of(job)), default=0)
    return float(longest + spread)


def _views_of_made(
    job: Job, row: CutListRow, scale: float
) -> Iterator[tuple[str, tuple[Stroke, ...]]]:
    """Yield a unit that is made of two brick, and each of its legs face down."""
    yield "PUT TOGETHER, FROM ABOVE", put_together(job, row)
    for name, leg in legs_of(row):
        outside, inside = (
            format_made(x, job.lengths)
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
