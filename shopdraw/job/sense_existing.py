"""Say in plain words what in the old brick beside the new can't be.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where it can be.
Frame: the job's lengths, levels from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from shopdraw.job.complaint import Complaint, said
from shopdraw.job.model import Job
from shopdraw.job.model_existing import ExistingBrickTable
from shopdraw.job.old_lines import (
    line_tolerance,
    lowest_underside,
    old_height,
    old_lines,
)

GAUGED = ("first_top", "gauge", "courses")
"""What gives the course lines where they are not typed one by one."""


def complaints_of_existing(job: Job) -> Iterator[Complaint]:
    """Complain of old brick whose lines are no courses, or have none beside them."""
    names: set[str] = set()
    places: set[str] = set()
    for place, old in enumerate(job.existing_brick, start=1):
        key = f"existing_brick[{place}]"
        name = old.name.strip().lower()
        if name in names:
            wanted = "is the name of other existing brick too; write another name"
            yield Complaint(f"{key}.name", wanted)
        if old.where in places:
            wanted = (
                "has existing brick there already; write the course lines of both in "
                "one table"
            )
            yield Complaint(f"{key}.where", wanted)
        names.add(name)
        places.add(old.where)
        wrong = [*_lines(job, key, old)]
        yield from wrong
        if wrong:
            continue
        if old.where == "above":
            yield from _above(job, key, old)
        elif place not in {line.brick for line in old_lines(job)}:
            wanted = (
                "has no course line between the first new course and the top of the "
                f"face, {said(job, job.face.height)}; measure up from the datum, or "
                "leave the table out"
            )
            yield Complaint(key, wanted)


def _lines(job: Job, key: str, old: ExistingBrickTable) -> Iterator[Complaint]:
    """Complain of course lines that are missing, or not those of laid brick."""
    given = [name for name in GAUGED if getattr(old, name) is not None]
    if old.tops and given:
        wanted = "is given as well as tops; remove one of the two"
        yield Complaint(f"{key}.{given[0]}", wanted)
        return
    if not old.tops and not given:
        wanted = "is missing; write the tops of its brick, or first_top, gauge, courses"
        yield Complaint(f"{key}.tops", wanted)
        return
    if not old.tops:
        missing = [name for name in GAUGED if name not in given]
        yield from (
            Complaint(f"{key}.{name}", f"is missing; {given[0]} needs it")
            for name in missing
        )
        if missing:
            return
    high = old_height(job, old)
    of_whom = "its brick are" if old.height else "its brick, taken as the new, are"
    least = min((b - a for a, b in pairwise(old.lines)), default=high)
    if least < high:
        what = "tops" if old.tops else "gauge"
        wanted = (
            f"puts one course into the next: {of_whom} {said(job, high)} high; write "
            "each top higher than the one before, or the height of its brick"
        )
        yield Complaint(f"{key}.{what}", wanted, f"{said(job, least)} apart")


def _above(job: Job, key: str, old: ExistingBrickTable) -> Iterator[Complaint]:
    """Complain of brick above the face that the last bed joint does not reach."""
    low, top = lowest_underside(job, old), job.face.height
    if job.face.top_meets != "underside":
        wanted = (
            "puts it over the face, which then ends with a bed joint below it; write "
            f'face.top_meets = "underside" and face.height = "{said(job, low)}"'
        )
        yield Complaint(f"{key}.where", wanted)
    elif abs(low - top) > line_tolerance(job, old):
        wanted = (
            f"begins at {said(job, low)}, the underside of its lowest brick, and the "
            f'face ends at {said(job, top)}; write face.height = "{said(job, low)}", '
            "or measure again"
        )
        yield Complaint(key, wanted)
