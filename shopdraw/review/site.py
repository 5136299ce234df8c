"""Review the wall, the mortar near the fire, the head while it sets, and the house.

In:  `Job`, `Rules`.   Out: `Finding`s.
Frame: the job's lengths; temperatures in degrees Celsius.

What is typed here is taken at its word, and printed as typed.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.catalog.rules import Bound, Rules
from shopdraw.catalog.statuses import COMMON, NOT_READ, READ, TYPED
from shopdraw.job.model import Job
from shopdraw.job.model_review import DataSheetTable
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.review.findings import Finding, Limit, Rule, found, hold

DIRTY = ("painted", "sooted", "old mortar")
NEAR = "12 in (300 mm)"
"""Of the opening; common practice, no published source."""


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
    bad = [each for each in wall.condition if each in DIRTY]
    if bad and not wall.prepared:
        says = (
            f"the {wall.kind} is {' and '.join(bad)} as typed: NEEDS PREPARATION, down "
            "to what mortar holds to; then write in substrate.prepared what was done"
        )
        return found(rule, "failed", says, "substrate.condition", TYPED)
    if bad or wall.prepared:
        says = f"{wall.kind}, {' and '.join(bad) or 'not clean'}; {wall.prepared}"
        return found(rule, "passed", says, "substrate.prepared", TYPED)
    if wall.condition and wall.kind != "unknown":
        says = f"{wall.kind}, sound as typed"
        return found(rule, "passed", says, "substrate.condition", TYPED)
    says = (
        "substrate.kind and .condition are not given: see that the wall is sound, free "
        "of paint, soot, old mortar and bond breakers"
    )
    return found(rule, "not checked", says, COMMON, COMMON)


def _plane(job: Job, bound: Bound) -> Finding:
    limit = Limit(bound.figure, bound.source, bound.source_status)
    says = f"out of plane over {bound.says}"
    if job.substrate.plane is None:
        says = (
            f"substrate.plane is not given: hold a straightedge to it over {bound.says}"
        )
    rule = Rule("plane", "substrate, plane")
    return hold(rule, job.substrate.plane, limit, says, at="most")


def _deflection(job: Job, bound: Bound) -> Finding:
    """A limit that is only remembered passes nothing."""
    rule = Rule("deflection", "deflection of what carries the wall")
    given = job.substrate.deflection
    limit = f"the span over {bound.figure} remembered as the limit"
    says = f"substrate.deflection is not given: {limit}; whoever designs it decides"
    if given is not None:
        kept = "keeps" if given >= bound.figure else "does not keep"
        says = f"the span over {given} as typed {kept} {limit}: look it up"
    return found(rule, "not checked", says, bound.source, bound.source_status)


def _near_the_fire(job: Job, item: str) -> Finding:
    rule = Rule("heat", f"{item} near the opening", item)
    sheet: DataSheetTable | None = next(
        (each for each in job.data_sheet if each.item == item), None
    )
    if sheet is None or sheet.service_c is None:
        says = (
            f"no service temperature is given for what lies within {NEAR} of the "
            f'opening: [[data_sheet]] with item = "{item}", from its maker'
        )
        return found(rule, "not checked", says, "the maker's data sheet", NOT_READ)
    source = ", ".join(
        filter(None, (sheet.document, sheet.page and f"p. {sheet.page}"))
    )
    bears = f"bears {sheet.service_c:g} C by its data sheet"
    if sheet.expected_c is None:
        says = f"{bears}; what is expected at its place is not given: expected_c"
        return found(rule, "not checked", says, source, TYPED)
    says = f"{bears}, {sheet.expected_c:g} C expected at its place"
    passes = sheet.service_c >= sheet.expected_c
    return found(rule, "passed" if passes else "failed", says, source, TYPED)


def _head(job: Job, coursing: Coursing) -> Finding:
    """Veneer over the opening has no bearing of its own while it sets."""
    rule, days = Rule("head-support", "head support"), job.schedule.ledger_days
    says = (
        "veneer over the opening has no bearing of its own: keep it on a temporary "
        "ledger until the setting mortar's maker lets it go"
    )
    if coursing.soldiers_cut and job.opening.head != "jack arch":
        says = f"the soldiers over the opening are sawn to length; {says}"
    if days is None:
        says += "; his time is not given: schedule.ledger_days"
        return found(rule, "not checked", says, COMMON, COMMON)
    says += f", {days} days as typed"
    return found(rule, "passed", says, "schedule.ledger_days", TYPED)


def _smoke(job: Job) -> Finding:
    rule = Rule("smoke", "smoke stains at the lintel")
    stains = job.house.smoke_stains
    if stains is None:
        says = (
            "house.smoke_stains is not given: look at lintel and face before all else"
        )
        return found(rule, "not checked", says, COMMON, COMMON)
    if stains:
        says = "smoke comes out: have a sweep inspect fireplace and flue first"
        return found(rule, "failed", says, "house.smoke_stains", TYPED)
    return found(rule, "passed", "none as typed", "house.smoke_stains", TYPED)


def _lead(job: Job, rules: Rules) -> Finding:
    rule, lead, house = Rule("lead", "lead in paint"), rules.lead, job.house
    where = lead.source, lead.source_status
    if house.year is None:
        says = f"house.year is not given: before {lead.before} paint may hold lead"
        return found(rule, "not checked", says, *where)
    if house.year >= lead.before:
        says = f"the house is of {house.year}, as typed"
        return found(rule, "passed", says, *where)
    if house.painted_sq_ft is None:
        says = (
            f"the house is of {house.year}; house.painted_sq_ft is not given: how much "
            "painted surface the work disturbs"
        )
        return found(rule, "not checked", says, *where)
    if house.painted_sq_ft > lead.most_sq_ft:
        says = (
            f"{house.painted_sq_ft:g} sq ft of paint of before {lead.before} are "
            f"disturbed, over {lead.most_sq_ft:g}: the renovation rule applies, with "
            "its training and its containment, unless a test finds no lead"
        )
        return found(rule, "not checked", says, *where)
    says = (
        f"{house.painted_sq_ft:g} sq ft of old paint disturbed, not over "
        f"{lead.most_sq_ft:g}, as typed"
    )
    return found(rule, "passed", says, *where)


def _asbestos(job: Job) -> Finding:
    rule, house = Rule("asbestos", "asbestos"), job.house
    if house.asbestos:
        # Words can't be held against anything: whoever decides reads them.
        says = f"as typed: {house.asbestos}; for whoever decides to accept, or not"
        return found(rule, "not checked", says, "house.asbestos", TYPED)
    built = f"of a house of {house.year}" if house.year else "of any age"
    says = (
        "house.asbestos is not given: have old board, paper, embers and textured paint "
        f"{built} looked at by a qualified person before they are touched"
    )
    return found(rule, "not checked", says, "US CPSC document 453", READ)
