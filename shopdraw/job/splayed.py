"""The faces that may splay, and the three figures that say by how much.

In:  `Job`.   Out: their keys, their figures.
Frame: the job's lengths; angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.job.model_face import SIDES
from shopdraw.job.turning import SQUARE, angle_of


@dataclass(frozen=True)
class Splayed:
    """A face that may be out of square to the front.

    Attributes:
        name: what it is called in a sentence.
        along: the key of how long it is, along itself.
        deep: the key of how far back that is, square to the front.
        splay: the key of its angle.
        most: the most that it may splay, in degrees: past that it hardly turns back.
    """

    name: str
    along: str
    deep: str
    splay: str
    most: int = 60

    def length(self, job: Job, key: str) -> Fraction | None:
        """Return one of its two lengths, as far as the job has it."""
        found = job.at(key)
        return found if isinstance(found, Fraction) else None

    def angle(self, job: Job) -> Fraction | None:
        """Return its splay, as far as the job has it."""
        found = job.at(self.splay)
        return angle_of(found) if isinstance(found, int | float) else None


def _beside(side: str, name: str, most: int) -> Splayed:
    key = f"face.{side}_{name}"
    return Splayed(name, key, f"{key}_depth", f"{key}_splay", most)


JAMB = Splayed("jamb", "opening.jamb_return", "opening.jamb_depth", "opening.splay")
BESIDE = tuple(
    _beside(side, name, most)
    for side in ("left", "right")
    for name, most in (("chamfer", 70), ("return", 60))
)
SPLAYED = (JAMB, *BESIDE)


def turns_of(job: Job) -> tuple[Fraction, ...]:
    """Return by how many degrees corner units turn, corner by corner."""
    turns = [turn for side in SIDES for turn in job.face.turns(side)]
    if job.opening.jamb_return is not None:
        turns.append(SQUARE - job.opening.splayed)
    return tuple(turns)


def is_mitred(job: Job) -> bool:
    """Whether some corner unit is made of two flat brick, mitred."""
    return any(turn != SQUARE for turn in turns_of(job))
