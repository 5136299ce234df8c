"""Reckon with corners that are not square: what an angle takes, and what it gives.

In:  angles in degrees, lengths.   Out: sines and cosines, lengths.
Frame: any lengths. A corner turns by as much as the second face is turned away from the
line of the first: 90 degrees where it is square, 75 where a jamb splays by 15.
"""

from __future__ import annotations

from fractions import Fraction
from math import acos, ceil, cos, degrees, radians, sin, tan

from shopdraw.lengths import Lengths, rounded, shown_step

SQUARE = Fraction(90)
"""How far a square corner turns."""
FINE = 1 << 20
"""Sines and cosines are kept as one part in so many."""
FINEST_ANGLE = 100
"""Angles are kept to one part of a degree in so many: finer than any saw is set."""
SAW_SET = Fraction(1, 2)
"""In degrees: an angle that follows from two lengths is rounded to this. No saw is set
finer, and no tape gives it better."""
EXACT: dict[Fraction, tuple[Fraction, Fraction]] = {
    Fraction(0): (Fraction(1), Fraction(0)),
    SQUARE: (Fraction(0), Fraction(1)),
}


def angle_of(degrees: float | None) -> Fraction:
    """Return an angle as it was typed, as exactly as it is kept; 0 for none."""
    return Fraction(str(degrees or 0)).limit_denominator(FINEST_ANGLE)


def cos_sin(turn: Fraction) -> tuple[Fraction, Fraction]:
    """Return the cosine and the sine of an angle, of 0 and 90 without rounding."""
    if turn in EXACT:
        return EXACT[turn]
    angle = radians(turn)
    return Fraction(round(cos(angle) * FINE), FINE), Fraction(
        round(sin(angle) * FINE), FINE
    )


def taken_at_mitre(thick: Fraction, turn: Fraction) -> Fraction:
    """Return how much shorter a mitred leg is inside than outside.

    The mitre halves the turn, so it is the thickness times the tangent of half the
    turn: all of the thickness at a square corner.
    """
    if turn == SQUARE:
        return thick
    return thick * Fraction(round(tan(radians(turn) / 2) * FINE), FINE)


def grown_at(build_out: Fraction, turn: Fraction, lengths: Lengths) -> Fraction:
    """Return how far brick and bed move a corner along either face, off the substrate.

    Both faces are covered, and the corner moves out along the line that halves it. At a
    corner that is not square it is rounded to what a tape shows.
    """
    if turn == SQUARE:
        return build_out
    return rounded(taken_at_mitre(build_out, turn), lengths)


def gained_at_wall(build_out: Fraction, splay: Fraction, lengths: Lengths) -> Fraction:
    """Return how much longer a finished return is at its wall than the one behind it.

    The wall is square to a return that goes straight back. It meets one that splays
    aslant, and the finished face stands further out; less than nothing where the
    breast is narrower at the wall. Rounded to what a tape shows.
    """
    return rounded(build_out * _tangent(splay), lengths)


def short_of_wall(thick: Fraction, splay: Fraction, lengths: Lengths) -> Fraction:
    """Return how much wider the joint at the wall is on the face than behind.

    Brick is sawn square to its face, so that where a return splays the back of its end
    is nearest to the wall. Up to the next mark of a tape; nothing where the face is
    nearest.
    """
    step = shown_step(lengths)
    return max(Fraction(0), ceil(thick * _tangent(splay) / step) * step)


def _tangent(angle: Fraction) -> Fraction:
    if not angle:
        return Fraction(0)
    return Fraction(round(tan(radians(angle)) * FINE), FINE)


def along_mitre(thick: Fraction, turn: Fraction) -> Fraction:
    """Return how much of a leg's length a saw cut of that width takes at the mitre."""
    return thick * Fraction(ceil(FINE / cos(radians(turn) / 2)), FINE)


def square_depth(along: Fraction, splay: Fraction) -> Fraction:
    """Return how far back, square to the front, a face reaches that splays."""
    return along * cos_sin(splay)[0]


def splay_of(along: Fraction, deep: Fraction) -> Fraction:
    """Return the splay, in degrees, of a face that long which reaches that far back.

    It is rounded to half a degree.

    Args:
        along: its length along its own face.
        deep: how far back it reaches, square to the front; no more than `along`.
    """
    return round(Fraction(degrees(acos(deep / along))) / SAW_SET) * SAW_SET
