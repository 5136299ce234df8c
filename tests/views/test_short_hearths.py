"""A hearth that ends at the wall, or under the new brick, is drawn: it has failed.

An old house may have no extension before its face. What is left of the hearth is
drawn, what was found and what is asked is said, and no line is drawn backwards.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from shopdraw.drawing.ink import Drawing, Measure, Stroke, Words
from shopdraw.job.model import Job
from shopdraw.lengths import parse_length
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_dxf
from shopdraw.output.readback import read_back
from shopdraw.pipeline import build
from shopdraw.review.clearances import review_clearances
from shopdraw.solution import Solution
from shopdraw.views.parts.stamps import stamps
from shopdraw.views.review.page import draw_review
from shopdraw.views.section.upright import draw_upright_section
from tests.demos import solution_of
from tests.longer import mostly_long
from tests.views.jobs import solved
from tests.views.lettering import collisions, crossings
from tests.views.review.jobs import ON_SHEETS
from tests.views.review.jobs import solved as solved_with_gaps
from tests.views.review.lines import keys_on
from tests.views.strings import figures_of, unclosed

NONE = "MEASURED: NONE BEFORE THE FACE"
# Brick and thickest bed: 5/8 + 1/2 = 1 1/8 in; 22 + 12 = 34 mm.
UNDER = ("0 in", "1/2 in", "1 1/8 in", "0 mm", "12 mm", "34 mm")
BEFORE = ("1 3/16 in", "2 in", "36 mm", "60 mm")
FRONTS = [
    (name, front)
    for name in ("library-hearth", "no returns", "cannot-land", "metric-slips")
    for front in (*UNDER, *BEFORE)
    if front.endswith("mm") == (name == "metric-slips")
]
"""Each a job, and how far its hearth comes out from the wall."""


@cache
def with_hearth(name: str, **sizes: str) -> Solution:
    """Return a job with its hearth measured otherwise, and reviewed again."""
    solution = solved(name) if name == "no returns" else solution_of(name)
    job = solution.job
    for key, size in sizes.items():
        job = job.edited(f"hearth.{key}", parse_length(size, job.lengths))
    return reviewed(solution, job)


def reviewed(solution: Solution, job: Job) -> Solution:
    """Return a solution with its job put otherwise, and the review made again."""
    findings = review_clearances(
        job,
        solution.surround,
        solution.coursing,
        solution.layout,
        solution.openings,
        solution.variation,
    )
    return replace(solution, job=job, findings=findings)


def section(solution: Solution) -> Drawing:
    return draw_upright_section(solution, 8.0 if solution.lengths == "in" else 10.0)


def review(solution: Solution) -> Drawing:
    (placed,) = draw_review(solution, ON_SHEETS)[0].drawings
    return placed.drawing


def words_on(drawing: Drawing) -> list[str]:
    return [ink.text for ink in drawing.ink if isinstance(ink, Words)]


def backwards(drawing: Drawing) -> list[str]:
    """Return the figures of dimensions that have no length, or run backwards."""
    return [
        ink.words
        for ink in drawing.ink
        if isinstance(ink, Measure)
        if ink.words.startswith("-")
        or (ink.end <= ink.start if ink.axis == "x" else ink.end[1] <= ink.start[1])
    ]


@pytest.mark.parametrize(("name", "front"), FRONTS)
def test_the_section_says_that_it_failed_what_was_found_and_what_is_asked(
    name: str, front: str
) -> None:
    solution = with_hearth(name, front=front)
    finding = solution.finding("hearth-front")
    assert finding is not None
    assert finding.measured is not None
    assert (finding.measured <= 0) == (front in UNDER)
    drawing = section(solution)
    said = words_on(drawing)
    assert said.count("HEARTH EXTENSION: FAILED") == 1
    assert said.count(NONE) == (front in UNDER)
    assert said.count("MEASURED") == (front not in UNDER)
    assert said.count("REQUIRED") == 1
    asked = {20: "1'-8\"", 16: "1'-4\"", 400: "400"}[int(finding.limit or 0)]
    assert [asked] in figures_of(drawing)
    assert any("FAILED" in stamp for stamp in stamps(solution))


@pytest.mark.parametrize(("name", "front"), FRONTS)
def test_no_dimension_runs_backwards_and_nothing_collides(
    name: str, front: str
) -> None:
    solution = with_hearth(name, front=front)
    for drawing in (section(solution), review(solution)):
        assert backwards(drawing) == []
        assert collisions(drawing) == []
    assert unclosed(section(solution), solution.lengths) == []
    assert crossings(review(solution)) == []


@pytest.mark.parametrize(("name", "front"), FRONTS)
def test_the_review_keys_it_to_its_row_with_its_figure(name: str, front: str) -> None:
    solution = with_hearth(name, front=front)
    row = solution.row("hearth-front")
    assert row is not None
    (key,) = [key for key in keys_on(review(solution)) if key.row == row[0]]
    assert (key.words == "none") == (front in UNDER)


@pytest.mark.parametrize("name", ["library-hearth", "metric-slips"])
def test_a_hearth_flush_with_the_opening_has_a_dot_for_its_sides(name: str) -> None:
    nothing = "0 in" if name == "library-hearth" else "0 mm"
    solution = with_hearth(name, front=nothing, left=nothing, right=nothing)
    drawing = review(solution)
    assert backwards(drawing) == collisions(drawing) == crossings(drawing) == []
    keys = {key.row: key.words for key in keys_on(drawing)}
    for side in ("left", "right"):
        row = solution.row("hearth-side", side)
        assert row is not None
        assert row[1].status == "failed"
        assert keys[row[0]] == "none"


def test_a_gap_at_the_jambs_may_take_all_of_a_short_side() -> None:
    """The brick stands back 1/2 in at each jamb: of 1/4 in there nothing is left."""
    solution = solved_with_gaps("gaps at the jambs")
    job = solution.job.edited("hearth.left", Fraction(1, 4))
    changed = reviewed(solution, job)
    row = changed.row("hearth-side", "left")
    assert row is not None
    assert row[1].measured == Fraction(-1, 4)
    keys = {key.row: key.words for key in keys_on(review(changed))}
    assert keys[row[0]] == "none"


def test_a_hearth_under_the_brick_is_hidden_from_the_front() -> None:
    hidden = {}
    for front in ("22 in", "0 in"):
        drawing = review(with_hearth("library-hearth", front=front))
        hidden[front] = sum(
            isinstance(ink, Stroke) and ink.layer == "A-ELEV-HIDD"
            for ink in drawing.ink
        )
    # Both ends, its underside and the ground either side of it.
    assert hidden["0 in"] > hidden["22 in"]


def test_a_manual_that_asks_for_no_extension_has_none_drawn() -> None:
    solution = solution_of("chimney-breast-gas")
    job = solution.job.edited("appliance.manual.hearth_front", Fraction(0))
    drawing = section(reviewed(solution, job))
    assert "REQUIRED: NONE BEFORE THE FACE" in words_on(drawing)
    assert "HEARTH EXTENSION: PASSED" in words_on(drawing)
    assert backwards(drawing) == []


@pytest.mark.parametrize(
    ("name", "front"),
    mostly_long(
        (("library-hearth", "0 in"), ("metric-slips", "34 mm")),
        ("library-hearth", "0 in"),
    ),
)
def test_the_whole_set_proves_itself_and_is_stamped(name: str, front: str) -> None:
    drawn = build(with_hearth(name, front=front))
    for sheet, expected in zip(drawn.sheets, drawn.expected, strict=True):
        found = read_back(write_dxf(sheet, drawn.form))
        assert compare(found, expected, drawn.lengths, drawn.form) == ()
        said = " ".join(x.text for x in sheet.paper_ink if isinstance(x, Words))
        assert "FAILED: SEE FINDINGS" in said


def test_a_dimension_that_runs_backwards_is_noticed() -> None:
    drawing = section(solution_of("library-hearth"))
    measure = next(x for x in drawing.ink if isinstance(x, Measure))
    turned = replace(measure, start=measure.end, end=measure.start)
    assert backwards(replace(drawing, ink=(turned,))) == [measure.words]
    assert backwards(replace(drawing, ink=(replace(measure, words='-1"'),))) == ['-1"']
