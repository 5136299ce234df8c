"""Review what a masonry fireplace itself must have, and what may burn beside it.

In:  `Job`, `Rules`.   Out: `Finding`s; none for a listed appliance.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.catalog.rules import Rules, RuleSet
from shopdraw.catalog.statuses import NOT_READ
from shopdraw.job.model import Job
from shopdraw.job.model_review import OWN_FIGURES, BesideTable
from shopdraw.review.findings import Finding, Limit, Rule, hold, in_words, mended
from shopdraw.review.limits import NOT_OWN, UNREAD, own_or, set_of

BESIDE = "combustible beside the brick"


def review_masonry_parts(job: Job, rules: Rules) -> Iterator[Finding]:
    """Yield what is found of hearth, throat, lintel, and what stands beside."""
    rule_set = set_of(job, rules)
    if rule_set is None:
        return
    hearth, opening = job.hearth, job.opening
    yield hold(
        Rule("hearth-thickness", "hearth extension, thickness"),
        hearth.thickness if hearth else None,
        _figure(job, rule_set, "hearth thickness"),
        "of the extension, from its top to its underside"
        if hearth and hearth.thickness
        else "hearth.thickness is not given: measure at the extension's edge",
    )
    yield hold(
        Rule("throat", "throat above the opening"),
        opening.throat,
        _figure(job, rule_set, "throat"),
        "from the top of the opening up to the throat or the damper"
        if opening.throat is not None
        else "opening.throat is not given: measure inside, from the opening's top up",
    )
    yield hold(
        Rule("lintel-bearing", "lintel bearing"),
        opening.lintel_bearing,
        _figure(job, rule_set, "lintel bearing"),
        "of the noncombustible lintel behind, at its shorter end"
        if opening.lintel_bearing is not None
        else "opening.lintel_bearing is not given: see that a noncombustible lintel is "
        "there, and what it bears at each end",
    )
    yield from _beside(job, rule_set)


def _figure(job: Job, rule_set: RuleSet, name: str) -> Limit:
    """Return a rule's figure as this job has it, or what is missing."""
    rule = rule_set.figure(name)
    if rule is None:
        why = NOT_OWN if rule_set.name == OWN_FIGURES else UNREAD
        return own_or(job, name, Limit(None, rule_set.title, NOT_READ, why))
    source = f"{rule_set.title}, {rule.section}"
    figure, why = rule.least, ""
    raised = job.hearth.raised if job.hearth else None
    if rule.raised is not None and raised is not None and raised >= rule.raised[0]:
        figure = rule.raised[1]
        why = (
            f"by its exception: the fire's floor is {in_words(raised, job.lengths)} up"
        )
    return own_or(job, name, Limit(figure, source, rule.source_status, why))


def _beside(job: Job, rule_set: RuleSet) -> Iterator[Finding]:
    """What is listed is held; that nothing is left off the list is nobody's finding."""
    limit = _figure(job, rule_set, "lining")
    rule, says = (
        Rule("beside-rest", BESIDE),
        (
            "no [[beside]] is given: open up far enough to see framing, sheathing, "
            "wall finish and flooring beside the brick, and measure to each"
        ),
    )
    if job.beside:
        rule = Rule("beside-rest", f"{BESIDE}, the rest")
        says = (
            "only what [[beside]] lists is held: open up far enough to see whether "
            "there is more of it, at either side"
        )
    yield hold(rule, None, Limit(None, limit.source, limit.source_status), says)
    for place, beside in enumerate(job.beside, start=1):
        if beside.combustible:
            yield _held_beside(job, rule_set, place, beside)


def _held_beside(
    job: Job, rule_set: RuleSet, place: int, beside: BesideTable
) -> Finding:
    """Framing keeps off the masonry; what abuts it keeps off the firebox lining."""
    if beside.kind == "framing":
        key, name, found = "to_masonry", "framing", beside.to_masonry
        says = "from the fireplace's masonry to the framing"
    else:
        key, name, found = "to_lining", "lining", beside.to_lining
        says = f"from the inside of the firebox lining to the {beside.kind}"
    if found is None:
        says = f"beside[{place}].{key} is not given: measure {says}"
    limit = _figure(job, rule_set, name)
    rule = Rule("beside", f"{beside.kind} beside: {beside.name}", place)
    held = hold(rule, found, limit, says)

    def away(short: Fraction) -> str:
        far = in_words(short, job.lengths, up=True)
        return f"cut the {beside.name} back by {far}"

    return mended(held, job.lengths, away)
