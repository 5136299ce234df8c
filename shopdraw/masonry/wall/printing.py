"""Round the shape of a piece to the figures that are printed of it.

In:  `Outline`s that are sawn as one, the lengths.   Out: the same, as printed; a place.
Frame: as the outlines; each place is rounded from the end that it is measured from.

A piece and its mirror image print the same figures, and a piece that is its own mirror
image prints the same on both sides. So places are measured from one end, the same for a
piece and its mirror image, or of a symmetric piece from the end that is nearer. Every
string still adds up, because both ends are printed places themselves.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction

from shopdraw.lengths import Lengths, half_marked, nearest_multiple
from shopdraw.masonry.wall.layout import Outline

SAME = Fraction(1, 1024)
"""Clipping moves a corner by less than this, in inches as in millimetres."""
FINE = Fraction(1, 4096)
"""Places are put on a grid so fine before they are rounded, so that halves round alike.
"""


def as_printed(shapes: Iterable[Outline], lengths: Lengths) -> tuple[Outline, ...]:
    """Return shapes that are sawn as one with their corners where the figures say.

    Their left end and their foot stay where they are: all is printed from there. Where
    two corners would print as one, nothing is moved.
    """
    sawn = tuple(shapes)
    if not sawn:
        return ()
    along = place_along(sawn, lengths)
    low = min(shape.bottom for shape in sawn)
    printed = tuple(
        replace(
            shape,
            points=tuple(
                (along(x), low + _rounded(y - low, lengths)) for x, y in shape.points
            ),
        )
        for shape in sawn
    )
    is_whole = all(a != b for shape in printed for a, b in shape.sides())
    return printed if is_whole else sawn


def place_along(
    shapes: tuple[Outline, ...], lengths: Lengths
) -> Callable[[Fraction], Fraction]:
    """Return what says where a place along shapes that are sawn as one is printed."""
    left = min(shape.left for shape in shapes)
    wide = max(shape.right for shape in shapes) - left
    shown = _rounded(wide, lengths)
    spots = sorted(x - left for shape in shapes for x, _ in shape.points)
    mirrored = sorted(wide - x for x in spots)
    apart = [b - a for a, b in zip(spots, mirrored, strict=True) if abs(b - a) > SAME]

    def place(x: Fraction) -> Fraction:
        off = x - left
        is_far = apart[0] < 0 if apart else 2 * off > wide + SAME
        if is_far:
            return left + shown - _rounded(wide - off, lengths)
        return left + _rounded(off, lengths)

    return place


def _rounded(value: Fraction, lengths: Lengths) -> Fraction:
    return half_marked(nearest_multiple(value, FINE), lengths)
