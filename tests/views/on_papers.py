"""A job on other paper than its own, and what is amiss with the lettering there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from shopdraw.drawing import layers
from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Stroke
from shopdraw.drawing.sheets import Sheet
from shopdraw.solution import Solution
from tests.views.lettering import collisions_on, crossings


def on_paper(solution: Solution, size: str) -> Solution:
    """Return a solution whose job asks for another paper, at whatever scale fits."""
    job = solution.job
    sheet = job.sheet.model_copy(update={"size": size, "scale": None})
    return replace(solution, job=job.model_copy(update={"sheet": sheet}))


def struck_on(sheet: Sheet) -> list[tuple[str, str]]:
    """Return the lettering that lines run through, with the layers, each once."""
    found = (x for each in sheet.drawings for x in crossings(each.drawing))
    return list(dict.fromkeys(found))


def amiss_on(sheets: Iterable[Sheet]) -> list[tuple[str, str]]:
    """Return what is struck, and what lies on other lettering, on any sheet."""
    return [x for each in sheets for x in (*struck_on(each), *collisions_on(each))]


def over_match_lines(drawing: Drawing) -> list[str]:
    """Return the notes across a match line, and the marks at leaders."""
    drawn = [
        point
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == layers.MATCH
        for point in x.points
    ]
    if drawing.part is None or not drawn:
        return []
    foot, head = min(y for _, y in drawn), max(y for _, y in drawn)
    left, _, right, _ = drawing.part.window
    return [
        words.text
        for words, (a, low, b, high) in lettering_of(drawing)
        if (a < left < b or a < right < b) and foot < low and high < head
        if words.layer == layers.NOTES
    ]
