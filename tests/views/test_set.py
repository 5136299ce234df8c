"""The set is composed in projection, at the scale asked for, and says what is in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import with_sheets
from shopdraw.drawing.ink import Drawing, Fill, Hatch, Insert, Stroke, Words
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import (
    SCALES,
    STYLES,
    Placement,
    Sheet,
    content_of,
    goes_into,
    size_on_paper,
)
from shopdraw.drawing.titles import titled
from shopdraw.solution import Solution
from shopdraw.views import sights
from shopdraw.views.every import every_view
from shopdraw.views.general import LEGEND
from shopdraw.views.purposes import SAWN_LISTS
from shopdraw.views.seen_from import Sight, sights_on
from shopdraw.views.set import compose_sheets
from shopdraw.views.sights import with_sights
from shopdraw.views.wall.elevation import draw_elevation
from tests.demos import set_of, solution_of


def placed(sheet: Sheet) -> dict[str, Placement]:
    return {each.drawing.name: each.placement for each in sheet.drawings}


UPRIGHTS = {
    "elevation",
    "return-left",
    "return-right",
    "reveal-left",
    "reveal-right",
    "upright-section",
}
"""The views whose y is the level from the datum."""


def off_level(sheet: Sheet) -> set[str]:
    """Name the upright views of a sheet that stand beside one but off its levels."""
    found = [
        (name, placement)
        for name, placement in placed(sheet).items()
        if name in UPRIGHTS
    ]
    return {
        name
        for name, one in found
        for _, other in found
        if one.scale == other.scale
        and one.window[1] < other.window[3]
        and other.window[1] < one.window[3]
        and abs(one.to_paper((0, 0))[1] - other.to_paper((0, 0))[1]) > 1e-6
    }


def test_what_stands_beside_one_another_stands_on_the_same_levels(
    drawing_set: DrawingSet,
) -> None:
    for sheet in drawing_set.sheets:
        assert off_level(sheet) == set()


def test_a_return_off_its_levels_is_noticed() -> None:
    sheet = next(
        x for x in set_of("library-hearth").sheets if "return-left" in placed(x)
    )
    drawings = []
    for each in sheet.drawings:
        x, y = each.placement.on_paper
        up = 0.1 * (each.drawing.name == "return-left")
        moved = replace(each.placement, on_paper=(x, y + up))
        drawings.append(replace(each, placement=moved))
    wrong = replace(sheet, drawings=tuple(drawings))
    assert off_level(wrong) == {"return-left", "return-right"}


ALONG = {"elevation", "plan", "extension"}
"""The views whose x is 0 at the finished left end of the front, by their first word."""
FROM_HEARTH = {"hearth-plan", "riser-front"}
"""Those whose x is 0 at the left end of a hearth in brick."""


def off_verticals(sheet: Sheet, from_front: Fraction | None = None) -> set[str]:
    """Name the views along the front that stand off the verticals of another.

    Args:
        sheet: to be looked at.
        from_front: of a hearth in brick, where the front's left end lies from its own.
    """
    found = [
        (name, one, (0.0 if name.split("-")[0] in ALONG else float(from_front or 0), 0))
        for name, one in placed(sheet).items()
        if name in FROM_HEARTH or name.split("-")[0] in ALONG
    ]
    return {
        name
        for (name, one, at), (_, other, end) in product(found, found)
        if one.scale == other.scale
        and abs(one.to_paper(at)[0] - other.to_paper(end)[0]) > 1e-6
    }


def test_views_along_the_front_lie_on_its_verticals(
    solution: Solution, drawing_set: DrawingSet
) -> None:
    hearth = solution.hearth
    from_front = None if hearth is None else hearth.ground.from_front
    for sheet in drawing_set.sheets:
        assert off_verticals(sheet, from_front) == set()


def test_a_view_a_sixteenth_off_its_verticals_is_noticed() -> None:
    sheet = next(
        x for x in set_of("chimney-breast-gas").sheets if "extension" in placed(x)
    )
    drawings = []
    for each in sheet.drawings:
        x, y = each.placement.on_paper
        along = 1 / 16 / each.placement.scale * (each.drawing.name == "extension")
        moved = replace(each.placement, on_paper=(x + along, y))
        drawings.append(replace(each, placement=moved))
    wrong = replace(sheet, drawings=tuple(drawings))
    assert off_verticals(wrong) == {"plan-1", "plan-2", "extension"}


def parted(drawing_set: DrawingSet) -> list[str]:
    """Name the pairs, of left and right, of which one is on another sheet."""
    on: dict[tuple[str, str], set[int]] = {}
    for number, sheet in enumerate(drawing_set.sheets):
        for name in placed(sheet):
            pair, _, side = name.rpartition("-")
            if side in ("left", "right"):
                on.setdefault((pair, side), set()).add(number)
    return [
        pair
        for pair, side in on
        if side == "left" and on.get((pair, "right")) != on[pair, side]
    ]


def test_a_left_one_and_a_right_one_are_on_one_sheet(drawing_set: DrawingSet) -> None:
    assert parted(drawing_set) == []


def test_a_pair_on_two_sheets_is_noticed() -> None:
    drawn = set_of("splayed-parlour")
    jambs = next(x for x in drawn.sheets if "reveal-left" in placed(x))
    alone = [x for x in jambs.drawings if x.drawing.name != "reveal-right"]
    other = [x for x in jambs.drawings if x.drawing.name == "reveal-right"]
    sheets = (
        replace(jambs, drawings=tuple(alone)),
        replace(jambs, drawings=tuple(other)),
    )
    assert parted(replace(drawn, sheets=sheets)) == ["reveal"]


def divided_for_nothing(drawing_set: DrawingSet) -> list[str]:
    """Name what goes on in the column of a sheet that it began in."""
    return [
        f"{sheet.identity}: {name}"
        for sheet in drawing_set.sheets
        for name, there in placed(sheet).items()
        if name.endswith("-on")
        and (above := placed(sheet).get(name.removesuffix("-on"))) is not None
        and abs(above.window[0] - there.window[0]) < 1e-6
    ]


def test_notes_go_on_only_in_another_column(drawing_set: DrawingSet) -> None:
    assert divided_for_nothing(drawing_set) == []


def test_notes_divided_in_one_column_are_noticed() -> None:
    drawn = set_of("common-sitting-room")
    (sheet,) = (x for x in drawn.sheets if "notes-on" in placed(x))
    first = placed(sheet)["notes"]
    moved = tuple(
        replace(x, placement=first) if x.drawing.name == "notes-on" else x
        for x in sheet.drawings
    )
    damaged = replace(drawn, sheets=(replace(sheet, drawings=moved),))
    assert divided_for_nothing(damaged) == [f"{sheet.identity}: notes-on"]


def test_a_plan_below_the_front_lies_below_it(drawing_set: DrawingSet) -> None:
    (sheet,) = (x for x in drawing_set.sheets if "elevation" in x.shows)
    views = placed(sheet)
    below = [views[x] for x in views if x == "plan-1"]
    for plan in below:
        assert plan.window[3] < views["elevation"].window[1]


JOINING = {"plan-1", "return-left", "return-right", "upright-section"}


@pytest.mark.parametrize(
    ("demo", "size", "scale", "joined"),
    [
        ("library-hearth", "", 4, set()),
        ("library-hearth", "", 8, {"plan-1"}),
        # Both returns are wider together than what is left; the section is not.
        ("library-hearth", "", 12, {"plan-1", "upright-section"}),
        ("library-hearth", "ANSI D", 12, JOINING),
        ("raised-hearth", "", 12, {"plan-1", "upright-section"}),
    ],
)
def test_plan_then_returns_then_section_join_the_front_as_there_is_room(
    demo: str, size: str, scale: int, joined: set[str]
) -> None:
    solution = solution_of(demo)
    job = solution.job
    wanted = {"scale": Fraction(scale), "size": size or job.sheet.size}
    sheet = job.sheet.model_copy(update=wanted)
    small = replace(solution, job=job.model_copy(update={"sheet": sheet}))
    (found,) = (x for x in compose_sheets(small) if "elevation" in x.shows)
    assert off_level(found) == set()
    first = {"plan-1", *UPRIGHTS} - {"elevation"}
    assert set(placed(found)) & first == joined


def test_no_larger_scale_holds_the_front(
    solution: Solution, drawing_set: DrawingSet
) -> None:
    job = solution.job
    if job.sheet.scale is not None:
        return
    (sheet,) = (x for x in drawing_set.sheets if "elevation" in x.shows)
    scale = placed(sheet)["elevation"].scale
    content = content_of(sheet.width, sheet.height, STYLES[job.lengths])
    larger = [x for x, _ in SCALES[job.scales] if 1 < x < scale]
    for each in larger[-1:]:
        every = {view.name: n for n, view in enumerate(every_view(solution), start=1)}
        front = with_sights(solution, draw_elevation(solution, each), every)
        front = titled(front, 1, job.lengths, job.scales)
        assert not goes_into(size_on_paper(front), content)


def test_the_index_lists_the_sheets_that_are_there(drawing_set: DrawingSet) -> None:
    first = drawing_set.sheets[0]
    (index,) = (x.drawing for x in first.drawings if x.drawing.name == "index")
    said = [text for text in texts(index) if text not in ("SHEET", "WHAT IS ON IT")]
    assert drawing_set.picture is not None
    sheets = (*drawing_set.sheets, drawing_set.picture)
    assert said[1::2][: len(sheets)] == [number_of(sheet) for sheet in sheets]
    assert said[2::2][: len(sheets)] == [sheet.title for sheet in sheets]
    assert said[2 * len(sheets) + 1 :] in ([], ["", ""])


def number_of(sheet: Sheet) -> str:
    """Return what the title block says that the sheet's number is."""
    words = [each.text for each in sheet.paper_ink if isinstance(each, Words)]
    name = "SHEET" if "SHEET" in words else "SHEET NUMBER"
    return words[words.index(name) + 1]


def test_sheets_are_numbered_by_what_they_are_for() -> None:
    numbers = [number_of(sheet) for sheet in set_of("library-hearth").sheets]
    assert numbers[:3] == ["A-001", "A-201", "A-301"]
    assert len(set(numbers)) == len(numbers)


def texts(drawing: Drawing) -> list[str]:
    return [each.text for each in drawing.ink if hasattr(each, "text")]


def unkeyed(drawing_set: DrawingSet) -> list[tuple[str, int]]:
    """Name the views where a bubble has no sheet, and how many of these each has."""
    counted = [
        (each.drawing.name, texts(each.drawing).count("-"))
        for sheet in drawing_set.sheets
        for each in sheet.drawings
        if each.drawing.title
    ]
    return [(name, count) for name, count in counted if count]


def test_every_view_is_marked_where_it_is_cut_and_every_mark_has_its_view(
    drawing_set: DrawingSet,
) -> None:
    # The front is cut nowhere: it is what the set begins with.
    assert unkeyed(drawing_set) == [("elevation", 1)]


def test_a_view_without_its_mark_and_a_mark_without_its_view_are_noticed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fewer(solution: Solution, name: str) -> Iterator[Sight]:
        return (x for x in sights_on(solution, name) if x.view != "top-edge")

    solution = solution_of("library-hearth")
    with monkeypatch.context() as patch:
        patch.setattr(sights, "sights_on", fewer)
        drawn = replace(set_of("library-hearth"), sheets=compose_sheets(solution))
    assert unkeyed(drawn) == [("elevation", 1), ("top-edge", 1)]
    found = set_of("library-hearth")
    details = next(x for x in found.sheets if "details" in x.shows)
    asked = with_sheets(
        with_sights(solution, draw_elevation(solution, 8.0), {"top-edge": 99}),
        {"drawn": {}, "cut": {}},
    )
    shown = replace(details.drawings[0], drawing=replace(asked, title="X"))
    wrong = replace(found, sheets=(replace(details, drawings=(shown,)),))
    assert unkeyed(wrong) == [("elevation", 1)]


UNEXPLAINED = {
    layers.NOTES,
    layers.TABLES,
    layers.DIMENSIONS,
    layers.BORDER,
    layers.MARKS,
}
"""Layers of lettering, and of what explains itself."""


def without_a_sample(drawing_set: DrawingSet) -> set[str]:
    """Name what is drawn and has no sample in the legend: layers, tints, hatches."""
    return explained(drawing_set)[0] - UNEXPLAINED


def sampled_alone(drawing_set: DrawingSet) -> set[str]:
    """Name what the legend has a sample of, and the set nowhere else."""
    return explained(drawing_set)[1] - UNEXPLAINED


def explained(drawing_set: DrawingSet) -> tuple[set[str], set[str]]:
    """Return what is drawn and not in the legend, and the other way round."""
    drawings = [x.drawing for sheet in drawing_set.sheets for x in sheet.drawings]
    legend = next(x for x in drawings if x.name == LEGEND)
    others = set().union(*(drawn_on(x) for x in drawings if x.name != LEGEND))
    return others - drawn_on(legend), drawn_on(legend) - others


def drawn_on(drawing: Drawing) -> set[str]:
    """Return layers of lines, of tints, names of hatches, clouds, and EQ if said."""
    lines = [x.layer for x in drawing.ink if isinstance(x, Stroke)]
    lines += [f"tint on {x.layer}" for x in drawing.ink if isinstance(x, Fill)]
    lines += [x.pattern for x in drawing.ink if isinstance(x, Hatch)]
    lines += [
        "cloud"
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == layers.NOTES and len(x.points) > 40
    ]
    units = [x.layer for x in drawing.ink if isinstance(x, Insert)]
    inside = [x.layer for symbol in drawing.symbols for x in symbol.strokes]
    said = " ".join(x.text for x in drawing.ink if isinstance(x, Words)).split()
    return {*lines, *units, *inside, *({"EQ"} & set(said))}


def test_the_legend_has_a_sample_of_every_line(drawing_set: DrawingSet) -> None:
    assert without_a_sample(drawing_set) == set()


def test_the_legend_has_no_sample_of_what_is_nowhere(drawing_set: DrawingSet) -> None:
    assert sampled_alone(drawing_set) == set()


def test_a_line_without_a_sample_is_noticed() -> None:
    drawn = set_of("library-hearth")
    first, *others = drawn.sheets
    less = replace(
        first,
        drawings=tuple(
            replace(
                each,
                drawing=replace(
                    each.drawing,
                    ink=tuple(
                        ink
                        for ink in each.drawing.ink
                        if not (isinstance(ink, Stroke) and ink.layer == layers.CUTS)
                    ),
                ),
            )
            for each in first.drawings
        ),
    )
    assert without_a_sample(replace(drawn, sheets=(less, *others))) == {layers.CUTS}


def test_a_tint_a_hatch_and_a_line_too_many_are_noticed() -> None:
    drawn = set_of("library-hearth")
    first, *others = drawn.sheets
    box = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))
    for ink, name in (
        (Fill(layers.MATCH, box), f"tint on {layers.MATCH}"),
        (Hatch(layers.PATTERN, box, "DOTTED", 1.0), "DOTTED"),
        (Stroke(layers.MATCH, box), layers.MATCH),
    ):
        views = others[0].drawings
        more = replace(
            views[0],
            drawing=replace(views[0].drawing, ink=(*views[0].drawing.ink, ink)),
        )
        sheet = replace(others[0], drawings=(more, *views[1:]))
        wrong = replace(drawn, sheets=(first, sheet, *others[1:]))
        assert without_a_sample(wrong) == {name}
        legends = tuple(
            replace(each, drawing=replace(each.drawing, ink=(*each.drawing.ink, ink)))
            if each.drawing.name == LEGEND
            else each
            for each in first.drawings
        )
        wrong = replace(drawn, sheets=(replace(first, drawings=legends), *others))
        assert sampled_alone(wrong) == {name}


@pytest.mark.parametrize(
    "name",
    ["banded-breast", "raised-hearth", "library-hearth", "segmental-kitchen"],
)
def test_a_sheet_is_named_by_the_lists_of_what_is_sawn_that_are_on_it(
    name: str,
) -> None:
    """The cut plan and the saw's stops may go on to a sheet of their own."""
    for sheet in set_of(name).sheets:
        names = [x.drawing.name for x in sheet.drawings]
        listed = [
            word
            for name, word in SAWN_LISTS.items()
            if any(each.startswith(name) for each in names)
        ]
        named = [word for word in SAWN_LISTS.values() if word in sheet.title]
        is_several = len(listed) > 1
        assert ("SAWYER'S LISTS" in sheet.title) is is_several, sheet.title
        assert named == ([] if is_several else listed), sheet.title
