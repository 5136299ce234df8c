"""Tell of each kind of piece how it is made, with its sketch.

In:  `Solution`.   Out: `Make`s.
Frame: sketches at full size, as `views.making.cut_pieces` has them.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.page import Make
from shopdraw.masonry.wall.layout import CORNER_KINDS
from shopdraw.solution import Solution
from shopdraw.views.making.cut_pieces import drawn_of
from shopdraw.views.making.sizes import finished_size, kind_of

SCALE = 5.0
"""The scale that a sketch is lettered for: it is looked at on a small screen."""
WHOLE = "A whole brick, as delivered: nothing is sawn."


def makes_of(solution: Solution) -> Iterator[Make]:
    """Yield every mark of the cut list, in its order."""
    for row in solution.cut_list:
        sketches, says = [], list[str]()
        if row.kind in (*CORNER_KINDS, "keystone") or row.is_cut:
            for _, drawn in drawn_of(solution.job, row, SCALE):
                sketches.append(drawn.drawing)
                words = map(_sentence, drawn.lines)
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


def _sentence(lettered: str) -> str:
    """Write what a drawing letters in capitals as a sentence is read."""
    return f"{lettered[:1]}{lettered[1:].lower()}"
