"""Read a written DXF back by its group codes, and compare it with what it must hold.

In:  the bytes of a DXF file; `Expected`.   Out: `Found`; differences in words.
Frame: model space, full size.

No DXF library is used here, so that a fault of the writer's library is found too.
"""

from __future__ import annotations

from cmath import rect
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import hypot, radians

from shopdraw.drawing.expected import Expected, ExpectedInsert
from shopdraw.drawing.ink import Point

NEAR = 1e-6
Group = tuple[int, str]


@dataclass
class _Entity:
    kind: str
    groups: list[Group] = field(default_factory=list)

    def first(self, code: int, default: str = "") -> str:
        return next((value for got, value in self.groups if got == code), default)

    def number(self, code: int) -> float:
        return float(self.first(code, "0"))

    def numbers(self, code: int) -> list[float]:
        return [float(value) for got, value in self.groups if got == code]

    @property
    def on_paper(self) -> bool:
        return self.first(67) == "1"


@dataclass(frozen=True)
class FoundInsert:
    """An insert with tags: where, and the outline its block draws there."""

    block: str
    at: Point
    tags: tuple[tuple[str, str], ...]
    outline: tuple[Point, ...]


@dataclass(frozen=True)
class FoundMeasure:
    """A dimension: its length by its two points, as recorded, and its words."""

    length: float
    recorded: float
    words: str


@dataclass(frozen=True)
class Found:
    """What a DXF file holds.

    Attributes:
        header: variables by name, their first value.
        layers: names, in the file's order.
        inserts: those with tags, in model space.
        measures: in model space.
        words: lettering in model space that is neither tag nor dimension.
        layouts: names but for the model's.
        viewports: (paper height, view height) of each but the layout's own.
    """

    header: tuple[tuple[str, str], ...]
    layers: tuple[str, ...]
    inserts: tuple[FoundInsert, ...]
    measures: tuple[FoundMeasure, ...]
    words: tuple[str, ...]
    layouts: tuple[str, ...]
    viewports: tuple[tuple[float, float], ...]


def read_back(data: bytes) -> Found:
    """Read a DXF file.

    Raises:
        ValueError: it is not made of pairs of a code and a value.
    """
    sections = _sections(_groups(data))
    blocks = _blocks(sections.get("BLOCKS", []))
    entities = _entities(sections.get("ENTITIES", []))
    model = [entity for entity in entities if not entity.on_paper]
    return Found(
        header=tuple(_header(sections.get("HEADER", []))),
        layers=tuple(
            entity.first(2)
            for entity in _entities(sections.get("TABLES", []))
            if entity.kind == "LAYER"
        ),
        inserts=tuple(_inserts(model, blocks)),
        measures=tuple(
            _measure(entity, blocks) for entity in model if entity.kind == "DIMENSION"
        ),
        words=tuple(entity.first(1) for entity in model if entity.kind == "TEXT"),
        layouts=tuple(
            name
            for entity in _entities(sections.get("OBJECTS", []))
            if entity.kind == "LAYOUT" and (name := _layout_name(entity)) != "Model"
        ),
        viewports=tuple(
            (entity.number(41), entity.number(45))
            for entity in entities
            if entity.kind == "VIEWPORT" and entity.first(69) != "1"
        ),
    )


def _groups(data: bytes) -> Iterator[Group]:
    lines = data.decode("ascii").split("\n")
    if lines and not lines[-1].strip():
        lines.pop()
    if len(lines) % 2:
        message = "a code without a value at the end of the file"
        raise ValueError(message)
    for at in range(0, len(lines), 2):
        yield int(lines[at]), lines[at + 1].rstrip("\r")


def _sections(groups: Iterator[Group]) -> dict[str, list[Group]]:
    sections: dict[str, list[Group]] = {}
    current: list[Group] | None = None
    starts = False
    for code, value in groups:
        if code == 0 and value == "SECTION":
            starts = True
        elif starts and code == 2:
            current = sections.setdefault(value, [])
            starts = False
        elif code == 0 and value == "ENDSEC":
            current = None
        elif current is not None:
            current.append((code, value))
    return sections


def _entities(groups: list[Group]) -> list[_Entity]:
    entities: list[_Entity] = []
    for code, value in groups:
        if code == 0:
            entities.append(_Entity(value))
        elif entities:
            entities[-1].groups.append((code, value))
    return entities


def _header(groups: list[Group]) -> Iterator[tuple[str, str]]:
    name = ""
    for code, value in groups:
        if code == 9:
            name = value
        elif name:
            yield name, value
            name = ""


def _blocks(groups: list[Group]) -> dict[str, list[_Entity]]:
    blocks: dict[str, list[_Entity]] = {}
    inside: list[_Entity] = []
    for entity in _entities(groups):
        if entity.kind == "BLOCK":
            inside = blocks.setdefault(entity.first(2), [])
        elif entity.kind != "ENDBLK":
            inside.append(entity)
    return blocks


def _inserts(
    model: list[_Entity], blocks: dict[str, list[_Entity]]
) -> Iterator[FoundInsert]:
    """Yield inserts with the attributes that follow them."""
    for place, entity in enumerate(model):
        if entity.kind != "INSERT":
            continue
        tags = []
        for follower in model[place + 1 :]:
            if follower.kind != "ATTRIB":
                break
            tags.append((follower.first(2), follower.first(1)))
        if tags:
            at = (entity.number(10), entity.number(20))
            name = entity.first(2)
            outline = _outline(blocks.get(name, []), entity)
            yield FoundInsert(name, at, tuple(tags), outline)


def _outline(block: list[_Entity], insert: _Entity) -> tuple[Point, ...]:
    """Return the first closed polyline of a block, as it is inserted."""
    at = complex(insert.number(10), insert.number(20))
    turn = rect(1.0, radians(insert.number(50)))
    wide, high = (float(insert.first(code, "1")) for code in (41, 42))
    for entity in block:
        if entity.kind == "LWPOLYLINE" and int(entity.first(70, "0")) & 1:
            ring = zip(entity.numbers(10), entity.numbers(20), strict=True)
            placed = [complex(x * wide, y * high) * turn + at for x, y in ring]
            return tuple((point.real, point.imag) for point in placed)
    return ()


def _measure(entity: _Entity, blocks: dict[str, list[_Entity]]) -> FoundMeasure:
    dx = abs(entity.number(14) - entity.number(13))
    dy = abs(entity.number(24) - entity.number(23))
    along = dy if abs(entity.number(50) - 90) < NEAR else dx
    words = [x.first(1) for x in blocks.get(entity.first(2), []) if x.kind == "TEXT"]
    override = entity.first(1)
    return FoundMeasure(along, entity.number(42), override or " ".join(words))


def _layout_name(entity: _Entity) -> str:
    """Return a layout's own name, which stands after its plot settings."""
    names = [value for code, value in entity.groups if code == 1]
    return names[-1] if names else ""


def compare(found: Found, expected: Expected) -> tuple[str, ...]:
    """Return every difference in words; none where the file holds what it must."""
    return (
        *_compare_inserts(found, expected),
        *_compare_measures(found, expected),
        *_compare_words(found, expected),
    )


def _compare_inserts(found: Found, expected: Expected) -> Iterator[str]:
    there = {_name(insert.tags): insert for insert in found.inserts}
    times = Counter(_name(insert.tags) for insert in found.inserts)
    for name in sorted(name for name, count in times.items() if count > 1):
        yield f"{name} is drawn {times[name]} times"
    wanted = {_name(insert.tags): insert for insert in expected.inserts}
    for name in sorted(set(there) - set(wanted)):
        yield f"{name} is drawn and was not to be"
    for name, insert in wanted.items():
        if name not in there:
            yield f"{name} is not drawn"
            continue
        yield from _compare_insert(name, there[name], insert)


def _compare_insert(
    name: str, found: FoundInsert, wanted: ExpectedInsert
) -> Iterator[str]:
    if sorted(found.tags) != sorted(wanted.tags):
        yield f"{name} is tagged {dict(found.tags)}, not {dict(wanted.tags)}"
    if not _same_ring(found.outline, wanted.outline):
        yield f"{name} is drawn at {found.outline}, not {wanted.outline}"


def _same_ring(a: tuple[Point, ...], b: tuple[Point, ...]) -> bool:
    """Whether two rings pass through the same points, wherever they begin."""
    if len(a) != len(b) or not a:
        return False
    return any(
        all(
            hypot(p[0] - q[0], p[1] - q[1]) <= NEAR
            for p, q in zip(a, (*b[start:], *b[:start]), strict=True)
        )
        for start in range(len(b))
    )


def _name(tags: tuple[tuple[str, str], ...]) -> str:
    return dict(tags).get("ID", "?")


def _compare_measures(found: Found, expected: Expected) -> Iterator[str]:
    if len(found.measures) != len(expected.measures):
        yield f"{len(found.measures)} dimensions, not {len(expected.measures)}"
        return
    for there, wanted in zip(found.measures, expected.measures, strict=True):
        if there.words != wanted.words:
            yield f"a dimension reads {there.words}, not {wanted.words}"
        for length in (there.length, there.recorded):
            if abs(length - wanted.length) > NEAR:
                yield f"dimension {wanted.words} is {length} long, not {wanted.length}"


def _compare_words(found: Found, expected: Expected) -> Iterator[str]:
    there = Counter(found.words)
    wanted = Counter(text for text in expected.words if text.strip())
    for text in sorted((wanted - there).elements()):
        yield f'"{text}" is not lettered'
    for text in sorted((there - wanted).elements()):
        yield f'"{text}" is lettered and was not to be'
