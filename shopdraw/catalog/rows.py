"""Read the catalog's rows: brick sizes, sheet sizes, tolerances, default values.

In:  the catalog's own TOML files, and what lengths are wanted in.   Out: frozen rows;
plain tables of default values.
Frame: the lengths asked for, exact. Default values stay as typed: they are read with
the job that they fill in.
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
    """A brick by its trade name.

    Attributes:
        thickness: of the full unit; a thin brick's is the job's own.
        typed: length, height and thickness as the catalog has them, to be listed.
    """

    name: str
    length: Fraction
    height: Fraction
    thickness: Fraction
    typed: tuple[str, str, str]
    source: str
    status: str


@dataclass(frozen=True)
class SheetSize:
    """A sheet by its name, landscape.

    Attributes:
        typed: width and height as the catalog has them, to be listed.
    """

    name: str
    width: Fraction
    height: Fraction
    typed: tuple[str, str]
    source: str
    status: str


@dataclass(frozen=True)
class ToleranceClass:
    """How far a brick may be off its specified size, by that size.

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
    steps: tuple[tuple[Fraction, Fraction], ...]

    def allowed(self, size: Fraction) -> Fraction | None:
        """Return what is allowed at a size; None for a size past the last step."""
        within = (tolerance for up_to, tolerance in self.steps if size <= up_to)
        return next(within, None)


@cache
def catalog_tables(file: str) -> dict[str, Any]:
    """Read one of the catalog's files."""
    text = resources.files("shopdraw.catalog").joinpath(file).read_text("utf-8")
    return tomllib.loads(text)


@cache
def brick_names() -> tuple[str, ...]:
    """Return the names of the catalog's brick, in its order."""
    return tuple(catalog_tables("bricks.toml"))


@cache
def brick_sizes(lengths: Lengths) -> tuple[BrickSize, ...]:
    """Return every brick size, in the catalog's order."""
    return tuple(
        _brick_size(name, row, lengths)
        for name, row in catalog_tables("bricks.toml").items()
    )


def _brick_size(name: str, row: dict[str, str], lengths: Lengths) -> BrickSize:
    length, height, thickness = row["length"], row["height"], row["thickness"]
    return BrickSize(
        name=name,
        length=parse_length(length, lengths),
        height=parse_length(height, lengths),
        thickness=parse_length(thickness, lengths),
        typed=(length, height, thickness),
        source=row["source"],
        status=row["status"],
    )


@dataclass(frozen=True)
class LayerNaming:
    """What the drawings' layers are called in another naming."""

    name: str
    names: tuple[tuple[str, str], ...]
    source: str
    status: str


@cache
def layer_namings() -> tuple[LayerNaming, ...]:
    """Return every naming of layers besides the drawings' own."""
    return tuple(
        LayerNaming(name, tuple(row["names"].items()), row["source"], row["status"])
        for name, row in catalog_tables("layers.toml").items()
    )


def layer_names(naming: str, own: dict[str, str]) -> tuple[tuple[str, str], ...]:
    """Return the new name of each layer that is to be called otherwise."""
    rows = {row.name: dict(row.names) for row in layer_namings()}
    return tuple({**rows.get(naming, {}), **own}.items())


@cache
def sheet_names() -> tuple[str, ...]:
    """Return the names of the catalog's sheets, in its order."""
    groups = catalog_tables("sheets.toml").values()
    return tuple(name for group in groups for name in group["sizes"])


@cache
def sheet_sizes(lengths: Lengths) -> tuple[SheetSize, ...]:
    """Return every sheet size, in the catalog's order."""
    return tuple(
        SheetSize(
            name=name,
            width=parse_length(width, lengths),
            height=parse_length(height, lengths),
            typed=(width, height),
            source=group["source"],
            status=group["status"],
        )
        for group in catalog_tables("sheets.toml").values()
        for name, (width, height) in group["sizes"].items()
    )


def sheet_size(name: str, lengths: Lengths) -> tuple[Fraction, Fraction]:
    """Return a sheet's width and height; KeyError where there is no such sheet."""
    sizes = {row.name: (row.width, row.height) for row in sheet_sizes(lengths)}
    return sizes[name]


@cache
def tolerance_classes(lengths: Lengths) -> tuple[ToleranceClass, ...]:
    """Return the size tolerances that are given in some lengths, the tighter first."""
    return tuple(
        ToleranceClass(**{**row, "steps": _steps(row["steps"], lengths)})
        for row in catalog_tables("tolerances.toml")["class"]
        if row["lengths"] == lengths
    )


def _steps(
    typed: list[list[str]], lengths: Lengths
) -> tuple[tuple[Fraction, Fraction], ...]:
    return tuple(
        (parse_length(up_to, lengths), parse_length(tolerance, lengths))
        for up_to, tolerance in typed
    )


def usual_values(lengths: Lengths) -> dict[str, Any]:
    """Return the default values, in tables as a job has them."""
    tables: dict[str, Any] = catalog_tables("usual.toml")[lengths]
    return tables
