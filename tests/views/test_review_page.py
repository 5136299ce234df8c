"""The review page: every finding, every measured line, one page, nothing approved."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from math import floor, hypot, isclose

import pdfplumber
import pytest
import shapely

from shopdraw.drawing.extents import extent_of, lettering_of
from shopdraw.drawing.ink import LAYERS, Drawing, Ink, Measure, Stroke, Words
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.measures import letter_of
from shopdraw.drawing.sheets import SCALES, Sheet
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.lengths import Lengths, parse_length
from shopdraw.output.pdf import write_pdf
from shopdraw.pipeline import Solution, solve
from shopdraw.review.findings import Finding
from shopdraw.views.review.page import draw_review
from tests.demos import CONFIGS, solution_of
from tests.views.jobs import text_of
from tests.views.lettering import collisions, crossings

DEMOS = sorted(path.stem for path in CONFIGS.glob("*.toml"))
SIZES: dict[Lengths, tuple[float, float]] = {"in": (8.5, 11.0), "mm": (210.0, 297.0)}
INCH = {"in": 1.0, "mm": 25.4}
MARGIN = 0.375
"""In inches: what no ink may enter."""
LEAST = {"in": 0.045, "mm": 1.2}
STEP = {"in": Fraction(1, 64), "mm": Fraction(1, 10)}
SHOWN = {"passed": "PASSED", "failed": "FAILED", "not checked": "[NOT CHECKED]"}
HEADS = ("NO.", "RULE", "MEASURED", "LIMIT", "MARGIN", "STATUS")
AT_MOST = (
    "combustible trim, projection",
    "facing thickness",
    "brick proud of the flange",
    "bottom joint and hearth fall",
    "bed joints as laid, widest",
    "joint over an uneven course",
    "brick height against its joint",
    "brick length against its joint",
    "arch joints, widest",
    "substrate, plane",
)
"""The rules whose limit is the most."""


def piece(name: str, box: tuple[str, str, str, str], *rest: str) -> str:
    left, bottom, width, high = box
    where = f'left = "{left}"\nbottom = "{bottom}"\nwidth = "{width}"\n'
    more = "\n".join(rest)
    return f'[[trim]]\nname = "{name}"\n{where}height = "{high}"\n{more}\n\n'


def fitting(name: str, wants: str, left: str, bottom: str) -> str:
    return (
        f'[[fitting]]\nname = "{name}"\nwants = "{wants}"\nleft = "{left}"\n'
        f'bottom = "{bottom}"\nwidth = "3 in"\nheight = "2 in"\n\n'
    )


PLAIN = (('left_return = "13 in"\n', ""), ('right_return = "13 in"\n', ""))
ROUND = (
    piece("left leg", ("0 in", "0 in", "3 in", "36 in"), 'projection = "1 in"'),
    piece("block", ("51 in", "27 in", "4 in", "9 in"), 'projection = "1/2 in"'),
    piece("bead", ("8 in", "5 in", "2 5/8 in", "3 in"), 'projection = "1 in"'),
    piece("shelf", ("0 in", "44 in", "55 1/4 in", "2 in"), 'projection = "9 in"'),
    piece(
        "slip",
        ("10 in", "26 in", "35 in", "1 in"),
        'material = "marble"',
        'projection = "1 in"',
    ),
    piece(
        "stepped frieze",
        ("4 in", "36 in", "47 in", "8 in"),
        'steps = [{ reach = "2 in", projection = "1 in" }, '
        '{ reach = "6 in", projection = "4 in" }]',
    ),
)
FITTINGS = (
    fitting("damper handle", "clear", "26 in", "27 in"),
    fitting("outlet", "cut round", "2 in", "14 in"),
    fitting("key valve", "clear", "24 in", "6 in"),
)
CHANGED: dict[str, tuple[str, tuple[tuple[str, str], ...]]] = {
    "low shelf": (
        "metric-slips",
        (('bottom = "921 mm"', 'bottom = "750 mm"'), ('"120 mm"', '"60 mm"')),
    ),
    "eaten hearth": ("cannot-land", (('front = "22 in"', 'front = "17 in"'),)),
    "combustible hearth": (
        "cannot-land",
        (('material = "noncombustible"', 'material = "combustible"'),),
    ),
    "woodwork all round": (
        "cannot-land",
        (*PLAIN, ("[sheet]", f"{''.join((*ROUND, *FITTINGS))}[sheet]")),
    ),
    "gaps at the jambs": (
        "cannot-land",
        (
            (
                "[hearth]",
                '[edges]\njambs = { kind = "gap", width = "1/2 in" }\n[hearth]',
            ),
        ),
    ),
    "half a hearth": (
        "cannot-land",
        (('left = "14 in"\n', ""), ('front = "22 in"\n', "")),
    ),
    "other arrows": ("metric-slips", (("[sheet]", '[sheet]\nprofile = "iso"'),)),
}
"""Each: the demo it starts from, and the words that are replaced."""


@cache
def solved(name: str) -> Solution:
    """Return a demo, a changed one, or the gas unit without its manual, solved."""
    if name in DEMOS:
        return solution_of(name)
    if name == "no manual":
        text = text_of("chimney-breast-gas")
        before, rest = text.split("[appliance.manual]")
        text = f"{before}[[trim]]{rest.split('[[trim]]')[1]}"
    else:
        demo, changes = CHANGED[name]
        text = text_of(demo, *changes)
    return solve(parse_job(text, f"{name}.toml"))


def page_of(solution: Solution, findings: tuple[Finding, ...] | None = None) -> Sheet:
    job = solution.job
    found = solution.findings if findings is None else findings
    parts = (job, solution.surround, solution.coursing, solution.layout)
    return draw_review(*parts, found, SIZES[job.lengths])


@cache
def sheet_of(name: str) -> Sheet:
    return page_of(solved(name))


def ink_of(sheet: Sheet) -> Drawing:
    (placed,) = sheet.drawings
    return placed.drawing


def lettered(drawing: Drawing) -> str:
    return " ".join(words.text for words, _ in lettering_of(drawing))


def edited(drawing: Drawing, old: Ink, *new: Ink) -> Drawing:
    """Return the drawing with one piece of its ink put otherwise."""
    assert old in drawing.ink
    ink = [x for each in drawing.ink for x in (new if each is old else (each,))]
    return replace(drawing, ink=tuple(ink))


ALL = (*DEMOS, *CHANGED, "no manual")
every = pytest.mark.parametrize("name", ALL)


def test_all_eight_demos_are_tried() -> None:
    assert len(DEMOS) == 8
    assert {solved(name).job.lengths for name in DEMOS} == {"in", "mm"}


# ------------------------------------------------------------------------- one page


def is_inside(drawing: Drawing, lengths: Lengths) -> bool:
    width, height = SIZES[lengths]
    margin = MARGIN * INCH[lengths]
    left, low, right, top = (side / drawing.scale for side in extent_of(drawing))
    return min(left, low) > margin and right < width - margin and top < height - margin


@every
def test_it_is_one_standing_page_with_all_ink_inside_its_margins(name: str) -> None:
    sheet, lengths = sheet_of(name), solved(name).job.lengths
    assert (sheet.number, sheet.name) == (1, "review")
    assert (sheet.width, sheet.height) == SIZES[lengths]
    assert (sheet.lengths, sheet.paper_ink) == (lengths, ())
    assert is_inside(ink_of(sheet), lengths)
    placement = sheet.drawings[0].placement
    scale = ink_of(sheet).scale
    assert placement.to_paper((3 * scale, 5 * scale)) == pytest.approx((3.0, 5.0))


@pytest.mark.parametrize("name", ["library-hearth", "metric-slips"])
def test_its_pdf_has_one_page_of_the_size_asked_for(name: str) -> None:
    lengths = solved(name).job.lengths
    with pdfplumber.open(io.BytesIO(write_pdf((sheet_of(name),), "Review"))) as pdf:
        (page,) = pdf.pages
        assert "CLEARANCE REVIEW" in page.extract_text()
        wanted = [side / INCH[lengths] * 72 for side in SIZES[lengths]]
        assert [page.width, page.height] == pytest.approx(wanted, abs=0.01)


def test_ink_in_the_margin_is_noticed() -> None:
    drawing = ink_of(sheet_of("library-hearth"))
    stray = Stroke("A-ANNO-DIMS", ((0.2 * drawing.scale, 1.0), (9.0, 9.0)))
    assert not is_inside(replace(drawing, ink=(*drawing.ink, stray)), "in")


@every
def test_no_lettering_lies_on_lettering_or_on_a_line(name: str) -> None:
    drawing = ink_of(sheet_of(name))
    assert collisions(drawing) == []
    assert crossings(drawing) == []


def test_words_on_words_and_a_line_through_words_are_noticed() -> None:
    drawing = ink_of(sheet_of("library-hearth"))
    words, (left, low, right, top) = next(lettering_of(drawing))
    again = replace(drawing, ink=(*drawing.ink, replace(words, text="AGAIN")))
    assert collisions(again)
    middle = (low + top) / 2
    line = Stroke("A-ANNO-DIMS", ((left, middle), (right, middle)))
    assert crossings(replace(drawing, ink=(*drawing.ink, line)))


@every
def test_lettering_is_plain_and_never_too_small(name: str) -> None:
    drawing, least = ink_of(sheet_of(name)), LEAST[solved(name).job.lengths]
    layers = {layer.name for layer in LAYERS if layer.plots}
    for ink in drawing.ink:
        assert ink.layer in layers
    for words, _ in lettering_of(drawing):
        assert plain(words.text) == words.text
        assert words.height_on_paper >= least - 1e-9


def test_a_page_without_room_is_refused() -> None:
    solution = solved("cannot-land")
    parts = (solution.job, solution.surround, solution.coursing, solution.layout)
    for size in ((8.5, 4.0), (7.0, 11.0)):
        with pytest.raises(NotDrawable, match=r"sheet\.page"):
            draw_review(*parts, solution.findings, size)


# ------------------------------------------------------------------------ the table


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


def told_wrongly(drawing: Drawing, findings: tuple[Finding, ...]) -> list[str]:
    """Return the rules that are not in their rows, once, with status and source."""
    rows = rows_on(drawing)
    wrong = ["count"] if len(rows) != len(findings) else []
    for number, (row, finding) in enumerate(zip(rows, findings, strict=False), start=1):
        told = (
            row.number == str(number)
            and (f"{row.says} ").startswith(f"{plain(finding.rule)} ")
            and row.status == SHOWN[finding.status]
            and plain(finding.source) in row.source
            and finding.source_status in row.source
        )
        wrong += [] if told else [finding.rule]
    return wrong


@every
def test_every_finding_has_its_row_with_its_status_and_source(name: str) -> None:
    assert told_wrongly(ink_of(sheet_of(name)), solved(name).findings) == []


def test_a_dropped_finding_and_a_changed_status_are_noticed() -> None:
    solution = solved("eaten hearth")
    dropped = ink_of(page_of(solution, solution.findings[1:]))
    assert told_wrongly(dropped, solution.findings)
    changed = replace(solution.findings[0], status="passed")
    wrong = ink_of(page_of(solution, (changed, *solution.findings[1:])))
    assert told_wrongly(wrong, solution.findings) == ["hearth extension, front"]
    drawing = ink_of(sheet_of("eaten hearth"))
    for text in ("[NOT CHECKED]", "PASSED", "least lap"):
        old = next(x for x in drawing.ink if isinstance(x, Words) and x.text == text)
        assert told_wrongly(
            edited(drawing, old, replace(old, text="X")), solution.findings
        )
        assert told_wrongly(edited(drawing, old), solution.findings)


def figures_wrong(
    drawing: Drawing, job: Job, findings: tuple[Finding, ...]
) -> list[str]:
    """Return the rules whose printed figures are not the finding's, or do not close.

    A margin is measured less limit, or limit less measured where that is the most.
    """
    step, wrong = STEP[job.lengths], []
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
        is_most = finding.rule.startswith(AT_MOST)
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
        wrong += [] if fits else [finding.rule]
    return wrong


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
    assert found == ["hearth extension, front"]


def untold(drawing: Drawing, findings: tuple[Finding, ...]) -> list[str]:
    """Return what failed or was not checked without its words under it, whole."""
    missing = []
    for row, finding in zip(rows_on(drawing), findings, strict=True):
        parts = [finding.says, *(f": {mend}" for mend in finding.mends)]
        if finding.status == "not checked":
            parts = [f"TO FIND OUT: {finding.says}"]
        if finding.status != "passed" and any(plain(x) not in row.says for x in parts):
            missing.append(finding.rule)
    return missing


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
    assert untold(edited(drawing, line), findings) == ["hearth extension, front"]


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


# -------------------------------------------------------------------- what gives way


def padded(solution: Solution, passed: int, open_items: int) -> tuple[Finding, ...]:
    """Return a job's findings with so many more that passed, or were not checked."""
    says = "from one end to the other, by the shortest way, as it was measured there"
    model = next(x for x in solution.findings if x.rule == "hearth extension, left")
    assert model.status == "passed"
    more = [replace(model, rule=f"further {n}", says=says) for n in range(passed)]
    for n in range(open_items):
        given = f"key.{n} is not given: {says}, then once more to be sure of it"
        open_one = replace(
            model, rule=f"open {n}", status="not checked", margin=None, says=given
        )
        more.append(open_one)
    return (*solution.findings, *more)


@pytest.mark.parametrize("name", ["eaten hearth", "low shelf"])
@pytest.mark.parametrize("more", [(4, 4), (12, 4), (20, 10), (10, 25), (30, 20)])
def test_however_many_there_are_every_finding_is_on_the_one_page(
    name: str, more: tuple[int, int]
) -> None:
    solution = solved(name)
    findings = padded(solution, *more)
    sheet = page_of(solution, findings)
    drawing = ink_of(sheet)
    assert told_wrongly(drawing, findings) == []
    assert figures_wrong(drawing, solution.job, findings) == []
    assert is_inside(drawing, solution.job.lengths)
    assert collisions(drawing) == []
    assert crossings(drawing) == []
    failed = tuple(x for x in findings if x.status == "failed")
    kept = [x for x in untold(drawing, findings) if x in {y.rule for y in failed}]
    assert kept == []
    assert missing_lines(drawing, solution) == []


def test_the_words_of_what_passed_give_way_first_then_of_what_is_open() -> None:
    solution = solved("eaten hearth")
    elsewhere = "What the others need is on the drawing sheets"
    told = []
    for more in ((0, 0), (12, 4), (10, 30)):
        findings = padded(solution, *more)
        drawing = ink_of(page_of(solution, findings))
        rows = rows_on(drawing)
        passed = any(
            finding.says in row.says
            for row, finding in zip(rows, findings, strict=True)
            if finding.status == "passed"
        )
        told.append(
            (passed, not untold(drawing, findings), elsewhere in lettered(drawing))
        )
    assert told == [(True, True, False), (False, True, False), (False, False, True)]


def test_the_drawing_is_the_larger_the_fewer_findings_there_are() -> None:
    solution = solved("eaten hearth")
    scales = [
        ink_of(page_of(solution, findings)).scale
        for findings in (solution.findings[:4], padded(solution, 10, 30))
    ]
    assert scales[0] < scales[1]
    assert set(scales) <= {scale for scale, _ in SCALES["us"]}


def test_findings_that_no_page_holds_are_refused_and_none_is_left_out() -> None:
    solution = solved("eaten hearth")
    with pytest.raises(NotDrawable, match="findings"):
        page_of(solution, padded(solution, 0, 150))


# -------------------------------------------------------------------- measured lines

Point = tuple[float, float]


@dataclass(frozen=True)
class Keyed:
    """What a number in a circle is beside.

    Attributes:
        foot: where its leader comes to; the circle's middle without one.
        words: the figure beside it; empty without any.
    """

    row: int
    at: Point
    foot: Point
    leader: tuple[Point, ...]
    words: str
    letter: Point


@dataclass(frozen=True)
class Line:
    """A measured line: its figure, its length, its two ends."""

    words: str
    length: float
    ends: tuple[Point, Point]


def apart(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def thin_strokes(drawing: Drawing) -> list[tuple[Point, ...]]:
    return [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ANNO-DIMS" and len(x.points) == 2
    ]


def keys_on(drawing: Drawing) -> Iterator[Keyed]:
    """Yield every number in a circle, with its leader and its figure."""
    lettering = list(lettering_of(drawing))
    for ink in drawing.ink:
        if not isinstance(ink, Stroke) or not ink.closed or len(ink.points) != 24:
            continue
        x, y = (sum(values) / 24 for values in zip(*ink.points, strict=True))
        at, radius = (x, y), apart(ink.points[0], (x, y))
        (number,) = (w.text for w, _ in lettering if apart(w.at, at) < radius / 4)
        leader: tuple[Point, ...] = ()
        for a, b in thin_strokes(drawing):
            for near, far in ((a, b), (b, a)):
                if isclose(apart(near, at), radius, rel_tol=1e-9):
                    leader = (near, far)
        figures = [
            words
            for words, (left, _, right, _) in lettering
            if isclose(words.at[1], y, abs_tol=1e-6)
            and words.layer == "A-ANNO-DIMS"
            and 0 < min(abs(left - x), abs(right - x)) - radius < radius
        ]
        words, letter = (figures[0].text, figures[0].at) if figures else ("", at)
        yield Keyed(int(number), at, (leader or (at, at))[1], leader, words, letter)


def ends_of(measure: Measure) -> tuple[Point, Point]:
    (a, b), (c, d), level = measure.start, measure.end, measure.line_at
    if measure.axis == "x":
        return (a, level), (c, level)
    return (level, b), (level, d)


def lines_on(drawing: Drawing) -> dict[int, Line]:
    """Read the measured lines: what the leader of each figure comes to."""
    found = {}
    measures = [x for x in drawing.ink if isinstance(x, Measure)]
    dots = [
        shapely.Polygon(x.points).centroid
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ANNO-DIMS" and len(x.points) == 4
    ]
    for key in keys_on(drawing):
        if not key.words:
            continue
        spans = [
            ends_of(measure)
            for measure in measures
            if letter_of(measure, drawing.scale).at == key.letter
        ]
        if not spans:
            # A slanting line is drawn by hand; a line of no length is a dot.
            strokes = thin_strokes(drawing)
            spans = [(a, b) for a, b in strokes if {a, b} != set(key.leader)]
            spans.sort(key=lambda span: -apart(*span))
            spans += [((dot.x, dot.y), (dot.x, dot.y)) for dot in dots]
        foot = shapely.Point(key.foot)
        for span in spans:
            if shapely.LineString(span).distance(foot) < 1e-6:
                found[key.row] = Line(key.words, apart(*span), span)
                break
    return found


def opening_of(solution: Solution) -> tuple[float, float, float, float]:
    """Return the larger of the opening found and finished, from the front's left end.

    For openings that are rectangles: left, right, foot, head.
    """
    job = solution.job
    build_out = job.setting_bed.mean + job.brick.thickness
    grows = job.face.left_return is not None and job.face.measured_to == "substrate"
    left = build_out if grows else Fraction(0)
    if job.opening.from_left is None:
        left += (job.face.width - job.opening.width) / 2
    else:
        left += job.opening.from_left
    gap = job.edges.jambs.width if job.edges.jambs.kind == "gap" else 0
    head = max(job.opening.height, solution.coursing.head)
    sides = left - gap, left + job.opening.width + gap
    return (float(sides[0]), float(sides[1]), 0.0, float(head))


def wanted_lines(solution: Solution) -> dict[str, float]:
    """Reckon from the job what must be drawn, by rule."""
    job, wanted = solution.job, {}
    left, right, foot, head = opening_of(solution)
    moved = (right - left - float(job.opening.width)) / 2
    hearth = job.hearth
    if hearth is not None and hearth.material != "combustible":
        face = job.setting_bed.most + job.brick.thickness
        for side, given, less in (
            ("front", hearth.front, float(face)),
            ("left", hearth.left, moved),
            ("right", hearth.right, moved),
        ):
            if given is not None:
                wanted[f"hearth extension, {side}"] = float(given) - less
    for trim in job.trim:
        if trim.material == "marble":
            continue
        a, b = float(trim.left), float(trim.left + trim.width)
        c, d = float(trim.bottom), float(trim.bottom + trim.height)
        across, up = max(a - right, left - b, 0.0), max(c - head, foot - d, 0.0)
        wanted[f"combustible trim, distance: {trim.name}"] = hypot(across, up)
        outs = [float(step.projection) for step in trim.steps]
        rule = f"combustible trim, projection: {trim.name}"
        wanted[rule] = float(trim.projection or 0)
        if outs:
            # The worst step is drawn: whichever the review found, it is one of them.
            finding = next(x for x in solution.findings if x.rule == rule)
            wanted[rule] = next(x for x in outs if x == finding.measured)
    return wanted


def missing_lines(drawing: Drawing, solution: Solution) -> list[str]:
    """Return the rules whose measured line is not drawn, with its length and figure."""
    lines, rows = lines_on(drawing), rows_on(drawing)
    wanted, wrong = wanted_lines(solution), []
    rules = [finding.rule for finding in solution.findings]
    for rule, length in wanted.items():
        number = rules.index(rule) + 1
        line = lines.get(number)
        if (
            line is None
            or not isclose(line.length, length, abs_tol=1e-5)
            or line.words != rows[number - 1].measured
        ):
            wrong.append(rule)
    extra = [rules[number - 1] for number in lines if rules[number - 1] not in wanted]
    return wrong + extra


@every
def test_every_measured_line_is_drawn_as_long_as_the_job_has_it(name: str) -> None:
    assert missing_lines(ink_of(sheet_of(name)), solved(name)) == []


def test_the_lines_are_those_that_the_review_measured() -> None:
    for name in ALL:
        found = {finding.rule: finding for finding in solved(name).findings}
        for rule, length in wanted_lines(solved(name)).items():
            measured = found[rule].measured
            assert measured is not None
            assert isclose(float(measured), length, abs_tol=1e-5)
    lengths = {len(wanted_lines(solved(name))) for name in ALL}
    assert {0, 1, 3, 5} <= lengths
    assert max(lengths) > 10


@pytest.mark.parametrize("name", ["metric-slips", "woodwork all round"])
def test_a_line_of_another_length_or_row_and_a_lost_one_are_noticed(name: str) -> None:
    solution, drawing = solved(name), ink_of(sheet_of(name))
    measures = [x for x in drawing.ink if isinstance(x, Measure)]
    for measure in measures:
        x, y = measure.end
        moved = replace(measure, end=(x + 0.1, y + 0.1))
        assert missing_lines(edited(drawing, measure, moved), solution)
        assert missing_lines(edited(drawing, measure), solution)
        figure = replace(measure, words="0 in")
        assert missing_lines(edited(drawing, measure, figure), solution)
    key = next(key for key in keys_on(drawing) if key.row == 2)
    number = next(
        x for x in drawing.ink if isinstance(x, Words) and apart(x.at, key.at) < 1e-6
    )
    assert missing_lines(edited(drawing, number, replace(number, text="3")), solution)


def test_a_slanting_line_and_a_dot_that_are_moved_or_lost_are_noticed() -> None:
    name = "woodwork all round"
    solution, drawing = solved(name), ink_of(sheet_of(name))
    rules = [finding.rule for finding in solution.findings]
    for rule, is_dot in (("block", False), ("bead", True)):
        rule = f"combustible trim, distance: {rule}"
        ends = lines_on(drawing)[rules.index(rule) + 1].ends
        assert (ends[0] == ends[1]) == is_dot
        middle = shapely.LineString(ends).centroid
        stroke = next(
            x
            for x in drawing.ink
            if isinstance(x, Stroke) and x.layer == "A-ANNO-DIMS"
            if len(x.points) == (4 if is_dot else 2)
            if shapely.LineString(x.points).envelope.centroid.distance(middle) < 1e-6
        )
        (x, y), *rest = stroke.points
        moved = replace(stroke, points=((x + 2.0, y), *rest))
        assert missing_lines(edited(drawing, stroke, moved), solution) == [rule]
        assert missing_lines(edited(drawing, stroke), solution) == [rule]


def boxes_on(drawing: Drawing) -> list[shapely.Polygon]:
    """Return what is drawn as a rectangle of others."""
    return [
        shapely.Polygon(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.layer == "A-ELEV-OTHR-E"
        and x.closed
        and len(x.points) == 4
    ]


def astray(drawing: Drawing, solution: Solution) -> list[str]:
    """Return the distances that do not run from the opening to their woodwork."""
    lines, wrong = lines_on(drawing), []
    rules = [finding.rule for finding in solution.findings]
    (outline,) = (
        shapely.Polygon(x.points).exterior
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ELEV-OTLN"
    )
    (outer,) = (
        shapely.LineString(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ELEV-HIDD"
    )
    opening = shapely.union(outline, outer)
    for trim in solution.job.trim:
        rule = f"combustible trim, distance: {trim.name}"
        if trim.material == "marble":
            continue
        wide, high = float(trim.width), float(trim.height)
        boxes = [
            box
            for box in boxes_on(drawing)
            if isclose(box.bounds[2] - box.bounds[0], wide, abs_tol=1e-6)
            and isclose(box.bounds[3] - box.bounds[1], high, abs_tol=1e-6)
        ]
        near, far = (shapely.Point(x) for x in lines[rules.index(rule) + 1].ends)
        ways = ((near, far), (far, near))
        if not any(
            a.distance(opening) < 1e-6 and b.distance(box.exterior) < 1e-6
            for a, b in ways
            for box in boxes
        ):
            wrong.append(rule)
    return wrong


def test_a_profile_over_the_opening_steps_up_in_section() -> None:
    found = {
        tuple(round(x, 6) for x in (b[2] - b[0], b[3] - b[1]))
        for b in (
            box.bounds for box in boxes_on(ink_of(sheet_of("woodwork all round")))
        )
    }
    # 2 in of it stand out 1 in, the 6 in above them 4 in.
    assert {(1.0, 2.0), (4.0, 6.0)} <= found
    assert not {(1.0, 8.0), (4.0, 8.0)} & found


WOODED = (
    *("library-hearth", "chimney-breast-gas", "metric-slips", "low shelf"),
    *("woodwork all round", "no manual"),
)


@pytest.mark.parametrize("name", WOODED)
def test_every_distance_runs_from_the_opening_to_its_woodwork(name: str) -> None:
    assert astray(ink_of(sheet_of(name)), solved(name)) == []


def test_a_distance_that_ends_elsewhere_is_noticed() -> None:
    solution, drawing = solved("low shelf"), ink_of(sheet_of("low shelf"))
    line = lines_on(drawing)[4]
    measure = next(
        x for x in drawing.ink if isinstance(x, Measure) and ends_of(x) == line.ends
    )
    up = replace(
        measure,
        start=(measure.start[0], measure.start[1] + 9.0),
        end=(measure.end[0], measure.end[1] + 9.0),
    )
    assert astray(edited(drawing, measure, up), solution) == [
        "combustible trim, distance: pine shelf"
    ]


def unkeyed(drawing: Drawing, solution: Solution) -> list[str]:
    """Return the fittings whose row does not stand in them, or point to them."""
    rules = [finding.rule for finding in solution.findings]
    feet = {key.row: key.foot for key in keys_on(drawing)}
    wrong = []
    for each in solution.job.fitting:
        row = rules.index(f"covered by the new face: {each.name}") + 1
        size = (float(each.width), float(each.height))
        boxes = [
            box
            for box in boxes_on(drawing)
            if isclose(box.bounds[2] - box.bounds[0], size[0], abs_tol=1e-6)
            and isclose(box.bounds[3] - box.bounds[1], size[1], abs_tol=1e-6)
        ]
        foot = feet.get(row)
        if foot is None or not any(box.contains(shapely.Point(foot)) for box in boxes):
            wrong.append(each.name)
    return wrong


def test_every_fitting_is_drawn_and_keyed_to_its_row() -> None:
    name = "woodwork all round"
    solution, drawing = solved(name), ink_of(sheet_of(name))
    assert len(solution.job.fitting) == 3
    assert unkeyed(drawing, solution) == []
    rings = [
        x
        for x in drawing.ink
        if isinstance(x, Stroke) and x.closed and len(x.points) == 4
        if shapely.Polygon(x.points).area == pytest.approx(6.0)
    ]
    assert len(rings) == 3
    for ring in rings:
        assert len(unkeyed(edited(drawing, ring), solution)) == 1


def test_what_the_drawing_has_no_room_for_is_said_and_stays_in_the_table() -> None:
    pieces = (
        piece(
            f"slat {n}",
            (f"{11 + n} in", f"{40 + 2 * n} in", "1/2 in", "1/2 in"),
            'projection = "1 in"',
        )
        for n in range(14)
    )
    changes = (*PLAIN, ("[sheet]", f"{''.join(pieces)}[sheet]"))
    solution = solve(parse_job(text_of("cannot-land", *changes), "slats.toml"))
    drawing = ink_of(page_of(solution))
    assert told_wrongly(drawing, solution.findings) == []
    assert collisions(drawing) == []
    assert crossings(drawing) == []
    rules = [finding.rule for finding in solution.findings]
    gone = {rules.index(rule) + 1 for rule in missing_lines(drawing, solution)}
    said = re.search(r"measured in these rows: ([\d, ]+)\.", lettered(drawing))
    assert gone
    assert said is not None
    assert {int(x) for x in said[1].split(", ")} == gone


@every
def test_the_scale_is_said_and_its_bar_is_as_long_as_it_says(name: str) -> None:
    drawing, job = ink_of(sheet_of(name)), solved(name).job
    named = dict(SCALES[job.scales])[drawing.scale]
    words = [x for x in drawing.ink if isinstance(x, Words)]
    caption = next(x for x in words if x.text.endswith(f"SCALE {named}"))
    end = max((x for x in words if x.at[1] == caption.at[1]), key=lambda x: x.at[0])
    parts = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.closed
        and x.layer == "A-ANNO-NOTE"
        and 0 < x.points[0][1] - caption.at[1] < end.height_on_paper * drawing.scale
    ]
    assert len(parts) == 4
    places = [x for points in parts for x, _ in points]
    unit = job.lengths if job.lengths == "mm" else '"'
    said = float(end.text.removesuffix(unit))
    assert max(places) - min(places) == pytest.approx(said)


# ------------------------------------------------------------------------- the words

COUNTS = re.compile(r"(\d+) FINDINGS: +(\d+) PASSED, +(\d+) FAILED, +(\d+) NOT CHECKED")


def counts_on(drawing: Drawing) -> list[int]:
    said = COUNTS.search(lettered(drawing))
    assert said is not None
    return [int(x) for x in said.groups()]


@every
def test_it_counts_and_says_that_not_checked_is_no_approval(name: str) -> None:
    drawing, findings = ink_of(sheet_of(name)), solved(name).findings
    status = [finding.status for finding in findings]
    kinds = ("passed", "failed", "not checked")
    assert counts_on(drawing) == [len(status), *(status.count(x) for x in kinds)]
    text = lettered(drawing)
    assert "NOT CHECKED IS NOT AN APPROVAL" in text
    for part in (
        "The local code, the listing of the appliance and a licensed person decide",
        "this page approves nothing",
    ):
        assert part in text


@every
def test_its_heading_is_the_jobs(name: str) -> None:
    text, job = lettered(ink_of(sheet_of(name))), solved(name).job
    assert "CLEARANCE REVIEW" in text
    for value in (job.job.name, job.job.number, str(job.job.date), job.job.revision):
        assert plain(value) in text
    assert f"APPLIANCE {job.appliance.kind}" in text
    manual = job.appliance.manual
    is_example = manual is not None and manual.example
    assert ("EXAMPLE FIGURES: NOT FOR CONSTRUCTION" in text) == is_example
    if job.appliance.kind == "masonry":
        assert f"RULE SET {job.rules.set}" in text
    elif manual is not None:
        assert f"MANUAL {manual.document}, page {manual.page}" in text


@pytest.mark.parametrize(
    ("name", "area"),
    [
        # 34 x 25, as found; 36 x 32, finished alike.
        ("cannot-land", "5.90 sq ft"),
        ("chimney-breast-gas", "8.00 sq ft"),
    ],
)
def test_the_area_that_governs_is_said_rounded_down(name: str, area: str) -> None:
    left, right, foot, head = opening_of(solved(name))
    assert f"{floor((right - left) * (head - foot) / 1.44) / 100:.2f} sq ft" == area
    assert f"OPENING'S AREA {area}" in lettered(ink_of(sheet_of(name)))


def test_an_area_that_was_agreed_says_by_whom() -> None:
    change = (
        'set = "irc-2015"',
        'set = "irc-2015"\narea = "finished"\narea_agreed = "the office, by letter"',
    )
    solution = solve(parse_job(text_of("cannot-land", change), "agreed.toml"))
    text = lettered(ink_of(page_of(solution)))
    assert "the opening as finished; agreed: the office, by letter" in text


def row_of(name: str, rule: str) -> Row:
    rules = [finding.rule for finding in solved(name).findings]
    return rows_on(ink_of(sheet_of(name)))[rules.index(rule)]


def test_a_shelf_too_near_and_too_far_out_is_failed_with_what_would_pass() -> None:
    row = row_of("low shelf", "combustible trim, distance: pine shelf")
    assert (row.measured, row.limit, row.margin) == ("140 mm", "150 mm", "-10 mm")
    assert row.status == "FAILED"
    assert "TO PASS: move the pine shelf 16 mm further from the opening" in row.says
    assert counts_on(ink_of(sheet_of("low shelf")))[2] >= 1


def test_a_gas_unit_without_its_manual_has_nothing_passed_of_it() -> None:
    drawing = ink_of(sheet_of("no manual"))
    text = lettered(drawing)
    assert "APPLIANCE gas" in text
    assert "MANUAL not given: no code's figures stand in for it" in text
    for rule in (
        "hearth extension, front",
        "hearth extension, left",
        "combustible trim, distance: mantel shelf",
        "combustible trim, projection: mantel shelf",
        "facing thickness",
    ):
        row = row_of("no manual", rule)
        assert (row.limit, row.margin, row.status) == ("-", "-", "[NOT CHECKED]")
        assert "TO FIND OUT: " in row.says
        assert "from the manual, with document and page" in row.says
        assert row.source == "the manual of the appliance (not read)"


def test_a_hearth_eaten_by_the_build_out_fails_by_what_it_took() -> None:
    row = row_of("eaten hearth", "hearth extension, front")
    # 17 in before the wall as found, less 5/8 in of brick and 1/2 in of bed.
    assert (row.measured, row.limit, row.margin) == ("15 7/8 in", "16 in", "-1/8 in")
    assert row.status == "FAILED"
    assert "17 in from the wall as found, less 1 1/8 in" in row.says
    assert (
        "TO PASS: extend the noncombustible hearth by 3/8 in to the front" in row.says
    )


def test_a_hearth_that_may_burn_has_failed_and_measures_nothing() -> None:
    for side in ("front", "left", "right"):
        row = row_of("combustible hearth", f"hearth extension, {side}")
        assert (row.measured, row.margin, row.status) == ("-", "-", "FAILED")
        assert "the hearth is combustible as typed" in row.says
