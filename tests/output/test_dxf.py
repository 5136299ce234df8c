"""DXF: what opens right everywhere, on each sheet of each demo; each check can fail."""

from __future__ import annotations

import hashlib
import io
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import pyogrio
import pytest
from ezdxf.document import Drawing
from shapely import from_wkb

from shopdraw.drawing.set import DrawingSet
from shopdraw.output.readback import compare, read_back
from shopdraw.pipeline import Solution
from tests.output.dxf_items import ITEMS

ROOT = Path(__file__).resolve().parents[2]


def test_each_sheet_opens_right(files: dict[str, bytes]) -> None:
    for name, data in files.items():
        if name.startswith("sheets/") and name.endswith(".dxf"):
            found = {item: complaints(data) for item, complaints in ITEMS.items()}
            wrong = {
                item: complaints for item, complaints in found.items() if complaints
            }
            assert wrong == {}, name


BYTES = {
    "units said three ways": (b"$INSUNITS\n 70\n1\n", b"$INSUNITS\n 70\n6\n"),
    "extents are true": (b"$EXTMAX\n 10\n", b"$EXTMAX\n 10\n-"),
    "one layout, named": (b"SHEET-01", b"Layout A"),
    "plain text": (b"FRONT ELEVATION", b"FRONT \\SA/B;"),
    "figures equal the geometry": (b"2'-10\"", b"2'-11\""),
    "limits and dimension style stated": (b"$LIMMAX\n 10\n", b"$LIMMAX\n 10\n1"),
    "dashes show on paper": (b"$LTSCALE\n 40\n1.0\n", b"$LTSCALE\n 40\n8.0\n"),
    "fonts that can be stood in for": (b"arial.ttf", b"mine.shx"),
    "pens by layer, shown": (b"$LWDISPLAY\n290\n1\n", b"$LWDISPLAY\n290\n0\n"),
    "tags as the block has them, each ID once": (b"F-01-02", b"F-01-01"),
    "no path of a machine": (b"FRONT ELEVATION", b"/home/somebody"),
}


def _first(document: Drawing, kind: str) -> Any:
    return next(iter(document.modelspace().query(kind)))


def _viewport(document: Drawing) -> Any:
    layout = next(x for x in document.layouts if x.name != "Model")
    return next(x for x in layout.query("VIEWPORT") if x.dxf.id != 1)


def _set(thing: Any, name: str, value: object) -> None:
    thing.dxf.set(name, value)


CHANGES: dict[str, Callable[[Drawing], object]] = {
    "opens zoomed to the drawing": lambda d: d.set_modelspace_vport(1, (9000, 9000)),
    "viewports on, at scale, not plotted": lambda d: _set(
        _viewport(d), "view_height", 1.1 * _viewport(d).dxf.view_height
    ),
    "all in some viewport": lambda d: _viewport(d).destroy(),
    "hatches are light": lambda d: (
        d.modelspace().add_hatch().set_pattern_fill("ANSI31")
    ),
    "dimensions need no regeneration": lambda d: _set(
        _first(d, "DIMENSION"), "text", "9"
    ),
    "no exotic entities": lambda d: d.modelspace().add_spline([(0, 0), (1, 1), (2, 0)]),
    "colours by layer, legible": lambda d: _set(_first(d, "LWPOLYLINE"), "color", 3),
    "line types defined": lambda d: _set(d.layers.get("A-ELEV-HIDD"), "linetype", "NO"),
    "clean names": lambda d: d.layers.add("a layer of mine", color=7),
    "audit finds nothing": lambda d: _set(_first(d, "LWPOLYLINE"), "linetype", "NO"),
}


def test_every_item_has_been_seen_to_fail() -> None:
    assert set(BYTES) | set(CHANGES) == set(ITEMS)
    assert not set(BYTES) & set(CHANGES)


@pytest.mark.parametrize("item", BYTES)
def test_damaged_bytes_are_noticed(item: str, library: dict[str, bytes]) -> None:
    data = library["sheets/01-elevation.dxf"]
    old, new = BYTES[item]
    assert old in data
    assert ITEMS[item](data.replace(old, new)) != []


@pytest.mark.parametrize("item", CHANGES)
def test_a_changed_drawing_is_noticed(item: str, library: dict[str, bytes]) -> None:
    document = ezdxf.read(io.StringIO(library["sheets/01-elevation.dxf"].decode()))
    CHANGES[item](document)
    stream = io.StringIO()
    document.write(stream)
    assert ITEMS[item](stream.getvalue().encode()) != []


def test_the_file_reads_back_as_what_was_solved(
    files: dict[str, bytes], drawing_set: DrawingSet
) -> None:
    for sheet, expected in zip(drawing_set.sheets, drawing_set.expected, strict=True):
        name = f"sheets/{sheet.number:02d}-{sheet.name}.dxf"
        assert compare(read_back(files[name]), expected) == ()


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        (b"F-01-02", b"F-99-02", "F-01-02 is not drawn"),
        (b"2'-10\"", b"2'-11\"", "a dimension reads"),
        (b"FRONT ELEVATION", b"BACK ELEVATION", "is not lettered"),
        (b"\nSTRETCHER\n", b"\nHEADER\n", "is tagged"),
    ],
)
def test_a_wrong_tag_figure_or_word_is_noticed(
    library: dict[str, bytes],
    library_set: DrawingSet,
    old: bytes,
    new: bytes,
    complaint: str,
) -> None:
    data = library["sheets/01-elevation.dxf"]
    assert old in data
    differences = compare(read_back(data.replace(old, new)), library_set.expected[0])
    assert any(complaint in line for line in differences)


def test_a_unit_that_moves_a_sixteenth_is_noticed(
    library: dict[str, bytes], library_set: DrawingSet
) -> None:
    from dataclasses import replace

    expected = library_set.expected[0]
    first, *rest = expected.inserts
    moved = tuple((x + 1 / 16, y) for x, y in first.outline)
    wrong = replace(expected, inserts=(replace(first, outline=moved), *rest))
    found = read_back(library["sheets/01-elevation.dxf"])
    assert any("is drawn at" in line for line in compare(found, wrong))


def test_another_reader_finds_the_same_units(
    solution: Solution, files: dict[str, bytes], tmp_path: Path
) -> None:
    """GDAL, through pyogrio, shares no code with the writer."""
    path = tmp_path / "surround.dxf"
    path.write_bytes(files["surround.dxf"])
    pyogrio.set_gdal_config_options({"DXF_INLINE_BLOCKS": False})
    meta, _, _, columns = pyogrio.raw.read(path, layer="entities")
    table = dict(zip(meta["fields"], columns, strict=True))
    tags = [
        dict(pair.split(" ", 1) for pair in row)
        for row in table["BlockAttributes"]
        if row is not None and len(row)
    ]
    ids = Counter(tag["ID"] for tag in tags)
    assert set(ids.values()) == {1}
    assert set(ids) == {piece.id for piece in solution.layout.pieces}
    marks = Counter(tag["MARK"] for tag in tags)
    assert marks == Counter({row.mark: row.count for row in solution.cut_list})


def test_two_readers_find_as_much_on_each_sheet(
    files: dict[str, bytes], tmp_path: Path
) -> None:
    """Ours by group codes, and GDAL: units, their IDs, lines of lettering, figures."""
    pyogrio.set_gdal_config_options({"DXF_INLINE_BLOCKS": False})
    for name, data in files.items():
        if not (name.startswith("sheets/") and name.endswith(".dxf")):
            continue
        path = tmp_path / "sheet.dxf"
        path.write_bytes(data)
        meta, _, _, columns = pyogrio.raw.read(path, layer="entities")
        rows = [
            dict(zip(meta["fields"], row, strict=True))
            for row in zip(*columns, strict=True)
        ]
        model = [row for row in rows if row["PaperSpace"] != 1]
        found = read_back(data)
        tagged = [row["BlockAttributes"] for row in model if row["BlockName"]]
        ids = [
            pair.removeprefix("ID ")
            for row in tagged
            if row is not None
            for pair in row
            if pair.startswith("ID ")
        ]
        assert ids == [dict(insert.tags)["ID"] for insert in found.inserts], name
        # GDAL gives a hatch the name of its pattern for a text.
        lettered = (row for row in model if "Hatch" not in row["SubClasses"])
        texts = Counter(row["Text"] for row in lettered if row["Text"])
        figures = (measure.words for measure in found.measures)
        assert texts == Counter((*found.words, *figures)), name


def test_another_reader_finds_the_same_outlines(
    solution: Solution, files: dict[str, bytes], tmp_path: Path
) -> None:
    path = tmp_path / "surround.dxf"
    path.write_bytes(files["surround.dxf"])
    pyogrio.set_gdal_config_options({"DXF_INLINE_BLOCKS": True})
    meta, _, geometry, columns = pyogrio.raw.read(path, layer="entities")
    layers = dict(zip(meta["fields"], columns, strict=True))["Layer"]
    found = set()
    for layer, shape in zip(layers, geometry, strict=True):
        if layer in ("A-ELEV-MSNR", "A-ELEV-MSNR-CORN") and shape is not None:
            bounds = from_wkb(shape).bounds
            if bounds[2] > bounds[0] and bounds[3] > bounds[1]:
                found.add(tuple(round(x, 6) for x in bounds))
    centre = float(solution.surround.opening.centre)
    wanted = {
        (
            round(float(o.left) - centre, 6),
            round(float(o.bottom), 6),
            round(float(o.right) - centre, 6),
            round(float(o.top), 6),
        )
        for piece in solution.layout.pieces
        for o in piece.outlines
    }
    missing = {x for x in wanted if not any(_near(x, y) for y in found)}
    assert missing == set()


def _near(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return all(abs(x - y) < 2e-6 for x, y in zip(a, b, strict=True))


def test_the_same_job_gives_the_same_bytes_under_any_hash_seed() -> None:
    code = (
        "import hashlib\n"
        "from pathlib import Path\n"
        "from shopdraw.job.reading import read_job\n"
        "from shopdraw.pipeline import build, solve\n"
        "from shopdraw.output.write import make_files\n"
        f"job = read_job(Path({str(ROOT / 'configs' / 'library-hearth.toml')!r}))\n"
        "for name, data in make_files(build(solve(job))).items():\n"
        "    print(name, hashlib.sha256(data).hexdigest())\n"
    )
    outputs = [
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            check=True,
            env={"PYTHONHASHSEED": seed, "TZ": zone, "PATH": ""},
            cwd=folder,
        ).stdout
        for seed, zone, folder in (("1", "UTC", ROOT), ("2", "Asia/Tokyo", ROOT.parent))
    ]
    assert outputs[0] == outputs[1]
    assert hashlib.sha256(outputs[0]).hexdigest()
