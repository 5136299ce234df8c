"""Review what only a listed appliance's manual can say: how thick the facing may be.

In:  `Job`, `Surround`.   Out: `Finding`s, none for a masonry fireplace.
Frame: the job's lengths, square to the wall.
"""

from __future__ import annotations

from shopdraw.job.model import Job
from shopdraw.masonry.surround import Surround
from shopdraw.review.findings import Finding, hold, in_words
from shopdraw.review.limits import manual_limit

LISTED = ("factory-built", "gas")


def review_listed(job: Job, surround: Surround) -> tuple[Finding, ...]:
    """Hold the greatest build-out against the manual's greatest facing thickness."""
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
    return (hold("facing thickness", build_out, limit, says, at="most"),)
