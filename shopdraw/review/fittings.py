"""Review what the new face could cover: doors, dampers, air openings, keys, outlets.

In:  `Job`, `Surround`, `Openings`.   Out: `Finding`s; a question where none is given.
Frame: as `Surround`; a fitting is given from the finished left edge of the front and
the datum.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.job.model import Job
from shopdraw.job.model_review import FittingTable
from shopdraw.masonry.surround import Surround
from shopdraw.review.findings import Finding
from shopdraw.review.opening import Openings, Rectangle

RULE = "covered by the new face"


def review_fittings(
    job: Job, surround: Surround, openings: Openings
) -> Iterator[Finding]:
    """Yield, fitting by fitting, whether the brick covers what must stay clear."""
    if not job.fitting:
        says = (
            "no [[fitting]] is given: list doors, screen, damper, air openings, key "
            "valve, controls, nameplate and outlets on the face, and what each wants"
        )
        yield _found("not checked", RULE, says)
    for fitting in job.fitting:
        yield _of_one(surround, openings, fitting)


def _of_one(surround: Surround, openings: Openings, fitting: FittingTable) -> Finding:
    rule = f"{RULE}: {fitting.name}"
    if not _is_under_brick(surround, openings, fitting):
        return _found("passed", rule, "the brick leaves it clear")
    if fitting.wants == "clear":
        says = "the brick lies over it, and it must stay clear: move it, or stop short"
        return _found("failed", rule, says)
    if fitting.wants == "cut round":
        says = (
            "the brick lies over it and is to be cut round it: the cut is not drawn, "
            "mark it on site"
        )
        return _found("not checked", rule, says)
    return _found("passed", rule, "the brick lies over it, as it may")


def _is_under_brick(
    surround: Surround, openings: Openings, fitting: FittingTable
) -> bool:
    """Whether any of it lies on the front and outside the finished opening."""
    front, inside = surround.front, openings.finished
    left = front.left + fitting.left
    whole = Rectangle(
        left, left + fitting.width, fitting.bottom, fitting.bottom + fitting.height
    )
    face = Rectangle(front.left, front.right, inside.bottom, surround.height)
    return _meet(whole, face) and not _holds(inside, whole)


def _meet(a: Rectangle, b: Rectangle) -> bool:
    return (
        a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top
    )


def _holds(outer: Rectangle, inner: Rectangle) -> bool:
    return (
        outer.left <= inner.left
        and inner.right <= outer.right
        and outer.bottom <= inner.bottom
        and inner.top <= outer.top
    )


def _found(status: str, rule: str, says: str) -> Finding:
    return Finding(
        rule=rule,
        status=status,  # type: ignore[arg-type]
        measured=None,
        limit=None,
        margin=None,
        source="the fitting's own manual, and who uses it",
        source_status="common practice, no published source",
        says=says,
    )
