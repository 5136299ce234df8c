"""Review a hearth laid in brick: the firebox's line, its levels, its pieces, its riser.

In:  `Job`, `BrickHearth`.   Out: `Finding`s; none where the job has no such hearth.
Frame: the job's lengths.

No rule for borders and patterns of a hearth is published: what is asked of the pieces
is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.catalog.statuses import COMMON, IN_JOB
from shopdraw.job.model import Job
from shopdraw.job.model_hearth import HearthBrickTable
from shopdraw.masonry.hearth.form import BrickHearth, Riser
from shopdraw.masonry.hearth.proof import pieces_on_top
from shopdraw.masonry.panels.choosing import asked_of
from shopdraw.masonry.panels.judging import WorstPiece, worst_piece
from shopdraw.review.findings import Finding, Limit, Rule, found, hold, in_words

FIREBOX = "nothing is adhered inside the firebox"
CODE = "the local code"


def review_brick_hearth(job: Job, hearth: BrickHearth | None) -> Iterator[Finding]:
    """Hold a hearth of brick against the firebox's line, the datum and the saw."""
    if hearth is None or job.hearth is None or job.hearth.brick is None:
        return
    brick = job.hearth.brick
    yield _firebox(job, hearth)
    yield from _strip(job, hearth)
    yield _bed(job, brick, hearth)
    yield _fire_floor(job, brick, hearth)
    yield _pieces(job, hearth)
    yield from _left_out(job, hearth)
    if hearth.riser is not None:
        yield _riser(job, hearth.riser)
        yield from _riser_bond(hearth)
    yield found(
        Rule("hearth-support", "what carries the hearth, and how thick it is"),
        "not checked",
        "the thickness of what does not burn under the hearth extension, and what "
        "carries it, are the local code's: have them looked at before brick is laid "
        "on it",
        CODE,
        "not read",
    )


def _firebox(job: Job, hearth: BrickHearth) -> Finding:
    """Hold how far back brick goes against where the firebox begins."""
    ground, rule = (
        hearth.ground,
        Rule("hearth-firebox", "hearth's brick and the firebox"),
    )
    back = ground.back - ground.face
    says = (
        "the hearth's brick reach "
        f"{in_words(back, job.lengths, up=True)} behind the finished face"
    )
    if ground.firebox is None:
        says += (
            ", to the wall as found; where the firebox begins was not given: measure "
            "back to it from the finished face, and see that it is not before the "
            "wall as found"
        )
    limit = Limit(back, FIREBOX, COMMON)
    line = None if ground.firebox is None else ground.firebox - ground.face
    return hold(rule, line, limit, says, keys=("opening.firebox",))


def _strip(job: Job, hearth: BrickHearth) -> Iterator[Finding]:
    """Hold what is left between the brick and the firebox against the widest joint."""
    ground, brick = hearth.ground, job.hearth.brick if job.hearth else None
    if ground.firebox is None or brick is None or brick.back is not None:
        return
    left = ground.firebox - ground.back
    limit = Limit(job.joints.head.most, "the widest joint that the job allows", IN_JOB)
    says = (
        f"{in_words(left, job.lengths, up=True)} are left between the hearth's brick "
        "and the line where the firebox begins"
    )
    if left > job.joints.head.most:
        says += "; that is too little for a row of brick: fill it with firebrick"
    rule = Rule("hearth-strip", "joint before the firebox")
    yield hold(rule, left, limit, says, at="most")


def _bed(job: Job, brick: HearthBrickTable, hearth: BrickHearth) -> Finding:
    """Hold the bed under the hearth's brick against what the job allows of a bed."""
    rule, bed = Rule("hearth-bed", "bed under the hearth's brick"), job.setting_bed
    ground = hearth.ground
    drop = in_words(ground.drop, job.lengths)
    limit = Limit(bed.most, "the thickest bed that the job allows", IN_JOB)
    if brick.slab is None:
        says = (
            f"the brick and a mean bed take {drop}; how far the slab lies below the "
            "datum was not given: measure it at the slab's highest point"
        )
        return hold(rule, None, limit, says, keys=("hearth.brick.slab",))
    says = (
        f"the slab lies {drop} below the datum, and brick "
        f"{in_words(ground.thickness, job.lengths)} thick leave a bed of "
        f"{in_words(ground.bed, job.lengths)}; the job allows "
        f"{in_words(bed.least, job.lengths, up=True)} to "
        f"{in_words(bed.most, job.lengths)}"
    )
    if ground.bed < bed.least:
        thin = Limit(bed.least, "the thinnest bed that the job allows", IN_JOB)
        return hold(Rule("hearth-bed-thin", rule.words), ground.bed, thin, says)
    return hold(rule, ground.bed, limit, says, at="most")


def _fire_floor(job: Job, brick: HearthBrickTable, hearth: BrickHearth) -> Finding:
    """Hold the floor of the fire, as the brick leave it, against what was planned."""
    rule = Rule("hearth-fire-floor", "fire's floor and finished hearth")
    raised = job.hearth.raised if job.hearth else None
    limit = Limit(
        raised,
        "how far the fire's floor is to stand above the hearth",
        IN_JOB,
        keys=() if raised is not None else ("hearth.raised",),
    )
    if brick.fire_floor is None:
        says = (
            "how far the fire's floor lies above the slab was not given: measure it, "
            "because the brick raise the hearth and not that floor"
        )
        return hold(rule, None, limit, says, keys=("hearth.brick.fire_floor",))
    left = brick.fire_floor - hearth.ground.drop
    where = "flush with the finished hearth"
    if left:
        far = in_words(abs(left), job.lengths)
        where = f"{far} {'above' if left > 0 else 'below'} the finished hearth"
    says = f"the fire's floor comes out {where}"
    if raised is not None and left > raised:
        # Higher than was planned: the other figures of the job are not right then.
        high = Rule("hearth-fire-floor-high", rule.words)
        return hold(high, left, limit, says, at="most")
    return hold(rule, left, limit, says)


def _pieces(job: Job, hearth: BrickHearth) -> Finding:
    """Hold the pieces of pattern and border against what can be sawn."""
    rule = Rule("hearth-pieces", "pieces of the hearth")
    limit = Limit(
        job.bond.least_width, "the narrowest piece that the job allows", IN_JOB
    )
    worst, short = worst_piece(job, pieces_on_top(hearth))
    if not short:
        says = (
            "the narrowest piece of the hearth is "
            f"{in_words(measured_width(worst), job.lengths)}, and corners and face of "
            "every one are as the job allows"
        )
        return hold(rule, measured_width(worst), limit, says)
    says = (
        f"{len(short)} pieces of the hearth fall short of what can be sawn; the worst "
        f"is {worst.id}: {say_shortcoming(job, worst)}"
    )
    finding = hold(rule, measured_width(worst), limit, says)
    return replace(finding, status="failed", margin=None, pieces=short)


def measured_width(worst: WorstPiece) -> Fraction:
    """Return how narrow a piece is, as a length that can be printed."""
    return Fraction(worst.width).limit_denominator(10_000)


def say_shortcoming(job: Job, worst: WorstPiece) -> str:
    """Say what a piece falls short of, each with its figure and its limit."""
    face = job.brick.length * job.brick.height
    words = []
    for each in worst.short:
        got, least = each.least.measured, each.least.allowed
        if each.rule == "sharpest corner":
            says = f"a corner of {float(got):.0f} degrees, and {float(least):g}"
        elif each.rule == "least area":
            shares = (float(100 * x / face) for x in (got, least))
            says = "{:.0f} % of a brick's face, and {:.0f} %".format(*shares)
        else:
            along = "long" if each.rule == "least piece" else "wide"
            sizes = (in_words(x, job.lengths) for x in (got, least))
            says = f" {along}, and ".join(sizes)
        words.append(f"{says} is the least")
    return "; ".join(words)


def _left_out(job: Job, hearth: BrickHearth) -> Iterator[Finding]:
    """Say how much mortar takes where no piece can be sawn."""
    if not hearth.left_out:
        return
    widest = max(each.width for each in hearth.left_out)
    limit = Limit(asked_of(job).left_out, "too narrow for a piece", COMMON)
    count = len(hearth.left_out)
    says = (
        f"{count} place{'s' if count > 1 else ''} at the pattern's edge "
        f"{'are' if count > 1 else 'is'} left to mortar, the widest "
        f"{in_words(widest, job.lengths, up=True)}"
    )
    rule = Rule("hearth-left-out", "places too narrow for a piece")
    yield hold(rule, widest, limit, says, at="most")


def _riser(job: Job, riser: Riser) -> Finding:
    """Hold the top of the riser against the top of the hearth."""
    top = riser.coursing.targets[1]
    limit = Limit(top.tolerance, "half a joint step", IN_JOB)
    says = (
        f"the riser is to be {in_words(riser.height, job.lengths)} high, and its "
        f"{len(riser.coursing.courses)} courses come to "
        f"{in_words(top.got, job.lengths)}"
    )
    rule = Rule("hearth-riser", "riser lands on the hearth's top")
    finding = hold(rule, top.miss, limit, says, at="most")
    if finding.status == "passed":
        return finding
    return replace(
        finding,
        says=f"{finding.says}; move the hearth up or down, or allow other joints",
        keys=("hearth.brick.riser",),
    )


def _riser_bond(hearth: BrickHearth) -> Iterator[Finding]:
    """Return a finding for each bond rule that the riser breaks."""
    for each in hearth.layout.broken:
        limit = Limit(each.least, f"the {each.rule} that the job allows", IN_JOB)
        rule = Rule("hearth-riser-bond", f"riser, {each.rule}", each.rule)
        finding = hold(rule, each.measured, limit, each.why)
        yield replace(finding, status="failed", pieces=each.pieces)
