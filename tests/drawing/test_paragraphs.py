"""A paragraph does not end in a line of one word, whose line before has words to give.

Held against typesetting's common practice, no published source.
"""

from __future__ import annotations

from shopdraw.drawing.ink import Words
from shopdraw.drawing.lettering import width_of
from shopdraw.drawing.paragraphs import said_by, set_in_lines


def _lines(text: str, as_wide_as: str) -> list[str]:
    column = width_of(as_wide_as, 1.0) + 0.01
    first = Words("A-NOTE", (0.0, 0.0), "", 1.0, column=column)
    lines = set_in_lines(text, first, 1.5, 1.0)
    assert said_by(lines) == text
    return [line.text for line in lines]


def test_a_lone_last_word_is_given_the_word_before_it() -> None:
    said = _lines("saw each brick at its far end", "saw each brick at its far")
    assert said == ["saw each brick at its", "far end"]


def test_two_words_part_where_neither_would_have_company() -> None:
    assert _lines("least joint end", "least joint") == ["least joint", "end"]


def test_a_length_is_not_parted_from_its_fraction() -> None:
    said = _lines("saw each at 3 5/8 end", "saw each at 3 5/8")
    assert said == ["saw each at", "3 5/8 end"]


def test_lines_stay_as_they_are_where_two_words_end_them() -> None:
    assert _lines("saw each brick at its far end", "saw each brick at its") == [
        "saw each brick at its",
        "far end",
    ]
