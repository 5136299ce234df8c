"""Keys that a reviewer asks about: each fault said on one line."""

from __future__ import annotations

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job

BASE = """
[job]
name = "Old"
[face]
width = "60 in"
height = "40 in"
measured_to = "finish"
[opening]
width = "36 in"
height = "27 in"
[brick]
size = "modular"
[appliance]
kind = "{kind}"
{more}
"""


@pytest.mark.parametrize(
    ("more", "line"),
    [
        (
            '[rules]\nset = "irc-1492"',
            'rules.set: "irc-1492" is not a rule set in the catalog, which has '
            "irc-2015, irc-2018, irc-2012, irc-2009, canada-nbc, england-adj, "
            "own figures",
        ),
        (
            '[[rules.own]]\nfigure = "throat"\nvalue = "6 in"\nreason = "his word"\n'
            '[[rules.own]]\nfigure = "throat"\nvalue = "7 in"\nreason = "her word"',
            'rules.own[2].figure: "throat" is given twice; remove one of the two',
        ),
        (
            '[[rules.own]]\nfigure = "throat"\nvalue = "6 in"',
            "rules.own[1].reason: is missing; it has no default, so write it",
        ),
        (
            '[rules]\narea = "finished"',
            'rules.area: "finished" needs rules.area_agreed too: write which reviewer '
            "agreed to it, and when",
        ),
        (
            '[substrate]\ncondition = ["sound", "painted"]',
            'substrate.condition: "sound" can\'t be true together with the others; '
            "remove it",
        ),
        (
            "[schedule]\nset_on = 2026-03-02\npointed_on = 2026-03-01",
            "schedule.pointed_on: 2026-03-01 is before schedule.set_on, 2026-03-02; "
            "joints are pointed after the brick are set",
        ),
        (
            '[labels]\ncolumns = 3\nrows = 2\nwidth = "3 in"\nheight = "1 in"\n'
            'left = "0 in"\ntop = "0 in"',
            "labels.columns: 3 columns of labels reach 9 in and run off the ANSI A "
            "page, 8 1/2 in wide; set fewer columns",
        ),
        (
            '[labels]\ncolumns = 2\nrows = 2\nwidth = "3 in"\nheight = "1 in"\n'
            'left = "0 in"\ntop = "0 in"\ndown = "3/4 in"',
            'labels.down: "3/4 in" is less than a label, 1 in, so labels would overlap',
        ),
    ],
)
def test_each_fault_is_one_line(more: str, line: str) -> None:
    with pytest.raises(BadJob) as raised:
        parse_job(BASE.format(kind="masonry", more=more), "old.toml")
    assert raised.value.lines() == (f"old.toml: {line}",)


def test_own_figures_are_not_for_a_listed_appliance() -> None:
    own = '[[rules.own]]\nfigure = "throat"\nvalue = "6 in"\nreason = "his word"'
    with pytest.raises(BadJob) as raised:
        parse_job(BASE.format(kind="gas", more=own), "old.toml")
    assert "held to its manual" in raised.value.lines()[0]
