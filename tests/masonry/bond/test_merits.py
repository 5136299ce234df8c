"""What each of some forty walls gives up is as it was looked at: a table to read."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from shopdraw.masonry.wall.layout import Layout
from tests.masonry.bond.test_saying import BONDS, WALLS, each_wall, wall

TABLE = Path(__file__).with_name("merits.txt")
HEAD = """\
# What the bond of each wall gives up, face by face, in the order of merit; a line that
# is not named is kept whole. To write it anew, when that is meant:
# python -m pytest tests/masonry/bond/test_merits.py --update-goldens
"""


def line_of(bond: str, kind: str) -> str:
    """Return what a wall gives up, in one line."""
    return _line(bond, kind, wall(bond, kind).layout)


def _line(bond: str, kind: str, layout: Layout) -> str:
    by_face: dict[str, list[str]] = {}
    for x in layout.given_up:
        by_face.setdefault(x.face, []).append(f"{x.level} {x.count}")
    faces = "; ".join(f"{face}: {', '.join(some)}" for face, some in by_face.items())
    how = "" if layout.searched_all else " (not every way was looked at)"
    return f"{bond}, {kind}{how} | {faces or 'nothing'}"


def kept() -> dict[str, str]:
    lines = TABLE.read_text("utf-8").splitlines() if TABLE.exists() else []
    return {
        line.split(" | ")[0].split(" (")[0]: line
        for line in lines
        if line and not line.startswith("#")
    }


@each_wall
def test_a_wall_gives_up_what_the_table_says(bond: str, kind: str) -> None:
    assert line_of(bond, kind) == kept()[f"{bond}, {kind}"]


def test_the_table_has_each_wall_once_and_no_other(
    pytestconfig: pytest.Config,
) -> None:
    if pytestconfig.getoption("--update-goldens"):
        lines = [line_of(bond, kind) for bond in BONDS for kind in WALLS]
        TABLE.write_text(HEAD + "\n".join(lines) + "\n", "utf-8")
    assert {*kept()} == {f"{bond}, {kind}" for bond in BONDS for kind in WALLS}
    assert len(TABLE.read_text("utf-8").splitlines()) == len(kept()) + 3


def test_a_wall_that_gives_up_more_is_noticed() -> None:
    layout = wall("Flemish", "corners").layout
    first, *others = layout.given_up
    worse = replace(layout, given_up=(replace(first, count=first.count + 1), *others))
    assert _line("Flemish", "corners", layout) == kept()["Flemish, corners"]
    assert _line("Flemish", "corners", worse) != kept()["Flemish, corners"]
