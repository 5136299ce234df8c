"""Read the catalog's rows: brick sizes, sheet sizes, usual values.

In:  the catalog's own TOML files.   Out: frozen rows; plain tables of usual values.
Frame: lengths stay as typed, with their units, until a job's lengths are known.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib import resources
from typing import Any

from shopdraw.lengths import Lengths, parse_length


@dataclass(frozen=True)
class BrickSize:
    """A brick by its trade name; lengths as typed.

    Attributes:
        thickness: of the full unit; a thin brick's is the job's own.
    """

    name: str
    length: str
    height: str
    thickness: str
    source: str
    status: str


@dataclass(frozen=True)
class SheetSize:
    """A sheet by its name, landscape; lengths as typed."""

    name: str
    width: str
    height: str
    source: str
    status: str


@dataclass(frozen=True)
class ToleranceClass:
    """How far a brick may be off its specified size, by that size; lengths as typed.

    Attributes:
        holds: what is held: "each brick", or "the mean of ten".
        lengths: what its figures are given in.
        steps: rising sizes, each with what is allowed up to it, either way.
    """

    name: str
    standard: str
    holds: str
    lengths: Lengths
    source: str
    status: str
    steps: tuple[tuple[str, str], ...]

    def allowed(self, size: Fraction) -> Fraction | None:
        """Return what is allowed at a size in its own lengths; None beyond it."""
        for up_to, tolerance in self.steps:
            if size <= parse_length(up_to, self.lengths):
                return parse_length(tolerance, self.lengths)
        return None


def _tables(file: str) -> dict[str, Any]:
    text = resources.files("shopdraw.catalog").joinpath(file).read_text("utf-8")
    return tomllib.loads(text)


@cache
def brick_sizes() -> tuple[BrickSize, ...]:
    """Return every brick size, in the catalog's order."""
    return tuple(BrickSize(name, **row) for name, row in _tables("bricks.toml").items())


@dataclass(frozen=True)
class LayerNaming:
    """What the set's layers are called in another naming."""

    name: str
    names: tuple[tuple[str, str], ...]
    source: str
    status: str


@cache
def layer_namings() -> tuple[LayerNaming, ...]:
    """Return every naming of layers besides the set's own."""
    return tuple(
        LayerNaming(name, tuple(row["names"].items()), row["source"], row["status"])
        for name, row in _tables("layers.toml").items()
    )


def layer_names(naming: str, own: dict[str, str]) -> tuple[tuple[str, str], ...]:
    """Return what each layer that is not called as the set has it is to be called."""
    rows = {row.name: dict(row.names) for row in layer_namings()}
    return tuple({**rows.get(naming, {}), **own}.items())


@cache
def sheet_sizes() -> tuple[SheetSize, ...]:
    """Return every sheet size, in the catalog's order."""
    return tuple(
        SheetSize(name, width, height, group["source"], group["status"])
        for group in _tables("sheets.toml").values()
        for name, (width, height) in group["sizes"].items()
    )


@cache
def tolerance_classes(lengths: Lengths) -> tuple[ToleranceClass, ...]:
    """Return the size tolerances given in some lengths, the tighter class first."""
    return tuple(
        ToleranceClass(**{**row, "steps": tuple(map(tuple, row["steps"]))})
        for row in _tables("tolerances.toml")["class"]
        if row["lengths"] == lengths
    )


def sheet_size(name: str, lengths: Lengths) -> tuple[Fraction, Fraction]:
    """Return a sheet's width and height; KeyError where there is no such sheet."""
    for row in sheet_sizes():
        if row.name == name:
            return parse_length(row.width, lengths), parse_length(row.height, lengths)
    raise KeyError(name)


@cache
def _usual() -> dict[str, Any]:
    return _tables("usual.toml")


def usual_values(lengths: Lengths) -> dict[str, Any]:
    """Return what a job that leaves a value out is given, as its own tables."""
    tables: dict[str, Any] = _usual()[lengths]
    return tables
