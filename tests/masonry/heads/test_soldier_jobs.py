"""Random soldier jobs: proved, no soldier sawn alone, no false note.

Six here, six in the long run, four hundred in the benchmark:
`python -m tests.bench soldiers`.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.masonry.heads.stands import can_stand
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout
from tests.longer import mostly_long
from tests.masonry.heads.soldier_jobs import soldier_jobs
from tests.masonry.heads.standing import on_line, proved, standing, widths

SEEDS = (12, 18, 24, 34, 41, 42, 43, 61, 83, 94, 95, 3000)
"""Quick to lay: the bond beside the soldiers takes the time, and is held elsewhere."""


@pytest.mark.parametrize("seed", mostly_long(SEEDS, *SEEDS[::2]))
def test_no_soldier_job_is_refused_by_the_proof_or_has_one_sawn_alone(
    seed: int,
) -> None:
    hold_jobs(seed, 1)


def test_every_kind_of_soldier_job_is_among_them() -> None:
    jobs = [soldier_jobs(seed, 1)[0][1] for seed in SEEDS]
    assert {(job.opening.head, job.opening.head_over) for job in jobs} == {
        (head, over) for head in ("soldier", "rowlock") for over in ("opening", "face")
    }
    assert {can_stand(job) for job in jobs} == {True, False}
    assert {job.lengths for job in jobs} == {"in", "mm"}
    assert {job.opening.head_centre for job in jobs} == {"best", "unit", "joint"}
    returns = [(job.face.left_return, job.face.right_return) for job in jobs]
    assert {sum(bool(side) for side in sides) for sides in returns} == {0, 1, 2}
    ranges = {job.joints.head.least == job.joints.head.most for job in jobs}
    assert ranges == {True, False}


def hold_jobs(first: int, count: int) -> None:
    """Fail where one of so many random jobs is refused, or laid, as it may not be."""
    for text, job in soldier_jobs(first, count):
        try:
            surround, layout = proved(job)
        except NotLaid as error:
            assert not can_stand(job)
            assert "; write " in str(error), text
            continue
        assert wrong_in(job, surround, layout) == [], text


def wrong_in(job: Job, surround: Surround, layout: Layout) -> list[str]:
    """Say what is wrong with a layout's soldiers, and with what is said of them."""
    wrong = []
    row, face = standing(layout), job.brick.height
    sawn = [width for width in widths(row) if width != face]
    ends = [width for width in (widths(row)[0], widths(row)[-1]) if width != face]
    if sorted(sawn) != sorted(ends) or len(sawn) not in (0, 2) or len(set(sawn)) > 1:
        wrong.append(f"sawn alone, or not at the ends: {sawn}")
    for side in ("left", "right"):
        on_return = widths(standing(layout, side))
        short = [width for width in on_return if width != face]
        if len(short) == 1 < len(on_return):
            wrong.append(f"one sawn on the {side} return: {on_return}")
        sawn += short
    if any(width < face / 2 for width in sawn):
        wrong.append(f"a sliver: {sawn}")
    said = next(x for x in layout.reasons if " on its " in x)
    count, middle = re.search(r"has (\d+) \w+, with a (\w+) on", said).groups()
    if int(count) != len(row):
        wrong.append(f"{len(row)} are standing: {said}")
    line = (row[0].left + row[-1].right) / 2
    has_free_line = " own centre line" in said
    if has_free_line == (line == surround.opening.centre):
        wrong.append(f"not on that line: {said}")
    kind = "joint" if middle == "joint" else "unit"
    if on_line(row, line) != kind:
        wrong.append(f"{on_line(row, line)} on its centre line: {said}")
    return wrong


def test_a_soldier_sawn_alone_and_a_false_note_are_noticed() -> None:
    for _, job in soldier_jobs(0, 40):
        if not can_stand(job) or job.opening.head_over == "face":
            continue
        surround, layout = proved(job)
        assert wrong_in(job, surround, layout) == []
        first = min(
            (x for x in layout.pieces if x.kind in ("soldier", "rowlock")),
            key=lambda x: x.outlines[0].left,
        )
        outline = first.outlines[0]
        narrow = replace(
            outline,
            points=tuple((min(x, outline.left + 1), y) for x, y in outline.points),
        )
        pieces = tuple(
            replace(x, outlines=(narrow,)) if x is first else x for x in layout.pieces
        )
        assert wrong_in(job, surround, replace(layout, pieces=pieces)) != []
        reasons = tuple(
            x.replace(" with a joint on", " with a soldier on")
            if " with a joint on" in x
            else re.sub(r" with a \w+ on", " with a joint on", x)
            for x in layout.reasons
        )
        assert wrong_in(job, surround, replace(layout, reasons=reasons)) != []
        return
    pytest.fail("no job was laid")
