"""Soldiers over a width, as a person would look for them: every row is written down.

In:  a width, a soldier's face, the range of the joints, what may be done at the ends.
Out: the best row by the rules, or None.
Frame: exact; a row is the widths of its pieces, left to right, its joint, and how far
it goes past both ends.

It knows nothing of the program: the rows are listed piece by piece, their joints step
by step, and the rules pick among them.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

F = Fraction
Row = tuple[tuple[Fraction, ...], Fraction, Fraction]


@dataclass(frozen=True)
class Asked:
    """A width and what is asked of it.

    Attributes:
        joint: the least, the preferred and the most.
        end_joints: how many of the two ends have a joint.
        step: what joints and bearings are tried in, beside the exact ones.
        room: how far past the ends the row may go; nothing where it may not.
    """

    width: Fraction
    face: Fraction
    joint: tuple[Fraction, Fraction, Fraction]
    end_joints: int
    step: Fraction
    room: Fraction
    centre: str = "best"


def fills(asked: Asked, row: Row) -> bool:
    """Whether pieces and joints add up to the width and what it goes past it."""
    pieces, joint, past = row
    joints = len(pieces) - 1 + asked.end_joints
    return sum(pieces) + joints * joint == asked.width + 2 * past


def all_joints(asked: Asked) -> list[Fraction]:
    least, preferred, most = asked.joint
    joints = {least, preferred, most}
    at = least
    while at <= most:
        joints.add(at)
        at += asked.step / 4
    return sorted(joints)


def whole_rows(asked: Asked, past: Fraction) -> list[Row]:
    """Every number of whole soldiers, with the one joint that fills the width."""
    rows = []
    width = asked.width + 2 * past
    for count in range(1, 80):
        joints = count - 1 + asked.end_joints
        left = width - count * asked.face
        if joints == 0:
            if left == 0:
                rows.append(((asked.face,), F(0), past))
        elif asked.joint[0] <= left / joints <= asked.joint[2]:
            rows.append(((asked.face,) * count, left / joints, past))
    return rows


def sawn_rows(asked: Asked, least: Fraction, *, at_ends: bool) -> list[Row]:
    """Every row with two equal sawn soldiers, at the ends or beside the centre."""
    rows = []
    for joint in all_joints(asked):
        for count in range(2, 80):
            joints = count - 1 + asked.end_joints
            cut = (asked.width - (count - 2) * asked.face - joints * joint) / 2
            if not least <= cut < asked.face:
                continue
            pieces = [asked.face] * count
            places = (0, count - 1)
            if not at_ends:
                if count % 2:
                    continue
                places = (count // 2 - 1, count // 2)
            for place in places:
                pieces[place] = cut
            rows.append((tuple(pieces), joint, F(0)))
    return rows


def bearings(asked: Asked) -> list[Fraction]:
    found = []
    past = F(0)
    pitch = asked.face + asked.joint[1]
    while past <= min(pitch, asked.room):
        if past >= pitch / 2:
            found.append(past)
        past += asked.step
    return found


def in_middle(row: Row) -> str:
    """Look what is in the middle of a row of pieces."""
    return "unit" if len(row[0]) % 2 else "joint"


def best_row(asked: Asked) -> Row | None:
    """Go through the rules in their order; keep what is asked for if any rule can."""
    for centre in dict.fromkeys((asked.centre, "best")):
        for rows in groups(asked):
            kept = [x for x in rows if centre in ("best", in_middle(x))]
            if kept:
                return min(kept, key=lambda row: merit(asked, row))
    return None


def groups(asked: Asked) -> list[list[Row]]:
    return [
        whole_rows(asked, F(0)),
        sawn_rows(asked, asked.face * 3 / 4, at_ends=True),
        *(whole_rows(asked, past) for past in bearings(asked)),
        sawn_rows(asked, asked.face / 2, at_ends=True),
        sawn_rows(asked, asked.face / 2, at_ends=False),
    ]


def merit(asked: Asked, row: Row) -> tuple[Fraction, ...]:
    """The widest sawn two, then the joint nearest the preferred, then more of them."""
    pieces, joint, _ = row
    departure = abs(joint - asked.joint[1]) if len(pieces) - 1 + asked.end_joints else 0
    return (-min(pieces), F(departure), F(-len(pieces)))
