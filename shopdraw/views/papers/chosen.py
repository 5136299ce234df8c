"""Say of one option what an owner asks: what it is, how it lands, cuts, price, days.

In:  `Solution`.   Out: facts, and what nobody may overlook.
Frame: lengths as the sheets print them; money and dates as on the quote.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.page import Fact
from shopdraw.job.model_head import STANDING
from shopdraw.lengths import format_length, format_made
from shopdraw.masonry.coursing.form import TargetMet
from shopdraw.quantities.estimate import Estimate
from shopdraw.quantities.money import format_money
from shopdraw.review.findings import in_words
from shopdraw.solution import Solution
from shopdraw.views.parts.phrases import listed
from shopdraw.views.parts.stamps import SEE, stamps

NO_PRICE = "PARTIAL: this is no price yet"
NOTHING = "not reckoned: the job gives no prices and hours"


def facts_of(solution: Solution) -> tuple[Fact, ...]:
    """Return what is said of an option, in the order that it is read."""
    return (
        ("brick", _brick(solution)),
        ("bond", _bond(solution)),
        ("lands", _lands(solution)),
        ("joints", _joints(solution)),
        ("cuts", _cuts(solution)),
        ("price", price_words(solution.estimate)),
        *_days(solution),
    )


def warns_of(solution: Solution) -> tuple[str, ...]:
    """Return what nobody may overlook: what fails, by name, and what is not checked."""
    failed = (
        f"FAILED: {plain(finding.rule.words)}"
        for finding in solution.findings
        if finding.status == "failed"
    )
    others = (x for x in stamps(solution) if not x.endswith(SEE))
    return (*failed, *others)


def _brick(solution: Solution) -> str:
    brick, lengths = solution.job.brick, solution.lengths
    faces = " x ".join(format_made(x, lengths) for x in (brick.length, brick.height))
    return plain(f"{brick.size or 'as measured'}, {faces}")


def _bond(solution: Solution) -> str:
    """Say the bond, and what stands over the opening."""
    opening = solution.job.opening
    head = opening.head
    if head == "running":
        over = "courses run on over the opening"
    elif head in STANDING:
        where = "round the face" if opening.head_over == "face" else "over the opening"
        over = f"{head}s {where}"
    else:
        over = f"a {head} over the opening"
    return f"{solution.job.bond.pattern} bond, {over}"


def _lands(solution: Solution) -> str:
    """Say which levels the courses land on, and which they miss by how much."""
    targets = solution.coursing.targets
    missed = [_missed(solution, each) for each in targets if not each.lands]
    on = [f"the {plain(each.name)}" for each in targets if each.lands]
    said = [f"on {listed(on)}"] if on else []
    return "; ".join((*said, *missed))


def _missed(solution: Solution, target: TargetMet) -> str:
    off = in_words(target.miss, solution.lengths, up=True)
    return f"MISSES the {plain(target.name)} by {off}"


def _joints(solution: Solution) -> str:
    """Say how wide the bed joints are, and the one on the hearth."""
    lengths, courses = solution.lengths, solution.coursing.courses
    bottom, *others = (course.bed_joint for course in courses)
    if not others:
        return f"at the bottom {format_length(bottom, lengths)}"
    least, most = (format_length(x, lengths) for x in (min(others), max(others)))
    span = least if least == most else f"{least} to {most}"
    low = format_length(bottom, lengths)
    return f"{span}, the bottom one {'too' if low == span else low}"


def _cuts(solution: Solution) -> str:
    """Say how many pieces are sawn, and in how many kinds."""
    pieces = solution.pieces
    sawn = [x for x in pieces if x.is_cut or x.is_trimmed or x.is_made]
    if not sawn:
        return f"none of {len(pieces)} pieces"
    kinds = len({piece.mark for piece in sawn})
    kind = "kind" if kinds == 1 else "kinds"
    return f"{len(sawn)} of {len(pieces)} pieces are sawn, in {kinds} {kind}"


def price_words(estimate: Estimate) -> str:
    """Say the price, by the rules of the quote: none while a line is not reckoned."""
    if estimate.is_empty:
        return NOTHING
    if not estimate.is_partial:
        return f"{format_money(estimate.total)} {estimate.currency}".rstrip()
    lacking = ", ".join(line.what for line in estimate.not_reckoned)
    return f"{NO_PRICE}. Not reckoned: {lacking}"


def _days(solution: Solution) -> Iterator[Fact]:
    """Yield from which day on each thing may be done."""
    steps = [
        f"{step.what}: {step.day.isoformat() if step.day else step.wait}"
        for step in solution.schedule
    ]
    yield "dates", "; ".join(steps)
