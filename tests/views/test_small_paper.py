"""Letter and A4: any demo goes on them, divided where it must be, and reads well."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import hypot

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import STYLES, Sheet, content_of
from shopdraw.errors import NotDrawable
from shopdraw.job.reading import parse_job
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_dxf
from shopdraw.output.readback import read_back
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from shopdraw.views import projection
from shopdraw.views.projection import Views
from shopdraw.views.set import compose_sheets
from tests.demos import solution_of
from tests.longer import mostly_long
from tests.views.on_papers import amiss_on, on_paper, over_match_lines, struck_on
from tests.views.strings import ids_of


@cache
def small(demo: str, size: str) -> DrawingSet:
    return build(on_paper(solution_of(demo), size))


SETS = [("library-hearth", "ANSI A"), ("metric-slips", "A4")]
cases = pytest.mark.parametrize(("demo", "size"), SETS)


def parts_of(drawn: DrawingSet) -> list[Drawing]:
    return [
        each.drawing for sheet in drawn.sheets for each in sheet.drawings
        if each.drawing.part is not None
    ]  # fmt: skip


@cases
def test_a_small_set_stands_upright_and_its_elevation_is_divided(
    demo: str, size: str
) -> None:
    drawn = small(demo, size)
    assert all(sheet.width < sheet.height for sheet in drawn.sheets)
    assert {x.name for x in parts_of(drawn)} >= {"elevation"}


@cases
def test_a_long_index_goes_on_beside_its_first_half_and_shares_its_sheet(
    demo: str, size: str
) -> None:
    drawn = small(demo, size)
    assert [x.drawing.name for x in drawn.sheets[0].drawings] == ["index", "legend"]
    index = drawn.sheets[0].drawings[0].drawing
    words = [x for x in index.ink if isinstance(x, Words)]
    numbered = [(sheet.identity, sheet.title) for sheet in drawn.sheets]
    lefts = sorted({x.at[0] for x in words if x.text == "SHEET"})
    assert len(lefts) == 2
    # Each row is read across: a number, its title; the first half, then the second.
    read = [
        (one.text, min((x for x in words if x.at[1] == one.at[1] and x.at[0] > left),
                       key=lambda x: x.at[0]).text)
        for left in lefts
        for one in words
        if one.at[0] == left and one.text not in ("SHEET", index.title)
    ]  # fmt: skip
    said = [x for x in read if x[0] in dict(numbered)]
    assert [number for number, _ in said] == [number for number, _ in numbered]
    assert all(title.startswith(said) for (_, said), (_, title) in zip(
        said, numbered, strict=True))  # fmt: skip


@cases
def test_every_piece_is_on_some_part_and_no_other_is(demo: str, size: str) -> None:
    drawn = small(demo, size)
    found = {x for sheet in drawn.sheets for each in sheet.drawings
             for x in ids_of(each.drawing)}  # fmt: skip
    assert found == {piece.id for piece in solution_of(demo).pieces}


@cases
def test_lettering_is_clear_of_lettering_and_of_lines(demo: str, size: str) -> None:
    assert amiss_on(small(demo, size).sheets) == []


def test_names_and_what_strings_say_are_not_lettered_across_a_match_line() -> None:
    """What the opening's string says is broken in two; the soldiers' with the name."""
    parts = parts_of(small("library-hearth", "ANSI A"))
    assert [over_match_lines(x) for x in parts] == [[], []]
    said = [x.text for part in parts for x in part.ink if isinstance(x, Words)]
    assert {"CLEAR OPENING,", "BRICK TO BRICK", "14 EQ JOINTS, ABOUT"} <= set(said)


def test_words_moved_across_a_match_line_are_noticed() -> None:
    part = parts_of(small("library-hearth", "ANSI A"))[1]
    name = next(
        x
        for x in part.ink
        if isinstance(x, Words) and x.text.startswith("FRIEZE BOARD")
    )
    assert part.part is not None
    moved = replace(name, at=(part.part.window[0], name.at[1]))
    ink = tuple(moved if x is name else x for x in part.ink)
    assert over_match_lines(replace(part, ink=ink)) == [name.text]


def test_what_is_lettered_in_the_opening_stays_in_one_column_off_a_match_line() -> None:
    found = [
        [x.at[0] for x in part.ink if isinstance(x, Words)
         if x.text in ("LEDGER TOP", '2\'-3"', "OPENING", '2\'-10" x 2\'-3"')]
        for part in parts_of(small("library-hearth", "ANSI A"))
    ]  # fmt: skip
    assert sorted((len(xs), len(set(xs))) for xs in found) == [(0, 0), (4, 1)]


def test_what_is_said_of_soldiers_goes_with_their_strings_name_off_a_match_line() -> (
    None
):
    parts = parts_of(small("metric-slips", "A4"))
    assert [over_match_lines(x) for x in parts] == [[], []]
    name, *said = (
        x
        for part in parts
        for x in part.ink
        if isinstance(x, Words) and ("SOLDIERS" in x.text or "EQ JOINTS" in x.text)
    )
    assert (name.text, len(said)) == ("SOLDIERS, FINISH", 2)
    assert {(x.at[0], x.align) for x in said} == {(name.at[0], "right")}


CROWDED = [
    ("crooked-study", "A3"), ("chimney-breast-gas", "A3"), ("flemish-breast", "ARCH A"),
    ("crooked-study", "A4"), ("raised-hearth", "A3"), ("banded-breast", "ARCH E"),
]  # fmt: skip
"""Each was struck once, for another reason; all demos on all papers are measured by
`python -m tests.bench papers`."""


@pytest.mark.parametrize(
    ("demo", "size"),
    mostly_long(CROWDED, ("raised-hearth", "A3"), ("banded-breast", "ARCH E")),
)
def test_lettering_is_clear_on_paper_that_crowds_it(demo: str, size: str) -> None:
    assert amiss_on(compose_sheets(on_paper(solution_of(demo), size))) == []


LONG = """
[job]
name = "A room"
lengths = "in"
[face]
width = "26 in"
height = "14 in"
[opening]
width = "14 in"
height = "10 in"
[brick]
size = "modular"
length = "14 in"
height = "1/2 in"
[sheet]
size = "ANSI A"
profile = "iso"
"""
"""Of one brick and a piece of the next no part goes on this paper at 1:2, and at 1:5
no lettering goes into a brick."""


def test_brick_too_long_for_its_paper_is_drawn_smaller() -> None:
    solution = solve(parse_job(LONG, "long.toml"))
    sheets = compose_sheets(solution)
    drawn = {
        name
        for sheet in sheets
        for each in sheet.drawings
        for name in ids_of(each.drawing)
    }
    assert drawn == {piece.id for piece in solution.pieces}
    assert amiss_on(sheets) == []


LOW = """
[job]
name = "A room"
lengths = "in"
[face]
width = "26 in"
height = "8 in"
[opening]
width = "16 in"
height = "5 in"
[brick]
size = "modular"
[sheet]
size = "ANSI A"
"""
"""So low that in the section the height of the props is shorter than its figure."""


def test_no_figure_longer_than_its_string_is_struck_by_what_it_reaches_over() -> None:
    assert amiss_on(compose_sheets(solve(parse_job(LOW, "low.toml")))) == []


def test_a_scale_at_which_a_front_goes_on_no_sheet_is_refused_with_its_key() -> None:
    job = parse_job(f'{LOW}scale = "1:2"\n', "low.toml")
    said = 'sheet.scale: the elevation does not fit at HALF SIZE; write "fit"'
    with pytest.raises(NotDrawable, match=f"^{said}$"):
        compose_sheets(solve(job))


def test_a_line_through_lettering_and_words_on_words_are_noticed() -> None:
    sheet = next(x for x in small("metric-slips", "A4").sheets if centred_words(x))
    first, *others = sheet.drawings
    words = centred_words(sheet)[0]
    (x, y), far = words.at, words.height_on_paper * first.drawing.scale
    line = Stroke("A-ANNO-NOTE", ((x - far, y - far), (x + far, y + far)))
    for more in (line, replace(words, text="SECOND")):
        drawing = replace(first.drawing, ink=(*first.drawing.ink, more))
        damaged = replace(sheet, drawings=(replace(first, drawing=drawing), *others))
        assert amiss_on([damaged]) != []
        assert bool(struck_on(damaged)) == (more is line)


def centred_words(sheet: Sheet) -> list[Words]:
    """Return lettering in the middle of its place, for a line to be drawn through."""
    ink = sheet.drawings[0].drawing.ink
    return [x for x in ink if isinstance(x, Words) and x.seat == "middle"]


def test_a_front_is_divided_before_a_line_strikes_its_lettering(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    solution = on_paper(solution_of("metric-slips"), "A3")
    wide, high = (float(side) for side in solution.job.paper)
    content = content_of(wide, high, STYLES["mm"])
    whole = Views(solution, content)
    assert len(whole.main) == 1

    def is_whole(drawing: Drawing) -> bool:
        return drawing.part is None

    monkeypatch.setattr(projection, "is_struck", is_whole)
    assert len(Views(solution, content).main) > 1
    # Where every division is struck as well, it is whole again, as large as it goes.
    monkeypatch.setattr(projection, "is_struck", lambda _: True)
    crowded = Views(solution, content)
    assert (len(crowded.main), crowded.scale) == (1, whole.scale)


def damages(drawing: Drawing) -> list[Drawing]:
    """Return a part with its first ink left out, and its first unit."""
    inserts = [x for x in drawing.ink if type(x).__name__ == "Insert"]
    return [
        replace(drawing, ink=tuple(x for x in drawing.ink if x is not gone))
        for gone in (drawing.ink[0], inserts[0])
    ]


@cases
def test_the_file_of_a_part_holds_what_the_solution_says_and_no_less(
    demo: str, size: str
) -> None:
    drawn = small(demo, size)
    place = next(
        n for n, sheet in enumerate(drawn.sheets)
        if sheet.drawings[0].drawing.name == "elevation"
    )  # fmt: skip
    sheet, expected = drawn.sheets[place], drawn.expected[place]

    def said_of(found: Drawing) -> tuple[str, ...]:
        first, *others = sheet.drawings
        changed = (replace(first, drawing=found), *others)
        there = read_back(write_dxf(replace(sheet, drawings=changed), drawn.form))
        return compare(there, expected, drawn.lengths, drawn.form)

    part = sheet.drawings[0].drawing
    assert said_of(part) == ()
    for wrong in damages(part):
        assert said_of(wrong)


def with_words(count: int) -> Solution:
    """Return the first demo on the smallest paper, a finding so many words long."""
    solution = on_paper(solution_of("library-hearth"), "ANSI A")
    first, *others = solution.findings
    long = replace(first, says=" ".join(["taller"] * count))
    return replace(solution, findings=(long, *others))


def test_a_row_of_a_table_is_drawn_whole_or_refused_with_its_key() -> None:
    # No row is parted over two sheets; one that is higher than a sheet can't be drawn.
    sheets = compose_sheets(with_words(100))
    assert amiss_on(sheets) == []
    lettered = [
        words.text
        for sheet in sheets
        for placed in sheet.drawings
        for words in placed.drawing.ink
        if isinstance(words, Words)
    ]
    assert " ".join(lettered).split().count("taller") == 100
    with pytest.raises(NotDrawable) as refused:
        compose_sheets(with_words(800))
    assert refused.value.lines() == (
        "sheet.size: a part of the clearance review is larger than a sheet; "
        "give larger paper",
    )


@cases
def test_the_hearth_is_drawn_as_large_as_narrow_notes_let_it(
    demo: str, size: str
) -> None:
    """One long note made it as small as a stamp, on a sheet of its own."""
    (hearth,) = [
        each.drawing
        for sheet in small(demo, size).sheets
        for each in sheet.drawings
        if each.drawing.name == "extension"
    ]
    assert hearth.scale <= 24


@cases
def test_no_two_leaders_to_the_hearth_end_on_one_another(demo: str, size: str) -> None:
    text = STYLES[solution_of(demo).lengths].text
    (hearth,) = [
        each.drawing
        for sheet in small(demo, size).sheets
        for each in sheet.drawings
        if each.drawing.name == "extension"
    ]
    dots = [
        (sum(x) / len(x), sum(y) / len(y), max(y) - min(y))
        for ink in hearth.ink
        if isinstance(ink, Stroke) and ink.closed and len(ink.points) == 4
        if ink.layer == layers.DIMENSIONS
        for x, y in [tuple(zip(*ink.points, strict=True))]
        if max(y) - min(y) < text * hearth.scale
    ]
    assert len(dots) > 3
    for place, (x, y, high) in enumerate(dots):
        for other_x, other_y, _ in dots[:place]:
            assert hypot(x - other_x, y - other_y) > 1.2 * high
