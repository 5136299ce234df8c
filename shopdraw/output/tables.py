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
"""Where a formula begins; with a semicolon, where that parts the cells of a table."""


def write_table(table: Table) -> bytes:
    """Write heads and rows; no cell can be run as a formula by a spreadsheet."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow([_guarded(column.head) for column in table.columns])
    writer.writerows([_guarded(cell) for cell in row] for row in table.rows)
    return stream.getvalue().encode("utf-8")


def _guarded(cell: str) -> str:
    """Put an apostrophe before what a spreadsheet would take for a formula."""
    return cell if _NUMBER.fullmatch(cell) else _FORMULA.sub(r"\1'", cell)
