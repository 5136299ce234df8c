"""Letter and A4: any demo goes on them, divided where it must be, and reads well."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.set import DrawingSet
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_dxf
from shopdraw.output.readback import read_back
from shopdraw.pipeline import build
from shopdraw.solution import Solution
from tests.demos import solution_of
from tests.views.lettering import collisions_on, crossings
from tests.views.strings import ids_of


def on_paper(solution: Solution, size: str) -> Solution:
    job = solution.job
    sheet = job.sheet.model_copy(update={"size": size, "scale": None})
    return replace(solution, job=job.model_copy(update={"sheet": sheet}))


@cache
def small(demo: str, size: str) -> DrawingSet:
    return build(on_paper(solution_of(demo), size))


SETS = [("library-hearth", "ANSI A"), ("metric-slips", "A4")]
cases = pytest.mark.parametrize(("demo", "size"), SETS)


def parts_of(drawn: DrawingSet) -> list[Drawing]:
    return [
        each.drawing for sheet in drawn.sheets for each in sheet.drawings
        if each.drawing.part is not None
    ]  # fmt: skip


@cases
def test_a_small_set_stands_upright_and_its_elevation_is_divided(
    demo: str, size: str
) -> None:
    drawn = small(demo, size)
    assert all(sheet.width < sheet.height for sheet in drawn.sheets)
    assert {x.name for x in parts_of(drawn)} >= {"elevation"}


@cases
def test_every_piece_is_on_some_part_and_no_other_is(demo: str, size: str) -> None:
    drawn = small(demo, size)
    found = {x for sheet in drawn.sheets for each in sheet.drawings
             for x in ids_of(each.drawing)}  # fmt: skip
    assert found == {piece.id for piece in solution_of(demo).pieces}


@cases
def test_lettering_is_clear_of_lettering_and_of_lines(demo: str, size: str) -> None:
    for sheet in small(demo, size).sheets:
        assert collisions_on(sheet) == []
        for each in sheet.drawings:
            assert crossings(each.drawing) == []


def damages(drawing: Drawing) -> list[Drawing]:
    """Return a part with its first ink left out, and its first unit."""
    inserts = [x for x in drawing.ink if type(x).__name__ == "Insert"]
    return [
        replace(drawing, ink=tuple(x for x in drawing.ink if x is not gone))
        for gone in (drawing.ink[0], inserts[0])
    ]


@cases
def test_the_file_of_a_part_holds_what_the_solution_says_and_no_less(
    demo: str, size: str
) -> None:
    drawn = small(demo, size)
    place = next(
        n for n, sheet in enumerate(drawn.sheets)
        if sheet.drawings[0].drawing.name == "elevation"
    )  # fmt: skip
    sheet, expected = drawn.sheets[place], drawn.expected[place]

    def said_of(found: Drawing) -> tuple[str, ...]:
        first, *others = sheet.drawings
        changed = (replace(first, drawing=found), *others)
        there = read_back(write_dxf(replace(sheet, drawings=changed), drawn.form))
        return compare(there, expected, drawn.lengths, drawn.form)

    part = sheet.drawings[0].drawing
    assert said_of(part) == ()
    for wrong in damages(part):
        assert said_of(wrong)
