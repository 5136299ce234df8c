"""List the catalog for a person, each row with its source and how that was read.

In:  the catalog's rows and rule sets.   Out: text.
Frame: lengths as the catalog has them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shopdraw.catalog.rows import brick_sizes, layer_namings, sheet_sizes
from shopdraw.catalog.rules import load_rules


def list_catalog() -> str:
    """List the brick sizes, rule sets, sheet sizes and layer namings as text."""
    lines: list[str] = []
    lines.append(
        "Brick sizes, for brick.size (a length, height or thickness in the job wins):"
    )
    lines += _columns(
        [("name", "length", "height", "full thickness", "source", "status")]
        + [(row.name, *row.typed, row.source, row.status) for row in brick_sizes("in")]
    )
    lines.append(
        "Rule sets, for rules.set (model codes: check what your jurisdiction adopted):"
    )
    rows = [("name", "part", "section", "source", "status")]
    for rules in load_rules("in").sets:
        for part, rule in (("hearth", rules.hearth), ("trim", rules.trim)):
            if rule is not None:
                rows.append(
                    (rules.name, part, rule.section, rule.source, rule.source_status)
                )
    lines += _columns(rows)
    lines.append("Sheets, for sheet.size and sheet.page (width x height):")
    lines += _columns(
        [("name", "size", "source", "status")]
        + [
            (row.name, " x ".join(row.typed), row.source, row.status)
            for row in sheet_sizes("in")
        ]
    )
    lines.append("Layer namings, for layers.names:")
    lines += _columns(
        [("name", "source", "status"), ("NCS", "National CAD Standard", "second-hand")]
        + [(row.name, row.source, row.status) for row in layer_namings()]
    )
    lines += STATUSES
    return "\n".join(lines) + "\n"


STATUSES = (
    "Status says how the figures were read:",
    "  read in the source  in the published text itself",
    "  second-hand         in somebody else's quotation of it",
    "  from memory         recalled, not looked up",
)


def _columns(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    for row in rows:
        cells = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        yield f"  {'  '.join(cells)}".rstrip()
    yield ""
