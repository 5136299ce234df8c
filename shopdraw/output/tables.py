"""Write a table as CSV.

In:  `Table`.   Out: bytes, UTF-8, comma separated (RFC 4180).
Frame: none; cells are text.
"""

from __future__ import annotations

import csv
import io
import re

from shopdraw.drawing.tables import Table

DRAWN_FROM = "DRAWN FROM"
_NUMBER = re.compile(r"[-+]?\d+(\.\d+)?")
_FORMULA = re.compile(r"(^|;)(?=[\t\r]|\s*[=+@-])")
"""Where a formula begins; after a semicolon too, where some programs split cells."""


def write_table(table: Table, drawn_from: str = "") -> bytes:
    """Write heads and rows; no cell can be run as a formula by a spreadsheet.

    What they are drawn from is a last column: sorted, parted, or put under the rows of
    other jobs, each row still says it, and no row is anything but a row.
    """
    rows = (tuple(column.head for column in table.columns), *table.rows)
    if drawn_from:
        last = (DRAWN_FROM, *[drawn_from] * len(table.rows))
        rows = tuple((*row, cell) for row, cell in zip(rows, last, strict=True))
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerows([_guarded(cell) for cell in row] for row in rows)
    return stream.getvalue().encode("utf-8")


def _guarded(cell: str) -> str:
    """Put an apostrophe before anything that a spreadsheet would take for a formula."""
    return cell if _NUMBER.fullmatch(cell) else _FORMULA.sub(r"\1'", cell)
