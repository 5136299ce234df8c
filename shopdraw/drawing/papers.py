"""Make a page by hand: move parts, drawn in their own measure, to their places.

In:  `Mark`s, the page's size.   Out: the marks moved; a `Sheet` of one drawing.
Frame: paper lengths, origin at the lower left corner of the page, y up.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.sheets import PlacedDrawing, Placement, Sheet
from shopdraw.lengths import Lengths

Mark = Stroke | Words
Part = tuple[list[Mark], float]
"""The ink of a part, and how high it is."""


def carried(mark: Mark, at: Point, unit: float = 1.0) -> Mark:
    """Move a mark to its place, and scale it, lettering too."""

    def place(point: Point) -> Point:
        return point[0] * unit + at[0], point[1] * unit + at[1]

    if isinstance(mark, Words):
        height = mark.height_on_paper * unit
        return replace(mark, at=place(mark.at), height_on_paper=height)
    return replace(mark, points=tuple(place(point) for point in mark.points))


def page_of(
    ink: Iterable[Ink],
    names: tuple[str, str],
    size: tuple[float, float],
    lengths: Lengths,
    *,
    number: int = 1,
    scale: float = 1.0,
) -> Sheet:
    """Return a page that is one drawing.

    Args:
        ink: all of it, from the page's lower left corner, at the scale.
        names: the sheet's name and its title; a further page says which.
        size: the page's width and height.
        lengths: what it is measured in.
        number: of the page, from 1.
        scale: lengths of the ink to one on paper.
    """
    name, title = names
    if number > 1:
        name, title = f"{name}-{number}", f"{title} ({number})"
    nowhere = (0.0, 0.0)
    placement = Placement(scale, nowhere, nowhere, nowhere, (*nowhere, *size))
    placed = PlacedDrawing(Drawing(name, "", scale, tuple(ink)), placement)
    return Sheet(number, name, title, *size, lengths, (placed,), ())
