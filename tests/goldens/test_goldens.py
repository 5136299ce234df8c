"""Every layout, and two demos' views, stroke by stroke, are as they were looked at."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from shopdraw.drawing.ink import Drawing, Ink, Insert, Measure, Stroke, Symbol, Words
from shopdraw.drawing.moving import moved
from tests.conftest import DEMOS
from tests.demos import set_of, solution_of
from tests.goldens.keeping import FOLDER, differences
from tests.goldens.lines import detail_lines, layout_lines, view_lines

VIEWED = ("library-hearth", "segmental-kitchen")
"""Corner units, soldiers, woodwork; an arch, its voussoirs, shapes sawn to it."""


def views_of(demo: str) -> Iterator[Drawing]:
    """Yield the drawings that are views of the masonry: tables and notes have no title.

    The bare drawing is one.
    """
    drawn = set_of(demo)
    for sheet in drawn.sheets:
        yield from (x.drawing for x in sheet.drawings if x.drawing.title)
    yield drawn.bare


def lines_of(demo: str) -> dict[str, list[str]]:
    solution = solution_of(demo)
    lines = {"layout": layout_lines(demo, solution.layout)}
    if solution.hearth is not None:
        lines["hearth"] = layout_lines(demo, solution.hearth.layout)
    if demo in VIEWED:
        views = [*views_of(demo)]
        details = [view for view in views if view.name.startswith("details")]
        lines["details"] = detail_lines(details)
        for view in (x for x in views if x not in details):
            assert view.name not in lines
            lines[view.name] = view_lines(view)
    return lines


def test_a_demo_is_laid_and_drawn_as_its_goldens_have_it(
    demo: str, golden: Callable[..., None]
) -> None:
    golden(demo, lines_of(demo))


def test_no_golden_is_of_a_demo_that_is_gone() -> None:
    assert {path.parent.name for path in FOLDER.glob("*/*.txt")} == {*DEMOS}


# ---------------------------------------------------------------------------- damage


def front() -> Drawing:
    return next(views_of("library-hearth"))


def first(kind: type[Ink], layer: str = "") -> Ink:
    return next(x for x in front().ink if isinstance(x, kind) and layer in x.layer)


def told(old: Ink, *new: Ink) -> list[str]:
    """Return what is said of the front with one piece of its ink put otherwise."""
    view = front()
    ink = [x for each in view.ink for x in (new if each is old else (each,))]
    assert len(ink) == len(view.ink) - 1 + len(new)
    return said(replace(view, ink=tuple(ink)))


def said(view: Drawing) -> list[str]:
    kept = (FOLDER / "library-hearth" / "elevation.txt").read_text("utf-8").splitlines()
    return differences("library-hearth/elevation", kept, view_lines(view))


def test_a_point_moved_by_a_sixteenth_is_told_with_view_and_layer() -> None:
    opening = first(Stroke, "A-ELEV-OTLN")
    assert isinstance(opening, Stroke)
    (x, y), *others = opening.points
    (line,) = told(opening, replace(opening, points=((x + 1 / 16, y), *others)))
    kind = "closed" if opening.closed else "open"
    assert line.startswith(f"library-hearth/elevation: A-ELEV-OTLN  {kind}: (")
    assert line.endswith(" found")
    assert line.count(" expected, (") == 1
    assert line.split(": ")[2] == (
        f"({x:g}, {y:g}) expected, ({round(x + 1 / 16 + 1e-7, 3):g}, {y:g}) found"
    )


def test_a_stroke_on_another_layer_is_told_with_both() -> None:
    opening = first(Stroke, "A-ELEV-OTLN")
    (line,) = told(opening, replace(opening, layer="A-ELEV-HIDD"))
    assert line.endswith(": A-ELEV-OTLN expected, A-ELEV-HIDD found")


def test_a_stroke_left_out_and_one_too_many_are_told() -> None:
    opening = first(Stroke, "A-ELEV-OTLN")
    (line,) = told(opening)
    assert line.startswith("library-hearth/elevation: A-ELEV-OTLN  ")
    assert line.endswith("): expected, not found")
    (line,) = told(opening, opening, Stroke("A-SECT-MCUT", ((1.0, 2.0), (3.0, 4.5))))
    added = "A-SECT-MCUT  open  (1, 2) (3, 4.5): found, not expected"
    assert line == f"library-hearth/elevation: {added}"


def test_a_figure_an_id_and_the_outline_of_a_symbol_are_held() -> None:
    figure = first(Measure)
    assert isinstance(figure, Measure)
    (line,) = told(figure, replace(figure, words="9 in"))
    assert line.endswith(f"dimension {figure.words} expected, dimension 9 in found")
    unit = first(Insert, "A-ELEV-MSNR")
    assert isinstance(unit, Insert)
    other = tuple(replace(x, text="F-99-99") for x in unit.tags if x.name == "ID")
    (line,) = told(unit, replace(unit, tags=other))
    assert line.endswith("F-99-99 found")
    (line,) = told(unit, replace(unit, at=(unit.at[0], unit.at[1] + 1 / 16)))
    assert " expected, (" in line
    view = front()
    symbol, *symbols = view.symbols
    stroke, *strokes = symbol.strokes
    shifted = replace(stroke, points=(*stroke.points[:-1], (0.125, 9.0)))
    wrong = Symbol(symbol.name, (shifted, *strokes), symbol.tag_names)
    (line,) = said(replace(view, symbols=(wrong, *symbols)))
    assert f"of {symbol.name}: (" in line
    assert line.endswith(" expected, (0.125, 9) found")


def test_a_detail_is_held_by_its_mark_wherever_it_stands() -> None:
    demo = "segmental-kitchen"
    page, *more = [x for x in views_of(demo) if x.name.startswith("details")]
    kept = (FOLDER / demo / "details.txt").read_text("utf-8").splitlines()

    def apart(ink: tuple[Ink, ...]) -> list[str]:
        return differences("x", kept, detail_lines([replace(page, ink=ink), *more]))

    assert apart(tuple(moved(x, (3.0, -7.5)) for x in page.ink)) == []
    cut = next(x for x in page.ink if isinstance(x, Stroke) and "CUTM" in x.layer)
    off = moved(cut, (1 / 16, 0.0))
    (line,) = apart(tuple(off if x is cut else x for x in page.ink))
    assert re.match(r"x: [BCSRV]\d+  A-ELEV-MSNR-CUTM: \(.*\) expected, \(", line)


def test_words_are_nobody_elses_business() -> None:
    words = first(Words)
    assert isinstance(words, Words)
    assert told(words, replace(words, text="OTHERWISE")) == []


def test_a_piece_wrongly_kept_is_told_with_its_id() -> None:
    kept = (FOLDER / "library-hearth" / "layout.txt").read_text("utf-8")
    made = layout_lines("library-hearth", solution_of("library-hearth").layout)
    where = "front 22 3/8, 10 7/8, 26, 13 1/8"
    assert kept.count(where) == 1
    damaged = kept.replace(where, where.replace("10 7/8", "10 15/16")).splitlines()
    (line,) = differences("library-hearth/layout", damaged, made)
    assert line.startswith("library-hearth/layout: F-05-02  B2  stretcher  course 5")
    other = where.replace("10 7/8", "10 15/16")
    assert line.endswith(f": {other} expected, {where} found")
    assert differences("x", kept.splitlines(), made) == []
    assert differences("x", made[::-1], made) == ["x: the same lines in another order"]
    assert differences("x", kept.splitlines(), made[:-40])[-1] == "x: and 28 more"


def test_halves_of_a_thousandth_go_up_whatever_floating_point_did_to_them() -> None:
    for x in (22.0625, 22.0625 - 1e-9, 22.0625 + 1e-9):
        assert view_lines(Drawing("", "", 1.0, (Stroke("A", ((x, -x),)),))) == [
            "A  open  (22.063, -22.062)"
        ]
    ink = (Stroke("A", ((-1e-9, 100.0),)),)
    assert view_lines(Drawing("", "", 1.0, ink)) == ["A  open  (0, 100)"]
