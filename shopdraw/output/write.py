"""Write a drawing set: make every file, check what was written, put all in place.

In:  `DrawingSet`, and the folder it goes to.   Out: files; `Written`.
Frame: see each writer.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial
from multiprocessing.connection import Connection
from pathlib import Path

from shopdraw.drawing.expected import Expected
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.page import Page
from shopdraw.drawing.photo import Montage
from shopdraw.drawing.set import DrawingSet, FileForm
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import NotProved
from shopdraw.lengths import Lengths
from shopdraw.output.comparing import compare
from shopdraw.output.groups import take_apart
from shopdraw.output.holding import hold
from shopdraw.output.libraries import as_they_come
from shopdraw.output.manifest import NAME, list_files
from shopdraw.output.publish import publish
from shopdraw.output.readback import found_in
from shopdraw.output.settling import Settled
from shopdraw.output.sharing import Shared, Task, make_all
from shopdraw.output.spelling_file import spell_bare, spell_sheet
from shopdraw.output.tables import write_table


@dataclass(frozen=True)
class Written:
    """What came of writing a set: the names of its files, and `Settled`."""

    names: tuple[str, ...]
    settled: Settled


def write_set(
    drawing_set: DrawingSet,
    folder: Path,
    beside: Mapping[str, bytes] | None = None,
    second: Connection | None = None,
    begun: Shared[bytes] | None = None,
) -> Written:
    """Write a whole set, or leave the earlier one as it is and say why.

    Args:
        drawing_set: everything drawn.
        folder: where the set goes; it replaces an earlier one.
        beside: further files that go with the set and are somebody's own, by name.
        second: the connection to a second process that helps.
        begun: what it began to make already; None for nothing.

    Returns:
        What was written, and what became of the files that were there.

    Raises:
        NotProved: a file does not hold, or show, what it must.
        NotPublished: the folder can't be written.
    """
    made = make_files(drawing_set, second, begun)
    files = {**(beside or {}), **made}
    settled = publish(
        files,
        folder,
        list_files(made, drawing_set.drawn_from),
        is_whole=drawing_set.is_whole,
        prove=lambda written: prove_files(drawing_set, written, second),
    )
    return Written(tuple(sorted((*files, NAME))), settled)


Proof = Callable[[], tuple[str, ...]]
PAGE = "page.html"
ROOM = "room.jpg"
"""The picture in the photograph."""
PART = "part.pdf"
"""The pages of the sheets that were asked for alone."""


def sheet_stem(sheet: Sheet) -> str:
    """Return the path of a sheet's files, without the ending."""
    return f"sheets/{sheet.name}"


def picture_name(drawing_set: DrawingSet) -> str:
    """Return the name of the picture's file; empty where the set has none."""
    sheet = drawing_set.picture
    return "" if sheet is None else f"{sheet_stem(sheet)}.png"


def begin_pictures(
    shared: Shared[bytes], sheets: tuple[Sheet, ...], drawn_from: str
) -> None:
    """Begin to make the pictures of sheets while the rest of their set is drawn."""
    shared.begin(_png_tasks(sheets, drawn_from))


def make_files(
    drawing_set: DrawingSet,
    second: Connection | None = None,
    begun: Shared[bytes] | None = None,
) -> dict[str, bytes]:
    """Make every file of a set in memory, in the order of their names."""
    tasks = {**_picture_tasks(drawing_set), **_dxf_tasks(drawing_set)}
    shared = begun or Shared[bytes](second)
    shared.begin({**tasks, **_page_task(drawing_set, tuple(tasks))})
    files = shared.finish()
    drawn_from = drawing_set.drawn_from.words
    for table in drawing_set.tables:
        files[f"{table.name}.csv"] = write_table(table, drawn_from)
    if drawing_set.events:
        from shopdraw.output.calendar import write_calendar

        title, days = drawing_set.title, drawing_set.events
        files["schedule.ics"] = write_calendar(days, title, drawn_from)
    files["solution.json"] = drawing_set.record_json.encode("utf-8")
    return dict(sorted(files.items()))


def make_dxf_files(drawing_set: DrawingSet) -> dict[str, bytes]:
    """Make only the DXF files of a set, which are the ones that are read back."""
    return make_all(_dxf_tasks(drawing_set), None)


def _picture_tasks(drawing_set: DrawingSet) -> dict[str, Task]:
    tasks: dict[str, Task] = {}
    drawn_from = drawing_set.drawn_from.words
    about = drawing_set.title, drawing_set.dated, drawn_from
    pages, pictured = drawing_set.sheets, drawing_set.sheets
    # The longest tasks come first, so that they are begun first.
    if drawing_set.picture is not None:
        pages = (*pages, drawing_set.picture)
        pictured = (drawing_set.picture, *pictured)
    if pages:
        # A part has a name of its own: the whole set's pages are not lost for it.
        name = "set.pdf" if drawing_set.is_whole else PART
        tasks[name] = partial(_pdf, pages, *about)
    tasks |= _png_tasks(pictured, drawn_from)
    for name, papers in drawing_set.papers:
        tasks[f"{name}.pdf"] = partial(_pdf, papers, *about)
    if drawing_set.montage is not None:
        words = drawing_set.drawn_from.words_in_photo
        tasks[ROOM] = partial(_jpg, drawing_set.montage, words)
    return tasks


def _png_tasks(sheets: tuple[Sheet, ...], drawn_from: str) -> dict[str, Task]:
    return {
        f"{sheet_stem(sheet)}.png": partial(_png, sheet, drawn_from) for sheet in sheets
    }


def _page_task(drawing_set: DrawingSet, files: tuple[str, ...]) -> dict[str, Task]:
    """Return the task of the page, which shows the sheets and links to the files."""
    page, sheets = drawing_set.page, drawing_set.sheets
    if page is None:
        return {}
    if drawing_set.picture is not None:
        sheets = (*sheets, drawing_set.picture)
    kept_back = {f"{name}.pdf" for name in drawing_set.kept_back}
    files = tuple(name for name in files if name not in kept_back)
    tables = (f"{table.name}.csv" for table in drawing_set.tables)
    return {PAGE: partial(_html, page, sheets, tuple(sorted((*files, *tables))))}


def _dxf_tasks(drawing_set: DrawingSet) -> dict[str, Task]:
    form, bare = drawing_set.form, drawing_set.bare
    drawn_from = drawing_set.drawn_from.words
    tasks: dict[str, Task] = {
        f"{sheet_stem(sheet)}.dxf": partial(_dxf, sheet, form)
        for sheet in drawing_set.sheets
    }
    about = drawing_set.lengths, form, drawn_from
    tasks["surround.dxf"] = partial(_bare_dxf, bare, *about)
    return tasks


# Each process loads only the writers that it uses.


def _png(sheet: Sheet, drawn_from: str) -> bytes:
    with as_they_come():
        from shopdraw.output.image import write_png

    return write_png(sheet, drawn_from=drawn_from)


def _jpg(montage: Montage, drawn_from: str) -> bytes:
    from shopdraw.output.photo import write_montage

    return write_montage(montage, drawn_from)


def _pdf(
    sheets: tuple[Sheet, ...], title: str, dated: date | None, drawn_from: str
) -> bytes:
    with as_they_come():
        from shopdraw.output.pdf import write_pdf

    return write_pdf(sheets, title, dated, drawn_from)


def _html(page: Page, sheets: tuple[Sheet, ...], files: tuple[str, ...]) -> bytes:
    from shopdraw.output.page import write_page

    return write_page(page, sheets, files)


def _dxf(sheet: Sheet, form: FileForm) -> bytes:
    with as_they_come():
        from shopdraw.output.dxf import write_dxf

    return write_dxf(sheet, form)


def _bare_dxf(
    drawing: Drawing, lengths: Lengths, form: FileForm, drawn_from: str
) -> bytes:
    with as_they_come():
        from shopdraw.output.dxf import write_bare_dxf

    return write_bare_dxf(drawing, lengths, form, drawn_from)


def prove_files(
    drawing_set: DrawingSet,
    files: Mapping[str, bytes],
    second: Connection | None = None,
) -> None:
    """Read the files back, and compare each with what it must hold or show.

    Args:
        drawing_set: what they must hold.
        files: by name.
        second: the connection to a second process that helps.

    Raises:
        NotProved: one of them holds something else.
    """
    lengths, form = drawing_set.lengths, drawing_set.form
    tasks: dict[str, Proof] = {
        (name := f"{sheet_stem(sheet)}.dxf"): partial(
            differences_in, name, files[name], each, sheet, lengths, form
        )
        for sheet, each in zip(drawing_set.sheets, drawing_set.expected, strict=True)
    }
    bare, drawn_from = drawing_set.bare, drawing_set.drawn_from
    tasks["surround.dxf"] = partial(
        differences_in,
        "surround.dxf",
        files["surround.dxf"],
        drawing_set.bare_expected,
        bare,
        lengths,
        form,
        drawn_from.words,
    )
    tasks |= _picture_proofs(drawing_set, files)
    if PAGE in files:
        digest, pieces = drawn_from.job_file, drawing_set.on_page
        tasks[PAGE] = partial(_page_differences, files[PAGE], digest, pieces)
    differences = [x for some in make_all(tasks, second).values() for x in some]
    if ROOM in files:
        from shopdraw.output.photo import metadata_in

        differences += [f"{ROOM}: still says {x}" for x in metadata_in(files[ROOM])]
    if differences:
        raise NotProved(tuple(differences))


def _picture_proofs(
    drawing_set: DrawingSet, files: Mapping[str, bytes]
) -> dict[str, Proof]:
    """Return the tasks that read pictures and pages back."""
    drawn_from, pages = drawing_set.drawn_from.words, drawing_set.sheets
    if drawing_set.picture is not None:
        pages = (*pages, drawing_set.picture)
    paged = {f"{name}.pdf": papers for name, papers in drawing_set.papers}
    if pages:
        paged["set.pdf" if drawing_set.is_whole else PART] = pages
    # Pages of many sheets take longest, so they are begun first.
    proofs: dict[str, Proof] = {
        name: partial(_pdf_differences, name, files[name], paged[name], drawn_from)
        for name in sorted(paged, key=lambda name: -len(paged[name]))
    }
    for sheet in pages:
        name = f"{sheet_stem(sheet)}.png"
        proofs[name] = partial(_png_differences, name, files[name], sheet, drawn_from)
    return proofs


def _png_differences(
    name: str, data: bytes, sheet: Sheet, drawn_from: str
) -> tuple[str, ...]:
    from shopdraw.output.picture_reading import compare_picture

    found = compare_picture(data, sheet, drawn_from)
    return tuple(f"{name}: {each}" for each in found)


def _pdf_differences(
    name: str, data: bytes, sheets: tuple[Sheet, ...], drawn_from: str
) -> tuple[str, ...]:
    from shopdraw.output.pdf_reading import compare_pdf

    found = compare_pdf(data, sheets, drawn_from)
    return tuple(f"{name}: {each}" for each in found)


def _page_differences(
    data: bytes, digest: str, pieces: tuple[tuple[str, str], ...]
) -> tuple[str, ...]:
    from shopdraw.output.page_reading import compare_page

    return tuple(compare_page(data, digest, pieces))


def differences_in(
    name: str,
    data: bytes,
    expected: Expected,
    drawn: Sheet | Drawing,
    lengths: Lengths,
    form: FileForm,
    drawn_from: str = "",
) -> tuple[str, ...]:
    """Say in what a DXF file is not what it must be.

    What is built is held against the solution, and all that stands in the file
    against the ink, group by group.
    """
    try:
        parts = take_apart(data)
    except ValueError as error:
        return (f"{name} can't be read back: {error}",)
    spelled = (
        spell_sheet(drawn, form)
        if isinstance(drawn, Sheet)
        else spell_bare(drawn, lengths, form, drawn_from)
    )
    found = compare(found_in(parts), expected, lengths, form)
    return tuple(f"{name}: {x}" for x in (*found, *hold(parts, spelled)))
