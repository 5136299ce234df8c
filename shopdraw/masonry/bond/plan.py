"""Put a job's bond on one exact grid, before it is solved.

In:  `Job`, `Surround`, `Coursing`.   Out: `BondPlan`.
Frame: as `Surround`; a grid fine enough that every length of the job is whole on it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import lcm

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.masonry.bonding.legs import LaidRow
from shopdraw.masonry.coursing.form import Course, Coursing, PartBand
from shopdraw.masonry.rows.bonds import BONDS, GAP, Bond, common_bond
from shopdraw.masonry.rows.sizes import BondLimits, Brick, Joints, Sizes
from shopdraw.masonry.wall.form import Face, FaceName, Surround
from shopdraw.masonry.wall.surround import corner_legs

SHARES = (20, 16, 12, 8)
"""Up to how many ways a run's joints and cuts share exactly what is left of it."""
MOST = 1 << 56
"""The longest face on the grid: what is reckoned with it must fit a machine word."""
BAT_STEPS = {"in": Fraction(1, 4), "mm": Fraction(5)}
"""A free cut is a multiple of this: common practice, no published source."""


def zone_of(face: FaceName) -> str:
    """Return the zone that is all of a face beside the front."""
    return f"{face} return" if face in ("left", "right") else face


@dataclass(frozen=True)
class BondPlan:
    """The job's bond on the grid, before it is solved.

    Attributes:
        scale: grid steps in one of the job's lengths.
        sizes: the bond, the brick and the job's limits.
        below, beside, over: the running courses below the head, beside soldiers over
            the opening, and above all that, but those that a corbel brings out.
        corbelled: the running courses that a corbel brings out.
        headers: the numbers of the courses that are bands of headers.
        parts: the bands that are only a part of the front, beside its courses.
        swapped: the sides whose chamfer has unlike legs at its two ends.
        short_past: the sides on which the return runs past the inside corner in the
            courses with the corner unit's short leg on the front; elsewhere in those
            with the long one.
        stops: where the legs' brick stops beside soldiers, on the grid, left and right.
        is_mirrored: whether the front mirrors about the opening's centre line.
    """

    job: Job
    surround: Surround
    scale: int
    sizes: Sizes
    below: tuple[Course, ...]
    beside: tuple[Course, ...]
    over: tuple[Course, ...]
    stops: tuple[int, int]
    is_mirrored: bool
    corbelled: tuple[Course, ...] = ()
    headers: frozenset[int] = frozenset()
    parts: tuple[PartBand, ...] = ()
    swapped: frozenset[str] = frozenset()
    short_past: frozenset[str] = frozenset()

    def runs_past(self, face: FaceName, kind: int) -> bool:
        """Whether a face runs past its inside corner in courses of a kind.

        The legs of the corner units alternate, and what runs past goes by them.
        """
        side = face.split()[0]
        leg = "short" if side in self.short_past else "long"
        returns = self.bond.rows[kind].leg == leg
        return returns != face.endswith("alcove")

    def butting(self, face: FaceName) -> frozenset[int]:
        """Return the kinds of courses in which a face butts at its inside corner."""
        kinds = range(len(self.bond.rows))
        return frozenset(kind for kind in kinds if not self.runs_past(face, kind))

    @property
    def corner_joint(self) -> Fraction:
        """How wide the joint is by which a course butts at an inside corner.

        It is mortar: brick of either face passes behind the other, so nothing could
        move there.
        """
        return self.job.joints.head.preferred

    def bond_on(self, zone: str) -> Bond:
        """Return the bond as it shows in a zone: on the front, or round its corners."""
        side, _, what = zone.partition(" ")
        if what == "reveal":
            return self.bond.round_the_far_corner()
        if what not in ("chamfer", "return"):
            return self.bond
        bond = self.bond.round_the_corner()
        if all(face.name != f"{side} chamfer" for face in self.surround.faces):
            return bond
        bond = bond.far_legs_swapped() if side in self.swapped else bond
        return bond if what == "chamfer" else bond.round_the_far_corner()

    def sizes_on(self, zone: str) -> Sizes:
        """Return the bond as it shows in a zone, in the job's brick."""
        return replace(self.sizes, bond=self.bond_on(zone))

    def leg_bought(self, face: Face, fold: Fraction, kind: int) -> int:
        """Return how long a corner unit's leg on a face is bought, at a corner."""
        row = self.bond_on(zone_of(face.name)).rows[kind]
        is_far = fold != self.surround.fold_of(face)
        if face.name == "front":
            is_far = fold in self.surround.jamb_folds
        return self.sizes.brick.leg(row.at_jamb if is_far else row.leg)

    def part_beside(self, course: int) -> PartBand | None:
        """Return the band on a part of the front that a course lies beside, if any."""
        return next(
            (x for x in self.parts if any(c.number == course for c in x.courses)), None
        )

    def zones_beside(self, part: PartBand) -> tuple[str, ...]:
        """Return the zones of the front in a course beside such a band.

        In a leg there is brick between the band and the jamb too.
        """
        opening = self.surround.opening
        if part.courses[0] not in self.below:
            return "left beside", "right beside"
        if part.right <= opening.brick_left:
            return "left beside", "left inner", "right leg"
        return "left leg", "right inner", "right beside"

    def on_grid(self, length: Fraction) -> int:
        """Return a length of the job on the grid."""
        return int(length * self.scale)

    def off_grid(self, steps: int) -> Fraction:
        """Return a grid length in the job's lengths."""
        return Fraction(steps, self.scale)

    @property
    def bond(self) -> Bond:
        """The bond that is asked for."""
        return self.sizes.bond

    def kind(self, course: int) -> int:
        """Return the kind of a course of the bond; course 1 begins the cycle.

        A band takes its turn among them, so that the courses below and above one of
        soldiers are alike; a band of headers shows the leg of the kind it stands for.
        """
        kind = self.bond.cycle[(course - 1) % len(self.bond.cycle)]
        headers = self.bond.header_kind(kind) if course in self.headers else None
        return kind if headers is None else headers

    def kinds(self, courses: tuple[Course, ...]) -> tuple[int, ...]:
        """Return the kinds of courses, bottom up, with a gap where two do not meet."""
        kinds: list[int] = []
        last = None
        for course in courses:
            if last is not None and course.number != last + 1:
                kinds.append(GAP)
            kinds.append(self.kind(course.number))
            last = course.number
        return tuple(kinds)

    @property
    def has_beside(self) -> bool:
        """Whether the legs beside soldiers are laid by themselves.

        They are where the soldiers pass the jambs, and where brick turns into the
        jambs: beside the soldiers nothing turns.
        """
        opening = self.surround.opening
        jambs = (self.on_grid(opening.brick_left), self.on_grid(opening.brick_right))
        is_apart = self.stops != jambs or bool(self.surround.reveals)
        return bool(self.beside) and is_apart

    def short_of_wall(self, zone: str, row: LaidRow) -> int:
        """Return how far a course stops short of a hidden wall; 0 where it does not."""
        surround = self.surround
        faces = {face.name: face for face in surround.reveals}
        if any(face.name == f"{zone.split()[0]} alcove" for face in surround.alcoves):
            return 0
        if zone == "left return":
            return row.pieces[0][0] - self.on_grid(surround.left_edge.brick_x)
        if zone == "right return":
            return self.on_grid(surround.right_edge.brick_x) - row.pieces[-1][1]
        if zone == "left reveal":
            return self.on_grid(faces["left reveal"].right) - row.pieces[-1][1]
        if zone == "right reveal":
            return row.pieces[0][0] - self.on_grid(faces["right reveal"].left)
        return 0

    @property
    def legs(self) -> tuple[Course, ...]:
        """The running courses that stop at the opening, or beside soldiers over it."""
        return (*self.below, *self.beside)

    @property
    def running(self) -> tuple[Course, ...]:
        """Every running course but those of a corbel, bottom up."""
        return (*self.below, *self.beside, *self.over)


def bond_of(job: Job) -> Bond:
    """Return the bond that a job asks for."""
    if job.bond.pattern == "common":
        return common_bond(job.bond.header_every)
    return BONDS[job.bond.pattern]


def plan_bond(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    stops: tuple[Fraction, Fraction],
    parts: tuple[PartBand, ...] = (),
) -> BondPlan:
    """Put the job on the grid and say which courses are laid where.

    Args:
        job: what was asked.
        surround: the faces.
        coursing: the courses.
        stops: where the brick of the legs stops beside soldiers, left and right.
        parts: the bands that are only a part of the front.
    """
    ends = (*stops, *(x for part in parts for x in (part.left, part.right)))
    scale = _scale(job, surround, coursing, ends)
    headers = frozenset(x.number for x in coursing.courses if x.kind == "header")
    below = coursing.courses_below_head
    beside = below + coursing.courses_beside_soldiers
    running = [course for course in coursing.courses if course.is_running]
    flush = [course for course in running if not course.projection]
    sizes = sizes_of(job, surround, scale)
    for number in sorted(headers):
        kind = sizes.bond.cycle[(number - 1) % len(sizes.bond.cycle)]
        sizes = replace(sizes, bond=sizes.bond.with_headers(kind))
    plan = BondPlan(
        job=job,
        surround=surround,
        scale=scale,
        sizes=sizes,
        below=tuple(course for course in running if course.number <= below),
        beside=tuple(course for course in running if below < course.number <= beside),
        over=tuple(course for course in flush if course.number > beside),
        stops=(int(stops[0] * scale), int(stops[1] * scale)),
        is_mirrored=_is_mirrored(surround),
        corbelled=tuple(course for course in running if course.projection),
        headers=headers,
        parts=parts,
    )
    _check_headers(plan)
    return plan


def _check_headers(plan: BondPlan) -> None:
    """Refuse a band of headers on headers, where the bond has none of its own there.

    Raises:
        NotLaid: two courses of headers lie on one another.
    """
    running = {course.number for course in (*plan.running, *plan.corbelled)}
    for number in sorted(plan.headers):
        for other in running & {number - 1, number + 1}:
            pattern = plan.bond.rows[plan.kind(other)].pattern
            if pattern == "H" and plan.job.bond.pattern != "English":
                message = (
                    f"band: course {number} is a band of headers, and so is course "
                    f"{other}; headers on headers have no bond: leave a course between"
                )
                raise NotLaid(message)


def sizes_of(job: Job, surround: Surround, scale: int) -> Sizes:
    """Return the bond in the job's brick, on a grid of so many steps in a length."""

    def steps(length: Fraction) -> int:
        return int(length * scale)

    built, joint = surround.as_built, job.joints.head
    long, short = (
        corner_legs(job.brick.corner, job.brick.thickness)
        if job.brick.corner
        else (job.brick.length, job.header_length)
    )
    return Sizes(
        bond=bond_of(job),
        brick=Brick(
            unit=steps(job.brick.length),
            header=steps(job.header_length),
            long=steps(long),
            short=steps(short),
        ),
        joints=Joints(
            preferred=steps(joint.preferred),
            least=steps(joint.least),
            most=steps(joint.most),
            step=steps(job.joints.step),
        ),
        limits=BondLimits(
            least_piece=steps(job.bond.least_piece),
            least_lap=steps(job.bond.least_lap),
            bat_step=steps(BAT_STEPS[job.lengths]),
            at_jamb=steps(max(abs(top[0] - foot[0]) for foot, top in built.jambs)),
            at_end=steps(max(abs(top[0] - foot[0]) for foot, top in built.ends)),
        ),
    )


def _scale(
    job: Job, surround: Surround, coursing: Coursing, stops: tuple[Fraction, ...]
) -> int:
    joint, bond, brick, built = job.joints.head, job.bond, job.brick, surround.as_built
    lengths = [
        joint.preferred, joint.least, joint.most, job.joints.step, bond.least_piece,
        bond.least_lap, brick.length, brick.height, brick.thickness, job.header_length,
        surround.left_edge.brick_x, surround.right_edge.brick_x, *surround.folds,
        *(x for face in surround.alcoves for x in (face.left, face.right)),
        surround.opening.brick_left, surround.opening.brick_right,
        *(x for reveal in surround.reveals for x in (reveal.left, reveal.right)),
        *surround.opening.soldiers_past, coursing.head, *stops,
        BAT_STEPS[job.lengths] / 2,
        *(top[0] - foot[0] for foot, top in (*built.jambs, *built.ends)),
        *(course.projection for course in coursing.courses),
    ]  # fmt: skip
    if brick.corner is not None:
        lengths += corner_legs(brick.corner, brick.thickness)
    # Twelve: thirds and quarters of a unit and a joint are compared as whole numbers.
    exact = 12 * lcm(*(length.denominator for length in lengths))
    span = surround.faces[-1].right - surround.faces[0].left
    for most in SHARES:
        scale = lcm(exact, *range(1, most + 1))
        if span * scale < MOST:
            return scale
    return exact


def _is_mirrored(surround: Surround) -> bool:
    """Return whether the front is its own mirror image about the opening."""
    opening, front = surround.opening, surround.front
    names = {face.name for face in surround.faces}
    left = front.left if "left" in names else surround.left_edge.brick_x
    right = front.right if "right" in names else surround.right_edge.brick_x
    return (
        left + right == opening.brick_left + opening.brick_right
        and (front.left in surround.folds) == (front.right in surround.folds)
        and opening.soldiers_past[0] == opening.soldiers_past[1]
    )
