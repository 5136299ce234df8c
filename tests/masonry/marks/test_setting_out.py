"""Where the marks of pole and rods stand, by hand and against the layout."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction as F

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.marks.form import Strip
from shopdraw.masonry.marks.setting_out import mark_pole, mark_rods
from shopdraw.masonry.wall.surround import trace_surround
from tests.alcoves import beside_alcoves
from tests.demos import solution_of

StackJob = Callable[..., Job]


def at(strip: Strip, kind: str, side: str = "") -> list[F]:
    return [t.at for t in strip.ticks if t.kind == kind and t.side in (side or t.side)]


def test_a_pole_has_every_course_and_both_edges_of_the_joint_at_the_head() -> None:
    # The first demo: 3/8, five of 3/8, then 7/16: course 10 ends at 26 9/16, and the
    # joint above it, 7/16, lands on 27.
    solution = solution_of("library-hearth")
    pole = mark_pole(solution.coursing, solution.variation)
    assert at(pole, "course top")[:2] == [F(21, 8), F(21, 4)]
    assert len(at(pole, "course top")) == 13
    assert at(pole, "joint edge") == [F(425, 16)]
    assert at(pole, "ledger") == [F(27)]
    assert at(pole, "target") == [F(27), F(277, 8), F(277, 8)]
    assert pole.length == F(277, 8)


def test_a_pole_of_a_sample_says_where_to_measure_again() -> None:
    solution = solution_of("morning-room")
    pole = mark_pole(solution.coursing, solution.variation)
    again = [tick for tick in pole.ticks if tick.kind == "measure again"]
    tops = {str(c.number): c.top for c in solution.coursing.courses}
    assert again
    assert all(tick.at == tops[tick.name] for tick in again)


def test_a_rod_has_both_edges_of_every_head_joint_of_its_two_courses() -> None:
    # Course 1 of the first demo's front: 7 5/8, 3/8, 3 5/8 to the jamb at 11 5/8.
    solution = solution_of("library-hearth")
    rods = mark_rods(solution.surround, solution.coursing, solution.layout)
    assert [rod.name for rod in rods] == ["left", "front", "front, soldiers", "right"]
    front = rods[1]
    assert at(front, "joint edge", "A")[:2] == [F(61, 8), F(8)]
    assert at(front, "joint edge", "B")[:2] == [F(29, 8), F(4)]
    assert at(front, "jamb") == [F(93, 8), F(93, 8) + 34]
    assert at(front, "centre") == [F(93, 8) + 17]
    assert at(front, "fold") == [F(0), F(229, 4)]
    # Thirteen soldiers have twelve joints between them, and two ends.
    assert len(at(rods[2], "joint edge")) == 2 * 12 + 2


def test_a_mirrored_job_has_mirrored_rods(stack_job: StackJob) -> None:
    # In stack bond, which is solved soonest: the rods go by the jambs.
    wide = {"face__width": "60 in", "opening__from_left": "11 in"}
    job = stack_job("in", bond__pattern="stack", **wide)
    other = job.edited("opening.from_left", job.face.width - 11 - job.opening.width)
    strips = []
    for each in (job, other):
        surround = trace_surround(each)
        coursing = solve_coursing(each, surround)
        rods = mark_rods(surround, coursing, lay_bond(each, surround, coursing))
        strips.append(rods[0])
    assert at(strips[1], "jamb") == [60 - x for x in reversed(at(strips[0], "jamb"))]
    assert at(strips[1], "centre") == [60 - x for x in at(strips[0], "centre")]


def test_bands_and_a_corbel_have_rods_of_their_own() -> None:
    strips = {strip.name: strip for strip in solution_of("banded-breast").strips}
    # On the returns soldiers and rowlocks stand alike, so one side serves both; a rod
    # has a course on either side, and the last one is alone.
    assert [name for name in strips if name.startswith("left,")] == [
        "left, soldiers of course 4 and rowlocks of course 13; course 8",
        "left, course 18; course 19",
        "left, course 20",
    ]
    # The front is 63 1/8; course 19 goes 3/8, and course 20 9/16, past both corners.
    assert strips["front"].length == F(505, 8)
    rod = strips["front, course 19; course 20"]
    assert rod.courses == (19, 20)
    assert rod.length == F(505, 8) + 2 * F(9, 16)
    assert at(rod, "fold", "A") == [F(505, 8) + 2 * F(3, 8)]
    assert at(rod, "fold", "B") == [rod.length]
    # Both stand on their left ends.
    assert at(rod, "fold", "both") == [0]


def test_a_rod_of_two_bands_has_the_joints_of_each_on_its_own_side() -> None:
    """Course 8 of a return: 3/8 of soft joint, then headers, from the wall."""
    solution = solution_of("banded-breast")
    rod = next(x for x in solution.strips if x.name.endswith("; course 8"))
    for side, number in (("A", 4), ("B", 8)):
        ends = {
            x - solution.surround.face("left").left
            for piece in solution.layout.in_courses
            for outline in piece.outlines
            if piece.course == number and outline.face == "left"
            for x in (outline.left, outline.right)
        }
        inside = sorted(x for x in ends if 0 < x < rod.length)
        assert at(rod, "joint edge", side) == inside


def test_a_rod_has_the_inside_corner_and_goes_on_as_far_as_the_brick() -> None:
    # The left return: 5/8 behind the alcove's face, then 11 to the outside corner.
    solution = beside_alcoves()
    rods = mark_rods(solution.surround, solution.coursing, solution.layout)
    (rod,) = (x for x in rods if x.name == "left")
    assert (rod.length, at(rod, "inside corner")) == (F(93, 8), [F(5, 8)])
    # What butts stops 3/8 before it.
    assert F(1) in at(rod, "joint edge")
    (rod,) = (x for x in rods if x.name == "left alcove")
    assert (rod.length, at(rod, "inside corner")) == (F(189, 8), [F(23)])
    assert at(rod, "fold") == []
