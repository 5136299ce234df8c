"""Find where bands stand that are only a part of the front, beside its courses.

In:  `Job`, `Surround`, `Coursing`.   Out: `PartBand`s.
Frame: as `Surround`.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_bands import BandTable, band_names
from shopdraw.lengths import taped_length
from shopdraw.masonry.coursing.form import Course, Coursing, PartBand
from shopdraw.masonry.wall.form import Surround

LEAST_LEFT = Fraction(3, 4)
"""So much of a soldier must be left where it is sawn to end level with a course."""


def part_bands(
    job: Job, surround: Surround, coursing: Coursing
) -> tuple[PartBand, ...]:
    """Return the bands on a part of the front, with the courses beside each.

    Raises:
        NotLaid: one has no courses to stand beside, or no room.
    """
    parts = tuple(_parts(job, surround, coursing))
    taken: dict[int, int] = {}
    for part in parts:
        for course in part.courses:
            if course.number in taken:
                message = (
                    f"band[{part.band}]: course {course.number} is beside "
                    f"band[{taken[course.number]}] already; write another course"
                )
                raise NotLaid(message)
            taken[course.number] = part.band
    return parts


def _parts(job: Job, surround: Surround, coursing: Coursing) -> Iterator[PartBand]:
    met = {target.name: target.got for target in coursing.targets}
    names = band_names(job.band)
    for place, (name, band) in enumerate(zip(names, job.band, strict=True), start=1):
        if band.from_left is None or band.width is None:
            continue
        last = len(coursing.courses)
        number = band.course or next(
            course.number for course in coursing.courses if course.bottom == met[name]
        )
        if number > last:
            message = (
                f"band[{place}].course: course {number} is above the top of the face, "
                f"which is that of course {last}; write at most {last}"
            )
            raise NotLaid(message)
        top, courses = _beside(job, coursing, band, number)
        left = surround.front.left + band.from_left
        part = PartBand(place, band.kind, courses, left, left + band.width, top)
        _check(job, surround, coursing, part)
        yield part


def _beside(
    job: Job, coursing: Coursing, band: BandTable, number: int
) -> tuple[Fraction, tuple[Course, ...]]:
    """Return the level that a band ends at, and the courses beside it.

    As over the opening, it is as tall as wanted if a course ends within a step of that;
    otherwise soldiers are sawn to the last course below, rowlocks to the nearest.
    """
    above = coursing.courses[number - 1 :]
    wanted = above[0].bottom + job.standing_height(band.kind)
    tops = [course.top for course in above]
    near = min(tops, key=lambda top: (abs(top - wanted), top))
    top = wanted
    if abs(near - wanted) > job.joints.step:
        below = [each for each in tops if each <= wanted]
        top = near if band.kind == "rowlock" else max(below, default=near)
    return top, tuple(x for x in above if x.bottom < top - job.joints.step)


def _check(job: Job, surround: Surround, coursing: Coursing, part: PartBand) -> None:
    """Refuse a band that does not stand beside plain courses, with room for brick."""
    opening, front = surround.opening, surround.front
    below = coursing.courses_below_head
    first, last = part.courses[0].number, part.courses[-1].number
    beside = range(below + 1, below + coursing.courses_beside_soldiers + 1)
    plain = all(x.is_running and not x.projection for x in part.courses)
    key = f"band[{part.band}]"
    if not plain or {*beside} & {*range(first, last + 1)} or first <= below < last:
        message = (
            f"{key}: courses {first} to {last} beside it are not all plain courses, "
            "below the head or above what stands over the opening; write another course"
        )
        raise NotLaid(message)
    high, wanted = part.top - part.courses[0].bottom, job.standing_height(part.kind)
    if high < wanted * LEAST_LEFT or part.top > part.courses[-1].top + job.joints.step:
        message = (
            f"{key}: the {part.kind}s would be sawn to "
            f"{taped_length(high, job.lengths)} to end level with a course beside "
            "them; write a lower course, or another height"
        )
        raise NotLaid(message)
    spans = [(front.left, front.right)]
    if last <= below:
        spans = [
            (front.left, opening.brick_left),
            (opening.brick_right, front.right),
        ]
    least = max(job.bond.least_piece, job.brick.thickness + job.joints.step)
    corners = (*surround.folds, *surround.jamb_folds)
    for left, right in spans:
        rooms = {left: part.left - left, right: right - part.right}
        if min(rooms.values()) >= 0:
            fits = all(
                room >= least or (not room and x not in corners)
                for x, room in rooms.items()
            )
            if fits and any(rooms.values()):
                return
            message = (
                f"{key}: beside it there must be {taped_length(least, job.lengths)} of "
                "brick at each side; write another from_left or width"
            )
            raise NotLaid(message)
    message = f"{key}: it stands across the opening; write another course or from_left"
    raise NotLaid(message)
