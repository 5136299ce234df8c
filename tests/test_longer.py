"""What the suite leaves to the long run: cases, never a whole test, and told."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from tests.longer import mostly_long

TESTS = Path(__file__).parent
MARK = "mark." + "long"


def is_long(case: object) -> bool:
    return any(mark.name == "long" for mark in getattr(case, "marks", ()))


def test_each_case_is_there_and_those_that_are_named_are_held_here() -> None:
    cases = mostly_long([("a", 1), ("b", 2), ("c", 3)], ("b", 2))
    assert [is_long(case) for case in cases] == [True, False, True]
    assert [tuple(getattr(case, "values", case)) for case in cases] == [
        ("a", 1), ("b", 2), ("c", 3),
    ]  # fmt: skip


@pytest.mark.parametrize("here", [(), (4,), (0, 4)])
def test_no_test_is_left_out_whole_nor_by_a_slip(here: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="case"):
        mostly_long(range(3), *here)


def marked_by_hand(folder: Path) -> list[str]:
    """Return the files that mark tests without the helper, which leaves one."""
    return sorted(
        path.name
        for path in folder.rglob("*.py")
        if path.name != "longer.py" and MARK in path.read_text("utf-8")
    )


def test_only_the_helper_marks_cases(tmp_path: Path) -> None:
    assert marked_by_hand(TESTS) == []
    (tmp_path / "test_x.py").write_text(f"@pytest.{MARK}\ndef test_x(): ...\n", "utf-8")
    assert marked_by_hand(tmp_path) == ["test_x.py"]


def test_what_is_left_out_is_what_the_benchmark_runs() -> None:
    settings = tomllib.loads((TESTS.parent / "pyproject.toml").read_text("utf-8"))
    assert "-m=not long" in settings["tool"]["pytest"]["ini_options"]["addopts"]
    assert '"-m", "long"' in (TESTS / "bench" / "long.py").read_text("utf-8")
