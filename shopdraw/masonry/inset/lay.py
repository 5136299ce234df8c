"""Lay the panels of a face: each between courses, framed, filled and cut at its edge.

In:  `Job`, `Surround`, `Coursing`.   Out: `FacePanel`s and their `Piece`s.
Frame: as `Surround`.

A panel begins level with the underside of a course and ends level with the top of one:
the bed joints run on past it. Where a course misses what was asked, the panel follows
the course, and the target says by how much.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_panel import PanelTable
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.inset.border import lay_border
from shopdraw.masonry.panels.choosing import best_panel
from shopdraw.masonry.panels.form import NotFilled
from shopdraw.masonry.panels.pieces import panel_piece
from shopdraw.masonry.wall.face_panel import Box, FacePanel
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import (
    Piece,
    PieceKind,
    Point,
)


@dataclass(frozen=True)
class PanelsLaid:
    """The panels of a face and their pieces, not named yet."""

    panels: tuple[FacePanel, ...]
    pieces: tuple[Piece, ...]


def lay_panels(job: Job, surround: Surround, coursing: Coursing) -> PanelsLaid:
    """Lay every panel that a job asks for.

    Raises:
        NotLaid: one can't be laid as it is asked for.
    """
    panels: list[FacePanel] = []
    pieces: list[Piece] = []
    for number, table in enumerate(job.panel, start=1):
        panel, laid = _laid(job, surround, coursing, (f"panel[{number}]", table))
        panels.append(panel)
        pieces += laid
    return PanelsLaid(tuple(panels), tuple(pieces))


def _laid(
    job: Job, surround: Surround, coursing: Coursing, asked: tuple[str, PanelTable]
) -> tuple[FacePanel, list[Piece]]:
    key, table = asked
    courses = _courses_beside(coursing, table)
    first, last = (coursing.courses[number - 1] for number in courses)
    left = surround.front.left + table.left
    box: Box = (left, first.bottom, left + table.width, last.top)

    def course_at(level: Fraction) -> int:
        return max(x.number for x in coursing.courses if x.bottom <= level)

    border, field = lay_border(job, key, table.border, box, course_at)
    size, edge = (field[2] - field[0], field[3] - field[1]), job.joints.head.preferred
    if not border:
        edge = max(edge, *_beds_along(coursing, courses))
    try:
        panel = best_panel(job, table.pattern, size, edge_joint=edge)
    except NotFilled as error:
        message = f"{key}.pattern: {table.pattern} can't be laid here: {error}"
        raise NotLaid(message) from None

    def placed(ring: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((x + field[0], y + field[1]) for x, y in ring)

    kind: PieceKind = "soldier" if table.pattern == "soldier" else "stretcher"
    pieces = list(border)
    for each in panel.pieces:
        ring = placed(each.ring)
        # A soldier stands, on the wall as on the saw's table.
        lain = ring if kind == "soldier" else each.lain
        at = course_at(min(y for _, y in ring))
        pieces.append(panel_piece(kind, "front", ring, each.cuts, lain, at))
    laid = FacePanel(
        name=table.name,
        pattern=table.pattern,
        border=table.border,
        box=box,
        courses=courses,
        field=field,
        joint=panel.brick.joint,
        edge_joint=edge,
        left_out=tuple(placed(each.ring) for each in panel.left_out),
        phase=panel.phase,
        is_symmetric=panel.is_symmetric,
        phases_tried=panel.phases_tried,
        narrowest=panel.narrowest,
    )
    return laid, [_in_panel(piece) for piece in pieces]


def _beds_along(coursing: Coursing, courses: tuple[int, int]) -> Iterator[Fraction]:
    """Yield the bed joints under a panel and over it."""
    yield coursing.courses[courses[0] - 1].bed_joint
    yield from (x.bed_joint for x in coursing.courses[courses[1] : courses[1] + 1])


def _in_panel(piece: Piece) -> Piece:
    return replace(piece, place="panel")


def _courses_beside(coursing: Coursing, table: PanelTable) -> tuple[int, int]:
    """Return the course that begins nearest to a panel's foot, and that at its top."""
    first = min(
        coursing.courses, key=lambda x: (abs(x.bottom - table.bottom), x.number)
    )
    above = [x for x in coursing.courses if x.number >= first.number]
    last = min(above, key=lambda x: (abs(x.top - table.top), x.number))
    return first.number, last.number


def say_panels(
    job: Job, coursing: Coursing, panels: tuple[FacePanel, ...], sawn: int
) -> Iterator[str]:
    """Yield how each panel is laid, a sentence each.

    Args:
        job: its lengths.
        coursing: which courses are laid already.
        panels: which.
        sawn: how many pieces of the courses are sawn at their edges.
    """

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    for panel in panels:
        wide, high = panel.size
        evenly = ", the same after a half turn" if panel.is_symmetric else ""
        border = "" if panel.border == "none" else f", in a border of {panel.border}s"
        yield (
            f"{_capital(panel.name)}: {panel.pattern}{border}, {say(wide)} x "
            f"{say(high)}, joints of {say(panel.joint)} in the pattern; of "
            f"{panel.phases_tried} places for the pattern this one leaves the widest "
            f"pieces at the edge{evenly} (common practice, no published source)."
        )
        if panel.left_out:
            count = len(panel.left_out)
            places = "1 place" if count == 1 else f"{count} places"
            name = _capital(panel.name)
            yield f"{name}: mortar takes {places} too narrow for a piece."
        first, last = panel.courses
        if any(course.is_laid for course in coursing.courses[first - 1 : last]):
            yield (
                f"{_capital(panel.name)}: some of the courses beside it are laid. The "
                "pattern is set out anew between the levels as measured; what is laid "
                "of it already may not fit: hold it against the drawing."
            )
    if panels:
        pieces = "1 piece is" if sawn == 1 else f"{sawn} pieces are"
        yield (
            f"The courses stop a joint of {say(job.joints.head.preferred)} beside a "
            f"panel; {pieces} sawn there. What is said of the bond is said of the "
            "courses as they would run without a panel."
        )


def _capital(name: str) -> str:
    return f"{name[0].upper()}{name[1:]}"
