"""Draw the old brick that stays beside the face, with its course lines.

In:  `Solution`, the scale.   Out: ink.
Frame: full size; x from the left end of the front's finished face, y up from the datum.

Its perpends are not in the job, so a course is drawn as two lines, and goes on.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Ink, Stroke, Words
from shopdraw.drawing.lettering import Box, box_of, plain, width_of
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model_existing import ExistingBrickTable
from shopdraw.job.old_lines import old_height
from shopdraw.lengths import format_length
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import width_seen
from shopdraw.views.parts.clouds import clouds_round, fails_words
from shopdraw.views.parts.figures import break_line
from shopdraw.views.parts.found import OLD_BRICK

ABOVE = 3
"""So many of its courses are drawn above the face."""
ROOM = 1.3
"""How high a brick must be to be lettered on, in heights of lettering."""
SIDEWAYS = 0.92
"""So much of its width what is lettered on it may take."""
PITCH = 1.7
"""From one line of its name to the next, in heights of lettering."""
CLEAR, CLOUDED = 1.0, 3.0
"""How far over its last course the name stands, and where it is clouded."""
BREAK = 0.8
"""How large the kink of its break line is, in heights of lettering."""


def draw_old_brick(solution: Solution, scale: float) -> Iterator[Ink]:
    """Draw every course of old brick, its top's height, and what does not line up."""
    for place, old in enumerate(solution.job.existing_brick, start=1):
        courses = [*_courses(solution, old)]
        left, right = _ends(solution, old)
        for _, low, high in courses:
            yield Stroke(layers.OTHERS, ((left, low), (right, low)))
            yield Stroke(layers.OTHERS, ((left, high), (right, high)))
        foot, head = courses[0][1], courses[-1][2]
        yield from _broken_off(old, (left, foot, right, head), scale, solution)
        # Above the face its middle is for the centre line.
        over = right / 2 if old.where == "above" else right
        lettered = [*_heights(solution, courses, (left, over), scale)]
        yield from lettered
        yield from _named(solution, place, (left, right, head), scale, lettered)


def top_above(solution: Solution) -> float:
    """Return how high old brick is drawn above the face; 0 where there is none."""
    above = [old for old in solution.job.existing_brick if old.where == "above"]
    return max((c[2] for old in above for c in _courses(solution, old)), default=0.0)


Course = tuple[int, float, float]
"""The number of an old course, and the levels of its bottom and its top."""


def _courses(solution: Solution, old: ExistingBrickTable) -> Iterator[Course]:
    """Yield the old courses beside the face and one over it, or the first above it."""
    high, top = old_height(solution.job, old), solution.coursing.top
    for number, line in enumerate(old.lines, start=1):
        bottom = line - high
        if number > ABOVE if old.where == "above" else bottom > top + high:
            return
        yield number, float(bottom), float(line)


def _ends(solution: Solution, old: ExistingBrickTable) -> tuple[float, float]:
    """Return from where to where it is drawn."""
    width, wide = (
        float(solution.surround.front.width),
        float(OLD_BRICK[solution.lengths]),
    )
    left, right = width_seen(solution.surround)
    return {
        "left": (-left - wide, -left),
        "right": (width + right, width + right + wide),
        "above": (0.0, width),
    }[old.where]


def _broken_off(
    old: ExistingBrickTable, box: Box, scale: float, solution: Solution
) -> Iterator[Stroke]:
    """Break it off where it goes on: away from the face."""
    left, foot, right, head = box
    kink = BREAK * STYLES[solution.lengths].text * scale
    if old.where == "above":
        yield break_line((left, head), (right, head), kink)
    else:
        x = left if old.where == "left" else right
        yield break_line((x, foot), (x, head), kink)


def _heights(
    solution: Solution,
    courses: list[Course],
    ends: tuple[float, float],
    scale: float,
) -> Iterator[Words]:
    """Letter the top of each course on it, where all of them have room."""
    lengths, (left, right) = solution.lengths, ends
    text = STYLES[lengths].text
    said = [format_length(Fraction(high), lengths) for _, _, high in courses]
    deep = min(high - low for _, low, high in courses)
    wide = max(width_of(words, text) for words in said)
    if deep < ROOM * text * scale or wide * scale > SIDEWAYS * (right - left):
        return
    for words, (_, low, high) in zip(said, courses, strict=True):
        at = (left + right) / 2, (low + high) / 2
        yield Words(layers.DIMENSIONS, at, words, text, "centre", "middle")


def _named(
    solution: Solution,
    place: int,
    across: tuple[float, float, float],
    scale: float,
    lettered: list[Words],
) -> Iterator[Ink]:
    """Name it over its last course; cloud the name where a line can't be met."""
    job = solution.job
    old, (left, right, head) = job.existing_brick[place - 1], across
    style = STYLES[job.lengths]
    text = style.text * scale
    row = solution.row("old-brick-lines", place)
    lines = [f"{plain(old.name).upper()}, EXISTING"]
    lines.append("TOPS OF ITS COURSES" if lettered else "TOPS: SEE COURSE LIST")
    failed = row is not None and row[1].status == "failed"
    if row is not None and failed:
        lines.append(fails_words((row[0],)))
    named = list[Words]()
    clear = CLOUDED if failed else CLEAR
    align: Align
    for up, words in enumerate(reversed(lines)):
        y = head + (clear + up * PITCH) * text
        at, align = (left + text, y), "left"
        if old.where == "left":
            at, align = (right - text, y), "right"
        named.append(Words(layers.NOTES, at, words, style.text, align))
    yield from named
    if failed:
        yield from clouds_round([box_of(each, scale) for each in named], text)
