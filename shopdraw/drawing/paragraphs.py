"""Set a paragraph in lines, and find the lines that are one paragraph.

In:  a text, or ink.   Out: lines of `Words`.
Frame: the ink's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from shopdraw.drawing.ink import Ink, Words
from shopdraw.drawing.lettering import whole_lengths, wrap


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
