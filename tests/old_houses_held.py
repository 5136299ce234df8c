"""What is held of every old house: reported, clear on paper, counted and read alike.

In:  the number of a share of five hundred jobs.   Out: what is wrong with it, in words.
Frame: each says its own.

Every job is held against what is always true on the way (`prove_layout` raises), and
what could not be kept must be reported. On every sheet lettering keeps clear of
lettering, strings close, and each piece is there once. Twenty are drawn and given to
every reader there is; the benchmark of readers does two hundred.
"""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from unittest.mock import patch

from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from shopdraw.drawing.set import DrawingSet
from shopdraw.output.write import make_dxf_files
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from shopdraw.views import set as views_set
from tests.old_houses import make_job, seeded
from tests.output.readers import differences, npm_differences
from tests.views.lettering import collisions_on, crossings
from tests.views.strings import ids_of, unclosed

JOBS, SHARES, DRAWN = 500, 25, 20


def numbers_of(share: int) -> list[int]:
    """Return the seeds of a share's jobs."""
    numbers: list[int] = []

    @seed(share)
    @settings(
        max_examples=JOBS // SHARES,
        deadline=None,
        database=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(st.integers(0, 10**9))
    def pick(number: int) -> None:
        # The first number is 0 in every share: there it stands for the share's own.
        numbers.append(number or share)

    pick()
    return numbers


def wrong_in(share: int, npm: Path | None) -> list[str]:
    """Return what is wrong with a share's jobs, each with its job file.

    The first of each share, but for the last five, is drawn and given to the readers
    too. So are the papers beside its sheets.

    Args:
        share: its number.
        npm: where npm's reader is installed; None where it is not.
    """
    wrong = []
    for place, number in enumerate(numbers_of(share)):
        wrong += wrong_with(number, npm, drawn=not place and share < DRAWN)
    return wrong


def wrong_with(number: int, npm: Path | None, *, drawn: bool) -> list[str]:
    """Return what is wrong with one job, each with its job file.

    Args:
        number: the job's seed.
        npm: where npm's reader is installed; None where it is not.
        drawn: whether it is drawn and given to the readers, and its papers too.
    """
    text, job = make_job(seeded(number))
    solution = solve(job)
    composed = build(solution) if drawn else without_papers(solution)
    said = unreported(solution) + redlined(solution, composed)
    said += miscounted(solution, composed)
    said += misread(solution, composed, npm) if drawn else []
    return [f"{what}:\n{text}" for what in said]


def misread(solution: Solution, drawn: DrawingSet, npm: Path | None) -> list[str]:
    """Return what a reader finds in the DXF files that was not drawn."""
    files = make_dxf_files(drawn)
    assert len(files) == len(drawn.sheets) + 1
    found = differences(solution, drawn, files)
    if npm is not None:
        found += npm_differences(npm, [(drawn, files)])[0]
    return [str(each) for each in found]


def unreported(solution: Solution) -> list[str]:
    """Name what could not be kept and is in no finding."""
    failed = {f.rule.words for f in solution.findings if f.status == "failed"}
    missing = [rule.rule for rule in solution.layout.broken if rule.rule not in failed]
    least = solution.job.bond.least_piece
    named = {piece for rule in solution.layout.broken for piece in rule.pieces}
    missing += [
        piece.id
        for piece in solution.layout.pieces
        if piece.kind == "stretcher"
        # Three quarters will do at a wall that hides the end.
        and piece.length < (least if piece.place == "front" else least * 3 / 4)
        and piece.id not in named
    ]
    if named != {piece.id for piece in solution.layout.pieces if piece.broken}:
        missing.append("a piece that breaks a rule, or is said to")
    lands = all(target.lands for target in solution.coursing.targets)
    if lands != solution.coursing.lands or (not lands and solution.is_clear):
        missing.append("a target")
    return missing


def without_papers(solution: Solution) -> DrawingSet:
    """Draw a set but for the papers beside its sheets."""
    with patch.object(views_set, "draw_papers", return_value=()):
        return build(solution)


def redlined(solution: Solution, drawn: DrawingSet) -> list[str]:
    """Name what a draughtsman would mark in red on the sheets."""
    drawings = [placed.drawing for sheet in drawn.sheets for placed in sheet.drawings]
    wrong = [
        f"{pair} collide" for sheet in drawn.sheets for pair in collisions_on(sheet)
    ]
    for drawing in drawings:
        wrong += [f"a line crosses {words}" for words, _ in crossings(drawing)]
        wrong += unclosed(drawing, drawn.lengths)
    ids = Counter(name for drawing in drawings for name in ids_of(drawing))
    if ids != Counter(piece.id for piece in solution.pieces):
        wrong.append("a piece is missing, or there twice")
    return wrong


def miscounted(solution: Solution, drawn: DrawingSet) -> list[str]:
    """Name the counts that differ: drawn, listed, planned, taken off, recorded."""
    pieces, on_faces = len(solution.pieces), len(solution.layout.pieces)
    drawings = [placed.drawing for sheet in drawn.sheets for placed in sheet.drawings]
    plan, takeoff = solution.cut_plan, solution.takeoff
    others = ("corner unit", "soldier corner unit", "keystone")
    flats = [row for row in solution.cut_list if row.kind not in others]
    # A keystone is made by others: it is a piece, and no brick.
    stones = sum(piece.kind == "keystone" for piece in solution.pieces)
    cut = {row.mark: row.count for row in flats if row.is_cut}
    made = [row for row in solution.cut_list if row.is_made]
    legs = {f"{row.mark}{leg}": row.count for row in made for leg in "ab"}
    record = json.loads(drawn.record_json)
    counts = {
        "drawn": sum(len(ids_of(drawing)) for drawing in drawings),
        "in the cut list": sum(row.count for row in solution.cut_list),
        "taken off": (takeoff.row("all units").laid or 0) + stones,
        "in the record's cut list": sum(row["count"] for row in record["cut_list"]),
        "in the record": len(record["layout"]["pieces"])
        + (len(record["hearth"]["pieces"]) if record["hearth"] else 0),
        "whole, planned and corner": takeoff.row("whole units").net
        # A mitred corner unit is sawn from two, and stands as one.
        + sum(plan.pieces.values())
        - sum(row.count for row in made)
        # There is no such row where all of them are made.
        + sum(row.net for row in takeoff.rows if row.item == "corner units")
        + stones,
    }
    wrong = [
        f"{count} {where}, not {pieces}"
        for where, count in counts.items()
        if count != pieces
    ]
    if len(ids_of(drawn.bare)) != on_faces:
        wrong.append(f"in the bare drawing, not {on_faces}")
    if dict(plan.pieces) != cut | legs:
        wrong.append("the plan gives other pieces than the cut list has")
    if takeoff.row("flat units").laid != sum(row.count for row in flats):
        wrong.append("flat units")
    wrong += [
        f"an order of {row.item} below its net"
        for row in takeoff.rows
        if row.order is not None and row.order < row.net
    ]
    return wrong
