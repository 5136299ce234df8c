"""Say in plain words what height whole courses can't be sawn to.

In:  `Job`, every key well formed.   Out: `Complaint`s.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.job.complaint import Complaint, said
from shopdraw.job.model import Job


def complaints_of_sawn(job: Job) -> Iterator[Complaint]:
    """Complain of courses higher than brick is, and of standing ones lower than others.

    Brick on end that is lower than a course beside it would leave a gap over itself.
    """
    brick = job.brick
    for name, value in (
        ("bottom_height", job.courses.bottom_height),
        ("top_height", job.courses.top_height),
    ):
        if value is not None and value > brick.height:
            wanted = (
                f"is more than the brick's height, {said(job, brick.height)}; brick "
                "can only be sawn lower"
            )
            yield Complaint(f"courses.{name}", wanted)
    if job.soldier_height > brick.length:
        wanted = (
            f"is more than the brick's length, {said(job, brick.length)}; brick can "
            "only be sawn shorter"
        )
        name = "rowlock" if job.opening.head == "rowlock" else "soldier"
        yield Complaint(f"courses.{name}_height", wanted)
    for name, value in (
        ("soldier", job.courses.soldier_height),
        ("rowlock", job.courses.rowlock_height),
    ):
        if value is not None and value < brick.height:
            wanted = (
                f"is lower than a brick that lies, {said(job, brick.height)}; a {name} "
                "stands at least as high as the courses beside it"
            )
            yield Complaint(f"courses.{name}_height", wanted)
