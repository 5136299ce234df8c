"""Draw the border and the title block of a sheet.

In:  `TitleBlock`, the sheet's size.   Out: ink.
Frame: paper lengths, origin at the lower left corner of the sheet, y up; a part of the
block from its own upper left corner.

A value is lettered as large as its cell takes it, never below general lettering; then
it is broken in lines. What still does not fit is refused, and never runs over its cell.
Where the paper is low the block draws in: first its free room goes, then the cells that
nobody filled, then the notes, which stand among the general notes too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import accumulate
from math import cos, sin, tau
from typing import Literal

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, width_of, wrap
from shopdraw.drawing.moving import moved
from shopdraw.drawing.papers import Part
from shopdraw.drawing.paragraphs import set_in_lines
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.errors import NotDrawable
from shopdraw.lengths import Lengths

Angle = Literal["first", "third"]
LARGER = 4 / 3
"""How many times as high as general lettering a value is where its cell has room."""
INSET, LINE = 0.8, 1.6
"""In heights of lettering: what is left free beside it, and from line to line."""
SIDES = 36


@dataclass(frozen=True)
class Cell:
    """One field of the title block.

    Attributes:
        name: what it is, lettered above its value.
        value: empty leaves a blank to fill in.
        key: of the job file, where somebody typed the value.
        most: how many lines the value may take; 0 for as many as it needs.
        size: how many times as high as general lettering its value is.
        is_wide: it takes the whole width, however short its value is.
        is_asked: it is there, as a blank, even without a value.
        symbol: the projection symbol that stands in it.
    """

    name: str
    value: str
    key: str = ""
    most: int = 2
    size: float = LARGER
    is_wide: bool = False
    is_asked: bool = True
    symbol: Angle | None = None


@dataclass(frozen=True)
class Revised:
    """One revision: its mark, its day, who made it, and what changed."""

    mark: str
    day: str
    by: str
    says: str


@dataclass(frozen=True)
class TitleBlock:
    """What the title block says, from top to bottom.

    Attributes:
        cells: in rows, two to a row where both are short.
        revisions: the newest first.
        stamps: lines that must not be overlooked, each lettered in a box.
        notes: above the fields.
        stamp_boxes: names of empty boxes left for other people's stamps.
        seal: the name of the room left for a seal; empty for none.
    """

    cells: tuple[Cell, ...]
    revisions: tuple[Revised, ...] = ()
    stamps: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    stamp_boxes: tuple[str, ...] = ()
    seal: str = ""


@dataclass(frozen=True)
class Density:
    """How much room the parts of a block take, in heights of lettering.

    Attributes:
        pad: above a cell's name, and below its value.
        size: the most that a usual value is enlarged.
        box: the height of a box for a stamp; the seal's is twice that.
        blanks: how many rows the revisions have at least, blank or not.
        most: how many of the newest revisions there are; all stand in their table.
        is_whole: cells without a value, and notes, are drawn too.
    """

    pad: float
    size: float
    box: float
    blanks: int
    most: int
    is_whole: bool


COLUMNS = (3, 4)
"""At the foot of an upright sheet the block stands in so many columns."""
TOO_MUCH = (
    "sheet.size: the title block does not fit this paper; give larger paper, or "
    "shorter texts in [job]"
)
DENSITIES = (
    Density(0.6, LARGER, 11.0, 3, 4, is_whole=True),
    Density(0.6, 1.0, 9.0, 2, 3, is_whole=True),
    Density(0.45, 1.0, 8.0, 2, 2, is_whole=True),
    Density(0.4, 1.0, 5.5, 1, 1, is_whole=True),
    Density(0.4, 1.0, 5.5, 1, 1, is_whole=False),
)
"""From the roomiest to the closest."""


def draw_frame(
    size: tuple[float, float], lengths: Lengths, block: TitleBlock
) -> tuple[Ink, ...]:
    """Draw the border, and the title block in the strip at its right.

    Args:
        size: the sheet's width and height.
        lengths: what it is measured in.
        block: what the title block says.

    Raises:
        NotDrawable: a text does not fit its cell, or the paper is too low.
    """
    style = STYLES[lengths]
    if size[0] < size[1]:
        return _upright_frame(size, style, block)
    margin = style.margin
    left, right = size[0] - margin - style.strip, size[0] - margin
    high = size[1] - 2 * margin
    _refuse_overlong(block, style.strip / style.text)
    for density in DENSITIES:
        strip = _Strip(style.text, style.strip, density)
        above, below = strip.above(block), strip.below(block)
        if sum(part[1] for part in (*above, *below)) <= high:
            break
    else:
        raise NotDrawable(TOO_MUCH)
    foot = margin + sum(part[1] for part in below)
    return (
        _box(layers.BORDER, (margin, margin, right, size[1] - margin)),
        Stroke(layers.BORDER, ((left, margin), (left, size[1] - margin))),
        *_stacked(above, (left, size[1] - margin)),
        *_stacked(below, (left, foot)),
    )


def _upright_frame(
    size: tuple[float, float], style: PaperStyle, block: TitleBlock
) -> tuple[Ink, ...]:
    """Draw the border of an upright sheet, and the title block in columns at its foot.

    There is no room for other people's stamps, nor for the notes, which stand among the
    general notes too.

    Raises:
        NotDrawable: a text does not fit its cell, or all of them the foot.
    """
    margin = style.margin / 2
    right, top, head = size[0] - margin, size[1] - margin, margin + style.foot
    for many in COLUMNS:
        wide = (right - margin) / many
        _refuse_overlong(block, wide / style.text)
        for density in DENSITIES:
            strip = _Strip(style.text, wide, density)
            bare = replace(block, notes=(), stamp_boxes=(), seal="")
            parts = [*strip.above(bare), *strip.below(bare)]
            columns = _in_columns(parts, style.foot)
            if len(columns) <= many:
                lefts = [margin + n * wide for n in range(many)]
                return (
                    _box(layers.BORDER, (margin, margin, right, top)),
                    Stroke(layers.BORDER, ((margin, head), (right, head))),
                    *(
                        Stroke(layers.TABLES, ((x, margin), (x, head)))
                        for x in lefts[1:]
                    ),
                    *(
                        ink
                        for x, column in zip(lefts, columns, strict=False)
                        for ink in _stacked(column, (x, head))
                    ),
                )
    raise NotDrawable(TOO_MUCH)


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


def _box(layer: str, box: Box) -> Stroke:
    left, bottom, right, top = box
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Stroke(layer, corners, closed=True)


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


class _Strip:
    """The parts of a title block, each from its own upper left corner."""

    def __init__(self, text: float, wide: float, density: Density) -> None:
        self.text, self.wide, self.density = text, wide, density
        self.inset = INSET * text
        self.room = wide - 2 * self.inset

    def above(self, block: TitleBlock) -> list[Part]:
        """Return the stamps, the boxes for other people's stamps, and the notes."""
        names = [*block.stamp_boxes, *([block.seal] if block.seal else [])]
        parts = [self._stamp(words) for words in block.stamps]
        parts += [self._empty(name, is_seal=name == block.seal) for name in names]
        if self.density.is_whole:
            parts += [self._note(words) for words in block.notes]
        gap: Part = ((), self.inset)
        return [gap, *(each for part in parts for each in (part, gap))]

    def below(self, block: TitleBlock) -> list[Part]:
        """Return the revisions, and the cells under them."""
        whole = self.density.is_whole
        cells = [
            x for x in block.cells if x.value or x.symbol or (whole and x.is_asked)
        ]
        return [*self._revisions(block.revisions), *map(self._row, self._rows(cells))]

    def _stamp(self, words: str) -> Part:
        height = 1.2 * self.text
        lines = wrap(words, height, self.room - 2 * self.inset)
        high = len(lines) * 1.75 * height + self.inset
        ink: list[Ink] = [
            _box(layers.BORDER, (self.inset, -high, self.wide - self.inset, 0.0))
        ]
        for row, line in enumerate(lines, start=1):
            at = (self.wide / 2, -row * 1.75 * height + 0.2 * self.text)
            ink.append(Words(layers.NOTES, at, line, height, "centre"))
        return tuple(ink), high

    def _empty(self, name: str, *, is_seal: bool) -> Part:
        """Draw a box that somebody else fills; a seal takes twice the height."""
        high = (2 if is_seal else 1) * self.density.box * self.text
        box = (self.inset, -high, self.wide - self.inset, 0.0)
        at = (2 * self.inset, -0.6 * self.text)
        words = Words(layers.NOTES, at, name, self.text, seat="top")
        return (_box(layers.TABLES, box), words), high

    def _note(self, words: str) -> Part:
        pitch = LINE * self.text
        at = (self.inset, -pitch)
        first = Words(layers.NOTES, at, "", self.text, column=self.room)
        lines = set_in_lines(words, first, pitch, 1.0)
        return tuple(lines), len(lines) * pitch + 0.3 * self.text

    def _revisions(self, revisions: tuple[Revised, ...]) -> Iterator[Part]:
        """Draw the revisions, what changed under its mark, its day and its maker."""
        rows = [Revised("NO.", "DATE", "BY", "WHAT CHANGED")]
        rows += revisions[: self.density.most]
        rows += [Revised("", "", "", "")] * (self.density.blanks - len(revisions))
        marked = max(width_of(row.mark, self.text) for row in rows)
        day = max(5.0 * self.text, marked + 2 * self.inset)
        yield self._ruled("REVISIONS")
        for row in rows:
            yield from self._revised(row, (0.0, day, day + 10.0 * self.text))
        if len(revisions) > self.density.most:
            yield self._ruled("EARLIER ONES: SEE GENERAL NOTES")

    def _revised(self, row: Revised, lefts: tuple[float, ...]) -> Iterator[Part]:
        """Letter a revision: its three columns, then what changed below them.

        Whoever made it stands in a row of his own where the columns leave no room.
        """
        text, pad = self.text, self.density.pad * self.text
        fits = lefts[2] + width_of(row.by, text) + 2 * self.inset <= self.wide
        high = text + 2 * pad
        words = row.mark, row.day, row.by if fits else ""
        ink: list[Ink] = [
            Words(layers.NOTES, (x + self.inset, -pad - text), each, text)
            for x, each in zip(lefts, words, strict=True)
        ]
        ink += [Stroke(layers.TABLES, ((x, 0.0), (x, -high))) for x in lefts[1:]]
        ink.append(Stroke(layers.TABLES, ((0.0, 0.0), (self.wide, 0.0))))
        yield tuple(ink), high
        for below in ("" if fits else row.by, row.says):
            if below:
                yield self._ruled(below, 0.6)

    def _ruled(self, words: str, share: float = 1.0) -> Part:
        """Letter words over the whole width, below a line.

        Args:
            words: in as many lines as they take.
            share: of the usual room above them.
        """
        text, pad = self.text, self.density.pad * self.text
        lines = wrap(words, text, self.room)
        ink: list[Ink] = [Stroke(layers.TABLES, ((0.0, 0.0), (self.wide, 0.0)))]
        for row, line in enumerate(lines):
            at = (self.inset, -share * pad - (1 + row * LINE) * text)
            ink.append(Words(layers.NOTES, at, line, text))
        high = (1 + (len(lines) - 1) * LINE) * text + (1 + share) * pad
        return tuple(ink), high

    def _rows(self, cells: Iterable[Cell]) -> Iterator[tuple[Cell, ...]]:
        """Put two cells in a row where both go into half the width in one line."""
        waiting: Cell | None = None
        for cell in cells:
            if not self._is_short(cell):
                yield from [] if waiting is None else [(waiting,)]
                waiting = None
                yield (cell,)
            elif waiting is None:
                waiting = cell
            else:
                yield waiting, cell
                waiting = None
        yield from [] if waiting is None else [(waiting,)]

    def _is_short(self, cell: Cell) -> bool:
        room = self.wide / 2 - 2 * self.inset
        wide = max(width_of(x, self.text) for x in (cell.name, cell.value))
        return wide <= room and not cell.is_wide

    def _row(self, cells: tuple[Cell, ...]) -> Part:
        """Draw one cell, or two side by side, a line above them."""
        wide = self.wide / len(cells)
        parts = [self._cell(cell, wide) for cell in cells]
        high = max(part[1] for part in parts)
        ink: list[Ink] = [Stroke(layers.TABLES, ((0.0, 0.0), (self.wide, 0.0)))]
        for place, (lettered, _) in enumerate(parts):
            ink += [moved(each, (place * wide, 0.0)) for each in lettered]
            if place:
                ink.append(Stroke(layers.TABLES, ((wide, 0.0), (wide, -high))))
        return tuple(ink), high

    def _cell(self, cell: Cell, wide: float) -> Part:
        """Letter a cell's name, and below it its value in as many lines as it takes."""
        text, pad = self.text, self.density.pad * self.text
        lines, height = self._lettered(cell, wide - 2 * self.inset)
        at = (self.inset, -pad - text)
        ink: list[Ink] = [Words(layers.NOTES, at, cell.name, text)]
        down = pad + 1.5 * text
        if cell.symbol:
            radius = 0.95 * text
            middle = wide / 2, -down - radius - 0.2 * text
            ink += projection_symbol(cell.symbol, middle, radius)
            return tuple(ink), down + 2 * radius + 0.4 * text + pad
        for row, line in enumerate(lines):
            foot = (self.inset, -down - height - row * LINE * height)
            ink.append(Words(layers.NOTES, foot, line, height))
        return tuple(ink), down + height + (len(lines) - 1) * LINE * height + pad

    def _lettered(self, cell: Cell, room: float) -> tuple[tuple[str, ...], float]:
        """Return the lines of a value, and how high they are."""
        size = min(cell.size, self.density.size) if cell.size <= LARGER else cell.size
        for height in (size * self.text, self.text):
            if width_of(cell.value, height) <= room:
                return (cell.value,), height
        return wrap(cell.value, self.text, room), self.text


def projection_symbol(angle: Angle, middle: Point, radius: float) -> Iterator[Ink]:
    """Draw the symbol of first or third angle: a cut cone from its side and its end.

    Seen from the left a cone whose small end is at its left shows both its rims; that
    view stands at its right in first angle, at its left in third (from memory).
    """
    small, half = 0.5 * radius, radius
    aside = 1.5 * radius if angle == "first" else -1.5 * radius
    side, end = middle[0] - aside, middle[0] + aside
    y = middle[1]
    yield Stroke(
        layers.NOTES,
        (
            (side - half, y - small),
            (side + half, y - radius),
            (side + half, y + radius),
            (side - half, y + small),
        ),
        closed=True,
    )
    for rim in (small, radius):
        ring = tuple(
            (end + rim * cos(turn), y + rim * sin(turn))
            for turn in (tau * n / SIDES for n in range(SIDES))
        )
        yield Stroke(layers.NOTES, ring, closed=True)
    past = 1.25 * radius
    first, last = sorted((side, end))
    yield Stroke(layers.LEVELS, ((end, y - past), (end, y + past)))
    yield Stroke(layers.LEVELS, ((first - past, y), (last + past, y)))
