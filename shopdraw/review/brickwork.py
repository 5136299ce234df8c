"""Review the brickwork itself: bottom joint, bond rules, weight.

In:  `Job`, `Coursing`, `Layout`, `Rules`.   Out: `Finding`s.
Frame: the job's lengths; weight in pounds a square foot, and kg/m2 for a metric job.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from shopdraw.catalog.rules import Rules
from shopdraw.catalog.statuses import COMMON, IN_JOB
from shopdraw.job.model import Job
from shopdraw.lengths import INCHES_PER_FOOT, MM_PER_INCH, foot_in
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.asbuilt import plan_bottom_course
from shopdraw.masonry.wall.layout import Layout
from shopdraw.review.findings import Finding, Limit, Rule, found, hold, in_words

KG_PER_LB = Fraction(45359237, 10**8)
"""The international pound, 1959, exactly."""
M_PER_FOOT = MM_PER_INCH * INCHES_PER_FOOT / 1000


def review_brickwork(
    job: Job, coursing: Coursing, layout: Layout, rules: Rules
) -> tuple[Finding, ...]:
    """Hold the brickwork against the job's own limits, and say what it weighs."""
    return (
        _bottom_joint(job, coursing),
        *_bond_rule(layout, Rule("least-piece", "least piece"), job),
        *_bond_rule(layout, Rule("least-lap", "least lap"), job),
        _weight(job, rules),
        _unit_size(job, rules),
        *_turns_in(job),
    )


def _bottom_joint(job: Job, coursing: Coursing) -> Finding:
    """The bottom joint is laid at the hearth's highest point and takes up its fall."""
    limit = Limit(job.joints.bottom.most, "joints.bottom.most", IN_JOB)
    rule = Rule("bottom-joint", "bottom joint and hearth fall")
    joint = coursing.joints[0]
    hearth = job.hearth
    if hearth is None or "fall" not in hearth.model_fields_set:
        says = (
            "hearth.fall is not given: measure from the highest to the lowest point of "
            "the hearth under the brick"
        )
        return hold(rule, None, limit, says)
    bottom = plan_bottom_course(job)
    lowest = joint + bottom.in_joint
    says = (
        f"bottom joint {in_words(joint, job.lengths)} at the hearth's highest point, "
        f"{in_words(lowest, job.lengths, up=True)} at its lowest, most "
        f"{in_words(job.joints.bottom.most, job.lengths)}"
    )
    if bottom.is_scribed:
        says += (
            f"; the hearth falls {in_words(hearth.fall, job.lengths, up=True)}, so "
            f"that the first course is scribed, {in_words(bottom.height, job.lengths)} "
            "high at the highest point"
        )
    finding = hold(rule, lowest, limit, says, at="most")
    if finding.status == "passed":
        return finding
    over = in_words(lowest - job.joints.bottom.most, job.lengths, up=True)
    mend = (
        f"{over} too far out for scribing a course to half its height and for the "
        "joint: make the hearth good first, or widen the range"
    )
    return replace(finding, says=f"{says}; {mend}")


def _turns_in(job: Job) -> tuple[Finding, ...]:
    """What turns into the jambs stops outside the firebox."""
    depth = job.opening.jamb_return
    if depth is None:
        return ()
    limit = Limit(
        depth,
        "nothing is adhered inside the firebox",
        COMMON,
    )
    says = (
        "from the finished face back to where the firebox begins, against how far the "
        "brick turns into the jambs"
    )
    if job.opening.firebox is None:
        says = "opening.firebox is not given: measure back from the finished face to it"
    rule = Rule("jamb-return", "return stops outside the firebox")
    return (hold(rule, job.opening.firebox, limit, says),)


def _bond_rule(layout: Layout, rule: Rule, job: Job) -> tuple[Finding, ...]:
    """One finding where the rule is kept, one for every breach, none in stack bond."""
    bond, is_piece = job.bond, rule.key == "least-piece"
    least = bond.least_piece if is_piece else bond.least_lap
    limit = Limit(least, f"bond.{rule.words.replace(' ', '_')}", IN_JOB)
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
    says = f"the least found on the wall, {in_words(measured, job.lengths)}"
    return (hold(rule, measured, limit, says),)


def _weight(job: Job, rules: Rules) -> Finding:
    """Say what the units weigh; a limit that is only remembered passes nothing."""
    veneer = rules.veneer
    inches = job.brick.thickness / (1 if job.lengths == "in" else MM_PER_INCH)
    pounds = inches / INCHES_PER_FOOT * veneer.density_lb_per_cu_ft
    weight = f"{float(pounds):.2f} lb per sq ft"
    most = f"{veneer.most_lb_per_sq_ft} lb per sq ft"
    if job.lengths == "mm":
        weight += f" ({float(pounds * KG_PER_LB / M_PER_FOOT**2):.1f} kg/m2)"
    compared = "over" if pounds > veneer.most_lb_per_sq_ft else "not over"
    return found(
        Rule("veneer-weight", "adhered veneer weight"),
        "not checked",
        f"the units alone weigh up to {weight}, {compared} the {most} remembered "
        "as the prescriptive limit: look it up in the edition that applies",
        veneer.source,
        veneer.source_status,
    )


def _unit_size(job: Job, rules: Rules) -> Finding:
    """Say how large a unit is; limits that are only remembered pass nothing."""
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
    compared = f"over in {' and '.join(over)}" if over else "not over"
    thick = in_words(veneer.most_thickness, job.lengths)
    side = in_words(veneer.most_dimension, job.lengths)
    feet = float(veneer.most_area / foot_in(job.lengths) ** 2)
    return found(
        Rule("unit-size", "adhered veneer unit size"),
        "not checked",
        f"a unit is {compared} what is remembered as the prescriptive limits, "
        f"{thick} thick, {side} a side, {feet:g} sq ft of "
        "face: look them up in the edition that applies",
        veneer.source,
        veneer.source_status,
    )
