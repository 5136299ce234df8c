"""Say which mark of the mason's own spacing rule each course follows.

In:  `Job` with the marks as typed, `Coursing`.   Out: `Follows`, one a course.
Frame: the job's lengths. The marks are the job's alone: no rule is built in.
"""

from __future__ import annotations

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.marks.form import Follows


def follow_marks(job: Job, coursing: Coursing) -> tuple[Follows, ...]:
    """Return the nearest mark for each course; of two equally near, the first typed.

    Empty where the job gives no marks.
    """
    if not job.rule_marks:
        return ()
    followed: list[Follows] = []
    for course in coursing.courses:
        pitch = course.bed_joint + course.height
        nearest = min(job.rule_marks, key=lambda rule: abs(pitch - rule.height))
        moves = bool(followed) and followed[-1].mark != nearest.mark
        followed.append(Follows(nearest.mark, pitch - nearest.height, moves))
    return tuple(followed)
