"""Lay the courses that a corbel brings out: each a little longer than the one below.

In:  `BondPlan`, the front, what is laid elsewhere.   Out: a row for each zone of each.
Frame: whole numbers on the plan's grid, along the developed plane.

At an outside corner such a course grows by its projection on both faces. So each is a
course by itself, and all of a corbel are chosen together, on the course below them and
under the one above.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from shopdraw.masonry.bond.beside import against
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bonding.answer import MANY_CUTS, WIDENINGS, mirrored_rows
from shopdraw.masonry.bonding.legs import (
    Front,
    LaidRow,
    LegSpan,
    Near,
    NoWayError,
    Rows,
    Width,
    fill_stretch,
    filling_of,
    joints_key,
)
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge
from shopdraw.masonry.rows.merit import (
    FAILS,
    FAULTS,
    NOT_MIRRORED,
    Merit,
    as_tuple,
    joined,
    pack,
)
from shopdraw.masonry.rows.search import Pair, Price, best_together
from shopdraw.masonry.rows.sizes import Sizes

Zones = dict[str, LaidRow]
Laid = tuple[int, LaidRow]
"""The kind of a course, and what is laid in it."""
MIRRORED_WIDENINGS = (
    Width(), Width(fine=True), Width(fine=True, cuts=MANY_CUTS),
)  # fmt: skip
"""Each wider than the last, as for a front with legs."""


@dataclass(frozen=True)
class Run:
    """The courses of one corbel that lie on one another, in one zone.

    Attributes:
        sizes: the bond as it shows there.
        courses: by number, bottom up: the kind of each, and where it is.
        fixed: by number, the courses laid already that the first and the last meet.
    """

    sizes: Sizes
    courses: Mapping[int, LegSpan]
    fixed: Mapping[int, tuple[Laid, ...]]

    def kind(self, number: int) -> int:
        """Return the kind of a course."""
        return self.courses[number].kinds[0]


@dataclass(frozen=True)
class LaidRun:
    """What is laid in each course of a run, and its merit."""

    rows: Mapping[int, LaidRow]
    merit: Merit


def lay_corbels(
    plan: BondPlan, front: Front, zones: Mapping[str, Mapping[int, LaidRow]]
) -> dict[int, Zones]:
    """Return what is laid in each course that a corbel brings out, by its number.

    Args:
        plan: what was asked.
        front: on the grid.
        zones: by zone and kind, what is laid in the courses that do not project.
    """
    laid: dict[int, Zones] = {course.number: {} for course in plan.corbelled}
    names = {face.name for face in plan.surround.faces}
    for courses in _on_one_another(plan.corbelled):
        numbers = [course.number for course in courses]
        for zone in ("left return", "over", "right return"):
            if zone != "over" and zone.split()[0] not in names:
                continue
            fixed = _fixed(plan, zones.get(zone, {}), numbers)
            rows = (
                _over(plan, front, courses, fixed)
                if zone == "over"
                else _return(plan, zone, courses, fixed)
            )
            for number, row in rows.items():
                laid[number][zone] = row
    return laid


def _on_one_another(courses: tuple[Course, ...]) -> Iterator[list[Course]]:
    """Yield the courses that lie on one another, together."""
    group: list[Course] = []
    for course in courses:
        if group and course.number != group[-1].number + 1:
            yield group
            group = []
        group.append(course)
    if group:
        yield group


def _fixed(
    plan: BondPlan, rows: Mapping[int, LaidRow], numbers: list[int]
) -> dict[int, tuple[Laid, ...]]:
    """Return the flush courses that the first and the last of a corbel meet."""
    flush = {course.number for course in plan.over}
    fixed: dict[int, tuple[Laid, ...]] = {}
    for number, other in ((numbers[0], numbers[0] - 1), (numbers[-1], numbers[-1] + 1)):
        kind = plan.kind(other)
        if other in flush and kind in rows:
            fixed[number] = (*fixed.get(number, ()), (kind, rows[kind]))
    return fixed


def _over(
    plan: BondPlan,
    front: Front,
    courses: list[Course],
    fixed: Mapping[int, tuple[Laid, ...]],
) -> Mapping[int, LaidRow]:
    """Lay the front's part of a corbel, from one end to the other."""
    # A stretch begins at its corner: one that has it on the right alone is turned.
    is_turned = front.ends == ("free", "corner")
    has_both = front.ends == ("corner", "corner")
    near: Near = "corner" if "corner" in front.ends else "free"
    spans = {}
    for course in courses:
        out = plan.on_grid(course.projection)
        left = front.left - (out if front.ends[0] == "corner" else 0)
        right = front.right + (out if front.ends[1] == "corner" else 0)
        ends = (-right, -left) if is_turned else (left, right)
        far = "turned" if has_both else "free"
        spans[course.number] = LegSpan(
            *ends,
            near,
            "turned" if far == "turned" else "free",
            (plan.kind(course.number),),
        )
    if is_turned:
        fixed = {
            number: tuple((kind, row.moved(0, turned=True)) for kind, row in some)
            for number, some in fixed.items()
        }
    # Both ends are outside corners: the same leg shows at both.
    rows = tuple(replace(x, at_jamb=x.leg) for x in plan.bond.rows)
    sizes = replace(plan.sizes, bond=replace(plan.bond, rows=rows))
    run = Run(sizes, spans, fixed)
    found = _mirrored(run, front) if plan.is_mirrored else None
    if found is None or any(found.merit[:FAILS]):
        other = _unmirrored(run, is_mirrored=plan.is_mirrored)
        found = other if found is None or other.merit < found.merit else found
    if not is_turned:
        return found.rows
    return {number: row.moved(0, turned=True) for number, row in found.rows.items()}


def _return(
    plan: BondPlan,
    zone: str,
    courses: list[Course],
    fixed: Mapping[int, tuple[Laid, ...]],
) -> Mapping[int, LaidRow]:
    """Lay a return's part of a corbel, from its corner to the wall."""
    surround = plan.surround
    is_left = zone == "left return"
    edge = surround.left_edge if is_left else surround.right_edge
    at = surround.front.left if is_left else surround.front.right
    fold, width = plan.on_grid(at), plan.on_grid(abs(edge.brick_x - at))
    spans = {
        course.number: LegSpan(
            -plan.on_grid(course.projection),
            width,
            "corner",
            "wall",
            (plan.kind(course.number),),
        )
        for course in courses
    }

    def from_corner(row: LaidRow) -> LaidRow:
        return row.moved(fold if is_left else -fold, turned=is_left)

    seen = {
        number: tuple((kind, from_corner(row)) for kind, row in some)
        for number, some in fixed.items()
    }
    found = _unmirrored(Run(plan.sizes.round_the_corner(), spans, seen))
    return {
        number: row.moved(fold, turned=is_left) for number, row in found.rows.items()
    }


def _mirrored(run: Run, front: Front) -> LaidRun | None:
    """Return the best courses that are their own mirror images; None for none."""

    def fill(number: int, width: Width) -> Rows:
        span, kind = run.courses[number], run.kind(number)
        alone = replace(
            front, left=span.left, right=span.right, leg_kinds=(), over_kinds=(kind,)
        )
        return mirrored_rows(run.sizes, alone, kind, width)

    return _widened(run, fill, MIRRORED_WIDENINGS)


def _unmirrored(run: Run, *, is_mirrored: bool = False) -> LaidRun:
    """Return the best courses of all.

    Args:
        run: the courses.
        is_mirrored: whether each should be its own mirror image.

    Raises:
        NoWayError: nothing can be laid, not even of pieces a joint step long.
    """

    def fill(number: int, width: Width) -> Rows:
        span = run.courses[number]
        some = fill_stretch(run.sizes, span, run.kind(number), width)
        return _told_apart(some, span) if is_mirrored else some

    found = _widened(run, fill, WIDENINGS)
    if found is None:
        raise NoWayError
    return found


def _widened(
    run: Run, fill: Callable[[int, Width], Rows], widths: tuple[Width, ...]
) -> LaidRun | None:
    """Return the best, the search widened as far as its faults ask."""
    best: LaidRun | None = None
    for width in widths:
        asks = FAILS if width.trims else FAULTS
        if best is None or any(best.merit[:asks]):
            found = _best(run, {number: fill(number, width) for number in run.courses})
            if best is None or (found is not None and found.merit < best.merit):
                best = found
    return best


def _best(run: Run, rows: Mapping[int, Rows]) -> LaidRun | None:
    """Return the best of some fillings of each course, all courses together."""
    own = {}
    for number, some in rows.items():
        span, words = run.courses[number], some.words
        for laid in run.fixed.get(number, ()):
            if laid[0] != run.kind(number):
                kind = run.kind(number)
                words = words + against(run.sizes, span, some, kind, laid)
        own[number] = words
    prices: dict[Pair, Price] = {}
    for one, other in pairwise(run.courses):
        kinds = run.kind(one), run.kind(other)
        if kinds[0] != kinds[1]:
            at = Meeting(run.sizes, kinds, run.courses[one].width)
            prices[one, other] = MeetingJudge(rows[one].joints, rows[other].joints, at)
    found = best_together(own, prices, lambda n, at: joints_key(rows[n].table, at))
    if found is None:
        return None
    laid_rows = {
        number: filling_of(
            rows[number].table, at, run.sizes, rows[number].at.row.pattern
        )
        for number, at in found.chosen.items()
    }
    return LaidRun(laid_rows, as_tuple(joined(found.words)))


def _told_apart(rows: Rows, span: LegSpan) -> Rows:
    """Count the fillings that are not their own mirror image."""
    table = rows.table
    columns = np.arange(table.left.shape[1])[None, :]
    turned = np.maximum(table.pieces[:, None] - 1 - columns, 0)
    about = span.left + span.right
    ends = table.left + np.take_along_axis(table.right, turned, axis=1)
    unlike = ((ends != about) & (columns < table.pieces[:, None])).any(axis=1)
    words = pack({NOT_MIRRORED: unlike.astype(np.int64)}, len(table))
    return replace(rows, words=rows.words + words)
