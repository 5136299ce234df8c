"""The rod of an arch on the front elevation, and what a section shows of an arch."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from itertools import product
from math import hypot

import pytest

from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Measure, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.measures import letter_of
from shopdraw.job.reading import parse_job
from shopdraw.lengths import format_length
from shopdraw.masonry.marks.templates import turning_piece
from shopdraw.masonry.wall.layout import Outline
from shopdraw.pipeline import solve
from shopdraw.views.parts.found import cut_at_centre, seen_beyond
from shopdraw.views.parts.heights import levels_of
from shopdraw.views.wall.arched import (
    draw_rod,
    draw_setting_out,
    rod_words,
    voussoir_words,
)
from tests.demos import elevation_of, solution_of
from tests.longer import mostly_long
from tests.random_arches import PLAIN
from tests.views.lettering import collisions, crossings
from tests.views.strings import printed

# Span and rise by the job files: (s^2/4 + r^2) / 2r; the centre is at spring + r - R.
RODS = [
    (
        "segmental-kitchen",
        43.333,
        27 + 6 - 43.333,
        ["3'-7 5/16\"", 'CENTRE 10 5/16"', "BELOW DATUM"],
    ),
    (
        "semicircular-dining-room",
        14.625,
        16.125,
        ["RADIUS ROD", "1'-2 5/8\"", "1'-4 1/8\"", "ABOVE DATUM"],
    ),
]


@pytest.mark.parametrize(("name", "radius", "level", "words"), RODS)
def test_the_rod_points_to_the_centre_and_its_length_is_lettered(
    name: str, radius: float, level: float, words: list[str]
) -> None:
    solution = solution_of(name)
    front = solution.surround.front
    middle = float(solution.surround.opening.centre - front.left)
    ink = list(draw_rod(solution, -float(front.left), 8.0))
    strokes = [x for x in ink if isinstance(x, Stroke)]
    (near_x, near_y), (far_x, far_y) = strokes[0].points
    assert hypot(far_x - middle, far_y - level) == pytest.approx(radius, abs=2e-3)
    # All of it lies on one line with the centre.
    slope = (far_x - middle) / (far_y - level)
    assert near_x - middle == pytest.approx(slope * (near_y - level), abs=2e-3)
    # A cross marks the centre where it is above the datum.
    assert len(strokes) == (3 if level >= 0 else 1)
    scale = 8.0 if level >= 0 else 12.0
    drawn = elevation_of(name, scale)
    lettered = [x.text for x in drawn.ink if isinstance(x, Words)]
    assert all(any(each in line for line in lettered) for each in words)


def test_a_jack_arch_has_no_rod_but_the_point_that_its_joints_turn_to() -> None:
    """36 / 2 over tan(20.556 deg) = 48 below a spring line at 29: 1'-7" below 0."""
    solution = solution_of("jack-arch-parlour")
    assert [*draw_rod(solution, 0.0, 8.0)] == []
    lettered = {
        x.text
        for x in elevation_of("jack-arch-parlour", 8.0).ink
        if isinstance(x, Words)
    }
    assert {"JOINTS POINT TO A", "CENTRE 1'-7\"", "BELOW DATUM"} <= lettered


def test_a_section_shows_the_jamb_to_the_spring_line_and_the_soffit_above_it() -> None:
    beyond = seen_beyond(solution_of("semicircular-dining-room"))
    spring, crown = beyond[-1]
    # The keystone's foot is a chord of 3 1/2: 14 5/8 - root(14 5/8^2 - 1 3/4^2) lower,
    # and a little more, because its joints' rays are wider apart.
    assert spring == F(129, 8)
    assert 0.105 < 30.75 - float(crown) < 0.14
    assert all(top <= F(129, 8) for _, top in beyond[:-1])
    plain = solution_of("library-hearth")
    assert len(seen_beyond(plain)) == plain.coursing.courses_below_head


def test_a_keystone_stands_out_in_the_section() -> None:
    cuts = cut_at_centre(solution_of("semicircular-dining-room"))
    fronts = {cut.piece.kind: min(x for x, _ in cut.ring) for cut in cuts}
    assert fronts == {"keystone": F(-3, 4), "stretcher": 0}


def test_a_course_cut_over_the_crown_is_as_high_as_it_is_there() -> None:
    """What is left over the crown of the segmental arch: a joint above its back."""
    solution = solution_of("segmental-kitchen")
    arch = solution.layout.arch
    assert arch is not None
    cuts = cut_at_centre(solution)
    over = min(
        min(y for _, y in cut.ring) for cut in cuts if cut.piece.kind == "stretcher"
    )
    assert float(over - arch.crown) == pytest.approx(float(arch.over), abs=0.02)


def test_an_outline_is_met_upright_where_it_is() -> None:
    ring = Outline("front", ((F(0), F(1)), (F(4), F(0)), (F(4), F(3)), (F(0), F(3))))
    assert ring.upright_at(F(2)) == (F(1, 2), 3)
    assert ring.upright_at(F(0)) == (1, 3)
    assert ring.upright_at(F(4)) == (0, 3)


ARCHES = ("jack-arch-parlour", "segmental-kitchen", "semicircular-dining-room")
SET_OUT = {
    # Span, rise, radius, centre, skewback: by the job files and the figures above.
    "jack-arch-parlour": (
        "3'-0\"", '3/8"', "JOINTS POINT TO A", "CENTRE 1'-7\"", "BELOW DATUM", "20.6",
    ),
    "segmental-kitchen": (
        "3'-8\"", '6"', "3'-7 5/16\"", 'CENTRE 10 5/16"', "BELOW DATUM", "30.5",
    ),
    "semicircular-dining-room": (
        "2'-5 1/4\"", "1'-2 5/8\"", "1'-2 5/8\"", "1'-4 1/8\"", "ABOVE DATUM",
        "LEVEL BEDS",
    ),
}  # fmt: skip


def not_set_out(drawing: Drawing, said: tuple[str, ...]) -> list[str]:
    """Return which of an arch's figures a drawing does not letter."""
    lettered = "\n".join(words.text for words, _ in lettering_of(drawing))
    return [each for each in said if each not in lettered]


@pytest.mark.parametrize("scale", [8.0, 16.0, 20.0, 24.0, 28.0, 32.0, 40.0])
def test_the_name_of_a_span_stands_clear_of_its_figures_or_not_at_all(
    scale: float,
) -> None:
    ink = tuple(draw_setting_out(solution_of("segmental-kitchen"), 0.0, scale))
    drawing = Drawing("set out", "", scale, ink)
    assert collisions(drawing) == []
    assert "SPAN" not in {words for words, _ in crossings(drawing)}
    named = [x for x in ink if isinstance(x, Words) and x.text == "SPAN"]
    assert len(named) == (scale < 28)
    # The figure is in the half that the rise is not in.
    (span,) = [x for x in ink if isinstance(x, Measure) and x.axis == "x"]
    left, _, right, _ = box_of(letter_of(span, scale), scale)
    assert (span.start[0] + span.end[0]) / 2 < left < right < span.end[0]


# At the smaller scale of each the words of its opening no longer fit into it.
SMALL = {"jack-arch-parlour": 16.0, "segmental-kitchen": 24.0}


AT_BOTH = [*product(ARCHES, (False, True))]
LONG = {*product(ARCHES[1:], (True,))}
"""These take longest to letter; a jack arch has the least room."""


@pytest.mark.parametrize(
    ("name", "is_small"), mostly_long(AT_BOTH, *(x for x in AT_BOTH if x not in LONG))
)
def test_an_arch_is_always_set_out_however_small_its_opening(
    name: str, is_small: bool
) -> None:
    scale = SMALL.get(name, 12.0) if is_small else 8.0
    drawing = elevation_of(name, scale)
    assert not_set_out(drawing, SET_OUT[name]) == []
    spans = [x for x in drawing.ink if isinstance(x, Measure) and x.axis == "x"]
    assert SET_OUT[name][0] in {x.words for x in spans if x.line_at > 0}


def test_an_arch_that_is_not_set_out_is_noticed() -> None:
    drawing = elevation_of("segmental-kitchen", 8.0)
    ink = tuple(
        x
        for x in drawing.ink
        if not (isinstance(x, Words) and x.text.startswith("SKEWBACK"))
    )
    said = SET_OUT["segmental-kitchen"]
    assert not_set_out(replace(drawing, ink=ink), said) == ["30.5"]


@pytest.mark.parametrize(
    ("name", "count", "wide", "joint"),
    [
        # (44 in of span on a radius of 43.333: the soffit is 46.16 long, less 22 joints
        # of 3/8, over 21); half a circle of 14 5/8: 45.95, less 28 joints and a
        # keystone of 3 1/2, over 26.
        ("segmental-kitchen", 21, (46.16 - 22 * 0.375) / 21, '3/8"'),
        ("semicircular-dining-room", 26, (45.95 - 28 * 0.375 - 3.5) / 26, '3/8"'),
    ],
)
def test_voussoirs_are_counted_and_measured_at_the_soffit(
    name: str, count: int, wide: float, joint: str
) -> None:
    said = voussoir_words(solution_of(name).layout.arch, "in")  # type: ignore[arg-type]
    # 26 and a keystone have 28 joints between the springings.
    assert said[1] == f"{count} VOUSSOIRS" + (" + K" if count % 2 == 0 else "")
    least, _, most = said[2].partition(" TO ")
    assert float(printed(least, "in")) - 1 / 16 <= wide
    assert wide <= float(printed(most or least, "in")) + 1 / 16
    assert said[3].startswith(f"{count + (1 if count % 2 else 2)} ")
    assert said[3].endswith(f"JOINTS, {joint}")
    assert set(said) <= {
        x.text for x in elevation_of(name, 8.0).ink
        if isinstance(x, Words)
    }  # fmt: skip


def test_of_two_rings_the_joints_at_the_soffit_are_those_of_the_first() -> None:
    job = PLAIN.partition("[arch]")[0] + '[arch]\nmade_of = "rowlocks"\nrings = 2\n'
    solution = solve(parse_job(job, "rings.toml"))
    arch = solution.layout.arch
    assert arch is not None
    assert len(arch.counts) == 2
    said = voussoir_words(arch, "in")
    # One between each two of a ring, and one at each skewback.
    assert said[1] == f"{arch.counts[0]} VOUSSOIRS"
    assert said[3].split()[0] == str(arch.counts[0] + 1)
    # Two corners of each foot; of half an odd number one foot is on the centre line.
    turned_on = turning_piece(solution.job, solution.surround, arch)
    assert len(turned_on.marks) == arch.counts[0]


ARCHES = ("segmental-kitchen", "semicircular-dining-room", "jack-arch-parlour")


@pytest.mark.parametrize("demo", ARCHES)
def test_an_arch_has_a_spring_line_and_a_crown_and_no_opening_head(demo: str) -> None:
    solution = solution_of(demo)
    arch = solution.layout.arch
    assert arch is not None
    said = [x.text for x in elevation_of(demo, 8.0).ink if isinstance(x, Words)]
    level = format_length(solution.coursing.head, solution.lengths)
    crown = format_length(solution.coursing.head + arch.rise, solution.lengths)
    assert f"UNDERSIDE AT {level}: LANDS" in said
    assert said[said.index(f"UNDERSIDE AT {level}: LANDS") - 1] == "SPRING LINE"
    assert said[said.index(f"SOFFIT AT {crown}") - 1] == "CROWN OF THE ARCH"
    assert "OPENING HEAD" not in said
    names = {name for level in levels_of(solution) for name in level.names}
    assert {"SPRING LINE", "CROWN OF THE ARCH"} <= names
    assert "OPENING HEAD" not in names


def test_a_straight_head_is_no_spring_line_and_has_no_crown() -> None:
    levels = levels_of(solution_of("library-hearth"))
    names = {name for level in levels for name in level.names}
    assert "OPENING HEAD" in names
    assert not {"SPRING LINE", "CROWN OF THE ARCH"} & names


@pytest.mark.parametrize(
    ("level", "words"),
    [
        (F(0), ("CENTRE ON THE DATUM",)),
        (F(3, 2), ('CENTRE 1 1/2"', "ABOVE DATUM")),
        (F(-3, 2), ('CENTRE 1 1/2"', "BELOW DATUM")),
    ],
)
def test_a_rod_s_centre_is_given_from_the_datum(
    level: F, words: tuple[str, ...]
) -> None:
    solution = solution_of("segmental-kitchen")
    arch = solution.layout.arch
    assert arch is not None
    moved = replace(arch, centre=(arch.centre[0], level))
    assert rod_words(solution, moved)[1:] == words


@pytest.mark.parametrize("demo", ARCHES)
def test_joints_at_the_soffit_stand_with_their_width_where_no_wider_for_it(
    demo: str,
) -> None:
    lettered = [x.text for x in elevation_of(demo, 8.0).ink if isinstance(x, Words)]
    (joints,) = [x for x in lettered if " JOINTS, " in x]
    at = lettered.index("AT THE SOFFIT:")
    others = [x for x in lettered[at : at + 5] if x != joints]
    assert joints in lettered[at : at + 5]
    assert len(joints) <= max(map(len, others)) + 1
