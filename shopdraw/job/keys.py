"""Read the explanation of each key of the job file from `keys.toml`.

In:  `keys.toml`.   Out: a row a key, in the model's order.
Frame: none.

It loads nothing else: a shell that completes a key waits for this.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources


@dataclass(frozen=True)
class KeyRow:
    """The explanation of a key.

    Attributes:
        says: what it means.
        shows: where on the drawings it is seen.
        without: what follows when it is left out, where its default does not say so.
    """

    says: str
    shows: str
    without: str = ""


@cache
def key_rows() -> dict[str, KeyRow]:
    """Return the explanation of every key, in the model's order."""
    text = resources.files("shopdraw.job").joinpath("keys.toml").read_text("utf-8")
    return {key: KeyRow(**row) for key, row in tomllib.loads(text).items()}


def keys_in(table: str = "") -> list[str]:
    """Return the keys of a table, or without one the tables of the file."""
    return [key for key in key_rows() if key.rpartition(".")[0] == table]
