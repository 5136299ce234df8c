"""Find the lines of lettering on a drawing that stand one under another, as one.

In:  a `Drawing`.   Out: its lettering in blocks; where each counts as standing.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Drawing, Point, Words
from shopdraw.drawing.lettering import Box, box_of

APART = 4.0
"""Lines one under another are less than so many heights apart: a blank line is one."""


def blocks_in(drawing: Drawing) -> Iterator[dict[int, Words]]:
    """Yield lettering by its place in the ink, lines one under another together.

    What is lettered at a slant is left out.
    """
    block: dict[int, Words] = {}
    for place, words in enumerate(drawing.ink):
        if not isinstance(words, Words) or words.angle_deg not in (0.0, 90.0):
            continue
        before = block.get(place - 1)
        if block and not (before and _goes_on(before, words, drawing.scale)):
            yield block
            block = {}
        block[place] = words
    if block:
        yield block


def _goes_on(before: Words, words: Words, scale: float) -> bool:
    """Whether a line of lettering stands under the one before it, as one with it."""
    alike = replace(words, text="", at=(words.at[0], 0.0), goes_on=False)
    other = replace(before, text="", at=(before.at[0], 0.0), goes_on=False)
    down = (before.at[1] - words.at[1]) / (words.height_on_paper * scale)
    return alike == other and words.angle_deg == 0.0 and 0.0 < down < APART


def middles_of(drawing: Drawing) -> dict[int, Point]:
    """Return where each line of lettering counts as standing, by its identity.

    Lines one under another have one middle across: no match line parts them.
    """
    found = dict[int, Point]()
    for words in drawing.ink:
        if isinstance(words, Words):
            left, low, right, high = box_of(words, drawing.scale)
            found[id(words)] = (left + right) / 2, (low + high) / 2
    for block in blocks_in(drawing):
        left, _, right, _ = box_round([*block.values()], drawing.scale)
        for words in block.values():
            found[id(words)] = (left + right) / 2, found[id(words)][1]
    return found


def box_round(block: Sequence[Words], scale: float) -> Box:
    """Return the box round lines of lettering."""
    boxes = [box_of(words, scale) for words in block]
    return about([point for box in boxes for point in (box[:2], box[2:])])
