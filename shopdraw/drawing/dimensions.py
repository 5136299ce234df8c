"""Chains of positions, and the strings of dimensions made from them.

In:  exact positions along an axis.   Out: `Chain`, `Measure`s.
Frame: the drawing's own lengths, full size.

Positions are rounded, once, for display; a figure is the difference of two rounded
positions. So the figures of a chain add up to its overall figure, as printed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from shopdraw.drawing.ink import Axis, Measure, Point, Words
from shopdraw.drawing.lettering import Box, box_of, overlap, width_of
from shopdraw.lengths import Lengths, format_length, rounded, settled


@dataclass(frozen=True)
class Chain:
    """Positions in order along an axis, from a first one on.

    Attributes:
        positions: exact, rising, at least two.
        axis: "x" or "y".
        lengths: what they are measured in, and so how they are rounded.
    """

    positions: tuple[Fraction, ...]
    axis: Axis
    lengths: Lengths

    @property
    def shown(self) -> tuple[Fraction, ...]:
        """The positions as rounded for display, from the first one."""
        return tuple(
            rounded(settled(x - self.positions[0]), self.lengths)
            for x in self.positions
        )

    @property
    def figures(self) -> tuple[Fraction, ...]:
        """What is printed between neighbours."""
        return tuple(b - a for a, b in pairwise(self.shown))

    @property
    def overall(self) -> Fraction:
        """What is printed from end to end."""
        return self.shown[-1]

    def words(self) -> tuple[str, ...]:
        """Return the figures as lettered."""
        return tuple(format_length(x, self.lengths) for x in self.figures)


@dataclass(frozen=True)
class StringStyle:
    """How a string of dimensions is set out; sizes on paper.

    Attributes:
        layer: of the dimensions.
        height: of the lettering.
        scale: of the drawing.
        outward: +1 where the string lies on the greater side of what it measures.
        upright: figures stand level, beside the line (for narrow steps along y).
    """

    layer: str
    height: float
    scale: float
    outward: int = 1
    upright: bool = False


def string_of_dimensions(
    chain: Chain, line_at: float, starts_at: float, style: StringStyle
) -> tuple[Measure, ...]:
    """Set a chain out as a string of dimensions.

    Args:
        chain: what is measured.
        line_at: the other coordinate of the dimension line.
        starts_at: the other coordinate that the extension lines start from.
        style: lettering and side.

    Returns:
        A dimension a figure. One too wide for its gap stands further out, as little
        as keeps it clear of its neighbours.
    """
    taken: list[Box] = []
    measures: dict[int, Measure] = {}
    spans = list(zip(pairwise(chain.positions), chain.words(), strict=True))
    # A figure that fits stands above a level line, and to the left of an upright one.
    usual = 1 if chain.axis == "x" else -1
    inside = replace(style, outward=usual, upright=False)
    ends = (line_at, starts_at)
    for place, (span, words) in enumerate(spans):
        if _fits(float(span[1] - span[0]), words, style):
            taken.append(_letter_box(span, chain.axis, line_at, words, inside, 0))
            measures[place] = _measure(chain.axis, span, ends, words, style, None)
    first = 1 if style.outward == usual and not style.upright else 0
    for place, (span, words) in enumerate(spans):
        if place in measures:
            continue
        boxes = (
            (level, _letter_box(span, chain.axis, line_at, words, style, level))
            for level in range(first, MOST_LEVELS)
        )
        level, box = next(
            (level, box)
            for level, box in boxes
            if level == MOST_LEVELS - 1 or not any(overlap(box, x) for x in taken)
        )
        taken.append(box)
        measures[place] = _measure(chain.axis, span, ends, words, style, level)
    return tuple(measures[place] for place in range(len(spans)))


MOST_LEVELS = 12
"""So many rows of figures may stand out from a line; the last takes what is left."""


def levels_used(measures: tuple[Measure, ...], line_at: float, scale: float) -> float:
    """Return how far, on paper, the figures of a string stand out from its line."""
    out = 0.0
    for measure in measures:
        if measure.letter is not None:
            across = measure.letter[1] if measure.axis == "x" else measure.letter[0]
            half = measure.height_on_paper / 2
            if measure.axis == "y":
                half = width_of(measure.words, measure.height_on_paper) / 2
                half = half if measure.upright else measure.height_on_paper / 2
            out = max(out, abs(across - line_at) / scale + half)
        else:
            out = max(out, 2 * measure.height_on_paper)
    return out


def _fits(gap: float, words: str, style: StringStyle) -> bool:
    if style.upright:
        return False
    return width_of(words, style.height) * 1.1 <= gap / style.scale


def _letter_at(
    ends: tuple[Fraction, Fraction],
    axis: Axis,
    line_at: float,
    words: str,
    style: StringStyle,
    level: int,
) -> Point:
    """Return the middle of the words at a level: 0 is the place beside the line."""
    middle = float(ends[0] + ends[1]) / 2
    gap = 1.1 * style.height
    if style.upright:
        column = width_of('00/00"', style.height) + gap
        out = gap + level * column + width_of(words, style.height) / 2
    else:
        out = gap + level * 1.7 * style.height
    across = line_at + style.outward * out * style.scale
    return (middle, across) if axis == "x" else (across, middle)


def _letter_box(
    ends: tuple[Fraction, Fraction],
    axis: Axis,
    line_at: float,
    words: str,
    style: StringStyle,
    level: int,
) -> Box:
    at = _letter_at(ends, axis, line_at, words, style, level)
    turned = 90.0 if axis == "y" and not style.upright else 0.0
    lettered = Words(style.layer, at, words, style.height, "centre", "middle", turned)
    left, bottom, right, top = box_of(lettered, style.scale)
    clear = 0.05 * style.height * style.scale
    return (left - clear, bottom - clear, right + clear, top + clear)


def _measure(
    axis: Axis,
    span: tuple[Fraction, Fraction],
    ends: tuple[float, float],
    words: str,
    style: StringStyle,
    level: int | None,
) -> Measure:
    line_at, starts_at = ends
    a, b = float(span[0]), float(span[1])
    start, end = ((a, starts_at), (b, starts_at))
    if axis == "y":
        start, end = (starts_at, a), (starts_at, b)
    letter = None
    if level is not None:
        letter = _letter_at(span, axis, line_at, words, style, level)
    return Measure(
        layer=style.layer,
        start=start,
        end=end,
        axis=axis,
        line_at=line_at,
        words=words,
        height_on_paper=style.height,
        letter=letter,
        upright=style.upright,
        has_leader=bool(level) and (level or 0) > 1,
    )


def strings_close(chains: Iterator[Chain]) -> bool:
    """Whether the printed figures of every chain add up to its printed overall."""
    return all(sum(chain.figures, Fraction(0)) == chain.overall for chain in chains)
