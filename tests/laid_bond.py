"""Read a laid bond from its pieces alone: mirror image, least lap, least piece.

In:  `Job`, the `Piece`s of a layout.   Out: what is there, and where that is not what
the layout says.
Frame: as `Surround`.

Nothing here comes from the solver, from its judge or from what measures the layout: the
limits are those of the brute force, reckoned from the job's figures.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import Layout, Outline, Piece
from tests.masonry.bonding.brute_trade import Place, Run, Trade
from tests.masonry.bonding.brute_walls import bond_of, wall_of

RUNNING = ("stretcher", "header", "closer", "corner unit")
WALL_SIDE = {"left": 0, "right": -1}
"""By return, which piece of a course is the last before the wall."""


@dataclass(frozen=True)
class Short:
    """What comes nearest to a least: how long it is, and what is allowed there."""

    measured: Fraction
    allowed: Fraction

    @property
    def is_under(self) -> bool:
        """Whether it is under the least."""
        return self.measured < self.allowed


@dataclass(frozen=True)
class Standing:
    """One piece as it shows in a course of a face."""

    outline: Outline
    piece: Piece

    @property
    def length(self) -> Fraction:
        """How long it shows."""
        return self.outline.right - self.outline.left


@dataclass(frozen=True)
class LaidCourse:
    """One course of one face: what stands in it, left to right, in unbroken runs."""

    face: str
    number: int
    runs: tuple[tuple[Standing, ...], ...]

    def joints(self) -> Iterator[tuple[Fraction, Fraction, bool]]:
        """Yield each head joint, and whether it is the last before a hidden wall."""
        for run in self.runs:
            found = [(a.outline.right, b.outline.left, False) for a, b in pairwise(run)]
            if found and self.face in WALL_SIDE:
                at = WALL_SIDE[self.face]
                found[at] = (*found[at][:2], True)
            yield from found


class Reader:
    """What can be read of a wall's bond from its pieces."""

    def __init__(self, job: Job, pieces: Iterable[Piece]) -> None:
        self.job, self.pieces = job, tuple(pieces)
        self.wall, self.bond = wall_of(job), bond_of(job)
        self.trade = Trade(self.wall, self.bond)
        on_return = Run(Fraction(1), "corner", "wall", is_return=True)
        self.on_return = Trade(replace(self.wall, face=on_return), self.bond)
        self.courses = {
            (course.face, course.number): course for course in self._courses()
        }

    def kind(self, course: int) -> int:
        """Return which kind a course is of."""
        return self.bond.cycle[(course - 1) % len(self.bond.cycle)]

    def _courses(self) -> Iterator[LaidCourse]:
        rows: dict[tuple[str, int], list[Standing]] = defaultdict(list)
        for piece in self.pieces:
            if piece.kind in RUNNING:
                for outline in piece.outlines:
                    rows[outline.face, piece.course].append(Standing(outline, piece))
        for (face, number), row in rows.items():
            row.sort(key=lambda each: each.outline.left)
            runs = [[row[0]]]
            for one, other in pairwise(row):
                gap = other.outline.left - one.outline.right
                if gap > self.wall.most_joint:
                    runs.append([])
                runs[-1].append(other)
            yield LaidCourse(face, number, tuple(map(tuple, runs)))

    # --- mirror image -----------------------------------------------------------------

    def is_mirror_image(self) -> bool:
        """Return whether the front's pieces are their own mirror image."""
        front = [
            (outline, piece)
            for piece in self.pieces
            for outline in piece.outlines
            if outline.face == "front"
        ]
        ends = min(x.left for x, _ in front), max(x.right for x, _ in front)
        about = sum(ends)
        here = {(x.left, x.right, x.bottom, x.top, p.kind) for x, p in front}
        return here == {
            (about - b, about - a, low, top, k) for a, b, low, top, k in here
        }

    # --- the least lap ----------------------------------------------------------------

    def laps(self) -> Iterator[Short]:
        """Yield every pair of head joints of two courses that lie on one another."""
        if self.bond.name == "stack":
            return
        for (face, number), course in self.courses.items():
            above = self.courses.get((face, number + 1))
            if above is None:
                continue
            least = self.trade.lap_limits(self.kind(number), self.kind(number + 1))[0]
            for left, right, at_wall in course.joints():
                for begins, ends, above_at_wall in above.joints():
                    lap = max(begins - right, left - ends, Fraction(0))
                    halved = least / 2 if at_wall or above_at_wall else least
                    yield Short(lap, Fraction(halved))

    # --- the least piece --------------------------------------------------------------

    def cuts(self) -> Iterator[Short]:
        """Yield each sawn piece and each trimmed leg; a closer in its place is none."""
        for course in self.courses.values():
            for run in course.runs:
                for at, each in enumerate(run):
                    if self._is_sawn(course, run, at):
                        allowed = self.wall.least_piece
                        is_leg = each.piece.kind == "corner unit"
                        if self._at_wall(course, run, at) and not is_leg:
                            allowed = self.trade.hidden_least
                        yield Short(each.length, Fraction(allowed))

    def _at_wall(self, course: LaidCourse, run: tuple[Standing, ...], at: int) -> bool:
        side = WALL_SIDE.get(course.face)
        return side is not None and at == side % len(run)

    def _is_sawn(self, course: LaidCourse, run: tuple[Standing, ...], at: int) -> bool:
        each, place = run[at], self._place(course)
        if each.piece.kind == "corner unit":
            return each.length != self.trade.leg(place)
        wholes = [self.wall.unit]
        if "H" in place.pattern:
            wholes.append(self.wall.header)
        return each.length not in wholes and not self._is_closer(course, run, at)

    def _place(self, course: LaidCourse) -> Place:
        kind = self.kind(course.number)
        if course.face == "front":
            return self.trade.place(kind, "left")
        return self.on_return.place(kind, "run")

    def _is_closer(
        self, course: LaidCourse, run: tuple[Standing, ...], at: int
    ) -> bool:
        """Return whether a piece is as long as a closer, and stands where one may.

        Over the opening it may stand where the legs below have one.
        """
        place, last = self._place(course), len(run) - 1
        if "H" not in place.pattern or at in (0, last):
            return False
        off = abs(run[at].length - self.trade.closer(place))
        if off > 2 * self.wall.step:
            return False
        ends = [end for end in (0, last) if abs(at - end) == 1]
        return any(self._heads(place, run[end]) for end in ends) or (
            course.face == "front" and self._is_over_one(course, run[at])
        )

    def _is_over_one(self, course: LaidCourse, each: Standing) -> bool:
        """Return whether a leg's course of the same kind has a closer right there."""
        for other in self.courses.values():
            is_leg = other.face == course.face and len(other.runs) > len(course.runs)
            if not is_leg or self.kind(other.number) != self.kind(course.number):
                continue
            for run in other.runs:
                for at, below in enumerate(run):
                    if below.outline.left == each.outline.left:
                        return self._is_closer(other, run, at)
        return False

    def _heads(self, place: Place, end: Standing) -> bool:
        """Return whether a closer may stand beside what ends a run."""
        if end.piece.kind == "corner unit":
            bought = end.length == self.trade.leg(place)
            return bought and (place.leg == "short" or place.pattern == "H")
        return end.length == self.wall.header


def nearest(every: Iterable[Short]) -> Short | None:
    """Return what comes nearest to breaking a rule, or breaks it most."""
    return min(every, key=lambda x: (x.measured - x.allowed, x.measured), default=None)


def differences(job: Job, layout: Layout, *, may_mirror: bool) -> Iterator[str]:
    """Yield what a layout says of its bond that its pieces do not show.

    Args:
        job: what was asked.
        layout: what was laid, of courses that neither lean nor were laid before.
        may_mirror: whether the face is its own mirror image.
    """
    reader = Reader(job, layout.pieces)
    said = {
        is_one
        for reason in layout.reasons
        for is_one, words in ((True, "is its own"), (False, "is not its own"))
        if reason.startswith(f"The front {words} mirror image")
    }
    shown = {reader.is_mirror_image()} if may_mirror else set()
    if said != shown:
        yield f"mirror image: said {said}, laid {shown}"
    given = {(x.face, x.place) for x in layout.given_up}
    if may_mirror and (("front", 7) in given) == reader.is_mirror_image():
        yield "mirror image: the merit says otherwise"
    for rule, counted, told, found in (
        ("least piece", 1, layout.least_piece, nearest(reader.cuts())),
        ("least lap", 3, layout.least_lap, nearest(reader.laps())),
    ):
        is_under = found is not None and found.is_under
        if any(x.rule == rule for x in layout.broken) != is_under:
            yield f"{rule}: the rule is said to be {'kept' if is_under else 'broken'}"
        if any(place == counted for _, place in given) != is_under:
            yield f"{rule}: the merit says otherwise"
        if found is None or told is None:
            continue
        if (told.measured, told.allowed) != (found.measured, found.allowed):
            yield f"{rule}: said {told}, laid {found}"
