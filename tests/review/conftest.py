"""A job that passes, and a way to review it with some of its keys changed."""

import copy
import tomllib
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing, Merit
from shopdraw.masonry.marks.variation import reckon_variation
from shopdraw.masonry.wall.bond_rules import BrokenRule, Least
from shopdraw.masonry.wall.layout import Layout
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.review.clearances import review_clearances
from shopdraw.review.findings import Finding
from shopdraw.review.opening import trace_openings
from tests.findings import Name, by_key

Review = Callable[..., dict[Name, Finding]]

# Opening 35 x 24: 840 sq in = 5.833 sq ft, under the step at 6 sq ft.
# Build-out at most: 1/2 bed + 5/8 brick = 1 1/8; the mean is 3/8 + 5/8 = 1.
JOB = """
[job]
name = "Reviewed"
lengths = "in"
[face]
measured_to = "finish"
width = "65 in"
height = "32 in"
[opening]
width = "35 in"
height = "24 in"
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
bottom = { kind = "mortar", least = "1/4 in", most = "3/4 in" }
head = { preferred = "3/8 in", least = "1/4 in", most = "1/2 in" }
[bond]
least_piece = "2 in"
least_width = "3/4 in"
least_corner = 30
least_area = 25
longest_fillet = "2 in"
least_lap = "2 in"
[hearth]
front = "22 in"
left = "14 in"
right = "14 in"
fall = "1/8 in"
material = "noncombustible"
[appliance]
kind = "masonry"
[rules]
set = "irc-2015"
[[trim]]
name = "shelf"
material = "oak"
left = "0 in"
bottom = "32 in"
width = "65 in"
height = "2 in"
projection = "1 in"
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
    """Build the job with tables updated; None takes a table away."""
    tables = copy.deepcopy(tomllib.loads(JOB))
    for name, change in changes.items():
        if change is None:
            tables.pop(name)
        elif isinstance(change, list):
            tables[name] = change
        else:
            tables[name] = {**tables.get(name, {}), **change}
            tables[name] = {k: v for k, v in tables[name].items() if v is not None}
    return Job.model_validate(tables, context={"lengths": tables["job"]["lengths"]})


def coursing_with(head: Fraction, bottom: Fraction, soldiers_cut: bool) -> Coursing:
    """Return a coursing of which the review reads head, bottom joint and soldiers."""
    none = Fraction(0)
    return Coursing(
        courses=(),
        joints=(bottom,),
        targets=(),
        merit=Merit((), none, none, 0, 0, none, none),
        courses_below_head=0,
        head=head,
        soldier_top=None,
        soldiers_cut=soldiers_cut,
        courses_beside_soldiers=0,
        reasons=(),
    )


@pytest.fixture
def review() -> Review:
    """Review the job with some of its keys changed; findings by key."""

    def run(
        head: Fraction | None = None,
        bottom: Fraction = Fraction(3, 8),
        soldiers_cut: bool = False,
        broken: tuple[BrokenRule, ...] = (),
        least_piece: Fraction = Fraction(3),
        least_lap: Fraction | None = Fraction(3),
        **changes: Any,
    ) -> dict[Name, Finding]:
        job = build_job(**changes)
        coursing = coursing_with(
            job.opening.height if head is None else head, bottom, soldiers_cut
        )
        lap = None if least_lap is None else Least(least_lap, Fraction(2))
        piece = Least(least_piece, Fraction(2))
        layout = Layout((), (), broken, piece, lap, ())
        surround = trace_surround(job)
        openings = trace_openings(job, surround, coursing, layout.arch)
        variation = reckon_variation(job, coursing)
        found = review_clearances(job, surround, coursing, layout, openings, variation)
        named = by_key(found)
        assert len(named) == len(found) or broken
        return named

    return run


@pytest.fixture
def make_job() -> Callable[..., Job]:
    """Build the job with some of its tables changed."""
    return build_job


@pytest.fixture
def make_coursing() -> Callable[..., Coursing]:
    """Build a coursing of which the review reads little."""
    return coursing_with
