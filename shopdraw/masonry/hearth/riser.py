"""Lay the riser of a raised hearth: the same coursing, the same bond, and a nosing.

In:  `Job`, `HearthGround`.   Out: `Riser`, and its `Layout` with the faces' own names.
Frame: as `Surround`: x along the riser from the back of its left end, y up from the
floor.

A riser is a small surround that has no opening: its front is the hearth's, its returns
are the hearth's ends. So the solvers of the face solve it, and its proof holds it.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.model import EdgesTable, EdgeTable, Job
from shopdraw.lengths import typed_length
from shopdraw.masonry.coursing.form import Course, Coursing
from shopdraw.masonry.coursing.problem import state_problem
from shopdraw.masonry.coursing.solve import best_coursing
from shopdraw.masonry.heads.shares import Filling, share_soldiers, share_whole
from shopdraw.masonry.hearth.form import RISER_FACES, HearthGround, Riser
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.pieces import FACE_CODES, mark_pieces
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.form import Face, FaceName, Surround
from shopdraw.masonry.wall.layout import (
    Layout,
    Outline,
    Piece,
    Stop,
    StopKind,
    flat_piece,
    rectangle,
)
from shopdraw.masonry.wall.surround import trace_surround

NONE = Fraction(0)
ANYWHERE = 1 << 40
"""On the coursing's grid: a target that is met wherever it is."""


def lay_riser(job: Job, ground: HearthGround) -> tuple[Riser, Layout]:
    """Course, lay and prove the riser of a job that asks for one.

    Raises:
        AssertionError: it asks for none.
        NotLaid: its nosing can't be filled.
        NotProved: what was laid is not as it must be.
    """
    if job.hearth is None or job.hearth.brick is None:
        raise AssertionError
    height, nosing = job.hearth.brick.riser, job.hearth.brick.nosing
    if height is None:
        raise AssertionError
    has_nosing = nosing == "rowlock"
    riser_job = job_of_riser(job, ground, height, has_nosing=has_nosing)
    surround = trace_surround(riser_job)
    coursing = course_riser(riser_job, surround)
    if not has_nosing:
        layout = lay_bond(riser_job, surround, coursing)
    else:
        below = replace(coursing, courses=coursing.courses[:-1])
        layout = lay_bond(riser_job, surround, below)
        pieces, stops = _nosing(riser_job, surround, coursing.courses[-1])
        layout = replace(
            layout,
            pieces=mark_pieces((*layout.pieces, *pieces), riser_job),
            stops=(*layout.stops, *stops),
        )
    prove_layout(riser_job, surround, coursing, layout)
    riser = Riser(riser_job, surround, coursing, layout, height, has_nosing)
    return riser, _renamed(layout)


def job_of_riser(
    job: Job, ground: HearthGround, height: Fraction, *, has_nosing: bool
) -> Job:
    """Return the job of a surround as wide, as deep and as high as the riser.

    Its opening is one joint step wide and lies under the first course, so that no
    course meets it.
    """
    soft = EdgeTable(kind="soft", width=job.joints.head.preferred, shows="covered")
    step = job.joints.step
    return job.model_copy(
        update={
            "face": job.face.model_copy(
                update={
                    "measured_to": "finish",
                    "width": ground.width,
                    "height": height,
                    "top_meets": "top",
                    "left_return": ground.wall,
                    "right_return": ground.wall,
                }
            ),
            "opening": job.opening.model_copy(
                update={
                    "width": step,
                    "height": job.joints.bottom.least or step,
                    "from_left": (ground.width - step) / 2,
                    "corners": None,
                    "head": "running",
                    "head_over": "opening",
                    "jamb_return": None,
                }
            ),
            "edges": EdgesTable(left=soft, right=soft),
            "courses": job.courses.model_copy(
                update={
                    "bottom_height": None,
                    "top_height": job.rowlock_height if has_nosing else None,
                }
            ),
            "target": (),
            "band": (),
            "corbel": (),
            "panel": (),
            "existing_brick": (),
            "laid": (),
            "hearth": None,
        }
    )


def course_riser(riser_job: Job, surround: Surround) -> Coursing:
    """Course the riser from the floor to land on the hearth's top."""
    problem = state_problem(riser_job, surround)
    head, *others = problem.targets
    # There is no opening to land on.
    free = replace(head, tolerance=ANYWHERE)
    return best_coursing(riser_job, replace(problem, targets=(free, *others)))


def _nosing(
    riser_job: Job, surround: Surround, course: Course
) -> tuple[tuple[Piece, ...], tuple[Stop, ...]]:
    """Stand the rowlocks of the nosing on the riser's front and ends.

    The front's run from corner to corner and show their edge at the ends; those of the
    ends butt against them.
    """
    pieces: list[Piece] = []
    stops: list[Stop] = []
    thick = riser_job.brick.thickness
    for face in surround.faces:
        left, right = _run_of(riser_job, surround, face)
        places = [
            (left + a, left + b) for a, b in _spaced(riser_job, face, right - left)
        ]
        laid = [_rowlock(riser_job, face, course, place) for place in places]
        ends, kinds = [places[0][0], places[-1][1]], ["fold", "fold"]
        if face.name == "front":
            laid[0] = _shown_at(laid[0], "left", face.left - thick, face.left)
            laid[-1] = _shown_at(laid[-1], "right", face.right, face.right + thick)
        else:
            # At the corner the edge of the front's last one is part of the run.
            at, fold = (1, face.right) if face.name == "left" else (0, face.left)
            ends[at], kinds[1 - at] = fold, "wall"
        for x, kind in zip(ends, kinds, strict=True):
            wall: StopKind = "wall" if kind == "wall" else "fold"
            stops.append(Stop(face.name, course.number, wall, x))
        pieces += laid
    return tuple(pieces), tuple(stops)


def _rowlock(
    riser_job: Job, face: Face, course: Course, place: tuple[Fraction, Fraction]
) -> Piece:
    """Stand one rowlock, its sawn end down, where the joint hides it."""
    sawn: tuple[str, ...] = ()
    if course.height != riser_job.brick.length:
        sawn = ("bottom",)
    if place[1] - place[0] != riser_job.brick.height:
        sawn = (*sawn, "right")
    outline = rectangle(face.name, place[0], course.bottom, place[1], course.top)
    return flat_piece("rowlock", course.number, outline, sawn)


def _run_of(
    riser_job: Job, surround: Surround, face: Face
) -> tuple[Fraction, Fraction]:
    """Return where the rowlocks of a face begin and end."""
    aside = riser_job.brick.thickness + riser_job.joints.head.preferred
    if face.name == "left":
        return surround.left_edge.brick_x, face.right - aside
    if face.name == "right":
        return face.left + aside, surround.right_edge.brick_x
    return face.left, face.right


def _spaced(
    riser_job: Job, face: Face, length: Fraction
) -> tuple[tuple[Fraction, Fraction], ...]:
    joints = riser_job.joints.head
    filling = Filling(length, riser_job.brick.height, joints, (False, False))
    run = None
    if face.name != "front":
        run = share_whole(filling, joints.most - joints.preferred)
        if run is not None and face.name == "left":
            run = run.mirrored(length)
    run = run or share_soldiers(filling)
    if run is None:
        other = "hearth.left" if face.name == "front" else "hearth.front"
        message = (
            f"hearth.brick.nosing: {typed_length(length, riser_job.lengths)} of nosing "
            "can't be filled with brick and joints as joints.head allows; give a wider "
            f'range of joints, another {other}, or nosing = "none"'
        )
        raise NotLaid(message)
    return run.places


def _shown_at(piece: Piece, face: FaceName, left: Fraction, right: Fraction) -> Piece:
    """Let a rowlock's edge show on the riser's end."""
    front = piece.outlines[0]
    edge = rectangle(face, left, front.bottom, right, front.top)
    return replace(piece, outlines=(front, edge))


def _renamed(layout: Layout) -> Layout:
    """Return a riser's layout with the riser's own names for its faces."""
    return replace(
        layout,
        pieces=tuple(_piece_renamed(piece) for piece in layout.pieces),
        stops=tuple(replace(x, face=RISER_FACES[x.face]) for x in layout.stops),
        broken=tuple(
            replace(rule, pieces=tuple(map(renamed_id, rule.pieces)))
            for rule in layout.broken
        ),
    )


def renamed_id(name: str) -> str:
    """Return the ID of a riser's piece in the set."""
    code, _, rest = name.partition("-")
    codes = {FACE_CODES[old]: FACE_CODES[RISER_FACES[old]] for old in _OLD}
    return f"{codes[code]}-{rest}"


_OLD: tuple[FaceName, ...] = ("left", "front", "right")


def _piece_renamed(piece: Piece) -> Piece:
    def outline_of(outline: Outline) -> Outline:
        return replace(outline, face=RISER_FACES[outline.face])

    edges = []
    for edge in piece.cut_edges:
        face = edge.removesuffix(" leg")
        edges.append(f"{RISER_FACES[face]} leg" if edge.endswith(" leg") else edge)
    return replace(
        piece,
        id="",
        mark="",
        place=RISER_FACES[piece.place],
        outlines=tuple(map(outline_of, piece.outlines)),
        cut_edges=tuple(edges),
    )
