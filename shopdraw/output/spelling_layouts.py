"""Spell out how a DXF file is seen and plotted: windows, layouts, the first view.

In:  `Sheet`, or the box that model space fills.   Out: `Record`s.
Frame: as in the file.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Point
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.sheets import PlacedDrawing, Sheet, window_of
from shopdraw.lengths import MM_PER_INCH, Lengths
from shopdraw.output.groups import Group
from shopdraw.output.records import Record, record
from shopdraw.output.spelling_objects import LAYOUTS

LOCKED, WHOLE_LAYOUT = 0x4000, 0x88020
"""Flags of viewports: one that keeps its scale; the layout's own, as the library has
it."""
MODEL, UNUSED = "Model", "Layout1"
MODEL_SPACE, PAPER_SPACE = "*Model_Space", "*Paper_Space"
MARGIN = 1.1
"""How much larger than the paper the layout's own viewport is."""


def spell_first_view(box: Box) -> Record:
    """Spell the view that the file opens with: all of it, and a little more."""
    left, bottom, right, top = box
    marks = ((100, "AcDbSymbolTableRecord"), (100, "AcDbViewportTableRecord"))
    height = max(top - bottom, (right - left) * 0.6) * 1.05
    middle = ((12, (left + right) / 2), (22, (bottom + top) / 2))
    seen = ((2, "*Active"), *middle, (40, height), (41, 1.34))
    return record("VPORT", (*marks, *seen, *_VIEW_AS_IT_IS))


_VIEW_AS_IT_IS: tuple[Group, ...] = (
    *((11, 1.0), (21, 1.0), (14, 0.5), (24, 0.5), (15, 0.5), (25, 0.5), (36, 1.0)),
    *((42, 50.0), (111, 1.0), (122, 1.0)),
    *((code, 0.0) for code in (10, 20, 13, 23, 16, 26, 17, 27, 37, 43, 44, 50, 51)),
    *((code, 0.0) for code in (110, 120, 130, 121, 131, 112, 132, 146)),
    *((65, 1), (72, 1000), (73, 1), (74, 3)),
    *((code, 0) for code in (70, 71, 75, 76, 77, 78, 79, 281)),
)
_LAYOUT_AS_IT_IS: tuple[Group, ...] = (
    *((6, ""), (7, ""), (142, 1.0), (143, 1.0), (16, 1.0), (27, 1.0)),
    *((code, 0.0) for code in (46, 47, 48, 49, 140, 141, 148, 149, 146)),
    *((code, 0.0) for code in (12, 22, 32, 13, 23, 33, 26, 36, 17, 37)),
    *((73, 0), (74, 5), (77, 2), (78, 300)),
)
"""What the library leaves as it is."""


def spell_own_viewport(
    width: float, height: float, called: Mapping[str, str]
) -> Record:
    """Spell the layout's own window, which shows the paper itself."""
    middle = (width / 2, height / 2)
    size = (MARGIN * width, MARGIN * height)
    return _window(middle, size, middle, size[1], (1, 1, WHOLE_LAYOUT), called)


def spell_viewport(
    placed: PlacedDrawing, lengths: Lengths, number: int, called: Mapping[str, str]
) -> Record:
    """Spell the window of a drawing, at its scale."""
    placement = placed.placement
    left, bottom, right, top = window_of(placed, lengths)
    middle = ((left + right) / 2, (bottom + top) / 2)
    x, y = (
        model + (at - paper) * placement.scale
        for model, at, paper in zip(
            placement.in_model, middle, placement.on_paper, strict=True
        )
    )
    size = (right - left, top - bottom)
    seen = size[1] * placement.scale
    return _window(middle, size, (x, y), seen, (2, number + 1, LOCKED), called)


def _window(
    middle: Point,
    size: Point,
    looks_at: Point,
    seen: float,
    state: tuple[int, int, int],
    called: Mapping[str, str],
) -> Record:
    shown, number, flags = state
    layer = called.get(layers.VIEWPORTS, layers.VIEWPORTS)
    return record(
        "VIEWPORT",
        (
            *((8, layer), (100, "AcDbEntity"), (100, "AcDbViewport")),
            *((10, middle[0]), (20, middle[1]), (40, size[0]), (41, size[1])),
            *((12, looks_at[0]), (22, looks_at[1]), (45, seen)),
            *((68, shown), (69, number), (90, flags)),
        ),
    )


def _layout(
    name: str, tab: int, space: str, box: Box, extents: Box, *groups: Group
) -> Record:
    left, bottom, right, top = box
    marks = ((100, "AcDbPlotSettings"), (100, "AcDbLayout"))
    return record(
        "LAYOUT",
        (
            *marks,
            *groups,
            *_LAYOUT_AS_IT_IS,
            *((330, LAYOUTS), (330, f"BLOCK_RECORD {space}"), (71, tab)),
            *((1, ""), (1, name), (70, 1), (75, 16), (76, 0), (76, 1)),
            *((10, left), (20, bottom), (11, right), (21, top)),
            *((14, extents[0]), (24, extents[1]), (15, extents[2]), (25, extents[3])),
        ),
    )


def _on_librarys_paper(plot_flags: int) -> tuple[Group, ...]:
    """Spell what is not to be plotted: A3, with the library's own margins."""
    return (
        *((4, "ISO_A3_(420.00_x_297.00_MM)"), (44, 420.0), (45, 297.0)),
        *((40, 7.5), (41, 20.0), (42, 7.5), (43, 20.0)),
        *((70, plot_flags), (72, 1), (147, 1.0)),
    )


def spell_model_layout(box: Box) -> Record:
    """Spell the plot settings of model space, which is not to be plotted."""
    flat = ((34, 0.0), (35, 0.0))
    return _layout(MODEL, 0, MODEL_SPACE, box, box, *_on_librarys_paper(1024), *flat)


A3: Box = (0.0, 0.0, 420.0, 297.0)
FAR = 1e20
EMPTY: Box = (FAR, FAR, -FAR, -FAR)
"""The extents of nothing, which are as far the wrong way above as below."""
LIBRARYS_LAYOUT = _layout(
    UNUSED,
    1,
    PAPER_SPACE,
    A3,
    EMPTY,
    *_on_librarys_paper(0),
    *((34, FAR), (35, -FAR)),
)
"""The layout of a bare drawing: nothing stands on it."""


def spell_sheet_layout(sheet: Sheet) -> Record:
    """Spell a sheet's layout: on its paper, without margins, one to one."""
    per_mm = 1.0 if sheet.lengths == "mm" else 1 / float(MM_PER_INCH)
    box = (0.0, 0.0, sheet.width, sheet.height)
    return _layout(
        layout_of(sheet),
        3,
        PAPER_SPACE,
        box,
        box,
        # Its own window; the library's layout, which was the second, is taken out.
        *((331, "VIEWPORT 1"), (34, 0.0), (35, 0.0)),
        (4, medium_of(sheet)),
        *((44, sheet.width / per_mm), (45, sheet.height / per_mm)),
        *((40, 0.0), (41, 0.0), (42, 0.0), (43, 0.0)),
        *((70, 672), (72, 0 if sheet.lengths == "in" else 1), (147, per_mm)),
    )


def layout_of(sheet: Sheet) -> str:
    """Name the layout of a sheet."""
    return f"SHEET-{sheet.number:02d}"


def medium_of(sheet: Sheet) -> str:
    """Name the paper as plot settings do, by its standard and its size."""
    is_iso = re.fullmatch(r"A\d", sheet.paper) is not None
    in_mm = is_iso or (not sheet.paper and sheet.lengths == "mm")
    own, wanted = sheet.lengths == "mm", in_mm
    part = 1.0
    if own != wanted:
        part = float(MM_PER_INCH) if wanted else 1 / float(MM_PER_INCH)
    name = f"ISO_{sheet.paper}" if is_iso else sheet.paper or "Custom"
    sides = f"{sheet.width * part:.2f}_x_{sheet.height * part:.2f}"
    unit = "MM" if in_mm else "Inches"
    return f"{name.replace(' ', '_')}_({sides}_{unit})"
