"""Write a sheet, or a bare drawing, as DXF.

In:  `Sheet`, or `Drawing`.   Out: bytes of an R2010 DXF file.
Frame: model space at full size in the drawing's own lengths; the layout in paper
lengths, with one viewport for each drawing.

Every drawing is complete in model space; only border and title block are on the
layout. The same input gives the same bytes, whatever the hash seed.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from typing import Any

import ezdxf
from ezdxf.document import Drawing as Document
from ezdxf.enums import InsertUnits, TextEntityAlignment
from ezdxf.layouts import BlockLayout

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import (
    Align,
    Drawing,
    Fill,
    Hatch,
    Ink,
    Insert,
    Measure,
    Paint,
    Seat,
    Stroke,
    Symbol,
    Words,
)
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.measures import TICK_PEN_MM, letter_of, lines_of, ticks_of
from shopdraw.drawing.set import FileForm
from shopdraw.drawing.sheets import PlacedDrawing, Sheet, window_of
from shopdraw.output.hatches import Move, Space, write_fill, write_hatch

LETTERING = "LETTERING"
"""The text style; every system has its font, or one in its place."""
DIMENSIONS = "DIMENSIONS"
ARCHITECTURAL, DECIMAL = 4, 2
"""$LUNITS and DIMLUNIT."""
INVISIBLE = 1
"""The flag of an attribute that programs read but nobody sees."""

_ALIGN: dict[tuple[Seat, Align], TextEntityAlignment] = {
    ("foot", "left"): TextEntityAlignment.LEFT,
    ("foot", "centre"): TextEntityAlignment.CENTER,
    ("foot", "right"): TextEntityAlignment.RIGHT,
    ("middle", "left"): TextEntityAlignment.MIDDLE_LEFT,
    ("middle", "centre"): TextEntityAlignment.MIDDLE_CENTER,
    ("middle", "right"): TextEntityAlignment.MIDDLE_RIGHT,
    ("top", "left"): TextEntityAlignment.TOP_LEFT,
    ("top", "centre"): TextEntityAlignment.TOP_CENTER,
    ("top", "right"): TextEntityAlignment.TOP_RIGHT,
}
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
    drawing: Drawing, lengths: str, form: FileForm = FORM, drawn_from: str = ""
) -> bytes:
    """Write one drawing alone, about its own origin, to insert into another file."""
    document = _new_document(lengths, form)
    _write_drawing(document, document.modelspace(), drawing, lambda point: point)
    _set_extents(document, extent_of(drawing))
    document.header["$INSBASE"] = (0.0, 0.0, 0.0)
    # A sheet letters it; this has a comment, group 999, which readers pass over.
    comment = f"999\n{_ascii(drawn_from)}\n" if drawn_from else ""
    return comment.encode("ascii") + _saved(document, form)


def _new_document(lengths: str, form: FileForm) -> Document:
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
    document.styles.add(LETTERING, font="arial.ttf")
    _dimension_style(document, lengths)
    return document


def _type_name(line_type: str) -> str:
    return "Continuous" if line_type == "CONTINUOUS" else line_type


def _dimension_style(document: Document, lengths: str) -> None:
    style = document.dimstyles.add(DIMENSIONS)
    per_inch = 1.0 if lengths == "in" else 25.4
    style.dxf.dimtxt = 0.09375 * per_inch
    style.dxf.dimexo = 0.0625 * per_inch
    style.dxf.dimexe = 0.0625 * per_inch
    style.dxf.dimasz = 0.0
    style.dxf.dimtsz = 0.0625 * per_inch
    style.dxf.dimtad = 1
    style.dxf.dimtih = 0
    style.dxf.dimtoh = 0
    style.dxf.dimdsep = ord(".")
    style.dxf.dimlunit = ARCHITECTURAL if lengths == "in" else DECIMAL
    style.dxf.dimfrac = 2
    style.dxf.dimzin = 3 if lengths == "in" else 8
    style.dxf.dimrnd = 0.0625 if lengths == "in" else 1.0
    style.dxf.dimdec = 4 if lengths == "in" else 0
    style.dxf.dimtxsty = LETTERING
    document.header["$DIMSTYLE"] = DIMENSIONS


def _write_drawing(
    document: Document, space: Space, drawing: Drawing, move: Move
) -> None:
    for symbol in drawing.symbols:
        _define_symbol(document, symbol, drawing)
    for ink in drawing.ink:
        _write_ink(document, space, ink, move, drawing.scale)


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


def _write_ink(
    document: Document, space: Space, ink: Ink, move: Move, scale: float
) -> None:
    if isinstance(ink, Stroke):
        _write_stroke(space, ink, move)
    elif isinstance(ink, Words):
        _write_words(space, ink, move, scale)
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
        _write_measure(document, space, ink, move, scale)


def _inch(document: Document) -> float:
    return 1.0 if document.header["$INSUNITS"] == InsertUnits.Inches else 25.4


def _write_stroke(space: Space, stroke: Stroke, move: Move) -> None:
    points = [move(point) for point in stroke.points]
    space.add_lwpolyline(
        points, close=stroke.closed, dxfattribs={"layer": stroke.layer}
    )


def _ascii(text: str) -> str:
    """Return a text if it is ASCII, which every program shows alike.

    Raises:
        ValueError: a character is not ASCII; whoever lettered it should see to that.
    """
    text.encode("ascii")
    return text


def _write_words(space: Space, words: Words, move: Move, scale: float) -> None:
    if not words.text.strip():
        return
    text = space.add_text(
        _ascii(words.text),
        height=words.height_on_paper * scale,
        rotation=words.angle_deg,
        dxfattribs={"layer": words.layer, "style": LETTERING},
    )
    text.set_placement(move(words.at), align=_ALIGN[words.seat, words.align])


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
            reference.add_attrib(tag.name, _ascii(tag.text), at, dxfattribs=hidden)
            continue
        shown = {
            "layer": words.layer,
            "style": LETTERING,
            "height": words.height_on_paper * scale,
            "rotation": words.angle_deg,
        }
        attribute = reference.add_attrib(tag.name, _ascii(tag.text), dxfattribs=shown)
        attribute.set_placement(move(words.at), align=_ALIGN[words.seat, words.align])


def _write_measure(
    document: Document, space: Space, measure: Measure, move: Move, scale: float
) -> None:
    """Write a dimension whose block, geometry and words all agree."""
    start, end = move(measure.start), move(measure.end)
    line = move((measure.line_at, measure.line_at))
    block = document.blocks.new_anonymous_block(type_char="D")
    _dimension_block(block, measure, move, scale)
    angle = 0.0 if measure.axis == "x" else 90.0
    letter = letter_of(measure, scale)
    length = abs(end[0] - start[0]) if measure.axis == "x" else abs(end[1] - start[1])
    far = (end[0], line[1]) if measure.axis == "x" else (line[0], end[1])
    attributes: dict[str, Any] = {
        "layer": measure.layer,
        "dimstyle": DIMENSIONS,
        "geometry": block.name,
        "defpoint": (*far, 0.0),
        "defpoint2": (*start, 0.0),
        "defpoint3": (*end, 0.0),
        "text_midpoint": (*move(letter.at), 0.0),
        "angle": angle,
        "dimtype": 32 + 128,
        "text": "",
        "actual_measurement": length,
    }
    dimension: Any = space.new_entity("DIMENSION", dxfattribs=attributes)
    dimension.set_acad_dstyle({"dimscale": scale})


def _dimension_block(
    block: BlockLayout, measure: Measure, move: Move, scale: float
) -> None:
    """Draw the dimension: extension lines, line, ticks, words, leader."""
    layer = {"layer": measure.layer}
    for a, b in lines_of(measure, scale):
        block.add_line(move(a), move(b), dxfattribs=layer)
    for a, b in ticks_of(measure, scale):
        heavy = {"layer": measure.layer, "lineweight": round(TICK_PEN_MM * 100)}
        block.add_line(move(a), move(b), dxfattribs=heavy)
    _write_words(block, letter_of(measure, scale), move, scale)


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
        device="None",
    )
    layout.reset_main_viewport()
    for ink in sheet.paper_ink:
        _write_ink(document, layout, ink, lambda point: point, 1.0)
    for placed in sheet.drawings:
        _write_viewport(layout, placed, sheet.lengths)


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
    return stream.getvalue().encode("ascii").replace(b"\r\n", b"\n")
