"""Draw the main view: the front, and what stands in projection with it.

In:  `Solution`, the room on a sheet.   Out: an `Item`; what is left over.
Frame: paper lengths.

The returns are folded out beside the front on its level lines, the plan lies below it
on its verticals, and the section stands at the side on its heights. The scale is the
largest at which the front fits a sheet by itself; nothing else holds it down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from itertools import count

from shopdraw.drawing.composing import Item, alone, below, beside
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.sheets import (
    SCALES,
    STYLES,
    goes_into,
    scale_name,
    size_on_paper,
    titled,
)
from shopdraw.errors import NotDrawable
from shopdraw.solution import Solution
from shopdraw.views.wall import plans, returns, upright
from shopdraw.views.wall.elevation import draw_elevation

LETTERED = (16.0, 12.0)
"""The least width and height of the lettering round an elevation, in its heights."""
GAP = 3.0
"""What is left free between two drawings, in heights of lettering."""

Draw = Callable[[float], Drawing]


@dataclass
class Numbered:
    """Draws views and numbers them in order, as their titles say.

    Attributes:
        solution: for its lengths and its paper.
        content: the room on a sheet.
    """

    solution: Solution
    content: Box
    numbers: count[int] = field(default_factory=lambda: count(1))

    def draw(self, draw: Draw, scales: Sequence[float]) -> Drawing:
        """Draw at the largest of some scales that fits a sheet, or a smaller one.

        Raises:
            NotDrawable: it fits at no scale.
        """
        drawing = fitted(self.solution, draw, scales, self.content)
        return self.title(drawing)

    def title(self, drawing: Drawing, foot: float | None = None) -> Drawing:
        """Letter the next number and the view's title below it."""
        job = self.solution.job
        number = str(next(self.numbers))
        return titled(drawing, number, job.lengths, job.scales, foot)


def fitted(
    solution: Solution, draw: Draw, scales: Sequence[float], content: Box
) -> Drawing:
    """Draw at the largest scale at which the drawing fits a sheet with its title."""
    job = solution.job
    smaller = [x for x, _ in SCALES[job.scales] if x > scales[-1]]
    for scale in (*scales, *smaller):
        drawing = draw(scale)
        if _fits(titled(drawing, "00", job.lengths, job.scales), content):
            return drawing
    message = (
        f"sheet.size: {drawing.title.lower()} does not fit this paper at any scale; "
        "give larger paper"
    )
    raise NotDrawable(message)


@dataclass(frozen=True)
class MainView:
    """The front, what stands in projection with it, and what had no room there.

    Attributes:
        scale: of the front.
        item: front and what stands in projection with it.
        uprights: draw the returns and the section that have no room there.
        courses: whose plans have no room there.
    """

    scale: float
    item: Item
    uprights: Sequence[Draw]
    courses: Sequence[int]


def main_view(solution: Solution, content: Box, numbered: Numbered) -> MainView:
    """Draw the front, and as much beside it as has room on its sheet.

    Raises:
        NotDrawable: the front does not fit at the scale asked for, or at any.
    """
    scale, front = _front(solution, content)
    gap = GAP * STYLES[solution.lengths].text
    folded = {
        str(face.name): partial(returns.draw_return, solution, face.name)
        for face in solution.surround.faces
        if face.name != "front"
    }
    plan = partial(plans.draw_plan, solution, planned(solution)[0])
    section = partial(upright.draw_upright_section, solution)
    sides = [(draw, -1 if name == "left" else 1) for name, draw in folded.items()]
    # Tried in this order; each stays only if the sheet still holds all.
    chosen: list[tuple[Draw, int]] = []
    for more in ([(plan, 0)], sides, [(section, 1)]):
        item = _in_projection(numbered, front, (*chosen, *more), scale, gap, dry=True)
        if _item_fits(item, content):
            chosen += more
    item = _in_projection(numbered, front, chosen, scale, gap)
    drawn = [draw for draw, _ in chosen]
    left_over = [draw for draw in (*folded.values(), section) if draw not in drawn]
    courses = planned(solution)
    return MainView(scale, item, left_over, courses[1:] if plan in drawn else courses)


def _in_projection(
    numbered: Numbered,
    front: Drawing,
    chosen: Sequence[tuple[Draw, int]],
    scale: float,
    gap: float,
    *,
    dry: bool = False,
) -> Item:
    """Put views round the front; the titles of those beside it stand in one line."""
    numbers = Numbered(numbered.solution, numbered.content) if dry else numbered
    drawn = [(draw(scale), side) for draw, side in chosen]
    foot = _foot([front, *(drawing for drawing, side in drawn if side)])
    item = alone(numbers.title(front, foot))
    for drawing, side in drawn:
        if side:
            item = beside(item, numbers.title(drawing, foot), gap, side)
    for drawing, side in drawn:
        if not side:
            item = below(item, numbers.title(drawing), gap)
    return item


def on_level_lines(
    numbered: Numbered, draws: Sequence[Draw], scale: float
) -> Iterator[Item]:
    """Yield views of one height side by side, as many to a row as a sheet holds."""
    gap = GAP * STYLES[numbered.solution.lengths].text
    row: list[Drawing] = []
    for draw in draws:
        drawing = fitted(numbered.solution, draw, [scale], numbered.content)
        tried = Numbered(numbered.solution, numbered.content)
        alike = all(each.scale == drawing.scale for each in row)
        if row and not (
            alike and _item_fits(_row(tried, [*row, drawing], gap), numbered.content)
        ):
            yield _row(numbered, row, gap)
            row = []
        row.append(drawing)
    if row:
        yield _row(numbered, row, gap)


def _row(numbered: Numbered, row: Sequence[Drawing], gap: float) -> Item:
    foot = _foot(row)
    item = alone(numbered.title(row[0], foot))
    for drawing in row[1:]:
        item = beside(item, numbered.title(drawing, foot), gap, 1)
    return item


def _foot(row: Sequence[Drawing]) -> float:
    """Return the level below all views in a row, for their titles."""
    return min(extent_of(drawing)[1] for drawing in row)


def _front(solution: Solution, content: Box) -> tuple[float, Drawing]:
    """Choose the largest scale at which the front fits a sheet, and draw it at it."""
    job = solution.job
    asked = job.sheet.scale
    scales = [x for x, _ in SCALES[job.scales] if x > 1]
    if asked is not None:
        scales = [float(asked)]
    text, face = STYLES[job.lengths].text, solution.surround
    for scale in scales:
        # Sizes of face and lettering come first, because drawing takes longer.
        bare = (
            float(face.front.width) / scale + LETTERED[0] * text,
            float(face.height) / scale + LETTERED[1] * text,
        )
        if not goes_into(bare, content):
            continue
        front = draw_elevation(solution, scale)
        if _fits(titled(front, "1", job.lengths, job.scales), content):
            return scale, front
    size = job.sheet.size
    message = (
        f"sheet.size: the elevation does not fit {size} at any scale; give larger paper"
    )
    if asked is not None:
        at = scale_name(scales[-1], job.scales)
        message = f'sheet.scale: the elevation does not fit at {at}; write "fit"'
    raise NotDrawable(message)


def planned(solution: Solution) -> list[int]:
    """Return the courses that have a plan: the first two, a band, a corbel's last."""
    coursing = solution.coursing
    standing = [x.number for x in coursing.bands() if not x.is_running]
    out = [course.number for course in coursing.corbelled]
    numbers = [course.number for course in coursing.courses][:2]
    return sorted({*numbers, *standing[:1], *out[-1:]})


def _fits(drawing: Drawing, content: Box) -> bool:
    return goes_into(size_on_paper(drawing), content)


def _item_fits(item: Item, content: Box) -> bool:
    return goes_into(item.size, content)
