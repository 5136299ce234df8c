"""Brick that turns into the jambs: jobs that once broke off, each made small."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from shopdraw.drawing.expected import Trace
from shopdraw.drawing.ink import Drawing, Fill, Stroke
from shopdraw.errors import NotLaid
from shopdraw.job.reading import parse_job
from shopdraw.masonry.bond import solve as bond_solve
from shopdraw.masonry.bond.plan import plan_bond
from shopdraw.masonry.bonding.legs import LegSpan, NoWayError, Width, fill_stretch
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.rows.bonds import BONDS
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.expected.built import trace_built
from shopdraw.views.wall.corner import draw_corner_interlock
from shopdraw.views.wall.elevation import draw_elevation
from tests.longer import mostly_long
from tests.masonry.bonding.walls import on_grid, sizes_of
from tests.old_houses_held import unreported
from tests.views.lettering import crossings

JOB = """
[job]
name = "Turned"
lengths = "{lengths}"
[face]
width = "{width} in"
height = "{height} in"
measured_to = "finish"
{face}
[opening]
{opening}
[brick]
size = "{size}"
thickness = "5/8 in"
[bond]
pattern = "{pattern}"
{more}
"""


def text_of(opening: str, **given: str) -> str:
    usual = {
        "lengths": "in", "width": "40", "height": "30", "face": "", "size": "modular",
        "pattern": "half", "more": "",
    }  # fmt: skip
    return JOB.format(opening=opening, **{**usual, **given})


@cache
def solved(opening: str, **given: str) -> Solution:
    return solve(parse_job(text_of(opening, **given), "turned.toml"))


TURNED = "40", 'jamb_return = "4 in"'


@pytest.mark.parametrize(
    ("width", "turned"),
    mostly_long((("41", ""), TURNED), TURNED),
)
def test_soldiers_over_the_whole_face_part_courses_that_do_not_meet(
    width: str, turned: str
) -> None:
    # Five courses, a rowlock, and a course of headers over it: with the courses of
    # stretchers and headers below, three kinds would lie on one another in a ring.
    opening = (
        f'width = "24 in"\nheight = "13 1/2 in"\nfrom_left = "8 in"\n{turned}\n'
        'head = "rowlock"\nhead_over = "face"'
    )
    found = solved(
        opening, width=width, pattern="common", face='left_return = "9 in"',
        height="36", size='modular"\nat_fold = "mitre',
    )  # fmt: skip
    kinds = [course.kind for course in found.coursing.courses]
    assert kinds[:7] == ["running"] * 5 + ["soldier"] + ["running"]
    assert unreported(found) == []


def test_a_long_leg_trimmed_in_millimetres_has_room_in_the_order_of_merit() -> None:
    # Both legs of a unit 295 long are trimmed to some 50 each: 2 x 245 mm.
    found = solved(
        'width = "24 in"\nheight = "12 in"\nfrom_left = "4 in"\njamb_return = "6 in"',
        lengths="mm", face='left_return = "12 in"', size="roman", pattern="stack",
    )  # fmt: skip
    assert unreported(found) == []


def test_headers_beside_a_leg_that_leaves_room_for_a_joint_alone_can_be_laid() -> None:
    # A leg of 3 7/8: a header's 3 5/8 stands in it with 1/4 left, no more than a joint.
    found = solved(
        'width = "24 in"\nheight = "12 in"\nfrom_left = "3 7/8 in"\n'
        'jamb_return = "4 in"',
        pattern="common", width="32", size="roman",
    )  # fmt: skip
    assert unreported(found) == []
    sizes, span = (
        sizes_of(BONDS["common"]),
        LegSpan(0, on_grid("3 7/8"), "free", "turned", (2,)),
    )
    width = Width(fine=True, trims=True)
    table = fill_stretch(sizes, span, 2, width).table
    assert len(table)
    # Two pieces fill it, with a joint between them: a leg may be trimmed to any length,
    # and at every joint two equal pieces are a way.
    lengths = table.right - table.left
    is_even = lengths[:, 0] == lengths[:, 1]
    assert {*table.joint[is_even].tolist()} == {*table.joint.tolist()}
    assert (lengths > 0).all()
    assert (lengths.sum(axis=1) + table.joint == span.width).all()


@pytest.mark.parametrize("pattern", ["half", "third", "Flemish", "English", "common"])
@pytest.mark.parametrize("swaps", [False, True])
def test_a_band_of_headers_is_one_whichever_leg_is_at_the_jamb(
    pattern: str, *, swaps: bool
) -> None:
    text = text_of(
        'width = "24 in"\nheight = "13 1/2 in"\njamb_return = "4 in"',
        pattern=pattern, more='[[band]]\ncourse = 3\nkind = "header"',
    )  # fmt: skip
    # As it is planned: nothing of it need be laid.
    job = parse_job(text, "turned.toml")
    surround = trace_surround(job)
    stops = Fraction(8), Fraction(32)
    plan = plan_bond(job, surround, solve_coursing(job, surround), stops)
    if swaps:
        bond = plan.bond.far_legs_swapped()
        plan = replace(plan, sizes=replace(plan.sizes, bond=bond))
    assert plan.bond.rows[plan.kind(3)].pattern == "H"


CORNERS = (
    'corners = {{ bottom_left = ["8 in", "0 in"], bottom_right = ["32 in", "0 in"], '
    'top_left = ["8 in", "14 in"], top_right = ["{narrow} in", "14 in"] }}\n'
    'jamb_return = "4 in"'
)
FALLS = """[hearth]
points = [["0 in", "0 in"], ["30 in", "-1/2 in"], ["32 in", "0 in"], ["40 in", "0 in"]]
"""


def test_brick_that_turns_in_stands_on_the_hearth_where_the_jambs_are_narrowest() -> (
    None
):
    found = solved(CORNERS.format(narrow="30"), more=FALLS)
    # Under the legs, to 8 and from 30 on: from 1/2 below the highest point up to it.
    assert found.job.hearth is not None
    assert found.job.hearth.fall == Fraction(1, 2)


def test_jambs_that_are_as_wide_above_take_the_hearth_at_their_feet() -> None:
    found = solved(CORNERS.format(narrow="32"), more=FALLS)
    assert found.job.hearth is not None
    # At 8 the hearth is 8/30 of 1/2 below its highest point.
    assert found.job.hearth.fall == Fraction(2, 15)


def section(drawing: Drawing) -> list[tuple[str, int]]:
    """Return what a drawing cuts: each outline's kind, and its points."""
    return sorted(
        ("fill" if isinstance(x, Fill) else "closed" if x.closed else "open",
         len(x.points))
        for x in drawing.ink
        if isinstance(x, Fill | Stroke) and x.layer == "A-SECT-MCUT"
    )  # fmt: skip


def wanted(traces: list[Trace]) -> list[tuple[str, int]]:
    return sorted((x.kind, len(x.points)) for x in traces if x.layer == "A-SECT-MCUT")


def beside_a_jamb() -> Solution:
    """Return a job whose jamb stands just beyond what its corner's detail shows."""
    return solved(
        'width = "20 3/8 in"\nheight = "10 1/2 in"\nfrom_left = "9 3/8 in"\n'
        'jamb_return = "8 3/16 in"',
        width="45 1/4", size="norman", pattern="quarter",
        face='right_return = "16 1/4 in"',
    )  # fmt: skip


def test_a_corner_unit_that_turns_beyond_what_is_shown_has_no_spike() -> None:
    found = beside_a_jamb()
    drawing = draw_corner_interlock(found, 4.0)
    assert section(drawing) == wanted(list(trace_built(found, drawing)))


def test_nothing_runs_through_how_far_the_hearth_lies_below_the_datum() -> None:
    found = solved(
        'width = "14 9/16 in"\nheight = "16 in"\nfrom_left = "9 3/16 in"\n'
        'jamb_return = "6 1/4 in"',
        lengths="mm", width="33", size="roman", pattern="third",
        more='[hearth]\nfall = "1 1/2 in"\nfalls_to = "right"',
    )  # fmt: skip
    assert [x for x, _ in crossings(draw_elevation(found, 10.0))] == []


def test_what_can_not_be_laid_is_refused_in_one_line() -> None:
    found = solved('width = "24 in"\nheight = "12 in"\njamb_return = "4 in"')
    plan = plan_bond(
        found.job, found.surround, found.coursing, (Fraction(8), Fraction(32))
    )
    # Nothing is a whole joint any more, however short the pieces are.
    wide = replace(
        plan.sizes.joints,
        least=plan.on_grid(Fraction(30)),
        preferred=plan.on_grid(Fraction(30)),
        most=plan.on_grid(Fraction(30)),
    )
    plan = replace(plan, sizes=replace(plan.sizes, joints=wide))
    with pytest.raises(NotLaid, match="no course of it can be laid") as raised:
        bond_solve.solve_bond(plan)
    assert len(raised.value.lines()) == 1


def test_one_way_round_is_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    found = solved('width = "24 in"\nheight = "12 in"\njamb_return = "4 in"')
    stops = Fraction(8), Fraction(32)
    plan = plan_bond(found.job, found.surround, found.coursing, stops)
    usual, asked = bond_solve._solve, []

    def first_fails(each: object) -> object:
        asked.append(each)
        if len(asked) == 1:
            raise NoWayError
        return usual(each)  # type: ignore[arg-type]

    monkeypatch.setattr(bond_solve, "_solve", first_fails)
    assert bond_solve.solve_bond(plan).plan is asked[1]
