"""Work out arches by their published relations, for checks and for setting out.

In:  span, rise.   Out: radius, angles, camber, depth.
Frame: any lengths; angles in radians, from the vertical.
"""

from __future__ import annotations

from fractions import Fraction
from math import asin, atan, cos, floor, tan

from shopdraw.lengths import MM_PER_INCH, Lengths

SPAN_TO_OFFSET = 96
"""A skewback leans 1/2 in for each foot of span and each 4 in of depth: its offset is
depth times span over 96 in. Technical Note 31A, reprint 1975; read in the source."""
SPAN_TO_CAMBER = 96
"""A jack arch is cambered 1/8 in for each foot of span; second-hand."""
DEEPEST = Fraction(5, 4)
"""The deepest arch, in brick lengths: a voussoir is at most two pieces, and the longer
one, two thirds of its slanting depth, must come out of one brick."""
REACH_STEP = {"in": Fraction(1, 8), "mm": Fraction(2)}
"""A depth that is ours to choose is a whole number of these."""


def segmental_radius(span: float, rise: float) -> float:
    """Return the radius of an arc from its span S and rise r: S^2 / 8r + r / 2."""
    return span * span / (8 * rise) + rise / 2


def segmental_skewback(span: float, rise: float) -> float:
    """Return the angle of a segmental arch's skewback."""
    return asin(min(1.0, span / (2 * segmental_radius(span, rise))))


def jack_skewback(span: float, lengths: Lengths) -> float:
    """Return the angle of a jack arch's skewback."""
    inches = span if lengths == "in" else span / float(MM_PER_INCH)
    return atan(inches / SPAN_TO_OFFSET)


def jack_camber(span: Fraction) -> Fraction:
    """Return the camber that the usual rule gives a jack arch."""
    return span / SPAN_TO_CAMBER


def jack_reach(
    span: Fraction, length: Fraction, height: Fraction, lengths: Lengths
) -> Fraction:
    """Return how deep a jack arch may be so that each voussoir comes out of one brick.

    The longest stands at the skewback. Its ends are level, so along its axis, which
    leans by g, it is as long as the depth over cos g and its width times tan g.
    """
    angle, step = jack_skewback(float(span), lengths), REACH_STEP[lengths]
    reach = (float(length) - float(height) * tan(angle)) * cos(angle)
    return floor(Fraction(reach) / step) * step
