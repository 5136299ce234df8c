"""Hatched areas: their lines on paper, in the DXF file, and read by others."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from math import hypot

import ezdxf
import pyogrio
import pytest
import shapely
from shapely import from_wkb

from shopdraw.drawing.hatching import PATTERNS, Line, lines_in
from shopdraw.drawing.ink import Drawing, Hatch, PatternName
from shopdraw.drawing.moving import moved
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_bare_dxf
from shopdraw.output.readback import read_back
from tests.demos import set_of, solution_of

# An L, so that a line may leave it and come back.
CORNERS = ((0.0, 0.0), (9.0, 0.0), (9.0, 3.0), (4.0, 3.0), (4.0, 7.0), (0.0, 7.0))
AREA = shapely.Polygon(CORNERS)


def hatched(pattern: PatternName, inch: float = 1.0) -> Hatch:
    return Hatch("A-ELEV-MSNR-PATT", CORNERS, pattern, inch)


def long(lines: tuple[Line, ...]) -> float:
    return sum(hypot(c - a, d - b) for (a, b), (c, d) in lines)


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("inch", [0.8, 3.0])
def test_every_line_is_inside_the_outline(pattern: PatternName, inch: float) -> None:
    lines = lines_in(hatched(pattern, inch))
    assert lines
    inside = AREA.buffer(1e-9)
    assert all(inside.contains(shapely.LineString(line)) for line in lines)


@pytest.mark.parametrize(
    ("pattern", "apart"),
    # Lines 1/8 in apart; two ways; dashes that take half of each line.
    [("DIAGONAL", 0.125), ("CROSSED", 0.0625), ("BROKEN", 0.25)],
)
def test_lines_are_as_far_apart_as_they_are_to_be(
    pattern: PatternName, apart: float
) -> None:
    assert long(lines_in(hatched(pattern))) == pytest.approx(AREA.area / apart, rel=0.1)
    twice = long(lines_in(hatched(pattern, 2.0)))
    assert twice == pytest.approx(AREA.area / apart / 2, rel=0.1)


def test_dots_are_as_many_as_they_are_to_be() -> None:
    # One for each 3/32 in along each row; rows are 3/32 in apart.
    count = len(lines_in(hatched("DOTTED")))
    assert count == pytest.approx(AREA.area * (32 / 3) ** 2, rel=0.05)


def test_a_hatch_that_is_moved_is_the_same_there() -> None:
    # Off the pattern's own lines, so that none lies along an edge.
    points = tuple((x + 0.0137, y + 0.0071) for x, y in CORNERS)
    hatch = replace(hatched("CONCRETE"), points=points)
    there = moved(hatch, (100.0, 50.0))
    assert isinstance(there, Hatch)
    pairs = zip(lines_in(hatch), lines_in(there), strict=True)
    for one, other in pairs:
        for (a, b), (c, d) in zip(one, other, strict=True):
            assert (c - a, d - b) == pytest.approx((100.0, 50.0))


def test_two_areas_of_one_origin_match_at_their_edge() -> None:
    left = replace(hatched("DIAGONAL"), points=((0, 0), (4, 0), (4, 3), (0, 3)))
    right = replace(left, points=((4, 0), (9, 0), (9, 3), (4, 3)))
    whole = replace(left, points=((0, 0), (9, 0), (9, 3), (0, 3)))
    parts = [shapely.LineString(x) for x in (*lines_in(left), *lines_in(right))]
    joined = shapely.union_all(parts).buffer(1e-6)
    assert all(joined.contains(shapely.LineString(x)) for x in lines_in(whole))


# ----------------------------------------------------------------------- in the file


def bare(hatch: Hatch) -> Drawing:
    return Drawing("one", "", 1.0, (hatch,))


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_file_has_a_pattern_that_others_read(pattern: PatternName) -> None:
    data = write_bare_dxf(bare(hatched(pattern)), "in")
    # A library that has nothing to do with the one that wrote it.
    meta, _, shapes, columns = pyogrio.raw.read(data, layer="entities")
    table = dict(zip(meta["fields"], columns, strict=True))
    assert "Hatch" in table["SubClasses"][0]
    assert table["Text"][0] == pattern
    assert from_wkb(shapes[0]).equals(AREA)
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    (hatch,) = document.modelspace().query("HATCH")
    assert not hatch.dxf.solid_fill
    assert len(hatch.pattern.lines) == len(PATTERNS[pattern])
    assert not document.audit().has_issues


Damage = Callable[[Hatch], Hatch]
DAMAGES: dict[str, Damage] = {
    "another pattern": lambda x: replace(x, pattern="CROSSED"),
    "lines further apart": lambda x: replace(x, inch=1.1 * x.inch),
    "a corner that is off": lambda x: replace(x, points=((0.1, 0.0), *x.points[1:])),
    "another layer": lambda x: replace(x, layer="A-ELEV-HIDD"),
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_wrong_hatch_is_found_in_the_file(damage: str) -> None:
    drawn = set_of("library-hearth")
    sheet = next(
        place
        for place, sheet in enumerate(drawn.sheets)
        if any(isinstance(x, Hatch) for p in sheet.drawings for x in p.drawing.ink)
    )
    expected = drawn.expected[sheet]
    hatches = [x for x in expected.lines if x.kind == "hatch"]
    assert hatches
    good, wrong = hatched("DIAGONAL"), DAMAGES[damage](hatched("DIAGONAL"))
    found, meant = (read_back(write_bare_dxf(bare(x), "in")) for x in (wrong, good))
    alone = replace(
        expected,
        inserts=(), measures=(), words=(), viewports=(), paper_lines=(),
        paper_words=(), lines=meant.lines,
    )  # fmt: skip
    assert compare(meant, alone) == ()
    assert len(compare(found, alone)) == 2


def test_a_wall_is_hatched_by_what_it_is_made_of() -> None:
    patterns: dict[str, PatternName] = {
        "masonry": "DIAGONAL",
        "concrete": "CONCRETE",
        "board": "DOTTED",
        "unknown": "BROKEN",
    }
    from shopdraw.views.every import every_view
    from tests.views.jobs import with_job

    solution = solution_of("library-hearth")
    seen = []
    for kind, pattern in patterns.items():
        other = with_job(solution, substrate={"kind": kind})
        for view in every_view(other):
            hatches = [x for x in view.draw(8.0).ink if isinstance(x, Hatch)]
            # Besides the wall only what nobody said anything of is hatched.
            assert {x.pattern for x in hatches} <= {pattern, "BROKEN", "CROSSED"}
            seen += [view.name] if any(x.pattern == pattern for x in hatches) else []
    assert {"upright-section", "head-section", "jamb-plan", "plan-1"} <= {*seen}
