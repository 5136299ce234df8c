"""Lay the options before the owner: up to three on a page, their pictures at one scale.

In:  options by name, each a `Solution`; the photograph.   Out: `Choices`.
Frame: pages lie on their long side; each option has a column: its name, its picture,
the same in the photograph, and under them what lands, cuts, price and dates.

The lettering is as large as leaves the pictures most of the room that they want.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from shopdraw.drawing import layers
from shopdraw.drawing.choices import Choice, ChoicePage, Choices
from shopdraw.drawing.ink import Ink, Stroke, Words
from shopdraw.drawing.lettering import Box, plain
from shopdraw.drawing.moving import moved
from shopdraw.drawing.page import Fact
from shopdraw.drawing.papers import Part, page_of
from shopdraw.drawing.photo import Photo
from shopdraw.drawing.sheets import place
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.lengths import MM_PER_INCH
from shopdraw.solution import Solution
from shopdraw.views.papers.chosen import facts_of, warns_of
from shopdraw.views.papers.lines import (
    FINER,
    FOOT,
    LARGEST,
    LEAST,
    MARGIN,
    SMALL,
    TITLE,
    PageColumn,
    PageHand,
)
from shopdraw.views.parts.stamps import drawn_from, page_size
from shopdraw.views.picture.appearance import fill_rooms, size_about
from shopdraw.views.picture.in_photo import lay_into

ON_A_PAGE, COLUMNS_AT_LEAST = 3, 2
GUTTER, GAP = 0.25, 0.04
"""In inches: what is free between two options, and between picture and photograph."""
AIR = 1.15
"""How much higher a picture's room is than the work on it."""
MOST_OF_IT, LEAST_OF_IT = 0.8, 0.4
"""What a picture keeps of the height that it wants: with large letters, and at all."""
SMALL_ENOUGH = 0.078
"""In inches: smaller than this lettering gets only where pictures have too little."""
HIGHEST, STEEPEST = 0.45, 0.8
"""How high a picture is at the most, in heights of the page, and a photograph in widths
of a column."""
COLUMNS = (PageColumn("", 1), PageColumn("", 5.2))
SAYS = (
    "The pictures are impressions, all at one scale: real brick, joints and daylight "
    "will look different. Take no measurements from them.",
)
IN_PHOTO = (
    "In the photograph only the front is new: what turns back from it, and the hearth, "
    "are as they were."
)
Offered = tuple[tuple[str, Solution], ...]


@dataclass(frozen=True)
class OptionsSet:
    """How a page is set.

    Attributes:
        hand: of a column.
        picture: how high the room of a picture is.
        photo: the same of the photograph; 0 where there is none.
    """

    hand: PageHand
    picture: float
    photo: float


def draw_options(offered: Offered, photo: Photo | None) -> Choices:
    """Draw every option, for paper and for a screen.

    Args:
        offered: each option's name, and what was solved; at least one.
        photo: the photograph that they are laid into; None without one.

    Raises:
        NotDrawable: what is said of three of them does not fit the page.
    """
    first = offered[0][1]
    job, inch = first.job, _inch(first)
    short, long = page_size(first)
    count = max(COLUMNS_AT_LEAST, min(len(offered), ON_A_PAGE))
    gutter = GUTTER * inch
    wide = (long - 2 * MARGIN * inch - (count - 1) * gutter) / count
    setting = _setting(offered, photo, short, wide)
    solutions = tuple(solution for _, solution in offered)
    pictures = fill_rooms(solutions, (wide, setting.picture))
    choices = tuple(
        Choice(
            plain(name),
            facts_of(solution),
            warns_of(solution),
            picture,
            None if photo is None else lay_into(solution, photo),
        )
        for (name, solution), picture in zip(offered, pictures, strict=True)
    )
    says = SAYS if photo is None else (*SAYS, IN_PHOTO)
    bare = Choices(
        drawn_from=drawn_from(job).showing(photo),
        title=plain(job.job.name),
        dated=job.job.date,
        lengths=job.lengths,
        about=tuple(_about(job)),
        says=says,
        choices=choices,
        pages=(),
    )
    pages = -(-len(choices) // ON_A_PAGE)
    return replace(
        bare,
        pages=tuple(
            _page(bare, setting, (long, short), (number, pages))
            for number in range(1, pages + 1)
        ),
    )


def _inch(solution: Solution) -> float:
    return 1.0 if solution.lengths == "in" else float(MM_PER_INCH)


def _about(job: Job) -> Iterator[Fact]:
    """Yield what the options are of, and of which day."""
    about = job.job
    for name, value in (
        ("number", about.number),
        ("for", about.for_whom),
        ("site", about.site),
        ("date", str(about.date or "")),
    ):
        if value:
            yield name, plain(value)
    if job.lengths == "mm":
        yield "lengths", "in mm"


def _setting(
    offered: Offered, photo: Photo | None, high: float, wide: float
) -> OptionsSet:
    """Return the largest lettering that leaves the pictures most of what they want.

    Raises:
        NotDrawable: even the least leaves them too little.
    """
    inch = _inch(offered[0][1])
    sizes = [size_about(solution) for _, solution in offered]
    steepest = max(y for _, y in sizes) / max(x for x, _ in sizes)
    wanted, shown = min(AIR * steepest * wide, HIGHEST * high), 0.0
    if photo is not None:
        steep = min(photo.high / photo.wide, STEEPEST)
        shown = min(wide * steep, HIGHEST * high / AIR) + GAP * inch
    text = LARGEST
    while text >= LEAST:
        hand = PageHand(text * inch, wide)
        under = max(
            sum(deep for _, deep in _words(name, solution, hand))
            for name, solution in offered
        )
        over = sum(deep for _, deep in _heading_room(hand))
        left = high - (2 * MARGIN + FOOT) * inch - under - over
        share = min(1.0, (left - shown) / wanted)
        is_small = text * FINER < SMALL_ENOUGH
        if share >= (LEAST_OF_IT if is_small else MOST_OF_IT):
            return OptionsSet(hand, share * wanted, shown)
        text *= FINER
    message = "sheet.page: the options do not fit a page; give a larger page"
    raise NotDrawable(message)


def _words(name: str, solution: Solution, hand: PageHand) -> Iterator[Part]:
    """Letter all that is said of one option, its name first."""
    yield from _named(name, hand)
    yield from _said(facts_of(solution), warns_of(solution), hand)


def _named(name: str, hand: PageHand) -> Iterator[Part]:
    yield hand.says(plain(name), height=1.35)
    yield hand.gap(0.3)


def _said(
    facts: tuple[Fact, ...], warns: tuple[str, ...], hand: PageHand
) -> Iterator[Part]:
    yield hand.gap(0.2)
    yield from hand.rows(COLUMNS, facts)
    for words in warns:
        yield hand.says(words, height=0.8)


def _heading_room(hand: PageHand) -> Iterator[Part]:
    """Keep room for the title, the line under it, and what is said of all."""
    yield (), (TITLE + 1.0 + 0.8) * hand.pitch
    yield hand.gap(1.2)


def _page(
    whole: Choices,
    setting: OptionsSet,
    size: tuple[float, float],
    number: tuple[int, int],
) -> ChoicePage:
    """Lay up to three options on one page, side by side."""
    inch = 1.0 if whole.lengths == "in" else float(MM_PER_INCH)
    left, top = MARGIN * inch, size[1] - MARGIN * inch
    hand = setting.hand
    across = size[0] - 2 * left
    ink: list[Ink] = [*_heading(whole, replace(hand, wide=across), (left, top))]
    drawn, montages = [], []
    y = top - sum(deep for _, deep in _heading_room(hand))
    first = (number[0] - 1) * ON_A_PAGE
    for place_of, choice in enumerate(whole.choices[first : first + ON_A_PAGE]):
        x, at = left + place_of * (hand.wide + GUTTER * inch), y
        for marks, deep in _named(choice.name, hand):
            ink += (moved(each, (x, at)) for each in marks)
            at -= deep
        box = x, at - setting.picture, x + hand.wide, at
        drawn.append(place(choice.picture, _loose(box), 1.0))
        at -= setting.picture
        if choice.montage is not None:
            photo, low = choice.montage.photo, at - setting.photo
            half = (setting.photo - GAP * inch) * photo.wide / photo.high / 2
            middle = x + hand.wide / 2
            box = middle - half, low, middle + half, at - GAP * inch
            montages.append((box, first + place_of))
            at = low
        for marks, deep in _said(choice.facts, choice.warns, hand):
            ink += (moved(each, (x, at)) for each in marks)
            at -= deep
    ink += _foot(whole, size, number, inch)
    names = "options", "OPTIONS"
    sheet = page_of(ink, names, size, whole.lengths, number=number[0])
    sheet = replace(sheet, drawings=(*drawn, *sheet.drawings))
    return ChoicePage(sheet, tuple(montages))


def _loose(box: Box) -> Box:
    """Return a box a hair larger: what fills a room to its edges fits it."""
    hair = 1e-6 * (box[2] - box[0])
    return box[0] - hair, box[1] - hair, box[2] + hair, box[3] + hair


def _heading(whole: Choices, hand: PageHand, at: tuple[float, float]) -> Iterator[Ink]:
    """Letter the title, what it is of, and what is to be known of all pictures."""
    x, y = at
    about = ", ".join(
        words if name in ("number", "site", "date") else f"{name} {words}"
        for name, words in whole.about
    )
    of = f"{whole.title}, {about}" if about else whole.title
    for words, height in (
        ("OPTIONS", TITLE), (of, 1.0), (" ".join(whole.says), 0.8),
    ):  # fmt: skip
        ink, deep = hand.says(words, height=height)
        yield from (moved(each, (x, y)) for each in ink)
        y -= deep
    low = y - 0.3 * hand.text
    yield Stroke(layers.TABLES, ((x, low), (x + hand.wide, low)))


def _foot(
    whole: Choices, size: tuple[float, float], number: tuple[int, int], inch: float
) -> Iterator[Ink]:
    """Say at the foot what the page is drawn from, and which page it is."""
    low, small = MARGIN * inch, SMALL * LARGEST * inch
    words = whole.drawn_from.words_in_photo
    yield Words(layers.NOTES, (low, low), plain(words), small)
    of = f"page {number[0]} of {number[1]}"
    yield Words(layers.NOTES, (size[0] - low, low), of, small, "right")
