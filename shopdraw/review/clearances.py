"""Review the job: clearances, the brickwork's own limits, and what no drawing shows.

In:  `Job`, and what was solved of it.   Out: `Finding`s, always in this order.
Frame: the job's lengths.
"""

from __future__ import annotations

from shopdraw.catalog.rules import Rules, load_rules
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.marks.form import Variation
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout
from shopdraw.review.arch import review_arch
from shopdraw.review.brick_hearth import review_brick_hearth
from shopdraw.review.brickwork import review_brickwork
from shopdraw.review.corbel import review_corbel
from shopdraw.review.findings import Finding, Rule, found
from shopdraw.review.fittings import review_fittings
from shopdraw.review.hearth import review_hearth
from shopdraw.review.jambs import review_corners, review_jambs
from shopdraw.review.laid import review_laid
from shopdraw.review.limits import find_limits
from shopdraw.review.listed import review_listed
from shopdraw.review.lot import review_lot
from shopdraw.review.masonry_parts import review_masonry_parts
from shopdraw.review.old_brick import review_old_brick
from shopdraw.review.opening import Openings, area_held
from shopdraw.review.over_brick import review_over_brick
from shopdraw.review.panels import review_panels
from shopdraw.review.site import review_site
from shopdraw.review.stripping import review_stripping
from shopdraw.review.trim import review_trim


def review_clearances(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    openings: Openings,
    variation: Variation | None,
    hearth: BrickHearth | None = None,
) -> tuple[Finding, ...]:
    """Hold the job against its code, or its appliance's manual, and its own limits.

    Nothing passes because a figure is missing: such a finding is "not checked", and
    says what is missing and where to find it.
    """
    rules = load_rules(job.lengths)
    limits = find_limits(job, rules, area_held(job, openings))
    return (
        *review_hearth(job, surround, openings, limits),
        *review_brick_hearth(job, hearth),
        *review_trim(job, surround, openings, limits, rules),
        *review_over_brick(job, surround, layout),
        *review_masonry_parts(job, rules),
        *review_listed(job, surround, coursing.projection),
        *review_fittings(job, surround, openings),
        *review_brickwork(job, coursing, layout, rules),
        *review_jambs(job),
        *review_corners(job),
        *review_arch(job, layout),
        *review_corbel(job, coursing, rules),
        *review_panels(job, layout),
        *review_old_brick(job, coursing),
        *review_laid(job, coursing),
        *review_lot(job, variation),
        *review_site(job, coursing, rules),
        *review_stripping(job, rules),
        *_questions(job, rules),
    )


def _questions(job: Job, rules: Rules) -> tuple[Finding, ...]:
    """Ask what no drawing can answer, where it concerns this kind of fireplace."""
    return tuple(
        found(
            Rule("question", question.rule, place),
            "not checked",
            question.says,
            question.source,
            question.source_status,
        )
        for place, question in enumerate(rules.questions, start=1)
        if not question.kinds or job.appliance.kind in question.kinds
    )
