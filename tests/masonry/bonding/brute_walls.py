"""A job's wall, and how it is solved, in the words of the brute force.

In:  `Job`, `SolvedBond`.   Out: `Wall`, rows of its pieces, and merits by its judge.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bond.solve import SolvedBond, front_of, spans_of
from shopdraw.masonry.bonding.legs import LaidRow
from shopdraw.masonry.rows.merit import NOT_MIRRORED, Merit
from tests.masonry.bonding.brute_judge import judge
from tests.masonry.bonding.brute_trade import (
    BONDS,
    Beside,
    Bond,
    Front,
    Num,
    Piece,
    Row,
    Run,
    Trade,
    Wall,
    flip,
)

NAMES = {"left leg": "left", "right leg": "right", "over": "over"}
NO_FACE = Front(Fraction(1), Fraction(1), Fraction(1))
FREE_STEP = {"in": Fraction(1, 4), "mm": Fraction(5)}


def bond_of(job: Job) -> Bond:
    """Return the bond that a job asks for."""
    name = job.bond.pattern
    return BONDS[f"common-{job.bond.header_every}" if name == "common" else name]


def wall_of(job: Job) -> Wall:
    """Return a job's brick and its limits; its faces are to be put in."""
    corner = job.brick.corner
    inside = job.brick.thickness
    if corner is None or corner.measured == "outside":
        inside = Fraction(0)
    return Wall(
        unit=job.brick.length,
        header=job.header_length,
        long=corner.long_leg + inside if corner else job.brick.length,
        short=corner.short_leg + inside if corner else job.header_length,
        joint=job.joints.head.preferred,
        least_joint=job.joints.head.least,
        most_joint=job.joints.head.most,
        step=job.joints.step,
        least_piece=job.bond.least_piece,
        least_lap=job.bond.least_lap,
        free_step=FREE_STEP[job.lengths],
        face=NO_FACE,
    )


def row_of(filling: LaidRow, leg: Num, scale: int, begin: int = 0) -> Row:
    """Return a filling as the brute force names its pieces.

    Args:
        filling: on a grid.
        leg: how long the corner unit's leg is as bought, in that course of that face.
        scale: how many grid steps are one of its lengths.
        begin: where its face begins on the grid.
    """
    pieces = []
    for (left, right), role, letter in zip(
        filling.pieces, filling.roles, filling.letters, strict=True
    ):
        length = Fraction(right - left, scale)
        name = {"leg": "L", "cut": "x", "closer": "Q", "whole": letter}[role]
        if role == "leg" and length != leg:
            name = "T"
        ends = (Fraction(x - begin, scale) for x in (left, right))
        pieces.append(Piece(*ends, name))
    return tuple(pieces)


def judged_again(solved: SolvedBond) -> Iterator[tuple[str, Merit, Merit]]:
    """Yield each face's merit, and by the judge of the brute force.

    Jambs that are turned and ends that lean are left out.
    """
    plan = solved.plan
    wall, bond = wall_of(plan.job), bond_of(plan.job)
    front = replace(wall, face=brute_front(plan))
    rows = front_rows(solved, Trade(front, bond))
    theirs = list(judge(front, bond, rows))
    # It counts each row that is no mirror image; the order counts one for the face.
    theirs[NOT_MIRRORED - 1] = min(theirs[NOT_MIRRORED - 1], 1)
    yield "front", solved.faces["front"].merit, tuple(theirs)
    for name, span in spans_of(plan):
        if not name.endswith("return"):
            continue
        width = Fraction(span.width, plan.scale)
        run = Run(width, "corner", "wall", is_return=True, courses=len(plan.running))
        back = replace(wall, face=run)
        there = return_rows(solved, Trade(back, bond), name)
        yield name, solved.faces[name].merit, judge(back, bond, there)
    for side in ("left", "right"):
        if f"{side} beside" in solved.faces:
            yield beside_again(solved, side, Trade(front, bond), rows)


def beside_again(
    solved: SolvedBond, side: str, trade: Trade, rows: Mapping[int, Mapping[str, Row]]
) -> tuple[str, Merit, Merit]:
    """Return the merit of the legs beside soldiers, and by the brute force's judge.

    Args:
        solved: the wall.
        side: the left or the right.
        trade: of its front.
        rows: of its front, by kind and part.
    """
    plan, zone, face = solved.plan, f"{side} beside", trade.wall.face
    front, is_left = front_of(plan), side == "left"

    def seen(row: Row) -> Row:
        return row if is_left else flip(row, face.width)

    there = {}
    for kind, filling in solved.zones[zone].items():
        leg = trade.leg(trade.place(kind, side))
        there[kind] = {"run": seen(row_of(filling, leg, plan.scale, front.left))}
    stops = plan.stops[0] - front.left, front.right - plan.stops[1]
    run = Run(
        width=Fraction(stops[not is_left], plan.scale),
        start=face.left_end if is_left else face.right_end,
        courses=len(plan.beside),
        first=plan.beside[0].number - 1,
    )
    met = []
    for courses, at, part in ((plan.below, -1, side), (plan.over, 0, "over")):
        kind = plan.kind(courses[at].number) if courses else 0
        met.append((kind, seen(rows[kind][part])) if courses else None)
    legs = {kind: seen(parts[side]) for kind, parts in rows.items() if side in parts}
    wall = replace(trade.wall, face=run)
    theirs = judge(wall, trade.bond, there, Beside(legs, *met))
    return zone, solved.faces[zone].merit, theirs


def brute_front(plan: BondPlan) -> Front:
    """Return the front that a plan lays."""
    front = front_of(plan)
    ends = ("corner" if end == "corner" else "free" for end in front.ends)
    left, right = (
        Fraction(leg.width, plan.scale) for leg in (front.left_leg, front.right_leg)
    )
    width = Fraction(front.right - front.left, plan.scale)
    legs, over = len(front.leg_kinds), len(front.over_kinds)
    return Front(width, left, right, *ends, legs, over)


def front_rows(solved: SolvedBond, trade: Trade) -> dict[int, dict[str, Row]]:
    """Return the rows of the front, by kind and part, from its left end on."""
    front, rows = front_of(solved.plan), dict[int, dict[str, Row]]()
    for zone, part in NAMES.items():
        for kind, filling in solved.zones.get(zone, {}).items():
            leg = trade.leg(trade.place(kind, part))
            row = row_of(filling, leg, solved.plan.scale, front.left)
            rows.setdefault(kind, {})[part] = row
    return rows


def return_rows(
    solved: SolvedBond, trade: Trade, name: str
) -> Mapping[int, dict[str, Row]]:
    """Return the rows of a return, by kind, from its corner on."""
    front = front_of(solved.plan)
    rows = {}
    for kind, filling in solved.zones[name].items():
        corner = front.left if name.startswith("left") else front.right
        leg = trade.leg(trade.place(kind, "run"))
        row = row_of(filling, leg, solved.plan.scale, corner)
        if name.startswith("left"):
            row = tuple(Piece(-b, -a, role) for a, b, role in reversed(row))
        rows[kind] = {"run": row}
    return rows
