"""The review's table: every finding in its row, with figures that close."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Stroke, Words
from tests.views.review.jobs import edited, every, ink_of, page_of, sheet_of, solved
from tests.views.review.rows import SHOWN, figures_wrong, told_wrongly, untold


@every
def test_every_finding_has_its_row_with_its_status_and_source(name: str) -> None:
    assert told_wrongly(ink_of(sheet_of(name)), solved(name).findings) == []


def test_a_dropped_finding_and_a_changed_status_are_noticed() -> None:
    solution = solved("eaten hearth")
    dropped = ink_of(page_of(solution, solution.findings[1:]))
    assert told_wrongly(dropped, solution.findings)
    changed = replace(solution.findings[0], status="passed")
    wrong = ink_of(page_of(solution, (changed, *solution.findings[1:])))
    assert told_wrongly(wrong, solution.findings) == ["hearth-front"]
    drawing = ink_of(sheet_of("eaten hearth"))
    for text in ("[NOT CHECKED]", "PASSED", "least lap"):
        old = next(
            x for x in drawing.ink if isinstance(x, Words) and x.text.startswith(text)
        )
        assert told_wrongly(
            edited(drawing, old, replace(old, text="X")), solution.findings
        )
        assert told_wrongly(edited(drawing, old), solution.findings)


@every
def test_margins_printed_are_measured_less_limit(name: str) -> None:
    solution = solved(name)
    drawing = ink_of(sheet_of(name))
    assert figures_wrong(drawing, solution.job, solution.findings) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [("-1/8 in", "1/8 in"), ("15 7/8 in", "16 7/8 in"), ("16 in", "15 in")],
)
def test_a_wrong_figure_is_noticed(old: str, new: str) -> None:
    solution, drawing = solved("eaten hearth"), ink_of(sheet_of("eaten hearth"))
    words = next(
        x
        for x in drawing.ink
        if isinstance(x, Words) and x.text == old and x.layer == "A-ANNO-NOTE"
    )
    wrong = edited(drawing, words, replace(words, text=new))
    found = figures_wrong(wrong, solution.job, solution.findings)
    assert found == ["hearth-front"]


@every
def test_what_failed_says_what_would_pass_and_what_is_open_what_is_missing(
    name: str,
) -> None:
    assert untold(ink_of(sheet_of(name)), solved(name).findings) == []


def test_a_mend_that_lost_its_line_is_noticed() -> None:
    drawing, findings = (
        ink_of(sheet_of("eaten hearth")),
        solved("eaten hearth").findings,
    )
    line = next(
        x for x in drawing.ink if isinstance(x, Words) and x.text.startswith("TO PASS")
    )
    assert untold(edited(drawing, line), findings) == ["hearth-front"]


def boxed(drawing: Drawing) -> list[str]:
    """Return the lettering of the statuses that a box stands round."""
    boxes = [
        shapely.Polygon(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke) and x.closed and len(x.points) == 4
    ]
    return [
        words.text
        for words, _ in lettering_of(drawing)
        if words.text in SHOWN.values()
        and any(shapely.contains(box, shapely.Point(words.at)) for box in boxes)
    ]


@every
def test_failed_stands_in_a_box_and_not_checked_in_brackets_alone(name: str) -> None:
    found = solved(name).findings
    failed = sum(finding.status == "failed" for finding in found)
    assert boxed(ink_of(sheet_of(name))) == ["FAILED"] * failed


def test_a_box_round_another_status_is_noticed() -> None:
    drawing = ink_of(sheet_of("eaten hearth"))
    words = next(
        x for x in drawing.ink if isinstance(x, Words) and x.text == "[NOT CHECKED]"
    )
    x, y = words.at
    ring = ((x - 1, y - 0.2), (x + 20, y - 0.2), (x + 20, y + 1.2), (x - 1, y + 1.2))
    marked = replace(
        drawing, ink=(*drawing.ink, Stroke("A-ANNO-SCHD", ring, closed=True))
    )
    assert sorted(boxed(marked)) == ["FAILED", "[NOT CHECKED]"]
