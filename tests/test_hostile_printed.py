"""Hostile text that can be lettered is printed as it is typed, and codes nothing."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator
from itertools import cycle, islice

import ezdxf
import pytest
from fontTools.ttLib import TTFont
from icalendar import Calendar
from pypdf import PdfReader

from shopdraw.drawing.ink import Drawing, Words
from shopdraw.drawing.set import DrawingSet
from shopdraw.output.calendar import write_calendar
from shopdraw.output.choices import differences, make_files
from shopdraw.output.dxf import write_bare_dxf
from shopdraw.output.pdf import write_pdf
from shopdraw.output.plot import Plot, font_file
from shopdraw.output.readback import read_back
from shopdraw.output.tables import write_table
from shopdraw.pipeline import build, offer, solve
from shopdraw.views.words.report import write_report
from tests.hostile import (
    KEPT,
    PLAINLY,
)
from tests.hostile_sets import (
    FIELDS,
    filled,
    lettered,
    mixed,
    not_lettered,
    sheets_of,
    solved,
    squeezed,
    typed,
)
from tests.longer import mostly_long


def is_formula(cell: str) -> bool:
    """Whether a spreadsheet would run a cell; a number it may."""
    is_number = re.fullmatch(r"[-+]?\d+(\.\d+)?", cell)
    return cell.lstrip()[:1] in tuple("=+-@") and not is_number


# What a spreadsheet runs first, and what closes an array or a record.
some_texts = pytest.mark.parametrize("text", mostly_long(KEPT, *KEPT[::6]), ids=ascii)


@some_texts
def test_what_can_be_lettered_is_printed_as_it_is_typed_in_every_field(
    text: str,
) -> None:
    tables = filled([text] * len(FIELDS))
    solution = solved(tables)
    drawn = build(solution)
    assert not_lettered(drawn, typed(tables)) == []
    assert json.loads(drawn.record_json)["job"]["name"] == tables["job"]["name"]
    said = write_report(solution)
    assert tables["target"][0]["name"] in said
    assert all(line.isprintable() for line in said.split("\n"))
    calendar = Calendar.from_ical(write_calendar(drawn.events, drawn.title))
    assert [str(event["summary"]) for event in calendar.walk("VEVENT")] == [
        f"{tables['job']['name']}: {event.what}" for event in drawn.events
    ]
    cells = [*cells_of(drawn, ","), *cells_of(drawn, ";")]
    assert not any(map(is_formula, cells))
    money = tables["prices"]["currency"]
    assert money.replace("'", "") in {cell.replace("'", "") for cell in cells}


@some_texts
def test_what_an_option_is_called_is_printed_as_it_is_typed(text: str) -> None:
    job = solved(filled([text] * len(FIELDS))).job
    ((name, option),) = job.options
    assert name.startswith(text[:30])
    choices = offer(((name, solve(option)),))
    letters = Plot(choices.pages[0].sheet).letters
    assert squeezed(name) in squeezed("".join(line.text for line in letters))
    assert list(differences(choices, make_files(choices))) == []


def cells_of(drawn: DrawingSet, sign: str) -> Iterator[str]:
    """Read the tables' files as a spreadsheet does whose cells that sign parts."""
    for table in drawn.tables:
        lines = io.StringIO(write_table(table).decode(), newline="")
        for row in csv.reader(lines, delimiter=sign):
            yield from row


def test_a_text_that_is_not_lettered_is_noticed() -> None:
    texts = typed(filled(islice(cycle(KEPT), len(FIELDS))))
    assert not_lettered(mixed(), texts) == []
    texts["job.name"] = texts["job.name"].replace("=", "?")
    assert not_lettered(mixed(), texts) == ["job.name"]


def test_a_formula_in_a_table_is_noticed() -> None:
    assert is_formula("=1+1")
    assert is_formula(' -1/16"')
    assert not is_formula("-1.5")


def test_text_about_a_gas_unit_is_printed_as_it_is_typed() -> None:
    tables = filled(cycle([" ".join(KEPT)]), gas=True)
    texts = typed(tables)
    assert len(texts["appliance.manual.document"]) > 150
    assert not_lettered(build(solved(tables)), texts) == []


def test_the_longest_texts_are_printed_as_they_are_typed() -> None:
    tables = filled([("long words " * 50)] * len(FIELDS))
    assert not_lettered(build(solved(tables)), typed(tables)) == []


def test_accents_and_typographic_marks_are_lettered_plainly() -> None:
    tables = filled(islice(cycle(PLAINLY), len(FIELDS)))
    plainly = {
        key: said.replace(text, PLAINLY[text])
        for key, said in typed(tables).items()
        for text in PLAINLY
        if text in said
    }
    assert len(plainly) > 20
    drawn = build(solved(tables))
    assert not_lettered(drawn, plainly) == []
    assert json.loads(drawn.record_json)["job"]["name"] == tables["job"]["name"]


def coded(data: bytes) -> list[str]:
    """Return the lettering of a DXF file that readers show otherwise than it stands."""
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    found = [str(error) for error in document.audit().errors]
    for space in (*document.layouts, *document.blocks):
        found += [x.text for x in space.query("MTEXT")]
        letters = [*space.query("TEXT")]
        for insert in space.query("INSERT"):
            letters += insert.attribs
        found += [x.dxf.text for x in letters if x.plain_text() != x.dxf.text]
    return found


def test_a_dxf_file_holds_no_codes_and_says_what_was_typed() -> None:
    texts = sorted({x.text for page in sheets_of(mixed()) for x in Plot(page).letters})
    data = write_bare_dxf(drawing_of(texts), "in")
    assert coded(data) == []
    assert list(read_back(data).words) == texts


def drawing_of(texts: Iterable[str]) -> Drawing:
    words = (Words("A-ANNO-NOTE", (0.0, 0.0), text, 0.1) for text in texts)
    return Drawing("d", "D", 1.0, tuple(words))


@pytest.mark.parametrize("text", ["%%c 3", "%%u3", "^J3"])
def test_a_code_in_a_dxf_file_is_noticed(text: str) -> None:
    assert set(coded(write_bare_dxf(drawing_of([text]), "in"))) == {text}


def test_a_pdf_file_says_what_was_typed() -> None:
    drawn = mixed()
    data = write_pdf((*sheets_of(drawn),), drawn.title)
    reader = PdfReader(io.BytesIO(data))
    assert reader.metadata is not None
    assert reader.metadata.title == drawn.title
    there = squeezed("".join(page.extract_text() for page in reader.pages))
    for page in sheets_of(drawn):
        assert all(squeezed(line.text) in there for line in Plot(page).letters)


def without_glyph(text: str) -> set[str]:
    """Return the signs that the font of the pictures and the PDF files lacks."""
    glyphs = TTFont(font_file()).getBestCmap()
    return {sign for sign in text if ord(sign) not in glyphs}


def test_the_font_has_every_sign_that_is_lettered() -> None:
    assert without_glyph(lettered(mixed())) == set()
    assert without_glyph("a\u706b") == {"\u706b"}
