"""Each made piece can be rebuilt from the figures printed of it, from them alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

import pytest

from shopdraw.drawing.ink import Drawing, Ink, Measure, Words
from shopdraw.lengths import format_made
from shopdraw.masonry.wall.layout import CORNER_KINDS, OF_AN_ARCH, CutListRow
from shopdraw.solution import Solution
from shopdraw.views.making.cut_pieces import set_out_details
from shopdraw.views.making.sharing import Detail
from tests.demos import CONFIGS, solution_of
from tests.views.jobs import CHANGES, solved
from tests.views.making.rebuilt import (
    STEP,
    angles_printed,
    angles_wanted,
    pieces_by_id,
    read,
    strings_of,
    words_of,
    wrong_rings,
)

DEMOS = sorted(path.stem for path in CONFIGS.glob("*.toml"))
SCALES = {"in": 4.0, "mm": 5.0}
SHAPED = ("crooked-study", "segmental-kitchen", "jack-arch-parlour")


def job_of(name: str) -> Solution:
    return solved(name) if name in CHANGES else solution_of(name)


def details(solution: Solution) -> Iterator[Detail]:
    for drawing in set_out_details(solution, SCALES[solution.lengths]):
        yield from drawing


def seen_from_face(detail: Detail) -> bool:
    return detail.row.kind not in CORNER_KINDS or bool(detail.shapes)


def faults(solution: Solution, detail: Detail) -> list[str]:
    pieces = pieces_by_id(solution)
    some = [pieces[name] for name in detail.row.ids]
    return wrong_rings(detail.drawing, detail.row, some, solution.lengths)


@pytest.mark.parametrize("name", [*DEMOS, *CHANGES])
def test_every_piece_is_rebuilt_from_its_printed_figures(name: str) -> None:
    solution = job_of(name)
    made = {each.row.mark for each in solution.fabrication}
    shown = [x for x in details(solution) if seen_from_face(x)]
    assert [fault for x in shown for fault in faults(solution, x)] == []
    flat = {x.row.mark for x in shown if x.row.kind not in CORNER_KINDS}
    assert flat >= {
        each.row.mark
        for each in solution.fabrication
        if each.row.kind not in CORNER_KINDS
    }
    assert {x.row.mark for x in details(solution)} >= made


@pytest.mark.parametrize("name", SHAPED)
def test_a_figure_taken_away_or_altered_is_noticed_of_every_piece(name: str) -> None:
    """Each of the strings in turn: without its first figure, or with it 1/16 longer."""
    solution = solution_of(name)
    for detail in (x for x in details(solution) if seen_from_face(x)):
        for ink in detail.drawing.ink:
            if isinstance(ink, Measure):
                gone = changed(detail, lambda x, i=ink: None if x is i else x)  # type: ignore[misc]
                spared = is_repeated(detail.drawing, ink)
                assert spared or faults(solution, gone), (detail.row.mark, ink.words)
                more = read(ink.words, "in") + Fraction(1, 16)
                other = replace(ink, words=format_made(more, "in"))
                off = changed(detail, lambda x, i=ink, o=other: o if x is i else x)  # type: ignore[misc]
                assert faults(solution, off) != [], (detail.row.mark, ink.words)


def is_repeated(drawing: Drawing, overall: Measure) -> bool:
    """Whether a dimension is a string by itself that a longer one repeats in parts."""
    along = 0 if overall.axis == "x" else 1
    others = [
        x
        for x in drawing.ink
        if isinstance(x, Measure) and x.axis == overall.axis and x is not overall
    ]
    ends = {x.start[along] for x in others} | {x.end[along] for x in others}
    own = {overall.start[along], overall.end[along]}
    alone = all(x.line_at != overall.line_at for x in others)
    return alone and own <= ends


def changed(detail: Detail, new: Callable[[Ink], Ink | None]) -> Detail:
    ink = tuple(x for x in map(new, detail.drawing.ink) if x is not None)
    return replace(detail, drawing=replace(detail.drawing, ink=ink))


# ---------------------------------------------------------------- corner units, angles


def wrong_legs(drawing: Drawing, row: CutListRow, solution: Solution) -> list[str]:
    """Return what of a corner unit's legs, thickness and height is not printed."""
    lengths, thick = solution.lengths, solution.job.brick.thickness
    within = STEP[lengths] / 2
    if row.is_made:
        strings = strings_of(drawing, "x", lengths)
        printed = [string.printed[-1] for string in strings]
        wanted = sorted(row.legs, reverse=True)
        outside = printed[::2]
        is_right = all(
            abs(a - b) <= within for a, b in zip(outside, wanted, strict=True)
        )
        return [] if is_right else ["legs"]
    wrong = []
    for axis, leg in zip("xy", row.legs, strict=True):
        strings = strings_of(drawing, axis, lengths)
        if any(abs(string.printed[-1] - leg) > within for string in strings):
            wrong.append(f"leg along {axis}")
        steps = {b - a for s in strings for a, b in zip(s.printed, s.printed[1:])}  # noqa: B905
        if leg > thick and not any(abs(step - thick) <= 2 * within for step in steps):
            wrong.append(f"thickness along {axis}")
    high = next(x for x in words_of(drawing) if x.endswith(" HIGH"))
    figure = high.split(", ")[-1].removesuffix(" HIGH")
    if abs(read(figure, lengths) - row.height) > within:
        wrong.append("height")
    return wrong


@pytest.mark.parametrize("name", [*DEMOS, *CHANGES])
def test_a_corner_unit_has_both_legs_its_thickness_and_its_height(name: str) -> None:
    solution = job_of(name)
    for detail in details(solution):
        if not seen_from_face(detail):
            assert wrong_legs(detail.drawing, detail.row, solution) == []


def test_a_wrong_leg_is_noticed() -> None:
    solution = job_of("two hands")
    detail = next(x for x in details(solution) if not seen_from_face(x))
    long = format_made(detail.row.legs[0], "in")

    def shorter(ink: Ink) -> Ink:
        if isinstance(ink, Measure) and ink.words == long:
            return replace(ink, words='7 1/2"')
        return ink

    off = changed(detail, shorter)
    assert wrong_legs(off.drawing, detail.row, solution) == ["leg along x"]
    low = changed(
        detail,
        lambda x: (
            replace(x, text=x.text.replace('2 1/4" HIGH', '2 1/8" HIGH'))
            if isinstance(x, Words)
            else x
        ),
    )
    assert wrong_legs(low.drawing, detail.row, solution) == ["height"]


def wrong_angles(detail: Detail) -> bool:
    """Whether the angles lettered are not those of the cuts, to a tenth of a degree."""
    # Those of the piece itself: corners are drawn where they are printed.
    wanted = angles_wanted([*(detail.row.unfolded or detail.row.shapes)])
    got = angles_printed(detail.drawing)
    return len(wanted) != len(got) or any(
        abs(a - b) > 0.0501 for a, b in zip(wanted, got, strict=True)
    )


@pytest.mark.parametrize("name", DEMOS)
def test_every_cut_has_its_angle(name: str) -> None:
    for detail in details(solution_of(name)):
        if detail.shapes and detail.row.kind not in OF_AN_ARCH:
            assert not wrong_angles(detail), detail.row.mark


def test_an_angle_left_out_or_altered_is_noticed() -> None:
    for detail in details(solution_of("segmental-kitchen")):
        if not detail.shapes or detail.row.kind in OF_AN_ARCH:
            continue
        without = changed(
            detail,
            lambda x: None if isinstance(x, Words) and " SAWN " in x.text else x,
        )
        assert wrong_angles(without), detail.row.mark
        off = changed(
            detail,
            lambda x: (
                # Wherever the note is broken, in all of its lines.
                replace(x, text=x.text.replace(".", "9."))
                if isinstance(x, Words)
                else x
            ),
        )
        assert wrong_angles(off), detail.row.mark


def height_lines(drawing: Drawing) -> list[float]:
    """Return where along x the lines stand that give heights."""
    return [x.line_at for x in drawing.ink if isinstance(x, Measure) and x.axis == "y"]


def test_a_keystones_heights_stand_clear_of_the_stone() -> None:
    solution = solution_of("semicircular-dining-room")
    (stone,) = [x for x in details(solution) if x.row.kind == "keystone"]
    (shape,) = stone.row.shapes
    lines = height_lines(stone.drawing)
    assert lines
    assert not any(0 <= x <= float(shape.right) for x in lines)
