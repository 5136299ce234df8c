"""Stack strings of dimensions below a view, each with its name.

In:  positions by string, nearest first.   Out: ink.
Frame: full size; x from the view's left end, the view's foot at y = 0 or as given.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.dimensions import (
    Chain,
    StringStyle,
    levels_used,
    string_of_dimensions,
)
from shopdraw.drawing.ink import Ink, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job


def stacked_strings(
    job: Job,
    rows: list[tuple[str, tuple[Fraction, ...]]],
    scale: float,
    foot: float = 0.0,
) -> Iterator[Ink]:
    """Set out strings of dimensions one below another, figures below their lines.

    Args:
        job: for its lengths.
        rows: a name and rising positions for each string, the nearest first.
        scale: of the drawing.
        foot: the level that the nearest string hangs from.
    """
    style = STYLES[job.lengths]
    at = foot - 4.0 * style.text * scale
    for name, positions in rows:
        chain = Chain(positions, "x", job.lengths)
        set_out = StringStyle(layers.DIMENSIONS, style.text, scale, outward=-1)
        measures = string_of_dimensions(
            chain, at, at + 1.4 * style.text * scale, set_out
        )
        yield from measures
        x = float(positions[0]) - 1.5 * style.text * scale
        yield Words(layers.NOTES, (x, at), name, style.text, "right", "middle")
        moved = any(measure.letter is not None for measure in measures)
        room = levels_used(measures, at, scale) if moved else 0.0
        at -= (room + 3.6 * style.text) * scale
