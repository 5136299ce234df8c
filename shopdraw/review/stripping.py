"""Review old work that comes off: what to look for before the first piece is off.

In:  `Job`.   Out: `Finding`s; none where nothing comes off.
Frame: none.

Lead and asbestos are asked about wherever a house is old; here is what stripping adds.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.catalog.rules import Rules
from shopdraw.catalog.statuses import COMMON
from shopdraw.job.model import Job
from shopdraw.review.findings import Finding, Rule, found

SOURCE = ("whoever opens up the wall, and whoever knows the house", COMMON)


def review_stripping(job: Job, rules: Rules) -> Iterator[Finding]:
    """Yield what has to be looked for first, which no drawing can answer."""
    if job.stripping is None or not job.stripping.old:
        return
    names = ", ".join(old.called for old in job.stripping.old)
    says = (
        f"before any of it comes off ({names}): have gas and electric lines in and "
        "behind it found, and shut off by a qualified person; see what hangs on it, "
        "and what it holds up; close the throat against dust and debris"
    )
    yield found(
        Rule("stripping-behind", "old work, what is behind it"),
        "not checked",
        says,
        *SOURCE,
    )
    painted = [old for old in job.stripping.old if old.kind == "paint"]
    if painted and job.house.painted_sq_ft is None:
        says = (
            "paint comes off, and how many square feet of painted surface the work "
            f"disturbs was not given: before {rules.lead.before} it may hold lead"
        )
        where = rules.lead.source, rules.lead.source_status
        rule = Rule("stripping-paint", "old work, paint")
        key = "house.painted_sq_ft"
        yield found(rule, "not checked", says, *where, key)
    unknown = [
        old.called for old in job.stripping.old if old.kind in ("board", "other")
    ]
    if unknown and not job.house.asbestos:
        says = (
            f"{' and '.join(unknown)}: what it is made of was not said; old board may "
            "hold asbestos: leave it alone until a qualified person has looked at it"
        )
        rule = Rule("stripping-board", "old work, board and what is not known")
        where = "US CPSC document 453", "read in the source"
        yield found(rule, "not checked", says, *where, "house.asbestos")
