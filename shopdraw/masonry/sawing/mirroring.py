"""Mend a course that was its own mirror image into one.

In:  the courses as mended.   Out: the same, mirrored where that is as good.
Frame: as `Surround`; exact.

Mending goes from left to right, a pair of pieces at a time, so what stands on the
centre line may have been mended at one side of it only.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import shapely
from shapely.affinity import scale

from shopdraw.masonry.sawing.clipping import NOTHING, clip_piece
from shopdraw.masonry.sawing.mending import Mend, Row, Span, on_face
from shopdraw.masonry.wall.layout import FLAT_KINDS, Outline, Piece

Spans = Sequence[Span | None]
"""Where each piece begins and ends, left to right; None for one left out."""
FAR = 10_000.0
"""Past the end of any face."""


def mirror_rows(mend: Mend, centre: Fraction) -> None:
    """Mirror what was mended at one side of the opening's centre line only.

    Of the left half mirrored, the right half mirrored and the course as laid, the one
    with the fewest faults is taken. What was mended stays only where it is without a
    piece too small or in two, and none of those is.
    """
    for row, places in mend.rows.items():
        if row[0] != "front" or "front" not in mend.keep_out:
            continue
        laid = [_span(on_face(mend.laid[place], "front")) for place in places]
        pieces = [mend.pieces[place] for place in places]
        mended = [None if x is None else _span(on_face(x, "front")) for x in pieces]
        if is_mirrored(mended, centre) or not is_mirrored(laid, centre):
            continue
        if not _meets_a_mirror(mend, row, centre):
            continue
        halves = [mirror_half(laid, mended, centre, left=x) for x in (True, False)]
        ways = [_pieces_of(mend, row, x) for x in (*halves, laid) if x is not None]
        judged = [(mend.faults_of(row, x), x) for x in ways if x is not None]
        faults, best = min(judged, key=lambda each: each[0])
        as_mended = mend.faults_of(row, pieces)
        if faults[:2] <= as_mended[:2] or any(as_mended[:2]):
            for place, piece in zip(places, best, strict=True):
                mend.pieces[place] = piece


def is_mirrored(spans: Spans, centre: Fraction) -> bool:
    """Whether a course is its own mirror image."""
    there = [span for span in spans if span is not None]
    return there == [_turned(span, centre) for span in reversed(there)]


def mirror_half(
    laid: Sequence[Span], mended: Spans, centre: Fraction, *, left: bool
) -> tuple[Span | None, ...] | None:
    """Return a course with one half as it was mended, and the other its mirror image.

    Args:
        laid: the course as laid, its own mirror image.
        mended: the same course as it was mended.
        centre: the centre line.
        left: whether the left half is the one that is kept.

    Returns:
        None where what is on that half reaches past the centre line, so that it can't
        be mirrored.
    """
    if not left:
        turned = mirror_half(
            [_turned(span, centre) for span in reversed(laid)],
            _all_turned(mended, centre),
            centre,
            left=True,
        )
        return None if turned is None else _all_turned(turned, centre)
    half, is_odd = divmod(len(laid), 2)
    kept = tuple(mended[:half])
    if not is_odd:
        # The joint on the centre line stays where it is.
        ends = [span[1] for span in kept if span is not None]
        is_kept = ends[-1:] == [laid[half - 1][1]]
        return (*kept, *_all_turned(kept, centre)) if is_kept else None
    across = mended[half]
    if across is None or across[0] >= centre:
        return None
    middle = across[0], 2 * centre - across[0]
    return (*kept, middle, *_all_turned(kept, centre))


def _pieces_of(mend: Mend, row: Row, spans: Spans) -> list[Piece | None] | None:
    """Return the pieces of a course laid so; None where one can't be had."""
    pieces: list[Piece | None] = []
    for place, span in zip(mend.rows[row], spans, strict=True):
        piece = mend.laid[place]
        old = _span(on_face(piece, row[0]))
        if span is None:
            pieces.append(None)
            continue
        if span == old:
            pieces.append(piece)
            continue
        anew = mend.anew(row, piece, span)
        if not _can_be_had(mend, anew, (span[1] - span[0], old[1] - old[0])):
            return None
        pieces.append(anew)
    return pieces


def _can_be_had(mend: Mend, anew: Piece, lengths: tuple[Fraction, Fraction]) -> bool:
    """Whether a piece laid anew is long enough, and comes out of one brick.

    Across an arch it is two pieces, each of them out of one. A leg of a corner unit is
    no longer than it was.

    Args:
        mend: what is mended.
        anew: the piece.
        lengths: how long it is now, and as laid.
    """
    length, old = lengths
    if anew.kind not in FLAT_KINDS:
        return mend.limits.length <= length <= old
    parts = clip_piece(anew, mend.areas_of(anew))
    longest = max((part.length for part in parts), default=length)
    return mend.limits.length <= length and longest <= mend.job.brick.length


def _meets_a_mirror(mend: Mend, row: Row, centre: Fraction) -> bool:
    """Whether what a course keeps out of is its own mirror image."""
    outlines = [on_face(mend.laid[place], row[0]) for place in mend.rows[row]]
    low = float(min(outline.bottom for outline in outlines))
    high = float(max(outline.top for outline in outlines))
    band = shapely.box(-FAR, low, FAR, high).intersection(mend.keep_out[row[0]])
    turned = scale(band, -1, 1, origin=(float(centre), 0))
    apart = band.symmetric_difference(turned)
    return bool(apart.area <= NOTHING * max(1.0, apart.length))


def _span(outline: Outline) -> Span:
    return outline.left, outline.right


def _turned(span: Span, centre: Fraction) -> Span:
    return 2 * centre - span[1], 2 * centre - span[0]


def _all_turned(spans: Spans, centre: Fraction) -> tuple[Span | None, ...]:
    return tuple(
        None if span is None else _turned(span, centre) for span in reversed(spans)
    )
