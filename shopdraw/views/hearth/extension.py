"""Draw the hearth extension from above: what was found against what the rule asks for.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: as a plan: x along the front from its finished left end, y back from the finished
face as drawn; the room is at negative y.

What the rule asks for is shaded, and crossed where the extension falls short of it.
What nobody measured is broken off, and said not to be measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Drawing, Fill, Ink, Point, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.lengths import format_length
from shopdraw.review.hearth import riser_adds
from shopdraw.solution import Solution
from shopdraw.views.hearth.asked import Area, Extension, box_of, extension_of, failed
from shopdraw.views.hearth.naming import has_levels, name_parts
from shopdraw.views.parts.clouds import clouds_round
from shopdraw.views.parts.figures import (
    Hand,
    break_line,
    cut_through,
    dot,
    hatch,
    points_of,
    ring_of,
)
from shopdraw.views.parts.floor import DEEP, floor_from_above
from shopdraw.views.parts.ground import Ground, ground_of
from shopdraw.views.parts.strings import stacked_strings
from shopdraw.views.wall.plans import backs_of, cuts_of, draw_substrates

ZERO = Fraction(0)
UNDER = 0.5
"""So much lower a level is lettered under figures, in heights: clear of strokes."""
ALIGN: dict[int, Align] = {-1: "right", 1: "left"}


def draw_extension(solution: Solution, scale: float) -> Drawing:
    """Draw the extension from above, before the first course of the brick."""
    hand, ground = Hand(solution.lengths, scale), ground_of(solution)
    shown = extension_of(solution)
    first = solution.coursing.courses[0]
    ink: list[Ink] = [
        *_wanted(shown, hand),
        *draw_substrates(solution.job, ground, True, hand),
        *(x for cut in cuts_of(solution, first) for x in cut_through(points_of(cut))),
        *_outline(shown, ground, hand),
        *_clouds(solution, shown, hand),
        *floor_from_above(
            solution,
            (float(shown.reach[0]), float(shown.reach[1])),
            # Where there is no hearth before the face, clear of the levels there.
            min(float(shown.area[1]), float(shown.face) - 3.0 * hand.text),
            float(shown.lowest),
            hand,
        ),
        *_firebox(solution, ground, hand),
        *_levels(solution, shown, ground, hand),
        *stacked_strings(
            solution.job,
            list(_rows(solution, shown)),
            scale,
            float(shown.lowest) - (DEEP + 0.6) * hand.text,
            _says(solution, shown, hand),
        ),
        *_deep(shown, ground, hand),
        *_build_out(solution, shown, ground, hand),
        *name_parts(solution, shown, hand),
    ]
    title = "HEARTH EXTENSION FROM ABOVE"
    return Drawing("extension", title, scale, tuple(ink))


def _ring(area: Area) -> tuple[Point, ...]:
    return ring_of(box_of(area))


def _wanted(shown: Extension, hand: Hand) -> Iterator[Ink]:
    """Shade what the rule asks for, and cross what is short of it."""
    if shown.asked is None:
        return
    yield Fill(layers.PATTERN, _ring(shown.asked))
    yield Stroke(layers.HIDDEN, _ring(shown.asked), closed=True)
    for area in shown.short():
        yield hatch(_ring(area), "CROSSED", hand)


def _clouds(solution: Solution, shown: Extension, hand: Hand) -> Iterator[Ink]:
    """Cloud what the extension is short of; its findings' numbers are led to it."""
    short = failed(solution, shown)
    if short is not None:
        yield from clouds_round(list(map(box_of, short.areas)), hand.text)


def _outline(shown: Extension, ground: Ground, hand: Hand) -> Iterator[Ink]:
    """Draw the extension's edges, broken off where they were not measured."""
    left, front, right, _ = (float(x) for x in shown.area)
    ends = _end(left, ground, -1), _end(right, ground, 1)
    corners = (left, front), (right, front)
    lines = (
        (ends[0], corners[0]),
        corners,
        (corners[1], ends[1]),
    )
    for (a, b), is_given in zip(lines, shown.given, strict=True):
        if is_given:
            yield Stroke(layers.OTHERS, (a, b))
        else:
            yield break_line(a, b, 0.8 * hand.text)
    y = float(shown.face)
    if y < 0:
        # Clear of the brick, as far as it goes.
        yield Stroke(layers.HIDDEN, ((0.0, y), (ground.width, y)))


def _end(x: float, ground: Ground, out: int) -> Point:
    """Return where an end of the extension meets brick or wall."""
    flank = ground.left if out < 0 else ground.right
    is_beside = x < 0.0 if out < 0 else x > ground.width
    return (x, ground.build_out if is_beside and not flank.face else 0.0)


def _firebox(solution: Solution, ground: Ground, hand: Hand) -> Iterator[Ink]:
    """Draw where the firebox begins, and its sides as far as they are known."""
    across, _ = ground.slant
    left, right = ground.opening[0] + across, ground.opening[1] - across
    depth, lines = solution.job.opening.firebox, ["FIREBOX"]
    if depth is None:
        near = ground.build_out
        lines.append("WHERE IT BEGINS: NOT MEASURED")
    else:
        near = float(depth)
        yield Stroke(layers.LEVELS, ((left, near), (right, near)))
        behind = format_length(depth, hand.lengths)
        lines.append(f"BEGINS {behind} BEHIND THE FACE")
    lines.append("ITS DEPTH: NOT MEASURED")
    back = max(_back_of(ground, hand), near + (2.0 + 1.8 * len(lines)) * hand.text)
    inset = 1.5 * hand.text
    yield break_line((left + inset, back), (right - inset, back), 0.8 * hand.text)
    wide = max(hand.width(line) for line in lines)
    if wide > right - left - 4.0 * hand.text:
        lines = ["FIREBOX:", "NOT MEASURED"]
        wide = max(hand.width(line) for line in lines)
    if wide < right - left - 2 * inset - hand.text:
        for x in (left + inset, right - inset):
            yield Stroke(layers.HIDDEN, ((x, near), (x, back)))
    middle, foot = (left + right) / 2, near
    if wide > right - left - hand.text:
        # No room between the walls: it is lettered behind them.
        foot = max(back, *backs_of(ground, hand))
        inside = (middle, (near + back) / 2)
        yield Stroke(layers.DIMENSIONS, (inside, (middle, foot + 0.8 * hand.text)))
        yield dot(inside, 0.25 * hand.text)
    for row, line in enumerate(lines):
        y = foot + (1.6 + 1.8 * (len(lines) - 1 - row)) * hand.text
        yield hand.caption((middle, y), line)


def _back_of(ground: Ground, hand: Hand) -> float:
    """Return how far back the walls beside the opening are drawn, at the least."""
    return ground.build_out + 4.0 * hand.text


SLANT = 0.7
"""Half a mark's width, in half its length: its strokes go up as far as across."""


def _levels(
    solution: Solution, shown: Extension, ground: Ground, hand: Hand
) -> Iterator[Ink]:
    """Letter how far points measured lie below the datum, as far as there is room."""
    surround = solution.surround
    start, width = surround.front.left, surround.front.width
    points = [
        (x - start, y)
        for x, y in surround.as_built.hearth.points
        if ZERO <= x - start <= width
    ]
    if not has_levels(solution):
        return
    areas = [shown.area] if shown.asked is None else [shown.area, shown.asked]
    ends = [float(x) for area in areas for x in (area[0], area[2])]
    beside = max(*ends, _past(ground)) + 1.6 * hand.text
    text = STYLES[hand.lengths].text
    face, size, last = float(shown.face), 0.5 * hand.text, -float("inf")
    for x, y in sorted(points):
        words = format_length(-y, hand.lengths)
        at, half = float(x), hand.width(words) / 2
        level = face - 1.2 * hand.text
        # On the side where no end of the extension runs through it.
        span = 2 * half + size + 0.3 * hand.text
        ways = [
            way
            for way in (1, -1)
            if not any(0.0 < way * (end - at) < span for end in (*ends, beside))
        ]
        if not ways and not any(0.0 < end - at < span for end in ends):
            # Under the figures of the build-out, where it has no other place.
            ways, level = [1], level - UNDER * hand.text
        near = at - (size if 1 in ways else span)
        if not ways or near < last:
            continue
        way = ways[0]
        last = at + (span if way > 0 else size) + size
        # Slanting, because an end of the extension may run through it.
        for up in (SLANT * size, -SLANT * size):
            ends_at = (at - SLANT * size, level - up), (at + SLANT * size, level + up)
            yield Stroke(layers.DIMENSIONS, ends_at)
        spot = (at + way * (size + 0.3 * hand.text), level)
        yield Words(layers.NOTES, spot, words, text, ALIGN[way], "middle")


def _rows(
    solution: Solution, shown: Extension
) -> Iterator[tuple[str, tuple[Fraction, ...]]]:
    """Yield the strings below, nearest first."""
    (left, _, right, _), (is_left, _, is_right) = shown.area, shown.given
    ends = [left] * is_left + [*shown.found] + [right] * is_right
    name = "WITH RISER" if riser_adds(solution.job) else "MEASURED"
    yield name, tuple(ends)
    if shown.asked is not None:
        yield (
            "REQUIRED",
            (shown.asked[0], *shown.outer, shown.asked[2]),
        )


def _says(
    solution: Solution, shown: Extension, hand: Hand
) -> dict[int, tuple[float, str]]:
    """Say of which width of the opening the strings are, by their place."""
    (left, right), (first, last) = shown.found, shown.outer
    words = "OPENING AS MEASURED"
    if any(foot[0] != top[0] for foot, top in solution.surround.as_built.jambs):
        # No other view measures from where jambs lean out to where they do.
        words += ", AT ITS WIDEST POINTS"
        if hand.width(words) > shown.area[2] - shown.area[0]:
            words = "OPENING AT ITS WIDEST"
    said = {0: (float(left + right) / 2, words)}
    if shown.asked is not None and (first, last) != (left, right):
        said[1] = float(first + last) / 2, "OPENING AS MEASURED OR FINISHED, THE WIDER"
    return said


def _deep(shown: Extension, ground: Ground, hand: Hand) -> Iterator[Ink]:
    """Dimension at the left how far the extension goes, and how far it is to go."""
    walls = (*ground.left.face, *ground.left.behind)
    x = min([0.0, float(shown.reach[0]), *(a for a, _ in walls)]) - 4.0 * hand.text
    face, text = shown.face, STYLES[hand.lengths].text
    strings: list[tuple[str, Fraction]] = []
    if shown.given[1]:
        strings.append(("MEASURED", shown.area[1]))
    if shown.asked is not None:
        strings.append(("REQUIRED", shown.asked[1]))
    for name, edge in strings:
        if edge < face:
            yield from hand.string("y", (edge, face), x)
        at = (x, float(face) + 0.8 * hand.text)
        words = name if edge < face else f"{name}: NONE BEFORE THE FACE"
        yield Words(layers.NOTES, at, words, text, "left", "middle", 90.0)
        x -= 3.2 * hand.text


def _build_out(
    solution: Solution, shown: Extension, ground: Ground, hand: Hand
) -> Iterator[Ink]:
    """Dimension at the right how far brick and bed bring the face forward."""
    x = max(float(shown.reach[1]), _past(ground)) + 3.0 * hand.text
    levels, names = [ZERO, solution.surround.build_out], ["BUILD-OUT AS DRAWN"]
    if shown.face < 0:
        levels.insert(0, shown.face)
        names.insert(0, "MORE WHERE THE BED IS THICKEST")
    yield from hand.fan("y", tuple(levels), x, tuple(names))


def _past(ground: Ground) -> float:
    walls = (*ground.right.face, *ground.right.behind)
    return max([ground.width, *(x for x, _ in walls)])
