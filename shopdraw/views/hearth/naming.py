"""Name what is seen on the hearth extension from above.

In:  `Solution`, `Extension`.   Out: ink.
Frame: the view's.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.ink import Ink, Point
from shopdraw.drawing.lettering import plain
from shopdraw.lengths import format_length
from shopdraw.review.limits import title_of_rules
from shopdraw.solution import Solution
from shopdraw.views.hearth.asked import (
    SIDES,
    ZERO,
    Area,
    Extension,
    box_of,
    failed,
)
from shopdraw.views.parts.clouds import CLOUD, fails_words
from shopdraw.views.parts.figures import Hand
from shopdraw.views.parts.floor import floor_words
from shopdraw.views.parts.phrases import in_lines

LED = 5.5
"""How deep the extension is at least, in heights of lettering, for leaders to it."""
APART = 0.8
"""How far apart the ends of leaders in it are at least, in heights of lettering."""
NARROW = 30.0
"""How wide a note is at most on a sheet that stands upright, in heights of lettering:
with wider ones the extension would be drawn smaller."""


def name_parts(solution: Solution, shown: Extension, hand: Hand) -> Iterator[Ink]:
    """Name what is seen, from the face into the room."""
    _, front, right, face = (float(x) for x in shown.area)
    x, lowest = right - 2.0 * hand.text, float(shown.lowest)
    lines = [_falls(solution), _made_of(solution), _verdicts(solution)]
    if has_levels(solution):
        lines.insert(0, "FIGURES AT X: HEARTH BELOW DATUM")
    wide = float(solution.surround.front.width)
    column = max(float(shown.reach[1]), right, wide) + 4.0 * hand.text
    rows: list[tuple[Point, str]] = []
    levels = _levels(face, front, len(lines), hand.text)
    if face - front > LED * hand.text:
        rows += (((x, y), words) for words, y in zip(lines, levels, strict=True))
    else:
        # Too little is seen of it for a leader to point at.
        under = [part for line in lines for part in _in_lines(solution, line)]
        yield from _standing_on(under, column, hand)
    if shown.asked is not None:
        # Where the hearth is there, too: what is short of it has a cloud round it.
        _, near, end, _ = (float(x) for x in shown.asked)
        if not shown.burns and face - front > LED * hand.text:
            near, end = max(near, front), min(end, right)
        outer = float(shown.outer[1])
        spot = outer + 0.5 * (end - outer), face + 0.8 * (near - face)
        by = title_of_rules(solution.job).upper() or "THE MANUAL"
        rows.append((spot, f"SHADED: REQUIRED BY {plain(by)}"))
    else:
        rows.append(((x, lowest + 3.0 * hand.text), "NO FIGURE TO HOLD IT AGAINST"))
    if not all(shown.given):
        parts = zip(("LEFT END", "FRONT EDGE", "RIGHT END"), shown.given, strict=True)
        lost = ", ".join(name for name, is_given in parts if not is_given)
        rows.append(((x, lowest + hand.text), f"NOT MEASURED: {lost}"))
    short = failed(solution, shown)
    if short is not None:
        _, low, edge, _ = max(map(box_of, short.areas), key=lambda box: box[2])
        # On the cloud, and not on the leader of what lies level inside it.
        spot = edge + CLOUD * hand.text, low - 0.45 * hand.text
        rows.append((spot, fails_words(short.numbers)))
    for area in shown.short():
        rows.append((_near_end(area, hand), "CROSSED: SHORT OF WHAT IS REQUIRED"))
        break
    # Above the kink of the break line at the side; beyond a cloud, where there is one.
    floor = (x, lowest - (0.6 if short is None else 2.4) * hand.text)
    rows.append((floor, "\n".join(floor_words(solution))))
    led = ((at, "\n".join(_in_lines(solution, words))) for at, words in rows)
    yield from hand.leaders(tuple(led), column)


def _standing_on(lines: list[str], x: float, hand: Hand) -> Iterator[Ink]:
    """Letter lines above the notes with leaders, the last right above them."""
    for row, words in enumerate(reversed(lines)):
        yield hand.caption((x, (5.0 + 1.9 * row) * hand.text), words, "left")


def _in_lines(solution: Solution, words: str) -> list[str]:
    """Return a note's lines, narrower on a sheet that stands upright."""
    lines, (wide, high) = words.split("\n"), solution.job.paper
    if wide > high:
        return lines
    return [part for line in lines for part in in_lines(line, NARROW)]


def _levels(face: float, front: float, count: int, text: float) -> list[float]:
    """Return where leaders end in the extension, from the face to its front edge.

    They do so below the figures of the build-out, evenly, so that no two touch.
    """
    high = min(face + 0.2 * (front - face), face - 5.0 * text)
    low = face + (0.05 + 0.15 * count) * (front - face)
    low = min(low, high - APART * (count - 1) * text)
    low = max(low, front + 0.5 * text)
    return [high + row * (low - high) / max(1, count - 1) for row in range(count)]


def _near_end(area: Area, hand: Hand) -> Point:
    """Return a spot at the end of an area that its name stands at.

    A longer leader runs across what it is about.
    """
    left, low, right, high = map(float, area)
    return right - min((right - left) / 2, 3.0 * hand.text), (low + high) / 2


def has_levels(solution: Solution) -> bool:
    """Whether points of the hearth under the front lie below the datum."""
    front = solution.surround.front
    return any(
        y and front.left <= x <= front.right
        for x, y in solution.surround.as_built.hearth.points
    )


def _verdicts(solution: Solution) -> str:
    """Say what the review found of the front and of both sides."""
    said = []
    for name, key, about in SIDES:
        finding = solution.finding(key, about)
        if finding is not None:
            said.append(f"{name} {finding.status.upper()}")
    return ", ".join(said)


def _made_of(solution: Solution) -> str:
    """Say what the extension is made of, and how thick it is."""
    hearth = solution.job.hearth
    material = "unknown" if hearth is None else hearth.material
    said = "MATERIAL NOT GIVEN" if material == "unknown" else material.upper()
    thick = None if hearth is None else hearth.thickness
    if thick is None:
        return f"HEARTH, {said}, THICKNESS NOT MEASURED"
    return f"HEARTH, {said}, {format_length(thick, solution.lengths)} THICK"


def _falls(solution: Solution) -> str:
    """Say how the hearth falls along the face."""
    points = solution.surround.as_built.hearth.points
    drop = max((-y for _, y in points), default=ZERO)
    if not drop:
        return "NO FALL GIVEN"
    return f"FALLS {format_length(drop, solution.lengths)} ALONG THE FACE"
