"""Hold the courses already laid against the range of bed joints.

In:  `Job`, `Coursing`.   Out: `Finding`s; none where nothing is laid.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shopdraw.catalog.statuses import IN_JOB
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.review.findings import Finding, Limit, Rule, hold, in_words

NARROWEST = "the narrowest bed joint that the job allows"
WIDEST = "the widest bed joint that the job allows"


def review_laid(job: Job, coursing: Coursing) -> Iterator[Finding]:
    """Yield what is found of the courses laid, and of the joint that levels them up."""
    laid = coursing.laid
    if laid is None:
        return
    yield from _doubted(job)
    bed, count = job.joints.bed, len(laid.courses)
    joints = coursing.joints[1:count]
    if joints:
        says = (
            f"taken from courses 2 to {count} as laid; the courses that nobody "
            "measured are taken to share evenly what the measured ones are off"
        )
        least = Limit(bed.least, NARROWEST, IN_JOB)
        most = Limit(bed.most, WIDEST, IN_JOB)
        narrow = Rule("laid-joints-narrowest", "bed joints as laid, narrowest")
        wide = Rule("laid-joints-widest", "bed joints as laid, widest")
        yield hold(narrow, min(joints), least, says)
        yield hold(wide, max(joints), most, says, at="most")
    if laid.taper and len(coursing.joints) > count:
        yield _levelled(job, coursing, count)


def _doubted(job: Job) -> Iterator[Finding]:
    """Fail each reading that was taken although it was doubted."""
    for place, each in enumerate(job.laid, start=1):
        if each.doubted:
            words = f"reading of course {each.course}, taken although doubted"
            says = (
                f"no joints that the job allows bring course {each.course} to where "
                "it was measured: measure it again before the next one is laid"
            )
            yield Finding(
                rule=Rule("laid-doubted", words, place),
                status="failed",
                measured=each.highest,
                limit=None,
                margin=None,
                source="",
                source_status=IN_JOB,
                says=says,
            )


def _levelled(job: Job, coursing: Coursing, count: int) -> Finding:
    """Hold the joint that brings the next course level, over one out of level."""
    taper = coursing.laid.taper if coursing.laid else coursing.joints[0] * 0
    joint = coursing.joints[count]
    limit = Limit(job.joints.bed.most, WIDEST, IN_JOB)
    says = (
        f"the joint above course {count} is {in_words(joint, job.lengths)} thick at "
        "the course's higher end, and at the lower one thicker by "
        f"{in_words(taper, job.lengths, up=True)}, so that the next course is level"
    )
    rule = Rule("laid-levelled", "joint over an uneven course")
    finding = hold(rule, joint + taper, limit, says, at="most")
    if finding.status == "passed":
        return finding
    mend = "level it up over two joints, or take the course up and lay it again"
    return replace(finding, says=f"{says}; {mend}")
