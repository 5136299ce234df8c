"""How far woodwork may stand out over the opening: the line of a rule set, its end.

IRC R1001.11 exception 4, by quotations of the section: trim of wood 6 in away, and no
more than 1/8 in out for each inch of its distance within 12 in. The National Building
Code of Canada, as Ontario prints it: 150 mm away, and 38 mm out within 300 mm.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from shopdraw.job.model import Job
from shopdraw.review.envelope import trim_envelope

F = Fraction
MakeJob = Callable[..., Job]


def own(figure: str, value: str) -> dict[str, str]:
    return {"figure": figure, "value": value, "reason": "local amendment"}


def test_the_line_rises_from_the_least_distance_to_the_reach(make_job: MakeJob) -> None:
    found = trim_envelope(make_job())
    assert found is not None
    assert found.corners == ((F(6), F(3, 4)), (F(12), F(3, 2)))
    assert (found.least, found.reach) == (6, 12)
    assert "R1001.11" in found.source


@pytest.mark.parametrize(
    "changes",
    [
        {"rules": {"set": ""}},
        {"rules": {"set": "england-adj"}},
        {"appliance": {"kind": "gas"}},
        {"rules": {"set": "own figures"}},
        # A distance alone is no line: how far out, nobody said.
        {"rules": {"set": "own figures", "own": [own("trim distance", "8 in")]}},
    ],
)
def test_without_both_figures_there_is_no_line(
    make_job: MakeJob, changes: dict[str, dict[str, object]]
) -> None:
    assert trim_envelope(make_job(**changes)) is None


def test_a_projection_of_one_s_own_has_no_reach(make_job: MakeJob) -> None:
    figures = [own("trim distance", "8 in"), own("trim projection", "1 in")]
    for name in ("irc-2015", "own figures"):
        found = trim_envelope(make_job(rules={"set": name, "own": figures}))
        assert found is not None
        assert found.corners == ((F(8), F(1)), (F(16), F(1)))
        assert found.reach is None


def test_a_distance_of_one_s_own_begins_the_code_s_line_there(
    make_job: MakeJob,
) -> None:
    figures = [own("trim distance", "8 in")]
    found = trim_envelope(make_job(rules={"set": "irc-2015", "own": figures}))
    assert found is not None
    assert found.corners == ((F(8), F(1)), (F(12), F(3, 2)))
