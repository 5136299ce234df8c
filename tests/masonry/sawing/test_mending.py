"""Pieces mended beside an arch and an edge out of true; the rest is told."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest
import shapely

from shopdraw.errors import NotProved
from shopdraw.job.reading import parse_job
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.sawing.clipping import trim_leg
from shopdraw.masonry.sawing.mending import Mend
from shopdraw.masonry.wall.layout import flat_piece, rectangle
from shopdraw.pipeline import solve
from tests.demos import CONFIGS, solution_of
from tests.splayed import splayed

SCRIBED = "scribed on the wall"
ARCHED = """
[job]
name = "Arch"
lengths = "in"
[face]
measured_to = "finish"
width = "{face} in"
height = "{high} in"
left_return = "12 in"
right_return = "12 in"
[opening]
width = "{wide} in"
height = "{spring} in"
head = "{head}"
[arch]
{arch}
[brick]
size = "modular"
[bond]
pattern = "{bond}"
[hearth]
fall = "0 in"
"""


def arched(head, arch, face, high, wide, spring, bond="half"):
    text = ARCHED.format(
        head=head, arch=arch, face=face, high=high, wide=wide, spring=spring, bond=bond
    )
    return solve(parse_job(text, "arch.toml"))


def crooked(fit):
    text = (CONFIGS / "crooked-study.toml").read_text()
    assert "[edges]\n" in text
    return solve(parse_job(text.replace("[edges]\n", f'[edges]\nfit = "{fit}"\n'), "x"))


def failed(solution, key):
    return [
        finding
        for finding in solution.findings
        if finding.rule.key == key and finding.status == "failed"
    ]


def test_the_segmental_demo_has_no_piece_that_can_t_be_sawn():
    solution = solution_of("segmental-kitchen")
    assert not solution.layout.broken
    assert not any("notch" in row.note for row in solution.cut_list)
    # In course 14 the tip that was left beside the arch is one with its neighbour.
    course = [
        x for x in solution.layout.pieces if x.course == 14 and x.place == "front"
    ]
    whole = [x for x in course if x.kind == "stretcher"]
    assert [len(x.shapes) for x in whole] == [0, 1, 1, 0]
    assert all(x.length > 7 for x in whole if x.shapes)


def test_the_pieces_of_the_segmental_demo_mirror():
    solution = solution_of("segmental-kitchen")
    centre = solution.surround.opening.centre
    shapes = {
        tuple(sorted((round(float(x), 6), round(float(y), 6)) for x, y in o.points))
        for piece in solution.layout.pieces
        for o in piece.outlines
        if o.face == "front" and not o.is_rectangle and piece.kind != "voussoir"
    }
    mirrored = {
        tuple(sorted((round(2 * float(centre) - x, 6), y) for x, y in ring))
        for ring in shapes
    }
    assert shapes == mirrored


def test_the_leg_of_a_corner_unit_is_trimmed_where_nothing_else_helps():
    # Beside this jack arch less than an inch is left between corner unit and skewback.
    solution = arched(
        "jack arch", 'depth = "7 1/2 in"', "70.5", "34.475", "50", "23.25", "stack"
    )
    assert not solution.layout.broken
    trimmed = [x for x in solution.layout.pieces if x.is_trimmed and x.course == 11]
    assert [x.kind for x in trimmed] == ["corner unit"] * 2
    assert all(min(x.legs) >= 2 for x in trimmed)
    assert all("trim from the free end" in row.note for row in solution.cut_list
               if row.is_trimmed)  # fmt: skip


@pytest.fixture(scope="module")
def strip():
    """A segmental arch whose crown leaves 1/3 in of a course: nothing mends that."""
    arch = 'rise = "6 3/4 in"\ndepth = "7 5/8 in"'
    return arched("segmental arch", arch, "71", "52.725", "43.5", "30.25", "stack")


def test_what_can_t_be_mended_is_told_with_its_place_and_never_passed(strip):
    broken = [rule for rule in strip.layout.broken if rule.rule != "least lap"]
    assert broken
    told = failed(strip, "piece-shape")
    assert [finding.pieces for finding in told] == [rule.pieces for rule in broken]
    for finding, rule in zip(told, broken, strict=True):
        assert all(name in finding.says for name in rule.pieces)
    names = {name for rule in broken for name in rule.pieces}
    for piece in strip.layout.pieces:
        assert bool(set(piece.broken) - {"least lap"}) == (piece.id in names)


def test_the_longest_fillet_is_held_to_what_the_job_allows():
    text = (CONFIGS / "segmental-kitchen.toml").read_text()
    assert "longest_fillet" not in text
    solution = solution_of("segmental-kitchen")
    longest = max(x.length for x in solution.layout.fillets)
    assert 1 < longest <= 2
    assert not failed(solution, "fillet")
    less = text.replace("[hearth]", '[bond]\nlongest_fillet = "1 in"\n\n[hearth]')
    solution = solve(parse_job(less, "x"))
    (finding,) = failed(solution, "fillet")
    assert finding.limit == 1
    assert finding.measured == max(x.length for x in solution.layout.fillets) > 1
    assert "is filled with mortar" in finding.says


# The perpend would stand where the tip is cut off, and its joint would be mortar too.
NEAR_A_TIP = """
[job]
name = "A perpend beside a tip"
[face]
width = "68 13/16 in"
height = "55 3/4 in"
measured_to = "finish"
[opening]
head = "semicircular arch"
width = "40 3/16 in"
height = "13 3/16 in"
[arch]
voussoirs = "cut"
made_of = "rowlocks"
rings = 2
[brick]
size = "standard"
"""


def test_a_perpend_beside_a_tip_is_moved_where_its_joint_is_too_much_mortar():
    solution = solve(parse_job(NEAR_A_TIP, "x"))
    assert not failed(solution, "fillet")
    (tip,) = {round(float(x.length), 3) for x in solution.layout.fillets}
    assert tip == pytest.approx(1.913)


def test_a_fillet_that_is_left_out_gapes():
    solution = solution_of("segmental-kitchen")
    without = replace(solution.layout, fillets=solution.layout.fillets[:-1])
    with pytest.raises(NotProved, match="has no brick at"):
        prove_layout(solution.job, solution.surround, solution.coursing, without)


# -------------------------------------------------------------- scribed on the wall


def test_a_small_lean_is_scribed_on_the_wall_by_default():
    # The hearth falls more than that: it is sawn for, unless scribing is asked for.
    usual = solution_of("crooked-study").layout.pieces
    scribed, sawn = (crooked(fit).layout.pieces for fit in (SCRIBED, "sawn"))
    above = [[x.outlines for x in y if x.course > 1] for y in (usual, scribed, sawn)]
    assert above[0] == above[1] != above[2]
    first = [[x for x in y if x.course == 1] for y in (usual, scribed, sawn)]
    assert [sum(bool(x.left_long) for x in y) for y in first] == [2, 5, 0]


def test_what_is_scribed_is_one_mark_left_long_by_what_is_said():
    solution = solution_of("crooked-study")
    rows = {row.mark: row for row in solution.cut_list}
    scribed = [x for x in solution.layout.pieces if x.left_long and not x.shapes]
    soldiers = {x.mark for x in scribed if x.kind == "soldier"}
    (mark,) = soldiers
    assert (rows[mark].length, rows[mark].height) == (F(9, 4), F(61, 8))
    assert rows[mark].count == 14
    assert 'left long by up to 3/16": mark and scribe on the wall' in rows[mark].note
    # The shortest soldier stands where the head is highest.
    shortest = min(x.height for x in scribed if x.kind == "soldier")
    assert F(2, 16) < F(61, 8) - shortest <= F(3, 16)
    for piece in scribed:
        assert "scribe on the wall" in rows[piece.mark].note


def test_marks_of_what_is_scribed_are_few():
    rows = [x for x in solution_of("crooked-study").cut_list if x.is_cut]
    assert len(rows) <= 15


def test_a_notch_in_one_brick_of_many_is_said_by_its_place_and_size():
    """Of 17 like bricks one laps the opening's corner: by 1/4" and by 3/16"."""
    (row,) = [x for x in solution_of("crooked-study").cut_list if "notch" in x.note]
    assert row.count == 17
    said = 'notch (front, course 12, lower left, 1/4" x 3/16"): ground out'
    assert said in row.note
    # An independent measure: what its rectangle has and the piece has not.
    pieces = [x for x in solution_of("crooked-study").layout.pieces if x.mark == "B1"]
    lacks = []
    for piece in pieces:
        ring = shapely.Polygon(
            [(float(x), float(y)) for x, y in piece.outlines[0].points]
        )
        gone = shapely.box(*ring.bounds).difference(ring)
        spare = gone.buffer(-1 / 64).buffer(1 / 64, join_style="mitre")
        if len(ring.exterior.coords) > 5 and not spare.is_empty:
            lacks.append((piece.course, ring.bounds, spare.bounds))
    ((course, whole, gone),) = lacks
    assert course == 12
    assert (gone[0], gone[1]) == pytest.approx((whole[0], whole[1]), abs=1e-3)
    assert gone[2] - gone[0] == pytest.approx(1 / 4, abs=1 / 64)
    assert gone[3] - gone[1] == pytest.approx(3 / 16, abs=1 / 64)


def test_a_notch_that_a_mark_of_its_own_has_is_in_its_drawing():
    solution = crooked("sawn")
    notched = [row for row in solution.cut_list if "notch" in row.note]
    assert [row.count for row in notched] == [1]
    assert notched[0].shapes
    assert "notch: ground out, it may break there" in notched[0].note


LEANING = """
[job]
name = "Leaning"
[face]
width = "62 in"
height = "41 1/4 in"
measured_to = "finish"
[opening]
head = "running"
[opening.corners]
bottom_left = ["12 in", "0 in"]
bottom_right = ["48 in", "0 in"]
top_left = ["{top} in", "27 in"]
top_right = ["48 in", "27 in"]
[brick]
size = "modular"
[bond]
pattern = "stack"
[hearth]
fall = "0 in"
"""
"""In stack bond, which is solved soonest: what the edges ask for is the same in any."""


@pytest.mark.parametrize(
    ("top", "is_scribed"),
    # 2 1/4 and 3/8 to a course: 27 x 1/8 / 2 5/8 is 1.286.
    [("13.28", True), ("13.29", False)],
)
def test_the_default_turns_where_a_cut_changes_by_an_eighth_from_course_to_course(
    top, is_scribed
):
    solution = solve(parse_job(LEANING.format(top=top), "x"))
    assert any(x.left_long for x in solution.layout.pieces) == is_scribed


def test_a_corner_unit_that_is_made_gets_a_shorter_leg_and_is_not_trimmed():
    """At a square corner the same is said to be trimmed at its free end."""
    pieces = splayed().layout.pieces
    for unit in (
        next(x for x in pieces if x.is_made),
        next(x for x in pieces if x.kind == "corner unit" and not x.is_made),
    ):
        leg = unit.outlines[0]
        shorter = replace(
            leg, points=tuple((min(x, leg.right - 1), y) for x, y in leg.points)
        )
        mended = trim_leg(unit, leg, shorter)
        assert mended.legs == (unit.legs[0] - 1, unit.legs[1])
        assert mended.is_trimmed != unit.is_made
        assert any(x.endswith(" leg") for x in mended.cut_edges) != unit.is_made


@pytest.mark.parametrize(
    ("begins", "short"), [("24 1/2", 0), ("15 7/8", 0), ("14", 0), ("9", 1)]
)
def test_what_is_left_whole_taken_whole_or_long_enough_is_no_fault(begins, short):
    # Three of 7 5/8 with joints of 3/8, and what they keep out of begins at an x: right
    # of all, over the last alone, over a part of the second that leaves 6 or 1.
    text = ARCHED.format(
        head="running", arch="", face=60, wide=30, high=40, spring=24, bond="half"
    )
    x, far = F(sum(map(F, begins.split()))), 100
    left, high = map(F, (0, 8, 16)), F(9, 4)
    outlines = [rectangle("front", a, F(0), a + F(61, 8), high) for a in left]
    row = [flat_piece("stretcher", 1, outline, ()) for outline in outlines]
    keep_out = {"front": shapely.box(float(x), -far, far, far)}
    job = parse_job(text, "three.toml")
    mend = Mend(job, tuple(row), keep_out, lambda *_: F(2))
    assert mend.faults_of(("front", 1), row) == (short, 0, 0, 0)
