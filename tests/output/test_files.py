"""Pictures, PDF, tables, publishing: what is written, and that it is all or nothing."""

from __future__ import annotations

import io
import os
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pdfplumber
import pytest
from PIL import Image

from shopdraw.drawing.ink import Drawing, Insert, Stroke
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Cell, Sheet, TitleBlock, compose_sheet
from shopdraw.drawing.tables import Column, Table
from shopdraw.errors import NotProved, NotPublished
from shopdraw.output import publish as publishing
from shopdraw.output.image import write_pdf, write_png
from shopdraw.output.publish import publish
from shopdraw.output.tables import write_table
from shopdraw.output.write import prove_files, write_set

OLD = {"a.txt": b"old a", "sheets/b.txt": b"old b"}
NEW = {"a.txt": b"new a", "sheets/c.txt": b"new c"}


def held(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_a_set_replaces_the_earlier_one_whole(tmp_path: Path) -> None:
    folder = tmp_path / "out" / "den"
    publish(OLD, folder)
    assert held(folder) == OLD
    publish(NEW, folder)
    assert held(folder) == NEW
    assert [path.name for path in folder.parent.iterdir()] == ["den"]


@pytest.mark.parametrize("failing", ["write", "rename"])
def test_a_failure_leaves_the_earlier_set_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    folder = tmp_path / "den"
    publish(OLD, folder)
    calls = {"count": 0}

    def fail_second(*_: object) -> None:
        calls["count"] += 1
        if calls["count"] == 2:
            raise OSError(28, "No space left on device")

    if failing == "write":
        monkeypatch.setattr(publishing.os, "fsync", fail_second)
    else:
        rename = Path.rename

        def failing_rename(self: Path, target: Path) -> Path:
            fail_second()
            return rename(self, target)

        monkeypatch.setattr(Path, "rename", failing_rename)
    with pytest.raises(NotPublished, match="No space left"):
        publish(NEW, folder)
    monkeypatch.undo()
    assert held(folder) == OLD
    publish(NEW, folder)
    assert held(folder) == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["den"]


def test_what_a_killed_run_left_is_put_right(tmp_path: Path) -> None:
    folder = tmp_path / "den"
    publish(OLD, folder)
    folder.rename(tmp_path / ".den.old-xyz")
    (tmp_path / ".den.new-xyz").mkdir()
    publish(NEW, folder)
    assert held(folder) == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["den"]


@pytest.mark.parametrize("name", ["../x", "/x", "a/../../x", "", "a\\b"])
def test_no_file_goes_outside_its_folder(tmp_path: Path, name: str) -> None:
    with pytest.raises(NotPublished, match="lies outside"):
        publish({name: b""}, tmp_path / "den")
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(os.geteuid() == 0, reason="not checked: root may write anywhere")
def test_a_folder_that_may_not_be_written_is_one_line(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(NotPublished, match="can't be written"):
        publish(NEW, tmp_path / "den")


def test_a_set_that_does_not_prove_itself_leaves_the_earlier_one(
    library_set: DrawingSet, library: dict[str, bytes], tmp_path: Path
) -> None:
    publish(OLD, tmp_path / "den")
    first, *rest = library_set.expected
    wrong = replace(library_set, expected=(replace(first, words=("nothing",)), *rest))
    with pytest.raises(NotProved, match='"nothing" is not lettered'):
        write_set(wrong, tmp_path / "den")
    assert held(tmp_path / "den") == OLD
    prove_files(library_set, library)


def test_cells_that_a_spreadsheet_would_run_are_guarded() -> None:
    table = Table("t", "T", (Column("A"), Column("B")), (("=1+1", "-3"), ("@x", "a,b")))
    assert (
        write_table(table).decode("utf-8-sig") == "A,B\r\n'=1+1,-3\r\n'@x,\"a,b\"\r\n"
    )


def test_a_set_holds_what_it_is_said_to(files: dict[str, bytes]) -> None:
    for name in (
        "set.pdf",
        "surround.dxf",
        "cut-list.csv",
        "takeoff.csv",
        "solution.json",
    ):
        assert files[name]
    sheets = [name for name in files if name.startswith("sheets/")]
    assert sum(name.endswith(".dxf") for name in sheets) == len(sheets) / 2
    assert all(re.fullmatch(r"sheets/\d\d-[a-z0-9-]+\.(dxf|png)", x) for x in sheets)


def tiny(size: float = 8.0, scale: float = 4.0) -> Sheet:
    ring = ((0.0, 0.0), (size, 0.0), (size, size), (0.0, size))
    drawing = Drawing("x", "", scale, (Stroke("A-ELEV-OTLN", ring, closed=True),))
    cell = Cell((1.0, 1.0, 4.0, 4.0))
    return compose_sheet(
        1, "x", "X", (8.0, 5.0), "in", ((drawing, cell),), TitleBlock(())
    )


def test_a_pdf_is_true_to_scale() -> None:
    """Measured with pdfplumber: 8 in at 1:4 is 2 in on paper, to 0.002 in."""
    with pdfplumber.open(io.BytesIO(write_pdf((tiny(),), "X"))) as pdf:
        (page,) = pdf.pages
        assert (page.width, page.height) == (8 * 72, 5 * 72)
        rings = [
            (max(x for x, _ in c["pts"]) - min(x for x, _ in c["pts"])) / 72
            for c in (*page.curves, *page.rects, *page.lines)
        ]
    assert any(abs(width - 2.0) < 0.002 for width in rings)


def test_every_page_is_its_sheet_and_its_words_can_be_searched(
    files: dict[str, bytes], drawing_set: DrawingSet
) -> None:
    inch = 1.0 if drawing_set.lengths == "in" else 25.4
    with pdfplumber.open(io.BytesIO(files["set.pdf"])) as pdf:
        assert len(pdf.pages) == len(drawing_set.sheets)
        for page, sheet in zip(pdf.pages, drawing_set.sheets, strict=True):
            assert float(page.width) == pytest.approx(sheet.width / inch * 72, abs=0.1)
        text = pdf.pages[0].extract_text()
    assert "FRONT ELEVATION" in text
    assert "NOT CHECKED" in text


def test_a_picture_has_the_size_of_its_sheet_and_ink_where_it_belongs() -> None:
    picture = np.asarray(
        Image.open(io.BytesIO(write_png(tiny(), dpi=100))).convert("L")
    )
    assert picture.shape == (500, 800)
    # The ring is 2 in square in the middle of a cell from 1 to 4 in: 1.5 to 3.5 in.
    column = picture[250, 140:360] < 128
    dark = np.flatnonzero(column) + 140
    assert abs(dark.min() - 150) <= 2
    assert abs(dark.max() - 350) <= 2


def ink_of(drawing_set: DrawingSet, dpi: int = 40) -> np.ndarray:
    data = write_png(drawing_set.sheets[0], dpi=dpi)
    return np.asarray(Image.open(io.BytesIO(data)).convert("L")) < 200


def rendered(data: bytes, sheet: Sheet, dpi: int = 40) -> np.ndarray:
    """Render the saved DXF's model space with ezdxf's own drawing add-on."""
    import random

    import ezdxf
    from ezdxf.addons.drawing import Frontend, RenderContext
    from ezdxf.addons.drawing.config import ColorPolicy, Configuration
    from ezdxf.addons.drawing.matplotlib import MatplotlibBackend
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    random.seed(0)
    document = ezdxf.read(io.StringIO(data.decode()))
    figure = Figure(figsize=(sheet.width, sheet.height), dpi=dpi)
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    config = Configuration(
        color_policy=ColorPolicy.BLACK,
        lineweight_scaling=72 / 25.4,
        min_lineweight=0.05,
    )
    backend = MatplotlibBackend(axes, adjust_figure=False)
    frontend = Frontend(RenderContext(document), backend, config=config)
    frontend.draw_layout(document.modelspace(), finalize=True)
    scale = max(placed.drawing.scale for placed in sheet.drawings)
    axes.set_aspect("auto")
    axes.set_xlim(0, sheet.width * scale)
    axes.set_ylim(0, sheet.height * scale)
    figure.patch.set_facecolor("white")
    axes.patch.set_facecolor("white")
    canvas.draw()
    pixels = np.asarray(canvas.buffer_rgba())[:, :, :3].mean(axis=2)
    return pixels < 200


def covered(ink: np.ndarray, by: np.ndarray, reach: int = 2) -> float:
    """Return how much of some ink lies within `reach` dots of the other's."""
    near = by.copy()
    for dx in range(-reach, reach + 1):
        for dy in range(-reach, reach + 1):
            near |= np.roll(np.roll(by, dx, axis=0), dy, axis=1)
    return float((ink & near).sum() / max(ink.sum(), 1))


def test_picture_and_dxf_show_the_same_units(
    library_set: DrawingSet, library: dict[str, bytes]
) -> None:
    """Most of what an independent renderer draws of the DXF is ink on our picture."""
    sheet = library_set.sheets[0]
    other = rendered(library["sheets/01-elevation.dxf"], sheet)
    ours = ink_of(library_set)
    assert covered(other, ours) > 0.97

    elevation = sheet.drawings[0]
    kept = tuple(x for x in elevation.drawing.ink if not isinstance(x, Insert))
    without = replace(
        sheet,
        drawings=(
            replace(elevation, drawing=replace(elevation.drawing, ink=kept)),
            *sheet.drawings[1:],
        ),
    )
    picture = ink_of(replace(library_set, sheets=(without,)))
    assert covered(other, picture) < 0.97
