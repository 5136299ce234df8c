"""Every sheet of every demo in a reader of another make, in another language.

The npm package `dxf`, versions pinned beside its script: it shares no code with the
writer. Where there is no node, or it can't be installed, this is not checked.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from shopdraw.drawing.ink import LAYERS
from shopdraw.drawing.set import DrawingSet
from shopdraw.output.readback import read_back

READER = Path(__file__).resolve().parent / "reader"
Found = dict[str, Any]


@pytest.fixture(scope="session")
def reader(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder in which the reader is installed; skip where it can't be."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        pytest.skip("not checked: there is no node here")
    folder = tmp_path_factory.mktemp("reader")
    for name in ("package.json", "read.cjs"):
        shutil.copy(READER / name, folder / name)
    words = [npm, "install", "--ignore-scripts", "--no-audit", "--no-fund"]
    try:
        done = subprocess.run(
            words, cwd=folder, capture_output=True, timeout=120, check=False
        )
    except subprocess.TimeoutExpired:
        pytest.skip("not checked: the reader was not installed within two minutes")
    if done.returncode:
        pytest.skip("not checked: the reader can't be installed here")
    return folder


def read_with(folder: Path, *files: Path) -> list[Found]:
    node = shutil.which("node")
    assert node is not None
    done = subprocess.run(
        [node, "read.cjs", *(str(file) for file in files)],
        cwd=folder,
        capture_output=True,
        check=True,
    )
    found: list[Found] = json.loads(done.stdout)
    return found


def differences(found: Found, data: bytes, drawn: DrawingSet, place: int) -> list[str]:
    """Return how what the reader found differs from what was drawn."""
    expected, sheet = drawn.expected[place], drawn.sheets[place]
    wrong = []
    units = (1, 0) if drawn.lengths == "in" else (4, 1)
    if (found["units"], found["measurement"]) != units:
        wrong.append(f"units {found['units']}, {found['measurement']}")
    tags = [tuple(sorted(each["tags"].items())) for each in found["inserts"]]
    if Counter(tags) != Counter(
        tuple(sorted(insert.tags)) for insert in expected.inserts
    ):
        wrong.append("units differ in their tags")
    outlines = {each["tags"]["ID"]: each["outline"] for each in found["inserts"]}
    for insert in expected.inserts:
        there = outlines.get(dict(insert.tags)["ID"], [])
        if len(there) != len(insert.outline) or any(
            abs(a - b) > 1e-6
            for spot, wanted in zip(there, insert.outline, strict=True)
            for a, b in zip(spot, wanted, strict=True)
        ):
            wrong.append(f"{dict(insert.tags)['ID']} is elsewhere")
    figures = [words for (words,) in found["dimensions"]]
    if figures != [measure.words for measure in expected.measures]:
        wrong.append("dimensions read otherwise")
    # An empty cell of a table is not written.
    if Counter(found["words"]) != Counter(filter(str.strip, expected.words)):
        wrong.append("other words")
    if not {layer.name for layer in LAYERS} <= set(found["layers"]):
        wrong.append("layers are missing")
    if not set(found["used"]) <= {layer.name for layer in LAYERS}:
        wrong.append("layers of no name of ours")
    size = (sheet.width, sheet.height)
    ((name, *paper),) = found["layouts"]
    apart = [abs(a - b) for a, b in zip(paper, size, strict=True)]
    if name != f"SHEET-{sheet.number:02d}" or max(apart) > 1e-6:
        wrong.append(f"layout {name} of {paper}")
    windows = [p.placement.window for p in sheet.drawings]
    # A viewport is a pen's width larger all round: 0.02 in, 0.5 mm.
    more = 0.04 if sheet.lengths == "in" else 1.0
    sizes = [(r - left + more, top - low + more) for left, low, r, top in windows]
    if any(
        abs(a - b) > 1e-6
        for view, wanted in zip(found["views"], sizes, strict=True)
        for a, b in zip(view, wanted, strict=True)
    ):
        wrong.append("viewports of another size")
    assert len(read_back(data).inserts) == len(found["inserts"])
    return wrong


def test_another_reader_finds_the_same_on_every_sheet(
    reader: Path, files: dict[str, bytes], drawing_set: DrawingSet, tmp_path: Path
) -> None:
    paths, datas = [], []
    for sheet in drawing_set.sheets:
        data = files[f"sheets/{sheet.number:02d}-{sheet.name}.dxf"]
        path = tmp_path / f"{sheet.number}.dxf"
        path.write_bytes(data)
        paths.append(path)
        datas.append(data)
    for place, found in enumerate(read_with(reader, *paths)):
        assert differences(found, datas[place], drawing_set, place) == []


DAMAGE = (
    (b"$INSUNITS\n 70\n1\n", b"$INSUNITS\n 70\n4\n", "units 4"),
    (b"\nSTRETCHER\n", b"\nHEADER\n", "units differ in their tags"),
    (b"2'-10\"", b"2'-11\"", "dimensions read otherwise"),
    (b"FRONT ELEVATION", b"BACK ELEVATION", "other words"),
    (b"A-ANNO-DIMS", b"A-ANNO-DIMX", "layers are missing"),
    (b"SHEET-01", b"SHEET-02", "layout SHEET-02"),
)


@pytest.mark.parametrize(("old", "new", "complaint"), DAMAGE)
def test_a_damaged_file_is_noticed(
    reader: Path,
    library: dict[str, bytes],
    library_set: DrawingSet,
    tmp_path: Path,
    old: bytes,
    new: bytes,
    complaint: str,
) -> None:
    data = library["sheets/01-elevation.dxf"]
    assert old in data
    path = tmp_path / "damaged.dxf"
    path.write_bytes(data.replace(old, new))
    (found,) = read_with(reader, path)
    assert any(
        line.startswith(complaint) for line in differences(found, data, library_set, 0)
    )
