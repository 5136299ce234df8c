"""Absurd sizes: refused in words, at once, with the limit."""

from __future__ import annotations

from fractions import Fraction

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job
from shopdraw.job.sense_sizes import lengths_of
from tests.demos import CONFIGS, solution_of

SAMPLE = (CONFIGS / "library-hearth.toml").read_text("utf-8")


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        (
            'size = "modular"',
            'length = "2000 mm"\nheight = "2 1/4 in"',
            'brick.length: "2000 mm" is more than this program draws; '
            "the most is 48 in",
        ),
        (
            'bed    = { preferred = "3/8 in", least = "1/4 in"',
            'bed    = { preferred = "1 mm", least = "1 mm"',
            'joints.bed.preferred: "1 mm" is too small for any joint; '
            "the least is 1/16 in",
        ),
        (
            'width = "34 in"',
            'width = "200 ft"',
            'opening.width: "200 ft" is more than this program draws; '
            "the most is 480 in",
        ),
        (
            'width = "34 in"',
            'width = "1 mm"',
            'opening.width: "1 mm" is too small for any opening; the least is 2 in',
        ),
        (
            'fall = "1/8 in"',
            'fall = "1000000 in"',
            'hearth.fall: "1000000 in" is more than this program draws; '
            "the most is 24 in",
        ),
        (
            'projection = "3/4 in"',
            'projection = "9999 in"',
            'trim[1].projection: "9999 in" is more than this program draws; '
            "the most is 1200 in",
        ),
        (
            "[edges]",
            '[courses]\ntop_height = "1/160 in"\n[edges]',
            'courses.top_height: "1/160 in" is too small for any course; '
            "the least is 1/4 in",
        ),
        (
            "[edges]",
            '[courses]\nsoldier_height = "1 in"\n[edges]',
            'courses.soldier_height: "1 in" is lower than a brick that lies, 2 1/4 in; '
            "a soldier stands at least as high as the courses beside it",
        ),
        (
            'width = "2 in"',
            'width = "901 in"',
            'fitting[1].width: "901 in" is out of reach of the face, 55 1/4 in; '
            "the most past it is 120 in",
        ),
        (
            'bottom = "34 7/8 in"',
            'bottom = "901 in"',
            'trim[1].bottom: "901 in" is out of reach of the face, 34 5/8 in; '
            "the most past it is 120 in",
        ),
    ],
)
def test_each_is_one_line(old: str, new: str, line: str) -> None:
    assert SAMPLE.count(old) == 1
    with pytest.raises(BadJob) as raised:
        parse_job(SAMPLE.replace(old, new), "den.toml")
    assert line in [each.removeprefix("den.toml: ") for each in raised.value.lines()]


def test_a_million_courses_are_refused() -> None:
    tall = SAMPLE.replace('height = "34 5/8 in"', 'height = "480 in"').replace(
        'size = "modular"', 'length = "1/2 in"\nheight = "1/2 in"'
    )
    with pytest.raises(BadJob) as raised:
        parse_job(tall, "den.toml")
    assert any("draws at most 20,000" in line for line in raised.value.lines())


def test_every_length_of_a_job_is_looked_at() -> None:
    """By key, in tables, in lists of tables and in points."""
    found = dict(lengths_of(solution_of("crooked-study").job))
    assert found["opening.corners.bottom_left[1]"] > 0
    assert found["hearth.points[1][1]"] is not None
    demo = dict(lengths_of(solution_of("library-hearth").job))
    assert demo["trim[1].projection"] == Fraction(3, 4)
    assert demo["joints.bed.preferred"] == Fraction(3, 8)
    assert "packs.flats" not in demo


@pytest.mark.parametrize(
    ("lengths", "size", "wide", "high"),
    [
        ("in", "ANSI A", "8.5", "11"),
        ("in", "ARCH A", "9", "12"),
        ("in", "ANSI B", "17", "11"),
        ("in", "ARCH C", "24", "18"),
        ("mm", "A4", "210", "297"),
        ("mm", "A3", "420", "297"),
    ],
)
def test_a_letter_and_an_a4_stand_upright_and_all_larger_paper_lies(
    lengths: str, size: str, wide: str, high: str
) -> None:
    """A4 by ISO 5457, from memory; else common practice, no published source."""
    name = "library-hearth" if lengths == "in" else "metric-slips"
    sheet = solution_of(name).job.edited("sheet.size", size)
    assert sheet.paper == (Fraction(wide), Fraction(high))
