"""Take a DXF file apart by its group codes.

In:  the bytes of a DXF file.   Out: `DxfParts`; or a `ValueError` in words.
Frame: none.

It uses no DXF library, so that it also finds faults of the library that wrote the file.
A file is taken whole or not at all: every section, in order, up to its last line.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

Value = str | int | float
Group = tuple[int, Value]
SECTIONS = ("HEADER", "CLASSES", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS")
"""What a file is made of, in its order."""
_BARE = {"SECTION": 1, "ENDSEC": 0, "ENDTAB": 0, "EOF": 0}
"""What has nothing in it but a section's name; variables follow that of HEADER."""
COMMENT = 999
END = "0\nEOF\n"


@dataclass(slots=True)
class DxfEntity:
    """One entity, table entry or object: its kind, and its groups in their order."""

    kind: str
    groups: list[Group] = field(default_factory=list)

    def first(self, code: int, default: str = "") -> str:
        """Return the first value of a code that holds text."""
        # A loop, because this is asked more often than anything else.
        for got, value in self.groups:
            if got == code:
                return str(value)
        return default

    def number(self, code: int, default: float = 0.0) -> float:
        """Return the first value of a code that holds a number."""
        for got, value in self.groups:
            if got == code:
                return float(value)
        return default

    def numbers(self, code: int) -> list[float]:
        """Return every value of a code that holds numbers."""
        return [float(value) for got, value in self.groups if got == code]

    def whole(self, code: int, default: int = 0) -> int:
        """Return the first value of a code that holds a whole number."""
        return int(self.number(code, default))

    @property
    def on_paper(self) -> bool:
        """Whether it stands on the layout."""
        return self.whole(67) == 1


@dataclass(frozen=True)
class DxfBlock:
    """A block: its beginning, what is drawn in it, and its end."""

    start: DxfEntity
    inside: tuple[DxfEntity, ...]
    end: DxfEntity


@dataclass(frozen=True)
class DxfParts:
    """A whole DXF file.

    Attributes:
        comments: before the first section.
        header: the groups of each variable, by its name.
        classes: in the file's order.
        heads: of the tables, in the file's order.
        tables: the entries of all tables, in the file's order.
        blocks: by name.
        entities, objects: in the file's order.
    """

    comments: tuple[str, ...]
    header: Mapping[str, tuple[Group, ...]]
    classes: tuple[DxfEntity, ...]
    heads: tuple[DxfEntity, ...]
    tables: tuple[DxfEntity, ...]
    blocks: Mapping[str, DxfBlock]
    entities: tuple[DxfEntity, ...]
    objects: tuple[DxfEntity, ...]


def take_apart(data: bytes) -> DxfParts:
    """Take a DXF file apart.

    Raises:
        ValueError: it is no whole DXF file; the message says what is amiss.
    """
    comments, starts = _entities(_groups(data))
    sections = _sections(starts)
    return DxfParts(
        comments,
        _header(sections["HEADER"]),
        tuple(sections["CLASSES"][1:]),
        tuple(x for x in sections["TABLES"] if x.kind == "TABLE"),
        tuple(_tables(sections["TABLES"][1:])),
        _blocks(sections["BLOCKS"][1:]),
        tuple(sections["ENTITIES"][1:]),
        tuple(sections["OBJECTS"][1:]),
    )


def _groups(data: bytes) -> list[Group]:
    """Return pairs of a code and its value, a number where the code asks for one."""
    try:
        text = data.decode("ascii")
    except UnicodeDecodeError as error:
        message = f"sign {error.start} is not ASCII"
        raise ValueError(message) from None
    text = text.replace("\r\n", "\n") if "\r" in text else text
    if not text.endswith(END):
        message = "the file does not end as a DXF file does: it is cut off"
        raise ValueError(message)
    lines = text.split("\n")
    lines.pop()
    if len(lines) % 2:
        message = "the file ends in a code without a value"
        raise ValueError(message)
    try:
        codes = [*map(int, lines[::2])]
        kinds = [_KINDS[code] for code in codes]
        pairs = zip(codes, kinds, lines[1::2], strict=True)
        return [(code, kind(value)) for code, kind, value in pairs]
    except (ValueError, LookupError):
        raise ValueError(_wrong_line(lines)) from None


def _wrong_line(lines: list[str]) -> str:
    """Say which line is no code, or no number where one should be."""
    for place in range(0, len(lines), 2):
        code, value = lines[place], lines[place + 1]
        try:
            kind = _KINDS[int(code)]
        except (ValueError, LookupError):
            return f"line {place + 1} is no group code: {code[:40]}"
        try:
            kind(value)
        except ValueError:
            return f"line {place + 2} is no number: {value[:40]}"
    return "it can't be read"


def _kind_of(code: int) -> Callable[[str], Value]:
    """Return what turns a value of a code into what the code holds (from memory)."""
    real = ((10, 59), (110, 149), (210, 239), (460, 469), (1010, 1059))
    whole = (
        *((60, 99), (160, 179), (270, 299), (370, 389), (400, 409)),
        *((420, 429), (440, 459), (1060, 1071)),
    )
    if any(low <= code <= high for low, high in real):
        return float
    return int if any(low <= code <= high for low, high in whole) else str


_KINDS = {code: _kind_of(code) for code in range(1072)}


def _entities(groups: list[Group]) -> tuple[tuple[str, ...], list[DxfEntity]]:
    """Return the comments before the first entity, and all entities."""
    starts = [place for place, (code, _) in enumerate(groups) if code == 0]
    before = groups[: starts[0]]
    if any(code != COMMENT for code, _ in before):
        message = "something stands before the first section"
        raise ValueError(message)
    entities = [
        DxfEntity(str(groups[start][1]), groups[start + 1 : end])
        for start, end in pairwise((*starts, len(groups)))
    ]
    return tuple(str(value) for _, value in before), entities


def _sections(entities: list[DxfEntity]) -> dict[str, list[DxfEntity]]:
    """Return the entities of each section, its own beginning first."""
    sections: dict[str, list[DxfEntity]] = {}
    inside: list[DxfEntity] | None = None
    _refuse_strays(entities)
    *entities, last = entities
    if last.kind != "EOF":
        message = "the file does not end as a DXF file does"
        raise ValueError(message)
    for entity in entities:
        if entity.kind == "SECTION" and inside is None:
            name = entity.first(2)
            if name in sections:
                message = f"it has two sections {name}"
                raise ValueError(message)
            inside = sections[name] = [entity]
        elif entity.kind == "ENDSEC" and inside is not None:
            inside = None
        elif inside is None or entity.kind in ("SECTION", "EOF"):
            message = f"{entity.kind} stands where it can't"
            raise ValueError(message)
        else:
            inside.append(entity)
    if inside is not None or tuple(sections) != SECTIONS:
        named = ", ".join(sections) or "none"
        message = f"its sections are {named}; there should be {', '.join(SECTIONS)}"
        raise ValueError(message)
    return sections


def _refuse_strays(entities: list[DxfEntity]) -> None:
    """Refuse what stands in a section's beginning or end, where nothing can."""
    for entity in entities:
        most = _BARE.get(entity.kind)
        if most is None or entity.groups[:1] == [(2, "HEADER")]:
            continue
        if len(entity.groups) > most:
            message = f"something stands in {entity.kind} {entity.first(2)}".strip()
            raise ValueError(message)


def _header(section: list[DxfEntity]) -> dict[str, tuple[Group, ...]]:
    variables: dict[str, tuple[Group, ...]] = {}
    groups = section[0].groups[1:]
    starts = [place for place, (code, _) in enumerate(groups) if code == 9]
    if len(section) > 1 or starts[:1] != [0]:
        message = "something other than variables stands in HEADER"
        raise ValueError(message)
    for start, end in pairwise((*starts, len(groups))):
        name = str(groups[start][1])
        if name in variables:
            message = f"it has two variables {name}"
            raise ValueError(message)
        variables[name] = tuple(groups[start + 1 : end])
    return variables


def _tables(entities: list[DxfEntity]) -> list[DxfEntity]:
    """Return the entries of all tables, each in the table of its kind."""
    entries = []
    table: DxfEntity | None = None
    for entity in entities:
        if entity.kind == "TABLE" and table is None:
            table = entity
        elif entity.kind == "ENDTAB" and table is not None:
            table = None
        elif table is None or entity.kind != table.first(2):
            message = f"{entity.kind} stands in a table of another kind, or in none"
            raise ValueError(message)
        elif entity.first(330) != table.first(5):
            message = f"{entity.kind} {entity.first(2)} belongs to another table"
            raise ValueError(message)
        else:
            entries.append(entity)
    if table is not None:
        message = f"table {table.first(2)} has no end"
        raise ValueError(message)
    return entries


def _blocks(entities: list[DxfEntity]) -> dict[str, DxfBlock]:
    blocks: dict[str, DxfBlock] = {}
    start: DxfEntity | None = None
    inside: list[DxfEntity] = []
    for entity in entities:
        if entity.kind == "BLOCK" and start is None:
            start, inside = entity, []
            if start.first(2) in blocks:
                message = f"it has two blocks {start.first(2)}"
                raise ValueError(message)
        elif entity.kind == "ENDBLK" and start is not None:
            blocks[start.first(2)] = DxfBlock(start, tuple(inside), entity)
            start = None
        elif start is None or entity.kind == "BLOCK":
            message = f"{entity.kind} stands where no block is"
            raise ValueError(message)
        else:
            inside.append(entity)
    if start is not None:
        message = f"block {start.first(2)} has no end"
        raise ValueError(message)
    return blocks
