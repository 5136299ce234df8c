"""Find the figures that govern: a code's, or those typed from an appliance's manual.

In:  `Job`, `Rules`, the opening's area.   Out: `Limits`.
Frame: the job's lengths.

A listed appliance is never held against a code's figures for masonry fireplaces, nor a
masonry fireplace against a manual's.
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

UNREAD = "this code's rule for it was not read: ask the office that enforces the code"
NOT_OWN = "the job gives no figure of its own for this"
NO_CODE = "no code was named"
MANUAL = "the manual of the appliance"


def no_figure(rule_set: RuleSet) -> Limit:
    """Return the limit of a rule for which a set has no figure, with the reason."""
    if rule_set.name == OWN_FIGURES:
        return Limit(None, rule_set.title, NOT_READ, NOT_OWN, keys=("[[rules.own]]",))
    return Limit(None, rule_set.title, NOT_READ, UNREAD)


class ProjectionLimits(Protocol):
    """Whatever tells how far trim may stand out at each distance."""

    def at(self, gap: Gap, projection: Fraction | None, /) -> Limit:
        """Return how far trim may stand out at most, so far from the opening."""


@dataclass(frozen=True)
class Limits:
    """The figures that this job is held against."""

    hearth_front: Limit
    hearth_sides: Limit
    hearth_raised: Limit | None
    trim_distance: Limit
    trim_projection: ProjectionLimits


def find_limits(job: Job, rules: Rules, area: Fraction) -> Limits:
    """Return the figures for the job's kind of fireplace and its code."""
    kind = job.appliance.kind
    if kind is None:
        return _nothing(
            "the kind of fireplace was not given: masonry, factory-built or gas",
            "appliance.kind",
        )
    if kind != "masonry":
        return _manual_limits(job)
    rule_set = set_of(job, rules)
    if rule_set is None:
        named = job.rules.set
        unknown = f'no rules are known here for "{named}"' if named else NO_CODE
        why = f"{unknown}: ask the office which code, and which edition, it enforces"
        return _nothing(why, "rules.set")
    return _with_own(job, _code_limits(job, rule_set, area))


def set_of(job: Job, rules: Rules) -> RuleSet | None:
    """Return the rule set for a masonry fireplace; None where the job names none."""
    if job.appliance.kind != "masonry":
        return None
    if job.rules.set == OWN_FIGURES:
        return RuleSet(OWN_FIGURES, "the job's own figures", "masonry fireplaces")
    return rules.set_named(job.rules.set)


def title_of_rules(job: Job) -> str:
    """Return the rule set's title, as sheets letter it; empty where none is named."""
    named = load_rules(job.lengths).set_named(job.rules.set)
    return job.rules.set if named is None else named.title


def own_or(job: Job, name: str, limit: Limit) -> Limit:
    """Return the job's own figure, with its reason; without one the limit as it is."""
    for own in job.rules.own:
        if own.figure == name:
            return Limit(own.value, f"the job's own figure: {own.reason}", TYPED)
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
    """The same limit, or the same lack of one, at every distance."""

    limit: Limit

    def at(self, _gap: Gap, _projection: Fraction | None, /) -> Limit:
        """Return that limit."""
        return self.limit


@dataclass(frozen=True)
class _ByCode:
    """How far trim may stand out by a code's rule."""

    rule: TrimRule
    source: str
    lengths: Lengths

    def at(self, gap: Gap, _projection: Fraction | None, /) -> Limit:
        """Return what the rule allows there; within the least distance, nothing."""
        rule = self.rule
        line = in_words(rule.projection.within, self.lengths, up=True)
        least = in_words(rule.least_distance, self.lengths, up=True)
        if gap.shortest < rule.least_distance:
            return self._limit(
                Fraction(0), f"nothing that burns may stand within {least}"
            )
        distance = gap.above if rule.projection.only_above else gap.shortest
        if distance is None:
            return self._limit(
                None, "the rule limits only what stands above the opening"
            )
        allowed = rule.projection.allowed(distance)
        if allowed is None:
            at_line = rule.projection.limited_at_the_line
            where = f"beyond {line}" if at_line else f"from {line} on"
            return self._limit(None, f"{where} the rule sets no limit")
        return self._limit(
            allowed, f"the rule allows {in_words(allowed, self.lengths)} there"
        )

    def _limit(self, figure: Fraction | None, why: str) -> Limit:
        return Limit(
            figure, self.source, self.rule.source_status, why, is_free=figure is None
        )


@dataclass(frozen=True)
class _ByMantelTable:
    """How far trim may stand out by a manual's mantel table: the higher, the more."""

    manual: ManualTable
    plain: Limit
    lengths: Lengths

    def at(self, gap: Gap, projection: Fraction | None, /) -> Limit:
        """Return the most that any line of the table allows at that height."""
        if gap.above is None:
            return self._missing(
                "a mantel table is for what stands above the opening: look up in the "
                "manual what it asks of trim beside it"
            )
        lines = self.manual.mantel
        allowed = max(
            (line.projection for line in lines if line.distance <= gap.above),
            default=Fraction(0),
        )
        beyond_the_table = gap.above >= max(line.distance for line in lines)
        if beyond_the_table and projection is not None and projection > allowed:
            return self._missing(
                "the lines typed from the mantel table go no further than "
                f"{in_words(allowed, self.lengths)} of projection: look for its next "
                "line",
                "appliance.manual.mantel",
            )
        why = f"the table allows {in_words(allowed, self.lengths)} at that height"
        return Limit(
            allowed,
            self.plain.source,
            self.plain.source_status,
            why,
            verdict=self.plain.verdict,
        )

    def _missing(self, why: str, *keys: str) -> Limit:
        return replace(self.plain, figure=None, why=why, verdict="", keys=keys)


def manual_limit(job: Job, figure: Fraction | None, key: str) -> Limit:
    """Return a figure typed from the manual, or say what is missing.

    Args:
        job: for the manual's document and page.
        figure: as typed.
        key: the name of the key of `[appliance.manual]` that would give it.
    """
    manual = job.appliance.manual
    if manual is None:
        return Limit(
            None,
            MANUAL,
            NOT_READ,
            "the listing and the maker's instructions govern here, and no code's "
            "figures: copy what the manual asks, with its document and page",
            keys=_of_manual(key, "document", "page"),
        )
    if not manual.document or not manual.page:
        return Limit(
            None,
            MANUAL,
            NOT_READ,
            "figures from a manual count only when the document and the page that "
            "they were read in are given too",
            keys=_of_manual("document", "page"),
        )
    where = f"{manual.document}, page {manual.page}"
    example = "EXAMPLE FIGURES: " if manual.example else ""
    if figure is None:
        why = f"{example}what the manual asks here was not given: look it up"
        return Limit(None, example + where, TYPED, why, keys=_of_manual(key))
    # The user may type braces in the document's name: they are no place to fill in.
    safe = where.replace("{", "{{").replace("}", "}}")
    verdict = f"{example}{{}} the figures typed from {safe}"
    return Limit(figure, example + where, TYPED, verdict=verdict)


def _of_manual(*names: str) -> tuple[str, ...]:
    return tuple(f"appliance.manual.{name}" for name in names)


def _manual_limits(job: Job) -> Limits:
    manual = job.appliance.manual or ManualTable()
    table = manual_limit(job, Fraction(0) if manual.mantel else None, "mantel")
    projection: ProjectionLimits = _SameForAll(table)
    if table.figure is not None:
        projection = _ByMantelTable(manual, table, job.lengths)
    return Limits(
        hearth_front=manual_limit(job, manual.hearth_front, "hearth_front"),
        hearth_sides=manual_limit(job, manual.hearth_sides, "hearth_sides"),
        hearth_raised=None,
        trim_distance=manual_limit(job, manual.combustibles, "combustibles"),
        trim_projection=projection,
    )


def _nothing(why: str, key: str) -> Limits:
    limit = Limit(None, "no code or manual named", NOT_READ, why, keys=(key,))
    return Limits(limit, limit, None, limit, _SameForAll(limit))


def _code_limits(job: Job, rule_set: RuleSet, area: Fraction) -> Limits:
    hearth, trim = rule_set.hearth, rule_set.trim
    unread = no_figure(rule_set)
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
        why = f"the limit is for an opening of {area_words(area, job.lengths)}"
    sides = Limit(size.sides, source, rule.source_status, why)
    front = Limit(size.front, source, rule.source_status, why)
    if rule.raised is None:
        return front, sides, None
    raised = job.hearth.raised if job.hearth else None
    if raised is not None:
        more = rule.raised.more(raised)
        why = f"{in_words(more, job.lengths)} of the limit is for the raised fire floor"
        front = Limit(
            size.front + more, source, rule.source_status, why if more else ""
        )
        return front, sides, None
    unknown = Limit(
        None,
        source,
        rule.source_status,
        f"where it stands {in_words(rule.raised.from_, job.lengths)} or more above, "
        "the rule asks for more in front than is counted here",
    )
    return front, sides, unknown


def area_words(area: Fraction, lengths: Lengths) -> str:
    """Write an opening's area, rounded down so that no step is reached too early."""
    hundredths = int(area / foot_in(lengths) ** 2 * 100)
    return f"{hundredths / 100:.2f} sq ft"
