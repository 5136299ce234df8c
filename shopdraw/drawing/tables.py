"""Tables of text: made once, drawn on a sheet and written to a file.

In:  heads and rows of text.   Out: `Table`; its ink.
Frame: as `ink`; a table's own origin is its upper left corner.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.drawing.ink import Align


@dataclass(frozen=True)
class Column:
    """A column: its head and how its cells stand."""

    head: str
    align: Align = "left"


@dataclass(frozen=True)
class Table:
    """A table: a title, columns, and rows with a cell for each column."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
