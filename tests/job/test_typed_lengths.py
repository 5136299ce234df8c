"""Lengths as people type them keep to the patterns of the JSON Schema."""

from __future__ import annotations

import re
import unicodedata

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopdraw.errors import BadLength
from shopdraw.job.schema import DEFINED
from shopdraw.lengths import parse_length

SPACES = st.sampled_from(("", " ", "  ", "\u00a0", "\u2009", "\t"))
HYPHENS = st.sampled_from(("", "-", "\u2212", "\u2013"))
HALVES = st.sampled_from("\u00bd\u00bc\u215e\u2189\ua831\U00010e7b")
DIGITS = st.integers(0, 999).map(str)


def joined(*parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return st.tuples(*parts).map("".join)


SPLIT = joined(DIGITS, st.sampled_from("/\u2044"), st.integers(0, 64).map(str))
NUMBER = st.one_of(
    joined(DIGITS, st.sampled_from(("", ".", ".5", ".062"))),
    joined(st.sampled_from(("", "2 ", "2-", "2\u2009")), SPLIT),
    joined(st.sampled_from(("", "2", "2 ")), HALVES, st.sampled_from(("", "5"))),
)
FEET = st.sampled_from(("ft", "FT", "foot", "Feet", "'", "\u2032", "\u2019"))
INCHES = st.sampled_from(("in", "IN", "inch", "Inches", '"', "\u2033", "\u201d"))
METRIC = st.sampled_from(("mm", "CM", "m"))
IN_FEET = joined(NUMBER, SPACES, FEET, SPACES, HYPHENS, SPACES)
LENGTH = joined(
    *(SPACES, HYPHENS, SPACES),
    st.one_of(
        joined(IN_FEET, NUMBER, SPACES, INCHES),
        IN_FEET,
        joined(NUMBER, SPACES, INCHES | METRIC),
    ),
    SPACES,
)
"""Nearly all of them can be read."""


def matches(kind: str, text: str) -> bool:
    return re.search(DEFINED[kind]["pattern"], text) is not None


@given(LENGTH)
def test_a_length_that_can_be_read_keeps_to_the_pattern(text: str) -> None:
    try:
        length = parse_length(text, "in")
    except BadLength:
        assume(False)
    assert matches("length", text)
    if not re.match(r"\s*[-\u2212\u2013]", text):
        assert length >= 0
        assert matches("width", text)
        assert matches("size", text)


def test_no_sign_of_a_fraction_and_no_space_is_left_out() -> None:
    signs = [chr(code) for code in range(0x110000)]
    signs = [x for x in signs if x.isspace() or unicodedata.category(x) == "No"]
    read = 0
    for text in (f"2{sign}in" for sign in signs):
        try:
            parse_length(text, "in")
        except BadLength:
            continue
        assert matches("size", text), text
        read += 1
    assert read > 60


@pytest.mark.parametrize(
    "text",
    [
        "",
        "26",
        "26 1/4",
        "1/0 in",
        "26 1/4 yd",
        "26,5 in",
        "in",
        "2 in 3 ft",
        "2' 3 mm",
    ],
)
def test_what_is_no_length_does_not(text: str) -> None:
    with pytest.raises(BadLength):
        parse_length(text, "in")
    assert not matches("length", text)


def test_only_what_may_be_negative_takes_a_minus() -> None:
    assert matches("length", "-1/4 in")
    assert not matches("width", "-1/4 in")
    assert not matches("size", "-1/4 in")
