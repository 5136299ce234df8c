"""Old houses with splayed jambs: solved, proved, composed; one drawn and read back.

Four, all but one for the long run; two hundred in the benchmark:
`python -m tests.bench splays`.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from tests.demos import CONFIGS
from tests.longer import mostly_long
from tests.old_houses import seeded
from tests.old_houses_held import redlined, without_papers
from tests.splayed_jambs import make_splayed, wrong_in

HERE, DRAWN = (8, 20, 44, 45), 44
"""Quick to lay, most of them; the one that is drawn is in millimetres."""
SPLAY = 'jamb_return = "4 in"\nsplay = 15\n'


@pytest.mark.parametrize("number", mostly_long(HERE, DRAWN))
def test_any_splayed_jamb_is_solved_proved_and_composed(number: int) -> None:
    assert wrong_in(number, to_draw=number == DRAWN) == []


def test_both_ways_of_giving_a_splay_are_among_those_here() -> None:
    jobs = [make_splayed(seeded(number))[1] for number in HERE]
    assert {job.opening.jamb_depth is None for job in jobs} == {True, False}
    assert {job.job.lengths for job in jobs} == {"in", "mm"}
    assert all(job.opening.splayed for job in jobs)


def test_a_raised_hearth_before_splayed_jambs_has_each_piece_once_on_the_sheets() -> (
    None
):
    text = (CONFIGS / "raised-hearth.toml").read_text()
    text = text.replace("[opening]\n", "[opening]\n" + SPLAY)
    text = text.replace("[hearth.brick]\n", '[hearth.brick]\nback = "1 in"\n')
    solution = solve(parse_job(text, "raised.toml"))
    drawn = without_papers(solution)
    assert redlined(solution, drawn) == []
    # The hearth's are among them, and so is what is left out.
    less = replace(solution, hearth=None)
    assert "a piece is missing, or there twice" in redlined(less, drawn)
