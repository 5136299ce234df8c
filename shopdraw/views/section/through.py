"""Say where the parts of the section through the opening stand, and how much is shown.

In:  `Solution`, the sizes on paper.   Out: `Through`.
Frame: full size; x from the finished face back into the wall, the room at negative x;
y from the datum.

The brick stands where its bed is thickest: the face is then nearest to the room, and
the hearth before it, and what woodwork stands out from, are at their least.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model_around import TrimTable
from shopdraw.review.envelope import Envelope, trim_envelope
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import ends_of_jambs
from shopdraw.views.parts.figures import Hand
from shopdraw.views.parts.found import head_at_centre

STEP = 4.5
"""How far apart strings of dimensions stand, in heights of lettering."""
WIDE, NARROW = 26.0, 20.0
"""How wide a note is at most, in heights of lettering; on a sheet that stands upright,
which the section would not go on with wider ones."""


@dataclass(frozen=True)
class Through:
    """What the section shows, and where.

    Attributes:
        thick: of the brick.
        reach: where the wall begins, behind the bed at its thickest.
        moved: how far the wall stands further back than where the bed is as drawn
            elsewhere.
        wall, back: where the wall is broken off, and the firebox behind it.
        fire: where the firebox begins; None where it was not given.
        floor, head: the hearth and the opening's head on the centre line.
        roof: where the wall is broken off above.
        over: the top of the opening that distances are measured from.
        trims: the woodwork over the opening, the lowest first.
        envelope: what the rule set allows of it.
        before: where the first string stands, before brick and woodwork.
        is_narrow: the sheet stands upright, so that notes are narrower.
    """

    thick: float
    reach: float
    moved: float
    wall: float
    back: float
    fire: float | None
    floor: Fraction
    head: Fraction
    roof: float
    over: Fraction
    trims: tuple[TrimTable, ...]
    envelope: Envelope | None
    before: float
    is_narrow: bool

    @property
    def wide(self) -> float:
        """How wide a note is at most, in heights of lettering."""
        return NARROW if self.is_narrow else WIDE


def through_of(solution: Solution, hand: Hand) -> Through:
    """Return where the parts of a job's section stand."""
    job, surround = solution.job, solution.surround
    head, over = head_at_centre(solution), solution.openings.outer.top
    thick, reach = float(job.brick.thickness), float(surround.build_out_most)
    wall, moved = (
        reach + max(4.5 * thick, 5 * hand.text),
        reach - float(surround.build_out),
    )
    fire = None if job.opening.firebox is None else float(job.opening.firebox) + moved
    if surround.reveals:
        (_, deep), _ = ends_of_jambs(solution)
        wall = max(wall, deep + 2 * hand.text)
    trims, envelope = _trims_over(solution, head), trim_envelope(job)
    levels = [solution.coursing.top, *(trim.bottom + trim.height for trim in trims)]
    noses = [solution.coursing.projection, *(trim.furthest for trim in trims)]
    if envelope is not None:
        levels.append(over + envelope.corners[1][0])
        noses.append(max(out for _, out in envelope.corners))
    if job.opening.throat is not None:
        levels.append(solution.openings.found.top + job.opening.throat)
    return Through(
        thick=thick,
        reach=reach,
        moved=moved,
        wall=wall,
        back=max(wall, fire or 0.0) + 4.0 * hand.text,
        fire=fire,
        floor=surround.as_built.hearth.at(surround.opening.centre),
        head=head,
        roof=float(max(levels)) + 2.0 * hand.text,
        over=over,
        trims=trims,
        envelope=envelope,
        before=-float(max(noses)) - 3.0 * hand.text,
        is_narrow=job.paper[0] < job.paper[1],
    )


def _trims_over(solution: Solution, head: Fraction) -> tuple[TrimTable, ...]:
    """Return the woodwork that the section cuts above the opening, the lowest first."""
    centre = solution.surround.opening.centre - solution.surround.front.left
    met = [
        trim
        for trim in solution.job.trim
        if trim.left <= centre <= trim.left + trim.width and trim.bottom >= head
    ]
    return tuple(sorted(met, key=lambda trim: trim.bottom))
