"""Draw the border and the title block of a sheet.

In:  `TitleBlock`, the sheet's size.   Out: ink.
Frame: paper lengths, origin at the lower left corner of the sheet, y up.

What does not fit its cell is refused, and never runs over it.
Where the paper is low the block draws in: first its free room goes, then the cells that
nobody filled, if a sheet needs them not, then the notes, which stand among the general
notes too. On the lowest paper it has the fields that every sheet needs, and says where
the others are, and what was revised.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import accumulate

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Point, Stroke
from shopdraw.drawing.lettering import wrap
from shopdraw.drawing.moving import moved
from shopdraw.drawing.papers import Part
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.drawing.title_block import (
    DENSITIES,
    Cell,
    Density,
    TitleBlock,
)
from shopdraw.drawing.title_parts import INSET, Lettered, box_of_lines
from shopdraw.errors import NotDrawable
from shopdraw.lengths import Lengths

COLUMNS = 3
"""At the foot of an upright sheet the block stands in so many columns."""


def draw_frame(
    size: tuple[float, float], lengths: Lengths, block: TitleBlock
) -> tuple[Ink, ...]:
    """Draw the border, and the title block in the strip at its right, or at the foot.

    On an upright sheet the block stands in columns across the foot; there is no room
    for other people's stamps, nor for the notes.

    Args:
        size: the sheet's width and height.
        lengths: what it is measured in.
        block: what the title block says.

    Raises:
        NotDrawable: a text does not fit its cell, or the paper is too low.
    """
    style = STYLES[lengths]
    is_upright = size[0] < size[1]
    wide = _column_width(size, style) if is_upright else style.strip
    _refuse_overlong(block, wide / style.text)
    density = _density_for(size, lengths, block)
    if density is None:
        message = (
            "sheet.size: the title block does not fit this paper; give larger paper, "
            "or shorter texts in [job]"
        )
        raise NotDrawable(message)
    if is_upright:
        return tuple(_across_the_foot(size, style, block, density))
    margin = style.margin
    left, right = size[0] - margin - style.strip, size[0] - margin
    strip = Lettered(style.text, style.strip, density)
    above, below = strip.above(block), strip.below(block)
    foot = margin + sum(part[1] for part in below)
    return (
        box_of_lines(layers.BORDER, (margin, margin, right, size[1] - margin)),
        Stroke(layers.BORDER, ((left, margin), (left, size[1] - margin))),
        *_stacked(above, (left, size[1] - margin)),
        *_stacked(below, (left, foot)),
    )


def left_out(
    size: tuple[float, float], lengths: Lengths, block: TitleBlock
) -> tuple[Cell, ...]:
    """Return the cells that a block has no room for on a sheet of that size."""
    density = _density_for(size, lengths, block)
    if density is None or not density.is_short:
        return ()
    return tuple(x for x in block.cells if x.value and not x.is_needed)


def _density_for(
    size: tuple[float, float], lengths: Lengths, block: TitleBlock
) -> Density | None:
    """Return the roomiest density at which a block fits a sheet; None for none."""
    style = STYLES[lengths]
    for density in DENSITIES:
        if size[0] < size[1]:
            wide = _column_width(size, style)
            columns = _in_columns(_parts(style, wide, block, density), style.foot)
            if len(columns) <= COLUMNS:
                return density
            continue
        strip = Lettered(style.text, style.strip, density)
        parts = (*strip.above(block), *strip.below(block))
        if sum(part[1] for part in parts) <= size[1] - 2 * style.margin:
            return density
    return None


def _across_the_foot(
    size: tuple[float, float], style: PaperStyle, block: TitleBlock, density: Density
) -> Iterator[Ink]:
    """Draw the border of an upright sheet, and the block in columns at its foot."""
    margin = style.margin / 2
    right, head, wide = (
        size[0] - margin,
        margin + style.foot,
        _column_width(size, style),
    )
    yield box_of_lines(layers.BORDER, (margin, margin, right, size[1] - margin))
    yield Stroke(layers.BORDER, ((margin, head), (right, head)))
    columns = _in_columns(_parts(style, wide, block, density), style.foot)
    for place in range(COLUMNS):
        x = margin + place * wide
        if place:
            yield Stroke(layers.TABLES, ((x, margin), (x, head)))
        if place < len(columns):
            yield from _stacked(columns[place], (x, head))


def _column_width(size: tuple[float, float], style: PaperStyle) -> float:
    return (size[0] - style.margin) / COLUMNS


def _parts(
    style: PaperStyle, wide: float, block: TitleBlock, density: Density
) -> list[Part]:
    """Return what stands at the foot of an upright sheet, in order."""
    strip = Lettered(style.text, wide, density)
    bare = replace(block, notes=(), stamp_boxes=(), seal="")
    return [*strip.above(bare), *strip.below(bare)]


def _in_columns(parts: list[Part], high: float) -> list[list[Part]]:
    """Break parts into columns, in order, none higher than what is given."""
    columns: list[list[Part]] = [[]]
    taken = 0.0
    for part in parts:
        if taken + part[1] > high:
            columns.append([])
            taken = 0.0
        columns[-1].append(part)
        taken += part[1]
    return columns


def _stacked(parts: list[Part], top: Point) -> Iterator[Ink]:
    """Put parts under one another."""
    tops = accumulate((part[1] for part in parts), initial=0.0)
    for (ink, _), down in zip(parts, tops, strict=False):
        for each in ink:
            yield moved(each, (top[0], top[1] - down))


def _refuse_overlong(block: TitleBlock, strip: float) -> None:
    """Refuse what is too long for its cell, `strip` heights of lettering wide.

    Raises:
        NotDrawable: the key, and how much of it fits.
    """
    for cell in block.cells:
        lines = wrap(cell.value, 1.0, strip - 2 * INSET)
        if cell.most and len(lines) > cell.most:
            fits = len(" ".join(lines[: cell.most]))
            message = (
                f"{cell.key}: does not fit its place in the title block, "
                f"{cell.most} lines; write about {fits} letters"
            )
            raise NotDrawable(message)
