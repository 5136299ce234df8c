"""Every sheet as a library for its records reads it: styles, plots, notes, areas."""

from __future__ import annotations

from pathlib import Path

import pytest

from shopdraw.drawing.set import DrawingSet
from tests.demos import files_of, set_of
from tests.output.readers import gdal_notes, in_own_names, records_differences
from tests.output.records_read import build_reader, read_records, records_wrong


@pytest.fixture(scope="session")
def reader(shared: Path | None, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder in which the reader is built; skip where it can't be."""
    folder = (shared or tmp_path_factory.getbasetemp()) / "records"
    if why_not := build_reader(folder):
        pytest.skip(f"not checked: {why_not}")
    return folder


def test_every_sheet_is_styled_plotted_noted_and_hatched_as_drawn(
    reader: Path, files: dict[str, bytes], drawing_set: DrawingSet
) -> None:
    assert records_differences(reader, [(drawing_set, files)]) == [[]]


DAMAGE = (
    ("library-hearth", 2, b" 45\n0.0625\n", b" 45\n0.25\n", "drawn anew is"),
    ("library-hearth", 2, b"277\n4\n", b"277\n2\n", "drawn anew is"),
    ("library-hearth", 2, b"  3\nDIMENSIONS\n", b"  3\nOTHERS\n", "has no style"),
    (
        "library-hearth",
        2,
        b"AcDbDimension\n280\n0\n  2\n*D1\n",
        b'AcDbDimension\n280\n0\n  2\n*D1\n  1\n7 5/8"\n',
        "is typed over",
    ),
    ("library-hearth", 2, b"\n142\n0.03750", b"\n142\n0.05750", "ends otherwise"),
    ("metric-slips", 2, b"\n 41\n2.2\n", b"\n 41\n2.3\n", "ends otherwise"),
    ("metric-slips", 2, b"\n 21\n0.2679", b"\n 21\n0.3679", "ends otherwise"),
    ("metric-slips", 2, b"ISO_A2", b"ISO_A9", "no standard paper"),
    ("library-hearth", 2, b"(24.00_x", b"(25.00_x", "ARCH_C_(25.00"),
    ("library-hearth", 2, b"\n 44\n609.5", b"\n 44\n611.6", "paper of"),
    (
        "library-hearth",
        2,
        b"AcDbPlotSettings\n  1\n\n",
        b"AcDbPlotSettings\n  1\nOURS\n",
        "is for a program",
    ),
    ("library-hearth", 2, b"\n 90\n16384\n", b"\n 90\n0\n", "a viewport is open"),
    ("library-hearth", 2, b"SHEET-02", b"SHEET-03", "layouts"),
    ("library-hearth", 2, b"Left and right", b"Left or right", "MTEXT differs"),
    ("library-hearth", 2, b"FRONT ELEV", b"BACK ELEV", "TEXT differs"),
    ("library-hearth", 6, b"\nDIAGONAL\n", b"\nDOTTED\n", "an area is DOTTED"),
    ("library-hearth", 6, b"  0\nHATCH\n", b"  0\nWIPEOUT\n", "areas, not"),
)


@pytest.mark.parametrize(("demo", "number", "old", "new", "complaint"), DAMAGE)
def test_a_damaged_sheet_is_noticed(
    reader: Path, demo: str, number: int, old: bytes, new: bytes, complaint: str
) -> None:
    name = set_of(demo).sheets[number - 1].name
    data = files_of(demo)[f"sheets/{name}.dxf"]
    assert old in data
    whole, damaged = read_records(reader, [data, data.replace(old, new)])
    assert records_wrong(whole, set_of(demo), number - 1) == []
    wrong = records_wrong(damaged, set_of(demo), number - 1)
    assert any(complaint in line for line in wrong), wrong


def test_a_corner_of_an_area_that_moves_is_noticed(reader: Path) -> None:
    data = files_of("library-hearth")[
        "sheets/A-401-hearth-clearance-review-and-detail.dxf"
    ]
    (found,) = read_records(reader, [data])
    area = next(x for x in found["entities"] if x["kind"] == "HATCH")
    place = max(i for i, (code, _) in enumerate(area["groups"]) if code == 20)
    area["groups"][place][1] += 0.1
    wrong = records_wrong(found, set_of("library-hearth"), 5)
    assert any("is elsewhere" in line for line in wrong)


def test_a_note_in_lines_is_no_paragraph_for_gdal_either() -> None:
    drawn = set_of("library-hearth")
    data = in_own_names(
        files_of("library-hearth")["sheets/A-201-elevation.dxf"], drawn.form
    )
    assert gdal_notes(data, drawn.sheets[1]) == []
    damaged = data.replace(b"AcDbMText", b"AcDbText").replace(b"\nMTEXT\n", b"\nTEXT\n")
    assert any("no paragraph" in x for x in gdal_notes(damaged, drawn.sheets[1]))
