"""Read a job file: turn TOML text into a `Job`, or list every fault at once.

In:  a path, or text and the name to call it by.   Out: `Job`.
Frame: the job's lengths, exact.

What the file leaves out is filled in first. What is typed wins over the brick's row in
the catalog, and that wins over the default values.
"""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from shopdraw.catalog.rows import brick_names, brick_sizes, usual_values
from shopdraw.errors import BadJob, Fault
from shopdraw.job.complaint import Complaint
from shopdraw.job.faults import (
    Keys,
    dotted,
    fault_of,
    typed,
    value_at,
    without_misspelt,
)
from shopdraw.job.file import job_text
from shopdraw.job.lines import placed
from shopdraw.job.mending import not_toml
from shopdraw.job.model import Job
from shopdraw.job.options import read_options
from shopdraw.job.sample import fill_sample
from shopdraw.job.sense import complaints_of
from shopdraw.job.survey import conflicts, fill_survey
from shopdraw.job.table import merged
from shopdraw.job.usual import (
    with_splay,
    with_usual,
    with_usual_bond,
    with_usual_header,
)
from shopdraw.lengths import Lengths

MOST_DEEP = 50
MOST_FAULTS = 100
"""So many faults are told; they are found one by one, and nobody mends more at once."""
PHOTO = "appearance.photo"
"""The key of the one file that a job names."""
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
"""Stand in for the lengths that every job must give, to look for further faults."""


def read_job(path: Path) -> Job:
    """Read a job file.

    Raises:
        BadJob: every fault, one line each, with the line that it is on.
    """
    text = job_text(path)
    try:
        job = parse_job(text, str(path))
        photo = job.appearance.photo
        if photo and not path.with_name(photo).is_file():
            wanted = "is not there; lay the photograph beside the job file"
            raise BadJob((Fault(str(path), PHOTO, typed(photo), wanted),))
    except BadJob as error:
        raise BadJob(placed(error.faults, text)) from None
    return job


def parse_job(text: str, file: str) -> Job:
    """Read a job from text.

    Args:
        text: TOML.
        file: what its faults call it.

    Raises:
        BadJob: every fault, one line each.
    """
    given = _tables(text, file)
    job, faults = _read(given, file)
    options, more = read_options(given, file, faults, partial(_read, file=file))
    faults += more
    if faults or job is None:
        order = _order_of(given)
        faults.sort(
            key=lambda fault: (order.get(fault.key, _last(order, fault.key)), fault.key)
        )
        raise BadJob(tuple(dict.fromkeys(faults)))
    return job.read_from(text, tuple(options))


def _tables(text: str, file: str) -> dict[str, Any]:
    try:
        given = tomllib.loads(text)
        if _is_deeper(given, MOST_DEEP):
            raise RecursionError
    except RecursionError:
        wanted = "has tables nested too deep; follow what `shopdraw new` writes"
        raise BadJob((Fault(file, "", "", wanted),)) from None
    except ValueError as error:
        raise BadJob((Fault(file, "", "", not_toml(text, str(error))),)) from None
    return given


def _read(given: dict[str, Any], file: str) -> tuple[Job | None, list[Fault]]:
    """Read a job from its tables; None where there is a fault."""
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
            right = merged(_MEASURES[lengths], right)
            stand_in, _ = _validated(right, given, lengths, file)
    if stand_in is not None:
        stand_in = with_usual_header(with_splay(with_usual_bond(stand_in, given)))
        known = {fault.key for fault in faults}
        faults += [
            Fault(file, complaint.key, _found(given, complaint), complaint.wanted)
            for each in complaints_of(stand_in, is_measured=is_measured)
            for complaint in (_as_typed(given, each),)
            if not any(f"{key}.".startswith(f"{complaint.key}.") for key in known)
        ]
    faults = without_misspelt(faults)
    if faults or job is None:
        return None, faults
    return with_usual(job, given), []


def _is_deeper(given: dict[str, Any], most: int) -> bool:
    """Whether tables and lists are nested deeper than reading them can follow."""
    level: list[Any] = [given]
    for _ in range(most):
        level = [
            inner
            for each in level
            for inner in (each.values() if isinstance(each, dict) else each)
            if isinstance(inner, dict | list)
        ]
    return bool(level)


def _lengths_of(given: dict[str, Any]) -> Lengths:
    about = given.get("job")
    lengths = about.get("lengths") if isinstance(about, dict) else None
    return "mm" if lengths == "mm" else "in"


def _catalog_faults(given: dict[str, Any], file: str) -> Iterator[Fault]:
    """Yield the faults of what is filled in before the model sees the tables."""
    brick = given.get("brick")
    size = brick.get("size") if isinstance(brick, dict) else None
    names = brick_names()
    if isinstance(size, str) and size and size not in names:
        yield Fault(
            file,
            "brick.size",
            typed(size),
            f"is not in the catalog; {_nearest_word(size, names)}",
        )
    for key, wanted in conflicts(given):
        table, name = key.split(".")
        yield Fault(file, key, typed(given[table][name]), wanted)
    bed = given.get("setting_bed")
    if isinstance(bed, dict) and "thickness" in bed and {"least", "most"} & set(bed):
        yield Fault(
            file,
            "setting_bed.thickness",
            typed(bed["thickness"]),
            "is given with least or most; write thickness alone, or least and most",
        )


def _nearest_word(word: str, known: tuple[str, ...]) -> str:
    close = difflib.get_close_matches(word, known, 1, 0.5)
    if close:
        return f'the nearest name is "{close[0]}"'
    return f"the catalog has {', '.join(known)}"


PAPER: dict[str, Lengths] = {"us": "in", "iso": "mm"}
"""The lengths whose default sheet sizes a profile takes."""


def _filled(given: dict[str, Any], lengths: Lengths) -> dict[str, Any]:
    """Fill in what the job leaves out."""
    tables: dict[str, Any] = dict(usual_values(lengths))
    sheet = given.get("sheet")
    practice = sheet.get("profile") if isinstance(sheet, dict) else None
    if isinstance(practice, str) and practice in PAPER:
        # Paper goes by the profile, whatever the drawings are dimensioned in.
        tables["sheet"] = usual_values(PAPER[practice])["sheet"]
    brick = given.get("brick")
    size = brick.get("size") if isinstance(brick, dict) else None
    rows = {row.name: row for row in brick_sizes(lengths)}
    if size:
        # An unknown name is a fault already; any brick stands in to find more.
        row = rows.get(str(size)) or next(iter(rows.values()))
        faces = {"length": row.length, "height": row.height}
        tables = merged(tables, {"brick": faces})
    tables["edges"] = _joints_at_walls(given, tables.pop("at_wall"))
    bed = given.get("setting_bed")
    filled = merged(tables, given)
    if isinstance(bed, dict) and "thickness" in bed:
        one = bed["thickness"]
        rest = {k: v for k, v in filled["setting_bed"].items() if k != "thickness"}
        filled["setting_bed"] = {**rest, "least": one, "most": one}
    about = given.get("job")
    if isinstance(about, dict):
        filled["job"] = {"lengths": lengths, **about}
    return fill_survey(fill_sample(filled, lengths), lengths)


def _joints_at_walls(given: dict[str, Any], joint: dict[str, str]) -> dict[str, Any]:
    """Return the usual joint for each end where a return meets a wall.

    Whoever says what lies there, or how wide it is, says all of it.
    """
    face, edges = given.get("face"), given.get("edges")
    face = face if isinstance(face, dict) else {}
    edges = edges if isinstance(edges, dict) else {}
    joints: dict[str, Any] = {}
    for side in ("left", "right"):
        edge = edges.get(side, {})
        is_said = not isinstance(edge, dict) or {"kind", "width"} & set(edge)
        has_return = {f"{side}_return", f"{side}_return_depth"} & set(face)
        if has_return and not is_said:
            joints[side] = joint
    return joints


def _validated(
    filled: dict[str, Any], given: dict[str, Any], lengths: Lengths, file: str
) -> tuple[Job | None, list[Fault]]:
    try:
        return Job.model_validate(filled, context={"lengths": lengths}), []
    except ValidationError as error:
        details = error.errors(include_url=False, include_context=True)
        told = details[:MOST_FAULTS]
        faults = [fault_of(detail, given, file, lengths) for detail in told]
        if more := len(details) - len(told):
            wanted = f"has {more:,} faults more; these are the first {MOST_FAULTS}"
            faults.append(Fault(file, "", "", wanted))
        return None, faults


def _as_typed(given: dict[str, Any], complaint: Complaint) -> Complaint:
    """Of keys that make no sense together tell the first that is in the file.

    Which of them is wrong only the person knows, so the others there are named too.
    """
    each: Complaint | None = complaint
    there = []
    while each is not None:
        if _found(given, each):
            there.append(each)
        each = each.otherwise
    if not there:
        return complaint
    told, *others = there
    if not others:
        return told
    named = " or ".join(x.key for x in others)
    return replace(told, wanted=f"{told.wanted}; or change {named}")


def _found(given: dict[str, Any], complaint: Complaint) -> str:
    if complaint.found:
        return complaint.found
    keys: list[str | int] = []
    for part in complaint.key.split("."):
        # A name that the person chose may hold a bracket too.
        match = re.fullmatch(r"(\w+)\[(\d{1,9})\]", part, re.ASCII)
        keys += [match[1], int(match[2]) - 1] if match else [part]
    return typed(value_at(given, tuple(keys)))


def _without(given: dict[str, Any], wrong: list[Fault]) -> dict[str, Any]:
    """Return a copy of the tables without the keys that are wrong."""
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
    """Number every key by its place in the file."""
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
    """Place a key that the file does not have after the table it belongs to."""
    table = key.strip("[]").rpartition(".")[0]
    inside = [
        place for name, place in order.items() if name.startswith(table) and table
    ]
    return max(inside, default=len(order))
