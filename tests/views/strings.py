"""Strings of dimensions as printed, and whether they close."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction as F

from shopdraw.drawing.ink import Drawing, Measure
from shopdraw.lengths import Lengths, parse_length, rounded


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
    wrong = []
    for span, figures in strings_of(drawing):
        whole = rounded(F(span).limit_denominator(100_000), lengths)
        total = sum((printed(words, lengths) for words in figures), F(0))
        if total != whole:
            wrong.append(f"{drawing.name}: {figures} printed, {whole} drawn")
    return wrong


def figures_of(drawing: Drawing) -> list[list[str]]:
    """Return the figures of every string, as printed."""
    return [figures for _, figures in strings_of(drawing)]
