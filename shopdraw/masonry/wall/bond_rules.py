"""The form of what is measured of the bond and of its pieces, and what it gives up.

In:  nothing.   Out: `BrokenRule`, `Least`, `Fillet`, `GivenUp`.
Frame: the job's lengths.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.masonry.wall.form import FaceName, Point

RuleName = Literal[
    "least piece", "least lap", "least width", "sharpest corner", "least area"
]
SHAPE_RULES: tuple[RuleName, ...] = ("least width", "sharpest corner", "least area")
"""The rules of a piece's shape, beside its length."""


@dataclass(frozen=True)
class BrokenRule:
    """A rule of the bond or of its pieces that is not kept: where, by how much, why.

    Attributes:
        rule: which; corners are in degrees, areas in the job's lengths squared.
        least: the job's figure.
        measured: the worst on the wall.
        pieces: the IDs of the pieces that break it, in reading order.
        why: how it came about, in words.
    """

    rule: RuleName
    least: Fraction
    measured: Fraction
    pieces: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class Least:
    """What comes nearest to breaking a bond rule, or breaks it most.

    Attributes:
        measured: how long it is.
        allowed: the least that is allowed there.
    """

    measured: Fraction
    allowed: Fraction


@dataclass(frozen=True)
class Fillet:
    """Mortar where a course runs out on an arch: the tip is too thin to be sawn.

    Attributes:
        face, course: where.
        points: the corners of the tip that was cut off.
        length: along the course, from the brick to the end of the tip.
    """

    face: FaceName
    course: int
    points: tuple[Point, ...]
    length: Fraction


@dataclass(frozen=True)
class GivenUp:
    """What the bond of one face gives up, at one line of the order of merit.

    Attributes:
        face: "front", "left return", "right return", "left beside", ...
        place: which line, 1 first.
        level: what the line is called.
        counts: what it counts, in words.
        before: what the lines before it are called, all of which count more.
        count: how much is given up, in that line's own count.
        zones: by zone of the face, how much of it is there.
    """

    face: str
    place: int
    level: str
    counts: str
    before: str
    count: int
    zones: tuple[tuple[str, int], ...]
