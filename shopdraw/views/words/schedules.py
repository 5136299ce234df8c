"""Make the schedules: materials, the fabricator's list, the cut plan, waiting times.

In:  `Job`, the fabrication list, the cut plan, the schedule.   Out: `Table`s.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.set import Event
from shopdraw.drawing.tables import Column, Table
from shopdraw.job.model import Job
from shopdraw.job.splayed import turns_of
from shopdraw.job.turning import SQUARE
from shopdraw.lengths import format_made, typed_length
from shopdraw.masonry.wall.layout import CORNER_KINDS
from shopdraw.quantities.cutting import CutPlan
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.quantities.schedule import Step
from shopdraw.quantities.stops import LEGS, Against
from shopdraw.solution import Solution

FROM: dict[Against, str] = {
    "end": "an end", "corner": "the corner", "edge": "a long edge",
}  # fmt: skip
"""What of a brick is held at the saw's stop, so that it is cut so far from there."""


def materials_table(job: Job) -> Table:
    """Return what the surround is made of: each material with its size and finish."""

    def say(*lengths: Fraction) -> str:
        return " x ".join(format_made(x, job.lengths) for x in lengths)

    def span(least: Fraction, most: Fraction) -> str:
        return say(least) if least == most else f"{say(least)} to {say(most)}"

    brick, joints, bed = job.brick, job.joints, job.setting_bed
    lot = f"lot {job.job.units_lot}" if job.job.units_lot else "lot not given"
    rows = [
        (
            "thin brick",
            say(brick.length, brick.height, brick.thickness),
            f"{brick.size or 'as measured'}, {lot}",
        )
    ]
    for name, corner in (
        ("corner unit", brick.corner),
        ("soldier corner unit", brick.soldier_corner),
    ):
        if corner is not None:
            size = f"legs {say(corner.long_leg, corner.short_leg)}"
            made = f"legs measured {corner.measured}, {corner.made}"
            # A riser's corners are square, and no turn of the wall's.
            turns = turns_of(job)
            if name == "corner unit" and turns and SQUARE not in turns:
                made = f"legs measured {corner.measured}, made of flat brick"
            rows.append((name, size, made))
    rows += [
        (
            "setting mortar",
            f"bed {span(bed.least, bed.most)}",
            "see maker's data sheet: temperature, wait, cure",
        ),
        (
            "pointing mortar",
            f"{say(joints.depth)} deep",
            f"{joints.profile} joints; choose the colour by sample",
        ),
    ]
    edges = job.edges
    soft = [
        name
        for name, edge in (
            ("left", edges.left), ("right", edges.right), ("top", edges.top),
            ("jambs", edges.jambs),
        )
        if edge.kind == "soft"
    ]  # fmt: skip
    if soft:
        rows.append(("sealant", ", ".join(soft), "rated for the heat where it lies"))
    rows += [
        ("woodwork", plain(trim.name), f"{trim.material}, by others")
        for trim in job.trim
    ]
    return Table(
        "materials",
        "MATERIALS",
        (Column("ITEM"), Column("SIZE"), Column("TYPE AND FINISH")),
        tuple((plain(a), plain(b), plain(c)) for a, b, c in rows),
    )


def fabrication_table(job: Job, rows: tuple[FabricationRow, ...]) -> Table:
    """Return what the fabricator makes, mark by mark, spares included."""

    def say(row: FabricationRow) -> str:
        if row.row.kind in CORNER_KINDS and row.row.legs:
            return " x ".join(format_made(x, job.lengths) for x in row.row.legs)
        return format_made(row.row.length, job.lengths)

    return Table(
        "fabrication",
        "FABRICATOR'S LIST",
        (
            Column("MARK"),
            Column("KIND"),
            Column("LENGTH, OR LEGS OUTSIDE"),
            Column("HEIGHT", "right"),
            Column("COUNT", "right"),
            Column("SPARES", "right"),
            Column("MAKE", "right"),
            Column("TOLERANCE"),
        ),
        tuple(
            (
                each.row.mark,
                f"mitred {each.row.kind}" if each.row.is_made else each.row.kind,
                say(each),
                format_made(each.row.height, job.lengths),
                str(each.row.count),
                str(each.spares),
                str(each.make),
                f"{typed_length(each.tolerance, job.lengths)} either way",
            )
            for each in rows
        ),
    )


def cut_plan_table(job: Job, plan: CutPlan) -> Table:
    """Return what to saw each whole unit into."""
    bound = "" if plan.is_proved else f" (ANY PLAN NEEDS {plan.least})"
    return Table(
        "cut-plan",
        f"CUT PLAN: {plan.whole_units} WHOLE UNITS TO SAW{bound}",
        (
            Column("UNITS", "right"),
            Column("SAW EACH INTO"),
            Column("LEFT OVER", "right"),
        ),
        tuple(
            (str(x.count), " + ".join(x.marks), format_made(x.left, job.lengths))
            for x in plan.units
        ),
    )


def stops_table(job: Job, plan: CutPlan) -> Table:
    """Return the lengths to set the saw's stop to, in the order of sawing."""
    return Table(
        "saw-stops",
        f"SAW STOPS, KERF {format_made(plan.kerf, job.lengths)}",
        (
            Column("STOP", "right"),
            Column("FROM"),
            Column("CUTS", "right"),
            Column("MARKS"),
        ),
        tuple(
            (
                format_made(x.length, job.lengths),
                FROM[x.against],
                str(x.cuts),
                " ".join(x.marks) + _mitred(x.mitre),
            )
            for x in plan.stops
        ),
    )


def _mitred(mitre: Fraction | None) -> str:
    """Say what the saw is set to, besides its stop."""
    return "" if mitre is None else f", mitred at {float(mitre):g} degrees"


def sawing_table(job: Job, rows: tuple[FabricationRow, ...], plan: CutPlan) -> Table:
    """Return the saw's stops in the order of sawing, with the spares of each."""
    spares = {f"{x.row.mark}{leg}": x.spares for x in rows for leg in ("", *LEGS)}
    stops = stops_table(job, plan)
    *figures, marks = stops.columns
    return replace(
        stops,
        title="SAW STOPS, IN THIS ORDER",
        columns=(*figures, Column("SPARE", "right"), marks),
        rows=tuple(
            (*row[:-1], str(sum(spares[mark] for mark in stop.marks)), row[-1])
            for row, stop in zip(stops.rows, plan.stops, strict=True)
        ),
    )


def schedule_table(steps: tuple[Step, ...]) -> Table:
    """Return how long to wait before each piece of work, and from which day."""
    return Table(
        "schedule",
        "WAITING TIMES",
        (Column("WORK"), Column("NOT BEFORE"), Column("WAIT"), Column("SOURCE")),
        tuple(
            (x.what, str(x.day or "date not given"), x.wait, x.status) for x in steps
        ),
    )


def list_events(solution: Solution) -> tuple[Event, ...]:
    """Return the dated steps of the schedule, for a calendar."""
    return tuple(
        # In a calendar there is no head of a column that says so.
        Event(
            f"{step.what}, not before this day",
            step.day,
            f"{step.wait} ({step.status})",
        )
        for step in solution.schedule
        if step.day is not None
    )


def revisions_table(job: Job) -> Table:
    """Return the revisions, the latest first."""
    return Table(
        "revisions",
        "REVISIONS",
        (
            Column("MARK"),
            Column("DATE"),
            Column("BY"),
            Column("WHAT CHANGED"),
            Column("COURSES"),
        ),
        tuple(
            (
                plain(each.mark),
                str(each.date or ""),
                plain(each.by),
                plain(each.says),
                _courses(each.courses),
            )
            for each in reversed(job.revision)
        ),
    )


def _courses(courses: tuple[int, ...]) -> str:
    if not courses:
        return ""
    low, high = min(courses), max(courses)
    return str(low) if low == high else f"{low} to {high}"
