"""Turn exact lengths into the numbers of a record, and days into its texts.

In:  fractions, dates, what is made of them.   Out: ints, the nearest floats; texts.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction
from typing import overload

from shopdraw.masonry.coursing.form import Course, Coursing, TargetMet
from shopdraw.masonry.wall.arch import Arch
from shopdraw.quantities.estimate import Estimate
from shopdraw.quantities.money import format_money
from shopdraw.views.words import record_coursing, record_making, record_wall


@overload
def number(value: Fraction) -> float: ...
@overload
def number(value: Fraction | None) -> float | None: ...
def number(value: Fraction | None) -> float | None:
    """Return a whole number as an int, any other as the nearest float."""
    if value is None:
        return None
    return int(value) if value.denominator == 1 else float(value)


def numbers(values: Iterable[Fraction]) -> list[float]:
    """Return whole numbers as ints, any others as the nearest floats."""
    return [number(value) for value in values]


def day_of(day: date | None) -> str | None:
    """Return a day, year first; None where there is none."""
    return day.isoformat() if day else None


def target_record(target: TargetMet) -> record_coursing.TargetRecord:
    """Return the record of a level that the courses are to meet."""
    return {
        "name": target.name,
        "meets": target.meets,
        "wanted": number(target.wanted),
        "got": number(target.got),
        "miss": number(target.miss),
        "tolerance": number(target.tolerance),
    }


def old_line_records(coursing: Coursing) -> Iterator[record_coursing.OldLineRecord]:
    """Yield the record of each course line of old brick."""
    for line in coursing.old_lines:
        if line.old is not None:
            yield {
                **target_record(line),
                "brick": line.old.brick,
                "line": line.old.number,
                "course": coursing.course_at(line),
            }


def arch_record(arch: Arch) -> record_wall.ArchRecord:
    """Return the record of an arch."""
    x, y = arch.centre
    return {
        "kind": arch.kind,
        "span": number(arch.span),
        "spring": number(arch.spring),
        "rise": number(arch.rise),
        "depth": number(arch.depth),
        "radius": arch.radius,
        "skewback_deg": arch.skewback_deg,
        "centre": (number(x), number(y)),
        "are_whole": arch.are_whole,
        "counts": list(arch.counts),
        "has_keystone": arch.keystone is not None,
        "over": number(arch.over),
        "strip": number(arch.strip),
        "joints": [(joint.at_soffit, joint.at_back) for joint in arch.joints],
    }


def _hundredths(value: Fraction | None) -> str | None:
    return None if value is None else format_money(value).replace(",", "")


def estimate_record(estimate: Estimate) -> record_making.EstimateRecord:
    """Return the record of hours, cost and price."""
    total = None if estimate.is_partial else _hundredths(estimate.total)
    return {
        "currency": estimate.currency,
        "lines": [
            {
                "group": line.group,
                "key": line.key,
                "what": line.what,
                "quantity": format_money(line.quantity).replace(",", ""),
                "measure": line.measure,
                "hours": _hundredths(line.hours),
                "cost": _hundredths(line.cost),
                "price": _hundredths(line.price),
                "is_taxed": line.is_taxed,
            }
            for line in estimate.lines
        ],
        "tax": format_money(estimate.tax).replace(",", ""),
        "is_partial": estimate.is_partial,
        "total": total,
        "deposit": _hundredths(estimate.deposit),
    }


def known_joint(course: Course) -> float | None:
    """Return how thick a course's bed joint is; None where nobody measured it."""
    return None if course.is_joint_reckoned else number(course.bed_joint)


def changes_record(
    plan: tuple[Course, ...], coursing: Coursing
) -> list[record_coursing.ChangeRecord]:
    """Return how each course differs from the plan, new less planned."""
    hidden = {x.number for x in coursing.courses if x.is_joint_reckoned}
    guessed = {x.number for x in coursing.courses if x.is_reckoned}
    return [
        {
            "course": x.course,
            "joint": None if x.course in hidden else number(x.joint),
            "top": None if x.course in guessed else number(x.top),
        }
        for x in coursing.changes_from(plan)
    ]
