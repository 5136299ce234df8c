"""Spell out the tables of a DXF file: layers, line types, styles, blocks' entries.

In:  the file's lengths and form.   Out: `Record`s.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import radians, tan

from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.measures import ARROW, ARROW_DEG, TICK
from shopdraw.drawing.set import FileForm
from shopdraw.drawing.sheets import STYLES as PAPER_STYLES
from shopdraw.lengths import MM_PER_INCH, Lengths
from shopdraw.output.dimensioning import STYLES, LetteringStyle
from shopdraw.output.groups import Group
from shopdraw.output.records import Record, record
from shopdraw.output.spelling import LETTERING, block_start
from shopdraw.output.spelling_objects import spell_applications

INCHES, MILLIMETRES = 1, 4
"""$INSUNITS."""
ARROW_BLOCK = "_OPEN30"
PLOT_STYLE, MATERIAL = "/ACAD_PLOTSTYLENAME/Normal", "/ACAD_MATERIAL/Global"
"""What every layer leads to: objects that draw nothing."""
LINE_TYPES: dict[str, tuple[str, tuple[float, ...]]] = {
    "ByBlock": ("", ()),
    "ByLayer": ("", ()),
    "Continuous": ("", ()),
    "HIDDEN": ("hidden __ __ __", (0.125, -0.0625)),
    "CENTER": ("centre ____ _ ____", (0.5, -0.0625, 0.125, -0.0625)),
    "PHANTOM": (
        "phantom ____ _ _ ____",
        (0.5, -0.0625, 0.09375, -0.0625, 0.09375, -0.0625),
    ),
}
"""Dashes and gaps in inches on paper."""


def spell_tables(
    lengths: Lengths,
    form: FileForm,
    blocks: Mapping[str, str],
    arrows: Iterable[LetteringStyle],
) -> Iterator[Record]:
    """Spell every entry that decides what is seen, but where the file opens.

    Args:
        lengths: what the file is measured in.
        form: its release, and the names of its layers.
        blocks: the names of its blocks, each with its layout's path; `0`: it has none.
        arrows: the dimension styles with arrows that it uses.
    """
    yield from spell_applications()
    yield from _layers(form)
    yield from _line_types(lengths)
    yield _text_style("Standard", "txt")
    yield _text_style(LETTERING, "arial.ttf")
    usual = OLD_STYLE if form.release == "R2000" else NEW_STYLE
    yield record("DIMSTYLE", (*_LIBRARYS_STYLE, *usual))
    for style in (*STYLES[lengths], *arrows):
        yield record("DIMSTYLE", (*_dimension_style(style, lengths), *usual))
    yield from _block_entries(blocks, lengths, form)


def _layers(form: FileForm) -> Iterator[Record]:
    called = dict(form.layers)
    made_of = () if form.release == "R2000" else ((347, MATERIAL),)
    for layer in LAYERS:
        is_solid = layer.line_type == "CONTINUOUS"
        name = called.get(layer.name, layer.name)
        yield _layer(
            (2, name),
            (62, layer.colour),
            (6, "Continuous" if is_solid else layer.line_type),
            (290, int(layer.plots)),
            (370, round(layer.pen_mm * 100)),
            *made_of,
            *((1001, "AcAecLayerStandard"), (1000, ""), (1000, layer.says)),
        )
    for name, plots in (("0", 1), ("Defpoints", 0)):
        # The format's own; nothing stands on them but the lines of arrows.
        pen = ((62, 7), (6, "Continuous"), (290, plots), (370, -3))
        yield _layer((2, name), *pen, *made_of)


def _layer(*groups: Group) -> Record:
    marks = ((100, "AcDbSymbolTableRecord"), (100, "AcDbLayerTableRecord"), (70, 0))
    return record("LAYER", (*marks, (390, PLOT_STYLE), *groups))


def _line_types(lengths: Lengths) -> Iterator[Record]:
    inch = 1.0 if lengths == "in" else float(MM_PER_INCH)
    for name, (says, dashes) in LINE_TYPES.items():
        marks = ((100, "AcDbSymbolTableRecord"), (100, "AcDbLinetypeTableRecord"))
        long = sum(abs(x) for x in dashes) * inch
        pattern = (x for dash in dashes for x in ((49, dash * inch), (74, 0)))
        head = ((2, name), (70, 0), (3, says), (72, 65), (73, len(dashes)), (40, long))
        yield record("LTYPE", (*marks, *head, *pattern))


def _text_style(name: str, font: str) -> Record:
    marks = ((100, "AcDbSymbolTableRecord"), (100, "AcDbTextStyleTableRecord"))
    # The last height used is of no use where every text has its own.
    usual = ((70, 0), (40, 0.0), (41, 1.0), (50, 0.0), (71, 0), (4, ""))
    return record("STYLE", (*marks, (2, name), (3, font), (42, 2.5), *usual))


_STYLE_MARKS = ((100, "AcDbSymbolTableRecord"), (100, "AcDbDimStyleTableRecord"))


def _dimension_style(style: LetteringStyle, lengths: Lengths) -> tuple[Group, ...]:
    text = PAPER_STYLES[lengths].text
    is_arrow = style.ends == "arrow"
    ends = ((342, f"BLOCK_RECORD {ARROW_BLOCK}"),) if is_arrow else ()
    return (
        *_STYLE_MARKS,
        *((2, style.name), (140, text), (42, 0.6 * text), (44, 0.6 * text)),
        (41, ARROW * text if is_arrow else 0.0),
        (142, 0.0 if is_arrow else TICK * text),
        *((147, 0.4 * text), (276, 2), (278, ord("."))),
        *((45, style.step), (78, style.zeros), (277, style.unit)),
        *((271, style.places), (340, f"STYLE {LETTERING}")),
        *ends,
    )


_LIBRARYS_STYLE: tuple[Group, ...] = (
    *_STYLE_MARKS,
    *((2, "Standard"), (41, 2.5), (42, 0.625), (44, 1.25), (45, 0.0)),
    *((78, 8), (140, 2.5), (142, 0.0), (147, 0.625), (271, 2), (276, 0)),
    *((277, 2), (278, ord(","))),
)
"""A style that no dimension has."""
_EVERY_STYLE: tuple[Group, ...] = (
    *(
        (40, 1.0),
        (43, 3.75),
        (46, 0.0),
        (47, 0.0),
        (48, 0.0),
        (141, 2.5),
        (143, 0.0393701),
    ),
    *((144, 1.0), (145, 0.0), (146, 1.0), (148, 0.0), (77, 1), (79, 3)),
    *((171, 3), (172, 1), (179, 2), (272, 2), (273, 2), (274, 3), (284, 8), (289, 3)),
    *((371, -2), (372, -2)),
    *((code, 0) for code in (70, 71, 72, 73, 74, 75, 76, 170, *range(173, 179))),
    *((code, 0) for code in (275, 279, 280, 281, 282, 283, 285, 286, 288)),
)
OLD_STYLE = (*_EVERY_STYLE, (3, ""), (4, ""))
NEW_STYLE = (*_EVERY_STYLE, (49, 2.5), (69, 0), (70, 0), (290, 0))
"""What the library leaves as it is in a style, in an old file and in a new one."""


def _block_entries(
    blocks: Mapping[str, str], lengths: Lengths, form: FileForm
) -> Iterator[Record]:
    """Spell the entries of blocks; in a file of R2000 they have no units."""
    units = INCHES if lengths == "in" else MILLIMETRES
    for name, layout in blocks.items():
        has_units = form.release != "R2000" and name not in _WITHOUT_UNITS
        yield entry_of_block(name, units if has_units else 0, layout)


def entry_of_block(name: str, units: int, layout: str = "0") -> Record:
    """Spell the entry of a block in the table of blocks; 0 for no units, no layout."""
    marks = ((100, "AcDbSymbolTableRecord"), (100, "AcDbBlockTableRecord"))
    return record("BLOCK_RECORD", (*marks, (2, name), (70, units), (340, layout)))


_WITHOUT_UNITS = ("*Paper_Space", ARROW_BLOCK)


def spell_arrow() -> tuple[Record, ...]:
    """Spell the format's own open arrow: one long, its tip at the origin."""
    aside = tan(radians(ARROW_DEG / 2))
    marks = ((8, "0"), (100, "AcDbEntity"), (100, "AcDbLine"))
    ends = ((-1.0, aside), (-1.0, -aside), (-1.0, 0.0))
    lines = (
        record("LINE", (*marks, (10, 0.0), (20, 0.0), (11, x), (21, y)))
        for x, y in ends
    )
    return (block_start(ARROW_BLOCK), *lines)
