"""Review woodwork that hangs over brick: is it meant to, and what carries it.

In:  `Job`, `Surround`, `Layout`.   Out: `Finding`s; none where no brick lies behind.
Frame: trim is given from the finished left edge of the front and the datum, and is
carried onto the developed plane.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.catalog.statuses import COMMON
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout, Outline, Piece, Point, area_within
from shopdraw.review.findings import Finding, Rule, found, in_words
from shopdraw.review.opening import Rectangle

SOURCE = ("whoever designs the woodwork and what it hangs on", COMMON)


def review_over_brick(
    job: Job, surround: Surround, layout: Layout
) -> Iterator[Finding]:
    """Yield, piece of woodwork by piece, what brick of the front lies behind it."""
    for place, trim in enumerate(job.trim, start=1):
        x = surround.front.left + trim.left
        wood = Rectangle(x, x + trim.width, trim.bottom, trim.bottom + trim.height)
        if behind := [piece for piece in layout.pieces if _is_behind(piece, wood)]:
            rule = Rule("trim-over-brick", f"woodwork over brick: {trim.name}", place)
            yield _of_one(job, trim, rule, behind, _top(layout, wood))


def _of_one(
    job: Job, trim: TrimTable, rule: Rule, behind: list[Piece], top: Fraction
) -> Finding:
    count = "1 piece" if len(behind) == 1 else f"{len(behind)} pieces"
    if trim.covers_brick:
        says = (
            f"it covers {count} of brick, as typed: it must be carried by the wall "
            "behind, never by brick that only its mortar holds; how, is for whoever "
            "designs it"
        )
        return found(rule, "not checked", says, *SOURCE)
    which, them = f"from {behind[0].id} to {behind[-1].id}", "them"
    if len(behind) == 1:
        which, them = behind[0].id, "it"
    says = (
        f"it hangs over {count} of brick, {which}, and nothing says that it covers "
        f"{them}"
    )
    clear = top + (job.edges.top.width if top == job.face.height else 0)
    mends = (
        f"move the {trim.name} up to {in_words(clear, job.lengths, up=True)}, above "
        "the brick",
        "or settle that it covers the brick, and is carried by the wall behind",
    )
    pieces = tuple(piece.id for piece in behind)
    failed = found(rule, "failed", says, *SOURCE)
    return replace(failed, pieces=pieces, mends=mends)


def _on_front(piece: Piece) -> Iterator[Outline]:
    return (each for each in piece.outlines if each.face == "front")


def _is_behind(piece: Piece, wood: Rectangle) -> bool:
    return any(_meets(outline, wood) for outline in _on_front(piece))


def _top(layout: Layout, wood: Rectangle) -> Fraction:
    """Return the highest that brick of the front reaches below or behind woodwork."""
    return max(
        outline.top
        for piece in layout.pieces
        for outline in _on_front(piece)
        if outline.left < wood.right and wood.left < outline.right
    )


def _meets(outline: Outline, wood: Rectangle) -> bool:
    """Whether a piece and a rectangle share any area, exactly."""
    if (
        outline.left >= wood.right
        or outline.right <= wood.left
        or outline.bottom >= wood.top
        or outline.top <= wood.bottom
    ):
        return False
    if outline.is_rectangle:
        return True
    ring = outline.points
    for axis, limit, way in (
        (0, wood.left, 1),
        (0, wood.right, -1),
        (1, wood.bottom, 1),
        (1, wood.top, -1),
    ):
        ring = tuple(_kept(ring, axis, limit, way))
    return len(ring) > 2 and area_within(ring) > 0


def _kept(
    ring: tuple[Point, ...], axis: int, limit: Fraction, way: int
) -> Iterator[Point]:
    """Yield what a line leaves of a ring: the side where `way` points along an axis."""
    for a, b in zip(ring, (*ring[1:], ring[0]) if ring else (), strict=True):
        near, far = (a[axis] - limit) * way, (b[axis] - limit) * way
        if near >= 0:
            yield a
        if near * far < 0:
            share = near / (near - far)
            yield a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
