"""Every line of a sheet is held against the solution: damage of each kind is found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from shopdraw.drawing.expected import Expected, Trace
from shopdraw.drawing.ink import Drawing, Fill, Ink, Stroke
from shopdraw.drawing.set import FileForm
from shopdraw.drawing.sheets import Sheet
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_bare_dxf, write_dxf
from shopdraw.output.readback import read_back
from shopdraw.views.expected.built import BUILT
from tests.demos import set_of, sheet_of

SIXTEENTH = 1 / 16
Entity = list[tuple[int, str]]
"""The groups of one entity of the file, its kind first."""


@cache
def written(demo: str, sheet: int) -> bytes:
    drawn = set_of(demo)
    return write_dxf(drawn.sheets[sheet], drawn.form)


def place_of(name: str, demo: str = "library-hearth") -> int:
    """Return the place of the first sheet that a drawing is on."""
    return next(
        place
        for place, sheet in enumerate(set_of(demo).sheets)
        if any(each.drawing.name == name for each in sheet.drawings)
    )


def damaged(
    shows: str, change: Callable[[list[Entity]], None], demo: str = "library-hearth"
) -> tuple[str, ...]:
    """Return what is said of a drawing's sheet, its file changed group by group."""
    drawn, sheet = set_of(demo), place_of(shows, demo)
    lines = written(demo, sheet).decode("ascii").split("\n")
    entities: list[Entity] = []
    for code, value in zip(lines[::2], lines[1::2], strict=False):
        if int(code) == 0:
            entities.append([])
        entities[-1].append((int(code), value))
    change(entities)
    text = "".join(f"{code}\n{value}\n" for each in entities for code, value in each)
    found = read_back(text.encode("ascii"))
    return compare(found, drawn.expected[sheet], drawn.lengths, drawn.form)


def first(entity: Entity, code: int) -> str:
    return next((value for got, value in entity if got == code), "")


def lines_on(
    entities: list[Entity], layer: str, kind: str = "LWPOLYLINE"
) -> list[Entity]:
    return [x for x in entities if first(x, 0) == kind and first(x, 8) == layer]


def last_on(entities: list[Entity], layer: str) -> Entity:
    """Return the last line on a layer, or the last hatched area."""
    return (lines_on(entities, layer) or lines_on(entities, layer, "HATCH"))[-1]


def translate(entity: Entity, by: float, code: int = 10) -> None:
    entity[:] = [
        (got, f"{float(value) + by}" if got == code else value) for got, value in entity
    ]


def put(entity: Entity, code: int, new: str) -> None:
    entity[:] = [(got, new if got == code else value) for got, value in entity]


def test_a_sheet_as_it_was_written_has_no_difference() -> None:
    for sheet in set_of("library-hearth").sheets:
        name = sheet.drawings[0].drawing.name
        assert damaged(name, lambda _: None) == ()


LAYERS = [
    ("elevation", "A-ELEV-OTLN"), ("elevation", "A-ELEV-MSNR-CORN"),
    ("elevation", "A-ELEV-OTHR-E"), ("elevation", "A-ELEV-CNTR"),
    ("plan-1", "A-SECT-MCUT"), ("plan-1", "A-ELEV-MSNR-PATT"),
    ("upright-section", "A-ELEV-MSNR"), ("details-1", "A-ELEV-MSNR-CUTM"),
    ("findings", "A-ANNO-SCHD"), ("details-1", "A-ELEV-HIDD"),
]  # fmt: skip


@pytest.mark.parametrize(("shows", "layer"), LAYERS)
def test_a_line_left_out_off_or_on_another_layer_is_found(
    shows: str, layer: str
) -> None:
    def left_out(entities: list[Entity]) -> None:
        entities.remove(last_on(entities, layer))

    def off(entities: list[Entity]) -> None:
        translate(last_on(entities, layer), SIXTEENTH)

    def moved(entities: list[Entity]) -> None:
        put(last_on(entities, layer), 8, "A-ANNO-NOTE")

    (said,) = damaged(shows, left_out)
    assert said.startswith(f"{layer}: ")
    assert said.endswith("should be drawn but is not")
    assert [x.startswith(f"{layer}: ") for x in damaged(shows, off)] == [True, True]
    names = sorted(x.partition(": ")[0] for x in damaged(shows, moved))
    assert names == sorted(["A-ANNO-NOTE", layer])


def lines_of(entities: list[Entity]) -> list[Entity]:
    """Return the lines that stand in model space and on the layout, in no block."""
    start = entities.index(next(x for x in entities if first(x, 2) == "ENTITIES"))
    return [x for x in entities[start:] if first(x, 0) == "LWPOLYLINE"]


def test_every_line_left_out_is_found() -> None:
    counts = []

    def change(entities: list[Entity]) -> None:
        lines = lines_of(entities)
        counts.append(len(lines))
        gone = {id(line) for line in lines}
        entities[:] = [x for x in entities if id(x) not in gone]

    said = damaged("details-1", change)
    assert len(said) == counts[0] > 100


def test_every_line_three_inches_off_is_found() -> None:
    counts = []

    def change(entities: list[Entity]) -> None:
        counts.append(len(lines_of(entities)))
        for line in lines_of(entities):
            translate(line, 3.0)

    # Some come to lie where another was; the rest is told twice, as gone and as new.
    assert len(damaged("details-1", change)) > 1.5 * counts[0]


def test_a_tint_left_out_is_found() -> None:
    def change(entities: list[Entity]) -> None:
        entities.remove(lines_on(entities, "A-SECT-MCUT", "HATCH")[0])

    (said,) = damaged("plan-1", change)
    assert "A-SECT-MCUT: a filled area through" in said


def test_a_line_of_a_block_that_is_off_is_found_at_every_insert() -> None:
    def change(entities: list[Entity]) -> None:
        block = next(
            place
            for place, x in enumerate(entities)
            if first(x, 0) == "BLOCK" and first(x, 2) == "U-B"
        )
        line = next(x for x in entities[block:] if first(x, 0) == "LWPOLYLINE")
        translate(line, SIXTEENTH, 20)

    said = damaged("elevation", change)
    assert sum(x.startswith("A-ELEV-MSNR: an outline") for x in said) > 20


def test_a_viewport_left_out_or_moved_is_found() -> None:
    def windows(entities: list[Entity]) -> list[Entity]:
        views = [x for x in entities if first(x, 0) == "VIEWPORT"]
        return [x for x in views if first(x, 69) != "1"]

    def left_out(entities: list[Entity]) -> None:
        entities.remove(windows(entities)[0])

    def moved(entities: list[Entity]) -> None:
        translate(windows(entities)[0], SIXTEENTH)

    def scaled(entities: list[Entity]) -> None:
        translate(windows(entities)[0], 0.5, 45)

    for change in (left_out, moved, scaled):
        (said,) = damaged("elevation", change)
        assert "viewport" in said


def test_a_border_and_a_word_of_the_title_block_left_out_are_found() -> None:
    def border(entities: list[Entity]) -> None:
        on_paper = [x for x in lines_of(entities) if first(x, 67) == "1"]
        entities.remove(next(x for x in on_paper if first(x, 8) == "A-ANNO-TTLB"))

    def word(entities: list[Entity]) -> None:
        words = [x for x in entities if first(x, 0) == "TEXT"]
        entities.remove(next(x for x in words if first(x, 67) == "1"))

    (said,) = damaged("elevation", border)
    assert said.startswith("A-ANNO-TTLB: ")
    (said,) = damaged("elevation", word)
    assert said.endswith("should be lettered but is not")


# ----------------------------------------------------- wrong ink, rightly written


def redrawn(sheet: Sheet, change: Callable[[Ink], Ink | None]) -> Sheet:
    """Return a sheet with the first ink changed that can be; the rest as it is."""
    done = False

    def drawing_of(drawing: Drawing) -> Drawing:
        nonlocal done
        ink: list[Ink] = []
        for each in drawing.ink:
            new = each if done else change(each)
            done = done or new is not each
            ink += [] if new is None else [new]
        return replace(drawing, ink=tuple(ink))

    drawings = tuple(
        replace(placed, drawing=drawing_of(placed.drawing)) for placed in sheet.drawings
    )
    assert done
    return replace(sheet, drawings=drawings)


def is_built(ink: Ink) -> bool:
    return isinstance(ink, Stroke | Fill) and ink.layer in BUILT


def moved_up(ink: Ink) -> Ink:
    if not is_built(ink) or not isinstance(ink, Stroke | Fill):
        return ink
    return replace(ink, points=tuple((x, y + SIXTEENTH) for x, y in ink.points))


def left_out(ink: Ink) -> Ink | None:
    return None if is_built(ink) else ink


def on_another_layer(ink: Ink) -> Ink:
    if not is_built(ink) or not isinstance(ink, Stroke | Fill):
        return ink
    return replace(ink, layer="A-ELEV-HIDD")


@pytest.mark.parametrize("change", [moved_up, left_out, on_another_layer])
@pytest.mark.parametrize("shows", ["elevation", "plan-1", "details-1"])
def test_wrong_ink_of_what_is_built_is_found_though_it_is_written_as_it_is(
    shows: str, change: Callable[[Ink], Ink | None]
) -> None:
    drawn, sheet = set_of("library-hearth"), place_of(shows)
    wrong = redrawn(drawn.sheets[sheet], change)
    found = read_back(write_dxf(wrong, drawn.form))
    said = compare(found, drawn.expected[sheet], drawn.lengths, drawn.form)
    assert any("should be drawn but is not" in x for x in said)


# --------------------------------------------------------------------- the comparison


def held(found: Trace, wanted: Trace, form: FileForm | None = None) -> tuple[str, ...]:
    """Return what is said of a file that holds one line and should hold another."""
    drawing = Drawing("x", "", 1.0, (_ink(found),))
    there = read_back(write_bare_dxf(drawing, "in", form or FileForm()))
    expected = Expected((), (), (), lines=(wanted,))
    return compare(there, expected, "in", form or FileForm())


def _ink(trace: Trace) -> Ink:
    if trace.kind == "fill":
        return Fill(trace.layer, trace.points)
    return Stroke(trace.layer, trace.points, trace.kind == "closed")


RING = ((0.0, 0.0), (8.0, 0.0), (8.0, 2.0), (0.0, 2.0))
OPEN = ((0.0, 0.0), (8.0, 0.0), (8.0, 2.0))


@pytest.mark.parametrize("kind", ["closed", "fill"])
def test_a_ring_is_the_same_from_any_corner_either_way_round(kind: Any) -> None:
    ring = Trace("A-ELEV-OTLN", kind, RING)
    for points in ((*RING[2:], *RING[:2]), RING[::-1]):
        assert held(ring, Trace("A-ELEV-OTLN", kind, points)) == ()


def test_a_line_is_the_same_from_either_end_and_no_ring() -> None:
    line = Trace("A-ELEV-OTLN", "open", OPEN)
    assert held(line, Trace("A-ELEV-OTLN", "open", OPEN[::-1])) == ()
    assert len(held(line, Trace("A-ELEV-OTLN", "closed", OPEN))) == 2
    turned = (*OPEN[1:], OPEN[0])
    assert len(held(line, Trace("A-ELEV-OTLN", "open", turned))) == 2


def test_a_point_on_the_edge_of_two_places_of_the_grid_is_no_difference() -> None:
    # 0.125 in is twelve and a half places: either neighbour of the grid is it.
    near = tuple((x + 0.1250001, y) for x, y in RING)
    far = tuple((x + 0.1249999, y) for x, y in RING)
    line = Trace("A-ELEV-OTLN", "closed", near)
    assert held(line, Trace("A-ELEV-OTLN", "closed", far)) == ()


def test_lines_are_counted() -> None:
    line = Trace("A-ELEV-OTLN", "closed", RING)
    found = read_back(write_dxf(sheet_of("library-hearth")))
    twice = Expected((), (), (), lines=(line, line))
    once = replace(found, lines=(line,), inserts=(), measures=(), words=())
    once = replace(once, paper_lines=(), paper_words=(), viewports=())
    assert len(compare(once, twice)) == 1
    assert compare(replace(once, lines=(line, line)), twice) == ()


def test_an_older_file_is_not_asked_for_tints_and_layers_may_be_called_otherwise() -> (
    None
):
    fill = Trace("A-SECT-MCUT", "fill", RING)
    outline = Trace("A-ELEV-OTLN", "closed", RING)
    named = FileForm(layers=(("A-ELEV-OTLN", "OFFICE-OUTLINE"),))
    assert held(outline, outline, named) == ()
    older = FileForm(release="R2000")
    expected = Expected((), (), (), lines=(fill, outline))
    drawing = Drawing("x", "", 1.0, (_ink(fill), _ink(outline)))
    found = read_back(write_bare_dxf(drawing, "in", older))
    assert compare(found, expected, "in", older) == ()
    assert len(compare(found, expected, "in", FileForm())) == 1
