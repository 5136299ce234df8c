"""Fit the pieces to what is really there: an arch, a leaning jamb, a hearth that falls.

In:  `Job`, `Surround`, `Coursing`, the pieces as laid between plumb ends.
Out: `Fitted`.
Frame: as `Surround`.

The bond is laid as far as the brick reaches anywhere; here each piece is clipped to the
edge that is really there. A piece that would come out under the least takes some of its
neighbour: the head joint between them is moved, or left out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

import numpy as np
import shapely

from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.heads.arch_words import say_arch
from shopdraw.masonry.heads.arches import lay_sawn
from shopdraw.masonry.sawing.clipping import (
    NOTHING,
    Areas,
    clip_piece,
    polygon_of,
)
from shopdraw.masonry.sawing.keep_out import KeepOut, trace_keep_out
from shopdraw.masonry.sawing.mending import LeastLap, Mend
from shopdraw.masonry.sawing.mirroring import mirror_rows
from shopdraw.masonry.sawing.squaring import share_sizes, squared
from shopdraw.masonry.sawing.tips import Tip
from shopdraw.masonry.sawing.wedges import find_wedges
from shopdraw.masonry.wall.arch import ARCH_GRID, Arch
from shopdraw.masonry.wall.asbuilt import plan_bottom_course
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import (
    FLAT_KINDS,
    OF_AN_ARCH,
    SIDES,
    Outline,
    Piece,
    Stop,
    area_within,
    flat_piece,
    rectangle,
    standing_lowest,
)

FINE = Fraction(4, ARCH_GRID)
"""How far a voussoir's corners, turned upright and rounded, may be off a line."""


@dataclass(frozen=True)
class Fitted:
    """The pieces as they are sawn or scribed to fit.

    Attributes:
        pieces: not named yet.
        moved, joined: how many head joints were moved, and how many left out, beside
            what is out of true.
        scribed: the names of the edges that pieces are scribed to on the wall.
        tips: the tips that mortar takes, by face and course.
    """

    pieces: tuple[Piece, ...]
    moved: int = 0
    joined: int = 0
    scribed: tuple[str, ...] = ()
    tips: tuple[tuple[FaceName, int, Tip], ...] = ()


def fit_pieces(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    pieces: tuple[Piece, ...],
    arch: Arch | None,
    least_lap: LeastLap,
) -> Fitted:
    """Clip every piece to what is really there, and scribe the first course.

    Args:
        job: what was asked.
        surround: what is there.
        coursing: how it is coursed.
        pieces: as laid between plumb ends.
        arch: over the opening, if there is one.
        least_lap: between two courses.
    """
    keep_out = trace_keep_out(job, surround, coursing, arch)
    if not keep_out.every:
        return Fitted(pieces)
    if plan_bottom_course(job).is_scribed:
        pieces = tuple(
            _lowered(job, piece) if piece.course == 1 else piece for piece in pieces
        )
    mend = Mend(job, pieces, keep_out.every, least_lap)
    mend.all_rows(_touched(pieces, keep_out.every))
    mirror_rows(mend, surround.opening.centre)
    whole = tuple(piece for piece in mend.pieces if piece is not None)
    touched = _touched(whole, keep_out.every)
    fitted = [
        (part, piece if place in touched else None)
        for place, piece in enumerate(whole)
        for part in (
            _fitted(job, piece, keep_out, mend) if place in touched else (piece,)
        )
    ]
    sawn = share_sizes(
        job, [x for x, _ in fitted], [_met(part, laid) for part, laid in fitted]
    )
    tips = [(*row, tip) for row, tips in mend.tips.items() for tip in tips]
    if arch is not None:
        over = coursing.courses[coursing.courses_below_head :]
        tips += find_wedges(mend, {course.number for course in over}, sawn)
    return Fitted(sawn, mend.moved, mend.joined, keep_out.scribed, tuple(tips))


def _touched(pieces: tuple[Piece, ...], keep_out: Areas) -> set[int]:
    """Return which pieces, by their place, may meet an area that brick keeps out of."""
    touched: set[int] = set()
    for face, area in keep_out.items():
        places = [
            (place, outline)
            for place, piece in enumerate(pieces)
            for outline in piece.outlines
            if outline.face == face
        ]
        edges = [(x.left, x.bottom, x.right, x.top) for _, x in places]
        boxes = shapely.box(*np.array(edges, dtype=float).T)
        meets = shapely.intersects(boxes, area)
        touched |= {place for (place, _), met in zip(places, meets, strict=True) if met}
    return touched


def _fitted(job: Job, piece: Piece, keep_out: KeepOut, mend: Mend) -> Iterator[Piece]:
    """Yield what is left of a piece: sawn beforehand, then scribed on the wall."""
    sawn = mend.areas_of(piece, keep_out.sawn)
    parts = [
        squared(part, job.saw_tolerance)
        for part in clip_piece(piece, sawn)
        # A sliver thinner than that is nothing: the joint beside it takes it up.
        if min(part.length, part.height) > job.saw_tolerance
    ]
    for part in _apart(job, parts):
        for left in clip_piece(part, keep_out.every) if keep_out.scribed else (part,):
            if left.outlines != part.outlines:
                scribed = replace(left, left_long=part.outlines, is_cut=True)
                yield _one_end(scribed, piece)
            else:
                yield _one_end(part, piece)


def _one_end(part: Piece, laid: Piece) -> Piece:
    """Keep the other end of a flat piece as delivered, where one is sawn off anyway."""
    ours, before = part.outlines[0], laid.outlines[0]
    new = set(part.cut_edges) - set(laid.cut_edges)
    for sawn, end in (("left", "right"), ("right", "left")):
        # On an arch the end that is gone may be sawn at an angle, from the bed up.
        is_off = sawn in new or getattr(ours, sawn) != getattr(before, sawn)
        if part.kind in FLAT_KINDS and is_off and end in laid.cut_edges:
            at = getattr(before, end)
            if getattr(ours, end) == at:
                return replace(
                    part,
                    outlines=(_uncut(ours, at),),
                    left_long=tuple(
                        _cut_at(_uncut(x, at), getattr(x, sawn)) for x in part.left_long
                    ),
                    cut_edges=tuple(edge for edge in part.cut_edges if edge != end),
                )
    return part


def _cut_at(outline: Outline, at: Fraction) -> Outline:
    """Return an outline with its upright side at an x sawn; a rectangle as it is."""
    if outline.is_rectangle:
        return outline
    cuts = {place for place, (a, b) in enumerate(outline.sides()) if a[0] == b[0] == at}
    return replace(outline, cuts=tuple(sorted({*outline.cuts, *cuts})))


def _uncut(outline: Outline, at: Fraction) -> Outline:
    """Return an outline with its upright side at an x not sawn."""
    cuts = tuple(
        place
        for place, (a, b) in enumerate(outline.sides())
        if place in outline.cuts and not a[0] == b[0] == at
    )
    return replace(outline, cuts=cuts)


def _apart(job: Job, parts: list[Piece]) -> Iterator[Piece]:
    """Yield the parts of a piece, without what is too near to the greatest of them."""
    if len(parts) <= 1:
        yield from parts
        return
    greatest, *others = sorted(
        parts, key=lambda part: area_within(part.outlines[0].points), reverse=True
    )
    yield greatest
    first = greatest.outlines[0]
    joint = float(job.joints.head.least) - NOTHING
    grown = polygon_of(first.points).buffer(joint, join_style="mitre")
    near: Areas = {first.face: grown}
    for other in others:
        yield from clip_piece(other, near)


def _met(part: Piece, laid: Piece | None) -> str | None:
    """Return the one side at which a rectangle was sawn to an edge out of true."""
    if laid is None or part.left_long or part.shapes or len(part.outlines) > 1:
        return None
    first, before = part.outlines[0], laid.outlines[0]
    sides = [x for x in SIDES if getattr(first, x) != getattr(before, x)]
    return sides[0] if len(sides) == 1 else None


def _lowered(job: Job, piece: Piece) -> Piece:
    """Give a piece of a scribed first course the full height of its brick."""
    outlines = tuple(
        rectangle(x.face, x.left, x.top - job.brick.height, x.right, x.top)
        for x in piece.outlines
    )
    edges = tuple(edge for edge in piece.cut_edges if edge != "bottom")
    is_cut = any(not edge.endswith(" leg") for edge in edges)
    return replace(
        piece,
        outlines=outlines,
        height=job.brick.height,
        is_cut=is_cut,
        cut_edges=edges,
    )


def lay_voussoirs(job: Job, coursing: Coursing, arch: Arch | None) -> Iterator[Piece]:
    """Yield the voussoirs of an arch as pieces."""
    if arch is None:
        return
    course = coursing.courses_below_head + 1
    stock = job.brick.height, job.brick.length
    for place, (ring, tilt) in enumerate(zip(arch.voussoirs, arch.tilts, strict=True)):
        sawn = lay_sawn(ring, tilt)
        if place == arch.keystone:
            # It is made to size by others: nothing is sawn from a brick.
            sawn = replace(sawn, cuts=())
            outline = Outline("front", ring)
            stone = flat_piece("keystone", course, outline, ())
            out = job.arch.key.projection if job.arch.key else Fraction(0)
            yield replace(stone, as_sawn=sawn, stands_out=out)
            continue
        if arch.are_whole:
            high = min(arch.ring_depth, stock[1])
            whole = rectangle("front", Fraction(0), Fraction(0), stock[0], high)
            sawn = replace(whole, cuts=() if high == stock[1] else (2,))
        sawn = _as_delivered(sawn, stock[1])
        outline = Outline("front", ring, sawn.cuts)
        edges = tuple(dict.fromkeys(sawn.sawn_ends()))
        yield replace(
            flat_piece("voussoir", course, outline, edges),
            as_sawn=sawn,
            is_cut=bool(sawn.cuts),
        )


def _as_delivered(sawn: Outline, length: Fraction) -> Outline:
    """Return a voussoir, upright, with its ends not sawn if they are the brick's own.

    They are where both are square and it is as long as its brick, but for what its
    corners are rounded by.
    """
    own = Fraction(0), length
    points = tuple(
        (x, next((at for at in own if abs(y - at) <= FINE), y)) for x, y in sawn.points
    )
    trued = replace(sawn, points=points)
    ends = {n for n, (a, b) in enumerate(trued.sides()) if a[1] == b[1] in own}
    if len(ends) < len(own):
        return sawn
    return replace(trued, cuts=tuple(n for n in sawn.cuts if n not in ends))


def find_stops(
    stops: tuple[Stop, ...], pieces: tuple[Piece, ...], widest: Fraction
) -> Iterator[Stop]:
    """Yield where the runs of brick really end, an arch between two of them too."""
    rows: dict[tuple[str, int], list[Outline]] = defaultdict(list)
    for piece, outline in standing_lowest(pieces):
        if piece.kind not in OF_AN_ARCH:
            rows[outline.face, piece.course].append(outline)
    ends: dict[tuple[FaceName, int], list[Stop]] = defaultdict(list)
    for stop in stops:
        ends[stop.face, stop.course].append(stop)
    for place, pairs in ends.items():
        pairs.sort(key=lambda stop: stop.x)
        for first, last in zip(pairs[::2], pairs[1::2], strict=True):
            inside = sorted(
                (x for x in rows[place] if first.x <= x.left and x.right <= last.x),
                key=lambda outline: outline.left,
            )
            if not inside:
                continue
            gaps = [
                (a.right, b.left)
                for a, b in pairwise(inside)
                if b.left - a.right > widest
            ]
            yield _stopped(first, inside[0].left)
            for a, b in gaps:
                yield replace(first, kind="arch", x=a)
                yield replace(first, kind="arch", x=b)
            yield _stopped(last, inside[-1].right)


def _stopped(stop: Stop, x: Fraction) -> Stop:
    return replace(stop, x=x) if stop.kind != "fold" else stop


def say_fitting(
    job: Job, surround: Surround, fitted: Fitted, arch: Arch | None
) -> Iterator[str]:
    """Yield what is sawn to fit and why, a sentence each."""
    built = surround.as_built

    def say(length: Fraction) -> str:
        return format_length(abs(length), job.lengths)

    names = ("left jamb", "right jamb", "left end", "right end")
    leans = [
        f"the {name} {say(top - foot)} to the {'right' if top > foot else 'left'}"
        for name, ((foot, _), (top, _)) in zip(
            names, (*built.jambs, *built.ends), strict=True
        )
        if top != foot
    ]
    fit = "the pieces there are sawn to suit."
    if {"opening", "left end", "right end"} & set(fitted.scribed):
        fit = "the pieces there are left long and scribed on the wall."
    if leans:
        yield f"Out of plumb: {', '.join(leans)}; {fit}"
    heads = [y for _, y in built.head]
    if max(heads) != min(heads) and arch is None:
        way = "scribed on the wall" if "opening" in fitted.scribed else "sawn to suit"
        yield (
            f"The head as found is {say(max(heads) - min(heads))} out of level: the "
            f"brick over it lands on its lowest point and is {way} elsewhere."
        )
    if arch is not None:
        yield from say_arch(job, arch)
    done = [
        f"{count} head {'joint is' if count == 1 else 'joints are'} {what}"
        for count, what in ((fitted.moved, "moved"), (fitted.joined, "left out"))
        if count
    ]
    if done:
        yield (
            f"Beside an arch or an edge out of true {' and '.join(done)}, where pieces "
            "would come out too small, too sharp or in two."
        )
    if any(tip.is_wedge for *_, tip in fitted.tips):
        yield (
            "Where a whole brick ends square before the back of the arch, the wedge "
            "between them is mortar."
        )
    if not all(tip.is_wedge for *_, tip in fitted.tips):
        aslant = any(tip.aslant is not None for *_, tip in fitted.tips)
        more = say(job.bond.longest_fillet)
        yield (
            "Where a course runs out on the arch its tip is cut off square, before it "
            f"is thinner than {say(job.bond.least_width)}; mortar takes the rest."
            + f" Where that would be more than {more} it is cut aslant."
            * aslant
        )
