"""Write a drawing set: make every file, prove those on disk, put them in place.

In:  `DrawingSet`, and the folder it goes to.   Out: files; the names written.
Frame: each writer says its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import NotProved
from shopdraw.output.dxf import write_bare_dxf, write_dxf
from shopdraw.output.image import write_pdf, write_png
from shopdraw.output.pages import name_pages
from shopdraw.output.publish import publish
from shopdraw.output.readback import compare, read_back
from shopdraw.output.tables import write_table


def write_set(
    drawing_set: DrawingSet, folder: Path, beside: Mapping[str, bytes] | None = None
) -> tuple[str, ...]:
    """Write a set whole, or leave the earlier one and say why.

    Args:
        drawing_set: everything drawn.
        folder: where the set goes, in place of an earlier one.
        beside: further files that go with the set, by name.

    Returns:
        The names of the files, in the order of the set.

    Raises:
        NotProved: a DXF file does not hold what it must.
        NotPublished: the folder can't be written.
    """
    files = {**(beside or {}), **make_files(drawing_set)}
    publish(files, folder, lambda written: prove_files(drawing_set, written))
    return tuple(files)


def sheet_stem(number: int, name: str) -> str:
    """Return the path of a sheet's files without their ending."""
    return f"sheets/{number:02d}-{name}"


def make_files(drawing_set: DrawingSet) -> dict[str, bytes]:
    """Make every file of a set in memory."""
    files: dict[str, bytes] = {}
    form = drawing_set.form
    for sheet in drawing_set.sheets:
        stem = sheet_stem(sheet.number, sheet.name)
        files[f"{stem}.dxf"] = write_dxf(sheet, form)
        files[f"{stem}.png"] = write_png(sheet)
    picture = drawing_set.picture
    pages = drawing_set.sheets
    if picture is not None:
        files[f"{sheet_stem(picture.number, picture.name)}.png"] = write_png(picture)
        pages = (*pages, picture)
    if pages:
        files["set.pdf"] = _pdf(pages, drawing_set.title)
    if drawing_set.poles:
        files["story-pole.pdf"] = _pdf(drawing_set.poles, drawing_set.title)
    files["surround.dxf"] = write_bare_dxf(drawing_set.bare, drawing_set.lengths, form)
    for table in drawing_set.tables:
        files[f"{table.name}.csv"] = write_table(table)
    files["solution.json"] = drawing_set.record_json.encode("utf-8")
    return files


def _pdf(sheets: tuple[Sheet, ...], title: str) -> bytes:
    names = tuple(f"{sheet.number} {sheet.name}" for sheet in sheets)
    return name_pages(write_pdf(sheets, title), names)


def prove_files(drawing_set: DrawingSet, files: Mapping[str, bytes]) -> None:
    """Read each DXF file back and hold it against what it must hold."""
    pairs = [
        (f"{sheet_stem(sheet.number, sheet.name)}.dxf", expected)
        for sheet, expected in zip(
            drawing_set.sheets, drawing_set.expected, strict=True
        )
    ]
    pairs.append(("surround.dxf", drawing_set.bare_expected))
    differences = [
        f"{name}: {difference}"
        for name, expected in pairs
        for difference in compare(read_back(files[name]), expected)
    ]
    if differences:
        raise NotProved(tuple(differences))
