"""Explain a key of the job file: its meaning, values, default, and where it shows.

In:  a key as the job file has it, the rows of `keys.toml`.   Out: text, for a person.
Frame: none; lengths as they are typed.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from shopdraw.errors import BadJob, Fault
from shopdraw.job.faults import fault_of
from shopdraw.job.keys import key_rows, keys_in
from shopdraw.job.schema import DEFINED, default_words, job_schema
from shopdraw.job.sense_sizes import LEAST, MOST
from shopdraw.lengths import typed_length


def list_tables() -> str:
    """List the tables of a job file, one a line."""
    return "\n".join(_listed(keys_in())) + "\n"


def describe_key(typed: str) -> str:
    """Explain a key; for a table, list its keys too.

    Args:
        typed: `joints.bed.most`, `target[1].level`, `[opening.corners]`.

    Raises:
        BadJob: the job file has no such key; the nearest is named.
    """
    key = re.sub(r"\[\d+\]", "", typed.strip()).strip("[]")
    table, _, inner_key = key.partition(".")
    node = _node_at(key)
    if node is not None and table == "option" and key not in key_rows():
        # What it means in the job it means in an option of it.
        key = inner_key
        node = _node_at(key)
    if node is not None and key not in key_rows():
        # The name of a layer, in the table that gives layers new names.
        key = key.rpartition(".")[0]
        node = _node_at(key)
    if node is None:
        raise BadJob((_unknown(key),))
    row, inner = key_rows()[key], keys_in(key)
    lines = [_named(key), f"  {row.says}"]
    if not inner:
        lines.append(f"  takes    {_taken(node)}{_reach(key)}")
    if not inner or row.without:
        lines.append(f"  default  {default_words(key)}")
    lines.append(f"  shows    {row.shows}")
    if inner:
        lines += ["", *_listed(inner)]
    return "\n".join(lines) + "\n"


def _node_at(key: str) -> dict[str, Any] | None:
    """Return the schema of a key; None where there is no such key."""
    node: dict[str, Any] | None = job_schema()
    for name in key.split("."):
        table = node.get("items", node) if node else {}
        node = table.get("properties", {}).get(name)
    return node


def _unknown(key: str) -> Fault:
    """Say of an unknown key what the reader says of it in a job file."""
    detail: Any = {"type": "extra_forbidden", "loc": tuple(key.split("."))}
    return fault_of(detail, {}, "explain", "in")


def _listed(keys: list[str]) -> Iterator[str]:
    names = [_named(key) for key in keys]
    wide = max(len(name) for name in names)
    for key, name in zip(keys, names, strict=True):
        yield f"  {name:<{wide}}  {key_rows()[key].says}"


def _named(key: str) -> str:
    """Write a key as the job file does: `[face]`, `[[trim]]` or `face.width`."""
    if not keys_in(key):
        return key
    is_array = (_node_at(key) or {}).get("type") == "array"
    return f"[[{key}]]" if is_array else f"[{key}]"


PLAINLY = {
    "boolean": "true or false",
    "integer": "a whole number",
    "number": "a number",
}


def _taken(node: dict[str, Any]) -> str:
    """Say what values a key takes, from its schema."""
    if "$ref" in node:
        kind = DEFINED[node["$ref"].rpartition("/")[2]]
        examples = ", ".join(json.dumps(each) for each in kind.get("examples", ()))
        like = f", such as {examples}" if examples else ""
        return f"{kind['title']}{_range(node)}{like}"
    if "enum" in node:
        return f"one of {', '.join(json.dumps(each) for each in node['enum'])}"
    if node["type"] == "array":
        return f"a list; each item is {_taken(node['items'])}"
    if node["type"] == "object":
        values = next(iter(node["properties"].values()))
        if values.get("type") == "number":
            numbers = f"a table of numbers{_range(values)}"
            return f"{numbers}, for any of {', '.join(node['properties'])}"
        return f"a table of new names for any of {', '.join(node['properties'])}"
    return f"{PLAINLY[node['type']]}{_range(node)}"


def _range(node: dict[str, Any]) -> str:
    """Say the least and the most of a number, or how long a text may be."""
    if "maxLength" in node:
        least = f"{node['minLength']} to " if "minLength" in node else "up to "
        return f", {least}{node['maxLength']} characters"
    if "maximum" not in node:
        return ""
    least = node.get("minimum", f"more than {node.get('exclusiveMinimum')}")
    return f", {least} to {node['maximum']}"


def _reach(key: str) -> str:
    """Say the least and the most that a length may be, where it is limited."""
    words = ""
    ends: tuple[tuple[Mapping[str, Fraction | int], str], ...] = (
        (LEAST, "least"),
        (MOST, "most"),
    )
    for limits, end in ends:
        if key in limits:
            length = typed_length(Fraction(limits[key]), "in")
            words += f'; at {end} "{length}"'
    return words
