"""Mitred corner units: sawn from flat brick, and not bought. By hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

from shopdraw.quantities.cutting import plan_cuts
from shopdraw.views.words.schedules import stops_table
from tests.splayed import splayed


def test_each_leg_comes_out_of_a_flat_brick() -> None:
    solution = splayed()
    plan, made = solution.cut_plan, [x for x in solution.layout.pieces if x.is_made]
    count = len(made)
    (mark,) = {piece.mark for piece in made}
    assert plan.pieces[f"{mark}a"] == plan.pieces[f"{mark}b"] == count
    # The long leg takes a whole brick. Two short ones come out of one: 3 5/8, a
    # sixteenth for the slant of the cut and a kerf of 1/8 are 3 13/16, twice 7 5/8.
    alone = [unit for unit in plan.units if f"{mark}a" in unit.marks]
    assert [(unit.marks, unit.count) for unit in alone] == [((f"{mark}a",), count)]
    pairs = [unit for unit in plan.units if unit.marks == (f"{mark}b", f"{mark}b")]
    assert sum(unit.count for unit in pairs) == count // 2
    assert {unit.left for unit in pairs} == {F(0)}


def test_the_saw_is_set_to_a_mitre_by_itself() -> None:
    stops = splayed().cut_plan.stops
    mitred = [(stop.length, stop.marks) for stop in stops if stop.is_mitred]
    assert [length for length, _ in mitred] == [F(61, 8), F(29, 8)]
    assert [marks[0][-1] for _, marks in mitred] == ["a", "b"]
    # Jambs splayed by 30: the corner turns by 60, and each leg is sawn at half of that.
    assert {stop.mitre for stop in stops if stop.is_mitred} == {F(30)}
    table = stops_table(splayed().job, splayed().cut_plan)
    assert "mitred at 30 degrees" in " ".join(row[-1] for row in table.rows)
    # Sheet and CSV have no legend: "3 5/8 from an end" is said by the words themselves.
    assert [column.head for column in table.columns[:2]] == ["STOP", "FROM"]
    assert {row[1] for row in table.rows} == {"an end"}
    assert not any(
        stop.marks[0].endswith(("a", "b")) for stop in stops if not stop.is_mitred
    )


def test_a_wider_kerf_leaves_no_room_for_a_second_leg() -> None:
    # 2 x (3 5/8 + 1/16 + 3/16) is 7 3/4: more than 7 5/8 and the last kerf's 3/16? No:
    # 7 13/16. With 1/4 it is 2 x (3 5/8 + 1/16 + 1/4) = 7 7/8 = 7 5/8 + 1/4, just fits;
    # with 3/8 the slant takes 1/16 as well, 2 x 4 1/16 = 8 1/8 is over 8.
    solution = splayed()
    (mark,) = {x.mark for x in solution.layout.pieces if x.is_made}
    wide = solution.job.edited("saw.kerf", F(3, 8))
    plan = plan_cuts(wide, solution.layout.pieces)
    assert not any(unit.marks == (f"{mark}b", f"{mark}b") for unit in plan.units)


def test_only_square_corner_units_are_bought() -> None:
    solution = splayed()
    pieces = solution.layout.pieces
    square = [x for x in pieces if x.kind == "corner unit" and not x.is_made]
    made = [x for x in pieces if x.is_made]
    takeoff = solution.takeoff
    assert takeoff.row("corner units").net == len(square)
    assert takeoff.row("all units").laid == len(pieces)
    assert (
        f"the legs of {len(made)} mitred corner units" in takeoff.row("cut units").note
    )
    flats = takeoff.row("flat units")
    assert flats.order is not None
    assert flats.order >= takeoff.row("whole units").net + solution.cut_plan.whole_units


def test_a_count_without_the_legs_is_less() -> None:
    solution = splayed()
    without = tuple(replace(x, turn=F(90)) for x in solution.layout.pieces)
    fewer = plan_cuts(solution.job, without).whole_units
    assert fewer < solution.cut_plan.whole_units
