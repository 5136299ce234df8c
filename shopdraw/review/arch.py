"""Hold an arch's joints against their range, and its depth against the textbook's.

In:  `Job`, `Layout`.   Out: `Finding`s; none without an arch.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.catalog.statuses import IN_JOB, SECOND_HAND
from shopdraw.job.model import Job
from shopdraw.lengths import INCHES_PER_FOOT, MM_PER_INCH
from shopdraw.masonry.wall.layout import ARCH_GRID, Arch, Layout
from shopdraw.review.findings import Finding, Limit, Rule, hold, in_words

TEXTBOOK = "textbook depth of an arch that carries its wall"
LEAST_DEPTH = {
    "jack arch": (Fraction(4), Fraction(8)),
    "segmental arch": (Fraction(0), Fraction(4)),
}
"""Inches to which one is added for each foot of span, and the least; second-hand."""


def review_arch(job: Job, layout: Layout) -> Iterator[Finding]:
    """Yield what is found of the arch."""
    arch = layout.arch
    if arch is None:
        return
    yield from _joints(job, arch)
    yield _depth(job, arch)


def _joints(job: Job, arch: Arch) -> Iterator[Finding]:
    """The joints keep to the range of head joints at both of their ends."""
    if arch.whole_joints is not None:
        yield _not_whole(job, arch.whole_joints)
    widths = [x for each in arch.joints for x in (each.at_soffit, each.at_back)]
    ends = "measured between voussoirs and at the skewbacks, at soffit and at back"
    narrow = Limit(job.joints.head.least, "joints.head.least", IN_JOB)
    wide = Limit(job.joints.head.most, "joints.head.most", IN_JOB)
    for finding in (
        hold(
            Rule("arch-joints-narrowest", "arch joints, narrowest"),
            _fine(min(widths)),
            narrow,
            ends,
        ),
        hold(
            Rule("arch-joints-widest", "arch joints, widest"),
            _fine(max(widths)),
            wide,
            ends,
            at="most",
        ),
    ):
        if finding.status == "failed":
            mend = 'write voussoirs = "cut", a lesser depth or a flatter arch'
            yield replace(finding, says=f"{finding.says}; {mend}")
        else:
            yield finding


def _not_whole(job: Job, nearest: tuple[float, float]) -> Finding:
    """Whole voussoirs were asked for, and no odd number of them keeps the joints."""
    joints = job.joints.head
    narrow, wide = (_fine(width) for width in nearest)
    says = (
        "no odd number of whole voussoirs keeps its joints in range at soffit and at "
        f"back: the nearest has {in_words(narrow, job.lengths)} to "
        f"{in_words(wide, job.lengths, up=True)}; they are sawn tapered instead"
    )
    rule = Rule("arch-whole", "whole voussoirs")
    is_wide = wide - joints.most > joints.least - narrow
    limit = Limit(joints.most, "joints.head.most", IN_JOB)
    if is_wide:
        return hold(rule, wide, limit, says, at="most")
    limit = Limit(joints.least, "joints.head.least", IN_JOB)
    return hold(rule, narrow, limit, says)


def _fine(width: float) -> Fraction:
    return Fraction(round(width * ARCH_GRID), ARCH_GRID)


def _depth(job: Job, arch: Arch) -> Finding:
    """Say how deep a textbook has it: a guide, because the veneer carries nothing."""
    inch = Fraction(1) if job.lengths == "in" else MM_PER_INCH
    start, least = LEAST_DEPTH[arch.kind]
    feet = arch.span / inch / INCHES_PER_FOOT
    wanted = max(start + feet, least) * inch
    says = (
        "a guide only: veneer carries nothing, the lintel or arch behind it does, by "
        "others, to be verified"
    )
    limit = Limit(wanted, TEXTBOOK, SECOND_HAND)
    finding = hold(Rule("arch-depth", "arch depth"), arch.depth, limit, says)
    if finding.status == "passed":
        return finding
    short = in_words(wanted, job.lengths, up=True)
    return replace(
        finding,
        status="not checked",
        margin=None,
        says=f"{says}; the textbook has {short} for an arch that carries",
    )
