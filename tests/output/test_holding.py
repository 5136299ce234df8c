"""Every kind of damage to a sheet is found, and a file that is cut off is refused."""

from __future__ import annotations

import random
import re
from dataclasses import replace
from functools import cache

import pytest

from shopdraw.drawing.set import DrawingSet, FileForm
from shopdraw.errors import NotProved
from shopdraw.output.dxf import write_bare_dxf, write_dxf
from shopdraw.output.groups import take_apart
from shopdraw.output.holding import hold
from shopdraw.output.spelling_file import spell_bare, spell_sheet
from shopdraw.output.write import make_dxf_files, make_files, prove_files, sheet_stem
from tests.demos import set_of
from tests.longer import mostly_long
from tests.output.damages import DAMAGES, DxfFile, damaged
from tests.output.systematic import Harmed, every, said_of, small

DEMO = "library-hearth"


@cache
def files() -> dict[str, bytes]:
    return make_dxf_files(set_of(DEMO))


def test_there_are_kinds_enough() -> None:
    assert len(DAMAGES) >= 55


@pytest.mark.parametrize("kind", DAMAGES)
def test_every_kind_of_damage_is_found(kind: str) -> None:
    said = damaged(kind, set_of(DEMO), files())
    # Where there is nothing to be harmed so, the kind would be held by nothing.
    assert said, kind
    assert all(line.startswith("sheets/") for line in said)


def test_sheets_and_the_bare_drawing_are_as_they_must_be() -> None:
    drawn = set_of(DEMO)
    for sheet in drawn.sheets:
        parts = take_apart(files()[f"{sheet_stem(sheet)}.dxf"])
        assert hold(parts, spell_sheet(sheet, drawn.form)) == ()
    bare = take_apart(files()["surround.dxf"])
    words = drawn.drawn_from.words
    spelled = spell_bare(drawn.bare, drawn.lengths, drawn.form, words)
    assert hold(bare, spelled) == ()
    other = replace(spelled, comments=("shopdraw 0.1.0 / 000000000000",))
    (said,) = hold(bare, other)
    assert said.startswith(f"its comment says {words}, should say")


NAMED = tuple(
    (name, other)
    for name, other in (("A-ELEV-MSNR", "UNITS"), ("A-ANNO-NOTE", "A-ELEV-MSNR"))
)
FORMS = [FileForm("R2000"), FileForm("R2010", NAMED), FileForm("R2000", NAMED)]


@pytest.mark.parametrize("form", FORMS, ids=["old", "renamed", "old, renamed"])
@pytest.mark.parametrize("demo", mostly_long((DEMO, "metric-slips"), "metric-slips"))
def test_the_other_forms_of_a_file_are_held_too(demo: str, form: FileForm) -> None:
    drawn = set_of(demo)
    for sheet in drawn.sheets[:2]:
        assert hold(take_apart(write_dxf(sheet, form)), spell_sheet(sheet, form)) == ()
        others = spell_sheet(sheet, drawn.form)
        assert hold(take_apart(write_dxf(sheet, form)), others) != ()
    bare = take_apart(write_bare_dxf(drawn.bare, drawn.lengths, form))
    assert hold(bare, spell_bare(drawn.bare, drawn.lengths, form)) == ()


EACH = 6
"""So many places of each kind are harmed here; the benchmark harms some 6,500."""


@pytest.mark.parametrize("form", FORMS[:2], ids=["old", "new"])
def test_a_file_is_held_in_every_place(form: FileForm) -> None:
    sheet = small(set_of(DEMO).sheets[1])
    data, wanted = write_dxf(sheet, form), spell_sheet(sheet, form)
    assert hold(take_apart(data), wanted) == ()
    kinds: dict[str, list[Harmed]] = {}
    for harmed in every(data):
        kinds.setdefault(harmed[0], []).append(harmed)
    assert len(kinds) >= 35
    chance = random.Random(22)
    for some in kinds.values():
        for kind, what, entities in chance.sample(some, min(EACH, len(some))):
            assert said_of(entities, wanted), f"{kind}: {what}"


def test_what_is_no_variable_class_or_object_of_ours_is_named() -> None:
    sheet = small(set_of(DEMO).sheets[1])
    data, wanted = write_dxf(sheet), spell_sheet(sheet)
    changes = {
        b"$MIRRTEXT\n 70\n1": "$MIRRTEXT is 0, should be 1",
        b"$TIMEZONE": "there is a variable $TIMEZONX, which should not be",
        b"AcDbSun": "class AcDbSun in the class table is otherwise: ",
        b"3\nGlobal": "there is no object /ACAD_MATERIAL/Global",
        b"2\nHATCHBACKGROUNDCOLOR": "the name of application HATCHBACKGROUNDCOLOR in ",
    }
    for old, words in changes.items():
        assert data.count(old) == 1
        new = old[:-1] + (b"0" if old.endswith(b"1") else b"X")
        said = hold(take_apart(data.replace(old, new)), wanted)
        assert any(line.startswith(words) for line in said), (words, said)


def places() -> list[int]:
    """Return where a sheet's file is cut: at its sections' borders, and anywhere."""
    data = files()[first_sheet(set_of(DEMO))]
    borders = [x.start() for x in re.finditer(rb"  0\n(SECTION|ENDSEC|EOF)\n", data)]
    chance = random.Random(20)
    anywhere = chance.sample(range(len(data)), 60)
    ends = range(len(data) - 8, len(data))
    return sorted({0, *borders, *anywhere, *ends})


def first_sheet(drawn: DrawingSet) -> str:
    return f"{sheet_stem(drawn.sheets[1])}.dxf"


def test_a_file_that_is_cut_anywhere_is_refused_in_words() -> None:
    data = files()[first_sheet(set_of(DEMO))]
    take_apart(data)
    for place in places():
        with pytest.raises(ValueError, match="is cut off"):
            take_apart(data[:place])


@pytest.mark.usefixtures("coarse")
def test_a_set_with_a_file_that_is_cut_off_is_not_published() -> None:
    drawn = set_of(DEMO).picked((set_of(DEMO).sheets[1].identity,))
    whole = make_files(drawn)
    prove_files(drawn, whole)
    for each in (first_sheet(set_of(DEMO)), "surround.dxf"):
        half = whole[each][: len(whole[each]) // 2]
        with pytest.raises(NotProved) as refused:
            prove_files(drawn, {**whole, each: half})
        (said,) = refused.value.lines()
        assert said.startswith(f"{each} can't be read back: ")


def test_every_line_of_a_file_may_be_nonsense_and_is_refused_in_words() -> None:
    drawn = set_of(DEMO)
    name = first_sheet(drawn)
    lines = files()[name].decode("ascii").split("\n")
    spelled = spell_sheet(drawn.sheets[1], drawn.form)
    chance = random.Random(21)
    for place in chance.sample(range(len(lines) - 1), 60):
        data = "\n".join((*lines[:place], "?", *lines[place + 1 :])).encode()
        try:
            said = hold(take_apart(data), spelled)
        except ValueError as error:
            said = (str(error),)
        assert all("argument" not in x and "invalid" not in x for x in said)


def test_many_differences_are_told_in_few_lines() -> None:
    drawn = set_of(DEMO)
    file = DxfFile(files()[first_sheet(drawn)])
    for entity in [*file.drawn("LWPOLYLINE")]:
        file.drop(entity)
    said = hold(take_apart(file.data()), spell_sheet(drawn.sheets[1], drawn.form))
    assert len(said) < 60
    assert re.search(r"model space: \d+ more of a line", " ".join(said))
