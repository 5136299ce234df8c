"""Say in plain words what is wrong with the rules, wall, days and labels of a job.

In:  `Job`, every key well formed.   Out: `Complaint`s.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from shopdraw.catalog.rows import sheet_names, sheet_size
from shopdraw.catalog.rules import rule_set_names
from shopdraw.job.complaint import Complaint, said
from shopdraw.job.model import Job
from shopdraw.job.model_review import OWN_FIGURES


def complaints_of_review(job: Job) -> Iterator[Complaint]:
    """Complain of what a reviewer asks about, and of the labels."""
    yield from _rules(job)
    yield from _wall(job)
    yield from _days(job)
    yield from _labels(job)


def _twice(names: Iterable[str]) -> Iterator[tuple[int, str]]:
    """Yield each name that was there before, with its place."""
    seen: set[str] = set()
    for place, name in enumerate(names, start=1):
        if name in seen:
            yield place, name
        seen.add(name)


def _rules(job: Job) -> Iterator[Complaint]:
    names = (*rule_set_names(), OWN_FIGURES)
    if job.rules.set and job.rules.set not in names:
        wanted = f"is not a rule set in the catalog, which has {', '.join(names)}"
        yield Complaint("rules.set", wanted)
    for place, _ in _twice(own.figure for own in job.rules.own):
        wanted = "is given twice; remove one of the two"
        yield Complaint(f"rules.own[{place}].figure", wanted)
    if job.rules.own and job.appliance.kind in ("factory-built", "gas"):
        wanted = "are for a masonry fireplace; a listed unit is held to its manual"
        yield Complaint("rules.own", wanted, "own figures")
    if job.rules.area != "stricter" and not job.rules.area_agreed:
        wanted = (
            "needs rules.area_agreed too: write which reviewer agreed to it, and when"
        )
        yield Complaint("rules.area", wanted)
    for place, _ in _twice(sheet.item for sheet in job.data_sheet):
        wanted = "has two data sheets; give one for each item"
        yield Complaint(f"data_sheet[{place}].item", wanted)


def _wall(job: Job) -> Iterator[Complaint]:
    if "sound" in job.substrate.condition and len(set(job.substrate.condition)) > 1:
        wanted = "can't be true together with the others; remove it"
        yield Complaint("substrate.condition", wanted, '"sound"')


def _days(job: Job) -> Iterator[Complaint]:
    start, pointed = job.schedule.set_on, job.schedule.pointed_on
    if start and pointed and pointed < start:
        wanted = (
            f"is before schedule.set_on, {start}; joints are pointed after the brick "
            "are set"
        )
        yield Complaint("schedule.pointed_on", wanted)


def _labels(job: Job) -> Iterator[Complaint]:
    labels = job.labels
    if labels is None or job.sheet.page not in sheet_names():
        return
    high, wide = sheet_size(job.sheet.page, job.lengths)
    for key, pitch, size, count, start, room in (
        ("across", labels.across, labels.width, labels.columns, labels.left, wide),
        ("down", labels.down, labels.height, labels.rows, labels.top, high),
    ):
        if pitch is not None and pitch < size:
            wanted = f"is less than a label, {said(job, size)}, so labels would overlap"
            yield Complaint(f"labels.{key}", wanted)
        far = start + (count - 1) * (pitch or size) + size
        if far > room + Fraction(1, 1000):
            what, way = ("columns", "wide") if key == "across" else ("rows", "high")
            wanted = (
                f"{what} of labels reach {said(job, far)} and run off the "
                f"{job.sheet.page} page, {said(job, room)} {way}; set fewer {what}"
            )
            yield Complaint(f"labels.{what}", wanted)
