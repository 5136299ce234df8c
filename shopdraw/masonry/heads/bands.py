"""Lay the bands of standing brick: soldiers or rowlocks round the whole face.

In:  `Job`, `Surround`, `Coursing`.   Out: `Bands`.
Frame: as `Surround`.

Each face, and below the head each leg of the front, is filled by the same rules as the
soldiers over the opening.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_face import SIDES
from shopdraw.lengths import format_length, taped_length
from shopdraw.masonry.coursing.form import Course, Coursing, PartBand
from shopdraw.masonry.heads.standing import (
    NONE,
    TurnedCorner,
    jamb_corners,
    outside_corners,
    stand_pieces,
    stand_round,
    stops_of,
)
from shopdraw.masonry.heads.stands import (
    SAWN_SHOWS,
    Stand,
    StandEnd,
    end_at_fold,
    fill_face,
    hides,
    say_unfilled,
    shorter_legs,
)
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import Piece, PieceKind, Stop

MOST_STEPS = 200
"""How many steps away a joint that would do is looked for."""


@dataclass(frozen=True)
class Bands:
    """The bands of standing brick as laid; empty where the job has none.

    Attributes:
        pieces: not named yet.
        stops: the ends of their runs.
        reasons: what was decided and why.
    """

    pieces: tuple[Piece, ...]
    stops: tuple[Stop, ...]
    reasons: tuple[str, ...]


def lay_bands(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    arch: Arch | None,
    parts: tuple[PartBand, ...] = (),
) -> Bands:
    """Lay every band of soldiers or rowlocks.

    Args:
        job: what was asked.
        surround: the faces.
        coursing: the courses.
        arch: what is over the opening; None where there is no arch.
        parts: the bands that are only a part of the front.

    Raises:
        NotLaid: a band is where it can't be laid; the message says what would do.
    """
    pieces: list[Piece] = []
    stops: list[Stop] = []
    reasons: dict[str, None] = {}
    for course in coursing.bands():
        _check_place(coursing, course, arch)
        if course.is_running:
            continue
        stands = _stands(job, surround, coursing, course)
        wrong = next((stand for stand in stands if stand.run is None), None)
        if wrong is not None:
            raise NotLaid(_no_answer(job, surround, coursing, course, wrong))
        kind: PieceKind = "rowlock" if course.kind == "rowlock" else "soldier"
        tier = course.bottom, course.top
        corners = _corners(surround, coursing, course)
        pieces += stand_round(job, stands, corners, kind, course.number, tier)
        stops += stops_of(stands, course.number)
        reasons |= dict.fromkeys(_say(job, course, stands))
    for part in parts:
        _check_place(coursing, part.courses[0], arch, part)
        stand = _part_stand(job, part)
        if stand.run is None:
            raise NotLaid(_no_answer_for(job, part))
        number = part.courses[0].number
        kind = "rowlock" if part.kind == "rowlock" else "soldier"
        tier = part.courses[0].bottom, part.top
        pieces += stand_pieces(job, stand, kind, number, tier)
        places = stand.run.places
        for end, x in zip(stand.ends, (places[0][0], places[-1][1]), strict=True):
            stops.append(Stop("front", number, end.kind, part.left + x))
        course = replace(part.courses[0], kind=part.kind, band=part.band)
        reasons |= dict.fromkeys(_say(job, course, (stand,)))
    return Bands(tuple(pieces), tuple(stops), tuple(reasons))


def _part_stand(job: Job, part: PartBand) -> Stand:
    """Fill a band on a part of the front; the joints at its ends are within it."""
    ends = (
        StandEnd(part.left, "soldier", True, True),
        StandEnd(part.right, "soldier", True, True),
    )
    return fill_face(job, "front", ends, f"band[{part.band}].width")


def _no_answer_for(job: Job, part: PartBand) -> str:
    """Say that nothing fills a part of the front, and the nearest widths that do."""
    step, width = job.joints.step, part.right - part.left
    found = []
    for way in (-1, 1):
        for n in range(1, MOST_STEPS):
            tried = replace(part, right=part.right + way * n * step)
            if tried.right > part.left and _part_stand(job, tried).run is not None:
                found.append(taped_length(tried.right - part.left, job.lengths))
                break
    return (
        f"band[{part.band}].width: no {part.kind}s fill "
        f"{taped_length(width, job.lengths)} with head joints in range, neither whole "
        f"nor with two equal ones at the ends; write {' or '.join(found)}"
    )


def _check_place(
    coursing: Coursing, course: Course, arch: Arch | None, part: PartBand | None = None
) -> None:
    """Refuse a band beside what stands over the opening, and one that an arch cuts."""
    number, top = course.band, course.top
    if part is not None:
        number, top = part.band, part.courses[-1].top
    below, beside = coursing.courses_below_head, coursing.courses_beside_soldiers
    is_beside = below < course.number <= below + beside
    if is_beside and not course.is_running:
        message = (
            f"band[{course.band}]: course {course.number} stands beside what is over "
            'the opening; write another course, or opening.head_over = "face"'
        )
        raise NotLaid(message)
    if arch is None:
        return
    low = min(y for _, y in arch.keep_out)
    high = max(y for _, y in arch.keep_out)
    if course.bottom < high and top > low:
        message = (
            f"band[{number}]: course {course.number} is cut by the arch; write "
            "one below its spring line or above its crown"
        )
        raise NotLaid(message)


def _corners(
    surround: Surround, coursing: Coursing, course: Course
) -> tuple[TurnedCorner, ...]:
    """Return the corners that a course turns."""
    corners = outside_corners(surround, course.projection)
    if course.number <= coursing.courses_below_head:
        corners += jamb_corners(surround)
    return corners


def _stands(
    job: Job, surround: Surround, coursing: Coursing, course: Course
) -> tuple[Stand, ...]:
    """Return what a band fills, face by face from left to right.

    Raises:
        NotLaid: it turns into jambs that splay: its corners would not be square.
    """
    in_jambs = surround.splay and course.number <= coursing.courses_below_head
    butts = job.brick.at_fold == "butt" and job.brick.soldier_corner is None
    if in_jambs and not butts:
        message = (
            f"band[{course.band}]: course {course.number} turns into jambs that splay, "
            f"and {course.kind}s turn square corners alone; write a course above the "
            'opening, kind = "header", or brick.at_fold = "butt"'
        )
        raise NotLaid(message)
    at: dict[tuple[FaceName, Fraction], StandEnd] = {}
    for corner in _corners(surround, coursing, course):
        x, inward = corner.front_x, corner.front_inward
        at["front", x] = end_at_fold(job, "front", x, inward)
        x, inward = corner.x, corner.inward
        at[corner.face, x] = end_at_fold(job, corner.face, x, inward)
    out = course.projection
    stands = []
    for face, left, right, key in _parts(surround, coursing, course):
        # At an outside corner the course has grown by its projection.
        ends = (
            at.get((face, left - out)) or _plain_end(surround, face, left, 0),
            at.get((face, right + out)) or _plain_end(surround, face, right, 1),
        )
        stands.append(fill_face(job, face, ends, key))
    return tuple(stands)


Part = tuple[FaceName, Fraction, Fraction, str]
"""A face, from where to where on it, and the key that gives the width."""


def _parts(surround: Surround, coursing: Coursing, course: Course) -> Iterator[Part]:
    opening = surround.opening
    for face in surround.faces:
        if face.name != "front":
            yield face.name, face.left, face.right, f"face.{face.name}_return"
        elif course.number > coursing.courses_below_head:
            yield "front", face.left, face.right, "face.width"
        else:
            yield "front", face.left, opening.brick_left, "face.width"
            for reveal in surround.reveals:
                yield reveal.name, reveal.left, reveal.right, "opening.jamb_return"
            yield "front", opening.brick_right, face.right, "face.width"


def _plain_end(surround: Surround, face: FaceName, x: Fraction, place: int) -> StandEnd:
    """Return an end where nothing is turned: a jamb, a wall or the front's own end."""
    opening = surround.opening
    if face == "front" and x in (opening.brick_left, opening.brick_right):
        may_be_sawn = opening.jambs.shows in SAWN_SHOWS
        return StandEnd(x, "jamb", False, may_be_sawn)
    if face in ("left reveal", "right reveal"):
        return StandEnd(x, "wall", False, True)
    edge = (surround.left_edge, surround.right_edge)[place]
    wide = abs(edge.brick_x - edge.x)
    return StandEnd(edge.brick_x, edge.against, False, hides(edge), edge=wide)


def _say(job: Job, course: Course, stands: tuple[Stand, ...]) -> Iterator[str]:
    """Say how a band is filled on the front, and what of it is sawn."""

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    numbers = f"course {course.number}"
    filled = [(stand, stand.run) for stand in stands if stand.run and stand.run.places]
    counts = [str(len(run.places)) for stand, run in filled if stand.face == "front"]
    joints = sorted({run.joint for stand, run in filled if stand.face == "front"})
    if not counts:
        return
    about = " and ".join(say(joint) for joint in joints)
    where = "the front" if len(counts) == 1 else "the legs"
    if len(filled) == 1 and stands[0].key.startswith("band"):
        where = "a part of the front"
    yield (
        f"The {course.kind}s of {numbers} on {where}: {' and '.join(counts)}, with "
        f"joints of about {about}."
    )
    cuts: dict[tuple[Fraction, bool], dict[str, None]] = {}
    for stand, run in filled:
        if run.cut is not None:
            alike = cuts.setdefault((run.cut, len(run.places) == 1), {})
            alike[_called(stand, stands)] = None
    for (cut, is_alone), faces in cuts.items():
        yield (
            f"Of the {course.kind}s of {numbers} "
            f"{'the one' if is_alone else 'those at both ends'} on the "
            f"{' and the '.join(faces)} {'is' if is_alone else 'are'} sawn to "
            f"{say(cut)}: no number of whole ones fills the width with head joints in "
            "range."
        )


def _called(stand: Stand, stands: tuple[Stand, ...]) -> str:
    """Return what a stand's part of the wall is called."""
    on_front = [each for each in stands if each.face == "front"]
    if stand.face in SIDES:
        return f"{stand.face} return"
    if len(on_front) < 2 or stand.face != "front":
        return stand.face
    return "left leg" if stand is on_front[0] else "right leg"


# ---------------------------------------------------------- where no rule has an answer


def _no_answer(
    job: Job, surround: Surround, coursing: Coursing, course: Course, stand: Stand
) -> str:
    """Say that nothing fills a width, and the nearest joints that would do."""
    joint, step = job.joints.head, job.joints.step

    def say(length: Fraction) -> str:
        return taped_length(length, job.lengths)

    def fills(key: str, value: Fraction) -> bool:
        tried = job.edited(key, value)
        stands = _stands(tried, surround, coursing, course)
        return all(stand.run is not None for stand in stands)

    steps = [step * n for n in range(1, MOST_STEPS)]
    tries = {
        "joints.head.least": [joint.least - by for by in steps if by < joint.least],
        "joints.head.most": [
            joint.most + by for by in steps if joint.most + by < job.brick.height
        ],
    }
    ways = [
        f"{key} = {say(value)}"
        for key, values in tries.items()
        for value in [next((x for x in values if fills(key, x)), NONE)]
        if value
    ]
    where = f" of the {stand.face} face in course {course.number}"
    return (
        f"band[{course.band}]: {say_unfilled(job, stand, course.kind, where)}; write "
        + ", or ".join((*ways, *shorter_legs(job, stand), f"another {stand.key}"))
    )
