"""The layers: the name of each, what is drawn on it, and how it plots.

In:  nothing.   Out: their names; `LAYERS`.
Frame: none.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

LineType = Literal["CONTINUOUS", "HIDDEN", "CENTER", "PHANTOM"]

OUTLINE = "A-ELEV-OTLN"
UNITS = "A-ELEV-MSNR"
CORNERS = "A-ELEV-MSNR-CORN"
CUTS = "A-ELEV-MSNR-CUTM"
MARKS = "A-ELEV-MSNR-IDEN"
PATTERN = "A-ELEV-MSNR-PATT"
HIDDEN = "A-ELEV-HIDD"
LEVELS = "A-ELEV-CNTR"
OTHERS = "A-ELEV-OTHR-E"
FLOOR = "A-FLOR-OTHR-E"
SECTION = "A-SECT-MCUT"
DIMENSIONS = "A-ANNO-DIMS"
NOTES = "A-ANNO-NOTE"
TABLES = "A-ANNO-SCHD"
BORDER = "A-ANNO-TTLB"
MATCH = "A-ANNO-MATC"
UNPRINTED = "A-ANNO-NPLT"
VIEWPORTS = "VIEWPORTS"
OF_RETURNS = {
    OUTLINE: "A-ELEV-RETN-OTLN",
    UNITS: "A-ELEV-RETN-MSNR",
    CORNERS: "A-ELEV-RETN-CORN",
    CUTS: "A-ELEV-RETN-CUTM",
    MARKS: "A-ELEV-RETN-IDEN",
}
"""The layers of all faces but the front, by the front's, where both are in one file."""


@dataclass(frozen=True)
class Layer:
    """A layer: its name, what is drawn on it, and how it plots.

    Attributes:
        colour: colour index, legible on black and on white (1, 6, 7, 8, 9, 30).
        pen_mm: one of the DXF line widths.
        plots: whether it is printed.
    """

    name: str
    says: str
    colour: int
    pen_mm: float
    line_type: LineType = "CONTINUOUS"
    plots: bool = True


LAYERS: tuple[Layer, ...] = (
    Layer(OUTLINE, "outline of the face and of the opening", 7, 0.70),
    Layer(UNITS, "unit outlines", 7, 0.35),
    Layer(CORNERS, "corner units", 6, 0.35),
    Layer(CUTS, "cut marks", 1, 0.25),
    Layer(MARKS, "piece marks", 7, 0.18),
    Layer(OF_RETURNS[OUTLINE], "outline of a return or a jamb", 7, 0.70),
    Layer(OF_RETURNS[UNITS], "unit outlines on returns and jambs", 7, 0.35),
    Layer(OF_RETURNS[CORNERS], "corner units on returns and jambs", 6, 0.35),
    Layer(OF_RETURNS[CUTS], "cut marks on returns and jambs", 1, 0.25),
    Layer(OF_RETURNS[MARKS], "piece marks on returns and jambs", 7, 0.18),
    Layer(PATTERN, "hatching", 8, 0.13),
    Layer(HIDDEN, "hidden edges", 8, 0.18, "HIDDEN"),
    Layer(LEVELS, "centre lines, datum and levels", 8, 0.18, "CENTER"),
    Layer(OTHERS, "existing work and work by others", 8, 0.18, "PHANTOM"),
    Layer(FLOOR, "floor beyond the hearth, by others", 8, 0.13),
    Layer(SECTION, "material cut by a section", 7, 0.50),
    Layer(DIMENSIONS, "dimensions", 7, 0.18),
    Layer(NOTES, "notes", 7, 0.25),
    Layer(TABLES, "tables", 7, 0.25),
    Layer(BORDER, "title block and border", 7, 0.50),
    Layer(MATCH, "match lines", 7, 0.70, "PHANTOM"),
    Layer(UNPRINTED, "not printed", 9, 0.13, "CONTINUOUS", plots=False),
    Layer(VIEWPORTS, "viewport frames, not printed", 9, 0.13, plots=False),
)
"""National CAD Standard form; the codes MSNR, CORN, CUTM, RETN and OTHR are our own."""
