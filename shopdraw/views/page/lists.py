"""List what to bring, to saw, to find out and to wait for: the tables, row by row.

In:  `Solution`.   Out: `TickList`s, `PageItem`s; of them at a glance, `Glance`.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.page import Glance, PageItem, TickList
from shopdraw.drawing.tables import Table
from shopdraw.review.findings import Status
from shopdraw.solution import Solution
from shopdraw.views.parts.stamps import drawn_from, stamps
from shopdraw.views.words.schedules import (
    cut_plan_table,
    fabrication_table,
    sawing_table,
    schedule_table,
)
from shopdraw.views.words.tables import findings_table, takeoff_table, targets_table

NO_APPROVAL = '"Not checked" is never an approval: find these out before you go on.'


def lists_of(solution: Solution) -> Iterator[TickList]:
    """Yield every list, in the order that they are needed."""
    job = solution.job
    yield from not_passed(solution)
    takeoff = takeoff_table(solution)
    yield TickList("bring", "To order and to bring", tuple(_items(takeoff, says=5)))
    make = fabrication_table(job, solution.fabrication)
    yield TickList("make", "To make, with spares", tuple(_items(make)))
    stops = sawing_table(job, solution.fabrication, solution.cut_plan)
    yield TickList(
        "saw",
        "To saw, in the order of the saw's stops",
        tuple(_items(stops, title="stop at {}")),
        "Set each stop once. The number of cuts is without spares: saw a spare at the "
        "same stop, from another unit.",
    )
    plan = cut_plan_table(job, solution.cut_plan)
    yield TickList("cut-plan", plan.title.capitalize(), tuple(_items(plan, "{} units")))
    waits = schedule_table(solution.schedule)
    yield TickList(
        "calendar",
        "Calendar: waiting times",
        tuple(_items(waits, source=3)),
        is_ticked=False,
    )
    yield from _found(solution, "passed", "passed", "What passed", "")


def not_passed(solution: Solution) -> Iterator[TickList]:
    """Yield what failed, and what is still to be found out."""
    yield from _found(solution, "failed", "failed", "What failed", "")
    yield from _found(
        solution, "not checked", "find-out", "Still to find out", NO_APPROVAL
    )


def landed(solution: Solution) -> tuple[PageItem, ...]:
    """Return every target, with the level wanted and the level got."""
    return tuple(_items(targets_table(solution)))


def _items(
    table: Table, title: str = "{}", says: int = -1, source: int = -1
) -> Iterator[PageItem]:
    """Yield a table's rows: the first cell is the title, the others are facts."""
    heads = [column.head.lower() for column in table.columns]
    for row in table.rows:
        facts = tuple(
            (heads[place], cell)
            for place, cell in enumerate(row)
            if place not in (0, says, source) and cell
        )
        said = row[says] if says >= 0 else ""
        yield PageItem(
            title.format(row[0]), facts, said, row[source] if source >= 0 else ""
        )


def _found(
    solution: Solution, status: Status, name: str, title: str, says: str
) -> Iterator[TickList]:
    """Yield the findings of one status as a list, where there are any."""
    rows = findings_table(solution).rows
    items = tuple(
        PageItem(
            rule,
            tuple(
                (head, figure)
                for head, figure in (
                    ("measured", measured), ("limit", limit), ("margin", margin)
                )
                if figure
            ),
            how,
            source,
        )
        for _, rule, is_status, measured, limit, margin, source, how in rows
        if is_status == status.upper()
    )  # fmt: skip
    if items:
        yield TickList(name, title, items, says, is_ticked=status != "passed")


def make_glance(solution: Solution) -> Glance:
    """Return what is told of a job beside its drawing, or in a list of jobs."""
    job = solution.job
    return Glance(
        title=plain(job.job.name),
        mark=drawn_from(job).mark,
        revision=job.job.revision,
        stamps=stamps(solution),
        landed=landed(solution),
        lists=tuple(not_passed(solution)),
    )
