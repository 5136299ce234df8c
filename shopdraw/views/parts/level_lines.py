"""Which levels run across the upright views, and where words stand clear of them.

In:  `Solution`; where words would stand.   Out: `LevelLine`s; where they stand.
Frame: full size; y up from the datum.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, inf

from shopdraw.solution import Solution
from shopdraw.views.parts.heights import CROWN, crown_of, level_name

OFF = 1.1
"""How far the middle of a line of words keeps off a level, in heights of lettering."""
STEPS = 4
"""So many places to the height of lettering are tried."""
FURTHER = 16
"""How far words may be moved, in heights of lettering."""


@dataclass(frozen=True)
class LevelLine:
    """A level, and the names of all that is at it."""

    at: Fraction
    names: tuple[str, ...]


def levels_of(solution: Solution) -> tuple[LevelLine, ...]:
    """Return datum, what the courses are to land on, and an arch's crown, upward."""
    found: dict[Fraction, list[str]] = {Fraction(0): ["DATUM"]}
    for target in solution.coursing.targets:
        found.setdefault(target.got, []).append(level_name(target, solution.coursing))
    crown = crown_of(solution)
    if crown is not None:
        found.setdefault(crown, []).append(CROWN)
    return tuple(LevelLine(at, tuple(names)) for at, names in sorted(found.items()))


@dataclass(frozen=True)
class Column:
    """What a column of words keeps to, at full size.

    Attributes:
        levels: that no words may stand on: their line would name the level.
        text: the height of the lettering.
        apart: from the last line of a note to the first of the next, at the least.
        lowest: the level that no note goes below.
    """

    levels: tuple[float, ...]
    text: float
    apart: float
    lowest: float = -inf


def stand_clear(
    wanted: Sequence[tuple[float, float]], column: Column
) -> tuple[float, ...]:
    """Move a column of notes as little as will do until none stands on a level.

    Args:
        wanted: of each note, the highest first, the level of its first line, and how
            far below it the last one is.
        column: what they keep to.

    Returns:
        the level of each one's first line; as wanted where none is on a level, or where
        there is no room.
    """
    as_wanted = tuple(y for y, _ in wanted)
    if not any(_is_on(y, deep, column) for y, deep in wanted):
        return as_wanted
    step = column.text / STEPS
    spread = FURTHER * column.text
    high = max(as_wanted) + spread
    places = [
        high - n * step for n in range(ceil((high - min(as_wanted) + spread) / step))
    ]
    # Of each place: the least that all notes so far move, and where they stand then.
    least: list[tuple[float, tuple[float, ...]]] = [(0.0, ())] * len(places)
    above = -inf
    for y, deep in wanted:
        reach = inf if above == -inf else above + column.apart
        least = _next(places, least, (y, deep), reach, column)
        above = deep
    moved, stand = min(least, key=lambda each: each[0])
    return stand if moved < inf else as_wanted


def _next(
    places: list[float],
    least: list[tuple[float, tuple[float, ...]]],
    note: tuple[float, float],
    reach: float,
    column: Column,
) -> list[tuple[float, tuple[float, ...]]]:
    """Add a note to those above it: at each place, the least that all of them move.

    `reach` is from the first line of the note above to the first line of this one, at
    the least; infinite where there is none above.
    """
    wanted, deep = note
    best: tuple[float, tuple[float, ...]] = (0.0, ()) if reach == inf else (inf, ())
    upper, result = 0, []
    for y in places:
        while reach < inf and upper < len(places) and places[upper] >= y + reach - 1e-9:
            best = min(best, least[upper], key=lambda each: each[0])
            upper += 1
        is_bad = _is_on(y, deep, column) or y - deep < min(column.lowest, wanted - deep)
        moved = inf if is_bad else best[0] + abs(y - wanted)
        result.append((moved, (*best[1], y)))
    return result


def _is_on(first: float, deep: float, column: Column) -> bool:
    off = OFF * column.text - 1e-9
    return any(first - deep - off < level < first + off for level in column.levels)
