"""Say what can't be so of the rules, the wall, the days and the labels.

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
    """Yield what can't be so of what a reviewer asks about, and of what is printed."""
    yield from _rules(job)
    yield from _wall(job)
    yield from _days(job)
    yield from _labels(job)


def _twice(names: Iterable[str]) -> Iterator[tuple[int, str]]:
    """Yield the place and the name of all that were there before."""
    seen: set[str] = set()
    for place, name in enumerate(names, start=1):
        if name in seen:
            yield place, name
        seen.add(name)


def _rules(job: Job) -> Iterator[Complaint]:
    names = (*rule_set_names(), OWN_FIGURES)
    if job.rules.set and job.rules.set not in names:
        wanted = f"is not a rule set in the catalog; it has {', '.join(names)}"
        yield Complaint("rules.set", wanted)
    for place, _ in _twice(own.figure for own in job.rules.own):
        wanted = "has its own figure already; one for each"
        yield Complaint(f"rules.own[{place}].figure", wanted)
    if job.rules.own and job.appliance.kind in ("factory-built", "gas"):
        wanted = "is for masonry fireplaces; this one is held to its manual"
        yield Complaint("rules.own", wanted)
    if job.rules.area != "stricter" and not job.rules.area_agreed:
        wanted = "needs rules.area_agreed: which reviewer agreed to it, and when"
        yield Complaint("rules.area", wanted)
    for place, _ in _twice(sheet.item for sheet in job.data_sheet):
        wanted = "has its data sheet already; one for each"
        yield Complaint(f"data_sheet[{place}].item", wanted)


def _wall(job: Job) -> Iterator[Complaint]:
    if "sound" in job.substrate.condition and len(set(job.substrate.condition)) > 1:
        wanted = 'has "sound" beside something else; leave "sound" out'
        yield Complaint("substrate.condition", wanted)


def _days(job: Job) -> Iterator[Complaint]:
    start, pointed = job.schedule.set_on, job.schedule.pointed_on
    if start and pointed and pointed < start:
        wanted = f"is before schedule.set_on, {start}"
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
            wanted = f"is less than a label, {said(job, size)}: they would overlap"
            yield Complaint(f"labels.{key}", wanted)
        far = start + (count - 1) * (pitch or size) + size
        if far > room + Fraction(1, 1000):
            what = "columns" if key == "across" else "rows"
            wanted = (
                f"reach {said(job, far)} over a page of {said(job, room)}, "
                f"{job.sheet.page}"
            )
            yield Complaint(f"labels.{what}", wanted)
