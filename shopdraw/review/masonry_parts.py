"""Review what a masonry fireplace itself must have, and what may burn beside it.

In:  `Job`, `Rules`.   Out: `Finding`s; none for a listed appliance.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.catalog.rules import Rules, RuleSet
from shopdraw.job.model import Job
from shopdraw.job.model_review import BesideTable
from shopdraw.review.findings import Finding, Limit, Rule, hold, in_words, mended
from shopdraw.review.limits import no_figure, own_or, set_of

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
        "measured from the top of the extension to its underside"
        if hearth and hearth.thickness is not None
        else "the thickness of the extension was not given: measure it at its edge",
        keys=("hearth.thickness",),
    )
    yield hold(
        Rule("throat", "throat above the opening"),
        opening.throat,
        _figure(job, rule_set, "throat"),
        "measured from the top of the opening up to the throat or the damper"
        if opening.throat is not None
        else "the height of the throat was not given: measure it inside, from the top "
        "of the opening up",
        keys=("opening.throat",),
    )
    yield hold(
        Rule("lintel-bearing", "lintel bearing"),
        opening.lintel_bearing,
        _figure(job, rule_set, "lintel bearing"),
        "how far the noncombustible lintel behind bears, at its shorter end"
        if opening.lintel_bearing is not None
        else "the bearing of the lintel was not given: see that a noncombustible "
        "lintel is there, and how far it bears at each end",
        keys=("opening.lintel_bearing",),
    )
    yield from _beside(job, rule_set)


def _figure(job: Job, rule_set: RuleSet, name: str) -> Limit:
    """Return a rule's figure for this job, or say what is missing."""
    rule = rule_set.figure(name)
    if rule is None:
        return own_or(job, name, no_figure(rule_set))
    source = f"{rule_set.title}, {rule.section}"
    figure, why = rule.least, ""
    raised = job.hearth.raised if job.hearth else None
    if rule.raised is not None and raised is not None and raised >= rule.raised[0]:
        figure = rule.raised[1]
        why = (
            "the rule's exception applies, because the fire's floor stands "
            f"{in_words(raised, job.lengths)} above the extension"
        )
    return own_or(job, name, Limit(figure, source, rule.source_status, why))


def _beside(job: Job, rule_set: RuleSet) -> Iterator[Finding]:
    """Hold what is listed; whether the list leaves anything out stays not checked."""
    limit = _figure(job, rule_set, "lining")
    rule, says = (
        Rule("beside-rest", BESIDE),
        (
            "nothing beside the brick was listed: open up far enough to see framing, "
            "sheathing, wall finish and flooring there, and measure to each"
        ),
    )
    if job.beside:
        rule = Rule("beside-rest", f"{BESIDE}, not listed")
        says = (
            "only what was listed is held against the rule: open up far enough to see "
            "whether there is more that may burn, on either side"
        )
    plain = Limit(None, limit.source, limit.source_status)
    yield hold(rule, None, plain, says, keys=("[[beside]]",))
    for place, beside in enumerate(job.beside, start=1):
        if beside.combustible:
            yield _held_beside(job, rule_set, place, beside)


def _held_beside(
    job: Job, rule_set: RuleSet, place: int, beside: BesideTable
) -> Finding:
    """Measure framing from the masonry, and the rest from the firebox lining."""
    if beside.kind == "framing":
        key, name, found = "to_masonry", "framing", beside.to_masonry
        says = "from the fireplace's masonry to the framing"
    else:
        key, name, found = "to_lining", "lining", beside.to_lining
        says = f"from the inside of the firebox lining to the {beside.kind}"
    if found is None:
        says = f"the distance was not given: measure {says}"
    else:
        says = f"measured {says}"
    limit = _figure(job, rule_set, name)
    rule = Rule("beside", f"{beside.kind} beside the brick: {beside.name}", place)
    held = hold(rule, found, limit, says, keys=(f"beside[{place}].{key}",))

    def away(short: Fraction) -> str:
        far = in_words(short, job.lengths, up=True)
        return f"cut the {beside.name} back by {far}"

    return mended(held, job.lengths, away)
