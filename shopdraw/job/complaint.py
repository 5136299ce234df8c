"""The form of a complaint, and the few lengths that several complaints need.

In:  `Job`.   Out: `Complaint`, lengths.
Frame: the job's lengths, as the person measured.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.job.model_face import SIDES, Side
from shopdraw.job.turning import SQUARE, grown_at
from shopdraw.lengths import MM_PER_INCH, Toward, taped_length


@dataclass(frozen=True)
class Complaint:
    """One thing that can't be built.

    Attributes:
        key: where in the job file it is, dotted.
        wanted: what is wrong with it, and what would do.
        found: what is quoted before that, where the value as typed would not say it.
        otherwise: the same of another key; told where this one is not in the job file,
            named beside it where both are.
    """

    key: str
    wanted: str
    found: str = ""
    otherwise: Complaint | None = None


def said(job: Job, length: Fraction, toward: Toward = "nearest") -> str:
    """Write a length as a job file takes it, no finer than a tape.

    What must be reached is rounded up, and what must not be passed down.
    """
    return taped_length(length, job.lengths, toward)


def or_more(job: Job, least: Fraction) -> str:
    """Write the least that would do, rounded up."""
    return f"{said(job, least, 'up')} or more"


def or_less(job: Job, most: Fraction) -> str:
    """Write the most that would do, rounded down."""
    return f"{said(job, most, 'down')} or less"


def inches(job: Job, inches: Fraction) -> Fraction:
    """Convert inches to the job's lengths."""
    return inches if job.lengths == "in" else inches * MM_PER_INCH


def build_out_of(job: Job) -> Fraction:
    """Return how far the finished face stands out from the face that was measured."""
    if job.face.measured_to == "finish":
        return Fraction(0)
    return job.setting_bed.mean + job.brick.thickness


def legs_of(job: Job) -> tuple[Fraction, Fraction]:
    """Return the finished widths of the left and right leg; negative for no leg."""
    from_left = job.opening.from_left
    if from_left is None:
        from_left = (job.face.width - job.opening.width) / 2
    right = job.face.width - from_left - job.opening.width
    grow = build_out_of(job)
    at_jamb = Fraction(0)
    if job.opening.jamb_return is not None:
        at_jamb = grown_at(grow, SQUARE - job.opening.splayed, job.lengths)
    legs = [
        leg + at_jamb + sum(grown_on(job, side)[:1])
        for leg, side in zip((from_left, right), SIDES, strict=True)
    ]
    return legs[0], legs[1]


def grown_on(job: Job, side: Side) -> tuple[Fraction, ...]:
    """Return how far brick and bed move each corner of a side along its faces."""
    grow = build_out_of(job)
    return tuple(grown_at(grow, turn, job.lengths) for turn in job.face.turns(side))
