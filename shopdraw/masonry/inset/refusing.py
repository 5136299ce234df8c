"""Refuse panels that meet what can't be cut for them.

In:  the panels, the courses, what stands on the front.   Out: nothing, or `NotLaid`.
Frame: as `Surround`.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing, PartBand
from shopdraw.masonry.sawing.clipping import polygon_of
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.face_panel import FacePanel
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import FLAT_KINDS, Piece
from shopdraw.masonry.wall.surround import opening_ring

NOTHING = 1e-6
"""Polygons are in floating point; an area below this is none."""


def refuse_in_the_way(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    panels: tuple[FacePanel, ...],
    stands: tuple[tuple[Piece, ...], tuple[PartBand, ...], Arch | None],
) -> None:
    """Refuse panels that meet the opening, an arch, a band, a corbel or a corner.

    Args:
        job: its joints.
        surround: the opening.
        coursing: where its head comes out, which courses are bands or project.
        panels: as laid, in the job's order.
        stands: what is laid on the faces, the bands on a part of the front, and the
            arch over the opening; None where there is none.

    Raises:
        NotLaid: a panel has something in its way; a line for each panel.
    """
    lines = []
    for number, panel in enumerate(panels, start=1):
        for said in (
            *_courses_in_the_way(coursing, panel),
            *_parts_in_the_way(job, panel, stands[1]),
            *_shapes_in_the_way(surround, coursing, panel, stands[2]),
            *_pieces_in_the_way(job, panel, stands[0]),
        ):
            lines.append(f"panel[{number}]: {said}")
            break
    if lines:
        raise NotLaid("\n".join(lines))


def _courses_in_the_way(coursing: Coursing, panel: FacePanel) -> Iterator[str]:
    """Say which band round the face, or course of a corbel, runs through a panel."""
    first, last = panel.courses
    for course in coursing.courses[first - 1 : last]:
        if course.band:
            yield (
                f"band[{course.band}] runs through it in course {course.number}; move "
                "the panel below the band or above it, or write another course for the "
                "band"
            )
        elif course.projection:
            yield (
                f"course {course.number} beside it projects for a corbel, and a panel "
                "lies flush in the face; move the panel, or make it less high"
            )


def _parts_in_the_way(
    job: Job, panel: FacePanel, parts: tuple[PartBand, ...]
) -> Iterator[str]:
    """Say which band on a part of the front a panel leaves no brick beside."""
    left, bottom, right, top = panel.box
    room = job.bond.least_piece + 2 * job.joints.head.preferred
    for part in parts:
        foot = part.courses[0].bottom
        if bottom < part.top and foot < top:
            # Both ends of a band's width are joints: brick begins there.
            across = max(part.left - right, left - part.right)
            if across < room - job.joints.head.preferred:
                yield (
                    f"band[{part.band}] stands in its way, or too near for a piece of "
                    "brick between the two; move one of them"
                )


def _shapes_in_the_way(
    surround: Surround, coursing: Coursing, panel: FacePanel, arch: Arch | None
) -> Iterator[str]:
    ring = opening_ring(surround, coursing.head, arch, surround.opening.beside)
    shapes = [("the opening as it comes out", polygon_of(ring))]
    if arch is not None:
        shapes.append(("the arch", polygon_of(arch.keep_out)))
        shapes += (("the arch", polygon_of(ring)) for ring in arch.voussoirs)
    box = polygon_of(panel.ring)
    for what, shape in shapes:
        if shape.intersection(box).area > NOTHING:
            yield f"{what} is in its way; move the panel, or make it smaller"


def _pieces_in_the_way(
    job: Job, panel: FacePanel, pieces: tuple[Piece, ...]
) -> Iterator[str]:
    """Say which piece that is never cut stands too near to a panel."""
    across, up = job.joints.head.least, job.joints.bed.least - job.joints.step
    left, bottom, right, top = panel.box
    for piece in pieces:
        for outline in piece.outlines:
            if piece.kind in FLAT_KINDS or outline.face != "front":
                continue
            aside = max(outline.left - right, left - outline.right)
            above = max(outline.bottom - top, bottom - outline.top)
            if aside < across and above < up:
                yield (
                    f"a {piece.kind} of course {piece.course} is in its way; move the "
                    "panel, or make it smaller"
                )
