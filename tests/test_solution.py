"""Findings are found by their keys; a key that no rule has fails loudly."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from shopdraw.review.findings import KEYS, Rule
from shopdraw.solution import Solution
from tests.demos import solution_of

WRONG: tuple[Any, ...] = ("hearth-frnt", "hearth extension, front", "Lead", "", None)
"""Slips of the pen, and the words in place of the key."""


@pytest.mark.parametrize("key", WRONG)
def test_a_rule_with_a_key_that_there_is_not_is_refused(key: Any) -> None:
    with pytest.raises(KeyError):
        Rule(key, "words")


@pytest.mark.parametrize("key", WRONG)
def test_to_ask_for_a_key_that_there_is_not_is_refused(key: Any) -> None:
    """Of a job without a single finding too: it is no finding that is missing."""
    solution = solution_of("library-hearth")
    for asked in (solution, replace(solution, findings=())):
        with pytest.raises(KeyError):
            asked.row(key)
        with pytest.raises(KeyError):
            asked.finding(key, "left")


def test_every_key_may_be_asked_for_and_what_is_not_there_is_none() -> None:
    nothing = replace(solution_of("library-hearth"), findings=())
    for key in KEYS:
        assert nothing.row(key) is None
        assert nothing.finding(key) is None


def test_every_finding_is_found_by_its_key_in_its_own_row(solution: Solution) -> None:
    for number, finding in enumerate(solution.findings, start=1):
        key, about = finding.rule.key, finding.rule.about
        if key not in ("least-piece", "least-lap"):
            assert solution.row(key, about) == (number, finding)
            assert solution.finding(key, about) is finding


def test_what_it_is_about_tells_like_findings_apart() -> None:
    solution = solution_of("library-hearth")
    left, right = (solution.finding("hearth-side", x) for x in ("left", "right"))
    assert left is not None
    assert right is not None
    assert left.rule.words == "hearth extension, left"
    assert right.rule.words == "hearth extension, right"
    assert solution.finding("hearth-side") is None
    assert solution.finding("hearth-side", "front") is None
    # One piece of woodwork is in the job file.
    assert solution.finding("trim-distance", 1) is not None
    assert solution.finding("trim-distance", 2) is None


def test_one_failure_or_one_miss_is_enough_not_to_be_clear() -> None:
    solution = solution_of("library-hearth")
    assert solution.is_clear
    first, *rest = solution.findings
    failed = replace(first, status="failed")
    assert not replace(solution, findings=(failed, *rest)).is_clear
    assert not solution_of("cannot-land").is_clear
