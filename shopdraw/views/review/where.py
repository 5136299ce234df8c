"""Say on which view of the sheets a figure is drawn that was reviewed.

In:  `Solution`, the rows that the page draws.   Out: words by row, or at the rows.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from shopdraw.drawing.tables import Table
from shopdraw.review.findings import Finding, Key
from shopdraw.solution import Solution
from shopdraw.views.every import every_view

NOT_DRAWN = "(NOT DRAWN)"
ON_THE_PAGE: tuple[Key, ...] = (
    "hearth-front", "hearth-side", "trim-distance", "trim-projection",
)  # fmt: skip
"""The rules whose figures the page draws, where it has room."""
VIEWS: dict[Key, str] = {
    "hearth-front": "extension",
    "hearth-side": "extension",
    "hearth-thickness": "upright-section",
    "hearth-firebox": "hearth-plan",
    "hearth-strip": "hearth-plan",
    "hearth-pieces": "hearth-plan",
    "hearth-left-out": "hearth-plan",
    "hearth-bed": "hearth-front-section",
    "hearth-bed-thin": "hearth-front-section",
    "hearth-fire-floor": "upright-section",
    "hearth-fire-floor-high": "upright-section",
    "hearth-riser": "riser-front",
    "hearth-riser-bond": "riser-front",
    "trim-distance": "upright-section",
    "trim-projection": "upright-section",
    "throat": "upright-section",
    "lintel-bearing": "upright-section",
    "facing-thickness": "upright-section",
    "facing-proud": "upright-section",
    "bottom-joint": "hearth-edge",
    "least-piece": "elevation",
    "least-lap": "elevation",
    "piece-shape": "elevation",
    "fillet": "elevation",
    "panel-pieces": "elevation",
    "panel-left-out": "elevation",
    "old-brick-lines": "elevation",
    "jamb-return": "jamb",
    "jamb-splay": "jamb",
    "arch-joints-narrowest": "elevation",
    "arch-joints-widest": "elevation",
    "arch-depth": "elevation",
    "arch-crown": "elevation",
    "keystone": "elevation",
    "corbel-step": "corbel",
    "laid-joints-narrowest": "elevation",
    "laid-joints-widest": "elevation",
}
"""The view that shows what a rule measures; what is in no view was typed alone."""


def where_drawn(
    solution: Solution, sheets: Mapping[int, str], left_out: Collection[int]
) -> dict[int, str]:
    """Return where each figure of the table is drawn that the page does not draw.

    Args:
        solution: what was reviewed.
        sheets: on which sheet each view is, by its number.
        left_out: the rows whose figures the page draws if it has room, and has none.
    """
    said: dict[int, str] = {}
    for row, number in _measured_on(solution).items():
        drawn = solution.findings[row - 1].rule.key in ON_THE_PAGE
        if not drawn or row in left_out:
            sheet = "" if number is None else f", {sheets[number]}"
            said[row] = _said(number, sheet)
    return said


def with_views(solution: Solution, findings: Table) -> Table:
    """Say behind the words of each figure on which view it is drawn.

    Args:
        solution: what was reviewed.
        findings: a row a finding, in their order, the words last.
    """
    on = _measured_on(solution)
    return replace(
        findings,
        rows=tuple(
            (*cells, f"{words} {_said(on[row])}".strip() if row in on else words)
            for row, (*cells, words) in enumerate(findings.rows, start=1)
        ),
    )


def _said(number: int | None, sheet: str = "") -> str:
    return NOT_DRAWN if number is None else f"(VIEW {number}{sheet})"


def _measured_on(solution: Solution) -> dict[int, int | None]:
    """Return, by its row, the number of the view that draws a figure; None for none."""
    numbers = {view.name: at for at, view in enumerate(every_view(solution), start=1)}
    return {
        row: numbers.get(_view_of(solution, finding))
        for row, finding in enumerate(solution.findings, start=1)
        if finding.measured is not None
    }


def _view_of(solution: Solution, finding: Finding) -> str:
    """Return the name of the view that shows what was measured; empty for none."""
    if finding.rule.key == "hearth-thickness" and solution.hearth is not None:
        # What lies below a hearth of brick is drawn without its thickness.
        return ""
    return VIEWS.get(finding.rule.key, "")
