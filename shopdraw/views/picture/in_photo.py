"""Lay the front's picture into a photograph of the fireplace, in perspective.

In:  `Solution`, `Photo`.   Out: `Montage`.
Frame: the photograph's dots, x right, y down.

Brick and joints are put into perspective as areas, before they become dots. The front
alone is laid in: returns and a hearth lie in other planes. The opening stays as it was
taken, and so does what the job has standing before the front.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from shopdraw.drawing.ink import Point
from shopdraw.drawing.perspective import Corners, onto
from shopdraw.drawing.photo import Montage, Photo
from shopdraw.job.complaint import grown_on
from shopdraw.job.model import Job
from shopdraw.solution import Solution
from shopdraw.views.picture.appearance import opening_of, outline_of, paint_front
from shopdraw.views.picture.brickwork import Ring
from shopdraw.views.picture.room import Box, box_of, ring_about


def lay_into(solution: Solution, photo: Photo) -> Montage:
    """Return a photograph with the front laid into it."""
    job = solution.job
    move = onto(face_of(job), corners_of(job, photo))

    def seen(ring: Iterable[Point]) -> Ring:
        return tuple(map(move, ring))

    free = [opening_of(solution), *(ring_about(box_of(each)) for each in job.trim)]
    return Montage(
        photo,
        tuple(
            replace(paint, points=seen(paint.points)) for paint in paint_front(solution)
        ),
        seen(outline_of(solution)),
        tuple(map(seen, free)),
    )


def face_of(job: Job) -> Box:
    """Return the face as it was measured, from the left end of the finished front."""
    left = float(sum(grown_on(job, "left")[:1]))
    return left, 0.0, left + float(job.face.width), float(job.face.height)


def corners_of(job: Job, photo: Photo) -> Corners:
    """Return the face's corners in a photograph that may have been made smaller."""
    first, second, third, fourth = (
        (right * photo.shrunk, down * photo.shrunk)
        for right, down in job.appearance.photo_corners
    )
    return first, second, third, fourth
