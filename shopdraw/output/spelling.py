"""Spell out what a drawing must be in a DXF file, group by group, from its ink.

In:  `Drawing`s and their places, or the ink of a sheet's paper.   Out: `Record`s.
Frame: model space at full size, or the layout in paper lengths.

It is a second program beside the writer's, and knows the format alone (codes from
memory), not the library that writes it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from shopdraw.drawing.hatching import PATTERNS
from shopdraw.drawing.ink import (
    FILL_OPACITY,
    Fill,
    Hatch,
    Ink,
    Insert,
    Measure,
    Point,
    Stroke,
    Symbol,
    Words,
)
from shopdraw.drawing.measures import (
    TICK_PEN_MM,
    drawn_ends,
    letter_of,
    lines_of,
    ticks_of,
)
from shopdraw.drawing.paragraphs import column_of, lettering_in, said_by
from shopdraw.lengths import MM_PER_INCH, Lengths
from shopdraw.output.dimensioning import chosen
from shopdraw.output.groups import Group
from shopdraw.output.records import Record, record

LETTERING = "LETTERING"
"""The one text style."""
EXACTLY, PITCH = 2, 5 / 3
"""Of a note: lines so far apart whatever stands in them; how far, in heights, a factor
of one puts them."""
HIDDEN_TAG, TAG_HEIGHT = 1, 0.05
"""The flag of a tag that nobody sees, and how high it is on paper."""
SEATS = {"foot": 0, "middle": 2, "top": 3}
ALIGNS = {"left": 0, "centre": 1, "right": 2}
ROTATED, FIGURE_IN_PLACE, MIDDLE = 0, 128, 5
OWN_BLOCK = 32
"""Of a dimension: along an angle, its figure where somebody put it, its block its
own; the figure hangs by its middle."""
_SEE_THROUGH = 0x2000000


@dataclass(frozen=True)
class Spelling:
    """How ink is spelled: where it goes, at what scale, on layers called what.

    Attributes:
        move: places a point.
        scale: full-size lengths to one on paper.
        called: a layer's name in the file, by its own.
        has_tints: whether the file's release has them.
    """

    move: Callable[[Point], Point]
    scale: float
    lengths: Lengths
    called: Mapping[str, str]
    has_tints: bool = True

    def spell(self, ink: Sequence[Ink]) -> Iterator[Record]:
        """Yield the records of ink, those of a paragraph's lines as one."""
        paragraphs = {
            id(lines[0]): lines for lines in lettering_in(ink) if lines[0].column
        }
        for each in ink:
            if isinstance(each, Words):
                if not each.column:
                    yield from self.words(each)
                elif id(each) in paragraphs:
                    yield self._paragraph(paragraphs[id(each)])
            elif isinstance(each, Stroke):
                yield self.stroke(each)
            elif isinstance(each, Insert):
                yield self._insert(each)
            elif isinstance(each, Measure):
                yield self._measure(each)
            elif isinstance(each, Hatch):
                yield self._hatch(each)
            elif isinstance(each, Fill) and self.has_tints:
                yield self._fill(each)

    def _entity(self, layer: str, *marks: str) -> tuple[Group, ...]:
        """Return what every entity begins with: its layer, and what it is in turn."""
        kinds = ((100, mark) for mark in ("AcDbEntity", *marks))
        return ((8, self.called.get(layer, layer)), *kinds)

    def _at(self, code: int, point: Point) -> tuple[Group, Group]:
        x, y = self.move(point)
        return (code, x), (code + 10, y)

    def stroke(self, stroke: Stroke) -> Record:
        """Spell a polyline."""
        points = (group for point in stroke.points for group in self._at(10, point))
        return record(
            "LWPOLYLINE",
            (
                *self._entity(stroke.layer, "AcDbPolyline"),
                (90, len(stroke.points)),
                (70, int(stroke.closed)),
                *points,
            ),
        )

    def _line(self, layer: str, ends: tuple[Point, Point], *more: Group) -> Record:
        a, b = ends
        groups = (*self._at(10, a), *self._at(11, b), *more)
        return record("LINE", (*self._entity(layer, "AcDbLine"), *groups))

    def words(self, words: Words) -> Iterator[Record]:
        """Spell a line of lettering; nothing for blanks."""
        if words.text.strip():
            groups = self._lettered(words, seat_code=73)
            yield record(
                "TEXT",
                (*self._entity(words.layer, "AcDbText", "AcDbText"), *groups),
            )

    def _lettered(self, words: Words, seat_code: int) -> tuple[Group, ...]:
        return (
            *self._at(10, words.at),
            *self._at(11, words.at),
            (40, words.height_on_paper * self.scale),
            (1, words.text),
            (7, LETTERING),
            (50, words.angle_deg),
            (72, ALIGNS[words.align]),
            (seat_code, SEATS[words.seat]),
        )

    def _paragraph(self, lines: Sequence[Words]) -> Record:
        first, height = lines[0], lines[0].height_on_paper * self.scale
        x, y = self.move(first.at)
        pitch = first.at[1] - lines[1].at[1] if len(lines) > 1 else PITCH * height
        text = said_by(lines).replace("{", "\\{").replace("}", "\\}")
        return record(
            "MTEXT",
            (
                *self._entity(first.layer, "AcDbMText"),
                (10, x),
                (20, y + height),
                (40, height),
                (41, column_of(lines) * self.scale),
                (71, 1),
                (1, text),
                (7, LETTERING),
                (73, EXACTLY),
                (44, pitch / (PITCH * height)),
            ),
        )

    def _fill(self, fill: Fill) -> Record:
        see_through = _SEE_THROUGH + int(255 * FILL_OPACITY)
        return self._area(fill, "SOLID", (70, 1), (75, 0), (440, see_through))

    def _hatch(self, hatch: Hatch) -> Record:
        families = PATTERNS[hatch.pattern]
        inch = 1.0 if self.lengths == "in" else float(MM_PER_INCH)
        x, y = self.move(hatch.origin)
        lines: list[Group] = []
        for each in families:
            lines += [
                (53, each.angle_deg),
                (43, x + each.base[0] * hatch.inch),
                (44, y + each.base[1] * hatch.inch),
                (45, each.step[0] * hatch.inch),
                (46, each.step[1] * hatch.inch),
                (79, len(each.dashes)),
                *((49, dash * hatch.inch) for dash in each.dashes),
            ]
        return self._area(
            hatch,
            hatch.pattern,
            *((70, 0), (75, 1), (52, 0.0), (41, hatch.inch / inch), (77, 0)),
            (78, len(families)),
            *lines,
        )

    def _area(self, area: Fill | Hatch, pattern: str, *more: Group) -> Record:
        """Spell an area by its one boundary, a closed polyline without bulges."""
        corners = (group for point in area.points for group in self._at(10, point))
        return record(
            "HATCH",
            (
                *self._entity(area.layer, "AcDbHatch"),
                *((10, 0.0), (20, 0.0), (30, 0.0), (2, pattern), (71, 0)),
                *((91, 1), (92, 3), (72, 0), (73, 1), (93, len(area.points))),
                *corners,
                *((97, 0), (76, 1), (98, 0)),
                *more,
            ),
        )

    def _insert(self, insert: Insert) -> Record:
        layer = insert.layer
        parts = []
        for tag in insert.tags:
            mine: tuple[Group, ...]
            if tag.words is None:
                on = layer
                mine = (
                    *self._at(10, insert.at),
                    *((40, TAG_HEIGHT * self.scale), (1, tag.text), (7, LETTERING)),
                    (70, HIDDEN_TAG),
                )
            else:
                on = tag.words.layer
                lettered = self._lettered(tag.words, seat_code=74)
                mine = tuple(x if x[0] != 1 else (1, tag.text) for x in lettered)
            marks = self._entity(on, "AcDbText", "AcDbAttribute")
            parts.append(record("ATTRIB", (*marks, *mine, (2, tag.name))))
        follows: tuple[Group, ...] = ()
        if parts:
            parts.append(record("SEQEND", self._entity(layer)))
            follows = ((66, 1),)
        place = (*self._at(10, insert.at), (2, insert.symbol), *follows)
        marks = self._entity(layer, "AcDbBlockReference")
        return record("INSERT", (*marks, *place), parts)

    def _measure(self, measure: Measure) -> Record:
        """Spell a dimension, and what its block draws of it."""
        scale, letter = self.scale, letter_of(measure, self.scale)
        start, end = measure.start, measure.end
        along = 0 if measure.axis == "x" else 1
        far = (end[0], measure.line_at) if along == 0 else (measure.line_at, end[1])
        length = abs(self.move(end)[along] - self.move(start)[along])
        style, typed = chosen(
            measure.words, length, self.lengths, drawn_ends(measure, scale)
        )
        pen = (370, round(TICK_PEN_MM * 100))
        parts = (
            *(self._line(measure.layer, x) for x in lines_of(measure, scale)),
            *(self._line(measure.layer, x, pen) for x in ticks_of(measure, scale)),
            *self.words(letter),
        )
        marks = ("AcDbDimension", "AcDbAlignedDimension", "AcDbRotatedDimension")
        groups: tuple[Group, ...] = (
            *self._entity(measure.layer, *marks),
            *((3, style.name), (1, typed), (42, length)),
            *(*self._at(10, far), *self._at(11, letter.at)),
            *(*self._at(13, start), *self._at(14, end)),
            (50, 90.0 * along),
            *((70, ROTATED + OWN_BLOCK + FIGURE_IN_PLACE), (71, MIDDLE)),
            # How much larger than on paper it is drawn anew.
            *((1001, "ACAD"), (1000, "DSTYLE"), (1002, "{"), (1070, 40)),
            *((1040, scale), (1002, "}")),
        )
        return record("DIMENSION", groups, parts)


def spell_symbol(symbol: Symbol, spelling: Spelling) -> tuple[Record, ...]:
    """Spell a block: its beginning, its lines about its own origin, its tags."""
    tags = (
        record(
            "ATTDEF",
            (
                *((8, "0"), (100, "AcDbEntity"), (100, "AcDbText")),
                (100, "AcDbAttributeDefinition"),
                # Their prompts are hidden, one below another.
                *((10, 0.0), (20, -row * 0.1 * spelling.scale), (40, TAG_HEIGHT)),
                *((7, LETTERING), (2, name), (70, HIDDEN_TAG)),
            ),
        )
        for row, name in enumerate(symbol.tag_names)
    )
    strokes = map(spelling.stroke, symbol.strokes)
    has_tags = 2 if symbol.tag_names else 0
    return (block_start(symbol.name, has_tags), *strokes, *tags)


def block_start(name: str, flags: int = 0) -> Record:
    """Spell the beginning of a block, its base at its origin."""
    marks = ((8, "0"), (100, "AcDbEntity"), (100, "AcDbBlockBegin"))
    place = ((10, 0.0), (20, 0.0), (2, name), (3, name), (70, flags))
    return record("BLOCK", (*marks, *place))


BLOCK_END = record("ENDBLK", ((8, "0"), (100, "AcDbEntity"), (100, "AcDbBlockEnd")))


def styles_used(records: Iterable[Record]) -> set[str]:
    """Return the names of the dimension styles that some records use."""
    return {str(x.first(3)) for x in records if x.kind == "DIMENSION"}
