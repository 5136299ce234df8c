"""Draw the views: the front with what stands in projection with it, and the others.

In:  `Solution`, the room on a sheet.   Out: `Item`s.
Frame: paper lengths.

The returns are folded out beside the front on its level lines, the plan lies below it
on its verticals, and the section stands at the side on its heights. The scale is the
largest at which the front fits a sheet by itself; nothing else holds it down.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache, partial
from math import inf

from shopdraw.drawing.arranging import Item, alone, below, beside, on_verticals
from shopdraw.drawing.dividing import divide
from shopdraw.drawing.extension_lines import tied
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Insert
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.measures import with_arrows
from shopdraw.drawing.sheets import SCALES, STYLES, goes_into, scale_name
from shopdraw.drawing.striking import is_struck
from shopdraw.drawing.titles import titled
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.solution import Solution
from shopdraw.views.every import Part, SheetView, every_view
from shopdraw.views.levels import with_levels
from shopdraw.views.sights import with_sights

FRONT = "front"
"""The verticals that the front, plans and the hearth from above share."""
LETTERED = (16.0, 12.0)
"""The least width and height of the lettering round an elevation, in its heights."""
GAP = 3.0
"""What is left free between two drawings, in heights of lettering."""
LEGIBLE = 1.3
"""So many heights of lettering make the least height of a brick on paper."""
UPRIGHT = ("side", "upright")
"""The parts that stand on the level lines of the front."""
PLANS = ("plan", "course")
"""The parts that are plans: of brick cut through, each with its figure."""
DIVIDED_AT = 3
"""A view is divided at one of so many scales."""
DETAIL_SCALES = {"us": (2.0, 4.0), "iso": (2.0, 5.0)}
"""The scales of details: the first on a sheet that would be bare, or the last."""


Row = Sequence[tuple[SheetView, Drawing]]


class Views:
    """Every view of a set, drawn as asked, with its marks and its title.

    Attributes:
        scale: of the front.
        main: the front, and what stands in projection with it; or the front's parts.
    """

    def __init__(self, solution: Solution, content: Box) -> None:
        """Choose the front's scale, and what has room beside it on a sheet.

        Raises:
            NotDrawable: the front does not fit, nor in parts of any number tried.
        """
        self._solution, self._content = solution, content
        # What is asked for again, at one scale or in parts of it, is drawn once.
        self._views = [replace(x, draw=cache(x.draw)) for x in every_view(solution)]
        self._marked = cache(self._with_marks)
        numbered = enumerate(self._views, start=1)
        self._numbers = {view.name: number for number, view in numbered}
        self._gap = GAP * STYLES[solution.lengths].text
        self._rows: dict[tuple[int, ...], tuple[Row, Item]] = {}
        # Views that their level lines would make too wide at any scale.
        self._unlevelled: set[str] = set()
        self.scale, fronts = self._front()
        self._taken: set[str] = set()
        self._kept: dict[tuple[str, float], tuple[Drawing, ...]] = {}
        self._items: dict[tuple[str, float], Item | None] = {}
        self.main = self._projected(fronts)

    @property
    def large(self) -> float:
        """The usual scale of details: no smaller than the front's."""
        return min(DETAIL_SCALES[self._solution.job.scales][-1], self.scale)

    def others(self, *parts: Part) -> Iterator[Item]:
        """Yield the views of some parts that are not in the main view, one by one."""
        for view in self._left(*parts):
            drawn = self._fitted(view, self.large if view.is_large else self.scale)
            for drawing in drawn:
                item = self._single(view, drawing)
                if len(drawn) == 1:
                    larger = partial(self._larger, view, drawing.scale)
                    item = replace(item, larger=larger)
                yield item

    def _larger(self, view: SheetView, scale: float) -> Item | None:
        """Draw a view at the next larger standard scale, if it may be so large.

        A detail may have the largest scale of details, any other view their usual one.
        """
        scales = self._solution.job.scales
        most = DETAIL_SCALES[scales][0 if view.is_large else -1]
        larger = [x for x, _ in SCALES[scales] if most <= x < scale]
        if not larger:
            return None
        if (view.name, larger[-1]) not in self._items:
            drawing = self._drawn(view, larger[-1])
            item = None if drawing is None else self._single(view, drawing)
            if item is not None:
                item = replace(item, larger=partial(self._larger, view, larger[-1]))
            self._items[view.name, larger[-1]] = item
        return self._items[view.name, larger[-1]]

    def rows(self, *parts: Part) -> Iterator[Item]:
        """Yield views of one height side by side, in the fewest rows that sheets hold.

        Of these ways the one that parts the fewest pairs, of left and right; then the
        one whose first rows are fullest.
        """
        drawn = [(view, self._fitted(view, self.scale)) for view in self._left(*parts)]
        # The best rows of all views from one on: how many, pairs parted, their ends.
        best: list[tuple[int, int, tuple[int, ...]]] = [(0, 0, ())]
        for start in reversed(range(len(drawn))):
            found = []
            for end in range(start + 1, len(drawn) + 1):
                if end > start + 1 and not self._is_row(drawn[start:end]):
                    break
                count, parted, ends = best[len(drawn) - end]
                parted += end < len(drawn) and _are_pair(
                    drawn[end - 1][0], drawn[end][0]
                )
                found.append((count + 1, parted, (end, *ends)))
            best.append(min(reversed(found), key=lambda way: way[:2]))
        start = 0
        for end in best[-1][2]:
            (view, parts_of), *rest = drawn[start:end]
            if len(parts_of) > 1 or not rest:
                yield from (self._single(view, part) for part in parts_of)
            else:
                yield self._row([(x, one) for x, (one,) in ((view, parts_of), *rest)])
            start = end

    def _is_row(self, drawn: Sequence[tuple[SheetView, tuple[Drawing, ...]]]) -> bool:
        """Whether views go side by side: all whole, at one scale, on one sheet."""
        row = [(view, each) for view, parts in drawn for each in parts]
        alike = len(row) == len(drawn) and len({each.scale for _, each in row}) == 1
        return alike and self._goes(self._row(row))

    def _left(self, *parts: Part) -> list[SheetView]:
        return [x for x in self._views if x.part in parts and x.name not in self._taken]

    def _of(self, part: Part) -> list[SheetView]:
        return [view for view in self._views if view.part == part]

    def _front(self) -> tuple[float, tuple[Drawing, ...]]:
        """Choose the largest scale at which the front fits a sheet, and draw it.

        Where it fits at none at which lettering fits a brick, it is divided; also
        where at each of them a line would run through lettering. Where a part would
        still be too large, one long unit even, it is drawn smaller.
        """
        job = self._solution.job
        scales = legible_scales(job)
        (view,) = self._of("front")
        crowded: tuple[Drawing, ...] = ()
        for scale in scales:
            # Sizes of face and lettering come first, because drawing takes longer.
            bare = least_size(self._solution, scale)
            front = self._drawn(view, scale) if goes_into(bare, self._content) else None
            if front is None:
                continue
            if not is_struck(front):
                return scale, (front,)
            crowded = crowded or (front,)
        parts = self._divided(view, scales[-DIVIDED_AT:])
        if crowded and (not parts or any(map(is_struck, parts))):
            parts = crowded
        if not parts and job.sheet.scale is None:
            small = [x for x, _ in SCALES[job.scales] if x > max(scales, default=1)]
            parts = self._whole(view, small) or self._divided(view, small)
        if parts:
            return parts[0].scale, parts
        message = (
            f"sheet.size: the elevation does not fit {job.sheet.size} at any scale, "
            "nor in parts; give larger paper"
        )
        if job.sheet.scale is not None:
            at = scale_name(scales[-1], job.scales)
            message = f'sheet.scale: the elevation does not fit at {at}; write "fit"'
        raise NotDrawable(message)

    def _divided(self, view: SheetView, scales: Sequence[float]) -> tuple[Drawing, ...]:
        """Divide a view in the fewest parts, at the largest scale that takes no more.

        A scale at which a line runs through lettering is taken only for want of others.
        """
        text, number = STYLES[self._solution.lengths].text, self._numbers[view.name]

        def fits(part: Drawing) -> bool:
            return self._goes(self._single(view, part))

        left, bottom, right, top = self._content
        best: tuple[Drawing, ...] = ()
        crowded: tuple[Drawing, ...] = ()
        for scale in scales:
            room = (right - left) * scale, (top - bottom) * scale
            drawing = self._marked(view, scale)
            parts = divide(drawing, number, fits, text, room, len(best) or inf)
            if any(map(is_struck, parts)):
                crowded = crowded or parts
                continue
            best = parts or best
        return best or crowded

    def _projected(self, fronts: tuple[Drawing, ...]) -> tuple[Item, ...]:
        """Put views round the front, in this order, each while the sheet holds all."""
        (view,) = self._of("front")
        self._taken = {view.name}
        if len(fronts) > 1:
            titled_ones = (self._titled(view, part) for part in fronts)
            return tuple(alone(part, shows=view.shows) for part in titled_ones)
        drawn = {view.name: (view, fronts[0])}
        sections = [x for x in self._of("upright") if x.name == "upright-section"]
        for more in (self._of("plan"), self._of("side"), sections):
            added = {x.name: (x, self._marked(x, self.scale)) for x in more}
            if self._goes(self._round({**drawn, **added})):
                drawn |= added
                self._taken |= set(added)
        return (self._round(drawn),)

    def _round(self, drawn: dict[str, tuple[SheetView, Drawing]]) -> Item:
        """Put views round the front, and those below it on its verticals."""
        row = [pair for pair in drawn.values() if pair[0].part != "plan"]
        item = replace(self._row(row), verticals=FRONT)
        for view, drawing in drawn.values():
            if view.part == "plan":
                titled_one = self._titled(view, drawing)
                item = below(item, titled_one, self._gap, view.shows)
        return item

    def _row(self, row: Row) -> Item:
        """Put views side by side on their level lines, their titles in one line.

        Returns at the left of the front stand at its left. The levels are named at the
        right edge, but where the front names them. A row that is asked for again, once
        to see whether it fits and once to be placed, is put together once.
        """
        key = tuple(id(drawing) for _, drawing in row)
        if key not in self._rows:
            # Its drawings are kept with it, so that no other has their place.
            self._rows[key] = tuple(row), self._put(row)
        return self._rows[key][1]

    def _put(self, row: Row) -> Item:
        """Put views side by side, as a row is asked for."""
        foot = _foot([drawing for _, drawing in row])
        has_front = row[0][0].part == "front"
        top = max(extent_of(drawing)[3] for _, drawing in row)
        ones = [self._titled(view, drawing, foot) for view, drawing in row]
        for place, one in enumerate(ones):
            named = one is ones[-1] and not has_front
            if named or len(row) > 1:
                half = self._gap / 2
                ones[place] = with_levels(
                    self._solution, one, half, top, is_named=named
                )
        item = alone(ones[0], shows=row[0][0].shows)
        rest = [(view, one) for (view, _), one in zip(row, ones, strict=True)][1:]
        at_left = [x for x in rest if has_front and _is_left(x[0])]
        # Beside the front comes first what is next to it.
        for view, one in at_left[::-1]:
            item = beside(item, one, 0.0, -1, view.shows)
        for view, one in (x for x in rest if x not in at_left):
            item = beside(item, one, 0.0, 1, view.shows)
        return item

    def _single(self, view: SheetView, drawing: Drawing) -> Item:
        """Put a view by itself: whole on its level lines, if a sheet takes both."""
        is_levelled = view.part in UPRIGHT and view.name not in self._unlevelled
        if is_levelled and drawing.part is None:
            return self._row([(view, drawing)])
        titled_one = self._titled(view, drawing)
        if view.along is None or drawing.part is not None:
            return alone(titled_one, shows=view.shows)
        return on_verticals(FRONT, titled_one, float(view.along), view.shows)

    def _fitted(self, view: SheetView, first: float) -> tuple[Drawing, ...]:
        """Draw at the largest scale at which a view fits a sheet with its title.

        A view of brick, a plan too, is divided before it is drawn so small that no
        lettering would fit a brick.

        Args:
            view: the view.
            first: the largest scale that it may have.

        Returns:
            The view, or its parts where it fits at no scale.
        """
        if (view.name, first) in self._kept:
            return self._kept[view.name, first]
        job = self._solution.job
        scales = [first, *(x for x, _ in SCALES[job.scales] if x > first)]
        least = max(first, legible_scales(job)[-1])
        large = [x for x in scales if x <= least]
        small = scales[len(large) :]
        found = self._whole(view, large)
        if not found and view.part in UPRIGHT:
            self._unlevelled.add(view.name)
            found = self._whole(view, large)
        if not found and (view.part in PLANS or _is_of_brick(view.draw(least))):
            found = self._divided(view, large[-DIVIDED_AT:])
        found = found or self._whole(view, small)
        found = found or self._divided(view, scales[:DIVIDED_AT])
        if found:
            return self._kept.setdefault((view.name, first), found)
        message = (
            f"sheet.size: a {view.shows.lower()} does not fit this paper at any scale, "
            "nor in parts; give larger paper"
        )
        raise NotDrawable(message)

    def _whole(self, view: SheetView, scales: Sequence[float]) -> tuple[Drawing, ...]:
        """Draw a view at the first scale at which it fits a sheet, if it does."""
        for scale in scales:
            drawing = self._drawn(view, scale)
            if drawing is not None:
                return (drawing,)
        return ()

    def _drawn(self, view: SheetView, scale: float) -> Drawing | None:
        """Draw a view with its marks; None if it does not fit a sheet."""
        # Marks only make it larger, and take their time.
        if not self._goes(self._single(view, view.draw(scale))):
            return None
        drawing = self._marked(view, scale)
        return drawing if self._goes(self._single(view, drawing)) else None

    def _with_marks(self, view: SheetView, scale: float) -> Drawing:
        """Tie a view's dimensions to the work, then mark what is cut and detailed."""
        return with_sights(self._solution, tied(view.draw(scale)), self._numbers)

    def _titled(
        self, view: SheetView, drawing: Drawing, foot: float | None = None
    ) -> Drawing:
        """Letter a view's title below it, or below some level."""
        job, number = self._solution.job, self._numbers[view.name]
        named = titled(drawing, number, job.lengths, job.scales, foot)
        return profiled(job, named)

    def _goes(self, item: Item) -> bool:
        return goes_into(item.size, self._content)


def legible_scales(job: Job) -> list[float]:
    """Return the scale asked for, or those at which lettering fits a brick."""
    if job.sheet.scale is not None:
        return [float(job.sheet.scale)]
    least = LEGIBLE * STYLES[job.lengths].text
    high = float(job.brick.height)
    return [x for x, _ in SCALES[job.scales] if x > 1 and high / x >= least]


def least_size(solution: Solution, scale: float) -> tuple[float, float]:
    """Return what an elevation takes on paper at least: its face and its lettering."""
    face, text = solution.surround, STYLES[solution.lengths].text
    return (
        float(face.front.width) / scale + LETTERED[0] * text,
        float(face.height) / scale + LETTERED[1] * text,
    )


def profiled(job: Job, drawing: Drawing) -> Drawing:
    """End dimension lines in arrows where the profile has it so."""
    return with_arrows(drawing) if job.sheet.profile == "iso" else drawing


def _is_of_brick(drawing: Drawing) -> bool:
    return any(isinstance(ink, Insert) for ink in drawing.ink)


def _is_left(view: SheetView) -> bool:
    return view.part == "side" and view.name.endswith("left")


def _are_pair(one: SheetView, other: SheetView) -> bool:
    """Whether two views show the same at left and right."""
    return one.name.removesuffix("left") == other.name.removesuffix("right")


def _foot(row: Sequence[Drawing]) -> float:
    """Return the level below all views in a row, for their titles."""
    return min(extent_of(drawing)[1] for drawing in row)
