"""Say in plain words which band or corbel can't be built.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where all could be built.
Frame: the job's lengths, from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.job.complaint import Complaint, said
from shopdraw.job.model import Job
from shopdraw.job.model_bands import BandTable, CorbelTable


def complaints_of_bands(job: Job) -> Iterator[Complaint]:
    """Complain of bands and corbels that can't be built, whatever the courses."""
    seen: dict[int, int] = {}
    for place, band in enumerate(job.band, start=1):
        key = f"band[{place}]"
        yield from _where(job, key, band)
        yield from _how(job, key, band)
        yield from _part(job, key, band)
        if band.course is None or band.is_part:
            continue
        for number in band.courses(band.course, band.course + 1000):
            if number in seen:
                wanted = f"is a course of band[{seen[number]}] too; write another"
                yield Complaint(f"{key}.course", wanted, f"course {number}")
                break
            seen[number] = place
    for place, corbel in enumerate(job.corbel, start=1):
        yield from _corbel(job, f"corbel[{place}]", corbel)
    last = [at for at, x in enumerate(job.corbel, start=1) if x.top is None]
    for place in last[1:]:
        wanted = (
            f"ends at the top of the face, as corbel[{last[0]}] does; write its top"
        )
        yield Complaint(f"corbel[{place}]", wanted, "the corbel")


def _where(job: Job, key: str, band: BandTable) -> Iterator[Complaint]:
    """Complain where a band has no course and no level, or both."""
    if (band.course is None) == (band.level is None):
        wanted = "needs its course or its level, one of the two"
        yield Complaint(key, wanted, f"the {band.kind} band")
    if band.course is not None:
        for name in ("meets", "tolerance"):
            if name in band.model_fields_set:
                wanted = (
                    f"is for a band with a level; write {key}.level, or leave it out"
                )
                yield Complaint(f"{key}.{name}", wanted)
    elif band.level is not None and band.level > job.face.height:
        top = said(job, job.face.height)
        wanted = f"is above the top of the face; write at most {top}"
        yield Complaint(f"{key}.level", wanted)
    if band.times is not None and band.times > 1 and band.every is None:
        wanted = f"says how often, but not after how many courses; write {key}.every"
        yield Complaint(f"{key}.times", wanted)


def _part(job: Job, key: str, band: BandTable) -> Iterator[Complaint]:
    """Complain of a band on a part of the front that can't stand beside courses."""
    if not band.is_part:
        return
    if band.from_left is None or band.width is None:
        wanted = "needs both from_left and width, or neither to go round the face"
        yield Complaint(key, wanted, f"the {band.kind} band")
        return
    if band.kind == "header":
        wanted = "is for soldiers and rowlocks; headers go round the whole face"
        yield Complaint(f"{key}.width", wanted)
    for name in ("every", "meets"):
        if name in band.model_fields_set:
            wanted = "is for a band round the whole face; leave it out"
            yield Complaint(f"{key}.{name}", wanted)
    most = job.face.width
    if band.from_left + band.width > most:
        wanted = f"goes past the end of the front, {said(job, most)} wide; write less"
        yield Complaint(f"{key}.width", wanted)


def _how(job: Job, key: str, band: BandTable) -> Iterator[Complaint]:
    """Complain of a band that can't turn its corner, or is taller than a brick."""
    if band.kind == "header" or band.is_part:
        return
    if job.standing_height(band.kind) > job.brick.length:
        wanted = (
            f"is more than the brick's length, {said(job, job.brick.length)}; brick "
            "can only be sawn shorter"
        )
        yield Complaint(f"courses.{band.kind}_height", wanted)
    folds = (job.face.left_return, job.face.right_return, job.opening.jamb_return)
    if any(x is not None for x in folds) and job.brick.soldier_corner is None:
        at_fold = job.brick.at_fold
        if at_fold is None:
            wanted = (
                f"is missing, and the {band.kind}s of {key} go round an outside "
                'corner; write "mitre" or "butt", or give brick.soldier_corner'
            )
            yield Complaint("brick.at_fold", wanted)
        elif at_fold == "stop short":
            wanted = (
                f"is for soldiers over the opening, and the {band.kind}s of {key} go "
                'round an outside corner; write "mitre" or "butt", or give '
                "brick.soldier_corner"
            )
            yield Complaint("brick.at_fold", wanted)


def _corbel(job: Job, key: str, corbel: CorbelTable) -> Iterator[Complaint]:
    """Complain of a corbel with nowhere to stand: it is built over the opening."""
    least = corbel.courses * (job.brick.height / 2 + job.joints.bed.least)
    top = job.face.height if corbel.top is None else corbel.top
    if top > job.face.height:
        wanted = (
            f"is above the top of the face; write at most {said(job, job.face.height)}"
        )
        yield Complaint(f"{key}.top", wanted)
    elif top - least < job.opening.height:
        name = f"{key}.courses" if corbel.top is None else f"{key}.top"
        wanted = (
            "leaves no room for the corbel over the opening, whose head is at "
            f"{said(job, job.opening.height)}; brick that projects beside the fire is "
            "not laid here"
        )
        yield Complaint(name, wanted, "" if corbel.top else str(corbel.courses))
    if corbel.top is None and "tolerance" in corbel.model_fields_set:
        wanted = f"is for a corbel with a level; write {key}.top, or leave it out"
        yield Complaint(f"{key}.tolerance", wanted)
    if corbel.step * corbel.courses > job.brick.length:
        wanted = (
            f"takes the corbel {said(job, corbel.step * corbel.courses)} out, more "
            "than a brick is long; write a smaller step"
        )
        yield Complaint(f"{key}.step", wanted)
