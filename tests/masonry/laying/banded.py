"""One small wall that bands and corbels are put in, and how it is laid.

In:  tables of a job file, as text.   Out: what is laid and proved.
Frame: as `Surround`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction as F
from functools import cache

from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout, Outline, Piece
from shopdraw.masonry.wall.surround import trace_surround

# Legs of 15 5/8: two of 7 5/8 and a joint of 3/8. Courses of 2 1/4 and joints of 3/8:
# the head at 3/8 + 9 x 2 5/8 = 24, the top at 17 x 2 5/8 = 44 5/8.
WALL = """
[job]
name = "Bands"
lengths = "in"
[face]
measured_to = "finish"
width = "63 5/8 in"
height = "44 5/8 in"
left_return = "15 5/8 in"
right_return = "15 5/8 in"
[opening]
width = "32 3/8 in"
height = "24 in"
[brick]
size = "modular"
thickness = "3/4 in"
header = "3 5/8 in"
at_fold = "mitre"
corner = { long_leg = "7 5/8 in", short_leg = "3 5/8 in" }
"""


@dataclass(frozen=True)
class Laid:
    """A wall that is laid and proved."""

    job: Job
    surround: Surround
    coursing: Coursing
    layout: Layout

    def row(self, course: int, face: str = "front") -> list[tuple[Outline, Piece]]:
        """Return what lies in a course of a face, left to right."""
        found = [
            (outline, piece)
            for piece in self.layout.pieces
            if piece.course == course
            for outline in piece.outlines
            if outline.face == face
        ]
        return sorted(found, key=lambda each: each[0].left)

    def span(self, course: int, face: str = "front") -> tuple[F, F]:
        """Return from where to where brick lies, from the front's left end."""
        row, left = self.row(course, face), self.surround.front.left
        return row[0][0].left - left, max(x.right for x, _ in row) - left


def banded(tables: str, *changes: tuple[str, str]) -> Job:
    """Return the wall with some tables more, and texts changed."""
    text = WALL
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return parse_job(text + tables, "wall")


@cache
def laid(tables: str, *changes: tuple[str, str]) -> Laid:
    """Lay the wall and prove it."""
    job = banded(tables, *changes)
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    layout = lay_bond(job, surround, coursing)
    return Laid(job, surround, coursing, prove_layout(job, surround, coursing, layout))
