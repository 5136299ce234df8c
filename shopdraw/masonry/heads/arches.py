"""Set out an arch: its skewbacks, its soffit and back, and every voussoir.

In:  `Job`, `Surround`, `Coursing`.   Out: `Arch`.
Frame: as `Surround`; worked in floating point, points are put on a fine grid.

A ray runs from the centre of the arch through the middle of every joint. A semicircular
arch springs from level beds, so its first voussoirs stand on the bed joint of the legs.
Rings of rowlocks lie about one centre; only mortar joins them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from math import cos, degrees, sin, tan
from typing import Literal

from shopdraw.job.arching import (
    jack_camber,
    jack_reach,
    jack_skewback,
    segmental_radius,
    segmental_skewback,
)
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.heads.crowns import (
    Beside,
    OverCrown,
    better_depths,
    choose_over,
    mortar_beside,
    stands_over,
)
from shopdraw.masonry.heads.voussoirs import (
    Keystone,
    Ring,
    SetOut,
    Setting,
    Spot,
    turn,
)
from shopdraw.masonry.wall.arch import ARCH_GRID, Arch
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Outline

Point = tuple[Fraction, Fraction]
Asked = Literal["best", "whole", "cut"]

ROUNDING = 1e-9
"""How far floating point may be off, in the job's lengths."""


@dataclass(eq=False)
class StoodArch:
    """The voussoirs of an arch stood on its springs, before the joint over its back.

    What brick keeps out of is kept once it was reckoned: a joint is tried many times.

    Attributes:
        spring, middle: where the middle of the spring line lies.
        span, rise, depth: as `Arch` has them.
        rings: the lowest first.
        choice: how many voussoirs the lowest ring has.
        soffit: the level that the depth is counted from, at the crown.
    """

    job: Job
    spring: Fraction
    middle: Fraction
    span: Fraction
    rise: Fraction
    depth: Fraction
    rings: list[SetOut]
    choice: _Voussoirs
    soffit: Fraction
    _kept: dict[Fraction, tuple[Point, ...]] = field(default_factory=dict, repr=False)

    def placed(self, spots: Iterable[Spot]) -> tuple[Point, ...]:
        """Put spots, from the middle of the spring line, on the wall."""
        half = self.span / 2
        return tuple(
            (self.middle + _fine(x, -half, half), self.spring + _fine(y, self.depth))
            for x, y in spots
        )

    def keep_out(self, joint: Fraction) -> tuple[Point, ...]:
        """Return the ring that brick keeps out of, with such a joint over the back."""
        if joint not in self._kept:
            self._kept[joint] = self._keep_out(joint)
        return self._kept[joint]

    def _keep_out(self, joint: Fraction) -> tuple[Point, ...]:
        outer, half = self.rings[-1], float(self.span / 2)
        up = outer.setting.below - self.rings[0].setting.below
        back = ((x, y + up) for x, y in reversed(outer.back(float(joint))))
        return self.placed(((half, 0.0), *back, (-half, 0.0)))

    def choose_over(self, coursing: Coursing) -> OverCrown:
        """Choose the joint over the crown, under such courses."""

        def beside(joint: Fraction) -> Beside:
            return mortar_beside(self.job, coursing, self.keep_out(joint))

        # On a jack arch's level back no course runs out.
        is_level = self.rings[0].setting.level_back
        back = self.soffit + self.depth
        return choose_over(
            self.job, coursing, back, None if is_level else beside, self.stands_over
        )

    @cached_property
    def stands_over(self) -> Fraction:
        """How far brick keeps out over the joint at the crown, at the most."""
        if self.rings[0].setting.level_back or self.job.arch.key is not None:
            return Fraction(0)
        return stands_over(self.job, self.soffit + self.depth, self.keep_out)


def stand_arch(job: Job, surround: Surround, coursing: Coursing) -> StoodArch | None:
    """Stand the voussoirs of the arch over the opening; None under any other head."""
    kind = surround.opening.head
    if kind not in ("jack arch", "segmental arch", "semicircular arch"):
        return None
    (left, right), spring = springs(surround, coursing), coursing.head
    span = right - left
    rise, depth = _rise(job, span), job.arch_depth
    rings, choice = _stand(_settings(job, coursing, span, rise, depth), job)
    # A jack arch is as deep as its back lies over the spring line.
    soffit = spring if kind == "jack arch" else spring + rise
    middle = (left + right) / 2
    return StoodArch(job, spring, middle, span, rise, depth, rings, choice, soffit)


def set_out_arch(job: Job, surround: Surround, coursing: Coursing) -> Arch | None:
    """Set out the arch over the opening; None under any other head."""
    kind, stood = surround.opening.head, stand_arch(job, surround, coursing)
    if stood is None or kind not in (
        "jack arch",
        "segmental arch",
        "semicircular arch",
    ):
        return None
    span, rise, depth = stood.span, stood.rise, stood.depth
    rings, choice, placed = stood.rings, stood.choice, stood.placed
    lowest, over = rings[0], stood.choose_over(coursing)
    laid = [_laid(ring, job, lowest) for ring in rings]
    # A keystone that goes through two rings is one piece, of the lower one.
    laid[1:] = [[x for x in each if not x.is_key] for each in laid[1:]]
    each_laid = [stone for ring in laid for stone in ring]
    return Arch(
        kind=kind,
        span=span,
        spring=stood.spring,
        rise=rise,
        depth=depth,
        centre=(stood.middle, stood.spring - _fine(lowest.setting.below)),
        radius=segmental_radius(float(span), float(rise)) if rise else 0.0,
        skewback_deg=degrees(lowest.setting.angle),
        are_whole=choice.joint is None,
        whole_joints=choice.whole_joints,
        voussoirs=tuple(placed(stone.ring) for stone in each_laid),
        tilts=tuple(stone.tilt for stone in each_laid),
        joints=tuple(joint for ring in rings for joint in ring.joints()),
        soffit=placed(lowest.soffit()),
        keep_out=stood.keep_out(over.joint),
        curve=placed(lowest.curve()),
        counts=tuple(ring.count for ring in rings),
        ring_depth=_ring_depth(job, depth),
        feet=tuple(i for i, x in enumerate(each_laid) if x.is_at_soffit),
        keystone=next((i for i, x in enumerate(each_laid) if x.is_key), None),
        over=over.joint,
        strip=over.strip,
        least_strip=over.least,
        better_depths=tuple(
            better_depths(job, coursing, stood, _deepest(job, span))
            if over.is_thin
            else ()
        ),
    )


def _rise(job: Job, span: Fraction) -> Fraction:
    """Return how far the soffit rises at the crown, over the span as it is."""
    if job.opening.head == "semicircular arch":
        return span / 2
    if job.opening.head == "segmental arch":
        return job.arch.rise or Fraction(0)
    return jack_camber(span) if job.arch.camber is None else job.arch.camber


def _deepest(job: Job, span: Fraction) -> Fraction:
    """Return how deep an arch may be whose voussoirs are each one brick."""
    if job.opening.head == "jack arch":
        brick = job.brick
        return jack_reach(span, brick.length, brick.height, job.lengths)
    return job.brick.length * job.arch.rings


def _ring_depth(job: Job, depth: Fraction) -> Fraction:
    rings = job.arch.rings
    return (depth - (rings - 1) * job.joints.bed.preferred) / rings


def _settings(
    job: Job, coursing: Coursing, span: Fraction, rise: Fraction, depth: Fraction
) -> tuple[Setting, ...]:
    """Return what each ring is set out from, the lowest first."""
    kind, each = job.opening.head, float(_ring_depth(job, depth))
    if kind == "jack arch":
        angle = jack_skewback(float(span), job.lengths)
        below = float(span) / 2 / tan(angle)
    else:
        angle = segmental_skewback(float(span), float(rise))
        below = segmental_radius(float(span), float(rise)) - float(rise)
    key = job.arch.key
    first = Setting(
        span=float(span),
        rise=float(rise),
        depth=each,
        below=below,
        angle=angle,
        width=float(job.brick.height),
        length=float(job.brick.length),
        joint=job.joints.head,
        level_back=kind == "jack arch",
        springs_on=float(coursing.joints[coursing.courses_below_head])
        if kind == "semicircular arch"
        else None,
        key=None if key is None else Keystone(float(key.width), float(key.rises)),
    )
    if job.arch.rings == 1:
        return (first,)
    apart = each + float(job.joints.bed.preferred)
    through = first.key and replace(first.key, rises=first.key.rises + apart)
    return replace(first, key=through), replace(_round(first, apart), key=first.key)


def _round(inner: Setting, out: float) -> Setting:
    """Return a ring about the same centre, so much further out."""
    radius = segmental_radius(inner.span, inner.rise) + out
    below = radius * cos(inner.angle)
    if inner.springs_on is not None:
        below = 0.0
    return replace(
        inner, span=2 * radius * sin(inner.angle), rise=radius - below, below=below
    )


@dataclass(frozen=True)
class _Stone:
    """One voussoir as it stands, the lowest ring's spring line at the origin."""

    ring: Ring
    tilt: float
    is_key: bool
    is_at_soffit: bool


def _laid(set_out: SetOut, job: Job, lowest: SetOut) -> list[_Stone]:
    """Return the pieces of one ring, left to right."""
    up, key = set_out.setting.below - lowest.setting.below, set_out.key_at
    rings = set_out.rings(float(job.joints.bed.preferred))
    each = (len(rings) - (key is not None)) // (set_out.count - (key is not None))
    at = None if key is None else key * each
    stones = []
    low = 0
    for place, (ring, tilt) in enumerate(rings):
        is_lowest = set_out is lowest and place == low
        low += (1 if place == at else each) * (place == low)
        raised = tuple((x, y + up) for x, y in ring)
        stones.append(_Stone(raised, tilt, place == at, is_lowest))
    return stones


def _stand(settings: tuple[Setting, ...], job: Job) -> tuple[list[SetOut], _Voussoirs]:
    """Stand the voussoirs of every ring, all whole or all sawn."""
    even = job.arch.number == "even"
    rings, choices = _stood(settings, job.arch.voussoirs, even=even)
    if all(choice.joint is None for choice in choices):
        return rings, choices[0]
    missed = [x.whole_joints for x in choices if x.whole_joints is not None]
    rings, choices = _stood(settings, "cut", even=even)
    return rings, replace(choices[0], whole_joints=next(iter(missed), None))


def _stood(
    settings: tuple[Setting, ...], asked: Asked, *, even: bool
) -> tuple[list[SetOut], list[_Voussoirs]]:
    rings: list[SetOut] = []
    choices: list[_Voussoirs] = []
    for setting in settings:
        if rings and setting.key is not None:
            ray = rings[0].rays[rings[0].count // 2 + 1]
            setting = replace(setting, key=replace(setting.key, ray=ray))
        choice = _choose(setting, asked, even=even)
        joint = choice.joint or float(setting.joint.preferred)
        rings.append(SetOut(setting, choice.count, joint, choice.joint is None))
        choices.append(choice)
    return rings, choices


def springs(surround: Surround, coursing: Coursing) -> tuple[Fraction, Fraction]:
    """Return where the brick of each leg stops, level with the spring line."""
    left, right = surround.as_built.jambs_at(coursing.head)
    beside = surround.opening.beside
    return left - beside, right + beside


def _fine(value: float, *known: Fraction) -> Fraction:
    """Return a value on the fine grid, or a known exact one that it is as good as."""
    for each in known:
        if abs(value - float(each)) < ROUNDING:
            return each
    return Fraction(round(value * ARCH_GRID), ARCH_GRID)


@dataclass(frozen=True)
class _Voussoirs:
    """How many voussoirs there are, their joint, and how near whole ones came.

    Attributes:
        joint: of even width; None for the tapered joints between whole voussoirs.
        whole_joints: where whole voussoirs were asked for and can't be, the narrowest
            and the widest joint of the number that came nearest; else None.
    """

    count: int
    joint: float | None
    whole_joints: tuple[float, float] | None = None


def _choose(setting: Setting, asked: Asked, *, even: bool) -> _Voussoirs:
    """Choose how many voussoirs there are, and whether they are whole or sawn.

    Whole: the number whose joints, on average, are nearest the preferred and are in
    range at both ends. Sawn: the smallest number that brick is wide enough for. The
    number is odd, so that one of them, the key, stands on the centre line, unless the
    job asks for an even one.
    """
    least, most = float(setting.joint.least), float(setting.joint.most)
    preferred = float(setting.joint.preferred)
    missed = None
    if asked != "cut" and not setting.level_back:
        tries = [
            (count, _joints_of(setting, count, preferred))
            for count in _counts(
                setting, setting.width + most, setting.width + least, even=even
            )
        ]
        kept = [
            (abs(sum(joints) / len(joints) - preferred), count)
            for count, joints in tries
            if least - ROUNDING <= min(joints) and max(joints) <= most + ROUNDING
        ]
        if kept:
            return _Voussoirs(min(kept)[1], None)
        if asked == "whole":
            nearest = min(
                (joints for _, joints in tries),
                key=lambda joints: max(least - min(joints), max(joints) - most),
            )
            missed = min(nearest), max(nearest)
    pitch = setting.width + preferred
    for count in _counts(setting, 2 * pitch, setting.width / 8, even=even):
        set_out = SetOut(setting, count, preferred, is_whole=False)
        if set_out.widest() <= setting.width + ROUNDING:
            break
    return _Voussoirs(count, preferred, missed)


def _joints_of(setting: Setting, count: int, end_joint: float) -> list[float]:
    joints = SetOut(setting, count, end_joint, is_whole=True).joints()
    return [width for joint in joints for width in (joint.at_soffit, joint.at_back)]


def _counts(setting: Setting, widest: float, narrowest: float, *, even: bool) -> range:
    """Return the numbers to try, by the widest and the narrowest pitch."""
    radius = setting.below + setting.rise
    soffit = setting.span
    if not setting.level_back:
        # Along the curve; along a half circle it is half as long again as the span.
        soffit = 2 * setting.angle * radius
    back = 2 * setting.angle * (radius + setting.depth)
    if setting.key is not None:
        soffit -= setting.key.width
    fewest = 2 if even else 1 if setting.key is None else 3
    first = max(fewest, (int(soffit / widest) - 2) // 2 * 2 + (0 if even else 1))
    return range(first, int(back / narrowest) + 4, 2)


def lay_sawn(ring: tuple[Point, ...], tilt: float) -> Outline:
    """Return a voussoir's ring as it lies on the brick it is sawn from, upright."""
    turned = [turn((float(x), float(y)), tilt) for x, y in ring]
    left, low = (min(spot[i] for spot in turned) for i in (0, 1))
    points = tuple((_fine(x - left), _fine(y - low)) for x, y in turned)
    return Outline("front", points, tuple(range(len(points))))
