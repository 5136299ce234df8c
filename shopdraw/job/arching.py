"""Work out arches by their published relations, for checks and for setting out.

In:  span, rise.   Out: radius, angles, camber.
Frame: any lengths; angles in radians, from the vertical.
"""

from __future__ import annotations

from fractions import Fraction
from math import asin, atan

from shopdraw.lengths import MM_PER_INCH, Lengths

SPAN_TO_OFFSET = 96
"""A skewback leans 1/2 in for each foot of span and each 4 in of depth: its offset is
depth times span over 96 in. Technical Note 31A, reprint 1975; read in the source."""
SPAN_TO_CAMBER = 96
"""A jack arch is cambered 1/8 in for each foot of span; second-hand."""
DEEPEST = Fraction(5, 4)
"""The deepest arch, in brick lengths: a voussoir is at most two pieces, and the longer
one, two thirds of its slanting depth, must come out of one brick."""


def segmental_radius(span: float, rise: float) -> float:
    """Return the radius of an arc from its span S and rise r: S^2 / 8r + r / 2."""
    return span * span / (8 * rise) + rise / 2


def segmental_skewback(span: float, rise: float) -> float:
    """Return the angle of a segmental arch's skewback."""
    return asin(span / (2 * segmental_radius(span, rise)))


def jack_skewback(span: float, lengths: Lengths) -> float:
    """Return the angle of a jack arch's skewback."""
    inches = span if lengths == "in" else span / float(MM_PER_INCH)
    return atan(inches / SPAN_TO_OFFSET)


def jack_camber(span: Fraction) -> Fraction:
    """Return the camber that the usual rule gives a jack arch."""
    return span / SPAN_TO_CAMBER
