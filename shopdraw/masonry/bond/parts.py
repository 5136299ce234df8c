"""Lay the courses beside a band that is only a part of the front.

In:  `BondPlan`, the front, what is laid elsewhere.   Out: a row for each side of each.
Frame: whole numbers on the plan's grid, along the developed plane.

Beside the band a course is cut off as beside soldiers over the opening; its perpends go
on as far as they can.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from shopdraw.masonry.bond.beside import solve_beside
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bonding.legs import Far, Front, LaidRow, LegSpan
from shopdraw.masonry.coursing.form import PartBand

Rows = Mapping[int, LaidRow]


def lay_beside_parts(
    plan: BondPlan, front: Front, zones: Mapping[str, Rows]
) -> dict[int, dict[str, LaidRow]]:
    """Return what is laid in each course beside such bands, by number and zone.

    Args:
        plan: what was asked.
        front: on the grid.
        zones: by zone and kind, what is laid in the courses that no band cuts.
    """
    laid: dict[int, dict[str, LaidRow]] = {}
    for part in plan.parts:
        for zone, span, is_turned in _spans(plan, front, part):
            if span.width <= 0:
                continue
            whole = zones[_whole(plan, part)]
            rows = _solved(plan, part, span, whole, is_turned=is_turned)
            for course in part.courses:
                row = rows[plan.kind(course.number)]
                laid.setdefault(course.number, {})[zone] = row
    return laid


def _whole(plan: BondPlan, part: PartBand) -> str:
    """Return the zone that the band is a part of."""
    zones = plan.zones_beside(part)
    if "right leg" in zones:
        return "left leg"
    return "right leg" if "left leg" in zones else "over"


def _spans(
    plan: BondPlan, front: Front, part: PartBand
) -> Iterator[tuple[str, LegSpan, bool]]:
    """Yield each side of a band, and whether it is seen turned round."""
    left, right = plan.on_grid(part.left), plan.on_grid(part.right)
    kinds = plan.kinds(part.courses)
    at_jamb: Far = "turned" if front.is_turned else "jamb"
    zones = plan.zones_beside(part)
    if "left beside" in zones:
        span = LegSpan(front.left, left, front.ends[0], "jamb", kinds)
        yield "left beside", span, False
    if "right beside" in zones:
        span = LegSpan(-front.right, -right, front.ends[1], "jamb", kinds)
        yield "right beside", span, True
    if "left inner" in zones:
        span = LegSpan(right, front.jambs[0], "free", at_jamb, kinds)
        yield "left inner", span, False
    if "right inner" in zones:
        span = LegSpan(-left, -front.jambs[1], "free", at_jamb, kinds)
        yield "right inner", span, True


def _solved(
    plan: BondPlan, part: PartBand, span: LegSpan, whole: Rows, *, is_turned: bool
) -> Rows:
    """Return what lies at one side of a band, by kind of course."""

    def seen(row: LaidRow) -> LaidRow:
        return row.moved(0, turned=True) if is_turned else row

    def near(number: int) -> tuple[int, LaidRow] | None:
        same = plan.below if part.courses[0] in plan.below else plan.over
        kind = plan.kind(number)
        is_laid = any(x.number == number for x in same) and kind in whole
        is_cut = plan.part_beside(number) is not None
        return (kind, seen(whole[kind])) if is_laid and not is_cut else None

    carried = {kind: seen(row) for kind, row in whole.items()}
    first, last = part.courses[0].number, part.courses[-1].number
    # Between band and jamb no joint of the leg has to go on.
    found = solve_beside(
        plan.sizes,
        span,
        {} if _is_inner(plan, span) else carried,
        near(first - 1),
        near(last + 1),
    )
    return {kind: seen(row) for kind, row in found.zones["beside"].items()}


def _is_inner(plan: BondPlan, span: LegSpan) -> bool:
    """Whether a span lies between a band and a jamb."""
    opening = plan.surround.opening
    jambs = (plan.on_grid(opening.brick_left), -plan.on_grid(opening.brick_right))
    return span.right in jambs
