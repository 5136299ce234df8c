"""Walls with legs and returns, laid, and their courses read off the layout."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout
from shopdraw.masonry.wall.surround import trace_surround

F = Fraction
StackJob = Callable[..., Job]
CORNER = {"long_leg": "7 5/8 in", "short_leg": "3 5/8 in"}


def lay(job: Job) -> tuple[Surround, Coursing, Layout]:
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    return surround, coursing, lay_bond(job, surround, coursing)


def row(layout: Layout, face: str, course: int) -> list[tuple[Fraction, Fraction]]:
    """Return (left, right) of everything drawn in one course of one face."""
    return sorted(
        (outline.left, outline.right)
        for piece in layout.pieces
        if piece.course == course and piece.kind in ("stretcher", "corner unit")
        for outline in piece.outlines
        if outline.face == face
    )


def lengths_of(ends: list[tuple[Fraction, Fraction]]) -> list[Fraction]:
    return [right - left for left, right in ends]


def library(stack_job: StackJob, **changes: object) -> Job:
    """Legs of 11 5/8 from a fold to the jamb, returns of 14: all at finished sizes."""
    return stack_job(
        "in",
        **{
            "face__width": "57 1/4 in",
            "face__left_return": "14 in",
            "face__right_return": "14 in",
            "brick__corner": CORNER,
            "opening__head": "soldier",
            **changes,
        },
    )
