"""Letter the parts of a title block: stamps, revisions, cells.

In:  `TitleBlock`, how wide it is.   Out: parts, each with its height.
Frame: paper lengths, each part from its own upper left corner.

A value is lettered as large as its cell takes it, never below general lettering; then
it is broken in lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import accumulate, chain, count
from math import cos, sin, tau

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, width_of, wrap
from shopdraw.drawing.moving import moved
from shopdraw.drawing.papers import Part
from shopdraw.drawing.paragraphs import set_in_lines
from shopdraw.drawing.title_block import (
    LARGER,
    Angle,
    Cell,
    Density,
    Revised,
    TitleBlock,
)

INSET, LINE = 0.8, 1.6
"""In heights of lettering: what is left free beside it, and from line to line."""
SIDES = 36


def box_of_lines(layer: str, box: Box) -> Stroke:
    """Return the outline of a box."""
    left, bottom, right, top = box
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Stroke(layer, corners, closed=True)


def _joined(parts: Iterable[Part]) -> Part:
    """Return parts under one another as one."""
    ink: list[Ink] = []
    down = 0.0
    for part, high in parts:
        ink += (moved(each, (0.0, -down)) for each in part)
        down += high
    return tuple(ink), down


class Lettered:
    """The parts of a title block, each from its own upper left corner."""

    def __init__(self, text: float, wide: float, density: Density) -> None:
        self.text, self.wide, self.density = text, wide, density
        self.inset = INSET * text
        self.room = wide - 2 * self.inset

    def above(self, block: TitleBlock) -> list[Part]:
        """Return the stamps, the boxes for other people's stamps, and the notes."""
        parts = [self._stamp(words) for words in block.stamps]
        names, box = block.stamp_boxes, self.density.box * self.text
        pairs = [names] if self.density.is_close else [(name,) for name in names]
        parts += [self._empty(pair, box) for pair in pairs if pair]
        parts += [self._empty((block.seal,), 2 * box)] if block.seal else []
        if self.density.is_whole:
            parts += [self._note(words) for words in block.notes]
        first: Part = ((), self.inset)
        gap: Part = ((), 0.0 if self.density.is_tight else self.inset)
        return [first, *(each for part in parts for each in (part, gap))]

    def below(self, block: TitleBlock) -> list[Part]:
        """Return the revisions, and the cells under them."""
        density = self.density
        cells = [
            x
            for x in block.cells
            if x.value or x.is_needed or (density.is_whole and x.is_asked)
        ]
        rows = self._revisions(block.revisions)
        if density.is_short:
            cells = [x for x in cells if x.is_needed]
        return [*rows, *map(self._row, self._rows(cells))]

    def _stamp(self, words: str) -> Part:
        height = (1.0 if self.density.is_tight else 1.2) * self.text
        room = self.room - 2 * self.inset
        lines = wrap(words, height, room)
        # What follows a colon is read as one: `NOT` never parts from what it denies.
        what, colon, rest = words.partition(": ")
        apart = (*wrap(what + colon.strip(), height, room), *wrap(rest, height, room))
        if 1 < len(lines) >= len(apart):
            lines = apart
        high = len(lines) * 1.75 * height + self.inset
        ink: list[Ink] = [
            box_of_lines(
                layers.BORDER, (self.inset, -high, self.wide - self.inset, 0.0)
            )
        ]
        for row, line in enumerate(lines, start=1):
            at = (self.wide / 2, -row * 1.75 * height + 0.2 * self.text)
            ink.append(Words(layers.NOTES, at, line, height, "centre"))
        return tuple(ink), high

    def _empty(self, names: tuple[str, ...], high: float) -> Part:
        """Draw boxes side by side that somebody else fills."""
        wide = (self.wide - 2 * self.inset) / len(names)
        ink: list[Ink] = []
        for place, name in enumerate(names):
            left = self.inset + place * wide
            ink.append(box_of_lines(layers.TABLES, (left, -high, left + wide, 0.0)))
            lines = wrap(name, self.text, wide - 2 * self.inset)
            ink += [
                Words(layers.NOTES, (left + self.inset, -down), line, self.text)
                for line, down in zip(lines, self._downs(1.6), strict=False)
            ]
        return tuple(ink), high

    def _downs(self, first: float) -> Iterator[float]:
        """Yield how far down one line after another stands."""
        return (x * self.text for x in count(first, LINE))

    def _note(self, words: str) -> Part:
        pitch = LINE * self.text
        at = (self.inset, -pitch)
        first = Words(layers.NOTES, at, "", self.text, column=self.room)
        lines = set_in_lines(words, first, pitch, 1.0)
        return tuple(lines), len(lines) * pitch + 0.3 * self.text

    def _revisions(self, revisions: tuple[Revised, ...]) -> Iterator[Part]:
        """Draw the revisions, what changed under its mark, its day and its maker."""
        if not self.density.most:
            yield self._ruled("REVISIONS, OTHER FIELDS: SEE GENERAL NOTES")
            return
        rows = [Revised("NO.", "DATE", "BY", "WHAT CHANGED")]
        if self.density.is_short:
            rows = [Revised("REV.", "DATE", "BY", "")]
        rows += revisions[: self.density.most]
        rows += [Revised("", "", "", "")] * (self.density.blanks - len(revisions))
        marked = max(width_of(row.mark, self.text) for row in rows)
        day = max(5.0 * self.text, marked + 2 * self.inset)
        lefts = 0.0, day, day + 10.0 * self.text
        head, first, *others = (list(self._revised(row, lefts)) for row in rows)
        if not self.density.is_short:
            head = [self._ruled("REVISIONS"), *head]
        # In one: no head stands at the foot of a column, what is under it in the next.
        yield _joined([*head, first[0]])
        yield from chain(first[1:], *others)
        more = "EARLIER ONES, OTHER FIELDS" if self.density.is_short else "EARLIER ONES"
        if len(revisions) > self.density.most or self.density.is_short:
            yield self._ruled(f"{more}: SEE GENERAL NOTES")

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
        """Put cells in rows, two to a row where both go into half the width.

        Where they stand close a row takes as many as it has room for.
        """
        row: tuple[Cell, ...] = ()
        for cell in cells:
            longer = (*row, cell)
            if row and not self._go_in_a_row(longer):
                yield row
                longer = (cell,)
            row = longer
        if row:
            yield row

    def _go_in_a_row(self, cells: tuple[Cell, ...]) -> bool:
        if self.density.is_close:
            return sum(map(self._natural, cells)) <= self.wide
        room = self.wide / 2 - 2 * self.inset
        return len(cells) <= 2 and all(
            not cell.is_wide and width_of(words, self.text) <= room
            for cell in cells
            for words in (cell.name, cell.value)
        )

    def _natural(self, cell: Cell) -> float:
        """Return how wide a cell is whose value stands beside its name."""
        begin = self._beside(cell, self.room)
        if begin is None:
            return self.wide
        value = 6.0 * self.text if cell.symbol else width_of(cell.value, self.text)
        return begin + value + 2 * self.inset

    def _row(self, cells: tuple[Cell, ...]) -> Part:
        """Draw cells side by side, a line above them."""
        each = 1 / len(cells)
        widths = [each * self.wide] * len(cells)
        if self.density.is_close and len(cells) > 1:
            natural = [self._natural(cell) for cell in cells]
            spare = each * (self.wide - sum(natural))
            widths = [own + spare for own in natural]
        parts = [self._cell(*pair) for pair in zip(cells, widths, strict=True)]
        high = max(part[1] for part in parts)
        ink: list[Ink] = [Stroke(layers.TABLES, ((0.0, 0.0), (self.wide, 0.0)))]
        lefts = accumulate(widths, initial=0.0)
        for left, (lettered, _) in zip(lefts, parts, strict=False):
            ink += [moved(one, (left, 0.0)) for one in lettered]
            if left:
                ink.append(Stroke(layers.TABLES, ((left, 0.0), (left, -high))))
        return tuple(ink), high

    def _beside(self, cell: Cell, room: float) -> float | None:
        """Return where a value begins beside its name; None where it has no room."""
        if cell.size > LARGER:
            return None
        begin = width_of(cell.name, self.text) + 1.5 * self.text
        wide = 6.0 * self.text if cell.symbol else width_of(cell.value, self.text)
        return begin if begin + wide <= room else None

    def _cell(self, cell: Cell, wide: float) -> Part:
        """Letter a cell's name, and below it its value in as many lines as it takes."""
        text, pad = self.text, self.density.pad * self.text
        lines, height = self._lettered(cell, wide - 2 * self.inset)
        at = (self.inset, -pad - text)
        ink: list[Ink] = [Words(layers.NOTES, at, cell.name, text)]
        begin = self._beside(cell, wide - 2 * self.inset)
        if self.density.is_close and begin is not None:
            aside = (self.inset + begin, at[1])
            if cell.symbol:
                middle = (aside[0] + 3.0 * text, at[1] + text / 2)
                ink += projection_symbol(cell.symbol, middle, 0.6 * text)
            else:
                ink.append(Words(layers.NOTES, aside, cell.value, text))
            return tuple(ink), text + 2 * pad
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
