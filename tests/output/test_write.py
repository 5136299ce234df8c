"""The files of a set, its tables among them; an unproved set is not put down."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from pathlib import Path

import pytest

from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.tables import Column, Table
from shopdraw.errors import NotProved
from shopdraw.output.tables import write_table
from shopdraw.output.write import prove_files, write_set
from tests.longer import mostly_long_demos
from tests.output.test_publish import OLD
from tests.whole_sets import held, put


def test_a_set_that_does_not_prove_itself_leaves_the_earlier_one(
    library_set: DrawingSet, library: dict[str, bytes], tmp_path: Path
) -> None:
    put(OLD, tmp_path / "den")
    first, *rest = library_set.expected
    wrong = replace(library_set, expected=(replace(first, words=("nothing",)), *rest))
    with pytest.raises(NotProved, match='"nothing" should be lettered but is not'):
        write_set(wrong, tmp_path / "den")
    assert held(tmp_path / "den") == OLD
    prove_files(library_set, library)


def test_cells_that_a_spreadsheet_would_run_are_guarded() -> None:
    rows = (
        ("=1+1", "-3"),
        ("@x", "a,b"),
        ("+a", "+0.5"),
        ("-a", '7 5/8"'),
        ("\tx", ""),
    )
    written = write_table(Table("t", "T", (Column("A"), Column("B")), rows))
    assert written == (
        b'A,B\r\n\'=1+1,-3\r\n\'@x,"a,b"\r\n\'+a,+0.5\r\n\'-a,"7 5/8"""\r\n\'\tx,\r\n'
    )


# Millimetres with a comma, voussoirs, a job with the most tables.
some_demos = mostly_long_demos("library-hearth", "metric-slips", "segmental-kitchen")


@some_demos
def test_a_table_is_read_again_as_it_was_by_any_reader_of_csv(
    files: dict[str, bytes], drawing_set: DrawingSet
) -> None:
    for table in drawing_set.tables:
        text = files[f"{table.name}.csv"].decode("utf-8")
        heads, *rows = csv.reader(io.StringIO(text, newline=""), strict=True)
        assert heads == [*(column.head for column in table.columns), "DRAWN FROM"]
        last = drawing_set.drawn_from.words
        assert [tuple(cell.lstrip("'") for cell in row) for row in rows] == [
            (*row, last) for row in table.rows
        ]


@some_demos
def test_a_set_holds_what_it_is_said_to(files: dict[str, bytes]) -> None:
    for name in (
        "set.pdf",
        "story-pole.pdf",
        "surround.dxf",
        "cut-list.csv",
        "takeoff.csv",
        "solution.json",
    ):
        assert files[name]
    sheets = [name for name in files if name.startswith("sheets/")]
    # The picture has no file for the workshop.
    assert sum(name.endswith(".dxf") for name in sheets) == (len(sheets) - 1) / 2
    named = r"sheets/(A-\d\d\d|\d\d)-[a-z0-9-]+\.(dxf|png)"
    assert all(re.fullmatch(named, x) for x in sheets)
