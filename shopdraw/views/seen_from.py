"""Say where each view is cut, or from where it is seen: a place on another view.

In:  `Solution`, the name of a drawing.   Out: `Sight`s.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from math import atan2, degrees

from shopdraw.drawing.ink import Point
from shopdraw.job.model_face import SIDES
from shopdraw.solution import Solution
from shopdraw.views.parts.found import (
    head_at_centre,
    highest_at,
    is_cut_as_at_centre,
)
from shopdraw.views.parts.ground import Ground, ground_of
from shopdraw.views.parts.phrases import FACES

UP, DOWN, LEFT, RIGHT = 90.0, 270.0, 180.0, 0.0
AROUND = tuple(5.0 * turn for turn in range(72) if turn % 18)
"""Any direction but level and upright: a leader is told from the lines by its slant."""
FINE = tuple(float(turn) for turn in range(360) if turn % 90)
UPWARD = (60.0, 75.0, 45.0, UP, 105.0, 30.0)
SHARES = (0.5, 0.7, 0.3, 0.9, 0.1)
"""Where the top may be cut, of half its length."""
BESIDE = (Fraction(1, 3), Fraction(-1, 3), Fraction(2, 3), Fraction(-2, 3))
"""Where the head may be cut beside its middle, of half its length."""


@dataclass(frozen=True)
class Sight:
    """Where a view is cut, or from where it is seen.

    Attributes:
        view: the name of its drawing.
        at: the place.
        ways: the directions from there in which its bubble may stand, in degrees.
        looks: the direction of sight in degrees; None for a detail.
        is_led: a leader goes from the bubble to the place; else the bubble stands on
            the line of the cut, or of sight.
        instead: the level of the cut, for a bubble that would have too long a leader:
            it stands at the left of all strings.
        is_left: it does so in any case.
        others: places where the view is cut just as well, for a shorter leader.
    """

    view: str
    at: Point
    ways: tuple[float, ...]
    looks: float | None = None
    is_led: bool = False
    instead: float | None = None
    is_left: bool = False
    others: tuple[Point, ...] = ()

    @property
    def places(self) -> tuple[Point, ...]:
        """Every place where it may be marked."""
        return self.at, *self.others

    @property
    def tried(self) -> tuple[float, ...]:
        """The directions; where there is a leader any other after them."""
        return (*self.ways, *AROUND) if self.is_led else self.ways

    @property
    def closely(self) -> Sight:
        """The same with more directions, for where those leave it no place."""
        return replace(self, ways=FINE) if self.is_led else self


def sights_on(solution: Solution, name: str) -> Iterator[Sight]:
    """Yield what may be marked on a view; nothing for most."""
    if name == "elevation":
        yield from _on_the_front(solution)
    elif name == f"plan-{solution.coursing.courses[0].number}":
        yield from _on_the_plan(solution)
    elif name == "upright-section":
        yield from _on_the_section(solution)
    elif name == "hearth-plan":
        yield from _on_the_hearth(solution)


def _on_the_front(solution: Solution) -> Iterator[Sight]:
    front, opening = solution.surround.front, solution.surround.opening
    jambs = solution.surround.jamb_folds or (opening.left, opening.right)
    middle, right = (float(x - front.left) for x in (opening.centre, jambs[1]))
    top, wide = float(solution.coursing.top), float(front.width)
    over = middle, highest_at(solution, middle)
    yield Sight("upright-section", over, (UP,), LEFT)
    yield _at_the_head(solution)
    # What is cut at a jamb's foot has fewer places than a plan through a course.
    left, inside = float(jambs[0] - front.left), tuple(range(10, 80, 10))
    foot = tuple(range(170, 90, -10))
    feet = (left, 0.0), (wide, 0.0)
    yield Sight("hearth-edge", (right, 0.0), foot, is_led=True, others=feet)
    for course in solution.coursing.courses:
        level = float(course.bottom + course.top) / 2
        # The opening is free, where the course stands beside it.
        name = f"plan-{course.number}"
        if course.top <= solution.coursing.head:
            ways = tuple(range(180, 90, -15))
            yield Sight(name, (right, level), ways, DOWN, True, level)
        else:
            yield Sight(name, (0.0, level), (LEFT,), DOWN)
    yield Sight("extension", (left, 0.0), inside, DOWN, True, 0.0)
    # The detail shows courses: where soldiers reach the top it is cut beside them.
    has_soldiers = solution.coursing.soldier_top == solution.coursing.top
    starts = (left, right) if has_soldiers else (wide / 2, wide / 2)
    halves = (starts[0], 0.0), (starts[1], wide)
    yield _along_the_top("top-edge", halves[::-1], top)
    yield _along_the_top("corbel", halves, top)


def _at_the_head(solution: Solution) -> Sight:
    """Return the cut through the head: on the centre line, or where it is the same."""
    opening, left = solution.surround.opening, solution.surround.front.left
    level, half = float(head_at_centre(solution)), opening.right - opening.centre
    aside = (opening.centre + share * half for share in BESIDE)
    alike = (x for x in aside if is_cut_as_at_centre(solution, x))
    inward = tuple(range(280, 360, 10))
    at, *others = ((float(x - left), level) for x in (opening.centre, *alike))
    return Sight("head-section", at, inward, is_led=True, others=tuple(others))


def _along_the_top(
    view: str, halves: tuple[tuple[float, float], ...], top: float
) -> Sight:
    """Return a cut through the top: in its first half, or elsewhere.

    Under a shelf a leader would run through it, or a long way round.
    """
    spots = tuple(
        (start + share * (end - start), top)
        for start, end in halves
        for share in SHARES
    )
    return Sight(view, spots[0], UPWARD, is_led=True, others=spots[1:])


def _on_the_plan(solution: Solution) -> Iterator[Sight]:
    ground = ground_of(solution)
    left, right = ground.opening
    inside = (60.0, 45.0, 30.0, 75.0, 15.0)
    surround = solution.surround
    flanks = (ground.left, 1), (ground.right, -1)
    for side, (flank, out) in zip(SIDES, flanks, strict=True):
        corners = zip(surround.flank(side), pairwise(flank.face), strict=True)
        for face, (near, far) in corners:
            spot = (
                near[0] + 0.6 * (far[0] - near[0]),
                near[1] + 0.6 * (far[1] - near[1]),
            )
            along = degrees(atan2(far[1] - near[1], far[0] - near[0]))
            way = along + out * 90
            turns = (way, way - 15, way + 15)
            yield Sight(f"{FACES[face.name]}-{side}", spot, turns, way + 180)
            place = surround.folds.index(surround.fold_of(face)) + 1
            yield Sight(f"corner-{place}", near, (way, way + 30, way - 30), is_led=True)
    yield from _on_the_alcoves(ground)
    beside = max(0.0, ground.build_out)
    for name, x, way, looks in (
        ("reveal-left", left, RIGHT, LEFT),
        ("reveal-right", right, LEFT, RIGHT),
    ):
        turned = 1 if way == RIGHT else -1
        ways = tuple(way + turned * turn for turn in (30.0, 15.0, 45.0, 60.0))
        yield Sight(name, (x, beside), ways, looks)
    yield Sight("jamb-plan", (left, 0.0), inside, is_led=True)
    if surround.jamb_folds:
        corner = float(surround.jamb_folds[0] - surround.front.left), 0.0
        yield Sight("jamb", corner, inside, is_led=True)
    below = (225.0, 240.0, 210.0, 255.0, 200.0, DOWN)
    yield Sight("interlock", (0.0, 0.0), below, is_led=True)
    end = ground.left.alcove or (*ground.left.face[-1:], (0.0, 0.0))[0]
    yield Sight("side-edge", end, (150.0, 135.0, 165.0, LEFT, 120.0, UP), is_led=True)


def _on_the_alcoves(ground: Ground) -> Iterator[Sight]:
    """Yield the alcoves, seen from the room, and their inside corners."""
    for side, flank in zip(SIDES, (ground.left, ground.right), strict=True):
        if flank.alcove is None:
            continue
        corner, (far, back) = flank.face[-1], flank.alcove
        spot = (corner[0] + 0.6 * (far - corner[0]), back)
        yield Sight(f"alcove-{side}", spot, (DOWN, 255.0, 285.0), UP)
        ways = (240.0, 225.0, 210.0) if side == "left" else (300.0, 315.0, 330.0)
        yield Sight(f"inside-{side}", corner, ways, is_led=True)


def _on_the_section(solution: Solution) -> Iterator[Sight]:
    hearth = solution.hearth
    if hearth is None:
        return
    before = -float(hearth.ground.face) / 2
    yield Sight("hearth-plan", (before, 0.0), (UP, 105.0, 75.0), DOWN)


def _on_the_hearth(solution: Solution) -> Iterator[Sight]:
    hearth = solution.hearth
    if hearth is None:
        return
    wide, deep = float(hearth.ground.width), float(hearth.ground.main[3])
    # The bubble of a cut stands on its line.
    yield Sight("hearth-front-section", (wide / 2, 0.0), (DOWN,), LEFT)
    yield Sight("riser-front", (wide / 4, 0.0), (DOWN, 260.0, 280.0), UP)
    yield Sight("riser-left", (0.0, deep / 2), (LEFT, 170.0, 190.0), RIGHT)
    yield Sight("riser-right", (wide, deep / 2), (RIGHT, 10.0, -10.0), LEFT)
