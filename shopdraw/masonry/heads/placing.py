"""Course a wall so that its courses run out on an arch as steeply as they can.

In:  `Job`, `Surround`, the `Coursing` that suits all else best.   Out: `Coursing`.
Frame: y up from the datum.

Near its crown an arch's back is nearly level. A course that ends a little below the
crown runs out there in a long tip, which mortar takes. How long it is depends on where
the course ends, so a mason opens or closes the bed joints beside the arch a little:
common practice, no published source. Opening head, top and all other targets stay met
as nearly as before.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Course, Coursing, RunOut
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.heads.arches import StoodArch, stand_arch
from shopdraw.masonry.heads.crowns import NO_MORTAR, Beside
from shopdraw.masonry.wall.form import Surround

Score = tuple[bool, Beside]
"""Whether too little is left over the crown, and the mortar beside it."""
LOWER = 2
"""How many courses below the crown are looked at while levels are tried."""
AS_LONG = 1 / 16
"""Fillets that are too long and differ by no more are as long as one another."""


def place_courses(job: Job, surround: Surround, coursing: Coursing) -> Coursing:
    """Return the coursing, other joints chosen where fillets are too long with these.

    Args:
        job: what was asked.
        surround: the faces.
        coursing: the best by all that is asked for.
    """
    planned = job.model_copy(update={"laid": ()})
    plan = coursing if not job.laid else solve_coursing(planned, surround)
    stood = stand_arch(planned, surround, plan)
    if stood is None:
        return coursing
    before = _score(stood, plan)
    if before == (False, NO_MORTAR):
        return coursing
    best, chosen = before, None
    scored = _score_levels(planned, stood, plan)
    for asked in (_runs(scored, before), _singly(scored)):
        for promised, run_out in asked:
            if promised >= best:
                continue
            other = solve_coursing(planned, surround, run_out)
            score = _score(stood, other) if _lands(other, run_out) else best
            if score < best:
                best, chosen, plan = score, run_out, other
        if not _fails(best):
            break
    if chosen is None:
        return coursing
    return solve_coursing(job, surround, chosen) if job.laid else plan


def _fails(score: Score) -> bool:
    """Whether too little is left over the crown, or a fillet is too long."""
    thin, beside = score
    return thin or beside.over > 0


def _lands(coursing: Coursing, run_out: RunOut) -> bool:
    """Whether a course ends where it is asked to."""
    tops = (course.top for course in coursing.courses)
    return any(run_out.least <= top <= run_out.most for top in tops)


def _score(stood: StoodArch, coursing: Coursing) -> Score:
    over = stood.choose_over(coursing)
    return over.is_thin, over.beside


def _score_levels(
    job: Job, stood: StoodArch, coursing: Coursing
) -> tuple[tuple[Fraction, Score], ...]:
    """Return every level over the crown that a course can end at first, bottom up.

    Each is scored with courses above and below it at the preferred joint.
    """
    step, pitch = job.joints.step, job.brick.height + job.joints.bed.preferred
    crown = stood.soffit + stood.depth
    first = next((c.top for c in coursing.courses if c.top > crown), None)
    if first is None:
        return ()
    # Levels are on the step from where courses end now.
    first -= int((first - crown) / step) * step
    levels = (first + step * k for k in range(int(pitch / step) + 1))
    return tuple(
        (level, _score(stood, _stack(job, coursing, level))) for level in levels
    )


def _runs(
    scored: tuple[tuple[Fraction, Score], ...], before: Score
) -> Iterator[tuple[Score, RunOut]]:
    """Yield between which levels a course may end, where that is best."""
    best = min((score for _, score in scored), default=before)
    if best >= before:
        return
    thin, (over, _) = best
    within = thin, Beside(over + AS_LONG, is_aslant=True) if over else best[1]
    run: list[Fraction] = []
    for level, score in scored:
        if score <= within:
            run.append(level)
        elif run:
            yield best, RunOut(run[0], run[-1])
            run = []
    if run:
        yield best, RunOut(run[0], run[-1])


def _singly(
    scored: tuple[tuple[Fraction, Score], ...],
) -> Iterator[tuple[Score, RunOut]]:
    """Yield each level by itself, the best first.

    Where a course lands in a run, the joints below it are not the preferred ones, and
    it or the course below may run out worse there than was promised.
    """
    for level, score in sorted(scored, key=lambda each: each[::-1]):
        yield score, RunOut(level, level)


def _stack(job: Job, coursing: Coursing, level: Fraction) -> Coursing:
    """Return courses at the preferred joint, one of which ends at a level.

    Further below the crown they run out more steeply; there they are left out.
    """
    high, joint = job.brick.height, job.joints.bed.preferred
    pitch = high + joint
    above = int((coursing.top - level) / pitch) + 1
    tops = (level + pitch * k for k in range(-LOWER, above + 1))
    return replace(
        coursing,
        courses=tuple(
            Course(number, "running", joint, top - high, top)
            for number, top in enumerate(tops, start=1)
        ),
    )
