"""Reading back: what it finds, and that each kind of damage is said in words."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import ezdxf
import pytest

from shopdraw.drawing.expected import Expected, ExpectedInsert, ExpectedMeasure, Trace
from shopdraw.drawing.ink import (
    Drawing,
    Fill,
    Insert,
    Measure,
    Stroke,
    Symbol,
    Tag,
    Words,
)
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_bare_dxf
from shopdraw.output.groups import take_apart
from shopdraw.output.readback import read_back

RING = ((0.0, 0.0), (8.0, 0.0), (8.0, 2.0), (0.0, 2.0))
SYMBOL = Symbol("BOX-A", (Stroke("A-ELEV-MSNR", RING, closed=True),), ("ID", "MARK"))


def box(name: str, x: float, y: float) -> Insert:
    mark = Words("A-ELEV-MSNR-IDEN", (x + 4, y + 1), "A", 0.1, "centre", "middle")
    tags = (Tag("ID", name), Tag("MARK", "A", mark))
    return Insert("A-ELEV-MSNR", "BOX-A", (x, y), tags)


DRAWING = Drawing(
    name="boxes",
    title="BOXES",
    scale=4.0,
    ink=(
        box("X-1", 0.0, 0.0),
        box("X-2", 8.5, 3.0),
        Fill("A-SECT-MCUT", ((0, 9), (1, 9), (1, 10))),
        Measure("A-ANNO-DIMS", (0, 0), (16.5, 3), "x", -3.0, "1'-4 1/2\"", 0.09375),
        Measure("A-ANNO-DIMS", (0, 0), (0, 5), "y", -3.0, '5"', 0.09375),
        Words("A-ANNO-NOTE", (0, -8), "AT $5 TO $10, 100 %", 0.09375),
    ),
    symbols=(SYMBOL,),
)


def ring_at(x: float, y: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + 8.0, y), (x + 8.0, y + 2.0), (x, y + 2.0))


EXPECTED = Expected(
    inserts=(
        ExpectedInsert((("ID", "X-1"), ("MARK", "A")), ring_at(0, 0)),
        ExpectedInsert((("ID", "X-2"), ("MARK", "A")), ring_at(8.5, 3)),
    ),
    measures=(ExpectedMeasure(16.5, "1'-4 1/2\""), ExpectedMeasure(5.0, '5"')),
    words=("AT $5 TO $10, 100 %",),
    lines=(
        Trace("A-ELEV-MSNR", "closed", ring_at(0, 0)),
        Trace("A-ELEV-MSNR", "closed", ring_at(8.5, 3)),
        Trace("A-SECT-MCUT", "fill", ((0, 9), (1, 9), (1, 10))),
    ),
)


def test_a_drawing_is_found_as_it_was_put_down() -> None:
    data = write_bare_dxf(DRAWING, "in")
    found, parts = read_back(data), take_apart(data)
    assert compare(found, EXPECTED) == ()
    assert [insert.block for insert in found.inserts] == ["BOX-A", "BOX-A"]
    assert [insert.at for insert in found.inserts] == [(0, 0), (8.5, 3)]
    assert [measure.recorded for measure in found.measures] == [16.5, 5.0]
    assert parts.header["$INSUNITS"] == ((70, 1),)
    layers = [x.first(2) for x in parts.tables if x.kind == "LAYER"]
    assert "A-ELEV-MSNR-CUTM" in layers
    assert found.viewports == ()


def test_a_unit_in_two_parts_of_a_view_is_found_in_both() -> None:
    """As a match line has it that runs through the unit, both parts on one sheet."""
    twice = replace(DRAWING, ink=(*DRAWING.ink, box("X-1", 40.0, 0.0)))
    found = read_back(write_bare_dxf(twice, "in"))
    first, second = EXPECTED.inserts
    third = replace(first, outline=ring_at(40, 0))
    lines = (*EXPECTED.lines, Trace("A-ELEV-MSNR", "closed", ring_at(40, 0)))
    both = replace(EXPECTED, inserts=(first, third, second), lines=lines)
    assert compare(found, both) == ()
    astray = replace(first, outline=ring_at(41, 0))
    wrong = replace(both, inserts=(first, astray, second))
    assert [x.split(" at ")[0] for x in compare(found, wrong)] == ["X-1 is drawn"]
    once = read_back(write_bare_dxf(DRAWING, "in"))
    assert "X-1 is drawn 1 time" in compare(once, both)


def damaged(change: Callable[[Any], object]) -> tuple[str, ...]:
    document = ezdxf.read(io.StringIO(write_bare_dxf(DRAWING, "in").decode("ascii")))
    change(document)
    stream = io.StringIO()
    document.write(stream)
    return compare(read_back(stream.getvalue().encode("ascii")), EXPECTED)


def first(document: Any, kind: str) -> Any:
    return next(iter(document.modelspace().query(kind)))


def set_dxf(kind: str, **values: object) -> Callable[[Any], None]:
    def change(document: Any) -> None:
        for name, value in values.items():
            first(document, kind).dxf.set(name, value)

    return change


def copy_insert(document: Any) -> None:
    space = document.modelspace()
    space.add_entity(first(document, "INSERT").copy())


def stretch_block(document: Any) -> None:
    outline = first_in_block(document)
    outline.set_points([(0, 0), (8.001, 0), (8.001, 2), (0, 2)])


def first_in_block(document: Any) -> Any:
    return next(iter(document.blocks.get("BOX-A").query("LWPOLYLINE")))


def open_block(document: Any) -> None:
    first_in_block(document).closed = False


def reword_dimension(document: Any) -> None:
    block = document.blocks.get(first(document, "DIMENSION").dxf.geometry)
    next(iter(block.query("TEXT"))).dxf.text = "1'-4\""


DAMAGE: dict[str, tuple[Callable[[Any], object], str]] = {
    "deleted": (
        lambda d: d.modelspace().delete_entity(first(d, "INSERT")),
        "X-1 should be drawn but is not",
    ),
    "copied": (copy_insert, "X-1 is drawn 2 times"),
    "moved": (set_dxf("INSERT", insert=(0.0, 2e-6)), "X-1 is drawn at"),
    "scaled": (set_dxf("INSERT", xscale=1.01), "X-1 is drawn at"),
    "turned": (set_dxf("INSERT", rotation=90.0), "X-1 is drawn at"),
    "block stretched": (stretch_block, "X-2 is drawn at"),
    "block opened": (open_block, "X-1 is drawn at ()"),
    "tag changed": (
        lambda d: set_tag(d, "MARK", "B"),
        "X-1 has tags {'ID': 'X-1', 'MARK': 'B'}",
    ),
    "ID changed": (lambda d: set_tag(d, "ID", "X-9"), "X-9 is drawn but should not be"),
    "dimension moved": (
        set_dxf("DIMENSION", defpoint3=(16.4, 3.0)),
        "is 16.4 long, should be 16.5",
    ),
    "record of the dimension changed": (
        set_dxf("DIMENSION", actual_measurement=16.0),
        "is 16.0 long, should be 16.5",
    ),
    "dimension typed over": (
        set_dxf("DIMENSION", text='2"'),
        'a dimension drawn anew reads 2", should',
    ),
    "dimension reworded": (reword_dimension, "a dimension reads 1'-4\", should"),
    "dimension deleted": (
        lambda d: d.modelspace().delete_entity(first(d, "DIMENSION")),
        "there are 1 dimensions, should be 2",
    ),
    "words changed": (
        set_dxf("TEXT", text="AT $6"),
        '"AT $6" is lettered but should not be',
    ),
    "words deleted": (
        lambda d: d.modelspace().delete_entity(first(d, "TEXT")),
        "should be lettered but is not",
    ),
}


def set_tag(document: Any, name: str, text: str) -> None:
    first(document, "INSERT").get_attrib(name).dxf.text = text


@pytest.mark.parametrize("damage", DAMAGE)
def test_damage_is_said_in_words(damage: str) -> None:
    change, complaint = DAMAGE[damage]
    differences = damaged(change)
    assert any(complaint in line for line in differences), differences


def test_an_unharmed_copy_has_no_differences() -> None:
    assert damaged(lambda _: None) == ()


def test_a_ring_may_begin_at_any_corner() -> None:
    first_one, second = EXPECTED.inserts
    turned = replace(first_one, outline=first_one.outline[2:] + first_one.outline[:2])
    expected = replace(EXPECTED, inserts=(turned, second))
    assert compare(read_back(write_bare_dxf(DRAWING, "in")), expected) == ()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"  0\nSECTION\n  2\n", "cut off"),
        (b"nonsense\nHEADER\n  0\nEOF\n", "line 1 is no group code: nonsense"),
        (b"9\n  0\nEOF\n", "a code without a value"),
        ("  0\n\u00e9\n".encode(), "sign 4 is not ASCII"),
        (b" 10\nhere\n  0\nEOF\n", "line 2 is no number: here"),
        (b"  0\nEOF\n", "its sections are none"),
        (b"  0\nLINE\n  0\nEOF\n", "LINE stands where it can't"),
    ],
)
def test_what_is_no_dxf_is_refused(data: bytes, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        read_back(data)


def test_lettering_beyond_ascii_is_refused() -> None:
    words = Words("A-ANNO-NOTE", (0, 0), "10 mm \u00b1 1", 0.1)
    with pytest.raises(ValueError, match="ascii"):
        write_bare_dxf(replace(DRAWING, ink=(words,)), "mm")


def test_a_filled_area_is_a_tint_there_too() -> None:
    document = ezdxf.read(io.StringIO(write_bare_dxf(DRAWING, "in").decode("ascii")))
    hatch = first(document, "HATCH")
    assert hatch.dxf.solid_fill == 1
    assert hatch.transparency == pytest.approx(0.75, abs=0.01)
    assert list(document.audit().errors) == []
