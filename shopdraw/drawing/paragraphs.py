"""Set a paragraph in lines, and find the lines that are one paragraph.

In:  a text, or ink.   Out: lines of `Words`.
Frame: the ink's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from shopdraw.drawing.ink import Ink, Words
from shopdraw.drawing.lettering import whole_lengths, width_of, wrap

SLACK = 1.005
"""How much wider a paragraph is than its column at most, so that no line is broken by
a rounding."""


def set_in_lines(text: str, first: Words, pitch: float, scale: float) -> list[Words]:
    """Break a text in lines that say that they are one paragraph.

    Args:
        text: all of it.
        first: the first line as it is to be, its column as wide as the paragraph.
        pitch: from line to line on paper.
        scale: of the drawing.
    """
    lines = wrap(whole_lengths(text), first.height_on_paper, first.column)
    x, y = first.at
    return [
        replace(first, text=line, at=(x, y - row * pitch * scale), goes_on=row > 0)
        for row, line in enumerate(lines)
    ]


def lettering_in(ink: Iterable[Ink]) -> Iterator[tuple[Words, ...]]:
    """Yield the lines of each paragraph together, and any other line by itself."""
    lines: list[Words] = []
    for each in ink:
        if not isinstance(each, Words):
            continue
        if lines and not each.goes_on:
            yield tuple(lines)
            lines = []
        lines.append(each)
    if lines:
        yield tuple(lines)


def said_by(lines: Iterable[Words]) -> str:
    """Return a paragraph's text."""
    return " ".join(line.text for line in lines)


def column_of(lines: Sequence[Words]) -> float:
    """Return how wide on paper a paragraph is so that it breaks where its lines end.

    Its lines must go into it, and none of them together with the word after it. It is
    a hundredth less than the least of these, or half way where a line is as wide.
    """
    height, column = lines[0].height_on_paper, lines[0].column * SLACK
    widest = max(width_of(line.text, height) for line in lines)
    too_long = [
        width_of(f"{line.text} {after.text.split()[0]}", height)
        for line, after in pairwise(lines)
    ]
    if not too_long:
        return column
    least = min(too_long)
    return min(column, max(0.99 * least, (widest + least) / 2))
