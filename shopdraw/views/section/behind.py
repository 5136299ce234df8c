"""Draw what is behind the brick at the opening: lintel, firebox, throat, ledger.

In:  `Solution`, `Through`.   Out: ink; notes, each with its point.
Frame: as the section through the opening.

What the job does not give is drawn broken, and said not to be measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Measure, Point, Stroke
from shopdraw.job.model_head import ARCHES
from shopdraw.lengths import Lengths, format_length
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import Hand, break_line, ring_of
from shopdraw.views.section.through import Through

LEDGER: dict[Lengths, Fraction] = {"in": Fraction(3, 2), "mm": Fraction(38)}
"""How deep a ledger of dressed timber is drawn; common practice, no published source.
"""
NOT_MEASURED = "NOT MEASURED"
Note = tuple[Point, str]


def draw_lintel(at: Through, hand: Hand) -> Iterator[Ink]:
    """Draw the lintel behind the brick, broken off: nobody gave its size."""
    low = float(at.head)
    near, far = at.reach + 0.6 * hand.text, at.wall - 0.6 * hand.text
    top = low + 3.0 * hand.text
    yield Stroke(layers.HIDDEN, ((near, top), (near, low), (far, low), (far, top)))
    yield break_line((near, top), (far, top), 0.6 * hand.text)


def draw_firebox(solution: Solution, at: Through, hand: Hand) -> Iterator[Ink]:
    """Draw where the firebox begins, its floor and its throat, as far as known."""
    floor, head = float(at.floor), float(at.head)
    hearth = solution.job.hearth
    raised = None if hearth is None else hearth.raised
    level = floor + float(raised or 0)
    start = at.reach if at.fire is None else at.fire
    if at.fire is not None:
        yield Stroke(layers.LEVELS, ((start, level), (start, head)))
    layer = layers.HIDDEN if raised is None else layers.OTHERS
    near = max(start, at.wall)
    if raised:
        near = start
        yield Stroke(layer, ((start, floor), (start, level)))
    yield Stroke(layer, ((near, level), (at.back, level)))
    yield break_line((at.back, level), (at.back, head), 0.8 * hand.text)
    throat = solution.job.opening.throat
    if throat is not None:
        up = float(solution.openings.found.top + throat)
        yield Stroke(layers.LEVELS, ((at.wall, up), (at.back, up)))


def draw_ledger(at: Through, hand: Hand) -> Iterator[Ink]:
    """Draw the temporary ledger under the brick."""
    head, deep = at.head, LEDGER[hand.lengths]
    box = ring_of((-0.5 * at.thick, float(head - deep), at.reach, float(head)))
    yield Stroke(layers.HIDDEN, box, closed=True)


def props_of(solution: Solution, at: Through, hand: Hand) -> tuple[Measure, ...]:
    """Dimension how high the props under the ledger stand; nothing under a centre."""
    under = at.head - LEDGER[hand.lengths]
    if is_arched(solution) or at.floor >= under:
        return ()
    return hand.string("y", (at.floor, under), at.before)


def is_arched(solution: Solution) -> bool:
    """Whether brick over the opening is turned on a centre, not set on a ledger."""
    return solution.job.opening.head in ARCHES


def notes_behind(solution: Solution, at: Through, hand: Hand) -> Iterator[Note]:
    """Yield a point of each thing behind the brick, and what is said of it."""
    job, head, floor = solution.job, float(at.head), float(at.floor)
    bearing = job.opening.lintel_bearing
    says = "BEARING AND SIZE NOT MEASURED"
    if bearing is not None:
        far = format_length(bearing, hand.lengths)
        says = f"BEARS {far} AT ITS SHORTER END, SIZE NOT MEASURED"
    yield (at.wall - hand.text, head + 1.5 * hand.text), f"LINTEL BY OTHERS, {says}"
    throat = job.opening.throat
    if throat is None:
        yield (
            ((at.wall + at.back) / 2, head + 4.0 * hand.text),
            f"THROAT: {NOT_MEASURED}",
        )
    else:
        up = float(solution.openings.found.top + throat)
        far = format_length(throat, hand.lengths)
        where = ((at.wall + at.back) / 2, up)
        yield where, f"THROAT OR DAMPER, {far} ABOVE THE OPENING"
    fire = job.opening.firebox
    begins = f": WHERE IT BEGINS AND ITS DEPTH {NOT_MEASURED}"
    if fire is not None:
        far = format_length(fire, hand.lengths)
        begins = f" BEGINS {far} BEHIND THE FACE, DEPTH {NOT_MEASURED}"
    # Where brick turns into the jambs, the firebox is behind all that is seen of it.
    known = at.wall if solution.surround.reveals else at.reach
    start = known if at.fire is None else at.fire
    middle = head - floor
    yield (start, floor + 0.4 * middle), "FIREBOX: ADHERE NOTHING INSIDE"
    yield (at.back, floor + 0.28 * middle), f"FIREBOX{begins}"
    hearth = job.hearth
    if hearth is None or hearth.raised is None:
        # Nearer than the hearth's, which is led to from below: so the two don't cross.
        spot = ((at.reach + at.wall) / 2, floor)
        yield spot, f"LEVEL OF THE FIRE'S FLOOR: {NOT_MEASURED}"
