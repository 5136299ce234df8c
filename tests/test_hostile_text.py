"""Hostile text in every field of free text: refused in words, or printed as typed."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import cycle, islice
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from click.testing import CliRunner, Result
from fontTools.ttLib import TTFont
from icalendar import Calendar
from pypdf import PdfReader

from shopdraw.cli import main
from shopdraw.drawing.ink import Drawing, Words
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.set import DrawingSet, FileForm
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import BadJob, NotProved, NotPublished
from shopdraw.job.model import About, Job
from shopdraw.job.reading import parse_job
from shopdraw.job.table import Table
from shopdraw.job.values import Line
from shopdraw.output.calendar import write_calendar
from shopdraw.output.dxf import write_bare_dxf
from shopdraw.output.pdf import write_pdf
from shopdraw.output.plot import Plot, font_file
from shopdraw.output.readback import read_back
from shopdraw.output.tables import write_table
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from shopdraw.views.words.report import write_report
from tests.hostile import (
    CHOICES,
    DOOR,
    KEPT,
    PLAINLY,
    REFUSED,
    TextField,
    free_text,
    job_text,
    put,
    tables_of,
    unguarded,
)

FIELDS = tuple(field for field in free_text() if field.key not in CHOICES)
REVISIONS = {"job.revision", "revision.mark"}
"""A folder is named for these: letters and digits alone."""


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


# ------------------------------------------------------------------------ every field


def uncovered(fields: Iterable[TextField]) -> list[str]:
    """Return the fields that neither job of these tests has a table for."""
    return [
        field.key
        for field in fields
        if not any(put(tables_of(gas=gas), field, "x") for gas in (False, True))
    ]


def test_every_field_of_free_text_is_found_and_has_a_table_here() -> None:
    found = {field.key: field.most for field in free_text()}
    # Counted by hand in the model: 11 of the job, 24 elsewhere.
    assert len(found) >= 34
    assert found["job.name"] == 80
    assert found["job.notes"] == 500
    assert found["rules.own.reason"] == 120
    assert found["appliance.manual.document"] == 200
    assert all(found.values())
    assert uncovered(free_text()) == []
    assert unguarded() == []


def test_a_new_field_is_found_and_one_without_a_table_is_noticed() -> None:
    class Signed(About):
        signed_by: tuple[Line | None, ...] = ()
        stamp: str = ""

    class Shelf(Table):
        label: Line = ""

    class Wider(Job):
        job: Signed
        shelf: Shelf | None = None

    assert uncovered(free_text(Wider)) == ["shelf.label"]
    assert TextField(("job", "signed_by"), 200) in free_text(Wider)
    assert unguarded(Wider) == ["job.stamp"]


# ---------------------------------------------------------------------------- refused


def refusals(tables: dict[str, Any]) -> tuple[str, ...]:
    with pytest.raises(BadJob) as caught:
        parse_job(job_text(tables), "den.toml")
    lines = caught.value.lines()
    for line in lines:
        assert line.isprintable()
        assert len(line) < 1_000
    return lines


def key_of(field: TextField, tables: dict[str, Any]) -> str:
    """Return the key as a complaint says it: each list's first."""
    place, said = tables, []
    for name in field.keys:
        place = place[name]
        said.append(f"{name}[1]" if isinstance(place, list) else name)
        place = place[0] if isinstance(place, list) else place
    return ".".join(said)


def with_everywhere(text: str) -> dict[str, Any]:
    """Return tables with a text at every key, those of a gas unit's manual too."""
    tables = tables_of()
    tables["appliance"]["manual"] = {}
    for field in free_text():
        assert put(tables, field, text)
    return tables


@pytest.mark.parametrize("text", REFUSED, ids=ascii)
def test_what_cant_be_lettered_is_refused_in_every_field(text: str) -> None:
    tables = with_everywhere(text)
    lines = refusals(tables)
    for field in free_text():
        start = re.escape(f'den.toml: {key_of(field, tables)}: "')
        said = re.compile(
            f"{start}.*(can't be lettered; write plain text|not be empty)"
        )
        assert any(map(said.fullmatch, lines)), field


@pytest.mark.parametrize("text", KEPT, ids=ascii)
def test_a_key_that_takes_what_the_catalog_has_takes_nothing_else(text: str) -> None:
    tables = tables_of()
    for field in free_text():
        if field.key in CHOICES:
            put(tables, field, text)
    lines = refusals(tables)
    for key in CHOICES:
        assert any(line.startswith(f"den.toml: {key}: ") for line in lines), key


@pytest.mark.parametrize(
    "text", ["../x", "/etc/x", "a/b", "..", ".", "-x", 'A"', "A'", "C:", "A\u0301"]
)
def test_a_revision_that_would_name_no_folder_is_refused(text: str) -> None:
    tables = tables_of()
    tables["job"]["revision"] = text
    tables["revision"][0]["mark"] = text
    lines = refusals(tables)
    assert [line.split(": ")[1] for line in lines] == [
        "job.revision",
        "revision[1].mark",
    ]


def test_every_sign_that_is_taken_is_lettered() -> None:
    taken = []
    for sign in map(chr, range(0x3100)):
        try:
            DOOR.func(f".{sign}")
        except ValueError:
            continue
        taken.append(sign)
        assert re.fullmatch("[ -~]+", plain(sign)), sign
        assert plain(sign) == sign or not sign.isascii()
        assert "?" not in plain(sign) or sign == "?"
    assert {*"aZ09 !~\"'&<>(){}[]|;,:=+@#$%?"} < {*taken}
    assert not {*"\\^\u2260\u00bd\u00b2\u00b0"} & {*taken}


def test_a_text_is_as_long_as_it_may_be_and_no_longer() -> None:
    tables = tables_of()
    tables["appliance"]["manual"] = {}
    for field in FIELDS:
        put(tables, field, "x" * (field.most + 1))
    lines = refusals(tables)
    assert len(lines) == len(FIELDS)
    for field, line in zip(FIELDS, sorted(lines), strict=False):
        assert "is too long; write at most" in line, field
    for field in FIELDS:
        put(tables, field, "x" * field.most)
    assert parse_job(job_text(tables), "den.toml").job.name == "x" * 80


# ---------------------------------------------------------------------------- printed


def squeezed(text: str) -> str:
    """Leave out what lettering changes: capitals, and where lines are broken."""
    return re.sub(r"\s", "", text).casefold()


def sheets_of(drawn: DrawingSet) -> Iterator[Sheet]:
    yield from drawn.sheets
    for _, pages in drawn.papers:
        yield from pages


def lettered(drawn: DrawingSet) -> str:
    lines = (line.text for x in sheets_of(drawn) for line in Plot(x).letters)
    return squeezed("".join(lines))


def filled(texts: Iterable[str], *, gas: bool = False) -> dict[str, Any]:
    """Return tables with a text in each field, cut to fit, and a sign of its own."""
    tables = tables_of(gas=gas)
    for place, (field, text) in enumerate(zip(FIELDS, texts, strict=False)):
        sign = f"{chr(ord('a') + place // 10)}{place % 10}"
        cut = "R-" if field.key in REVISIONS else text[: field.most - 2]
        put(tables, field, f"{cut}{sign}")
    return tables


def typed(tables: dict[str, Any]) -> dict[str, str]:
    """Return what is typed in each field of a job's tables."""
    there = {}
    for field in FIELDS:
        place: Any = tables
        for name in field.keys:
            place = place.get(name, {}) if isinstance(place, dict) else place
            place = place[0] if isinstance(place, list) else place
        if isinstance(place, str):
            there[field.key] = place
    return there


def solved(tables: dict[str, Any]) -> Solution:
    return solve(parse_job(job_text(tables), "den.toml"))


def not_lettered(drawn: DrawingSet, texts: dict[str, str]) -> list[str]:
    """Return the fields whose text is on no sheet and no paper as it is typed."""
    there = lettered(drawn)
    return [key for key, text in texts.items() if squeezed(text) not in there]


def is_formula(cell: str) -> bool:
    """Whether a spreadsheet would run a cell; a number it may."""
    is_number = re.fullmatch(r"[-+]?\d+(\.\d+)?", cell)
    return cell.lstrip()[:1] in tuple("=+-@") and not is_number


@pytest.mark.parametrize("text", KEPT, ids=ascii)
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


# -------------------------------------------------------------------------- the files


@cache
def mixed() -> DrawingSet:
    """Return a set in which every field has another of the texts."""
    return build(solved(filled(islice(cycle(KEPT), len(FIELDS)))))


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


# ----------------------------------------------------------------- layers, keys, words


LAYERS = (
    *("", "A B", "A/B", "a\u0301", "X\n", "\x1b[31m", "*X", "A|B", "W" * 32, "%%c"),
    *("0", "Defpoints", "VIEWPORTS"),
)


@pytest.mark.parametrize("name", LAYERS, ids=ascii)
def test_a_layer_cant_be_called_what_a_dxf_file_cant_call_it(name: str) -> None:
    tables = tables_of()
    tables["layers"]["own"] = {"A-ELEV-OTLN": name}
    (line,) = refusals(tables)
    assert line.startswith('den.toml: layers.own.A-ELEV-OTLN: "')


@pytest.mark.parametrize(
    "name", ["", "A[x", "A[1]", "a.b", "\x1b[0m", "\u202e"], ids=ascii
)
def test_a_layer_that_there_is_not_is_refused(name: str) -> None:
    tables = tables_of()
    tables["layers"]["own"] = {name: "X"}
    (line,) = refusals(tables)
    assert line.startswith("den.toml: layers.own.")


def test_layers_may_change_their_names_over() -> None:
    own = {
        "A-ANNO-NOTE": "A-ANNO-DIMS",
        "A-ANNO-DIMS": "A-ANNO-NOTE",
        "A-ELEV-OTLN": "CON",
    }
    form = FileForm(layers=tuple(own.items()))
    usual, named = (
        ezdxf.read(io.StringIO(write_bare_dxf(mixed().bare, "in", each).decode()))
        for each in (FileForm(), form)
    )
    assert [str(error) for error in named.audit().errors] == []
    for before, after in zip(usual.modelspace(), named.modelspace(), strict=True):
        assert after.dxf.layer == own.get(before.dxf.layer, before.dxf.layer)


@pytest.mark.parametrize(
    "key",
    ["\x1b[31mred", "a\nb", "\x1b]0;t\x07", "\u202e", "\x9b1m", "k" * 9_000, ""],
    ids=lambda key: ascii(key[:9]),
)
def test_a_key_that_is_said_again_is_printable(key: str) -> None:
    for table in (None, "job", "layers", "trim"):
        tables = tables_of()
        place = tables[table] if table else tables
        place = place[0] if isinstance(place, list) else place
        place[key] = 1
        assert len(refusals(tables)) == 1


@pytest.mark.parametrize(
    "text", ["[" * 3_000 + "]" * 3_000, "{a=" * 99 + "1" + "}" * 99]
)
def test_what_is_nested_without_end_is_refused(text: str) -> None:
    for line in (f"a = {text}\n", "a." * 3_000 + "a = 1\n", f"[job.{'a.' * 3_000}a]\n"):
        with pytest.raises(BadJob) as caught:
            parse_job(f"{line}", "den.toml")
        assert caught.value.lines() == (
            "den.toml: has tables nested too deep; follow the job file that "
            "`shopdraw new` writes",
        )


@pytest.mark.parametrize(
    "error", [NotPublished("\x1b[31m\udcff: no"), NotProved(("\x1b[31m\udcff: no",))]
)
def test_what_is_said_of_a_fault_is_printable(error: NotPublished | NotProved) -> None:
    assert error.lines() == ("?[31m?: no",)


@pytest.mark.parametrize(
    "words",
    [
        ("check", "\x1b[31m.toml"),
        ("compare", "den.toml", "--size", "\x1b[31m"),
        ("compare", "den.toml", "--bond", "\u202e"),
        ("remeasure", "den.toml", "--course", "1", "--top", '\x1b[31m"]'),
        ("explain", "\x1b[31m"),
    ],
    ids=ascii,
)
def test_words_of_the_command_line_are_said_again_printably(
    words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "den.toml").write_text(job_text(tables_of()), "utf-8")
    result = run(*words)
    assert result.exit_code == 2
    assert all(line.isprintable() for line in result.output.splitlines())
    assert [path.name for path in tmp_path.iterdir()] == ["den.toml"]


def test_a_file_with_a_hostile_name_is_drawn_in_a_folder_of_that_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    name = "=x 'q\" $HOME ~ *; \u00e9\u706b \\y.toml.toml"
    Path(name).write_text(job_text(tables_of()), "utf-8")
    assert run("draw", "--sheets", "labels", "--out", "out", name).exit_code == 1
    (folder,) = Path("out").iterdir()
    assert folder.name == name.removesuffix(".toml")
    assert {path.name for path in tmp_path.iterdir()} == {name, "out"}
