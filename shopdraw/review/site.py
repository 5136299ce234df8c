"""Review the wall, the mortar near the fire, the head while it sets, and the house.

In:  `Job`, `Rules`.   Out: `Finding`s.
Frame: the job's lengths; temperatures in degrees Celsius.

What the person typed here is believed, and printed as typed.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.catalog.rules import Bound, Rules
from shopdraw.catalog.statuses import COMMON, NOT_READ, READ, TYPED
from shopdraw.job.model import Job
from shopdraw.job.model_head import propped_on
from shopdraw.job.model_review import DataSheetTable
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.review.findings import Finding, Limit, Rule, found, hold

DIRTY = ("painted", "sooted", "old mortar")
NEAR = "12 in (300 mm)"
"""How near the opening counts as near; common practice, no published source."""


def review_site(job: Job, coursing: Coursing, rules: Rules) -> Iterator[Finding]:
    """Yield what is found of wall, mortar, head support and house."""
    yield _surface(job)
    yield _plane(job, rules.plane)
    yield _deflection(job, rules.deflection)
    for item in ("setting mortar", "pointing mortar", "sealant"):
        if item != "sealant" or _has_sealant(job):
            yield _near_the_fire(job, item)
    yield _head(job, coursing)
    yield _smoke(job)
    yield _lead(job, rules)
    yield _asbestos(job)


def _has_sealant(job: Job) -> bool:
    edges = job.edges
    return "soft" in {x.kind for x in (edges.left, edges.right, edges.top, edges.jambs)}


def _surface(job: Job) -> Finding:
    rule, wall = Rule("surface", "substrate, surface"), job.substrate
    kind = "of an unknown kind" if wall.kind == "unknown" else wall.kind
    bad = " and ".join(each for each in wall.condition if each in DIRTY)
    if bad and not wall.prepared:
        says = (
            f"the wall, as typed, is {kind}, {bad}: it NEEDS PREPARATION, down to a "
            "surface that mortar holds to; then say what was done"
        )
        return found(rule, "failed", says, "", TYPED, "substrate.prepared")
    if bad or wall.prepared:
        says = (
            f"the wall, as typed, is {kind}, {bad or 'not clean'}; what was done to "
            f"it: {wall.prepared}"
        )
        return found(rule, "passed", says, "", TYPED)
    if wall.condition and wall.kind != "unknown":
        return found(rule, "passed", f"the wall, as typed, is {kind}, sound", "", TYPED)
    says = (
        "what the wall is and in what condition were not both given: see that it is "
        "sound, free of paint, soot, old mortar and bond breakers"
    )
    keys = "substrate.kind", "substrate.condition"
    return found(rule, "not checked", says, "", COMMON, *keys)


def _plane(job: Job, bound: Bound) -> Finding:
    limit = Limit(bound.figure, bound.source, bound.source_status)
    says = f"how far the wall is out of plane over {bound.says}"
    if job.substrate.plane is None:
        says = (
            "how far the wall is out of plane was not given: hold a straightedge to it "
            f"over {bound.says}"
        )
    rule, key = Rule("plane", "substrate, plane"), "substrate.plane"
    return hold(rule, job.substrate.plane, limit, says, at="most", keys=(key,))


def _deflection(job: Job, bound: Bound) -> Finding:
    """Leave it not checked: a limit that is only recalled passes nothing."""
    rule = Rule("deflection", "deflection of what carries the wall")
    given = job.substrate.deflection
    keys = () if given is not None else ("substrate.deflection",)
    limit = f"L/{bound.figure}, the span over {bound.figure}"
    says = (
        "the deflection of what carries the wall was not given; the limit is recalled "
        f"as {limit}, and was not looked up: whoever designs it decides"
    )
    if given is not None:
        kept = "is within" if given >= bound.figure else "is more than"
        says = (
            f"L/{given}, as typed, {kept} the limit, which is recalled as {limit}, and "
            "was not looked up: look it up"
        )
    return found(rule, "not checked", says, bound.source, bound.source_status, *keys)


def _near_the_fire(job: Job, item: str) -> Finding:
    rule = Rule("heat", f"{item} near the opening", item)
    place, sheet = _data_sheet(job, item)
    key = f"data_sheet[{place}]" if sheet else "[[data_sheet]]"
    if sheet is None or sheet.service_c is None:
        says = (
            f"no service temperature was given for the {item} within {NEAR} of the "
            "opening: take it from the maker's data sheet"
        )
        key += ".service_c" if sheet else ""
        return found(rule, "not checked", says, "the maker's data sheet", NOT_READ, key)
    source = ", ".join(
        filter(None, (sheet.document, sheet.page and f"p. {sheet.page}"))
    )
    bears = f"its data sheet says that it bears {sheet.service_c:g} C"
    if sheet.expected_c is None:
        says = f"{bears}; how hot it is expected to get at its place was not given"
        return found(rule, "not checked", says, source, TYPED, f"{key}.expected_c")
    says = f"{bears}, and {sheet.expected_c:g} C is expected at its place"
    passes = sheet.service_c >= sheet.expected_c
    return found(rule, "passed" if passes else "failed", says, source, TYPED)


def _data_sheet(job: Job, item: str) -> tuple[int, DataSheetTable | None]:
    """Return the first data sheet of an item and its place; None where it has none."""
    for place, sheet in enumerate(job.data_sheet, start=1):
        if sheet.item == item:
            return place, sheet
    return 0, None


def _head(job: Job, coursing: Coursing) -> Finding:
    """Ask how long the head is propped: veneer over an opening can't hold itself up."""
    rule, days = Rule("head-support", "head support"), job.schedule.ledger_days
    prop = propped_on(job.opening.head)
    says = (
        "veneer over the opening has no bearing of its own: keep it on a temporary "
        f"{prop} until the setting mortar's maker lets the {prop} go"
    )
    if coursing.soldiers_cut and job.opening.head != "jack arch":
        says = f"the soldiers over the opening are sawn to length; {says}"
    if days is None:
        says += "; the maker's time was not given"
        return found(rule, "not checked", says, "", COMMON, "schedule.ledger_days")
    says += f": {days} days, as typed"
    return found(rule, "passed", says, "", TYPED)


def _smoke(job: Job) -> Finding:
    rule = Rule("smoke", "smoke stains at the lintel")
    stains = job.house.smoke_stains
    if stains is None:
        says = (
            "whether the lintel or the face has smoke stains was not given: look at "
            "both before anything else"
        )
        return found(rule, "not checked", says, "", COMMON, "house.smoke_stains")
    if stains:
        says = (
            "there are stains, as typed, so smoke comes out: have a sweep inspect the "
            "fireplace and the flue first"
        )
        return found(rule, "failed", says, "", TYPED)
    return found(rule, "passed", "there are none, as typed", "", TYPED)


def _lead(job: Job, rules: Rules) -> Finding:
    rule, lead, house = Rule("lead", "lead in paint"), rules.lead, job.house
    where = lead.source, lead.source_status
    if house.year is None:
        says = (
            "the year in which the house was built was not given: paint from before "
            f"{lead.before} may hold lead"
        )
        return found(rule, "not checked", says, *where, "house.year")
    if house.year >= lead.before:
        says = f"the house was built in {house.year}, as typed"
        return found(rule, "passed", says, *where)
    if house.painted_sq_ft is None:
        says = (
            f"the house was built in {house.year}; how much painted surface the work "
            "disturbs was not given"
        )
        return found(rule, "not checked", says, *where, "house.painted_sq_ft")
    if house.painted_sq_ft > lead.most_sq_ft:
        says = (
            f"the work disturbs {house.painted_sq_ft:g} sq ft of paint from before "
            f"{lead.before}, more than {lead.most_sq_ft:g}: the renovation rule "
            "applies, with its training and its containment, unless a test finds no "
            "lead"
        )
        return found(rule, "not checked", says, *where)
    says = (
        f"the work disturbs {house.painted_sq_ft:g} sq ft of old paint, as typed, not "
        f"more than {lead.most_sq_ft:g}"
    )
    return found(rule, "passed", says, *where)


def _asbestos(job: Job) -> Finding:
    rule, house = Rule("asbestos", "asbestos"), job.house
    if house.asbestos:
        # Words can't be held against anything: whoever decides reads them.
        says = f"as typed: {house.asbestos}; whoever decides accepts that, or does not"
        return found(rule, "not checked", says, "", TYPED)
    built = f"in a house built in {house.year}" if house.year else "of any age"
    says = (
        "what was found of asbestos was not given: have old board, paper, embers and "
        f"textured paint {built} looked at by a qualified person before anyone touches "
        "them"
    )
    source = "US CPSC document 453"
    return found(rule, "not checked", says, source, READ, "house.asbestos")
