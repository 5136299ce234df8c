"""Review what only a listed appliance's manual can say: how thick the facing may be.

In:  `Job`, `Surround`.   Out: `Finding`s, none for a masonry fireplace.
Frame: the job's lengths, square to the wall.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from shopdraw.catalog.statuses import NOT_READ
from shopdraw.job.model import Job
from shopdraw.masonry.wall.form import Surround
from shopdraw.review.findings import Finding, Rule, found, hold, in_words, mended
from shopdraw.review.limits import manual_limit

LISTED = ("factory-built", "gas")


def review_listed(job: Job, surround: Surround) -> tuple[Finding, ...]:
    """Hold the greatest build-out against the manual, and against the unit's flange."""
    if job.appliance.kind not in LISTED:
        return ()
    manual = job.appliance.manual
    limit = manual_limit(
        job, manual.facing_most if manual else None, "appliance.manual.facing_most"
    )
    build_out = surround.build_out_most
    says = (
        "brick and setting bed at their greatest stand "
        f"{in_words(build_out, job.lengths, up=True)} out from the wall as found"
    )
    rule = Rule("facing-thickness", "facing thickness")
    thickness = hold(rule, build_out, limit, says, at="most")
    return (
        mended(thickness, job.lengths, _thinner(job)),
        _proud(job, build_out),
        *_beside(job),
    )


def _beside(job: Job) -> Iterator[Finding]:
    """What may burn beside the brick keeps off the unit by its manual alone."""
    source = manual_limit(job, None, "").source
    for place, beside in enumerate(job.beside, start=1):
        if beside.combustible:
            says = (
                "a listed unit has its own clearances to what may burn, and no key "
                "takes them: look them up in its manual and measure"
            )
            rule = Rule("beside", f"{beside.kind} beside: {beside.name}", place)
            yield found(rule, "not checked", says, source, NOT_READ)


def _thinner(job: Job) -> Callable[[Fraction], str]:
    return lambda short: (
        f"take brick and setting bed thinner by {in_words(short, job.lengths, up=True)}"
    )


def _proud(job: Job, build_out: Fraction) -> Finding:
    """Say how far the brick stands past the finishing flange."""
    manual, flange = job.appliance.manual, job.appliance.flange
    limit = manual_limit(
        job, manual.proud_most if manual else None, "appliance.manual.proud_most"
    )
    rule = Rule("facing-proud", "brick proud of the flange")
    if flange is None:
        says = (
            "appliance.flange is not given: measure how far the finishing flange "
            "stands out from the wall as found; none: write 0"
        )
        return hold(rule, None, limit, says, at="most")
    proud = build_out - flange
    says = (
        f"brick at its greatest, {in_words(build_out, job.lengths, up=True)} out, "
        f"past the flange, {in_words(flange, job.lengths)} out"
    )
    return mended(hold(rule, proud, limit, says, at="most"), job.lengths, _thinner(job))
