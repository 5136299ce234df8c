"""Read a job file: TOML text to a `Job`, or every fault in it at once.

In:  a path, or text and the name to call it by.   Out: `Job`.
Frame: the job's lengths, exact.

What the file leaves out is filled in first: the usual values, under the brick's row in
the catalog, under what is given.
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from shopdraw.catalog.rows import brick_sizes, usual_values
from shopdraw.errors import BadJob, Fault
from shopdraw.job.model import CornerTable, Job
from shopdraw.job.sense import Complaint, complaints_of
from shopdraw.lengths import Lengths

MOST_BYTES = 1_000_000
Keys = tuple[str | int, ...]
_MEASURES: dict[Lengths, dict[str, Any]] = {
    "in": {
        "job": {"name": "-", "lengths": "in"},
        "face": {"width": "56 in", "height": "40 in"},
        "opening": {"width": "30 in", "height": "24 in"},
        "brick": {"length": "7 5/8 in", "height": "2 1/4 in"},
    },
    "mm": {
        "job": {"name": "-", "lengths": "mm"},
        "face": {"width": "1400 mm", "height": "1000 mm"},
        "opening": {"width": "750 mm", "height": "600 mm"},
        "brick": {"length": "215 mm", "height": "65 mm"},
    },
}
"""Stand in for what every job must give, only to look for further faults."""


def read_job(path: Path) -> Job:
    """Read a job file.

    Raises:
        BadJob: every fault, one line each.
    """
    return parse_job(_text_of(path), str(path))


def _text_of(path: Path) -> str:
    try:
        if path.is_dir():
            raise _unreadable(path, "is a folder; name the job file in it")
        if path.stat().st_size > MOST_BYTES:
            raise _unreadable(path, "is over 1 MB; a job file is a page or two of text")
        return path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise _unreadable(
            path, "is not there; `shopdraw new` writes a starter"
        ) from None
    except UnicodeDecodeError as error:
        raise _unreadable(
            path, f"is not UTF-8 text (byte {error.start + 1}); save it as UTF-8"
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no such name"
        raise _unreadable(path, f"can't be read: {reason}") from None


def _unreadable(path: Path, wanted: str) -> BadJob:
    return BadJob((Fault(str(path), "", "", wanted),))


def parse_job(text: str, file: str) -> Job:
    """Read a job from text.

    Args:
        text: TOML.
        file: what its faults call it.

    Raises:
        BadJob: every fault, one line each.
    """
    try:
        given = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        wanted = f"is not TOML: {str(error) or 'nested too deep'}"
        raise BadJob((Fault(file, "", "", " ".join(wanted.split())),)) from None
    lengths = _lengths_of(given)
    faults = list(_catalog_faults(given, file))
    filled = _filled(given, lengths)
    job, wrong = _validated(filled, given, lengths, file)
    faults += wrong
    is_measured = True
    stand_in = job
    if job is None:
        # Leave out what is wrong, so that one bad key does not hide the others; where
        # a measure itself is missing, nothing is said of what depends on it.
        right = _filled(_without(given, wrong), lengths)
        stand_in, _ = _validated(right, given, lengths, file)
        if stand_in is None:
            is_measured = False
            right = _merged(_MEASURES[lengths], right)
            stand_in, _ = _validated(right, given, lengths, file)
    if stand_in is not None:
        known = {fault.key for fault in faults}
        faults += [
            Fault(file, complaint.key, _found(given, complaint), complaint.wanted)
            for complaint in complaints_of(stand_in, is_measured=is_measured)
            if complaint.key not in known
        ]
    if faults or job is None:
        order = _order_of(given)
        faults.sort(
            key=lambda fault: (order.get(fault.key, _last(order, fault.key)), fault.key)
        )
        raise BadJob(tuple(dict.fromkeys(faults)))
    return _with_corner(job)


def _lengths_of(given: dict[str, Any]) -> Lengths:
    about = given.get("job")
    lengths = about.get("lengths") if isinstance(about, dict) else None
    return "mm" if lengths == "mm" else "in"


def _catalog_faults(given: dict[str, Any], file: str) -> Iterator[Fault]:
    """Say what the filling-in could not make sense of."""
    brick = given.get("brick")
    size = brick.get("size") if isinstance(brick, dict) else None
    names = [row.name for row in brick_sizes()]
    if isinstance(size, str) and size and size not in names:
        yield Fault(
            file,
            "brick.size",
            _typed(size),
            f"is not in the catalog; {_nearest_word(size, names)}",
        )
    bed = given.get("setting_bed")
    if isinstance(bed, dict) and "thickness" in bed and {"least", "most"} & set(bed):
        yield Fault(
            file,
            "setting_bed.thickness",
            _typed(bed["thickness"]),
            "stands beside least or most; write either the one or the two",
        )


def _nearest_word(word: str, known: list[str]) -> str:
    close = difflib.get_close_matches(word, known, 1, 0.5)
    return f'the nearest is "{close[0]}"' if close else f"it has {', '.join(known)}"


def _filled(given: dict[str, Any], lengths: Lengths) -> dict[str, Any]:
    """Return the job with what it leaves out filled in."""
    tables: dict[str, Any] = dict(usual_values(lengths))
    brick = given.get("brick")
    size = brick.get("size") if isinstance(brick, dict) else None
    rows = {row.name: row for row in brick_sizes()}
    if size:
        # An unknown name is a fault already; any brick stands in to find the others.
        row = rows.get(str(size)) or next(iter(rows.values()))
        faces = {"length": row.length, "height": row.height}
        tables = _merged(tables, {"brick": faces})
    bed = given.get("setting_bed")
    filled = _merged(tables, given)
    if isinstance(bed, dict) and "thickness" in bed:
        one = bed["thickness"]
        rest = {k: v for k, v in bed.items() if k != "thickness"}
        filled["setting_bed"] = {"least": one, "most": one, **rest}
    about = given.get("job")
    if isinstance(about, dict):
        filled["job"] = {"lengths": lengths, **about}
    return filled


def _merged(under: dict[str, Any], over: dict[str, Any]) -> dict[str, Any]:
    merged = dict(under)
    for key, value in over.items():
        old = merged.get(key)
        both = isinstance(old, dict) and isinstance(value, dict)
        merged[key] = _merged(old, value) if both else value  # type: ignore[arg-type]
    return merged


def _validated(
    filled: dict[str, Any], given: dict[str, Any], lengths: Lengths, file: str
) -> tuple[Job | None, list[Fault]]:
    try:
        return Job.model_validate(filled, context={"lengths": lengths}), []
    except ValidationError as error:
        details = error.errors(include_url=False, include_context=True)
        return None, [_fault(detail, given, file, lengths) for detail in details]


def _fault(
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
    return Fault(file, key, _typed(_value_at(given, keys)), _wanted(kind, detail))


_WANTED = {
    "greater_than": "must be more than nothing",
    "greater_than_equal": "can't be negative",
    "string_type": "must be text in quotes",
    "string_too_short": "must not be empty",
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
    if kind == "string_too_long":
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


def _value_at(given: object, keys: Keys) -> object:
    value: Any = given
    for key in keys:
        try:
            value = value[key]
        except (KeyError, IndexError, TypeError):
            return None
    return value


def _typed(value: object) -> str:
    """Return a value as it was typed, or what it is where that would be long."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    text = str(value)
    text = "".join(x if x.isprintable() else "?" for x in text)
    text = text if len(text) <= 60 else f"{text[:57]}..."
    return f'"{text}"' if isinstance(value, str) else text


def _found(given: dict[str, Any], complaint: Complaint) -> str:
    if complaint.found:
        return complaint.found
    keys: list[str | int] = []
    for part in complaint.key.split("."):
        name, _, place = part.partition("[")
        keys.append(name)
        if place:
            keys.append(int(place.rstrip("]")) - 1)
    return _typed(_value_at(given, tuple(keys)))


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


def _without(given: dict[str, Any], wrong: list[Fault]) -> dict[str, Any]:
    """Return a copy without the keys that are wrong."""
    bad = {fault.key for fault in wrong}

    def pruned(value: Any, before: Keys) -> Any:
        if isinstance(value, dict):
            return {
                key: pruned(inner, (*before, key))
                for key, inner in value.items()
                if dotted((*before, key)) not in bad
            }
        if isinstance(value, list):
            return [pruned(inner, (*before, i)) for i, inner in enumerate(value)]
        return value

    kept: dict[str, Any] = pruned(given, ())
    return kept


def _order_of(given: dict[str, Any]) -> dict[str, int]:
    """Return the place of every key in the file."""
    order: dict[str, int] = {}

    def walk(value: Any, before: Keys) -> None:
        order[dotted(before)] = len(order)
        if isinstance(value, dict):
            for key, child in value.items():
                walk(child, (*before, key))
        elif isinstance(value, list):
            for place, child in enumerate(value):
                walk(child, (*before, place))

    walk(given, ())
    return order


def _last(order: dict[str, int], key: str) -> int:
    """Put a key that is not in the file after the table that it belongs to."""
    table = key.strip("[]").rpartition(".")[0]
    inside = [
        place for name, place in order.items() if name.startswith(table) and table
    ]
    return max(inside, default=len(order))


def _with_corner(job: Job) -> Job:
    """Give a brick that turns a corner its usual corner unit, where none is given.

    A whole unit and a half: common practice, no published source.
    """
    has_fold = job.face.left_return is not None or job.face.right_return is not None
    if job.brick.corner is not None or not has_fold:
        return job
    half = (job.brick.length - job.joints.head.preferred) / 2
    corner = CornerTable(long_leg=job.brick.length, short_leg=half)
    return job.edited("brick.corner", corner)
