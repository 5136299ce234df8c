"""Choose how many soldiers fill a width, their joint, and which two of them are sawn.

In:  a width, the soldier's face, the range of the joints.   Out: `SoldierRun`, or None.
Frame: the job's lengths, exact; a run is measured from the left end of its own width.

The order, common practice, no published source: whole soldiers; two equal ones sawn to
three quarters or more, at the ends; whole ones that go past both jambs; two equal ones
of a half or more, at the ends. Two beside the centre, with a joint on it, add up to the
same and need an even number besides: they never fit where two at the ends do not. One
sawn soldier alone is never among them, because an odd one shows.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor
from typing import Literal

from shopdraw.job.model import JointTable

Centre = Literal["best", "unit", "joint"]
NONE = Fraction(0)


@dataclass(frozen=True)
class SoldierRun:
    """Soldiers side by side.

    Attributes:
        places: (left, right) of each, from the left end of the width.
        joint: how wide the joints are.
        joint_count: how many there are, those at the ends included.
        cut: the width that the two at the ends are sawn to; None where all are whole.
        bears: how much further than the width the run goes at each end.
    """

    places: tuple[tuple[Fraction, Fraction], ...]
    joint: Fraction
    joint_count: int
    cut: Fraction | None = None
    bears: Fraction = NONE

    @property
    def middle(self) -> Literal["unit", "joint"]:
        """What is in the middle of the run, which is its own mirror image."""
        return "unit" if len(self.places) % 2 else "joint"

    def mirrored(self, width: Fraction) -> SoldierRun:
        """Return the run turned round in its width."""
        places = tuple((width - b, width - a) for a, b in reversed(self.places))
        return replace(self, places=places)


@dataclass(frozen=True)
class Filling:
    """A width to be filled, and what it may be filled with.

    Attributes:
        width: how much is to be filled, end joints included.
        face: the width that one soldier shows (the height of the brick).
        joint: the range of the joints, which share what is left exactly. They need not
            be whole steps, because whole soldiers are not sawn for them.
        end_joints: whether there is a joint at the left end, and at the right.
        centre: what is to be in the middle, where any rule puts it there.
        bearings: how far past both ends the run may go, the least first.
    """

    width: Fraction
    face: Fraction
    joint: JointTable
    end_joints: tuple[bool, bool]
    centre: Centre = "best"
    bearings: tuple[Fraction, ...] = ()

    def joints_with(self, count: int) -> int:
        """Return how many joints so many soldiers have."""
        return count - 1 + sum(self.end_joints)

    def asked(self, count: int) -> bool:
        """Whether so many soldiers put in the middle what is asked for."""
        return self.centre in ("best", "unit" if count % 2 else "joint")


def share_soldiers(filling: Filling) -> SoldierRun | None:
    """Fill a width with soldiers, by the first rule that has an answer.

    What is asked for on the centre line is kept where any rule keeps it; else the rules
    are gone through again as if nothing had been asked.

    Returns:
        The run; None where no rule has one.
    """
    ways = [filling]
    if filling.centre != "best":
        ways.append(replace(filling, centre="best"))
    return next((run for way in ways if (run := _by_the_rules(way)) is not None), None)


def _by_the_rules(filling: Filling) -> SoldierRun | None:
    return (
        share_whole(filling)
        or _with_two_sawn(filling, filling.face * 3 / 4)
        or _past_the_ends(filling)
        or _with_two_sawn(filling, filling.face / 2)
    )


def share_whole(filling: Filling, spare: Fraction = NONE) -> SoldierRun | None:
    """Fill a width with whole soldiers, the joint as near the preferred as can be.

    Args:
        filling: the width; its bearings are not used.
        spare: how much of the width may be left open at the right end.

    Returns:
        Of two numbers that come equally near the preferred joint, the larger.
    """
    face, joint = filling.face, filling.joint
    best: tuple[Fraction, int, Fraction] | None = None
    for count in range(1, floor(filling.width / face) + 1):
        left_over, joints = filling.width - count * face, filling.joints_with(count)
        if not filling.asked(count):
            continue
        if not joints:
            share, fits = NONE, left_over <= spare
        else:
            least = max(joint.least, (left_over - spare) / joints)
            most = min(joint.most, left_over / joints)
            share = min(max(joint.preferred, least), most)
            fits = least <= most
        if fits:
            departure = abs(share - joint.preferred) if joints else NONE
            key = (departure, -count, share)
            best = key if best is None else min(best, key)
    return None if best is None else _stand(filling, -best[1], best[2])


def _with_two_sawn(filling: Filling, least: Fraction) -> SoldierRun | None:
    """Saw the two at the ends alike, as wide as they can be and no less than `least`.

    The joint is the least, because every narrower joint leaves the two wider. At most
    one number of soldiers brings them to between half a soldier and a whole one.
    """
    face, joint = filling.face, filling.joint.least
    for count in range(2, floor(filling.width / face) + 2):
        joints = filling.joints_with(count)
        cut = (filling.width - (count - 2) * face - joints * joint) / 2
        if least <= cut < face and filling.asked(count):
            return _stand(filling, count, joint, cut)
    return None


def _past_the_ends(filling: Filling) -> SoldierRun | None:
    """Go past both ends by the least bearing that whole soldiers fit with."""
    for bearing in filling.bearings:
        wider = replace(filling, width=filling.width + 2 * bearing)
        run = share_whole(wider)
        if run is not None:
            places = tuple((a - bearing, b - bearing) for a, b in run.places)
            return replace(run, places=places, bears=bearing)
    return None


def share_alone(filling: Filling) -> SoldierRun | None:
    """Fill a width that has room for one soldier alone with one that is sawn to it.

    Returns:
        The one; None where it would be under half a soldier, or over a whole one.
    """
    joint = filling.joint.least
    cut = filling.width - sum(filling.end_joints) * joint
    if not filling.face / 2 <= cut < filling.face:
        return None
    return _stand(filling, 1, joint, cut)


def _stand(
    filling: Filling, count: int, joint: Fraction, cut: Fraction | None = None
) -> SoldierRun:
    at = joint if filling.end_joints[0] else NONE
    places = []
    for place in range(count):
        is_last = place in (0, count - 1)
        width = cut if cut is not None and is_last else filling.face
        places.append((at, at + width))
        at += width + joint
    return SoldierRun(tuple(places), joint, filling.joints_with(count), cut)


def bearings_between(
    least: Fraction, most: Fraction, step: Fraction
) -> tuple[Fraction, ...]:
    """Return the multiples of a step from a least to a most, the least first."""
    return tuple(step * n for n in range(-(-least // step), floor(most / step) + 1))
