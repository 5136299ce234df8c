"""Compose the set: choose which views go on which sheet, and at which scale.

In:  `Solution`.   Out: `Sheet`s; the papers beside them.
Frame: paper lengths, in the job's lengths.

Sheet 1 is the elevation with its notes, then the returns, plans and sections, then the
cut list, details and tables. What does not fit goes on to a further sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
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
from shopdraw.solution import Solution
from shopdraw.views.hearth.edge import draw_hearth_edge
from shopdraw.views.hearth.plan import draw_hearth_plan
from shopdraw.views.hearth.riser import draw_riser
from shopdraw.views.making import cut_pieces
from shopdraw.views.making.labels import draw_labels
from shopdraw.views.making.poles import draw_poles
from shopdraw.views.making.templates import draw_templates
from shopdraw.views.making.ticket import draw_ticket
from shopdraw.views.parts.stamps import title_block
from shopdraw.views.review.page import draw_review
from shopdraw.views.wall import edges, plans, returns, sections, upright
from shopdraw.views.wall.corner import draw_corner_interlock, has_square_corner
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.wall.inside import draw_inside_corner
from shopdraw.views.wall.turned import (
    corners_shown,
    draw_jamb_courses,
    draw_turned_corner,
)
from shopdraw.views.words import schedules, tables
from shopdraw.views.words.notes import caution_notes, general_notes

LETTERED = (16.0, 12.0)
"""The least width and height of the lettering round an elevation, in its heights."""
NOTES_WIDE = 56
"""How wide the column of notes is, in heights of lettering."""
READABLE: dict[Practice, float] = {"us": 16, "iso": 20}
"""At a smaller scale than this, an elevation has a sheet to itself."""
DETAIL_SCALES = {"us": (4.0, 8.0, 12.0), "iso": (5.0, 10.0, 20.0)}


def compose_sheets(solution: Solution) -> tuple[Sheet, ...]:
    """Draw every view and put them on sheets.

    Raises:
        NotDrawable: the paper is too small for the scale asked for, or for any scale.
    """
    job, style = solution.job, STYLES[solution.lengths]
    wide, high = (float(side) for side in job.paper)
    content = content_of(wide, high, style)
    scale, front = _front(solution, content, style)
    pages: list[tuple[str, str, tuple[tuple[Drawing, Cell], ...]]] = []
    returns_group = _returns_group(solution, content, scale)
    for name, title, drawings in (
        _elevation_group(solution, content, scale, front),
        returns_group,
        *_hearth_group(solution, content, scale, 2 + len(returns_group[2])),
        _details_group(solution, content, scale),
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
            (wide, high),
            job.lengths,
            cells,
            title_block(
                solution,
                (number, len(pages) + 1),
                title,
                tuple(drawing.scale for drawing, _ in cells if drawing.title),
            ),
        )
        for number, (name, title, cells) in enumerate(pages, start=1)
    )


def draw_papers(solution: Solution) -> tuple[tuple[str, tuple[Sheet, ...]], ...]:
    """Draw the pages that are printed beside the sheets, as far as the job has them."""
    papers = (
        ("story-pole", draw_poles(solution)),
        ("review", (draw_review(solution),)),
        ("ticket", draw_ticket(solution)),
        ("labels", draw_labels(solution)),
        ("arch-templates", draw_templates(solution)),
    )
    return tuple((name, pages) for name, pages in papers if pages)


def _front(
    solution: Solution, content: Box, style: PaperStyle
) -> tuple[float, Drawing]:
    """Choose the largest scale at which every elevation fits, and draw the front at it.

    The front shares its sheet with the notes, unless that would make it too small to
    read; then the notes go on to the next sheet.
    """
    left, bottom, right, top = content
    beside = Cell((left, bottom, right - NOTES_WIDE * style.text - 3 * style.text, top))
    asked = solution.job.sheet.scale
    tries = [x for x, _ in SCALES[solution.job.scales] if x > 1]
    if asked is not None:
        tries = [float(asked)]
    readable = [x for x in tries if x <= READABLE[solution.job.scales]]
    for cell, scales in ((beside, readable), (Cell(content), tries)):
        for scale in scales:
            front = _front_that_fits(solution, cell, Cell(content), scale)
            if front is not None:
                return scale, front
    size = solution.job.sheet.size
    message = (
        f"sheet.size: the elevation does not fit {size} at any scale; give larger paper"
    )
    if asked is not None:
        at = scale_name(tries[-1], solution.job.scales)
        message = f'sheet.scale: the elevation does not fit at {at}; write "fit"'
    raise NotDrawable(message)


def _front_that_fits(
    solution: Solution, cell: Cell, whole: Cell, scale: float
) -> Drawing | None:
    """Return the front elevation if all elevations fit at a scale, otherwise None.

    The sizes of face and lettering are tried first, because drawing takes longer.
    """
    lengths, face = solution.job.lengths, solution.surround
    text = STYLES[lengths].text
    bare = (
        float(face.front.width) / scale + LETTERED[0] * text,
        float(face.height) / scale + LETTERED[1] * text,
    )
    if not goes_into(bare, cell):
        return None
    front = titled(draw_elevation(solution, scale), "1", lengths, solution.job.scales)
    if not fits(front, cell):
        return None
    returns_fit = all(
        fits(
            titled(_return(solution, name, scale), "1", lengths, solution.job.scales),
            whole,
        )
        for name in _return_names(solution)
    )
    return front if returns_fit else None


def _return_names(solution: Solution) -> tuple[str, ...]:
    return tuple(face.name for face in solution.surround.faces if face.name != "front")


def _return(solution: Solution, name: str, scale: float) -> Drawing:
    return returns.draw_return(solution, name, scale)


Group = tuple[str, str, tuple[Drawing, ...]]


def _elevation_group(
    solution: Solution, content: Box, scale: float, front: Drawing
) -> Group:
    job, style = solution.job, STYLES[solution.lengths]
    width = min(NOTES_WIDE * style.text, content[2] - content[0])
    lettered = (general_notes(solution), caution_notes(job))
    notes = _noted(lettered, content, scale, width, style)
    if job.revision:
        table = schedules.revisions_table(job)
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
    """Letter notes in as many columns as the height of the sheet calls for."""
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


def _returns_group(solution: Solution, content: Box, scale: float) -> Group:
    job, surround = solution.job, solution.surround
    large = [x for x in DETAIL_SCALES[job.scales] if x <= scale] or [scale]

    def fitted(draw: Callable[..., Drawing], *asked: str | int) -> Drawing:
        return _at_a_scale(partial(draw, solution, *asked), [scale], content, job)

    def detail(draw: Callable[..., Drawing], *asked: str | int) -> Drawing:
        return _at_a_scale(partial(draw, solution, *asked), large, content, job)

    numbers = _planned(solution)
    drawings = [
        *(_return(solution, name, scale) for name in _return_names(solution)),
        *(fitted(returns.draw_reveal, face.name) for face in surround.reveals),
        *(fitted(plans.draw_plan, number) for number in numbers),
        fitted(upright.draw_upright_section),
    ]
    if has_square_corner(surround):
        drawings.append(detail(draw_corner_interlock))
    drawings += (
        detail(draw_turned_corner, surround.folds.index(fold) + 1)
        for fold in corners_shown(surround)
    )
    drawings += (
        detail(draw_inside_corner, face.name.split()[0]) for face in surround.alcoves
    )
    drawings.append(detail(sections.draw_head_section))
    if surround.splay:
        drawings.append(detail(draw_jamb_courses))
    if not surround.reveals:
        # Where brick turns into the jamb, the plans show it.
        drawings.append(detail(sections.draw_jamb_plan))
    named = tuple(
        titled(drawing, str(number), job.lengths, job.scales)
        for number, drawing in enumerate(drawings, start=2)
    )
    return "returns", "RETURNS, PLANS AND SECTIONS", named


def _planned(solution: Solution) -> list[int]:
    """Return the courses that have a plan: the first two, a band, a corbel's last."""
    coursing = solution.coursing
    standing = [x.number for x in coursing.bands() if not x.is_running]
    out = [course.number for course in coursing.corbelled]
    numbers = [course.number for course in coursing.courses][:2]
    return sorted({*numbers, *standing[:1], *out[-1:]})


def _hearth_group(
    solution: Solution, content: Box, scale: float, first: int
) -> Iterator[Group]:
    """Yield the sheet of a hearth of brick, its views numbered from `first` on."""
    job, hearth = solution.job, solution.hearth
    if hearth is None:
        return
    large = [x for x in DETAIL_SCALES[job.scales] if x <= scale] or [scale]
    on_top = partial(draw_hearth_plan, solution, hearth)
    drawings = [_at_a_scale(on_top, [scale], content, job)]
    if hearth.riser is not None:
        drawings += (
            _at_a_scale(
                partial(draw_riser, solution, hearth, hearth.riser, face.name),
                [scale],
                content,
                job,
            )
            for face in hearth.riser.surround.faces
        )
    edge = partial(draw_hearth_edge, solution, hearth)
    drawings.append(_at_a_scale(edge, large, content, job))
    named = tuple(
        titled(drawing, str(number), job.lengths, job.scales)
        for number, drawing in enumerate(drawings, start=first)
    )
    yield "hearth", "HEARTH IN BRICK", named


def _at_a_scale(
    draw: Callable[[float], Drawing],
    scales: list[float],
    content: Box,
    job: Job,
) -> Drawing:
    """Draw at the largest scale at which the drawing fits a sheet by itself."""
    smaller = [x for x, _ in SCALES[job.scales] if x > scales[-1]]
    for scale in (*scales, *smaller):
        drawing = draw(scale)
        if fits(titled(drawing, "00", job.lengths, job.scales), Cell(content)):
            return drawing
    message = (
        f"sheet.size: {drawing.title.lower()} does not fit this paper at any scale; "
        "give larger paper"
    )
    raise NotDrawable(message)


def _details_group(solution: Solution, content: Box, scale: float) -> Group:
    job, style = solution.job, STYLES[solution.lengths]
    room = content[2] - content[0], content[3] - content[1]
    large = [x for x in DETAIL_SCALES[job.scales] if x <= scale] or [scale]
    asked = [edges.draw_hearth_edge, edges.draw_top_edge, edges.draw_side_edge]
    if solution.coursing.corbelled:
        asked.append(edges.draw_corbel)
    ends = (_at_a_scale(partial(draw, solution), large, content, job) for draw in asked)
    drawings = (
        *cut_pieces.draw_details(solution, large[0]),
        *(
            titled(drawing, f"E{number}", job.lengths, job.scales)
            for number, drawing in enumerate(ends, start=1)
        ),
        *(
            drawing
            for table in tables.sheet_tables(solution)
            if table.rows
            for drawing in _tabled(table, room, scale, style)
        ),
    )
    return "cut-list", "CUT LIST, DETAILS AND TAKEOFF", drawings


def _tabled(
    table: Table, room: tuple[float, float], scale: float, style: PaperStyle
) -> list[Drawing]:
    """Draw a table, split in parts if it is higher than a sheet."""
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
    """Put drawings on as many sheets as they need."""
    sizes = [size_on_paper(drawing) for drawing in drawings]
    packed: list[list[Packed]] = pack(sizes, content, gap=3 * style.text)
    return [
        tuple((drawings[item.index], Cell(item.box, "top")) for item in page)
        for page in packed
    ]
