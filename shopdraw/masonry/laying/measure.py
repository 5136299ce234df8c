"""Measure the bond as laid: the least piece, the least lap, and what breaks the rules.

In:  `Piece`s with their outlines.   Out: `BrokenRule`s, the least piece, the laps.
Frame: as `Surround`.

Nothing here comes from the solver: what it chose is measured again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

import numpy as np

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.layout import RUNNING_KINDS, BrokenRule, Outline, Piece
from shopdraw.masonry.wall.surround import corner_legs

NOTHING = 1e-9
"""How far a length in floating point may be off."""


Lap = tuple[Fraction, tuple[str, ...]]
"""How long a lap is, and the IDs of the pieces beside its two joints."""


@dataclass(frozen=True)
class HeadJoint:
    """The joint between two neighbours in a course: its two edges and their IDs."""

    left: Fraction
    right: Fraction
    between: tuple[str, str]


def break_rules(
    pieces: tuple[Piece, ...], job: Job, laps: tuple[Lap, ...]
) -> tuple[BrokenRule, ...]:
    """Return the bond rules that the layout breaks, and the pieces that break them."""
    broken = []
    small = [piece for piece in pieces if _shortest(piece, job) < job.bond.least_piece]
    if small:
        broken.append(
            BrokenRule(
                rule="least piece",
                least=job.bond.least_piece,
                measured=min(_shortest(piece, job) for piece in small),
                pieces=tuple(piece.id for piece in small),
                why="the layout chosen is the best of those tried, and it still has "
                "pieces under the least",
            )
        )
    short = [(lap, ids) for lap, ids in laps if lap < job.bond.least_lap]
    if short:
        ids = {piece for _, pair in short for piece in pair}
        broken.append(
            BrokenRule(
                rule="least lap",
                least=job.bond.least_lap,
                measured=min(lap for lap, _ in short),
                pieces=tuple(piece.id for piece in pieces if piece.id in ids),
                why="the layout chosen is the best of those tried, and it still has "
                "laps under the least",
            )
        )
    return tuple(broken)


def least_cut(pieces: tuple[Piece, ...], job: Job) -> Fraction:
    """Return the length of the shortest cut piece; a unit's where nothing is cut."""
    lengths = [_shortest(piece, job) for piece in pieces]
    return min((x for x in lengths if x < job.brick.length), default=job.brick.length)


def _shortest(piece: Piece, job: Job) -> Fraction:
    """Return the length that the rule of the least piece holds a piece to.

    It holds a stretcher to its length, and a corner unit to the legs that were trimmed.
    Any other piece counts as a whole unit.
    """
    if piece.kind == "stretcher":
        return piece.length
    if piece.kind == "corner unit" and piece.is_trimmed:
        bought = (
            set(corner_legs(job.brick.corner, job.brick.thickness))
            if job.brick.corner
            else set()
        )
        return min(
            (leg for leg in piece.legs if leg not in bought), default=job.brick.length
        )
    return job.brick.length


def head_joints(
    outlines: list[tuple[Outline, str]], widest: Fraction
) -> Iterator[HeadJoint]:
    """Yield the joints between neighbours of one course on one face."""
    ordered = sorted(outlines, key=lambda pair: pair[0].left)
    for (a, id_a), (b, id_b) in pairwise(ordered):
        if 0 < b.left - a.right <= widest:
            yield HeadJoint(a.right, b.left, (id_a, id_b))


def measure_laps(
    pieces: tuple[Piece, ...], job: Job, coursing: Coursing
) -> Iterator[Lap]:
    """Yield the laps between courses that lie on each other; none in stack bond.

    For every two courses these are all the laps under the least, and the shortest. A
    bond whose own lap is shorter is held to its own, less two joint steps; beside a
    wall that hides the end of a return half of that is enough.
    """
    if job.bond.pattern == "stack":
        return
    rows: dict[tuple[str, int], list[tuple[Outline, str]]] = defaultdict(list)
    for piece in pieces:
        if piece.kind in RUNNING_KINDS:
            for outline in piece.outlines:
                rows[outline.face, piece.course].append((outline, piece.id))
    joints = {
        key: tuple(head_joints(row, job.joints.head.most)) for key, row in rows.items()
    }
    running = {course.number for course in coursing.courses if course.kind == "running"}
    for face, course in sorted(rows):
        below, above = joints[face, course], joints.get((face, course + 1), ())
        if course + 1 not in running or not below or not above:
            continue
        # Floating point picks them out; how long they are is then worked out exactly.
        lower, upper = (
            np.array([(joint.left, joint.right) for joint in row], float)
            for row in (below, above)
        )
        laps = np.maximum(
            upper[None, :, 0] - lower[:, None, 1], lower[:, None, 0] - upper[None, :, 1]
        )
        wanted = laps < float(job.bond.least_lap) + NOTHING
        wanted[np.unravel_index(laps.argmin(), laps.shape)] = True
        for i, j in np.argwhere(wanted):
            a, b = below[i], above[j]
            lap = max(b.left - a.right, a.left - b.right, Fraction(0))
            yield lap, (*a.between, *b.between)
