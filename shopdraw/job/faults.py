"""Say in plain words what is wrong with a key or a value of a job file.

In:  an error of the model's, and the file's tables as typed.   Out: `Fault`.
Frame: none; values are quoted as they were typed.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Any, get_args

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from shopdraw.errors import Fault, shortened
from shopdraw.job.model import Job
from shopdraw.job.model_brick import ALSO_CALLED, Pattern
from shopdraw.job.model_option import DIFFERING
from shopdraw.job.values import NOT_A_DATE, Spot
from shopdraw.lengths import Lengths

Keys = tuple[str | int, ...]


def fault_of(
    detail: ErrorDetails, given: dict[str, Any], file: str, lengths: Lengths
) -> Fault:
    """Turn one of the model's errors into a fault, in plain words."""
    keys: Keys = tuple(detail["loc"])
    kind = detail["type"]
    if keys[-1:] == ("[key]",):
        # A name in a table of names is what is wrong, not what stands at it.
        keys, named = keys[:-2], str(keys[-2])
        return Fault(file, dotted(keys), typed(named), _wanted(kind, detail, keys))
    key = dotted(keys)
    if kind == "extra_forbidden" and keys[0] == "option" and keys[-1] in _TABLES:
        return Fault(file, key, "", NOT_CHOSEN)
    if kind == "extra_forbidden":
        return Fault(file, key, "", "is not a key of a job file", _nearest_key(keys))
    if kind == "missing":
        if _is_table(keys):
            return Fault(file, f"[{key}]", "", "is missing; every job needs this table")
        return Fault(file, key, "", f"is missing; {_asked_for(keys, lengths)}")
    return Fault(file, key, typed(value_at(given, keys)), _wanted(kind, detail, keys))


_TABLES = frozenset(Job.model_fields)
NOT_CHOSEN = (
    "can't differ from one option to the next; an option may have the tables "
    f"{', '.join(DIFFERING)}"
)


def without_misspelt(faults: list[Fault]) -> list[Fault]:
    """Leave out the keys that are missing because they are misspelt: that is told."""
    misspelt = {fault.nearest for fault in faults if fault.nearest}
    return [
        fault
        for fault in faults
        if fault.key not in misspelt or not fault.wanted.startswith("is missing")
    ]


def _asked_for(keys: Keys, lengths: Lengths) -> str:
    """Say what to write for a key that is missing."""
    if _is_length(keys):
        example = '"26 1/4 in"' if lengths == "in" else '"667 mm"'
        return f"write a length such as {example}"
    if _is_point(keys):
        return f'write how far along and how far up, ["12 {lengths}", "0 {lengths}"]'
    return "it has no default, so write it"


_WANTED = {
    "greater_than": "must be more than zero",
    "string_type": "must be text in quotes",
    "bool_type": "must be true or false, without quotes",
    "bool_parsing": "must be true or false, without quotes",
    "int_type": "must be a whole number, without quotes",
    "int_parsing": "must be a whole number, without quotes",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number, without quotes",
    "float_parsing": "must be a number, without quotes",
    "finite_number": "must be a number",
}


def _wanted(kind: str, detail: ErrorDetails, keys: Keys) -> str:
    """Say what would do in place of a value."""
    context = detail.get("ctx", {})
    if kind == "value_error":
        error = str(context["error"])
        return NOT_A_DATE if error.startswith("Invalid isoformat") else error
    if kind == "literal_error":
        known = f"is not one of {str(context['expected']).replace(chr(39), chr(34))}"
        return known + _would_do(detail["input"], keys)
    if kind.startswith("date"):
        return NOT_A_DATE
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return f"must be a table; write {_bracketed(keys)} with its keys below it"
    if kind == "tuple_type" and _is_table(keys):
        heading = _bracketed((*keys, 0))
        return f"must stand under a heading in double brackets, {heading}"
    if kind == "tuple_type":
        return "must be a list, in square brackets"
    return _bound(kind, context) or _WANTED.get(kind, _ask_explain(keys))


STOVES = (
    "; a stove, free standing or let into the opening, is not covered here: its "
    "listing and manual, and the local code, say how far brick and woodwork stay off"
)
_STOVE = re.compile(r"\b(stoves?|inserts?|burners?)\b", re.IGNORECASE)


def _would_do(value: object, keys: Keys) -> str:
    """Name the bond that is meant by another of its names, or by other capitals.

    Of what is burnt in the opening, say what this is not for.
    """
    if not isinstance(value, str):
        return ""
    if keys == ("appliance", "kind"):
        return STOVES if _STOVE.search(value) else ""
    if keys != ("bond", "pattern"):
        return ""
    called = {name.lower(): name for name in get_args(Pattern)} | ALSO_CALLED
    near = difflib.get_close_matches(value.strip().lower(), list(called), 1, 0.7)
    return f'; "{called[near[0]]}" is what would do' if near else ""


def _bound(kind: str, context: dict[str, Any]) -> str:
    """Say which bound a value is past; nothing where it is wrong otherwise."""
    if kind in ("string_too_long", "too_long"):
        return f"is too long; write at most {context['max_length']} characters"
    if kind in ("string_too_short", "too_short"):
        least = context["min_length"]
        if least == 1:
            return "must not be empty"
        return f"is too short; write at least {least} characters"
    if kind == "less_than_equal":
        return f"is too large; write {context['le']:,.10g} or less"
    if kind == "greater_than_equal":
        least = context["ge"]
        return f"is too small; write {least} or more" if least else "can't be negative"
    return ""


def _bracketed(keys: Keys) -> str:
    """Write the heading of a table: `[face]`; of one of several, `[[trim]]`."""
    is_one_of_several = isinstance(keys[-1], int)
    return f"[[{_plain_key(keys)}]]" if is_one_of_several else f"[{_plain_key(keys)}]"


def _ask_explain(keys: Keys) -> str:
    return f"is the wrong kind of value; see `shopdraw explain {_plain_key(keys)}`"


def dotted(keys: Keys) -> str:
    """Write a key as a person would: `trim[2].projection`, counted from 1."""
    text = ""
    for key in keys:
        if isinstance(key, int):
            text += f"[{key + 1}]"
        else:
            text += f".{key}" if text else str(key)
    return text


def value_at(given: object, keys: Keys) -> object:
    """Return the value typed at a key; None where there is none."""
    value: Any = given
    for key in keys:
        try:
            value = value[key]
        except (KeyError, IndexError, TypeError):
            return None
    return value


def typed(value: object) -> str:
    """Quote a value as it was typed; of a table or a list, say only that it is one."""
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
    """Return the tables that a type annotation names."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for part in get_args(annotation) for model in _models(part)]


def known_keys(model: type[BaseModel] = Job, before: str = "") -> Iterator[str]:
    """Yield every key of a job file, dotted: `trim.name`, without a place."""
    for name, field in model.model_fields.items():
        key = f"{before}{name}"
        yield key
        for inner in _models(field.annotation):
            yield from known_keys(inner, f"{key}.")


def _plain_key(keys: Keys) -> str:
    return ".".join(str(key) for key in keys if isinstance(key, str))


def _nearest_key(keys: Keys) -> str:
    """Return the known key spelled most like an unknown one, in its own table first."""
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


def _is_point(keys: Keys) -> bool:
    field = _field_at(keys)
    return field is not None and field.annotation == Spot


def _is_table(keys: Keys) -> bool:
    field = _field_at(keys)
    return field is not None and bool(_models(field.annotation))
