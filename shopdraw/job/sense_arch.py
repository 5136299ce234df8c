"""Say in plain words what in an arch can't be built.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where it can be built.
Frame: the job's lengths, as the person measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import sin, tan

from shopdraw.job.arching import DEEPEST, jack_skewback, segmental_skewback
from shopdraw.job.complaint import Complaint, inches, legs_of, or_less, or_more, said
from shopdraw.job.model import Job
from shopdraw.job.model_head import ARCHES, ArchTable

NONE = Fraction(0)
WIDEST_KEY = 3
"""A keystone is no wider than the span over this (common practice, no source)."""


def complaints_of_arch(job: Job) -> Iterator[Complaint]:
    """Complain of an arch that can't be built."""
    head, arch = job.opening.head, job.arch
    if head not in ARCHES:
        usual = ArchTable()
        for name in ArchTable.model_fields:
            if getattr(arch, name) != getattr(usual, name):
                wanted = f'is for an arch only, and opening.head is "{head}"'
                yield Complaint(f"arch.{name}", wanted)
        return
    yield from _jack(job) if head == "jack arch" else _of_a_circle(job)
    yield from _rings(job)
    yield from _depth(job)
    yield from _key(job)
    crown = job.opening.height + job.arch_rise + job.arch_depth
    crown += NONE if arch.key is None else arch.key.rises
    if crown > job.face.height:
        wanted = (
            f"puts the top of the arch at {said(job, crown)}, above the top of the "
            f"face, {said(job, job.face.height)}"
        )
        yield Complaint("opening.height", wanted)
    yield from _skewbacks(job)


def _jack(job: Job) -> Iterator[Complaint]:
    arch = job.arch
    if arch.rise is not None:
        wanted = "belongs to a segmental arch; a jack arch has arch.camber"
        yield Complaint("arch.rise", wanted)
    if arch.voussoirs == "whole":
        wanted = (
            "is not possible in a jack arch: its top is level, so its voussoirs are "
            'sawn; write "best" or "cut"'
        )
        yield Complaint("arch.voussoirs", wanted)
    if arch.rings > 1:
        wanted = (
            "can't be two in a jack arch: it is of brick on end or of one ring of "
            "rowlocks; write 1"
        )
        yield Complaint("arch.rings", wanted)
    most = job.opening.width / 24
    if arch.camber is not None and arch.camber > most:
        wanted = (
            f"is too much for a jack arch; write {or_less(job, most)}, or make "
            'opening.head a "segmental arch"'
        )
        yield Complaint("arch.camber", wanted)


def _of_a_circle(job: Job) -> Iterator[Complaint]:
    arch, span = job.arch, job.opening.width
    if arch.camber is not None:
        wanted = f"belongs to a jack arch; leave it out of a {job.opening.head}"
        yield Complaint("arch.camber", wanted)
    if job.opening.head == "semicircular arch":
        if arch.rise is not None:
            wanted = (
                "can't be chosen in a semicircular arch: it rises half its span, "
                f"{said(job, job.arch_rise)}; leave it out, or make opening.head a "
                '"segmental arch"'
            )
            yield Complaint("arch.rise", wanted)
    elif arch.rise is None:
        wanted = (
            "is missing; measure from the spring line up to the crown of the soffit"
        )
        yield Complaint("arch.rise", wanted)
    elif not span / 24 <= arch.rise < span / 2:
        wanted = (
            f"makes no segmental arch over a span of {said(job, span)}; write from "
            f"{said(job, span / 24)} to less than {said(job, span / 2)}"
        )
        yield Complaint("arch.rise", wanted)


def _rings(job: Job) -> Iterator[Complaint]:
    arch = job.arch
    if arch.rings > 1 and arch.made_of != "rowlocks":
        wanted = 'is for arch.made_of = "rowlocks" only; brick on end make one ring'
        yield Complaint("arch.rings", wanted)


def _depth(job: Job) -> Iterator[Complaint]:
    depth, brick, rings = job.arch_depth, job.brick, job.arch.rings
    most = brick.length * DEEPEST
    least = rings * brick.height + (rings - 1) * job.joints.bed.preferred
    if rings > 1:
        most = rings * brick.length
    if depth > most:
        wanted = f"is deeper than two brick can reach; write {or_less(job, most)}"
        yield Complaint("arch.depth", wanted)
    elif depth < least:
        wanted = f"is less than the brick's height; write {or_more(job, least)}"
        yield Complaint("arch.depth", wanted)


def _key(job: Job) -> Iterator[Complaint]:
    key, brick = job.arch.key, job.brick
    if key is None:
        return
    most = job.arch_span / WIDEST_KEY
    if not brick.height <= key.width <= most:
        wanted = (
            f"makes no keystone over a span of {said(job, job.arch_span)}; write from "
            f"{said(job, brick.height)} to {said(job, most)}"
        )
        yield Complaint("arch.key.width", wanted)
    if key.rises > brick.length:
        wanted = (
            "goes further up past the back than a brick is long; write "
            f"{said(job, brick.length)} or less"
        )
        yield Complaint("arch.key.rises", wanted)
    if job.arch.number == "even":
        wanted = (
            "can't be even where there is a keystone, which stands on the centre line "
            'among as many voussoirs on either side; write "odd"'
        )
        yield Complaint("arch.number", wanted)


def _skewbacks(job: Job) -> Iterator[Complaint]:
    """Hold how far the skewbacks reach over the legs against the narrower leg."""
    span, rise, depth = float(job.arch_span), job.arch_rise, job.arch_depth
    deep, joint = float(depth), float(job.joints.bed.preferred)
    if job.opening.head == "jack arch":
        reach = deep * tan(jack_skewback(span, job.lengths))
    elif rise:
        reach = (deep + joint) * sin(segmental_skewback(span, float(rise)))
    else:
        return
    least, stays = min(legs_of(job)) - job.edges.jambs.width, inches(job, Fraction(1))
    if least > 0 and reach > float(least - stays):
        wanted = (
            f"makes skewbacks that reach {reach:.2f} {job.lengths} over a leg "
            f"{said(job, least)} wide; at least {said(job, stays)} of the leg must "
            "stay beside them"
        )
        yield Complaint("arch.depth", wanted, said(job, depth))
