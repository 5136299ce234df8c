"""Which of many cases the suite holds, and which only the long run.

A sweep finds what nobody thought of, and then holds it: a few cases of each kind are
enough for that. The others are marked, left out unless they are asked for, and run by
`python -m tests.bench long`. pytest tells how many it left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest

from tests.demos import CONFIGS

DEMOS = tuple(sorted(path.stem for path in CONFIGS.glob("*.toml")))


def mostly_long(cases: Iterable[Any], *here: Any) -> list[Any]:
    """Return every case for `parametrize`; all but those named are for the long run.

    Raises:
        ValueError: none is left for the suite, or one is named that is not there.
    """
    every = list(cases)
    strange = [each for each in here if each not in every]
    if strange or not here:
        message = f"no such case: {strange}" if strange else "no case is left here"
        raise ValueError(message)
    return [each if each in here else _long(each) for each in every]


def mostly_long_demos(*here: str) -> pytest.MarkDecorator:
    """Return what hands a test each demo; all but those named are for the long run."""
    return pytest.mark.parametrize("demo", mostly_long(DEMOS, *here))


def _long(case: Any) -> Any:
    values = case if isinstance(case, tuple) else (case,)
    return pytest.param(*values, marks=pytest.mark.long)
