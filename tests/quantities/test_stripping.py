"""Old work that comes off: volume and weight by hand, and what nobody gave left open.

Weights of the catalog are held against what was read: brick 100 to 150 lb to the cubic
foot (NAVEDTRA 14045, read in the source).
"""

from __future__ import annotations

from fractions import Fraction as F
from functools import cache
from pathlib import Path

import pytest

from shopdraw.catalog.rows import catalog_tables
from shopdraw.catalog.statuses import READ, SECOND_HAND
from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.quantities.stripping import (
    DUST,
    Stripped,
    area_to_strip,
    reckon_stripping,
    skip_of,
)
from shopdraw.solution import Solution
from tests.findings import by_key

JOB = """
[job]
name = "Snug"
lengths = "{lengths}"
[face]
width = "60 in"
height = "40 in"
[opening]
width = "34 in"
height = "24 in"
[brick]
size = "{size}"
{more}
"""


@cache
def solved(more: str, lengths: str = "in") -> Solution:
    size = "modular" if lengths == "in" else "uk-65"
    text = JOB.format(lengths=lengths, size=size, more=more)
    return solve(parse_job(text, Path("snug.toml")))


def old(**values: object) -> str:
    lines = (
        f'{key} = "{value}"' if isinstance(value, str) else f"{key} = {value}"
        for key, value in values.items()
    )
    return "[[stripping.old]]\n" + "\n".join(lines) + "\n"


def one(more: str, lengths: str = "in") -> Stripped:
    (found,) = reckon_stripping(solved(more, lengths).job)
    return found


def test_volume_is_area_times_thickness_and_weight_that_by_the_density() -> None:
    # 22.5 sq ft, 3 in: 5.625 cu ft, as printed 5.63; by 145 lb 815.6, so 816.
    found = one(old(kind="stone veneer", area=22.5, thickness="3 in", density=145))
    assert (found.volume, found.least, found.most) == (F("5.63"), 816, 816)
    assert found.why == "145 lb to a cu ft, as typed"


def test_brick_weighs_what_the_manual_says_with_its_range() -> None:
    # 18 sq ft, 4 in: 6 cu ft, at 100 to 150 lb.
    found = one(old(kind="brick", area=18, thickness="4 in"))
    assert (found.volume, found.least, found.most) == (6, 600, 900)
    assert found.why == (
        "100 to 150 lb to a cu ft: NAVEDTRA 14045, Builder Advanced, Brick Terminology "
        "(read in the source)"
    )


def test_in_metric_the_same_brick_weighs_the_same() -> None:
    # 2 m2, 100 mm: 0.2 m3; 100 lb/cu ft is 1601.85 kg/m3, so 320.4 to 480.6 kg.
    found = one(old(kind="brick", area=2, thickness="100 mm"), "mm")
    assert (found.volume, found.least, found.most) == (F("0.2"), 320, 481)
    assert found.why.startswith("1602 to 2403 kg to a m3: ")


def test_nothing_is_weighed_from_memory() -> None:
    rows = catalog_tables("weights.toml")
    assert {row["status"] for row in rows.values()} <= {READ, SECOND_HAND}
    for kind in ("stone veneer", "tile", "block shelf", "other"):
        found = one(old(kind=kind, area=10, thickness="1 in"))
        assert (found.least, found.most) == (None, None)
        assert found.volume == to_hundredth(F(10, 12))
        assert "none was read" in found.why


def to_hundredth(value: F) -> F:
    return F(round(value * 100), 100)


@pytest.mark.parametrize(
    ("more", "why"),
    [
        (old(kind="tile", area=4), "its thickness was not given"),
        (old(kind="tile", thickness="1 in"), "its area was not given"),
        (old(kind="paint", area=4), DUST),
    ],
)
def test_what_is_not_given_is_left_open(more: str, why: str) -> None:
    found = one(more)
    assert (found.volume, found.least, found.why) == (None, None, why)


def test_the_skip_is_the_sum_of_what_is_printed_or_left_open() -> None:
    board = old(kind="board", area=21.5, thickness="1/2 in")
    stone = old(kind="stone veneer", area=21.5, thickness="3 in", density=145)
    paint = old(kind="paint", area=5)
    stripped = reckon_stripping(solved(stone + board + paint).job)
    skip = skip_of(stripped)
    assert skip.volume == sum(x.volume for x in stripped if x.volume is not None)
    assert (skip.volume, skip.least, skip.most) == (F("6.28"), 779 + 43, 779 + 43)
    tile = old(kind="tile", area=4)
    skip = skip_of(reckon_stripping(solved(stone + tile).job))
    assert (skip.volume, skip.least) == (None, None)


def test_hours_go_by_the_area_that_comes_off_and_patching_is_bought_and_done() -> None:
    more = "[stripping]\npatching = 4\n" + old(kind="tile", area=6.25)
    more += "[labour]\nstripping = 0.2\npatching = 0.5\nrate = 60\n"
    solution = solved(more)
    assert area_to_strip(solution.job) == F("6.25")
    row = solution.takeoff.row("patching")
    assert (row.net, row.measure, row.order) == (4, "sq ft", None)
    lines = {line.key: line for line in solution.estimate.lines}
    assert (lines["stripping"].hours, lines["stripping"].cost) == (F("1.25"), 75)
    assert (lines["patching"].hours, lines["patching"].cost) == (2, 120)
    assert {"stripping", "patching"}.isdisjoint(
        line.key for line in solved("").estimate.lines
    )


def test_what_to_look_for_first_is_a_finding_that_nothing_passes() -> None:
    nothing = by_key(solved("").findings)
    assert not any(str(name).startswith("stripping") for name in nothing)
    found = by_key(solved(old(kind="tile", name="green tile", area=4)).findings)
    behind = found["stripping-behind"]
    assert behind.status == "not checked"
    assert "green tile" in behind.says
    assert "qualified person" in behind.says
    assert "stripping-paint" not in found
    found = by_key(solved(old(kind="paint", area=4) + old(kind="board")).findings)
    assert found["stripping-paint"].keys == ("house.painted_sq_ft",)
    assert found["stripping-board"].keys == ("house.asbestos",)
    told = '[house]\npainted_sq_ft = 4\nasbestos = "looked at, none found"\n'
    found = by_key(
        solved(told + old(kind="paint", area=4) + old(kind="board")).findings
    )
    assert {"stripping-paint", "stripping-board"}.isdisjoint(found)
    assert "stripping-behind" in found


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (old(kind="marble"), 'stripping.old[1].kind: "marble" is not one of'),
        (old(kind="tile", area=0), "stripping.old[1].area: 0 must be more than zero"),
        (old(area=2), "stripping.old[1].kind: is missing"),
        (old(kind="tile", density="heavy"), "stripping.old[1].density: "),
        ("[stripping]\npatching = -1\n", "stripping.patching: -1 must be more than"),
    ],
)
def test_what_makes_no_sense_is_one_line(more: str, says: str) -> None:
    with pytest.raises(BadJob) as caught:
        solved(more)
    (line,) = caught.value.lines()
    assert line.startswith(f"snug.toml: {says}"), line
