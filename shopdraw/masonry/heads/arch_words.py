"""Say how an arch is set out, and what was changed for it.

In:  `Job`, `Arch`.   Out: sentences.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from shopdraw.job.arching import jack_reach
from shopdraw.job.model import Job
from shopdraw.lengths import format_length, format_made
from shopdraw.masonry.wall.arch import Arch

Say = Callable[[Fraction], str]


def say_arch(job: Job, arch: Arch) -> Iterator[str]:
    """Yield how the arch is set out, a sentence each."""

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    rises = "camber" if arch.kind == "jack arch" else "rise"
    springs = f"skewbacks {arch.skewback_deg:.1f} degrees from plumb"
    if arch.kind == "semicircular arch":
        springs = "it springs from level beds"
    yield (
        f"{arch.kind.capitalize()}: span {say(arch.span)}, {rises} {say(arch.rise)}, "
        f"depth {say(arch.depth)}; {springs}. {_made_of(job, arch)}"
    )
    yield from _in_two(job, arch, say)
    yield from _keystone(job, say)
    yield from _over(job, arch, say)


def _made_of(job: Job, arch: Arch) -> str:
    """Say what it is of: how many voussoirs, how they are sawn, their joints."""
    kind = "whole brick with tapered joints" if arch.are_whole else "sawn tapered"
    ends = [x for joint in arch.joints for x in (joint.at_soffit, joint.at_back)]
    least, most = (
        format_made(Fraction(x).limit_denominator(1000), job.lengths)
        for x in (min(ends), max(ends))
    )
    spread = least if least == most else f"{least} to {most}"
    numbers = [count - (arch.keystone is not None) for count in arch.counts]
    what = "voussoirs on end"
    if job.arch.made_of == "rowlocks":
        what = "rowlocks" if len(numbers) == 1 else "rowlocks in two rings, inner first"
    middle = "a joint" if job.arch.number == "even" else "the key"
    if arch.keystone is not None:
        middle = "the keystone"
    return (
        f"It has {' and '.join(map(str, numbers))} {what}, {kind}, {middle} on the "
        f"centre line; joints {spread} between soffit and back."
    )


def _in_two(job: Job, arch: Arch, say: Say) -> Iterator[str]:
    """Say why each voussoir is in two pieces, where it is."""
    pieces = len(arch.voussoirs)
    if pieces <= sum(arch.counts) or len(arch.counts) > 1:
        return
    brick = job.brick
    if arch.kind == "jack arch":
        most = jack_reach(arch.span, brick.length, brick.height, job.lengths)
        why = "where it leans most, one brick is too short for the depth asked"
    else:
        most, why = brick.length, "one brick is too short for the depth asked"
    yield (
        f"Each voussoir is in two pieces: {why}. {say(most)} or less would come out "
        "of one brick."
    )


def _keystone(job: Job, say: Say) -> Iterator[str]:
    key = job.arch.key
    if key is None:
        return
    out = f"; it stands out {say(key.projection)} from the brick" * bool(key.projection)
    up = f"; it rises {say(key.rises)} past the back" * bool(key.rises)
    yield (
        f"The keystone is {say(key.width)} wide at its foot{out}{up}. It is made to "
        "its template by others, and nothing of it is sawn from the brick."
    )


def _over(job: Job, arch: Arch, say: Say) -> Iterator[str]:
    """Say what the joint over the crown does, and what is left of the course there."""
    usual = job.joints.bed.preferred
    if arch.over != usual:
        yield (
            f"The joint over the crown of the arch is {say(arch.over)}, not "
            f"{say(usual)}, so that the courses meet its back better, as deep as it is."
        )
    if arch.strip is None:
        return
    left = f"{say(arch.strip)} of it" if arch.strip > 0 else "nothing of it"
    words = f"The course that the crown ends in is cut; {left} is left there"
    if arch.is_cut_thin and arch.better_depths:
        depths = " or ".join(say(depth) for depth in sorted(arch.better_depths))
        words += f", too little to saw: a depth of {depths} would mend that"
    yield f"{words}."
