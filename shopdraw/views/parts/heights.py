"""Draw the heights beside the elevation; keep words clear of the level lines.

In:  `Solution`, the scale.   Out: ink.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, inf

from shopdraw.drawing import layers
from shopdraw.drawing.chains import Chain
from shopdraw.drawing.dimensions import (
    StringStyle,
    levels_used,
    string_of_dimensions,
)
from shopdraw.drawing.ink import Ink, Stroke, Words
from shopdraw.drawing.lettering import box_of, plain, width_of, wrap
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course, Coursing, TargetMet
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import width_seen
from shopdraw.views.parts.courses import off_plan, top_words
from shopdraw.views.parts.equal_courses import (
    equal_runs,
    fits,
    said_once,
    without_steps,
)
from shopdraw.views.parts.found import (
    hearth_drops,
    is_clear,
    lowest_of,
    old_brick_width,
    reach_of,
)

OFF_LEVEL = 1.1
"""How far the middle of a line of words keeps off a level, in heights of lettering."""
STEPS = 4
"""So many places to the height of lettering are tried."""
FURTHER = 16
"""How far words may be moved, in heights of lettering."""
HEAD, AS_BUILT = "COURSE, TOP", "COURSE, TOP AS LAID, OFF THE PLAN"
"""What the column of running heights is called, planned and once all is laid."""


FLAG = 30.0
"""How wide a line of names of woodwork at one level is, in heights of lettering."""
CROWN = "CROWN OF THE ARCH"
SOLDIER_TOP = "soldier top"
"""What the coursing calls the level that a course beside soldiers is to land on."""


def upright_strings(solution: Solution, scale: float) -> Iterator[Ink]:
    """Set out the strings at the left: joints and brick, head and top, overall.

    Their figures keep clear of how far the hearth lies below the datum.
    """
    coursing, arch = solution.coursing, solution.layout.arch
    style = STYLES[solution.job.lengths]
    steps = {Fraction(0), coursing.top}
    for course in coursing.courses:
        steps.update(course.known_levels)
    runs = [
        run
        for run in equal_runs(coursing.courses)
        if fits(run, solution.lengths, style.text, scale)
    ]
    features = {Fraction(0), coursing.head, coursing.top}
    if coursing.soldier_top is not None:
        features.add(coursing.soldier_top)
    if arch is not None:
        features |= {coursing.head + arch.rise, arch.crown}
    for panel in solution.layout.panels:
        features |= {panel.box[1], panel.box[3]}
    rows = [
        (without_steps(steps, runs), True),
        (tuple(sorted(features)), False),
    ]
    whole = Fraction(0), coursing.top
    if whole not in (positions for positions, _ in rows):
        rows.append((whole, False))
    drops = hearth_drops(solution, scale, lowest_of(solution.surround))
    lettered = tuple(box_of(x, scale) for x in drops if isinstance(x, Words))
    at = reach_of(solution)[0] - 3.0 * style.text * scale
    for positions, upright in rows:
        if len(positions) < 2:
            continue
        chain = Chain(positions, "y", solution.job.lengths)
        set_out = StringStyle(
            layers.DIMENSIONS, style.text, scale, outward=-1, upright=upright
        )
        measures = string_of_dimensions(
            chain, at, at + 1.2 * style.text * scale, set_out, lettered
        )
        said: tuple[Words, ...] = ()
        if upright:
            measures, said = said_once(measures, runs, solution.lengths, scale)
        yield from measures
        yield from said
        outs = ((at - box_of(x, scale)[0]) / scale for x in said)
        used = max([levels_used(measures, at, scale), *outs])
        at -= (used + 2.6 * style.text) * scale


def running_heights(solution: Solution, scale: float) -> Iterator[Ink]:
    """Letter every course's number and the height of its top, and flag the targets."""
    style = STYLES[solution.job.lengths]
    right = float(solution.surround.front.width) + width_seen(solution.surround)[1]
    # Across old brick its own courses are drawn.
    right += old_brick_width(solution, "right")
    column = reach_of(solution)[1] + 4.0 * style.text * scale
    pitch = 1.45 * style.text * scale
    last = -pitch
    wide = 0.0
    for course in solution.coursing.courses:
        top = float(course.top)
        letter = max(top, last + pitch)
        laid = "  LAID" if course.is_laid else ""
        if solution.coursing.is_as_built:
            laid = f"  {off_plan(solution.job, solution.coursing, course).upper()}"
        words = f"{course.number}  {top_words(solution.job, course).upper()}{laid}"
        words += _band_words(solution.job, course)
        yield Stroke(
            layers.DIMENSIONS,
            (
                (right + 0.8 * style.text * scale, top),
                (column - 1.6 * style.text * scale, top),
                (column - 0.4 * style.text * scale, letter),
            ),
        )
        yield Words(
            layers.DIMENSIONS, (column, letter), words, style.text, "left", "middle"
        )
        wide = max(wide, width_of(words, style.text))
        last = letter
    above = (column, last + 1.2 * pitch)
    head = AS_BUILT if solution.coursing.is_as_built else HEAD
    yield Words(layers.NOTES, above, head, style.text, "left", "middle")
    wide = max(wide, width_of(head, style.text))
    flags = column + (wide + 2.8 * style.text) * scale
    yield from _targets(solution, right, flags, scale)


def crown_of(solution: Solution) -> Fraction | None:
    """Return the level of an arch's crown, at its soffit; None where there is none."""
    arch = solution.layout.arch
    return arch.spring + arch.rise if arch is not None and arch.rise else None


def _band_words(job: Job, course: Course) -> str:
    """Letter what a course is, where it is a band, and how far a corbel brings it."""
    words = f"  {course.kind.upper()}S" if course.band else ""
    if course.projection:
        words += f"  OUT {format_length(course.projection, job.lengths)}"
    return words


def _targets(
    solution: Solution, right: float, column: float, scale: float
) -> Iterator[Ink]:
    """Flag each target's level and name, and say whether the courses land on it."""
    job = solution.job
    style = STYLES[job.lengths]
    pitch = 1.7 * style.text * scale
    last = -10.0 * pitch
    flags = [
        (
            t.got,
            (*_target_words(job, t, solution.coursing), *_soldiers_end(solution, t)),
        )
        for t in solution.coursing.targets
    ]
    crown = crown_of(solution)
    if crown is not None:
        at = format_length(crown, job.lengths)
        flags.append((crown, (CROWN, f"SOFFIT AT {at}")))
    flags += _undersides(solution)
    for got, lines in sorted(flags):
        level = float(got)
        high = len(lines) * pitch
        letter = max(level, last)
        # The line breaks off at the heights, which it would cross.
        near = column - 2.2 * style.text * scale
        bend = (column - 0.4 * style.text * scale, letter + 0.4 * pitch)
        yield Stroke(
            layers.LEVELS, ((right, level), (right + style.text * scale, level))
        )
        yield Stroke(
            layers.LEVELS, ((near, level), (near + style.text * scale, level), bend)
        )
        for row, line in enumerate(lines):
            y = letter + high - (row + 1) * pitch + 0.2 * pitch
            yield Words(layers.NOTES, (column, y), line, style.text)
        last = letter + high + 0.5 * pitch
    for row, line in enumerate(_datum_words(solution), start=1):
        spot = (column, -(0.5 + row) * pitch)
        yield Words(layers.NOTES, spot, line, style.text)
    yield Stroke(layers.LEVELS, ((right, 0.0), (column, 0.0)))


def _datum_words(solution: Solution) -> tuple[str, ...]:
    """Name the datum; say where the floor is: only the riser's views reach it."""
    hearth = solution.job.hearth
    brick = hearth.brick if hearth is not None else None
    if brick is None or brick.riser is None:
        return "DATUM 0: HIGHEST", "POINT OF HEARTH"
    high = format_length(brick.riser, solution.lengths)
    return "DATUM 0: TOP OF HEARTH;", f"FLOOR {high} BELOW IT,", "SEE THE RISER"


def _undersides(solution: Solution) -> Iterator[tuple[Fraction, tuple[str, ...]]]:
    """Yield the level of woodwork over brick, and all names that have it."""
    level: dict[Fraction, list[str]] = {}
    for trim in solution.job.trim:
        if not is_clear(trim, solution.coursing):
            level.setdefault(trim.bottom, []).append(plain(trim.name).upper())
    text = STYLES[solution.lengths].text
    for at, names in level.items():
        lines = wrap(", ".join(names), text, FLAG * text)
        yield at, (*lines, "UNDERSIDE, BY OTHERS")


def level_name(target: TargetMet, coursing: Coursing) -> str:
    """Name what lies at a target's level, in capitals.

    Where soldiers end higher or lower it is the top of the course beside them.
    """
    if target.name == SOLDIER_TOP and target.got != coursing.soldier_top:
        beside = next(c.number for c in coursing.courses if c.top == target.got)
        return f"COURSE {beside}"
    return plain(target.name).upper()


def _target_words(job: Job, target: TargetMet, coursing: Coursing) -> tuple[str, ...]:
    got = format_length(target.got, job.lengths)
    name = level_name(target, coursing)
    if target.lands:
        return (name, f"{target.meets.upper()} AT {got}: LANDS")
    wanted = format_length(target.wanted, job.lengths)
    return (name, f"{target.meets.upper()} AT {got}", f"MISSED: WANTED {wanted}")


def _soldiers_end(solution: Solution, target: TargetMet) -> tuple[str, ...]:
    """Say where the soldiers end, if that is not level with the course beside them."""
    top = solution.coursing.soldier_top
    if top is None or target.name != SOLDIER_TOP or target.got == top:
        return ()
    return (f"SOLDIER TOP AT {format_length(top, solution.lengths)}",)


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
class HeightColumn:
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
    wanted: Sequence[tuple[float, float]], column: HeightColumn
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
    column: HeightColumn,
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


def _is_on(first: float, deep: float, column: HeightColumn) -> bool:
    off = OFF_LEVEL * column.text - 1e-9
    return any(first - deep - off < level < first + off for level in column.levels)
