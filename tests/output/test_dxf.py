"""DXF: what opens right everywhere, on each sheet of each demo; each check can fail."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from math import inf, nextafter
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from ezdxf.document import Drawing

from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.output import svg
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_dxf
from shopdraw.output.pdf import write_pdf
from shopdraw.output.readback import read_back
from shopdraw.output.svg import frame_of
from shopdraw.output.write import sheet_stem
from shopdraw.solution import Solution
from tests.demos import files_of, solution_of
from tests.longer import mostly_long_demos
from tests.output.dxf_items import ITEMS
from tests.output.readers import (
    differences,
    gdal_differences,
    gdal_outlines,
    gdal_units,
)

ROOT = Path(__file__).resolve().parents[2]


# Shapes out of true, millimetres, arcs by their chords: what readers take otherwise.
most_demos = mostly_long_demos(
    "crooked-study", "metric-slips", "semicircular-dining-room"
)


@most_demos
def test_each_reader_finds_what_was_drawn(
    solution: Solution, drawing_set: DrawingSet, files: dict[str, bytes]
) -> None:
    """Ours by group codes, ezdxf and GDAL, on each sheet and on the bare drawing."""
    assert differences(solution, drawing_set, files) == []


BYTES = {
    "units said three ways": (b"$INSUNITS\n 70\n1\n", b"$INSUNITS\n 70\n6\n"),
    "extents are true": (b"$EXTMAX\n 10\n", b"$EXTMAX\n 10\n-"),
    "one layout, named": (b"SHEET-02", b"Layout A"),
    "plain text": (b"FRONT ELEVATION", b"FRONT \\SA/B;"),
    "figures equal the geometry": (b"2'-10\"", b"2'-11\""),
    "limits and dimension style stated": (b"$LIMMAX\n 10\n", b"$LIMMAX\n 10\n1"),
    "dashes show on paper": (b"$LTSCALE\n 40\n1.0\n", b"$LTSCALE\n 40\n8.0\n"),
    "fonts that can be stood in for": (b"arial.ttf", b"mine.shx"),
    "pens by layer, shown": (b"$LWDISPLAY\n290\n1\n", b"$LWDISPLAY\n290\n0\n"),
    "tags as the block has them, each ID once": (b"F-01-02", b"F-01-01"),
    "plots on a standard paper, by any program": (b"ARCH_C_(24", b"THEIRS_(24"),
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
        d.modelspace().add_hatch().set_pattern_fill("DIAGONAL")
    ),
    "dimensions need no regeneration": lambda d: _set(
        _first(d, "DIMENSION"), "text", "9"
    ),
    "notes are paragraphs": lambda d: d.modelspace().add_mtext("one\\Ptwo"),
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
    data = library["sheets/A-201-elevation.dxf"]
    old, new = BYTES[item]
    assert old in data
    assert ITEMS[item](data.replace(old, new)) != []


def test_extents_that_are_too_large_are_noticed(
    library: dict[str, bytes], library_set: DrawingSet
) -> None:
    """By a tenth, on a sheet whose size its lettering gives."""
    shows = next(x for x in library_set.sheets if "cut-pieces" in x.shows)
    data = library[f"{sheet_stem(shows)}.dxf"]
    found = re.search(rb"\$EXTMAX\n 10\n([0-9.]+)\n", data)
    assert found is not None
    more = b"$EXTMAX\n 10\n%f\n" % (1.1 * float(found[1]))
    (wrong,) = ITEMS["extents are true"](data.replace(found[0], more))
    assert "about a drawing of" in wrong


@pytest.mark.parametrize("item", CHANGES)
def test_a_changed_drawing_is_noticed(item: str, library: dict[str, bytes]) -> None:
    document = ezdxf.read(io.StringIO(library["sheets/A-201-elevation.dxf"].decode()))
    CHANGES[item](document)
    stream = io.StringIO()
    document.write(stream)
    assert ITEMS[item](stream.getvalue().encode()) != []


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        (b"F-01-02", b"F-99-02", "F-01-02 should be drawn but is not"),
        (b"2'-10\"", b"2'-11\"", "a dimension reads"),
        (b"FRONT ELEVATION", b"BACK ELEVATION", "should be lettered but is not"),
        (b"\nSTRETCHER\n", b"\nHEADER\n", "has tags"),
    ],
)
def test_a_wrong_tag_figure_or_word_is_noticed(
    library: dict[str, bytes],
    library_set: DrawingSet,
    old: bytes,
    new: bytes,
    complaint: str,
) -> None:
    data = library["sheets/A-201-elevation.dxf"]
    assert old in data
    differences = compare(read_back(data.replace(old, new)), library_set.expected[1])
    assert any(complaint in line for line in differences)


def test_a_unit_that_moves_a_sixteenth_is_noticed(
    library: dict[str, bytes], library_set: DrawingSet
) -> None:
    expected = library_set.expected[1]
    first, *rest = expected.inserts
    moved = tuple((x + 1 / 16, y) for x, y in first.outline)
    wrong = replace(expected, inserts=(replace(first, outline=moved), *rest))
    found = read_back(library["sheets/A-201-elevation.dxf"])
    assert any("is drawn at" in line for line in compare(found, wrong))


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        (b"F-01-02", b"F-99-02", "or other IDs"),
        (b"2'-10\"", b"2'-11\"", "is lettered for us alone"),
        (b"FRONT ELEVATION", b"BACK ELEVATION", "BACK ELEVATION' is lettered for it"),
    ],
)
def test_a_sheet_that_two_readers_find_otherwise_is_noticed(
    library: dict[str, bytes], old: bytes, new: bytes, complaint: str
) -> None:
    data = library["sheets/A-201-elevation.dxf"]
    assert old in data
    found = read_back(data)
    assert gdal_differences(data, found) == []
    wrong = gdal_differences(data.replace(old, new), found)
    assert any(complaint in line for line in wrong)


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        (b"F-01-02", b"F-99-02", "F-99-02 is not laid, or not there"),
        (b"F-01-02", b"F-01-01", "F-01-01 is there 2 times"),
    ],
)
def test_a_unit_that_was_not_laid_is_noticed(
    library: dict[str, bytes], old: bytes, new: bytes, complaint: str
) -> None:
    data, solution = library["surround.dxf"], solution_of("library-hearth")
    assert old in data
    assert gdal_units(data, solution) == []
    wrong = gdal_units(data.replace(old, new), solution)
    assert any(line.startswith(complaint) for line in wrong)


def test_a_mark_counted_otherwise_than_in_the_cut_list_is_noticed(
    library: dict[str, bytes],
) -> None:
    solution = solution_of("library-hearth")
    less = replace(solution, cut_list=solution.cut_list[1:])
    assert gdal_units(library["surround.dxf"], less) == [
        "marks are counted otherwise than in the cut list"
    ]


def test_an_outline_a_sixteenth_off_is_noticed(library: dict[str, bytes]) -> None:
    document = ezdxf.read(io.StringIO(library["surround.dxf"].decode("ascii")))
    unit = _first(document, "INSERT")
    unit.dxf.insert += (1 / 16, 0)
    stream = io.StringIO()
    document.write(stream)
    wrong = gdal_outlines(stream.getvalue().encode(), solution_of("library-hearth"))
    assert wrong == [f"{unit.get_attrib_text('ID')} is elsewhere"]


def test_every_reader_is_asked(
    library: dict[str, bytes], library_set: DrawingSet
) -> None:
    damaged = {
        name: data.replace(b"F-01-02", b"F-01-01") for name, data in library.items()
    }
    picked = library_set.picked(("elevation",))
    found = differences(solution_of("library-hearth"), picked, damaged)
    assert {(each.reader, each.file) for each in found} == {
        ("own", "sheets/A-201-elevation.dxf"),
        ("ezdxf", "sheets/A-201-elevation.dxf"),
        ("own", "surround.dxf"),
        ("GDAL", "surround.dxf"),
    }


def test_the_same_job_gives_the_same_bytes_under_any_hash_seed(
    library: dict[str, bytes],
) -> None:
    """Drawn once more in a process of another seed, in another zone and folder."""
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
    other = "2" if os.environ.get("PYTHONHASHSEED") == "1" else "1"
    zone = "UTC" if time.timezone else "Asia/Tokyo"
    drawn = subprocess.run(
        # What lies in that folder is nobody's library.
        [sys.executable, "-P", "-c", code],
        capture_output=True,
        check=True,
        text=True,
        env={
            "PYTHONHASHSEED": other,
            "TZ": zone,
            "PATH": "",
            # The code that drew the other set, wherever another is installed.
            "PYTHONPATH": str(ROOT),
        },
        cwd=ROOT.parent,
    ).stdout
    here = {name: hashlib.sha256(data).hexdigest() for name, data in library.items()}
    assert dict(line.rsplit(" ", 1) for line in drawn.splitlines()) == here


def base_of(data: bytes) -> tuple[float, float]:
    """Return where a file is inserted by, read by its group codes."""
    lines = data.decode("ascii").split("\n")
    at = lines.index("$INSBASE")
    return float(lines[at + 2]), float(lines[at + 4])


def test_the_bare_drawing_is_inserted_by_its_origin() -> None:
    data = files_of("library-hearth")["surround.dxf"]
    assert base_of(data) == (0.0, 0.0)
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    assert tuple(document.header["$INSBASE"])[:2] == (0.0, 0.0)
    moved = data.replace(b"$INSBASE\n 10\n0.0\n", b"$INSBASE\n 10\n1.0\n")
    assert base_of(moved) == (1.0, 0.0)


def _stirred(sheet: Sheet, far: float) -> Sheet:
    """Move all that a sheet shows by the last digit of a float."""

    def stir(point: tuple[float, float]) -> tuple[float, float]:
        return nextafter(point[0], far), nextafter(point[1], far)

    placed = tuple(
        replace(
            each,
            placement=replace(
                each.placement,
                origin=stir(each.placement.origin),
                in_model=stir(each.placement.in_model),
                on_paper=stir(each.placement.on_paper),
            ),
        )
        for each in sheet.drawings
    )
    return replace(sheet, drawings=placed)


@most_demos
def test_the_last_digit_of_a_float_never_shows(
    drawing_set: DrawingSet,
) -> None:
    """It depends on Python's release: 3.12 sums floats otherwise than 3.11."""
    sheet = drawing_set.sheets[1]
    frame = frame_of(sheet)
    written, drawn = write_dxf(sheet), svg.draw(sheet, frame)
    first = drawing_set.sheets[0]
    page = write_pdf((first,), "A sheet")
    for far in (inf, -inf):
        stirred = _stirred(sheet, far)
        assert write_dxf(stirred) == written
        assert write_pdf((_stirred(first, far),), "A sheet") == page
        assert svg.draw(stirred, frame) == drawn


@most_demos
def test_a_move_that_can_be_seen_is_written(drawing_set: DrawingSet) -> None:
    sheet = drawing_set.sheets[0]
    first = sheet.drawings[0]
    x, y = first.placement.in_model
    moved = replace(first, placement=replace(first.placement, in_model=(x + 1e-5, y)))
    others = replace(sheet, drawings=(moved, *sheet.drawings[1:]))
    assert write_dxf(others) != write_dxf(sheet)
