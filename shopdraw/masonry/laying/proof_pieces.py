"""Hold the pieces, on every run, against what is always true of what is sawn.

In:  `Job`, `Coursing`, `Layout`.   Out: what is not true, a line each.
Frame: as `Surround`.

As in `proof`, everything is measured again on the outlines.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import shapely
from shapely.affinity import translate

from shopdraw.job.model import Job
from shopdraw.lengths import shown_step
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.laying.measure import measure_cuts, measure_shapes
from shopdraw.masonry.sawing.clipping import polygon_of
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    Layout,
    Outline,
    Piece,
    Point,
)
from shopdraw.masonry.wall.printing import as_printed

NOTHING = 1e-7
"""Polygons are in floating point; a difference below this is none."""
SAWN = 1e-4
"""Points of an arch lie on a coarser grid; a difference below this is none there."""
Rings = list[tuple[Point, ...]]


def prove_pieces(job: Job, coursing: Coursing, layout: Layout) -> Iterator[str]:
    """Yield what is not true of the pieces, their marks, and the mortar beside them."""
    yield from _pieces_can_be_sawn(job, coursing, layout)
    yield from _marks_are_as_printed(job, layout)
    yield from _long_enough_to_scribe(layout)
    yield from _fillets_are_thin(job, layout)


def _pieces_can_be_sawn(job: Job, coursing: Coursing, layout: Layout) -> Iterator[str]:
    """Check that no piece is too small or too sharp unless a finding will name it."""
    named = {(rule.rule, name) for rule in layout.broken for name in rule.pieces}
    short = [
        *((short.rule, name) for name, short in
          measure_shapes(layout.in_courses, job, coursing)),
        *(("least piece", name) for name, least in measure_cuts(layout.in_courses, job)
          if least.measured < least.allowed),
    ]  # fmt: skip
    for rule, name in short:
        if (rule, name) not in named:
            yield f"{name} can't be sawn: it breaks the {rule}, and nothing says so"


def _marks_are_as_printed(job: Job, layout: Layout) -> Iterator[str]:
    """Check that every piece of a mark is within the saw's tolerance of its figures."""
    within = max(job.saw_tolerance, shown_step(job.lengths) / 2)
    firsts: dict[str, tuple[Rings, Rings]] = {}
    for piece in layout.pieces:
        rings = [outline.at_origin().points for outline in _as_made(piece)]
        if piece.mark not in firsts:
            figures = [
                printed.points
                for outline in _as_made(piece)
                for printed in as_printed((outline.at_origin(),), job.lengths)
            ]
            firsts[piece.mark] = rings, figures
        elif rings == firsts[piece.mark][0]:
            continue
        if not _are_near(rings, firsts[piece.mark][1], within):
            yield f"{piece.id} is not what its mark {piece.mark} says"


def _as_made(piece: Piece) -> tuple[Outline, ...]:
    """Return what a mark describes of a piece; of one with two legs both of them."""
    if piece.as_sawn is not None:
        return (piece.as_sawn,)
    return (
        piece.before_scribing
        if piece.kind in CORNER_KINDS
        else piece.before_scribing[:1]
    )


def _are_near(
    rings: Rings,
    figures: Rings,
    within: Fraction,
) -> bool:
    return len(rings) == len(figures) and all(
        len(ring) == len(figure)
        and all(
            abs(a - b) <= within + Fraction(NOTHING)
            for point, other in zip(ring, figure, strict=True)
            for a, b in zip(point, other, strict=True)
        )
        for ring, figure in zip(rings, figures, strict=True)
    )


def _long_enough_to_scribe(layout: Layout) -> Iterator[str]:
    """Check that a piece left long reaches as far as it must on the wall."""
    for piece in layout.pieces:
        if not piece.left_long:
            continue
        pairs = zip(piece.outlines, piece.left_long, strict=True)
        if any(
            polygon_of(outline.points).difference(
                polygon_of(made.points).buffer(NOTHING)
            ).area > NOTHING
            for outline, made in pairs
        ):  # fmt: skip
            yield f"{piece.id} is not left long enough to be scribed on the wall"


def _fillets_are_thin(job: Job, layout: Layout) -> Iterator[str]:
    """Check that mortar takes no more than tips too thin to be sawn, beside brick."""
    width = float(job.bond.least_width) + SAWN
    for fillet in layout.fillets:
        tip = polygon_of(fillet.points)
        where = f"the fillet in course {fillet.course} of the {fillet.face} face"
        moved = translate(tip, yoff=width), translate(tip, xoff=width)
        if all(tip.intersection(each).area > NOTHING for each in moved):
            yield f"{where} is thick enough for brick"
        on = [
            polygon_of(outline.points)
            for piece in layout.pieces
            if piece.course == fillet.course
            for outline in piece.outlines
            if outline.face == fillet.face
        ]
        if (shapely.area(shapely.intersection(on, tip)) > SAWN).any():
            yield f"{where} is where brick is"
        if fillet.length < Fraction(tip.bounds[2] - tip.bounds[0]) - Fraction(SAWN):
            yield f"{where} is longer than {fillet.length}"
