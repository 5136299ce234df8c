"""Whether lettering lies on lettering."""

from __future__ import annotations

from itertools import combinations

from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.lettering import overlap
from shopdraw.drawing.sheets import Sheet


def collisions(drawing: Drawing) -> list[tuple[str, str]]:
    """Return the lettering of a drawing that lies on other lettering."""
    boxes = list(lettering_of(drawing))
    return [
        (a.text, b.text)
        for (a, box_a), (b, box_b) in combinations(boxes, 2)
        if overlap(box_a, box_b, 0.15 * a.height_on_paper * drawing.scale)
    ]


def collisions_on(sheet: Sheet) -> list[tuple[str, str]]:
    """Return the lettering of a sheet that lies on other lettering."""
    found = [x for placed in sheet.drawings for x in collisions(placed.drawing)]
    return found + collisions(Drawing("paper", "", 1.0, sheet.paper_ink))
