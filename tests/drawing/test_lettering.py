"""How text is broken into lines: no figure leaves its unit, no word stands alone."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Words
from shopdraw.drawing.lettering import whole_lengths, width_of, wrap
from shopdraw.drawing.sheets import Sheet
from tests.demos import CONFIGS, set_of

NAMES = sorted(path.stem for path in CONFIGS.glob("*.toml"))
PITCHES = 1.5, 1.9
"""From line to line of a paragraph, in heights of lettering."""
PARTED = re.compile(
    r"\d\n(?:in|mm|ft|m|m2|sq|cu|lb|IN|MM|%)(?:\W|$)|(?:sq|cu)\n(?:in|ft|m)\b"
    r"|\+/?-\n\d"
)
"""A figure at the end of a line whose unit begins the next."""


def drawings_of(sheet: Sheet) -> Iterator[Drawing]:
    """Yield all that is lettered on a sheet."""
    yield from (placed.drawing for placed in sheet.drawings)
    yield Drawing("paper", "", 1.0, sheet.paper_ink)


def lines_below(drawing: Drawing) -> Iterator[tuple[Words, Words]]:
    """Yield each line that stands right under another, with that one before it."""
    lettered = [words for words, _ in lettering_of(drawing) if words.text.strip()]
    at: dict[tuple[float, str], list[Words]] = {}
    for words in lettered:
        at.setdefault((round(words.at[0], 3), words.align), []).append(words)
    for column in at.values():
        for above in column:
            height = above.height_on_paper * drawing.scale
            for below in column:
                down = (above.at[1] - below.at[1]) / height
                if PITCHES[0] < down < PITCHES[1]:
                    yield above, below


@pytest.mark.parametrize("name", NAMES)
def test_no_line_ends_between_a_figure_and_its_unit(name: str) -> None:
    drawn = set_of(name)
    pairs = [
        f"{above.text}\n{below.text}"
        for sheet in (*drawn.sheets, *(x for _, pages in drawn.papers for x in pages))
        for drawing in drawings_of(sheet)
        for above, below in lines_below(drawing)
    ]
    assert pairs
    assert [pair for pair in pairs if PARTED.search(pair)] == []


def test_a_figure_that_leaves_its_unit_is_found() -> None:
    assert PARTED.search("the limit is for an opening of 9.49\nsq ft")
    assert PARTED.search("6 mm in 3.05\nm: Technical Note")
    assert PARTED.search("plus 20\n% waste")
    assert PARTED.search("TOLERANCE 1/32\nIN EITHER WAY")


@pytest.mark.parametrize(
    "text",
    [
        "an opening of 9.49 sq ft",
        "plus 20 %",
        "7.81 lb per sq ft",
        "of 3 in",
        "0.7 cu ft",
        "TOLERANCE: 1/32 IN EITHER WAY",
        "1/2 MM EITHER WAY",
    ],
)
def test_a_figure_and_its_unit_are_one_word_to_lines(text: str) -> None:
    for wide in range(3, 40):
        assert not PARTED.search("\n".join(wrap(whole_lengths(text), 1.0, wide)) + "\n")


def test_a_scale_stays_in_one_line() -> None:
    text = whole_lengths('In section, 1 1/2" = 1\'-0"; out from the brick')
    lines = wrap(text, 1.0, width_of('In section, 1 1/2" =', 1.0))
    assert any('1 1/2" = 1\'-0";' in line for line in lines)


NOTE = "one end as delivered; sawn to shape, as drawn; do not turn end for end"


def test_no_word_is_left_alone_in_the_last_line() -> None:
    """Filled line by line, as a general library does it, the last has one word."""
    wide = width_of(NOTE.removesuffix(" end"), 1.0)
    lines = wrap(NOTE, 1.0, wide)
    assert " ".join(lines) == NOTE
    assert len(lines) == len({*lines}) == 2
    assert all(" " in line for line in lines)
    assert max(width_of(line, 1.0) for line in lines) <= wide


def test_a_paragraph_stays_as_wide_as_its_column_but_for_a_word() -> None:
    text = "Fix a ledger, and set the head on it. Let its joints cure as he says."
    wide = width_of("Fix a ledger, and set the head", 1.0)
    lines = wrap(text, 1.0, wide)
    assert len(lines) == 3
    assert " " in lines[-1]
    assert max(width_of(line, 1.0) for line in lines) > 0.8 * wide


def test_lines_that_can_only_be_so_stay_as_they_are() -> None:
    assert wrap("SUBSTRATE MEASURED", 1.0, width_of("SUBSTRATE", 1.0) + 0.1) == (
        "SUBSTRATE",
        "MEASURED",
    )
