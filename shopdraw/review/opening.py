"""The opening as it was found and as the brick leaves it.

In:  `Job`, `Surround`, `Coursing`.   Out: `Openings`.
Frame: as `Surround`: x along the faces from the left end, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor, isqrt

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.boxes import Box
from shopdraw.masonry.wall.folding import far_end
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import area_within
from shopdraw.masonry.wall.surround import opening_ring
from shopdraw.review.curved import Nearest, Point, height_over, nearest_to

FILLED = ("mortar", "soft")
"""The joints that are filled: there the finished edge is the opening as found."""
FINEST = 10**6
"""A distance that no fraction equals is rounded down to one part in so many."""
CLOSE = 1e-3
"""How far floating point may be off, in those parts."""


@dataclass(frozen=True)
class Rectangle:
    """A rectangle on the developed plane, or the one that is drawn round a shape.

    Attributes:
        true_area: the area of the shape itself, where it is no rectangle.
        ring: the shape itself under an arch, its feet first, then its soffit; empty
            where its distances are those of the rectangle.
    """

    left: Fraction
    right: Fraction
    bottom: Fraction
    top: Fraction
    true_area: Fraction | None = None
    ring: tuple[Point, ...] = ()

    @property
    def area(self) -> Fraction:
        """In the square of the job's lengths."""
        if self.true_area is not None:
            return self.true_area
        return (self.right - self.left) * (self.top - self.bottom)

    @property
    def box(self) -> Box:
        """The rectangle in floating point."""
        return float(self.left), float(self.bottom), float(self.right), float(self.top)


@dataclass(frozen=True)
class Gap:
    """How far a rectangle lies from the opening.

    Attributes:
        shortest: between their nearest points.
        above: how high above the head it lies; None for what is not over the opening.
    """

    shortest: Fraction
    above: Fraction | None


@dataclass(frozen=True)
class Openings:
    """The opening as found and as finished; the stricter of the two always governs.

    Attributes:
        found: as measured, from the datum.
        finished: between the brick edges (or the filled joints at the jambs), from the
            top of any finish still to be laid on the hearth up to the head where the
            courses make it. Where the jambs splay, it is the one in the face.
        at_back: where the jambs splay, the finished opening at their back, where the
            firebox begins; the smaller one.
    """

    found: Rectangle
    finished: Rectangle
    at_back: Rectangle | None = None

    @property
    def governing_area(self) -> Fraction:
        """The greater of the two: a larger opening asks for a larger hearth."""
        return max(self.found.area, self.finished.area)

    @property
    def outer(self) -> Rectangle:
        """The rectangle round both: whatever is near either is as near to this."""
        return Rectangle(
            left=min(self.found.left, self.finished.left),
            right=max(self.found.right, self.finished.right),
            bottom=min(self.found.bottom, self.finished.bottom),
            top=max(self.found.top, self.finished.top),
        )

    def gap_to(self, other: Rectangle) -> Gap:
        """Return how far a rectangle lies from the nearer of the two openings.

        Under an arch it is measured from the curve, and rounded down.
        """
        nearest = self.nearest(other)
        if nearest is not None:
            heights = [
                high
                for ring in (self.found.ring, self.finished.ring)
                if (high := height_over(ring[2:], other.box)) is not None
            ]
            return Gap(
                _rounded_down(nearest.distance),
                _rounded_down(min(heights)) if len(heights) == 2 else None,
            )
        outer, none = self.outer, Fraction(0)
        beside = max(other.left - outer.right, outer.left - other.right, none)
        upright = max(other.bottom - outer.top, outer.bottom - other.top, none)
        is_above = not beside and other.bottom >= outer.top
        return Gap(
            shortest=_hypotenuse(beside, upright),
            above=upright if is_above else None,
        )

    def nearest(self, other: Rectangle) -> Nearest | None:
        """Find the shortest way from an arched opening; None from a rectangle."""
        rings = [x.ring for x in (self.found, self.finished) if x.ring]
        ways = (nearest_to(ring, other.box) for ring in rings)
        return min(ways, key=lambda way: way.distance, default=None)


def trace_openings(
    job: Job, surround: Surround, coursing: Coursing, arch: Arch | None
) -> Openings:
    """Trace the opening as found and as finished, at their widest and highest.

    Under an arch both follow its true curve, which is outside the chords that straight
    brick makes of it: the larger opening is the stricter one.
    """
    opening, none = surround.opening, Fraction(0)
    is_filled = opening.jambs.kind in FILLED
    later = job.hearth.later if job.hearth else none
    built = surround.as_built
    found = built.opening(built.lowest_head)
    if arch is not None:
        up = built.lowest_head - coursing.head
        found = (*found[:2], *((x, y + up) for x, y in reversed(arch.curve)))
    beside = opening.covered if is_filled else opening.beside
    finished = opening_ring(surround, coursing.head, arch, beside)
    if arch is not None:
        finished = (*finished[:2], *reversed(arch.curve))
    rounded = _round(finished, later, is_curved=arch is not None)
    return Openings(
        found=_round(found, none, is_curved=arch is not None),
        finished=rounded,
        at_back=_at_back(surround, rounded),
    )


def _at_back(surround: Surround, finished: Rectangle) -> Rectangle | None:
    """Return the finished opening at the back of splayed jambs; None at square ones."""
    if not surround.splay:
        return None
    start = surround.front.left
    left, right = (start + far_end(surround, x)[0] for x in surround.reveals)
    return replace(finished, left=left, right=right, true_area=None, ring=())


def area_held(job: Job, openings: Openings) -> Fraction:
    """Return the area of the stricter opening, or of the one that was agreed on."""
    if job.rules.area == "stricter":
        return openings.governing_area
    agreed = openings.found if job.rules.area == "found" else openings.finished
    return agreed.area


def _round(ring: Iterable[Point], bottom: Fraction, *, is_curved: bool) -> Rectangle:
    """Return the rectangle round an opening above a level, with its true area."""
    points = tuple(ring)
    xs, ys = zip(*points, strict=True)
    below = (points[1][0] - points[0][0]) * bottom
    return Rectangle(
        left=min(xs),
        right=max(xs),
        bottom=bottom,
        top=max(ys),
        true_area=area_within(points) - below,
        ring=points if is_curved else (),
    )


def _rounded_down(distance: float) -> Fraction:
    # What floating point takes off a whole figure is put back.
    return Fraction(floor(distance * FINEST + CLOSE), FINEST)


def _hypotenuse(a: Fraction, b: Fraction) -> Fraction:
    """Return the root of a^2 + b^2, exact where it is a fraction, else rounded down."""
    square = a * a + b * b
    top, bottom = isqrt(square.numerator), isqrt(square.denominator)
    if Fraction(top, bottom) ** 2 == square:
        return Fraction(top, bottom)
    return Fraction(isqrt(int(square * FINEST * FINEST)), FINEST)
