"""Hold a DXF file against all that it must hold: nothing more, less or otherwise.

In:  `DxfParts`, `SpelledFile`.   Out: differences in words; none if they agree.
Frame: as in the file.

What is drawn is compared in its order, each entity with all its groups. So is every
entry of a table, every block, every class and object, every variable of the header.
What leads to something else is held by the name of that; handles by rules of their own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from shopdraw.output.groups import DxfEntity, DxfParts
from shopdraw.output.linking import (
    TO_OTHERS,
    handle_of,
    led_by_names,
    listed,
    named_handles,
)
from shopdraw.output.records import (
    HANDLE,
    LINKS,
    OWNER,
    Record,
    is_same,
    record_of,
)
from shopdraw.output.spelling import BLOCK_END, block_start
from shopdraw.output.spelling_file import SpelledFile
from shopdraw.output.spelling_header import NEXT_HANDLE
from shopdraw.output.spelling_layouts import MODEL_SPACE, PAPER_SPACE
from shopdraw.output.spelling_objects import TABLES, spell_head
from shopdraw.output.spelling_tables import entry_of_block
from shopdraw.output.telling import CALLED, differences_of, named, values_of

OF_DIMENSION, OWN = "*D", 1
"""How the names of blocks that are dimensions' own begin, and their flag."""
IN_TABLES = "the tables"
NOBODY = "0"
"""A handle that nobody has."""
BLOCK_OF, CHUNK, TEXT = 2, 3, 1
MOST = 20
"""So many differences of one kind are told one by one."""


class _Read(NamedTuple):
    """What was read, as it is held against what should be.

    Attributes:
        spaces: what stands in model space, and what on the layout.
        of_dimensions: how often the block of each dimension is used.
    """

    spaces: dict[bool, list[Record]]
    of_dimensions: Counter[str]


def hold(parts: DxfParts, wanted: SpelledFile) -> tuple[str, ...]:
    """Return every difference in words; none if the file is just what it must be."""
    read = _read_spaces(parts)
    objects = [*listed(parts.objects)]
    names = named_handles(parts, {handle_of(x): path for path, x in objects})
    classes = [*map(record_of, parts.classes)]
    return (
        *_hold_comments(parts, wanted),
        *_hold_header(parts, wanted, names),
        *_hold_all(classes, wanted.classes, "the class table"),
        *_hold_handles(parts),
        *_hold_owners(parts),
        *_hold_heads(parts),
        *_hold_all(_tables(parts, names), wanted.tables, IN_TABLES),
        *_hold_blocks(parts, wanted, read.of_dimensions),
        *_hold_all(read.spaces[False], wanted.model, "model space"),
        *_hold_all(read.spaces[True], wanted.paper, "the layout"),
        *_hold_objects(parts, wanted, objects, names),
    )


# ------------------------------------------------------- reading it as records


def _read_spaces(parts: DxfParts) -> _Read:
    spaces: dict[bool, list[Record]] = {False: [], True: []}
    used: Counter[str] = Counter()
    waiting: list[Record] = []
    insert: DxfEntity | None = None
    for entity in parts.entities:
        if insert is not None:
            waiting.append(record_of(entity))
            if entity.kind != "ATTRIB":
                spaces[insert.on_paper].append(record_of(insert, waiting))
                insert, waiting = None, []
        elif entity.kind == "INSERT" and entity.whole(66):
            insert = entity
        elif entity.kind == "DIMENSION":
            name = entity.first(BLOCK_OF)
            used[name] += 1
            drawn = parts.blocks[name].inside if name in parts.blocks else ()
            own = map(record_of, drawn)
            without = LINKS | {BLOCK_OF}
            spaces[entity.on_paper].append(record_of(entity, own, without))
        elif entity.kind == "MTEXT":
            spaces[entity.on_paper].append(record_of(_in_one(entity)))
        else:
            spaces[entity.on_paper].append(record_of(entity))
    if insert is not None:
        spaces[insert.on_paper].append(record_of(insert, waiting))
    return _Read(spaces, used)


def _in_one(entity: DxfEntity) -> DxfEntity:
    """Return a note whose text is in one piece; a long one is in parts."""
    chunks = [str(value) for code, value in entity.groups if code in (CHUNK, TEXT)]
    rest = [group for group in entity.groups if group[0] not in (CHUNK, TEXT)]
    return DxfEntity(entity.kind, [*rest, (TEXT, "".join(chunks))])


def _tables(parts: DxfParts, names: Mapping[str, str]) -> list[Record]:
    """Return the entries of all tables, what they lead to by its name."""
    entries = []
    for entity in parts.tables:
        led = led_by_names([x for x in entity.groups if x[0] not in LINKS], names)
        entry = record_of(DxfEntity(entity.kind, led))
        name = entity.first(2)
        if _is_dimensions(name) and is_same(entry, entry_of_block(name, 0)):
            continue
        entries.append(entry)
    return entries


def _is_dimensions(name: str) -> bool:
    return name.startswith(OF_DIMENSION)


# ------------------------------------------------------------------ holding it


def _hold_comments(parts: DxfParts, wanted: SpelledFile) -> Iterator[str]:
    if parts.comments != wanted.comments:
        said = " ".join(parts.comments) or "nothing"
        yield f"its comment says {said}, should say {' '.join(wanted.comments)}"


def _hold_header(
    parts: DxfParts, wanted: SpelledFile, names: Mapping[str, str]
) -> Iterator[str]:
    for name, groups in wanted.header.items():
        there = tuple(led_by_names(parts.header.get(name, ()), names))
        if not is_same(Record(name, there), Record(name, groups)):
            yield f"{name} is {values_of(there)}, should be {values_of(groups)}"
    for name in parts.header:
        if name not in wanted.header and name != NEXT_HANDLE:
            yield f"there is a variable {name}, which should not be"


def _hold_heads(parts: DxfParts) -> Iterator[str]:
    """See that each table is there, and that it says how many entries it has."""
    counts = Counter(x.kind for x in parts.tables)
    wanted = [spell_head(table, counts[table]) for table in TABLES]
    there = [record_of(x, without=frozenset((HANDLE,))) for x in parts.heads]
    yield from _hold_all(there, wanted, "the tables' heads")


def _as_number(handle: str) -> int:
    """Return the number that a handle is; one below all where it is none."""
    try:
        return int(handle, 16)
    except ValueError:
        return -1


def _everything(parts: DxfParts) -> Iterator[DxfEntity]:
    yield from parts.heads
    yield from parts.tables
    for block in parts.blocks.values():
        yield block.start
        yield from block.inside
        yield block.end
    yield from parts.entities
    yield from parts.objects


def _hold_handles(parts: DxfParts) -> Iterator[str]:
    """See that every entity has a name of its own, and that links lead to one."""
    every = [*_everything(parts)]
    times = Counter(map(handle_of, every))
    for handle, count in times.items():
        if _as_number(handle) < 1:
            yield f"an entity's handle is {handle or 'not there'}, which is no number"
        elif count > 1:
            yield f"{count} entities have one handle, {handle}"
    links = {
        str(value)
        for entity in every
        for code, value in entity.groups
        if code in TO_OTHERS and value not in times
    }
    for handle in sorted(links - {NOBODY}):
        yield f"something leads to {handle}, which is not there"
    last = max(map(_as_number, times))
    said = parts.header.get(NEXT_HANDLE, ())
    if len(said) != 1 or said[0][0] != HANDLE:
        yield f"{NEXT_HANDLE} is {values_of(said)}, should be one handle"
    elif _as_number(str(said[0][1])) <= last:
        yield f"{NEXT_HANDLE} is {said[0][1]}, but {last:X} is taken"


def _hold_owners(parts: DxfParts) -> Iterator[str]:
    """See that every entity belongs to the space, or the block, that it is in."""
    owners = {
        x.first(2): x.first(HANDLE) for x in parts.tables if x.kind == "BLOCK_RECORD"
    }
    inserts = set[str]()
    for entity in parts.entities:
        if entity.kind == "INSERT":
            inserts.add(entity.first(HANDLE))
        owner = entity.first(OWNER)
        if entity.kind in ("ATTRIB", "SEQEND") and owner in inserts:
            continue
        if owner != owners.get(PAPER_SPACE if entity.on_paper else MODEL_SPACE):
            yield f"{named(record_of(entity))} belongs to another space than it is in"
    for name, block in parts.blocks.items():
        for entity in (block.start, *block.inside, block.end):
            if entity.first(OWNER) != owners.get(name) or entity.on_paper:
                yield f"{named(record_of(entity))} in block {name} belongs elsewhere"


def _hold_blocks(
    parts: DxfParts, wanted: SpelledFile, of_dimensions: Mapping[str, int]
) -> Iterator[str]:
    for name, ended in parts.blocks.items():
        if not is_same(record_of(ended.end), BLOCK_END):
            yield f"block {name} has another end than it should"
    own = {name for name in parts.blocks if _is_dimensions(name)}
    for name in sorted({*of_dimensions} | own):
        times = of_dimensions.get(name, 0)
        if name not in own:
            yield f"a dimension is drawn by {name}, which is no block of its own"
        elif times != 1:
            yield f"block {name} is drawn by {times} dimensions, should be by 1"
        elif not is_same(record_of(parts.blocks[name].start), block_start(name, OWN)):
            yield f"block {name} has another base, or other flags, than it should"
    for name in sorted(parts.blocks.keys() - own - wanted.blocks.keys()):
        yield f"there is a block {name}, which should not be"
    for name, records in wanted.blocks.items():
        block = parts.blocks.get(name)
        if block is None:
            yield f"there is no block {name}"
            continue
        there = [record_of(block.start), *map(record_of, block.inside)]
        yield from _hold_all(there, records, f"block {name}")


def _hold_objects(
    parts: DxfParts,
    wanted: SpelledFile,
    objects: Sequence[tuple[str, DxfEntity]],
    names: Mapping[str, str],
) -> Iterator[str]:
    """Hold every object, by the path that leads to it."""
    paths = Counter(path for path, _ in objects)
    for path, times in paths.items():
        if path not in wanted.objects:
            yield f"there is an object {path}, which should not be"
        elif times > 1:
            yield f"object {path} is listed {times} times"
    reached = {handle_of(entity) for _, entity in objects}
    for entity in parts.objects:
        if handle_of(entity) not in reached:
            yield f"there is an object {entity.kind} that no dictionary lists"
    there = dict(objects)
    for path, should in wanted.objects.items():
        if path not in there:
            yield f"there is no object {path}"
            continue
        entity = there[path]
        led = DxfEntity(entity.kind, led_by_names(entity.groups, names))
        found = record_of(led, without=frozenset((HANDLE,)))
        if found.kind != should.kind:
            yield f"object {path} is a {found.kind}, should be a {should.kind}"
        elif not is_same(found, should):
            said = "; ".join(differences_of(found, should))
            yield f"object {path} is otherwise: {said}"


def _hold_all(
    found: Sequence[Record], wanted: Sequence[Record], where: str
) -> Iterator[str]:
    """Compare what stands somewhere, and say what is missing, more or otherwise."""
    if len(found) == len(wanted) and all(map(is_same, found, wanted)):
        return
    extra, missing = _unmatched(found, wanted)
    # Entries of a table may stand in any order.
    if not extra and not missing and where != IN_TABLES:
        yield f"{where} is drawn in another order than it should be"
    told: Counter[str] = Counter()
    for record in missing:
        other = _likest(record, extra)
        if other is not None:
            extra.remove(other)
            what = f"{named(record)} in {where} is otherwise: "
            what += "; ".join(differences_of(other, record))
        else:
            what = f"{named(record)} in {where} should be there but is not"
        told[record.kind] += 1
        if told[record.kind] <= MOST:
            yield what
    for record in extra:
        told[record.kind] += 1
        if told[record.kind] <= MOST:
            yield f"{named(record)} in {where} should not be there"
    for kind in sorted(kind for kind, count in told.items() if count > MOST):
        yield f"{where}: {told[kind] - MOST} more of {CALLED.get(kind, kind)}"


def _unmatched(
    found: Sequence[Record], wanted: Sequence[Record]
) -> tuple[list[Record], list[Record]]:
    """Return what is only in the one, and what is only in the other."""
    there, should = Counter(found), Counter(wanted)
    extra = list((there - should).elements())
    missing = []
    for record in (should - there).elements():
        same = next((other for other in extra if is_same(other, record)), None)
        if same is None:
            missing.append(record)
        else:
            extra.remove(same)
    return extra, missing


def _likest(record: Record, others: list[Record]) -> Record | None:
    """Return the other record of its kind that has most groups in common."""
    kin = [x for x in others[: 10 * MOST] if x.kind == record.kind]
    own = {*record.groups}
    least = len(own) / 2
    best = max(kin, key=lambda x: len(own & {*x.groups}), default=None)
    return best if best and len(own & {*best.groups}) >= least else None
