"""Strings of dimensions as printed, and whether they close; the IDs on a drawing."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction as F
from functools import cache

from shopdraw.drawing.ink import Drawing, Insert, Measure, Words
from shopdraw.lengths import Lengths, parse_length

EQUAL = re.compile(r"(\d+) (EQ(?: [A-Z])?)(?: AT .+)? = (.+)")


@cache
def printed(words: str, lengths: Lengths) -> F:
    """Read a printed figure: `2'-0 5/16"`, `3 5/8"`, `103`."""
    if lengths == "mm":
        return F(words)
    feet = re.fullmatch(r"(\d+)'-(.+)", words)
    if feet:
        return 12 * int(feet[1]) + parse_length(feet[2], "in")
    return parse_length(words, "in")


def measures_of(drawing: Drawing) -> Iterator[list[Measure]]:
    """Yield the dimensions of each string, in order."""
    string: list[Measure] = []
    for ink in drawing.ink:
        if not isinstance(ink, Measure):
            continue
        last = string[-1] if string else ink
        if string and (last.axis, last.line_at, last.end) != (
            ink.axis,
            ink.line_at,
            ink.start,
        ):
            yield string
            string = []
        string.append(ink)
    if string:
        yield string


def _along(measure: Measure) -> tuple[float, float]:
    at = 0 if measure.axis == "x" else 1
    return measure.start[at], measure.end[at]


def unlike(drawing: Drawing) -> list[str]:
    """Return the strings with equal gaps that are printed unlike."""
    wrong = []
    for string in measures_of(drawing):
        printed_as: dict[float, set[str]] = {}
        for each in string:
            start, end = _along(each)
            printed_as.setdefault(round(end - start, 6), set()).add(each.words)
        wrong += [
            f"{drawing.name}: {gap} is {sorted(words)}"
            for gap, words in printed_as.items()
            if len(words) > 1
        ]
    return wrong


def equal_said(drawing: Drawing, string: list[Measure]) -> dict[str, tuple[int, str]]:
    """Return how many equal gaps a string has by its name, and what their sum is."""
    said: dict[str, tuple[int, str]] = {}
    for words in drawing.ink:
        if not isinstance(words, Words) or not (read := EQUAL.fullmatch(words.text)):
            continue
        off = abs(words.at[1] - string[0].line_at) / drawing.scale
        if off <= 2.5 * words.height_on_paper:
            said[read[2]] = int(read[1]), read[3]
    return said


def unequal(drawing: Drawing, lengths: Lengths) -> list[str]:
    """Return what is called equal and isn't, or is counted or summed wrong."""
    half_a_step = (1 / 32 if lengths == "in" else 1 / 2) + 1e-6
    wrong = []
    for string in measures_of(drawing):
        gaps: dict[str, list[float]] = {}
        for each in string:
            if each.words.startswith("EQ"):
                start, end = _along(each)
                gaps.setdefault(each.words, []).append(end - start)
        said = equal_said(drawing, string) if gaps else {}
        for name, each_gap in gaps.items():
            count, total = said.get(name, (0, "0 in" if lengths == "in" else "0"))
            off = abs(float(printed(total, lengths)) - sum(each_gap))
            if (
                count != len(each_gap)
                or max(each_gap) - min(each_gap) > 1e-6
                or off > half_a_step
            ):
                wrong.append(f"{drawing.name}: {name} of {each_gap}, said {said}")
    return wrong


def unclosed(drawing: Drawing, lengths: Lengths) -> list[str]:
    """Return the strings whose figures add up to something else than they span."""
    half_a_step = (1 / 32 if lengths == "in" else 1 / 2) + 1e-6
    wrong = []
    for string in measures_of(drawing):
        figures = [each.words for each in string]
        equal = Counter(words for words in figures if words.startswith("EQ"))
        total = sum((printed(x, lengths) for x in figures if x not in equal), F(0))
        if equal:
            said = equal_said(drawing, string)
            if Counter({name: said.get(name, (0,))[0] for name in equal}) != equal:
                wrong.append(f"{drawing.name}: {figures}, of which is said {said}")
                continue
            total += sum((printed(said[name][1], lengths) for name in equal), F(0))
        span = _along(string[-1])[1] - _along(string[0])[0]
        if abs(float(total) - span) > half_a_step:
            wrong.append(f"{drawing.name}: {figures} printed, {span} drawn")
    return wrong


def figures_of(drawing: Drawing) -> list[list[str]]:
    """Return the figures of every string, as printed."""
    return [[each.words for each in string] for string in measures_of(drawing)]


def ids_of(drawing: Drawing) -> list[str]:
    """Return the ID of every piece that a drawing holds."""
    return [
        tag.text
        for ink in drawing.ink
        if isinstance(ink, Insert)
        for tag in ink.tags
        if tag.name == "ID"
    ]
