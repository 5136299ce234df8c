"""Read a picture that was written, and hold it against the sheet that it shows.

In:  the bytes of a PNG file, `Inked`.   Out: differences in words.
Frame: dots from the top left, cells from the bottom left.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np

from shopdraw.drawing.sheets import Sheet
from shopdraw.output.inked import CELL, Cells, Inked, hold_ink, inked

SIGNATURE = b"\x89PNG\r\n\x1a\n"
WHITE = 255


def compare_picture(data: bytes, sheet: Sheet, drawn_from: str) -> tuple[str, ...]:
    """Return every difference in words; none if a picture shows just its sheet."""
    from PIL import Image

    try:
        parts = _parts(data)
        picture = Image.open(io.BytesIO(data), formats=("PNG",))
        has_ink = _dots(parts, picture)
    except (LookupError, OSError, ValueError, SyntaxError, zlib.error, struct.error):
        return ("it can't be read back: it is no whole picture",)
    said = parts.get(b"tEXt", b"").removeprefix(b"Software\0").decode("latin-1")
    return tuple(_differences(picture, said, has_ink, inked(sheet), drawn_from))


def _parts(data: bytes) -> dict[bytes, bytes]:
    """Return what a file has in its parts, each held against its checksum, by kind."""
    place, parts = len(SIGNATURE), dict[bytes, bytes]()
    while b"IEND" not in parts:
        (long,) = struct.unpack_from(">I", data, place)
        part = data[place + 4 : place + 8 + long]
        (checksum,) = struct.unpack_from(">I", data, place + 8 + long)
        if zlib.crc32(part) != checksum:
            message = "a part is not as it was written"
            raise ValueError(message)
        kind = part[:4]
        parts[kind] = parts.get(kind, b"") + part[4:]
        place += 12 + long
    return parts


def _dots(parts: Mapping[bytes, bytes], picture: Any) -> tuple[Any, int]:
    """Return every dot's shade, or its colours side by side, and which value is white.

    Where rows stand as they are, they are only unpacked: the library takes three times
    as long.
    """
    white = WHITE
    if picture.mode == "P":
        shades = np.frombuffer(parts[b"PLTE"], np.uint8).reshape(-1, 3)
        white = int((shades == WHITE).all(axis=1).argmax())
    across = 1 + picture.width * len(picture.getbands())
    if picture.mode in ("P", "RGB"):
        size = picture.height * across
        rows = np.frombuffer(zlib.decompress(parts[b"IDAT"], bufsize=size), np.uint8)
        if rows.size == size:
            rows = rows.reshape(-1, across)
            if not rows[:, 0].any():
                return rows[:, 1:], white
    return np.asarray(picture.convert("L")), WHITE


def _differences(
    picture: Any, said: str, dots: tuple[Any, int], wanted: Inked, drawn_from: str
) -> Iterator[str]:
    if said != drawn_from:
        yield f"it says that it is drawn from {said or 'nothing'}, not {drawn_from}"
    per_inch = picture.info.get("dpi", (0.0, 0.0))
    # True to size: by its own dots to an inch it is as large as its paper.
    size = tuple(
        round(side * dot)
        for side, dot in zip((wanted.wide, wanted.high), per_inch, strict=True)
    )
    if any(abs(a - b) > 1 for a, b in zip(picture.size, size, strict=True)):
        yield f"it has {picture.size} dots, should have {size}"
        return
    per_dot = dots[0].shape[1] // picture.width
    yield from hold_ink(_cells(dots, wanted, per_inch[0], per_dot), wanted)


def _cells(dots: tuple[Any, int], wanted: Inked, dpi: float, per_dot: int) -> Cells:
    """Return the cells that have a dot of ink in them."""
    flat, white = dots
    rows, columns = wanted.must.shape
    # From the foot: the last row of dots is the first one of cells.
    edges = len(flat) - np.round(np.arange(rows + 1) * CELL * dpi).astype(int)
    tops, feet = np.clip(edges[1:], 0, None), np.clip(edges[:-1], 0, None)
    # Strip by strip: all at once takes ten times as long.
    strips = [
        (flat[top:foot] != white).any(axis=0)
        for top, foot in zip(tops, feet, strict=True)
    ]
    across = np.array(strips)
    lefts = np.round(np.arange(columns) * CELL * dpi).astype(int) * per_dot
    lefts = np.minimum(lefts, flat.shape[1] - per_dot)
    return np.logical_or.reduceat(across, lefts, axis=1)
