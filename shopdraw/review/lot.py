"""Hold the brick as delivered against the range of joints and the size tolerances.

In:  `Job`, its `Variation`.   Out: `Finding`s; none where no brick was measured.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.catalog.rows import brick_sizes, tolerance_classes
from shopdraw.catalog.statuses import COMMON, IN_JOB
from shopdraw.job.model import Job, JointTable
from shopdraw.masonry.marks.form import DEVIATIONS, Spread, Variation, not_less
from shopdraw.review.findings import Finding, Limit, Rule, hold, in_words


def review_lot(job: Job, variation: Variation | None) -> Iterator[Finding]:
    """Yield what is found of the brick as delivered."""
    if variation is None:
        return
    beds, heads = job.joints.bed, job.joints.head
    yield _in_joints(job, "height", variation.height, beds, "bed")
    yield _in_joints(job, "length", variation.length, heads, "head")
    for size, spread in (("height", variation.height), ("length", variation.length)):
        if spread is not None:
            yield _in_tolerance(job, size, spread)


def _in_joints(
    job: Job, size: str, spread: Spread | None, joint: JointTable, kind: str
) -> Finding:
    """Hold two deviations of one brick against the room that its joint has."""
    rule = Rule("brick-in-joint", f"brick {size} against its joint", size)
    room = (joint.most - joint.least) / 2
    limit = Limit(room, f"half the range of {kind} joints that the job allows", IN_JOB)
    if spread is None:
        missing = (
            f"no {size}s of single brick were given, so how much they differ is not "
            "known: measure ten or more"
        )
        return hold(rule, None, limit, missing, keys=(f"brick.sample.{size}s",))
    deviation = not_less(DEVIATIONS * spread.deviation)
    says = (
        f"two standard deviations of {spread.count} brick, which measured "
        f"{in_words(spread.least, job.lengths)} to {in_words(spread.most, job.lengths)}"
    )
    finding = hold(rule, deviation, limit, says, at="most")
    if finding.status == "failed":
        mend = (
            "the brick differ too much for the joints: sort them, or allow a wider "
            f"range of {kind} joints"
        )
        keys = f"joints.{kind}.least", f"joints.{kind}.most"
        return replace(finding, says=f"{says}; {mend}", keys=keys)
    return finding


def _in_tolerance(job: Job, size: str, spread: Spread) -> Finding:
    """Say which class of the size tolerances would accept the lot."""
    specified = _specified(job, size) or spread.mean
    far = max(spread.most - specified, specified - spread.least)
    mean = abs(spread.mean - specified)
    says, source, status = [], "", COMMON
    for each in tolerance_classes(job.lengths):
        allowed = each.allowed(specified)
        if allowed is None:
            continue
        off = far if each.holds == "each brick" else mean
        verdict = "would accept it" if off <= allowed else "would not"
        says.append(f"{each.name} {verdict} ({in_words(allowed, job.lengths)} allowed)")
        source, status = each.source, each.status
    words = (
        f"a brick is off its {in_words(specified, job.lengths)} by up to "
        f"{in_words(far, job.lengths, up=True)}; "
    )
    words += (
        f"{', '.join(says)}; these figures are {status}: look them up in the edition "
        "that applies"
        if says
        else "no size tolerance known here goes up to that size"
    )
    return Finding(
        rule=Rule("brick-tolerance", f"brick {size} against size tolerances", size),
        status="not checked",
        measured=far,
        limit=None,
        margin=None,
        source=source,
        source_status=status,
        says=words,
    )


def _specified(job: Job, size: str) -> Fraction | None:
    """Return the size that the brick is sold as; None where that is not known."""
    for row in brick_sizes(job.lengths):
        if row.name == job.brick.size:
            return row.length if size == "length" else row.height
    return None
