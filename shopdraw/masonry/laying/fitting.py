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
from shapely.geometry.base import BaseGeometry

from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.heads.arches import lay_sawn
from shopdraw.masonry.laying.clipping import Areas, Mend, clip_piece, polygon_of
from shopdraw.masonry.wall.asbuilt import plan_bottom_course
from shopdraw.masonry.wall.form import Face, FaceName, Surround, x_at
from shopdraw.masonry.wall.layout import (
    Arch,
    Outline,
    Piece,
    Stop,
    flat_piece,
    rectangle,
    standing_lowest,
)
from shopdraw.masonry.wall.surround import opening_ring

FAR = 10_000.0
"""A distance beyond the end of any face."""


@dataclass(frozen=True)
class Fitted:
    """The pieces as they are sawn to fit.

    Attributes:
        pieces: not named yet.
        moved: how many head joints were moved or left out beside what is out of true.
    """

    pieces: tuple[Piece, ...]
    moved: int


def fit_pieces(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    pieces: tuple[Piece, ...],
    arch: Arch | None,
) -> Fitted:
    """Clip every piece to what is really there, and scribe the first course."""
    keep_out = trace_keep_out(job, surround, coursing, arch)
    if not keep_out:
        return Fitted(pieces, 0)
    if plan_bottom_course(job).is_scribed:
        pieces = tuple(
            _lowered(job, piece) if piece.course == 1 else piece for piece in pieces
        )
    touched = _touched(pieces, keep_out)
    clipped = {
        place: clip_piece(piece, keep_out) if place in touched else (piece,)
        for place, piece in enumerate(pieces)
        if any(outline.face in keep_out for outline in piece.outlines)
    }
    mend = Mend(job, pieces, clipped, keep_out)
    mend.all_rows()
    whole = (
        mend.clipped.get(place, (piece,))
        for place, piece in enumerate(mend.pieces)
        if piece is not None
    )
    return Fitted(tuple(piece for parts in whole for piece in parts), mend.moved)


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


def trace_keep_out(
    job: Job, surround: Surround, coursing: Coursing, arch: Arch | None
) -> Areas:
    """Return the areas of each face that brick keeps out of, if anything is untrue."""
    areas: dict[FaceName, list[BaseGeometry]] = defaultdict(list)
    built = surround.as_built
    if not built.is_true or arch is not None:
        areas["front"].append(
            polygon_of(
                dropped(
                    opening_ring(surround, coursing.head, arch, surround.opening.beside)
                )
            )
        )
    if arch is not None:
        areas["front"].append(polygon_of(arch.keep_out))
    edges = (surround.left_edge, surround.right_edge)
    for line, edge, face, way in zip(
        built.ends, edges, (surround.faces[0], surround.faces[-1]), (-1, 1), strict=True
    ):
        if line[0][0] == line[1][0]:
            continue
        aside = abs(edge.x - edge.brick_x) * -way
        far = Fraction(FAR)
        ends = [(x_at(line, y) + aside, y) for y in (-far, far)]
        beyond = [(x + way * far * 2, y) for x, y in reversed(ends)]
        areas[face.name].append(polygon_of((*ends, *beyond)))
    bottom = plan_bottom_course(job)
    if bottom.is_scribed:
        for face in (*surround.faces, *surround.reveals):
            areas[face.name].append(_below(surround, coursing.joints[0], face))
    return {face: shapely.union_all(parts) for face, parts in areas.items()}


def dropped(
    ring: tuple[tuple[Fraction, Fraction], ...],
) -> list[tuple[Fraction, Fraction]]:
    """Lengthen an opening downward from its feet, to below any hearth."""
    (left, _), (right, _), *rest = ring
    down = Fraction(-FAR)
    return [(left, down), (right, down), ring[1], *rest, ring[0]]


def _below(surround: Surround, joint: Fraction, face: Face) -> BaseGeometry:
    """Return the hearth below one face, and the joint on top of it."""
    hearth, down = surround.hearth_under(face), Fraction(-FAR)
    line = [(x, y + joint) for x, y in hearth.between(face.left, face.right)]
    return polygon_of((*line, (face.right, down), (face.left, down)))


def _lowered(job: Job, piece: Piece) -> Piece:
    """Give a piece of a scribed first course the full height of its brick."""
    outlines = tuple(
        rectangle(x.face, x.left, x.top - job.brick.height, x.right, x.top)
        for x in piece.outlines
    )
    edges = tuple(edge for edge in piece.cut_edges if edge != "bottom")
    return replace(piece, outlines=outlines, height=job.brick.height, cut_edges=edges)


def lay_voussoirs(job: Job, coursing: Coursing, arch: Arch | None) -> Iterator[Piece]:
    """Yield the voussoirs of an arch as pieces."""
    if arch is None:
        return
    course = coursing.courses_below_head + 1
    stock = job.brick.height, job.brick.length
    for ring, tilt in zip(arch.voussoirs, arch.tilts, strict=True):
        sawn = lay_sawn(ring, tilt)
        if arch.are_whole:
            high = min(arch.depth, stock[1])
            whole = rectangle("front", Fraction(0), Fraction(0), stock[0], high)
            sawn = replace(whole, cuts=() if high == stock[1] else (2,))
        outline = Outline("front", ring, sawn.cuts)
        edges = tuple(dict.fromkeys(sawn.sawn_ends()))
        yield replace(
            flat_piece("voussoir", course, outline, edges),
            as_sawn=sawn,
            is_cut=bool(sawn.cuts),
        )


def find_stops(
    stops: tuple[Stop, ...], pieces: tuple[Piece, ...], widest: Fraction
) -> Iterator[Stop]:
    """Yield where the runs of brick really end, an arch between two of them too."""
    rows: dict[tuple[str, int], list[Outline]] = defaultdict(list)
    for piece, outline in standing_lowest(pieces):
        if piece.kind != "voussoir":
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
    if leans:
        yield f"Out of plumb: {', '.join(leans)}; the pieces there are sawn to suit."
    heads = [y for _, y in built.head]
    if max(heads) != min(heads) and arch is None:
        yield (
            f"The head as found is {say(max(heads) - min(heads))} out of level: the "
            "brick over it lands on its lowest point and is sawn to suit elsewhere."
        )
    if arch is not None:
        yield from _say_arch(job, arch)
    if fitted.moved:
        joints = "head joint is" if fitted.moved == 1 else "head joints are"
        yield (
            f"Beside an arch or an edge out of true {fitted.moved} {joints} moved or "
            "left out, where pieces would come out too short or in two."
        )


def _say_arch(job: Job, arch: Arch) -> Iterator[str]:
    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    rays = len(arch.joints) - 1
    kind = "whole brick with tapered joints" if arch.are_whole else "sawn tapered"
    ends = [x for joint in arch.joints for x in (joint.at_soffit, joint.at_back)]
    least, most = (
        say(Fraction(x).limit_denominator(1000)) for x in (min(ends), max(ends))
    )
    yield (
        f"{arch.kind.capitalize()}: span {say(arch.span)}, "
        f"{'camber' if arch.kind == 'jack arch' else 'rise'} {say(arch.rise)}, depth "
        f"{say(arch.depth)}, skewbacks {arch.skewback_deg:.1f} degrees from plumb; "
        f"{rays} voussoirs, {kind}, the key on the centre line; joints {least} to "
        f"{most} between soffit and back."
    )
    if len(arch.voussoirs) != rays:
        yield "Each voussoir is in two pieces: one brick is too short for the depth."
