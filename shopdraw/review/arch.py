"""Hold an arch's joints against their range, and its depth against the textbook's.

In:  `Job`, `Layout`.   Out: `Finding`s; none without an arch.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.catalog.statuses import COMMON, IN_JOB, SECOND_HAND
from shopdraw.job.model import Job
from shopdraw.lengths import INCHES_PER_FOOT, MM_PER_INCH
from shopdraw.masonry.wall.arch import ARCH_GRID, Arch
from shopdraw.masonry.wall.layout import Layout
from shopdraw.review.findings import Finding, Limit, Rule, found, hold, in_words

TEXTBOOK = "a textbook's depth for an arch that carries its wall"
LEAST_DEPTH = {
    "jack arch": (Fraction(4), Fraction(8)),
    "segmental arch": (Fraction(0), Fraction(4)),
    "semicircular arch": (Fraction(0), Fraction(4)),
}
"""Inches to start from, one more for each foot of span, and the least; second-hand."""
NARROWEST = "the narrowest head joint that the job allows"
WIDEST = "the widest head joint that the job allows"


def review_arch(job: Job, layout: Layout) -> Iterator[Finding]:
    """Yield what is found of the arch."""
    arch = layout.arch
    if arch is None:
        return
    yield from _joints(job, arch)
    yield _depth(job, arch)
    if arch.strip is not None:
        yield _crown(job, arch, arch.strip)
    if job.arch.key is not None:
        says = (
            "a keystone is heavier than thin brick, and nothing here says what holds "
            "it: ask its maker how it is fixed, and that it does not burn"
        )
        rule = Rule("keystone", "keystone")
        yield found(rule, "not checked", says, "", COMMON)


def _crown(job: Job, arch: Arch, strip: Fraction) -> Finding:
    """Hold what is left over the crown of the course that the arch ends in."""
    says = "what is left over the crown of the course that the arch's back ends in"
    limit = Limit(arch.least_strip, "what can be sawn and handled", COMMON)
    rule = Rule("arch-crown", "course over the crown of the arch")
    finding = hold(rule, max(strip, Fraction(0)), limit, says)
    if finding.status == "passed" or not arch.better_depths:
        return finding
    mends = tuple(
        f"make the arch {in_words(depth, job.lengths)} deep"
        for depth in arch.better_depths
    )
    return replace(finding, mends=mends, keys=("arch.depth", "opening.height"))


def _joints(job: Job, arch: Arch) -> Iterator[Finding]:
    """Hold both ends of every joint of the arch against the range of head joints."""
    if arch.whole_joints is not None:
        yield _not_whole(job, arch.whole_joints)
    widths = [x for each in arch.joints for x in (each.at_soffit, each.at_back)]
    ends = (
        "measured between the voussoirs and at the skewbacks, at the soffit and at the "
        "back"
    )
    narrow = Limit(job.joints.head.least, NARROWEST, IN_JOB)
    wide = Limit(job.joints.head.most, WIDEST, IN_JOB)
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
            mend = "ask for sawn voussoirs, a shallower arch or a flatter one"
            keys = ("arch.voussoirs", "arch.depth", "arch.rise")
            yield replace(finding, says=f"{finding.says}; {mend}", keys=keys)
        else:
            yield finding


def _not_whole(job: Job, nearest: tuple[float, float]) -> Finding:
    """Say that the whole voussoirs asked for can't be, and what joints they'd have."""
    joints = job.joints.head
    narrow, wide = (_fine(width) for width in nearest)
    says = (
        "no odd number of whole voussoirs that was tried keeps its joints in range "
        "from soffit to back: the nearest has joints of "
        f"{in_words(narrow, job.lengths)} to {in_words(wide, job.lengths, up=True)}; "
        "the voussoirs are sawn tapered instead"
    )
    rule = Rule("arch-whole", "whole voussoirs")
    is_wide = wide - joints.most > joints.least - narrow
    if is_wide:
        return hold(rule, wide, Limit(joints.most, WIDEST, IN_JOB), says, at="most")
    return hold(rule, narrow, Limit(joints.least, NARROWEST, IN_JOB), says)


def _fine(width: float) -> Fraction:
    return Fraction(round(width * ARCH_GRID), ARCH_GRID)


def _depth(job: Job, arch: Arch) -> Finding:
    """Say how deep a textbook would make it: a guide, since veneer carries nothing."""
    inch = Fraction(1) if job.lengths == "in" else MM_PER_INCH
    start, least = LEAST_DEPTH[arch.kind]
    feet = arch.span / inch / INCHES_PER_FOOT
    wanted = max(start + feet, least) * inch
    says = (
        "a guide only: the veneer carries nothing; the lintel or arch behind it does, "
        "by others, to be verified"
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
        says=f"{says}; the textbook asks for {short} in an arch that carries its wall",
    )
