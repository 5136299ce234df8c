"""Say which course lines of old brick the new courses are to line through with.

In:  `Job`.   Out: `OldLine`s, in the order of the file, bottom up.
Frame: levels from the datum.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.job.model_existing import ExistingBrickTable
from shopdraw.job.model_face import Meets


@dataclass(frozen=True)
class OldLine:
    """One course line of old brick, as a level for the new courses.

    Attributes:
        brick: which of the job's existing brick it is in, counted from 1.
        number: which of that brick's courses it belongs to, counted from the lowest.
        meets: what of the new brick is to be there: beside old brick the "top" of a
            course, below it the "underside" that the last bed joint carries.
        tolerance: how far off a new course may be and still line through.
        is_asked: whether joints are bent for it: not where its brick can't be followed.
    """

    brick: int
    number: int
    name: str
    level: Fraction
    meets: Meets
    tolerance: Fraction
    is_asked: bool


def old_height(job: Job, old: ExistingBrickTable) -> Fraction:
    """Return how high old brick are: as measured, or else as the new ones."""
    return job.brick.height if old.height is None else old.height


def lowest_underside(job: Job, old: ExistingBrickTable) -> Fraction:
    """Return the level that the lowest course of old brick begins at."""
    return old.lines[0] - old_height(job, old)


def line_tolerance(job: Job, old: ExistingBrickTable) -> Fraction:
    """Return how far off an old line a new course may be and still line through."""
    return job.joints.step / 2 if old.tolerance is None else old.tolerance


def old_gauge(old: ExistingBrickTable) -> Fraction | None:
    """Return how far its courses rise, on average; None of a single line."""
    lines = old.lines
    return (lines[-1] - lines[0]) / (len(lines) - 1) if len(lines) > 1 else None


def can_follow(job: Job, old: ExistingBrickTable) -> bool:
    """Whether courses on the job's bed joints can rise as the old ones do.

    Where they can't, they meet an old line only now and then, by chance, and joints
    bent for that would be uneven for nothing (common practice, no published source).
    """
    gauge, bed = old_gauge(old), job.joints.bed
    if old.where == "above" or gauge is None:
        return True
    return bed.least <= gauge - job.brick.height <= bed.most


def old_lines(job: Job) -> tuple[OldLine, ...]:
    """Return the old lines that a new course can be asked to line through with.

    A line below a first whole course, or above the top of the face, has no new course
    beside it. Of brick above the face the underside of its lowest course is the line.
    """
    lines = []
    for place, old in enumerate(job.existing_brick, start=1):
        within = line_tolerance(job, old)
        meets: Meets = "underside" if old.where == "above" else "top"
        beside = {
            number: level
            for number, level in enumerate(old.lines, start=1)
            if job.brick.height <= level <= job.face.height
        }
        if old.where == "above" and old.lines:
            beside = {1: lowest_underside(job, old)}
        asked = can_follow(job, old)
        lines += [
            OldLine(place, n, f"{old.name}, line {n}", level, meets, within, asked)
            for n, level in beside.items()
        ]
    return tuple(lines)
