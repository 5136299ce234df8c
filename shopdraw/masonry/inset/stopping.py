"""Stop the courses beside a panel: a head joint short of it, and no piece too short.

In:  the `Piece`s as the bond lays them, `FacePanel`s.   Out: `Stopped`.
Frame: as `Surround`; exact.

Joints of the bond that leave room for a piece before the panel stay where they are. One
that does not is left out; where the brick is then too short, it is moved to where its
lap over the courses above and below is greatest.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.lengths import typed_length
from shopdraw.masonry.wall.face_panel import FacePanel
from shopdraw.masonry.wall.layout import (
    FLAT_KINDS,
    RUNNING_KINDS,
    Outline,
    Piece,
    Stop,
    flat_piece,
    rectangle,
)

Span = tuple[Fraction, Fraction]
"""From one end of a piece, or of a joint, to the other."""
ZERO = Fraction(0)
_Row = list[tuple[Outline, Piece]]


@dataclass(frozen=True)
class Stopped:
    """The courses beside panels.

    Attributes:
        pieces: all that were given, those beside panels cut to them.
        stops: where the runs of brick end at panels.
        sawn: how many pieces are sawn at a panel's edge.
    """

    pieces: tuple[Piece, ...]
    stops: tuple[Stop, ...]
    sawn: int


@dataclass(frozen=True)
class _Room:
    """What is left of a run of brick beside a panel.

    Attributes:
        left, right: where brick ends.
        at_panel: the number of the panel where that is, left and right; 0 where it is
            at none.
    """

    left: Fraction
    right: Fraction
    at_panel: tuple[int, int]


def stop_courses(
    job: Job, pieces: tuple[Piece, ...], panels: tuple[FacePanel, ...]
) -> Stopped:
    """Stop every course beside a panel.

    Args:
        job: its joints, its brick, the least piece.
        pieces: as laid, upright rectangles.
        panels: which.

    Raises:
        NotLaid: there is no room for a piece of brick beside a panel.
    """
    rows: dict[int, list[tuple[Outline, Piece]]] = defaultdict(list)
    for piece in pieces:
        for outline in piece.outlines:
            if piece.kind in RUNNING_KINDS and outline.face == "front":
                rows[piece.course].append((outline, piece))
    gone: set[int] = set()
    cut: list[Piece] = []
    stops: list[Stop] = []
    perpends = {number: _perpends(row) for number, row in rows.items()}
    beside = sorted({n for x in panels for n in range(x.courses[0], x.courses[1] + 1)})
    for number in beside:
        near = (*perpends.get(number - 1, ()), *perpends.get(number + 1, ()))
        laid: list[Span] = []
        for run in _runs(rows.get(number, []), job.joints.head.most):
            rooms = tuple(_rooms(job, run, number, panels))
            if not rooms:
                laid += ((x.left, x.right) for x, _ in run)
            for room in rooms:
                inside = [x for x in run if x[0].right > room.left]
                inside = [x for x in inside if x[0].left < room.right]
                spans = _spans(job, inside, room, near, number)
                laid += spans
                gone.update(id(piece) for _, piece in run if piece.kind in FLAT_KINDS)
                cut += _pieces(inside, spans, room)
                stops += _stops(number, room)
        perpends[number] = tuple((a[1], b[0]) for a, b in pairwise(sorted(laid)))
    kept = tuple(piece for piece in pieces if id(piece) not in gone)
    new = sum(id(piece) not in gone for piece in cut)
    return Stopped((*kept, *cut), tuple(stops), new)


def _perpends(row: _Row) -> tuple[Span, ...]:
    """Return the joints between neighbours in a row, and the gaps."""
    ordered = sorted((x for x, _ in row), key=lambda outline: outline.left)
    return tuple((a.right, b.left) for a, b in pairwise(ordered))


def _runs(row: _Row, widest: Fraction) -> Iterator[_Row]:
    """Yield the runs of brick in a row: no gap in them is wider than a joint."""
    run: _Row = []
    for each in sorted(row, key=lambda pair: pair[0].left):
        if run and each[0].left - run[-1][0].right > widest:
            yield run
            run = []
        run.append(each)
    if run:
        yield run


def _rooms(
    job: Job, run: _Row, number: int, panels: tuple[FacePanel, ...]
) -> Iterator[_Room]:
    """Yield what is left of a run beside panels; nothing where it meets none."""
    left, right, joint = run[0][0].left, run[-1][0].right, job.joints.head.preferred
    taken = sorted(
        (panel.box[0] - joint, panel.box[2] + joint, place)
        for place, panel in enumerate(panels, start=1)
        if panel.courses[0] <= number <= panel.courses[1]
        and panel.box[0] - joint < right
        and panel.box[2] + joint > left
    )
    if not taken:
        return
    starts = [(left, 0), *((b, panel) for _, b, panel in taken)]
    ends = [*((a, panel) for a, _, panel in taken), (right, 0)]
    for (a, begun), (b, ended) in zip(starts, ends, strict=True):
        yield _Room(a, b, (begun, ended))


def _spans(
    job: Job, inside: _Row, room: _Room, near: tuple[Span, ...], number: int
) -> list[Span]:
    """Return where pieces lie in a room, left to right.

    Raises:
        NotLaid: one would be shorter than the least piece, or longer than a brick, or a
            corner unit is cut.
    """
    least = job.bond.least_piece
    left, right = room.at_panel
    kept = [
        (a, b)
        for a, b in _perpends(inside)
        if (not left or a - room.left >= least)
        and (not right or room.right - b >= least)
    ]
    ends = [room.left, *(x for each in kept for x in each), room.right]
    spans: list[Span] = []
    for span in zip(ends[::2], ends[1::2], strict=True):
        spans += _split(job, span, near, from_right=bool(left) and not right)
    as_laid = {(x.left, x.right): piece for x, piece in inside}
    whole = {(x.left, x.right) for x, piece in inside if piece.kind not in FLAT_KINDS}
    unfit = any(
        not least <= b - a <= job.brick.length
        for a, b in spans
        if (a, b) not in as_laid
    )
    if unfit or not whole <= set(spans):
        width = typed_length(max(room.right - room.left, ZERO), job.lengths)
        where = f"between it and panel[{left}]" if left and right else "beside it"
        message = (
            f"panel[{right or left}]: course {number} has {width} of room {where}, and "
            "no piece of brick fits there; move the panel, or give it another width"
        )
        raise NotLaid(message)
    return spans


def _split(
    job: Job, span: Span, near: tuple[Span, ...], *, from_right: bool
) -> list[Span]:
    """Lay one piece in a span, or two where one brick is too short for it.

    The joint goes where its lap is greatest, up to the least lap; of equals where the
    shorter of the two is longest, and that one lies at the panel. Places are tried from
    the end away from the panel, so that both sides of a panel come out alike.
    """
    start, end = span
    unit, least, joint = (
        job.brick.length,
        job.bond.least_piece,
        job.joints.head.preferred,
    )
    room = end - start - joint
    if end - start <= unit:
        return [span]
    first, last = max(least, room - unit), min(unit, room - least)
    if first > last:
        return [span]

    def joint_at(far: Fraction) -> Span:
        at = start + (room - far if from_right else far)
        return at, at + joint

    def worth(far: Fraction) -> tuple[Fraction, Fraction, Fraction]:
        lap = min(_lap(joint_at(far), near), job.bond.least_lap)
        return lap, min(far, room - far), far

    steps = range(int((last - first) / job.joints.step) + 1)
    tried = {last, *(first + count * job.joints.step for count in steps)}
    left, right = joint_at(max(tried, key=worth))
    return [(start, left), (right, end)]


def _lap(joint: Span, near: tuple[Span, ...]) -> Fraction:
    """Return how far a joint is from the nearest of the courses above and below."""
    laps = (max(a - joint[1], joint[0] - b, ZERO) for a, b in near)
    return min(laps, default=joint[1])


def _pieces(inside: _Row, spans: list[Span], room: _Room) -> Iterator[Piece]:
    """Yield the flat pieces of a room: as they were laid, or cut to the panel."""
    as_laid = {(x.left, x.right): piece for x, piece in inside}
    outline, piece = inside[0]
    heights = tuple(x for x in piece.cut_edges if x in ("top", "bottom"))
    for a, b in spans:
        laid = as_laid.get((a, b))
        if laid is not None and laid.kind not in FLAT_KINDS:
            continue
        if laid is not None:
            yield laid
            continue
        # The sawn end goes to the panel; between two, to the nearer.
        at_right = room.at_panel[1]
        if all(room.at_panel):
            at_right = a - room.left > room.right - b
        sawn = ("right" if at_right else "left",)
        lies = rectangle("front", a, outline.bottom, b, outline.top)
        yield flat_piece("stretcher", piece.course, lies, (*sawn, *heights))


def _stops(number: int, room: _Room) -> Iterator[Stop]:
    for x, is_panel in zip((room.left, room.right), room.at_panel, strict=True):
        if is_panel:
            yield Stop("front", number, "panel", x)
