"""The form of a photograph, and of what is laid into it.

In:  nothing.   Out: `Photo`, `Montage`.
Frame: dots of the photograph, x right, y down, from its upper left corner.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.drawing.ink import Paint, Point


@dataclass(frozen=True)
class Photo:
    """A photograph, upright, as dots alone: it says nothing of itself.

    Attributes:
        dots: red, green and blue of each, row by row from the top.
        wide, high: how many.
        shrunk: how many of its dots there are to one of the file's.
        digest: of the file (SHA-256).
    """

    dots: bytes
    wide: int
    high: int
    shrunk: float
    digest: str


@dataclass(frozen=True)
class Montage:
    """A photograph, and what is painted over it.

    Attributes:
        paints: in order.
        over: nothing is painted outside of this ring.
        free: nothing is painted inside of these: there it is as it was taken.
    """

    photo: Photo
    paints: tuple[Paint, ...]
    over: tuple[Point, ...]
    free: tuple[tuple[Point, ...], ...]
