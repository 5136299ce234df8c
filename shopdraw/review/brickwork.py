"""Review the brickwork itself: bottom joint, bond rules, weight.

In:  `Job`, `Coursing`, `Layout`, `Rules`.   Out: `Finding`s.
Frame: the job's lengths; weight in pounds a square foot, and kg/m2 for a metric job.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.catalog.rules import Rules
from shopdraw.catalog.statuses import IN_JOB
from shopdraw.job.model import Job
from shopdraw.lengths import INCHES_PER_FOOT, MM_PER_INCH, foot_in
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.asbuilt import plan_bottom_course
from shopdraw.masonry.wall.bond_rules import SHAPE_RULES, BrokenRule, Least
from shopdraw.masonry.wall.layout import Layout
from shopdraw.review.findings import (
    Finding,
    Limit,
    Rule,
    found,
    hold,
    in_words,
)

KG_PER_LB = Fraction(45359237, 10**8)
"""The international pound, 1959, exactly."""
M_PER_FOOT = MM_PER_INCH * INCHES_PER_FOOT / 1000


def review_brickwork(
    job: Job, coursing: Coursing, layout: Layout, rules: Rules
) -> tuple[Finding, ...]:
    """Hold the brickwork against the job's own limits, and say how heavy it is."""
    return (
        _bottom_joint(job, coursing),
        *_bond_rule(layout, Rule("least-piece", "least piece"), job),
        *_bond_rule(layout, Rule("least-lap", "least lap"), job),
        *_shapes(job, layout),
        *_fillets(job, layout),
        _weight(job, rules),
        _unit_size(job, rules),
    )


def _bottom_joint(job: Job, coursing: Coursing) -> Finding:
    """Hold the bottom joint, where the hearth is lowest, against the widest allowed."""
    widest = "the widest bottom joint that the job allows"
    limit = Limit(job.joints.bottom.most, widest, IN_JOB)
    rule = Rule("bottom-joint", "bottom joint and hearth fall")
    joint = coursing.joints[0]
    hearth = job.hearth
    if hearth is None or "fall" not in hearth.model_fields_set:
        says = (
            "the fall of the hearth was not given: measure how much lower its lowest "
            "point under the brick lies than its highest"
        )
        return hold(rule, None, limit, says, keys=("hearth.fall",))
    bottom = plan_bottom_course(job)
    lowest = joint + bottom.in_joint
    says = (
        f"the bottom joint is {in_words(joint, job.lengths)} at the hearth's highest "
        f"point and {in_words(lowest, job.lengths, up=True)} at its lowest; the most "
        f"allowed is {in_words(job.joints.bottom.most, job.lengths)}"
    )
    if bottom.is_scribed:
        says += (
            f"; the hearth falls {in_words(hearth.fall, job.lengths, up=True)}, so the "
            "brick of the first course are scribed to it, "
            f"{in_words(bottom.height, job.lengths)} high at its highest point"
        )
    finding = hold(rule, lowest, limit, says, at="most")
    if finding.status == "passed":
        return finding
    over = in_words(lowest - job.joints.bottom.most, job.lengths, up=True)
    mend = (
        f"that is {over} more than a course scribed to half its height and the joint "
        "can take up: make the hearth good first, or allow a wider bottom joint"
    )
    return replace(finding, says=f"{says}; {mend}", keys=("joints.bottom.most",))


def _bond_rule(layout: Layout, rule: Rule, job: Job) -> tuple[Finding, ...]:
    """Return one finding where a rule is kept, and one for each time it is broken.

    In stack bond there is no lap to find.
    """
    bond, is_piece = job.bond, rule.key == "least-piece"
    allowed = f"the {rule.words} that the job allows"
    limit = Limit(bond.least_piece if is_piece else bond.least_lap, allowed, IN_JOB)
    broken = [each for each in layout.broken if each.rule == rule.words]
    if broken:
        return tuple(
            replace(
                hold(rule, each.measured, replace(limit, figure=each.least), each.why),
                status="failed",
                pieces=each.pieces,
            )
            for each in broken
        )
    measured = layout.least_piece if is_piece else layout.least_lap
    if measured is None:
        return ()
    limit = _allowed_there(limit, measured, is_piece=is_piece)
    length = in_words(measured.measured, job.lengths)
    # At a hidden wall less is allowed, so the shortest need not be the nearest.
    says = f"of stretchers and trimmed legs, {length} comes nearest to its limit"
    if not is_piece:
        says = f"of laps of neighbouring courses, {length} comes nearest to its limit"
    return (hold(rule, measured.measured, limit, says),)


def _allowed_there(limit: Limit, least: Least, *, is_piece: bool) -> Limit:
    """Return the limit that holds where the least was measured, and why it does."""
    if least.allowed == limit.figure:
        return limit
    why = "the bond's own lap less two joint steps, or half the least at a hidden wall"
    if is_piece:
        why = "three quarters of the least piece that the job allows, at a hidden wall"
    return replace(limit, figure=least.allowed, source=why)


def _shapes(job: Job, layout: Layout) -> Iterator[Finding]:
    """Say whether every piece can be sawn, and name the worst that can't."""
    bond, source = job.bond, "what the job allows of a sawn piece"
    broken = [each for each in layout.broken if each.rule in SHAPE_RULES]
    for each in broken:
        names = ", ".join(each.pieces)
        finding = found(
            Rule("piece-shape", each.rule),
            "failed",
            f"{names}: {_shape_figures(job, each)}; {each.why}: allow it, or change "
            "what the course meets there",
            source,
            IN_JOB,
        )
        yield replace(finding, pieces=each.pieces)
    if not broken:
        yield found(
            Rule("piece-shape", "pieces that can be sawn"),
            "passed",
            "no sawn piece is narrower than "
            f"{in_words(bond.least_width, job.lengths)}, has a corner sharper than "
            f"{bond.least_corner} degrees, or less face than {bond.least_area} % of a "
            "whole brick as high as its course",
            source,
            IN_JOB,
        )


def _shape_figures(job: Job, broken: BrokenRule) -> str:
    """Say what the worst piece measures, and what is allowed of it."""
    sizes = broken.measured, broken.least
    if broken.rule == "least width":
        measured, least = (in_words(size, job.lengths) for size in sizes)
        return f"{measured} wide where it is narrowest, at least {least} is allowed"
    if broken.rule == "sharpest corner":
        measured, least = (f"{float(size):.0f} degrees" for size in sizes)
        return f"its sharpest corner is {measured}, at least {least} is allowed"
    measured, least = (f"{float(size):.1f} sq {job.lengths}" for size in sizes)
    return f"{measured} of face, at least {least} is allowed"


def _fillets(job: Job, layout: Layout) -> Iterator[Finding]:
    """Hold the longest fillet of mortar where a course runs out on an arch."""
    if not layout.fillets:
        return
    longest = max(layout.fillets, key=lambda fillet: (fillet.length, -fillet.course))
    most = "the longest fillet that the job allows"
    limit = Limit(job.bond.longest_fillet, most, IN_JOB)
    length = in_words(longest.length, job.lengths, up=True)
    says = (
        f"where course {longest.course} runs out on the arch, {length} beside its last "
        "brick is filled with mortar"
    )
    rule = Rule("fillet", "mortar where a course runs out")
    finding = hold(rule, longest.length, limit, says, at="most")
    if finding.status == "failed":
        mend = "another rise or depth of the arch, or another height of the opening, "
        says = f"{finding.says}; {mend}lets the courses meet its back more steeply"
        finding = replace(finding, says=says, keys=("arch.rise", "arch.depth"))
    yield finding


def _weight(job: Job, rules: Rules) -> Finding:
    """Say what the brick weighs; a limit that is only recalled passes nothing."""
    veneer = rules.veneer
    inches = job.brick.thickness / (1 if job.lengths == "in" else MM_PER_INCH)
    pounds = inches / INCHES_PER_FOOT * veneer.density_lb_per_cu_ft
    weight = f"{float(pounds):.2f} lb per sq ft"
    most = f"{veneer.most_lb_per_sq_ft} lb per sq ft"
    if job.lengths == "mm":
        weight += f" ({float(pounds * KG_PER_LB / M_PER_FOOT**2):.1f} kg/m2)"
    compared = "is" if pounds > veneer.most_lb_per_sq_ft else "is not"
    return found(
        Rule("veneer-weight", "adhered veneer weight"),
        "not checked",
        f"the brick alone weighs up to {weight}, which {compared} over {most}; that "
        "limit is recalled, not looked up: look it up in the edition that applies",
        veneer.source,
        veneer.source_status,
    )


def _unit_size(job: Job, rules: Rules) -> Finding:
    """Say how large one brick is; limits that are only recalled pass nothing."""
    veneer, brick = rules.veneer, job.brick
    area = brick.length * brick.height
    over = [
        name
        for name, size, most in (
            ("thickness", brick.thickness, veneer.most_thickness),
            ("side", max(brick.length, brick.height), veneer.most_dimension),
            ("area", area, veneer.most_area),
        )
        if size > most
    ]
    which = "none of these limits"
    if over:
        which = f"these limits in {' and '.join(over)}"
    thick = in_words(veneer.most_thickness, job.lengths)
    side = in_words(veneer.most_dimension, job.lengths)
    feet = float(veneer.most_area / foot_in(job.lengths) ** 2)
    return found(
        Rule("unit-size", "adhered veneer unit size"),
        "not checked",
        f"one brick goes over {which}: {thick} thick, {side} on a side, {feet:g} sq ft "
        "of face; they are recalled, not looked up: look them up in the edition that "
        "applies",
        veneer.source,
        veneer.source_status,
    )
