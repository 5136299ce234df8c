"""An arch's templates: true to size over their pages, whole, and on the circle.

Measured with pdfplumber on the pages as they are printed.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import asin, atan2, degrees, hypot
from types import SimpleNamespace

import pdfplumber
import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.reading import parse_job
from shopdraw.output.pdf import write_pdf
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.making import sizes
from shopdraw.views.making.templates import draw_templates
from shopdraw.views.making.tiling import _about, _broken
from tests.demos import solution_of
from tests.views.lettering import collisions
from tests.views.on_papers import struck_on

ARCHED = ("segmental-kitchen", "jack-arch-parlour", "semicircular-dining-room")
TRUE = 0.002
"""How far what is printed may be off, in inches."""
METRIC = """
[job]
name = "Rowlocks in millimetres"
lengths = "mm"
[face]
width = "1700 mm"
height = "1150 mm"
measured_to = "finish"
[opening]
width = "900 mm"
height = "600 mm"
head = "segmental arch"
[arch]
rise = "150 mm"
made_of = "rowlocks"
rings = 2
[brick]
size = "uk-65"
"""

Spot = tuple[float, float]


@cache
def solved(name: str) -> Solution:
    if name == "metric":
        return solve(parse_job(METRIC, "metric.toml"))
    return solution_of(name)


@cache
def pages_of(name: str) -> tuple[tuple[Sheet, ...], bytes]:
    sheets = draw_templates(solved(name))
    return sheets, write_pdf(sheets, "X")


def printed(name: str, title: str, scale: float = 1.0) -> Iterator[list[list[Spot]]]:
    """Yield, page by page, the lines of a template in its own lengths, in inches.

    Args:
        name: of the job.
        title: what its pages are called.
        scale: what a careless printer makes of an inch.
    """
    sheets, data = pages_of(name)
    inch = 1.0 if solved(name).lengths == "in" else 25.4
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for sheet, page in zip(sheets, pdf.pages, strict=True):
            if not sheet.title.startswith(title):
                continue
            placement = sheet.drawings[0].placement
            moves = [
                (a - b) / inch
                for a, b in zip(placement.origin, placement.on_paper, strict=True)
            ]
            yield [
                [
                    (
                        float(x) / 72 * scale + moves[0],
                        float(page.height - y) / 72 * scale + moves[1],
                    )
                    for x, y in item["pts"]
                ]
                for item in (*page.curves, *page.lines, *page.rects)
            ]


def curve_of(name: str, scale: float = 1.0) -> list[list[Spot]]:
    """Return the turning piece's upper edge, page by page: its longest line of many."""
    pages = printed(name, "TURNING PIECE", scale)
    longest = (max(lines, key=len, default=[]) for lines in pages)
    return [line for line in longest if len(line) > 4]


@pytest.mark.parametrize(
    ("name", "span", "rise"),
    [("segmental-kitchen", 44, 6.0), ("semicircular-dining-room", 29.25, 14.625)],
)
def test_the_turning_piece_is_on_its_circle_over_all_its_pages(
    name: str, span: float, rise: float
) -> None:
    """Its circle has the soffit's centre, and touches the middle of every foot."""
    solution = solved(name)
    arch = solution.layout.arch
    assert arch is not None
    radius = (span * span / 4 + rise * rise) / (2 * rise)
    centre = float(arch.spring) + rise - radius
    feet = []
    for piece in solution.layout.pieces:
        if piece.kind == "voussoir":
            (x1, y1), (x2, y2) = piece.outlines[0].points[:2]
            x = float(x1 + x2) / 2 - float(arch.centre[0])
            feet.append(hypot(x, float(y1 + y2) / 2 - centre))
    touched = min(feet)
    assert radius - 0.1 < touched < radius
    spots = [spot for line in curve_of(name) for spot in line]
    # The piece's own figures are from the spring line.
    off = [
        abs(hypot(x, y + float(arch.spring) - centre) - touched)
        for x, y in spots
        if y > 1e-3 and 1e-3 < x < span / 2 - 0.126
    ]
    assert len(off) > 90
    assert max(off) < TRUE
    assert max(x for x, _ in spots) > span / 2 - 0.35


def test_a_page_printed_a_hundredth_too_small_is_off_the_circle() -> None:
    spots = [s for line in curve_of("segmental-kitchen", 0.99) for s in line]
    off = [abs(hypot(x, y + 37.333) - 43.333) for x, y in spots if y > 1e-3]
    assert max(off) > 10 * TRUE


@pytest.mark.parametrize("name", [*ARCHED, "metric"])
def test_no_part_of_a_template_is_lost_between_pages(name: str) -> None:
    """The upper edge goes on from page to page, with an inch on both."""
    inch = 1.0 if solved(name).lengths == "in" else 25.4
    edges = sorted(
        (min(line)[0], max(line)[0])
        for lines in printed(name, "TURNING PIECE")
        for line in lines
        if len(line) > 2
    )
    arch = solved(name).layout.arch
    assert arch is not None
    reach = edges[0][1]
    for low, high in edges[1:]:
        assert low <= reach + TRUE
        reach = max(reach, high)
    assert edges[0][0] == pytest.approx(0, abs=TRUE)
    assert reach == pytest.approx(float(arch.span) / 2 / inch - 0.125, abs=0.01)


@pytest.mark.parametrize("name", [*ARCHED, "metric"])
def test_each_voussoir_is_as_large_as_the_cut_list_has_it(name: str) -> None:
    solution = solved(name)
    inch = 1.0 if solution.lengths == "in" else 25.4
    wanted = sorted(
        (round(float(row.length) / inch, 2), round(float(row.height) / inch, 2))
        for row in solution.cut_list
        if row.kind == "voussoir" and row.is_cut
    )
    found = []
    for lines in printed(name, "VOUSSOIRS"):
        for line in lines:
            xs, ys = zip(*line, strict=True)
            size = max(xs) - min(xs), max(ys) - min(ys)
            if len(line) >= 4 and min(size) > 0.5:
                found.append((round(size[0], 2), round(size[1], 2)))
    for size in wanted:
        near = [
            s for s in found if max(abs(s[0] - size[0]), abs(s[1] - size[1])) < 0.011
        ]
        assert near, (size, found)


def test_the_axis_points_to_the_centre_and_the_taper_is_the_angle_of_the_sides() -> (
    None
):
    """In the segmental arch 21 voussoirs stand between skewbacks of 30.51 degrees."""
    (lines,) = printed("segmental-kitchen", "VOUSSOIRS")
    ring = next(line for line in lines if len(line) >= 4)
    left, right = min(x for x, _ in ring), max(x for x, _ in ring)
    axis = next(
        line
        for line in lines
        if len(line) == 2
        and line[0][0] == pytest.approx(line[1][0])
        and left + 0.5 < line[0][0] < right - 0.5
        and min(y for _, y in line) > -TRUE
    )
    assert axis[0][0] == pytest.approx((left + right) / 2, abs=TRUE)
    foot = sorted(x for x, y in ring if y < 0.1)
    high = max(y for _, y in ring)
    head = sorted(x for x, y in ring if y > high - 0.1)
    spread = degrees(2 * atan2((head[-1] - head[0] - foot[-1] + foot[0]) / 2, high))
    # By hand: both skewbacks' angles, less half a joint at each, over 21.
    angle = degrees(asin(22 / (1936 / 48 + 3)))
    middle = 1936 / 48 + 3 + 7.625 / 2
    pitch = 2 * (angle - degrees(0.1875 / middle)) / 21
    assert spread == pytest.approx(pitch, abs=0.02)
    said = [x.text for x in words_of("segmental-kitchen", "VOUSSOIRS")]
    assert f"TAPER {pitch:.1f} DEG" in said


@pytest.mark.parametrize(
    ("name", "angle"), [("segmental-kitchen", 30.51), ("jack-arch-parlour", 20.556)]
)
def test_the_skewback_leans_by_its_angle(name: str, angle: float) -> None:
    """asin(22 / 43.33); atan(3 / 8), 1/2 in a foot of span for each 4 in of depth."""
    (lines,) = printed(name, "SKEWBACK")
    ring = next(line for line in lines if len(line) >= 4)
    sloping = [
        degrees(atan2(abs(b[0] - a[0]), abs(b[1] - a[1])))
        for a, b in pairwise([*ring, ring[0]])
        if abs(b[0] - a[0]) > 0.1 and abs(b[1] - a[1]) > 0.1
    ]
    assert sloping == [pytest.approx(angle, abs=0.02)]


def test_a_semicircular_arch_has_no_skewback() -> None:
    titles = {sheet.title for sheet in pages_of("semicircular-dining-room")[0]}
    assert not any(title.startswith("SKEWBACK") for title in titles)


def test_there_are_none_without_an_arch() -> None:
    assert draw_templates(solution_of("library-hearth")) == ()


@pytest.mark.parametrize("name", [*ARCHED, "metric"])
def test_both_bars_are_true_on_every_page(name: str) -> None:
    with pdfplumber.open(io.BytesIO(pages_of(name)[1])) as pdf:
        for page in pdf.pages:
            long = [float(x["x1"] - x["x0"]) / 72 for x in page.lines]
            for wanted in (6, 100 / 25.4):
                assert min(abs(length - wanted) for length in long) < TRUE


def words_of(name: str, title: str) -> list[Words]:
    return [
        x
        for sheet in pages_of(name)[0]
        if sheet.title.startswith(title)
        for x in sheet.drawings[0].drawing.ink
        if isinstance(x, Words)
    ]


def on_page(sheet: Sheet) -> Drawing:
    """Return all ink of a page in paper lengths."""
    (placed,) = sheet.drawings
    move = placed.placement.to_paper
    ink = [
        replace(x, at=move(x.at)) for x in placed.drawing.ink if isinstance(x, Words)
    ]
    return Drawing("page", "", 1.0, (*ink, *sheet.paper_ink))


@pytest.mark.parametrize("name", [*ARCHED, "metric"])
def test_no_words_collide_or_leave_the_page(name: str) -> None:
    for sheet in pages_of(name)[0]:
        page = on_page(sheet)
        assert collisions(page) == [], sheet.name
        for words in page.ink:
            if isinstance(words, Words):
                left, bottom, right, top = box_of(words)
                assert min(left, bottom) > 0, (sheet.name, words.text)
                assert right < sheet.width, (sheet.name, words.text)
                assert top < sheet.height, (sheet.name, words.text)


def test_the_piece_says_its_rod_its_wedges_and_its_props() -> None:
    """Spring line 16 1/8, 3 of board, 1 1/2 of wedges: 11 5/8.

    The hearth falls 1/8 over 62: by 0.033 at 16 3/8, by 0.092 at 45 5/8.
    """
    said = {x.text for x in words_of("semicircular-dining-room", "TURNING PIECE")}
    assert 'FOLDING WEDGES 1 1/2"' in said
    assert 'LEFT PROP 11 11/16", RIGHT PROP 11 11/16", FROM THE HEARTH' in said
    assert any(x.startswith("RADIUS 1'-2 5/8\", ABOUT A CENTRE ON THE") for x in said)


@pytest.mark.parametrize("name", ARCHED)
def test_no_line_runs_through_lettering_on_a_page(name: str) -> None:
    pages = draw_templates(solution_of(name))
    lettered = [x for page in pages for each in page.drawings for x in each.drawing.ink]
    assert [x for x in lettered if isinstance(x, Words) and x.text.startswith("JOIN")]
    assert [struck for page in pages for struck in struck_on(page)] == []


@pytest.mark.parametrize("name", [*ARCHED, "metric"])
def test_no_page_is_blank_but_for_the_lines_to_join_it_by(name: str) -> None:
    """Each page of the turning piece shows some of it that no other one shows."""
    pages = [x for x in pages_of(name)[0] if x.title.startswith("TURNING PIECE")]
    boxes = []
    for sheet in pages:
        placement = sheet.drawings[0].placement
        (x, y), (left, bottom, right, top) = placement.origin, placement.window
        boxes.append((x, y, x + right - left, y + top - bottom))
    for sheet, own in zip(pages, boxes, strict=True):
        others = [box for box in boxes if box != own]
        spots = [
            spot
            for x in sheet.drawings[0].drawing.ink
            if isinstance(x, Stroke) and x.layer in (layers.BORDER, layers.DIMENSIONS)
            for spot in _along(x)
        ]
        assert any(
            not any(a <= x <= c and b <= y <= d for a, b, c, d in others)
            for x, y in spots
        ), sheet.name


def _along(stroke: Stroke) -> Iterator[Spot]:
    """Yield points along a stroke, its ends and 50 between any two."""
    points = [*stroke.points, *(stroke.points[:1] if stroke.closed else ())]
    for (x1, y1), (x2, y2) in pairwise(points):
        yield from (
            (x1 + (x2 - x1) * n / 50, y1 + (y2 - y1) * n / 50) for n in range(51)
        )


@pytest.mark.parametrize("name", [*ARCHED, "metric"])
def test_every_join_leads_to_a_page(name: str) -> None:
    """A JOIN is on two pages side by side, or on two above one another."""
    joins = [
        x.text for x in words_of(name, "TURNING PIECE") if x.text.startswith("JOIN")
    ]
    assert joins
    assert all(joins.count(each) % 2 == 0 for each in joins)


@pytest.mark.parametrize("name", [*ARCHED, "metric"])
def test_pages_of_one_template_are_counted_together(name: str) -> None:
    counted: dict[str, list[str]] = {}
    for sheet in pages_of(name)[0]:
        (of,) = [
            x.text
            for x in sheet.paper_ink
            if isinstance(x, Words) and x.text.startswith("PAGE ")
        ]
        counted.setdefault(sheet.title, []).append(of)
    for pages in counted.values():
        assert pages == [f"PAGE {n} OF {len(pages)}" for n in range(1, len(pages) + 1)]
    names = [sheet.name for sheet in pages_of(name)[0]]
    assert len(names) == len(set(names))


def test_no_stone_is_one_of_them() -> None:
    said = [x.text for x in words_of("semicircular-dining-room", "VOUSSOIRS")]
    assert {"K, ONE", "V1, 24 OF THEM"} <= set(said)


def test_a_join_s_line_keeps_off_a_name_on_all_its_sides() -> None:
    about = _about((1.0, 2.0, 3.0, 4.0), 0.5)
    upright, level = ((2.0, 0.0), (2.0, 9.0)), ((0.0, 3.0), (9.0, 3.0))
    assert _broken(upright, [about]) == [
        ((2.0, 0.0), (2.0, 1.5)),
        ((2.0, 4.5), (2.0, 9.0)),
    ]
    assert _broken(level, [about]) == [
        ((0.0, 3.0), (0.5, 3.0)),
        ((3.5, 3.0), (9.0, 3.0)),
    ]
    beside = ((8.0, 0.0), (8.0, 9.0))
    assert _broken(beside, [about]) == [beside]


def test_a_foot_off_square_is_higher_at_the_side_that_is_said(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    stone = SimpleNamespace(is_even=False, taper_deg=8.0, foot_deg=5.0, head_deg=-3.0)
    monkeypatch.setattr(sizes, "stone_templates", lambda _: (stone,))
    assert [*sizes._angles_about_axis(solution_of("library-hearth").cut_list[0])] == [
        "AXIS (CHAIN LINE): EACH SIDE 4.0 DEGREES OFF IT",
        "FOOT 5.0 DEGREES OFF SQUARE TO IT, HIGHER AT THE RIGHT",
        "HEAD 3.0 DEGREES OFF SQUARE TO IT, HIGHER AT THE LEFT",
    ]
