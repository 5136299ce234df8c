"""Draw the brick alone, its faces unrolled, to insert into another drawing.

In:  `Solution`.   Out: `Drawing`.
Frame: full size; the origin is on the datum under the centre of the opening.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Stroke
from shopdraw.drawing.sheets import STYLES
from shopdraw.solution import Solution
from shopdraw.views.parts.units import unit_ink

LETTERED_FOR = {"in": 8.0, "mm": 10.0}
"""Marks are sized for this scale, at which such a drawing is most often shown."""


def draw_surround(solution: Solution) -> Drawing:
    """Draw every piece once, the faces side by side, with outlines and opening."""
    surround = solution.surround
    scale = LETTERED_FOR[solution.job.lengths]
    dx = -float(surround.opening.centre)
    faces = {face.name for face in (*surround.faces, *surround.reveals)}
    units, symbols = unit_ink(
        solution.layout,
        {str(name) for name in faces},
        dx,
        STYLES[solution.job.lengths].small,
        scale,
    )
    ink: list[Ink] = [*units, *_outlines(solution, dx)]
    return Drawing("surround", "", scale, tuple(ink), symbols)


def _outlines(solution: Solution, dx: float) -> Iterator[Ink]:
    surround = solution.surround
    top = float(solution.coursing.top)
    for face in surround.faces:
        left, right = float(face.left) + dx, float(face.right) + dx
        corners = ((left, 0.0), (right, 0.0), (right, top), (left, top))
        yield Stroke(layers.OUTLINE, corners, closed=True)
    left = float(surround.opening.left) + dx
    right = float(surround.opening.right) + dx
    head = float(solution.coursing.head)
    yield Stroke(
        layers.OUTLINE, ((left, 0.0), (left, head), (right, head), (right, 0.0))
    )
    # It stops at the head: above, it would cross the mark of a piece on the centre.
    yield Stroke(layers.LEVELS, ((0.0, 0.0), (0.0, head)))
