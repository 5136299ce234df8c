"""Review combustible trim: how near the opening, and how far it stands out.

In:  `Job`, `Surround`, `Openings`, `Limits`, `Rules`.   Out: `Finding`s.
Frame: trim is given from the finished left edge of the front and the datum, and is
carried onto the developed plane; a projection is out from the finished brick face.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from shopdraw.catalog.rules import Rules
from shopdraw.catalog.statuses import TYPED
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.masonry.wall.form import Surround
from shopdraw.review.findings import (
    Finding,
    Key,
    Limit,
    Rule,
    found,
    hold,
    in_words,
    mended,
)
from shopdraw.review.limits import Limits
from shopdraw.review.opening import Gap, Openings, Rectangle

RULE = "combustible trim"
WORST_FIRST = {"failed": 0, "not checked": 1, "passed": 2}


@dataclass(frozen=True)
class ProfileStep:
    """One step of a piece's profile: where it lies, and how far it stands out."""

    gap: Gap
    projection: Fraction | None


def review_trim(
    job: Job, surround: Surround, openings: Openings, limits: Limits, rules: Rules
) -> tuple[Finding, ...]:
    """Hold each piece of trim against the least distance and the most projection."""
    if not job.trim:
        says = (
            "no trim was listed: list every combustible piece near the opening, "
            "whether it is there now or still to come"
        )
        limit = replace(limits.trim_distance, why="", keys=())
        return (hold(Rule("trim", RULE), None, limit, says, keys=("[[trim]]",)),)
    findings: list[Finding] = []
    for place, trim in enumerate(job.trim, start=1):
        if _is_combustible(trim, rules):
            steps = _steps(trim, surround, openings)
            findings.append(_distance(job, place, steps, limits.trim_distance))
            findings.append(_projection(job, surround, place, steps, limits))
        else:
            findings.append(_not_held(place, trim, limits.trim_distance))
    return tuple(findings)


def _is_combustible(trim: TrimTable, rules: Rules) -> bool:
    """Whether it may burn: wood does, whatever is typed, and so does the unknown."""
    words = re.findall(r"[a-z]+", trim.material.lower())
    if any(word in rules.wood for word in words):
        return True
    if trim.combustible is not None:
        return trim.combustible
    return " ".join(words) not in rules.noncombustible


def _not_held(place: int, trim: TrimTable, limit: Limit) -> Finding:
    what = trim.material or "its material"
    return found(
        _rule("distance", place, trim),
        "passed",
        f"{what} counts as noncombustible, as typed, so the rule does not apply",
        limit.source,
        TYPED,
    )


def _steps(
    trim: TrimTable, surround: Surround, openings: Openings
) -> list[ProfileStep]:
    """Lay out the profile, step by step, from its edge nearest the opening.

    The last step takes whatever the others leave of the rectangle.
    """
    outer, x = openings.outer, surround.front.left + trim.left
    whole = Rectangle(x, x + trim.width, trim.bottom, trim.bottom + trim.height)
    start, steps = Fraction(0), []
    for reach, projection in _profile(trim):
        gap = openings.gap_to(_from_its_edge(whole, outer, start))
        steps.append(ProfileStep(gap, projection))
        start += reach
    return steps


def _profile(trim: TrimTable) -> list[tuple[Fraction, Fraction | None]]:
    if trim.steps:
        return [(step.reach, step.projection) for step in trim.steps]
    return [(Fraction(0), trim.projection)]


def _from_its_edge(whole: Rectangle, outer: Rectangle, start: Fraction) -> Rectangle:
    """Cut `start` off a rectangle, on the side that faces the opening."""
    beside = max(whole.left - outer.right, outer.left - whole.right)
    if whole.bottom - outer.top >= beside:
        return replace(whole, bottom=whole.bottom + start)
    if whole.left >= outer.right:
        return replace(whole, left=whole.left + start)
    return replace(whole, right=whole.right - start)


def _rule(what: Literal["distance", "projection"], place: int, trim: TrimTable) -> Rule:
    """Return one of the two rules that are held against a piece of trim."""
    key: Key = "trim-distance" if what == "distance" else "trim-projection"
    return Rule(key, f"{RULE}, {what}: {trim.name}", place)


def _distance(job: Job, place: int, steps: list[ProfileStep], limit: Limit) -> Finding:
    trim = job.trim[place - 1]
    material = trim.material or "material not given"
    says = f"measured the shortest way from the opening to the {trim.name} ({material})"
    if limit.figure is not None and not limit.verdict:
        least = in_words(limit.figure, job.lengths, up=True)
        says += f"; the least allowed is {least}"
    nearest = min(step.gap.shortest for step in steps)
    held = hold(_rule("distance", place, trim), nearest, limit, says)
    return mended(held, job.lengths, lambda short: _away(job, trim, short))


def _away(job: Job, trim: TrimTable, short: Fraction) -> str:
    return (
        f"move the {trim.name} {in_words(short, job.lengths, up=True)} further from "
        "the opening"
    )


def _projection(
    job: Job, surround: Surround, place: int, steps: list[ProfileStep], limits: Limits
) -> Finding:
    """Return the worst step's finding: failed, then not checked, then by margin."""
    rule = _rule("projection", place, job.trim[place - 1])
    findings = []
    for step in steps:
        limit = limits.trim_projection.at(step.gap, step.projection)
        distance = in_words(step.gap.shortest, job.lengths)
        if step.projection is None:
            says = (
                f"{distance} from the opening; how far it stands out from the finished "
                "brick face was not given: measure it"
            )
        else:
            out = in_words(step.projection, job.lengths, up=True)
            from_wall = in_words(
                step.projection + surround.build_out, job.lengths, up=True
            )
            says = (
                f"{distance} from the opening, {out} out from the finished brick face "
                f"({from_wall} from the wall as found)"
            )
        key = f"trim[{place}].projection"
        held = hold(rule, step.projection, limit, says, at="most", keys=(key,))
        findings.append(_with_mends(job, job.trim[place - 1], held))
    return min(findings, key=_badness)


def _with_mends(job: Job, trim: TrimTable, finding: Finding) -> Finding:
    """Say how much to take off what stands out too far."""
    out, limit = finding.measured, finding.limit
    if out is None or limit is None:
        return finding

    def less(short: Fraction) -> str:
        if short >= out:
            return f"move the {trim.name} to where the rule sets no limit"
        to = in_words(out - short, job.lengths)
        return f"let the {trim.name} stand out no more than {to} from the brick"

    return mended(finding, job.lengths, less)


def _badness(finding: Finding) -> tuple[int, bool, Fraction]:
    """Return what sorts findings worst first; one without a limit comes last."""
    margin = finding.margin
    return (WORST_FIRST[finding.status], margin is None, margin or Fraction(0))
