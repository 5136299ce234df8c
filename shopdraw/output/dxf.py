"""Write a sheet, or a bare drawing, as DXF.

In:  `Sheet`, or `Drawing`.   Out: bytes of an R2010 DXF file.
Frame: model space at full size in the drawing's own lengths; the layout in paper
lengths, with one viewport for each drawing.

Every drawing is complete in model space; only border and title block are on the
layout. The same input gives the same bytes, whatever the hash seed.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Any

import ezdxf
from ezdxf.document import Drawing as Document
from ezdxf.enums import InsertUnits

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import (
    Drawing,
    Fill,
    Hatch,
    Ink,
    Insert,
    Paint,
    Stroke,
    Symbol,
    Words,
)
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.paragraphs import lettering_in
from shopdraw.drawing.set import FileForm
from shopdraw.drawing.sheets import PlacedDrawing, Sheet, window_of
from shopdraw.lengths import MM_PER_INCH, Lengths
from shopdraw.output.dimensioning import ARCHITECTURAL, DECIMAL
from shopdraw.output.dxf_dimensions import define_styles, write_measure
from shopdraw.output.dxf_words import (
    ALIGN,
    LETTERING,
    Move,
    Space,
    ascii_of,
    write_paragraph,
    write_words,
)
from shopdraw.output.hatches import write_fill, write_hatch

INVISIBLE = 1
"""The flag of an attribute that programs read but nobody sees."""
LOCKED = 0x4000
"""The flag of a viewport that keeps its scale."""

_LINE_TYPES = {
    "HIDDEN": ("hidden __ __ __", (0.1875, 0.125, -0.0625)),
    "CENTER": ("centre ____ _ ____", (0.75, 0.5, -0.0625, 0.125, -0.0625)),
    "PHANTOM": (
        "phantom ____ _ _ ____",
        (0.875, 0.5, -0.0625, 0.09375, -0.0625, 0.09375, -0.0625),
    ),
}
"""Patterns in inches on paper: total, then dashes and gaps."""


FORM = FileForm()
TINTED = "AC1018"
"""Before this release a fill can't be a tint: it would cover what is drawn on it."""

DECIMALS = 7
"""A file's numbers have so many decimals at most. How Python sums floats depends on its
release; what its last digit does must not."""
_NUMBER = re.compile(
    # Group codes of real numbers, then one with a longer tail.
    r"^( *(?:[1-5]\d|1[1-4]\d|2[1-3]\d|46\d|10[1-5]\d)\n)"
    rf"(-?\d+(?:\.\d{{{DECIMALS + 1},}}|(?:\.\d+)?e-\d+))$",
    re.MULTILINE,
)


def write_dxf(sheet: Sheet, form: FileForm = FORM) -> bytes:
    """Write a sheet: its drawings in model space, one layout with viewports."""
    document = _new_document(sheet.lengths, form)
    space = document.modelspace()
    for placed in sheet.drawings:
        _write_drawing(document, space, placed.drawing, placed.placement.to_model)
    box = _about([_model_box(placed) for placed in sheet.drawings])
    _set_extents(document, box)
    _write_layout(document, sheet)
    return _saved(document, form)


def write_bare_dxf(
    drawing: Drawing, lengths: Lengths, form: FileForm = FORM, drawn_from: str = ""
) -> bytes:
    """Write one drawing alone, about its own origin, to insert into another file."""
    document = _new_document(lengths, form)
    _write_drawing(document, document.modelspace(), drawing, lambda point: point)
    _set_extents(document, extent_of(drawing))
    document.header["$INSBASE"] = (0.0, 0.0, 0.0)
    # A sheet letters it; this has a comment, group 999, which readers pass over.
    comment = f"999\n{ascii_of(drawn_from)}\n" if drawn_from else ""
    return comment.encode("ascii") + _saved(document, form)


def _new_document(lengths: Lengths, form: FileForm) -> Document:
    # The option is named for testing; it keeps dates and random identifiers out.
    ezdxf.options.write_fixed_meta_data_for_testing = True
    units = InsertUnits.Inches if lengths == "in" else InsertUnits.Millimeters
    document = ezdxf.new(form.release, units=units)
    document.modelspace().units = units
    header = document.header
    header["$MEASUREMENT"] = 0 if lengths == "in" else 1
    header["$LUNITS"] = ARCHITECTURAL if lengths == "in" else DECIMAL
    header["$LUPREC"] = 4
    header["$LWDISPLAY"] = 1
    header["$LTSCALE"] = 1.0
    header["$PSLTSCALE"] = 1
    per_inch = 1.0 if lengths == "in" else 25.4
    for name, (says, pattern) in _LINE_TYPES.items():
        if name not in document.linetypes:
            lengths_of = [x * per_inch for x in pattern]
            document.linetypes.add(name, pattern=lengths_of, description=says)
    for layer in LAYERS:
        new = document.layers.add(
            layer.name, color=layer.colour, linetype=_type_name(layer.line_type)
        )
        new.dxf.lineweight = round(layer.pen_mm * 100)
        new.dxf.plot = int(layer.plots)
        new.description = layer.says
    for layout in document.layouts:
        # Model space, and the layout of a bare drawing: the library's own paper, named.
        layout.dxf_layout.dxf.paper_size = "ISO_A3_(420.00_x_297.00_MM)"
    document.styles.add(LETTERING, font="arial.ttf")
    define_styles(document, lengths)
    return document


def _type_name(line_type: str) -> str:
    return "Continuous" if line_type == "CONTINUOUS" else line_type


def _write_drawing(
    document: Document, space: Space, drawing: Drawing, move: Move
) -> None:
    for symbol in drawing.symbols:
        _define_symbol(document, symbol, drawing)
    _write_all(document, space, drawing.ink, move, drawing.scale)


def _define_symbol(document: Document, symbol: Symbol, drawing: Drawing) -> None:
    """Define a block once; the drawings of a sheet may share it."""
    if symbol.name in document.blocks:
        return
    block = document.blocks.new(symbol.name)
    block.units = document.modelspace().units
    for stroke in symbol.strokes:
        _write_stroke(block, stroke, lambda point: point)
    for row, name in enumerate(symbol.tag_names):
        # The prompts are hidden, one below another, so that none covers another.
        at = (0.0, -row * 0.1 * drawing.scale)
        definition = block.add_attdef(name, at, dxfattribs={"height": 0.05})
        definition.dxf.style = LETTERING
        definition.dxf.flags = 1


def _write_all(
    document: Document, space: Space, ink: Sequence[Ink], move: Move, scale: float
) -> None:
    """Write ink in its order, the lines of a paragraph together."""
    paragraphs = [x for x in lettering_in(ink) if x[0].column]
    firsts = {id(lines[0]): lines for lines in paragraphs}
    for each in ink:
        if isinstance(each, Words) and each.column:
            if lines := firsts.get(id(each)):
                write_paragraph(space, lines, move, scale)
        else:
            _write_ink(document, space, each, move, scale)


def _write_ink(
    document: Document, space: Space, ink: Ink, move: Move, scale: float
) -> None:
    if isinstance(ink, Stroke):
        _write_stroke(space, ink, move)
    elif isinstance(ink, Words):
        write_words(space, ink, move, scale)
    elif isinstance(ink, Fill):
        if document.dxfversion < TINTED:
            return
        write_fill(space, ink, move)
    elif isinstance(ink, Hatch):
        write_hatch(space, ink, move, inch=_inch(document))
    elif isinstance(ink, Paint):
        message = f"{ink.colour}: a picture has no DXF file"
        raise TypeError(message)
    elif isinstance(ink, Insert):
        _write_insert(space, ink, move, scale)
    else:
        lengths: Lengths = "in" if document.units == InsertUnits.Inches else "mm"
        write_measure(document, space, ink, move, scale, lengths)


def _inch(document: Document) -> float:
    return 1.0 if document.header["$INSUNITS"] == InsertUnits.Inches else 25.4


def _write_stroke(space: Space, stroke: Stroke, move: Move) -> None:
    points = [move(point) for point in stroke.points]
    space.add_lwpolyline(
        points, close=stroke.closed, dxfattribs={"layer": stroke.layer}
    )


def _write_insert(space: Space, insert: Insert, move: Move, scale: float) -> None:
    at = move(insert.at)
    reference = space.add_blockref(
        insert.symbol, at, dxfattribs={"layer": insert.layer}
    )
    hidden = {
        "layer": insert.layer,
        "style": LETTERING,
        "height": 0.05 * scale,
        "flags": INVISIBLE,
    }
    for tag in insert.tags:
        words = tag.words
        if words is None:
            reference.add_attrib(tag.name, ascii_of(tag.text), at, dxfattribs=hidden)
            continue
        shown = {
            "layer": words.layer,
            "style": LETTERING,
            "height": words.height_on_paper * scale,
            "rotation": words.angle_deg,
        }
        attribute = reference.add_attrib(tag.name, ascii_of(tag.text), dxfattribs=shown)
        attribute.set_placement(move(words.at), align=ALIGN[words.seat, words.align])


def _model_box(placed: PlacedDrawing) -> Box:
    left, bottom, right, top = extent_of(placed.drawing)
    a = placed.placement.to_model((left, bottom))
    b = placed.placement.to_model((right, top))
    return (*a, *b)


def _about(boxes: Iterable[Box]) -> Box:
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return (min(lefts), min(bottoms), max(rights), max(tops))


def _set_extents(document: Document, box: Box) -> None:
    """Record the drawing's extents, so that the file opens zoomed to them."""
    left, bottom, right, top = box
    space = document.modelspace()
    space.reset_extents((left, bottom, 0), (right, top, 0))
    space.reset_limits((left, bottom), (right, top))
    header = document.header
    header["$EXTMIN"], header["$EXTMAX"] = (left, bottom, 0.0), (right, top, 0.0)
    header["$LIMMIN"], header["$LIMMAX"] = (left, bottom), (right, top)
    height = max(top - bottom, (right - left) * 0.6) * 1.05
    document.set_modelspace_vport(height, ((left + right) / 2, (bottom + top) / 2))


def _write_layout(document: Document, sheet: Sheet) -> None:
    name = f"SHEET-{sheet.number:02d}"
    layout = document.layouts.new(name)
    document.layouts.set_active_layout(name)
    document.layouts.delete("Layout1")
    units = "inch" if sheet.lengths == "in" else "mm"
    layout.page_setup(
        size=(sheet.width, sheet.height),
        margins=(0, 0, 0, 0),
        units=units,
        device="",
    )
    settings = layout.dxf_layout.dxf
    settings.paper_size = _medium_of(sheet)
    layout.reset_extents((0.0, 0.0, 0.0), (sheet.width, sheet.height, 0.0))
    layout.reset_main_viewport()
    _write_all(document, layout, sheet.paper_ink, lambda point: point, 1.0)
    for placed in sheet.drawings:
        _write_viewport(layout, placed, sheet.lengths)


def _medium_of(sheet: Sheet) -> str:
    """Name the paper as plot settings do, by its standard and its size."""
    is_iso = re.fullmatch(r"A\d", sheet.paper) is not None
    name = f"ISO {sheet.paper}" if is_iso else sheet.paper or "Custom"
    unit = "MM" if is_iso or (not sheet.paper and sheet.lengths == "mm") else "Inches"
    own = MM_PER_INCH if sheet.lengths == "in" else Fraction(1)
    part = Fraction(1) if unit == "MM" else MM_PER_INCH
    wide, high = (side * float(own / part) for side in (sheet.width, sheet.height))
    return f"{name} ({wide:.2f} x {high:.2f} {unit})".replace(" ", "_")


def _write_viewport(layout: Any, placed: PlacedDrawing, lengths: str) -> None:
    placement = placed.placement
    left, bottom, right, top = window_of(placed, lengths)
    x = (
        placement.in_model[0]
        + ((left + right) / 2 - placement.on_paper[0]) * placement.scale
    )
    y = (
        placement.in_model[1]
        + ((bottom + top) / 2 - placement.on_paper[1]) * placement.scale
    )
    viewport = layout.add_viewport(
        center=((left + right) / 2, (bottom + top) / 2),
        size=(right - left, top - bottom),
        view_center_point=(x, y),
        view_height=(top - bottom) * placement.scale,
        status=2,
    )
    viewport.dxf.layer = layers.VIEWPORTS
    viewport.dxf.flags = LOCKED


def _saved(document: Document, form: FileForm) -> bytes:
    """Save with the class table in a fixed order, whatever the hash seed."""
    layers = [document.layers.get(name) for name, _ in form.layers]
    wanted = {called.upper() for _, called in form.layers}
    for layer in layers:
        if layer.dxf.name.upper() in wanted:
            # Two layers may swap names, so each is freed before it is given.
            layer.rename(f"~{layer.dxf.name}")
    for layer, (_, called) in zip(layers, form.layers, strict=True):
        layer.rename(called)
    document.classes.add_required_classes(document.dxfversion)
    for kind in sorted({entity.dxftype() for entity in document.entitydb.values()}):
        document.classes.add_class(kind)
    ordered = sorted(document.classes.classes.items(), key=lambda item: str(item[0]))
    document.classes.classes.clear()
    document.classes.classes.update(ordered)
    stream = io.StringIO()
    document.write(stream)
    text = stream.getvalue().replace("\r\n", "\n")
    return _NUMBER.sub(_on_grid, text).encode("ascii")


def _on_grid(found: re.Match[str]) -> str:
    return f"{found[1]}{_rounded(found[2])}"


@lru_cache(maxsize=8192)  # What stands at one place in a drawing is much.
def _rounded(number: str) -> str:
    # A little more than a half rounds up: what lies between two steps of the grid is a
    # sixteenth halved again and again, and its last digit would say to which it goes.
    return f"{round(float(number) + 10 ** -(DECIMALS + 1), DECIMALS) + 0.0}"
