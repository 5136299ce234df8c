"""Find the line of a job file that a fault is about.

In:  the file's text, a `Fault`.   Out: the line's number, from 1; None without one.
Frame: none.

TOML's parser does not say where a key stands. But the first part of a file that holds
the key, and is valid by itself, ends with the key's last line; and no key goes away
when more lines are read, so that part is found by halving.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from shopdraw.errors import Fault

MOST_LINES = 5000
"""A file of more lines is not searched: a job file is a page or two."""
_AT = re.compile(r"\(at line (\d{1,9}), (column \d+)\)")
_KEY = re.compile(r"\[\d{1,9}\]|[^.\[\]]+")


def placed(faults: Iterable[Fault], text: str) -> tuple[Fault, ...]:
    """Return faults with the lines that they are on, where the text has them."""
    return tuple(
        replace(
            fault,
            on_line=line_of(text, fault),
            wanted=fault.wanted if fault.key else _AT.sub(r"(\2)", fault.wanted),
        )
        for fault in faults
    )


def stopped_at(text: str, said: str) -> int | None:
    """Return the line that the parser says it stopped at."""
    found = _AT.search(said)
    if found:
        return int(found[1])
    return len(text.splitlines()) if "(at end of document)" in said else None


def line_of(text: str, fault: Fault) -> int | None:
    """Return the line that a fault is about, or that its table begins on."""
    lines = text.removeprefix("\ufeff").splitlines(keepends=True)
    if not fault.key:
        return stopped_at(text, fault.wanted)
    if len(lines) > MOST_LINES:
        return None
    keys = list(keys_of(fault.key))
    while keys:
        line = _line_of(lines, keys)
        if line is not None:
            return line
        # A key that is missing is missing from its table.
        keys = keys[:-1]
    return None


def keys_of(dotted: str) -> tuple[str | int, ...]:
    """Return the keys of a dotted one, a table's place in its array from 0."""
    return tuple(
        int(part[1:-1]) - 1 if part.startswith("[") else part
        for part in _KEY.findall(dotted)
    )


def _line_of(lines: list[str], keys: list[str | int]) -> int | None:
    """Return the first line of the value at a key; None where there is none."""

    def holds(count: int) -> bool:
        tables = _first_valid(lines, count)
        return tables is None or _has(tables, keys)

    last = bisect_left(range(len(lines) + 1), True, key=holds)
    tables = _first_valid(lines, last)
    if tables is None or not _has(tables, keys):
        return None
    return last


def _first_valid(lines: list[str], count: int) -> dict[str, Any] | None:
    """Read so many lines, and as many more as it takes to be valid; None for none."""
    for end in range(count, len(lines) + 1):
        try:
            return tomllib.loads("".join(lines[:end]))
        except (ValueError, RecursionError):
            continue
    return None


def _has(tables: Any, keys: list[str | int]) -> bool:
    for key in keys:
        inner = dict(enumerate(tables)) if isinstance(tables, list) else tables
        if not isinstance(inner, dict) or key not in inner:
            return False
        tables = inner[key]
    return True
