"""Define what every table of a job file has in common: frozen, strict, editable.

In:  nothing.   Out: `Table`; raw tables, one laid over another.
Frame: none.
"""

from __future__ import annotations

import re
from typing import Any, Self

from pydantic import BaseModel, ConfigDict


class Table(BaseModel):
    """One table of the job file: an unknown key is a fault; nothing changes later."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    def at(self, dotted_key: str) -> object:
        """Return a value by its key as in the job file; arrays have no place in it.

        Raises:
            AttributeError: there is no such key.
        """
        value: object = self
        for name in dotted_key.split("."):
            value = getattr(value, name)
        return value

    def edited(self, dotted_key: str, value: object) -> Self:
        """Return a copy with one value changed.

        Args:
            dotted_key: as in the job file, `joints.bed.most`, `target[1].level`
                (the first of an array of tables is 1).
            value: the new value, already of the field's type.

        Raises:
            KeyError: there is no such key.
        """
        name, _, rest = dotted_key.partition(".")
        match = re.fullmatch(r"(\w+)(?:\[(\d+)\])?", name)
        if match is None or match[1] not in type(self).model_fields:
            raise KeyError(dotted_key)
        field, place = match[1], match[2]
        old = getattr(self, field)
        if place is not None:
            at = int(place) - 1
            changed = old[at].edited(rest, value) if rest else value
            new: object = (*old[:at], changed, *old[at + 1 :])
        else:
            new = old.edited(rest, value) if rest else value
        return self.model_copy(update={field: new})


def merged(under: dict[str, Any], over: dict[str, Any]) -> dict[str, Any]:
    """Return raw tables with others laid over them, key by key; a list is one value."""
    both = dict(under)
    for key, value in over.items():
        old = both.get(key)
        are_tables = isinstance(old, dict) and isinstance(value, dict)
        both[key] = merged(old, value) if are_tables else value  # type: ignore[arg-type]
    return both
