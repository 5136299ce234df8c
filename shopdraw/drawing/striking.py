"""Say whether a line of a drawing runs through its lettering.

In:  a `Drawing`.   Out: yes or no.
Frame: the drawing's own.

Hatching may run through lettering, and so may whatever touches no letter.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.extents import every_line, lettering_of
from shopdraw.drawing.ink import Drawing, Hatch
from shopdraw.drawing.lettering import CAP_HEIGHT, DESCENT, ring_of_words

BESIDE = 0.1
"""What is free about letters, in their height: a line there touches none."""
TAILS = BESIDE + 0.9 * DESCENT / CAP_HEIGHT
"""The same at the foot of their box, where only tails are."""


def is_struck(drawing: Drawing) -> bool:
    """Whether a line runs through any lettering of a drawing."""
    inked = tuple(
        ink
        for ink in drawing.ink
        if not isinstance(ink, Hatch) and ink.layer != layers.PATTERN
    )
    lines = list(every_line(replace(drawing, ink=inked)))
    lettered = [words for words, _ in lettering_of(drawing) if words.text.strip()]
    if not (lines and lettered):
        return False
    rings = np.array([ring_of_words(words, drawing.scale) for words in lettered])
    highs = np.array([words.height_on_paper for words in lettered]) * drawing.scale
    letters = np.asarray(shapely.polygons(_letters(rings, highs[:, None])))
    tree = shapely.STRtree(letters)
    hits = tree.query(shapely.linestrings(np.array(lines)), predicate="intersects")
    return bool(hits.size)


def _letters(rings: np.ndarray, highs: np.ndarray) -> np.ndarray:
    """Return the corners of letters without what is free about them.

    Args:
        rings: the boxes along lines of lettering, from the lower left: n x 4 x 2.
        highs: how high their letters are: n x 1.
    """
    along, up = rings[:, 1] - rings[:, 0], rings[:, 3] - rings[:, 0]
    along = along / np.linalg.norm(along, axis=1, keepdims=True) * highs
    up = up / np.linalg.norm(up, axis=1, keepdims=True) * highs
    ways = ((1, TAILS), (-1, TAILS), (-1, -BESIDE), (1, -BESIDE))
    corners = [
        rings[:, n] + across * BESIDE * along + rise * up
        for n, (across, rise) in enumerate(ways)
    ]
    return np.stack(corners, axis=1)
