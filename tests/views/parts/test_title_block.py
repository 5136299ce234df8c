"""The title block: what it says by profile, and that its lettering keeps to its cells.

Lettering is measured by the font's own table of widths, read by another library.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise, product
from typing import Any

import pytest
from fontTools.ttLib import TTFont

from shopdraw.catalog.rows import sheet_names, sheet_size
from shopdraw.drawing.framing import draw_frame, left_out
from shopdraw.drawing.ink import Ink, Stroke, Words
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import STYLES, Sheet
from shopdraw.drawing.title_block import Revised
from shopdraw.errors import NotDrawable
from shopdraw.job.model import About
from shopdraw.job.reading import parse_job
from shopdraw.output.plot import font_file
from shopdraw.pipeline import build, solve
from shopdraw.views.parts.stamps import looking_note, title_block
from shopdraw.views.purposes import fields_left_out
from shopdraw.views.words.notes import general_notes
from tests.demos import CONFIGS, set_of, solution_of
from tests.longer import mostly_long
from tests.views.jobs import text_of

CAPITALS = 1493
DEMO_WITH_MOST = "chimney-breast-gas"
CELLS = ("us", "ARCH C"), ("iso", "A2")
"""A profile, and a paper."""
Box = tuple[float, float, float, float]


@cache
def font() -> tuple[dict[int, str], Any]:
    loaded = TTFont(font_file())
    return loaded.getBestCmap(), loaded["hmtx"]


def measured(words: Words) -> Box:
    """Return the box round level lettering, from foot to capitals."""
    names, widths = font()
    advance = sum(widths[names[ord(sign)]][0] for sign in words.text)
    wide = advance * words.height_on_paper / CAPITALS
    x, y = words.at
    left = x - {"left": 0.0, "centre": wide / 2, "right": wide}[words.align]
    foot = y - (words.height_on_paper if words.seat == "top" else 0.0)
    return left, foot, left + wide, foot + words.height_on_paper


def sides(ink: Iterator[Ink] | tuple[Ink, ...]) -> Iterator[Box]:
    """Yield the level and upright lines of a frame, each as a box without width."""
    for each in ink:
        if isinstance(each, Stroke):
            points = [*each.points, *([each.points[0]] if each.closed else [])]
            for (a, b), (c, d) in pairwise(points):
                if a == c or b == d:
                    yield min(a, c), min(b, d), max(a, c), max(b, d)


def overflowing(sheet: Sheet) -> list[str]:
    """Return the lettering of a frame that meets a line, other lettering or an edge."""
    style = STYLES["in" if sheet.lengths == "in" else "mm"]
    # On an upright sheet the block stands at the foot, between narrower margins.
    is_upright = sheet.width < sheet.height
    margin = style.margin / 2 if is_upright else style.margin
    left = margin if is_upright else sheet.width - margin - style.strip
    lettered = [
        (words, measured(words))
        for words in sheet.paper_ink
        if isinstance(words, Words) and words.text
    ]
    lines = list(sides(sheet.paper_ink))
    found = []
    for place, (words, box) in enumerate(lettered):
        others = [*lines, *(other for _, other in lettered[:place])]
        strip = left, margin, sheet.width - margin
        is_out = box[0] < strip[0] or box[1] < strip[1] or box[2] > strip[2]
        if is_out or any(meet(box, other) for other in others):
            found.append(words.text)
    return found


def meet(a: Box, b: Box) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def sheets_of(drawn: DrawingSet) -> list[Sheet]:
    assert drawn.picture is not None
    return [*drawn.sheets, drawn.picture]


def test_lettering_keeps_to_its_cell_on_every_sheet(drawing_set: DrawingSet) -> None:
    for sheet in sheets_of(drawing_set):
        assert overflowing(sheet) == [], sheet.name
        heights = [x.height_on_paper for x in sheet.paper_ink if isinstance(x, Words)]
        # 3/32 in and 2.5 mm are the least on a sheet.
        assert min(heights) >= (0.09375 if sheet.lengths == "in" else 2.5)


LONG = "Wmwood and Wyncham Common Room Mantel Committee of the Old Rectory"
SAID = {
    name: LONG[: 80 if name in ("name", "site") else 60 if name != "revision" else 12]
    for name, field in About.model_fields.items()
    if field.annotation is not None
    and name not in ("lengths", "date", "measured_on", "units_lot", "notes")
}
REVISIONS = "".join(
    f'\n[[revision]]\nmark = "{mark}"\ndate = 2026-05-04\nby = "{LONG[:60]}"\n'
    f'says = "{LONG}; {LONG}"\n'
    for mark in ("R-2026-05-04", "R2", "R3", "R4", "R5", "R6")
)


def with_texts(demo: str, profile: str, size: str, said: dict[str, str]) -> DrawingSet:
    """Return a demo's set with other texts in [job], on other paper."""
    text = text_of(demo).split("[sheet]")[0]
    head, _, rest = text.partition("[job]")
    body = "".join(f'{key} = "{value}"\n' for key, value in said.items())
    lengths = "mm" if demo == "metric-slips" else "in"
    rest = rest[rest.index("\n[") :]
    made = f'{head}[job]\nlengths = "{lengths}"\ndate = 2026-05-04\n{body}{rest}'
    made += f'{REVISIONS}\n[sheet]\nprofile = "{profile}"\nsize = "{size}"\n'
    return build(solve(parse_job(made, "long.toml")))


@pytest.mark.parametrize(
    ("demo", "cells"),
    mostly_long(
        product(("library-hearth", "metric-slips"), CELLS),
        ("library-hearth", ("iso", "A2")),
        ("metric-slips", ("us", "ARCH C")),
    ),
)
def test_long_names_keep_to_their_cells(demo: str, cells: tuple[str, str]) -> None:
    drawn = with_texts(demo, *cells, SAID)
    for sheet in sheets_of(drawn):
        assert overflowing(sheet) == [], sheet.name
        said = "".join(x.text for x in sheet.paper_ink if isinstance(x, Words))
        for value in SAID.values():
            assert value.replace(" ", "") in said.replace(" ", "")
        assert "EARLIER ONES: SEE GENERAL NOTES" in said


@pytest.mark.parametrize("demo", ["library-hearth", "metric-slips", DEMO_WITH_MOST])
@pytest.mark.parametrize("size", sheet_names())
def test_the_block_fits_every_paper_of_the_catalog(demo: str, size: str) -> None:
    solution = solution_of(demo)
    lengths = solution.lengths
    wide, high = (float(x) for x in sheet_size(size, lengths))
    block = title_block(solution, ("A-201", "2 OF 9"), "ELEVATION AND PLAN", "AS SHOWN")
    ink = draw_frame((wide, high), lengths, block)
    sheet = replace(
        set_of(demo).sheets[0], width=wide, height=high, paper_ink=ink, drawings=()
    )
    assert overflowing(sheet) == []
    said = "".join(x.text for x in ink if isinstance(x, Words)).replace(" ", "")
    left = left_out((wide, high), lengths, block)
    # A field is on the sheet, or on the list of those that are not.
    for cell in block.cells:
        assert cell in left or cell.value.replace(" ", "") in said, cell.name
        # What every sheet needs is there as a blank, too, to be filled in by hand.
        assert not cell.is_needed or cell.name.replace(" ", "") in said, cell.name
    assert bool(left) is ("OTHERFIELDS:SEEGENERALNOTES" in said)


@pytest.mark.parametrize("size", sheet_names())
def test_the_longest_revision_is_on_the_sheet_or_among_the_notes(size: str) -> None:
    solution = solution_of("metric-slips")
    wide, high = (float(x) for x in sheet_size(size, solution.lengths))
    block = title_block(solution, ("A-201", "2 OF 9"), "ELEVATION AND PLAN", "AS SHOWN")
    says = ("WHAT CHANGED, IN MANY WORDS " * 9)[:200].strip()
    by = ("WHOEVER CHANGED IT " * 4)[:60].strip()
    longest = replace(block, revisions=(Revised("B", "2026-05-04", by, says),))
    ink = draw_frame((wide, high), solution.lengths, longest)
    sheet = replace(
        set_of("metric-slips").sheets[0],
        width=wide,
        height=high,
        paper_ink=ink,
        drawings=(),
    )
    assert overflowing(sheet) == []
    said = "".join(x.text for x in ink if isinstance(x, Words)).replace(" ", "")
    on_sheet = says.replace(" ", "") in said and by.replace(" ", "") in said
    assert on_sheet is not ("REVISIONS,OTHERFIELDS:SEEGENERALNOTES" in said)


@pytest.mark.parametrize("size", sheet_names())
def test_a_long_name_and_every_stamp_go_on_the_lowest_paper(size: str) -> None:
    found = solution_of("metric-slips")
    job = found.job.edited("sheet.profile", "us").edited("sheet.size", size)
    solution = replace(found, job=job)
    wide, high = (float(x) for x in job.paper)
    numbers = ("A-201", "2 OF 9")
    block = title_block(solution, numbers, "CUT PIECES AND CUT LIST (2)", "AS SHOWN")
    name = ("A ROOM IN A HOUSE WITH A LONG NAME " * 3)[:80].strip()
    typed = {"job.name": name, "job.checked_by": name[:60].strip()}
    cells = [
        replace(x, value=typed.get(x.key, "") if x.key else x.value)
        for x in block.cells
    ]
    stamps = (
        "NOT A SHOP DRAWING",
        "EXAMPLE FIGURES: NOT FOR CONSTRUCTION",
        "COURSES DO NOT LAND ON: OPENING HEAD, TOP",
        "2 ITEMS FAILED: SEE FINDINGS",
        "24 ITEMS NOT CHECKED: NO APPROVAL IS IMPLIED",
    )
    full = replace(block, cells=tuple(cells), stamps=stamps)
    ink = draw_frame((wide, high), solution.lengths, full)
    sheet = replace(
        set_of("metric-slips").sheets[0],
        width=wide,
        height=high,
        paper_ink=ink,
        drawings=(),
    )
    assert overflowing(sheet) == []
    said = "".join(x.text for x in ink if isinstance(x, Words)).replace(" ", "")
    for each in (*typed.values(), *stamps):
        assert each.replace(" ", "") in said


def test_fields_that_find_no_room_are_listed_among_the_general_notes() -> None:
    large = solution_of("metric-slips")
    small = replace(large, job=large.job.edited("sheet.size", "A4"))
    (table,) = fields_left_out(small)
    assert ("SITE", "The Old Schoolhouse, Mill Lane, Upper Marsh") in table.rows
    assert [*fields_left_out(large)] == []


@pytest.mark.parametrize("damage", ["longer", "larger", "moved"])
def test_lettering_that_leaves_its_cell_is_seen(damage: str) -> None:
    sheet = set_of("library-hearth").sheets[0]
    place, words = next(
        (n, x)
        for n, x in enumerate(sheet.paper_ink)
        if isinstance(x, Words) and x.text == "LH-01"
    )
    changed = {
        "longer": replace(words, text="LH-01 and more of it"),
        "larger": replace(words, height_on_paper=3 * words.height_on_paper),
        "moved": replace(words, at=(words.at[0], words.at[1] - 0.07)),
    }[damage]
    ink = (*sheet.paper_ink[:place], changed, *sheet.paper_ink[place + 1 :])
    assert overflowing(replace(sheet, paper_ink=ink)) != []


def test_what_fits_no_two_lines_is_refused_by_its_key() -> None:
    wide = {"name": "Den", "firm": "W" * 60}
    with pytest.raises(NotDrawable, match=r"^job\.firm: does not fit its place"):
        with_texts("library-hearth", "us", "ARCH C", wide)


US = (
    "FIRM", "LICENSE", "ARCHITECT", "PERMIT NUMBER", "SITE", "SEAL", "REVISIONS",
    "WHAT CHANGED", "BY", "THIRD ANGLE", "SHEET", "DRAWN", "CHECKED",
)  # fmt: skip
ISO = (
    "LEGAL OWNER", "IDENTIFICATION NUMBER", "REVISION", "DATE OF ISSUE", "LANGUAGE",
    "SHEET NUMBER", "SHEETS IN ALL", "TITLE", "SUPPLEMENTARY TITLE", "KEY WORDS",
    "APPROVER", "CREATOR", "DOCUMENT TYPE", "STATUS", "DEPARTMENT",
    "TECHNICAL REFERENCE", "FIRST ANGLE",
)  # fmt: skip


@pytest.mark.parametrize(
    ("demo", "fields"), [("library-hearth", US), ("metric-slips", ISO)]
)
def test_each_profile_has_its_own_fields_on_every_sheet(
    demo: str, fields: tuple[str, ...]
) -> None:
    for sheet in set_of(demo).sheets:
        said = [x.text for x in sheet.paper_ink if isinstance(x, Words)]
        assert set(fields) <= set(said)


def test_the_iso_demo_fills_every_field_of_the_job() -> None:
    demo = parse_job((CONFIGS / "metric-slips.toml").read_text("utf-8"), "x").job
    left_out = {"units_lot", "notes"}
    assert {x for x in About.model_fields if not getattr(demo, x)} == left_out
    for sheet in set_of("metric-slips").sheets:
        said = "".join(x.text for x in sheet.paper_ink if isinstance(x, Words))
        for name in set(About.model_fields) - left_out - {"lengths"}:
            value = str(getattr(demo, name)).replace(" ", "")
            assert value in said.replace(" ", ""), name


def test_in_first_angle_the_end_of_the_cone_stands_at_its_right() -> None:
    """By the rule, not by a picture of it: the end that is seen from the left."""
    for demo, sign in (("library-hearth", -1), ("metric-slips", 1)):
        ink = set_of(demo).sheets[0].paper_ink
        cone = next(
            x
            for x in ink
            if isinstance(x, Stroke) and len(x.points) == 4 and len(set(ys(x))) == 4
        )
        ring = next(x for x in ink if isinstance(x, Stroke) and len(x.points) > 20)
        lows = sorted(cone.points)
        # Its small end is at its left.
        assert abs(lows[0][1] - lows[1][1]) < abs(lows[2][1] - lows[3][1])
        assert (ring.points[0][0] - cone.points[0][0]) * sign > 0


def ys(stroke: Stroke) -> list[float]:
    return [y for _, y in stroke.points]


def test_what_the_block_may_leave_out_stands_among_the_general_notes() -> None:
    for demo in ("library-hearth", "metric-slips"):
        solution = solution_of(demo)
        said = general_notes(solution).paragraphs
        assert looking_note(solution) in said
        assert ("folded out" in looking_note(solution)) is (demo == "library-hearth")


def unoriented(sheets: Sequence[Sheet]) -> list[int]:
    """Return the sheets that show neither how views lie nor whence they are seen."""
    wrong = []
    for sheet in sheets:
        inks = [*(x.drawing.ink for x in sheet.drawings), sheet.paper_ink]
        said = " ".join(x.text for ink in inks for x in ink if isinstance(x, Words))
        has_symbol = re.search("(FIRST|THIRD) ANGLE", said)
        if not has_symbol and "looking at the fireplace" not in said:
            wrong.append(sheet.number)
    return wrong


def test_every_sheet_says_how_its_views_lie(drawing_set: DrawingSet) -> None:
    """By the projection's symbol, named, or by whence left and right are meant."""
    assert unoriented(drawing_set.sheets) == []


def test_a_sheet_that_does_not_say_how_its_views_lie_is_noticed() -> None:
    first, second, *_ = set_of("library-hearth").sheets
    kept = tuple(
        x
        for x in second.paper_ink
        if not isinstance(x, Words)
        or not re.search("THIRD ANGLE|Left and right|at the fireplace|looking", x.text)
    )
    assert unoriented([first, replace(second, paper_ink=kept)]) == [2]
