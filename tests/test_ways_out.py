"""Ways out exist: each is put into its job, which is then solved whole, and holds.

The demos and the odd jobs, as they are and with a level put off until they miss.
"""

from __future__ import annotations

from fractions import Fraction as F
from functools import cache
from pathlib import Path

import pytest

from shopdraw.catalog.rows import brick_sizes
from shopdraw.errors import ShopdrawError
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.masonry.coursing.form import Edits
from shopdraw.masonry.coursing.levers import edited_job, value_at
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.demos import CONFIGS, solution_of
from tests.longer import mostly_long
from tests.odd_jobs import TEXTS

LEVELS = ("", "opening.height + 7", "face.height - 5")
"""What is put off, in sixteenths of an inch."""
NAMES = (*sorted(path.stem for path in CONFIGS.glob("*.toml")), *TEXTS)
EVERY = tuple((name, level) for name in NAMES for level in LEVELS)
HELD = (
    ("cannot-land", ""), ("library-hearth", "opening.height + 7"),
    ("metric-slips", "face.height - 5"), ("crooked-study", "opening.height + 7"),
    ("common-sitting-room", "face.height - 5"),
)  # fmt: skip
"""Of every job and level; the others are for the long run."""
# A first bed of 3/4, 1 1/4 where it is fully grouted; joints of an arch 1/8 to 3/4:
# TMS 602 and a textbook, both second-hand; the least of mortar, so, 1/8.
JOINTS = {
    "joints.bed.most": (F(1, 8), F(3, 4)),
    "joints.bed.least": (F(1, 8), F(3, 4)),
    "joints.bottom.most": (F(0), F(5, 4)),
    "joints.bottom.least": (F(0), F(5, 4)),
}


def job_of(name: str) -> Job:
    if name in TEXTS:
        return parse_job(TEXTS[name](), Path("odd.toml"))
    path = CONFIGS / f"{name}.toml"
    return parse_job(path.read_text(encoding="utf-8"), path)


@cache
def put_off(name: str, level: str) -> Solution | None:
    """Return a job solved with a level put off; None where it is refused so."""
    if not level and name not in TEXTS:
        return solution_of(name)
    job = job_of(name)
    if level:
        key, way, by = level.split()
        unit = F(1, 16) if job.lengths == "in" else F(127, 80)
        off = int(f"{way}{by}") * unit
        now = value_at(job, key)[1]
        assert now is not None
        job = job.edited(key, now + off)
    try:
        return solve(job)
    except ShopdrawError:
        return None


def in_inches(job: Job, value: F) -> F:
    return value if job.lengths == "in" else value / F(127, 5)


def failed(solution: Solution) -> set[tuple[str, str | int]]:
    return {
        (finding.rule.key, finding.rule.about)
        for finding in solution.findings
        if finding.status == "failed"
    }


def absurd(job: Job, edits: Edits) -> list[str]:
    """Name what nobody would do of a way out, from its figures alone."""
    wrong = []
    sizes = {(size.length, size.height) for size in brick_sizes(job.lengths)}
    for key, value in edits:
        inches = in_inches(job, value)
        if key in ("brick.height", "brick.length"):
            brick = edited_job(job, edits).brick
            if (brick.length, brick.height) not in sizes:
                wrong.append(f"no such brick: {value}")
        elif key in JOINTS:
            least, most = JOINTS[key]
            if not least <= inches <= most:
                wrong.append(f"{key} = {inches}")
        elif key.startswith("courses."):
            whole = job.brick.height if "soldier" not in key else job.brick.length
            if value < whole / 2 or value < job.bond.least_width:
                wrong.append(f"{key} = {inches}")
        elif (now := value_at(job, key)[1]) is not None:
            course = job.brick.height + job.joints.bed.most
            if len(edits) == 1 and abs(value - now) > course:
                wrong.append(f"{key} moved {float(value - now)}")
    return wrong


def does_too_much(edits: Edits, other: Edits) -> bool:
    """Whether another way out is this one without some of it."""
    return set(other) < set(edits)


@pytest.mark.parametrize(("name", "level"), mostly_long(EVERY, *HELD))
def test_each_way_out_lands_and_brings_no_new_failure(name: str, level: str) -> None:
    solution = put_off(name, level)
    if solution is None or not solution.ways_out:
        return
    job, before = solution.job, failed(solution)
    for way in solution.ways_out:
        assert absurd(job, way.edits) == [], way.says
        others = [x.edits for x in solution.ways_out if x is not way]
        assert not any(does_too_much(way.edits, x) for x in others), way.says
        after = solve(edited_job(job, way.edits))
        assert after.coursing.lands, way.says
        assert failed(after) <= before, way.says


def test_some_of_these_jobs_miss_or_nothing_was_tried() -> None:
    tried = [put_off(name, level) for name, level in HELD]
    missed = [x for x in tried if x is not None and x.ways_out]
    assert len(missed) >= 3


@pytest.mark.parametrize(
    ("edits", "wrong"),
    [
        ((("brick.height", F(37, 16)),), "no such brick"),
        ((("joints.bed.least", F(1, 16)),), "joints.bed.least"),
        ((("joints.bed.most", F(1)),), "joints.bed.most"),
        ((("courses.bottom_height", F(1)),), "courses.bottom_height"),
        ((("opening.height", F(20)),), "opening.height moved"),
    ],
)
def test_what_nobody_would_do_is_noticed(edits: Edits, wrong: str) -> None:
    job = job_of("cannot-land")
    assert any(each.startswith(wrong) for each in absurd(job, edits))


def test_a_top_does_not_come_up_into_woodwork_nor_a_head_down_on_a_handle() -> None:
    """The library hearth with its top 7/16 in higher than its courses reach."""
    solution = put_off("library-hearth", "opening.height + 7")
    assert solution is not None
    (trim,) = solution.job.trim
    for way in solution.ways_out:
        assert dict(way.edits).get("face.height", F(0)) <= trim.bottom, way.says
