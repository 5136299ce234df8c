"""Review what the new face could cover: doors, dampers, air openings, keys, outlets.

In:  `Job`, `Surround`, `Openings`.   Out: `Finding`s; a question where none is given.
Frame: as `Surround`; a fitting is given from the finished left edge of the front and
the datum.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.catalog.statuses import COMMON
from shopdraw.job.model import Job
from shopdraw.job.model_review import FittingTable
from shopdraw.masonry.wall.form import Surround
from shopdraw.review.curved import holds_box
from shopdraw.review.findings import Finding, Rule, found
from shopdraw.review.opening import Openings, Rectangle

RULE = "covered by the new face"
SOURCE = (
    "the fitting's own manual, and whoever uses it",
    COMMON,
)


def review_fittings(
    job: Job, surround: Surround, openings: Openings
) -> Iterator[Finding]:
    """Yield, fitting by fitting, whether the brick covers what must stay clear."""
    if not job.fitting:
        says = (
            "no fittings were listed: list doors, screen, damper, air openings, key "
            "valve, controls, nameplate and outlets on the face, and what each needs"
        )
        yield found(Rule("fittings", RULE), "not checked", says, *SOURCE, "[[fitting]]")
    for place, fitting in enumerate(job.fitting, start=1):
        rule = Rule("fitting", f"{RULE}: {fitting.name}", place)
        yield _of_one(surround, openings, fitting, rule)


def _of_one(
    surround: Surround, openings: Openings, fitting: FittingTable, rule: Rule
) -> Finding:
    if not _is_under_brick(surround, openings, fitting):
        return found(rule, "passed", "the brick leaves it clear", *SOURCE)
    if fitting.wants == "clear":
        says = (
            "the brick lies over it, and it must stay clear: move it, or stop the "
            "brick short of it"
        )
        return found(rule, "failed", says, *SOURCE)
    if fitting.wants == "cut round":
        says = (
            "the brick lies over it and must be cut round it: the cut is not drawn, so "
            "mark it on site"
        )
        return found(rule, "not checked", says, *SOURCE)
    says = "the brick lies over it, and it may be covered"
    return found(rule, "passed", says, *SOURCE)


def _is_under_brick(
    surround: Surround, openings: Openings, fitting: FittingTable
) -> bool:
    """Whether any of it lies on the front and outside the finished opening.

    Splayed jambs stand before what lies beside the opening at their back.
    """
    front, inside = surround.front, openings.at_back or openings.finished
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
    if outer.ring:
        return holds_box(outer.ring, inner.box)
    return (
        outer.left <= inner.left
        and inner.right <= outer.right
        and outer.bottom <= inner.bottom
        and inner.top <= outer.top
    )
