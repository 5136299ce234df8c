"""What opens right everywhere: each item is a function that returns complaints.

Each takes the bytes of a sheet's DXF file; none trusts the writer.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable

import ezdxf
from ezdxf.document import Drawing

from shopdraw.output.readback import Found, read_back

KINDS = {
    "LINE", "LWPOLYLINE", "CIRCLE", "ARC", "TEXT", "MTEXT", "INSERT", "ATTRIB",
    "ATTDEF", "DIMENSION", "HATCH", "VIEWPORT",
}  # fmt: skip
COLOURS = {1, 6, 7, 8, 9, 30}
PENS = {13, 18, 25, 35, 50, 70}


def _open(data: bytes) -> Drawing:
    return ezdxf.read(io.StringIO(data.decode("ascii")))


def _header(found: Found) -> dict[str, str]:
    return dict(found.header)


def units(data: bytes) -> list[str]:
    header = _header(read_back(data))
    pairs = (header["$INSUNITS"], header["$MEASUREMENT"], header["$LUNITS"])
    return [] if pairs in (("1", "0", "4"), ("4", "1", "2")) else [f"units {pairs}"]


def extents(data: bytes) -> list[str]:
    document = _open(data)
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    wrong = []
    if not all(abs(x) < 1e5 for x in (*low, *high)) or low[0] >= high[0]:
        wrong.append(f"extents {low} {high}")
    for entity in document.modelspace().query("LWPOLYLINE"):
        for x, y in entity.get_points("xy"):
            if not (low[0] - 1e-3 <= x <= high[0] + 1e-3):
                wrong.append(f"x {x} is outside the extents")
            if not (low[1] - 1e-3 <= y <= high[1] + 1e-3):
                wrong.append(f"y {y} is outside the extents")
    return wrong


def opens_zoomed(data: bytes) -> list[str]:
    document = _open(data)
    port = document.viewports.get("*Active")[0]
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    centre, height = port.dxf.center, port.dxf.height
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    off = max(abs(centre[0] - middle[0]), abs(centre[1] - middle[1]))
    return [] if off < 1e-3 and height >= high[1] - low[1] else ["opens elsewhere"]


def layouts(data: bytes) -> list[str]:
    names = read_back(data).layouts
    good = len(names) == 1 and re.fullmatch(r"SHEET-\d\d", names[0])
    return [] if good else [f"layouts {names}"]


def viewports(data: bytes) -> list[str]:
    document = _open(data)
    wrong = []
    layout = next(x for x in document.layouts if x.name != "Model")
    for port in layout.query("VIEWPORT"):
        if port.dxf.id == 1:
            continue
        if port.dxf.layer != "VIEWPORTS" or port.dxf.status <= 0:
            wrong.append("a viewport is off or on a wrong layer")
        scale = port.dxf.view_height / port.dxf.height
        if abs(scale - round(scale)) > 1e-6:
            wrong.append(f"a viewport's scale is {scale}")
    if document.layers.get("VIEWPORTS").dxf.plot != 0:
        wrong.append("viewport frames plot")
    return wrong


def dimensions(data: bytes) -> list[str]:
    document = _open(data)
    wrong = []
    for dimension in document.modelspace().query("DIMENSION"):
        block = document.blocks.get(dimension.dxf.geometry)
        lines = [x for x in block if x.dxftype() == "LINE"]
        texts = [x for x in block if x.dxftype() == "TEXT"]
        if len(lines) < 3 or len(texts) != 1:
            wrong.append("a dimension's block is not whole")
        if dimension.dxf.text:
            wrong.append("a dimension's words are typed over")
        if not dimension.dxf.hasattr("actual_measurement"):
            wrong.append("a dimension does not record what it measures")
    return wrong


def plain_text(data: bytes) -> list[str]:
    wrong = ["a stacked fraction"] if b"\\S" in data else []
    return wrong + (["not ASCII"] if not data.isascii() else [])


def kinds(data: bytes) -> list[str]:
    document = _open(data)
    found = {entity.dxftype() for block in document.blocks for entity in block} | {
        entity.dxftype() for layout in document.layouts for entity in layout
    }
    return sorted(found - KINDS)


def colours(data: bytes) -> list[str]:
    document = _open(data)
    wrong = [
        f"layer {layer.dxf.name} has colour {layer.color}"
        for layer in document.layers
        if layer.dxf.name not in ("0", "Defpoints") and layer.color not in COLOURS
    ]
    for block in document.blocks:
        for entity in block:
            if entity.dxf.get("color", 256) != 256:
                wrong.append(f"{entity.dxftype()} has a colour of its own")
            if entity.dxf.layer not in document.layers:
                wrong.append(f"no layer {entity.dxf.layer}")
    return wrong


def pens(data: bytes) -> list[str]:
    document = _open(data)
    wrong = [
        f"layer {layer.dxf.name} has pen {layer.dxf.lineweight}"
        for layer in document.layers
        if layer.dxf.name not in ("0", "Defpoints") and layer.dxf.lineweight not in PENS
    ]
    shown = _header(read_back(data)).get("$LWDISPLAY")
    return wrong + ([] if shown == "1" else ["pens are not shown"])


def line_types(data: bytes) -> list[str]:
    document = _open(data)
    return [
        f"no line type {layer.dxf.linetype}"
        for layer in document.layers
        if layer.dxf.linetype not in document.linetypes
    ]


def tags(data: bytes) -> list[str]:
    document = _open(data)
    wrong = []
    names: set[str] = set()
    for insert in document.modelspace().query("INSERT"):
        if not insert.attribs:
            continue
        block = document.blocks.get(insert.dxf.name)
        wanted = {x.dxf.tag for x in block.query("ATTDEF")}
        if {x.dxf.tag for x in insert.attribs} != wanted:
            wrong.append(f"{insert.dxf.name} is tagged otherwise than its block")
        name = insert.get_attrib_text("ID")
        if name in names:
            wrong.append(f"ID {name} stands twice")
        names.add(name)
    return wrong


def names(data: bytes) -> list[str]:
    document = _open(data)
    own = [x.name for x in document.blocks if not x.name.startswith("*")]
    own += [x.dxf.name for x in document.layers if x.dxf.name not in ("0", "Defpoints")]
    own = [x for x in own if not x.startswith("_")]
    return [x for x in own if not re.fullmatch(r"[A-Z0-9-]{1,31}", x)]


def audit(data: bytes) -> list[str]:
    auditor = _open(data).audit()
    return [x.message for x in (*auditor.errors, *auditor.fixes)]


def no_paths(data: bytes) -> list[str]:
    found = re.findall(rb"(?:/home|/root|/tmp|/usr|[A-Z]:\\\\)[^\n]*", data)
    return [str(x) for x in found]


ITEMS: dict[str, Callable[[bytes], list[str]]] = {
    "units said three ways": units,
    "extents are true": extents,
    "opens zoomed to the drawing": opens_zoomed,
    "one layout, named": layouts,
    "viewports on, at scale, not plotted": viewports,
    "dimensions need no regeneration": dimensions,
    "plain text": plain_text,
    "no exotic entities": kinds,
    "colours by layer, legible": colours,
    "pens by layer, shown": pens,
    "line types defined": line_types,
    "tags as the block has them, each ID once": tags,
    "clean names": names,
    "audit finds nothing": audit,
    "no path of a machine": no_paths,
}
