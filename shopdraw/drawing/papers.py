"""Make a page by hand, of parts that are each drawn in their own measure.

In:  ink, the page's size.   Out: a `Sheet` of one drawing.
Frame: paper lengths, origin at the lower left corner of the page, y up.
"""

from __future__ import annotations

from collections.abc import Iterable

from shopdraw.drawing.ink import Drawing, Ink
from shopdraw.drawing.sheets import PlacedDrawing, Placement, Sheet
from shopdraw.lengths import Lengths

Part = tuple[tuple[Ink, ...], float]
"""The ink of a part, and how high it is."""


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
