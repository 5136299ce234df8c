"""Say how the soldiers stand and why, or what would do where none can stand.

In:  `Job`, `Surround`, the `Stand`.   Out: sentences.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.job.sense import complaints_of
from shopdraw.lengths import format_length, rounded, taped_length
from shopdraw.masonry.heads.stands import Stand, can_stand, say_unfilled, shorter_legs
from shopdraw.masonry.wall.form import Surround

MOST_STEPS = 200
"""How many steps away a width or a joint that would do is looked for."""


def say_run(job: Job, surround: Surround, stand: Stand) -> tuple[str, ...]:
    """Say how many soldiers there are, what is in their middle, and what was sawn.

    Args:
        job: what was asked.
        surround: the faces.
        stand: the soldiers of the front, as laid.
    """
    run, opening = stand.run, surround.opening
    if run is None or not run.places:
        return ()

    def say(length: Fraction) -> str:
        return format_length(abs(length), job.lengths)

    about = "" if rounded(run.joint, job.lengths) == run.joint else "about "
    name, asked = job.opening.head, job.opening.head_centre
    which = "The" if job.opening.head_courses == 1 else "Each"
    middle = name if run.middle == "unit" else "joint"
    aside = stand.aside(opening)
    where = "its centre line"
    if aside:
        side = "right" if aside > 0 else "left"
        where = f"its own centre line, {say(aside)} to the {side} of the opening's"
    reasons = [
        f"{which} {name} course has {len(run.places)} {name}s, with a {middle} on "
        f"{where}; {run.joint_count} joints of {about}{say(run.joint)} share what is "
        "left evenly."
    ]
    if asked not in ("best", run.middle):
        reasons.append(
            f"No way of standing them has a {asked} on that line: neither whole "
            f"{name}s nor two equal sawn ones at the ends, with head joints in range."
        )
    kept = f" and a {asked} on that line" if asked == run.middle else ""
    if run.cut is not None:
        reasons.append(
            f"The {name}s at both ends are sawn to {say(run.cut)}: no number of whole "
            f"ones fills the width with head joints in range{kept}."
        )
    past = opening.brick_left - stand.left - run.places[0][0]
    if run.bears:
        reasons.append(
            f"Its ends stand {say(past)} past the brick below at each side, so that "
            f"whole {name}s fill it with head joints in range{kept}."
        )
    elif job.opening.head_over == "opening" and any(opening.soldiers_past):
        reasons.append(
            f"Its ends stand {say(past)} past the brick below at each side, as asked."
        )
    return tuple(reasons)


# ---------------------------------------------------------- where no rule has an answer


def say_no_answer(job: Job, stand: Stand) -> str:
    """Say that nothing fills a width, and the nearest widths and joints that would do.

    Every one of them is tried as the job would be with it.
    """
    ways = [*_ways_out(job, stand.key), *shorter_legs(job, stand)]
    return f"{stand.key}: {say_unfilled(job, stand, job.opening.head)}; " + (
        f"write {', or '.join(ways)}" if ways else "write another width"
    )


def _ways_out(job: Job, key: str) -> Iterator[str]:
    """Yield what to write instead, each as a job file takes it."""

    def say(length: Fraction) -> str:
        return taped_length(length, job.lengths)

    step, joint = job.joints.step, job.joints.head
    steps = [step * n for n in range(1, MOST_STEPS)]
    width = _typed(job, key)
    if width is not None:
        narrow = _first(job, key, (width - by for by in steps if by < width))
        wide = _first(job, key, (width + by for by in steps))
        found = [say(each) for each in (narrow, wide) if each is not None]
        if found:
            yield f"{key} = {' or '.join(found)}"
    least = _first(
        job, "joints.head.least", (joint.least - by for by in steps if by < joint.least)
    )
    if least is not None:
        yield f"joints.head.least = {say(least)}"
    wider = (joint.most + by for by in steps if joint.most + by < job.brick.height)
    most = _first(job, "joints.head.most", wider)
    if most is not None:
        yield f"joints.head.most = {say(most)}"
    is_over = job.opening.head_over == "opening"
    if is_over and can_stand(job.edited("opening.head_bears", "best")):
        yield 'opening.head_bears = "best"'


def _typed(job: Job, key: str) -> Fraction | None:
    """Return the width of a key; None where corners give it."""
    table, name = key.split(".")
    if table == "opening" and job.opening.corners is not None:
        return None
    width = getattr(getattr(job, table), name)
    return width if isinstance(width, Fraction) else None


def _first(job: Job, key: str, lengths: Iterable[Fraction]) -> Fraction | None:
    """Return the first length of a key with which the job can be built and filled."""
    for length in lengths:
        tried = job.edited(key, length)
        if can_stand(tried) and not complaints_of(tried):
            return length
    return None
