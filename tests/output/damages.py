"""What can go wrong with a DXF sheet: one small function for each kind of damage.

Each is given a file as its entities, group by group, and harms it. It raises
`LookupError` where the sheet holds nothing that could be harmed so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache

from shopdraw.drawing.set import DrawingSet
from shopdraw.output.write import differences_in, sheet_stem

Group = tuple[int, str]
Entity = list[Group]
"""The groups of one entity of the file, its kind first."""
Damage = Callable[["DxfFile"], None]


class DxfFile:
    """A DXF file taken apart into entities, and put together again."""

    def __init__(self, data: bytes) -> None:
        # The file of one sheet is harmed a hundred times.
        self.entities = [[*entity] for entity in _apart(data)]

    def data(self) -> bytes:
        """Return the file's bytes."""
        groups = (group for entity in self.entities for group in entity)
        return "".join(f"{code:3d}\n{value}\n" for code, value in groups).encode()

    def of(self, section: str) -> list[Entity]:
        """Return the entities of a section, the section's own groups first."""
        start = next(
            place
            for place, each in enumerate(self.entities)
            if each[0] == (0, "SECTION") and each[1][1] == section
        )
        ends = [x for x, each in enumerate(self.entities) if each == [(0, "ENDSEC")]]
        return self.entities[start : next(end for end in ends if end > start)]

    def drawn(self, kind: str, *, paper: bool = False) -> Iterator[Entity]:
        """Yield entities of a kind in model space, or on the layout."""
        for each in self.of("ENTITIES"):
            if each[0][1] == kind and (first(each, 67) == "1") == paper:
                yield each

    def of_end(self) -> Entity:
        """Return the end of the header."""
        return next(each for each in self.entities if each == [(0, "ENDSEC")])

    def table(self, kind: str, name: str = "") -> Entity:
        """Return an entry of a table by its name."""
        entries = (each for each in self.of("TABLES") if each[0][1] == kind)
        return one(each for each in entries if first(each, 2) == name)

    def layer(self, place: int = 1) -> Entity:
        """Return a layer of ours: whatever it is called, they have their order."""
        every = (each for each in self.of("TABLES") if each[0][1] == "LAYER")
        return [each for each in every if first(each, 2) not in LIBRARYS][place]

    def in_block(self, kind: str, start: str = "U-") -> Iterator[Entity]:
        """Yield entities of a kind in blocks whose names begin so."""
        inside = False
        for each in self.of("BLOCKS"):
            if each[0][1] == "BLOCK":
                inside = first(each, 2).startswith(start)
            if inside and each[0][1] == kind:
                yield each

    def put(self, new: Entity, after: Entity) -> None:
        """Put an entity behind another one."""
        place = next(x for x, each in enumerate(self.entities) if each is after)
        self.entities.insert(place + 1, new)

    def drop(self, gone: Entity) -> None:
        """Take an entity out."""
        self.entities = [each for each in self.entities if each is not gone]


@lru_cache(maxsize=16)
def _apart(data: bytes) -> list[Entity]:
    lines = data.decode("ascii").split("\n")
    entities: list[Entity] = []
    for code, value in zip(lines[::2], lines[1::2], strict=False):
        if int(code) == 0 or not entities:
            entities.append([])
        entities[-1].append((int(code), value))
    return entities


def first(entity: Entity, code: int) -> str:
    """Return the first value of a code; nothing where there is none."""
    return next((value for got, value in entity if got == code), "")


def one(entities: Iterator[Entity]) -> Entity:
    """Return the first of some entities, or say that there is none."""
    for entity in entities:
        return entity
    message = "there is nothing of the kind"
    raise LookupError(message)


def two(entities: Iterator[Entity], code: int) -> tuple[Entity, Entity]:
    """Return two entities that differ in a code."""
    some = list(entities)
    for other in some[1:]:
        if first(other, code) != first(some[0], code):
            return some[0], other
    message = "there are no two of the kind"
    raise LookupError(message)


def put(entity: Entity, code: int, new: str) -> None:
    """Give the first group of a code another value; add it at its end if need be."""
    for place, (got, value) in enumerate(entity):
        if got == code:
            if value == new:
                message = f"{code} is {new} already"
                raise LookupError(message)
            entity[place] = (code, new)
            return
    # Further data of a program stands at the end.
    end = next((x for x, (got, _) in enumerate(entity) if got >= 1000), len(entity))
    entity.insert(end, (code, new))


def shift(entity: Entity, by: float, *codes: int) -> None:
    """Move every value of some codes."""
    entity[:] = [
        (got, repr(float(value) + by) if got in codes else value)
        for got, value in entity
    ]


def strip(entity: Entity, *codes: int) -> None:
    """Leave some codes out."""
    entity[:] = [group for group in entity if group[0] not in codes]


def exchange(this: Entity, other: Entity, *codes: int) -> None:
    """Have two entities change the values of some codes."""
    for code in codes:
        a, b = first(this, code), first(other, code)
        put(this, code, b)
        put(other, code, a)


LIBRARYS = ("0", "Defpoints")
"""Layers that every file has."""
SIXTEENTH = 1 / 16
X = (10, 11)


def header(name: str, code: int, value: str) -> Damage:
    """Give a variable of the header another value."""

    def change(file: DxfFile) -> None:
        groups = file.of("HEADER")[0]
        place = groups.index((9, name)) + 1
        while groups[place][0] != code:
            place += 1
        if groups[place][1] == value:
            message = f"{name} is {value} already"
            raise LookupError(message)
        groups[place] = (code, value)

    return change


def window(file: DxfFile) -> Entity:
    """Return the first viewport that shows a drawing."""
    ports = file.drawn("VIEWPORT", paper=True)
    return one(x for x in ports if first(x, 69) != "1")


def lettering(file: DxfFile, *, paper: bool = False) -> Iterator[Entity]:
    return file.drawn("TEXT", paper=paper)


def stamped(file: DxfFile, start: str) -> Entity:
    """Return lettering on the layout that begins so."""
    some = file.drawn("TEXT", paper=True)
    return one(x for x in some if first(x, 1).startswith(start))


def of_dimension(file: DxfFile, kind: str) -> Entity:
    return one(file.in_block(kind, "*D"))


def tag(file: DxfFile, hidden: str = "1") -> Entity:
    tags = file.drawn("ATTRIB")
    return one(x for x in tags if first(x, 70) == hidden)


def on(kind: str, code: int, value: str, *, paper: bool = False) -> Damage:
    """Give a group of the first entity of a kind another value."""
    return lambda file: put(one(file.drawn(kind, paper=paper)), code, value)


def by(kind: str, amount: float, *codes: int, paper: bool = False) -> Damage:
    """Move the first entity of a kind."""
    return lambda file: shift(one(file.drawn(kind, paper=paper)), amount, *codes)


def window_by(amount: float, *codes: int) -> Damage:
    return lambda file: shift(window(file), amount, *codes)


def in_table(kind: str, name: str, code: int, value: str) -> Damage:
    """Give a group of a table's entry another value."""
    return lambda file: put(file.table(kind, name), code, value)


def in_layer(code: int, value: str) -> Damage:
    """Give a group of a layer another value."""
    return lambda file: put(file.layer(), code, value)


def layout(code: int, value: str) -> Damage:
    """Give a plot setting of the sheet another value."""

    def change(file: DxfFile) -> None:
        layouts = [x for x in file.of("OBJECTS") if x[0][1] == "LAYOUT"]
        put(one(x for x in layouts if (1, "Model") not in x), code, value)

    return change


def dropped(kind: str, *, paper: bool = False) -> Damage:
    return lambda file: file.drop(one(file.drawn(kind, paper=paper)))


def doubled(kind: str) -> Damage:
    """Draw an entity twice, with a handle of its own."""

    def change(file: DxfFile) -> None:
        there = one(file.drawn(kind))
        new = [*there]
        put(new, 5, "FFFF0")
        file.put(new, there)

    return change


def added(file: DxfFile) -> None:
    """Add a kind of entity that no sheet has."""
    there = one(file.drawn("LWPOLYLINE"))
    owner = first(there, 330)
    circle = [(0, "CIRCLE"), (5, "FFFF0"), (330, owner), (100, "AcDbEntity")]
    circle += [(8, "A-ANNO-NOTE"), (100, "AcDbCircle"), (10, "5.0"), (20, "5.0")]
    file.put([*circle, (30, "0.0"), (40, "1.0")], there)


def to_paper(file: DxfFile) -> None:
    """Have a line of model space stand on paper."""
    there = one(file.drawn("LWPOLYLINE"))
    there.insert(4, (67, "1"))


def to_other_owner(file: DxfFile) -> None:
    """Have a line of model space belong to the layout, though it says otherwise."""
    there = one(file.drawn("LWPOLYLINE"))
    put(there, 330, first(window(file), 330))


def bulged(file: DxfFile) -> None:
    """Bend a side of an outline."""
    there = one(file.drawn("LWPOLYLINE"))
    place = next(x for x, group in enumerate(there) if group[0] == 20)
    there.insert(place + 1, (42, "0.3"))


def exchange_notes(file: DxfFile) -> None:
    a, b = two(file.drawn("MTEXT"), 1)
    exchange(a, b, 1)


def exchange_lines_of_words(file: DxfFile) -> None:
    a, b = two(lettering(file), 1)
    exchange(a, b, 1)


def exchange_layers(file: DxfFile) -> None:
    """Have two layers change names, so that all on them change pens."""
    exchange(file.layer(0), file.layer(3), 2)


def exchange_blocks(file: DxfFile) -> None:
    a, b = two(file.drawn("INSERT"), 2)
    exchange(a, b, 2)


def whole_dimension(file: DxfFile) -> None:
    """Move a dimension, and all that is drawn of it."""
    there = one(file.drawn("DIMENSION"))
    shift(there, SIXTEENTH, 10, 11, 13, 14)
    name, inside = first(there, 2), False
    for each in file.of("BLOCKS"):
        if each[0][1] == "BLOCK":
            inside = first(each, 2) == name
        elif inside:
            shift(each, SIXTEENTH, 10, 11)


def override(file: DxfFile) -> None:
    """Have a dimension drawn anew at another size than its style says."""
    there = one(x for x in file.drawn("DIMENSION") if first(x, 1040))
    put(there, 1040, repr(2 * float(first(there, 1040))))


def overridden(file: DxfFile) -> None:
    """Give a dimension a factor of its own for what it measures."""
    there = one(x for x in file.drawn("DIMENSION") if first(x, 1040))
    end = there.index((1002, "}"))
    there[end:end] = [(1070, "144"), (1040, "2.0")]


def cut_line(file: DxfFile) -> Entity:
    lines = file.in_block("LWPOLYLINE")
    return one(x for x in lines if first(x, 70) == "0")


def in_symbol(kind: str, code: int, value: str) -> Damage:
    return lambda file: put(one(file.in_block(kind)), code, value)


def base_point(file: DxfFile) -> None:
    shift(one(file.in_block("BLOCK")), SIXTEENTH, 10)


def of_block_record(code: int, value: str) -> Damage:
    def change(file: DxfFile) -> None:
        records = [x for x in file.of("TABLES") if x[0][1] == "BLOCK_RECORD"]
        put(one(x for x in records if first(x, 2).startswith("U-")), code, value)

    return change


def hatched(file: DxfFile) -> Entity:
    return one(x for x in file.drawn("HATCH") if first(x, 70) == "0")


def boundary(file: DxfFile) -> None:
    """Move a corner of a tint's or a hatch's boundary."""
    there = one(file.drawn("HATCH"))
    start = next(x for x, group in enumerate(there) if group[0] == 93)
    place = next(x for x in range(start, len(there)) if there[x][0] == 10)
    there[place] = (10, repr(float(there[place][1]) + SIXTEENTH))


def tint_is_full(file: DxfFile) -> None:
    """Have a tint cover what stands on it."""
    strip(one(x for x in file.drawn("HATCH") if first(x, 440)), 440)


def without_tags(file: DxfFile) -> None:
    """Take all tags of an insert away."""
    insert = one(file.drawn("INSERT"))
    place = next(x for x, each in enumerate(file.entities) if each is insert) + 1
    while file.entities[place][0][1] == "ATTRIB":
        file.drop(file.entities[place])


def without_last_section(file: DxfFile) -> None:
    start = file.entities.index(file.of("OBJECTS")[0])
    file.entities = [*file.entities[:start], [(0, "EOF")]]


def without_section(name: str) -> Damage:
    def change(file: DxfFile) -> None:
        gone = file.of(name)
        file.entities = [x for x in file.entities if not any(x is y for y in gone)]

    return change


def without_end(file: DxfFile) -> None:
    file.entities.pop()


def further_block(file: DxfFile) -> None:
    """Add a line to a block of the library's own."""
    start = one(file.in_block("BLOCK", "*Model_Space"))
    line = [*one(file.drawn("LWPOLYLINE"))]
    put(line, 5, "FFFF0")
    file.put(line, start)


def same_handle(file: DxfFile) -> None:
    a, b = two(file.drawn("LWPOLYLINE"), 5)
    put(a, 5, first(b, 5))


def variable(instead: Entity) -> Damage:
    """Put something else in the place of a variable's name, and of the variable."""

    def change(file: DxfFile) -> None:
        groups = file.of("HEADER")[0]
        place = groups.index((9, "$MIRRTEXT"))
        groups[place : place + (1 if instead else 2)] = instead

    return change


def a_class(file: DxfFile) -> Entity:
    return one(x for x in file.of("CLASSES") if x[0][1] == "CLASS")


def head(file: DxfFile, name: str = "STYLE") -> Entity:
    heads = (x for x in file.of("TABLES") if x[0][1] == "TABLE")
    return one(x for x in heads if first(x, 2) == name)


def no_table(file: DxfFile) -> None:
    there = head(file, "UCS")
    place = next(x for x, each in enumerate(file.entities) if each is there)
    del file.entities[place : place + 2]


def an_object(file: DxfFile, kind: str) -> Entity:
    """Return the first object of a kind; the root is the first dictionary."""
    return one(x for x in file.of("OBJECTS") if x[0][1] == kind)


def of_object(kind: str, code: int, value: str) -> Damage:
    return lambda file: put(an_object(file, kind), code, value)


def stray_object(file: DxfFile) -> None:
    """Add an object that nothing leads to."""
    there = an_object(file, "ACDBPLACEHOLDER")
    new = [*there]
    put(new, 5, "FFFF0")
    file.put(new, there)


def entry_twice(file: DxfFile) -> None:
    there = an_object(file, "ACDBDICTIONARYWDFLT")
    place = next(x for x, (code, _) in enumerate(there) if code == 3)
    there[place:place] = there[place : place + 2]


def layout_renamed(file: DxfFile) -> None:
    """List a layout by a name that is not its own."""
    layouts = (x for x in file.of("OBJECTS") if (3, "Model") in x)
    put(one(layouts), 3, "MODEL-1")


DAMAGES: dict[str, Damage] = {
    # The header: what the whole file is read by.
    "units in the header": header("$INSUNITS", 70, "6"),
    "measurement in the header": header("$MEASUREMENT", 70, "7"),
    "kind of units": header("$LUNITS", 70, "3"),
    "version": header("$ACADVER", 1, "AC1009"),
    "scale of line types": header("$LTSCALE", 40, "12.0"),
    "line types on paper": header("$PSLTSCALE", 70, "0"),
    "pens not shown": header("$LWDISPLAY", 290, "0"),
    "words as boxes": header("$QTEXTMODE", 70, "1"),
    "no fills": header("$FILLMODE", 70, "0"),
    "direction of angles": header("$ANGDIR", 70, "1"),
    "base of the drawing": header("$INSBASE", 10, "7.0"),
    "extents in the header": header("$EXTMAX", 10, "7.0"),
    "limits in the header": header("$LIMMIN", 20, "-7.0"),
    "tags all shown": header("$ATTMODE", 70, "2"),
    "next handle": header("$HANDSEED", 5, "1"),
    "a variable of no use to us": header("$MIRRTEXT", 70, "0"),
    "a day in the header": header("$TDUPDATE", 40, "2460000.5"),
    "an identifier in the header": header("$VERSIONGUID", 2, "{1}"),
    "a variable renamed": variable([(9, "$MIRRTEXTS")]),
    "a variable dropped": variable([]),
    "a variable doubled": variable([(9, "$MIRRTEXT"), (70, "1"), (9, "$MIRRTEXT")]),
    # Classes, heads of tables, applications, objects.
    "a class renamed": lambda file: put(a_class(file), 1, "OTHERS"),
    "a class's rights": lambda file: put(a_class(file), 90, "7"),
    "a class dropped": lambda file: file.drop(a_class(file)),
    "a class doubled": lambda file: file.put([*a_class(file)], a_class(file)),
    "a table's count": lambda file: put(head(file), 70, "3"),
    "a table without entries dropped": no_table,
    "an application renamed": in_table("APPID", "ACAD", 2, "OTHERS"),
    "an application dropped": lambda file: file.drop(file.table("APPID", "ACAD")),
    "a layer made of something else": in_layer(347, "1"),
    "a layer's plot style": in_layer(390, "A"),
    "a block's layout": of_block_record(340, "A"),
    "a block's end": lambda file: put(one(file.in_block("ENDBLK")), 8, "A-ANNO-NPLT"),
    "a group behind a section's end": lambda file: file.of_end().append((1, "MORE")),
    "an object changed": of_object("MATERIAL", 94, "64"),
    "an object dropped": lambda file: file.drop(an_object(file, "MATERIAL")),
    "an object that nothing lists": stray_object,
    "a style of leaders' lettering": of_object("MLEADERSTYLE", 342, "A"),
    "a dictionary's entry renamed": of_object("DICTIONARY", 3, "OTHERS"),
    "a dictionary's entry leads elsewhere": of_object("DICTIONARY", 350, "C"),
    "a dictionary's entry dropped": lambda file: strip(
        an_object(file, "ACDBDICTIONARYWDFLT"), 3, 350
    ),
    "a dictionary's entry doubled": entry_twice,
    "a layout listed by another name": layout_renamed,
    "a layout's own window": layout(331, "A"),
    "a layout's tab": layout(71, "7"),
    "a layout of another dictionary": layout(330, "A"),
    # The window on the layout.
    "viewport's scale": window_by(0.5, 45),
    "viewport's size": window_by(SIXTEENTH, 40),
    "viewport's place": window_by(SIXTEENTH, 10),
    "viewport's centre": window_by(SIXTEENTH, 12),
    "viewport unlocked": lambda file: put(window(file), 90, "0"),
    "viewport off": lambda file: put(window(file), 68, "0"),
    "viewport twisted": lambda file: put(window(file), 51, "90.0"),
    "viewport seen aslant": lambda file: put(window(file), 16, "1.0"),
    "viewport's target moved": window_by(SIXTEENTH, 17),
    "viewport on a printed layer": lambda file: put(window(file), 8, "A-ELEV-MSNR"),
    "viewport freezes a layer": lambda file: window(file).append((331, "32")),
    # The layout.
    "a word of the title block moved": by("TEXT", SIXTEENTH, *X, paper=True),
    "a word of the title block changed": on("TEXT", 1, "REVISED", paper=True),
    "the digest changed": lambda file: put(
        stamped(file, "shopdraw "), 1, "shopdraw 0.1.0 / 000000000000"
    ),
    "the border moved": by("LWPOLYLINE", SIXTEENTH, 10, paper=True),
    "a note on paper changed": on("MTEXT", 1, "NO NOTE", paper=True),
    "a note on paper moved": by("MTEXT", SIXTEENTH, 10, paper=True),
    "a stamp on another layer": on("TEXT", 8, "A-ANNO-NPLT", paper=True),
    "plot scale": layout(142, "2.0"),
    "plot turned": layout(73, "1"),
    "plot of a window": layout(74, "4"),
    "paper's units": layout(72, "2"),
    "paper's size": layout(44, "297.0"),
    "paper's name": layout(4, "ISO_A4_(297.00_x_210.00_MM)"),
    "margins": layout(40, "25.0"),
    "plotter": layout(2, "A PRINTER"),
    "plot flags": layout(70, "0"),
    "layout's limits": layout(11, "7.0"),
    # Lettering.
    "a text moved": by("TEXT", SIXTEENTH, *X),
    "a text changed": on("TEXT", 1, "AS IT MAY BE"),
    "a text's height": on("TEXT", 40, "9.0"),
    "a text turned": on("TEXT", 50, "45.0"),
    "a text aligned otherwise": on("TEXT", 72, "2"),
    "a text in another style": on("TEXT", 7, "Standard"),
    "a text upside down": on("TEXT", 71, "4"),
    "a text on another layer": on("TEXT", 8, "A-ANNO-NPLT"),
    "two texts exchanged": exchange_lines_of_words,
    "two notes exchanged": exchange_notes,
    "a note moved": by("MTEXT", SIXTEENTH, 10),
    "a note's column": on("MTEXT", 41, "900.0"),
    "a note's pitch": on("MTEXT", 44, "3.0"),
    # Dimensions.
    "a whole dimension moved": whole_dimension,
    "the line in a dimension's block": lambda file: shift(
        of_dimension(file, "LINE"), SIXTEENTH, 20
    ),
    "the words in a dimension's block": lambda file: put(
        of_dimension(file, "TEXT"), 1, '1"'
    ),
    "the words of a dimension moved": lambda file: shift(
        of_dimension(file, "TEXT"), SIXTEENTH, *X
    ),
    "a line in a dimension's block dropped": lambda file: file.drop(
        of_dimension(file, "LINE")
    ),
    "a dimension's own scale": override,
    "a dimension's own factor": overridden,
    "a dimension's style": on("DIMENSION", 3, "Standard"),
    "a dimension typed over": on("DIMENSION", 1, '1"'),
    "a dimension's place for words": by("DIMENSION", SIXTEENTH, 11),
    "a dimension's line": by("DIMENSION", SIXTEENTH, 20),
    "a dimension's kind": on("DIMENSION", 70, "161"),
    "a dimension on another layer": on("DIMENSION", 8, "A-ANNO-NPLT"),
    "a dimension's block is another's": lambda file: put(
        two(file.drawn("DIMENSION"), 2)[0],
        2,
        first(two(file.drawn("DIMENSION"), 2)[1], 2),
    ),
    # Inserts and their blocks.
    "an insert on another layer": on("INSERT", 8, "A-ANNO-NPLT"),
    "an insert invisible": on("INSERT", 60, "1"),
    "an insert in columns": on("INSERT", 70, "2"),
    "an insert in rows": on("INSERT", 71, "2"),
    "an insert raised": on("INSERT", 30, "1.0"),
    "an insert scaled": on("INSERT", 41, "1.01"),
    "an insert turned": on("INSERT", 50, "90.0"),
    "an insert mirrored": on("INSERT", 41, "-1.0"),
    "an insert seen from behind": on("INSERT", 230, "-1.0"),
    "an insert moved": by("INSERT", SIXTEENTH, 10),
    "two inserts' blocks exchanged": exchange_blocks,
    "an insert without tags": without_tags,
    "a tag changed": lambda file: put(tag(file), 1, "F-99-99"),
    "a tag's name": lambda file: put(tag(file), 2, "NAME"),
    "a tag shown": lambda file: put(tag(file), 70, "0"),
    "a mark hidden": lambda file: put(tag(file, "0"), 70, "1"),
    "a mark moved": lambda file: shift(tag(file, "0"), SIXTEENTH, *X),
    "a mark's height": lambda file: put(tag(file, "0"), 40, "9.0"),
    "a block's base point": base_point,
    "a block's cut line": lambda file: shift(cut_line(file), SIXTEENTH, 10),
    "a cut line dropped": lambda file: file.drop(cut_line(file)),
    "a block's outline": lambda file: shift(one(file.in_block("LWPOLYLINE")), 0.01, 10),
    "a block's line on another layer": in_symbol("LWPOLYLINE", 8, "A-ANNO-NPLT"),
    "a block's tag: its name": in_symbol("ATTDEF", 2, "NAME"),
    "a block's tag: what it says": in_symbol("ATTDEF", 1, "F-01-01"),
    "a block's tag: its flags": in_symbol("ATTDEF", 70, "0"),
    "a block's tag: its place": lambda file: shift(one(file.in_block("ATTDEF")), 1, 10),
    "a block's tag dropped": lambda file: file.drop(one(file.in_block("ATTDEF"))),
    "a block's flags": in_symbol("BLOCK", 70, "4"),
    "a block's units": of_block_record(70, "6"),
    # Layers, line types, styles.
    "layers exchanged": exchange_layers,
    "a layer frozen": in_layer(70, "1"),
    "a layer locked": in_layer(70, "4"),
    "a layer off": in_layer(62, "-7"),
    "a layer's colour": in_layer(62, "2"),
    "a layer's true colour": in_layer(420, "16777215"),
    "a layer's pen": in_layer(370, "211"),
    "a layer's line type": in_layer(6, "HIDDEN"),
    "a layer not printed": in_layer(290, "0"),
    "a layer dropped": lambda file: file.drop(file.layer()),
    "a line type's dashes": in_table("LTYPE", "HIDDEN", 49, "9.0"),
    "a style's font": in_table("STYLE", "LETTERING", 3, "other.ttf"),
    "a style's height": in_table("STYLE", "LETTERING", 40, "1.0"),
    "a style's width": in_table("STYLE", "LETTERING", 41, "0.5"),
    "a style's slant": in_table("STYLE", "LETTERING", 50, "15.0"),
    "a dimension style's height": in_table("DIMSTYLE", "DIMENSIONS", 140, "9.0"),
    "a dimension style's rounding": in_table("DIMSTYLE", "DIMENSIONS", 45, "1.5"),
    "a dimension style's factor": in_table("DIMSTYLE", "DIMENSIONS", 144, "2.0"),
    "a dimension style's ends": in_table("DIMSTYLE", "DIMENSIONS", 142, "0.0"),
    "a dimension style without lines": in_table("DIMSTYLE", "DIMENSIONS", 75, "1"),
    "where the file opens": in_table("VPORT", "*Active", 40, "1.0"),
    # Lines and areas.
    "an outline bulged": bulged,
    "an outline moved": by("LWPOLYLINE", SIXTEENTH, 10),
    "an outline opened": lambda file: put(
        one(x for x in file.drawn("LWPOLYLINE") if first(x, 70) == "1"), 70, "0"
    ),
    "an outline wide": on("LWPOLYLINE", 43, "1.0"),
    "an outline raised": on("LWPOLYLINE", 38, "1.0"),
    "an outline in another colour": on("LWPOLYLINE", 62, "2"),
    "an outline in another pen": on("LWPOLYLINE", 370, "211"),
    "an outline in another line type": on("LWPOLYLINE", 6, "HIDDEN"),
    "an outline's line type scaled": on("LWPOLYLINE", 48, "9.0"),
    "an outline invisible": on("LWPOLYLINE", 60, "1"),
    "an outline on another layer": on("LWPOLYLINE", 8, "A-ANNO-NPLT"),
    "a line on paper instead": to_paper,
    "a line that belongs to the layout": to_other_owner,
    "a hatch's pattern": lambda file: put(hatched(file), 2, "STARS"),
    "a hatch's lines": lambda file: put(hatched(file), 53, "12.0"),
    "a hatch's dashes": lambda file: put(
        one(x for x in file.drawn("HATCH") if first(x, 49)), 49, "9.0"
    ),
    "a hatch's origin": lambda file: put(hatched(file), 43, "9.0"),
    "a hatch made full": lambda file: put(hatched(file), 70, "1"),
    "an area's boundary": boundary,
    "an area dropped": dropped("HATCH"),
    "an area's tint": tint_is_full,
    "an area on another layer": on("HATCH", 8, "A-ANNO-NPLT"),
    # Something more, something less.
    "an entity added": added,
    "an entity dropped": dropped("LWPOLYLINE"),
    "an entity doubled": doubled("LWPOLYLINE"),
    "a text doubled": doubled("TEXT"),
    "a dimension dropped": dropped("DIMENSION"),
    "a line in a block of the file's own": further_block,
    "a handle twice": same_handle,
    # The file itself.
    "the last section missing": without_last_section,
    "no header": without_section("HEADER"),
    "no tables": without_section("TABLES"),
    "no end": without_end,
}
"""By name; each harms one thing."""


def damaged(
    kind: str, drawn: DrawingSet, files: Mapping[str, bytes]
) -> tuple[str, ...] | None:
    """Harm the first sheet of a set that can be harmed so, and read it back.

    Args:
        kind: of the damage.
        drawn: the set.
        files: its DXF files, by name.

    Returns:
        What is said of it; None where no sheet holds what could be harmed so.
    """
    for sheet, expected in zip(drawn.sheets, drawn.expected, strict=True):
        name = f"{sheet_stem(sheet)}.dxf"
        file = DxfFile(files[name])
        try:
            DAMAGES[kind](file)
        except LookupError:
            continue
        form = drawn.form
        return differences_in(name, file.data(), expected, sheet, drawn.lengths, form)
    return None
