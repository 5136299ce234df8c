"""Spell out what a DXF file must hold as a whole: header, tables, blocks, layouts.

In:  `Sheet`, or a bare `Drawing`.   Out: `SpelledFile`.
Frame: as in the file.

What is drawn is spelled by `spelling`. Of the header those variables are here that
decide how the file is read, seen or plotted; what a program would do with a new entity
is the library's own business, and so are the class table and the objects that no
drawing uses (materials, styles of leaders).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Point, Symbol
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.set import FileForm
from shopdraw.drawing.sheets import PlacedDrawing, Sheet
from shopdraw.lengths import Lengths
from shopdraw.output.dimensioning import ARCHITECTURAL, DECIMAL, STYLES, ending
from shopdraw.output.groups import Group
from shopdraw.output.records import Record
from shopdraw.output.spelling import Spelling, block_start, spell_symbol, styles_used
from shopdraw.output.spelling_layouts import (
    LIBRARYS_LAYOUT,
    spell_first_view,
    spell_model_layout,
    spell_own_viewport,
    spell_sheet_layout,
    spell_viewport,
)
from shopdraw.output.spelling_tables import (
    ARROW_BLOCK,
    INCHES,
    MILLIMETRES,
    spell_arrow,
    spell_tables,
)

FORM = FileForm()
RELEASES = {"R2000": "AC1015", "R2010": "AC1024"}


@dataclass(frozen=True)
class SpelledFile:
    """All that a file must hold.

    Attributes:
        comments: before its first section.
        header: the values of the variables that matter, by name.
        tables: entries of layers, line types, styles, views, blocks' own entries.
        blocks: by name, each its beginning and what is drawn in it; not those of
            dimensions, which belong to them.
        model, paper: what is drawn, in order.
        layouts: plot settings, the model's own among them.
    """

    comments: tuple[str, ...]
    header: Mapping[str, tuple[Group, ...]]
    tables: tuple[Record, ...]
    blocks: Mapping[str, tuple[Record, ...]]
    model: tuple[Record, ...]
    paper: tuple[Record, ...]
    layouts: tuple[Record, ...]


def spell_sheet(sheet: Sheet, form: FileForm = FORM) -> SpelledFile:
    """Spell the file of a sheet."""
    lengths, called = sheet.lengths, dict(form.layers)
    has_tints = form.release != "R2000"
    model: list[Record] = []
    blocks: dict[str, tuple[Record, ...]] = {}
    for placed in sheet.drawings:
        drawing, move = placed.drawing, placed.placement.to_model
        spelling = Spelling(move, drawing.scale, lengths, called, has_tints)
        model += spelling.spell(drawing.ink)
        _spell_symbols(drawing.symbols, spelling, blocks)
    on_paper = Spelling(_stay, 1.0, lengths, called, has_tints)
    ports = (
        spell_viewport(placed, lengths, number, called)
        for number, placed in enumerate(sheet.drawings, start=2)
    )
    paper = (
        spell_own_viewport(sheet.width, sheet.height, called),
        *on_paper.spell(sheet.paper_ink),
        *ports,
    )
    box = _around([_in_model(placed) for placed in sheet.drawings])
    corners = (0.0, 0.0, sheet.width, sheet.height)
    own = (*_pair("$PEXT", corners, flat=True), *_pair("$PLIM", corners))
    return _whole_file(
        (lengths, form),
        model,
        blocks,
        box,
        paper=paper,
        own=own,
        layout=spell_sheet_layout(sheet),
    )


def spell_bare(
    drawing: Drawing, lengths: Lengths, form: FileForm = FORM, drawn_from: str = ""
) -> SpelledFile:
    """Spell the file of a bare drawing, which says in a comment what it is of."""
    has_tints = form.release != "R2000"
    spelling = Spelling(_stay, drawing.scale, lengths, dict(form.layers), has_tints)
    blocks: dict[str, tuple[Record, ...]] = {}
    _spell_symbols(drawing.symbols, spelling, blocks)
    return _whole_file(
        (lengths, form),
        [*spelling.spell(drawing.ink)],
        blocks,
        extent_of(drawing),
        comments=(drawn_from,) if drawn_from else (),
        layout=LIBRARYS_LAYOUT,
    )


def _stay(point: Point) -> Point:
    return point


def _whole_file(
    written: tuple[Lengths, FileForm],
    model: list[Record],
    blocks: dict[str, tuple[Record, ...]],
    box: Box,
    *,
    layout: Record,
    paper: tuple[Record, ...] = (),
    own: Iterable[tuple[str, tuple[Group, ...]]] = (),
    comments: tuple[str, ...] = (),
) -> SpelledFile:
    lengths, form = written
    styles = [*STYLES[lengths]]
    used = styles_used(model)
    arrows = [x for x in (ending(x, "arrow") for x in styles) if x.name in used]
    blocks = {**_empty("*Model_Space"), **_empty("*Paper_Space"), **blocks}
    if arrows:
        blocks[ARROW_BLOCK] = spell_arrow()
    return SpelledFile(
        comments,
        {**HEADER, **dict(_stated(lengths, form, box)), **dict(own)},
        (*spell_tables(lengths, form, blocks, arrows), spell_first_view(box)),
        blocks,
        tuple(model),
        paper,
        (spell_model_layout(box), layout),
    )


# ------------------------------------------------------------------ the header


def _ints(code: int, **values: int) -> dict[str, tuple[Group, ...]]:
    return {f"${name}": ((code, value),) for name, value in values.items()}


def _point(x: float, y: float, z: float) -> tuple[Group, ...]:
    return (10, x), (20, y), (30, z)


HEADER: dict[str, tuple[Group, ...]] = {
    **_ints(70, QTEXTMODE=0, FILLMODE=1, ATTMODE=1, AUNITS=0, ANGDIR=0, PLINEGEN=0),
    **_ints(70, PSLTSCALE=1, LUPREC=4, TILEMODE=1, VISRETAIN=1, UNITMODE=0),
    **_ints(70, LIMCHECK=0, PLIMCHECK=0, WORLDVIEW=1, DIMALT=0, DIMTOL=0, DIMLIM=0),
    **_ints(290, LWDISPLAY=1, PSTYLEMODE=1, EXTNAMES=1),
    **_ints(62, CECOLOR=256),
    **_ints(370, CELWEIGHT=-1),
    **{
        f"${name}": ((40, value),)
        for name, value in {
            "LTSCALE": 1.0, "CELTSCALE": 1.0, "DIMSCALE": 1.0, "DIMLFAC": 1.0,
            "ELEVATION": 0.0, "PELEVATION": 0.0, "THICKNESS": 0.0, "PSVPSCALE": 0.0,
        }.items()
    },
    **{
        f"${space}{name}": _point(*axis)
        for space in ("UCS", "PUCS")
        for name, axis in {
            "ORG": (0.0, 0.0, 0.0), "XDIR": (1.0, 0.0, 0.0), "YDIR": (0.0, 1.0, 0.0),
        }.items()
    },
    "$INSBASE": _point(0.0, 0.0, 0.0),
    "$PINSBASE": _point(0.0, 0.0, 0.0),
    "$ANGBASE": ((50, 0.0),),
    "$CLAYER": ((8, "0"),),
    "$CELTYPE": ((6, "ByLayer"),),
    "$DWGCODEPAGE": ((3, "ANSI_1252"),),
}  # fmt: skip
"""What every file has alike (meanings from memory)."""


def _stated(
    lengths: Lengths, form: FileForm, box: Box
) -> Iterator[tuple[str, tuple[Group, ...]]]:
    """Yield what depends on the file: its release, its units, its extents."""
    is_inch = lengths == "in"
    yield "$ACADVER", ((1, RELEASES[form.release]),)
    yield "$INSUNITS", ((70, INCHES if is_inch else MILLIMETRES),)
    yield "$MEASUREMENT", ((70, 0 if is_inch else 1),)
    yield "$LUNITS", ((70, ARCHITECTURAL if is_inch else DECIMAL),)
    yield "$DIMSTYLE", ((2, STYLES[lengths][0].name),)
    yield from _pair("$EXT", box, flat=True)
    yield from _pair("$LIM", box)


def _pair(
    name: str, box: Box, *, flat: bool = False
) -> Iterator[tuple[str, tuple[Group, ...]]]:
    """Yield two corners; `flat`: they have a height, which is nothing."""
    level: tuple[Group, ...] = ((30, 0.0),) if flat else ()
    left, bottom, right, top = box
    yield f"{name}MIN", ((10, left), (20, bottom), *level)
    yield f"{name}MAX", ((10, right), (20, top), *level)


def _in_model(placed: PlacedDrawing) -> Box:
    left, bottom, right, top = extent_of(placed.drawing)
    to_model = placed.placement.to_model
    return (*to_model((left, bottom)), *to_model((right, top)))


def _around(boxes: Iterable[Box]) -> Box:
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


# ------------------------------------------------------------------ the blocks


def _spell_symbols(
    symbols: Iterable[Symbol],
    spelling: Spelling,
    blocks: dict[str, tuple[Record, ...]],
) -> None:
    """Spell each symbol once: the drawings of a sheet may share it."""
    for symbol in symbols:
        if symbol.name not in blocks:
            there = Spelling(_stay, spelling.scale, spelling.lengths, spelling.called)
            blocks[symbol.name] = spell_symbol(symbol, there)


def _empty(name: str) -> dict[str, tuple[Record, ...]]:
    return {name: (block_start(name),)}
