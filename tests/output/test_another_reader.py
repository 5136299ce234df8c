"""Every sheet of demos in a reader of another make, in another language: three here.

All fifteen are read in the long run.

Where there is no node, or the reader can't be installed, this is not checked.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from shopdraw.drawing.set import DrawingSet
from shopdraw.solution import Solution
from tests.demos import files_of, solution_of
from tests.longer import mostly_long, mostly_long_demos
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


# Shapes out of true, millimetres, arcs by their chords; the first demo is read below.
@mostly_long_demos("crooked-study", "metric-slips", "semicircular-dining-room")
def test_another_reader_finds_the_same_on_every_sheet(
    reader: Path, files: dict[str, bytes], drawing_set: DrawingSet
) -> None:
    assert npm_differences(reader, [(drawing_set, files)]) == [[]]


def front_alone_wrong(found: dict[str, Any], solution: Solution) -> list[str]:
    """Return what the reader finds of a bare drawing that is no true elevation."""
    front = solution.surround.front
    half = float(front.width) / 2
    seen = sum(float(x.width) for x in solution.surround.faces if 0 < x.turn < 90) / 2
    apart = 12 if solution.lengths == "in" else 300
    spans = [
        (each["layer"], [x for x, _ in each["outline"]]) for each in found["inserts"]
    ]
    spans += [(line["layer"], line["xs"]) for line in found["lines"]]
    wrong = []
    for layer, xs in spans:
        off = max(map(abs, xs)) if "RETN" not in layer else -min(map(abs, xs))
        most = half + seen if "RETN" not in layer else -half - apart
        if off > most + 1e-6:
            wrong.append(f"{layer} at {xs[0]}")
    sides = {round(x, 6) for layer, xs in spans for x in xs if layer == "A-ELEV-OTLN"}
    if not {round(-half, 6), round(half, 6)} <= sides:
        wrong.append("the front's outline is elsewhere")
    return wrong


@pytest.mark.parametrize(
    "demo",
    mostly_long(
        ("library-hearth", "chimney-breast-gas", "chamfered-breast"),
        "library-hearth",
        "chamfered-breast",
    ),
)
def test_the_bare_drawing_is_the_front_alone_at_its_base_point(
    reader: Path, demo: str
) -> None:
    data, solution = files_of(demo)["surround.dxf"], solution_of(demo)
    found, damaged = read_with_npm(
        reader, [data, data.replace(b"A-ELEV-RETN-", b"A-ELEV-")]
    )
    assert front_alone_wrong(found, solution) == []
    assert front_alone_wrong(damaged, solution) != []


DAMAGE = (
    (b"$INSUNITS\n 70\n1\n", b"$INSUNITS\n 70\n4\n", "units 4"),
    (b"\nSTRETCHER\n", b"\nHEADER\n", "units differ in their tags"),
    (b"2'-10\"", b"2'-11\"", "dimensions read otherwise"),
    (b"FRONT ELEVATION", b"BACK ELEVATION", "other words"),
    (b"A-ANNO-DIMS", b"A-ANNO-DIMX", "layers are missing"),
    (b"SHEET-02", b"SHEET-03", "layout SHEET-03"),
    (b"\n 90\n16384\n", b"\n 90\n0\n", "a viewport is open"),
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
    data = library["sheets/A-201-elevation.dxf"]
    assert old in data
    (found,) = read_with_npm(reader, [data.replace(old, new)])
    assert any(line.startswith(complaint) for line in npm_wrong(found, library_set, 1))


def test_a_fault_is_told_of_its_own_sheet(
    reader: Path, library: dict[str, bytes], library_set: DrawingSet
) -> None:
    name = "sheets/A-301-returns.dxf"
    damaged = {**library, name: library[name].replace(b"SHEET-03", b"SHEET-04")}
    whole, wrong = npm_differences(
        reader, [(library_set, library), (library_set, damaged)]
    )
    assert whole == []
    assert [(each.file, each.reader) for each in wrong] == [(name, "npm")]
