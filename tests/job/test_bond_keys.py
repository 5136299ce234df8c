"""The keys of the bonds with headers: what a header shows, how often, which bond."""

from __future__ import annotations

from fractions import Fraction as F
from typing import get_args

import pytest

from shopdraw.catalog.rows import brick_sizes
from shopdraw.errors import BadJob
from shopdraw.job.model import Job
from shopdraw.job.model_brick import ALSO_CALLED, PATTERNS, Pattern
from shopdraw.job.reading import parse_job
from shopdraw.job.sense import complaints_of
from shopdraw.quantities.comparing import compare_jobs

MODULAR = 'size = "modular"'


def text_of(brick: str = MODULAR, bond: str = "", lengths: str = "in") -> str:
    return f"""
[job]
name = "Headers"
lengths = "{lengths}"
[face]
width = "60 in"
height = "43 in"
[opening]
width = "34 in"
height = "27 in"
[brick]
{brick}
[bond]
{bond}
"""


def job_of(*what: str, **kind: str) -> Job:
    return parse_job(text_of(*what, **kind), "den.toml")


def faults_of(*what: str) -> list[str]:
    with pytest.raises(BadJob) as refused:
        job_of(*what)
    return list(refused.value.lines())


@pytest.mark.parametrize("lengths", ["in", "mm"])
def test_a_header_shows_the_width_of_the_full_brick(lengths: str) -> None:
    for row in brick_sizes(lengths):
        job = job_of(f'size = "{row.name}"', lengths=lengths)
        assert job.brick.header == row.thickness == job.header_length
        assert job.header_length < job.brick.length


def test_what_is_typed_of_a_header_wins() -> None:
    job = job_of(f'{MODULAR}\nheader = "3 1/2 in"')
    assert job.header_length == F(7, 2)


def test_a_brick_that_is_not_in_the_catalog_has_half_bats_for_headers() -> None:
    # (8 1/8 - 3/8) / 2 = 3 7/8.
    job = job_of('length = "8 1/8 in"\nheight = "2 1/4 in"')
    assert job.brick.header is None
    assert job.header_length == F(31, 8)


def test_a_short_brick_has_no_header_as_long_as_it_is_itself() -> None:
    job = job_of(f'{MODULAR}\nlength = "3 1/2 in"\nheight = "1 in"')
    assert job.brick.header is None
    assert job.header_length == F(25, 16)


def test_a_header_is_shorter_than_the_brick() -> None:
    assert faults_of(f'{MODULAR}\nheader = "8 in"') == [
        'den.toml: brick.header: "8 in" is not shorter than the brick, 7 5/8 in; write '
        "the width of the full brick, which a header shows"
    ]


def test_each_other_brick_is_compared_with_its_own_header() -> None:
    # 8 in is shorter than a roman brick, but no shorter than a standard one.
    job = job_of('size = "roman"\nheader = "8 in"')
    found = compare_jobs(job, ("standard",), ("half",))
    assert [one.why_not for one in found] == ["", ""]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [*ALSO_CALLED.items(), ("flemish", "Flemish"), ("Half", "half")],
)
def test_a_bond_by_another_name_is_told_what_would_do(typed: str, meant: str) -> None:
    (line,) = faults_of(MODULAR, f'pattern = "{typed}"')
    assert line.startswith(f'den.toml: bond.pattern: "{typed}" is not one of "half", ')
    assert line.endswith(f'; "{meant}" is what would do')
    assert typed not in get_args(Pattern)


def test_a_bond_that_is_like_none_is_told_no_other() -> None:
    (line,) = faults_of(MODULAR, 'pattern = "herring"')
    assert "would do" not in line


@pytest.mark.parametrize("pattern", get_args(Pattern))
def test_each_bond_may_be_asked_for(pattern: str) -> None:
    assert job_of(MODULAR, f'pattern = "{pattern}"').bond.pattern == pattern


def test_headers_come_every_sixth_course_or_every_fifth_in_common_bond_alone() -> None:
    job = job_of()
    assert job.bond.header_every == 6
    every = job.edited("bond.pattern", "common").edited("bond.header_every", 5)
    assert "bond.header_every" not in {one.key for one in complaints_of(every)}
    assert faults_of(MODULAR, "header_every = 5") == [
        "den.toml: bond.header_every: 5 is for common bond only, and bond.pattern is "
        '"half"; leave it out'
    ]
    assert faults_of(MODULAR, "header_every = 7") == [
        "den.toml: bond.header_every: 7 is not one of 5 or 6"
    ]


def test_every_bond_is_compared() -> None:
    found = compare_jobs(job_of(), ("modular",))
    assert {one.pattern for one in found} == set(PATTERNS)


@pytest.mark.parametrize("key", ["bed", "head"])
@pytest.mark.parametrize("joint", ["1/4 in", "3/8 in", "1/2 in"])
def test_a_joint_may_have_one_width_alone_and_be_at_either_end_of_its_range(
    key: str, joint: str
) -> None:
    """A range of nothing is one; the preferred width may be its least or its most."""
    for least, most in ((joint, joint), ("1/4 in", joint), (joint, "1/2 in")):
        given = (
            f'{key} = {{ preferred = "{joint}", least = "{least}", most = "{most}" }}'
        )
        text = f"""
[job]
name = "One joint"
[face]
width = "60 in"
height = "40 in"
measured_to = "finish"
[opening]
width = "34 in"
height = "26 in"
[brick]
size = "modular"
[joints]
{given}
"""
        table = getattr(parse_job(text, "joint.toml").joints, key)
        assert table.least <= table.preferred <= table.most
