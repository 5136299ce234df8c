"""The solver against the brute force: the same merit on small walls of every bond.

The brute force was written apart, from the problem's statement alone. It judges the
solver's answer too, so that neither the family nor the judge is the solver's own.

Three runs and one front a bond here; sixty and twelve in the benchmark:
`python -m tests.bench brute`.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.masonry.bonding.answer import solve_front, solve_stretch
from shopdraw.masonry.bonding.legs import Front as OurFront
from shopdraw.masonry.bonding.legs import LaidRow, LegSpan, Solved
from shopdraw.masonry.rows import meetings
from shopdraw.masonry.rows.bonds import BONDS as OURS
from shopdraw.masonry.rows.bonds import common_bond
from shopdraw.masonry.rows.merit import NOT_MIRRORED
from shopdraw.masonry.rows.sizes import BondLimits, Brick, Joints, Sizes
from tests.longer import mostly_long
from tests.masonry.bonding.brute_force import (
    BONDS,
    Front,
    Piece,
    Run,
    Trade,
    Wall,
    best,
    judge,
    say,
)
from tests.masonry.bonding.brute_walls import row_of

SCALE = 232_792_560 * 64
BRICKS = ((F(61, 8), F(29, 8)), (F(93, 8), F(29, 8)))
"""Length, and what a header shows: both corner units have legs as long."""


def wall_of(pick: random.Random, name: str) -> Wall:
    """Return a random leg or return, small enough to be searched one by one."""
    unit, header = BRICKS[0] if name != "third" else pick.choice(BRICKS)
    least, most = pick.choice(((F(3, 8), F(3, 8)), (F(5, 16), F(7, 16))))
    is_return = pick.random() < 0.4
    start = "corner" if is_return or pick.random() < 0.6 else "free"
    run = Run(
        width=F(pick.randint(12 if start == "free" else 17, 36), 2) + F(1, 8),
        start=start,
        end="wall" if is_return else "jamb",
        is_return=is_return,
        courses=12,
    )
    return Wall(
        unit=unit,
        header=header,
        long=unit,
        short=header,
        joint=F(3, 8),
        least_joint=least,
        most_joint=most,
        step=F(1, 16),
        least_piece=F(2),
        least_lap=F(2),
        free_step=F(1, 4),
        face=run,
    )


def grid(length) -> int:
    steps = F(length) * SCALE
    assert steps.denominator == 1
    return int(steps)


def sizes_of(wall: Wall, name: str) -> Sizes:
    """Return a bond in a brute wall's brick."""
    bond = common_bond(int(name[-1])) if name.startswith("common") else OURS[name]
    return Sizes(
        bond=bond,
        brick=Brick(*map(grid, (wall.unit, wall.header, wall.long, wall.short))),
        joints=Joints(
            *map(grid, (wall.joint, wall.least_joint, wall.most_joint, wall.step))
        ),
        limits=BondLimits(
            grid(wall.least_piece), grid(wall.least_lap), grid(wall.free_step)
        ),
    )


def solved(wall: Wall, name: str):
    """Return our answer for a brute wall's run."""
    sizes, run = sizes_of(wall, name), wall.face
    bond = sizes.bond
    kinds = tuple(bond.cycle[at % len(bond.cycle)] for at in range(run.courses))
    stretch = LegSpan(0, grid(run.width), run.start, run.end, kinds)
    if run.is_return:
        sizes = replace(sizes, bond=bond.round_the_corner())
    if run.butting:
        rows = enumerate(sizes.bond.rows)
        stretch = replace(
            stretch,
            butting=frozenset(at for at, x in rows if x.leg == run.butting),
            shorter=grid(run.shorter),
            joint=grid(run.corner_joint),
        )
    return solve_stretch(sizes, stretch), "leg"


def in_their_words(
    filling: LaidRow, wall: Wall, name: str, kind: int, part: str
) -> tuple[Piece, ...]:
    """Return a filling of a part of a wall as the brute force names its pieces."""
    trade = Trade(wall, BONDS[name])
    return row_of(filling, trade.leg(trade.place(kind, part)), SCALE)


@pytest.mark.parametrize("name", BONDS)
def test_no_run_has_a_better_answer(name: str) -> None:
    compare_runs(name, 3)


@pytest.mark.parametrize("name", [x for x in BONDS if x != "stack"])
def test_no_face_at_an_inside_corner_has_a_better_answer(name: str) -> None:
    compare_runs(name, 4, inside_of)


def test_one_piece_that_butts_has_no_head_joint_of_its_own() -> None:
    def narrow(pick: random.Random, name: str) -> Wall:
        wall = inside_of(pick, name)
        run = replace(wall.face, width=F(65, 8), start="free", is_return=False)
        run = replace(run, butting="short")
        return replace(wall, face=run, least_joint=F(5, 16), most_joint=F(7, 16))

    compare_runs("English", 1, narrow)


@pytest.mark.parametrize("name", BONDS)
def test_no_narrow_return_has_a_better_answer(name: str) -> None:
    compare_runs(name, 4, narrow_return_of)


def narrow_return_of(pick: random.Random, name: str) -> Wall:
    """Return a random return that has hardly room for two pieces: legs are trimmed."""
    wall = wall_of(pick, name)
    width = F(pick.randint(48, 112), 16)
    run = Run(width, "corner", "wall", is_return=True, courses=12)
    return replace(wall, face=run)


def test_a_return_too_narrow_for_two_least_pieces_and_a_joint_has_one_under_the_least():
    # Against the wall 1 1/2 is enough: 2, a joint of 5/16 and 1 1/2 are 3 13/16. The
    # short leg of 3 stands alone where it is short of the wall by 1/2 or less, up to
    # 3 1/2. Between the two there is no way.
    wall = replace(
        wall_of(random.Random("narrow"), "half"),
        unit=F(77, 8), long=F(77, 8), header=F(3), short=F(3),
        least_joint=F(5, 16), most_joint=F(1, 2),
    )  # fmt: skip
    for name in ("half", "English", "common-6"):
        for sixteenths, under in ((56, 0), (57, 1), (60, 1), (61, 0)):
            width = F(sixteenths, 16)
            run = Run(width, "corner", "wall", is_return=True, courses=12)
            face = replace(wall, face=run)
            found, wanted = solved(face, name)[0], best(face, BONDS[name])
            assert wanted is not None
            assert tuple(found.merit) == wanted.merit, (name, width)
            assert found.merit[0] == under, (name, width)


def inside_of(pick: random.Random, name: str) -> Wall:
    """Return a random return or alcove that ends at an inside corner.

    What butts is shorter by the brick's thickness and the joint.
    """
    wall = wall_of(pick, name)
    run = replace(
        wall.face,
        end="inside",
        is_return=wall.face.start == "corner",
        butting=pick.choice(("long", "short")),
        shorter=F(5, 8) + F(3, 8),
        corner_joint=F(3, 8),
    )
    return replace(wall, face=run)


def compare_runs(
    name: str, runs: int, make: Callable[[random.Random, str], Wall] = wall_of
) -> None:
    """Fail where our answer to one of so many runs is not the brute force's."""
    pick = random.Random(f"{name} runs")
    for _ in range(runs):
        wall = make(pick, name)
        found, zone = solved(wall, name)
        wanted = best(wall, BONDS[name])
        assert wanted is not None
        rows = {
            kind: {"run": in_their_words(filling, wall, name, kind, "run")}
            for kind, filling in found.zones[zone].items()
        }
        ours = judge(wall, BONDS[name], rows)
        assert tuple(found.merit) == tuple(ours), (
            f"judged otherwise: {wall.face}\n{say(found.merit)}\n{say(ours)}"
        )
        assert tuple(ours) == tuple(wanted.merit), (
            f"another answer: {wall.face} {wanted.search}\n{say(ours)}\n"
            f"{say(wanted.merit)}\n{rows}\n{wanted.rows}"
        )


# --- fronts that are their own mirror image ------------------------------------------


def front_wall(pick: random.Random, name: str) -> Wall:
    """Return a random mirrored front, small enough to be searched one by one."""
    wall = wall_of(pick, name)
    leg = F(pick.randint(7 * 8, 10 * 8), 8)
    if pick.random() < 0.3:
        leg = F(pick.randint(7, 11)) + F(5, 8)
    opening = F(pick.randint(8, 24), 2)
    legs, over = pick.choice((1, 2, 3, 12)), pick.choice((0, 1, 2, 12, 12))
    if name.startswith("common"):
        legs, over = pick.choice((1, 2, 3)), pick.choice((1, 2, 3))
    end = pick.choice(("corner", "free"))
    face = Front(2 * leg + opening, leg, leg, end, end, legs, over)
    narrow = {"least_joint": F(3, 8), "most_joint": pick.choice((F(3, 8), F(7, 16)))}
    return replace(wall, face=face, **narrow)


def solved_front(wall: Wall, name: str) -> Solved:
    """Return our answer for a brute wall's front."""
    sizes, face = sizes_of(wall, name), wall.face
    cycle = sizes.bond.cycle
    kinds = tuple(cycle[at % len(cycle)] for at in range(face.legs + face.over))
    width, leg = grid(face.width), grid(face.left)
    jambs, ends = (leg, width - leg), (face.left_end, face.right_end)
    legs, over = kinds[: face.legs], kinds[face.legs :]
    return solve_front(
        sizes, OurFront(0, width, jambs, ends, legs, over, is_mirrored=True)
    )


def rows_of(
    found: Solved, wall: Wall, name: str
) -> dict[int, dict[str, tuple[Piece, ...]]]:
    """Return the zones of a front as the brute force names them."""
    rows: dict[int, dict[str, tuple[Piece, ...]]] = {}
    for zone, fillings in found.zones.items():
        for kind, filling in fillings.items():
            part = zone.removesuffix(" leg")
            rows.setdefault(kind, {})[part] = in_their_words(
                filling, wall, name, kind, part
            )
    return rows


def places(rows) -> dict:
    """Return where every piece stands, whatever it is called."""
    return {
        (kind, part): [(left, right) for left, right, _ in row]
        for kind, parts in rows.items()
        for part, row in parts.items()
    }


LONG = "half", "common-5"
"""These take longest, and other bonds have the like."""


@pytest.mark.parametrize(
    "name", mostly_long(BONDS, *(x for x in BONDS if x not in LONG))
)
def test_no_mirrored_front_has_a_better_answer(name: str) -> None:
    compare_fronts(name, 1)


def compare_fronts(name: str, fronts: int) -> None:
    """Fail where our answer to one of so many fronts is not the brute force's."""
    pick = random.Random(f"{name} fronts")
    searched = 0
    while searched < fronts:
        wall = front_wall(pick, name)
        found = solved_front(wall, name)
        if not found.searched_all or found.merit[NOT_MIRRORED - 1]:
            continue  # It fails mirrored, and an unmirrored way is not searched here.
        searched += 1
        wanted, rows = best(wall, BONDS[name]), rows_of(found, wall, name)
        assert wanted is not None
        ours = judge(wall, BONDS[name], rows)
        assert tuple(found.merit) == tuple(ours), f"judged otherwise: {wall}"
        assert tuple(ours) == tuple(wanted.merit), (
            f"another answer: {wall.face} {wanted.search}\n{say(ours)}\n"
            f"{say(wanted.merit)}\n{rows}\n{wanted.rows}"
        )
        assert places(rows) == places(wanted.rows), wall.face


def test_a_judge_that_judges_twice_what_stands_in_the_legs_is_seen(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    side = meetings._side
    monkeypatch.setattr(
        meetings, "_side", lambda some, at: side(some, replace(at, skips=False))
    )
    pick, seen = random.Random("twice"), 0
    for _ in range(12):
        wall = front_wall(pick, "English")
        found = solved_front(wall, "English")
        ours = judge(wall, BONDS["English"], rows_of(found, wall, "English"))
        seen += tuple(found.merit) != tuple(ours)
    assert seen


def test_a_course_over_the_opening_has_its_legs_joint() -> None:
    pick, seen = random.Random("joints"), 0
    walls = [front_wall(pick, "half") for _ in range(5)]
    # With one course beside the opening the search takes longest, and shows no more.
    for each in (wall for wall in walls if wall.face.legs > 1):
        wall = replace(each, least_joint=F(5, 16))
        zones = solved_front(wall, "half").zones
        for kind, row in zones.get("over", {}).items():
            gaps = {b - a for a, b in row.joints}
            assert len(gaps) <= 1
            seen += len(gaps)
            leg = zones["left leg"].get(kind)
            assert leg is None or not leg.joint or gaps == {leg.joint}
    assert seen
