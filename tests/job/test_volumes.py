"""Volumes, read exactly with pint; the figures are exact by definition."""

from fractions import Fraction as F

import pint
import pytest

from shopdraw.errors import BadJob, BadLength
from shopdraw.job.reading import parse_job
from shopdraw.job.volumes import UNITS, parse_volume
from tests.demos import CONFIGS


@pytest.mark.parametrize(
    ("text", "cubic_inches"),
    [("0.5 cu ft", F(864)), ("1 ft**3", F(1728)), ("27 cu in", F(27))],
)
def test_a_volume_is_read_exactly(text: str, cubic_inches: F) -> None:
    assert parse_volume(text, "in") == cubic_inches


def test_litres_are_a_million_cubic_millimetres() -> None:
    assert parse_volume("12 litres", "mm") == 12_000_000


NAMES = tuple(
    name.strip()
    for line in UNITS
    for place, name in enumerate(line.split("="))
    if place != 1 and name.strip() != "floz"
)
"""Every name a unit may be given by but the one that the library does not know."""


def test_each_unit_is_as_large_as_the_library_says() -> None:
    ours = pint.UnitRegistry(UNITS, non_int_type=F)
    everything = pint.UnitRegistry(non_int_type=F)
    for name in NAMES:
        one, other = (each.Quantity(F(1), name) for each in (ours, everything))
        assert one.to_base_units().magnitude == other.to_base_units().magnitude, name


@pytest.mark.parametrize(
    "text", ["12", "3 lb", "", "two cu ft", "5 in", "1/0 cu ft", "((("]
)
def test_what_is_not_a_volume_is_refused(text: str) -> None:
    with pytest.raises(BadLength, match="is not a volume; write one like"):
        parse_volume(text, "in")


def test_a_bag_without_its_volume_is_one_line() -> None:
    text = (CONFIGS / "library-hearth.toml").read_text("utf-8")
    heavy = text.replace("[packs]\n", '[packs]\nsetting_mortar = "80 lb"\n')
    with pytest.raises(BadJob) as caught:
        parse_job(heavy, "den.toml")
    assert caught.value.lines() == (
        'den.toml: packs.setting_mortar: "80 lb" is not a volume; write one like '
        '"0.5 cu ft"',
    )
