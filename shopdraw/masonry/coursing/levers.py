"""List what may be changed in a job whose courses do not land, and how far.

In:  `Job`, its `Problem` and `Coursing`.   Out: `Changes`, the smallest first.
Frame: the job's lengths.

Whether a change helps is not asked here but in `ways`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import count, takewhile
from typing import Any

from shopdraw.catalog.rows import brick_sizes
from shopdraw.job.model import Job
from shopdraw.job.model_head import STANDING
from shopdraw.job.old_lines import old_lines
from shopdraw.job.table import Table
from shopdraw.lengths import Lengths, half_marked, rounded
from shopdraw.masonry.coursing.form import AsLaid, Coursing, Edits
from shopdraw.masonry.coursing.planes import can_land, least_misses, list_candidates
from shopdraw.masonry.coursing.problem import BESIDE, Problem, state_problem
from shopdraw.masonry.coursing.solve import best_coursing
from shopdraw.masonry.wall.surround import trace_surround

Changes = Iterator[Edits]
"""The values that one thing may be changed to, the smallest change first."""


def edited_job(job: Job, edits: Edits) -> Job:
    """Return the job with a way out applied to it."""
    for key, value in edits:
        job = job.edited(key, value)
    return job


THINNEST: dict[Lengths, Fraction] = {"in": Fraction(1, 8), "mm": Fraction(3)}
WIDEST: dict[Lengths, Fraction] = {"in": Fraction(3, 4), "mm": Fraction(19)}
"""The least and the most that is proposed of a bed joint: what a textbook gives the
joints of an arch (second-hand); for beds common practice, no published source."""
WIDEST_BOTTOM: dict[Lengths, Fraction] = {"in": Fraction(5, 4), "mm": Fraction(32)}
"""The most that is proposed of the bottom joint: that of a first course on its
foundation, fully grouted (TMS 602, second-hand; not for veneer, so a guide only)."""


def value_at(job: Job, key: str) -> tuple[Table, Fraction | None]:
    """Return the table that a key of the job file is in, and its value now."""
    table: Any = job
    value: Any = job
    for name in key.replace("[", ".").replace("]", "").split("."):
        table = value
        value = value[int(name) - 1] if name.isdigit() else getattr(value, name)
    return table, value


def joint_changes(job: Job) -> list[Changes]:
    """List wider ranges of the joints: one end of one range, step by step."""
    bed, bottom, step = job.joints.bed, job.joints.bottom, job.joints.step
    thinnest = THINNEST[job.lengths]
    bedded = thinnest if bottom.kind == "mortar" else Fraction(0)
    widest = WIDEST_BOTTOM[job.lengths]
    return [
        _steps("joints.bed.most", bed.most, step, WIDEST[job.lengths]),
        _steps("joints.bed.least", bed.least, -step, thinnest),
        _steps("joints.bottom.most", bottom.most, step, widest),
        _steps("joints.bottom.least", bottom.least, -step, bedded),
    ]


def brick_changes(job: Job, coursing: Coursing) -> list[Changes]:
    """List lower courses, sawn to half their height at the least, and other brick.

    What is laid already is neither sawn nor of another brick.
    """
    step, height = job.joints.step, job.brick.height
    bottom, top = coursing.courses[0], coursing.courses[-1]
    least = max(height / 2, job.bond.least_width)
    changes = []
    if coursing.laid is None:
        changes.append(_steps("courses.bottom_height", bottom.height, -step, least))
    if top.is_running:
        changes.append(_steps("courses.top_height", top.height, -step, least))
    if coursing.laid is None:
        near = sorted(catalog_heights(job), key=lambda other: abs(other - height))
        changes.append(iter([(("brick.height", other),) for other in near]))
    if coursing.soldier_top is not None:
        key = f"courses.{job.opening.head}_height"
        if job.opening.head in STANDING:
            height = job.soldier_height
            changes.insert(0, _steps(key, height, -step, height / 2))
    return changes


def length_changes(job: Job, coursing: Coursing) -> list[Changes]:
    """List the catalog's other lengths, which count only where soldiers stand on end.

    The brick is as high as the job's, and no more than an eighth longer or shorter, so
    that bond and corner units stay what they are.
    """
    if coursing.soldier_top is None or coursing.laid is not None:
        return []
    near = sorted(catalog_lengths(job), key=lambda x: abs(x - job.brick.length))
    return [iter([(("brick.length", length),) for length in near])]


def catalog_heights(job: Job) -> dict[Fraction, str]:
    """Return the catalog's brick that are as long as the job's: height and name."""
    heights: dict[Fraction, str] = {}
    for size in brick_sizes(job.lengths):
        if size.length == job.brick.length:
            heights.setdefault(size.height, size.name)
    heights.pop(job.brick.height, None)
    return heights


def catalog_lengths(job: Job) -> dict[Fraction, str]:
    """Return the catalog's brick as high as the job's, nearly as long, by length."""
    brick, lengths = job.brick, dict[Fraction, str]()
    for size in brick_sizes(job.lengths):
        off = abs(size.length - brick.length)
        if size.height == brick.height and 0 < off <= brick.length / 8:
            lengths.setdefault(size.length, size.name)
    return lengths


def _steps(key: str, start: Fraction, step: Fraction, last: Fraction) -> Changes:
    """Yield the values of one key, each a whole step, from `start` to `last`."""
    first = start // step * step + step
    values = (first + number * step for number in count())
    for value in takewhile(lambda value: (last - value) / step >= 0, values):
        yield ((key, value),)


def level_moves(job: Job, problem: Problem, coursing: Coursing) -> list[Changes]:
    """List moved levels: each that misses to where it came out, or one level alone."""
    moves = [_moved_to_got(job, problem, coursing)]
    level, step = job.opening.height, job.joints.step
    gauge = job.brick.height + job.joints.bed.most
    for rank, key in enumerate(_level_keys(job, problem)):
        if problem.is_passed(rank):
            continue
        if rank == 0 and problem.head_is != "plane":
            # Soldiers move with the head, so each level of it is a problem of its own.
            moves.append(_steps(key, level, -step, max(step, level - gauge / 2)))
            moves.append(_steps(key, level, step, level + gauge / 2))
        elif key:
            moves.append(_moved_alone(job, problem, rank, -1))
            moves.append(_moved_alone(job, problem, rank, 1))
    return moves


def _level_keys(job: Job, problem: Problem) -> list[str]:
    """Return each target's key in the job file, by rank.

    The soldiers' top has none, and old brick stays where it is. A panel's top has no
    key of its own: `_typed` turns it into the panel's height.
    """
    keys = ["opening.height", "face.height"]
    if (problem.whole or problem).head_is == "soldiers beside courses":
        keys.append("")
    for name, tables, level in (
        ("target", job.target, "level"),
        ("band", job.band, "level"),
        ("corbel", job.corbel, "top"),
    ):
        keys += [
            f"{name}[{place}].{level}"
            for place, table in enumerate(tables, start=1)
            if getattr(table, level) is not None
        ]
    for number, _ in enumerate(job.panel, 1):
        keys += (f"panel[{number}].bottom", f"panel[{number}].top")
    return [*keys, *("" for line in old_lines(job) if line.is_asked)]


def _typed(job: Job, edits: Edits) -> Edits:
    """Return moves of levels as they are typed: a panel has a bottom and a height."""
    moved = dict(edits)
    for number, panel in enumerate(job.panel, 1):
        key = f"panel[{number}]"
        bottom = moved.get(f"{key}.bottom", panel.bottom)
        top = moved.pop(f"{key}.top", panel.top)
        if top - bottom != panel.height:
            moved[f"{key}.height"] = top - bottom
    return tuple(moved.items())


def _moved_to_got(job: Job, problem: Problem, coursing: Coursing) -> Changes:
    """Yield moves of all missed levels: to figures as printed, then between two marks.

    No finer: a level that no tape shows can't be set out.
    """
    asked = zip(problem.targets, coursing.asked, strict=True)
    missed = [
        (key, met.got)
        for key, (target, met) in zip(_level_keys(job, problem), asked, strict=True)
        if met.miss > problem.length(target.tolerance)
    ]
    if all(key for key, _ in missed):
        near = tuple((key, rounded(level, job.lengths)) for key, level in missed)
        half = tuple((key, half_marked(level, job.lengths)) for key, level in missed)
        yield _typed(job, near)
        yield _typed(job, half)


def _moved_alone(job: Job, problem: Problem, rank: int, way: int) -> Changes:
    """Move one target alone, up or down, to the nearest level where all targets land.

    The target is allowed every level from its own to one further that way, up to half a
    course: past that the next plane is nearer the other way. The least that has to be
    allowed, until every target lands, is how far it must move.
    """
    target, key = problem.targets[rank], _level_keys(job, problem)[rank]
    near, far = 0, (problem.height + problem.bed[1] * problem.step) // 2

    def lands(radius: int) -> bool:
        wide = replace(target, level=target.level + way * radius, tolerance=radius)
        targets = (*problem.targets[:rank], wide, *problem.targets[rank + 1 :])
        return can_land(replace(problem, targets=targets))

    if not lands(far):
        return
    while far - near > 1:
        middle = (near + far) // 2
        near, far = (near, middle) if lands(middle) else (middle, far)
    exact = [
        problem.length(target.level + way * apart) for apart in (2 * far, 2 * far - 1)
    ]
    for to_mark in (rounded, half_marked):
        for level in exact:
            yield _typed(job, ((key, to_mark(level, job.lengths)),))


def with_moves(
    job: Job,
    changes: Changes,
    laid: AsLaid | None = None,
    *,
    meets_back: bool = True,
) -> Changes:
    """Add to each change the moves of the targets that still miss after it.

    The soldiers' top can't be moved. Where it misses, the other targets give way to it;
    where the face ends below it, the face's top goes up or the head goes down.
    """
    for edits in changes:
        edited = edited_job(job, edits)
        for room in ((), *_room_for_soldiers(edited)):
            roomy = edited_job(edited, room)
            surround = trace_surround(roomy)
            problem = state_problem(roomy, surround, laid, meets_back=meets_back)
            asked, candidates = problem, list_candidates(problem)
            if problem.head_is == "soldiers beside courses" and not can_land(problem):
                asked = _giving_way(problem)
                candidates = list_candidates(asked)
                if least_misses(candidates)[0][BESIDE]:
                    continue
            coursing = best_coursing(roomy, asked, candidates)
            for moves in _moved_to_got(roomy, problem, coursing):
                yield tuple(dict((*edits, *room, *moves)).items())


def _room_for_soldiers(job: Job) -> list[Edits]:
    """Return moves of the face's top, or of the head, that make room for soldiers."""
    needed = job.head_height
    if job.face.top_meets == "underside":
        needed += job.joints.bed.preferred
    if job.opening.head == "running" or job.face.height >= job.opening.height + needed:
        return []
    rooms: list[Edits] = [(("face.height", job.opening.height + needed),)]
    if job.face.height > needed:
        rooms.append((("opening.height", job.face.height - needed),))
    return rooms


def _giving_way(problem: Problem) -> Problem:
    """Count no miss of the top and the further targets up to half a course."""
    half = (problem.height + problem.bed[1] * problem.step) // 2
    targets = [
        target if rank in (0, 2) else replace(target, tolerance=target.tolerance + half)
        for rank, target in enumerate(problem.targets)
    ]
    return replace(problem, targets=tuple(targets))
