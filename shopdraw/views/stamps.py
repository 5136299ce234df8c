"""Say on every sheet what nobody may overlook.

In:  `Job`, `Coursing`, `Finding`s.   Out: words.
Frame: none.
"""

from __future__ import annotations

from shopdraw.drawing.lettering import plain
from shopdraw.job.model import Job
from shopdraw.masonry.coursing import Coursing
from shopdraw.review.findings import Finding, count_not_checked


def stamps(
    job: Job, coursing: Coursing, findings: tuple[Finding, ...]
) -> tuple[str, ...]:
    """Letter what nobody may overlook: misses, failures, what was not checked."""
    said = []
    manual = job.appliance.manual
    if manual is not None and manual.example:
        said.append("EXAMPLE FIGURES: NOT FOR CONSTRUCTION")
    missed = [target.name for target in coursing.targets if not target.lands]
    if missed:
        said.append(plain(f"DOES NOT LAND: {', '.join(missed).upper()}"))
    failed = sum(finding.status == "failed" for finding in findings)
    if failed:
        said.append(f"{failed} FAILED: SEE FINDINGS")
    open_items = count_not_checked(findings)
    if open_items:
        said.append(f"{open_items} NOT CHECKED: NO APPROVAL IS IMPLIED")
    return tuple(said)
