"""Dimensions drawn anew: which style gives which figure, and where words are typed.

What a program letters by a style is reckoned here by itself (`drawn_anew`).
"""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import ezdxf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdraw.drawing.ink import Drawing, Measure, Words
from shopdraw.drawing.lettering import width_of, wrap
from shopdraw.drawing.measures import with_arrows
from shopdraw.lengths import Lengths, format_length
from shopdraw.output.comparing import compare
from shopdraw.output.dimensioning import STYLES, chosen, lettered
from shopdraw.output.dxf import write_bare_dxf
from shopdraw.output.readback import read_back
from shopdraw.views.expected.sheets import expect_measures
from tests.demos import files_of, set_of
from tests.output.dxf_items import drawn_anew

ARROWED = "metric-slips"
"""Its dimension lines end in arrows."""


@given(st.integers(0, 20_000), st.sampled_from(["in", "mm"]))
def test_two_reckonings_of_what_a_style_letters_agree(
    count: int, lengths: Lengths
) -> None:
    for style in STYLES[lengths]:
        length = count / 64 if lengths == "in" else count / 4
        rule = (style.unit, style.places, style.step, style.zeros)
        other = drawn_anew(length, *rule)
        assert lettered(length, style) == ("" if other == "either" else other)


@given(st.integers(0, 6_000))
def test_a_length_on_the_tape_needs_no_words_of_its_own(count: int) -> None:
    for lengths, step in (("in", Fraction(1, 16)), ("mm", Fraction(1))):
        length = count * step
        words = format_length(length, "in" if lengths == "in" else "mm")
        style, typed = chosen(words, float(length), lengths)
        assert (style.name, typed) == ("DIMENSIONS", "")


@pytest.mark.parametrize(
    ("words", "length", "lengths", "style", "typed"),
    [
        ('2 1/4"', 2.25, "in", "DIMENSIONS", ""),
        ('3 17/32"', 3.53125, "in", "DIMENSIONS-32", ""),
        ("1'-0 1/32\"", 12.03125, "in", "DIMENSIONS-32", ""),
        ("102.5", 102.5, "mm", "DIMENSIONS-HALF", ""),
        ("103", 102.8, "mm", "DIMENSIONS", ""),
        # A string rounded by positions says 103 where a length of 102.5 is.
        ("103", 102.5, "mm", "DIMENSIONS", "103"),
        ("EQ", 7.625, "in", "DIMENSIONS", "EQ"),
        ("5 EQ = 3'-4\"", 40.0, "in", "DIMENSIONS", "5 EQ = 3'-4\""),
    ],
)
def test_words_are_typed_only_where_no_style_gives_them(
    words: str, length: float, lengths: Lengths, style: str, typed: str
) -> None:
    named, over = chosen(words, length, lengths)
    assert (named.name, over) == (style, typed)
    measure = Measure("A-ANNO-DIMS", (0, 0), (length, 0), "x", 5.0, words, 0.1)
    data = write_bare_dxf(Drawing("x", "", 8.0, (measure,)), lengths)
    (found,) = read_back(data).measures
    assert (found.words, found.style, found.typed) == (words, style, typed)
    (again,) = ezdxf.read(io.StringIO(data.decode())).modelspace().query("DIMENSION")
    assert (again.dxf.text, again.dxf.dimstyle) == (typed, style)


def test_hardly_a_figure_of_the_first_demo_is_typed() -> None:
    """All but those that only their string explains."""
    for demo, most in (("library-hearth", 0), ("crooked-study", 3)):
        found = [
            measure
            for name, data in files_of(demo).items()
            if name.endswith(".dxf")
            for measure in read_back(data).measures
        ]
        assert len(found) > 100
        assert sum(bool(measure.typed) for measure in found) <= most


@pytest.mark.parametrize(
    ("length", "ends", "style"),
    [(102.5, "arrow", "DIMENSIONS-HALF-ARROWS"), (2.0, "stroke", "DIMENSIONS")],
)
def test_a_line_drawn_anew_ends_as_it_is_drawn(
    length: float, ends: str, style: str
) -> None:
    """In arrows where they have room; a short line ends in strokes."""
    words = "102.5" if length > 100 else "2"
    measure = Measure("A-ANNO-DIMS", (0, 0), (length, 0), "x", 5.0, words, 0.5)
    drawing = with_arrows(Drawing("x", "", 2.0, (measure,)))
    data = write_bare_dxf(drawing, "mm")
    found = read_back(data)
    (there,) = found.measures
    styles = {each.name: each.ends for each in found.styles}
    assert (there.style, styles[there.style]) == (style, ends)
    assert there.strokes == (4 if ends == "arrow" else 2)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"  3\nDIMENSIONS-ARROWS\n", b"  3\nDIMENSIONS\n"),
        (b"_OPEN30", b"_OPEN90"),
        (b"\n142\n0.0\n", b"\n142\n1.0\n"),
    ],
)
def test_a_line_that_would_end_otherwise_drawn_anew_is_noticed(
    old: bytes, new: bytes
) -> None:
    drawn, data = set_of(ARROWED), files_of(ARROWED)
    number = next(x for x in sorted(data) if x.endswith("elevation.dxf"))
    place = int(number.split("/")[1][:2]) - 1
    expected = drawn.expected[place]
    assert old in data[number]
    assert compare(read_back(data[number]), expected, "mm", drawn.form) == ()
    damaged = read_back(data[number].replace(old, new))
    wrong = compare(damaged, expected, "mm", drawn.form)
    assert any("ends otherwise" in line for line in wrong)


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        (b" 45\n0.0625\n", b" 45\n0.25\n", "a dimension drawn anew reads"),
        (b"277\n4\n", b"277\n2\n", "a dimension drawn anew reads"),
        (
            b"AcDbDimension\n",
            b'AcDbDimension\n  1\n9"\n',
            "a dimension drawn anew reads 9",
        ),
        (b"\n 90\n16384\n", b"\n 90\n0\n", "is not locked"),
    ],
)
def test_a_style_typed_words_or_an_open_viewport_are_noticed(
    old: bytes, new: bytes, complaint: str
) -> None:
    drawn, data = set_of("library-hearth"), files_of("library-hearth")
    sheet = data["sheets/A-201-elevation.dxf"]
    assert old in sheet
    wrong = compare(read_back(sheet.replace(old, new)), drawn.expected[1])
    assert any(complaint in line for line in wrong)


def test_printed_strings_are_expected_as_they_add_up() -> None:
    """102.5 four times over is 410: 103, 102, 103, 102 as positions are rounded."""
    ends = [102.5 * n for n in range(5)]
    measures = [
        Measure("A-ANNO-DIMS", (a, 0), (b, 0), "x", 5.0, "", 2.5)
        for a, b in pairwise(ends)
    ]
    said = [each.words for each in expect_measures(measures, "mm")]
    assert said == ["103", "102", "103", "102"]
    inked = tuple(
        replace(each, words=words) for each, words in zip(measures, said, strict=True)
    )
    found = read_back(write_bare_dxf(Drawing("x", "", 10.0, inked), "mm")).measures
    assert [each.typed for each in found] == said
    assert sum(int(each.words) for each in found) == 410


LONG = "a {brace} and more of it " * 20


def test_a_paragraph_is_one_text_and_reads_as_it_was_set() -> None:
    from shopdraw.drawing.paragraphs import set_in_lines

    first = Words("A-ANNO-NOTE", (1.0, 2.0), "", 0.1, column=3.0)
    lines = set_in_lines(LONG, first, 0.17, 8.0)
    assert len(lines) > 5
    alone = Words("A-ANNO-NOTE", (1.0, -90.0), "alone", 0.1)
    drawing = Drawing("x", "", 8.0, (*lines, alone))
    data = write_bare_dxf(drawing, "in")
    assert sorted(read_back(data).words) == sorted([LONG.strip(), "alone"])
    document = ezdxf.read(io.StringIO(data.decode()))
    (note,) = document.modelspace().query("MTEXT")
    assert note.plain_text() == LONG.strip()
    assert tuple(note.dxf.insert.vec2) == pytest.approx((1.0, 2.0 + 0.1 * 8))
    assert note.dxf.width == pytest.approx(24.0, rel=0.01)
    # Lines stand as far apart as they were set: 5/3 of their height, by a factor.
    assert note.dxf.line_spacing_factor * 5 / 3 * 0.8 == pytest.approx(0.17 * 8)
    less = replace(drawing, ink=(*lines[:-1], alone))
    assert read_back(write_bare_dxf(less, "in")).words != read_back(data).words


def test_no_rounding_moves_a_word_to_another_line_of_a_paragraph() -> None:
    """A word that misses its line by a hair misses it in every program."""
    from shopdraw.drawing.paragraphs import column_of, set_in_lines

    height, said = 0.1, "each on its own side below the front and behind"
    for text in (said, f"{said} of it {said}"):
        for end in range(8, len(said)):
            if said[end] != " ":
                continue
            # The word that ends there is too long for its line by a thousandth.
            column = width_of(said[:end], height) / 1.001
            first = Words("A-ANNO-NOTE", (0.0, 0.0), "", height, column=column)
            lines = set_in_lines(text, first, 0.17, 1.0)
            found = column_of(lines)
            for scant in (0.997 * found, 1.003 * found):
                assert wrap(text, height, scant) == tuple(x.text for x in lines)


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        (b"(24.00_x", b"(25.00_x", "mm large"),
        (b"ARCH_C_(24.00_x_18.00_Inches)", b"Letter", "no paper's name"),
        (b"AcDbPlotSettings\n  1\n\n", b"AcDbPlotSettings\n  1\nOURS\n", "plotted by"),
    ],
)
def test_a_plot_of_another_paper_or_by_a_program_is_noticed(
    old: bytes, new: bytes, complaint: str
) -> None:
    drawn, data = set_of("library-hearth"), files_of("library-hearth")
    sheet = data["sheets/A-201-elevation.dxf"]
    assert old in sheet
    assert compare(read_back(sheet), drawn.expected[1]) == ()
    wrong = compare(read_back(sheet.replace(old, new)), drawn.expected[1])
    assert any(complaint in line for line in wrong)
