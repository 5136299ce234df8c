"""Give each piece its ID and its mark, and list like pieces together.

In:  `Piece`s without names.   Out: the same, named, in reading order; `CutListRow`s.
Frame: as `Surround`.

An ID names one piece: face, course, place in the course. A mark names a kind of piece,
and like pieces share it: a letter for what they are, and a number where they are sawn.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import ceil

import shapely

from shopdraw.job.model import Job
from shopdraw.job.model_brick import CornerTable
from shopdraw.lengths import format_length, shown_step
from shopdraw.masonry.sawing.clipping import FINEST, polygon_of
from shopdraw.masonry.sawing.shapes import corners_turned_in, has_notch
from shopdraw.masonry.wall.form import FaceName
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    OF_AN_ARCH,
    STANDING_KINDS,
    CutListRow,
    Hand,
    Outline,
    Piece,
    PieceKind,
    from_the_left,
    mark_order,
)
from shopdraw.masonry.wall.printing import as_printed
from shopdraw.masonry.wall.turning import turning_of

LETTERS: dict[PieceKind, str] = {
    "stretcher": "B",
    "header": "H",
    "closer": "Q",
    "corner unit": "C",
    "soldier": "S",
    "rowlock": "R",
    "soldier corner unit": "SC",
    "voussoir": "V",
    "keystone": "K",
}
"""Our own: B for a brick laid flat, H for a header, Q for a closer (queen closer), C
for a corner unit, S for a soldier, R for a rowlock, V for a voussoir, K for a
keystone."""

FACE_CODES: dict[FaceName, str] = {
    "left": "L",
    "left chamfer": "LC",
    "front": "F",
    "right chamfer": "RC",
    "right": "R",
    "left alcove": "LA",
    "right alcove": "RA",
    "left reveal": "LJ",
    "right reveal": "RJ",
    "hearth": "H",
    "left riser": "HL",
    "riser": "HF",
    "right riser": "HR",
    "panel": "P",
}
"""Our own: how the IDs of a face's pieces begin; J for a jamb, LC for the left chamfer,
LA for the left alcove, H for the hearth, HF for its front, P for a panel."""
Likeness = tuple[object, ...]
HAND = 4
"""The place in a likeness of the hand of a corner unit, left or right."""


def mark_pieces(pieces: tuple[Piece, ...], job: Job) -> tuple[Piece, ...]:
    """Give pieces their names, in reading order: bottom up, then left to right."""
    ordered = sorted(pieces, key=_reading_order)
    likenesses = [_likeness(piece, job) for piece in ordered]
    marks = _marks(dict(zip(reversed(likenesses), reversed(ordered), strict=True)))
    places: dict[tuple[str, int], int] = defaultdict(int)
    named = []
    for piece, likeness in zip(ordered, likenesses, strict=True):
        places[piece.place, piece.course] += 1
        place = places[piece.place, piece.course]
        named.append(
            replace(
                piece,
                id=f"{FACE_CODES[piece.place]}-{piece.course:02d}-{place:02d}",
                mark=marks[likeness],
            )
        )
    return tuple(named)


def _reading_order(piece: Piece) -> tuple[int, float, float]:
    first = piece.outlines[0]
    return piece.course, float(first.left), float(first.bottom)


def _likeness(piece: Piece, job: Job) -> Likeness:
    """Return what makes pieces alike: those with the same get the same mark.

    A corner unit that may be turned over serves left and right; one that may not is a
    left or a right one, by the side that its long leg is on. So is one that is sawn to
    shape: turned over, its shape would be the other way up.
    """
    return (
        piece.kind,
        piece.is_cut or piece.is_trimmed,
        *_size(piece),
        _hand(piece, job),
        "mitre" in piece.cut_edges,
        piece.turn,
        bool(piece.left_long),
        tuple(
            (shape.points, shape.cuts)
            for each in piece.shapes
            for shape in as_printed((each.at_origin(),), job.lengths)
        ),
    )


def _size(piece: Piece) -> tuple[object, object]:
    """Return a piece's length and height, unless its shape says more than these."""
    if piece.kind in OF_AN_ARCH or (piece.shapes and not piece.legs):
        return None, None
    length, height, legs = made_size(piece)
    if piece.shapes:
        return legs, None
    return (legs or length), height


def made_size(piece: Piece) -> tuple[Fraction, Fraction, tuple[Fraction, ...]]:
    """Return the length, height and legs of a piece as it is made.

    A voussoir is as it lies on its brick, not as it leans on the wall; a piece that is
    scribed is as it is left long.
    """
    first = piece.as_sawn or piece.before_scribing[0]
    legs = tuple(x.right - x.left for x in piece.before_scribing) if piece.legs else ()
    return first.right - first.left, first.top - first.bottom, legs


def _hand(piece: Piece, job: Job) -> Hand:
    corner: CornerTable | None = {
        "corner unit": job.brick.corner,
        "soldier corner unit": job.brick.soldier_corner,
    }.get(piece.kind)
    if corner is None or (corner.turns_over and not piece.shapes):
        return ""
    first, second = piece.outlines
    return "L" if first.left < second.left else "R"


def _marks(like: dict[Likeness, Piece]) -> dict[Likeness, str]:
    """Return a mark for every likeness: plain for whole pieces, numbered for sawn ones.

    Args:
        like: the first piece of each, in reading order.
    """
    marks: dict[Likeness, str] = {}
    counts: dict[str, int] = defaultdict(int)
    for likeness in sorted(like, key=lambda x: _largest_first(like[x], x)):
        piece = like[likeness]
        letters = LETTERS[piece.kind]
        if _is_numbered(piece):
            counts[letters] += 1
            letters += str(counts[letters])
        marks[likeness] = letters + (f"-{likeness[HAND]}" if likeness[HAND] else "")
    return marks


def _is_numbered(piece: Piece) -> bool:
    """Whether somebody must saw it: its mark has a number."""
    mitred = piece.is_made or "mitre" in piece.cut_edges
    return piece.is_cut or piece.is_trimmed or mitred


def _largest_first(piece: Piece, likeness: Likeness) -> tuple[object, ...]:
    length, height, legs = made_size(piece)
    return (
        list(LETTERS).index(piece.kind),
        piece.is_cut or piece.is_trimmed,
        -length,
        -height,
        tuple(-leg for leg in legs),
        str(likeness[HAND]),
        str(likeness[-1]),
    )


def list_cuts(job: Job, laid: tuple[Piece, ...]) -> tuple[CutListRow, ...]:
    """List every mark once, whole pieces first, with how many there are."""
    groups: dict[str, list[Piece]] = defaultdict(list)
    for piece in laid:
        groups[piece.mark].append(piece)
    rows = []
    for mark, pieces in groups.items():
        first = pieces[0]
        # It is listed as it is sawn, not as it is on the wall.
        length, height, legs = made_size(first)
        rows.append(
            CutListRow(
                mark=mark,
                kind=first.kind,
                length=length,
                height=height,
                legs=legs,
                is_cut=first.is_cut,
                is_trimmed=first.is_trimmed,
                count=len(pieces),
                ids=tuple(piece.id for piece in pieces),
                note=_note(pieces, job),
                shapes=tuple(shape.at_origin() for shape in first.shapes),
                turn=first.turn,
                hand=_hand(first, job),
                is_scribed=bool(first.left_long),
                unfolded=tuple(_unfolded(first)),
            )
        )
    rows = [
        replace(row, note="; ".join(x for x in (row.note, turning_of(row)) if x))
        for row in rows
    ]
    rows.sort(key=lambda row: (row.is_cut or row.is_trimmed, mark_order(row.mark)))
    return tuple(rows)


def _unfolded(piece: Piece) -> Iterator[Outline]:
    """Yield both legs of a corner unit sawn to shape, from the left, as on the wall."""
    if piece.kind not in CORNER_KINDS or not piece.shapes:
        return
    legs = from_the_left(piece.before_scribing)
    low, at = min(leg.bottom for leg in legs), Fraction(0)
    for leg in legs:
        yield leg.moved(at - leg.left, -low)
        at += leg.right - leg.left


def _note(pieces: list[Piece], job: Job) -> str:
    """Say what whoever saws the pieces of a mark must know."""
    piece, notes = pieces[0], []
    if piece.kind == "keystone":
        return "made by others to its template"
    if piece.is_trimmed:
        notes.append("trim from the free end")
    if piece.is_made:
        notes.append(f"two flat brick mitred at {float(piece.turn / 2):g} degrees")
    if "mitre" in piece.cut_edges:
        notes.append("mitre one long edge")
    if piece.is_cut and not piece.legs:
        notes += _note_of_cuts(piece, job)
    notched = [x for x in pieces if any(map(has_notch, x.outlines))]
    if notched:
        # What is sawn to shape has its notch in its own drawing.
        where = [] if piece.shapes else [y for x in notched for y in _notches(x, job)]
        which = f" ({' and '.join(where)})" if where else ""
        notes.append(f"notch{which}: ground out, it may break there")
    if piece.left_long:
        most = format_length(max(_left_long(each, job) for each in pieces), job.lengths)
        notes.append(f"left long by up to {most}: mark and scribe on the wall")
    return "; ".join(notes)


def _notches(piece: Piece, job: Job) -> Iterator[str]:
    """Say where each notch is on the wall, how long and how high."""
    for outline in filter(has_notch, piece.outlines):
        at = f"{outline.face}, course {piece.course}"
        corners = corners_turned_in(outline)
        if len(corners) == 1:
            x, y = outline.points[corners[0]]
            long, end = min((x - outline.left, "left"), (outline.right - x, "right"))
            high, edge = min((y - outline.bottom, "lower"), (outline.top - y, "upper"))
            size = " x ".join(format_length(side, job.lengths) for side in (long, high))
            at += f", {edge} {end}, {size}"
        yield at


def _note_of_cuts(piece: Piece, job: Job) -> Iterator[str]:
    sides = [edge for edge in piece.cut_edges if edge != "mitre"]
    if piece.as_sawn is not None and not piece.shapes:
        # As it lies on the brick, not as it is turned on the hearth.
        sides = list(piece.as_sawn.sawn_ends())
    stands = piece.kind in STANDING_KINDS
    length, height, _ = made_size(piece)
    along = height if stands else length
    # Left as long as a whole brick, it goes to the wall with both its ends.
    is_whole = piece.left_long and not piece.shapes and along >= job.brick.length
    if len(piece.delivered_ends) == 1 and not is_whole:
        yield "one end as delivered"
    if piece.shapes:
        yield "sawn to shape, as drawn"
    elif {"top", "bottom"} & set(sides) and not piece.left_long:
        yield "sawn to height"
    if not piece.shapes and stands and {"left", "right"} & set(sides):
        yield "sawn along its length"


def _left_long(piece: Piece, job: Job) -> Fraction:
    """Return by how much a piece is left long at the most, in a figure that prints."""
    farthest = max(
        polygon_of(outline.points).distance(shapely.Point(float(x), float(y)))
        for made, outline in zip(piece.left_long, piece.outlines, strict=True)
        for x, y in made.points
    )
    step = shown_step(job.lengths)
    return ceil(Fraction(farthest) / step - Fraction(1, FINEST)) * step
