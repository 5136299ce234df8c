"""Read back what a DXF file shows: pieces, dimensions, words, lines, windows.

In:  the bytes of a DXF file.   Out: `Found`.
Frame: model space, full size; what is on the layout in paper lengths.

It is held against the solution by `comparing`. That nothing else stands in the file is
for `holding` to say.
"""

from __future__ import annotations

from cmath import rect
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from math import radians
from typing import Literal

from shopdraw.drawing.expected import LineKind, Trace, said_of
from shopdraw.drawing.ink import Ends, Point
from shopdraw.output.dimensioning import LetteringStyle
from shopdraw.output.groups import DxfBlock, DxfEntity, DxfParts, take_apart

NEAR = 1e-6
LOCKED = 0x4000
"""The flag of a viewport that keeps its scale."""
Drawn = Mapping[str, tuple[Trace, ...]]
"""The lines of each block, about its own origin."""


@dataclass(frozen=True)
class FoundInsert:
    """An insert with tags: its place, and the outline that its block draws there."""

    block: str
    at: Point
    tags: tuple[tuple[str, str], ...]
    outline: tuple[Point, ...]


@dataclass(frozen=True)
class FoundMeasure:
    """A dimension: the length between its points, the length recorded, its words.

    Attributes:
        style: the name of the style that letters it when it is drawn anew.
        typed: the words that stand in place of what the style gives; mostly none.
        strokes: how many heavy lines its ends are drawn by: two strokes, or two arrows
            of two.
    """

    length: float
    recorded: float
    words: str
    style: str = ""
    typed: str = ""
    strokes: int = 0


@dataclass(frozen=True)
class FoundViewport:
    """A window on the layout: its middle and size there, and what it shows.

    Attributes:
        looks_at: the point of model space in its middle.
        view_height: how much of model space it shows, from foot to top.
        is_locked: nobody changes its scale by turning a wheel.
    """

    middle: Point
    size: Point
    looks_at: Point
    view_height: float
    is_locked: bool = True


@dataclass(frozen=True)
class FoundPaper:
    """What a layout's plot settings say.

    Attributes:
        layout: its name; "Model" among them.
        medium: the paper's name, with its sides in it.
        size: of the paper, in mm.
        programs: what names a program: a page setup, a printer, a plot style.
    """

    layout: str
    medium: str
    size: Point
    programs: tuple[str, ...]


@dataclass(frozen=True)
class Found:
    """What a DXF file holds.

    Attributes:
        inserts: those with tags, in model space.
        measures: in model space.
        words: lettering in model space that is neither tag nor dimension: lines, and
            paragraphs.
        styles: what each dimension style letters.
        papers: what each layout is plotted on, the model's own among them.
        lines: polylines and filled areas in model space, those of inserted blocks
            where they are inserted; not those of dimensions.
        paper_lines, paper_words: the same, on the layout.
        layouts: names, without the model's.
        viewports: all but the layout's own.
    """

    inserts: tuple[FoundInsert, ...]
    measures: tuple[FoundMeasure, ...]
    words: tuple[str, ...]
    lines: tuple[Trace, ...]
    paper_lines: tuple[Trace, ...]
    paper_words: tuple[str, ...]
    layouts: tuple[str, ...]
    viewports: tuple[FoundViewport, ...]
    styles: tuple[LetteringStyle, ...] = ()
    papers: tuple[FoundPaper, ...] = ()


def read_back(data: bytes) -> Found:
    """Read a DXF file.

    Raises:
        ValueError: it is no whole DXF file.
    """
    return found_in(take_apart(data))


def found_in(parts: DxfParts) -> Found:
    """Return what a file shows."""
    blocks, entities = parts.blocks, parts.entities
    inserted = {entity.first(2) for entity in entities if entity.kind == "INSERT"}
    drawn = {x: tuple(_plain_lines(blocks[x].inside)) for x in inserted & blocks.keys()}
    papers = tuple(
        FoundPaper(
            _layout_name(entity),
            entity.first(4),
            (entity.number(44), entity.number(45)),
            tuple(filter(None, (entity.first(code) for code in (1, 2, 7)))),
        )
        for entity in parts.objects
        if entity.kind == "LAYOUT"
    )
    model = [entity for entity in entities if not entity.on_paper]
    paper = [entity for entity in entities if entity.on_paper]
    return Found(
        inserts=tuple(_inserts(model, drawn)),
        measures=tuple(
            _measure(entity, blocks) for entity in model if entity.kind == "DIMENSION"
        ),
        words=_words(model),
        lines=tuple(_lines(model, drawn)),
        paper_lines=tuple(_lines(paper, drawn)),
        paper_words=_words(paper),
        layouts=tuple(x.layout for x in papers if x.layout != "Model"),
        styles=tuple(_styles(parts.tables)),
        papers=papers,
        viewports=tuple(
            FoundViewport(
                middle=(entity.number(10), entity.number(20)),
                size=(entity.number(40), entity.number(41)),
                looks_at=(entity.number(12), entity.number(22)),
                view_height=entity.number(45),
                is_locked=bool(entity.whole(90) & LOCKED),
            )
            for entity in entities
            if entity.kind == "VIEWPORT" and entity.whole(69) != 1
        ),
    )


def _inserts(model: Sequence[DxfEntity], drawn: Drawn) -> Iterator[FoundInsert]:
    """Yield inserts with the attributes that follow them."""
    for place, entity in enumerate(model):
        if entity.kind != "INSERT":
            continue
        tags = []
        for follower in islice(model, place + 1, None):
            if follower.kind != "ATTRIB":
                break
            tags.append((follower.first(2), follower.first(1)))
        if tags:
            at = (entity.number(10), entity.number(20))
            name = entity.first(2)
            outline = _outline(drawn.get(name, ()), entity)
            yield FoundInsert(name, at, tuple(tags), outline)


def _outline(block: tuple[Trace, ...], insert: DxfEntity) -> tuple[Point, ...]:
    """Return the first closed polyline of a block, as it is inserted."""
    for line in _of_block(block, insert):
        if line.kind == "closed":
            return line.points
    return ()


def _of_block(block: tuple[Trace, ...], insert: DxfEntity) -> Iterator[Trace]:
    """Yield the lines of a block where it is inserted."""
    at = complex(insert.number(10), insert.number(20))
    turn = rect(1.0, radians(insert.number(50)))
    wide, high = (insert.number(code, 1.0) for code in (41, 42))
    for line in block:
        placed = [complex(x * wide, y * high) * turn + at for x, y in line.points]
        points = tuple((point.real, point.imag) for point in placed)
        yield replace(line, points=points)


def _lines(entities: Sequence[DxfEntity], drawn: Drawn) -> Iterator[Trace]:
    """Yield every line and fill, those of inserted blocks among them."""
    yield from _plain_lines(entities)
    for entity in entities:
        if entity.kind == "INSERT":
            yield from _of_block(drawn.get(entity.first(2), ()), entity)


def _plain_lines(entities: Sequence[DxfEntity]) -> Iterator[Trace]:
    for entity in entities:
        layer = entity.first(8)
        if entity.kind == "LWPOLYLINE":
            is_closed = entity.whole(70) & 1
            kind: LineKind = "closed" if is_closed else "open"
            points = zip(entity.numbers(10), entity.numbers(20), strict=False)
            yield Trace(layer, kind, tuple(points))
        elif entity.kind == "LINE":
            ends = tuple((entity.number(x), entity.number(x + 10)) for x in (10, 11))
            yield Trace(layer, "open", ends)
        elif entity.kind == "HATCH":
            corners, pattern = tuple(_boundary(entity)), _pattern(entity)
            yield Trace(layer, "hatch" if pattern else "fill", corners, pattern)


def _boundary(hatch: DxfEntity) -> Iterator[Point]:
    """Yield the corners of a filled area's one boundary, a polyline."""
    count = hatch.whole(93)
    start = next((i for i, (code, _) in enumerate(hatch.groups) if code == 93), 0)
    path = hatch.groups[start:]
    xs = [float(value) for code, value in path if code == 10][:count]
    ys = [float(value) for code, value in path if code == 20][:count]
    yield from zip(xs, ys, strict=False)


def _pattern(hatch: DxfEntity) -> str:
    """Say what the lines of a hatched area are; nothing for a plain one."""
    if hatch.whole(70) == 1:
        return ""
    rows = (hatch.numbers(code) for code in (53, 45, 46))
    return said_of(hatch.first(2), zip(*rows, strict=False))


def _words(entities: Sequence[DxfEntity]) -> tuple[str, ...]:
    return tuple(
        entity.first(1) if entity.kind == "TEXT" else _paragraph(entity)
        for entity in entities
        if entity.kind in ("TEXT", "MTEXT")
    )


def _paragraph(entity: DxfEntity) -> str:
    """Return a paragraph: a long one is in parts, and a brace has a mark before it."""
    text = "".join(str(value) for code, value in entity.groups if code in (1, 3))
    return text.replace("\\{", "{").replace("\\}", "}")


def _measure(entity: DxfEntity, blocks: Mapping[str, DxfBlock]) -> FoundMeasure:
    dx = abs(entity.number(14) - entity.number(13))
    dy = abs(entity.number(24) - entity.number(23))
    along = dy if abs(entity.number(50) - 90) < NEAR else dx
    name = entity.first(2)
    block = blocks[name].inside if name in blocks else []
    words = [x.first(1) for x in block if x.kind == "TEXT"]
    heavy = [x for x in block if x.kind == "LINE" and x.first(370)]
    return FoundMeasure(
        along,
        entity.number(42),
        " ".join(words),
        style=entity.first(3),
        typed=entity.first(1),
        strokes=len(heavy),
    )


def _styles(tables: Sequence[DxfEntity]) -> Iterator[LetteringStyle]:
    """Yield the dimension styles, each by what decides its words and its ends."""
    blocks = {x.first(5): x.first(2) for x in tables if x.kind == "BLOCK_RECORD"}
    for entity in tables:
        if entity.kind == "DIMSTYLE":
            yield LetteringStyle(
                entity.first(2),
                unit=entity.whole(277, 2),
                places=entity.whole(271),
                step=entity.number(45),
                zeros=entity.whole(78),
                ends=_ends(entity, blocks),
            )


def _ends(style: DxfEntity, blocks: Mapping[str, str]) -> Ends | Literal["other"]:
    """Say what a style's lines end in: a size of strokes goes before an arrow."""
    if style.number(142) > 0:
        return "stroke"
    is_open = blocks.get(style.first(342), "").upper() == "_OPEN30"
    return "arrow" if is_open and style.number(41) > 0 else "other"


def _layout_name(entity: DxfEntity) -> str:
    """Return a layout's own name, which comes after its plot settings."""
    names = [str(value) for code, value in entity.groups if code == 1]
    return names[-1] if names else ""
