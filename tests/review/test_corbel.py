"""A corbel: a step too great fails, one within the rule is not checked for all that."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from shopdraw.catalog.rules import load_rules
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.pipeline import solve
from shopdraw.review.corbel import review_corbel
from shopdraw.review.listed import review_listed
from tests.findings import by_key
from tests.review.conftest import coursing_with

STEP, BACKING = "corbel-step", "corbel-backing"


def corbelled(*out: str, height: str = "9/4"):
    """Return a coursing of which each course projects so far, bottom up."""
    courses, at = [], Fraction(0)
    for number, each in enumerate(out, start=1):
        bottom = at + Fraction(3, 8)
        at = bottom + Fraction(height)
        courses.append(
            Course(
                number, "running", Fraction(3, 8), bottom, at,
                projection=Fraction(each),
            )
        )  # fmt: skip
    plain = coursing_with(Fraction(0), Fraction(3, 8), soldiers_cut=False)
    return replace(plain, courses=tuple(courses))


def reviewed(make_job, coursing, **changes):
    return by_key(review_corbel(make_job(**changes), coursing, load_rules("in")))


def test_without_a_corbel_there_is_nothing_to_find(make_job):
    assert reviewed(make_job, corbelled("0", "0")) == {}


# A third of 5/8 is 5/24; half of 2 1/4 is 1 1/8; half of 3/8 is 3/16.
@pytest.mark.parametrize(
    ("out", "height", "status", "limit"),
    [
        (("0", "5/24", "5/12"), "9/4", "not checked", "5/24"),
        (("0", "1/8", "3/8"), "9/4", "failed", "5/24"),
        (("0", "3/16"), "3/8", "not checked", "3/16"),
        (("0", "13/64"), "3/8", "failed", "3/16"),
    ],
)
def test_a_step_is_held_to_half_the_height_and_a_third_of_the_thickness(
    make_job, out, height, status, limit
):
    finding = reviewed(make_job, corbelled(*out, height=height))[STEP]
    assert (finding.status, finding.limit) == (status, Fraction(limit))
    assert finding.source_status == "second-hand"
    assert bool(finding.mends) == (status == "failed")


def test_the_worst_step_is_the_one_that_is_told_of(make_job):
    finding = reviewed(make_job, corbelled("0", "1/8", "3/8", "1/2"))[STEP]
    assert finding.measured == Fraction(1, 4)
    assert "course 3" in finding.says


def test_a_step_within_the_rule_passes_nothing_because_the_brick_is_adhered(make_job):
    findings = reviewed(make_job, corbelled("0", "1/16", "1/8"))
    assert {each.status for each in findings.values()} == {"not checked"}
    assert "no rule was found" in findings[STEP].says
    assert "does not burn" in findings[BACKING].says
    assert "by others" in findings[BACKING].says
    assert "1/8 in" in findings[BACKING].says


def test_a_listed_units_facing_counts_the_nose_of_the_corbel(make_job):
    manual = {"document": "G-40", "page": "12", "facing_most": "1 1/4 in"}
    job = make_job(appliance={"kind": "gas", "manual": manual})
    surround = trace_surround(job)
    # Bed 1/2 and brick 5/8 at the most.
    for out, status in (("0", "passed"), ("1/8", "passed"), ("3/16", "failed")):
        found = by_key(review_listed(job, surround, Fraction(out)))["facing-thickness"]
        assert found.status == status
        assert found.measured == Fraction(9, 8) + Fraction(out)
        assert ("corbel's nose" in found.says) == (out != "0")


def test_the_nose_of_the_corbel_stands_past_a_listed_units_flange_too(make_job):
    """Bed 1/2 in, brick 5/8 in and a nose of 1/8 in, less a flange of 1/4 in: 1 in."""
    manual = {"document": "G-40", "page": "12", "proud_most": "1 in"}
    job = make_job(appliance={"kind": "gas", "manual": manual, "flange": "1/4 in"})
    surround = trace_surround(job)
    for out, status in (("0", "passed"), ("1/8", "passed"), ("3/16", "failed")):
        found = by_key(review_listed(job, surround, Fraction(out)))["facing-proud"]
        assert (found.status, found.measured) == (
            status,
            Fraction(7, 8) + Fraction(out),
        )


def test_woodwork_is_measured_from_the_finished_face_not_from_the_nose(make_job):
    corbel = [{"courses": 2, "step": "3/16 in"}]
    with_corbel = solve(make_job(corbel=corbel))
    plain = solve(make_job())
    for key in ("trim-distance", "trim-projection"):
        assert with_corbel.finding(key, 1) == plain.finding(key, 1)
    front = with_corbel.finding("hearth-front")
    assert front == plain.finding("hearth-front")
