"""The form in which what a DXF file holds is held against what it must hold.

In:  `DxfEntity`s as read, or groups as they should be.   Out: `Record`s.
Frame: as in the file.

A record has every group of an entity, sorted by code, but what links entities to one
another, and what is the format's default: that may be left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from operator import itemgetter
from typing import NamedTuple

from shopdraw.output.groups import DxfEntity, Group, Value

NEAR = 1e-6
"""Numbers that are as near as this are the same."""
HANDLE, DIMSTYLE_HANDLE, OWNER, SPACE = 5, 105, 330, 67
LINKS = frozenset((HANDLE, DIMSTYLE_HANDLE, OWNER, SPACE))
"""Who an entity is and where it belongs: that is asked by itself."""
_code_of = itemgetter(0)


class Record(NamedTuple):
    """All that is said of an entity, and the records of what belongs to it."""

    kind: str
    groups: tuple[Group, ...]
    parts: tuple[Record, ...] = ()

    def first(self, code: int) -> Value | None:
        """Return the first value of a code."""
        return next((value for got, value in self.groups if got == code), None)


def record(kind: str, groups: Iterable[Group], parts: Iterable[Record] = ()) -> Record:
    """Return a record of groups in any order of their codes."""
    plain = PLAIN.get(kind, NOTHING)
    kept = [group for group in sorted(groups, key=_code_of) if group not in plain]
    return Record(kind, tuple(kept), tuple(parts))


def record_of(
    entity: DxfEntity, parts: Iterable[Record] = (), without: frozenset[int] = LINKS
) -> Record:
    """Return the record of an entity as it was read, without some codes."""
    kind = entity.kind
    plain = PLAIN.get(kind, NOTHING)
    kept = [x for x in entity.groups if x[0] not in without and x not in plain]
    kept.sort(key=_code_of)
    return Record(kind, tuple(kept), tuple(parts))


def is_same(one: Record, other: Record) -> bool:
    """Whether two records say the same, their numbers as near as they can be held."""
    return one == other or (
        one.kind == other.kind
        and len(one.groups) == len(other.groups)
        and len(one.parts) == len(other.parts)
        and all(map(is_near, one.groups, other.groups))
        and all(map(is_same, one.parts, other.parts))
    )


def is_near(one: Group, other: Group) -> bool:
    """Whether two groups say the same."""
    (code, value), (other_code, wanted) = one, other
    if code != other_code:
        return False
    if isinstance(value, float) and isinstance(wanted, float):
        return abs(value - wanted) <= NEAR
    return value == wanted


def _plain(**groups: Value) -> frozenset[Group]:
    return frozenset((int(code[1:]), value) for code, value in groups.items())


NOTHING: frozenset[Group] = frozenset()
_ALWAYS = _plain(
    _6="BYLAYER", _48=1.0, _60=0, _62=256, _370=-1, _39=0.0, _210=0.0, _220=0.0,
    _230=1.0,
)  # fmt: skip
"""Of any entity: by layer, to be seen, flat, seen from above."""
_FLAT = _plain(_30=0.0, _31=0.0)
_TEXT = _FLAT | _plain(_50=0.0, _41=1.0, _51=0.0, _71=0, _72=0, _73=0, _74=0)
_OF_ENTITIES: dict[str, frozenset[Group]] = {
    kind: _ALWAYS | plain
    for kind, plain in {
        "LWPOLYLINE": _plain(_38=0.0, _43=0.0, _70=0),
        "LINE": _FLAT,
        "HATCH": NOTHING,
        "TEXT": _TEXT,
        "ATTRIB": _TEXT | _plain(_70=0, _280=0),
        "ATTDEF": _TEXT | _plain(_1="", _3="", _70=0, _280=0),
        "MTEXT": _FLAT | _plain(_44=1.0, _50=0.0, _72=5),
        "INSERT": _FLAT
        | _plain(_41=1.0, _42=1.0, _43=1.0, _44=0.0, _45=0.0, _50=0.0, _70=1, _71=1),
        "DIMENSION": _FLAT
        | _plain(_1="", _33=0.0, _34=0.0, _50=0.0, _51=0.0, _52=0.0, _53=0.0, _280=0)
        | _plain(_41=1.0, _72=1),
        "BLOCK": _FLAT | _plain(_1=""),
        "VIEWPORT": _plain(
            _1="", _13=0.0, _23=0.0, _14=10.0, _24=10.0, _15=10.0, _25=10.0, _16=0.0,
            _26=0.0, _36=1.0, _17=0.0, _27=0.0, _37=0.0, _30=0.0, _42=50.0, _43=0.0,
            _44=0.0, _50=0.0, _51=0.0, _71=0, _72=100, _74=0, _79=0, _110=0.0, _120=0.0,
            _130=0.0, _111=1.0, _121=0.0, _131=0.0, _112=0.0, _122=1.0, _132=0.0,
            _146=0.0, _281=0, _282=0,
        ),
    }.items()
}  # fmt: skip
_OWNS = frozenset(((280, 0), (280, 1)))
_OF_TABLES = {
    "LAYER": _plain(_290=1),
    "BLOCK_RECORD": _plain(_70=0, _280=1, _281=0, _340="0"),
    # Releases of the library differ in whether a list owns what it lists, and say so.
    "DICTIONARY": _OWNS,
    "ACDBDICTIONARYWDFLT": _OWNS,
}
PLAIN = {**_OF_ENTITIES, **_OF_TABLES}
"""By kind, what a group says when nobody sets it, so that it need not stand there: the
format's defaults (from memory). Of other kinds every group must stand there."""
