"""Set rows of things out across a sheet, those on shared verticals one above another.

In:  rows of stacks, what each thing's extents are and which verticals it shares.
Out: where the origin of each thing stands across.
Frame: paper lengths.

What room a row has left over is shared out evenly. Things of several rows that share
verticals have their origins on one line, if every row has room for it, in the middle of
that room.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass

from shopdraw.drawing.lettering import Box

NOTHING = 1e-9
Room = tuple[float, float]
"""The left and right end of what rows may take."""
Held = tuple[int, float]
"""Which stack of a row is held on a line, and where the line stands."""


@dataclass(frozen=True)
class _Stack:
    """Things one above another.

    Attributes:
        shares: the verticals that its line is one of; None if its line is its middle.
        left, right: how far it reaches from its line.
        origins: of each thing, by its number, how far its origin lies from the line.
    """

    shares: Hashable
    left: float
    right: float
    origins: Mapping[int, float]

    @property
    def wide(self) -> float:
        return self.left + self.right


def across(
    rows: Sequence[Sequence[Sequence[int]]],
    boxes: Sequence[Box],
    shared: Sequence[Hashable],
    room: Room,
    gap: float,
) -> dict[int, float]:
    """Set rows out across a sheet.

    Args:
        rows: of each row its stacks, of each stack the numbers of its things. A row's
            stacks go into the room side by side, a gap between two.
        boxes: of each thing its extents, from its own origin.
        shared: of each thing the verticals that it shares; None for none.
        room: what the rows may take.
        gap: between two stacks.

    Returns:
        Where the origin of each thing stands, by its number.
    """
    set_up = [_stacks(row, boxes, shared, room, gap) for row in rows]
    held: dict[int, Held] = {}
    for key in dict.fromkeys(each for each in shared if each is not None):
        held |= _on_one_line(key, set_up, held, room, gap)
    return {
        n: line + origin
        for place, row in enumerate(set_up)
        for stack, line in zip(row, _lines(row, room, held.get(place)), strict=True)
        for n, origin in stack.origins.items()
    }


def _stacks(
    row: Sequence[Sequence[int]],
    boxes: Sequence[Box],
    shared: Sequence[Hashable],
    room: Room,
    gap: float,
) -> list[_Stack]:
    """Set up a row's stacks, on their verticals if the row then has room for them."""
    stacks = [_stack(each, boxes, shared) for each in row]
    taken = sum(each.wide for each in stacks) + gap * (len(stacks) - 1)
    if taken > room[1] - room[0] + NOTHING:
        return [_stack(each, boxes, [None] * len(shared)) for each in row]
    return stacks


def _stack(
    numbers: Sequence[int], boxes: Sequence[Box], shared: Sequence[Hashable]
) -> _Stack:
    """Set things up about one line: those that share its verticals, others centred."""
    key = next((shared[n] for n in numbers if shared[n] is not None), None)
    on = [n for n in numbers if key is not None and shared[n] == key]
    left = min((boxes[n][0] for n in on), default=0.0)
    right = max((boxes[n][2] for n in on), default=0.0)
    middle = (left + right) / 2
    half = max(boxes[n][2] - boxes[n][0] for n in numbers) / 2
    origins = {
        n: 0.0 if n in on else middle - (boxes[n][0] + boxes[n][2]) / 2 for n in numbers
    }
    return _Stack(key, max(-left, half - middle), max(right, middle + half), origins)


def _on_one_line(
    key: Hashable,
    rows: Sequence[Sequence[_Stack]],
    held: dict[int, Held],
    room: Room,
    gap: float,
) -> dict[int, Held]:
    """Hold the first stack on some verticals in each row on one line, if there is one.

    Returns:
        What is held in which row; nothing where a row has no room for it, and of rows
        in which something else is held already.
    """
    places = {
        number: next(n for n, stack in enumerate(row) if stack.shares == key)
        for number, row in enumerate(rows)
        if number not in held and any(stack.shares == key for stack in row)
    }
    if len(places) < 2:
        return {}
    reach = [_reach(rows[n], place, room, gap) for n, place in places.items()]
    low, high = max(low for low, _ in reach), min(high for _, high in reach)
    if low > high + NOTHING:
        return {}
    # In the middle, so that all of it together is centred.
    return {number: (place, (low + high) / 2) for number, place in places.items()}


def _reach(row: Sequence[_Stack], place: int, room: Room, gap: float) -> Room:
    """Return the lowest and the highest x that one stack's line may have."""
    before = sum(stack.wide + gap for stack in row[:place])
    after = sum(stack.wide + gap for stack in row[place + 1 :])
    return room[0] + before + row[place].left, room[1] - after - row[place].right


def _lines(row: Sequence[_Stack], room: Room, held: Held | None) -> list[float]:
    """Return where each stack's line stands; share out what room is left."""
    if held is None:
        return _evenly(row, room)
    place, line = held
    return [
        *_evenly(row[:place], (room[0], line - row[place].left)),
        line,
        *_evenly(row[place + 1 :], (line + row[place].right, room[1])),
    ]


def _evenly(row: Sequence[_Stack], room: Room) -> list[float]:
    left, right = room
    spare = (right - left - sum(stack.wide for stack in row)) / (len(row) + 1)
    lines, x = [], left
    for stack in row:
        lines.append(x + spare + stack.left)
        x += spare + stack.wide
    return lines
