"""Strings of dimensions as printed, and whether they close; the IDs on a drawing."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction as F
from functools import cache

from shopdraw.drawing.ink import Drawing, Insert, Measure
from shopdraw.lengths import Lengths, parse_length


@cache
def printed(words: str, lengths: Lengths) -> F:
    """Read a printed figure: `2'-0 5/16"`, `3 5/8"`, `103`."""
    if lengths == "mm":
        return F(words)
    feet = re.fullmatch(r"(\d+)'-(.+)", words)
    if feet:
        return 12 * int(feet[1]) + parse_length(feet[2], "in")
    return parse_length(words, "in")


def strings_of(drawing: Drawing) -> Iterator[tuple[float, list[str]]]:
    """Yield each string's span as drawn and its figures as printed."""
    last: Measure | None = None
    start, figures = 0.0, list[str]()
    for ink in drawing.ink:
        if not isinstance(ink, Measure):
            continue
        at = 0 if ink.axis == "x" else 1
        if last is None or (last.axis, last.line_at, last.end) != (
            ink.axis,
            ink.line_at,
            ink.start,
        ):
            if last is not None:
                yield last.end[0 if last.axis == "x" else 1] - start, figures
            start, figures = ink.start[at], []
        figures.append(ink.words)
        last = ink
    if last is not None:
        yield last.end[0 if last.axis == "x" else 1] - start, figures


def unclosed(drawing: Drawing, lengths: Lengths) -> list[str]:
    """Return the strings whose figures add up to something else than they span."""
    half_a_step = (1 / 32 if lengths == "in" else 1 / 2) + 1e-6
    wrong = []
    for span, figures in strings_of(drawing):
        total = sum((printed(words, lengths) for words in figures), F(0))
        if abs(float(total) - span) > half_a_step:
            wrong.append(f"{drawing.name}: {figures} printed, {span} drawn")
    return wrong


def figures_of(drawing: Drawing) -> list[list[str]]:
    """Return the figures of every string, as printed."""
    return [figures for _, figures in strings_of(drawing)]


def ids_of(drawing: Drawing) -> list[str]:
    """Return the ID of every piece that a drawing holds."""
    return [
        tag.text
        for ink in drawing.ink
        if isinstance(ink, Insert)
        for tag in ink.tags
        if tag.name == "ID"
    ]
