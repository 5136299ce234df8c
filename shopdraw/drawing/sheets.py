"""Compose drawings onto sheets: paper, scale, place, border, title block.

In:  `Drawing`s and what the title block says.   Out: `Sheet`s.
Frame: paper lengths, origin at the lower left corner of the sheet, y up.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.drawing.ink import Drawing, Ink, Point


@dataclass(frozen=True)
class Placement:
    """Where a drawing goes: one mapping that both writers use.

    Attributes:
        scale: full-size lengths per paper length.
        origin: the drawing's point that is carried to `on_paper` and `in_model`.
        on_paper: that point on the sheet.
        in_model: that point in the DXF's model space, full size.
        window: the drawing's extents on the sheet, (left, bottom, right, top); the
            DXF's viewport, and nothing of the drawing lies outside it.
    """

    scale: float
    origin: Point
    on_paper: Point
    in_model: Point
    window: tuple[float, float, float, float]

    def to_paper(self, point: Point) -> Point:
        """Carry a point of the drawing onto the sheet."""
        return (
            self.on_paper[0] + (point[0] - self.origin[0]) / self.scale,
            self.on_paper[1] + (point[1] - self.origin[1]) / self.scale,
        )

    def to_model(self, point: Point) -> Point:
        """Carry a point of the drawing into model space."""
        return (
            self.in_model[0] + point[0] - self.origin[0],
            self.in_model[1] + point[1] - self.origin[1],
        )


@dataclass(frozen=True)
class PlacedDrawing:
    """A drawing and where it goes on its sheet."""

    drawing: Drawing
    placement: Placement


@dataclass(frozen=True)
class Sheet:
    """One sheet of the set.

    Attributes:
        number: from 1.
        name: for the file, `elevation`.
        title: as lettered.
        width, height: of the paper, in the job's lengths.
        lengths: "in" or "mm".
        drawings: the views and tables, in drawing order.
        paper_ink: border, title block, scale bar and stamps, in paper lengths.
    """

    number: int
    name: str
    title: str
    width: float
    height: float
    lengths: str
    drawings: tuple[PlacedDrawing, ...]
    paper_ink: tuple[Ink, ...]
