"""Find the figures that govern: a code's, or those typed from an appliance's manual.

In:  `Job`, `Rules`, the opening's area.   Out: `Limits`.
Frame: the job's lengths.

A code's figures for masonry fireplaces are never held against a listed appliance, and
a manual's never against a masonry fireplace.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Protocol

from shopdraw.catalog.rules import HearthRule, Rules, RuleSet, TrimRule, load_rules
from shopdraw.catalog.statuses import NOT_READ, TYPED
from shopdraw.job.model import Job
from shopdraw.job.model_around import ManualTable
from shopdraw.job.model_review import OWN_FIGURES
from shopdraw.lengths import Lengths, foot_in
from shopdraw.review.findings import Limit, in_words
from shopdraw.review.opening import Gap

UNREAD = "its rule for this was not read: ask the office that enforces it"
NOT_OWN = "no figure of your own is given: [[rules.own]]"


class ProjectionLimits(Protocol):
    """Anything that tells how far trim may stand out."""

    def at(self, gap: Gap, projection: Fraction | None, /) -> Limit:
        """Return the greatest projection allowed to trim at that gap."""


@dataclass(frozen=True)
class Limits:
    """The figures that this job is held against."""

    hearth_front: Limit
    hearth_sides: Limit
    hearth_raised: Limit | None
    trim_distance: Limit
    trim_projection: ProjectionLimits


def find_limits(job: Job, rules: Rules, area: Fraction) -> Limits:
    """Return the figures for the job's kind of fireplace and its rule set."""
    kind, name = job.appliance.kind, job.rules.set
    if kind is None:
        return _nothing("appliance.kind is not given: masonry, factory-built or gas")
    if kind != "masonry":
        return _manual_limits(job)
    if not name:
        return _nothing(f"no rule set is named: give rules.set, one of {_names(rules)}")
    rule_set = set_of(job, rules)
    if rule_set is None:
        return _nothing(f'there is no rule set "{name}": one of {_names(rules)}')
    return _with_own(job, _code_limits(job, rule_set, area))


def set_of(job: Job, rules: Rules) -> RuleSet | None:
    """Return the set that a masonry fireplace is held against; None where none is."""
    if job.appliance.kind != "masonry":
        return None
    if job.rules.set == OWN_FIGURES:
        return RuleSet(OWN_FIGURES, OWN_FIGURES, "masonry fireplaces")
    return rules.set_named(job.rules.set)


def title_of_rules(job: Job) -> str:
    """Return the rule set's title, as sheets letter it; empty where none is named."""
    named = load_rules(job.lengths).set_named(job.rules.set)
    return job.rules.set if named is None else named.title


def own_or(job: Job, name: str, limit: Limit) -> Limit:
    """Return the job's own figure in place of a limit, with its reason."""
    for own in job.rules.own:
        if own.figure == name:
            return Limit(own.value, f"own figure: {own.reason}", TYPED)
    return limit


def _with_own(job: Job, limits: Limits) -> Limits:
    projection = own_or(job, "trim projection", Limit(None, "", ""))
    return replace(
        limits,
        hearth_front=own_or(job, "hearth front", limits.hearth_front),
        hearth_sides=own_or(job, "hearth sides", limits.hearth_sides),
        trim_distance=own_or(job, "trim distance", limits.trim_distance),
        trim_projection=limits.trim_projection
        if projection.figure is None
        else _SameForAll(projection),
    )


@dataclass(frozen=True)
class _SameForAll:
    """One answer at every distance: the figure, or its absence, is not by distance."""

    limit: Limit

    def at(self, _gap: Gap, _projection: Fraction | None, /) -> Limit:
        """Return that answer."""
        return self.limit


@dataclass(frozen=True)
class _ByCode:
    """The projection by a code's rule."""

    rule: TrimRule
    source: str
    lengths: Lengths

    def at(self, gap: Gap, _projection: Fraction | None, /) -> Limit:
        """Return nothing allowed within the least distance, then what the rule says."""
        rule = self.rule
        line = in_words(rule.projection.within, self.lengths, up=True)
        least = in_words(rule.least_distance, self.lengths, up=True)
        if gap.shortest < rule.least_distance:
            return self._limit(Fraction(0), f"nothing may stand within {least}")
        distance = gap.above if rule.projection.only_above else gap.shortest
        if distance is None:
            return self._limit(None, "the rule limits what stands above the opening")
        allowed = rule.projection.allowed(distance)
        if allowed is None:
            where = "beyond" if rule.projection.limited_at_the_line else "from"
            return self._limit(None, f"{where} {line} the rule sets no limit")
        return self._limit(
            allowed, f"{in_words(allowed, self.lengths)} is allowed at that distance"
        )

    def _limit(self, figure: Fraction | None, why: str) -> Limit:
        return Limit(
            figure, self.source, self.rule.source_status, why, is_free=figure is None
        )


@dataclass(frozen=True)
class _ByMantelTable:
    """The projection by a manual's mantel table: so far out, at least so far above."""

    manual: ManualTable
    plain: Limit
    lengths: Lengths

    def at(self, gap: Gap, projection: Fraction | None, /) -> Limit:
        """Return the most that any line of the table allows at that height."""
        if gap.above is None:
            return self._missing(
                "a mantel table is for what stands above the opening: look in the "
                "manual for trim beside it"
            )
        lines = self.manual.mantel
        allowed = max(
            (line.projection for line in lines if line.distance <= gap.above),
            default=Fraction(0),
        )
        beyond_the_table = gap.above >= max(line.distance for line in lines)
        if beyond_the_table and projection is not None and projection > allowed:
            return self._missing(
                "appliance.manual.mantel as typed goes no further than "
                f"{in_words(allowed, self.lengths)} of projection"
            )
        why = f"{in_words(allowed, self.lengths)} is allowed at that height"
        return Limit(
            allowed,
            self.plain.source,
            self.plain.source_status,
            why,
            verdict=self.plain.verdict,
        )

    def _missing(self, why: str) -> Limit:
        return Limit(None, self.plain.source, self.plain.source_status, why)


def manual_limit(job: Job, figure: Fraction | None, key: str) -> Limit:
    """Return a figure typed from the manual, or what is missing of it.

    Args:
        job: for the manual's document and page.
        figure: as typed.
        key: the dotted key that would give it.
    """
    manual = job.appliance.manual
    if manual is None:
        return Limit(
            None,
            "the manual of the appliance",
            NOT_READ,
            "the listing and the maker's instructions govern, no code's figures: type "
            f"{key} from the manual, with document and page",
        )
    if not manual.document or not manual.page:
        return Limit(
            None,
            "the manual of the appliance",
            NOT_READ,
            "the figures count when appliance.manual.document and .page say where "
            "they were read",
        )
    where = f"{manual.document}, page {manual.page}"
    example = "EXAMPLE FIGURES: " if manual.example else ""
    if figure is None:
        return Limit(None, example + where, TYPED, f"{example}{key} is not given")
    # The document is the user's own words: no brace of theirs is a place to fill.
    safe = where.replace("{", "{{").replace("}", "}}")
    verdict = f"{example}{{}} the figures typed from {safe}"
    return Limit(figure, example + where, TYPED, verdict=verdict)


def _manual_limits(job: Job) -> Limits:
    manual = job.appliance.manual or ManualTable()
    table = manual_limit(
        job, Fraction(0) if manual.mantel else None, "appliance.manual.mantel"
    )
    projection: ProjectionLimits = _SameForAll(table)
    if table.figure is not None:
        projection = _ByMantelTable(manual, table, job.lengths)
    return Limits(
        hearth_front=manual_limit(
            job, manual.hearth_front, "appliance.manual.hearth_front"
        ),
        hearth_sides=manual_limit(
            job, manual.hearth_sides, "appliance.manual.hearth_sides"
        ),
        hearth_raised=None,
        trim_distance=manual_limit(
            job, manual.combustibles, "appliance.manual.combustibles"
        ),
        trim_projection=projection,
    )


def _nothing(why: str) -> Limits:
    limit = Limit(None, "none named", NOT_READ, why)
    return Limits(limit, limit, None, limit, _SameForAll(limit))


def _names(rules: Rules) -> str:
    return ", ".join((*(each.name for each in rules.sets), OWN_FIGURES))


def _code_limits(job: Job, rule_set: RuleSet, area: Fraction) -> Limits:
    hearth, trim = rule_set.hearth, rule_set.trim
    unread = Limit(
        None,
        rule_set.title,
        NOT_READ,
        UNREAD if rule_set.name != OWN_FIGURES else NOT_OWN,
    )
    front = sides = distance = unread
    raised = None
    projection: ProjectionLimits = _SameForAll(unread)
    if hearth is not None:
        front, sides, raised = _hearth_limits(job, rule_set.title, hearth, area)
    if trim is not None:
        source = f"{rule_set.title}, {trim.section}"
        distance = Limit(trim.least_distance, source, trim.source_status)
        projection = _ByCode(trim, source, job.lengths)
    return Limits(front, sides, raised, distance, projection)


def _hearth_limits(
    job: Job, title: str, rule: HearthRule, area: Fraction
) -> tuple[Limit, Limit, Limit | None]:
    size = rule.size_for(area)
    source = f"{title}, {rule.section}"
    why = ""
    if len(rule.sizes) > 1:
        why = f"for an opening of {area_words(area, job.lengths)}"
    sides = Limit(size.sides, source, rule.source_status, why)
    front = Limit(size.front, source, rule.source_status, why)
    if rule.raised is None:
        return front, sides, None
    raised = job.hearth.raised if job.hearth else None
    if raised is not None:
        more = rule.raised.more(raised)
        why = f"{in_words(more, job.lengths)} of it for the raised fire floor"
        front = Limit(
            size.front + more, source, rule.source_status, why if more else ""
        )
        return front, sides, None
    unknown = Limit(
        None,
        source,
        rule.source_status,
        f"a fire floor {in_words(rule.raised.from_, job.lengths)} or more above the "
        "extension asks for more in front than is reckoned here",
    )
    return front, sides, unknown


def area_words(area: Fraction, lengths: Lengths) -> str:
    """Write an opening's area, rounded down so that a step is never read too early."""
    hundredths = int(area / foot_in(lengths) ** 2 * 100)
    return f"{hundredths / 100:.2f} sq ft"
