"""A line through lettering is found; what touches no letter, and hatching, is not."""

from __future__ import annotations

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.striking import is_struck

WORDS = Words(layers.NOTES, (0.0, 0.0), "OPENING", 1.0, "left", "foot")
UPRIGHT = Words(layers.NOTES, (0.0, 0.0), "OPENING", 1.0, "left", "foot", 90.0)


def drawn(*ink: Ink, scale: float = 1.0) -> Drawing:
    return Drawing("d", "", scale, ink)


def line(*points: Point, layer: str = layers.NOTES) -> Stroke:
    return Stroke(layer, points)


@pytest.mark.parametrize(
    ("words", "points", "struck"),
    [
        (WORDS, ((-1.0, 0.5), (9.0, 0.5)), True),
        (WORDS, ((2.0, 0.4), (2.0, 0.6)), True),
        (WORDS, ((2.0, -3.0), (2.2, 3.0)), True),
        (WORDS, ((-1.0, 0.05), (9.0, 0.05)), False),
        (WORDS, ((-1.0, 1.0), (9.0, 1.0)), False),
        (WORDS, ((-0.5, -3.0), (-0.5, 3.0)), False),
        (UPRIGHT, ((-0.5, -1.0), (-0.5, 9.0)), True),
        (UPRIGHT, ((-1.0, 0.5), (9.0, 0.5)), True),
        (UPRIGHT, ((0.5, -1.0), (0.5, 9.0)), False),
    ],
)
def test_lettering_is_struck_where_a_line_runs_through_it(
    words: Words, points: tuple[Point, Point], struck: bool
) -> None:
    assert is_struck(drawn(words, line(*points))) is struck
    # So it is at any scale: lettering grows with it.
    larger = tuple((4 * x, 4 * y) for x, y in points)
    assert is_struck(drawn(words, line(*larger), scale=4.0)) is struck


def test_hatching_strikes_nothing_and_words_alone_are_not_struck() -> None:
    through = (-1.0, 0.5), (9.0, 0.5)
    assert not is_struck(drawn(WORDS, line(*through, layer=layers.PATTERN)))
    assert not is_struck(drawn(WORDS))
    assert not is_struck(drawn(line(*through)))
