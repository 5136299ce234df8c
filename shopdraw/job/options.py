"""Read each option of a job as a job of its own: the job's tables, and what differs.

In:  a job file's tables, what reads such tables.   Out: jobs by name, `Fault`s.
Frame: none.

Another brick is another brick in all that was said of it: what was measured of the
job's own, its price and how many a box holds are not taken over. Another head over the
opening is another head in the same way: neither the job's arch nor how its soldiers
stand is taken over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from shopdraw.errors import Fault
from shopdraw.job.faults import typed, value_at
from shopdraw.job.lines import keys_of
from shopdraw.job.model import Job
from shopdraw.job.model_opening import OpeningTable
from shopdraw.job.model_option import OF_TABLE
from shopdraw.job.table import merged

Read = Callable[[dict[str, Any]], tuple[Job | None, list[Fault]]]
MOST = 12
"""So many options may be laid before an owner."""
OTHER_BRICK = {"size", "length", "height", "sample"}
"""An option that has one of these is laid in another brick."""
OF_THE_BRICK = {
    "job": {"units_lot"},
    "packs": {"flats", "corners", "pallet"},
    "prices": {"flats", "corners"},
}
"""What is said elsewhere of the job's own brick."""
OF_THE_HEAD = tuple(key for key in OF_TABLE["opening"] if key != "head")
"""What is said in `[opening]` of the job's own head, besides which it is."""


def read_options(
    given: dict[str, Any], file: str, told: list[Fault], read: Read
) -> tuple[tuple[tuple[str, Job], ...], list[Fault]]:
    """Read every option of a job.

    Args:
        given: the job's tables, as typed.
        file: what faults call it.
        told: the faults of the job itself, which are not told again.
        read: reads the tables of a job, and lists what is wrong with them.

    Returns:
        Each option's name and the job as it would be, and what is wrong with them.
        Once a course is laid there is nothing left to choose, and none is read.
    """
    tables = given.get("option")
    if not isinstance(tables, list) or given.get("laid"):
        return (), []
    if len(tables) > MOST:
        wanted = f"is there {len(tables)} times; write {MOST} options or fewer"
        return (), [Fault(file, "option", "", wanted)]
    faults = list(_named_twice(tables, file))
    options = []
    known = {(fault.key, fault.found, fault.wanted) for fault in told}
    for number, table in enumerate(tables, start=1):
        if not isinstance(table, dict):
            continue
        where = f"option[{number}]"
        # What is wrong already hides nothing else that is wrong.
        right = {
            key: value
            for key, value in table.items()
            if not any(f"{x.key}.".startswith(f"{where}.{key}.") for x in told)
        }
        job, wrong = read(tables_of(given, right))
        new = [x for x in wrong if (x.key, x.found, x.wanted) not in known]
        faults += (_told(fault, where, table) for fault in new)
        if job is not None:
            options.append((str(table.get("name", where)), job))
    return tuple(options), faults


def tables_of(given: dict[str, Any], option: dict[str, Any]) -> dict[str, Any]:
    """Return a job's tables as an option has them."""
    tables = {key: value for key, value in given.items() if key != "option"}
    differs = {key: value for key, value in option.items() if key != "name"}
    if OTHER_BRICK & set(differs.get("brick", ())):
        tables.pop("brick", None)
        for name, keys in OF_THE_BRICK.items():
            if isinstance(tables.get(name), dict):
                table = tables[name]
                tables[name] = {x: table[x] for x in table if x not in keys}
    opening = tables.get("opening")
    if isinstance(opening, dict) and _has_other_head(opening, differs.get("opening")):
        tables.pop("arch", None)
        tables["opening"] = {x: opening[x] for x in opening if x not in OF_THE_HEAD}
    return merged(tables, differs)


def _has_other_head(opening: dict[str, Any], differs: Any) -> bool:
    """Whether an option has another head than the job, which may have the usual one."""
    usual = OpeningTable.model_fields["head"].default
    return (
        isinstance(differs, dict)
        and "head" in differs
        and differs["head"] != opening.get("head", usual)
    )


def _named_twice(tables: list[Any], file: str) -> Iterator[Fault]:
    names = [table.get("name") for table in tables if isinstance(table, dict)]
    for place, name in enumerate(names):
        if isinstance(name, str) and name in names[:place]:
            first = names.index(name) + 1
            wanted = f"is the name of option[{first}] too; write another"
            yield Fault(file, f"option[{place + 1}].name", f'"{name}"', wanted)


def _told(fault: Fault, where: str, table: dict[str, Any]) -> Fault:
    """Tell a fault of an option by its key there, or by what it makes wrong."""
    name = typed(table.get("name"))
    keys = keys_of(fault.key)
    # What the option makes the job lack is written where it is made so.
    is_missing = fault.wanted.startswith("is missing")
    if is_missing or value_at(table, keys) is not None:
        said = f"{fault.wanted} (option {name})"
        key = f"{where}.{fault.key.strip('[]')}"
        return Fault(fault.file, key, fault.found, said, fault.nearest)
    found = f" {fault.found}" if fault.found else ""
    wanted = f"does not go with the job's {fault.key}:{found} {fault.wanted}"
    return Fault(fault.file, where, name, wanted, fault.nearest)
