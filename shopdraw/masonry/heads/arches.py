"""Set out an arch: its skewbacks, its soffit and back, and every voussoir.

In:  `Job`, `Surround`, `Coursing`.   Out: `Arch`.
Frame: as `Surround`; worked in floating point, points are put on a fine grid.

A ray runs from the centre of the arch through the middle of every joint. There is an
odd number of voussoirs, so that one of them, the key, stands on the centre line.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import degrees, tan
from typing import Literal

from shopdraw.job.arching import (
    DEEPEST,
    jack_camber,
    jack_skewback,
    segmental_radius,
    segmental_skewback,
)
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.heads.voussoirs import (
    Ring,
    SetOut,
    Setting,
    Spot,
    extent_along,
    turn,
)
from shopdraw.masonry.wall.arch import ARCH_GRID, Arch
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Outline

Point = tuple[Fraction, Fraction]

ROUNDING = 1e-9
"""How far floating point may be off, in the job's lengths."""


def set_out_arch(job: Job, surround: Surround, coursing: Coursing) -> Arch | None:
    """Set out the arch over the opening; None under any other head."""
    kind = surround.opening.head
    if kind not in ("jack arch", "segmental arch"):
        return None
    (left, right), spring = springs(surround, coursing), coursing.head
    span = right - left
    middle = (left + right) / 2
    if kind == "jack arch":
        camber = job.arch.camber
        rise = jack_camber(span) if camber is None else camber
        depth = (coursing.soldier_top or spring) - spring
        angle = jack_skewback(float(span), job.lengths)
        below = float(span) / 2 / tan(angle)
    else:
        rise = job.arch.rise or Fraction(0)
        depth = _depth_under_courses(job, coursing, job.arch_depth)
        angle = segmental_skewback(float(span), float(rise))
        below = segmental_radius(float(span), float(rise)) - float(rise)
    setting = Setting(
        span=float(span),
        rise=float(rise),
        depth=float(depth),
        below=below,
        angle=angle,
        width=float(job.brick.height),
        length=float(job.brick.length),
        joint=job.joints.head,
        level_back=kind == "jack arch",
    )
    choice = _choose(setting, job.arch.voussoirs)
    are_whole = choice.joint is None
    end_joint = choice.joint or float(setting.joint.preferred)
    set_out = SetOut(setting, choice.count, end_joint, are_whole)
    rings = set_out.rings(float(job.joints.bed.preferred))

    def placed(spots: Iterator[Spot] | Ring) -> tuple[Point, ...]:
        half = span / 2
        return tuple(
            (middle + _fine(x, -half, half), spring + _fine(y, depth)) for x, y in spots
        )

    return Arch(
        kind=kind,
        span=span,
        spring=spring,
        rise=rise,
        depth=depth,
        centre=(middle, spring - _fine(below)),
        radius=segmental_radius(setting.span, setting.rise) if rise else 0.0,
        skewback_deg=degrees(angle),
        are_whole=are_whole,
        whole_joints=choice.whole_joints,
        voussoirs=tuple(placed(ring) for ring, _ in rings),
        tilts=tuple(tilt for _, tilt in rings),
        joints=tuple(set_out.joints()),
        soffit=placed(set_out.soffit()),
        keep_out=placed(set_out.keep_out(float(job.joints.bed.preferred))),
    )


def _depth_under_courses(job: Job, coursing: Coursing, asked: Fraction) -> Fraction:
    """Return a depth that leaves no thin strip of a course over the crown.

    If less than a quarter of a brick's height would be left of the course that the
    crown ends in, the arch goes up to a joint below the next course; where there is no
    next course, or that is too deep, it stays lower (common practice, no published
    source).
    """
    soffit = coursing.head + (job.arch.rise or Fraction(0))
    joint, strip = job.joints.bed.preferred, job.brick.height / 4
    crown = soffit + asked
    for course in coursing.courses:
        left = course.top - crown - joint
        if (
            course.bottom - joint < crown
            and left < strip
            and course.top + joint > crown
        ):
            above = [c.bottom for c in coursing.courses if c.bottom > course.bottom]
            reach = min(above) - joint - soffit if above else Fraction(0)
            if above and reach <= job.brick.length * DEEPEST:
                return reach
            return asked + left - strip
    return asked


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


def _choose(setting: Setting, asked: Literal["best", "whole", "cut"]) -> _Voussoirs:
    """Choose how many voussoirs there are, and whether they are whole or sawn.

    Whole: the odd number whose joints, on average, are nearest the preferred and are
    in range at both ends. Sawn: the smallest odd number that brick is wide enough for.
    """
    least, most = float(setting.joint.least), float(setting.joint.most)
    preferred = float(setting.joint.preferred)
    missed = None
    if asked != "cut" and not setting.level_back:
        tries = [
            (count, _joints_of(setting, count, preferred))
            for count in _odd_counts(
                setting, setting.width + most, setting.width + least
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
    for count in _odd_counts(setting, 2 * pitch, setting.width / 8):
        set_out = SetOut(setting, count, preferred, is_whole=False)
        across = max(
            extent_along(ring, tilt)[0] for ring, tilt in set_out.plain_rings()
        )
        if across <= setting.width + ROUNDING:
            break
    return _Voussoirs(count, preferred, missed)


def _joints_of(setting: Setting, count: int, end_joint: float) -> list[float]:
    joints = SetOut(setting, count, end_joint, is_whole=True).joints()
    return [width for joint in joints for width in (joint.at_soffit, joint.at_back)]


def _odd_counts(setting: Setting, widest: float, narrowest: float) -> range:
    """Return the odd numbers to try, by the widest and the narrowest pitch."""
    back = 2 * setting.angle * (setting.below + setting.rise + setting.depth)
    soffit = setting.span
    first = max(1, int(soffit / widest) - 2) // 2 * 2 + 1
    return range(first, int(back / narrowest) + 4, 2)


def lay_sawn(ring: tuple[Point, ...], tilt: float) -> Outline:
    """Return a voussoir's ring as it lies on the brick it is sawn from, upright."""
    turned = [turn((float(x), float(y)), tilt) for x, y in ring]
    left, low = (min(spot[i] for spot in turned) for i in (0, 1))
    points = tuple((_fine(x - left), _fine(y - low)) for x, y in turned)
    return Outline("front", points, tuple(range(len(points))))
