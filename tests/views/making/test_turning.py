"""Which way up a piece may be laid: sheet, ticket and tables say the same of a mark."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.drawing.ink import Drawing, Words
from shopdraw.masonry.laying.pieces import list_cuts, mark_pieces
from shopdraw.masonry.wall.form import FaceName
from shopdraw.masonry.wall.layout import CORNER_KINDS, Outline, Piece
from shopdraw.output.tables import write_table
from shopdraw.solution import Solution
from shopdraw.views.making.corner_units import unfolded_stock
from shopdraw.views.making.cut_pieces import set_out_details
from shopdraw.views.words.tables import cut_list_table
from tests.demos import CONFIGS, solution_of
from tests.views.jobs import CHANGES, solved
from tests.views.making.tickets import cells_of, drawings

DEMOS = sorted(path.stem for path in CONFIGS.glob("*.toml"))
TURNS = re.compile(
    r"(DO NOT TURN|MAY BE TURNED) (OVER|END FOR END)( UNTIL IT IS SCRIBED)?"
)
HAND = re.compile(r"LONG LEG (LEFT|RIGHT) OF ITS CORNER")


def job_of(name: str) -> Solution:
    return solved(name) if name in CHANGES else solution_of(name)


def said(words: str) -> tuple[str, ...]:
    """Return what is said of turning, and of the hand, once however often it is."""
    turns = {"".join(each) for each in TURNS.findall(words.upper())}
    return (*sorted(turns), *sorted(set(HAND.findall(words.upper()))))


def on_sheets(solution: Solution) -> dict[str, tuple[str, ...]]:
    found: dict[str, str] = {}
    scale = 4.0 if solution.lengths == "in" else 5.0
    for details in set_out_details(solution, scale):
        for detail in details:
            mark = detail.row.mark
            found[mark] = f"{found.get(mark, '')} {text_of(detail.drawing)}"
    return {mark: said(words) for mark, words in found.items()}


def text_of(drawing: Drawing) -> str:
    return " ".join(ink.text for ink in drawing.ink if isinstance(ink, Words))


def in_table(solution: Solution) -> dict[str, tuple[str, ...]]:
    data = write_table(cut_list_table(solution)).decode()
    rows = csv.DictReader(data.splitlines())
    return {row["MARK"]: said(row["NOTE"]) for row in rows}


@pytest.mark.parametrize("name", [*DEMOS, *CHANGES])
def test_sheet_ticket_and_table_say_one_thing_of_a_mark(name: str) -> None:
    solution = job_of(name)
    sheets, table = on_sheets(solution), in_table(solution)
    cells = {cell.mark: said(cell.text) for cell in cells_of(drawings(name, "letter"))}
    for each in solution.fabrication:
        mark = each.row.mark
        if each.row.kind == "keystone":
            continue
        assert sheets[mark], mark
        assert sheets[mark] == cells[mark] == table[mark], mark


def test_a_corner_unit_sawn_to_shape_is_never_said_to_turn_over() -> None:
    solution = solution_of("crooked-study")
    shaped = [x for x in solution.cut_list if x.shapes and x.kind in CORNER_KINDS]
    assert shaped
    assert solution.job.brick.corner is not None
    assert solution.job.brick.corner.turns_over
    for row in shaped:
        for found in (on_sheets(solution)[row.mark], in_table(solution)[row.mark]):
            assert "DO NOT TURNOVER" in found
            assert not any("MAY BE" in each for each in found)


def corner_unit(*, long_is_left: bool) -> Piece:
    """Return a unit whose long leg has a sloping foot, the same seen from its face."""
    legs = (F(61, 8), F(29, 8))
    start = -legs[0] if long_is_left else F(0)
    x1, x2 = start, start + legs[0]
    ring = ((x1, F(0)), (x2, F(1, 8)), (x2, F(9, 4)), (x1, F(9, 4)))
    other = F(0) if long_is_left else -legs[1]
    a, b = other, other + legs[1]
    low = F(1, 8)
    face: FaceName = "right" if long_is_left else "left"
    short = ((a, low), (b, low), (b, F(9, 4)), (a, F(9, 4)))
    return Piece(
        id="", mark="", kind="corner unit", course=1, place="front",
        outlines=(Outline("front", ring, (0,)), Outline(face, short)),
        length=legs[0], height=F(9, 4), legs=legs, is_cut=True, is_trimmed=False,
        cut_edges=("bottom",),
    )  # fmt: skip


def test_units_alike_but_for_their_hand_are_two_marks() -> None:
    """Their long legs are one shape; the corner is at the other end of it."""
    job = solution_of("library-hearth").job
    pair = (corner_unit(long_is_left=True), corner_unit(long_is_left=False))
    marked = mark_pieces(pair, job)
    assert [piece.mark[-2:] for piece in marked] == ["-L", "-R"]
    left, right = list_cuts(job, marked)
    assert (left.hand, right.hand) == ("L", "R")
    assert [x.left for x in left.unfolded] == [0, F(61, 8)]
    assert [x.left for x in right.unfolded] == [0, F(29, 8)]
    # Bought 7 5/8 and 3 5/8 long, as high as a brick; one that stands, as long as one.
    assert unfolded_stock(job, left) == (0.0, 0.0, 11.25, 2.25)
    assert unfolded_stock(job, right) == (0.0, 0.0, 11.25, 2.25)
    standing = replace(left, kind="soldier corner unit")
    # Sawn at its foot, so that the rest hangs below it.
    assert unfolded_stock(job, standing)[1::2] == (2.25 - 7.625, 2.25)
    # Two of one hand are one mark.
    (mark,) = {x.mark for x in mark_pieces((pair[0], replace(pair[0], course=3)), job)}
    assert mark.endswith("-L")


@pytest.mark.parametrize("name", DEMOS)
def test_no_note_sends_the_sawyer_to_a_detail(name: str) -> None:
    # Pieces are drawn among the cut pieces, and on the ticket; a detail is a section.
    notes = [row.note for row in job_of(name).cut_list]
    assert not [note for note in notes if "detail" in note]
