"""Review the hearth extension: in front of the new brick and beside the opening.

In:  `Job`, `Surround`, `Openings`, `Limits`.   Out: `Finding`s.
Frame: the job's lengths; the front is measured square to the finished face.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.wall.form import Surround
from shopdraw.review.findings import Finding, Limit, Rule, hold, in_words, mended
from shopdraw.review.limits import Limits
from shopdraw.review.opening import Openings

RULE = "hearth extension"
BURNS = (
    "the hearth was given as combustible, so there is no noncombustible extension to "
    "measure"
)
UNKNOWN = (
    "what the hearth is made of was not given: it must be noncombustible as far as it "
    "was measured"
)


def review_hearth(
    job: Job, surround: Surround, openings: Openings, limits: Limits
) -> tuple[Finding, ...]:
    """Hold the hearth extension, in front and at both sides, against the least asked.

    The new face takes its greatest build-out off the front. The sides are measured
    from the edge of the opening, as found or as finished, whichever lies further out;
    never from the outer edge of the brick leg.
    """
    findings = [
        _front(job, surround, openings, limits.hearth_front),
        _side(job, openings, limits.hearth_sides, "left"),
        _side(job, openings, limits.hearth_sides, "right"),
    ]
    if limits.hearth_raised is not None:
        findings.append(
            hold(
                Rule("hearth-raised", f"{RULE}, raised fire floor"),
                None,
                limits.hearth_raised,
                "how far the fire's floor stands above the hearth extension was not "
                "given: measure it",
                keys=("hearth.raised",),
            )
        )
    return tuple(findings)


def _front(job: Job, surround: Surround, openings: Openings, limit: Limit) -> Finding:
    found = job.hearth.front if job.hearth else None
    rule = Rule("hearth-front", f"{RULE}, front")
    if found is None:
        return hold(
            rule,
            None,
            limit,
            "how far the hearth reaches to the front was not given: measure from the "
            "wall as it is now to the front edge of the noncombustible extension",
            keys=("hearth.front",),
        )
    build_out, added = surround.build_out_most, riser_adds(job)
    says = (
        "measured from the finished face of the new brick, where it stands out "
        f"furthest, to the edge of the extension: {in_words(found, job.lengths)} from "
        f"the wall as found, less {in_words(build_out, job.lengths, up=True)}"
    )
    says += _riser_words(job, added) + _opening_words(job, openings)
    held = _of_material(job, rule, found + added - build_out, limit, says)
    return mended(held, job.lengths, lambda short: _extend(job, short, "to the front"))


def riser_adds(job: Job) -> Fraction:
    """Return how much a riser's brick and its thinnest bed add to a hearth's edges."""
    hearth = job.hearth
    if hearth is None or hearth.brick is None or hearth.brick.riser is None:
        return Fraction(0)
    return job.brick.thickness + job.setting_bed.least


def _riser_words(job: Job, added: Fraction) -> str:
    if not added:
        return ""
    return (
        f"; the brick of the riser add {in_words(added, job.lengths)} at least, where "
        "their bed is thinnest"
    )


def _extend(job: Job, short: Fraction, where: str) -> str:
    more = in_words(short, job.lengths, up=True)
    return f"extend the noncombustible hearth by {more} {where}"


def _side(job: Job, openings: Openings, limit: Limit, side: str) -> Finding:
    hearth, rule = job.hearth, Rule("hearth-side", f"{RULE}, {side}", side)
    found = None if hearth is None else hearth.left if side == "left" else hearth.right
    if found is None:
        return hold(
            rule,
            None,
            limit,
            f"how far the hearth reaches to the {side} was not given: measure from the "
            f"{side} edge of the opening to the end of the noncombustible extension",
            keys=(f"hearth.{side}",),
        )
    outer = openings.outer
    if side == "left":
        moved = openings.found.left - outer.left
    else:
        moved = outer.right - openings.found.right
    says = (
        f"measured from the finished {side} edge of the opening to the end of the "
        "extension"
    )
    if moved:
        far = in_words(moved, job.lengths, up=True)
        says += f"; the brick leaves that edge {far} further out than it was found"
    added = riser_adds(job)
    says += _riser_words(job, added)
    held = _of_material(job, rule, found + added - moved, limit, says)
    return mended(
        held, job.lengths, lambda short: _extend(job, short, f"to the {side}")
    )


def _of_material(
    job: Job, rule: Rule, measured: Fraction, limit: Limit, says: str
) -> Finding:
    """Hold as `hold` does, but never pass an extension that may burn."""
    material = job.hearth.material if job.hearth else "unknown"
    finding = hold(rule, measured, limit, says)
    if material == "noncombustible" or limit.figure is None:
        return finding
    if material == "combustible":
        return replace(finding, status="failed", measured=None, margin=None, says=BURNS)
    if finding.status == "failed":
        return finding
    unproved = hold(rule, measured, replace(limit, verdict=""), says)
    return replace(
        unproved,
        status="not checked",
        margin=None,
        says=f"{unproved.says}; {UNKNOWN}",
        keys=("hearth.material",),
    )


def _opening_words(job: Job, openings: Openings) -> str:
    """Say how the new work changes the opening; nothing where it does not."""
    found, finished = openings.found, openings.finished
    words = ""
    if finished.bottom:
        words += (
            f"; {in_words(finished.bottom, job.lengths)} of finish, still to be laid "
            "on the hearth, will leave the opening "
            f"{in_words(finished.top - finished.bottom, job.lengths)} high"
        )
    if found.area > finished.area:
        words += "; the opening as found is larger than the finished one, and governs"
    elif finished.area > found.area:
        words += "; the finished opening is larger than the one found, and governs"
    return words
