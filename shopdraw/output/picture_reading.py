"""Read a picture that was written, and hold it against the sheet that it shows.

In:  the bytes of a PNG file, `Inked`.   Out: differences in words.
Frame: dots from the top left, cells from the bottom left.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

import numpy as np

from shopdraw.drawing.sheets import Sheet
from shopdraw.output.inked import CELL, Cells, Inked, hold_ink, inked

WHITE = 255


def compare_picture(data: bytes, sheet: Sheet, drawn_from: str) -> tuple[str, ...]:
    """Return every difference in words; none if a picture shows just its sheet."""
    from PIL import Image

    try:
        picture = Image.open(io.BytesIO(data), formats=("PNG",))
        picture.load()
    except (OSError, ValueError, SyntaxError):
        return ("it can't be read back: it is no whole picture",)
    return tuple(_differences(picture, inked(sheet), drawn_from))


def _differences(picture: Any, wanted: Inked, drawn_from: str) -> Iterator[str]:
    said = picture.text.get("Software", "")
    if said != drawn_from:
        yield f"it says that it is drawn from {said or 'nothing'}, not {drawn_from}"
    dots = picture.info.get("dpi", (0.0, 0.0))
    # True to size: by its own dots to an inch it is as large as its paper.
    size = tuple(
        round(side * dot)
        for side, dot in zip((wanted.wide, wanted.high), dots, strict=True)
    )
    if any(abs(a - b) > 1 for a, b in zip(picture.size, size, strict=True)):
        yield f"it has {picture.size} dots, should have {size}"
        return
    yield from hold_ink(_cells(picture, wanted, dots[0]), wanted)


def _cells(picture: Any, wanted: Inked, dpi: float) -> Cells:
    """Return the cells that have a dot of ink in them."""
    values = np.asarray(picture)
    white = WHITE
    if picture.mode == "P":
        shades = np.asarray(picture.getpalette()).reshape(-1, 3)
        white = int((shades == WHITE).all(axis=1).argmax())
    flat = values.reshape(len(values), -1)
    rows, columns = wanted.must.shape
    # From the foot: the last row of dots is the first one of cells.
    edges = len(flat) - np.round(np.arange(rows + 1) * CELL * dpi).astype(int)
    tops, feet = np.clip(edges[1:], 0, None), np.clip(edges[:-1], 0, None)
    # Strip by strip: all at once takes ten times as long.
    strips = [
        (flat[top:foot] != white).any(axis=0)
        for top, foot in zip(tops, feet, strict=True)
    ]
    across = np.array(strips).reshape(rows, values.shape[1], -1).any(axis=2)
    lefts = np.round(np.arange(columns) * CELL * dpi).astype(int)
    lefts = np.minimum(lefts, values.shape[1] - 1)
    return np.logical_or.reduceat(across, lefts, axis=1)
