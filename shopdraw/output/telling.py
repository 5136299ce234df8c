"""Say in words what a record of a DXF file is, and in what it differs.

In:  `Record`s.   Out: words.
Frame: as in the file.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from shopdraw.output.groups import Group, Value
from shopdraw.output.records import Record, is_near, is_same

CALLED = {
    "LWPOLYLINE": "a line", "LINE": "a line", "TEXT": "lettering", "MTEXT": "a note",
    "INSERT": "a block", "ATTRIB": "a tag", "DIMENSION": "a dimension",
    "HATCH": "an area", "VIEWPORT": "a viewport", "ATTDEF": "a block's tag",
    "LAYER": "layer", "LTYPE": "line type", "STYLE": "text style",
    "DIMSTYLE": "dimension style", "VPORT": "the first view", "CLASS": "class",
    "TABLE": "table", "APPID": "the name of application",
    "BLOCK_RECORD": "the entry of block", "BLOCK": "the beginning of block",
}  # fmt: skip


def values_of(groups: Iterable[Group]) -> str:
    """Say the values of groups."""
    return ", ".join(figure(value) for _, value in groups) or "not there"


def figure(value: Value) -> str:
    """Say one value, a number as far as it matters."""
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def differences_of(found: Record, wanted: Record) -> Iterator[str]:
    """Say which groups are otherwise, by their codes."""
    more, less = [*found.groups], [*wanted.groups]
    for group in wanted.groups:
        same = next((x for x in more if is_near(x, group)), None)
        if same is not None:
            more.remove(same)
            less.remove(group)
    if more or less:
        yield f"{_said(more)} instead of {_said(less)}"
    for one, other in zip(found.parts, wanted.parts, strict=False):
        if not is_same(one, other):
            yield f"{named(other)}: {'; '.join(differences_of(one, other))}"
    if len(found.parts) != len(wanted.parts):
        yield f"{len(found.parts)} parts instead of {len(wanted.parts)}"


def _said(groups: list[Group]) -> str:
    """Say groups by their codes, those of one code together."""
    by_code: dict[int, list[str]] = {}
    for code, value in groups:
        by_code.setdefault(code, []).append(figure(value))
    said = (f"{code}: {' '.join(values)}" for code, values in by_code.items())
    return ", ".join(said) or "nothing"


def named(record: Record) -> str:
    """Name a record: what it is, its words or its name, its layer, its place."""
    words = record.first(1) if record.kind in ("TEXT", "MTEXT", "ATTRIB") else None
    name = record.first(2)
    said = f' "{words}"' if words else f" {name}" if name else ""
    layer, x, y = (record.first(code) for code in (8, 10, 20))
    on = f" on {layer}" if layer else ""
    at = ""
    if record.kind != "VPORT" and x is not None and y is not None:
        at = f" at ({figure(x)}, {figure(y)})"
    return f"{CALLED.get(record.kind, record.kind)}{said}{on}{at}"
