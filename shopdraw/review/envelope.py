"""Find how far woodwork over the opening may stand out, at each distance from it.

In:  `Job`.   Out: `Envelope`, `ManualTrim`; None without a figure that counts.
Frame: distances up from the opening's top, projections out from the finished face.

The figures are those that the review holds woodwork against: each corner is asked of
the same limits, none is reckoned here.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.catalog.rules import load_rules
from shopdraw.job.model import Job
from shopdraw.review.limits import Limits, find_limits, manual_limit, set_of
from shopdraw.review.listed import LISTED
from shopdraw.review.opening import Gap

ZERO = Fraction(0)
Corner = tuple[Fraction, Fraction]


@dataclass(frozen=True)
class Envelope:
    """What a rule allows woodwork over the opening.

    Attributes:
        corners: pairs of a distance and the projection allowed there, from the least
            distance on; within it nothing that burns may stand.
        reach: the distance past which the rule sets no limit; None where it has one at
            every distance.
        source: the rule set and its section.
    """

    corners: tuple[Corner, Corner]
    reach: Fraction | None
    source: str

    @property
    def least(self) -> Fraction:
        """The least distance of anything that burns."""
        return self.corners[0][0]


def trim_envelope(job: Job) -> Envelope | None:
    """Return what the job's rule set allows; None where there is no figure of it."""
    rules = load_rules(job.lengths)
    rule_set = set_of(job, rules)
    if rule_set is None:
        return None
    limits = find_limits(job, rules, ZERO)
    least = limits.trim_distance.figure
    if least is None:
        return None
    own = any(own.figure == "trim projection" for own in job.rules.own)
    reach = None if own or rule_set.trim is None else rule_set.trim.projection.within
    end = 2 * least if reach is None else max(reach, least)
    first, middle = (_allowed(limits, x) for x in (least, (least + end) / 2))
    if first is None or middle is None:
        return None
    # The rule goes straight on from the least distance to its reach, just short of
    # which it holds whether or not it does at the very line.
    last = first + 2 * (middle - first)
    source = limits.trim_projection.at(Gap(least, least), None).source
    return Envelope(((least, first), (end, last)), reach, source)


@dataclass(frozen=True)
class ManualTrim:
    """What a listed unit's manual allows woodwork, as it was typed from there.

    Attributes:
        least: the least distance of anything that burns; None where it was not typed.
        mantel: pairs of a distance up from the opening, and the projection from there.
        source: the document and its page, and whether the figures are examples.
    """

    least: Fraction | None
    mantel: tuple[Corner, ...]
    source: str


def manual_trim(job: Job) -> ManualTrim | None:
    """Return what the job gives of the manual's figures for woodwork; None without."""
    limits = find_limits(job, load_rules(job.lengths), ZERO)
    manual = job.appliance.manual
    if manual is None or job.appliance.kind not in LISTED:
        return None
    least = limits.trim_distance
    # Without document and page the review counts no figure of it, nor does this.
    table = manual_limit(job, ZERO if manual.mantel else None, "mantel")
    mantel = manual.mantel if table.figure is not None else ()
    if least.figure is None and not mantel:
        return None
    lines = sorted((line.distance, line.projection) for line in mantel)
    return ManualTrim(least.figure, tuple(lines), least.source)


def _allowed(limits: Limits, distance: Fraction) -> Fraction | None:
    """Return how far woodwork may stand out over the opening, so far from it."""
    return limits.trim_projection.at(Gap(distance, distance), None).figure
