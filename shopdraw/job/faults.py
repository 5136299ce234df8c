"""Say in the mason's words what is wrong with a job file's keys and values.

In:  the reader's complaint, and the file's tables as given.   Out: `Fault`.
Frame: none; values are said as they were typed.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from fractions import Fraction
from typing import Any, get_args

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from shopdraw.errors import Fault, shortened
from shopdraw.job.model import Job
from shopdraw.lengths import Lengths

Keys = tuple[str | int, ...]


def fault_of(
    detail: ErrorDetails, given: dict[str, Any], file: str, lengths: Lengths
) -> Fault:
    """Say one of the reader's complaints in the mason's words."""
    keys: Keys = tuple(detail["loc"])
    key = dotted(keys)
    kind = detail["type"]
    if kind == "extra_forbidden":
        return Fault(file, key, "", "is not a key of a job file", _nearest_key(keys))
    if kind == "missing":
        example = '"26 1/4 in"' if lengths == "in" else '"667 mm"'
        what = f"; a length such as {example}" if _is_length(keys) else ""
        if _is_table(keys):
            key, what = f"[{key}]", "; the table has keys that every job needs"
        return Fault(file, key, "", f"is missing{what}")
    return Fault(file, key, typed(value_at(given, keys)), _wanted(kind, detail))


_WANTED = {
    "greater_than": "must be more than nothing",
    "greater_than_equal": "can't be negative",
    "string_type": "must be text in quotes",
    "string_too_short": "must not be empty",
    "too_short": "must not be empty",
    "bool_type": "must be true or false",
    "bool_parsing": "must be true or false",
    "model_type": "must be a table of keys",
    "model_attributes_type": "must be a table of keys",
    "tuple_type": "must be a list",
    "int_type": "must be a whole number",
    "int_parsing": "must be a whole number",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "float_parsing": "must be a number",
    "finite_number": "must be a number",
}


def _wanted(kind: str, detail: ErrorDetails) -> str:
    context = detail.get("ctx", {})
    if kind == "value_error":
        if str(context.get("error", "")).startswith("Invalid isoformat"):
            return 'is not a date; write one like "2026-03-02"'
        return str(context["error"])
    if kind == "literal_error":
        return f"is not one of {str(context['expected']).replace(chr(39), chr(34))}"
    if kind in ("string_too_long", "too_long"):
        return f"is too long; {context['max_length']} characters at most"
    if kind == "less_than_equal":
        return f"is too much; {context['le']:g} at most"
    if kind.startswith("date"):
        return 'is not a date; write one like "2026-03-02"'
    return _WANTED.get(kind, "is not what belongs here")


def dotted(keys: Keys) -> str:
    """Write a key as the person would: `trim[2].projection`, counted from 1."""
    text = ""
    for key in keys:
        if isinstance(key, int):
            text += f"[{key + 1}]"
        else:
            text += f".{key}" if text else str(key)
    return text


def value_at(given: object, keys: Keys) -> object:
    """Return the value as given at a key; None where there is none."""
    value: Any = given
    for key in keys:
        try:
            value = value[key]
        except (KeyError, IndexError, TypeError):
            return None
    return value


def typed(value: object) -> str:
    """Return a value as it was typed, or what it is where that would be long."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    text = shortened(str(value), 60)
    return f'"{text}"' if isinstance(value, str) else text


def _models(annotation: object) -> list[type[BaseModel]]:
    """Return the tables that an annotation speaks of."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for part in get_args(annotation) for model in _models(part)]


def known_keys(model: type[BaseModel] = Job, before: str = "") -> Iterator[str]:
    """Yield every key of a job file, dotted; arrays of tables without a place."""
    for name, field in model.model_fields.items():
        key = f"{before}{name}"
        yield key
        for inner in _models(field.annotation):
            yield from known_keys(inner, f"{key}.")


def _plain_key(keys: Keys) -> str:
    return ".".join(str(key) for key in keys if isinstance(key, str))


def _nearest_key(keys: Keys) -> str:
    """Return the known key nearest to an unknown one: in its own table first."""
    wanted = _plain_key(keys)
    table, _, name = wanted.rpartition(".")
    known = list(known_keys())
    siblings = {
        key.rpartition(".")[2]: key for key in known if key.rpartition(".")[0] == table
    }
    close = difflib.get_close_matches(name, list(siblings), 1, 0.6)
    if close:
        return siblings[close[0]]
    anywhere = {key.rpartition(".")[2]: key for key in reversed(known)}
    close = difflib.get_close_matches(name, list(anywhere), 1, 0.75)
    if close:
        return anywhere[close[0]]
    return next(iter(difflib.get_close_matches(wanted, known, 1, 0.5)), "")


def _field_at(keys: Keys) -> Any:
    model: type[BaseModel] = Job
    field = None
    for key in keys:
        if isinstance(key, int):
            continue
        field = model.model_fields.get(key)
        if field is None:
            return None
        inner = _models(field.annotation)
        model = inner[0] if inner else model
    return field


def _is_length(keys: Keys) -> bool:
    field = _field_at(keys)
    return field is not None and field.annotation is Fraction


def _is_table(keys: Keys) -> bool:
    field = _field_at(keys)
    return field is not None and bool(_models(field.annotation))
