"""Compose the set: which views go on which sheet, at which scale.

In:  the parts of a solution.   Out: `Sheet`s.
Frame: paper lengths, in the job's lengths.

Sheet 1 is the elevation with its notes, then the returns, plans and sections, then the
cut list, details and tables. What does not fit goes on to a further sheet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.measures import with_arrows
from shopdraw.drawing.packing import Packed, pack
from shopdraw.drawing.sheets import (
    SCALES,
    STYLES,
    Cell,
    PaperStyle,
    Practice,
    Sheet,
    compose_sheet,
    content_of,
    fits,
    goes_into,
    scale_name,
    size_on_paper,
    titled,
)
from shopdraw.drawing.tables import Notes, Table, draw_notes, draw_table
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import CutListRow, Layout
from shopdraw.review.findings import Finding
from shopdraw.views.making import cut_pieces as details
from shopdraw.views.parts.stamps import title_block
from shopdraw.views.wall import edges, plans, returns, sections, upright
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.words import schedules, tables
from shopdraw.views.words.notes import caution_notes, general_notes

LETTERED = (16.0, 12.0)
"""What is lettered about an elevation takes this much at the least, in its heights."""
NOTES_WIDE = 56
"""The notes' column is so many letter heights wide."""
READABLE: dict[Practice, float] = {"us": 16, "iso": 20}
"""At a smaller scale than this an elevation needs its sheet to itself."""
DETAIL_SCALES = {"us": (4.0, 8.0, 12.0), "iso": (5.0, 10.0, 20.0)}


@dataclass(frozen=True)
class Wall:
    """What every view of the wall is drawn from."""

    job: Job
    surround: Surround
    coursing: Coursing
    layout: Layout


def compose_set(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    cut_list: tuple[CutListRow, ...],
    findings: tuple[Finding, ...],
    lists: tuple[Table, ...],
    paper: tuple[float, float],
) -> tuple[Sheet, ...]:
    """Draw every view and put them on sheets.

    The lists are those of what to saw and to buy; the paper's width and height are in
    the job's lengths.

    Raises:
        NotDrawable: the paper is too small for the scale asked for, or for any.
    """
    wall = Wall(job, surround, coursing, layout)
    style = STYLES[job.lengths]
    content = content_of(*paper, style)
    scale, front = _front(wall, content, style)
    pages: list[tuple[str, str, tuple[tuple[Drawing, Cell], ...]]] = []
    for name, title, drawings in (
        _elevation_group(wall, content, scale, front),
        _returns_group(wall, content, scale, findings),
        _details_group(wall, content, scale, cut_list, findings, lists),
    ):
        is_iso = job.sheet.profile == "iso"
        ended = tuple(with_arrows(x) if is_iso else x for x in drawings)
        for page, cells in enumerate(_pages(ended, content, style), start=1):
            suffix = "" if page == 1 else f"-{page}"
            more = "" if page == 1 else f" ({page})"
            pages.append((f"{name}{suffix}", f"{title}{more}", cells))
    return tuple(
        compose_sheet(
            number,
            name,
            title,
            paper,
            job.lengths,
            cells,
            title_block(
                job,
                coursing,
                findings,
                (number, len(pages) + 1),
                title,
                tuple(drawing.scale for drawing, _ in cells if drawing.title),
            ),
        )
        for number, (name, title, cells) in enumerate(pages, start=1)
    )


def _front(wall: Wall, content: Box, style: PaperStyle) -> tuple[float, Drawing]:
    """Choose one scale for all elevations, the largest at which each of them fits.

    The front shares its sheet with the notes, unless that would make it too small to
    read; then they go on to the next.
    """
    left, bottom, right, top = content
    beside = Cell((left, bottom, right - NOTES_WIDE * style.text - 3 * style.text, top))
    asked = wall.job.sheet.scale
    tries = [x for x, _ in SCALES[wall.job.scales] if x > 1]
    if asked is not None:
        tries = [float(asked)]
    readable = [x for x in tries if x <= READABLE[wall.job.scales]]
    for cell, scales in ((beside, readable), (Cell(content), tries)):
        for scale in scales:
            front = _front_that_fits(wall, cell, Cell(content), scale)
            if front is not None:
                return scale, front
    message = f"sheet.size: the elevation fits {wall.job.sheet.size} at no scale"
    if asked is not None:
        at = scale_name(tries[-1], wall.job.scales)
        message = f'sheet.scale: the elevation does not fit at {at}; write "fit"'
    raise NotDrawable(message)


def _front_that_fits(
    wall: Wall, cell: Cell, whole: Cell, scale: float
) -> Drawing | None:
    """Return the front's elevation, where all elevations fit; None where one doesn't.

    The face and the least that is lettered about it are asked first, undrawn.
    """
    lengths, face = wall.job.lengths, wall.surround
    text = STYLES[lengths].text
    bare = (
        float(face.front.width) / scale + LETTERED[0] * text,
        float(face.height) / scale + LETTERED[1] * text,
    )
    if not goes_into(bare, cell):
        return None
    front = titled(_elevation(wall, scale), "1", lengths, wall.job.scales)
    if not fits(front, cell):
        return None
    returns_fit = all(
        fits(titled(_return(wall, name, scale), "1", lengths, wall.job.scales), whole)
        for name in _return_names(wall)
    )
    return front if returns_fit else None


def _elevation(wall: Wall, scale: float) -> Drawing:
    return draw_elevation(wall.job, wall.surround, wall.coursing, wall.layout, scale)


def _return_names(wall: Wall) -> tuple[str, ...]:
    return tuple(face.name for face in wall.surround.faces if face.name != "front")


def _return(wall: Wall, name: str, scale: float) -> Drawing:
    return returns.draw_return(
        wall.job, wall.surround, wall.coursing, wall.layout, name, scale
    )


Group = tuple[str, str, tuple[Drawing, ...]]


def _elevation_group(wall: Wall, content: Box, scale: float, front: Drawing) -> Group:
    style = STYLES[wall.job.lengths]
    width = min(NOTES_WIDE * style.text, content[2] - content[0])
    notes = _noted(
        (
            general_notes(wall.job, wall.surround, wall.coursing, wall.layout),
            caution_notes(wall.job),
        ),
        content,
        scale,
        width,
        style,
    )
    if wall.job.revision:
        table = schedules.revisions_table(wall.job)
        room = (width, content[3] - content[1])
        notes[0:0] = _tabled(table, room, scale, style)
    return "elevation", "FRONT ELEVATION", (front, *notes)


def _noted(
    notes: tuple[Notes, ...],
    content: Box,
    scale: float,
    width: float,
    style: PaperStyle,
) -> list[Drawing]:
    """Letter notes in as many columns as the sheet's height makes of them."""
    drawings = []
    for note in notes:
        drawing = draw_notes(note, style.text, scale, width)
        if size_on_paper(drawing)[1] <= content[3] - content[1]:
            drawings.append(drawing)
            continue
        half = len(note.paragraphs) // 2
        for part, paragraphs in enumerate(
            (note.paragraphs[:half], note.paragraphs[half:])
        ):
            title = note.title if not part else f"{note.title} (CONTINUED)"
            one = replace(
                note, name=f"{note.name}-{part}", title=title, paragraphs=paragraphs
            )
            drawings += _noted((one,), content, scale, width, style)
    return drawings


def _returns_group(
    wall: Wall, content: Box, scale: float, findings: tuple[Finding, ...]
) -> Group:
    lengths = wall.job.lengths
    parts = (wall.job, wall.surround, wall.coursing, wall.layout)
    drawings: list[Drawing] = [
        _return(wall, name, scale) for name in _return_names(wall)
    ]
    drawings += [
        _at_a_scale(
            partial(returns.draw_reveal, *parts, face.name), [scale], content, wall.job
        )
        for face in wall.surround.reveals
    ]
    numbers = [course.number for course in wall.coursing.courses][:2]
    drawings += [_plan(wall, number, scale, content) for number in numbers]
    drawings.append(
        _at_a_scale(
            lambda s: upright.draw_upright_section(*parts, findings, s),
            [scale],
            content,
            wall.job,
        )
    )
    large = [x for x in DETAIL_SCALES[wall.job.scales] if x <= scale] or [scale]
    if wall.surround.folds:
        drawings.append(
            _at_a_scale(
                lambda s: plans.draw_corner_interlock(
                    wall.job, wall.surround, wall.layout, s
                ),
                large,
                content,
                wall.job,
            )
        )
    drawings.append(
        _at_a_scale(
            lambda s: sections.draw_head_section(*parts, s), large, content, wall.job
        )
    )
    if not wall.surround.reveals:
        # Where brick turns into the jamb the plans show it.
        drawings.append(
            _at_a_scale(
                lambda s: sections.draw_jamb_plan(
                    wall.job, wall.surround, wall.layout, s
                ),
                large,
                content,
                wall.job,
            )
        )
    named = tuple(
        titled(drawing, str(number), lengths, wall.job.scales)
        for number, drawing in enumerate(drawings, start=2)
    )
    return "returns", "RETURNS, PLANS AND SECTIONS", named


def _plan(wall: Wall, course: int, scale: float, content: Box) -> Drawing:
    def draw(at: float) -> Drawing:
        return plans.draw_plan(
            wall.job, wall.surround, wall.coursing, wall.layout, course, at
        )

    return _at_a_scale(draw, [scale], content, wall.job)


def _at_a_scale(
    draw: Callable[[float], Drawing],
    scales: list[float],
    content: Box,
    job: Job,
) -> Drawing:
    """Draw at the largest of the scales at which it fits a sheet by itself."""
    smaller = [x for x, _ in SCALES[job.scales] if x > scales[-1]]
    for scale in (*scales, *smaller):
        drawing = draw(scale)
        if fits(titled(drawing, "00", job.lengths, job.scales), Cell(content)):
            return drawing
    message = f"sheet.size: {drawing.title.lower()} fits this paper at no scale"
    raise NotDrawable(message)


def _details_group(
    wall: Wall,
    content: Box,
    scale: float,
    cut_list: tuple[CutListRow, ...],
    findings: tuple[Finding, ...],
    lists: tuple[Table, ...],
) -> Group:
    job, style = wall.job, STYLES[wall.job.lengths]
    room = content[2] - content[0], content[3] - content[1]
    drawings = [
        drawing
        for table in (
            *lists,
            schedules.materials_table(job),
            tables.coursing_table(job, wall.coursing),
            tables.targets_table(job, wall.coursing),
            tables.findings_table(job, findings),
        )
        if table.rows
        for drawing in _tabled(table, room, scale, style)
    ]
    large = [x for x in DETAIL_SCALES[job.scales] if x <= scale] or [scale]
    parts = job, wall.surround, wall.coursing
    ends = (
        _at_a_scale(draw, large, content, job)
        for draw in (
            partial(edges.draw_hearth_edge, *parts),
            partial(edges.draw_top_edge, *parts),
            partial(edges.draw_side_edge, job, wall.surround),
        )
    )
    drawings[0:0] = (
        *details.draw_details(job, cut_list, large[0], room),
        *(
            titled(drawing, f"E{number}", job.lengths, job.scales)
            for number, drawing in enumerate(ends, start=1)
        ),
    )
    return "cut-list", "CUT LIST, DETAILS AND TAKEOFF", tuple(drawings)


def _tabled(
    table: Table, room: tuple[float, float], scale: float, style: PaperStyle
) -> list[Drawing]:
    """Draw a table, in parts where it is higher than a sheet."""
    drawing = draw_table(table, style.text, scale, room[0])
    if size_on_paper(drawing)[1] <= room[1] or len(table.rows) < 2:
        return [drawing]
    half = len(table.rows) // 2
    title = table.title.removesuffix(" (CONTINUED)")
    parts = (
        replace(table, rows=table.rows[:half]),
        replace(
            table,
            name=f"{table.name}-on",
            title=f"{title} (CONTINUED)",
            rows=table.rows[half:],
        ),
    )
    return [d for part in parts for d in _tabled(part, room, scale, style)]


def _pages(
    drawings: tuple[Drawing, ...], content: Box, style: PaperStyle
) -> list[tuple[tuple[Drawing, Cell], ...]]:
    """Pack drawings onto as many sheets as they need."""
    sizes = [size_on_paper(drawing) for drawing in drawings]
    packed: list[list[Packed]] = pack(sizes, content, gap=3 * style.text)
    return [
        tuple((drawings[item.index], Cell(item.box, "top")) for item in page)
        for page in packed
    ]
