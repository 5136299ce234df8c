"""Damage to a DXF file without choosing: each group, each entry, each variable of it.

`damages.py` has what somebody thought of; this has all that there is. A file is harmed
in one place at a time: a value changed, a group left out or added, a variable, an
entity or a dictionary's entry left out or there twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ezdxf.entities.factory import ENTITY_CLASSES

from shopdraw.drawing.set import FileForm
from shopdraw.drawing.sheets import Sheet
from shopdraw.output.dxf import write_dxf
from shopdraw.output.groups import take_apart
from shopdraw.output.holding import hold
from shopdraw.output.spelling_file import SpelledFile, spell_sheet
from tests.output.damages import DxfFile, Entity, Group

NOBODY, NEW = "FFFFF", "FFFF0"
"""A handle that nothing has, and one for what is there twice."""
LINKS = frozenset((5, 105, *range(330, 370), *range(390, 400)))
REAL = frozenset(
    (*range(10, 60), *range(110, 150), *range(210, 240), *range(1010, 1060))
)
TEXT = frozenset((*range(10), *range(100, 103), *range(300, 310), *range(1000, 1006)))
FRAME = ("SECTION", "ENDSEC", "TABLE", "ENDTAB", "BLOCK", "ENDBLK", "EOF")
"""What a file's parts begin and end with."""

Harmed = tuple[str, str, list[Entity]]
"""The kind of damage, the place of it in words, the file's entities."""
NEXT_HANDLE = (9, "$HANDSEED")


def small(sheet: Sheet) -> Sheet:
    """Return a sheet with one of each kind of ink, which is read in no time."""
    placed = sheet.drawings[0]
    kinds = {type(ink): ink for ink in reversed(placed.drawing.ink)}
    drawing = replace(placed.drawing, ink=tuple(kinds.values()))
    ink = sheet.paper_ink[:3]
    one = (replace(placed, drawing=drawing),)
    return replace(sheet, drawings=one, paper_ink=ink)


def told(sheet: Sheet, form: FileForm) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """Harm a sheet's file in every place, and yield what is said of it.

    Yields:
        The kind of damage, where, and what the read-back says; nothing: it got through.
    """
    data, wanted = write_dxf(sheet, form), spell_sheet(sheet, form)
    assert hold(take_apart(data), wanted) == ()
    for kind, what, harmed in every(data):
        yield kind, what, said_of(harmed, wanted)


def said_of(entities: list[Entity], wanted: SpelledFile) -> tuple[str, ...]:
    """Return what the read-back says of a file."""
    file = DxfFile(b"")
    file.entities = entities
    try:
        return hold(take_apart(file.data()), wanted)
    except ValueError as error:
        return (str(error),)


def every(data: bytes) -> Iterator[Harmed]:
    """Harm a file in every place, one at a time."""
    whole = DxfFile(data).entities
    section = ""
    for place, entity in enumerate(whole):
        if entity[0][1] == "SECTION":
            section = entity[1][1].lower()
        for kind, what, instead in _harmed(entity, section):
            yield (
                kind,
                f"{section}: {what}",
                [*whole[:place], instead, *whole[place + 1 :]],
            )


def _harmed(entity: Entity, section: str) -> Iterator[tuple[str, str, Entity]]:
    name = entity[0][1]
    where = "frame" if name in FRAME else section
    said = " ".join(value for code, value in entity if code in (1, 2, 3))
    said = f"{name} {said[:40]}"
    for kind, what, groups in (*_groups(entity), *_variables(entity), *_listed(entity)):
        yield f"{where}: {kind}", f"{said}: {what}", groups
    if name != "SECTION":
        yield f"{where}: left out", said, []
        twice = [(code, NEW if code in (5, 105) else value) for code, value in entity]
        yield f"{where}: there twice", said, [*entity, *twice]


def _groups(entity: Entity) -> Iterator[tuple[str, str, Entity]]:
    """Change each group, and leave it out."""
    for place, (code, value) in enumerate(entity):
        before, after = entity[:place], entity[place + 1 :]
        what = f"{code}={value}"
        if code not in (0, 9) and not _is_usual(entity[0][1], code, value):
            yield "group left out", what, [*before, *after]
        for new in _others(code, value):
            if new == NOBODY and before[-1] == NEXT_HANDLE:
                continue  # That leaves room, and that is all it is for.
            yield "value changed", f"{what} to {new}", [*before, (code, new), *after]
    yield "group added", "", [*entity, (1, "MORE")]


def _others(code: int, value: str) -> Iterator[str]:
    if code in LINKS:
        yield NOBODY
        yield "1" if value != "1" else "2"
    elif code in REAL:
        yield repr(float(value) + 1.0)
    elif code in TEXT:
        yield f"{value}X"
    else:
        yield str(int(value) + 1)


def _is_usual(kind: str, code: int, value: str) -> bool:
    """Whether a group may be left out: a reader puts the same in its place.

    What another program's reader takes for granted, which is general and open; a point
    that has no height is on the ground.
    """
    if code in (30, 31):
        return float(value) == 0
    if kind == "DICTIONARY" and code == 280:
        return True  # Whether it owns what it lists: releases of the library differ.
    if kind not in ENTITY_CLASSES:
        return False
    for attribute in ENTITY_CLASSES[kind].DXFATTRIBS._attribs.values():
        usual = attribute.default
        if usual is None:
            continue
        if code != attribute.code:
            axis = {10: "y", 20: "z"}.get(code - attribute.code)
            usual = getattr(usual, axis or "", None)
        elif hasattr(usual, "x"):
            usual = usual.x
        if isinstance(usual, str) and usual == value:
            return True
        if isinstance(usual, int | float) and _number(value) == usual:
            return True
    return False


def _number(value: str) -> float | None:
    try:
        return float(value)
    except ValueError:
        return None


def _variables(header: Entity) -> Iterator[tuple[str, str, Entity]]:
    """Leave each variable of the header out, and have it there twice."""
    starts = [place for place, (code, _) in enumerate(header) if code == 9]
    for start, end in zip(starts, (*starts[1:], len(header)), strict=False):
        name = header[start][1]
        yield "variable left out", name, [*header[:start], *header[end:]]
        twice = header[start:end]
        yield "variable there twice", name, [*header[:end], *twice, *header[end:]]


def _listed(entity: Entity) -> Iterator[tuple[str, str, Entity]]:
    """Leave each entry of a dictionary out, have it there twice, add another."""
    if "DICTIONARY" not in entity[0][1] or entity[0][1] == "DICTIONARYVAR":
        return
    for place, (code, name) in enumerate(entity):
        if code == 3:
            end = place + 2
            pair: list[Group] = entity[place:end]
            yield "entry left out", name, [*entity[:place], *entity[end:]]
            yield "entry there twice", name, [*entity[:end], *pair, *entity[end:]]
            more = [(3, f"{name}X"), pair[1]]
            yield "entry added", name, [*entity[:end], *more, *entity[end:]]
