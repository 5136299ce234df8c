"""Draw the brick alone, its faces unrolled, to insert into another drawing.

In:  `Solution`.   Out: `Drawing`.
Frame: full size; the origin is on the datum under the centre of the opening.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Symbol
from shopdraw.drawing.sheets import STYLES
from shopdraw.masonry.wall.form import Face
from shopdraw.solution import Solution
from shopdraw.views.brick.units import unit_ink

LETTERED_FOR = {"in": 8.0, "mm": 10.0}
"""Marks are sized for this scale, at which such a drawing is most often shown."""


def draw_surround(solution: Solution) -> Drawing:
    """Draw every piece once, the faces side by side, with outlines and opening."""
    surround = solution.surround
    scale = LETTERED_FOR[solution.job.lengths]
    dx = -float(surround.opening.centre)
    groups: dict[float, set[str]] = {}
    for face in (*surround.faces, *surround.reveals):
        at = dx + _aside(solution, face)
        groups.setdefault(at, set()).add(str(face.name))
    ink: list[Ink] = []
    symbols: dict[str, Symbol] = {}
    for at, names in groups.items():
        small = STYLES[solution.job.lengths].small
        units, drawn = unit_ink(solution.layout, names, at, small, scale)
        ink += units
        symbols |= {symbol.name: symbol for symbol in drawn}
    ink += _outlines(solution, dx)
    every = tuple(symbols[name] for name in sorted(symbols))
    return Drawing("surround", "", scale, tuple(ink), every)


def _aside(solution: Solution, face: Face) -> float:
    """Return how far a face is moved aside, so that no corbel's course covers it."""
    apart = 2.0 * float(solution.coursing.projection)
    return {"left": -apart, "right": apart}.get(face.name, 0.0)


def _outlines(solution: Solution, dx: float) -> Iterator[Ink]:
    surround = solution.surround
    top = float(solution.coursing.top)
    for face in surround.faces:
        at = dx + _aside(solution, face)
        left, right = float(face.left) + at, float(face.right) + at
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
