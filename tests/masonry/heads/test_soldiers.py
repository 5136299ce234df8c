"""The soldier course as laid: whole, sawn in pairs, past the jambs, round a corner."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction as F
from itertools import filterfalse, islice
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from shopdraw.cli import main
from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.lengths import typed_length
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.heads.stands import can_stand
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.quantities.comparing import compare_jobs
from tests.masonry.heads.standing import on_line, proved, standing, widths

BRICK = F(9, 4)
ROUND_THE_FACE: dict[str, Any] = {
    "face__width": "57 1/4 in",
    "face__height": "42 1/4 in",
    "face__left_return": "14 in",
    "face__right_return": "14 in",
    "opening__head": "soldier",
    "opening__head_over": "face",
    "brick__corner": {"long_leg": "7 5/8 in", "short_leg": "3 5/8 in"},
}
"""A soldier course that goes round both outside corners."""


def test_soldier_corner_units_turn_the_fold_with_the_long_leg_on_the_front(
    stack_job: Callable[..., Job],
) -> None:
    job = stack_job(
        "in",
        **ROUND_THE_FACE,
        brick__soldier_corner={
            "long_leg": "3 in",
            "short_leg": "2 1/4 in",
            "turns_over": False,
        },
    )
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    layout = prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    corners = [x for x in layout.pieces if x.kind == "soldier corner unit"]
    assert [x.legs for x in corners] == [(F(3), BRICK), (F(3), BRICK)]
    assert {x.place for x in corners} == {"front"}
    assert {x.mark for x in corners} == {"SC-L", "SC-R"}


@pytest.mark.parametrize(
    ("long_leg", "short_leg", "key"),
    [("30 in", "2 1/4 in", "face.width"), ("3 in", "15 in", "face.left_return")],
)
def test_corner_units_wider_than_their_face_are_told_in_words(
    stack_job: Callable[..., Job], long_leg: str, short_leg: str, key: str
) -> None:
    job = stack_job(
        "in",
        **ROUND_THE_FACE,
        brick__soldier_corner={"long_leg": long_leg, "short_leg": short_leg},
    )
    surround = trace_surround(job)
    with pytest.raises(NotLaid, match="what turns the outside corners is") as told:
        lay_bond(job, surround, solve_coursing(job, surround))
    assert str(told.value).startswith(key)
    assert "shorter legs in brick.soldier_corner" in str(told.value)


@pytest.mark.parametrize("past", ["2 in", "4 in"])
def test_soldiers_past_the_jambs_keep_pieces_beside_them_whole_enough(
    stack_job: Callable[..., Job], past: str
) -> None:
    job = stack_job(
        "in",
        face__width="58 in",
        opening__width="34 in",
        opening__head="soldier",
        opening__head_bears=past,
    )
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    layout = prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    soldiers = [x.outlines[0] for x in layout.pieces if x.kind == "soldier"]
    reach = surround.opening.left - min(x.left for x in soldiers)
    assert reach > F(past.split()[0]) - F(1, 2)
    assert not any(rule.rule == "least piece" for rule in layout.broken)


FIXED = {"preferred": "3/8 in", "least": "3/8 in", "most": "3/8 in"}


def wide_jobs(stack_job: Callable[..., Job], **changes: object) -> Iterator[Job]:
    """Yield jobs with one fixed joint, 60 in wide, openings of 33 to 35 7/16 in."""
    for sixteenths in range(33 * 16, 35 * 16 + 8):
        yield stack_job(
            "in",
            **{
                "face__width": "60 in",
                "face__height": "43 in",
                "opening__width": f"{sixteenths}/16 in",
                "opening__head": "soldier",
                "joints__head": FIXED,
                **changes,
            },
        )


def test_the_560_mm_opening_is_laid_with_six_whole_ones_between_two_of_49(
    stack_job: Callable[..., Job],
) -> None:
    job = stack_job(
        "mm", face__width="1120 mm", opening__width="560 mm", opening__head="soldier"
    )
    surround, layout = proved(job)
    row = standing(layout)
    assert widths(row) == [F(49), *[F(65)] * 6, F(49)]
    assert row[0].left - surround.opening.left == 8
    assert on_line(row, surround.opening.centre) == "joint"
    said = " ".join(layout.reasons)
    assert "with a joint on its centre line" in said
    assert "soldiers at both ends are sawn to 49" in said
    sawn = [x for x in layout.pieces if x.kind == "soldier" and x.length == 49]
    # Their sawn edges are outside, where the joints beside them hide that.
    assert [x.cut_edges[0] for x in sawn] == ["left", "right"]
    assert len({x.mark for x in sawn}) == 1


def test_soldiers_that_go_past_the_jambs_stop_the_legs_as_far_from_them(
    stack_job: Callable[..., Job],
) -> None:
    # 33 in, one joint of 3/8: 14 whole ones and 15 joints are 37 1/8, which is 2 1/16
    # past each jamb; the joint at each end is part of that.
    job = next(wide_jobs(stack_job))
    surround, layout = proved(job)
    row, opening = standing(layout), surround.opening
    assert widths(row) == [F(9, 4)] * 14
    assert opening.left - row[0].left == F(27, 16)
    course = min(x.course for x in layout.pieces if x.kind == "soldier")
    beside = [
        x.outlines[0].right
        for x in layout.pieces
        if x.kind == "stretcher" and x.course == course
        and x.outlines[0].right < opening.centre
    ]  # fmt: skip
    assert max(beside) == opening.left - F(33, 16)
    assert any('stand 1 11/16" past the brick' in x for x in layout.reasons)


def test_soldiers_may_be_kept_between_the_jambs(stack_job: Callable[..., Job]) -> None:
    job = next(wide_jobs(stack_job, opening__head_bears="no"))
    surround, layout = proved(job)
    row = standing(layout)
    assert widths(row) == [F(3, 2), *[BRICK] * 11, F(3, 2)]
    assert row[0].left > surround.opening.left


def test_a_leg_without_room_keeps_soldiers_between_the_jambs(
    stack_job: Callable[..., Job],
) -> None:
    # Legs of 3 3/4 in: with 2 1/16 taken off, 1 11/16 would be left, under 2 in.
    for wide, past in (("40 1/2 in", False), ("60 in", True)):
        job = next(wide_jobs(stack_job, face__width=wide))
        surround, layout = proved(job)
        goes = standing(layout)[0].left < surround.opening.left
        assert goes == past


def test_where_nothing_fits_it_is_told_what_would_and_each_of_it_does(
    stack_job: Callable[..., Job],
) -> None:
    told = 0
    jobs = wide_jobs(stack_job, opening__head_bears="3 in")
    for job in islice(filterfalse(can_stand, jobs), 2):
        told += 1
        with pytest.raises(NotLaid) as refused:
            proved(job)
        (line,) = refused.value.lines()
        assert line.startswith("opening.width: no soldiers 2 1/4 in wide fill")
        ways = line.partition("; write ")[2].split(", or ")
        assert len(ways) == 4
        for way in ways:
            key, values = way.split(" = ")
            for value in values.split(" or "):
                length = value.removesuffix(" in").split()
                new = "best" if '"' in value else sum(map(F, length), F(0))
                proved(job.edited(key, new))
    assert told == 2


def test_the_nearest_widths_are_the_nearest(stack_job: Callable[..., Job]) -> None:
    jobs = list(wide_jobs(stack_job, opening__head_bears="no", face__width="80 in"))
    fits = [can_stand(job) for job in jobs]
    place = fits.index(False)
    with pytest.raises(NotLaid) as refused:
        proved(jobs[place])
    below = jobs[place - 1].opening.width
    above = jobs[place + fits[place:].index(True)].opening.width
    (line,) = refused.value.lines()
    assert line.partition("opening.width = ")[2].startswith(
        f"{typed_length(below, 'in')} or {typed_length(above, 'in')},"
    )


def test_a_brick_whose_soldiers_do_not_fit_can_still_be_compared(
    stack_job: Callable[..., Job],
) -> None:
    jobs = wide_jobs(stack_job, opening__head_bears="no")
    job = next(job for job in jobs if not can_stand(job))
    own = next(x for x in compare_jobs(job, ("roman",), ("half",)) if x.size != "roman")
    assert own.why_not.startswith("opening.width: no soldiers")


def test_a_soldier_head_with_no_answer_is_one_line_and_exit_code_2(
    tmp_path: Path,
) -> None:
    path = tmp_path / "den.toml"
    path.write_text(
        """
[job]
name = "Den"
[face]
width = "60 in"
height = "43 in"
[opening]
width = "34 9/16 in"
height = "27 in"
head = "soldier"
head_bears = "no"
[brick]
size = "roman"
[joints]
head = { preferred = "3/8 in", least = "3/8 in", most = "3/8 in" }
"""
    )
    result = CliRunner().invoke(main, ["check", str(path)])
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    (line,) = result.stderr.splitlines()
    assert line.startswith("opening.width: no soldiers 1 5/8 in wide fill 34 9/16 in")
