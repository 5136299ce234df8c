"""Read what is said of each key of the job file: the rows of `keys.toml`.

In:  `keys.toml`.   Out: a row a key, in the model's order.
Frame: none.

It loads no model: a shell that completes a key waits for this.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources


@dataclass(frozen=True)
class KeyRow:
    """What is said of a key.

    Attributes:
        says: what it is.
        shows: where it is seen.
        without: what follows where it is left out, if its default does not say it.
    """

    says: str
    shows: str
    without: str = ""


@cache
def key_rows() -> dict[str, KeyRow]:
    """Return what is said of every key, in the model's order."""
    text = resources.files("shopdraw.job").joinpath("keys.toml").read_text("utf-8")
    return {key: KeyRow(**row) for key, row in tomllib.loads(text).items()}


def keys_in(table: str = "") -> list[str]:
    """Return the keys of a table, or the tables of the file; not what is in those."""
    return [key for key in key_rows() if key.rpartition(".")[0] == table]
