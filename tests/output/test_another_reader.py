"""Every sheet of every demo in a reader of another make, in another language.

Where there is no node, or the reader can't be installed, this is not checked.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from shopdraw.drawing.set import DrawingSet
from tests.output.readers import (
    install_npm,
    npm_differences,
    npm_folder,
    npm_wrong,
    read_with_npm,
)


@pytest.fixture(scope="session")
def reader(shared: Path | None, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder in which the reader is installed; skip where it can't be."""
    folder = npm_folder(shared, tmp_path_factory.getbasetemp())
    if why_not := install_npm(folder):
        pytest.skip(f"not checked: {why_not}")
    return folder


def test_another_reader_finds_the_same_on_every_sheet(
    reader: Path, files: dict[str, bytes], drawing_set: DrawingSet
) -> None:
    assert npm_differences(reader, [(drawing_set, files)]) == [[]]


DAMAGE = (
    (b"$INSUNITS\n 70\n1\n", b"$INSUNITS\n 70\n4\n", "units 4"),
    (b"\nSTRETCHER\n", b"\nHEADER\n", "units differ in their tags"),
    (b"2'-10\"", b"2'-11\"", "dimensions read otherwise"),
    (b"FRONT ELEVATION", b"BACK ELEVATION", "other words"),
    (b"A-ANNO-DIMS", b"A-ANNO-DIMX", "layers are missing"),
    (b"SHEET-02", b"SHEET-03", "layout SHEET-03"),
)


@pytest.mark.parametrize(("old", "new", "complaint"), DAMAGE)
def test_a_damaged_file_is_noticed(
    reader: Path,
    library: dict[str, bytes],
    library_set: DrawingSet,
    old: bytes,
    new: bytes,
    complaint: str,
) -> None:
    data = library["sheets/02-elevation.dxf"]
    assert old in data
    (found,) = read_with_npm(reader, [data.replace(old, new)])
    assert any(line.startswith(complaint) for line in npm_wrong(found, library_set, 1))


def test_a_fault_is_told_of_its_own_sheet(
    reader: Path, library: dict[str, bytes], library_set: DrawingSet
) -> None:
    name = "sheets/03-returns.dxf"
    damaged = {**library, name: library[name].replace(b"SHEET-03", b"SHEET-04")}
    whole, wrong = npm_differences(
        reader, [(library_set, library), (library_set, damaged)]
    )
    assert whole == []
    assert [(each.file, each.reader) for each in wrong] == [(name, "npm")]
