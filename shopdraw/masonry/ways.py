"""Find the ways out when the courses do not land.

In:  `Job`, `Coursing`.   Out: `WayOut`s, each proved by solving the job with it.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import count, islice, takewhile
from typing import Any

from shopdraw.catalog.rows import brick_sizes
from shopdraw.job.model import Job, Table
from shopdraw.job.sense import complaints_of
from shopdraw.lengths import parse_length, rounded, typed_length
from shopdraw.masonry.coursing import Coursing, try_coursing
from shopdraw.masonry.planes import can_land
from shopdraw.masonry.problem import Problem, state_problem
from shopdraw.masonry.surround import Surround, trace_surround

Edits = tuple[tuple[str, Fraction], ...]
"""Dotted keys and the values to put there, all of them together."""
Changes = Iterator[Edits]
"""What one thing may be changed to, the smallest change first."""

PROMISED = 3
"""So many ways out there are at least."""
ENOUGH = 4
"""With so many, changes are no longer tried together with moves."""
FEW = 4
"""So many steps of a change are tried with moves before the further ones are."""


@dataclass(frozen=True)
class WayOut:
    """One change to the job after which every target lands.

    Attributes:
        edits: dotted keys and the values to put there, all of them together.
        says: the change in the mason's words, with the figure.
        cost: what it costs: the joints it leads to, the pieces to saw.
    """

    edits: Edits
    says: str
    cost: str


def find_ways_out(
    job: Job, surround: Surround, coursing: Coursing
) -> tuple[WayOut, ...]:
    """Return the ways out, cheapest first; none where every target lands.

    Joints first, because nothing is moved or sawn for them; then a level moved, then a
    course sawn, then another brick. Where too few of these do alone, each is tried
    together with moves of the levels that still miss.

    Args:
        job: what was asked.
        surround: the faces traced from it.
        coursing: the best there is, which misses a target.
    """
    if coursing.lands:
        return ()
    found: dict[Edits, Coursing] = {}
    moves = _moves(job, surround, coursing)
    for changes in (*_joint_changes(job), *moves, *_brick_changes(job, coursing)):
        _keep_first(job, changes, found)
    for steps, enough, anything in ((FEW, ENOUGH, False), (None, PROMISED, True)):
        further = (*_brick_changes(job, coursing), *_joint_changes(job))
        for changes in (iter([()]), *further):
            if len(found) < enough:
                together = _with_moves(job, islice(changes, steps))
                _keep_first(job, together, found, anything=anything)
    return tuple(
        WayOut(edits, _says(job, edits), _cost(job, coursing, edits, after))
        for edits, after in found.items()
    )


def edited_job(job: Job, edits: Edits) -> Job:
    """Return the job with a way out put into it."""
    for key, value in edits:
        job = job.edited(key, value)
    return job


def _keep_first(
    job: Job, changes: Changes, found: dict[Edits, Coursing], *, anything: bool = True
) -> None:
    """Keep the first change that makes sense and with which every target lands.

    Args:
        job: what was asked.
        changes: what to try, in turn.
        found: the ways out so far.
        anything: whether to keep what changes all that another one does, and more.
    """
    faults = {complaint.key for complaint in complaints_of(job)}
    for edits in changes:
        if not anything and any(
            dict(less).keys() <= dict(edits).keys() for less in found
        ):
            continue
        edited = edited_job(job, edits)
        surround = trace_surround(edited)
        if can_land(state_problem(edited, surround)) and faults.issuperset(
            complaint.key for complaint in complaints_of(edited)
        ):
            found.setdefault(edits, try_coursing(edited, surround))
            return


def _joint_changes(job: Job) -> list[Changes]:
    """Widen a joint's range at one end, step by step."""
    bed, bottom, step = job.joints.bed, job.joints.bottom, job.joints.step
    thinnest = step if bottom.kind == "mortar" else Fraction(0)
    return [
        _steps("joints.bed.most", bed.most, step, 2 * bed.most),
        _steps("joints.bed.least", bed.least, -step, step),
        _steps("joints.bottom.most", bottom.most, step, bottom.most + bed.most),
        _steps("joints.bottom.least", bottom.least, -step, thinnest),
    ]


def _brick_changes(job: Job, coursing: Coursing) -> list[Changes]:
    """Saw a course, to no less than half its height, or take another brick."""
    step, height = job.joints.step, job.brick.height
    bottom, top = coursing.courses[0], coursing.courses[-1]
    changes = [
        _steps("courses.bottom_height", bottom.height, -step, height / 2),
        _steps("brick.height", height, step, 2 * height),
        _steps("brick.height", height, -step, height / 2),
    ]
    if top.kind == "running":
        last = _steps("courses.top_height", top.height, -step, height / 2)
        changes.insert(1, last)
    near = sorted(_catalog_heights(job), key=lambda other: abs(other - height))
    changes.append(iter([(("brick.height", other),) for other in near]))
    if coursing.soldier_top is not None:
        key, least = "courses.soldier_height", job.brick.length / 2
        changes.insert(0, _steps(key, job.soldier_height, -step, least))
    return changes


def _catalog_heights(job: Job) -> dict[Fraction, str]:
    """Return the heights, and names, of the catalog's brick as long as the job's."""
    heights: dict[Fraction, str] = {}
    for size in brick_sizes():
        if parse_length(size.length, job.lengths) == job.brick.length:
            heights.setdefault(parse_length(size.height, job.lengths), size.name)
    heights.pop(job.brick.height, None)
    return heights


def _steps(key: str, start: Fraction, step: Fraction, last: Fraction) -> Changes:
    """Yield one key at the whole steps beyond `start`, as far as `last`."""
    first = start // step * step + step
    values = (first + number * step for number in count())
    for value in takewhile(lambda value: (last - value) / step >= 0, values):
        yield ((key, value),)


def _moves(job: Job, surround: Surround, coursing: Coursing) -> list[Changes]:
    """Move the levels that miss to where they came to lie, or one level alone."""
    problem = state_problem(job, surround)
    keys = _level_keys(job, coursing)
    moves = [_moved_to_got(job, coursing)]
    for rank, key in enumerate(keys):
        if rank == 0 and problem.head_is != "plane":
            # The soldiers go with the head, so that each level is a problem of its own.
            gauge = job.brick.height + job.joints.bed.most
            level, step = job.opening.height, job.joints.step
            moves.append(_steps(key, level, -step, max(step, level - gauge)))
            moves.append(_steps(key, level, step, level + gauge))
        elif key:
            moves.append(_moved_alone(job, problem, rank, key))
    return moves


def _level_keys(job: Job, coursing: Coursing) -> list[str]:
    """Return each target's key in the job file, by rank; none for the soldiers' top."""
    soldiers = [""] * (len(coursing.targets) - 2 - len(job.target))
    further = [f"target[{number}].level" for number in range(1, len(job.target) + 1)]
    return ["opening.height", "face.height", *soldiers, *further]


def _moved_to_got(job: Job, coursing: Coursing) -> Changes:
    """Yield the moves of every level that misses: to a shown figure, then exactly."""
    keys = _level_keys(job, coursing)
    missed = [
        (key, target.got)
        for key, target in zip(keys, coursing.targets, strict=True)
        if not target.lands
    ]
    if all(key for key, _ in missed):
        yield tuple((key, rounded(level, job.lengths)) for key, level in missed)
        yield tuple(missed)


def _moved_alone(job: Job, problem: Problem, rank: int, key: str) -> Changes:
    """Yield the levels nearest to one target's at which all of them land.

    That near is the least tolerance of this one target with which every one lands.
    """
    target = problem.targets[rank]
    near, far = target.tolerance, problem.height + problem.bed[1] * problem.step

    def lands(tolerance: int) -> bool:
        loose = replace(target, tolerance=tolerance)
        targets = (*problem.targets[:rank], loose, *problem.targets[rank + 1 :])
        return can_land(replace(problem, targets=targets))

    if not lands(far):
        return
    while far - near > 1:
        middle = (near + far) // 2
        near, far = (near, middle) if lands(middle) else (middle, far)
    for level in (target.level - far, target.level + far):
        exact = problem.length(level)
        yield ((key, rounded(exact, job.lengths)),)
        yield ((key, exact),)


def _with_moves(job: Job, changes: Changes) -> Changes:
    """Add to each change the moves of what still misses after it.

    The soldiers' top can't be moved; for that the top goes up or the head down.
    """
    for edits in changes:
        edited = edited_job(job, edits)
        after = try_coursing(edited, trace_surround(edited))
        for room in ((), *_room_for_soldiers(edited, after)):
            roomy = edited_job(edited, room)
            after = try_coursing(roomy, trace_surround(roomy)) if room else after
            for moves in _moved_to_got(roomy, after):
                yield tuple(dict((*edits, *room, *moves)).items())


def _room_for_soldiers(job: Job, coursing: Coursing) -> list[Edits]:
    """Return the moves of the top, or the head, that leave room for whole soldiers."""
    keys = _level_keys(job, coursing)
    if "" not in keys or coursing.targets[keys.index("")].lands:
        return []
    needed = job.soldier_height
    if job.face.top_meets == "underside":
        needed += job.joints.bed.preferred
    rooms: list[Edits] = [(("face.height", coursing.head + needed),)]
    if job.face.height > needed:
        rooms.append((("opening.height", job.face.height - needed),))
    return rooms


_WORDS = {
    "joints.bed.most": "let the bed joints be up to {value} (now {old})",
    "joints.bed.least": "let the bed joints be down to {value} (now {old})",
    "joints.bottom.most": "let the bottom joint be up to {value} (now {old})",
    "joints.bottom.least": "let the bottom joint be down to {value} (now {old})",
    "courses.bottom_height": "saw the bottom course to {value} high",
    "courses.top_height": "saw the top course to {value} high",
    "courses.soldier_height": "saw the soldiers to {value}",
    "brick.height": "take {size}brick {value} high (now {old})",
    "opening.height": "move the opening head {change} to {value}",
    "face.height": "move the top {change} to {value}",
    "target": "move the {name} {change} to {value}",
}
_SAWN = {
    "courses.bottom_height": "every brick of the bottom course to saw",
    "courses.top_height": "every brick of the top course to saw",
    "courses.soldier_height": "every soldier to saw",
    "brick.height": "another brick to buy",
}


def _says(job: Job, edits: Edits) -> str:
    """Say the changes as one sentence."""
    parts = []
    sizes = _catalog_heights(job)
    for key, value in edits:
        table, old = _value_at(job, key)
        change = ""
        if old is not None:
            way = "up" if value > old else "down"
            change = f"{typed_length(abs(value - old), job.lengths)} {way}"
        words = _WORDS["target" if key.startswith("target") else key]
        parts.append(
            words.format(
                value=typed_length(value, job.lengths),
                old="" if old is None else typed_length(old, job.lengths),
                change=change,
                name=getattr(table, "name", ""),
                size=f"{sizes[value]} " if value in sizes else "",
            )
        )
    sentence = " and ".join(parts)
    return f"{sentence[0].upper()}{sentence[1:]}."


def _value_at(job: Job, key: str) -> tuple[Table, Fraction | None]:
    """Return the table that a dotted key lies in, and the value there now."""
    table: Any = job
    value: Any = job
    for name in key.replace("[", ".").replace("]", "").split("."):
        table = value
        value = value[int(name) - 1] if name.isdigit() else getattr(value, name)
    return table, value


def _cost(job: Job, before: Coursing, edits: Edits, after: Coursing) -> str:
    """Say what a way out leads to: joints, courses, sawing, and what it avoids."""

    def say(length: Fraction) -> str:
        return typed_length(length, job.lengths)

    bottom, *beds = after.joints
    parts = [f"bottom joint {say(bottom)}"]
    if beds:
        least, most = min(beds), max(beds)
        to = "" if least == most else f" to {say(most)}"
        parts.append(f"bed joints {say(least)}{to}")
    parts.append(f"{len(after.courses)} courses")
    sawn = [_SAWN[key] for key, _ in edits if key in _SAWN]
    parts += sawn or ["no course to saw"]
    if after.merit.jump:
        parts.append("neighbouring joints seen to differ")
    avoided = [
        f"{target.name} missed by {say(target.miss)}"
        for target in before.targets
        if not target.lands
    ]
    return f"{', '.join(parts)}; instead of {' and '.join(avoided)}."
