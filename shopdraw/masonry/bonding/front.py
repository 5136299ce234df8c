"""The form of a front that is to be bonded.

In:  nothing.   Out: `Front`.
Frame: whole numbers on the caller's grid, left to right.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.masonry.bonding.legs import LegSpan, Near


@dataclass(frozen=True)
class Front:
    """A front with its opening.

    Attributes:
        left, right: where the front begins and ends.
        jambs: where the opening is.
        ends: what is at the left and at the right.
        leg_kinds: the kinds of the legs' courses, bottom up.
        over_kinds: the kinds of the courses over the opening, bottom up; none where
            nothing runs over it.
        is_mirrored: whether the front is its own mirror image.
        is_turned: whether corner units turn into the jambs.
        is_apart: whether a course that is none of the bond's lies between the legs and
            the courses over the opening.
    """

    left: int
    right: int
    jambs: tuple[int, int]
    ends: tuple[Near, Near]
    leg_kinds: tuple[int, ...]
    over_kinds: tuple[int, ...]
    is_mirrored: bool
    is_turned: bool = False
    is_apart: bool = False

    @property
    def about(self) -> int:
        """Twice the opening's centre line."""
        return self.jambs[0] + self.jambs[1]

    @property
    def left_leg(self) -> LegSpan:
        """The left leg."""
        return LegSpan(
            self.left,
            self.jambs[0],
            self.ends[0],
            "turned" if self.is_turned else "jamb",
            self.leg_kinds,
        )

    @property
    def right_leg(self) -> LegSpan:
        """The right leg, mirrored about nothing, so that it begins at its end."""
        return LegSpan(
            -self.right,
            -self.jambs[1],
            self.ends[1],
            "turned" if self.is_turned else "jamb",
            self.leg_kinds,
        )


def head_of(front: Front) -> tuple[int, int] | None:
    """Return the kinds of the legs' top course and of the first course over."""
    if not front.leg_kinds or not front.over_kinds or front.is_apart:
        return None
    pair = front.leg_kinds[-1], front.over_kinds[0]
    return None if pair[0] == pair[1] else pair
