"""Review whether the new courses line through with the old brick that stays.

In:  `Job`, `Coursing`.   Out: `Finding`s, one for each old brick; none without.
Frame: the job's lengths, levels from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shopdraw.catalog.statuses import IN_JOB
from shopdraw.job.model import Job
from shopdraw.job.model_existing import ExistingBrickTable
from shopdraw.job.old_lines import can_follow, old_gauge
from shopdraw.lengths import taped_length
from shopdraw.masonry.coursing.form import Coursing, TargetMet
from shopdraw.review.findings import Finding, Limit, Rule, hold, in_words

WITHIN = "how far off an old course line a new course may be"
CLOSE = 2
"""So many joint steps off, and no eye sees that two courses part: more may be allowed.
Common practice, no published source."""


def review_old_brick(job: Job, coursing: Coursing) -> Iterator[Finding]:
    """Hold the furthest miss of each old brick's lines against its tolerance."""
    for place, old in enumerate(job.existing_brick, start=1):
        lines = [x for x in coursing.old_lines if x.old and x.old.brick == place]
        reckoned = [x for x in lines if _is_reckoned(coursing, x)]
        known = [x for x in lines if x not in reckoned] or lines
        worst = max(known, key=lambda line: line.miss)
        rule = Rule("old-brick-lines", f"course lines: {old.name}", place)
        limit = Limit(worst.tolerance, WITHIN, IN_JOB)
        finding = hold(rule, worst.miss, limit, _says(job, old, known), at="most")
        if reckoned and finding.status == "passed":
            says = (
                f"{len(lines) - len(reckoned)} of {len(lines)} old lines are held; "
                "beside the others the courses are laid and nobody measured them"
            )
            finding = replace(finding, status="not checked", margin=None, says=says)
        if old.height is None and old.where == "above" and finding.status == "passed":
            says = (
                f"{finding.says}; nobody measured how high its brick are, so where the "
                "lowest one begins is taken from the new brick: measure one"
            )
            finding = replace(
                finding,
                status="not checked",
                margin=None,
                says=says,
                keys=(f"existing_brick[{place}].height",),
            )
        yield finding


def _is_reckoned(coursing: Coursing, line: TargetMet) -> bool:
    """Whether what comes to a line is laid, and nobody measured it."""
    number = coursing.course_at(line)
    return number > 0 and coursing.courses[number - 1].is_reckoned


def _says(job: Job, old: ExistingBrickTable, lines: list[TargetMet]) -> str:
    """Say how many lines are met, and which are not, by how much and which way."""
    missed = [line for line in lines if not line.lands]
    if lines[0].meets == "underside":
        off = in_words(lines[0].miss, job.lengths, up=True)
        said = "the last bed joint comes up to the underside of its lowest brick"
        return f"{said}, off by {off}" if lines[0].miss else said
    if not missed:
        return f"new courses line through with all {len(lines)} old lines beside them"
    met = f"{len(lines) - len(missed)} of {len(lines)} old lines are met"
    gauge = old_gauge(old)
    if gauge is not None and not can_follow(job, old):
        rise, high = (
            in_words(gauge, job.lengths),
            in_words(job.brick.height, job.lengths),
        )
        return (
            f"old courses rise by {rise}, and brick of {high} can't follow on the bed "
            f"joints allowed, so no joint is bent for them; {met}, by chance; take "
            "brick that can follow, or part the two where it is least seen"
        )
    worst = max(missed, key=lambda line: line.miss)
    way = "low" if worst.got < worst.wanted else "high"
    off = in_words(worst.miss, job.lengths, up=True)
    number = worst.old.number if worst.old else 0
    return (
        f"{met}; furthest off is line {number}, counted from the lowest, where the "
        f"nearest new course is {off} too {way}; measure that line again, or show the "
        "owner where the two part; the course list says which lines are missed"
        f"{_allowing(job, worst)}"
    )


def _allowing(job: Job, worst: TargetMet) -> str:
    """Say that a line may be allowed to be so little off, where that alone fails."""
    if worst.old is None or worst.miss > CLOSE * job.joints.step:
        return ""
    key = f"existing_brick[{worst.old.brick}].tolerance"
    enough = taped_length(worst.miss, job.lengths, "up")
    return f'; where nobody sees so little, allow it: {key} = "{enough}"'
