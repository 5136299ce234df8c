"""Find the hearth extension from above: as found, and as the rule asks for it.

In:  `Solution`.   Out: `Extension`.
Frame: as a plan: x along the front from its finished left end, y back from the finished
face as drawn; the room is at negative y.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.drawing.lettering import Box
from shopdraw.review.findings import Key
from shopdraw.review.hearth import riser_adds
from shopdraw.review.opening import Rectangle
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import SHORT

ZERO = Fraction(0)
SIDES: tuple[tuple[str, Key, str], ...] = (
    ("FRONT", "hearth-front", ""),
    ("LEFT", "hearth-side", "left"),
    ("RIGHT", "hearth-side", "right"),
)
"""What the review holds of the extension: its name on the drawing, and its key."""
Area = tuple[Fraction, Fraction, Fraction, Fraction]
"""A rectangle of the floor: its left, front, right and back edge."""


def box_of(area: Area) -> Box:
    """Return a rectangle of the floor as ink has it."""
    left, front, right, back = (float(x) for x in area)
    return left, front, right, back


@dataclass(frozen=True)
class Extension:
    """The hearth extension as found, and as the rule asks for it.

    Attributes:
        area: as found, from its front edge to the finished face where it stands out
            furthest; where it was not measured, as far as it is drawn.
        given: whether its left end, its front edge and its right end were measured.
        found, outer: the opening's edges as found, and those that sides count from.
        asked: what the rule asks for; None where no rule gives both figures.
        burns: it was given as combustible, so that none of it counts.
    """

    area: Area
    given: tuple[bool, bool, bool]
    found: tuple[Fraction, Fraction]
    outer: tuple[Fraction, Fraction]
    asked: Area | None
    burns: bool = False

    @property
    def face(self) -> Fraction:
        """The finished face where it stands out furthest."""
        return self.area[3]

    @property
    def lowest(self) -> Fraction:
        """How far into the room the drawing goes."""
        return min(self.area[1], self.asked[1] if self.asked else ZERO)

    @property
    def reach(self) -> tuple[Fraction, Fraction]:
        """From where to where it goes, found or asked for."""
        sides = [self.area] if self.asked is None else [self.area, self.asked]
        return min(x[0] for x in sides), max(x[2] for x in sides)

    def short(self) -> Iterator[Area]:
        """Yield what is asked for and was found not to be there."""
        if self.asked is None:
            return
        if self.burns:
            yield self.asked
            return
        (a, b, c, _), (left, front, right, face) = self.area, self.asked
        is_left, is_front, is_right = self.given
        near = max(front, min(b, face)) if is_front else front
        if near > front:
            yield left, front, right, near
        if is_left and left < a:
            yield left, near, min(a, right), face
        if is_right and c < right:
            yield max(c, left), near, right, face


@dataclass(frozen=True)
class Short:
    """What the extension falls short by.

    Attributes:
        numbers: of the findings that failed for it.
        areas: where it is short, each a rectangle of the floor.
    """

    numbers: tuple[int, ...]
    areas: tuple[Area, ...]


def failed(solution: Solution, shown: Extension) -> Short | None:
    """Return where the extension fails, and by which findings; None where it doesn't.

    An end that fails is found from its own limit: a rule may ask for one side alone.
    """
    numbers, areas = [], []
    for name, key, about in SIDES:
        row = solution.row(key, about)
        if row is None or row[1].status != "failed" or row[1].limit is None:
            continue
        numbers.append(row[0])
        areas.append(_short_by(name, row[1].limit, shown))
    return Short(tuple(numbers), tuple(areas)) if numbers else None


def _short_by(name: str, limit: Fraction, shown: Extension) -> Area:
    """Return from where it ends to where it should, on one side.

    Where it may burn that is all that is asked for.
    """
    left, front, right, face = shown.area
    ends = shown.asked or shown.area
    low, (first, last) = min(ends[1], face), shown.outer
    if name == "FRONT":
        near = face if shown.burns else min(front, face)
        return ends[0], face - limit, ends[2], near
    if name == "LEFT":
        return first - limit, low, first if shown.burns else min(left, first), face
    return last if shown.burns else max(right, last), low, last + limit, face


def extension_of(solution: Solution) -> Extension:
    """Return the hearth extension of a job that gives a hearth.

    Raises:
        ValueError: the job gives none.
    """
    job, surround = solution.job, solution.surround
    if job.hearth is None:
        message = "this job gives no hearth"
        raise ValueError(message)
    start, added, usual = surround.front.left, riser_adds(job), SHORT[job.lengths]
    found = _sides(solution.openings.found, start)
    outer = _sides(solution.openings.outer, start)
    left, front, right = (
        usual if x is None else x + added
        for x in (job.hearth.left, job.hearth.front, job.hearth.right)
    )
    face = surround.build_out - surround.build_out_most
    edge = surround.build_out - front
    return Extension(
        area=(found[0] - left, edge, found[1] + right, face),
        given=(
            job.hearth.left is not None,
            job.hearth.front is not None,
            job.hearth.right is not None,
        ),
        found=found,
        outer=outer,
        asked=_asked(solution, outer, face),
        burns=job.hearth.material == "combustible",
    )


def _sides(box: Rectangle, start: Fraction) -> tuple[Fraction, Fraction]:
    return box.left - start, box.right - start


def _asked(
    solution: Solution, outer: tuple[Fraction, Fraction], face: Fraction
) -> Area | None:
    """Return what the rule asks for, from the findings; None without its figures."""
    findings = (solution.finding(key, about) for _, key, about in SIDES)
    front, left, right = (None if x is None else x.limit for x in findings)
    if left is None or front is None or right is None:
        return None
    return outer[0] - left, face - front, outer[1] + right, face
