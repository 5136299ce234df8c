"""Say in plain words what is wrong with the hours and the quote of a job.

In:  `Job`, every key well formed.   Out: `Complaint`s.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.job.complaint import Complaint
from shopdraw.job.model import Job
from shopdraw.job.model_labour import LINES


def complaints_of_labour(job: Job) -> Iterator[Complaint]:
    """Complain of a line that is taxed twice, and of a tax on none."""
    labour = job.labour
    if labour is None:
        return
    taxed = labour.tax.on if labour.tax is not None else ()
    for place, line in enumerate(taxed):
        if line in taxed[:place]:
            wanted = "is named twice; remove one of the two"
            yield Complaint("labour.tax.on", wanted, f'"{line}"')
    if labour.tax is not None and not taxed:
        wanted = f"names no line, so nothing would be taxed; write {', '.join(LINES)}"
        yield Complaint("labour.tax.on", wanted, "an empty list")
