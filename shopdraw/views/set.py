"""Compose the set: what each sheet is for, and which views, tables and notes it takes.

In:  `Solution`.   Out: `Sheet`s; the papers beside them.
Frame: paper lengths, in the job's lengths.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from shopdraw.drawing.arranging import Item, alone
from shopdraw.drawing.bubbles import Which, numbers_on, part_key, with_sheets
from shopdraw.drawing.composing import (
    Composed,
    Purpose,
    SheetRoom,
    compose,
    cost_of,
    fewest,
)
from shopdraw.drawing.framing import draw_frame
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.sheets import (
    STYLES,
    Sheet,
    compose_sheet,
    content_of,
    file_name,
)
from shopdraw.job.model import Job
from shopdraw.solution import Solution
from shopdraw.views.general import index_table
from shopdraw.views.making.labels import draw_labels
from shopdraw.views.making.poles import draw_poles
from shopdraw.views.making.templates import draw_templates
from shopdraw.views.making.ticket import draw_ticket
from shopdraw.views.papers.asked import draw_asked
from shopdraw.views.parts.stamps import (
    picture_number,
    scale_words,
    sheet_numbers,
    title_block,
)
from shopdraw.views.projection import GAP
from shopdraw.views.purposes import SAWN_LISTS, purposes, tabled
from shopdraw.views.review.page import draw_review

SEVERAL = {
    word: f"{word}S"
    for word in ("RETURN", "CHAMFER", "ALCOVE", "SECTION", "JAMB", "PLAN", "DETAIL")
}
"""What a sheet's title calls more than one of a kind."""


SAWYERS = "SAWYER'S LISTS"
"""What a sheet's title calls several of the lists of what is sawn."""


def compose_sheets(solution: Solution) -> tuple[Sheet, ...]:
    """Draw every view and put them on sheets.

    Raises:
        NotDrawable: the paper is too small for the scale asked for, or for any scale.
    """
    job, style = solution.job, STYLES[solution.lengths]
    wide, high = (float(side) for side in job.paper)
    content = content_of(wide, high, style)
    sheets = _composed(solution, content)
    named = tuple(_named(sheets, job))
    views = [tuple(_views_on(sheet)) for sheet in sheets]
    sheets = _referring(sheets, [identity for identity, _, _ in named])
    composed = (
        compose_sheet(
            number,
            name,
            title,
            (wide, high),
            job.lengths,
            sheet.places,
            draw_frame(
                (wide, high),
                job.lengths,
                title_block(
                    solution,
                    sheet_numbers(job, identity, number, len(sheets) + 1),
                    title,
                    scale_words(job, (x.scale for x, _ in sheet.places if x.title)),
                ),
            ),
            shows=tuple(purpose.name for purpose in sheet.purposes),
            paper=job.sheet.size,
        )
        for number, (sheet, (identity, name, title)) in enumerate(
            zip(sheets, named, strict=True), start=1
        )
    )
    return tuple(
        replace(sheet, identity=identity, views=numbers)
        for sheet, (identity, _, _), numbers in zip(composed, named, views, strict=True)
    )


def _views_on(sheet: Composed) -> Iterator[int]:
    """Yield the numbers of the views whose titles stand on a sheet."""
    for drawing, _ in sheet.places:
        yield from numbers_on(drawing, "cut")


def sheets_of_views(sheets: tuple[Sheet, ...]) -> dict[int, str]:
    """Say on which sheet each view is, by its number; on which, if it is divided."""
    found: dict[int, list[str]] = {}
    for sheet in sheets:
        for number in dict.fromkeys(sheet.views):
            found.setdefault(number, []).append(sheet.identity)
    return {
        number: f"SHEET{'S' * (len(names) > 1)} {', '.join(names)}"
        for number, names in found.items()
    }


def draw_papers(
    solution: Solution, sheets: tuple[Sheet, ...]
) -> tuple[tuple[str, tuple[Sheet, ...]], ...]:
    """Draw the pages that are printed beside the sheets, as far as the job has them."""
    papers = (
        ("story-pole", draw_poles(solution)),
        ("review", draw_review(solution, sheets_of_views(sheets))),
        ("ticket", draw_ticket(solution)),
        ("labels", draw_labels(solution)),
        ("arch-templates", draw_templates(solution)),
        *draw_asked(solution),
    )
    return tuple((name, pages) for name, pages in papers if pages)


Rows = tuple[tuple[str, str], ...]
"""Of the index: each sheet's number and title."""


def _composed(solution: Solution, content: Box) -> list[Composed]:
    """Compose the set in every order that is tried, and take the best by the measure.

    How many sheets an order takes is known sooner than how they look, and that sooner
    than its index: so each is found out only for those that may still be the best,
    with the index of the first order until it is their turn.
    """
    indexing = _Indexing(solution, content)
    first, *others = purposes(solution, content)
    best = indexing.settled(first, ())
    rows = indexing.rows(best)
    counted = [(indexing.fewest(order, rows), order) for order in others]
    for least in sorted({count for count, _ in counted}):
        tried = [order for count, order in counted if count == least <= len(best)]
        costs = [cost_of(indexing.composed(order, rows)) for order in tried]
        for cost, order in sorted(zip(costs, tried, strict=True), key=lambda x: x[0]):
            if cost >= cost_of(best):
                break
            sheets = indexing.settled(order, rows)
            if _is_in_order(sheets):
                best = min(best, sheets, key=cost_of)
        if len(best) <= least:
            break
    return best


def _is_in_order(sheets: list[Composed]) -> bool:
    """Whether sheets are in the order of their numbers: no schedules before a view.

    Nor do findings stand between pieces and their lists.
    """
    series = [sheet.purposes[0].series for sheet in sheets]
    return series == sorted(series) and all(sheet.is_in_turn for sheet in sheets)


class _Indexing:
    """Composes the sheets with an index of them among the general notes."""

    def __init__(self, solution: Solution, content: Box) -> None:
        self._job, self._content = solution.job, content
        self._style = STYLES[solution.lengths]
        self._room = SheetRoom(content, GAP * self._style.text)
        self._drawn: dict[tuple[Rows, int], tuple[Item, ...]] = {}

    def settled(self, wanted: tuple[Purpose, ...], rows: Rows) -> list[Composed]:
        """Compose sheets whose index says what is there.

        The index may itself move what comes after it, so that it is made anew until it
        is right; it gets a blank row where it would go round in a circle.
        """
        seen: list[Rows] = []
        while True:
            sheets = self.composed(wanted, rows, seen.count(rows))
            found = self.rows(sheets)
            if found == rows:
                return sheets
            seen.append(rows)
            rows = found

    def rows(self, sheets: list[Composed]) -> Rows:
        """Return the rows of the index of sheets."""
        named = ((identity, title) for identity, _, title in _named(sheets, self._job))
        return (*named, (picture_number(self._job, len(sheets)), "APPEARANCE"))

    def fewest(self, wanted: tuple[Purpose, ...], rows: Rows) -> int:
        """Count the sheets that it takes with an index of these rows."""
        return fewest(self._with_index(wanted, rows, 0), self._room)

    def composed(
        self, wanted: tuple[Purpose, ...], rows: Rows, blank: int = 0
    ) -> list[Composed]:
        """Compose sheets with an index of these rows, and blank ones."""
        return compose(self._with_index(wanted, rows, blank), self._room)

    def _with_index(
        self, wanted: tuple[Purpose, ...], rows: Rows, blank: int
    ) -> tuple[Purpose, ...]:
        general, *others = wanted
        if (rows, blank) not in self._drawn:
            scale = general.items[0].parts[0][0].scale
            listed = [index_table(rows, blank)]
            self._drawn[rows, blank] = tuple(
                alone(table, shows="GENERAL NOTES", is_words=True)
                for table in tabled(listed, self._content, scale, self._style)
            )
        index = self._drawn[rows, blank]
        return replace(general, items=(*index, *general.items)), *others


def _referring(sheets: list[Composed], identities: list[str]) -> list[Composed]:
    """Fill in on which sheet each view stands, and on which it is cut."""
    on: dict[Which, dict[int, str]] = {"drawn": {}, "cut": {}, "part": {}}
    for sheet, identity in zip(sheets, identities, strict=True):
        for drawing, _ in sheet.places:
            on["cut"] |= dict.fromkeys(numbers_on(drawing, "drawn"), identity)
            own = numbers_on(drawing, "cut")
            on["drawn"] |= dict.fromkeys(own, identity)
            if drawing.part is not None:
                on["part"][part_key(own[0], drawing.part.number)] = identity
    return [
        replace(
            sheet,
            places=tuple((with_sheets(each, on), box) for each, box in sheet.places),
        )
        for sheet in sheets
    ]


def _named(sheets: list[Composed], job: Job) -> Iterator[tuple[str, str, str]]:
    """Yield each sheet's number, its name for a file, and its title.

    The number is of the national standard's form, from the series of what the sheet is
    for first (the digits of series 0 and 9 from memory); under the ISO profile sheets
    are counted.
    """
    titles: list[str] = []
    series: dict[int, int] = {}
    for number, sheet in enumerate(sheets, start=1):
        first = sheet.purposes[0]
        series[first.series] = series.get(first.series, 0) + 1
        identity = f"A-{first.series}{series[first.series]:02}"
        title = _title(sheet)
        titles.append(title)
        again = titles.count(title)
        title = title if again == 1 else f"{title} ({again})"
        identity = str(number) if job.sheet.profile == "iso" else identity
        yield identity, file_name(identity, title), title


def _title(sheet: Composed) -> str:
    """Say what is on a sheet, in order: `RETURNS, SECTION AND PLAN`."""
    count = Counter(sheet.shows)
    first, *others = [word for word in SAWN_LISTS.values() if word in count] or [""]
    words = [
        SEVERAL.get(word, word) if count[word] > 1 else word
        for word in count
        if word not in others
    ]
    if others:
        words[words.index(first)] = SAWYERS
    last = words.pop()
    return f"{', '.join(words)} AND {last}" if words else last
