"""What opens right everywhere: each item is a function that returns complaints.

Each takes the bytes of a sheet's DXF file; none trusts the writer.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Container, Iterator
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

import ezdxf
from ezdxf import bbox
from ezdxf.document import Drawing

from shopdraw.output.groups import take_apart
from shopdraw.output.readback import Found
from shopdraw.output.readback import read_back as read_afresh

KINDS = {
    "LINE", "LWPOLYLINE", "CIRCLE", "ARC", "TEXT", "MTEXT", "INSERT", "ATTRIB",
    "ATTDEF", "DIMENSION", "HATCH", "VIEWPORT",
}  # fmt: skip
COLOURS = {1, 6, 7, 8, 9, 30}
PENS = {13, 18, 25, 35, 50, 70}
PATTERNS = {"DIAGONAL", "CROSSED", "CONCRETE", "BROKEN", "DOTTED"}
FONTS = {"arial.ttf", "txt"}
MEASURED_IN = "DejaVuSans.ttf"
MORE = 1.05
"""How much larger stated extents may be: another font may be there in its place."""
Point = tuple[float, float]
Box = tuple[float, float, float, float]


@lru_cache(maxsize=1)
def _open(data: bytes) -> Drawing:
    return ezdxf.read(io.StringIO(data.decode("ascii")))


@lru_cache(maxsize=1)
def read_back(data: bytes) -> Found:
    """Read a file by its group codes, once for all the items."""
    return read_afresh(data)


def _inch(data: bytes) -> float:
    return 1.0 if _header(data)["$INSUNITS"] == "1" else 25.4


@lru_cache(maxsize=1)
def _header(data: bytes) -> dict[str, str]:
    """Return the header's variables, each with its first value."""
    header = take_apart(data).header
    return {name: str(groups[0][1]) for name, groups in header.items()}


def units(data: bytes) -> list[str]:
    header = _header(data)
    pairs = (header["$INSUNITS"], header["$MEASUREMENT"], header["$LUNITS"])
    block = _open(data).modelspace().block_record.dxf.units
    if str(block) != pairs[0] or pairs not in (("1", "0", "4"), ("4", "1", "2")):
        return [f"units {pairs}, model block {block}"]
    return []


def extents(data: bytes) -> list[str]:
    document = _open(data)
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    wrong = []
    if not all(abs(x) < 1e4 * _inch(data) for x in (*low, *high)) or low[0] >= high[0]:
        wrong.append(f"extents {low} {high}")
    stated = (high[0] - low[0], high[1] - low[1])
    if any(a > MORE * b for a, b in zip(stated, _spread(document), strict=True)):
        for side, real in zip(stated, _size(document), strict=True):
            if side > MORE * real:
                wrong.append(f"extents {side} about a drawing of {real}")
    for entity in document.modelspace().query("LWPOLYLINE"):
        for x, y in entity.get_points("xy"):
            if not (low[0] - 1e-3 <= x <= high[0] + 1e-3):
                wrong.append(f"x {x} is outside the extents")
            if not (low[1] - 1e-3 <= y <= high[1] + 1e-3):
                wrong.append(f"y {y} is outside the extents")
    return wrong


def _spread(document: Drawing) -> Point:
    """Return how far points of the drawing lie apart: never more than its size."""
    points = [*_points(document, ("LWPOLYLINE", "TEXT", "DIMENSION"))]
    across, up = zip(*(points or [(0.0, 0.0)]), strict=True)
    return max(across) - min(across), max(up) - min(up)


def _size(document: Drawing) -> Point:
    """Return the drawing's size, lettered in the font that lettering is measured in.

    What stands in for a style's own font is a narrower one on some machines.
    """
    fonts = [(style, style.dxf.font) for style in document.styles]
    for style, _ in fonts:
        style.dxf.font = MEASURED_IN
    size = bbox.extents(document.modelspace(), fast=True).size.vec2
    for style, font in fonts:
        style.dxf.font = font
    return size.x, size.y


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
        if not port.dxf.flags & 0x4000:
            wrong.append("a viewport is not locked")
        if port.dxf.layer != "VIEWPORTS" or port.dxf.status <= 0:
            wrong.append("a viewport is off or on a wrong layer")
        scale = port.dxf.view_height / port.dxf.height
        if abs(scale - round(scale)) > 1e-6:
            wrong.append(f"a viewport's scale is {scale}")
    if document.layers.get("VIEWPORTS").dxf.plot != 0:
        wrong.append("viewport frames plot")
    for entity in (*layout, *document.modelspace()):
        if entity.dxf.layer == "VIEWPORTS" and entity.dxftype() != "VIEWPORT":
            wrong.append(f"a {entity.dxftype()} is on the viewports' layer")
    return wrong


def _views(document: Drawing) -> Iterator[Box]:
    layout = next(x for x in document.layouts if x.name != "Model")
    for port in layout.query("VIEWPORT"):
        if port.dxf.id != 1:
            (x, y), high = port.dxf.view_center_point.vec2, port.dxf.view_height
            wide = high * port.dxf.width / port.dxf.height
            yield (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def _points(document: Drawing, kinds: Container[str] = KINDS) -> Iterator[Point]:
    for entity in document.modelspace():
        if entity.dxftype() not in kinds:
            continue
        if entity.dxftype() == "LWPOLYLINE":
            yield from entity.get_points("xy")
        elif entity.dxftype() in ("TEXT", "MTEXT", "INSERT"):
            yield tuple(entity.dxf.insert.vec2)
        elif entity.dxftype() == "DIMENSION":
            for line in document.blocks.get(entity.dxf.geometry):
                if line.dxftype() == "LINE":
                    yield from (tuple(line.dxf.start.vec2), tuple(line.dxf.end.vec2))


def shown(data: bytes) -> list[str]:
    document = _open(data)
    views = list(_views(document))
    near = 1e-6
    return [
        f"{x}, {y} is in no viewport"
        for x, y in _points(document)
        if not any(
            left - near <= x <= right + near and bottom - near <= y <= top + near
            for left, bottom, right, top in views
        )
    ]


def printed_value(words: str) -> Fraction:
    """Read a printed figure without the program's own reader of lengths."""
    match = re.fullmatch(
        r"(?:(\d+)'-)?(?:(\d+) )?(\d+(?:/\d+)?)(\"?)|(\d+\.\d+)", words
    )
    if match is None:
        message = f"{words} is not a figure"
        raise ValueError(message)
    feet, whole, rest, _, decimal = match.groups()
    if decimal:
        return Fraction(decimal)
    return int(feet or 0) * 12 + int(whole or 0) + Fraction(rest)


def figures(data: bytes) -> list[str]:
    """Positions are rounded, to 1/16 in or 1 mm: a length is off by one at most."""
    step = 1 / 16 if _inch(data) == 1.0 else 1.0
    wrong = []
    for measure in read_back(data).measures:
        if abs(measure.recorded - measure.length) > 1e-6:
            wrong.append(f"{measure.words} records {measure.recorded}")
        # Equal gaps that would be printed unlike: their sum stands beside the string.
        if re.fullmatch("EQ( [A-Z])?", measure.words):
            continue
        if abs(float(printed_value(measure.words)) - measure.length) > step + 1e-6:
            wrong.append(f"{measure.words} is {measure.length} long")
    return wrong


def dimensions(data: bytes) -> list[str]:
    document = _open(data)
    wrong = []
    for dimension in document.modelspace().query("DIMENSION"):
        block = document.blocks.get(dimension.dxf.geometry)
        lines = [x for x in block if x.dxftype() == "LINE"]
        texts = [x.dxf.text for x in block if x.dxftype() == "TEXT"]
        if len(lines) < 3 or len(texts) != 1:
            wrong.append("a dimension's block is not whole")
        if not dimension.dxf.hasattr("actual_measurement"):
            wrong.append("a dimension does not record what it measures")
            continue
        style = dimension.get_dim_style().dxf
        length = dimension.dxf.actual_measurement
        anew = drawn_anew(
            length, style.dimlunit, style.dimdec, style.dimrnd, style.dimzin
        )
        typed = dimension.dxf.text
        if [typed or anew] != texts:
            wrong.append(f"{texts} drawn anew is {typed or anew}")
        if typed and typed == anew:
            wrong.append(f"{typed} is typed over, and the style gives it")
    return wrong


def drawn_anew(length: float, unit: int, places: int, step: float, zeros: int) -> str:
    """Return what a program letters by a style, or "either" where it is unsure.

    By the meanings of DIMLUNIT 2 and 4, DIMDEC, DIMRND, and DIMZIN 3 and 8.
    """
    steps = Decimal(length / step)
    if abs(steps % 1 - Decimal("0.5")) < Decimal("0.0001"):
        return "either"
    rounded = int(steps.to_integral_value()) * step
    if (unit, zeros) == (2, 8):
        return f"{rounded:.{places}f}".removesuffix(".0")
    if (unit, zeros) != (4, 3):
        return f"a style of {unit} and {zeros}"
    feet, rest = divmod(round(rounded * 2**places), 12 * 2**places)
    inches, part = divmod(rest, 2**places)
    fraction = str(Fraction(part, 2**places)) if part else ""
    if not feet and not inches and fraction:
        return f'{fraction}"'
    words = f"{inches} {fraction}".strip()
    return f"{feet}'-{words}\"" if feet else f'{words}"'


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
            if entity.dxf.get("linetype", "BYLAYER") != "BYLAYER":
                wrong.append(f"{entity.dxftype()} has a line type of its own")
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
    shown = _header(data).get("$LWDISPLAY")
    return wrong + ([] if shown == "1" else ["pens are not shown"])


def line_types(data: bytes) -> list[str]:
    document = _open(data)
    return [
        f"no line type {layer.dxf.linetype}"
        for layer in document.layers
        if layer.dxf.linetype not in document.linetypes
    ]


def dashes(data: bytes) -> list[str]:
    """Patterns are in paper lengths: each dash from 1/16 to 1/2 in."""
    document = _open(data)
    if document.header["$PSLTSCALE"] != 1:
        return ["dashes do not follow the viewport"]
    factor = document.header["$LTSCALE"] / _inch(data)
    return [
        f"{name} has a dash of {dash * factor} in"
        for name in ("HIDDEN", "CENTER", "PHANTOM")
        for dash in (
            abs(tag.value)
            for tag in document.linetypes.get(name).pattern_tags.tags
            if tag.code == 49
        )
        if not 1 / 16 - 1e-9 <= dash * factor <= 1 / 2 + 1e-9
    ]


def fonts(data: bytes) -> list[str]:
    found = {style.dxf.font for style in _open(data).styles}
    return sorted(found - FONTS)


def hatches(data: bytes) -> list[str]:
    document = _open(data)
    wrong = []
    for hatch in document.modelspace().query("HATCH"):
        if len(hatch.paths) != 1 or not hatch.paths[0].is_closed:
            wrong.append("a hatch is not one closed area")
        if not hatch.dxf.solid_fill and hatch.dxf.pattern_name not in PATTERNS:
            wrong.append(f"{hatch.dxf.pattern_name} is no pattern of ours")
    lines = [x for x in document.modelspace() if x.dxf.layer == "A-ELEV-MSNR-PATT"]
    return wrong + (["too many hatching lines"] if len(lines) >= 2000 else [])


def stated(data: bytes) -> list[str]:
    header = _open(data).header
    low, high = header["$EXTMIN"], header["$EXTMAX"]
    wanted = {
        "$LIMMIN": (low[0], low[1]),
        "$LIMMAX": (high[0], high[1]),
        "$DIMSTYLE": "DIMENSIONS",
    }
    return [name for name, value in wanted.items() if header[name] != value]


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


def notes(data: bytes) -> list[str]:
    """A paragraph is one text in its column, which none of its words is wider than."""
    wrong = []
    for space in _open(data).layouts:
        for note in space.query("MTEXT"):
            if note.dxf.get("width", 0) <= 0 or "\n" in note.text or "\\P" in note.text:
                wrong.append(f"{note.text[:20]} is in lines of its own")
            if note.dxf.attachment_point != 1 or note.dxf.line_spacing_style != 2:
                wrong.append(f"{note.text[:20]} hangs otherwise")
    return wrong


def plot_settings(data: bytes) -> list[str]:
    wrong = []
    for layout in _open(data).layouts:
        settings = layout.dxf_layout.dxf
        if settings.plot_configuration_file or settings.page_setup_name:
            wrong.append(f"{layout.name} is for a program")
        if layout.name == "Model":
            continue
        paper = re.fullmatch(PAPER, settings.paper_size)
        if paper is None:
            wrong.append(f"paper {settings.paper_size}")
            continue
        part = 1.0 if paper[3] == "MM" else 25.4
        sides = float(paper[1]) * part, float(paper[2]) * part
        there = settings.paper_width, settings.paper_height
        if any(abs(a - b) > 0.2 for a, b in zip(sides, there, strict=True)):
            wrong.append(f"{settings.paper_size} is {there}")
        if (settings.scale_numerator, settings.scale_denominator) != (1, 1):
            wrong.append("it is not plotted at full size")
    return wrong


PAPER = (
    r"(?:ANSI_[A-E]|ARCH_(?:[A-E]|E1)|ISO_A[0-4])_\(([\d.]+)_x_([\d.]+)_(MM|Inches)\)"
)


def audit(data: bytes) -> list[str]:
    """An audit mends what it finds: nobody reads that document after it."""
    auditor = _open(data).audit()
    _open.cache_clear()
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
    "all in some viewport": shown,
    "dimensions need no regeneration": dimensions,
    "figures equal the geometry": figures,
    "plain text": plain_text,
    "notes are paragraphs": notes,
    "plots on a standard paper, by any program": plot_settings,
    "no exotic entities": kinds,
    "colours by layer, legible": colours,
    "pens by layer, shown": pens,
    "line types defined": line_types,
    "dashes show on paper": dashes,
    "fonts that can be stood in for": fonts,
    "hatches are light": hatches,
    "limits and dimension style stated": stated,
    "tags as the block has them, each ID once": tags,
    "clean names": names,
    "audit finds nothing": audit,
    "no path of a machine": no_paths,
}
