"""Draw the floor beyond a hearth, and say what is known of it.

In:  `Solution`, where it begins, the sizes on paper.   Out: ink; words.
Frame: the view's.

A job names a floor, and whether it burns; it gives no board's width or thickness, and
its level only where the hearth stands on it with a riser. So boards are a sign, as many
as there is room for, broken off all round.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Stroke
from shopdraw.drawing.lettering import plain
from shopdraw.job.model_review import BesideTable
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import Hand, break_line

BOARD = 1.1
"""How wide a board is drawn, in heights of lettering."""
DEEP = 3.3
"""How much of the floor is drawn, in heights of lettering."""


def floor_of(solution: Solution) -> BesideTable | None:
    """Return the floor that the job lists, if any; of several the first."""
    floors = [each for each in solution.job.beside if each.kind == "flooring"]
    return floors[0] if floors else None


def floor_words(solution: Solution) -> tuple[str, str]:
    """Say what the floor is, and what nobody measured of it."""
    floor = floor_of(solution)
    if floor is None:
        return "FLOOR BEYOND: NOT LISTED, NOT MEASURED:", "TAKE IT AS COMBUSTIBLE"
    burns = "COMBUSTIBLE" if floor.combustible else "NONCOMBUSTIBLE, AS TYPED"
    name = f"FLOOR BEYOND: {plain(floor.name).upper()}, {burns}"
    is_low = solution.hearth is not None and solution.hearth.riser is not None
    lost = "THICKNESS" if is_low else "LEVEL AND THICKNESS"
    return f"{name};", f"ITS {lost} NOT MEASURED"


def floor_from_above(
    solution: Solution, sides: tuple[float, float], near: float, low: float, hand: Hand
) -> Iterator[Ink]:
    """Draw the floor before the front edge of a hearth, boards along the edge.

    Args:
        solution: says whether it is boards.
        sides: from where to where it is drawn.
        near: the hearth's front edge.
        low: how far into the room the rest of the view goes.
        hand: the sizes on paper.
    """
    (left, right), end, kink = sides, low - DEEP * hand.text, 0.5 * hand.text
    for x in (left, right):
        yield _light(break_line((x, near), (x, end), kink))
    yield _light(break_line((left, end), (right, end), kink))
    floor = floor_of(solution)
    if floor is None or not floor.combustible:
        return
    count = round((near - end) / (BOARD * hand.text))
    for row in range(1, count):
        y = near - row * (near - end) / count
        # Where a break's kink is, a board goes no further than its middle.
        yield Stroke(layers.FLOOR, ((left + kink, y), (right - kink, y)))


def floor_cut(
    solution: Solution, edge: float, level: float, hand: Hand
) -> Iterator[Ink]:
    """Draw the floor before the front edge of a hearth, cut through; name it below.

    Args:
        solution: names it.
        edge: the hearth's front edge.
        level: the top of the floor, as it is drawn.
        hand: the sizes on paper.
    """
    far, low = edge - DEEP * hand.text, level - 1.3 * hand.text
    yield Stroke(layers.FLOOR, ((edge, level), (far, level)))
    yield _light(break_line((far, low), (edge, low), 0.3 * hand.text))
    yield _light(break_line((far, level), (far, low), 0.3 * hand.text))
    floor = floor_of(solution)
    if floor is not None and floor.combustible:
        for part in (1, 2):
            x = edge - part * DEEP * hand.text / 3
            yield Stroke(layers.FLOOR, ((x, level), (x, level - 0.9 * hand.text)))


def _light(line: Stroke) -> Stroke:
    return Stroke(layers.FLOOR, line.points)
