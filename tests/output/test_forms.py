"""Layers by other names, an older release, some sheets alone: read with ezdxf, GDAL."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import ezdxf
import pyogrio
import pytest

from shopdraw.catalog.rows import layer_names, layer_namings
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.set import DrawingSet, FileForm
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_dxf
from shopdraw.output.readback import read_back
from shopdraw.output.write import make_files

NAMES = {layer.name for layer in LAYERS}
OFFICE = {"A-ELEV-OTLN": "OFFICE-OUTLINE", "VIEWPORTS": "OFFICE-VIEWS"}


@pytest.mark.parametrize("naming", layer_namings(), ids=lambda naming: naming.name)
def test_a_naming_has_every_layer_of_the_set_each_once(naming: object) -> None:
    pairs = dict(naming.names)  # type: ignore[attr-defined]
    assert set(pairs) == NAMES
    assert len(set(pairs.values())) == len(NAMES)


def test_iso_13567_names_have_agent_element_and_presentation_in_fixed_width() -> None:
    """ISO 13567: two, six and two signs, without separators (from memory)."""
    for _, called in layer_names("ISO 13567", {}):
        assert len(called) == 2 + 6 + 2
        assert called.startswith("A-")
        assert called[8] in "EHDTB"


def layers_used(data: bytes) -> set[str]:
    """Return the layers of every entity, those in blocks too, as ezdxf reads them."""
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    return {
        entity.dxf.layer
        for entity in document.entitydb.values()
        if entity.dxf.hasattr("layer")
    } - {"0"}


@pytest.mark.parametrize("naming", ["NCS", "ISO 13567"])
def test_a_file_knows_its_layers_by_the_names_asked_for_alone(
    library_set: DrawingSet, naming: str
) -> None:
    form = FileForm(layers=layer_names(naming, OFFICE))
    sheet = library_set.sheets[1]
    data = write_dxf(sheet, form)
    called = dict(form.layers)
    plain = layers_used(write_dxf(sheet))
    assert layers_used(data) == {called.get(name, name) for name in plain}
    assert compare(read_back(data), library_set.expected[1], "in", form) == ()
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    assert not document.audit().has_issues
    for layer in LAYERS:
        row = document.layers.get(called.get(layer.name, layer.name))
        assert row.dxf.lineweight == round(layer.pen_mm * 100)


def test_a_layer_left_under_its_old_name_is_noticed(library_set: DrawingSet) -> None:
    data = write_dxf(library_set.sheets[1], FileForm(layers=layer_names("NCS", OFFICE)))
    damaged = data.replace(b"OFFICE-OUTLINE", b"A-ELEV-OTLN")
    assert "A-ELEV-OTLN" in layers_used(damaged)


def counts(data: bytes, path: Path) -> dict[str, int]:
    """Count what GDAL reads, by layer, but for tinted areas."""
    path.write_bytes(data)
    pyogrio.set_gdal_config_options({"DXF_INLINE_BLOCKS": False})
    meta, _, _, columns = pyogrio.raw.read(path, layer="entities")
    table = dict(zip(meta["fields"], columns, strict=True))
    found: dict[str, int] = {}
    for layer, kinds in zip(table["Layer"], table["SubClasses"], strict=True):
        if "Hatch" not in kinds:
            found[layer] = found.get(layer, 0) + 1
    return found


def test_the_older_release_holds_the_same(
    library_set: DrawingSet, tmp_path: Path
) -> None:
    """AC1015 is R2000 in the DXF reference's header table."""
    for sheet, expected in zip(library_set.sheets, library_set.expected, strict=True):
        form = FileForm("R2000")
        older, newer = write_dxf(sheet, form), write_dxf(sheet)
        assert b"AC1015" in older[:200]
        assert b"AC1024" in newer[:200]
        assert compare(read_back(older), expected, "in", form) == ()
        path = tmp_path / "sheet.dxf"
        assert counts(older, path) == counts(newer, path)
        document = ezdxf.read(io.StringIO(older.decode("ascii")))
        assert not document.audit().has_issues
        hatches = document.modelspace().query("HATCH")
        assert not any(hatch.dxf.solid_fill for hatch in hatches)


def test_some_sheets_alone_keep_their_numbers(library_set: DrawingSet) -> None:
    picked = library_set.picked(("returns", "story-pole"))
    assert [sheet.number for sheet in picked.sheets] == [3, 4, 5]
    files = make_files(picked)
    assert "story-pole.pdf" in files
    assert [x for x in files if x.startswith("sheets/")] == [
        f"sheets/{name}.{kind}"
        for name in ("A-301-returns", "A-302-section", "A-303-plans")
        for kind in ("dxf", "png")
    ]
    assert make_files(replace(picked, papers=())).keys() == files.keys() - {
        "story-pole.pdf"
    }


def test_the_names_of_a_set_pick_all_of_it(drawing_set: DrawingSet) -> None:
    assert drawing_set.picked(drawing_set.names) == drawing_set
