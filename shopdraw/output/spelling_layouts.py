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

LOCKED, WHOLE_LAYOUT = 0x4000, 0x88020
"""Flags of viewports: one that keeps its scale; the layout's own, as the library has
it."""
MARGIN = 1.1
"""How much larger than the paper the layout's own viewport is."""


def spell_first_view(box: Box) -> Record:
    """Spell the view that the file opens with: all of it, and a little more."""
    left, bottom, right, top = box
    marks = ((100, "AcDbSymbolTableRecord"), (100, "AcDbViewportTableRecord"))
    height = max(top - bottom, (right - left) * 0.6) * 1.05
    middle = ((12, (left + right) / 2), (22, (bottom + top) / 2))
    return record("VPORT", (*marks, (2, "*Active"), *middle, (40, height), (41, 1.34)))


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


def _layout(name: str, box: Box, extents: Box, *groups: Group) -> Record:
    left, bottom, right, top = box
    marks = ((100, "AcDbPlotSettings"), (100, "AcDbLayout"))
    return record(
        "LAYOUT",
        (
            *marks,
            *groups,
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
    return _layout("Model", box, box, *_on_librarys_paper(1024))


_FAR = 1e20
LIBRARYS_LAYOUT = _layout(
    "Layout1",
    (0.0, 0.0, 420.0, 297.0),
    (_FAR, _FAR, -_FAR, -_FAR),
    *_on_librarys_paper(0),
    *((34, _FAR), (35, -_FAR)),
)
"""The layout of a bare drawing: nothing stands on it."""


def spell_sheet_layout(sheet: Sheet) -> Record:
    """Spell a sheet's layout: on its paper, without margins, one to one."""
    per_mm = 1.0 if sheet.lengths == "mm" else 1 / float(MM_PER_INCH)
    box = (0.0, 0.0, sheet.width, sheet.height)
    return _layout(
        f"SHEET-{sheet.number:02d}",
        box,
        box,
        (4, medium_of(sheet)),
        *((44, sheet.width / per_mm), (45, sheet.height / per_mm)),
        *((40, 0.0), (41, 0.0), (42, 0.0), (43, 0.0)),
        *((70, 672), (72, 0 if sheet.lengths == "in" else 1), (147, per_mm)),
    )


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
