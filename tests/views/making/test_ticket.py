"""The fabricator's ticket as pages: heading, cautions, nothing crowded."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace

import pdfplumber
import pytest

from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.layers import CUTS
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.lengths import format_made, typed_length
from shopdraw.masonry.wall.layout import CORNER_KINDS
from shopdraw.output.pdf import write_pdf
from shopdraw.pipeline import solve
from shopdraw.review.cautions import CAUTIONS
from shopdraw.solution import Solution
from shopdraw.views.making.ticket import draw_ticket
from tests.views.jobs import with_job
from tests.views.lettering import collisions_on, crossings
from tests.views.making.tickets import (
    CALLED,
    DEMOS,
    INCH,
    PAGES,
    both_pages,
    box_about,
    cells_on,
    damaged,
    drawings,
    every_job,
    field,
    holds,
    ink_of,
    job_of,
    moved_by,
    rows_of,
    rows_under,
    says,
    size_of,
    text_on,
    ticket,
    with_text,
    words_on,
)

LEAST = {"in": 0.055, "mm": 1.4}
MARGIN = 0.375
ON_ONE_PAGE = {
    *("cannot-land", "chamfered-breast", "chimney-breast-gas", "common-sitting-room"),
    *("flemish-breast", "library-hearth", "metric-slips", "morning-room"),
    "splayed-parlour",
}


def wrong_heading(pages: list[Drawing], solution: Solution) -> list[str]:
    """Return the fields that do not say what the job or the plan does."""
    job, plan = solution.job, solution.cut_plan
    brick = (job.brick.length, job.brick.height, job.brick.thickness)
    size = " x ".join(format_made(side, job.lengths) for side in brick)
    bound = "the fewest possible"
    if plan.whole_units != plan.least:
        bound = f"any plan needs {plan.least}"
    wanted = {
        "PROJECT": job.job.name,
        "NUMBER": job.job.number or "not given",
        "DATE": str(job.job.date or "not given"),
        "REVISION": job.job.revision or "none",
        "DRAWN BY": job.job.drawn_by or "not given",
    }
    once = {
        "BRICK": f"{size}, {job.brick.size or 'as measured'}",
        "LOT": job.job.units_lot or "not given",
        "KERF": typed_length(job.saw.kerf, job.lengths),
        "WHOLE UNITS TO SAW": f"{sum(x.count for x in plan.units)}; {bound}",
    }
    wrong = []
    for number, page in enumerate(pages, start=1):
        fields = wanted if number > 1 else wanted | once
        wrong += [name for name, words in fields.items() if field(page, name) != words]
        more = "" if number == 1 else f" ({number})"
        for words in (f"FABRICATOR'S TICKET{more}", f"PAGE {number} OF {len(pages)}"):
            wrong += [] if words in [x.text for x in words_on(page)] else [words]
    return wrong


@both_pages
@every_job
def test_the_heading_says_whose_ticket_it_is(name: str, page: str) -> None:
    assert wrong_heading(drawings(name, page), job_of(name)) == []


def test_a_wrong_heading_is_noticed() -> None:
    pages, solution = (
        drawings("jack-arch-parlour", "letter"),
        job_of("jack-arch-parlour"),
    )
    for name, words in (
        ("NUMBER", "JA-04"),
        ("KERF", "1/8 in"),
        ("WHOLE UNITS TO SAW", "43; the fewest possible"),
        (f"PAGE 1 OF {len(pages)}", f"PAGE 1 OF {len(pages)}"),
    ):
        wrong = damaged(pages, says(words), with_text(lambda x: x[::-1]))
        assert wrong_heading(wrong, solution) == [name]


def test_a_plan_that_is_not_proved_says_how_many_any_plan_needs() -> None:
    # In common bond: here the plan is a unit over its bound.
    job = job_of("jack-arch-parlour").job.edited("bond.pattern", "common")
    said = field(ink_of(draw_ticket(solve(job))[0]), "WHOLE UNITS TO SAW")
    assert said == "47; any plan needs 46"
    said = field(drawings("library-hearth", "A4")[0], "WHOLE UNITS TO SAW")
    assert said == "26; the fewest possible"


@both_pages
@pytest.mark.parametrize("name", DEMOS)
def test_pages_are_named_and_no_more_than_are_needed(name: str, page: str) -> None:
    sheets = ticket(name, page)
    assert (len(sheets) == 1) == (name in ON_ONE_PAGE)
    wide, high = size_of(name, page)
    for number, sheet in enumerate(sheets, start=1):
        assert (sheet.width, sheet.height) == pytest.approx((wide, high))
        assert sheet.number == number
        more = number > 1
        assert sheet.title == (f"TICKET ({number})" if more else "TICKET")
        assert sheet.name == (f"ticket-{number}" if more else "ticket")
        assert sheet.lengths == job_of(name).job.lengths
    with pdfplumber.open(io.BytesIO(write_pdf(sheets, "Ticket"))) as pdf:
        assert len(pdf.pages) == len(sheets)
        wanted = [72 * side for side in PAGES[page]]
        for each in pdf.pages:
            assert [each.width, each.height] == pytest.approx(wanted, abs=0.01)


def missing_cautions(drawing: Drawing) -> list[str]:
    wanted = [each for each in CAUTIONS if each.topic in ("silica", "saw", "code")]
    return [
        each.topic
        for each in wanted
        if plain(f"{each.topic.upper()}. {each.words}") not in text_on(drawing)
    ]


@both_pages
@every_job
def test_the_cautions_stand_on_every_page(name: str, page: str) -> None:
    for drawing in drawings(name, page):
        assert missing_cautions(drawing) == []


def test_a_caution_that_lost_a_line_is_noticed() -> None:
    pages = drawings("library-hearth", "letter")
    for topic in ("SILICA", "SAW", "CODE"):
        (left,) = damaged(pages, says(f"{topic}. "), lambda _: None)
        assert missing_cautions(left) == [topic.lower()]


# ---------------------------------------------------------------------------- layout


def crowding(sheet: Sheet) -> list[str]:
    """Return what lies on something, outside the page or its cell, or is too fine."""
    drawing, inch = ink_of(sheet), INCH[sheet.lengths]
    wrong = [f"{a} on {b}" for a, b in collisions_on(sheet)]
    wrong += [f"{words}: a line through it" for words, _ in crossings(drawing)]
    left, low, right, high = extent_of(drawing)
    margin = MARGIN * inch
    if min(left, low) < margin or right > sheet.width - margin:
        wrong.append("margin")
    if high > sheet.height - margin:
        wrong.append("margin")
    wrong += [
        f"{words.text}: too fine"
        for words in words_on(drawing)
        if words.height_on_paper < LEAST[sheet.lengths]
    ]
    for cell in cells_on(drawing):
        ink: tuple[Ink, ...] = (*cell.words, *cell.strokes)
        if not all(holds(cell.box, box_about(each), 0.0) for each in ink):
            wrong.append(f"{cell.mark}: out of its cell")
    return wrong


@both_pages
@every_job
def test_nothing_is_crowded(name: str, page: str) -> None:
    for sheet in ticket(name, page):
        assert crowding(sheet) == []


def test_crowding_is_noticed() -> None:
    (sheet,) = ticket("library-hearth", "letter")

    def wrong(which: Callable[[Ink], bool], new: Callable[[Ink], Ink | None]) -> str:
        (drawing,) = damaged([ink_of(sheet)], which, new)
        placed = replace(sheet.drawings[0], drawing=drawing)
        return "; ".join(crowding(replace(sheet, drawings=(placed,))))

    kept = says("ENDS AS DELIVERED: LEFT")
    assert "on TOLERANCE OF SAWN" in wrong(kept, moved_by(0, 0.12))
    assert "out of its cell" in wrong(says("MAY BE TURNED OVER"), moved_by(3.0, -0.01))
    assert "margin" in wrong(says("FABRICATOR"), moved_by(0, 0.3))

    def finer(ink: Ink) -> Ink:
        assert isinstance(ink, Words)
        return replace(ink, height_on_paper=0.05)

    assert "too fine" in wrong(says("SILICA"), finer)

    def is_cut(ink: Ink) -> bool:
        return isinstance(ink, Stroke) and ink.layer == CUTS

    assert "a line through it" in wrong(is_cut, moved_by(0, -0.9))


@both_pages
def test_long_names_are_broken_and_crowd_nothing(page: str) -> None:
    solution = job_of("library-hearth")
    about_job = {
        "name": "The west drawing room, chimney breast | second of the two " + "W" * 20,
        "number": "2222-AAAA-3333-BBBB",
        "revision": "revision 12a",
        "drawn_by": "W" * 60,
        "units_lot": "kiln 4, third firing of March, " * 3,
    }
    sheets = draw_ticket(
        with_job(solution, job=about_job, sheet={"page": CALLED[page]})
    )
    for sheet in sheets:
        assert crowding(sheet) == []
    said = field(ink_of(sheets[0]), "PROJECT").replace(" ", "")
    assert said == about_job["name"].replace(" ", "")


def test_a_job_with_nothing_to_saw_or_turn_has_no_ticket() -> None:
    solution = job_of("library-hearth")
    assert draw_ticket(replace(solution, fabrication=())) == ()


def test_corner_units_alone_have_a_ticket_without_a_sequence() -> None:
    solution = job_of("library-hearth")
    corners = tuple(
        each for each in rows_of("library-hearth") if each.row.kind in CORNER_KINDS
    )
    none = replace(solution.cut_plan, units=(), stops=(), least=0)
    (sheet,) = draw_ticket(replace(solution, fabrication=corners, cut_plan=none))
    drawing = ink_of(sheet)
    assert [cell.mark for cell in cells_on(drawing)] == ["C"]
    assert field(drawing, "WHOLE UNITS TO SAW") == "none"
    assert rows_under(drawing, "SAW STOPS") == rows_under(drawing, "CUT PLAN") == []
    assert missing_cautions(drawing) == []
    assert crowding(sheet) == []


def test_a_page_too_small_for_a_mark_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # No sheet of the catalog is as small.
    monkeypatch.setattr(Job, "page", (3.5, 4.0))
    with pytest.raises(NotDrawable, match=r"sheet\.page"):
        draw_ticket(job_of("library-hearth"))


@every_job
def test_the_legend_says_what_the_marks_short_words_mean(name: str) -> None:
    """Read by a sawyer who never saw a ticket: along, up, and why no spares."""
    words = text_on(drawings(name, "letter")[0])
    every = " ".join(map(text_on, drawings(name, "letter"))).upper()
    assert "Spares are the job's waste of the number laid, to the nearest" in words
    meant = "how far it lies along, from the sketch's left end, and how far up"
    assert (meant in words) is ("ALONG X UP" in every)
