"""Every piece is marked where it can be read, led out, or falls under a rule."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations, pairwise, product
from math import dist

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Ink, Insert, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import STYLES, Sheet
from shopdraw.masonry.wall.layout import OF_AN_ARCH
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.expected.built import FACE_OF_VIEW, HEARTH_VIEWS
from shopdraw.views.general import LED, LEGEND, _marked, draw_legend
from shopdraw.views.parts.phrases import courses_said
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.wall.returns import draw_return
from tests.demos import elevation_of, sheet_of, solution_of
from tests.longer import mostly_long
from tests.old_houses import seeded
from tests.random_arches import make_arch
from tests.views.lettering import collisions, crossings
from tests.views.marks_read import LED as LED_OUT
from tests.views.marks_read import courses_of, is_whole, without_mark


def on_view(solution: Solution, drawing: Drawing) -> list[str]:
    """Return the pieces that a view of brick leaves without a mark."""
    least = STYLES[solution.lengths].text
    if drawing.name in FACE_OF_VIEW:
        face = FACE_OF_VIEW[drawing.name]
        dx = -float(solution.surround.face(face).left)
        return without_mark(drawing, solution.layout.pieces, face, dx, least)
    hearth = solution.hearth
    if drawing.name not in HEARTH_VIEWS or hearth is None:
        return []
    dx = 0.0
    if drawing.name != "hearth-plan" and hearth.riser is not None:
        name = drawing.name.removeprefix("riser-")
        dx = -float(hearth.riser.surround.face(name).left)
    face = HEARTH_VIEWS[drawing.name]
    return without_mark(drawing, hearth.layout.pieces, face, dx, least)


def test_every_piece_of_a_demo_has_its_mark(
    solution: Solution, drawing_set: DrawingSet
) -> None:
    views = [x.drawing for sheet in drawing_set.sheets for x in sheet.drawings]
    read = [x for x in views if x.name in {*FACE_OF_VIEW, *HEARTH_VIEWS}]
    assert "elevation" in {x.name for x in read}
    for drawing in read:
        assert on_view(solution, drawing) == []


SMALL = (
    "jack-arch-parlour", "crooked-study", "flemish-breast", "chimney-breast-gas",
    "chamfered-breast", "library-hearth",
)  # fmt: skip
CROWDED = ("library-hearth", 16.0), ("crooked-study", 16.0), ("jack-arch-parlour", 12.0)
SMALLER = (*SMALL, "segmental-kitchen", "semicircular-dining-room", "banded-breast")
STRUCK = {("segmental-kitchen", 16.0): [('3 3/4"', layers.NOTES)]}
"""Left, at a scale that no sheet of it is given: the skewback's leader and a figure."""


@pytest.mark.parametrize(
    ("demo", "scale"),
    mostly_long((*product(SMALL, [12.0]), *product(SMALLER, [16.0])), *CROWDED),
)
def test_small_brick_are_led_out_and_nothing_is_crowded(
    demo: str, scale: float
) -> None:
    solution = solution_of(demo)
    drawing = elevation_of(demo, scale)
    assert on_view(solution, drawing) == []
    assert collisions(drawing) == []
    assert crossings(drawing) == STRUCK.get((demo, scale), [])


def astray(drawing: Drawing) -> int:
    """Count where leaders cross one another."""
    return sum(a.crosses(b) for a, b in combinations(leaders(drawing), 2))


def leaders(drawing: Drawing) -> list[shapely.LineString]:
    return [
        shapely.LineString(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == layers.NOTES and len(x.points) == 2
    ]


@pytest.mark.parametrize("demo", ["jack-arch-parlour", "segmental-kitchen"])
def test_no_leader_of_a_mark_crosses_another(demo: str) -> None:
    assert astray(elevation_of(demo, 8.0)) == 0


def test_leaders_that_cross_are_counted() -> None:
    ends = (((0.0, 0.0), (2.0, 2.0)), ((0.0, 2.0), (2.0, 0.0)))
    ink = tuple(Stroke(layers.NOTES, each) for each in ends)
    assert astray(Drawing("e", "", 1.0, ink)) == 1


def touching(drawing: Drawing) -> list[str]:
    """Return the lettering that a leader comes nearer to than a third of its height."""
    lines = shapely.STRtree(leaders(drawing))
    return [
        words.text
        for words, box in lettering_of(drawing)
        for far in [0.35 * words.height_on_paper * drawing.scale]
        if len(lines.query(shapely.box(*box), "dwithin", far))
    ]


@pytest.mark.parametrize("demo", ["segmental-kitchen", "semicircular-dining-room"])
def test_no_leader_runs_right_beside_lettering_where_there_is_room(demo: str) -> None:
    drawing = elevation_of(demo, 8.0)
    assert touching(drawing) == []
    line = leaders(drawing)[0]
    words = Words(layers.NOTES, line.coords[0], "NOTE", STYLES["in"].text)
    assert touching(replace(drawing, ink=(*drawing.ink, words))) == ["NOTE"]


def across_the_arch(solution: Solution, drawing: Drawing) -> int:
    """Count the leaders that begin on ordinary brick and run over a voussoir."""
    dx = -float(solution.surround.front.left)
    pieces = solution.layout.pieces
    arch, others = (
        [
            shapely.Polygon([(float(x) + dx, float(y)) for x, y in outline.points])
            for piece in pieces
            for outline in piece.outlines
            if outline.face == "front" and (piece.kind in OF_AN_ARCH) is of_arch
        ]
        for of_arch in (True, False)
    )
    return sum(
        any(line.crosses(ring) for ring in arch)
        for line in leaders(drawing)
        if any(ring.contains(shapely.Point(line.coords[0])) for ring in others)
    )


ARCHES = (
    ("semicircular-dining-room", 8.0), ("jack-arch-parlour", 8.0),
    ("segmental-kitchen", 12.0),
)  # fmt: skip


@pytest.mark.parametrize(("demo", "scale"), ARCHES)
def test_no_leader_of_ordinary_brick_runs_across_an_arch(
    demo: str, scale: float
) -> None:
    solution = solution_of(demo)
    assert across_the_arch(solution, elevation_of(demo, scale)) == 0


def test_a_leader_across_an_arch_is_counted() -> None:
    solution = solution_of("semicircular-dining-room")
    drawing = elevation_of("semicircular-dining-room", 8.0)
    begun = [x.coords[0] for x in leaders(drawing)]
    arch = solution.layout.arch
    assert arch is not None
    x = float(arch.centre[0] - solution.surround.front.left)
    ink = tuple(Stroke(layers.NOTES, (each, (x, float(arch.spring)))) for each in begun)
    # One on the crown has no room for its mark; those in the haunches have.
    assert across_the_arch(solution, replace(drawing, ink=ink)) == 1


def test_like_pieces_one_above_another_share_a_leader() -> None:
    solution = solution_of("segmental-kitchen")
    drawing = draw_return(solution, "left", 16.0)
    led = [x.text for x in drawing.ink if isinstance(x, Words) and "COURSES" in x.text]
    assert "B21, ALTERNATE COURSES 1 TO 19" in led


def test_like_voussoirs_side_by_side_share_a_leader_that_counts_them() -> None:
    # At this scale none of two rings of rowlocks has room for its mark.
    solution = solve(make_arch(seeded(12))[1])
    kinds = Counter(x.mark for x in solution.pieces if x.kind == "voussoir")
    assert sorted(kinds.values()) == [25, 27]
    drawing = draw_elevation(solution, 10.0)
    led = [x.text for x in drawing.ink if isinstance(x, Words) and " BY SIDE" in x.text]
    assert sorted(led) == [f"{x}, {n} SIDE BY SIDE" for x, n in sorted(kinds.items())]
    assert on_view(solution, drawing) == []
    assert crossings(drawing) == []
    # The reader holds the count: with another, none of the ring is marked.
    ink = tuple(
        replace(x, text=x.text.replace("27", "26")) if isinstance(x, Words) else x
        for x in drawing.ink
    )
    assert len(on_view(solution, replace(drawing, ink=ink))) == 27


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ([3, 4, 5], "COURSES 3 TO 5"),
        ([3, 5, 7], "ALTERNATE COURSES 3 TO 7"),
        ([3, 8], "COURSES 3, 8"),
        ([3, 6, 9], "COURSES 3, 6, 9"),
    ],
)
def test_courses_are_said_as_they_are_read(numbers: list[int], said: str) -> None:
    assert courses_said(numbers) == said
    step = 2 if said.startswith("ALTERNATE") else 1
    assert courses_of(said.split("COURSES ")[1], step) == set(numbers)


def is_mark(ink: Ink, text: str) -> bool:
    return isinstance(ink, Insert) and any(
        tag.words is not None and tag.text == text for tag in ink.tags
    )


def taken_away(ink: Ink) -> Ink:
    assert isinstance(ink, Insert)
    return replace(ink, tags=tuple(replace(tag, words=None) for tag in ink.tags))


def shrunk(ink: Ink) -> Ink:
    assert isinstance(ink, Insert)
    return replace(
        ink,
        tags=tuple(
            replace(tag, words=replace(tag.words, height_on_paper=1 / 16))
            if tag.words
            else tag
            for tag in ink.tags
        ),
    )


def moved_off(ink: Ink) -> Ink:
    assert isinstance(ink, Insert)
    return replace(
        ink,
        tags=tuple(
            replace(tag, words=replace(tag.words, at=(tag.words.at[0] + 3, 1.0)))
            if tag.words
            else tag
            for tag in ink.tags
        ),
    )


@pytest.mark.parametrize("damage", [taken_away, shrunk, moved_off])
def test_a_mark_that_cannot_be_read_is_noticed(damage: Callable[[Ink], Ink]) -> None:
    solution = solution_of("library-hearth")
    drawing = elevation_of("library-hearth", 4.0)
    victim = next(x for x in drawing.ink if is_mark(x, "B2"))
    assert isinstance(victim, Insert)
    ink = tuple(damage(x) if x is victim else x for x in drawing.ink)
    named = next(tag.text for tag in victim.tags if tag.name == "ID")
    assert on_view(solution, replace(drawing, ink=ink)) == [named]


def test_a_bracketed_mark_taken_away_is_noticed() -> None:
    solution = solution_of("library-hearth")
    drawing = elevation_of("library-hearth", 4.0)
    first = next(x for x in drawing.ink if isinstance(x, Words) and x.text == "(C)")
    ink = tuple(x for x in drawing.ink if x is not first)
    assert len(on_view(solution, replace(drawing, ink=ink))) == 1


def test_a_leader_taken_away_or_led_elsewhere_is_noticed() -> None:
    solution = solution_of("jack-arch-parlour")
    drawing = elevation_of("jack-arch-parlour", 8.0)
    (words,) = (x for x in drawing.ink if isinstance(x, Words) and x.text == "V20")
    line = next(
        x
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.layer == layers.NOTES
        and len(x.points) == 2
        and abs(x.points[1][1] - words.at[1]) < 1e-9
        and abs(x.points[1][0] - words.at[0]) < 1.0
    )
    for ink in (
        tuple(x for x in drawing.ink if x is not line),
        tuple(x for x in drawing.ink if x is not words),
        tuple(
            replace(x, points=((1.0, 1.0), line.points[1])) if x is line else x
            for x in drawing.ink
        ),
    ):
        assert len(on_view(solution, replace(drawing, ink=ink))) == 1


def test_the_legend_says_each_rule_that_the_set_uses(
    solution: Solution, drawing_set: DrawingSet
) -> None:
    drawings = [x.drawing for sheet in drawing_set.sheets for x in sheet.drawings]
    legend = next(x for x in drawings if x.name == LEGEND)
    said = [x.text for x in legend.ink if isinstance(x, Words)]
    in_brackets = any(
        isinstance(ink, Words) and ink.layer == layers.MARKS and ink.text[0] == "("
        for drawing in drawings
        if drawing.name in {*FACE_OF_VIEW, *HEARTH_VIEWS}
        for ink in drawing.ink
    )
    assert any(x.startswith("IN BRACKETS") for x in said) == in_brackets
    assert any(x.startswith("NO MARK") for x in said) == any(
        is_whole(piece) for piece in solution.pieces
    )
    assert any(x.startswith("NO ROOM") for x in said)
    over = any(lies_over(solution, drawing) for drawing in drawings)
    assert any(x.startswith("CLOSED IN") for x in said) == over


def lies_over(solution: Solution, drawing: Drawing) -> bool:
    """Whether a mark's leader lies over a piece of the face that it isn't of."""
    if drawing.name not in FACE_OF_VIEW:
        return False
    face = FACE_OF_VIEW[drawing.name]
    dx = -float(solution.surround.face(face).left)
    rings = [
        shapely.Polygon([(float(x) + dx, float(y)) for x, y in outline.points])
        for piece in solution.layout.pieces
        for outline in piece.outlines
        if outline.face == face
    ]
    lines = [x.points for x in drawing.ink if isinstance(x, Stroke)]
    leaders = [
        line
        for line in lines
        for words in drawing.ink
        if isinstance(words, Words)
        and len(line) == 2
        and LED_OUT.fullmatch(words.text)
        and dist(line[1], words.at) < words.height_on_paper * drawing.scale
    ]
    return any(
        shapely.LineString(leader).intersection(ring).length > 0.1
        and not ring.contains(shapely.Point(leader[0]))
        for leader in leaders
        for ring in rings
    )


def test_a_closed_in_piece_is_led_out_over_other_brick() -> None:
    """The piece over the keystone: no lettering fits it, and brick is all round it."""
    sheet = sheet_of("semicircular-dining-room")
    drawing = next(x.drawing for x in sheet.drawings if x.drawing.name == "elevation")
    assert lies_over(solution_of("semicircular-dining-room"), drawing)
    led = [x.text for x in drawing.ink if isinstance(x, Words) and x.text[:1] == "B"]
    assert led == ["B3"]


def too_small(sheet: Sheet, least: float) -> list[str]:
    """Return what is lettered smaller than it can be read."""
    drawn = [x for each in sheet.drawings for x, _ in lettering_of(each.drawing)]
    drawn += [x for x in sheet.paper_ink if isinstance(x, Words)]
    return [x.text for x in drawn if x.height_on_paper < least - 1e-6]


def test_nothing_on_a_sheet_is_lettered_too_small(drawing_set: DrawingSet) -> None:
    least = {"in": 3 / 32, "mm": 2.5}[drawing_set.lengths]
    for sheet in drawing_set.sheets:
        assert too_small(sheet, least) == []


def test_a_word_lettered_too_small_is_noticed() -> None:
    sheet = sheet_of("library-hearth")
    first = next(x for x in sheet.paper_ink if isinstance(x, Words))
    small = replace(first, height_on_paper=1 / 16)
    ink = tuple(small if x is first else x for x in sheet.paper_ink)
    assert too_small(replace(sheet, paper_ink=ink), 3 / 32) == [first.text]


@pytest.mark.parametrize("mark", ["B1", "B10", "SC12-R"])
def test_a_mark_in_the_legend_begins_clear_of_its_leader(mark: str) -> None:
    style = STYLES["in"]
    ink = list(_marked((0.0, 0.0), f"{LED}{mark}", style, 1.0))
    (words,) = [x for x in ink if isinstance(x, Words)]
    (leader,) = [x for x in ink if isinstance(x, Stroke) and not x.closed]
    left = box_of(words, 1.0)[0]
    assert left - max(x for x, _ in leader.points) >= 0.3 * style.text


@pytest.mark.parametrize(
    ("name", "is_said"), [("chamfered-breast", True), ("library-hearth", False)]
)
def test_brick_seen_aslant_is_explained_where_there_is_some(
    name: str, *, is_said: bool
) -> None:
    legend = draw_legend(solution_of(name), (), 1.0)
    said = [x.text for x in legend.ink if isinstance(x, Words)]
    assert ("SEEN ASLANT: MARKED ON THE VIEW OF ITS OWN FACE" in said) is is_said


def test_samples_of_brick_in_the_legend_are_clear_of_each_other(
    drawing_set: DrawingSet,
) -> None:
    """Bricks that all but touch would be read as a wall; side by side two are meant."""
    drawings = [x.drawing for sheet in drawing_set.sheets for x in sheet.drawings]
    legend = next(x for x in drawings if x.name == LEGEND)
    spans = sorted(
        {
            (min(y for _, y in x.points), max(y for _, y in x.points))
            for x in legend.ink
            if isinstance(x, Stroke) and x.closed and x.layer == layers.UNITS
        }
    )
    assert len(spans) > 1
    for (_, top), (bottom, _) in pairwise(spans):
        assert bottom - top >= 0.9 * STYLES[drawing_set.lengths].text * legend.scale
