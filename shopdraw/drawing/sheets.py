"""Compose sheets: put drawings in their places, beside border and title block.

In:  `Drawing`s, the ink of border and title block.   Out: `Sheet`s.
Frame: paper lengths, origin at the lower left corner of the sheet, y up.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Ink, Point
from shopdraw.drawing.lettering import Box
from shopdraw.lengths import Lengths

Practice = Literal["us", "iso"]
SCALES: dict[Practice, tuple[tuple[float, str], ...]] = {
    "us": (
        (1, "FULL SIZE"),
        (2, "HALF SIZE"),
        (4, '3" = 1\'-0"'),
        (8, '1 1/2" = 1\'-0"'),
        (12, '1" = 1\'-0"'),
        (16, '3/4" = 1\'-0"'),
        (24, '1/2" = 1\'-0"'),
        (32, '3/8" = 1\'-0"'),
        (48, '1/4" = 1\'-0"'),
        (96, '1/8" = 1\'-0"'),
    ),
    "iso": (
        (1, "1:1"),
        (2, "1:2"),
        (5, "1:5"),
        (10, "1:10"),
        (20, "1:20"),
        (50, "1:50"),
        (100, "1:100"),
    ),
}
"""Largest first: the scales of US practice (second-hand), and the recommended ones of
ISO 5455 (read in a reproduced table)."""

NAME_LONG = 40
"""How many letters of its title a sheet's file has in its name, at the most."""


@dataclass(frozen=True)
class PaperStyle:
    """The sizes on paper that a whole set shares, in its own lengths.

    Attributes:
        text: general lettering (3/32 in, 2.5 mm).
        title: titles of views (5/32 in, 3.5 mm).
        small: fine print on pages that are no sheets, never a figure on a sheet.
        margin: from the paper's edge to the border.
        strip: the title block's width, at the right.
        foot: the title block's height on an upright sheet, across its foot.
    """

    text: float
    title: float
    small: float
    margin: float
    strip: float
    foot: float


STYLES: dict[Lengths, PaperStyle] = {
    "in": PaperStyle(0.09375, 0.15625, 0.0625, margin=0.5, strip=2.75, foot=1.875),
    "mm": PaperStyle(2.5, 3.5, 1.8, margin=10.0, strip=70.0, foot=48.0),
}


@dataclass(frozen=True)
class Placement:
    """Where a drawing goes on its sheet; every writer uses it.

    Attributes:
        scale: full-size lengths per paper length.
        origin: the point of the drawing that goes to `on_paper` and `in_model`.
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
        """Move a point of the drawing to its place on the sheet."""
        return (
            self.on_paper[0] + (point[0] - self.origin[0]) / self.scale,
            self.on_paper[1] + (point[1] - self.origin[1]) / self.scale,
        )

    def to_model(self, point: Point) -> Point:
        """Move a point of the drawing to its place in model space."""
        return (
            self.in_model[0] + point[0] - self.origin[0],
            self.in_model[1] + point[1] - self.origin[1],
        )


@dataclass(frozen=True)
class PlacedDrawing:
    """A drawing, and where it goes on its sheet."""

    drawing: Drawing
    placement: Placement

    def with_ink(self, ink: Iterable[Ink]) -> PlacedDrawing:
        """Return other ink in the same place."""
        return replace(self, drawing=replace(self.drawing, ink=tuple(ink)))


BEYOND: dict[str, float] = {"in": 0.02, "mm": 0.5}
"""A line at a drawing's edge is half a pen outside it, and must not be cut off."""


def window_of(placed: PlacedDrawing, lengths: str) -> Box:
    """Return the window through which a drawing is seen on its sheet."""
    left, bottom, right, top = placed.placement.window
    more = BEYOND[lengths]
    return left - more, bottom - more, right + more, top + more


@dataclass(frozen=True)
class Sheet:
    """One sheet of the set.

    Attributes:
        number: from 1.
        name: for the file, `A-201-front-elevation`; of another paper `story-pole`.
        title: as lettered.
        width, height: of the paper, in the job's lengths.
        lengths: "in" or "mm".
        paper: the standard name of its paper, `ARCH C`; empty for a page of its own.
        drawings: the views and tables, in drawing order.
        paper_ink: border, title block, scale bar and stamps, in paper lengths.
        shows: the names of all that is on it; by each of them it can be asked for.
        identity: its number as lettered, `A-201`.
        views: the numbers of the views that are drawn on it.
    """

    number: int
    name: str
    title: str
    width: float
    height: float
    lengths: Lengths
    drawings: tuple[PlacedDrawing, ...]
    paper_ink: tuple[Ink, ...]
    shows: tuple[str, ...] = ()
    paper: str = ""
    identity: str = ""
    views: tuple[int, ...] = ()


def file_name(identity: str, title: str) -> str:
    """Return what a sheet's files are called: its number, and what its title says.

    Lower case letters, figures and hyphens; a title that is long is cut after a word,
    because the number alone tells sheets apart.
    """
    words = re.findall(r"[a-z0-9]+", title.lower().replace("'", ""))
    while len(words) > 1 and (len("-".join(words)) > NAME_LONG or words[-1] == "and"):
        words.pop()
    number = identity.zfill(2) if identity.isdigit() else identity
    return "-".join((number, *words))


def content_of(width: float, height: float, style: PaperStyle) -> Box:
    """Return the part of a sheet that drawings may use."""
    gap = style.margin / 2
    if width < height:
        # On a small sheet every bit counts: half the margin, and less of a gap.
        edge = 0.8 * style.margin
        return edge, edge + style.foot, width - edge, height - edge
    return (
        style.margin + gap,
        style.margin + gap,
        width - style.margin - style.strip - gap,
        height - style.margin - gap,
    )


def scale_name(scale: float, practice: Practice) -> str:
    """Return how a scale is lettered."""
    return dict(SCALES[practice]).get(scale, f"1:{scale:g}")


def size_on_paper(drawing: Drawing) -> tuple[float, float]:
    """Return the width and height of a drawing on the sheet."""
    left, bottom, right, top = extent_of(drawing)
    return ((right - left) / drawing.scale, (top - bottom) / drawing.scale)


def goes_into(size: tuple[float, float], box: Box) -> bool:
    """Whether something of a width and height fits a box."""
    left, bottom, right, top = box
    return size[0] <= right - left + 1e-9 and size[1] <= top - bottom + 1e-9


def place(drawing: Drawing, box: Box, main_scale: float) -> PlacedDrawing:
    """Place a drawing in the middle of a box on the sheet.

    Raises:
        ValueError: it does not fit; whoever chose its scale should have checked.
    """
    left, bottom, _, _ = extent_of(drawing)
    width, height = size_on_paper(drawing)
    if not goes_into((width, height), box):
        message = f"{drawing.name} at {drawing.scale:g} does not fit its place"
        raise ValueError(message)
    x = (box[0] + box[2] - width) / 2
    y = (box[1] + box[3] - height) / 2
    placement = Placement(
        scale=drawing.scale,
        origin=(left, bottom),
        on_paper=(x, y),
        in_model=(x * main_scale, y * main_scale),
        window=(x, y, x + width, y + height),
    )
    return PlacedDrawing(drawing, placement)


def compose_sheet(
    number: int,
    name: str,
    title: str,
    size: tuple[float, float],
    lengths: Lengths,
    places: tuple[tuple[Drawing, Box], ...],
    paper_ink: tuple[Ink, ...],
    shows: tuple[str, ...] = (),
    paper: str = "",
) -> Sheet:
    """Place drawings in their boxes on one sheet, with the ink of its frame.

    Model space is laid out like the paper, at the smallest scale on the sheet, so that
    drawings do not overlap there either.
    """
    main_scale = max((drawing.scale for drawing, _ in places), default=1.0)
    return Sheet(
        number=number,
        name=name,
        title=title,
        width=size[0],
        height=size[1],
        lengths=lengths,
        drawings=tuple(place(drawing, box, main_scale) for drawing, box in places),
        paper_ink=paper_ink,
        shows=shows or (name,),
        paper=paper,
    )
