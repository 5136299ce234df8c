"""Tell of each kind of piece how it is made, with its sketch.

In:  `Solution`.   Out: `Make`s.
Frame: sketches at full size, as `views.making.cut_pieces` has them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shopdraw.drawing.ink import Drawing, Ink, Words
from shopdraw.drawing.page import Make
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow
from shopdraw.solution import Solution
from shopdraw.views.making.cut_pieces import details_of
from shopdraw.views.making.sizes import finished_size, kind_of

SCALE = 5.0
"""The scale that a sketch is lettered for: it is looked at on a small screen."""
WHOLE = "A whole brick, as delivered: nothing is sawn."


def makes_of(solution: Solution) -> Iterator[Make]:
    """Yield every mark of the cut list, in its order."""
    for row in solution.cut_list:
        sketches, says = [], list[str]()
        if row.kind in (*CORNER_KINDS, "keystone") or row.is_cut:
            for detail in details_of(solution.job, row, SCALE):
                sketch, words = _parted(detail.drawing, row)
                sketches.append(sketch)
                says += (each for each in words if each not in says)
        else:
            says = [x for x in (WHOLE, row.note) if x]
        yield Make(
            mark=row.mark,
            title=kind_of(row).lower(),
            size=finished_size(solution.job, row).lower(),
            count=row.count,
            says=tuple(says),
            sketches=tuple(sketches),
        )


def _parted(drawing: Drawing, row: CutListRow) -> tuple[Drawing, list[str]]:
    """Part a detail's sketch from the words below it; its lines become paragraphs."""
    ink: list[Ink] = []
    said: list[str] = []
    is_below = False
    for each in drawing.ink:
        is_mark = isinstance(each, Words) and each.text.startswith(f"{row.mark}   ")
        if is_below and isinstance(each, Words):
            if each.goes_on:
                said[-1] += f" {each.text}"
            else:
                said.append(each.text)
        elif not is_mark:
            ink.append(each)
        is_below = is_below or is_mark
    return replace(drawing, ink=tuple(ink)), [_sentence(each) for each in said]


def _sentence(lettered: str) -> str:
    """Write what a drawing letters in capitals as a sentence is read."""
    return f"{lettered[:1]}{lettered[1:].lower()}"
