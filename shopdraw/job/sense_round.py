"""Say in plain words what can't go to a corner that only courses of the bond turn.

In:  `Job`, what corner it is.   Out: `Complaint`s.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.job.complaint import Complaint
from shopdraw.job.model import Job
from shopdraw.job.model_head import STANDING


def complaints_of_what_goes_round(
    job: Job, goes: str, but: str, steps: str
) -> Iterator[Complaint]:
    """Complain of heads, bands and corbels that can't go to a corner.

    Args:
        job: what was asked.
        goes: the corner that standing brick goes to, "round ..." or "to ...".
        but: why it can't, after that; "{what}" is what stands.
        steps: where a corbel would step out, and what to write instead.
    """
    head = job.opening
    goes_round = head.head_over == "face" and job.brick.at_fold != "stop short"
    if head.head in STANDING and goes_round:
        wanted = (
            f"takes the {head.head}s {goes}{but.format(what='they')}; write "
            'opening.head_over = "opening", or brick.at_fold = "stop short"'
        )
        yield Complaint("opening.head_over", wanted)
    for place, band in enumerate(job.band, start=1):
        if band.kind != "header" and not band.is_part:
            wanted = (
                f"goes {goes}{but.format(what=f'{band.kind}s')}; write "
                'kind = "header", or give from_left and width'
            )
            yield Complaint(f"band[{place}].kind", wanted)
    for place, _ in enumerate(job.corbel, start=1):
        yield Complaint(f"corbel[{place}]", f"steps out {steps}", "a corbel")
