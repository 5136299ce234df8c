"""Draw the small things that several views share: cut material, hatching, leaders.

In:  points, positions, words.   Out: ink.
Frame: as the view's; sizes on paper are multiplied by the view's scale.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise
from math import hypot, inf

from shopdraw.drawing import layers
from shopdraw.drawing.chains import Chain
from shopdraw.drawing.dimensions import (
    StringStyle,
    levels_used,
    string_of_dimensions,
)
from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import (
    Align,
    Axis,
    Fill,
    Hatch,
    Ink,
    Measure,
    PatternName,
    Point,
    Stroke,
    Words,
)
from shopdraw.drawing.lettering import width_of
from shopdraw.drawing.measures import cross, runs_through
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.lengths import Lengths
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.form import Cut
from shopdraw.views.parts.heights import HeightColumn, stand_clear

SHORT = {"in": Fraction(18), "mm": Fraction(450)}
"""How much of a hearth extension is drawn where none was measured."""
TEXT_IN_INCHES = 3 / 32
"""How high lettering is where hatches are as large as their set has them."""
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Hand:
    """The lengths and the scale that a view is lettered and dimensioned with."""

    lengths: Lengths
    scale: float

    @property
    def text(self) -> float:
        """The height of general lettering, at full size."""
        return STYLES[self.lengths].text * self.scale

    def width(self, words: str) -> float:
        """Return how wide a line of lettering is, at full size."""
        return width_of(words, STYLES[self.lengths].text) * self.scale

    def string(
        self,
        axis: Axis,
        positions: tuple[Fraction, ...],
        line_at: float,
        outward: int = -1,
        upright: bool = False,
        lettered: tuple[Box, ...] = (),
    ) -> tuple[Measure, ...]:
        """Set out a string of dimensions, most of whose gaps have room for figures."""
        text = STYLES[self.lengths].text
        style = StringStyle(layers.DIMENSIONS, text, self.scale, outward, upright)
        chain = Chain(positions, axis, self.lengths)
        starts_at = line_at - outward * 1.4 * self.text
        return string_of_dimensions(chain, line_at, starts_at, style, lettered)

    def upright_strings(
        self, levels: tuple[Fraction, ...], near: float
    ) -> Iterator[Measure]:
        """Set out heights at the left, then the whole beyond their figures."""
        inner = self.string("y", levels, near, upright=True)
        yield from inner
        used = levels_used(inner, near, self.scale) * self.scale + 3.0 * self.text
        yield from self.string("y", (levels[0], levels[-1]), near - used, upright=True)

    def fan(
        self,
        axis: Axis,
        positions: tuple[Fraction, ...],
        line_at: float,
        names: tuple[str, ...] = (),
        outward: int = 1,
        lowest: float = -inf,
    ) -> Iterator[Ink]:
        """Set out a string of dimensions for gaps narrower than their figures.

        Where all of them fit, and none has a name, it is a string as any other. Else
        the figures stand apart beyond the line, in order, each with a thin line to
        its gap; `names`, along y only, say what each is. The first stands no lower
        than `lowest`.
        """
        measures = self.string(axis, positions, line_at, outward)
        if not names and all(x.letter is None for x in measures):
            yield from measures
            return
        style = STYLES[self.lengths]
        words = tuple(x.words for x in measures)
        middles = [float(a + b) / 2 for a, b in pairwise(positions)]
        pitch = 1.7 * self.text
        if axis == "x":
            pitch = max(self.width(x) for x in words) + self.text
        first = max(lowest, sum(middles) / len(middles) - pitch * (len(words) - 1) / 2)
        starts_at = line_at - outward * 1.4 * self.text
        for n, span in enumerate(pairwise(positions)):
            along = first + n * pitch
            half = self.width(words[n]) / 2 if axis == "y" else self.text / 2
            near = line_at + outward * 2.0 * self.text
            letter_at = near + outward * (half + 0.4 * self.text)
            a, b = float(span[0]), float(span[1])
            corners = ((a, starts_at), (b, starts_at), (along, letter_at))
            line = ((middles[n], line_at), (along, near))
            if axis == "y":
                corners = ((starts_at, a), (starts_at, b), (letter_at, along))
                line = ((line_at, middles[n]), (near, along))
            yield Measure(
                layers.DIMENSIONS, *corners[:2], axis, line_at, words[n], style.text,
                letter=corners[2], upright=True,
            )  # fmt: skip
            yield Stroke(layers.DIMENSIONS, line)
            if names:
                x = letter_at + outward * (half + 0.8 * self.text)
                align: Align = "left" if outward > 0 else "right"
                yield Words(
                    layers.NOTES, (x, along), names[n], style.text, align, "middle"
                )

    def leaders(
        self,
        rows: tuple[tuple[Point, str], ...],
        x: float,
        lowest: float = -inf,
        levels: tuple[float, ...] = (),
    ) -> Iterator[Words | Stroke]:
        """Letter a column of notes that begins at `x`, each with a leader to its point.

        The notes stand level with their points as far as there is room, the highest
        point first, so that no leader crosses another. A note may have several lines.
        They stand higher than their points where they would go below the lowest level,
        and none stands on one of the level lines that run across it.
        """
        style = STYLES[self.lengths]
        order = sorted(rows, key=lambda row: (-row[0][1], -row[0][0]))
        for place in range(len(order) - 1):
            first, then = order[place : place + 2]
            turned = [*order[:place], then, first, *order[place + 2 :]]
            if self._crossings(turned, x, lowest) < self._crossings(order, x, lowest):
                order = turned
        more = [1.8 * words.count("\n") * self.text for _, words in order]
        wanted = list(zip(self._levels(order, lowest), more, strict=True))
        column = HeightColumn(levels, self.text, _apart(order) * self.text, lowest)
        for (point, words), y in zip(order, stand_clear(wanted, column), strict=True):
            end = (x - 0.6 * self.text, y)
            yield Stroke(layers.DIMENSIONS, (point, (end[0] - self.text, y), end))
            yield dot(point, 0.25 * self.text)
            for row, line in enumerate(words.split("\n")):
                at = x, y - 1.8 * row * self.text
                yield Words(layers.NOTES, at, line, style.text, "left", "middle")

    def _levels(self, order: list[tuple[Point, str]], lowest: float) -> list[float]:
        """Return the levels of notes, the highest first."""
        apart = _apart(order)
        more = [1.8 * words.count("\n") * self.text for _, words in order]
        room, last = sum(more) + len(order) * apart * self.text, inf
        levels = []
        for (point, _), further in zip(order, more, strict=True):
            y = min(max(point[1], lowest + room), last - apart * self.text)
            room -= further + apart * self.text
            levels.append(y)
            last = y - further
        return levels

    def _crossings(
        self, order: list[tuple[Point, str]], x: float, lowest: float
    ) -> int:
        """Return how often leaders cross, or run through what another ends in."""
        levels = self._levels(order, lowest)
        end = x - 1.6 * self.text
        lines = [(row[0], (end, y)) for row, y in zip(order, levels, strict=True)]
        ends = [about([self._off(at, -1), self._off(at, 1)]) for at, _ in order]
        through = sum(
            runs_through(line, box)
            for place, line in enumerate(lines)
            for box in (*ends[:place], *ends[place + 1 :])
        )
        crossed = sum(cross(one, other) for one, other in combinations(lines, 2))
        return crossed + through

    def _off(self, at: Point, way: int) -> Point:
        """Return a corner about a leader's end, which is a diamond, with room."""
        return at[0] + way * 0.4 * self.text, at[1] + way * 0.4 * self.text

    def caption(self, at: Point, words: str, align: Align = "centre") -> Words:
        """Letter a short label, centred on its height."""
        text = STYLES[self.lengths].text
        return Words(layers.NOTES, at, words, text, align, "middle")


def _apart(notes: Sequence[tuple[Point, str]]) -> float:
    """Return how far notes stand apart: those of several lines, further than lines."""
    return 2.5 if any("\n" in words for _, words in notes) else 1.9


def inside_of(spans: Iterable[tuple[float, float]], near: float) -> float:
    """Return the nearest level well inside a span, for a leader to end in."""
    inside = [
        min(max(near, low + (high - low) / 4), high - (high - low) / 4)
        for low, high in spans
    ]
    return min(inside, key=lambda y: abs(y - near), default=near)


def dot(at: Point, radius: float) -> Stroke:
    """Return the small diamond that a leader ends in."""
    x, y = at
    corners = ((x - radius, y), (x, y - radius), (x + radius, y), (x, y + radius))
    return Stroke(layers.DIMENSIONS, corners, closed=True)


def points_of(cut: Cut) -> tuple[Point, ...]:
    """Return the outline of cut material as points for ink."""
    return tuple((float(x), float(y)) for x, y in cut.ring)


def heights_of(cut: Cut) -> tuple[float, float]:
    """Return from where to where cut material reaches in an upright section."""
    levels = [float(y) for _, y in cut.ring]
    return min(levels), max(levels)


def ring_of(box: Box) -> tuple[Point, ...]:
    """Return a box's corners, anticlockwise from the lower left one."""
    left, low, right, high = box
    return ((left, low), (right, low), (right, high), (left, high))


def cut_through(points: tuple[Point, ...]) -> tuple[Ink, Ink]:
    """Draw material that the section cuts: tinted, with a heavy outline."""
    return Fill(layers.SECTION, points), Stroke(layers.SECTION, points, closed=True)


def cut_off(ring: tuple[Point, ...], far: tuple[float, float]) -> Iterator[Ink]:
    """Draw cut material, leaving out its outline on the side where it is broken off.

    It is broken off at the distance `far` from the axes: along x, or along y.
    """
    yield Fill(layers.SECTION, ring)
    for n, (a, b) in enumerate(pairwise((*ring, ring[0])), start=1):
        if a[1] == b[1] == far[1] or abs(a[0]) == abs(b[0]) == far[0]:
            yield Stroke(layers.SECTION, (*ring[n:], *ring[:n]))
            return
    yield Stroke(layers.SECTION, ring, closed=True)


def clipped(ring: list[Point], axis: int, far: float) -> Iterator[Point]:
    """Yield the corners of the part of an outline that goes no further on an axis."""
    most = far + 1e-9
    for place, here in enumerate(ring):
        before = ring[place - 1]
        near = min(before[axis], here[axis]), max(before[axis], here[axis])
        if near[0] < far - 1e-9 and near[1] > most:
            share = (far - before[axis]) / (here[axis] - before[axis])
            other = before[1 - axis] + share * (here[1 - axis] - before[1 - axis])
            yield (far, other) if axis == 0 else (other, far)
        if here[axis] <= most:
            yield here


def break_line(a: Point, b: Point, size: float) -> Stroke:
    """Draw a break line, its kink so large."""
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    long = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    along = size * (b[0] - a[0]) / long, size * (b[1] - a[1]) / long
    kink = tuple(
        (x + far * along[0] - out * along[1], y + far * along[1] + out * along[0])
        for far, out in ((-1.0, 0.0), (-1 / 3, 1.0), (1 / 3, -1.0), (1.0, 0.0))
    )
    return Stroke(layers.DIMENSIONS, (a, *kink, b))


UNKNOWN: PatternName = "BROKEN"
"""The hatch of what is cut through and nobody said what it is made of."""
WALLS: dict[str, PatternName] = {
    "masonry": "DIAGONAL",
    "concrete": "CONCRETE",
    "board": "DOTTED",
    "unknown": UNKNOWN,
}
"""The hatch of a wall, by what it is made of."""


def hatch(points: tuple[Point, ...], pattern: PatternName, hand: Hand) -> Hatch:
    """Hatch an area; neighbouring areas of one view match at their edges."""
    inch = STYLES[hand.lengths].text * hand.scale / TEXT_IN_INCHES
    return Hatch(layers.PATTERN, points, pattern, inch)


def wall_pattern(job: Job) -> PatternName:
    """Return the hatch of the wall that the brick is set on."""
    return WALLS[job.substrate.kind]


def wall_behind(
    job: Job,
    across: tuple[float, float],
    levels: tuple[float, float],
    hand: Hand,
) -> Iterator[Ink]:
    """Draw the wall behind the brick in section, broken off at its top and at its back.

    Args:
        job: for what the wall is made of.
        across: where it begins, and where it is broken off.
        levels: from where, and to where it is broken off.
        hand: for the sizes on paper.
    """
    (near, far), (low, high) = across, levels
    yield Stroke(layers.OTHERS, ((near, high), (near, low)))
    ring = ((near, high), (near, low), (far, low), (far, high))
    yield hatch(ring, wall_pattern(job), hand)
    yield break_line((near, high), (far, high), 0.8 * hand.text)
    yield break_line((far, low), (far, high), 0.8 * hand.text)


def draw_backing(courses: Iterable[Course], reach: float, hand: Hand) -> Iterator[Ink]:
    """Draw what brings the wall out behind the courses that project; by others."""
    for course in courses:
        if course.projection:
            low = float(course.bottom - course.bed_joint)
            near = reach - float(course.projection)
            ring = ring_of((near, low, reach, float(course.top)))
            yield Stroke(layers.OTHERS, ring, closed=True)
            yield hatch(ring, UNKNOWN, hand)


def string_from(
    job: Job,
    positions: tuple[Fraction, ...],
    axis: Axis,
    line_at: float,
    start: float,
    scale: float,
    outward: int,
    *,
    upright: bool = False,
) -> tuple[Measure, ...]:
    """Set out a string of sizes to saw to, its extension lines beginning at `start`."""
    style = STYLES[job.lengths]
    chain = Chain(tuple(sorted(positions)), axis, job.lengths, is_fine=True)
    set_out = StringStyle(layers.DIMENSIONS, style.text, scale, outward, upright)
    return string_of_dimensions(chain, line_at, start, set_out)
