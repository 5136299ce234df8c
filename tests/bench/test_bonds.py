"""What is against a claim is counted, and its seeds are told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.bench.bonds import KINDS, Held, say
from tests.bench.timing import Row

CLEAN = Held(0, False, took=0.1, is_mirror=True, soldiers=(0.8, 0.8))


def row(*held: Held, about: str) -> Row:
    """Return the row that is about something."""
    rows = list(say("half", KINDS["half"], [CLEAN, *held]))
    (found,) = (x for x in rows if x.what.strip().startswith(about))
    return found


@pytest.mark.parametrize(
    ("about", "changes"),
    [
        ("refused by", {"wrong": "NotProved: two pieces overlap"}),
        ("no soldiers fit", {"not_laid": True}),
        ("not searched", {"searched_all": False}),
        ("a piece or a lap", {"given": frozenset({("left return", 3)})}),
        ("the same, not", {"given": frozenset({("front", 1)}), "searched_all": False}),
        ("else unbonded", {"given": frozenset({("front", 5)})}),
        ("of 2 mirror faces", {"is_mirror": False, "mirror_fails": True}),
        ("laid unmirrored without", {"is_mirror": False, "mirror_fails": False}),
        ("a sawn soldier alone", {"soldiers": (0.8,)}),
        ("a sawn soldier under", {"soldiers": (0.4, 0.4)}),
        ("read from the pieces", {"differs": ("least lap: said 2, laid 1",)}),
        ("judged otherwise", {"judged": ("front",)}),
    ],
)
def test_what_is_against_a_claim_is_counted(
    about: str, changes: dict[str, object]
) -> None:
    about_none = about.replace("of 2 ", "of 1 ")
    assert row(about=about_none).ours == "0"
    found = row(replace(CLEAN, seed=7, **changes), about=about)  # type: ignore[arg-type]
    assert (found.ours, found.against) == ("1", "seeds 7")
