"""Surveys, arches, samples and laid courses: each fault said on one line."""

from __future__ import annotations

import tomllib

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.job.revising import LaidEntry, next_revision, with_laid, with_revision

BASE = """
[job]
name = "Old"
[face]
width = "60 in"
height = "40 in"
measured_to = "finish"
[opening]
{opening}
[brick]
size = "modular"
{more}
"""
PLAIN = 'width = "36 in"\nheight = "27 in"'
ROUND = 'width = "18 in"\nheight = "12 in"\nhead = "semicircular arch"'
ROWLOCKS = '[arch]\nmade_of = "rowlocks"\nrings = 2'
RISING = '[arch]\nkey = { width = "4 in", rises = "8 in" }'
EVEN_KEY = '[arch]\nkey = { width = "4 in" }\nnumber = "even"'
CORNERS = """
[opening.corners]
bottom_left = ["12 in", "0 in"]
bottom_right = ["48 in", "-1/4 in"]
top_left = ["12 1/4 in", "27 in"]
top_right = ["48 in", "27 1/4 in"]
"""
TEN = ", ".join(['"2 1/4 in"'] * 10)


def job_of(opening: str = PLAIN, more: str = "") -> Job:
    return parse_job(BASE.format(opening=opening, more=more), "old.toml")


def lines(opening: str = PLAIN, more: str = "") -> list[str]:
    with pytest.raises(BadJob) as told:
        job_of(opening, more)
    return [fault.line() for fault in told.value.faults]


def test_corners_give_the_clear_opening_and_the_lowest_point_of_its_head() -> None:
    job = job_of(CORNERS)
    # Between 12 1/4 and 48; the left foot is the hearth's highest point under brick.
    assert (job.opening.width, job.opening.from_left) == (35.75, 12.25)
    assert job.opening.height == 27


def test_points_give_the_fall_under_the_legs_alone() -> None:
    points = (
        '[hearth]\npoints = [["0 in", "0 in"], ["30 in", "2 in"], ["60 in", "-1 in"]]'
    )
    job = job_of(more=points)
    assert job.hearth is not None
    # At the left jamb, 12 in along: 4/5 in; at the right end -1 in.
    assert float(job.hearth.fall) == pytest.approx(1.8)


FAULTS = [
    (CORNERS + 'sag = "9 in"', "", "opening.corners.sag"),
    ('width = "36 in"\n' + CORNERS, "", "opening.width"),
    (CORNERS.replace('"48 in", "-1/4 in"', '"11 in", "-1/4 in"'), "",
     "opening.corners"),
    (CORNERS.replace('"27 in"]', '"-1 in"]'), "", "opening.corners.top_left"),
    (CORNERS.replace('["12 in", "0 in"]', '["12", "0 in"]'), "",
     "opening.corners.bottom_left[1]"),
    (PLAIN, '[hearth]\npoints = [["0 in", "0 in"]]', "hearth.points"),
    (PLAIN, '[hearth]\npoints = [["9 in", "0 in"], ["4 in", "0 in"]]',
     "hearth.points[2]"),
    (PLAIN, '[hearth]\nfall = "1 in"\npoints = [["0 in", "0 in"], ["9 in", "0 in"]]',
     "hearth.fall"),
    (PLAIN, '[hearth]\npoints = [["0 in", "0 in"], ["99 in", "0 in"]]',
     "hearth.points[2]"),
    (PLAIN, '[edges.left]\nlean = "9 in"', "edges.left.lean"),
    (PLAIN, '[edges.top]\nlean = "1 in"', "edges.top.lean"),
    (PLAIN, '[arch]\nrise = "3 in"', "arch.rise"),
    (PLAIN + '\nhead = "segmental arch"', "", "arch.rise"),
    (PLAIN + '\nhead = "segmental arch"', '[arch]\nrise = "20 in"', "arch.rise"),
    (PLAIN + '\nhead = "jack arch"', '[arch]\nrise = "3 in"', "arch.rise"),
    (PLAIN + '\nhead = "jack arch"', '[arch]\nvoussoirs = "whole"', "arch.voussoirs"),
    (PLAIN + '\nhead = "jack arch"', '[arch]\ndepth = "12 in"', "arch.depth"),
    (PLAIN + '\nhead = "jack arch"', '[arch]\ncamber = "4 in"', "arch.camber"),
    (PLAIN + '\nhead = "jack arch"', ROWLOCKS, "arch.rings"),
    (ROUND, '[arch]\nrise = "3 in"', "arch.rise"),
    (ROUND, '[arch]\ncamber = "1 in"', "arch.camber"),
    (ROUND, "[arch]\nrings = 2", "arch.rings"),
    (ROUND, f'{ROWLOCKS}\ndepth = "4 in"', "arch.depth"),
    (ROUND, '[arch]\nkey = { width = "2 in" }', "arch.key.width"),
    (ROUND, '[arch]\nkey = { width = "9 in" }', "arch.key.width"),
    (ROUND, RISING, "arch.key.rises"),
    (ROUND, EVEN_KEY, "arch.number"),
    (PLAIN + "\nhead_courses = 2", "", "opening.head_courses"),
    (PLAIN + '\njamb_return = "1/4 in"', "", "opening.jamb_return"),
    (PLAIN + '\njamb_return = "30 in"', "", "opening.jamb_return"),
    (PLAIN + '\nfirebox = "5 in"', "", "opening.firebox"),
    (PLAIN, '[brick.sample]\nheights = ["2 1/4 in"]', "brick.sample.heights"),
    (PLAIN, f'[brick.sample]\nheights = [{TEN}]\nstack_of_ten = "22 in"',
     "brick.sample.heights"),
    (PLAIN, '[[laid]]\ncourse = 3', "laid[1]"),
    (PLAIN, '[[laid]]\ncourse = 3\nleft = "8 in"', "laid[1]"),
    (PLAIN, '[[laid]]\ncourse = 3\ntop = "8 in"\nleft = "8 in"', "laid[1]"),
    (PLAIN, '[[laid]]\ncourse = 3\ntop = "4 in"', "laid[1]"),
    (PLAIN, '[[laid]]\ncourse = 3\ntop = "30 in"', "laid[1]"),
    (PLAIN, '[[laid]]\ncourse = 0\ntop = "8 in"', "laid[1].course"),
    (PLAIN, '[[laid]]\ncourse = 3\ntop = "8 in"\n[[laid]]\ncourse = 3\ntop = "8 in"',
     "laid[2].course"),
    (PLAIN, '[[laid]]\ncourse = 15\ntop = "44 in"', "laid[1]"),
    (PLAIN, '[[rule_marks]]\nmark = "6"\nheight = "3 in"\n'
     '[[rule_marks]]\nmark = "6"\nheight = "3 in"', "rule_marks[2].mark"),
]  # fmt: skip


@pytest.mark.parametrize(("opening", "more", "key"), FAULTS)
def test_what_can_not_be_is_one_line_with_its_key(
    opening: str, more: str, key: str
) -> None:
    told = lines(opening, more)
    assert any(line.startswith(f"old.toml: {key}:") for line in told), told
    assert len(told) == len(set(told)) <= 2


def test_three_faults_as_they_are_printed() -> None:
    assert lines('width = "36 in"\n' + CORNERS) == [
        'old.toml: opening.width: "36 in" already follows from opening.corners; remove '
        "one of the two"
    ]
    assert lines(PLAIN, '[[laid]]\ncourse = 3\ntop = "4 in"') == [
        "old.toml: laid[1]: 4 in leaves no room for joints: above the datum, the brick "
        "of 3 courses alone comes to 5 5/8 in"
    ]
    assert lines(PLAIN, '[brick.sample]\nheights = ["2 1/4 in"]') == [
        "old.toml: brick.sample.heights: a sample of 1 is too small to go by; measure "
        "10 or more"
    ]


@pytest.mark.parametrize(
    ("before", "after"),
    [("", "1"), ("A", "B"), ("1", "2"), ("R2", "R3"), ("9", "10"), ("Z", "AA")],
)
def test_the_next_revision_follows_the_last(before: str, after: str) -> None:
    assert next_revision(before) == after


@pytest.mark.parametrize("head", ["[job]", "  [ job ] # mine", '["job"]', "['job' ]"])
@pytest.mark.parametrize("key", ["revision", '"revision"', "  'revision'"])
def test_a_revision_is_found_however_it_is_written(head: str, key: str) -> None:
    lines = BASE.format(opening=PLAIN, more="").replace("[job]", head)
    text = lines.replace('name = "Old"', f'name = "Old"\n{key} = "C"')
    job = parse_job(text, "den.toml")
    new = with_revision(text, job)
    assert parse_job(new, "den.toml").job.revision == "D"
    assert new == text.replace('"C"', '"D"')


@pytest.mark.parametrize("typed", ["8\n[job]", 'a"b', "8\\", "8\x7f", "8\x00"])
def test_what_is_typed_for_a_course_stays_one_value(typed: str) -> None:
    entry = tomllib.loads(LaidEntry(3, (("top", typed),)).toml())
    assert entry == {"laid": [{"course": 3, "top": typed}]}


@pytest.mark.parametrize("revision", ["", 'revision = "C"   # as sent\n'])
def test_a_revision_keeps_the_persons_text_and_adds_what_is_laid(revision: str) -> None:
    text = f'# my job\n[job]\nname = "Den"\n{revision}' + BASE.split('name = "Old"')[1]
    text = text.format(opening=PLAIN, more="")
    job = parse_job(text, "den.toml")
    entries = (LaidEntry(3, (("top", "8 1/8 in"),)),)
    new = with_revision(with_laid(text, entries), job)
    again = parse_job(new, "den.toml")
    assert again.job.revision == ("D" if revision else "1")
    assert [laid.course for laid in again.laid] == [3]
    kept = [line for line in text.splitlines() if not line.startswith("revision")]
    assert [line for line in new.splitlines() if line in kept][: len(kept)] == kept
    as_before = again.model_copy(update={"laid": (), "job": job.job})
    assert as_before.model_dump() == job.model_dump()
