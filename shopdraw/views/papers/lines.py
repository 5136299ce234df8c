"""Set lines on an upright page: headings, paragraphs, tables, lines to write on.

In:  text, the page.   Out: `Part`s; a `Sheet` a page.
Frame: each part in the page's lengths from its own upper left corner, y up; the page
puts them under one another within its margins.

Lettering takes the largest height at which all fits the pages that are wanted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Drawing, Ink, Stroke, Words
from shopdraw.drawing.lettering import plain, whole_lengths, width_of, wrap
from shopdraw.drawing.moving import moved
from shopdraw.drawing.papers import Part, page_of
from shopdraw.drawing.sheets import Sheet, place
from shopdraw.errors import NotDrawable
from shopdraw.lengths import MM_PER_INCH
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import ring_of
from shopdraw.views.parts.stamps import drawn_from, page_size, stamps

MARGIN, FOOT = 0.5, 0.3
"""In inches: the margin, and what is kept for the line at the foot."""
LARGEST, LEAST, FINER = 0.095, 0.055, 0.97
"""In inches: the largest and the least height of lettering; what the next is of it."""
TITLE, HEAD, SMALL = 1.9, 1.15, 0.72
"""Heights of a title, a heading and the foot, in heights of lettering."""
ABOVE_HEAD = 0.5
"""How much is free above a heading, in lines: it belongs to what stands below it."""
PITCH, PAD, ASIDE = 1.7, 0.6, 1.2
"""How far apart lines are, what a cell keeps free, how far a paragraph is set in."""
MEETS = 1.8
"""What a cell whose lines end in line keeps free of one whose lines begin so."""
TICK = "\x03"
"""A cell of a table that is a box to tick."""
BLANK = "\x02"
"""A cell of a table to be filled in by hand: a line to write on."""


@dataclass(frozen=True)
class PageColumn:
    """A column: its head, its share of the width, and how its cells are aligned."""

    head: str
    share: float
    align: Align = "left"


@dataclass(frozen=True)
class PageHand:
    """How a page is lettered.

    Attributes:
        text: the height of lettering.
        wide: the width within the margins.
    """

    text: float
    wide: float

    @property
    def pitch(self) -> float:
        """How far apart lines are."""
        return PITCH * self.text

    def gap(self, lines: float = 0.5) -> Part:
        """Return nothing, so many lines high."""
        return (), lines * self.pitch

    def says(
        self,
        text: str,
        *,
        height: float = 1.0,
        aside: float = 0.0,
        align: Align = "left",
    ) -> Part:
        """Letter a paragraph, broken to fit."""
        high, inset = height * self.text, aside * self.text
        lines = wrap(whole_lengths(plain(text)), high, self.wide - inset) or ("",)
        x = self.wide if align == "right" else inset
        ink = tuple(
            Words(layers.NOTES, (x, -(1.4 + row * PITCH) * high), line, high, align)
            for row, line in enumerate(lines)
        )
        return ink, len(lines) * PITCH * high

    def head(self, text: str) -> Part:
        """Letter a heading, with a line under it, clear of what stands above it."""
        ink, high = self.says(text.upper(), height=HEAD)
        gap = 0.25 * self.text
        low = -high - gap
        under = Stroke(layers.TABLES, ((0.0, low), (self.wide, low)))
        above = ABOVE_HEAD * self.pitch
        down = tuple(moved(each, (0.0, -above)) for each in (*ink, under))
        return down, above + high + gap

    def items(self, texts: Iterable[str], sign: str = "-") -> Iterator[Part]:
        """Letter paragraphs, each behind a sign."""
        for text in texts:
            ink, high = self.says(text, aside=ASIDE)
            at = (0.0, -1.4 * self.text)
            yield (Words(layers.NOTES, at, sign, self.text), *ink), high

    def asked(self, *labels: str) -> Part:
        """Letter names beside one another, each before a line to write on."""
        each = self.wide / len(labels)
        ink: list[Ink] = []
        low = -1.4 * self.text
        for number, label in enumerate(labels):
            x = number * each
            ink.append(Words(layers.NOTES, (x, low), plain(label), self.text))
            start = x + width_of(f"{plain(label)}  ", self.text)
            end = (number + 1) * each - (1.5 * self.text if len(labels) > 1 else 0.0)
            if start < end:
                line = ((start, low - 0.2 * self.text), (end, low - 0.2 * self.text))
                ink.append(Stroke(layers.TABLES, line))
        return tuple(ink), 1.4 * self.pitch

    def rows(
        self,
        columns: Sequence[PageColumn],
        cells: Iterable[Sequence[str]],
        *,
        with_heads: bool = True,
    ) -> Iterator[Part]:
        """Letter a table, a part a row; no row is parted over two pages."""
        if with_heads and any(column.head for column in columns):
            heads = tuple(column.head.upper() for column in columns)
            yield self.gap(0.3)
            yield self._row(columns, heads, SMALL)
        for row in cells:
            yield self._row(columns, row, 1.0)

    def _row(
        self, columns: Sequence[PageColumn], cells: Sequence[str], height: float
    ) -> Part:
        whole = sum(column.share for column in columns)
        high, pad = height * self.text, PAD * self.text
        ink: list[Ink] = []
        left, most = 0.0, 1
        after = (*(each.align if each.head else "" for each in columns[1:]), "")
        for column, cell, beside in zip(columns, cells, after, strict=True):
            wide = self.wide * column.share / whole
            right = left + wide
            # What ends where the next cell begins would be read with it.
            free = (
                MEETS * self.text
                if (column.align, beside) == ("right", "left")
                else pad
            )
            if cell == BLANK:
                low = -pad - 1.2 * high
                ends = ((left + pad, low), (right - pad, low))
                ink.append(Stroke(layers.TABLES, ends))
            if cell == TICK:
                low = -0.8 * pad - 1.05 * high
                box = (left, low, left + high, low + high)
                ink.append(Stroke(layers.TABLES, ring_of(box), closed=True))
            x = {"left": left, "right": right - free, "centre": (left + right) / 2}
            text = "" if cell in (BLANK, TICK) else plain(cell)
            lines = wrap(whole_lengths(text), high, wide - free)
            for row, line in enumerate(lines):
                y = -0.8 * pad - high - row * PITCH * high
                at = (x[column.align], y)
                ink.append(Words(layers.NOTES, at, line, high, column.align))
            left, most = right, max(most, len(lines))
        deep = 1.2 * pad + ((most - 1) * PITCH + 1.45) * high
        ink.append(Stroke(layers.TABLES, ((0.0, -deep), (self.wide, -deep))))
        return tuple(ink), deep


Setting = Callable[[PageHand], Iterable[Part]]
"""What sets all of a paper's parts, in one height of lettering."""


@dataclass(frozen=True)
class Picture:
    """A drawing at the head of the first page's parts, and how high its room is."""

    drawing: Callable[[tuple[float, float]], Drawing]
    high: float


def set_pages(
    solution: Solution,
    names: tuple[str, str],
    setting: Setting,
    *,
    most: int = 1,
    picture: Picture | None = None,
) -> tuple[Sheet, ...]:
    """Return a paper's pages, lettered as large as it goes on so many.

    Args:
        solution: for the page, the project's name, and what it is drawn from.
        names: the paper's name as a file, and its title.
        setting: sets its parts.
        most: how many pages it may take.
        picture: stands under the title.

    Raises:
        NotDrawable: it does not fit them in the least lettering.
    """
    size, inch = page_size(solution), _inch(solution)
    wide = size[0] - 2 * MARGIN * inch
    high = size[1] - (2 * MARGIN + FOOT) * inch
    text = LARGEST
    while text >= LEAST:
        hand = PageHand(text * inch, wide)
        room = picture.high * inch if picture is not None else 0.0
        title = _title(solution, names[1], hand)
        pages = _paged((title, ((), room), *setting(hand)), high)
        if pages is not None and len(pages) <= most:
            return tuple(
                _page(solution, names, (number, len(pages)), parts, hand, picture)
                for number, parts in enumerate(pages, start=1)
            )
        text *= FINER
    message = f"sheet.page: {names[0]} does not fit {most} page; give a larger page"
    raise NotDrawable(message)


def stamped(solution: Solution, hand: PageHand) -> Iterator[Part]:
    """Letter the stamps that every sheet has: what fails, what is not checked."""
    said = stamps(solution)
    if said:
        yield hand.gap(0.25)
        yield hand.says("; ".join(said), height=0.85)


def _inch(solution: Solution) -> float:
    return 1.0 if solution.lengths == "in" else float(MM_PER_INCH)


def _title(solution: Solution, title: str, hand: PageHand) -> Part:
    """Letter the title, and below it the project, its number and its date."""
    about = solution.job.job
    ink, high = hand.says(title, height=TITLE)
    what = (about.name, about.number, about.site, f"for {about.for_whom}")
    given = [each for each in what if each and each != "for "]
    if about.revision:
        given.append(f"revision {about.revision}")
    if about.date is not None:
        given.append(about.date.isoformat())
    if solution.lengths == "mm":
        given.append("lengths in mm")
    under, deep = hand.says(", ".join(given))
    low = -deep - 0.3 * hand.text
    line = Stroke(layers.TABLES, ((0.0, low), (hand.wide, low)))
    below = tuple(moved(each, (0.0, -high)) for each in (*under, line))
    return (*ink, *below), high + deep + 0.6 * hand.text


def _paged(parts: Iterable[Part], high: float) -> list[list[Part]] | None:
    """Return the parts page by page; None where one is higher than a page."""
    pages: list[list[Part]] = [[]]
    left = high
    for part in parts:
        if part[1] > high:
            return None
        if part[1] > left:
            pages.append([])
            left = high
        pages[-1].append(part)
        left -= part[1]
    return pages


def _page(
    solution: Solution,
    names: tuple[str, str],
    number: tuple[int, int],
    parts: list[Part],
    hand: PageHand,
    picture: Picture | None,
) -> Sheet:
    """Put the parts of one page under one another, and say at its foot what it is."""
    size, inch = page_size(solution), _inch(solution)
    left, y = MARGIN * inch, size[1] - MARGIN * inch
    ink: list[Ink] = []
    for marks, deep in parts:
        ink += (moved(each, (left, y)) for each in marks)
        y -= deep
    low, small = MARGIN * inch, SMALL * LARGEST * inch
    words = drawn_from(solution.job).words
    ink.append(Words(layers.NOTES, (left, low), plain(words), small))
    at = (left + hand.wide, low)
    of = f"page {number[0]} of {number[1]}"
    ink.append(Words(layers.NOTES, at, of, small, "right"))
    sheet = page_of(ink, names, size, solution.lengths, number=number[0])
    if picture is None or number[0] > 1:
        return sheet
    top = size[1] - MARGIN * inch - parts[0][1]
    pad = 0.06 * inch
    box = left, top - picture.high * inch + pad, left + hand.wide, top - pad
    drawn = picture.drawing((box[2] - box[0], box[3] - box[1]))
    return replace(sheet, drawings=(place(drawn, box, 1.0), *sheet.drawings))
