"""Name everything in a DXF file that something else leads to.

In:  `DxfParts`.   Out: names by handle, objects by their paths, entities led by names.
Frame: none.

Handles are numbers that the library gives as it goes along; names are what they mean.
A table's entry is called by its kind and its own name, a window by its number, an
object by the path of names that leads to it: `/ACAD_LAYOUT/Model`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from shopdraw.output.groups import DxfEntity, DxfParts, Group
from shopdraw.output.records import DIMSTYLE_HANDLE, HANDLE
from shopdraw.output.spelling_objects import ROOT

TO_OTHERS = frozenset((*range(330, 370), *range(390, 400)))
"""Codes whose value is another entity's handle."""
DICTIONARIES = ("DICTIONARY", "ACDBDICTIONARYWDFLT")
ENTRY, LISTED = 3, 350
"""Of a dictionary: an entry's name, and what it leads to."""
NAME, NUMBER = 2, 69


def handle_of(entity: DxfEntity) -> str:
    """Return the handle of an entity; nothing where there is none."""
    return entity.first(DIMSTYLE_HANDLE if entity.kind == "DIMSTYLE" else HANDLE)


def named_handles(parts: DxfParts, paths: Mapping[str, str]) -> dict[str, str]:
    """Return the names of all that may be led to, by handle.

    Args:
        parts: the file.
        paths: of objects, by handle.
    """
    entries = {handle_of(x): f"{x.kind} {x.first(NAME)}" for x in parts.tables}
    windows = {
        handle_of(x): f"VIEWPORT {x.first(NUMBER)}"
        for x in parts.entities
        if x.kind == "VIEWPORT"
    }
    return {**entries, **windows, **paths}


def led_by_names(groups: Sequence[Group], names: Mapping[str, str]) -> list[Group]:
    """Return groups, those that lead to others by names; one to nothing stays."""
    return [
        (code, names.get(str(value), value) if code in TO_OTHERS else value)
        for code, value in groups
    ]


def listed(objects: Sequence[DxfEntity]) -> Iterator[tuple[str, DxfEntity]]:
    """Yield every object that dictionaries list, by its path, as often as they do.

    The first object is the root; what a dictionary lists no more is left out of it.
    """
    by_handle = {handle_of(x): x for x in objects}
    waiting = [(ROOT, objects[0])] if objects else []
    opened = set[int]()
    while waiting:
        path, entity = waiting.pop()
        if entity.kind not in DICTIONARIES or id(entity) in opened:
            yield path, entity
            continue
        opened.add(id(entity))
        kept, entries = _opened(entity)
        yield path, kept
        for name, handle in entries:
            if handle in by_handle:
                below = path if path != ROOT else ""
                waiting.append((f"{below}/{name}", by_handle[handle]))


def _opened(dictionary: DxfEntity) -> tuple[DxfEntity, list[tuple[str, str]]]:
    """Return a dictionary without its entries, and the entries."""
    groups = dictionary.groups
    entries = [
        (str(name), str(handle), place)
        for place, ((code, name), (next_code, handle)) in enumerate(pairwise(groups))
        if (code, next_code) == (ENTRY, LISTED)
    ]
    taken = {x for *_, place in entries for x in (place, place + 1)}
    kept = [group for place, group in enumerate(groups) if place not in taken]
    named = [(name, handle) for name, handle, _ in entries]
    return DxfEntity(dictionary.kind, kept), named
