"""Write a table as CSV.

In:  `Table`.   Out: bytes, UTF-8, comma separated (RFC 4180).
Frame: none; cells are text.
"""

from __future__ import annotations

import csv
import io
import re

from shopdraw.drawing.tables import Table

_NUMBER = re.compile(r"[-+]?\d+(\.\d+)?")
_FORMULA = re.compile(r"(^|;)(?=[\t\r]|\s*[=+@-])")
"""Where a formula begins; after a semicolon too, where some programs split cells."""


def write_table(table: Table) -> bytes:
    """Write heads and rows so that a spreadsheet takes no cell for a formula."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow([_guarded(column.head) for column in table.columns])
    writer.writerows([_guarded(cell) for cell in row] for row in table.rows)
    return stream.getvalue().encode("utf-8")


def _guarded(cell: str) -> str:
    """Put an apostrophe before anything that a spreadsheet would take for a formula."""
    return cell if _NUMBER.fullmatch(cell) else _FORMULA.sub(r"\1'", cell)
