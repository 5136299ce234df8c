"""Compose sheets: which drawings go on which sheet.

In:  items in order, by purpose.   Out: what stands on each sheet, and where.
Frame: paper lengths.

Items keep their order, and each sheet is arranged by `arranging`. Where one sheet ends
and the next begins is decided by the measure: the fewest sheets, then fill, that there
is no hole between views, and that no view is parted from its fellows. On a sheet that
is bare, or has a hole, views are drawn larger.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from shopdraw.drawing.arranging import Item, arrange, fits
from shopdraw.drawing.holes import largest_hole
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.lettering import Box
from shopdraw.errors import NotDrawable

LEAST_FILL, MOST_FILL = 0.5, 0.85
"""A sheet looks bare below the one and crowded above the other."""
MOST_HOLE = 0.25
"""A blank between views of more than so much of the sheet each way is a hole."""
LAST_COUNTS = 4
"""The last sheet of a purpose may be bare: it counts so many times less."""
PARTED = 0.02
"""A view parted from all others of its purpose counts as a sheet bare by so much."""


@dataclass(frozen=True)
class Purpose:
    """What some sheets are for.

    Attributes:
        name: for the file, `cut-pieces`.
        items: in order.
        series: the digit that such sheets' numbers begin with.
        is_apart: nothing of another purpose stands before it on its sheet.
    """

    name: str
    items: tuple[Item, ...]
    series: int = 0
    is_apart: bool = False


@dataclass(frozen=True)
class Composed:
    """One sheet.

    Attributes:
        purposes: what it is for, in order.
        shows: what its items show, in order.
        places: each drawing, and its window on the sheet.
        fill: the part of the usable area that the drawings' extents take.
        hole: how large the largest blank between its views is, of the sheet's sides.
        is_last: no other sheet after it has more of what it is for.
        parted: how many views on it are alone, with others of their purpose before them
            or after them.
        is_in_turn: no words stand between the views of another purpose and its words.
    """

    purposes: tuple[Purpose, ...]
    shows: tuple[str, ...]
    places: tuple[tuple[Drawing, Box], ...]
    fill: float
    hole: float = 0.0
    is_last: bool = True
    parted: int = 0
    is_in_turn: bool = True


Entry = tuple[Purpose, Item]
Places = tuple[tuple[Drawing, Box], ...]
Run = tuple[int, int]
"""The items from one number up to another."""


class SheetRoom:
    """The usable area of every sheet, and what was found to fit it.

    It is made once for all sets that are composed of the same items.
    """

    def __init__(self, area: Box, gap: float) -> None:
        """Take the area, and what is left free between two items."""
        self._area, self._gap = area, gap
        self._fitting: dict[tuple[Item, ...], bool] = {}
        self._places: dict[tuple[Item, ...], Places] = {}
        self._holes: dict[tuple[Item, ...], float] = {}

    def takes(self, items: tuple[Item, ...]) -> bool:
        """Whether items go on one sheet."""
        if items not in self._fitting:
            self._fitting[items] = fits(items, self._area, self._gap)
        return self._fitting[items]

    def places(self, items: tuple[Item, ...]) -> Places:
        """Arrange items that go on one sheet."""
        if items not in self._places:
            places = arrange(items, self._area, self._gap)
            if places is None:
                message = "what fits a sheet can be arranged on it"
                raise AssertionError(message)
            self._places[items] = places
        return self._places[items]

    def fill(self, items: Sequence[Item]) -> float:
        """Return the part of a sheet that the items' extents take."""
        left, bottom, right, top = self._area
        inked = sum(item.ink_area for item in items)
        return inked / ((right - left) * (top - bottom))

    def hole(self, items: tuple[Item, ...]) -> float:
        """Return how large the hole between views is; words leave none.

        They stand in columns of unlike lengths, and a blank beside them or below is as
        usual as a margin.
        """
        if items not in self._holes:
            views = {
                id(x) for each in items if not each.is_words for x, _ in each.parts
            }
            boxes = [box for each, box in self.places(items) if id(each) in views]
            self._holes[items] = largest_hole(self._area, boxes) if boxes else 0.0
        return self._holes[items]


def fewest(purposes: Sequence[Purpose], room: SheetRoom) -> int:
    """Return how many sheets all items take at least, in order.

    Raises:
        NotDrawable: an item is larger than the area.
    """
    return _counts(_entries(purposes), room)[0][-1]


def compose(purposes: Sequence[Purpose], room: SheetRoom) -> list[Composed]:
    """Put all items on sheets, in order.

    Of all ways to end one sheet and begin the next, the one with the fewest sheets is
    taken; of these the one whose sheets are least bare or crowded. On a sheet that is
    bare views are drawn larger, as far as that takes no sheet more.

    Raises:
        NotDrawable: an item is larger than the area.
    """
    entries = _entries(purposes)
    # The best way to put the first so many items on sheets: how amiss, and the sheets.
    best: dict[int, tuple[int, tuple[Run, ...]]] = {0: (0, ())}
    drawn: dict[Run, tuple[Entry, ...]] = {}
    for start, end in _runs(entries, room):
        run = entries[start:end]
        drawn[start, end] = _filled(run, room)
        off = _amiss(
            *_looks(drawn[start, end], room),
            is_last=_is_last(entries, (start, end)),
            parted=_parted(entries, (start, end)),
        )
        amiss, before = best[start]
        if end not in best or amiss + off < best[end][0]:
            best[end] = amiss + off, (*before, (start, end))
    return [
        replace(
            _sheet(drawn[run], room),
            is_last=_is_last(entries, run),
            parted=_parted(entries, run),
        )
        for run in best[len(entries)][1]
    ]


def _entries(purposes: Sequence[Purpose]) -> list[Entry]:
    return [(purpose, item) for purpose in purposes for item in purpose.items]


def _is_last(entries: Sequence[Entry], run: Run) -> bool:
    """Whether nothing after a sheet is for what the sheet is for."""
    start, end = run
    later = {purpose.name for purpose, _ in entries[end:]}
    return all(purpose.name not in later for purpose, _ in entries[start:end])


def _parted(entries: Sequence[Entry], run: Run) -> int:
    """Count the views alone on a sheet, with others of their purpose on another."""
    start, end = run
    views = [
        (place, purpose.name)
        for place, (purpose, item) in enumerate(entries)
        if not item.is_words
        for _ in item.parts
    ]
    every = Counter(name for _, name in views)
    here = Counter(name for place, name in views if start <= place < end)
    return sum(here[name] == 1 < every[name] for name in here)


def _sheet(entries: Sequence[Entry], room: SheetRoom) -> Composed:
    items = tuple(item for _, item in entries)
    return Composed(
        purposes=tuple({each.name: each for each, _ in entries}.values()),
        shows=tuple(word for item in items for word in item.shows if word),
        places=room.places(items),
        fill=room.fill(items),
        hole=room.hole(items),
        is_in_turn=_is_in_turn(entries),
    )


def _is_in_turn(entries: Sequence[Entry]) -> bool:
    """Whether each purpose's words follow its views: words stand below all views."""
    drawn = {purpose.name for purpose, item in entries if not item.is_words}
    lettered = [purpose.name for purpose, item in entries if item.is_words]
    return not any(
        name != other and other in drawn for name, other in combinations(lettered, 2)
    )


def _counts(entries: Sequence[Entry], room: SheetRoom) -> tuple[list[int], list[Run]]:
    """Return the fewest sheets for the first so many items, and all runs that fit."""
    items = tuple(item for _, item in entries)
    counts = [0]
    runs: list[Run] = []
    for end in range(1, len(items) + 1):
        least: int | None = None
        for start in reversed(range(end)):
            if not room.takes(items[start:end]):
                break
            runs.append((start, end))
            if least is None or counts[start] + 1 < least:
                least = counts[start] + 1
            before = entries[start - 1][0] if start else None
            if entries[start][0].is_apart and before is not entries[start][0]:
                break
        if least is None:
            raise _too_large(items[end - 1])
        counts.append(least)
    return counts, runs


def _runs(entries: Sequence[Entry], room: SheetRoom) -> list[Run]:
    """Return what goes on each sheet of every set of the fewest sheets, in order."""
    counts, runs = _counts(entries, room)
    wanted, found = {len(entries)}, list[Run]()
    for start, end in reversed(runs):
        if end in wanted and counts[start] + 1 == counts[end]:
            wanted.add(start)
            found.append((start, end))
    return found[::-1]


def _looks(entries: Sequence[Entry], room: SheetRoom) -> tuple[float, float]:
    """Return how full a sheet is, and how large its largest hole."""
    items = tuple(item for _, item in entries)
    return room.fill(items), room.hole(items)


def _filled(entries: Sequence[Entry], room: SheetRoom) -> tuple[Entry, ...]:
    """Draw the views of a sheet that is bare or has a hole larger, if it looks better.

    Views of one purpose and one scale are drawn larger together, or else one by one.
    """
    best = tuple(entries)
    while _amiss(*_looks(best, room)):
        views = [(each, item) for each, item in best if not item.is_words]
        kinds = sorted({_kind(*entry) for entry in views})
        together = [
            {id(item) for each, item in views if _kind(each, item) in chosen}
            for many in range(1, len(kinds) + 1)
            for chosen in combinations(kinds, many)
        ]
        singly = [{id(item)} for _, item in views]
        found = _better(best, together, room) or _better(best, singly, room)
        if found is None:
            break
        best = found
    return best


def _better(
    entries: tuple[Entry, ...], ways: Sequence[set[int]], room: SheetRoom
) -> tuple[Entry, ...] | None:
    """Return the best way to draw some views larger; None where none looks better."""
    best, least = None, _amiss(*_looks(entries, room))
    for way in ways:
        larger = _larger(entries, way)
        if larger is None or not room.takes(tuple(item for _, item in larger)):
            continue
        off = _amiss(*_looks(larger, room))
        if off < least:
            best, least = larger, off
    return best


def _too_large(item: Item) -> NotDrawable:
    what = item.shows[0] if item.shows else item.parts[0][0].name
    return NotDrawable(
        f"sheet.size: a part of the {what.lower()} is larger than a sheet; "
        "give larger paper"
    )


def _kind(purpose: Purpose, item: Item) -> tuple[str, float]:
    return purpose.name, item.parts[0][0].scale


def _larger(entries: tuple[Entry, ...], chosen: set[int]) -> tuple[Entry, ...] | None:
    """Draw the chosen items larger; None where one of them can't be."""
    found = []
    for purpose, item in entries:
        drawn = item.larger() if id(item) in chosen else item
        if drawn is None:
            return None
        found.append((purpose, drawn))
    return tuple(found)


def cost_of(sheets: Sequence[Composed]) -> tuple[int, int]:
    """Return the measure of a set: how many sheets, then how far they look amiss."""
    amiss = (_amiss(x.fill, x.hole, is_last=x.is_last, parted=x.parted) for x in sheets)
    return len(sheets), sum(amiss)


def _amiss(fill: float, hole: float, *, is_last: bool = False, parted: int = 0) -> int:
    """Return how far a sheet is from what looks well, in thousandths, squared.

    What is off by less than one is off by one: else nothing would mend it.
    A hole, and what is parted, is added as a fill that is amiss by itself.
    """
    off = max(LEAST_FILL - fill, fill - MOST_FILL, 0.0)
    bare = _squared(off) // (LAST_COUNTS if is_last else 1)
    torn = _squared(max(hole - MOST_HOLE, 0.0))
    return bare + torn + parted * round(1000 * PARTED) ** 2


def _squared(off: float) -> int:
    return max(round(1000 * off), off > 0) ** 2
