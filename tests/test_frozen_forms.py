"""Forms are frozen and hold nothing that can be changed; each has a name of its own."""

from __future__ import annotations

import dataclasses
import importlib
import pkgutil
from collections.abc import Iterator
from typing import Any, get_args, get_origin, get_type_hints

import shopdraw

CHANGE = (list, dict, set, bytearray)
TWICE = {"Table": ("shopdraw.drawing.tables", "shopdraw.job.table")}
"""What a drawing rules and what a job file is made of are both called a table, each in
its own trade; no module knows both."""


def modules() -> list[str]:
    return [
        each.name
        for each in pkgutil.walk_packages(shopdraw.__path__, "shopdraw.")
        if not each.name.endswith("__main__")
    ]


def classes() -> Iterator[type]:
    """Yield every class of the package, where it is made."""
    for name in modules():
        for each in vars(importlib.import_module(name)).values():
            if isinstance(each, type) and each.__module__ == name:
                yield each


def is_frozen(form: type) -> bool:
    params = getattr(form, "__dataclass_params__", None)
    return params is not None and params.frozen


def parts(hint: Any) -> Iterator[Any]:
    """Yield a type and every type that it is put together of."""
    yield get_origin(hint) or hint
    for part in get_args(hint):
        yield from parts(part)


def changeable(form: type) -> list[str]:
    """Name the fields of a form that hold what can be changed."""
    hints = get_type_hints(form)
    return [
        field.name
        for field in dataclasses.fields(form)
        if any(part in CHANGE for part in parts(hints[field.name]))
    ]


FORMS = [form for form in classes() if is_frozen(form)]


def test_the_forms_of_every_room_are_looked_at() -> None:
    rooms = {form.__module__.split(".")[1] for form in FORMS}
    assert {"masonry", "review", "quantities", "solution", "drawing", "views"} <= rooms


def test_a_frozen_form_holds_nothing_that_can_be_changed() -> None:
    assert len(FORMS) > 200
    found = {form.__qualname__: changeable(form) for form in FORMS}
    assert {name: fields for name, fields in found.items() if fields} == {}


def test_a_list_or_a_dict_in_a_frozen_form_is_noticed() -> None:
    fields = {
        "name": str,
        "says": dict[str, str],
        "rows": tuple[tuple[list[str], int], ...],
        "held": tuple[str, ...] | None,
    }
    form = dataclasses.make_dataclass("Box", fields.items(), frozen=True)
    assert is_frozen(form)
    assert changeable(form) == ["says", "rows"]


def places(named: Iterator[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    """Return where each name is used, of those that are used more than once."""
    found: dict[str, list[str]] = {}
    for name, place in named:
        if not name.startswith("_"):
            found.setdefault(name, []).append(place)
    return {name: tuple(sorted(at)) for name, at in found.items() if len(at) > 1}


def test_no_two_classes_have_one_name() -> None:
    assert places((each.__name__, each.__module__) for each in classes()) == TWICE


def test_a_name_that_is_used_twice_is_noticed() -> None:
    named = [("Joint", "b"), ("Bed", "a"), ("Joint", "a"), ("_Own", "a"), ("_Own", "b")]
    assert places(iter(named)) == {"Joint": ("a", "b")}
