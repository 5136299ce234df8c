"""Lengths: parsed exactly, snapped once, written for people."""

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdraw.errors import BadLength
from shopdraw.lengths import (
    format_length,
    parse_length,
    rounded,
    taped_length,
    typed_length,
)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("26 1/4 in", F(105, 4)),
        ("2'-2 1/4\"", F(105, 4)),
        ("2 ft 2 1/4 in", F(105, 4)),
        ("2-1/4 in", F(9, 4)),
        ("3 5/8 in", F(29, 8)),
        ("2'", F(24)),
        ("1/2 ft", F(6)),
        (".5 in", F(1, 2)),
        ("26.25 inches", F(105, 4)),
        ("26 1/4in.", F(105, 4)),
        ("1/4in.", F(1, 4)),
        ("6' 1/4\"", F(289, 4)),
        ("2 ft. 2 1/4 in.", F(105, 4)),
        ("2'-2 1/4''", F(105, 4)),
        ("2\u2032 2 1/4\u2032\u2032", F(105, 4)),
        ("2'.5 in", F(49, 2)),
        ("2 ft.5 in", F(49, 2)),
        ("26\u00bc in", F(105, 4)),
        ("2\u2032\u20132\u2033", F(26)),
        ("-1/4 in", F(-1, 4)),
        ("25.4 mm", F(1)),
        ("66.7 cm", F(6670, 254)),
        ("0 in", F(0)),
    ],
)
def test_a_length_is_read_exactly(text: str, inches: F) -> None:
    assert parse_length(text, "in") == inches


def test_an_inch_is_25_4_millimetres_exactly() -> None:
    # International inch, 1959.
    assert parse_length("1 in", "mm") == F(254, 10)
    assert parse_length("3 5/8 in", "mm") == F(29, 8) * F(254, 10)


@pytest.mark.parametrize("text", ["8", "3 5/8", "2.5", "-4"])
def test_a_length_without_a_unit_is_refused(text: str) -> None:
    with pytest.raises(BadLength, match="has no unit; write"):
        parse_length(text, "in")


@pytest.mark.parametrize(
    "text", ["", "in", "two in", "3 in 2 ft", "1/0 in", "3 lb", "1e3 in"]
)
def test_what_is_not_a_length_is_refused(text: str) -> None:
    with pytest.raises(BadLength):
        parse_length(text, "in")


@given(st.fractions(min_value=-2000, max_value=2000, max_denominator=640))
def test_what_is_typed_is_read_back_exactly(value: F) -> None:
    for lengths in ("in", "mm"):
        assert parse_length(typed_length(value, lengths), lengths) == value


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (F(0), '0"'),
        (F(5, 16), '5/16"'),
        (F(3), '3"'),
        (F(29, 8), '3 5/8"'),
        (F(12), "1'-0\""),
        (F(197, 16), "1'-0 5/16\""),
        (F(1597, 100), "1'-4\""),
        (F(2999, 1000), '3"'),
        (F(-29, 8), '-3 5/8"'),
    ],
)
def test_inches_are_lettered_in_feet_inches_and_sixteenths(
    value: F, words: str
) -> None:
    assert format_length(value, "in") == words


def test_millimetres_are_lettered_bare_and_whole() -> None:
    assert format_length(F(205, 2), "mm") == "103"
    assert format_length(F(-10), "mm") == "-10"


@given(st.fractions(min_value=-500, max_value=500))
def test_rounding_moves_nothing_more_than_half_a_step(value: F) -> None:
    assert abs(rounded(value, "in") - value) <= F(1, 32)
    assert rounded(rounded(value, "in"), "in") == rounded(value, "in")


@pytest.mark.parametrize(
    ("value", "text"),
    [(F(127, 5), "25.4 mm"), (F(-205, 2), "-102.5 mm"), (F(667), "667 mm"),
     (F(1, 100_000), "0.00001 mm"), (F(100, 3), "33 1/3 mm")],
)  # fmt: skip
def test_millimetres_in_a_sentence_are_decimals_where_these_are_exact(value, text):
    assert typed_length(value, "mm") == text


# The mean of ten brick of 22 13/32 together gives levels in 320ths of an inch.
@pytest.mark.parametrize(
    ("value", "lengths", "toward", "text"),
    [
        (F(7677, 160), "in", "nearest", "47 31/32 in"),
        (F(7677, 160), "in", "up", "48 in"),
        (F(7677, 160), "in", "down", "47 31/32 in"),
        (F(11, 32), "in", "nearest", "11/32 in"),
        (F(1, 64), "in", "nearest", "1/64 in"),
        (F(2003, 7), "mm", "nearest", "286 mm"),
        (F(2003, 7), "mm", "up", "286.5 mm"),
        (F(1025, 10), "mm", "down", "102.5 mm"),
    ],
)
def test_a_sentence_has_no_length_finer_than_a_tape(value, lengths, toward, text):
    assert taped_length(value, lengths, toward) == text
