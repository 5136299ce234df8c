"""What DEVELOPERS.md says of the code is so: its modules, and the brick it follows."""

from __future__ import annotations

import re
from fractions import Fraction as F
from pathlib import Path
from pkgutil import resolve_name

import pytest

from tests.demos import solution_of

ROOT = Path(__file__).resolve().parent.parent
PAGE = (ROOT / "DEVELOPERS.md").read_text("utf-8")
ROOMS = [path.parent.name for path in (ROOT / "shopdraw").glob("*/__init__.py")]
DOTTED = re.compile(rf"`((?:{'|'.join(ROOMS)}|lengths)(?:\.\w+)+)`")
WALK = PAGE.partition("## One brick")[2].partition("\n## ")[0]


def unfound(page: str) -> list[str]:
    """Name what a page calls by its place and is not there."""
    return [dotted for dotted in DOTTED.findall(page) if not is_there(dotted)]


def is_there(dotted: str) -> bool:
    """Whether a table, a suite, a module, or a name of a module is where it is said."""
    if dotted.endswith(".toml"):
        table = dotted.removesuffix(".toml").replace(".", "/")
        return (ROOT / "shopdraw" / f"{table}.toml").is_file()
    try:
        resolve_name(f"shopdraw.{dotted}")
    except (ImportError, AttributeError):
        return False
    return True


def test_every_module_that_the_page_names_is_there() -> None:
    assert len(DOTTED.findall(PAGE)) > 12
    assert unfound(PAGE) == []


@pytest.mark.parametrize(
    "word", ["masonry.surround", "job.values.parse", "catalog.x.toml"]
)
def test_a_module_that_is_gone_is_noticed(word: str) -> None:
    assert unfound(f"as `{word}` says") == [word]


def test_the_brick_that_the_page_follows_is_as_it_says() -> None:
    solution = solution_of("library-hearth")
    joints = solution.coursing.joints
    assert (joints.count(F(3, 8)), joints.count(F(7, 16)), len(joints)) == (5, 8, 13)
    assert solution.coursing.courses_below_head + 1 == 11
    (piece,) = [x for x in solution.layout.pieces if x.id == "F-05-02"]
    (outline,) = piece.outlines
    assert (outline.left, outline.bottom) == (F("22.375"), F("10.875"))
    assert (outline.right, outline.top) == (26, F("13.125"))
    assert (piece.mark, piece.is_cut, piece.cut_edges) == ("B2", True, ("left",))
    (unit,) = [x for x in solution.cut_plan.units if "B2" in x.marks]
    assert (unit.marks, unit.left) == (("B2", "B2"), F(1, 8))
    for said in ("(22 3/8, 10 7/8)", "(26, 13 1/8)", "five of 3/8 and eight of", "31"):
        assert said in WALK
