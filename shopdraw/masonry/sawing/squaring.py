"""Saw square what hardly tapers, and like pieces to one size.

In:  pieces as clipped.   Out: the same, squared and sized.
Frame: as `Surround`; exact.

A saw is no truer than its tolerance. So an edge that tapers by less is cut square,
where the piece is tightest; and pieces that differ by no more are sawn to one size, so
that they share a mark.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import groupby, pairwise
from math import floor

from shopdraw.job.model import Job
from shopdraw.lengths import shown_step
from shopdraw.masonry.sawing.clipping import with_outlines
from shopdraw.masonry.wall.layout import (
    FLAT_KINDS,
    RUNNING_KINDS,
    SIDES,
    STANDING_KINDS,
    Outline,
    Piece,
    Point,
)

AXIS = {"left": 0, "right": 0, "bottom": 1, "top": 1}
INWARD = {"left": 1, "right": -1, "bottom": 1, "top": -1}
Range = tuple[Fraction, Fraction]
Ends = tuple[Fraction, Fraction, int]
"""Where a piece begins and ends in its course, and its place."""


def squared(piece: Piece, tolerance: Fraction) -> Piece:
    """Return a piece, cut square where it tapers by less than the tolerance."""
    outlines = tuple(_squared(outline, tolerance) for outline in piece.outlines)
    if outlines == piece.outlines:
        return piece
    return with_outlines(piece, outlines)


def _squared(outline: Outline, tolerance: Fraction) -> Outline:
    for side in SIDES:
        axis, inward = AXIS[side], INWARD[side]
        facing = [
            (place, ends)
            for place, ends in enumerate(outline.sides())
            if _faces(ends) == side
        ]
        slants = any(
            place in outline.cuts and a[axis] != b[axis] for place, (a, b) in facing
        )
        levels = [end[axis] * inward for _, ends in facing for end in ends]
        # Beside such a side the piece may go on: that is no taper.
        furthest = min(point[axis] * inward for point in outline.points)
        if slants and max(levels) - furthest < tolerance:
            outline = _cut_off(outline, axis, inward, max(levels))
    return outline


def _faces(side: tuple[Point, Point]) -> str:
    """Return which way a side of an anticlockwise ring faces."""
    (x1, y1), (x2, y2) = side
    across, up = y2 - y1, x1 - x2
    if abs(across) > abs(up):
        return "right" if across > 0 else "left"
    return "top" if up > 0 else "bottom"


def _cut_off(outline: Outline, axis: int, inward: int, level: Fraction) -> Outline:
    """Return what of an outline lies on the inner side of a level or upright line."""
    points: list[tuple[Point, bool]] = []
    for place, (a, b) in enumerate(outline.sides()):
        is_cut = place in outline.cuts
        inside = [end[axis] * inward >= level for end in (a, b)]
        if inside[0]:
            # A side that leaves goes on as the new cut, from where it leaves.
            points.append((a, is_cut))
        if inside[0] != inside[1]:
            share = (level * inward - a[axis]) / (b[axis] - a[axis])
            spot = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
            points.append((spot, is_cut or inside[0]))
    kept = [
        each
        for each, after in zip(points, [*points[1:], points[0]], strict=True)
        if each[0] != after[0]
    ]
    start = min(range(len(kept)), key=lambda i: (sum(kept[i][0]), kept[i][0]))
    kept = [*kept[start:], *kept[:start]]
    ring = [point for point, _ in kept]
    on_line = [
        a[axis] * inward == level == b[axis] * inward
        for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
    ]
    cuts = tuple(
        place for place, (_, is_cut) in enumerate(kept) if is_cut or on_line[place]
    )
    return _merged(replace(outline, points=tuple(ring), cuts=cuts))


def _merged(outline: Outline) -> Outline:
    """Return an outline without corners that lie on a straight side."""
    ring, count = outline.points, len(outline.points)
    keep = []
    for place, (x, y) in enumerate(ring):
        (x1, y1), (x2, y2) = ring[place - 1], ring[(place + 1) % count]
        if (x - x1) * (y2 - y) != (y - y1) * (x2 - x):
            keep.append(place)
    cuts = tuple(new for new, old in enumerate(keep) if old in outline.cuts)
    return replace(outline, points=tuple(ring[place] for place in keep), cuts=cuts)


# ------------------------------------------------------------------- of the same size


def share_sizes(
    job: Job, pieces: Sequence[Piece], met: Sequence[str | None]
) -> tuple[Piece, ...]:
    """Saw pieces that differ by no more than the tolerance to one size.

    Args:
        job: the tolerance, and the range of the joints.
        pieces: as they are on the wall, squared.
        met: of each piece the side at which it meets an edge out of true ("left",
            "right", "bottom", "top"); None for one that is left alone. An upright side
            stays where it is, and the head joint at the other end makes up for it; from
            a level one the saw may take more.
    """
    sized = list(pieces)
    _share(job, sized, met, ("bottom", "top"), _height_ranges)
    _share(job, sized, met, ("left", "right"), _length_ranges)
    return tuple(sized)


def _share(
    job: Job,
    pieces: list[Piece],
    met: Sequence[str | None],
    ends: tuple[str, str],
    ranges_of: Callable[[Job, list[Piece], Sequence[str | None]], dict[int, Range]],
) -> None:
    """Give the pieces that meet an edge at such ends the fewest sizes."""
    ranges = {
        place: span
        for place, span in ranges_of(job, pieces, met).items()
        if met[place] in ends
    }
    axis = AXIS[ends[0]]
    ordered = sorted(ranges, key=lambda place: _alike(pieces[place], axis))
    for _, group in groupby(ordered, key=lambda place: _alike(pieces[place], axis)):
        places = list(group)
        grid = shown_step(job.lengths)
        sizes = fewest_sizes([ranges[place] for place in places], grid)
        for place, size in zip(places, sizes, strict=True):
            pieces[place] = _sized(pieces[place], axis, met[place] or "", size)


def _alike(piece: Piece, axis: int) -> tuple[str, Fraction]:
    """Return what pieces share that may share a size along an axis."""
    return piece.kind, (piece.height, piece.length)[axis]


def fewest_sizes(ranges: Sequence[Range], grid: Fraction) -> tuple[Fraction, ...]:
    """Return a size for each range that lies in it, as few different ones as can be.

    A range with a multiple of the grid in it gets one: that is what is printed. Taken
    in the order of their ends, each range that has no size yet gives the greatest that
    it allows: no choice of sizes on the grid needs fewer.
    """
    sizes: dict[int, Fraction] = {}
    order = sorted(range(len(ranges)), key=lambda place: ranges[place][1])
    for place in order:
        if place in sizes:
            continue
        low, high = ranges[place]
        size = floor(high / grid) * grid
        size = size if size >= low else high
        for other in order:
            if other not in sizes and ranges[other][0] <= size <= ranges[other][1]:
                sizes[other] = size
    return tuple(sizes[place] for place in range(len(ranges)))


def _height_ranges(
    job: Job, pieces: list[Piece], met: Sequence[str | None]
) -> dict[int, Range]:
    """Return the heights that pieces may be sawn to: no higher than there is room.

    Each has a figure that prints in it.
    """
    kinds = (*FLAT_KINDS, *STANDING_KINDS)
    return {
        place: (_down_to_grid(job, piece.height - job.saw_tolerance), piece.height)
        for place, piece in enumerate(pieces)
        if met[place] and len(piece.outlines) == 1 and piece.kind in kinds
    }


def _length_ranges(
    job: Job, pieces: list[Piece], met: Sequence[str | None]
) -> dict[int, Range]:
    """Return the lengths that pieces may be sawn to, their free end at a head joint.

    Each joint stays in range; where both pieces beside it may change, each has half of
    what there is to spare.
    """
    joint, tolerance = job.joints.head, job.saw_tolerance
    found: dict[int, Range] = {}
    for left, right, gap in _neighbours(pieces, joint.most):
        free = [
            place
            for place, end in ((left, "left"), (right, "right"))
            if met[place] == end and pieces[place].kind in FLAT_KINDS
        ]
        for place in free:
            length, share = pieces[place].length, len(free)
            found[place] = _with_a_figure(
                job,
                (length - tolerance, length + tolerance),
                (
                    length - max(Fraction(0), joint.most - gap) / share,
                    min(
                        length + max(Fraction(0), gap - joint.least) / share,
                        job.brick.length,
                    ),
                ),
            )
    return found


def _down_to_grid(job: Job, value: Fraction) -> Fraction:
    step = shown_step(job.lengths)
    return floor(value / step) * step


def _with_a_figure(job: Job, wanted: Range, allowed: Range) -> Range:
    """Return what is wanted and allowed, as far on as the next figure that prints."""
    step = shown_step(job.lengths)
    low, high = max(wanted[0], allowed[0]), min(wanted[1], allowed[1])
    if floor(high / step) * step >= low:
        return low, high
    above = floor(high / step) * step + step
    if above <= allowed[1]:
        return low, above
    return max(allowed[0], above - step), high


def _neighbours(
    pieces: list[Piece], widest: Fraction
) -> Iterator[tuple[int, int, Fraction]]:
    """Yield the places of the pieces beside each head joint, and how wide it is."""
    rows: dict[tuple[str, int], list[Ends]] = defaultdict(list)
    for place, piece in enumerate(pieces):
        if piece.kind in RUNNING_KINDS:
            for outline in piece.outlines:
                ends = outline.left, outline.right, place
                rows[outline.face, piece.course].append(ends)
    for row in rows.values():
        row.sort()
        for (_, right, a), (left, _, b) in pairwise(row):
            if 0 < left - right <= widest:
                yield a, b, left - right


def _sized(piece: Piece, axis: int, met: str, size: Fraction) -> Piece:
    """Return a rectangular piece with another size along an axis."""
    outline = piece.outlines[0]
    ends = (outline.left, outline.bottom), (outline.right, outline.top)
    low, high = ends[0][axis], ends[1][axis]
    if high - low == size:
        return piece
    keeps_low = met in ("left", "top")
    at = low + size if keeps_low else high - size
    moved = high if keeps_low else low

    def placed(point: Point) -> Point:
        if point[axis] != moved:
            return point
        return (at, point[1]) if axis == 0 else (point[0], at)

    ring = tuple(placed(point) for point in outline.points)
    return with_outlines(piece, (replace(outline, points=ring),))
