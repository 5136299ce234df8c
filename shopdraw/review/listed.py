"""Review what only the manual of a listed appliance says: how thick a facing may be.

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


def review_listed(
    job: Job, surround: Surround, projection: Fraction
) -> tuple[Finding, ...]:
    """Hold the build-out at its greatest against the manual and against the flange.

    Args:
        job: the appliance and what its manual says.
        surround: how far brick and bed stand out.
        projection: how much further a corbel brings the brick; 0 without one.
    """
    if job.appliance.kind not in LISTED:
        return ()
    manual = job.appliance.manual
    limit = manual_limit(job, manual.facing_most if manual else None, "facing_most")
    build_out = surround.build_out_most + projection
    nose = ", the corbel's nose included," if projection else ""
    says = (
        f"the brick and its setting bed, at their thickest{nose}"
        f"{'' if nose else ','} stand "
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
    """Leave what may burn beside the brick not checked: the manual alone decides."""
    source = manual_limit(job, None, "combustibles").source
    for place, beside in enumerate(job.beside, start=1):
        if beside.combustible:
            says = (
                "a listed appliance has clearances of its own to what may burn, and "
                "they are not held here: look them up in its manual and measure"
            )
            rule = Rule(
                "beside", f"{beside.kind} beside the brick: {beside.name}", place
            )
            yield found(rule, "not checked", says, source, NOT_READ)


def _thinner(job: Job) -> Callable[[Fraction], str]:
    return lambda short: (
        "take thinner brick or a thinner setting bed, "
        f"{in_words(short, job.lengths, up=True)} less in all"
    )


def _proud(job: Job, build_out: Fraction) -> Finding:
    """Say how far the brick stands past the finishing flange."""
    manual, flange = job.appliance.manual, job.appliance.flange
    limit = manual_limit(job, manual.proud_most if manual else None, "proud_most")
    rule = Rule("facing-proud", "brick proud of the flange")
    if flange is None:
        says = (
            "how far the finishing flange stands out was not given: measure it from "
            "the wall as found; where there is no flange it is 0"
        )
        return hold(rule, None, limit, says, at="most", keys=("appliance.flange",))
    proud = build_out - flange
    says = (
        "from the wall as found the brick, at its thickest, stands "
        f"{in_words(build_out, job.lengths, up=True)} out and the flange "
        f"{in_words(flange, job.lengths)}"
    )
    return mended(hold(rule, proud, limit, says, at="most"), job.lengths, _thinner(job))
