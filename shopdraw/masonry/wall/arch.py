"""The form of an arch that is set out.

In:  nothing.   Out: `Arch` and what it holds.
Frame: as `Surround`: x along the faces from the left end, y up from the datum.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Point = tuple[Fraction, Fraction]
ARCH_GRID = 65_536
"""Points of an arch lie on a grid of one part in so many."""


@dataclass(frozen=True)
class ArchJoint:
    """A joint between voussoirs, or at a skewback: its width at both ends."""

    at_soffit: float
    at_back: float


@dataclass(frozen=True)
class Arch:
    """An arch set out.

    Attributes:
        kind: "jack arch", "segmental arch" or "semicircular arch".
        span: from spring point to spring point, level.
        spring: the level of the spring line.
        rise: from there to the crown of the soffit; a jack arch's camber.
        depth: from soffit to back, at the key; of a jack arch, from the spring line.
        centre: the point that every joint is turned to.
        radius: of the soffit; 0 where it is straight.
        skewback_deg: how far the skewbacks lean from the vertical.
        are_whole: whether voussoirs are brick as delivered, between tapered joints.
        whole_joints: where whole voussoirs were asked for and can't be, the narrowest
            and the widest joint of the number that came nearest; else None.
        voussoirs: the rings on the wall, left to right; where one brick is too short,
            two between the same rays, the lower one first.
        tilts: how far each voussoir leans to the right, in radians.
        joints: ring by ring, the lowest first; left to right, those at the skewbacks
            included.
        soffit: left to right, as the voussoirs make it, from spring to spring.
        keep_out: the ring that brick beside and above keeps out of.
        curve: the soffit's true curve, in chords too short to tell from it.
        counts: how many voussoirs each ring has, the lowest first; the keystone is one.
        ring_depth: how deep one ring is.
        feet: which of `voussoirs` have their foot at the soffit.
        keystone: which of `voussoirs` is a keystone made to size; None without one.
        over: the joint over the back.
        strip: what is left at the crown of the course that the back and its joint end
            in; None where that course is not cut.
        least_strip: what must be left of it.
        better_depths: where too little is left of it, the nearest depths, less and
            more, that leave none or enough.
    """

    kind: Literal["jack arch", "segmental arch", "semicircular arch"]
    span: Fraction
    spring: Fraction
    rise: Fraction
    depth: Fraction
    centre: Point
    radius: float
    skewback_deg: float
    are_whole: bool
    whole_joints: tuple[float, float] | None
    voussoirs: tuple[tuple[Point, ...], ...]
    tilts: tuple[float, ...]
    joints: tuple[ArchJoint, ...]
    soffit: tuple[Point, ...]
    keep_out: tuple[Point, ...]
    curve: tuple[Point, ...] = ()
    counts: tuple[int, ...] = ()
    ring_depth: Fraction = Fraction(0)
    feet: tuple[int, ...] = ()
    keystone: int | None = None
    over: Fraction = Fraction(0)
    strip: Fraction | None = None
    least_strip: Fraction = Fraction(0)
    better_depths: tuple[Fraction, ...] = ()

    @property
    def is_cut_thin(self) -> bool:
        """Whether too little is left of the course over the crown."""
        return self.strip is not None and self.strip < self.least_strip

    @property
    def crown(self) -> Fraction:
        """The level of the top of the key."""
        return max(y for ring in self.voussoirs for _, y in ring)
