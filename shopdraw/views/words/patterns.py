"""Say what is laid in a pattern: a hearth of brick, as record and table; panels.

In:  `Solution`, `BrickHearth`, `FacePanel`.   Out: dicts, as
`record_wall` has them; `Table`.
Frame: the hearth's plan; levels of the riser up from the floor; the faces'.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, cast

from shopdraw.drawing.tables import Column, Table
from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.hearth.form import BrickHearth, Field, Riser
from shopdraw.masonry.wall.face_panel import Box, FacePanel
from shopdraw.masonry.wall.layout import Outline, Piece
from shopdraw.views.parts.courses import course_kind
from shopdraw.views.words.numbers import number

if TYPE_CHECKING:
    from shopdraw.job.model_hearth import HearthPattern
    from shopdraw.views.words import record_wall


def hearth_record(
    hearth: BrickHearth | None,
    piece: Callable[[Piece], record_wall.PieceRecord],
    outline: Callable[[Outline], record_wall.OutlineRecord],
) -> record_wall.HearthRecord | None:
    """Return a hearth of brick as a record; None where there is none.

    Args:
        hearth: what is recorded.
        piece: returns the record of a piece.
        outline: returns the record of an outline.
    """
    if hearth is None:
        return None
    ground = hearth.ground
    return {
        "width": number(ground.width),
        "face": number(ground.face),
        "wall": number(ground.wall),
        "firebox": None if ground.firebox is None else number(ground.firebox),
        "back": number(ground.back),
        "joint": number(hearth.joint),
        "thickness": number(ground.thickness),
        "bed": number(ground.bed),
        "fields": [_field(each) for each in hearth.fields],
        "left_out": [outline(each.outline) for each in hearth.left_out],
        "riser": None if hearth.riser is None else _riser(hearth.riser),
        "pieces": [piece(each) for each in hearth.layout.pieces],
        "reasons": list(hearth.layout.reasons),
    }


def _field(field: Field) -> record_wall.HearthFieldRecord:
    panel = field.panel
    return {
        "pattern": cast("HearthPattern", panel.pattern),
        "outline": _corners(field.box),
        "phase": (number(panel.phase[0]), number(panel.phase[1])),
        "is_symmetric": panel.is_symmetric,
        "narrowest": panel.narrowest,
    }


def _riser(riser: Riser) -> record_wall.RiserRecord:
    courses = riser.coursing.courses
    return {
        "height": number(riser.height),
        "top": number(riser.coursing.top),
        "bed_joints": [number(course.bed_joint) for course in courses],
        "tops": [number(course.top) for course in courses],
        "has_nosing": riser.has_nosing,
    }


def panel_record(panel: FacePanel) -> record_wall.PanelRecord:
    """Return a panel in the face as a record."""
    return {
        "name": panel.name,
        "pattern": panel.pattern,
        "border": panel.border,
        "outline": _corners(panel.box),
        "field": _corners(panel.field),
        "courses": panel.courses,
        "joint": number(panel.joint),
        "phase": (number(panel.phase[0]), number(panel.phase[1])),
        "is_symmetric": panel.is_symmetric,
        "narrowest": panel.narrowest,
        "left_out": [
            [(number(x), number(y)) for x, y in ring] for ring in panel.left_out
        ],
    }


def _corners(box: Box) -> list[tuple[float, float]]:
    left, bottom, right, top = (number(x) for x in box)
    return [(left, bottom), (right, bottom), (right, top), (left, top)]


def riser_table(job: Job, riser: Riser) -> Table:
    """Return every course of a riser with its joint and its levels from the floor."""

    def say(course: int) -> tuple[str, ...]:
        each = riser.coursing.courses[course]
        is_nosing = riser.has_nosing and each is riser.coursing.courses[-1]
        levels = each.bed_joint, each.bottom, each.top
        return (
            str(each.number),
            "rowlock" if is_nosing else course_kind(each, riser.layout.cycle),
            *(format_length(level, job.lengths) for level in levels),
        )

    return Table(
        name="riser-course-list",
        title="COURSE LIST OF THE RISER, FROM THE FLOOR",
        columns=(
            Column("COURSE", "right"),
            Column("KIND"),
            Column("BED JOINT", "right"),
            Column("BOTTOM", "right"),
            Column("TOP", "right"),
        ),
        rows=tuple(map(say, range(len(riser.coursing.courses)))),
    )
