"""A picture and its DXF show the same ink, as an independent renderer has the DXF.

ezdxf's own drawing add-on renders the saved file's layout, lettered in the font of our
pictures. Held against our picture of the same sheet dot by dot, both ways: all but
twelve dots of any square of 25 have ink of the other's within a dot (1/150 in).

Two sheets are held so: the elevation; the returns. Details have ink of
the same kinds, and tables are lettering.
"""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache
from unittest.mock import patch

import ezdxf
import numpy as np
import pytest
from ezdxf.fonts import fonts
from matplotlib.axes import Axes
from PIL import Image

from shopdraw.drawing.ink import Ink, Insert, Measure
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.sheets import Sheet
from shopdraw.output import image
from shopdraw.output.dxf import write_dxf
from shopdraw.output.plot import font_file
from tests.demos import set_of, sheet_of
from tests.longer import mostly_long
from tests.render import picture_of

DEMO, DPI, TILE, MAY_DIFFER = "library-hearth", 150, 25, 12


def inked(picture: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(picture)).convert("L")) < 235


@cache
def rendered(number: int) -> np.ndarray:
    """Return the ink of a saved sheet."""
    sheet = set_of(DEMO).sheets[number]
    document = ezdxf.read(io.StringIO(write_dxf(sheet).decode()))
    fonts.font_manager.scan_folder(font_file().parent)
    for style in document.styles:
        style.dxf.font = font_file().name
    # The page is as large as its sheet: how far the ink reaches is not asked for.
    with patch.object(Axes, "_update_patch_limits"):
        return inked(picture_of(document))


def ours(sheet: Sheet, monkeypatch: pytest.MonkeyPatch) -> np.ndarray:
    """Return the ink of our picture.

    Dashes are drawn whole, as by the renderer: each would begin them otherwise.
    """
    monkeypatch.setattr(image, "DASHES", {})
    return inked(image.write_png(sheet, DPI))


def apart(ink: np.ndarray, by: np.ndarray) -> int:
    """Return how many dots of a small square the other has no ink near, at the most."""
    near = by.copy()
    for axis in (0, 1):
        near |= np.roll(near, 1, axis) | np.roll(near, -1, axis)
    bare = ink & ~near
    high, wide = (size - size % TILE for size in bare.shape)
    squares = bare[:high, :wide].reshape(high // TILE, TILE, wide // TILE, TILE)
    return int(squares.sum(axis=(1, 3)).max())


def differ(number: int, sheet: Sheet, monkeypatch: pytest.MonkeyPatch) -> bool:
    """Whether our picture of a sheet differs from the DXF of one of the set."""
    mine, other = ours(sheet, monkeypatch), rendered(number)
    return max(apart(other, mine), apart(mine, other)) > MAY_DIFFER


@pytest.mark.parametrize("number", mostly_long((1, 2), 1))
def test_picture_and_dxf_show_the_same_ink(
    number: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert not differ(number, set_of(DEMO).sheets[number], monkeypatch)


def with_ink(sheet: Sheet, ink: tuple[Ink, ...]) -> Sheet:
    """Return a sheet whose first drawing is of other ink."""
    placed, *others = sheet.drawings
    changed = replace(placed, drawing=replace(placed.drawing, ink=ink))
    return replace(sheet, drawings=(changed, *others))


def test_a_unit_that_moves_an_eighth_of_an_inch_is_seen(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    sheet = sheet_of(DEMO)
    ink = list(sheet.drawings[0].drawing.ink)
    index = next(i for i, each in enumerate(ink) if isinstance(each, Insert))
    x, y = ink[index].at
    for shift in ((0.125, 0.0), (0.0, 0.125)):
        ink[index] = replace(ink[index], at=(x + shift[0], y + shift[1]))
        assert differ(1, with_ink(sheet, tuple(ink)), monkeypatch)


def test_a_dimension_left_out_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    sheet = sheet_of(DEMO)
    ink = sheet.drawings[0].drawing.ink
    first = next(each for each in ink if isinstance(each, Measure))
    less = tuple(each for each in ink if each is not first)
    assert differ(1, with_ink(sheet, less), monkeypatch)


def without(sheet: Sheet, layer: str) -> Sheet:
    """Return a sheet less all that is on one layer."""

    def kept(ink: object) -> bool:
        return getattr(ink, "layer", None) != layer

    drawings = []
    for placed in sheet.drawings:
        symbols = tuple(
            replace(symbol, strokes=tuple(filter(kept, symbol.strokes)))
            for symbol in placed.drawing.symbols
        )
        ink = [
            replace(
                each,
                tags=tuple(
                    tag
                    if tag.words is None or kept(tag.words)
                    else replace(tag, words=None)
                    for tag in each.tags
                ),
            )
            if isinstance(each, Insert)
            else each
            for each in placed.drawing.ink
            if isinstance(each, Insert) or kept(each)
        ]
        drawing = replace(placed.drawing, ink=tuple(ink), symbols=symbols)
        drawings.append(replace(placed, drawing=drawing))
    paper = tuple(each for each in sheet.paper_ink if kept(each))
    return replace(sheet, drawings=tuple(drawings), paper_ink=paper)


def layers_of(sheet: Sheet) -> list[str]:
    """Return the layers that print, and that a sheet has ink on."""

    def marks(one: Sheet) -> int:
        symbols = (
            x for p in one.drawings for s in p.drawing.symbols for x in s.strokes
        )
        ink = (x for p in one.drawings for x in p.drawing.ink)
        return sum(1 for _ in (*symbols, *ink, *one.paper_ink))

    return [
        layer.name
        for layer in LAYERS
        if layer.plots and marks(without(sheet, layer.name)) < marks(sheet)
    ]


def test_a_layer_that_is_dropped_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a sheet of elevations, which has most of them."""
    number = 3
    sheet = set_of(DEMO).sheets[number]
    layers = layers_of(sheet)
    assert len(layers) > 5
    for layer in layers:
        assert differ(number, without(sheet, layer), monkeypatch), layer
