"""Say how brick turns away from the front: into the jambs, and back to the wall.

In:  `BondPlan`.   Out: sentences.
Frame: the job's lengths; angles in degrees.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.job.model_face import SIDES
from shopdraw.job.turning import SQUARE, square_depth
from shopdraw.lengths import format_length
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.wall.form import Face


def say_turns(plan: BondPlan) -> Iterator[str]:
    """Yield how far brick turns into the jambs, and how it goes back where aslant."""
    if plan.surround.reveals:
        yield _say_jambs(plan)
    yield from _say_flanks(plan)
    for alcove in plan.surround.alcoves:
        yield _say_inside_corner(plan, alcove)


def _say_jambs(plan: BondPlan) -> str:
    """Say how far corner units turn into the jambs, and at what angle."""
    surround, lengths = plan.surround, plan.job.lengths
    along = surround.reveals[0].width
    depth, nothing = format_length(along, lengths), "nothing is adhered inside"
    if not surround.splay:
        return (
            f"Corner units turn into the jambs, {depth} back from the finished face; "
            f"{nothing} the firebox."
        )
    back = format_length(square_depth(along, surround.splay), lengths)
    return (
        f"Corner units turn into the jambs, {depth} along them, which splay by "
        f"{float(surround.splay):g} degrees and so reach {back} back from the finished "
        f"face; {nothing} the firebox."
    )


def _say_inside_corner(plan: BondPlan, alcove: Face) -> str:
    """Say which face runs past in which course, how far, and how the other butts."""
    side, lengths = alcove.name.split()[0], plan.job.lengths
    first = plan.running[0].number
    ways = ["return", "alcove"]
    if plan.runs_past(alcove.name, plan.kind(first)):
        ways.reverse()
    past = format_length(alcove.behind, lengths)
    joint = format_length(plan.corner_joint, lengths)
    return (
        f"At the {side} inside corner the brick of the {ways[0]} runs past in course "
        f"{first}, {past} behind the finished face of the {ways[1]}, and that of the "
        f"{ways[1]} butts it with a mortar joint of {joint}; in the next course the "
        "other way round, and so on by turns. Lay what runs past first."
    )


def _say_flanks(plan: BondPlan) -> Iterator[str]:
    """Say how the faces beside the front turn back, and what joint that leaves."""
    job, surround, lengths = plan.job, plan.surround, plan.job.lengths
    for side in SIDES:
        asked = job.face.beside(side)
        if all(turn == SQUARE for turn in job.face.turns(side)):
            continue
        turns = " and ".join(f"{float(turn):g}" for turn in job.face.turns(side))
        parts = " and ".join(
            f"the {face.name} is {format_length(of.width, lengths)}"
            for face, of in zip(asked, surround.flank(side), strict=True)
        )
        yield (
            f"On the {side}, corner units turn by {turns} degrees; when finished, and "
            f"along itself, {parts}."
        )
        edge = surround.left_edge if side == "left" else surround.right_edge
        wide, behind = abs(edge.brick_x - edge.x), job.edge(side).width
        if wide > behind:
            yield (
                f"The joint at the {side} wall is {format_length(wide, lengths)} on "
                f"the face and {format_length(behind, lengths)} behind it, because "
                "brick is sawn square to its face."
            )
