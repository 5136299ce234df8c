"""Hold what is folded into plan against what is always true of brick at a corner.

In:  `Job`, `Surround`, `Coursing`, `Layout`.   Out: what is not true, a line each.
Frame: as `Surround` for legs; plan as `Cut` has it.

On the developed plane two faces lie side by side; only in plan is it seen whether their
brick run into each other, and whether a mitre leaves anything of a leg.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import numpy as np
import shapely

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_face import Side
from shopdraw.job.turning import SQUARE, taken_at_mitre
from shopdraw.lengths import taped_length
from shopdraw.masonry.coursing.form import Course, Coursing
from shopdraw.masonry.laying.cuts import cut_level
from shopdraw.masonry.wall.folding import place_face
from shopdraw.masonry.wall.form import Face, FaceName, Surround
from shopdraw.masonry.wall.layout import CORNER_KINDS, Layout, Piece

TOUCHING = 1e-4
"""Places in plan are rounded where a corner is not square; an area below this, as large
as a hair's breadth along a brick, is no overlap."""


def corners_close(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout
) -> Iterator[str]:
    """Check that corner units turn as their corners do, and have legs on both sides.

    Where a corner is not square, or an inside one, also that no two pieces of a course
    meet in plan.
    """
    thick = job.brick.thickness
    outs = {course.number: course.projection for course in coursing.courses}
    wrong = [
        said
        for piece in layout.pieces
        if piece.kind in CORNER_KINDS and len(piece.outlines) == 2
        for said in _corner_unit(piece, surround, thick, outs[piece.course])
    ]
    yield from wrong
    for alcove in surround.alcoves:
        yield from _inside_corner(job, surround, layout, alcove)
    if (surround.turns - {SQUARE} or surround.alcoves) and not wrong:
        for course in coursing.courses:
            yield from _apart_in_plan(surround, layout, course, thick)


def _corner_unit(
    piece: Piece, surround: Surround, thick: Fraction, projection: Fraction
) -> Iterator[str]:
    faces = {face.name: face.left for face in surround.faces}
    left, right = sorted(
        piece.outlines,
        # A leg that is shorter than twice the projection begins past the other's end.
        key=lambda leg: faces[leg.face] if projection else leg.left,
    )
    # Where a course projects, each leg goes on past the corner as far.
    fold, out = (left.right + right.left) / 2, (left.right - right.left) / 2
    folds = (*surround.folds, *surround.jamb_folds)
    projects = out and fold in surround.folds
    if fold not in folds or out != (projection if projects else 0):
        yield f"{piece.id} is a corner unit, but does not lie at an outside corner"
        return
    turn = surround.turn_at(fold)
    if piece.turn != turn:
        yield (
            f"{piece.id} turns by {float(piece.turn):g} degrees, but its corner by "
            f"{float(turn):g}"
        )
    taken = taken_at_mitre(thick, turn)
    for leg in (left, right):
        # What is bought square is trimmed, and the review looks at how short it is.
        if turn != SQUARE and leg.right - leg.left <= taken:
            yield (
                f"{piece.id} has a leg of {leg.right - leg.left} on the {leg.face} "
                f"face, and its mitre takes {float(taken):.3f} of it"
            )


def _inside_corner(
    job: Job, surround: Surround, layout: Layout, alcove: Face
) -> Iterator[str]:
    """Check that at an inside corner one face runs past and the other butts, by turns.

    What runs past goes as far behind the other face as its brick is thick; what butts
    leaves a head joint before it.
    """
    joint, last = job.joints.head, {alcove.name: 0, surround.before(alcove).name: 0}
    for number in sorted({piece.course for piece in layout.in_courses}):
        past = list[FaceName]()
        for face in (alcove, surround.before(alcove)):
            gap = _gap_at(face, layout, number)
            if gap is None:
                yield f"{face.name} course {number} has no brick at the inside corner"
            elif gap == -face.behind:
                past.append(face.name)
            elif not joint.least <= gap <= joint.most:
                yield f"{face.name} course {number} ends {gap} before an inside corner"
        if len(past) != 1:
            count = "both faces run" if past else "neither face runs"
            yield f"course {number}: {count} past the inside corner of {alcove.name}"
            continue
        if last[past[0]] == number - 1 > 0:
            yield f"{past[0]} runs past in courses {number - 1} and {number} alike"
        last[past[0]] = number


def _gap_at(face: Face, layout: Layout, number: int) -> Fraction | None:
    """Return how far a course stops before an inside corner; past it, below 0."""
    corner = face.inside_corner
    row = [
        outline
        for piece in layout.in_courses
        for outline in piece.outlines
        if piece.course == number and outline.face == face.name
    ]
    if not row or corner is None:
        return None
    if corner == face.seen[1]:
        return corner - max(outline.right for outline in row)
    return min(outline.left for outline in row) - corner


def _apart_in_plan(
    surround: Surround, layout: Layout, course: Course, thick: Fraction
) -> Iterator[str]:
    cuts = cut_level(surround, layout, course, thick)
    shapes = np.array(
        [shapely.Polygon([(float(x), float(y)) for x, y in cut.ring]) for cut in cuts]
    )
    if not len(shapes):
        return
    a, b = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    for i, j in zip(a[a < b], b[a < b], strict=True):
        if shapely.intersection(shapes[i], shapes[j]).area > TOUCHING:
            yield f"{cuts[i].piece.id} and {cuts[j].piece.id} run into each other"


def refuse_meeting_faces(job: Job, surround: Surround) -> None:
    """Refuse a return that narrows inward until its brick meets that of the jamb.

    Raises:
        NotLaid: they meet; it says what would do.
    """
    thick = job.brick.thickness
    for reveal in surround.reveals:
        side: Side = "left" if reveal.name.startswith("left") else "right"
        turned = _strip(surround, reveal, thick)
        for face in surround.flank(side):
            met = shapely.intersection(turned, _strip(surround, face, thick))
            if met.area > TOUCHING:
                key = f"face.{side}_return_splay"
                message = (
                    f"{key}: behind the {side} leg the brick of the return and of the "
                    "jamb run into each other; make the leg wider, the splay nearer to "
                    "0, or opening.jamb_return shorter"
                )
                raise NotLaid(message)


def _strip(surround: Surround, face: Face, thick: Fraction) -> shapely.Polygon:
    """Return in plan what the brick of a face takes up."""
    placed = place_face(surround, face.name)
    corners = (
        placed.point(face.left),
        placed.point(face.right),
        placed.point(face.right, thick),
        placed.point(face.left, thick),
    )
    return shapely.Polygon([(float(x), float(y)) for x, y in corners])


def refuse_lost_legs(job: Job, pieces: tuple[Piece, ...]) -> None:
    """Refuse a corner unit of which the mitre would leave a leg with no inside.

    Raises:
        NotLaid: a leg that short; it says what would do.
    """
    thick, lengths = job.brick.thickness, job.lengths
    lost = [
        (leg, piece.turn, [outline.face for outline in piece.outlines])
        for piece in pieces
        if piece.is_made
        for leg in piece.legs
        if leg <= taken_at_mitre(thick, piece.turn)
    ]
    if not lost:
        return
    leg, turn, faces = min(lost)
    short = taped_length(leg, lengths)
    taken = taped_length(taken_at_mitre(thick, turn), lengths, "up")
    key, where, wider = _where_lost(faces)
    message = (
        f"{key}: {where} there is room for a leg of only {short} in some course, and "
        f"the mitre of its corner unit takes {taken} of it; make {wider} wider, or "
        "take corner units with other legs"
    )
    raise NotLaid(message)


def _where_lost(faces: list[FaceName]) -> tuple[str, str, str]:
    """Return the key, the place and what to widen, for a corner between two faces."""
    if any(face.endswith("reveal") for face in faces):
        return "opening.splay", "beside the jambs", "the face beside the opening"
    chamfer = next((face for face in faces if face.endswith("chamfer")), None)
    if chamfer is not None:
        key = f"face.{chamfer.replace(' ', '_')}"
        return key, f"on or beside the {chamfer}", "the chamfer"
    side = next(face for face in faces if face != "front")
    key = f"face.{side}_return_splay"
    return key, f"at the {side} corner", "the face beside the opening"
