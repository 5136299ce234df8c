"""Phrases that several drawings share: nothing is said twice, every edge has words."""

from __future__ import annotations

from fractions import Fraction
from typing import get_args

import pytest

from shopdraw.job.model import EdgeKind, EdgeTable, EndShows
from shopdraw.views.parts.phrases import edge_letters, edge_says, listed, sourced
from tests.demos import solution_of

COMMON = "common practice, no published source"


@pytest.mark.parametrize(
    ("source", "status", "said"),
    [
        ("IRC 2015, R1001.7", "second-hand", "IRC 2015, R1001.7 (second-hand)"),
        (COMMON, COMMON, COMMON),
        ("", COMMON, COMMON),
        (f"the manual, and {COMMON}", COMMON, f"the manual, and {COMMON}"),
        # A word that is only a part of the other is not the same said twice.
        ("the", "the maker's word", "the (the maker's word)"),
    ],
)
def test_a_source_and_how_it_was_read_are_said_once(
    source: str, status: str, said: str
) -> None:
    assert sourced(source, status) == said


@pytest.mark.parametrize("name", ["library-hearth", "chimney-breast-gas"])
def test_no_finding_says_its_source_twice(name: str) -> None:
    for finding in solution_of(name).findings:
        said = sourced(finding.source, finding.source_status)
        assert said.count(finding.source_status) == 1
        assert finding.source in said


@pytest.mark.parametrize("kind", get_args(EdgeKind))
@pytest.mark.parametrize("shows", get_args(EndShows))
def test_every_edge_has_words(kind: EdgeKind, shows: EndShows) -> None:
    job = solution_of("library-hearth").job
    edge = EdgeTable(kind=kind, shows=shows, width=Fraction(1, 4))
    assert edge_says(job, edge).endswith(' 1/4"')
    letters = edge_letters(job, edge, "TOP")
    assert letters.startswith("TOP: ")
    assert letters.endswith(f'1/4", EDGE {shows.upper()}')


@pytest.mark.parametrize(
    ("names", "said"),
    [
        ([], ""),
        (["8"], "8"),
        (["8", "10"], "8 and 10"),
        (["1", "2", "3"], "1, 2 and 3"),
    ],
)
def test_names_are_listed_as_in_a_sentence(names: list[str], said: str) -> None:
    assert listed(names) == said
