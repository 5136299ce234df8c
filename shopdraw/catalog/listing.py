"""List the catalog for a person, each row with its source and status.

In:  the catalog's rows and rule sets.   Out: text.
Frame: lengths as the catalog has them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shopdraw.catalog.rows import brick_sizes, layer_namings, sheet_sizes
from shopdraw.catalog.rules import load_rules


def list_catalog() -> str:
    """Return the brick sizes, the rule sets and the sheet sizes as text."""
    lines: list[str] = []
    lines.append(
        "Brick sizes (brick.size; a measured length, height or thickness wins):"
    )
    lines += _columns(
        [("name", "length", "height", "full thickness", "source", "status")]
        + [(row.name, *row.typed, row.source, row.status) for row in brick_sizes("in")]
    )
    lines.append(
        "Rule sets (rules.set; model codes: check what your jurisdiction adopted):"
    )
    rows = [("name", "part", "section", "source", "status")]
    for rules in load_rules("in").sets:
        for part, rule in (("hearth", rules.hearth), ("trim", rules.trim)):
            if rule is not None:
                rows.append(
                    (rules.name, part, rule.section, rule.source, rule.source_status)
                )
    lines += _columns(rows)
    lines.append("Sheets (sheet.size; width x height):")
    lines += _columns(
        [("name", "size", "source", "status")]
        + [
            (row.name, " x ".join(row.typed), row.source, row.status)
            for row in sheet_sizes("in")
        ]
    )
    lines.append("Layer namings (layers.names):")
    lines += _columns(
        [("name", "source", "status"), ("NCS", "National CAD Standard", "second-hand")]
        + [(row.name, row.source, row.status) for row in layer_namings()]
    )
    return "\n".join(lines) + "\n"


def _columns(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    for row in rows:
        cells = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        yield f"  {'  '.join(cells)}".rstrip()
    yield ""
