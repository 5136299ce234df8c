"""Pack dots as a PNG file (ISO/IEC 15948).

In:  dots, and their palette.   Out: bytes.
Frame: dots from the top left, rows downwards.

Rows stand as they are, without a filter: the library tries every filter on every row of
a picture in many colours, which takes longer than to pack it, and can't be told not to.
"""

from __future__ import annotations

import struct
import zlib
from typing import Any

import numpy as np

SIGNATURE = b"\x89PNG\r\n\x1a\n"
LEVEL = 3
"""How hard it is packed: harder takes twice as long, for a sixth less."""
IN_PALETTE, IN_COLOURS = 3, 2
METRE = 0.0254
"""An inch in it: a file has its dots to a metre, unit 1."""


def pack_png(dots: Any, palette: bytes, dpi: float, software: str) -> bytes:
    """Return a file of dots, eight bits each.

    Args:
        dots: by row and column; where there is no palette red, green and blue of each.
        palette: red, green and blue of each number that dots have; b"" for none.
        dpi: dots to an inch.
        software: what the file says that it is made by; "" for nothing.
    """
    high, wide = dots.shape[:2]
    rows: Any = np.zeros((high, 1 + dots[0].size), np.uint8)
    # One colour at a time: all three at once take five times as long.
    for colour, shades in enumerate(dots.reshape(high, wide, -1).transpose(2, 0, 1)):
        rows[:, 1 + colour :: dots[0, 0].size] = shades
    kind, per_metre = IN_PALETTE if palette else IN_COLOURS, round(dpi / METRE)
    parts = {
        b"IHDR": struct.pack(">IIBBBBB", wide, high, 8, kind, 0, 0, 0),
        b"PLTE": palette,
        b"pHYs": struct.pack(">IIB", per_metre, per_metre, 1),
        b"tEXt": b"Software\0" + software.encode("latin-1") if software else b"",
        b"IDAT": zlib.compress(rows, LEVEL),
    }
    packed = (_part(name, data) for name, data in parts.items() if data)
    return b"".join((SIGNATURE, *packed, _part(b"IEND", b"")))


def _part(name: bytes, data: bytes) -> bytes:
    """Return a part of a file: how long it is, its name and data, their checksum."""
    named = name + data
    return struct.pack(">I", len(data)) + named + struct.pack(">I", zlib.crc32(named))
