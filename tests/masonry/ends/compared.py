"""Small walls whose ends are not plain, solved by ours and by the brute force.

In:  a random number, a bond.   Out: `Wall`, and both answers as merits and rows.
Frame: as the brute force: in inches, a run from its outer end, a front from its left.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction as F

from shopdraw.masonry.bond.beside import solve_beside
from shopdraw.masonry.bonding.answer import solve_front, solve_stretch
from shopdraw.masonry.bonding.legs import Front as OurFront
from shopdraw.masonry.bonding.legs import LaidRow, LegSpan, Solved
from shopdraw.masonry.rows.merit import NOT_MIRRORED
from shopdraw.masonry.rows.sizes import Sizes
from tests.masonry.bonding import test_against_brute_force as plain
from tests.masonry.bonding import test_unlike
from tests.masonry.bonding.brute_force import (
    BONDS,
    Beside,
    Run,
    Trade,
    Wall,
    best,
    judge,
    say,
)
from tests.masonry.bonding.brute_trade import Row, joint_width
from tests.masonry.bonding.brute_walls import row_of
from tests.masonry.bonding.test_against_brute_force import SCALE, grid

Make = Callable[[random.Random, str], Wall]
LEANS = F(1, 8), F(1, 4), F(3, 8), F(1, 2), F(3, 4), F(1)


def leaning_run(pick: random.Random, name: str) -> Wall:
    """Return a random leg whose free edge leans, or its jamb, or both."""
    wall = plain.wall_of(pick, name)
    start, jamb = pick.choice(("corner", "free", "free")), pick.choice(LEANS)
    width = F(pick.randint(16 if start == "free" else 21, 36), 2) + F(1, 8)
    edge = pick.choice((F(0), *LEANS)) if start == "free" else F(0)
    jamb = pick.choice((F(0), jamb)) if edge else jamb
    run = Run(width, start, "jamb", courses=12, start_lean=edge, jamb_lean=jamb)
    return replace(wall, face=run)


def leaning_return(pick: random.Random, name: str) -> Wall:
    """Return a random return, now and then narrow, whose hidden wall leans."""
    wall = plain.wall_of(pick, name)
    least = 48 if pick.random() < 0.4 else 120
    width = F(pick.randint(least, 2 * least), 16)
    run = Run(width, "corner", "wall", is_return=True, courses=12)
    return replace(wall, face=replace(run, start_lean=pick.choice(LEANS)))


def turned_run(pick: random.Random, name: str) -> Wall:
    """Return a random leg at whose jamb a corner unit turns in, now and then narrow."""
    wall = plain.wall_of(pick, name)
    start = pick.choice(("corner", "corner", "free"))
    units = 1 if start == "free" else 2
    low, high = (26, 36) if pick.random() < 0.7 else (8 * units, 24)
    width = F(pick.randint(low, high), 2) + F(1, 8)
    crossed = pick.random() < 0.5
    return replace(wall, face=Run(width, start, "turned", courses=12, crossed=crossed))


def small_front(pick: random.Random, name: str) -> Wall:
    """Return a random mirrored front with one joint and few free cuts."""
    wall = plain.front_wall(pick, name)
    joint = wall.joint
    return replace(wall, least_joint=joint, most_joint=joint, free_step=F(2))


def leaning_front(pick: random.Random, name: str) -> Wall:
    """Return a random mirrored front whose free edges and jambs lean."""
    wall = small_front(pick, name)
    edge, jamb = (pick.choice((F(0), *LEANS)) for _ in "ab")
    face = replace(wall.face, start_lean=edge, jamb_lean=jamb)
    return replace(wall, face=face)


def turned_front(pick: random.Random, name: str) -> Wall:
    """Return a random mirrored front whose jambs turn in."""
    wall = small_front(pick, name)
    leg, opening = F(pick.randint(12 * 4, 16 * 4), 4), F(pick.randint(16, 28), 2)
    face = replace(
        wall.face, width=2 * leg + opening, left=leg, right=leg,
        jamb="turned", crossed=pick.random() < 0.5,
    )  # fmt: skip
    return replace(wall, face=face)


def leaning_unlike(pick: random.Random, name: str) -> Wall:
    """Return a random front whose legs differ, and whose edges and jambs lean."""
    wall = test_unlike.front_of(pick, name)
    wall = replace(wall, least_joint=wall.joint)
    edge, jamb = (pick.choice((F(0), *LEANS[:4])) for _ in "ab")
    face = replace(wall.face, start_lean=edge, jamb_lean=jamb or F(1, 4))
    return replace(wall, face=face)


def turned_unlike(pick: random.Random, name: str) -> Wall:
    """Return a random front whose legs differ, and whose jambs turn in.

    Each leg has room for its units and a small piece: narrower ones are trimmed, and
    then there is too much to go through.
    """
    wall = test_unlike.front_of(pick, name)
    wall, face = replace(wall, least_joint=wall.joint), wall.face
    crossed = pick.random() < 0.5
    room = {"free": 10, "corner": 14 if crossed else 18}
    left, right = (
        F(room[end]) + wall.unit - F(61, 8) + F(pick.randint(0, 6), 4)
        for end in (face.left_end, face.right_end)
    )
    if left == right:
        left += F(1, 4)
    opening = wall.unit + F(pick.randint(-2, 2), 4)
    face = replace(
        face, width=left + opening + right, left=left, right=right,
        jamb="turned", crossed=crossed,
    )  # fmt: skip
    return replace(wall, face=face)


def sizes_of(wall: Wall, name: str) -> Sizes:
    """Return a bond in a brute wall's brick, with what its ends take."""
    sizes, face = plain.sizes_of(wall, name), wall.face
    takes = {"at_end": grid(face.start_lean), "at_jamb": grid(face.jamb_lean)}
    sizes = replace(sizes, limits=replace(sizes.limits, **takes))
    if face.crossed:
        sizes = replace(sizes, bond=sizes.bond.far_legs_swapped())
    return sizes


def kinds_of(wall: Wall, name: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return the kinds of the courses of the legs and of over."""
    legs, over = Trade(wall, BONDS[name]).zones
    return tuple(legs), tuple(over)


def named_row(filling: LaidRow, wall: Wall, name: str, kind: int, part: str) -> Row:
    """Return a filling as the brute force names its pieces, from the left end."""
    trade = Trade(wall, BONDS[name])
    place = trade.place(kind, part)
    row = row_of(filling, trade.leg(place), SCALE)
    at = -1 if part != "right" else 0
    piece = row[at]
    is_turned = place.end == "turned" and filling.roles[at] == "leg"
    if is_turned:
        whole = piece.right - piece.left == trade.leg(place, "F")
        pieces = list(row)
        pieces[at] = piece._replace(role="F" if whole else "f")
        row = tuple(pieces)
    return row


def solved_run(wall: Wall, name: str) -> Solved:
    """Return our answer for a brute wall's run."""
    run, sizes = wall.face, sizes_of(wall, name)
    sizes = sizes.round_the_corner() if run.is_return else sizes
    stretch = LegSpan(0, grid(run.width), run.start, run.end, kinds_of(wall, name)[0])
    return solve_stretch(sizes, stretch)


def rows_of_run(
    wall: Wall, name: str, fillings: Mapping[int, LaidRow]
) -> dict[int, dict[str, Row]]:
    """Return the rows of a run as the brute force names them."""
    return {
        kind: {"run": named_row(filling, wall, name, kind, "run")}
        for kind, filling in fillings.items()
    }


def compare_run(wall: Wall, name: str) -> None:
    """Fail where our answer to a run is not the brute force's."""
    found = solved_run(wall, name)
    agree(wall, name, found.merit, rows_of_run(wall, name, found.zones["leg"]))


def compare_front(wall: Wall, name: str) -> None:
    """Fail where our answer to a front is not the brute force's."""
    face = wall.face
    jambs = grid(face.left), grid(face.width - face.right)
    ends, turned = (face.left_end, face.right_end), face.jamb == "turned"
    front = OurFront(
        0, grid(face.width), jambs, ends, *kinds_of(wall, name), face.own_mirror, turned
    )
    found = solve_front(sizes_of(wall, name), front)
    assert found.searched_all or face.own_mirror
    rows: dict[int, dict[str, tuple]] = {}
    for zone, fillings in found.zones.items():
        part = zone.removesuffix(" leg")
        for kind, filling in fillings.items():
            row = named_row(filling, wall, name, kind, part)
            rows.setdefault(kind, {})[part] = row
    merit = found.merit
    if merit[NOT_MIRRORED - 1]:
        # The brute force counts each row that is no mirror image, and has too many.
        ours = list(judge(wall, BONDS[name], rows))
        ours[NOT_MIRRORED - 1] = 1
        assert tuple(merit) == tuple(ours)
        return
    agree(wall, name, merit, rows)


def beside_soldiers(pick: random.Random, name: str) -> tuple[Wall, Beside]:
    """Return a random leg beside soldiers, and the courses that it lies among.

    The leg under it is as ours lays it, and so is a course that goes on over it.
    """
    wall = plain.wall_of(pick, name)
    start = pick.choice(("corner", "free"))
    width = F(pick.randint(22 if start == "free" else 28, 40), 2) + F(1, 8)
    leg = Run(width, start, "jamb", courses=12)
    bears = pick.choice((F(pick.randint(5, 11), 4), F(pick.randint(3, 6))))
    cycle, first = BONDS[name].cycle, pick.randint(3, 9)
    beside = replace(leg, width=width - bears, courses=pick.randint(1, 4), first=first)

    def laid(run: Run) -> dict[int, Row]:
        some = replace(wall, face=run)
        rows = rows_of_run(some, name, solved_run(some, name).zones["leg"])
        return {kind: parts["run"] for kind, parts in rows.items()}

    below, above = (
        cycle[at % len(cycle)] for at in (first - 1, first + beside.courses)
    )
    legs, over = laid(leg), laid(replace(leg, width=width + 8))
    among = Beside(legs, (below, legs[below]), (above, over[above]))
    return replace(wall, face=beside), among


def compare_beside(wall: Wall, name: str, beside: Beside) -> None:
    """Fail where our answer to a leg beside soldiers is not the brute force's."""
    run = wall.face
    kinds = kinds_of(wall, name)[0]
    stretch = LegSpan(0, grid(run.width), run.start, run.end, kinds)
    legs = {kind: as_laid(row) for kind, row in beside.legs.items()}
    met = [
        (some[0], as_laid(some[1])) if some else None
        for some in (beside.below, beside.above)
    ]
    found = solve_beside(sizes_of(wall, name), stretch, legs, *met)
    rows = rows_of_run(wall, name, found.zones["beside"])
    agree(wall, name, found.merit, rows, beside)


ROLES = {"L": "leg", "T": "leg", "x": "cut", "p": "cut", "Q": "closer", "q": "closer"}


def as_laid(row: Row) -> LaidRow:
    """Return a row of the brute force in our words."""
    pieces = tuple((grid(left), grid(right)) for left, right, _ in row)
    roles = tuple(ROLES.get(role, "whole") for _, _, role in row)
    letters = tuple(role if role in "SH" else "" for _, _, role in row)
    return LaidRow(pieces, roles, letters, grid(joint_width(row) or 0))


def agree(
    wall: Wall, name: str, merit, rows: Mapping, beside: Beside | None = None
) -> None:
    """Fail where a merit is not what the judge finds, or what the best comes to."""
    ours = judge(wall, BONDS[name], rows, beside)
    assert tuple(merit) == tuple(ours), (
        f"judged otherwise: {wall.face}\n{say(merit)}\n{say(ours)}\n{shown(rows)}"
    )
    wanted = best(wall, BONDS[name], beside=beside)
    assert wanted is not None
    assert tuple(ours) == tuple(wanted.merit), (
        f"another answer: {wall.face} {wanted.search}\n{say(ours)}\n"
        f"{say(wanted.merit)}\n{shown(rows)}\n{shown(wanted.rows)}"
    )


def shown(rows: Mapping) -> str:
    """Return rows as they lie, for a person."""
    return "; ".join(
        f"{kind} {part}: " + " ".join(f"{r}{float(b - a):g}" for a, b, r in row)
        for kind, parts in sorted(rows.items())
        for part, row in parts.items()
    )


MAKERS = {
    "leaning_run": (leaning_run, compare_run),
    "leaning_return": (leaning_return, compare_run),
    "turned_run": (turned_run, compare_run),
    "leaning_front": (leaning_front, compare_front),
    "turned_front": (turned_front, compare_front),
    "leaning_unlike": (leaning_unlike, compare_front),
    "turned_unlike": (turned_unlike, compare_front),
    "beside_soldiers": (beside_soldiers, compare_beside),
}
"""By what they are, how random walls are made, and how they are compared."""
TOO_MANY = {
    "leaning_unlike": {"common-5"},
    "turned_unlike": {"English", "Flemish", "common-6", "common-5"},
}
"""The bonds in which such walls have too many ways to go through one by one."""


def bonds_of(what: str) -> tuple[str, ...]:
    """Return the bonds in which such walls are compared."""
    return tuple(name for name in BONDS if name not in TOO_MANY.get(what, ()))


def compare(what: str, name: str, number: int) -> None:
    """Fail where our answer to one random wall is not the brute force's."""
    make, hold = MAKERS[what]
    made = make(random.Random(f"{name} {what} {number}"), name)
    wall, *among = made if isinstance(made, tuple) else (made,)
    hold(wall, name, *among)
