"""A panel that meets a band, a corbel, an arch or a jamb: refused in words, or laid."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from shopdraw.errors import BadJob, NotLaid
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.inset.stopping import stop_courses
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.measure import measure_shapes
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.layout import RUNNING_KINDS, Layout
from shopdraw.masonry.wall.surround import trace_surround
from tests.masonry.inset.panel_jobs import job_of

STACK = ('pattern = "herringbone 45"', 'pattern = "stack"')


@cache
def laid(*changes: tuple[str, str]) -> Layout:
    job = job_of(STACK, *changes)
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    layout = prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    short = measure_shapes(layout.in_courses, job, coursing)
    assert not [name for name, _ in short]
    return layout


def with_table(text: str) -> tuple[str, str]:
    """Return the change that adds a table before the panel."""
    return "[[panel]]", f"{text}\n[[panel]]"


def headers(course: int) -> tuple[str, str]:
    return with_table(f'[[band]]\nkind = "header"\ncourse = {course}')


def part(left: str, course: int) -> tuple[str, str]:
    """Return a band of soldiers, 12 1/2 in wide, on a part of the front."""
    return with_table(
        f'[[band]]\nkind = "soldier"\ncourse = {course}\nfrom_left = "{left}"\n'
        'width = "12 7/8 in"'
    )


def headed(head: str, more: str = "") -> tuple[str, str]:
    return (
        'height = "26 5/8 in"',
        f'height = "26 5/8 in"\nhead = "{head}"\n{more}',
    )


# The panel is beside courses 13 to 20; course 21 is the last.
@pytest.mark.parametrize("course", [13, 16, 20])
def test_a_band_round_the_face_that_runs_through_it_is_refused(course: int) -> None:
    with pytest.raises(NotLaid) as refused:
        laid(headers(course))
    (line,) = refused.value.lines()
    assert line.startswith(f"panel[1]: band[1] runs through it in course {course};")


@pytest.mark.parametrize("course", [12, 21])
def test_a_band_right_under_it_or_over_it_is_laid_whole(course: int) -> None:
    layout = laid(headers(course))
    assert {piece.kind for piece in layout.in_courses if piece.course == course} >= {
        "header"
    }
    assert layout.panels[0].courses == (13, 20)


def test_a_band_on_a_part_of_the_front_that_stands_in_it_is_refused() -> None:
    with pytest.raises(NotLaid, match=r"panel\[1\]: band\[1\] stands in its way"):
        laid(part("25 in", 14))


def test_a_band_on_a_part_of_the_front_too_near_it_is_refused() -> None:
    # The panel begins at 17 13/16 in: 1 1/2 in are left between the two.
    with pytest.raises(NotLaid, match="too near for a piece of brick"):
        laid(part("3 7/16 in", 14), ('left_return = "11 5/8 in"\n', ""))


def test_a_corbel_beside_it_is_refused_and_one_above_it_is_laid() -> None:
    with pytest.raises(NotLaid, match="course 19 beside it projects for a corbel"):
        laid(with_table('[[corbel]]\ncourses = 3\nstep = "1/4 in"'))
    layout = laid(with_table('[[corbel]]\ncourses = 1\nstep = "1/4 in"'))
    assert layout.panels


def test_every_panel_that_has_something_in_its_way_has_a_line() -> None:
    second = (
        'border = "none"',
        'border = "none"\n[[panel]]\nname = "second"\nleft = "17 13/16 in"\n'
        'bottom = "42 3/8 in"\nwidth = "28 in"\nheight = "10 1/8 in"\n'
        'pattern = "stack"\nborder = "none"',
    )
    first = ('height = "20 5/8 in"', 'height = "7 1/2 in"')
    bands = with_table(
        '[[band]]\nkind = "header"\ncourse = 14\n[[band]]\nkind = "header"\ncourse = 18'
    )
    with pytest.raises(NotLaid) as refused:
        laid(bands, second, first)
    lines = refused.value.lines()
    assert [line.partition(":")[0] for line in lines] == ["panel[1]", "panel[2]"]
    assert "band[1]" in lines[0]
    assert "band[2]" in lines[1]


@pytest.mark.parametrize(
    "arch",
    [
        headed("segmental arch", '[arch]\nrise = "5 in"'),
        headed("jack arch"),
        headed("semicircular arch"),
        headed(
            "segmental arch",
            '[arch]\nrise = "2 in"\ndepth = "2 1/4 in"\n'
            '[arch.key]\nwidth = "4 in"\nrises = "4 in"',
        ),
    ],
)
def test_an_arch_in_its_way_is_refused(arch: tuple[str, str]) -> None:
    with pytest.raises(NotLaid, match=r"panel\[1\]: the (arch|opening)"):
        laid(arch)


def test_soldiers_in_its_way_are_refused() -> None:
    with pytest.raises(NotLaid, match=r"panel\[1\]: a soldier of course 11"):
        laid(headed("soldier"))


BESIDE = (
    ('width = "63 5/8 in"', 'width = "95 5/8 in"'),
    ('left = "17 13/16 in"', 'left = "12 in"'),
    ('bottom = "31 7/8 in"', 'bottom = "3 in"'),
    ('width = "28 in"', 'width = "9 in"'),
    ('height = "20 5/8 in"', 'height = "17 7/8 in"'),
)
"""A panel beside the opening: it begins 12 in from the left and is 9 in wide; the
opening begins 31 5/8 in from the left."""


@pytest.mark.parametrize(
    "jamb",
    ['jamb_return = "7 5/8 in"', 'jamb_return = "7 5/8 in"\nsplay = 30'],
    ids=["turned", "splayed"],
)
def test_beside_brick_that_turns_into_the_jamb_it_is_laid(jamb: str) -> None:
    turned = ('height = "26 5/8 in"', f'height = "26 5/8 in"\n{jamb}')
    layout = laid(*BESIDE, turned)
    assert layout.panels[0].courses == (2, 8)
    beside = [
        x for x in layout.in_courses if 2 <= x.course <= 8 and x.kind == "corner unit"
    ]
    # Corner units at the corner and at the jambs, none of them cut for the panel.
    assert len(beside) == 7 * 4


def test_too_near_a_turned_jamb_it_is_refused() -> None:
    turned = ('height = "26 5/8 in"', 'height = "26 5/8 in"\njamb_return = "7 5/8 in"')
    wider = ('width = "9 in"', 'width = "13 in"')
    with pytest.raises(BadJob, match="between the panel and the opening's jamb"):
        laid(*BESIDE, turned, wider)


def test_a_panel_beside_a_jamb_that_leans_is_laid() -> None:
    leans = (
        'width = "32 3/8 in"\nheight = "26 5/8 in"',
        'corners = { bottom_left = ["31 5/8 in", "0 in"], '
        'bottom_right = ["64 in", "0 in"], top_left = ["31 in", "26 5/8 in"], '
        'top_right = ["64 in", "26 5/8 in"] }',
    )
    layout = laid(*BESIDE, leans)
    assert layout.panels[0].courses == (2, 8)


def test_which_panel_leaves_a_course_too_little_room_is_told_by_its_key() -> None:
    """The first is too near to a corner unit, the second to the first."""
    layout = laid()
    bare = job_of(), tuple(x for x in layout.pieces if x.kind in RUNNING_KINDS)
    (panel,) = layout.panels
    left, low, _, high = panel.box
    first = replace(panel, box=(left, low, left + 10, high))
    second = replace(panel, box=(left + 12, low, left + 22, high))
    with pytest.raises(NotLaid) as refused:
        stop_courses(*bare, (first, second))
    (line,) = refused.value.lines()
    wanted = "panel[2]: course 13 has 1 1/4 in of room between it and panel[1], and "
    assert line.startswith(wanted)
    on_front = (y for x in bare[1] for y in x.outlines if y.face == "front")
    edge = min(x.left for x in on_front)
    beside = replace(panel, box=(edge + Fraction(9, 2), low, left + 10, high))
    with pytest.raises(NotLaid, match=r"^panel\[1\]: .* of room beside it"):
        stop_courses(*bare, (beside,))
