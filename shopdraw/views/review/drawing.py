"""Draw the review: front and section, with each figure keyed to its row of the table.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; y from the datum; from the front x from the left end of the front's
finished face; in section x from that face back into the wall, all moved to the right.

A measured line runs between the very points that the review measured from and to.
Beside it stand its figure and, in a circle, the number of its row in the table.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import pi

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.measures import Line
from shopdraw.drawing.moving import moved
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.masonry.wall.form import Surround
from shopdraw.review.findings import Key, in_words
from shopdraw.review.hearth import riser_adds
from shopdraw.review.opening import Rectangle
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import (
    SHORT,
    UNKNOWN,
    Hand,
    break_line,
    cut_through,
    hatch,
    ring_of,
    wall_behind,
)
from shopdraw.views.parts.found import (
    draw_existing,
    head_at_centre,
    lowest_of,
    outline_front,
)
from shopdraw.views.review.keys import Board, Keyed
from shopdraw.views.review.ways import (
    PLACES,
    measured_from,
    rectangle_of,
    shortest_ways,
)

SLAB, LANE, APART = 2.0, 2.4, 5.0
"""In heights of lettering: the depth of the extension, the room for figures below it,
and the gap between the views."""
NOTHING = "none"
"""What stands beside the dot where nothing of the extension is left to measure."""
Ends = tuple[Fraction, Fraction]
ROOM, DOWN = pi, -pi / 2
"""The direction from its line in which a figure is tried first: left, or down."""


@dataclass(frozen=True)
class Reviewed:
    """The drawing, and the rows whose figures it has no room for."""

    drawing: Drawing
    left_out: tuple[int, ...]


@dataclass(frozen=True)
class View:
    """What front and section are drawn from."""

    solution: Solution
    scale: float

    @property
    def job(self) -> Job:
        """What was asked."""
        return self.solution.job

    @property
    def surround(self) -> Surround:
        """The faces."""
        return self.solution.surround

    @property
    def text(self) -> float:
        """The height of the lettering, at full size."""
        return STYLES[self.job.lengths].small * self.scale

    @property
    def reach(self) -> Fraction:
        """How far the wall lies behind the face: the bed is drawn at its thickest.

        The set's own section has it so, too: there the hearth is at its shortest.
        """
        return self.surround.build_out_most

    @property
    def floor(self) -> float:
        """The level of the hearth in the section."""
        return float(self.surround.as_built.hearth.at(self.surround.opening.centre))

    @property
    def under(self) -> float:
        """The level of the underside of the extension, as drawn."""
        return min(lowest_of(self.surround), self.floor) - SLAB * self.text

    @property
    def outer(self) -> Rectangle:
        """The opening that clearances are measured from; x is from the left end."""
        return _from_left_end(self.solution.openings.outer, self.surround)

    @property
    def found(self) -> Rectangle:
        """The opening as found; x is from the left end."""
        return _from_left_end(self.solution.openings.found, self.surround)

    def measured(self, key: Key, about: str | int = "") -> tuple[int, Fraction] | None:
        """Return the row and the figure measured for a rule; None if there is none."""
        row = self.solution.row(key, about)
        if row is None or row[1].measured is None:
            return None
        return row[0], row[1].measured


def _from_left_end(box: Rectangle, surround: Surround) -> Rectangle:
    left = surround.front.left
    return Rectangle(box.left - left, box.right - left, box.bottom, box.top)


def draw_reviewed(solution: Solution, scale: float) -> Reviewed:
    """Draw front and section side by side, with as many measured lines as fit.

    Woodwork is named if no figure loses its place by that; the table names it too.
    """
    view = View(solution, scale)
    named = _drawn(view, named=True)
    if not named.left_out:
        return named
    return min(named, _drawn(view, named=False), key=lambda x: len(x.left_out))


def _drawn(view: View, *, named: bool) -> Reviewed:
    across, out = _woodwork_lines(view)
    front = Board(view.job.lengths, view.scale, _front(view, named=named))
    section = Board(view.job.lengths, view.scale, _section(view))
    left_out = (
        *front.key([*_sides(view), *across, *_fittings(view)]),
        *section.key([*_hearth_front(view), *out]),
    )
    right, left = extent_of(front.drawing(""))[2], extent_of(section.drawing(""))[0]
    by = right - left + APART * view.text
    ink = (*front.ink, *(moved(each, (by, 0.0)) for each in section.ink))
    drawing = Drawing("reviewed", "", view.scale, ink)
    return Reviewed(drawing, tuple(sorted(left_out)))


# ------------------------------------------------------------------- from the front


def _front(view: View, *, named: bool) -> Iterator[Ink]:
    """Draw the face, the opening, the hearth, woodwork and fittings."""
    dx = -float(view.surround.front.left)
    usual = STYLES[view.job.lengths]
    for ring in measured_from(view.solution):
        yield Stroke(layers.HIDDEN, ring)
    style = replace(usual, text=usual.small)
    for ink in draw_existing(view.solution, view.scale, style):
        if named or not isinstance(ink, Words):
            yield ink
    yield from _extension(view)
    yield outline_front(view.solution, dx)
    for fitting in view.job.fitting:
        box = (fitting.left, fitting.bottom, fitting.width, fitting.height)
        a, c, wide, high = (float(x) for x in box)
        yield Stroke(layers.OTHERS, ring_of((a, c, a + wide, c + high)), closed=True)


def _extension(view: View) -> Iterator[Ink]:
    """Draw the extension from the front, broken off at an end that was not measured.

    One that ends at the wall, or under the brick, is hidden from there.
    """
    table = view.job.hearth
    if table is None:
        return
    is_hidden = table.front is not None and table.front <= view.reach
    layer = layers.HIDDEN if is_hidden else layers.OTHERS
    beyond = 3 * view.text
    wall = (-beyond, float(view.surround.front.width) + beyond)
    places = (
        (table.left, view.found.left, -1, wall[0], view.surround.front.left),
        (table.right, view.found.right, 1, wall[1], view.surround.front.right),
    )
    ends = []
    for given, jamb, out, ground, end in places:
        x = ground
        if given is not None:
            x = float(jamb) + out * float(given + riser_adds(view.job))
        level = float(view.surround.as_built.hearth.at(end))
        if given is None:
            yield break_line((x, view.under), (x, level), 0.5 * view.text)
        else:
            yield Stroke(layer, ((x, view.under), (x, level)))
        if out * (x - ground) > 0:
            yield Stroke(layer, ((ground, level), (x, level)))
        ends.append(x)
    yield Stroke(layer, ((ends[0], view.under), (ends[1], view.under)))


def _sides(view: View) -> Iterator[Keyed]:
    """Yield how far the extension reaches past the opening at either side."""
    table, added = view.job.hearth, riser_adds(view.job)
    for side in ("left", "right"):
        row = view.measured("hearth-side", side)
        if row is None or table is None:
            continue
        if side == "left":
            edge = view.outer.left
            ends = view.found.left - (table.left or Fraction(0)) - added, edge
        else:
            edge = view.outer.right
            ends = edge, view.found.right + (table.right or Fraction(0)) + added
        yield _along_hearth(view, row, ends, (edge, float(view.outer.bottom)))


def _fittings(view: View) -> Iterator[Keyed]:
    """Yield each fitting, to be keyed to its row."""
    for place, fitting in enumerate(view.job.fitting, start=1):
        row = view.solution.row("fitting", place)
        x = float(fitting.left + fitting.width / 2)
        y = float(fitting.bottom + fitting.height / 2)
        if row is not None:
            yield Keyed(row[0], "", (((x, y), (x, y)),))


# ----------------------------------------------------------------------- in section


def _section(view: View) -> Iterator[Ink]:
    """Draw the brick over the opening, the wall behind, the hearth and all woodwork."""
    hand = Hand(view.job.lengths, view.scale)
    thick, reach = float(view.job.brick.thickness), float(view.reach)
    head = float(head_at_centre(view.solution))
    top = float(view.solution.coursing.top)
    roof = max([top, *(float(x.bottom + x.height) for x in view.job.trim)]) + view.text
    wall = reach + 4.0 * view.text
    yield from cut_through(ring_of((0.0, head, thick, top)))
    yield Stroke(layers.UNITS, ((0.0, head), (0.0, view.floor), (thick, view.floor)))
    yield Stroke(layers.UNITS, ((thick, view.floor), (thick, head)))
    yield Stroke(layers.OTHERS, ((reach, view.floor), (reach, head), (wall, head)))
    yield from wall_behind(view.job, (reach, wall), (head, roof), hand)
    yield from _slab(view, wall)
    for each in view.job.trim:
        for low, high, out in _steps(view, each):
            box = (-out, low, 0.0, high)
            yield Stroke(layers.OTHERS, ring_of(box), closed=True)


def _slab(view: View, wall: float) -> Iterator[Ink]:
    """Draw the hearth in section, broken off if its front edge was not measured."""
    table = view.job.hearth
    given = None if table is None else table.front
    reach = SHORT[view.job.lengths] if given is None else given
    edge = float(view.reach - reach - riser_adds(view.job))
    level, under = view.floor, view.under
    yield Stroke(layers.OTHERS, ((wall, level), (edge, level)))
    yield break_line((edge, under), (wall, under), 0.5 * view.text)
    if given is None:
        yield break_line((edge, under), (edge, level), 0.5 * view.text)
    else:
        yield Stroke(layers.OTHERS, ((edge, level), (edge, under)))
    slab = ring_of((edge, under, wall, level))
    yield hatch(slab, UNKNOWN, Hand(view.job.lengths, view.scale))


def _hearth_front(view: View) -> Iterator[Keyed]:
    """Yield how far the extension reaches in front of the face at its furthest out."""
    row, table = view.measured("hearth-front"), view.job.hearth
    if row is None or table is None or table.front is None:
        return
    front = table.front + riser_adds(view.job)
    ends = view.reach - front, Fraction(0)
    yield _along_hearth(view, row, ends, (ends[1], view.floor))


def _along_hearth(
    view: View, row: tuple[int, Fraction], ends: Ends, foot: tuple[Fraction, float]
) -> Keyed:
    """Return a measured line along the extension; a dot where nothing is left of it.

    Args:
        view: which.
        row: its row, and what was measured.
        ends: from where to where, left to right.
        foot: what it is measured from, where that stands on the hearth.
    """
    if row[1] <= 0:
        at = float(foot[0]), foot[1]
        return Keyed(row[0], NOTHING, ((at, at),), DOWN)
    y = view.under - LANE * view.text
    line = ((float(ends[0]), y), (float(ends[1]), y))
    return Keyed(row[0], in_words(row[1], view.job.lengths), (line,), DOWN, view.under)


# ------------------------------------------------------------------------- woodwork


def _woodwork_lines(view: View) -> tuple[list[Keyed], list[Keyed]]:
    """Return the distances of woodwork, for the front, and its projections."""
    across, out = [], []
    for place, each in enumerate(view.job.trim, start=1):
        distance = view.measured("trim-distance", place)
        if distance is not None:
            words = in_words(distance[1], view.job.lengths)
            across.append(Keyed(distance[0], words, shortest_ways(view.solution, each)))
        projection = view.measured("trim-projection", place)
        if projection is not None:
            words = in_words(projection[1], view.job.lengths, up=True)
            spans = _outward(view, each, projection[1])
            out.append(Keyed(projection[0], words, spans, ROOM))
    return across, out


def _steps(view: View, each: TrimTable) -> list[tuple[float, float, float]]:
    """Return each step of a piece in section: its two levels, and its projection.

    A profile over the opening goes up from the piece's underside, as it is reviewed;
    one beside it goes across, and in section its steps lie one behind another.
    """
    box, outer = rectangle_of(each), view.outer
    low, top = float(box.bottom), float(box.top)
    if not each.steps:
        return [(low, top, float(each.projection or 0))]
    beside = max(box.left - outer.right, outer.left - box.right)
    goes_up = box.bottom - outer.top >= beside
    steps = []
    for place, step in enumerate(each.steps, start=1):
        is_last = place == len(each.steps)
        high = low + float(step.reach) if goes_up and not is_last else top
        steps.append((low, high, float(step.projection)))
        low = high if goes_up else low
    return steps


def _outward(view: View, each: TrimTable, out: Fraction) -> tuple[Line, ...]:
    """Return the lines that measure a piece's projection, at its furthest step."""
    low, high = next(
        (low, high) for low, high, far in _steps(view, each) if far == float(out)
    )
    levels = (low + (high - low) * part for part in PLACES)
    return tuple(((-float(out), level), (0.0, level)) for level in levels)
