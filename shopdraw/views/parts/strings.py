"""Stack strings of dimensions below a view, each with its name and what is EQ in it.

In:  positions by string, nearest first.   Out: ink.
Frame: full size; x from the view's left end, the view's foot at y = 0 or as given.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import chain as joined
from itertools import pairwise

from shopdraw.drawing import layers
from shopdraw.drawing.chains import Chain
from shopdraw.drawing.dimensions import (
    StringStyle,
    levels_used,
    string_of_dimensions,
)
from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Ink, Point, Words
from shopdraw.drawing.lettering import (
    LINES,
    Box,
    box_of,
    overlap,
    whole_lengths,
    width_of,
    wrap,
)
from shopdraw.drawing.measures import Line, leader_of, letter_of, runs_through
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.job.model import Job
from shopdraw.lengths import (
    Lengths,
    format_length,
    format_made,
    half_marked,
    rounded,
    settled,
)

Says = tuple[float, str]
"""The middle of some lettering, and its words."""
FIRST = 3.4
"""From the view to the first string, in heights of lettering."""
CLEAR = 1.0
"""From the view to the middle of a name's first line, in heights of lettering."""
PITCH = 3.0
"""From what a string takes below its line to the next line, in heights of lettering."""
NAME = 15.5
"""How wide a string's name may be in one line, in heights of lettering."""
OFF = 1.5
"""How far it stands off, in heights of lettering."""
BELOW = 1.5
"""How far below its string it stands, in heights of lettering."""
NAMES = 2.25
"""From the last line of one name to the first of the next, at the least: further than
from line to line, or two names read as one."""
COLUMN = 4.0
"""So much further in than the first, in heights of lettering, a string may begin whose
name still stands in one column with the others."""
MANY = 4
"""So many equal gaps are EQ where figures would fan out past an end of their string."""


Row = tuple[str, tuple[Fraction, ...]]
"""A string's name, and its rising positions."""


def with_substrate(rows: list[Row], measured: tuple[Fraction, ...]) -> list[Row]:
    """Add the string of the substrate as it was measured to those of the finish.

    Where one of these has all its figures already, that one says so, and there is no
    other string: a figure is given once.
    """
    for place, (name, positions) in reversed([*enumerate(rows)]):
        ends = positions[0], positions[-1]
        if ends == (measured[0], measured[-1]) and {*measured} <= {*positions}:
            alike = f"{name}, AND SUBSTRATE, AS MEASURED", positions
            return [*rows[:place], alike, *rows[place + 1 :]]
    return [*rows, ("SUBSTRATE, AS MEASURED", measured)]


def stacked_strings(
    job: Job,
    rows: list[Row],
    scale: float,
    foot: float = 0.0,
    says: Mapping[int, Says] | None = None,
) -> Iterator[Ink]:
    """Set out strings of dimensions one below another, figures below their lines.

    Args:
        job: for its lengths.
        rows: a name and rising positions for each string, the nearest first.
        scale: of the drawing.
        foot: the level that the nearest string hangs from.
        says: by the place of its string among the rows, what is lettered below it, or
            with its name where it is longer than what it is said of.
    """
    style = STYLES[job.lengths]
    at = foot - FIRST * style.text * scale
    chains = [_chain(x, job.lengths, scale) for _, x in rows]
    below: dict[int, tuple[float, tuple[str, ...]]] = {}
    names = list[tuple[str, ...]]()
    for place, ((name, _), chain) in enumerate(zip(rows, chains, strict=True)):
        said: tuple[str, ...] = ()
        if says is not None and place in says:
            under = lines_below(says[place], chain.positions, style.text * scale)
            below[place] = says[place][0], under
            said = () if under else _parts(says[place][1])
        named = (name, *said)
        broken = (wrap(whole_lengths(x), style.text, NAME * style.text) for x in named)
        names.append((*joined.from_iterable(broken), *_sums(chain)))
    deep = [(len(lines) - 1) * LINES / 2 for lines in names]
    # A deep name stands about its string, and is not to reach into the view.
    at = min(at, foot - (max(deep[:1], default=0.0) + CLEAR) * style.text * scale)
    figures, led = list[Box](), list[Line]()
    starts = _starts(chains, style.text * scale)
    for place, (chain, lines) in enumerate(zip(chains, names, strict=True)):
        set_out = StringStyle(layers.DIMENSIONS, style.text, scale, outward=-1)
        measures = string_of_dimensions(
            chain, at, at + 1.4 * style.text * scale, set_out
        )
        yield from measures
        figures += [box_of(letter_of(each, scale), scale) for each in measures]
        led += [line for each in measures for line in leader_of(each, scale)]
        yield from _name(lines, (starts[place], at), (figures, led), style, scale)
        moved = any(measure.letter is not None for measure in measures)
        room = levels_used(measures, at, scale) if moved else 0.0
        if place in below:
            x, under = below[place]
            down = BELOW * style.text
            for line in under:
                box = _box_below(x, at - down * scale, line, style, scale)
                while any(overlap(box, other) for other in figures):
                    down += BELOW * style.text
                    box = _box_below(x, at - down * scale, line, style, scale)
                spot = x, at - down * scale
                yield Words(layers.NOTES, spot, line, style.text, "centre", "middle")
                room = max(room, down + 0.5 * style.text)
                down += BELOW * style.text
        apart = sum(deep[place : place + 2]) + NAMES
        at -= max(room + PITCH * style.text, apart * style.text) * scale


def _starts(chains: list[Chain], text: float) -> list[float]:
    """Return where the name of each string ends, the strings nearest first.

    Extension lines of the strings further out go past it at its right.
    """
    begin = [float(chain.positions[0]) for chain in chains]
    edge, starts = min(begin), list[float]()
    for place in range(len(begin)):
        first = min(begin[place:])
        first = edge if first - edge <= COLUMN * text else first
        starts.append(first - OFF * text)
    return starts


def _chain(positions: tuple[Fraction, ...], lengths: Lengths, scale: float) -> Chain:
    """Return a string's chain: its commonest gaps are EQ where figures fan out.

    Several figures led out past one end of their string are hard to tell apart, and
    reach into other strings; so equal gaps are EQ if fewer are then. Of a few gaps a
    count and a sum take more room than their figures.
    """
    fine = is_fine(positions, lengths)
    chain = Chain(positions, "x", lengths, fine, is_summed=True)
    led = _led_past(chain, lengths, scale)
    eased = replace(chain, is_crowded=True)
    is_worth_it = led > 1 and max(len(x.places) for x in eased.equals) >= MANY
    if is_worth_it and _led_past(eased, lengths, scale) < led:
        return eased
    return chain


def _led_past(chain: Chain, lengths: Lengths, scale: float) -> int:
    """Return how many figures are led out past the end where most are."""
    text = STYLES[lengths].text
    set_out = StringStyle(layers.DIMENSIONS, text, scale, outward=-1)
    first, last = (float(chain.positions[n]) for n in (0, -1))
    at = [
        letter_of(each, scale).at[0]
        for each in string_of_dimensions(chain, 0.0, 1.4 * text * scale, set_out)
    ]
    return max(sum(x < first for x in at), sum(x > last for x in at))


def lines_below(
    said: Says, positions: tuple[Fraction, ...], text: float
) -> tuple[str, ...]:
    """Return what is lettered below a string, in lines; nothing where it has no room.

    Each part is no longer than the gap of the figure that it is said of, if it is not
    said of all; past that it would be read as said of the next too, and cut extension
    lines short. They stand in one line where that is as long as all of them.

    Args:
        said: its middle, and its words, with a semicolon between parts if it has any.
        positions: of the string.
        text: the height of lettering in the lengths of the positions.
    """
    middle, words = said
    whole, parts = float(positions[-1] - positions[0]), _parts(words)
    gaps = (float(b - a) for a, b in pairwise(positions) if a < middle < b)
    longest = max(width_of(part, text) for part in parts)
    # At either end half a letter's height clears the extension lines.
    room = next(gaps, whole) - text if len(positions) > 2 else whole
    if len(positions) > 2 and longest > room:
        return ()
    return (words,) if width_of(words, text) <= room else parts


def _parts(words: str) -> tuple[str, ...]:
    """Return the parts of what is said of a string."""
    *parts, last = words.split("; ")
    return (*(f"{part};" for part in parts), last)


def is_half(value: Fraction, lengths: Lengths) -> bool:
    """Whether a length is printed to half the usual step: only that says it exactly."""
    value = settled(value)
    return rounded(value, lengths) != value == half_marked(value, lengths)


def is_fine(positions: tuple[Fraction, ...], lengths: Lengths) -> bool:
    """Whether a string is printed to half of what others are.

    So it is where each gap has its own figure then, as a piece has that is sawn to it,
    and by the usual step not: two halves of a brick are two like figures.
    """
    own = tuple(half_marked(settled(b - a), lengths) for a, b in pairwise(positions))
    usual, fine = (Chain(positions, "x", lengths, x).figures for x in (False, True))
    return fine == own != usual


def _sums(chain: Chain) -> Iterator[str]:
    """Say of each kind of equal gaps how many they are, of what if that is alike."""
    written = format_made if chain.is_fine else format_length
    for equal in chain.equals:
        total = written(equal.total, chain.lengths)
        each = {chain.figures[n] for n in equal.places}
        at = f" AT {written(each.pop(), chain.lengths)}" if len(each) == 1 else ""
        yield f"{len(equal.places)} {equal.name}{at} = {total}"


def _name(
    lines: tuple[str, ...],
    at: Point,
    there: tuple[list[Box], list[Line]],
    style: PaperStyle,
    scale: float,
) -> Iterator[Words]:
    """Letter a string's name at its left, and left of any figure that is led out.

    Args:
        lines: the string's name, and what is said of equal gaps.
        at: where it ends.
        there: the figures of its string and of those before it, and the leaders of
            those that are led out.
        style: of the paper.
        scale: of the drawing.
    """
    figures, led = there
    unit = style.text * scale
    ups = [((len(lines) - 1) / 2 - row) * LINES * unit for row in range(len(lines))]
    x = at[0]
    while True:
        lettered = [
            Words(layers.NOTES, (x, at[1] + up), line, style.text, "right", "middle")
            for up, line in zip(ups, lines, strict=True)
        ]
        boxes = [box_of(each, scale) for each in lettered]
        hit = [y for y in figures if any(overlap(box, y) for box in boxes)]
        hit += [about(y) for y in led if any(runs_through(y, box) for box in boxes)]
        if not hit:
            break
        x = min(box[0] for box in hit) - OFF * unit
    yield from lettered


def _box_below(x: float, y: float, words: str, style: PaperStyle, scale: float) -> Box:
    spot = layers.NOTES, (x, y), words, style.text
    return box_of(Words(*spot, "centre", "middle"), scale)
