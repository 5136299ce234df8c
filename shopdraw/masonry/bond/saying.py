"""Say how the bond is laid, and what had to be given up for what.

In:  `BondPlan`, `SolvedBond`.   Out: sentences.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.lengths import format_length
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bond.solve import SolvedBond
from shopdraw.masonry.rows.merit import LEVELS

NOT_MIRRORED, NOT_CARRIED, TRIMMED = 7, 8, 9
"""Places in the order of merit."""


def say_bond(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    """Yield what was decided about the bond, a sentence each."""
    bond, pattern = plan.bond, plan.job.bond.pattern
    if pattern == "stack":
        yield (
            "In stack bond no lap is asked for, and the corner units do not alternate."
        )
    if plan.surround.reveals:
        depth = format_length(plan.surround.reveals[0].width, plan.job.lengths)
        yield (
            f"Corner units turn into the jambs, {depth} back from the finished face; "
            "nothing is adhered inside the firebox."
        )
    if plan.surround.folds and pattern != "stack":
        face = "front" if bond.rows[plan.kind(1)].leg == "long" else "returns"
        yield f"In course 1 the long legs of the corner units are on the {face}."
    yield from _say_front(plan, solved)
    if _count(solved, TRIMMED):
        yield (
            "Some corner units are trimmed at the free end of a leg: without that there "
            "would be a piece or a lap under the least, or a course that is not bonded."
        )
    if not solved.searched_all:
        yield "Not every way of laying the bond was looked at."


def _say_front(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    front = solved.faces["front"].merit
    if plan.is_mirrored and front[NOT_MIRRORED - 1]:
        yield "The front is not its own mirror image: mirrored ways do worse."
    if plan.over:
        if front[NOT_CARRIED - 1]:
            yield "Over the opening not every joint of the legs is carried on."
        else:
            yield "The courses over the opening carry on the joints of both legs."


def _count(solved: SolvedBond, level: int) -> int:
    return sum(face.merit[level - 1] for face in solved.faces.values())


def say_merit(solved: SolvedBond) -> Iterator[str]:
    """Yield for each face what its bond gives up, in the order of merit."""
    for name, face in solved.faces.items():
        given_up = [
            f"{level.name}: {count}"
            for level, count in zip(LEVELS, face.merit, strict=True)
            if count
        ]
        yield f"{name}: {', '.join(given_up) or 'nothing'}"
