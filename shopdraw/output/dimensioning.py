"""Choose the style by which a dimension draws itself, and say what a style letters.

In:  a dimension's length, words and ends.   Out: a style, and words of its own.
Frame: the drawing's own lengths.

A program that draws a dimension anew letters it by its style from what it measures. So
a figure has the style that gives just its words; where none does, because a string is
rounded by positions or says EQ, the words are typed over. What its line ends in is the
style's, too.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor
from typing import Literal

from shopdraw.drawing.ink import Ends
from shopdraw.lengths import Lengths

ARCHITECTURAL, DECIMAL = 4, 2
"""$LUNITS and DIMLUNIT."""
UNSURE = 1e-4
"""As near as this, in steps, to the middle between two figures a program may take
either."""


@dataclass(frozen=True)
class LetteringStyle:
    """What decides the words and the ends of a dimension, by the names of DXF.

    Attributes:
        name: of the dimension style.
        unit: DIMLUNIT, feet and inches with fractions, or decimal.
        places: DIMDEC; of a fraction the power of two that is its finest part.
        step: DIMRND, what a length is rounded to.
        zeros: DIMZIN; 3 leaves out no feet, 8 leaves out noughts at the end.
        ends: strokes, which is a DIMTSZ, or arrows, which is a block and a DIMASZ.
    """

    name: str
    unit: int
    places: int
    step: float
    zeros: int
    ends: Ends | Literal["other"] = "stroke"


STYLES: dict[Lengths, tuple[LetteringStyle, ...]] = {
    "in": (
        LetteringStyle("DIMENSIONS", ARCHITECTURAL, 4, 1 / 16, 3),
        LetteringStyle("DIMENSIONS-32", ARCHITECTURAL, 5, 1 / 32, 3),
    ),
    "mm": (
        LetteringStyle("DIMENSIONS", DECIMAL, 0, 1.0, 8),
        LetteringStyle("DIMENSIONS-HALF", DECIMAL, 1, 0.5, 8),
    ),
}
"""The usual one first, then the finer one; both end in strokes."""


def chosen(
    words: str, length: float, lengths: Lengths, ends: Ends = "stroke"
) -> tuple[LetteringStyle, str]:
    """Return the style that gives a figure, and the words to type over: mostly none.

    Args:
        words: as printed.
        length: as measured between the dimension's points.
        lengths: what it is measured in.
        ends: what the dimension line is drawn to end in.
    """
    styles = [ending(style, ends) for style in STYLES[lengths]]
    for style in styles:
        if lettered(length, style) == words:
            return style, ""
    return styles[0], words


def ending(style: LetteringStyle, ends: Ends) -> LetteringStyle:
    """Return the style whose lines end so."""
    if ends == "stroke":
        return style
    return replace(style, name=f"{style.name}-ARROWS", ends=ends)


def lettered(length: float, style: LetteringStyle) -> str:
    """Return what a style letters of a length; nothing where it could be either of two.

    Meanings of DIMLUNIT, DIMDEC, DIMRND and DIMZIN from memory.
    """
    if not style.step:
        return ""
    parts = length / style.step
    if abs(parts - floor(parts) - 0.5) < UNSURE:
        return ""
    value = floor(parts + 0.5) * Fraction(style.step)
    if style.unit == DECIMAL:
        words = f"{float(value):.{style.places}f}"
        return words.rstrip("0").rstrip(".") if "." in words else words
    feet, inches = divmod(value, 12)
    whole, part = divmod(inches, 1)
    figures = [str(whole)] if whole or not part or feet else []
    figures += [f"{part.numerator}/{part.denominator}"] if part else []
    return f"{feet}'-" * bool(feet) + " ".join(figures) + '"'
