"""Which of many cases the suite holds, and which only the long run.

A sweep finds what nobody thought of, and then holds it: a few cases of each kind are
enough for that. The others are marked, left out unless they are asked for, and run by
`python -m tests.bench long`. pytest tells how many it left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest


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


def _long(case: Any) -> Any:
    values = case if isinstance(case, tuple) else (case,)
    return pytest.param(*values, marks=pytest.mark.long)
