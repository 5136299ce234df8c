"""Compare what a DXF file was found to hold with what it must hold.

In:  `Found`, `Expected`.   Out: differences in words; none if they agree.
Frame: the same as both.

Lines and fills are compared by their points on a grid of 1/100 in, or 0.1 mm, and each
must be there as often as it should be. A point between two places of the grid counts as
in either.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from math import hypot
from typing import TypeVar

from shopdraw.drawing.expected import Expected, ExpectedInsert, Trace
from shopdraw.drawing.ink import Point
from shopdraw.drawing.set import FileForm
from shopdraw.lengths import MM_PER_INCH
from shopdraw.output.dimensioning import LetteringStyle, lettered
from shopdraw.output.readback import NEAR, Found, FoundInsert, FoundMeasure

AnyInsert = TypeVar("AnyInsert", FoundInsert, ExpectedInsert)
FORM = FileForm()
WITHOUT_TINTS = "R2000"
"""A release that has no tints: fills are left out of its files."""
PER_LENGTH = {"in": 100, "mm": 10}
"""How many places of the grid there are to a length."""


def compare(
    found: Found, expected: Expected, lengths: str = "in", form: FileForm = FORM
) -> tuple[str, ...]:
    """Return every difference in words; none if the file holds exactly what it must.

    Args:
        found: what was read.
        expected: what must be there, with the set's own names of layers.
        lengths: what both are measured in: "in" or "mm".
        form: the names of the file's layers, and its release.
    """
    grid = PER_LENGTH[lengths]
    return (
        *_compare_inserts(found, expected),
        *_compare_measures(found, expected),
        *_compare_words(found.words, expected.words),
        *_compare_words(found.paper_words, expected.paper_words),
        *_compare_lines(found.lines, _as_written(expected.lines, form), grid),
        *_compare_lines(
            found.paper_lines, _as_written(expected.paper_lines, form), grid
        ),
        *_compare_viewports(found, expected),
        *_compare_papers(found),
    )


def _compare_inserts(found: Found, expected: Expected) -> Iterator[str]:
    """Compare the units by name; one that a match line runs through is in two parts."""
    there, wanted = _by_name(found.inserts), _by_name(expected.inserts)
    for name in sorted(there):
        count = len(there[name])
        if name in wanted and count != len(wanted[name]):
            yield f"{name} is drawn {count} time{'' if count == 1 else 's'}"
    for name in sorted(set(there) - set(wanted)):
        yield f"{name} is drawn but should not be"
    for name, inserts in wanted.items():
        if name not in there:
            yield f"{name} should be drawn but is not"
            continue
        for one, other in zip(there[name], inserts, strict=False):
            yield from _compare_insert(name, one, other)


def _compare_insert(
    name: str, found: FoundInsert, wanted: ExpectedInsert
) -> Iterator[str]:
    if sorted(found.tags) != sorted(wanted.tags):
        yield f"{name} has tags {dict(found.tags)}, should be {dict(wanted.tags)}"
    if not _same_ring(found.outline, wanted.outline):
        yield f"{name} is drawn at {found.outline}, should be at {wanted.outline}"


def _same_ring(a: tuple[Point, ...], b: tuple[Point, ...]) -> bool:
    """Whether two rings pass through the same points, wherever they begin."""
    if len(a) != len(b) or not a:
        return False
    return any(
        all(
            hypot(p[0] - q[0], p[1] - q[1]) <= NEAR
            for p, q in zip(a, (*b[start:], *b[:start]), strict=True)
        )
        for start in range(len(b))
    )


def _by_name(inserts: Iterable[AnyInsert]) -> dict[str, list[AnyInsert]]:
    """Return inserts by their name, those of one name in the order they stand in."""
    found: dict[str, list[AnyInsert]] = {}
    for insert in inserts:
        found.setdefault(_name(insert.tags), []).append(insert)
    return found


def _name(tags: tuple[tuple[str, str], ...]) -> str:
    return dict(tags).get("ID", "?")


def _compare_measures(found: Found, expected: Expected) -> Iterator[str]:
    if len(found.measures) != len(expected.measures):
        yield _count("dimensions", len(found.measures), len(expected.measures))
        return
    styles = {style.name: style for style in found.styles}
    for there, wanted in zip(found.measures, expected.measures, strict=True):
        anew = there.typed or _anew(there, styles)
        if anew != wanted.words:
            yield f"a dimension drawn anew reads {anew}, should read {wanted.words}"
        if _ends_anew(there, styles) != there.strokes:
            yield f"dimension {wanted.words} drawn anew ends otherwise than it is drawn"
        if there.words != wanted.words:
            yield f"a dimension reads {there.words}, should read {wanted.words}"
        for length in (there.length, there.recorded):
            if abs(length - wanted.length) > NEAR:
                yield (
                    f"dimension {wanted.words} is {length} long, should be "
                    f"{wanted.length}"
                )


def _anew(measure: FoundMeasure, styles: Mapping[str, LetteringStyle]) -> str:
    """Return what a program letters that draws a dimension anew."""
    style = styles.get(measure.style)
    return "nothing" if style is None else lettered(measure.recorded, style)


STROKES = {"stroke": 2, "arrow": 4}
"""How many lines the ends of a dimension are drawn by."""


def _ends_anew(measure: FoundMeasure, styles: Mapping[str, LetteringStyle]) -> int:
    """Return by how many lines a program draws the ends of a dimension anew."""
    style = styles.get(measure.style)
    return 0 if style is None else STROKES.get(style.ends, 0)


def _count(what: str, found: int, wanted: int) -> str:
    return f"there are {found} {what}, should be {wanted}"


def _compare_words(found: tuple[str, ...], expected: tuple[str, ...]) -> Iterator[str]:
    there = Counter(found)
    wanted = Counter(text for text in expected if text.strip())
    for text in sorted((wanted - there).elements()):
        yield f'"{text}" should be lettered but is not'
    for text in sorted((there - wanted).elements()):
        yield f'"{text}" is lettered but should not be'


def _as_written(lines: tuple[Trace, ...], form: FileForm) -> tuple[Trace, ...]:
    """Return the lines that the file can hold, with its own names of layers."""
    called = dict(form.layers)
    return tuple(
        replace(line, layer=called.get(line.layer, line.layer))
        for line in lines
        if line.kind != "fill" or form.release != WITHOUT_TINTS
    )


Key = tuple[str, str, tuple[tuple[int, int], ...]]
"""A line's layer, its kind or its pattern, and its points on the grid."""


def _compare_lines(
    found: tuple[Trace, ...], wanted: tuple[Trace, ...], grid: int
) -> Iterator[str]:
    """Compare lines and fills, each as often as it is there."""
    there = Counter(_key(line, grid) for line in found)
    should = Counter(_key(line, grid) for line in wanted)
    missing = sorted((should - there).elements())
    extra = sorted((there - should).elements())
    for key in list(missing):
        match = next((other for other in extra if _is_near(key, other)), None)
        if match is not None:
            missing.remove(key)
            extra.remove(match)
    for key in missing:
        yield f"{_said(key, grid)} should be drawn but is not"
    for key in extra:
        yield f"{_said(key, grid)} is drawn but should not be"


def _key(line: Trace, grid: int) -> Key:
    """Return a line on the grid, the same whichever end or corner it begins at."""
    points = [(round(x * grid), round(y * grid)) for x, y in line.points]
    if line.kind == "open":
        return line.layer, line.kind, min(tuple(points), tuple(reversed(points)))
    kind = line.pattern or line.kind
    return line.layer, kind, min(_turns(points, min(points, default=(0, 0))))


def _turns(
    points: list[tuple[int, int]], first: tuple[int, int] | None = None
) -> list[tuple[tuple[int, int], ...]]:
    """Return an outline read from each corner, or from one, either way round."""
    return [
        (*ring[start:], *ring[:start])
        for ring in (points, points[::-1])
        for start, point in enumerate(ring)
        if first is None or point == first
    ] or [()]


def _is_near(one: Key, other: Key) -> bool:
    """Whether two lines are the same, their points off by one place of the grid."""
    if one[:2] != other[:2] or len(one[2]) != len(other[2]):
        return False
    points = list(other[2])
    ways = [points, points[::-1]] if one[1] == "open" else _turns(points)
    return any(
        all(
            abs(a - c) <= 1 and abs(b - d) <= 1
            for (a, b), (c, d) in zip(one[2], way, strict=True)
        )
        for way in ways
    )


def _said(key: Key, grid: int) -> str:
    """Name a line by its layer and its points."""
    layer, kind, points = key
    places = " ".join(f"({x / grid:g}, {y / grid:g})" for x, y in points[:4])
    more = " ..." if len(points) > 4 else ""
    kinds = {"open": "a line", "closed": "an outline", "fill": "a filled area"}
    what = kinds.get(kind, f"an area hatched {kind}")
    return f"{layer}: {what} through {places}{more}"


MEDIUM = re.compile(r".+_\(([\d.]+)_x_([\d.]+)_(MM|Inches)\)")
"""A paper's name, as plot settings have it: its standard, its sides, their unit."""
ABOUT_MM = 0.2
"""A name has its sides to a hundredth of an inch."""


def _compare_papers(found: Found) -> Iterator[str]:
    """Hold a layout's paper against its own name, and see that no program is named."""
    for paper in found.papers:
        for program in paper.programs:
            yield f"{paper.layout} is to be plotted by {program}"
        match = MEDIUM.fullmatch(paper.medium)
        if match is None:
            yield f"{paper.layout} is on {paper.medium}, which is no paper's name"
            continue
        part = 1.0 if match[3] == "MM" else float(MM_PER_INCH)
        named = (float(match[1]) * part, float(match[2]) * part)
        if any(abs(a - b) > ABOUT_MM for a, b in zip(named, paper.size, strict=True)):
            yield f"{paper.layout} is on {paper.medium}, but {paper.size} mm large"


def _compare_viewports(found: Found, expected: Expected) -> Iterator[str]:
    if len(found.viewports) != len(expected.viewports):
        yield _count("viewports", len(found.viewports), len(expected.viewports))
        return
    for there, wanted in zip(found.viewports, expected.viewports, strict=True):
        pairs = (
            *zip(there.middle, wanted.middle, strict=True),
            *zip(there.size, wanted.size, strict=True),
            *zip(there.looks_at, wanted.looks_at, strict=True),
            (there.view_height, wanted.size[1] * wanted.scale),
        )
        if any(abs(a - b) > NEAR for a, b in pairs):
            yield f"a viewport is {there}, should be {wanted}"
        if not there.is_locked:
            yield f"the viewport at {there.middle} is not locked"
