"""Measure the bond as laid: the least piece, the least lap, and what breaks the rules.

In:  `BondPlan`, `Piece`s with their outlines.   Out: `BrokenRule`s, the least piece,
laps, what falls short of being a piece.
Frame: as `Surround`.

Nothing here comes from the solver: what it chose is measured again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal

import numpy as np

from shopdraw.job.model import Job
from shopdraw.job.model_face import SIDES
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bond.solve import SolvedBond
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.sawing.shapes import (
    Shortfall,
    find_shortfall,
    length_of,
    limits_of,
)
from shopdraw.masonry.wall.bond_rules import SHAPE_RULES, BrokenRule, Least, RuleName
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import RUNNING_KINDS, Outline, Piece
from shopdraw.masonry.wall.surround import corner_legs

NOTHING = 1e-9
"""How far a length in floating point may be off."""
LEVEL_OF: dict[RuleName, int] = {"least piece": 1, "least lap": 3}
"""At which level of the order of merit what breaks a rule is counted."""
HIDDEN_END: dict[FaceName, Literal["left", "right"]] = {
    "left": "left",
    "right": "right",
    "left reveal": "right",
    "right reveal": "left",
}
"""At which end a face runs against a wall, out of view, unless an alcove is there."""


def hidden_end(job: Job, face: FaceName) -> Literal["left", "right"] | None:
    """Return at which end a face runs against a wall, out of view; None if it doesn't.

    A return that meets an alcove's brick ends at an inside corner, in view.
    """
    at_alcove = any(face == x and job.face.alcove(x) is not None for x in SIDES)
    return None if at_alcove else HIDDEN_END.get(face)


@dataclass(frozen=True)
class Lap:
    """How far two head joints of neighbouring courses are apart.

    Attributes:
        least: how far, and what is allowed there.
        pieces: the IDs of the pieces beside the two joints.
    """

    least: Least
    pieces: tuple[str, ...]


@dataclass(frozen=True)
class HeadJoint:
    """The joint between two neighbours in a course: its two edges and their IDs."""

    left: Fraction
    right: Fraction
    between: tuple[str, str]
    is_last_before_wall: bool = False


def break_rules(
    pieces: tuple[Piece, ...],
    job: Job,
    laps: tuple[Lap, ...],
    bond: SolvedBond | None,
) -> tuple[BrokenRule, ...]:
    """Return the bond rules that the layout breaks, and the pieces that break them.

    Args:
        pieces: what is laid.
        job: its limits.
        laps: as measured.
        bond: how it was solved; None where not all that is laid comes of that.
    """
    broken = []
    measured: dict[RuleName, list[tuple[Least, tuple[str, ...]]]] = {
        "least piece": [(x, (name,)) for name, x in measure_cuts(pieces, job)],
        "least lap": [(lap.least, lap.pieces) for lap in laps],
    }
    for rule, every in measured.items():
        under = [each for each in every if each[0].measured < each[0].allowed]
        worst = nearest_least(least for least, _ in under)
        if worst is not None:
            names = {name for _, some in under for name in some}
            is_sure = bond is not None and bond.searched_with(LEVEL_OF[rule])
            why = (
                "every way of laying this bond here was looked at, and the best still"
                if is_sure
                else "not every way of laying this bond was looked at; the best found"
            )
            broken.append(
                BrokenRule(
                    rule=rule,
                    least=worst.allowed,
                    measured=worst.measured,
                    pieces=tuple(x.id for x in pieces if x.id in names),
                    why=f"{why} has {rule.split()[1]}s under the least",
                )
            )
    return tuple(broken)


def break_shapes(
    pieces: tuple[Piece, ...], job: Job, coursing: Coursing
) -> tuple[BrokenRule, ...]:
    """Return which pieces can't be sawn for their shape, a rule a time."""
    under: dict[RuleName, list[tuple[str, Least]]] = defaultdict(list)
    for name, short in measure_shapes(pieces, job, coursing):
        under[short.rule].append((name, short.least))
    broken = []
    for rule in SHAPE_RULES:
        if rule in under:
            name, worst = min(
                under[rule], key=lambda x: (x[1].measured / x[1].allowed, x[0])
            )
            broken.append(
                BrokenRule(
                    rule=rule,
                    least=worst.allowed,
                    measured=worst.measured,
                    pieces=tuple(name for name, _ in under[rule]),
                    why=f"the worst is {name}; no perpend beside it that was tried "
                    "mends it, nor does joining it to its neighbour",
                )
            )
    return tuple(broken)


def measure_shapes(
    pieces: tuple[Piece, ...], job: Job, coursing: Coursing
) -> Iterator[tuple[str, Shortfall]]:
    """Yield the ID of each piece that falls short by its shape, and of what."""
    limits, at_wall = limits_of(job), _ending_at_walls(pieces, job)
    high = {course.number: course.height for course in coursing.courses}
    for piece in pieces:
        least = limits.length * (Fraction(3, 4) if piece.id in at_wall else 1)
        tall = high.get(piece.course, job.brick.height)
        short = find_shortfall(piece, limits, tall, least)
        if short is not None:
            yield piece.id, short


def nearest_least(every: Iterable[Least]) -> Least | None:
    """Return what comes nearest to breaking a rule, or breaks it most."""
    return min(every, key=lambda x: (x.measured - x.allowed, x.measured), default=None)


def measure_cuts(pieces: tuple[Piece, ...], job: Job) -> Iterator[tuple[str, Least]]:
    """Yield the ID and the length of each cut stretcher, and of each trimmed leg.

    Headers and closers are as short as the bond has them. Three quarters of the least
    will do where a piece ends at a hidden wall.
    """
    least = job.bond.least_piece
    at_wall = _ending_at_walls(pieces, job)
    for piece in pieces:
        length = _shortest(piece, job)
        if length is not None:
            is_hidden = piece.id in at_wall and len(piece.outlines) == 1
            yield piece.id, Least(length, least * 3 / 4 if is_hidden else least)


def _ending_at_walls(pieces: tuple[Piece, ...], job: Job) -> frozenset[str]:
    """Return the IDs of the pieces that end a course at a hidden wall."""
    rows: dict[tuple[FaceName, int], list[tuple[Outline, str]]] = defaultdict(list)
    for piece in pieces:
        for outline in piece.outlines:
            if hidden_end(job, outline.face) and piece.kind in RUNNING_KINDS:
                rows[outline.face, piece.course].append((outline, piece.id))
    ends = set()
    for (face, _), row in rows.items():
        row.sort(key=lambda each: each[0].left)
        ends.add(row[0 if hidden_end(job, face) == "left" else -1][1])
    return frozenset(ends)


def _shortest(piece: Piece, job: Job) -> Fraction | None:
    """Return the length of a cut, or of a trimmed leg; None for any other piece."""
    if piece.kind == "stretcher" and piece.length < job.brick.length:
        return length_of(piece.outlines[0])
    if piece.kind == "corner unit" and piece.is_trimmed:
        # A long leg may be sawn to be just as long as a short one.
        edges = zip(piece.outlines, piece.legs, strict=True)
        return min(leg for x, leg in edges if f"{x.face} leg" in piece.cut_edges)
    if piece.kind == "corner unit" and piece.is_made and job.brick.corner:
        bought = corner_legs(job.brick.corner, job.brick.thickness)
        return min((leg for leg in piece.legs if leg not in bought), default=None)
    return None


def head_joints(outlines: list[tuple[Outline, str]], job: Job) -> Iterator[HeadJoint]:
    """Yield the joints between neighbours of one course on one face."""
    widest = job.joints.head.most
    ordered = sorted(outlines, key=lambda pair: pair[0].left)
    last = len(ordered) - 2
    for place, ((a, id_a), (b, id_b)) in enumerate(pairwise(ordered)):
        if 0 < b.left - a.right <= widest:
            hidden = hidden_end(job, a.face)
            is_last = place == (0 if hidden == "left" else last)
            yield HeadJoint(
                a.right, b.left, (id_a, id_b), hidden is not None and is_last
            )


def _at_inside_corner(
    surround: Surround, row: list[tuple[Outline, str]]
) -> Iterator[HeadJoint]:
    """Yield the joint by which a course of a face butts the other at an inside corner.

    It is seen as any head joint is, and the course above must lap it as one.
    """
    face = surround.face(row[0][0].face)
    corner = face.inside_corner
    if corner is None:
        return
    if corner == face.seen[1]:
        end, name = max((outline.right, name) for outline, name in row)
        if end < corner:
            yield HeadJoint(end, corner, (name, name))
    else:
        end, name = min((outline.left, name) for outline, name in row)
        if end > corner:
            yield HeadJoint(corner, end, (name, name))


def measure_laps(
    plan: BondPlan, pieces: tuple[Piece, ...], coursing: Coursing
) -> Iterator[Lap]:
    """Yield the laps between courses that lie on each other; none in stack bond.

    For every two courses these are all the laps under the least, and the shortest. A
    bond whose own lap is shorter is held to its own, less two joint steps; where a
    joint is the last before a wall that hides the end, half of that is enough.
    """
    rows: dict[tuple[FaceName, int], list[tuple[Outline, str]]] = defaultdict(list)
    for piece in pieces:
        if piece.kind in RUNNING_KINDS:
            for outline in piece.outlines:
                rows[outline.face, piece.course].append((outline, piece.id))
    joints = {
        key: (*head_joints(row, plan.job), *_at_inside_corner(plan.surround, row))
        for key, row in rows.items()
    }
    running = {course.number for course in coursing.courses if course.is_running}
    for face, course in sorted(rows):
        below, above = joints[face, course], joints.get((face, course + 1), ())
        kinds = plan.kind(course), plan.kind(course + 1)
        if course + 1 not in running or not below or not above:
            continue
        if plan.sizes.own_lap(*kinds):
            least = plan.off_grid(plan.sizes.least_lap(*kinds))
            yield from _laps_between(below, above, least)


def _laps_between(
    below: tuple[HeadJoint, ...], above: tuple[HeadJoint, ...], least: Fraction
) -> Iterator[Lap]:
    """Yield the laps under the least between two courses, and the shortest."""
    # Floating point picks them out; how long they are is then worked out exactly.
    lower, upper = (
        np.array([(joint.left, joint.right) for joint in row], float)
        for row in (below, above)
    )
    laps = np.maximum(
        upper[None, :, 0] - lower[:, None, 1], lower[:, None, 0] - upper[None, :, 1]
    )
    wanted = laps < float(least) + NOTHING
    wanted[np.unravel_index(laps.argmin(), laps.shape)] = True
    for i, j in np.argwhere(wanted):
        a, b = below[i], above[j]
        length = max(b.left - a.right, a.left - b.right, Fraction(0))
        is_hidden = a.is_last_before_wall or b.is_last_before_wall
        allowed = least / 2 if is_hidden else least
        yield Lap(Least(length, allowed), (*a.between, *b.between))
