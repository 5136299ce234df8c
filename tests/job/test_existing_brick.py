"""Old brick that stays: how its course lines are typed, and what is refused."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.describing import describe_key
from shopdraw.job.model import Job
from shopdraw.job.old_lines import can_follow, old_lines
from shopdraw.job.reading import parse_job
from tests.job.files import STARTER
from tests.job.test_starter import opened

BASE = """
[job]
name = "Beside"
lengths = "{lengths}"
[face]
width = "60 in"
height = "{height}"
top_meets = "{meets}"
[opening]
width = "34 in"
height = "27 in"
[brick]
size = "modular"
"""


def job_of(*olds: str, height: str = "42 in", meets: str = "top") -> Job:
    tables = "".join(f"[[existing_brick]]\n{old}\n" for old in olds)
    text = BASE.format(lengths="in", height=height, meets=meets) + tables
    return parse_job(text, "den.toml")


def faults_of(*olds: str, **face: str) -> str:
    with pytest.raises(BadJob) as refused:
        job_of(*olds, **face)
    (fault,) = refused.value.lines()
    return str(fault)


def old(*lines: str, name: str = "nib", where: str = "left") -> str:
    return "\n".join((f'name = "{name}"', f'where = "{where}"', *lines))


GAUGED = ('first_top = "2 5/8 in"', 'gauge = "2 2/3 in"', "courses = 3")
TYPED = 'tops = ["2 5/8 in", "5 1/4 in"]'


def test_tops_are_typed_one_by_one_or_by_their_gauge() -> None:
    gauged = job_of(old(*GAUGED)).existing_brick[0]
    assert gauged.lines == (F(21, 8), F(21, 8) + F(8, 3), F(21, 8) + F(16, 3))
    assert job_of(old(TYPED)).existing_brick[0].lines == (F(21, 8), F(21, 4))


def test_a_line_is_as_tight_as_a_target_unless_it_says_otherwise() -> None:
    usual, own = (job_of(old(TYPED, *more)) for more in ((), ('tolerance = "1/8 in"',)))
    assert {line.tolerance for line in old_lines(usual)} == {F(1, 32)}
    assert {line.tolerance for line in old_lines(own)} == {F(1, 8)}


@pytest.mark.parametrize(
    ("gauge", "follows"),
    [("2 1/2 in", True), ("2 3/4 in", True), ("2 49/100 in", False), ("3 in", False)],
)
def test_old_courses_are_followed_where_a_bed_joint_can(
    gauge: str, follows: bool
) -> None:
    # Brick of 2 1/4 on joints of 1/4 to 1/2 rise by 2 1/2 to 2 3/4.
    lines = ('first_top = "2 5/8 in"', f'gauge = "{gauge}"', "courses = 9")
    job = job_of(old(*lines, 'height = "2 in"'))
    assert can_follow(job, job.existing_brick[0]) is follows


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ((), "existing_brick[1].tops: is missing; write the tops of its brick, or"),
        ((TYPED, GAUGED[1]), 'existing_brick[1].gauge: "2 2/3 in" is given as well'),
        (GAUGED[:2], "existing_brick[1].courses: is missing; first_top needs it"),
        (('tops = ["5 in", "7 in"]',), "2 in apart puts one course into the next"),
        (('tops = ["5 in", "4 in"]',), "-1 in apart puts one course into the next"),
        (('tops = ["1 in"]',), "has no course line between the first new course"),
        (('tops = ["50 in"]',), "has no course line between the first new course"),
        ((TYPED, "courses = 0"), "existing_brick[1].courses"),
    ],
)
def test_what_is_no_old_brick_is_refused(lines: tuple[str, ...], says: str) -> None:
    assert says in faults_of(old(*lines))


def test_two_of_a_name_or_on_one_side_are_refused() -> None:
    other = old(TYPED, where="right")
    assert "[2].name" in faults_of(old(TYPED), other)
    assert "[2].where" in faults_of(old(TYPED), old(TYPED, name="other"))
    assert job_of(old(TYPED), old(TYPED, name="other", where="right"))


def test_brick_above_ends_the_face_with_a_bed_joint() -> None:
    above = old('tops = ["44 1/4 in", "47 in"]', where="above")
    assert 'face.top_meets = "underside"' in faults_of(above)
    assert '"above" puts it over the face' in faults_of(above)
    missed = faults_of(above, height="41 in", meets="underside")
    assert 'write face.height = "42 in"' in missed
    (line,) = old_lines(job_of(above, meets="underside"))
    assert (line.level, line.meets) == (42, "underside")


def test_the_starter_s_old_brick_can_be_let_stand() -> None:
    job = parse_job(opened(STARTER, "[[existing_brick]]"), "starter.toml")
    assert job.existing_brick[0].lines[-1] == 8


def test_each_key_is_explained() -> None:
    said = describe_key("existing_brick")
    for key in ("tops", "first_top", "gauge", "courses", "height", "tolerance"):
        assert key in said
    assert '"left"' in describe_key("existing_brick.where")
