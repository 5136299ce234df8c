"""The catalog's rows: parsed once, exact, and the same in either lengths."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from shopdraw.catalog.listing import list_catalog
from shopdraw.catalog.rows import (
    brick_names,
    brick_sizes,
    sheet_names,
    sheet_size,
    sheet_sizes,
)
from shopdraw.lengths import MM_PER_INCH


def test_a_brick_is_of_its_published_size() -> None:
    (modular,) = [row for row in brick_sizes("in") if row.name == "modular"]
    assert (modular.length, modular.height) == (F("7.625"), F("2.25"))
    assert modular.typed == ("7 5/8 in", "2 1/4 in", "3 5/8 in")
    (metric,) = [row for row in brick_sizes("mm") if row.name == "uk-65"]
    assert (metric.length, metric.height, metric.thickness) == (215, 65, F("102.5"))


def test_a_row_is_of_one_size_in_either_lengths() -> None:
    for inches, mm in zip(brick_sizes("in"), brick_sizes("mm"), strict=True):
        assert inches.length * MM_PER_INCH == mm.length
        assert inches.thickness * MM_PER_INCH == mm.thickness
    for wide, mm in zip(sheet_sizes("in"), sheet_sizes("mm"), strict=True):
        assert (wide.width * MM_PER_INCH, wide.typed) == (mm.width, mm.typed)


def test_the_names_are_those_of_the_rows() -> None:
    assert brick_names() == tuple(row.name for row in brick_sizes("in"))
    assert sheet_names() == tuple(row.name for row in sheet_sizes("mm"))


def test_a_sheet_is_found_by_its_name() -> None:
    assert sheet_size("ARCH C", "in") == (24, 18)
    assert sheet_size("A4", "mm") == (297, 210)
    with pytest.raises(KeyError):
        sheet_size("A9", "mm")


def test_a_row_is_listed_as_the_catalog_has_it() -> None:
    lines = list_catalog().splitlines()
    assert any(line.split()[:4] == ["uk-65", "215", "mm", "65"] for line in lines)
    assert any(line.startswith("  A4       297 mm x 210 mm ") for line in lines)
