"""Name widths near the job's that would need no cuts but halves.

In:  `BondPlan`, the pieces as laid.   Out: sentences.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.lengths import format_length
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.wall.layout import Piece
from shopdraw.masonry.wall.surround import corner_legs


def find_better_widths(plan: BondPlan, pieces: tuple[Piece, ...]) -> tuple[str, ...]:
    """Name, for each leg and return with cuts other than halves, widths that would fit.

    These are the nearest width below and above, at the preferred head joint, and how
    to get there: a wider edge joint for a narrower one, more build-out for a wider one.
    """
    said: dict[str, list[str]] = {}
    for name, left, right, has_fold in _zones(plan):
        inside = [
            piece
            for piece in pieces
            if piece.kind == "stretcher"
            and piece.outlines[0].left >= left
            and piece.outlines[0].right <= right
        ]
        if all(_is_whole_or_half(plan, piece) for piece in inside):
            continue
        fits = _fitting_widths(plan, right - left, has_fold=has_fold)
        for sentence in _sentences(plan, right - left, fits):
            said.setdefault(sentence, []).append(name)
    return tuple(
        f"{' and '.join(names).capitalize()}: {sentence}"
        for sentence, names in said.items()
    )


def _zones(plan: BondPlan) -> Iterator[tuple[str, Fraction, Fraction, bool]]:
    surround = plan.surround
    has = {face.name for face in surround.faces}
    opening, front = surround.opening, surround.front
    left, right = surround.left_edge.brick_x, surround.right_edge.brick_x
    if "left" in has:
        yield "left return", left, front.left, True
    yield (
        "left leg",
        front.left if "left" in has else left,
        opening.brick_left,
        "left" in has,
    )
    yield (
        "right leg",
        opening.brick_right,
        front.right if "right" in has else right,
        "right" in has,
    )
    if "right" in has:
        yield "right return", front.right, right, True


def _half(plan: BondPlan) -> Fraction:
    return (plan.job.brick.length - plan.job.joints.head.preferred) / 2


def _is_whole_or_half(plan: BondPlan, piece: Piece) -> bool:
    return piece.length in (plan.job.brick.length, _half(plan))


def _fitting_widths(
    plan: BondPlan, width: Fraction, *, has_fold: bool
) -> tuple[Fraction | None, Fraction | None]:
    """Return the nearest widths, below and above, that need no cuts but halves."""
    joint, unit = plan.job.joints.head.preferred, plan.job.brick.length
    half = _half(plan)
    starts = [unit, half]
    if has_fold and plan.job.brick.corner is not None:
        starts = list(corner_legs(plan.job.brick.corner, plan.job.brick.thickness))
    count = int(width / (unit + joint)) + 2
    closes = [
        {
            start + n * (unit + joint) + more
            for n in range(count + 1)
            for more in (Fraction(0), joint + half)
        }
        for start in starts
    ]
    both = closes[0] & closes[1]
    below = max((x for x in both if x < width), default=None)
    above = min((x for x in both if x > width), default=None)
    return below, above


def _sentences(
    plan: BondPlan, width: Fraction, fits: tuple[Fraction | None, Fraction | None]
) -> Iterator[str]:
    lengths = plan.job.lengths
    below, above = fits
    most = plan.job.joints.head.most
    if below is not None:
        less = format_length(width - below, lengths)
        makes = f"that is {less} narrower"
        if width - below <= most:
            makes = f"an edge joint {less} wider gives that"
        yield f"{format_length(below, lengths)} would need no cuts but halves; {makes}."
    if above is not None:
        more = format_length(above - width, lengths)
        makes = f"that is {more} wider"
        if above - width <= most:
            makes = f"{more} more build-out gives that"
        yield f"{format_length(above, lengths)} would need no cuts but halves; {makes}."
