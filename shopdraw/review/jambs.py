"""Review the jambs that brick turns into: where it ends, and their angle.

In:  `Job`.   Out: `Finding`s; none where the brick stops at the jambs.
Frame: the job's lengths; depths are behind the finished face, square to it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, degrees

from shopdraw.catalog.statuses import COMMON
from shopdraw.job.model import Job
from shopdraw.job.model_face import SIDES
from shopdraw.job.turning import SQUARE, cos_sin, square_depth
from shopdraw.lengths import shown_step, taped_length, typed_length
from shopdraw.review.findings import Finding, Limit, Rule, found, hold, mended


def review_jambs(job: Job) -> Iterator[Finding]:
    """Hold the brick that turns into the jambs: it stops outside the firebox."""
    depth, splay = job.opening.jamb_return, job.opening.splayed
    if depth is None:
        return
    limit = Limit(
        depth if not splay else _deepest(job, depth),
        "nothing is adhered inside the firebox",
        COMMON,
    )
    says = (
        "measured from the finished face back to where the firebox begins, and held "
        "against how far the brick turns into the jambs"
    )
    if splay:
        deep = taped_length(square_depth(depth, splay), job.lengths)
        more = taped_length(_corner_behind(job), job.lengths, "up")
        says = (
            "measured from the finished face back to where the firebox begins; the "
            f"brick reaches {deep} back, and {more} more at the back corner of brick "
            "and bed, because its ends are sawn square"
        )
    if job.opening.firebox is None:
        says = (
            "where the firebox begins was not given: measure back to it from the "
            "finished face"
        )
    rule = Rule("jamb-return", "brick in the jambs stops outside the firebox")
    finding = hold(rule, job.opening.firebox, limit, says, keys=("opening.firebox",))
    yield mended(finding, job.lengths, lambda short: _shorter(job, short))
    if splay:
        yield _angle(job, depth)


def review_corners(job: Job) -> Iterator[Finding]:
    """Ask for a bevel on outside corners that are not square, side by side."""
    for side in SIDES:
        turns = job.face.turns(side)
        if all(turn == SQUARE for turn in turns):
            continue
        words = " and ".join(f"{float(turn):g}" for turn in turns)
        says = (
            f"at the {side} the brick is taken to turn by {words} degrees, and the "
            "corner units are mitred to that: hold a bevel to the wall as found before "
            "the fabricator saws"
        )
        for face in job.face.beside(side):
            key = f"face.{face.key}_depth"
            if isinstance(job.at(key), Fraction) and face.splay:
                says += f"; {_off(job, face.along, face.splay, face.name)}"
        rule = Rule("corner-angle", f"angle of the corners at the {side}", side)
        yield found(rule, "not checked", says, "the walls as found", COMMON)


def _off(job: Job, along: Fraction, splay: Fraction, name: str) -> str:
    """Say by how much an angle is off whose depth is a mark of the tape off."""
    step = shown_step(job.lengths)
    off = float(step) / float(along * cos_sin(abs(splay))[1])
    return (
        f"the depth of a {name} that is {typed_length(step, job.lengths)} off turns it "
        f"by {degrees(off):.1f} degrees"
    )


def _deepest(job: Job, along: Fraction) -> Fraction:
    """Return how far behind the face anything reaches that is adhered to a jamb.

    Up to the next mark of a tape.
    """
    step = shown_step(job.lengths)
    deep = square_depth(along, job.opening.splayed) + _corner_behind(job)
    return ceil(deep / step) * step


def _corner_behind(job: Job) -> Fraction:
    """Return how much deeper the back of a splayed jamb's end is than its face."""
    thick = job.setting_bed.most + job.brick.thickness
    return thick * cos_sin(job.opening.splayed)[1]


def _shorter(job: Job, short: Fraction) -> str:
    along = short / square_depth(Fraction(1), job.opening.splayed)
    return (
        "end the brick in the jambs "
        f"{taped_length(along, job.lengths, 'up')} nearer the face"
    )


def _angle(job: Job, along: Fraction) -> Finding:
    """Ask for a bevel on both jambs: their corner units are mitred before they lie."""
    splay = job.opening.splayed
    says = (
        f"both jambs are taken to splay by {float(splay):g} degrees, and the corner "
        "units are mitred to that: hold a bevel to both before the fabricator saws"
    )
    if job.opening.jamb_depth is not None:
        step = shown_step(job.lengths)
        off = float(step) / float(along * cos_sin(splay)[1])
        says += (
            f"; a depth that is {typed_length(step, job.lengths)} off turns it by "
            f"{degrees(off):.1f} degrees"
        )
    rule = Rule("jamb-splay", "angle of the splayed jambs")
    return found(rule, "not checked", says, "the jambs as found", COMMON)
