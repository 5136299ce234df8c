"""Make strings of dimensions from chains of positions.

In:  exact positions along an axis.   Out: `Measure`s.
Frame: the drawing's own lengths, full size.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache, partial
from itertools import pairwise, product
from typing import NamedTuple

from shopdraw.drawing.chains import EQ, Chain
from shopdraw.drawing.ink import Axis, Measure, Point
from shopdraw.drawing.lettering import Box, box_of, overlap, width_of
from shopdraw.drawing.measures import (
    NOTHING,
    Line,
    cross,
    leader_of,
    letter_of,
    runs_through,
)


@dataclass(frozen=True)
class StringStyle:
    """How a string of dimensions is set out; its sizes are on paper.

    Attributes:
        layer: of the dimensions.
        height: of the lettering.
        scale: of the drawing.
        outward: +1 if the string lies above or right of what it measures, else -1.
        upright: all figures stand level, beside the line (for narrow steps along y);
            of others only those that are longer than their gap along y.
    """

    layer: str
    height: float
    scale: float
    outward: int = 1
    upright: bool = False


@lru_cache(maxsize=1024)
def string_of_dimensions(
    chain: Chain,
    line_at: float,
    starts_at: float,
    style: StringStyle,
    lettered: tuple[Box, ...] = (),
) -> tuple[Measure, ...]:
    """Set a chain out as a string of dimensions.

    Args:
        chain: what is measured.
        line_at: the other coordinate of the dimension line.
        starts_at: the other coordinate that the extension lines start from.
        style: lettering and side.
        lettered: where other lettering stands that a figure beside its gap, and its
            leader, must keep clear of.

    Returns:
        One dimension for each figure. A figure too wide for its gap stands further out,
        just as far as keeps it clear of its neighbours. It is kept: while sheets are
        tried and held against what they show, the same string is set out many times.
    """
    # A figure that fits stands above a level line, and to the left of an upright one.
    usual = 1 if chain.axis == "x" else -1
    first = 1 if style.outward == usual and not style.upright else 0
    ends = (line_at, starts_at)
    set_out, is_clear = _set_out(chain, ends, style, lettered, first)
    if not (is_clear or first):
        # Right beside the line a figure is in the way of its neighbours' leaders.
        further, is_clear = _set_out(chain, ends, style, lettered, 1)
        set_out = further if is_clear else set_out
    return set_out


def _set_out(
    chain: Chain,
    ends: tuple[float, float],
    style: StringStyle,
    lettered: tuple[Box, ...],
    first: int,
) -> tuple[tuple[Measure, ...], bool]:
    """Set a chain out with no figure nearer than a level, but those that fit.

    Returns:
        One dimension for each figure, and whether no leader runs through a figure.
    """
    taken = list(lettered)
    leaders: list[Line] = []
    measures: dict[int, Measure] = {}
    spans = list(zip(pairwise(chain.positions), chain.words(), strict=True))
    for place, (span, words) in enumerate(spans):
        if _fits(float(span[1] - span[0]), words, style):
            measures[place] = _measure(chain, span, ends, words, style, None)
            taken.append(_letter_box(measures[place], style))
    middle = (chain.positions[0] + chain.positions[-1]) / 2
    # Longer than its gap, along an upright line a figure would reach past it.
    set_so, is_clear = replace(style, upright=chain.axis == "y"), True
    # From the middle outwards, so that what is crowded at both ends is set out alike;
    # but a figure that fits its gap comes first, or its place is lettered with another
    # and read as its own; and what is EQ, so that like gaps are lettered alike.
    first_come = [
        (not words.startswith(EQ), not _is_high((span, words), set_so),
         _off_middle(span, middle), n)
        for n, (span, words) in enumerate(spans)
    ]  # fmt: skip
    for *_, place in sorted(first_come):
        span, words = spans[place]
        if place in measures:
            continue
        way = -1 if chain.axis == "x" and sum(span) < 2 * middle else 1
        near = first if set_so == style else 0
        at = partial(_measure, chain, span, ends, words, set_so)
        chosen = _nearest(at, (near, way), set_so, taken, leaders)
        if chain.axis == "x" and _leads_out(chosen, chain):
            chosen = _within(at, chain, style, taken, leaders) or chosen
        is_clear = is_clear and _is_clear(chosen, set_so, taken, leaders)
        measures[place] = chosen
        taken.append(_letter_box(chosen, set_so))
        leaders += leader_of(chosen, style.scale)
    return tuple(measures[place] for place in range(len(spans))), is_clear


def _nearest(
    at: Callable[[Row], Measure],
    start: tuple[int, int],
    style: StringStyle,
    taken: list[Box],
    leaders: list[Line],
) -> Measure:
    """Return a figure in the nearest clear row; else one that overlaps no other.

    Args:
        at: sets the figure out in a row.
        start: the nearest level that it may have, and the side that is tried first.
        style: of the string.
        taken: other lettering.
        leaders: of other figures.
    """
    first, way = start
    near_by = UP_OR_DOWN if style.upright else ASIDE
    for is_clear, asides, is_led, most in (
        (partial(_crosses_none, beside=APART), near_by, True, NEAR_LEVELS),
        (_crosses_none, near_by, True, NEAR_LEVELS),
        (partial(_crosses_none, beside=APART), near_by, True, MOST_LEVELS),
        (_crosses_none, near_by, True, MOST_LEVELS),
        (_crosses_none, near_by, False, MOST_LEVELS),
        (_crosses_none, FURTHER_ASIDE, False, MOST_LEVELS),
        (_is_clear, near_by, False, MOST_LEVELS),
        (_is_clear, FURTHER_ASIDE, False, MOST_LEVELS),
        (_is_off, near_by, False, MOST_LEVELS),
    ):
        for row in _rows(range(first, most), way, asides, style):
            if is_led and row.level and not row.has_leader:
                # Off its line with none it reads as its neighbour's.
                continue
            if is_clear(each := at(row), style, taken, leaders):
                return each
    *_, last = _rows(range(first, MOST_LEVELS), way, near_by, style)
    return at(last)


def _within(
    at: Callable[[Row], Measure],
    chain: Chain,
    style: StringStyle,
    taken: list[Box],
    leaders: list[Line],
) -> Measure | None:
    """Return a figure in the nearest clear row between the ends of its string, if any.

    Right beside the line, too, if it is aside from its own gap: at the ends of the
    string other extension lines go on, and a leader had better not cross them.
    """
    is_clear = partial(_crosses_none, beside=APART)
    for level, aside in product(range(MOST_WITHIN), FINELY_ASIDE):
        each = at(Row(level, aside, has_leader=True))
        off = width_of(each.words, style.height) / 2 / style.height + 1.5
        if (
            (level or abs(aside) > off)
            and _is_within(each, chain, style)
            and is_clear(each, style, taken, leaders)
        ):
            return each
    return None


def _leads_out(measure: Measure, chain: Chain) -> bool:
    """Whether a figure's leader goes out over an end of its level string."""
    x = measure.letter[0] if measure.letter else (measure.start[0] + measure.end[0]) / 2
    return not float(chain.positions[0]) < x < float(chain.positions[-1])


def _is_within(measure: Measure, chain: Chain, style: StringStyle) -> bool:
    """Whether a figure stands between the ends of its level string."""
    left, _, right, _ = _letter_box(measure, style)
    first, last = (float(chain.positions[n]) for n in (0, -1))
    return first < left and right < last


def _off_middle(span: tuple[Fraction, Fraction], middle: Fraction) -> Fraction:
    """Return how far a span's own middle is off the middle of its string, twice."""
    return abs(sum(span) - 2 * middle)


def _is_high(span: tuple[tuple[Fraction, Fraction], str], style: StringStyle) -> bool:
    """Whether a level figure beside its gap is no higher than the gap."""
    (start, end), _ = span
    return style.upright and float(end - start) / style.scale > style.height - NOTHING


APART = 0.5
"""How much wider than a hair the room between figures in one row is, in heights of
lettering: with less, two figures read as one."""
MOST_LEVELS = 12
"""How many rows of figures may stand off a line; the last takes whatever is left."""
NEAR_LEVELS = 3
"""How many of them are near: closer together is better than further out."""
ASIDE = (0.0, 2.5, -2.5, 5.0, -5.0)
"""How far to one side a figure on a leader may stand, in heights of lettering."""
UP_OR_DOWN = (0.0, 1.25, -1.25, 2.5, -2.5, 5.0, -5.0)
"""The same in a column of level figures: they are less high than wide."""
FURTHER_ASIDE = tuple(sign * 2.5 * n for n in range(3, 13) for sign in (1, -1))
"""The same where no place as near as that is clear."""
MOST_WITHIN = 4
"""How few rows it may take to stand between the ends of a string."""
FINELY_ASIDE = tuple(sign * 0.5 * n for n in range(9) for sign in (1, -1))
"""How far to one side a figure is tried there."""


def levels_used(measures: tuple[Measure, ...], line_at: float, scale: float) -> float:
    """Return how far, on paper, the figures of a string stand off its line."""
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
    # Half a letter's height clears the extension lines at either side.
    return width_of(words, style.height) + 0.5 * style.height <= gap / style.scale


class Row(NamedTuple):
    """Where a figure stands: how far out, how far to one side, with a leader or not."""

    level: int
    aside: float
    has_leader: bool


def _rows(
    levels: range, way: int, asides: tuple[float, ...], style: StringStyle
) -> Iterator[Row]:
    """Yield where a figure may stand, the nearest first.

    Right beside its line it is not moved aside, and nowhere without a leader.
    """
    for level in levels:
        for aside in asides if level else (0.0,):
            for has_leader in _leaders(level, style):
                if has_leader or not aside:
                    yield Row(level, way * aside, has_leader)


def _leaders(level: int, style: StringStyle) -> tuple[bool, ...]:
    """Return whether a figure at a level has a leader; both answers if either will do.

    Right beside its line it needs none. A column of level figures is not near its line,
    so the first column has one if it can.
    """
    if not level:
        return (False,)
    return (True, False) if style.upright and level == 1 else (True,)


def _letter_at(
    ends: tuple[Fraction, Fraction],
    axis: Axis,
    line_at: float,
    words: str,
    style: StringStyle,
    row: Row,
) -> Point:
    """Return the middle of the words at a level; level 0 is right beside the line."""
    middle = float(ends[0] + ends[1]) / 2 + row.aside * style.height * style.scale
    # Extension lines and strokes run past the line, this side too.
    gap = 1.35 * style.height
    if style.upright:
        column = width_of('00/00"', style.height) + gap
        out = gap + row.level * column + width_of(words, style.height) / 2
    else:
        out = gap + row.level * 1.7 * style.height
    across = line_at + style.outward * out * style.scale
    return (middle, across) if axis == "x" else (across, middle)


def _letter_box(measure: Measure, style: StringStyle) -> Box:
    left, bottom, right, top = box_of(letter_of(measure, style.scale), style.scale)
    clear = 0.05 * style.height * style.scale
    return (left - clear, bottom - clear, right + clear, top + clear)


def _is_off(
    measure: Measure,
    style: StringStyle,
    taken: list[Box],
    _: list[Line],
    beside: float = 0.0,
) -> bool:
    """Whether a figure is clear of the figures already there, end to end as well.

    In a column so many heights are left from one to the next.
    """
    left, bottom, right, top = _letter_box(measure, style)
    apart = APART * style.height * style.scale
    is_level = measure.axis == "x" or measure.upright
    over = beside * style.height * style.scale if measure.upright else 0.0
    wide, high = (apart, over) if is_level else (0.0, apart)
    box = (left - wide, bottom - high, right + wide, top + high)
    return not any(overlap(box, other) for other in taken)


def _is_clear(
    measure: Measure,
    style: StringStyle,
    taken: list[Box],
    leaders: list[Line],
    beside: float = 0.0,
) -> bool:
    """Whether no leader passes through a figure, or so many heights beside it."""
    wide, box = beside * style.height * style.scale, _letter_box(measure, style)
    own = product(leader_of(measure, style.scale), taken)
    return _is_off(measure, style, taken, leaders, beside / 2) and not any(
        runs_through(line, (left - wide, bottom, right + wide, top))
        for line, (left, bottom, right, top) in (*own, *product(leaders, [box]))
    )


def _crosses_none(
    measure: Measure,
    style: StringStyle,
    taken: list[Box],
    leaders: list[Line],
    beside: float = 0.0,
) -> bool:
    """Whether a figure is clear, and its leader crosses no other either."""
    own = leader_of(measure, style.scale)
    is_alone = not any(cross(line, other) for line in own for other in leaders)
    return is_alone and _is_clear(measure, style, taken, leaders, beside)


def _measure(
    chain: Chain,
    span: tuple[Fraction, Fraction],
    ends: tuple[float, float],
    words: str,
    style: StringStyle,
    row: Row | None,
) -> Measure:
    (line_at, starts_at), axis = ends, chain.axis
    a, b = float(span[0]), float(span[1])
    start, end = ((a, starts_at), (b, starts_at))
    if axis == "y":
        start, end = (starts_at, a), (starts_at, b)
    letter = None
    if row is not None:
        letter = _letter_at(span, axis, line_at, words, style, row)
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
        has_leader=row is not None and row.has_leader,
        is_fine=chain.is_fine,
        is_equal=words.startswith(EQ),
    )
