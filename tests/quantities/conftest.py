"""Plain walls built piece by piece, to take quantities off."""

import copy
import tomllib
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import count
from typing import Any

import pytest

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Course, Coursing, Merit
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout, Outline, Piece
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.quantities.cutting import plan_cuts
from shopdraw.quantities.takeoff import Takeoff, take_off

JOB = """
[job]
name = "Counted"
lengths = "in"
[face]
measured_to = "finish"
width = "60 in"
height = "30 in"
[opening]
width = "20 in"
height = "10 in"
[brick]
length = "7 5/8 in"
height = "2 1/4 in"
thickness = "5/8 in"
[setting_bed]
least = "1/4 in"
most = "1/2 in"
[joints]
step = "1/16 in"
depth = "1/2 in"
bed = { preferred = "3/8 in", least = "1/4 in", most = "1/2 in" }
bottom = { kind = "mortar", least = "0 in", most = "3/4 in" }
head = { preferred = "3/8 in", least = "1/4 in", most = "1/2 in" }
[bond]
least_piece = "2 in"
least_width = "3/4 in"
least_corner = 30
least_area = 25
longest_fillet = "2 in"
least_lap = "2 in"
[saw]
kerf = "1/8 in"
[waste]
flats = { percent = 10, least = 5 }
corners = { percent = 10, least = 2 }
setting_mortar = { percent = 20 }
pointing_mortar = { percent = 20 }
[sheet]
size = "ARCH C"
page = "ANSI A"
scale = "fit"

[appearance]
brick = "#9c5344"
joint = "#cfc7b8"
variation = 14
"""


def build_job(**changes: Any) -> Job:
    """Build the job with tables updated."""
    tables = copy.deepcopy(tomllib.loads(JOB))
    for name, change in changes.items():
        tables[name] = {**tables.get(name, {}), **change}
    return Job.model_validate(tables, context={"lengths": tables["job"]["lengths"]})


def rectangle(face: str, left: Any, bottom: Any, right: Any, top: Any) -> Outline:
    """Return an upright rectangle, anticlockwise from its lower left corner."""
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    points = tuple((Fraction(x), Fraction(y)) for x, y in corners)
    return Outline(face, points)


_NUMBERS = count(1)


def piece(
    outline: Outline, course: int = 1, kind: str = "stretcher", **more: Any
) -> Piece:
    """Return a piece of one outline, whole unless it is said otherwise."""
    made = Piece(
        id=f"{outline.face}-{next(_NUMBERS)}",
        mark="",
        kind=kind,
        course=course,
        place=outline.face,
        outlines=(outline,),
        length=outline.right - outline.left,
        height=outline.top - outline.bottom,
        legs=(),
        is_cut=False,
        is_trimmed=False,
        cut_edges=(),
    )
    return replace(made, **more)


def coursing_of(
    heights: list[Fraction], joints: list[Fraction], head: Fraction
) -> Coursing:
    """Stack courses from the datum; a joint more than courses lies above the last."""
    courses = []
    level = none = Fraction(0)
    for number, (height, joint) in enumerate(zip(heights, joints, strict=False), 1):
        bottom = level + joint
        level = bottom + height
        courses.append(Course(number, "running", joint, bottom, level))
    return Coursing(
        courses=tuple(courses),
        joints=tuple(joints),
        targets=(),
        merit=Merit((), none, none, 0, 0, none, none),
        courses_below_head=0,
        head=head,
        soldier_top=None,
        soldiers_cut=False,
        courses_beside_soldiers=0,
        reasons=(),
    )


def layout_of(*pieces: Piece) -> Layout:
    """Return a layout of which only the pieces are read."""
    return Layout(pieces, (), (), Fraction(2), None, ())


@dataclass(frozen=True)
class Wall:
    """A wall and all that its takeoff reads."""

    job: Job
    surround: Surround
    coursing: Coursing
    layout: Layout

    def take_off(self) -> Takeoff:
        """Take off its quantities."""
        plan = plan_cuts(self.job, self.layout.pieces)
        return take_off(self.job, self.surround, self.coursing, self.layout, plan)


@pytest.fixture
def plain_wall():
    """Build a stack of whole units in which every unit has its own two joints.

    The units stand right of a full-height opening, one bed joint under each course and
    one head joint after each unit (the last is the mortar joint of the right edge), so
    that the net face is exactly so many modules.
    """

    def build(across: int, up: int, length, height, head, bed, depth=None) -> Wall:
        length, height, head, bed = map(Fraction, (length, height, head, bed))
        module, gauge = length + head, height + bed
        job = build_job(
            face={"width": module * (across + 1), "height": gauge * up},
            opening={"width": module, "height": gauge * up, "from_left": "0 in"},
            edges={"right": {"kind": "mortar", "width": head}},
            joints=tomllib.loads(JOB)["joints"] | {"depth": Fraction(depth or "1/2")},
        )
        pieces = [
            piece(
                rectangle(
                    "front",
                    module * (i + 1),
                    gauge * j + bed,
                    module * (i + 1) + length,
                    gauge * (j + 1),
                ),
                course=j + 1,
            )
            for j in range(up)
            for i in range(across)
        ]
        coursing = coursing_of([height] * up, [bed] * up, gauge * up)
        return Wall(job, trace_surround(job), coursing, layout_of(*pieces))

    return build


@pytest.fixture
def corner_wall():
    """Build two courses round a left corner, with a cut, soldiers and an opening.

    Left return 20 wide, front 40 with an opening 20 wide in its middle (x 30 to 50),
    units 7 5/8 x 2 1/4 with 3/8 joints; the head at 2 5/8, over it two soldiers.
    """

    def build(**changes: Any) -> Wall:
        job = build_job(
            **{
                "face": {"width": "40 in", "height": "21/4 in", "left_return": "20 in"},
                "opening": {"width": "20 in", "height": "21/8 in"},
                **changes,
            }
        )
        unit, half = Fraction(61, 8), Fraction(29, 8)
        joint, height = Fraction(3, 8), Fraction(9, 4)
        low, high = (joint, joint + height), (2 * joint + height, 2 * (joint + height))
        fold = Fraction(20)

        def corner(course, rows, on_left, on_front):
            left = rectangle("left", fold - on_left, rows[0], fold, rows[1])
            front = rectangle("front", fold, rows[0], fold + on_front, rows[1])
            outlines = (left, front) if on_left > on_front else (front, left)
            return piece(
                outlines[0],
                course,
                "corner unit",
                outlines=outlines,
                legs=(max(on_left, on_front), min(on_left, on_front)),
            )

        def flat(face, course, rows, left, length, kind="stretcher", is_cut=False):
            outline = rectangle(face, left, rows[0], left + length, rows[1])
            return piece(outline, course, kind, is_cut=is_cut)

        pieces = (
            flat("left", 1, low, Fraction(0), fold - half - joint, is_cut=True),
            corner(1, low, half, unit),
            flat("front", 1, low, Fraction(50), unit),
            flat("left", 2, high, fold - 2 * unit - joint, unit),
            corner(2, high, unit, half),
            flat("front", 2, high, Fraction(30), height, "soldier"),
            flat("front", 2, high, Fraction(40), height, "soldier", is_cut=True),
            flat("front", 2, high, Fraction(50), unit),
        )
        coursing = coursing_of([height] * 2, [joint] * 2, Fraction(21, 8))
        return Wall(job, trace_surround(job), coursing, layout_of(*pieces))

    return build
