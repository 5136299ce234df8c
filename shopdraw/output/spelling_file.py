"""Spell out what a DXF file must hold as a whole: header, tables, blocks, layouts.

In:  `Sheet`, or a bare `Drawing`.   Out: `SpelledFile`.
Frame: as in the file.

What is drawn is spelled by `spelling`, the rest by its neighbours: nothing that stands
in a file is left out, though much of it is of no use to a drawing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Point, Symbol
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.set import FileForm
from shopdraw.drawing.sheets import PlacedDrawing, Sheet
from shopdraw.lengths import Lengths
from shopdraw.output.dimensioning import STYLES, ending
from shopdraw.output.records import Record
from shopdraw.output.spelling import Spelling, block_start, spell_symbol, styles_used
from shopdraw.output.spelling_header import Variables, spell_header, spell_paper
from shopdraw.output.spelling_layouts import (
    A3,
    EMPTY,
    FAR,
    LIBRARYS_LAYOUT,
    MODEL,
    MODEL_SPACE,
    PAPER_SPACE,
    UNUSED,
    layout_of,
    spell_first_view,
    spell_model_layout,
    spell_own_viewport,
    spell_sheet_layout,
    spell_viewport,
)
from shopdraw.output.spelling_objects import LAYOUTS, spell_classes, spell_objects
from shopdraw.output.spelling_tables import ARROW_BLOCK, spell_arrow, spell_tables

FORM = FileForm()


@dataclass(frozen=True)
class SpelledFile:
    """All that a file must hold.

    Attributes:
        comments: before its first section.
        header: the values of every variable, by name, but the next free handle.
        classes: in their order.
        tables: entries of all tables, but those of dimensions' blocks.
        blocks: by name, each its beginning and what is drawn in it; not those of
            dimensions, which belong to them.
        model, paper: what is drawn, in order.
        objects: by their paths, the layouts' plot settings among them.
    """

    comments: tuple[str, ...]
    header: Variables
    classes: tuple[Record, ...]
    tables: tuple[Record, ...]
    blocks: Mapping[str, tuple[Record, ...]]
    model: tuple[Record, ...]
    paper: tuple[Record, ...]
    objects: Mapping[str, Record]


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
    return _whole_file(
        (lengths, form),
        model,
        blocks,
        box,
        paper=paper,
        on_paper=spell_paper(corners, corners),
        layout=(layout_of(sheet), spell_sheet_layout(sheet)),
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
        on_paper=spell_paper(A3, EMPTY, FAR),
        layout=(UNUSED, LIBRARYS_LAYOUT),
    )


def _stay(point: Point) -> Point:
    return point


def _whole_file(
    written: tuple[Lengths, FileForm],
    model: list[Record],
    blocks: dict[str, tuple[Record, ...]],
    box: Box,
    *,
    layout: tuple[str, Record],
    on_paper: Variables,
    paper: tuple[Record, ...] = (),
    comments: tuple[str, ...] = (),
) -> SpelledFile:
    lengths, form = written
    styles = [*STYLES[lengths]]
    used = styles_used(model)
    arrows = [x for x in (ending(x, "arrow") for x in styles) if x.name in used]
    blocks = {**_empty(MODEL_SPACE), **_empty(PAPER_SPACE), **blocks}
    if arrows:
        blocks[ARROW_BLOCK] = spell_arrow()
    name, _ = layout
    shown = {MODEL_SPACE: f"{LAYOUTS}/{MODEL}", PAPER_SPACE: f"{LAYOUTS}/{name}"}
    entries = {block: shown.get(block, "0") for block in blocks}
    return SpelledFile(
        comments,
        {**spell_header(lengths, form, box), **on_paper},
        tuple(spell_classes(form)),
        (*spell_tables(lengths, form, entries, arrows), spell_first_view(box)),
        blocks,
        tuple(model),
        paper,
        spell_objects({MODEL: spell_model_layout(box), **dict((layout,))}),
    )


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
