"""Hold what is laid against the joints' range: its own joints, and what levels it up.

In:  `Job`, `Coursing`.   Out: `Finding`s; none where nothing is laid.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shopdraw.catalog.statuses import TYPED
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.review.findings import Finding, Limit, Rule, hold, in_words


def review_laid(job: Job, coursing: Coursing) -> Iterator[Finding]:
    """Yield what is found of the courses laid."""
    laid = coursing.laid
    if laid is None:
        return
    bed, count = job.joints.bed, len(laid.courses)
    joints = coursing.joints[1:count]
    if joints:
        says = (
            f"of courses 2 to {count} as laid; those that nobody measured share evenly "
            "what the measured ones are off"
        )
        least = Limit(bed.least, "joints.bed.least", TYPED)
        most = Limit(bed.most, "joints.bed.most", TYPED)
        narrow = Rule("laid-joints-narrowest", "bed joints as laid, narrowest")
        wide = Rule("laid-joints-widest", "bed joints as laid, widest")
        yield hold(narrow, min(joints), least, says)
        yield hold(wide, max(joints), most, says, at="most")
    if laid.taper and len(coursing.joints) > count:
        yield _levelled(job, coursing, count)


def _levelled(job: Job, coursing: Coursing, count: int) -> Finding:
    """The joint above a course out of level tapers, so that the next is level again."""
    taper = coursing.laid.taper if coursing.laid else coursing.joints[0] * 0
    joint = coursing.joints[count]
    limit = Limit(job.joints.bed.most, "joints.bed.most", TYPED)
    says = (
        f"the joint above course {count}, {in_words(joint, job.lengths)} at its higher "
        f"end, levels it up by {in_words(taper, job.lengths, up=True)}"
    )
    rule = Rule("laid-levelled", "joint over an uneven course")
    finding = hold(rule, joint + taper, limit, says, at="most")
    if finding.status == "passed":
        return finding
    mend = "level it up over two joints, or take the course up and lay it again"
    return replace(finding, says=f"{says}; {mend}")
