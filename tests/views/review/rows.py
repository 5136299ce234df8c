"""The table on a review page, read from where its lettering stands, and held."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from math import floor, isclose

from shopdraw.drawing.ink import Drawing, Words
from shopdraw.drawing.lettering import plain
from shopdraw.job.model import Job
from shopdraw.lengths import parse_length
from shopdraw.review.findings import Finding
from tests.findings import Name, name_of
from tests.views.review.jobs import lettered

STEP = {"in": Fraction(1, 64), "mm": Fraction(1, 10)}
SHOWN = {"passed": "PASSED", "failed": "FAILED", "not checked": "[NOT CHECKED]"}
HEADS = ("NO.", "RULE", "MEASURED", "LIMIT", "MARGIN", "STATUS")
AT_MOST = (
    *("trim-projection", "facing-thickness", "facing-proud", "bottom-joint"),
    *("laid-joints-widest", "laid-levelled", "brick-in-joint", "arch-joints-widest"),
    *("plane", "corbel-step", "hearth-strip", "hearth-bed", "hearth-fire-floor-high"),
    *("hearth-left-out", "hearth-riser", "fillet"),
)
"""The rules whose limit is the most."""


@dataclass(frozen=True)
class Row:
    """One row as it stands on the page; `says` is all under its rule, rule included."""

    number: str
    says: str
    measured: str
    limit: str
    margin: str
    status: str
    source: str


def rows_on(drawing: Drawing) -> list[Row]:
    """Read the table from where its lettering stands."""
    words = [x for x in drawing.ink if isinstance(x, Words)]
    heads = [next(x for x in words if x.text == head) for head in HEADS]
    heads.append(next(x for x in words if x.text.startswith("SOURCE")))
    top = heads[0].at[1]
    columns: list[list[Words]] = [
        [
            x
            for x in words
            if x.at[1] < top - 1e-6
            and x.align == head.align
            and x.layer == "A-ANNO-NOTE"
            and isclose(x.at[0], head.at[0], abs_tol=1e-6)
        ]
        for head in heads
    ]
    starts = sorted((x.at[1] for x in columns[0]), reverse=True)
    rows = []
    for place, start in enumerate(starts):
        end = starts[place + 1] if place + 1 < len(starts) else -1.0
        cells = [
            " ".join(
                x.text
                for x in sorted(column, key=lambda x: -x.at[1])
                if end + 1e-6 < x.at[1] < start + 1e-6
            )
            for column in columns
        ]
        rows.append(Row(*cells))
    return rows


def told_wrongly(drawing: Drawing, findings: tuple[Finding, ...]) -> list[Name]:
    """Return the rules that are not in their rows, once, with status and source."""
    rows = rows_on(drawing)
    wrong: list[Name] = ["count"] if len(rows) != len(findings) else []
    for number, (row, finding) in enumerate(zip(rows, findings, strict=False), start=1):
        told = (
            row.number == str(number)
            and (f"{row.says} ").startswith(f"{plain(finding.rule.words)} ")
            and row.status == SHOWN[finding.status]
            and plain(finding.source) in row.source
            and finding.source_status in row.source
        )
        wrong += [] if told else [name_of(finding.rule)]
    return wrong


def figures_wrong(
    drawing: Drawing, job: Job, findings: tuple[Finding, ...]
) -> list[Name]:
    """Return the rules whose printed figures are not the finding's, or do not close.

    A margin is measured less limit, or limit less measured where that is the most.
    """
    step, wrong = STEP[job.lengths], list[Name]()
    for row, finding in zip(rows_on(drawing), findings, strict=True):
        printed = []
        for text in (row.measured, row.limit, row.margin):
            is_length = text not in ("-", "no limit")
            printed.append(parse_length(text, job.lengths) if is_length else None)
        measured, limit, margin = printed
        exact = (finding.measured, finding.limit)
        fits = all(
            (a is None) == (b is None) and (a is None or b is None or abs(a - b) < step)
            for a, b in zip((measured, limit), exact, strict=True)
        )
        is_most = finding.rule.key in AT_MOST
        if finding.margin is None:
            fits = fits and margin is None
        else:
            assert finding.measured is not None
            assert finding.limit is not None
            far = finding.measured - finding.limit
            far = -far if is_most else far
            fits = fits and margin == floor(far / step) * step
            if measured is not None and limit is not None and finding.limit == limit:
                fits = fits and margin == (measured - limit) * (-1 if is_most else 1)
            fits = fits and (far >= 0) == (finding.status == "passed")
            if measured is not None and far:
                # Neither reads as better than it is.
                off = measured - finding.measured
                fits = fits and (off >= 0 if is_most else off <= 0)
        wrong += [] if fits else [name_of(finding.rule)]
    return wrong


def untold(drawing: Drawing, findings: tuple[Finding, ...]) -> list[Name]:
    """Return what failed or was not checked without its words under it, whole."""
    missing: list[Name] = []
    for row, finding in zip(rows_on(drawing), findings, strict=True):
        parts = [finding.says, *(f": {mend}" for mend in finding.mends)]
        if finding.status == "not checked":
            parts = [f"TO FIND OUT: {finding.says}"]
        if finding.status != "passed" and any(plain(x) not in row.says for x in parts):
            missing.append(name_of(finding.rule))
    return missing


COUNTS = re.compile(r"(\d+) FINDINGS: +(\d+) PASSED, +(\d+) FAILED, +(\d+) NOT CHECKED")


def counts_on(drawing: Drawing) -> list[int]:
    said = COUNTS.search(lettered(drawing))
    assert said is not None
    return [int(x) for x in said.groups()]
