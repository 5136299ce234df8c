"""What can be measured: each name is a module that measures, and the page lists it."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

import pytest

from tests.bench.__main__ import NAMES
from tests.bench.timing import ROOT

PAGE = (ROOT / "DEVELOPERS.md").read_text("utf-8")


def unlisted(page: str) -> list[str]:
    """Return the names that the page does not say how to run."""
    return [name for name in NAMES if f"\npython -m tests.bench {name} " not in page]


@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_a_module_that_measures(name: str) -> None:
    module = import_module(f"tests.bench.{name}")
    assert callable(module.measure)
    assert module.__doc__


def test_the_page_lists_every_name() -> None:
    assert unlisted(PAGE) == []
    assert unlisted(PAGE.replace("tests.bench walls", "tests.bench wall")) == ["walls"]


def test_no_module_that_measures_is_left_out() -> None:
    found = {
        path.stem
        for path in Path(__file__).parent.glob("*.py")
        if "\ndef measure(" in path.read_text("utf-8")
    }
    assert found == {*NAMES}
