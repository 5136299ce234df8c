"""A finding's figures as they are lettered: none looks better than it is."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

import pytest

from shopdraw.review.findings import Finding, Limit, Rule, figures_of, hold, mended

F = Fraction
At = Literal["least", "most"]


def held(
    measured: Fraction | None, limit: Fraction | None, at: At = "least"
) -> Finding:
    rule = Rule("hearth-front", "hearth")
    return hold(rule, measured, Limit(limit, "asked", "typed"), "so", at=at)


def test_a_key_that_the_catalog_of_findings_lacks_is_refused() -> None:
    with pytest.raises(KeyError, match="hearth-frnt"):
        Rule("hearth-frnt", "hearth")  # type: ignore[arg-type]


# A third of a sixty-fourth over or under: 1/64 in is the step they are lettered to.
@pytest.mark.parametrize(
    ("measured", "limit", "at", "lettered"),
    [
        # What must be at least so much is rounded down, its limit up.
        (F(1) - F(1, 192), F(1, 2), "least", ("63/64 in", "1/2 in", "31/64 in")),
        (F(1), F(1, 2) + F(1, 192), "least", ("1 in", "33/64 in", "31/64 in")),
        # What must be at most so much is rounded up, its limit down.
        (F(1) + F(1, 192), F(2), "most", ("1 1/64 in", "2 in", "63/64 in")),
        (F(1), F(2) - F(1, 192), "most", ("1 in", "1 63/64 in", "63/64 in")),
        # One that is just met reads as it is.
        (F(1), F(1), "least", ("1 in", "1 in", "0 in")),
        (F(1), F(1), "most", ("1 in", "1 in", "0 in")),
        # A margin that is short is rounded to more of it.
        (F(1, 2), F(1) + F(1, 192), "least", ("1/2 in", "1 1/64 in", "-33/64 in")),
    ],
)
def test_figures_are_rounded_to_their_worse_side(
    measured: Fraction, limit: Fraction, at: At, lettered: tuple[str, str, str]
) -> None:
    assert figures_of(held(measured, limit, at), "in") == lettered


def test_what_is_not_known_is_left_empty() -> None:
    assert figures_of(held(None, F(1)), "in") == (None, "1 in", None)
    assert figures_of(held(F(1), None), "in") == ("1 in", None, None)
    assert figures_of(held(F(25, 2), F(12)), "mm") == ("12.5 mm", "12 mm", "0.5 mm")


def test_only_what_fails_by_a_figure_is_told_how_it_would_pass() -> None:
    for measured in (F(21), F(20), None):
        assert mended(held(measured, F(20)), "in", str).mends == ()
    (said,) = mended(held(F(19), F(20)), "in", str).mends
    # An inch short, and a little to spare.
    assert 1 < F(said.partition(",")[0]) < 2
