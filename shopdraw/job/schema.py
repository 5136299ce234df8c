"""Write a JSON Schema of the job file, for editors and other programs.

In:  the model, default values, the catalog, the rows of `keys.toml`.   Out: a schema.
Frame: none; a length stays as typed, with its unit.

The schema accepts what the reader takes, save what nobody types (a width of "-0 in").
It can't see a fault that depends on the sizes themselves: `check` does.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from types import NoneType
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BeforeValidator
from pydantic.fields import FieldInfo

from shopdraw.catalog.rows import brick_names, layer_namings, sheet_names, usual_values
from shopdraw.catalog.rules import rule_set_names
from shopdraw.job.keys import key_rows
from shopdraw.job.model import Job
from shopdraw.job.model_labour import LINES
from shopdraw.job.model_option import DIFFERING, OF_TABLE
from shopdraw.job.model_review import OWN_FIGURES
from shopdraw.job.sample import SIZES
from shopdraw.job.survey import GIVEN_BY
from shopdraw.job.table import Table
from shopdraw.job.values import (
    Colour,
    Day,
    HeadBearing,
    LayerName,
    Length,
    PhotoName,
    Scale,
    Size,
    Volume,
)
from shopdraw.lengths import Lengths, typed_length

Schema = dict[str, Any]

# ------------------------------------------------------------ values, as they are typed

# Engines must read a pattern alike: no flags, and digits by name.
_HYPHEN, _SLASH = "[-\u2212\u2013]", "[/\u2044]"
_SIGN = r"[^\u0000-\u00bb]"
"""A fraction in one character: the first is 1/4, and what follows is taken for one."""
_SPLIT = rf"[0-9]+{_SLASH}0*[1-9][0-9]*"
_NUMBER = (
    rf"(?:(?:[0-9]+(?:\s+|{_HYPHEN}))?{_SPLIT}|[0-9]*\.[0-9]+|[0-9]+\.?"
    rf"|(?:[0-9]+\s*)?{_SIGN}[0-9]*)"
)
_FEET = "(?:[fF](?:[eE]{2}|[oO]{2})?[tT]|['\u2032\u2019])"
_INCHES = '(?:[iI][nN](?:[cC][hH](?:[eE][sS])?)?|["\u2033\u201d])'
_UNSIGNED = (
    rf"\s*(?:{_NUMBER}\s*{_FEET}"
    rf"\s*{_HYPHEN}?\s*(?:{_NUMBER}\s*{_INCHES})?"
    rf"|{_NUMBER}\s*(?:{_INCHES}|[mMcC]?[mM]))\s*"
)
_TYPED = ("26 1/4 in", "667 mm")


def _text(title: str, pattern: str, *examples: str) -> Schema:
    shown = {"examples": list(examples)} if examples else {}
    return {"title": title, "type": "string", "pattern": f"^(?:{pattern})$", **shown}


DEFINED: dict[str, Schema] = {
    "length": _text(
        "a length with its unit",
        rf"\s*{_HYPHEN}?{_UNSIGNED}",
        *_TYPED,
        "-1/4 in",
    ),
    "width": _text("a length with its unit, zero or more", _UNSIGNED, *_TYPED),
    "size": _text("a length with its unit, more than zero", _UNSIGNED, *_TYPED),
    "bearing": _text(
        "the word best or no, or a length with its unit",
        f"best|no|{_UNSIGNED}",
        "best",
        "no",
        "4 in",
    ),
    "spot": {
        "title": "a point: two lengths, how far along and how far up",
        "type": "array",
        "items": {"$ref": "#/$defs/length"},
        "minItems": 2,
        "maxItems": 2,
        "examples": [["10 1/2 in", "-1/4 in"]],
    },
    "volume": _text(
        "a volume with its unit",
        r"\s*[0-9]+(?:\.[0-9]+)?\s*[a-zA-Z](?:[a-zA-Z]|\s)*(?:\*\*3)?\s*",
        "0.5 cu ft",
        "12 litres",
    ),
    "day": _text(
        "a date, with or without quotes", "[0-9]{4}-[0-9]{2}-[0-9]{2}", "2026-03-02"
    ),
    "colour": _text(
        "a colour: # and six hexadecimal digits", "#[0-9a-fA-F]{6}", "#9c5344"
    ),
    "photo": _text(
        "the name of a JPEG or PNG file",
        r"[^/\\\u0000-\u001f]+\.([jJ][pP][eE]?[gG]|[pP][nN][gG])",
        "fireplace.jpg",
    ),
    "layer": _text("a layer name", "[A-Za-z0-9_$-]{1,31}"),
    "scale": _text(
        "a scale",
        rf"\s*[fF][iI][tT]\s*|\s*1\s*:\s*[0-9]{{1,4}}\s*|{_UNSIGNED}={_UNSIGNED}",
        "fit",
        "1 1/2 in = 1 ft",
        "1:10",
    ),
    "text": _text("text in quotes", r"[^\u0000-\u001f\u007f-\u009f]*"),
}
"""Every kind of value that a key may take in quotes."""


def _reader(kind: object) -> object:
    return next(x.func for x in get_args(kind) if isinstance(x, BeforeValidator))


READ_AS = {
    _reader(kind): name
    for name, kind in (
        ("length", Length), ("bearing", HeadBearing), ("volume", Volume), ("day", Day),
        ("colour", Colour), ("photo", PhotoName), ("layer", LayerName),
        ("scale", Scale),
    )
}  # fmt: skip
"""Which kind of value each reader reads."""
BOUNDS = {
    "gt": "exclusiveMinimum",
    "ge": "minimum",
    "le": "maximum",
    "min_length": "minLength",
    "max_length": "maxLength",
}

PLAIN = {bool: "boolean", int: "integer", float: "number"}

# ---------------------------------------------------------------- what keys go together


class _BedInOne(Table):
    """The key of `[setting_bed]` that the reader turns into least and most."""

    thickness: Size | None = None


TYPED_BESIDES: dict[str, type[Table]] = {"setting_bed": _BedInOne}
"""Keys that a person may type and the model never sees, by their table."""
ONE_OF: dict[str, tuple[tuple[str, ...], ...]] = {
    "opening": (("width", "height"), ("corners",)),
    "brick": (("size",), ("length", "height"), ("sample",)),
    "laid": (("top",), ("left", "right")),
    "trim": (("projection",), ("steps",)),
}
"""Each of these tables needs one of these sets of keys."""
INSTEAD_OF: dict[str, str] = {
    **GIVEN_BY,
    **{f"brick.sample.{ten}": f"brick.sample.{each}" for _, each, ten in SIZES},
    "setting_bed.least": "setting_bed.thickness",
    "setting_bed.most": "setting_bed.thickness",
    "laid.left": "laid.top",
    "laid.right": "laid.top",
    "trim.projection": "trim.steps",
}
"""Each of these keys can't be typed together with the other."""


def choices() -> dict[str, tuple[str, ...]]:
    """Return what the catalog offers for each key that names a row of it."""
    return {
        "brick.size": brick_names(),
        "rules.set": (*rule_set_names(), OWN_FIGURES),
        "sheet.size": sheet_names(),
        "sheet.page": sheet_names(),
        "layers.names": ("NCS", *(naming.name for naming in layer_namings())),
        "labour.markup": LINES,
        "layers.own": tuple(dict(layer_namings()[0].names)),
    }


# --------------------------------------------------------------------------- the walk


@cache
def typed_fields() -> dict[str, FieldInfo]:
    """Return every key that a job file may have, dotted, in the model's order."""
    return dict(_fields(Job, ""))


def _fields(model: type[Table], above: str) -> Iterator[tuple[str, FieldInfo]]:
    besides = TYPED_BESIDES.get(above.rstrip("."))
    for each in (model, *((besides,) if besides else ())):
        for name, field in each.model_fields.items():
            yield f"{above}{name}", field
            table = _table_in(field.annotation)
            if table is not None:
                yield from _fields(table, f"{above}{name}.")


def _table_in(annotation: object) -> type[Table] | None:
    """Return the table that a key holds, or an array of; None where it holds none."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation
    found = (_table_in(part) for part in get_args(annotation))
    return next((table for table in found if table is not None), None)


def default_of(key: str, lengths: Lengths) -> Any:
    """Return a key's default for a job in some lengths; None where it has none."""
    given: Any = {"job": {"lengths": "in"}, **usual_values(lengths)}
    for name in key.split("."):
        given = given.get(name) if isinstance(given, dict) else None
    if given is not None:
        return given
    value = typed_fields()[key].get_default()
    if isinstance(value, Fraction):
        return typed_length(value, lengths)
    return value if isinstance(value, str | int | float) and value != "" else None


def default_words(key: str) -> str:
    """Say what a key's default is, in inches and in millimetres."""
    inches, mm = default_of(key, "in"), default_of(key, "mm")
    without = key_rows()[key].without
    words = "none" if inches is None else json.dumps(inches)
    if inches != mm:
        words += f'; {json.dumps(mm)} where job.lengths is "mm"'
    elif inches is None and not without and typed_fields()[key].is_required():
        without = "it must be given"
    return f"{words}; {without}" if without else words


@cache
def job_schema() -> Schema:
    """Return the JSON Schema of a job file, draft 2020-12, tables as TOML has them."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:shopdraw:job",
        "title": "shopdraw job file",
        "description": "A brick fireplace surround, as measured. Write every length in "
        "quotes with its unit; left and right are as you stand before the fireplace.",
        **_table(""),
        "$defs": DEFINED,
    }


def schema_text() -> str:
    """Return the job file's schema as the JSON text that is printed."""
    return json.dumps(job_schema(), indent=1) + "\n"


def _table(above: str) -> Schema:
    """Return the schema of a table: its keys, and which of them go together."""
    keys = [key for key in typed_fields() if key.rpartition(".")[0] == above]
    parts = {key.rpartition(".")[2]: _key(key) for key in keys}
    table: Schema = {"type": "object", "properties": parts}
    needed = [name for name, part in parts.items() if _is_needed(above, name, part)]
    if needed:
        table["required"] = needed
    if above in ONE_OF:
        table["anyOf"] = [{"required": list(names)} for names in ONE_OF[above]]
    for key, other in INSTEAD_OF.items():
        if key.rpartition(".")[0] == above:
            whole = table.setdefault("dependentSchemas", {})
            there = whole.setdefault(other.rpartition(".")[2], {"properties": {}})
            there["properties"][key.rpartition(".")[2]] = False
    return {**table, "additionalProperties": False}


def _is_needed(above: str, name: str, part: Schema) -> bool:
    """Whether a key must be typed: no default and no other key can give it."""
    key = f"{above}.{name}" if above else name
    if not typed_fields()[key].is_required():
        return False
    if part.get("type") == "object":
        return "required" in part or "anyOf" in part
    by_others = any(name in names for names in ONE_OF.get(above, ()))
    return not by_others and default_of(key, "in") is None


def _key(key: str) -> Schema:
    """Return the schema of a key, with what `keys.toml` says of it."""
    field, row = typed_fields()[key], key_rows()[key]
    table, _, name = key.partition(".")
    if table == "option" and name in DIFFERING:
        part = _differing(name)
    else:
        part = _value(field.annotation, tuple(field.metadata), key)
    said = [row.says, f"Shown in: {row.shows}"]
    if _table_in(field.annotation) is None:
        said.insert(1, f"Default: {default_words(key)}")
    part["description"] = ". ".join(said)
    inches, mm = default_of(key, "in"), default_of(key, "mm")
    if inches is not None and inches == mm:
        part["default"] = inches
    return part


def _differing(name: str) -> Schema:
    """Return the schema of one of the job's tables as an option has it: in part."""
    part: Schema = _in_part(_key(name))
    kept = OF_TABLE.get(name)
    if kept is not None:
        part["properties"] = {key: part["properties"][key] for key in kept}
    return part


def _in_part(node: Any) -> Any:
    """Return a schema that asks for no key: what is left out is as the job has it."""
    if isinstance(node, list):
        return [_in_part(each) for each in node]
    if not isinstance(node, dict):
        return node
    asked = ("required", "anyOf", "default") if "properties" in node else ()
    return {name: _in_part(each) for name, each in node.items() if name not in asked}


def _value(kind: Any, marks: tuple[Any, ...], key: str) -> Schema:
    """Return the schema of what a key takes, from its type annotation."""
    if get_origin(kind) is Annotated:
        inner, *more = get_args(kind)
        return _value(inner, (*more, *marks), key)
    parts = [part for part in get_args(kind) if part is not NoneType]
    if len(parts) < len(get_args(kind)):
        return _value(parts[0], marks, key)
    read = [READ_AS[mark.func] for mark in marks if isinstance(mark, BeforeValidator)]
    bounds = dict(_bounds(marks))
    if read:
        return _defined(_length_kind(bounds) if read[0] == "length" else read[0])
    if key in choices() and kind is str:
        return {"enum": list(choices()[key])}
    if isinstance(kind, type) and issubclass(kind, Table):
        return _table(key)
    if parts:
        return _several(get_origin(kind), parts, key)
    if kind is str:
        return {**_defined("text"), **bounds}
    return {"type": PLAIN[kind], **bounds}


def _several(origin: Any, parts: list[Any], key: str) -> Schema:
    """Return the schema of a choice, a spot, a list or a table of names."""
    if origin is Literal:
        return {"enum": parts}
    if origin is dict:
        names = {name: _value(parts[1], (), key) for name in choices()[key]}
        return {"type": "object", "properties": names, "additionalProperties": False}
    if parts[-1] is not Ellipsis:
        return _defined("spot")
    return {"type": "array", "items": _value(parts[0], (), key)}


def _defined(kind: str) -> Schema:
    return {"$ref": f"#/$defs/{kind}"}


def _length_kind(bounds: Schema) -> str:
    if "exclusiveMinimum" in bounds:
        return "size"
    return "width" if "minimum" in bounds else "length"


def _bounds(marks: tuple[Any, ...]) -> Iterator[tuple[str, Any]]:
    """Yield the bounds of a value, as a schema has them."""
    for mark in (x for each in marks for x in getattr(each, "metadata", (each,))):
        for name, bound in BOUNDS.items():
            if getattr(mark, name, None) is not None:
                yield bound, getattr(mark, name)
