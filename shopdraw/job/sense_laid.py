"""Say in plain words which course laid, or brick measured, can't be right.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where all can be right.
Frame: the job's lengths, from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.complaint import Complaint, inches, said
from shopdraw.job.model import Job
from shopdraw.job.model_head import STANDING
from shopdraw.job.model_laid import LaidTable
from shopdraw.job.sample import LEAST_COUNT, SIZES

THICKEST = Fraction(2)
"""A joint thicker than this, in inches, more likely means a miscounted course."""


def complaints_of_laid(job: Job) -> Iterator[Complaint]:
    """Complain of courses laid that can't be right."""
    well = [laid for laid in job.laid if not _ends_amiss(laid)]
    for place, laid in enumerate(job.laid, start=1):
        wanted = _ends_amiss(laid)
        if wanted:
            yield Complaint(f"laid[{place}]", wanted, f"course {laid.course}")
    if len(well) < len(job.laid):
        return
    seen: dict[int, int] = {}
    for place, laid in enumerate(job.laid, start=1):
        if laid.course in seen:
            wanted = f"is given twice, first as laid[{seen[laid.course]}]; remove one"
            yield Complaint(f"laid[{place}].course", wanted)
        seen.setdefault(laid.course, place)
    if len(seen) < len(job.laid):
        return
    yield from _levels(job, seen)


def complaints_of_sample(job: Job) -> Iterator[Complaint]:
    """Complain of a sample of brick, or of the marks of a spacing rule."""
    sample = job.brick.sample
    if sample is not None:
        for _, each, ten in SIZES:
            measured = getattr(sample, each)
            key = f"brick.sample.{each}"
            if measured and len(measured) < LEAST_COUNT:
                wanted = f"is too small to go by; measure {LEAST_COUNT} or more"
                yield Complaint(key, wanted, f"a sample of {len(measured)}")
            if measured and getattr(sample, ten) is not None:
                wanted = f"is given as well as {ten}; remove one of the two"
                yield Complaint(key, wanted, f"a sample of {len(measured)}")
            if measured and max(measured) > 2 * min(measured):
                wanted = (
                    f"is more than twice the least, {said(job, min(measured))}; check "
                    "which of them was misread"
                )
                yield Complaint(key, wanted, said(job, max(measured)))
    seen: set[str] = set()
    for place, rule_mark in enumerate(job.rule_marks, start=1):
        if rule_mark.mark in seen:
            wanted = "is given twice; remove one of the two"
            yield Complaint(f"rule_marks[{place}].mark", wanted)
        seen.add(rule_mark.mark)


def _ends_amiss(laid: LaidTable) -> str:
    """Say what is wrong with the tops given for a course; nothing where they do."""
    ends = (laid.left, laid.right)
    if laid.top is None and None in ends:
        return "needs its top, or both left and right where it is out of level"
    if laid.top is not None and ends != (None, None):
        return "has a top as well as left or right; write top alone, or left and right"
    return ""


def _courses(count: int) -> str:
    return f"{count} courses" if count > 1 else "1 course"


def _levels(job: Job, places: dict[int, int]) -> Iterator[Complaint]:
    """Hold each course against the one measured below it, the last against the top."""
    brick, below, at = job.brick.height, 0, Fraction(0)
    thickest = inches(job, THICKEST)
    for number in sorted(places):
        laid = job.laid[places[number] - 1]
        key = f"laid[{places[number]}]"
        count = number - below
        room = laid.highest - at
        joint = (room - count * brick) / count
        # The first course may be sawn to half its height.
        alone = count * brick - (brick / 2 if not below else 0)
        since = f"course {below}, {said(job, at)}" if below else "the datum"
        if room <= alone:
            wanted = (
                f"leaves no room for joints: above {since}, the brick of "
                f"{_courses(count)} alone comes to {said(job, alone)}"
            )
            yield Complaint(key, wanted, said(job, laid.highest))
        elif joint > thickest and not job.band and job.opening.head not in STANDING:
            about = said(job, Fraction(round(joint * 16), 16))
            wanted = (
                f"makes joints of about {about} above {since}; check the number of the "
                "course"
            )
            yield Complaint(key, wanted, said(job, laid.highest))
        below, at = number, laid.highest
    if at >= job.face.height + brick:
        wanted = (
            "is more than a course above the top of the face, "
            f"{said(job, job.face.height)}; measure again, up from the datum"
        )
        yield Complaint(f"laid[{places[below]}]", wanted, said(job, at))
