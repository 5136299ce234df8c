"""Paper: lettering, tables, placement, scales."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import chain, combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.lettering import box_of, overlap, plain, width_of, wrap
from shopdraw.drawing.sheets import (
    STYLES,
    compose_sheet,
    content_of,
    place,
)
from shopdraw.drawing.tables import Column, Notes, Table, draw_notes, draw_table, fitted
from shopdraw.drawing.titles import titled


def test_letters_are_as_wide_as_the_font_says() -> None:
    """DejaVu Sans, 2048 to the em: H is 1540 wide, capitals are 1493 high."""
    assert width_of("H", 1493) == pytest.approx(1540)
    assert width_of("", 1) == 0
    assert width_of("MM", 2) == pytest.approx(2 * width_of("M", 2))


def test_widths_agree_with_the_font_engine() -> None:
    from matplotlib.textpath import TextPath

    from shopdraw.drawing.lettering import em_of
    from shopdraw.output.image import _font

    text = "HEAD JOINTS 3/8 IN"
    outline = TextPath((0, 0), text, size=em_of(10.0), prop=_font())
    assert outline.get_extents().width == pytest.approx(width_of(text, 10.0), rel=0.03)


def test_turned_lettering_is_boxed_turned() -> None:
    words = Words("A-ANNO-NOTE", (0, 0), "LONG WORDS", 1.0, angle_deg=90)
    left, bottom, right, top = box_of(words)
    assert top - bottom == pytest.approx(width_of("LONG WORDS", 1.0))
    assert right - left < 2


@given(st.text(max_size=60))
def test_any_text_can_be_lettered_plainly(text: str) -> None:
    assert plain(text).isascii()


def test_accents_and_marks_become_plain() -> None:
    assert plain("Caf\u00e9 \u2013 5 \u00d7 3\u2033") == 'Cafe - 5 x 3"'


def test_wrapped_lines_are_no_wider_than_asked() -> None:
    for line in wrap("a very long " * 9 + "x" * 200, 1.0, 20.0):
        assert width_of(line, 1.0) <= 20.0


def table(rows: int) -> Table:
    columns = (Column("MARK"), Column("SAYS"), Column("COUNT", "right"))
    body = tuple((f"B{n}", "what it is " * 6, str(n)) for n in range(rows))
    return Table("t", "A TABLE", columns, body)


@pytest.mark.parametrize("width", [None, 6.0, 3.0])
def test_no_two_cells_of_a_table_lie_on_each_other(width: float | None) -> None:
    drawing = draw_table(table(15), 0.1, 8.0, width)
    boxes = [box for _, box in lettering_of(drawing)]
    assert not any(overlap(a, b, 0.05) for a, b in combinations(boxes, 2))
    left, _, right, _ = extent_of(drawing)
    if width is not None:
        assert (right - left) / 8 <= width + 1e-6


def test_sentences_in_a_narrow_table_have_more_than_their_even_share() -> None:
    """Else they are many short lines beside columns that stand empty.

    Three columns of eight words, and one of forty: even shares would be 15 heights, in
    which there is room for three words of the sentence.
    """
    height, most = 0.1, 60.0
    few = ("first second " * 4,) * 3
    heads = tuple(Column(x) for x in ("A", "B", "C", "SENTENCES"))
    found = Table("t", "T", heads, ((*few, " ".join(["words"] * 40)),))
    drawn = draw_table(found, height, 1.0, most * height)
    lettered = [x for x in drawn.ink if isinstance(x, Words) and "words" in x.text]
    assert len(lettered) < 40 / 4
    left, _, right, _ = extent_of(drawn)
    assert right - left <= most * height + 1e-9
    # Its neighbours still have room for their longest word.
    broken = (x.text.split() for x in drawn.ink if isinstance(x, Words))
    assert set(chain(*broken)) >= {"first", "second"}


def test_heads_are_broken_before_what_stands_under_them() -> None:
    """An item in two lines is read as two; its column's head is not."""
    height, item = 0.1, "corner units, boxes"
    heads = tuple(Column(x) for x in ("ITEM", "PIECES LAID AND SAWN", "HOW"))
    table = Table("t", "T", heads, ((item, "26", " ".join(["words"] * 40)),))
    drawn = draw_table(table, height, 1.0, 48 * height)
    lettered = [x.text for x in drawn.ink if isinstance(x, Words)]
    assert item in lettered
    assert heads[1].head not in lettered


def sparse_table() -> Table:
    """Three columns of figures, of which one row in ten has any, beside sentences."""
    heads = ("MEASURED", "LIMIT", "MARGIN")
    columns = (
        Column("RULE"),
        *(Column(head, "right") for head in heads),
        Column("HOW IT WAS MEASURED"),
    )
    rows = [("lap", "", "", "", "a sentence of words " * 8) for _ in range(9)]
    rows.append(("piece", "84 mm", "50 mm", "34 mm", "of stretchers"))
    return Table("t", "T", columns, tuple(rows))


def test_figures_few_rows_have_are_said_in_the_last_column_of_a_narrow_table() -> None:
    table = sparse_table()
    narrow = fitted(table, 0.1, 5.0)
    assert [x.head for x in narrow.columns] == ["RULE", "HOW IT WAS MEASURED"]
    said = "measured 84 mm, limit 50 mm, margin 34 mm; of stretchers"
    assert narrow.rows[-1] == ("piece", said)
    assert narrow.rows[0] == ("lap", "a sentence of words " * 8)
    # Where there is room, or most rows have figures, they keep their columns.
    assert fitted(table, 0.1, 20.0) is table
    full = replace(table, rows=table.rows[-1:])
    assert fitted(full, 0.1, 3.0).columns == full.columns


def test_what_is_left_of_a_narrow_table_goes_where_it_lowers_most_rows() -> None:
    """Nine rows are long in the second column, one in the first: not even shares."""
    height, long, short = 0.1, "word " * 40, "word " * 5
    heads = tuple(Column(x) for x in ("A", "B", "C"))
    rows = ((long, short, short), *[(short, long, short)] * 9)
    drawn = draw_table(Table("t", "T", heads, rows), height, 1.0, 5.0)
    said = [x for x in drawn.ink if isinstance(x, Words) and "word" in x.text]
    lines = Counter(x.at[0] for x in said)
    first, second, _ = (lines[x] for x in sorted(lines))
    # Of the first column's lines nine rows have a short cell each, of one line or two.
    in_long, in_each_long = first - 9, second / 9
    assert in_each_long < 0.75 * in_long


def test_notes_keep_to_their_column() -> None:
    notes = Notes("n", "NOTES", ("word " * 40, "short"))
    left, _, right, _ = extent_of(draw_notes(notes, 0.1, 8.0, 4.0))
    assert (right - left) / 8 <= 4.0 + 1e-6


def square(size: float, scale: float) -> Drawing:
    ring = ((0.0, 0.0), (size, 0.0), (size, size), (0.0, size))
    return Drawing(
        "square", "A SQUARE", scale, (Stroke("A-ELEV-OTLN", ring, closed=True),)
    )


def test_a_drawing_goes_to_paper_and_to_model_by_one_placement() -> None:
    placed = place(square(16.0, 8.0), (1.0, 1.0, 5.0, 5.0), 12.0)
    a, b = placed.placement.to_paper((0.0, 0.0)), placed.placement.to_paper((16.0, 0.0))
    assert b[0] - a[0] == pytest.approx(2.0)
    c, d = placed.placement.to_model((0.0, 0.0)), placed.placement.to_model((16.0, 0.0))
    assert d[0] - c[0] == pytest.approx(16.0)
    assert placed.placement.window == pytest.approx((2.0, 2.0, 4.0, 4.0))


def test_a_drawing_that_does_not_fit_its_place_is_refused() -> None:
    with pytest.raises(ValueError, match="does not fit"):
        place(square(64.0, 8.0), (1.0, 1.0, 5.0, 5.0), 8.0)


def test_drawings_of_one_sheet_do_not_meet_in_model_space() -> None:
    places = (
        (square(16.0, 8.0), (1.0, 1.0, 5.0, 5.0)),
        (square(8.0, 4.0), (5.5, 1.0, 9.0, 5.0)),
    )
    sheet = compose_sheet(1, "x", "X", (17, 11), "in", places, ())
    boxes = [
        (*p.placement.to_model((0, 0)), *p.placement.to_model(extent_of(p.drawing)[2:]))
        for p in sheet.drawings
    ]
    assert not overlap(boxes[0], boxes[1])


def test_a_title_and_its_scale_bar_stand_below_the_view() -> None:
    drawing = titled(square(40.0, 8.0), 1, "in", "us")
    texts = [words.text for words, _ in lettering_of(drawing)]
    assert texts[0] == "1"
    assert texts[2:4] == ["A SQUARE", 'SCALE 1 1/2" = 1\'-0"']
    assert extent_of(drawing)[1] < 0


def test_the_content_lies_inside_border_and_title_block() -> None:
    left, bottom, right, top = content_of(24, 18, STYLES["in"])
    assert left > 0.5
    assert bottom > 0.5
    assert right < 24 - 0.5 - STYLES["in"].strip
    assert top < 17.5


def test_layers_are_named_and_plotted_as_drawing_practice_has_it() -> None:
    pens = {0.13, 0.18, 0.25, 0.35, 0.50, 0.70}
    for layer in LAYERS:
        assert layer.name.replace("-", "").isalnum()
        assert layer.name.isupper()
        assert len(layer.name) <= 31
        assert layer.colour in {1, 6, 7, 8, 9, 30}
        assert layer.pen_mm in pens


def test_what_is_no_work_of_the_mason_s_is_grey_alike() -> None:
    grey = (layers.PATTERN, layers.HIDDEN, layers.LEVELS, layers.OTHERS, layers.FLOOR)
    colours = {layer.name: layer.colour for layer in LAYERS}
    assert {colours[name] for name in grey} == {8}


def test_notes_are_numbered_under_their_heading_and_set_beside_the_number() -> None:
    height, scale = 0.1, 8.0
    notes = Notes("n", "NOTES", ("one", "two"), first=9)
    drawn = draw_notes(notes, height, scale, 4.0).ink
    at = {each.text: each.at for each in drawn if isinstance(each, Words)}
    assert list(at) == ["NOTES", "9.", "one", "10.", "two"]
    assert at["NOTES"][0] == at["9."][0] == at["10."][0] == 0
    # Beside the widest number, on its line.
    beside = width_of("10.", height) * scale
    assert at["one"][0] == at["two"][0] > beside
    assert (at["9."][1], at["10."][1]) == (at["one"][1], at["two"][1])
    bare = draw_notes(replace(notes, numbered=False), height, scale, 4.0).ink
    at = {each.text: each.at for each in bare if isinstance(each, Words)}
    assert list(at) == ["NOTES", "one", "two"]
    assert at["one"][0] == 0
